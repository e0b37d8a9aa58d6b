"""How a line is written, as marks need it: read, not judged, so that each field has one clear case."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.solution.at_hand import ground, sheet
from tutor.working.chain import TriedChain, head_of
from tutor.working.finding import Code, Finding, Shown
from tutor.working.ground import Around, Ground
from tutor.working.judge import JudgedChain
from tutor.working.read import read_line
from tutor.working.shown import answers_in, shown_in, told_of
from tutor.working.vocabulary import Vocabulary

SYMBOLS = Vocabulary(frozenset({"V_I", "V_Z", "I_L", "I_Z", "I_R", "I_ZK", "R", "R_MAX", "P_Z", "h_FE", "V_TH"}))


def shown(text: str, unit: str = "A") -> Shown:
    """How a line is written, its value taken from its last side as it stands."""
    line = read_line(text, SYMBOLS)
    assert line.misread is None, line.misread
    return shown_in(JudgedChain(Code.HOLDS_HERE, "", None, (), line.members, line.relations), unit)


WORKED = [
    ("I_Z = 18 mA", False, 0),
    ("I_Z = 27 mA - 9 mA = 18 mA", True, 1),
    ("I_Z = I_R - I_L", True, 1),
    ("I_Z = I_R = 18 mA", True, 0),
    ("I_Z = I_Z", False, 0),
    ("I_Z = I_Z × 1", False, 1),
    ("I_Z ≥ I_ZK", False, 0),
    ("5 mA ≤ I_Z ≤ 50 mA", False, 0),
    ("R_MAX = (V_I - V_Z)/(I_L + I_Z) = 140 Ω", True, 3),
    ("I_Z = -I_L", True, 0),
    ("P_Z = V_Z I_Z = 9.1 V × 54 mA × 1", True, 2),
    ("R = (R ∥ V_I)^2/sqrt(V_Z)", True, 4),
]


@pytest.mark.parametrize(("text", "worked", "operations"), WORKED)
def test_a_relation_is_told_from_a_result(text: str, worked: bool, operations: int):
    """A relation says how; a result, the symbol over again and an inequality do not."""
    assert (shown(text).worked, shown(text).operations) == (worked, operations)


VALUES = [
    ("I_Z = 27 mA - 9 mA = 18 mA", 0.018, True, 18.0, 2),
    ("I_Z = 27 mA - 9 mA", 0.018, False, 0.0, 0),
    ("V_TH = 20 V × 0.5 = 10.0 V > V_Z = 9.1 V", 10.0, True, 10.0, 3),
    ("V_TH = 10 V > V_Z", 10.0, True, 10.0, 2),
    ("140 Ω = R_MAX", 140.0, True, 140.0, 3),
    ("140 Ω = R_MAX < 150 Ω", 140.0, True, 140.0, 3),
    ("5 mA ≤ I_Z ≤ 50 mA", None, False, 0.0, 0),
    ("I_Z ≥ I_ZK = 5 mA", None, False, 0.0, 0),
    ("I_Z = I_R - I_L", None, False, 0.0, 0),
    ("I_Z = -0.27 A", -0.27, True, -0.27, 2),
]


@pytest.mark.parametrize(("text", "value", "evaluated", "number", "figures"), VALUES)
def test_the_value_is_what_the_head_equals(
    text: str, value: float | None, evaluated: bool, number: float, figures: int
):
    """Through = and ≈ alone: what it is compared with is not its value; the number is as typed, prefix apart."""
    found = shown(text)
    assert found.value == (None if value is None else pytest.approx(value))
    assert (found.evaluated, found.figures) == (evaluated, figures)
    assert found.number == pytest.approx(number)


UNITS = [("I_Z = 18 mA", "A", False), ("I_Z = 18m", "A", False), ("I_Z = 0.018", "A", True), ("I_Z = 0", "A", False),
         ("h_FE = 60", "", False), ("R = 4.9/0.035 = 140", "ohm", True), ("R = 4.9/0.035", "ohm", False)]  # fmt: skip


@pytest.mark.parametrize(("text", "unit", "unitless"), UNITS)
def test_a_unit_left_out_is_seen_in_the_result_alone(text: str, unit: str, unitless: bool):
    """A bare prefix stands for the unit, as on a drawing; nought and pure numbers need none."""
    assert shown(text, unit).unitless is unitless


def test_the_columns_are_those_of_the_result():
    """By them a wrong unit of the result is told from units that clash inside the relation."""
    assert shown("R = 4.9 V/35 mA = 140 mA").columns == (19, 25)
    assert shown("R = 4.9 V/35 mA = 140 mA").names == ("R",)


def test_a_line_reaches_what_its_head_equals():
    """Of V_TH = 10 V > V_Z = 9.1 V that is 10 V; where nothing is known of how it is written, what it comes to."""
    line = Finding(1, "V_TH = 10 V > V_Z = 9.1 V", Code.HOLDS_HERE, "", value=9.1, shown=Shown(value=10.0))
    assert (line.reached, replace(line, shown=None).reached) == (10.0, 9.1)


REACHED = [
    ("R_MAX", 288.0, ("R_MAX",)),  # it is 288.4 Ω
    ("R_MAX", 301.0, ("R_MAX",)),  # 4.4 % off
    ("R_MAX", 303.5, ()),  # 5.2 % off
    ("R", 280.0, ("R_MAX", "R")),  # 2.9 % below the bound, 3.7 % above the part
    ("R", 272.0, ("R",)),  # R_MAX is 5.7 % off
    ("R", None, ()),
    ("V_Z", 288.0, ()),  # not asked for
]


@pytest.mark.parametrize(("head", "value", "keys"), REACHED)
def test_a_value_reaches_what_is_asked_within_a_twentieth(head: str, value: float | None, keys: tuple[str, ...]):
    """R_MAX is (21.5 V - 9.1 V)/(35 mA + 8 mA) = 288.4 Ω, the model's R 270 Ω; the nearest is told first."""
    assert answers_in(head, value, ground("zener-resistor:2:1")) == keys


