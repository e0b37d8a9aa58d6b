"""`steadyrail mark SET.toml WORKINGS`: a class's workings marked, with feedback for each and a report on all."""

from __future__ import annotations

import sys
from functools import partial
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tutor.later import later
from tutor.views.commands.bar import bar
from tutor.views.commands.speech import json_option, print_json

if TYPE_CHECKING:
    from tutor.sets import pool
    from tutor.sets import set_file as set_files
    from tutor.sets.paper import ClassSet
    from tutor.views import marked_class, marked_shown, terminal_lines
else:
    pool = later("tutor.sets.pool")
    set_files = later("tutor.sets.set_file")
    marked_class = later("tutor.views.marked_class")
    marked_shown = later("tutor.views.marked_shown")
    terminal_lines = later("tutor.views.terminal_lines")

_SMALL = 24  # learners


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
    whole = set_files.read_set_file(set_file)
    done = count(1)
    with bar() as told:
        marked = marked_class.mark_class(
            whole, workings, out, override=override, pdf=pdf,
            told=lambda _: told(next(done), len(whole.learners), "papers marked"),
            run=partial(pool.run_all, processes=processes or _few(whole), cluster=cluster),
        )  # fmt: skip
    if as_json:
        print_json(marked_shown.marked_record(marked))
    else:
        marked_shown.show_marked(terminal_lines.terminal(), marked)
    if marked.flawed:
        sys.exit(1)


def _few(whole: ClassSet) -> int:
    """One process for a class so small that starting others would take longer; else 0, one for each processor."""
    return 1 if len(whole.learners) <= _SMALL else 0
