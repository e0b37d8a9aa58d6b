"""Workings handed back as one table: a row a learner, or a row a question.

Place in the data flow: a CSV file + learners -> Filed, as a folder of text files gives it (`returned.py`).
The columns are id, question, working, or id, Q1, Q2 and so on, in any order; others are passed over. A comma, a
semicolon or a tab may stand between cells, as spreadsheets of different countries write them (RFC 4180 has the comma).
"""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.sets.paper import Learner
from tutor.sets.returned import MOST_HINTS, MOST_STRAYS, Filed, Returned, guess_at, put_answer, told
from tutor.sets.spreadsheet import cut_of

MOST_OF_A_CELL = 16 * 1024 * 1024  # characters; a cell past what a working may be costs its learner a note
_NUMBER = re.compile(r"(?:q|question)?[ \t]*0*([0-9]{1,4})[ \t]*[.:)]?", re.ASCII | re.IGNORECASE)


def file_table(file: Path, learners: Iterable[Learner], questions: int) -> Filed:
    """The workings of a table, by learner. SteadyrailError names the file and the line where it is no such table."""
    known = {learner.id: learner.id for learner in learners}
    folded: dict[str, list[str]] = {}
    for whose in known:
        folded.setdefault(whose.casefold(), []).append(whose)
    alone = {spelt: found[0] for spelt, found in folded.items() if len(found) == 1}
    filed: dict[str, Returned] = {}
    strays: list[str] = []
    rows = _rows(file)
    line, head = next(rows, (0, []))
    read = _reader(head, file.name, questions)
    for line, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        spelt = unicodedata.normalize("NFC", _cell(cells, read.id).strip())
        whose = known.get(spelt) or alone.get(spelt.casefold(), "")
        if not whose:
            if len(strays) < MOST_STRAYS:
                hint = guess_at(spelt, known) if len(strays) < MOST_HINTS else ""
                strays.append(f"line {line} of {file.name}: {told(spelt)} is nobody of the class{hint}")
            continue
        returned = filed.get(whose, Returned(source=f"{file.name}, line {line}"))
        filed[whose] = read.put(returned, cells, line)
    return Filed(filed, tuple(strays))


class _Wide:
    """A table with a column for each question."""

    def __init__(self, at: int, columns: dict[int, int]) -> None:
        self.id, self.columns = at, columns

    def put(self, returned: Returned, cells: Sequence[str], line: int) -> Returned:
        for question, column in self.columns.items():
            returned = put_answer(returned, question, _cell(cells, column))
        return returned


class _Long:
    """A table with a row for each question."""

    def __init__(self, at: int, question: int, working: int, questions: int) -> None:
        self.id, self.question, self.working, self.questions = at, question, working, questions

    def put(self, returned: Returned, cells: Sequence[str], line: int) -> Returned:
        spelt = _cell(cells, self.question).strip()
        number = _NUMBER.fullmatch(spelt)
        if number is None or not 1 <= int(number[1]) <= self.questions:
            note = f"line {line}: there is no question {told(spelt)}; write a number from 1 to {self.questions}"
            return Returned(returned.answers, (*returned.notes, note), True, returned.source)
        return put_answer(returned, int(number[1]), _cell(cells, self.working))


def _reader(head: Sequence[str], name: str, questions: int) -> _Wide | _Long:
    columns: dict[str, int] = {}
    for place, title in enumerate(head):
        columns.setdefault(title.strip().casefold(), place)
    if "id" not in columns:
        raise SteadyrailError(
            f"{name}, line 1, has no column 'id'; a table of workings begins id,question,working or id,Q1,Q2"
        )
    if "working" in columns and "question" in columns:
        return _Long(columns["id"], columns["question"], columns["working"], questions)
    numbered = {title: match for title in columns if (match := _NUMBER.fullmatch(title)) is not None}
    wide = {int(match[1]): columns[title] for title, match in numbered.items() if 1 <= int(match[1]) <= questions}
    if not wide:
        raise SteadyrailError(
            f"{name}, line 1, has no column with workings; a table of them begins id,question,working or id,Q1,Q2"
        )
    return _Wide(columns["id"], wide)


def _rows(file: Path) -> Iterator[tuple[int, list[str]]]:
    """The rows with the line each begins on; the cut between cells is the one that the first line has most of."""
    try:
        if file.exists() and not file.is_file():
            raise SteadyrailError(f"the workings '{file}' are no plain file; name a folder of text files, or a table")
        with file.open(encoding="utf-8-sig", newline="") as stream, _long_cells():
            first = stream.readline(MOST_OF_A_CELL)
            stream.seek(0)
            rows = csv.reader(stream, delimiter=cut_of(first))
            begins = 1
            for cells in rows:
                yield begins, cells
                begins = rows.line_num + 1
    except UnicodeDecodeError as error:
        raise SteadyrailError(f"{file.name} is no UTF-8 text: {error.reason}; save the table as CSV in UTF-8") from None
    except csv.Error as error:
        raise SteadyrailError(f"{file.name}, line {begins}, does not read as a table: {error}") from None
    except OSError as error:
        raise SteadyrailError(
            f"the workings '{file}' cannot be read: {error.strerror}; name a folder of text files, or a table"
        ) from None
    except ValueError:
        raise SteadyrailError(f"the workings '{file}' cannot be read: its name cannot be used") from None


@contextmanager
def _long_cells() -> Iterator[None]:
    """One huge cell is its learner's affair, not the table's; the limit is the process's own and is put back."""
    before = csv.field_size_limit(MOST_OF_A_CELL)
    try:
        yield
    finally:
        csv.field_size_limit(before)


def _cell(cells: Sequence[str], place: int) -> str:
    return cells[place] if place < len(cells) else ""
