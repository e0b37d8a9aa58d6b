"""The marks of a class as tables: CSV and a workbook (XLSX), safe to open whatever learners called themselves.

Place in the data flow: LearnerRecords, Moves, ClassFigures -> marks.csv, lines_left.csv, moved.csv, marks.xlsx. All are
written as records come. In CSV a cell that a spreadsheet might run has an apostrophe before it (`sets/spreadsheet.py`);
in the workbook every text is written as a string, which is never a formula there.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from tutor.sets.class_figures import how_it_discriminates
from tutor.sets.class_marks import ClassFigures
from tutor.sets.marks_record import LearnerRecord
from tutor.sets.moved import MovedQuestion
from tutor.sets.spreadsheet import safe_cell

NOTHING, UNREADABLE = "nothing handed back", "could not be read"
MOST_ROWS = 1_048_576  # of a sheet (Microsoft, "Excel specifications and limits")
MOST_OF_A_CELL = 32_767  # characters, there too
_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # the same workbook, the same bytes
Cell = str | float | int | None


def marks_head(questions: Sequence[int]) -> list[str]:
    """The head of the marks table; `questions` are what each counts, 0 where that differs between papers."""
    named = [f"Q{number} (of {of})" if of else f"Q{number}" for number, of in enumerate(questions, 1)]
    return ["id", "name", *named, "marks", "of", "lines left", "notes"]


def marks_row(record: LearnerRecord) -> list[Cell]:
    """One learner's row; without marks where nothing could be marked."""
    questions: list[Cell] = [item.marks if record.counts else None for item in record.questions]
    notes = list(record.notes)
    if not record.returned:
        notes.insert(0, NOTHING)
    elif not record.counts:
        notes.insert(0, UNREADABLE)
    notes += [f"Q{item.question} {item.by_hand}" for item in record.questions if item.by_hand]
    total = record.marks if record.counts else None
    return [record.id, record.name, *questions, total, record.of, len(record.left), "; ".join(notes)]


def left_rows(record: LearnerRecord) -> Iterator[list[Cell]]:
    """The lines of one learner that are left to a human."""
    for line in record.left:
        yield [record.id, record.name, line.question, line.line, line.in_file, line.text, line.why]


LEFT_HEAD = ["id", "name", "question", "line", "line in the file", "as typed", "why it could not be read"]
MOVED_HEAD = ["id", "question", "before", "now", "why"]


def moved_row(move: MovedQuestion) -> list[Cell]:
    """One mark that moved."""
    return [move.id, move.question, move.before, move.after, move.why]


def csv_lines(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Iterator[str]:
    """A table as CSV (RFC 4180), line by line; every text made safe."""
    yield _csv_line(head)
    for row in rows:
        yield _csv_line([_plain(cell) for cell in row])


def _csv_line(cells: Sequence[str]) -> str:
    line = io.StringIO()
    csv.writer(line, lineterminator="\n").writerow(cells)
    return line.getvalue().encode("utf-8", "replace").decode("utf-8")


def _plain(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return safe_cell(" ".join(cell.split("\n")))
    return f"{cell:g}"


def write_workbook(
    file: Path, questions: Sequence[int], records: Iterable[LearnerRecord], figures: ClassFigures
) -> None:
    """The workbook: marks, questions, slips, lines left. Rows past what a sheet holds are left to the CSV."""
    options = {
        "constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False,
        "tmpdir": str(file.parent),  # what a kill leaves of it then lies where it is swept
    }  # fmt: skip
    with Workbook(str(file), options) as book:
        book.set_properties({"title": figures.title, "created": _LONG_AGO})
        bold = book.add_format({"bold": True})
        marks = book.add_worksheet("Marks")
        marks.freeze_panes(1, 2)
        left: list[list[Cell]] = []
        _row(marks, 0, marks_head(questions), bold)
        for place, record in enumerate(records, 1):
            if place < MOST_ROWS:
                _row(marks, place, marks_row(record))
            left += [row for row in left_rows(record)][: max(0, MOST_ROWS - 1 - len(left))]
        _sheet(book, "Questions", _questions_table(figures), bold)
        slips: list[Sequence[Cell]] = [["slip", "met on how many questions of learners"], *figures.slips]
        _sheet(book, "Slips", slips, bold)
        _sheet(book, "Lines left", [LEFT_HEAD, *left], bold)


def _questions_table(figures: ClassFigures) -> list[Sequence[Cell]]:
    head = ["question", "title", "of", "mean", "won (share)", "answered", "item-rest correlation", "upper-lower index",
            "discriminates"]  # fmt: skip
    rows: list[Sequence[Cell]] = [head]
    rows += [
        [item.question, item.title, item.of, item.marks.mean, item.facility, item.answered, item.rest, item.index,
         how_it_discriminates(item.index)]
        for item in figures.questions
    ]  # fmt: skip
    return rows


def _sheet(book: Workbook, name: str, rows: Sequence[Sequence[Cell]], bold: object) -> None:
    sheet = book.add_worksheet(name)
    sheet.freeze_panes(1, 0)
    for place, row in enumerate(rows):
        _row(sheet, place, row, bold if place == 0 else None)


def _row(sheet: Worksheet, at: int, row: Sequence[Cell], style: object = None) -> None:
    for column, cell in enumerate(row):
        if isinstance(cell, str):
            sheet.write_string(at, column, cell[:MOST_OF_A_CELL], style)
        elif cell is not None:
            sheet.write_number(at, column, cell, style)
