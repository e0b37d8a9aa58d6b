"""`steadyrail paper SET.toml --out DIR`: papers, keys, an answer table, the numbers used and a report, for a class."""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from tutor.sets.drafts import drafts, for_everyone
from tutor.sets.equal import equal_report
from tutor.sets.kept import sweep_parts, write_whole
from tutor.sets.numbers_used import numbers_lines
from tutor.sets.paper import ClassSet
from tutor.sets.pool import run_all
from tutor.sets.set_file import read_set_file
from tutor.sets.spreadsheet import safe_cell
from tutor.views.commands.speech import json_option, print_json
from tutor.views.paper_files import KEYS, PAPERS, Trace, make_files, require_usable
from tutor.views.plain import prose_text
from tutor.views.print.answers import AnswerRow, answer_table_pdf
from tutor.views.set_report import report_record, report_text

ANSWERS, TABLE, NUMBERS, REPORT = "answers.pdf", "answers.csv", "numbers.json", "report.txt"


@click.command("paper")
@click.argument("set_file", type=click.Path(path_type=Path), metavar="SET.toml")
@click.option("--out", "out", type=click.Path(path_type=Path), required=True, metavar="DIR", help="Folder to write to.")
@click.option(
    "--processes",
    type=click.IntRange(0),
    default=0,
    metavar="N",
    help="How many processes work (one a processor unless said).",
)
@click.option("--cluster", default="", metavar="ADDRESS", help="Work on the Dask cluster at tcp://HOST:PORT instead.")
@json_option
def command(set_file: Path, out: Path, processes: int, cluster: str, as_json: bool) -> None:
    """Write the papers of a class: for each learner a paper and its key with the mark scheme, and for all an answer
    table, the numbers used (for a later set to avoid) and a report on how equal the variants are.

    Run again after it was stopped, it goes on where it was; what the set or the numbers changed is made anew.
    """
    of = read_set_file(set_file)
    out = out.absolute()
    require_usable(out)
    drawn = list(drafts(of))  # all numbers are found before anything is written
    work = partial(make_files, for_everyone(of), out, {})
    if out.is_dir():
        sweep_parts(out)
    with _bar(len(drawn)) as bar:
        task = bar.add_task("papers", total=len(drawn))
        traces = list(
            run_all(
                work, drawn, processes=processes, cluster=cluster,
                progress=lambda done: bar.update(task, completed=done),
            )
        )  # fmt: skip
    record = _of_the_class(of, traces, out)
    if as_json:
        print_json(record)
        return
    made = record["made"]
    click.echo(
        f"{record['papers']} papers with their keys are in {out} ({made} made now, {record['kept']} there already); "
        f"the answer table is {ANSWERS}."
    )
    report = record["report"]
    click.echo("The variants are equally difficult." if report["equal"] else f"Some variants differ: see {REPORT}.")
    if not report["copying_shows"]:
        click.echo(f"In some questions a copied answer may not show: see {REPORT}.")


def _bar(total: int) -> Progress:
    """A bar on standard error, which is quiet when it is no terminal."""
    columns = (
        TextColumn("{task.description}"), BarColumn(bar_width=24), TextColumn("{task.completed}/{task.total}"),
        TimeRemainingColumn(),
    )  # fmt: skip
    return Progress(*columns, console=Console(file=sys.stderr), transient=True, disable=not total)


def _of_the_class(of: ClassSet, traces: Sequence[Trace], out: Path) -> dict[str, Any]:
    """Writes what stands for the whole class; the record of the run for JSON."""
    report = equal_report(of, (trace.facts for trace in traces))
    rows = [trace.row for trace in traces]
    used = ((trace.row.learner.id, trace.names) for trace in traces)
    write_whole(out / ANSWERS, answer_table_pdf(of, rows))
    write_whole(out / TABLE, _csv(rows))
    write_whole(out / NUMBERS, numbers_lines(of.title, of.seed, used))
    write_whole(out / REPORT, report_text(report))
    kept = sum(trace.kept for trace in traces)
    return {
        "path": str(out),
        "title": of.title,
        "seed": of.seed,
        "marks": rows[0].marks if rows else 0,
        "papers": len(traces),
        "made": len(traces) - kept,
        "kept": kept,
        "folders": {"papers": PAPERS, "keys": KEYS},
        "answers": ANSWERS,
        "table": TABLE,
        "numbers": NUMBERS,
        "report": {"file": REPORT, **report_record(report)},
    }


def _csv(rows: Sequence[AnswerRow]) -> Iterator[str]:
    """The answers as a table for a spreadsheet, a learner a line; each cell is safe to open."""
    head = ["learner", "name"]
    for number, parts in enumerate(rows[0].questions if rows else (), 1):
        head += [f"Q{number}{f'({part.letter})' if part.letter else ''} {part.key}" for part in parts]
    yield _line(head)
    for row in rows:
        told = [prose_text(part.told) for parts in row.questions for part in parts]
        yield _line([row.learner.id, row.learner.name, *told])


def _line(cells: Sequence[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(map(safe_cell, cells))
    return out.getvalue()
