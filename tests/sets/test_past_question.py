"""A lecturer's own past question: solved, tabled, marked like ours, and refused with its place where it cannot be."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tutor.errors import Contradiction, SteadyrailError, Unreachable
from tutor.sets.paper import Asked, ClassSet, Learner, Look, PastQuestion, Question, Rules
from tutor.sets.papers import papers
from tutor.working.check import check_working
from tutor.working.finding import Code
from tutor.working.marks import mark_working

SHUNT = PastQuestion(
    "zener-shunt", {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "I_L": "10 mA"}, ("I_Z", "P_Z"), "$V_O$ feeds a lamp."
)
# By hand: I_R = (15 V − 9.1 V)/220 Ω, I_Z = I_R − 10 mA, P_Z = 9.1 V × I_Z.
I_R = (15 - 9.1) / 220
I_Z = I_R - 0.010
P_Z = 9.1 * I_Z

USUAL, PLAIN = Rules(), Look()


def asked(asks: PastQuestion, marks: int | None = None, rules: Rules = USUAL, look: Look = PLAIN) -> Asked:
    of = ClassSet("T", 1, (Question(asks, marks, 12),), (Learner("1"),), rules, look, file=Path("set.toml"))
    return next(papers(of)).asked[0]


@pytest.fixture(scope="module")
def shunt() -> Asked:
    return asked(SHUNT)


def test_it_is_a_problem_like_ours(shunt: Asked) -> None:
    problem = shunt.problem
    assert (shunt.name, shunt.named, problem.name, problem.circuit) == ("own:1", None, "own:1", "zener-shunt")
    assert problem.statement == "$V_O$ feeds a lamp." and problem.ask == "Find $I_Z$ and $P_Z$."
    assert [(row.symbol, row.value) for row in problem.table] == [
        ("V_I", "15 V"), ("R", "220 Ω"), ("V_Z", "9.1 V"), ("I_L", "10 mA"),
    ]  # fmt: skip
    for point, value in zip(problem.waypoints, (I_Z, P_Z), strict=True):
        assert point.answer is not None and point.answer.value == pytest.approx(value, rel=1e-12)
        assert (point.low, point.high) == (pytest.approx(0.99 * value), pytest.approx(1.01 * value))
    assert problem.cautions and shunt.solution.cautions == problem.cautions
    assert {step.waypoint for step in shunt.solution.steps} >= {"I_Z", "P_Z"}


def test_a_working_on_it_is_checked_and_marked(shunt: Asked) -> None:
    """A right working wins all its marks; one that forgets the load loses the value and names the line."""
    assert shunt.sheet is not None and shunt.sheet.problem == "own:1" and shunt.marks == shunt.scheme.total == 4
    right = "I_R = (V_I - V_Z)/R = (15 - 9.1)/220 = 26.8 mA\nI_Z = I_R - I_L = 16.8 mA\nP_Z = V_Z I_Z = 153 mW"
    checked = check_working(right, shunt.sheet)
    assert {item.code for item in checked.findings} <= {Code.HOLDS, Code.HOLDS_HERE}
    assert mark_working(checked, shunt.scheme).got == shunt.scheme.total
    wrong = check_working("I_Z = (V_I - V_Z)/R = 26.8 mA", shunt.sheet)
    assert wrong.first_wrong == 1 and mark_working(wrong, shunt.scheme).got < shunt.scheme.total


ASKED = [
    ("zener-shunt", {"V_I": "15", "R": "220", "V_Z0": "9", "r_z": "8", "R_L": "560", "DV_I": "1"}, ("DV_O", "V_O")),
    ("zener-shunt", {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "R_L": "560"}, ("P_R", "I_R", "V_TH")),
    ("source", {"V_I_1": "15 V", "I_I_1": "10 mA", "V_I_2": "14 V", "I_I_2": "0.1 A"}, ("R_S", "V_OC")),
]


@pytest.mark.parametrize(("circuit", "given", "ask"), ASKED)
def test_bare_right_answers_win_everything_whatever_is_asked(
    circuit: str, given: dict[str, str], ask: tuple[str, ...]
) -> None:
    """Changes and readings, too: what is asked is known to the marks as an answer (the method is then implied)."""
    item = asked(PastQuestion(circuit, given, ask, "x"))
    assert item.sheet is not None
    working = "\n".join(f"{key} = {item.problem.answers[key].text}" for key in ask)
    assert mark_working(check_working(working, item.sheet), item.scheme).got == item.scheme.total
    spoilt = "\n".join(f"{key} = {1.2 * item.problem.answers[key].value:.4g}" for key in ask)
    assert mark_working(check_working(spoilt, item.sheet), item.scheme).got == 0


def test_it_is_the_same_for_everyone_and_takes_the_marks_given() -> None:
    of = ClassSet("T", 1, (Question(SHUNT, 9),), tuple(Learner(str(place)) for place in range(3)))
    made = [paper.asked[0] for paper in papers(of)]
    assert made[0] == made[1] == made[2] and made[0].marks == 9 and made[0].scheme.total == 4


def test_rules_and_decimal_comma_reach_it() -> None:
    """The drop that the set assumes is given in the table; without it the circuit's own stands there as assumed."""
    boosted = PastQuestion("boosted-shunt", {"V_I": "15 V", "V_Z": "8,2 V", "R": "150"}, ("V_O",), "x")
    comma = Look(decimal_comma=True)
    plain, ruled = asked(boosted, look=comma), asked(boosted, rules=Rules(assume={"V_BE": "0,6V"}), look=comma)
    assert plain.problem.answers["V_O"].value == pytest.approx(8.9)
    assert ruled.problem.answers["V_O"].value == pytest.approx(8.8)
    assert [row.value for row in ruled.problem.table if row.symbol == "V_BE"] == ["0.6 V"]
    assert next(row.label for row in plain.problem.table if row.symbol == "V_BE").endswith("(assumed)")
    assert plain.sheet is not None and plain.sheet.decimal_comma


@pytest.mark.parametrize(
    ("given", "ask", "error", "words"),
    [
        ({"V_I": "15 V", "V_Z": "9.1 V"}, ("I_Z",), Unreachable, "I_Z"),
        ({**SHUNT.given, "I_R": "10 mA"}, ("I_Z",), Contradiction, ""),
    ],
)
def test_what_cannot_be_solved_is_told_with_its_line(
    given: dict[str, str], ask: tuple[str, ...], error: type[SteadyrailError], words: str
) -> None:
    with pytest.raises(error) as caught:
        asked(replace(SHUNT, given=given, ask=ask))
    assert caught.value.sentence.startswith("set.toml, line 12, question 1: ") and words in caught.value.sentence
