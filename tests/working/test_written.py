"""Marks for how an answer is written: its unit, its figures, one number.

Sources: [EDX] Edexcel physics mark scheme, June 2010, notes 2.1 to 3.1; [AQA] A-level Physics 7408/3BE, general marking
instructions 3.8; [CIE] examiner's wording on figures.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.check import Checked
from tutor.working.finding import Code, Finding, Shown
from tutor.working.ledger import LedgerEntry, MarkRules, Marks
from tutor.working.marks import mark_working
from tutor.working.written import same_digits, same_value


def value(key: str, answer: float, unit: str) -> SchemePoint:
    """A value to find: method and accuracy."""
    marks = (SchemeMark(MarkKind.METHOD, key, (key,)), SchemeMark(MarkKind.ACCURACY, key, (key,), (0,)))
    return SchemePoint(key, WaypointKind.VALUE, key, marks, answer, unit, operations=1)


R_MAX, I_Z, P_Z = value("R_MAX", 140.0, "ohm"), value("I_Z", 0.0635, "A"), value("P_Z", 0.578, "W")
BOUND = Scheme("one bound", (R_MAX,))
LAST = Scheme("two values", (I_Z, P_Z))


def line(number: int, text: str, code: Code, key: str, reached: float | None, shown: Shown) -> Finding:
    """A finding by hand, written as `shown` says."""
    return Finding(number, text, code, "", None, (), key, reached, replace(shown, value=reached))


def marks(scheme: Scheme, *lines: Finding, rules: MarkRules | None = None) -> Marks:
    """The marks of some lines."""
    return mark_working(Checked(lines, None), scheme, rules or MarkRules())


def won(given: Marks) -> str:
    """The ledger in short: R_MAX M1 A0, R B0."""
    return ", ".join(f"{item.waypoint} {item.kind.value}{item.got}" for item in given.ledger)


def entry(given: Marks, key: str) -> LedgerEntry:
    """The last mark at a waypoint."""
    return [item for item in given.ledger if item.waypoint == key][-1]


def test_a_unit_left_out_costs_accuracy_once_in_a_problem():
    """[EDX 2.1 to 2.6]: the final mark, and not twice in a question; a lecturer may count each."""
    bare = Shown(operations=2, figures=3, unitless=True)
    first = line(1, "I_Z = 8.9/130 - 5m = 0.0635", Code.HOLDS_HERE, "I_Z", 0.0635, bare)
    second = line(2, "P_Z = 9.1 × 0.0635 = 0.578", Code.HOLDS_HERE, "P_Z", 0.578, bare)
    given = marks(LAST, first, second)
    assert won(given) == "I_Z M1, I_Z A0, P_Z M1, P_Z A1"
    assert entry(given, "I_Z").why == "the number is right and its unit is missing"
    assert entry(given, "P_Z").why == "the right value; its unit is at fault again, which is not counted twice"
    assert won(marks(LAST, first, second, rules=MarkRules(unit_once=False))) == "I_Z M1, I_Z A0, P_Z M1, P_Z A0"


def wrong_unit(number: int, text: str, key: str, digits: float) -> Finding:
    """A line whose result alone has another quantity's unit."""
    shown = Shown(operations=2, figures=3, columns=(9, 15), number=digits)
    return replace(line(number, text, Code.UNITS, key, None, shown), columns=(9, 15), why="the two sides differ")


def test_a_wrong_unit_costs_accuracy_once_and_keeps_method():
    """[EDX 2.1]: 140 A for 140 Ω; the second time its digits must be right to be credited."""
    first, second = wrong_unit(1, "I_Z = … = 63.5 V", "I_Z", 63.5), wrong_unit(2, "P_Z = … = 578 A", "P_Z", 578.0)
    assert won(marks(LAST, first, second)) == "I_Z M1, I_Z A0, P_Z M1, P_Z A1"
    other = wrong_unit(2, "P_Z = … = 612 A", "P_Z", 612.0)
    assert won(marks(LAST, first, other)).endswith("P_Z M1, P_Z A0")


