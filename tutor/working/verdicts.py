"""Which state of the circuit a working says it is in: in words, or by the comparison that tells it.

Place in the data flow: findings + the waypoint of a scheme that asks for a state -> StateVerdict -> `marks.py`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tutor.quantities.symbols import fold
from tutor.solution.scheme import SchemePoint
from tutor.working.amount import NUMBER_BAND
from tutor.working.finding import WRONG, Code, Finding
from tutor.working.hypothesis import agreeing, states_told
from tutor.working.spoken import spoken_together, spoken_verdict
from tutor.working.words import HYPOTHESES, QUESTIONS

INEQUALITIES = "<>≤≥"


@dataclass(frozen=True)
class StateVerdict:
    """What is said of the state: whether it is right, on which line, and why that counts."""

    right: bool
    line: int
    why: str


def verdict_on(point: SchemePoint, findings: Sequence[Finding]) -> StateVerdict | None:
    """The last verdict of a working on a state; None when it gives none. Words outweigh a comparison."""
    found: StateVerdict | None = None
    said = False
    spoken: list[str] = []
    for line in findings:
        option = _said(line, point, spoken)
        if option:
            said = True
            right = option == point.state and line.code not in WRONG and line.code is not Code.FOLLOWS
            found = StateVerdict(right, line.number, _told(line, option, point))
        elif not said and _compares(line, point):
            found = StateVerdict(True, line.number, f"the comparison tells it: {point.state}")
    return found


def _told(line: Finding, option: str, point: SchemePoint) -> str:
    if option != point.state:
        return f"you say {option}; in fact {point.state}"
    if line.code in WRONG:
        return f"{option}, but by a line that is wrong: {line.why}"
    return f"{option}, from your own value" if line.code is Code.FOLLOWS else option


def _said(line: Finding, point: SchemePoint, spoken: list[str]) -> str:
    """The option that a line's words name, or '': an assumption or a question names none.

    A verdict may be said piece by piece; `spoken` keeps the pieces said so far, and gains this one.
    """
    words = line.text.lower().split()
    if not words or "?" in line.text or words[0] in QUESTIONS or line.code is Code.UNREAD:
        return ""
    if any(tuple(words[: len(phrase)]) == phrase for phrase in HYPOTHESES.get(words[0], ())):
        return ""
    if spoken_verdict(line.text, point.options) is not None:
        spoken.append(line.text)
        return spoken_together(spoken, point.options)
    said = states_told(line.text)
    named = [option for option in point.options if said and agreeing(said, option) == len(said)]
    return named[0] if len(named) == 1 else ""


def _compares(line: Finding, point: SchemePoint) -> bool:
    """Whether a true line sets the quantity of the test against its limit."""
    if point.test is None or line.code not in (Code.HOLDS, Code.HOLDS_HERE):
        return False
    quantity, limit, value = point.test
    if line.key not in (quantity, limit) or not any(sign in line.text for sign in INEQUALITIES):
        return False
    names = set(line.shown.names) if line.shown is not None else set()
    named = {quantity, limit} <= names or (fold(quantity) in fold(line.text) and fold(limit) in fold(line.text))
    return named or (line.value is not None and math.isclose(line.value, value, rel_tol=NUMBER_BAND))
