"""Marks by hand: what a human decides against what was marked; it wins and is kept.

Vocabulary: an *override* gives one learner the marks of one question, or of one waypoint of its scheme, with a note.
The file is a table (CSV) with the columns id, question, waypoint, marks, note, or TOML with a table [[override]] for
each and those keys. `waypoint` may be left empty: then the marks are those of the whole question on this paper, in
halves; with a waypoint they are as many whole marks as its scheme has there, before the paper's scale.
Place in the data flow: an override file -> Overrides, by learner -> `marking.py`. A mistake in it refuses the whole
marking with the line it stands on: a human's decision is never dropped in silence.
"""

from __future__ import annotations

import csv
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.sets.paper import Learner
from tutor.sets.plain_file import text_of
from tutor.sets.returned import guess_at, told
from tutor.sets.set_fields import there_are
from tutor.sets.spreadsheet import cut_of
from tutor.sets.toml_lines import toml_of

COLUMNS = ("id", "question", "waypoint", "marks", "note")
TEMPLATE = ",".join(COLUMNS) + "\n"
MOST_BYTES = 16 * 1024 * 1024
MOST_OF_A_NOTE = 500


@dataclass(frozen=True)
class Override:
    """One decision: `marks` on the paper's scale for the question, or of its scheme where `waypoint` is named.

    `place` is the file and the line it stands on.
    """

    question: int
    waypoint: str
    marks: float
    note: str
    place: str

    @property
    def words(self) -> str:
        """The decision as it is told to the learner."""
        return f"by hand: {self.note}" if self.note else "by hand"


Overrides = Mapping[str, tuple[Override, ...]]


def read_by_hand(file: Path, learners: Sequence[Learner], questions: int) -> Overrides:
    """The overrides of a file, by learner's id; SteadyrailError names the file and the line of a mistake."""
    text = text_of(file, MOST_BYTES, "marks by hand", "name a table or a TOML file in UTF-8")
    rows = _of_toml(text, file.name) if file.suffix.casefold() == ".toml" else _of_table(text, file.name)
    ids = {learner.id for learner in learners}
    found: dict[str, list[Override]] = {}
    for place, row in rows:
        whose, override = _override(row, place, ids, questions)
        before = found.setdefault(whose, [])
        same = [item for item in before if (item.question, item.waypoint) == (override.question, override.waypoint)]
        if same:
            raise SteadyrailError(f"{place}: {same[0].place} decides this already; leave one of them out")
        here = [item for item in before if item.question == override.question]
        clash = [item for item in here if not (item.waypoint and override.waypoint)]
        if clash:
            raise SteadyrailError(
                f"{place}: {clash[0].place} gives marks for question {override.question} too; give them for the whole "
                "question or for its waypoints, not for both"
            )
        before.append(override)
    return {whose: tuple(items) for whose, items in found.items()}


def _of_table(text: str, name: str) -> Iterator[tuple[str, Mapping[str, str]]]:
    lines = text.splitlines(keepends=True)
    first = lines[0] if lines else ""
    rows = csv.reader(lines, delimiter=cut_of(first), strict=True)
    head: list[str] = []
    begins = 1
    try:
        for cells in rows:
            place, begins = f"{name}, line {begins}", rows.line_num + 1
            if not any(cell.strip() for cell in cells):
                continue
            if not head:
                head = [cell.strip().casefold() for cell in cells]
                _need_columns(head, place)
                continue
            if len(cells) > len(head):
                raise SteadyrailError(f"{place} has {len(cells)} cells; its columns are {', '.join(head)}")
            yield place, dict(zip(head, (cell.strip() for cell in cells), strict=False))
    except csv.Error as error:
        raise SteadyrailError(f"{name}, line {rows.line_num}, does not read as a table: {error}") from None


def _need_columns(head: Sequence[str], place: str) -> None:
    missing = [column for column in ("id", "question", "marks") if column not in head]
    if missing:
        raise SteadyrailError(f"{place} has no column '{missing[0]}'; marks by hand begin {','.join(COLUMNS)}")
    for column in head:
        if column and column not in COLUMNS:
            raise SteadyrailError(f"{place} has no use for the column {told(column)}; {there_are(column, COLUMNS)}")


def _of_toml(text: str, name: str) -> Iterator[tuple[str, Mapping[str, str]]]:
    content, lines = toml_of(text, name)
    for key in content:
        if key != "override":
            raise SteadyrailError(
                f"{name}, line {lines[key,]}, has no use for {told(key)}; a decision begins [[override]]"
            )
    rows = content.get("override", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise SteadyrailError(f"{name}, line {lines['override',]}: a decision begins [[override]]")
    for at, row in enumerate(rows):
        place = f"{name}, line {lines['override', at]}"
        for key in row:
            if key not in COLUMNS:
                here = f"{name}, line {lines['override', at, key]}"
                raise SteadyrailError(f"{here} has no use for the key {told(key)}; {there_are(key, COLUMNS)}")
        yield place, {key: str(value).strip() for key, value in row.items()}


def _override(row: Mapping[str, str], place: str, ids: set[str], questions: int) -> tuple[str, Override]:
    whose = unicodedata.normalize("NFC", row.get("id", ""))
    if whose not in ids:
        raise SteadyrailError(f"{place}: {told(whose)} is nobody of the class{guess_at(whose, ids)}")
    asked = row.get("question", "").strip().lstrip("Qq")
    if not (asked.isascii() and asked.isdigit()) or not 1 <= int(asked[:6]) <= questions:
        raise SteadyrailError(
            f"{place}: there is no question {told(row.get('question', ''))}; write a number from 1 to {questions}"
        )
    note = row.get("note", "")
    if len(note) > MOST_OF_A_NOTE:
        raise SteadyrailError(f"{place}: a note may have up to {MOST_OF_A_NOTE} characters (got {len(note)})")
    waypoint = row.get("waypoint", "")
    marks = _marks(row.get("marks", ""), place, whole=bool(waypoint))
    return whose, Override(int(asked), waypoint, marks, note, place)


def _marks(text: str, place: str, *, whole: bool) -> float:
    plain = text.replace(",", ".", 1)
    digits, _, after = plain.partition(".")
    halves = "" if whole else " or a half, such as 3.5"
    if not (digits.isascii() and digits.isdigit()) or len(digits) > 4 or after.rstrip("0") not in ("", "5"):
        raise SteadyrailError(f"{place}: the marks {told(text)} are no whole number{halves}")
    if whole and after.strip("0"):
        raise SteadyrailError(f"{place}: the marks {told(text)} of a waypoint must be a whole number")
    return float(plain)
