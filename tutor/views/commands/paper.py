"""`steadyrail paper SET.toml --out DIR`: papers, keys, tables, a package, study pages and a report, for a class."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tutor.errors import SteadyrailError
from tutor.later import later
from tutor.views.commands.bar import bar
from tutor.views.commands.speech import json_option, print_json

if TYPE_CHECKING:
    from tutor.sets import class_list, drafts, equal, kept, numbers_used, pool
    from tutor.sets import coming as comings
    from tutor.sets import set_file as set_files
    from tutor.sets.coming import Coming
    from tutor.sets.paper import ClassSet
    from tutor.views import paper_files, set_exports, set_pages, set_report, set_tables
    from tutor.views.paper_files import Trace
    from tutor.views.print import answers
    from tutor.views.set_exports import Exports
    from tutor.views.set_pages import PagesAsked
else:
    class_list = later("tutor.sets.class_list")
    comings = later("tutor.sets.coming")
    drafts = later("tutor.sets.drafts")
    equal = later("tutor.sets.equal")
    kept = later("tutor.sets.kept")
    numbers_used = later("tutor.sets.numbers_used")
    pool = later("tutor.sets.pool")
    set_files = later("tutor.sets.set_file")
    paper_files = later("tutor.views.paper_files")
    set_exports = later("tutor.views.set_exports")
    set_pages = later("tutor.views.set_pages")
    set_report = later("tutor.views.set_report")
    set_tables = later("tutor.views.set_tables")
    answers = later("tutor.views.print.answers")

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
    asked = set_pages.PagesAsked(solved, set_pages.checked_address(at) if at else "") if pages or at else None
    of = set_files.read_set_file(set_file)
    out = out.absolute()
    paper_files.require_usable(out)
    drawn = list(drafts.drafts(of))  # all numbers are found before anything is written
    with comings.coming_for(out, paper_files.PAPERS) as coming, bar() as told:
        kept.sweep_parts(out)
        work = partial(paper_files.make_files, drafts.for_everyone(of), coming, asked)
        traces = list(
            pool.run_all(
                work, drawn, processes=processes, cluster=cluster,
                progress=lambda done: told(done, len(drawn), "papers"),
            )
        )  # fmt: skip
        exports = set_exports.write_exports(
            of, drawn, coming, package=package, progress=lambda done: told(done, len(drawn), "items and answers")
        )
        record = _of_the_class(of, traces, exports, asked, coming)
    if as_json:
        print_json(record)
        return
    made = record["made"]
    alone = record["papers"] == 1
    papers = "One paper with its key is" if alone else f"{record['papers']} papers with their keys are"
    click.echo(
        f"{papers} in {out} ({made} made now, {record['kept']} there already); "
        f"the answer table is {ANSWERS}."
    )
    _tell_exports(exports, asked)
    report = record["report"]
    if alone:
        return
    click.echo("The variants are equally difficult." if report["equal"] else f"Some variants differ: see {REPORT}.")
    if not report["copying_shows"]:
        click.echo(f"In some questions a copied answer may not show: see {REPORT}.")


def _tell_exports(exports: Exports, asked: PagesAsked | None) -> None:
    """What stands beside the papers, a sentence each."""
    beside = f" The package for a learning platform is {exports.package}: {'; '.join(exports.notes)}."
    click.echo(f"Items and answers are in {', '.join(set_tables.TABLES)}.{beside if exports.package else ''}")
    if asked is not None:
        codes = f"papers lead to them at {asked.at}" if asked.at else "papers have no codes without --pages-at ADDRESS"
        click.echo(f"The study pages begin at {set_pages.PAGES}/{set_pages.INDEX}; {codes}.")


def _of_the_class(
    of: ClassSet, traces: Sequence[Trace], exports: Exports, asked: PagesAsked | None, coming: Coming
) -> dict[str, Any]:
    """Writes what stands for the whole class, and puts everything in its place; the record of the run for JSON."""
    report = equal.equal_report(of, (trace.facts for trace in traces))
    rows = [trace.row for trace in traces]
    used = ((trace.row.learner.id, trace.names) for trace in traces)
    kept.write_whole(coming.path / ANSWERS, answers.answer_table_pdf(of, rows))
    kept.write_whole(coming.path / NUMBERS, numbers_used.numbers_lines(of.title, of.seed, used))
    kept.write_whole(coming.path / REPORT, set_report.report_text(report))
    there = sum(trace.kept for trace in traces)
    told = {
        "path": str(coming.folder),
        "title": of.title,
        "seed": of.seed,
        "marks": rows[0].marks if rows else 0,
        "papers": len(traces),
        "made": len(traces) - there,
        "kept": there,
        "folders": {"papers": paper_files.PAPERS, "keys": paper_files.KEYS},
        "answers": ANSWERS,
        "tables": {"files": list(set_tables.TABLES), "items": exports.items, "answers": exports.answers},
        "package": {"file": exports.package, "notes": list(exports.notes)} if exports.package else None,
        "pages": None,
        "numbers": NUMBERS,
        "report": {"file": REPORT, **set_report.report_record(report)},
    }
    shared: list[str] = []
    gone = [] if exports.package else [set_exports.PACKAGE]  # one that is not wanted may be of other numbers
    if asked is not None:
        place = set_pages.PAGES
        shared, stems = set_pages.write_shared(of, (trace.names for trace in traces), coming.path / place)
        shared = [f"{place}/{name}" for name in shared]
        gone += [f"{place}/{name}" for name in set_pages.other_pages(coming.folder / place, stems)]
        told["pages"] = {
            "folder": place, "index": f"{place}/{set_pages.INDEX}", "count": len(stems), "solutions": asked.solved,
            "at": asked.at,
        }  # fmt: skip
    stems_of = [class_list.file_stem(trace.row.learner.id) for trace in traces]
    made = (name for stem in (*stems_of, set_exports.EXPORTS) for name in coming.vouched("", stem))
    packed = [exports.package] if exports.package else []
    coming.place((*made, *shared), (*set_tables.TABLES, *packed, ANSWERS, NUMBERS, REPORT), gone)
    return told
