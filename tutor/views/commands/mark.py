"""`steadyrail mark SET.toml WORKINGS`: a class's workings marked, with feedback for each and a report on all."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from tutor.sets.moved import Move
from tutor.sets.paper import ClassSet
from tutor.sets.pool import run_all
from tutor.sets.set_file import read_set_file
from tutor.views.commands.speech import json_option, print_json
from tutor.views.feedback import marks_shown
from tutor.views.margin import shown_line
from tutor.views.marked_class import MarkedClass, mark_class
from tutor.views.terminal import heading, paragraph, rows, terminal

_SMALL = 24  # learners
_MOST_TOLD = 20  # moves and notes told one by one on the terminal


@click.command("mark")
@click.argument("set_file", type=click.Path(path_type=Path), metavar="SET.toml")
@click.argument("workings", type=click.Path(path_type=Path), metavar="WORKINGS")
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="DIR", help="Folder to write into.")
@click.option(
    "--override",
    type=click.Path(path_type=Path),
    default=None,
    metavar="FILE",
    help="Marks by hand, CSV or TOML (DIR/override.csv unless said); they win.",
)
@click.option("--no-pdf", "pdf", is_flag=True, flag_value=False, default=True, help="Write pages (HTML) alone.")
@click.option("--processes", type=click.IntRange(0), default=0, metavar="N", help="One for each processor unless said.")
@click.option("--cluster", default="", metavar="ADDRESS", help="A Dask cluster that is there, as tcp://host:8786.")
@json_option
def command(
    set_file: Path,
    workings: Path,
    out: Path,
    override: Path | None,
    pdf: bool,
    processes: int,
    cluster: str,
    as_json: bool,
) -> None:
    """Mark the workings of a class.

    WORKINGS is a folder with one text file a learner, ID.txt, its questions headed Q1, Q2 and so on; or a table (CSV)
    with the columns id, question, working, or id, Q1, Q2. Exit status 1 says that something is left to a person:
    lines or files that could not be read.
    """
    whole = read_set_file(set_file)
    with _bar(len(whole.learners)) as told:
        marked = mark_class(
            whole, workings, out, override=override, pdf=pdf, told=told,
            run=partial(run_all, processes=processes or _few(whole), cluster=cluster),
        )  # fmt: skip
    if as_json:
        print_json(_record(marked))
    else:
        _show(terminal(), marked)
    if marked.flawed:
        sys.exit(1)


def _few(whole: ClassSet) -> int:
    """One process for a class so small that starting others would take longer; else 0, one for each processor."""
    return 1 if len(whole.learners) <= _SMALL else 0


@contextmanager
def _bar(learners: int) -> Iterator[Callable[[int], None]]:
    """A bar on standard error while papers are marked, where somebody looks at it."""
    console = Console(stderr=True)
    with Progress(
        TextColumn("marking"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(),
        console=console, transient=True, disable=not console.is_terminal,
    ) as bar:  # fmt: skip
        task = bar.add_task("", total=learners)
        yield lambda count: bar.advance(task, count)


def _record(marked: MarkedClass) -> dict[str, Any]:
    """What `--json` promises."""
    figures, marks = marked.figures, marked.figures.marks
    return {
        "out": str(marked.out),
        "learners": figures.learners,
        "counted": figures.counted,
        "absent": list(figures.absent),
        "of": figures.of,
        "marks": None if marks is None else {
            "mean": marks.mean, "deviation": marks.deviation, "least": marks.least, "median": marks.median,
            "greatest": marks.greatest,
        },
        "questions": [
            {
                "question": item.question, "title": item.title, "of": item.of, "mean": item.marks.mean,
                "item_rest": item.rest, "upper_lower": item.index,
                "lost": [
                    {"waypoint": point.waypoint, "lost": point.lost, "of": point.of, "learners": point.learners}
                    for point in item.points
                ],
            }
            for item in figures.questions
        ],
        "slips": [{"slip": name, "met": count} for name, count in figures.slips],
        "lines_left": figures.left_count,
        "notes": [{"id": whose, "note": note} for whose, note in figures.notes],
        "strays": list(marked.strays),
        "moved": [
            {"id": move.id, "question": move.question, "before": move.before, "after": move.after, "why": move.why}
            for move in marked.moved
        ],
        "moved_count": marked.moved_count,
        "kept": marked.kept,
    }  # fmt: skip


def _show(console: Console, marked: MarkedClass) -> None:
    figures = marked.figures
    heading(console, figures.title, str(marked.out))
    told = [f"{figures.counted} of {figures.learners} learners marked."]
    if figures.marks is not None:
        told.append(
            f"Mean {figures.marks.mean:.1f} of {figures.of}, median {figures.marks.median:g}, "
            f"from {figures.marks.least:g} to {figures.marks.greatest:g}."
        )
    if figures.absent:
        some = ", ".join(map(shown_line, figures.absent[:_MOST_TOLD]))
        told.append(f"Nothing was handed back by {some}{_more(len(figures.absent))}.")
    paragraph(console, " ".join(told))
    if marked.compared:
        console.print()
        paragraph(console, _moved_told(marked.moved_count), style="bold" if marked.moved_count else "")
        rows(console, [_move_told(move) for move in marked.moved[:_MOST_TOLD]])
    notes = [(shown_line(whose), shown_line(note)) for whose, note in figures.notes]
    notes += [("", shown_line(stray)) for stray in marked.strays]
    if figures.left_count or notes:
        console.print()
        paragraph(console, "Left to a person:", style="bold")
        if figures.left_count:
            count = figures.left_count
            paragraph(console, f"{count} line{'' if count == 1 else 's'} could not be read: lines_left.csv", indent=2)
        rows(console, notes[:_MOST_TOLD])
    console.print()
    paragraph(
        console,
        "Marks: marks.csv, marks.xlsx, marks.json. Report: report.html. A sheet for each: feedback/. Marks by hand go "
        "into override.csv; mark again and they win.",
    )


def _more(count: int) -> str:
    return f" and {count - _MOST_TOLD} more" if count > _MOST_TOLD else ""


def _moved_told(count: int) -> str:
    if not count:
        return "No marks moved since the last marking."
    return f"{count} mark{' has' if count == 1 else 's have'} moved since the last marking (moved.csv):"


def _move_told(move: Move) -> tuple[str, str]:
    before, after = ("–" if marks is None else marks_shown(marks) for marks in (move.before, move.after))
    return f"{shown_line(move.id)} Q{move.question}", f"{before} → {after}: {shown_line(move.why)}"
