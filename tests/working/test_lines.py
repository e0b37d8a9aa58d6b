"""Learners' working, line by line: the finding each line must have, labelled by hand from the rules before any run.

The cases stand in `lines/*.txt` (all but `reading.txt`), one topic a file. A row says

    # anything                 a remark
    @ zener-resistor:2:5 …     the problem of the rows below; after its name a remark; `decimal comma` sets the reader;
                               @1 in a name: kept from that edition (`tests/solution/earlier_editions.py`)
    CODE | the line            a line typed, and its finding; it begins a working of its own
    + CODE | the line          the next line of the same working
    + blank                    an empty line in it

and indented below a line stands what else must be so:

    at "22.5"  or  at 7..11    its columns: the words of the line they mark (the first such), or from..past, from 1
    slip no-knee-current, sign the ids of its slips, no more and no fewer; `slip none`: it names none
    says the bound             a part of its sentence;  `says not X`: no part of it
    sentence The sum.          its sentence, exactly
    todo why                   the checker does not do this yet: the line must mismatch, until it is mended

In a line, «X»*30 is X thirty times and «U+202E» a character that cannot be seen.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

import pytest

from tests.solution import earlier_editions
from tutor.solution.sheet import Sheet
from tutor.working.check import Checked, check_working
from tutor.working.finding import WRONG, Code, Finding

FOLDER = Path(__file__).parent / "lines"
TOPICS = sorted(path for path in FOLDER.glob("*.txt") if path.name != "reading.txt")
BLANK = "blank"
ROW = re.compile(r"(?P<more>\+ )?(?P<code>[a-z-]+)\s+\| (?P<typed>.*)")
PROBLEM = re.compile(r"@ (?P<name>[a-z-]+:\d:\d+\S*)(?P<rest>.*)")
REPEATED = re.compile(r"«([^»]*)»\*(\d+)")
UNSEEN = re.compile(r"«U\+([0-9A-F]{4,6})»")
# Findings under which no slip may be named: nothing is wrong with the line, or nothing can be said of it.
INNOCENT = {Code.HOLDS, Code.HOLDS_HERE, Code.DEFINES, Code.CHOICE_OK, Code.NOTE, Code.UNREAD}
# The general slips of the trade that these circuits have room for; f for 2f waits for the first circuit with a ripple.
GENERAL = (
    "power-of-ten", "sign", "inverted", "left-out", "factor-two", "corner", "rms-crest", "parallel", "copied",
    "arithmetic",
)  # fmt: skip


@dataclass(frozen=True)
class Expected:
    """What one line must be found to be; `code` is a finding's, or `blank`."""

    typed: str
    code: str
    told: tuple[tuple[str, str], ...] = ()

    def all_told(self, word: str) -> list[str]:
        """What the rows below the line say after this word."""
        return [rest for key, rest in self.told if key == word]

    @property
    def todo(self) -> bool:
        """Whether the checker is known not to do this yet."""
        return bool(self.all_told("todo"))


@dataclass(frozen=True)
class Working:
    """One working of one problem, where it stands in the files, and what its lines must be."""

    where: str
    problem: str
    decimal_comma: bool
    lines: tuple[Expected, ...] = field(default=())

    @property
    def text(self) -> str:
        """The working as typed."""
        return "\n".join(line.typed for line in self.lines)


def as_typed(row: str) -> str:
    """A line of a file as a learner would have typed it."""
    row = UNSEEN.sub(lambda found: chr(int(found[1], 16)), row)
    return REPEATED.sub(lambda found: found[1] * int(found[2]), row)


def workings_in(path: Path) -> Iterator[Working]:
    """The workings of a file; a row that cannot be understood is an error of the file."""
    name, comma, held = "", False, None
    for number, row in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        where = f"{path.stem}:{number}"
        problem, line = PROBLEM.fullmatch(row), ROW.fullmatch(row)
        if row.startswith("    "):
            assert held is not None and held.lines, f"{where}: nothing stands above this"
            word, _, rest = row.strip().partition(" ")
            assert word in ("at", "slip", "says", "sentence", "todo"), f"{where}: '{word}' is not known here"
            last = held.lines[-1]
            held = replace(held, lines=(*held.lines[:-1], replace(last, told=(*last.told, (word, rest)))))
        elif row == f"+ {BLANK}":
            assert held is not None, f"{where}: a working begins with a line"
            held = replace(held, lines=(*held.lines, Expected("", BLANK)))
        elif line is not None:
            Code(line["code"])
            expected = Expected(as_typed(line["typed"]), line["code"])
            if line["more"]:
                assert held is not None, f"{where}: nothing stands above this"
                held = replace(held, lines=(*held.lines, expected))
                continue
            if held is not None:
                yield held
            assert name, f"{where}: no problem is named above"
            held = Working(where, name, comma, (expected,))
        elif problem is not None:
            if held is not None:
                yield held
            name, comma, held = problem["name"], "decimal comma" in problem["rest"], None
        else:
            assert not row or row.startswith("#"), f"{where}: cannot be read: {row}"
    if held is not None:
        yield held