def test_units_that_clash_inside_a_relation_are_a_wrong_relation():
    """A clash elsewhere than in the result says that the relation itself is wrong: V_I − V_Z/I_L."""
    clash = replace(wrong_unit(1, "I_Z = 18 - 9.1/150 = 63.5 mA", "I_Z", 63.5), columns=(7, 15))
    assert won(marks(LAST, clash)).startswith("I_Z M0, I_Z A0")


SAME = [(0.08, 0.0807, True), (0.08, 0.0809, False), (0.08, None, False), (None, 0.08, False), (None, None, False)]


@pytest.mark.parametrize(("one", "other", "same"), SAME)
def test_two_lines_give_the_same_value(one: float | None, other: float | None, same: bool):
    """To 1 % of the larger; a line without a value gives none."""
    lines = [line(1, "I_Z", Code.HOLDS_HERE, "I_Z", value, Shown()) for value in (one, other)]
    assert same_value(*lines) is same


DIGITS = [
    (63.5, 0.0635, True), (0.0635, 63.5, True), (63.5, 63.5e6, True), (64.1, 0.0635, True), (64.2, 0.0635, False),
    (62.9, 0.0635, True), (62.8, 0.0635, False), (635.0, 0.0635, False), (-63.5, 0.0635, False), (-63.5, -0.0635, True),
    (0.0, 0.0635, False), (63.5, 0.0, False), (63.5, None, False),
]  # fmt: skip


@pytest.mark.parametrize(("number", "answer", "same"), DIGITS)
def test_digits_agree_whatever_the_prefix(number: float, answer: float | None, same: bool):
    """63.5 for 63.5 mA, to 1 %; ten times as much is other digits, nought has none, and the sign counts."""
    told = line(1, "I_Z", Code.UNITS, "I_Z", None, Shown(number=number))
    assert same_digits(told, replace(I_Z, answer=answer)) is same
    assert not same_digits(replace(told, shown=None), I_Z)


FIGURES = [(1, 0), (2, 1), (3, 1), (4, 1), (5, 0), (8, 0)]


@pytest.mark.parametrize(("figures", "got"), FIGURES)
def test_significant_figures_are_one_mark_when_asked_for(figures: int, got: int):
    """[CIE] the data's or one more, [AQA 3.8], [EDX 3.1] only where asked and at most once: 2 to 4 are accepted."""
    answer = line(1, "I_Z = 8.9/130 - 5m = 63.5 mA", Code.HOLDS_HERE, "I_Z", 0.0635, Shown(figures=figures))
    other = line(2, "P_Z = 9.1 × 63.5m = 578 mW", Code.HOLDS_HERE, "P_Z", 0.578, Shown(figures=figures))
    plain = marks(LAST, answer, other)
    asked = marks(LAST, answer, other, rules=MarkRules(figures=True))
    assert (plain.got, plain.of) == (4, 4)
    assert (asked.got, asked.of) == (4 + got, 5)
    assert (asked.ledger[-1].waypoint, asked.ledger[-1].kind) == ("figures", MarkKind.INDEPENDENT)


def test_an_exact_answer_needs_no_more_figures_than_it_has():
    """5 Ω is all there is to write when the answer is 5 Ω."""
    exact = Scheme("", (replace(R_MAX, answer=5.0, slips=(), printed_figures=1),))
    answer = line(1, "R_MAX = 1.75/0.35 = 5 Ω", Code.HOLDS_HERE, "R_MAX", 5.0, Shown(figures=1))
    assert marks(exact, answer, rules=MarkRules(figures=True)).got == 3


def test_an_unevaluated_answer_loses_accuracy():
    """[AQA]: a number with its unit is wanted; one given on another line will do."""
    open_end = line(1, "R_MAX = 4.9/35m", Code.HOLDS_HERE, "R_MAX", 140.0, Shown(evaluated=False))
    given = marks(BOUND, open_end)
    assert won(given) == "R_MAX M1, R_MAX A0"
    assert entry(given, "R_MAX").why == "left unevaluated: give one number with its unit"
    closed = line(2, "= 140 Ω", Code.HOLDS_HERE, "R_MAX", 140.0, Shown(worked=False, figures=3))
    assert won(marks(BOUND, open_end, closed)) == "R_MAX M1, R_MAX A1"
