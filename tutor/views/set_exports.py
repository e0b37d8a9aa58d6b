"""What stands beside the papers of a class for other programs: the tables of items and answers, and the package.

Papers are worked here once more, one after another, and both take each as it comes, so that memory does not grow with
the class; nothing takes its place before all of it is whole. What is there from the same drafts is kept.
Place in the data flow: Drafts -> Papers -> `items.csv`, `items.json`, `answers.csv`, `package.zip`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from itertools import islice

from tutor.sets.coming import Coming
from tutor.sets.drafts import Draft, for_everyone
from tutor.sets.kept import RECORDS, digest_of, engine_version, record_files, write_whole
from tutor.sets.paper import ClassSet, Paper
from tutor.sets.papers import TOGETHER, papers_from
from tutor.views.package.writing import write_package
from tutor.views.set_tables import TABLES, Tables, growing_tables

PACKAGE = "package.zip"
EXPORTS = "whole.exports"  # no learner's: a name with a dot ends in their digest
_TOLD = "whole.exports-told.json"

Progress = Callable[[int], object]  # told how many papers are done


@dataclass(frozen=True)
class Exports:
    """What was written: how many items and answers the tables have, and what the package cannot carry; `package` ''
    where none was wanted. `kept`: all was there from an earlier run."""

    items: int
    answers: int
    package: str
    notes: tuple[str, ...] = ()
    kept: bool = False


def write_exports(
    of: ClassSet, drawn: Sequence[Draft], coming: Coming, *, package: bool, progress: Progress = lambda done: None
) -> Exports:
    """The tables and, where it is wanted, the package of a class, as they are coming. BadValue when they cannot be
    written."""
    made_from = digest_of(for_everyone(of), package, engine_version(), *drawn)
    told_name = f"{RECORDS}/{_TOLD}"
    if coming.is_kept("", EXPORTS, made_from):
        try:
            return _read(coming.found(told_name).read_text(encoding="utf-8"))
        except (OSError, ValueError, KeyError, TypeError):
            pass  # what is told of them cannot be read: they are made again
    folder = coming.path
    notes: tuple[str, ...] = ()
    with growing_tables(folder) as tables:
        papers = _tabled(of, drawn, tables, progress)
        if package:
            notes = write_package(papers, folder / PACKAGE).notes
        else:
            for _ in papers:
                pass
    made = Exports(len(tables.names), tables.answers, PACKAGE if package else "", notes)
    write_whole(folder / told_name, json.dumps(asdict(made), ensure_ascii=False))
    files = [folder / name for name in (*TABLES, *([PACKAGE] if package else []), told_name)]
    record_files(folder, EXPORTS, made_from, files)
    return made


def _tabled(of: ClassSet, drawn: Sequence[Draft], tables: Tables, progress: Progress) -> Iterator[Paper]:
    """The papers, each in the tables before it goes on."""
    waiting, done = iter(drawn), 0
    while some := list(islice(waiting, TOGETHER)):
        for paper in papers_from(for_everyone(of), some):
            tables.take(paper)
            yield paper
            done += 1
            progress(done)


def _read(text: str) -> Exports:
    told = json.loads(text)
    return Exports(told["items"], told["answers"], told["package"], tuple(told["notes"]), True)