def test_a_bare_result_has_the_value_it_was_judged_by():
    """18 for 18 mA: the chain's own value, not the number as it stands; in the middle of a chain a side is itself."""
    line = read_line("I_Z = 27 - 9 = 18", SYMBOLS)
    judged = JudgedChain(Code.HOLDS_HERE, "", None, (), line.members, line.relations)
    assert shown_in(replace(judged, value=0.018), "A").value == 0.018
    assert shown_in(judged, "A").value == 18.0
    middle = read_line("I_Z = 18 mA ≤ 50 mA", SYMBOLS)
    told = JudgedChain(Code.HOLDS_HERE, "", None, (), middle.members, middle.relations)
    assert shown_in(replace(told, value=0.05), "A").value == 0.018


def test_a_rounded_value_reaches_what_is_asked_when_no_slip_is_nearer():
    """Of currents below a milliampere too: what lies between is a difference, whatever the size."""
    told = sheet("follower-state:2:1")
    true = ground("follower-state:2:1").cases[0].world.views[0]["I_B"]
    slip = replace(told.slips[0], key="I_B", value=1.1 * true)
    here = Ground(Around(replace(told, slips=(slip,)), told.recipe), {})
    assert true < 1e-3 and answers_in("I_B", 0.997 * true, here) == ("I_B",)
    assert answers_in("I_B", slip.value, here) == ()


ABOUT = [
    ("V_Z = 11 V < V_TH = 13.64 V", ("V_TH",), ("V_TH", 13.64)),
    ("V_Z = 11 V < V_TH = 13.64 V", ("V_Z",), ("V_Z", None)),
    ("V_Z = 11 V < V_TH = 13.64 V", ("V_Z", "V_TH"), ("V_Z", None)),
    ("V_Z = 11 V < V_TH = 13.64", ("V_TH",), ("V_Z", None)),
    ("V_Z = 11 < V_TH = 13.64 V", ("V_Z", "V_TH"), ("V_Z", None)),
    ("I_Z > 5 mA", ("I_ZK",), ("I_Z", None)),
    ("I_Z > I_ZK = 5 mA", ("I_ZK",), ("I_ZK", 0.005)),
    ("I_L = 9 mA > I_Z > I_ZK = 5 mA", ("I_ZK",), ("I_ZK", 0.005)),
]


@pytest.mark.parametrize(("text", "asked", "told"), ABOUT)
def test_a_finding_is_about_the_statement_that_gives_what_is_asked(
    text: str, asked: tuple[str, ...], told: tuple[str, float | None]
):
    """The first that does; the whole chain where its first statement gives it, and where only bare numbers would.

    The value of the whole is the judge's own affair: here it has none.
    """
    line = read_line(text, SYMBOLS)
    judged = JudgedChain(Code.HOLDS_HERE, "", None, (), line.members, line.relations)
    about = told_of(judged, asked)
    head = head_of(about.members)
    assert head is not None and (head.name, about.value) == told
    assert (about == judged) == (told[1] is None)


STATEMENTS = [
    ("V_Z = 11 V < V_TH = 13.64 V", [2, 2]),
    ("V_TH > V_Z = 11 V", [1, 2]),
    ("R ≤ 15.8/0.102 = 155 Ω", [3]),
    ("5 mA < I_Z = 9 mA", [3]),
    ("5 mA < I_Z < 9 mA", [3]),
    ("5 mA < I_Z = 9 mA < I_L", [3, 1]),
    ("I_ZK < I_Z < I_L", [1, 1, 1]),
    ("I_Z = I_R - I_L = 9 mA", [3]),
    ("I_Z > 2 I_L", [2]),
]


@pytest.mark.parametrize(("text", "members"), STATEMENTS)
def test_what_a_sign_of_order_keeps_apart(text: str, members: list[int]):
    """Two statements where each has a symbol at its head; each is one by itself, and together they are the chain."""
    line = read_line(text, SYMBOLS)
    chain = TriedChain(line.members, line.relations)
    found = chain.statements
    assert [len(item.members) for item in found] == members
    assert tuple(member for item in found for member in item.members) == chain.members
    assert all(item.statements == (item,) and len(item.relations) == len(item.members) - 1 for item in found)
