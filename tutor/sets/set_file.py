"""The set file: a title and the problems of a set by name, in TOML.

    title = "Shunt regulators, first sheet"

    [[questions]]
    problem = "zener-resistor:2:17@2"   # a whole name; with its edition it always means the same numbers
    marks = 6                           # those of the problem's own mark scheme where this is left out

    [[questions]]
    problem = "zener-state:1:3@1"

This is all that the lecturer's page writes; what a set may say beyond it finds its place among these keys.
Place in the data flow: set file -> ProblemSet -> whatever is made of a set.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tutor.errors import BadValue, SteadyrailError, nearest
from tutor.generate.name import ProblemName, read_name

MOST_MARKS = 999
_OF_A_SET = ("title", "questions")
_OF_A_QUESTION = ("problem", "marks")


@dataclass(frozen=True)
class Question:
    """A question of a set: which problem, and its marks; None where the problem's own mark scheme tells them."""

    problem: ProblemName
    marks: int | None = None


@dataclass(frozen=True)
class ProblemSet:
    """A set of problems, in the order in which they are asked."""

    title: str
    questions: tuple[Question, ...]


def read_set_file(path: Path) -> ProblemSet:
    """The set of a file; SteadyrailError names the file, the line and the field of a mistake."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise SteadyrailError(f"{path} cannot be read as a set file: {error}") from error
    return read_set(text, path.name)


def read_set(text: str, name: str) -> ProblemSet:
    """The set that a text says; `name` is what a mistake is told to be in."""
    try:
        told = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SteadyrailError(f"{name} is not TOML: {error}") from error
    lines = [at for at, line in enumerate(text.splitlines(), 1) if line.split("#")[0].strip() == "[[questions]]"]
    _only(told, _OF_A_SET, name)
    title = told.get("title")
    if not isinstance(title, str) or not title.strip():
        raise SteadyrailError(f'{name} needs a title: title = "..." before its first question')
    rows = told.get("questions")
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise SteadyrailError(f"{name} asks nothing; each question begins with a line [[questions]]")
    known = len(lines) == len(rows)  # a question may also be written in other forms of TOML, without a line of its own
    places = [f"{name}, line {lines[at]}" if known else f"{name}, question {at + 1}" for at in range(len(rows))]
    return ProblemSet(title.strip(), tuple(_question(row, place) for row, place in zip(rows, places, strict=True)))


def _question(row: Mapping[str, object], place: str) -> Question:
    _only(row, _OF_A_QUESTION, place)
    problem = row.get("problem")
    if not isinstance(problem, str):
        raise SteadyrailError(f'{place}: a question needs its problem, such as problem = "zener-resistor:2:17"')
    try:
        named = read_name(problem)
    except BadValue as error:
        raise SteadyrailError(f"{place}, problem: {error.sentence}") from error
    marks = row.get("marks")
    if marks is None:
        return Question(named)
    if not isinstance(marks, int) or isinstance(marks, bool) or not 1 <= marks <= MOST_MARKS:
        raise SteadyrailError(f"{place}, marks: {marks!r} is no whole number from 1 to {MOST_MARKS}")
    return Question(named, marks)


def _only(row: Mapping[str, object], fields: tuple[str, ...], place: str) -> None:
    """Refuses a field that a set file does not have, naming the nearest."""
    for field in row:
        if field not in fields:
            close = nearest(field, fields)
            hint = f"did you mean '{close}'?" if close else "there are " + ", ".join(fields)
            raise SteadyrailError(f"{place} has no use for the field '{field}'; {hint}")
