"""`steadyrail paper SET.toml --out DIR`: papers, keys, tables, a package, study pages and a report, for a class."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from tutor.errors import SteadyrailError
from tutor.sets.class_list import file_stem
from tutor.sets.coming import Coming, coming_for
from tutor.sets.drafts import drafts, for_everyone
from tutor.sets.equal import equal_report
from tutor.sets.kept import sweep_parts, write_whole
from tutor.sets.numbers_used import numbers_lines
from tutor.sets.paper import ClassSet
from tutor.sets.pool import run_all
from tutor.sets.set_file import read_set_file
from tutor.views.commands.speech import json_option, print_json
from tutor.views.paper_files import KEYS, PAPERS, Trace, make_files, require_usable
from tutor.views.print.answers import answer_table_pdf
from tutor.views.set_exports import EXPORTS, PACKAGE, Exports, write_exports
from tutor.views.set_pages import INDEX, PAGES, PagesAsked, checked_address, other_pages, write_shared
from tutor.views.set_report import report_record, report_text
from tutor.views.set_tables import TABLES

ANSWERS, NUMBERS, REPORT = "answers.pdf", "numbers.json", "report.txt"


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
@click.option("--package/--no-package", "package", default=True, help="Write package.zip (QTI 3.0), or leave it out.")
@click.option("--pages", "pages", is_flag=True, help="Write study pages of exactly these problems, too.")
@click.option(
    "--pages-at",
    "at",
    default="",
    metavar="ADDRESS",
    help="Where the folder of pages will stand on the web: papers get a code at each question that leads to its page.",
)
@click.option(
    "--pages-solutions/--no-pages-solutions",
    "solved",
    default=False,
    help="Worked solutions on the pages, or (unless said) none.",
)
@json_option
def command(
    set_file: Path, out: Path, processes: int, cluster: str, package: bool, pages: bool, at: str, solved: bool,
    as_json: bool,
) -> None:  # fmt: skip
    """Write the papers of a class: for each learner a paper and its key with the mark scheme, and for all an answer
    table, items and answers as tables and as a package for a learning platform, the numbers used (for a later set to
    avoid) and a report on how equal the variants are.

    Run again after it was stopped, it goes on where it was; what the set or the numbers changed is made anew.
    """
    if solved and not (pages or at):
        raise SteadyrailError("--pages-solutions is about study pages, and none are asked for; add --pages")
    asked = PagesAsked(solved, checked_address(at) if at else "") if pages or at else None
    of = read_set_file(set_file)
    out = out.absolute()
    require_usable(out)
    drawn = list(drafts(of))  # all numbers are found before anything is written
    with coming_for(out, PAPERS) as coming, _bar(len(drawn)) as bar:
        sweep_parts(out)
        work = partial(make_files, for_everyone(of), coming, asked)
        task = bar.add_task("papers", total=len(drawn))
        traces = list(
            run_all(
                work, drawn, processes=processes, cluster=cluster,
                progress=lambda done: bar.update(task, completed=done),
            )
        )  # fmt: skip
        task = bar.add_task("items and answers", total=len(drawn))
        exports = write_exports(
            of, drawn, coming, package=package, progress=lambda done: bar.update(task, completed=done)
        )  # fmt: skip
        record = _of_the_class(of, traces, exports, asked, coming)
    if as_json:
        print_json(record)
        return
    made = record["made"]
    click.echo(
        f"{record['papers']} papers with their keys are in {out} ({made} made now, {record['kept']} there already); "
        f"the answer table is {ANSWERS}."
    )
    _tell_exports(exports, asked)
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


def _tell_exports(exports: Exports, asked: PagesAsked | None) -> None:
    """What stands beside the papers, a sentence each."""
    beside = f" The package for a learning platform is {exports.package}: {'; '.join(exports.notes)}."
    click.echo(f"Items and answers are in {', '.join(TABLES)}.{beside if exports.package else ''}")
    if asked is not None:
        codes = f"papers lead to them at {asked.at}" if asked.at else "papers have no codes without --pages-at ADDRESS"
        click.echo(f"The study pages begin at {PAGES}/{INDEX}; {codes}.")


def _of_the_class(
    of: ClassSet, traces: Sequence[Trace], exports: Exports, asked: PagesAsked | None, coming: Coming
) -> dict[str, Any]:
    """Writes what stands for the whole class, and puts everything in its place; the record of the run for JSON."""
    report = equal_report(of, (trace.facts for trace in traces))
    rows = [trace.row for trace in traces]
    used = ((trace.row.learner.id, trace.names) for trace in traces)
    write_whole(coming.path / ANSWERS, answer_table_pdf(of, rows))
    write_whole(coming.path / NUMBERS, numbers_lines(of.title, of.seed, used))
    write_whole(coming.path / REPORT, report_text(report))
    kept = sum(trace.kept for trace in traces)
    told = {
        "path": str(coming.folder),
        "title": of.title,
        "seed": of.seed,
        "marks": rows[0].marks if rows else 0,
        "papers": len(traces),
        "made": len(traces) - kept,
        "kept": kept,
        "folders": {"papers": PAPERS, "keys": KEYS},
        "answers": ANSWERS,
        "tables": {"files": list(TABLES), "items": exports.items, "answers": exports.answers},
        "package": {"file": exports.package, "notes": list(exports.notes)} if exports.package else None,
        "pages": None,
        "numbers": NUMBERS,
        "report": {"file": REPORT, **report_record(report)},
    }
    shared: list[str] = []
    gone = [] if exports.package else [PACKAGE]  # one that is not wanted may be of other numbers
    if asked is not None:
        shared, stems = write_shared(of, (trace.names for trace in traces), coming.path / PAGES)
        shared = [f"{PAGES}/{name}" for name in shared]
        gone += [f"{PAGES}/{name}" for name in other_pages(coming.folder / PAGES, stems)]
        told["pages"] = {
            "folder": PAGES, "index": f"{PAGES}/{INDEX}", "count": len(stems), "solutions": asked.solved, "at": asked.at
        }  # fmt: skip
    stems_of = [file_stem(trace.row.learner.id) for trace in traces]
    made = (name for stem in (*stems_of, EXPORTS) for name in coming.vouched("", stem))
    packed = [exports.package] if exports.package else []
    coming.place((*made, *shared), (*TABLES, *packed, ANSWERS, NUMBERS, REPORT), gone)
    return told