WORKINGS = [working for path in TOPICS for working in workings_in(path)]
LINES = [line for working in WORKINGS for line in working.lines if line.code != BLANK]


@cache
def sheet_of(name: str, decimal_comma: bool) -> Sheet:
    """The sheet of a problem, with the reader set to a decimal comma or not."""
    sheet = earlier_editions.sheet(name)
    return replace(sheet, decimal_comma=True) if decimal_comma else sheet


@cache
def checked(working: Working) -> Checked:
    """What the checker finds in a working."""
    return check_working(working.text, sheet_of(working.problem, working.decimal_comma))


def columns_meant(told: str, typed: str) -> tuple[int, int]:
    """Columns as a case has them: from..past, or the words they mark."""
    if told.startswith('"'):
        first = typed.index(told.strip('"')) + 1
        return first, first + len(told.strip('"'))
    first, _, past = told.partition("..")
    return int(first), int(past)


def mismatches(line: Expected, found: Finding | None) -> list[str]:
    """In what a finding differs from what a line must be."""
    if found is None or line.code == BLANK:
        return [] if found is None and line.code == BLANK else [f"{line.code}: {found}"]
    wrong = [] if found.code.value == line.code else [f"{line.code} expected, {found.code.value} found"]
    wrong += [
        f"columns {told}, not {found.columns}"
        for told in line.all_told("at")
        if found.columns != columns_meant(told, line.typed)
    ]
    for told in line.all_told("slip"):
        ids = set() if told == "none" else {item.strip() for item in told.split(",")}
        wrong += [] if set(found.slip) == ids else [f"slips {told} expected, {', '.join(found.slip) or 'none'} named"]
    for told in line.all_told("says"):
        absent = told.startswith("not ")
        part = told.removeprefix("not ")
        wrong += [] if (part in found.why) is not absent else [f"says {told}"]
    wrong += [f"sentence: {told}" for told in line.all_told("sentence") if found.why != told]
    return [f"{item}; it says: {found.why!r}" for item in wrong]


@pytest.mark.parametrize("working", WORKINGS, ids=lambda working: working.where)
def test_each_line_is_found_to_be_what_it_is(working: Working):
    """Finding, columns, slips and sentence of each line, and the first line counted wrong."""
    by_number = {found.number: found for found in checked(working).findings}
    told: list[str] = []
    for number, line in enumerate(working.lines, 1):
        wrong = mismatches(line, by_number.get(number))
        if line.todo:
            told += [] if wrong else [f"line {number} is mended: take its 'todo' away"]
        else:
            told += [f"{line.typed!r}: {item}" for item in wrong]
    if not any(line.todo for line in working.lines):
        codes = [None if line.code == BLANK else Code(line.code) for line in working.lines]
        first = next((number for number, code in enumerate(codes, 1) if code in WRONG), None)
        told += [] if (stood := checked(working).first_wrong) == first else [f"first wrong: {first}, not {stood}"]
    assert not told, f"{working.problem}\n" + "\n".join(told)


@pytest.mark.parametrize("working", WORKINGS, ids=lambda working: working.where)
def test_each_finding_is_sound(working: Working):
    """It quotes the line as typed, marks columns inside it, says one thing in plain text, and names slips only then."""
    for found in checked(working).findings:
        line = working.lines[found.number - 1]
        assert found.text == line.typed
        assert "\n" not in found.why
        assert "$" not in found.why or "$" in found.text, found
        if found.columns is not None and not line.todo:
            first, past = found.columns
            assert 1 <= first < past <= len(found.text) + 1, found
        if found.code not in (Code.HOLDS, Code.HOLDS_HERE):
            assert found.why, found
        if found.code is Code.UNREAD:
            assert found.columns is not None, found
        if found.code in INNOCENT:
            assert not found.slip, found


def test_the_files_cover_the_rules():
    """Enough lines, every finding, all three circuits, every general slip; and nothing marked todo without a reason."""
    assert len(LINES) >= 400
    counted = Counter(line.code for line in LINES)
    assert min(counted[code.value] for code in Code) >= 10, counted
    circuits = {sheet_of(working.problem, working.decimal_comma).circuit for working in WORKINGS}
    assert circuits >= {"source", "zener-shunt", "follower"}
    named = {item.strip() for line in LINES for told in line.all_told("slip") for item in told.split(",")}
    assert named >= set(GENERAL), set(GENERAL) - named
    assert all(reason for line in LINES for reason in line.all_told("todo"))
