"""The items and answers of a set's papers as tables: `items.csv`, `items.json` and `answers.csv`.

Vocabulary: an *item* is a problem that some paper asks; its row says what it is, and in JSON it is whole, in the shape
that `problem --json` promises. *Answers* are what every learner's paper wants at every waypoint, a row each.
Place in the data flow: Papers -> rows, written as papers come, so that nothing grows with a class but the set of names.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from tutor.errors import BadValue
from tutor.generate.problem import SEPARATOR, Waypoint, WaypointKind
from tutor.quantities.units import json_unit
from tutor.sets.paper import Asked, Paper, Rules
from tutor.sets.spreadsheet import safe_cell
from tutor.views.exchanged import replacing
from tutor.views.package.entry import Entry, entry_of
from tutor.views.package.item import item_identifier
from tutor.views.plain import unbound_text
from tutor.views.records import problem_record

ITEM_COLUMNS = (
    "item", "identifier", "family", "level", "title", "circuit", "form", "question", "asks", "marks",
)  # fmt: skip
ANSWER_COLUMNS = (
    "learner", "question", "item", "part", "key", "asked", "kind", "answer", "value", "unit", "low", "high", "accepted",
    "typed", "typed_unit", "marks",
)  # fmt: skip
TABLES = ("items.csv", "items.json", "answers.csv")
_MARK = "\ufeff"  # by which spreadsheets know UTF-8


@dataclass(frozen=True)
class TablesReport:
    """The files written, and how many rows each has."""

    items: Path
    items_json: Path
    answers: Path
    item_rows: int
    answer_rows: int


class Tables:
    """The three tables while papers come; each problem is an item once."""

    def __init__(self, items: TextIO, items_json: TextIO, answers: TextIO) -> None:
        self.names: set[str] = set()
        self.answers = 0
        self._items, self._rows = _table(items, ITEM_COLUMNS), _table(answers, ANSWER_COLUMNS)
        self._json = items_json
        self._json.write("[")

    def take(self, paper: Paper) -> None:
        """The items of a paper that are new, and all its answers."""
        for asked in paper.asked:
            if asked.name not in self.names:
                self._items.writerow(_cells(item_row(asked)))
                record = json.dumps(item_record(asked), ensure_ascii=False, sort_keys=True)
                self._json.write(("\n" if not self.names else ",\n") + record)
                self.names.add(asked.name)
            for row in answer_rows(paper, asked):
                self._rows.writerow(_cells(row))
                self.answers += 1

    def finish(self) -> None:
        """Ends the list of items."""
        self._json.write("\n]\n")


@contextmanager
def growing_tables(folder: Path) -> Iterator[Tables]:
    """Tables that take papers as something else goes through them, too; in `folder` when all went well, all or none.

    BadValue when they cannot be written. Every cell of text is one that no spreadsheet takes for a formula.
    """
    try:
        with ExitStack() as stack:
            tables = Tables(*(stack.enter_context(_replacing(folder / name)) for name in TABLES))
            yield tables
            tables.finish()
    except OSError as error:
        raise BadValue(f"{folder} cannot be written to: {error.strerror or error}", path=str(folder)) from error


def write_tables(papers: Iterable[Paper], folder: Path) -> TablesReport:
    """The three tables of a set's papers in `folder`, all or none; the papers are gone through once.

    BadValue when they cannot be written.
    """
    with growing_tables(folder) as tables:
        for paper in papers:
            tables.take(paper)
    items, items_json, answers = (folder / name for name in TABLES)
    return TablesReport(items, items_json, answers, len(tables.names), tables.answers)


def item_row(asked: Asked) -> dict[str, str]:
    """An item as a row of `items.csv`, by column, text as it is read."""
    problem = asked.problem
    return {
        "item": asked.name,
        "identifier": item_identifier(asked.name),
        "family": problem.family,
        "level": str(problem.level),
        "title": problem.title,
        "circuit": problem.circuit,
        "form": problem.form,
        "question": unbound_text(f"{problem.statement} {problem.ask}"),
        "asks": ", ".join(point.key for point in problem.waypoints),
        "marks": str(asked.scheme.total),
    }


def item_record(asked: Asked) -> dict[str, object]:
    """An item whole: the record of its problem under the name it is asked by, and the marks of its scheme."""
    marks = {
        point.key: [{"kind": mark.kind.value, "earns": unbound_text(mark.earns)} for mark in point.marks]
        for point in asked.scheme.points
    }
    record = problem_record(asked.problem, asked.solution, asked.lines)
    return {**record, "item": asked.name, "identifier": item_identifier(asked.name), "marks": marks}


def answer_rows(paper: Paper, asked: Asked) -> Iterator[dict[str, str]]:
    """The rows of `answers.csv` for one question of a paper, by column.

    Values, bounds and accepted values are in SI as in JSON; `typed` is the number in the unit that a box of a package
    is in. Bounds are those of the set's rules.
    """
    for at, (point, scheme) in enumerate(zip(asked.problem.waypoints, asked.scheme.points, strict=True), start=1):
        yield {
            "learner": paper.learner.id,
            "question": str(asked.number),
            "item": asked.name,
            "part": str(at),
            "key": point.key,
            "asked": unbound_text(point.prompt),
            "kind": point.kind.value,
            "marks": str(len(scheme.marks)),
            **_answer(point, paper.set.rules),
        }


def _answer(point: Waypoint, rules: Rules) -> dict[str, str]:
    if point.answer is None:
        right = point.arrangements if point.kind is WaypointKind.ARRANGEMENT else (point.state,)
        # Several arrangements are told apart by a bar, since a semicolon stands between the parts of one.
        return {"answer": unbound_text(point.state), "accepted": unbound_text(" | ".join(right))}
    entry = entry_of(point, rules)
    told = {
        "answer": point.answer.text,
        "value": _number(point.answer.value),
        "unit": json_unit(point.answer.unit),
        "typed": _number(entry.typed),
        "typed_unit": entry.unit,
    }
    if point.kind is WaypointKind.CHOICE:
        return told | {"accepted": SEPARATOR.join(map(_number, point.accepted))}
    return told | _bounds(entry, point.answer.value)


def _bounds(entry: Entry, value: float) -> dict[str, str]:
    """The band in SI: the entry has it in the unit of the box."""
    scale = value / entry.typed if entry.typed else 1.0
    return {"low": _number(entry.right[0].low * scale), "high": _number(entry.right[0].high * scale)}


def _number(value: float) -> str:
    return f"{value:.12g}"


def _cells(row: Mapping[str, str]) -> dict[str, str]:
    """A row as it may stand in a spreadsheet; a number below zero stays a number."""
    return {name: text if _is_number(text) else safe_cell(text) for name, text in row.items()}


def _is_number(text: str) -> bool:
    return text.isascii() and text.removeprefix("-").replace(".", "", 1).replace("e-", "", 1).isdigit()


def _table(file: TextIO, columns: tuple[str, ...]) -> csv.DictWriter[str]:
    file.write(_MARK)
    writer = csv.DictWriter(file, columns, restval="", lineterminator="\r\n")
    writer.writeheader()
    return writer


@contextmanager
def _replacing(path: Path) -> Iterator[TextIO]:
    """A text file beside `path` that takes its place when all went well."""
    with replacing(path) as beside, beside.open("w", encoding="utf-8", newline="") as file:
        yield file
