"""Reasons for a failed chain: the slips of the problem, the ordinary ones, and plain words where none is known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.solution.at_hand import LEVELS, batch, ground, sheet
from tests.working.trees import chain
from tutor.quantities.quantity import write
from tutor.solution.sheet import SheetSlip
from tutor.working.chain import TriedChain
from tutor.working.check import check_working
from tutor.working.finding import Code
from tutor.working.ground import Around, Ground
from tutor.working.reasons import Reason, reason_for
from tutor.working.sayings import plain
from tutor.working.symbolise import Past

STATE, DESIGN = "zener-state:2:1", "zener-resistor:2:1"


def reason(text: str, name: str = STATE, past: Past | None = None) -> Reason:
    members, relations = chain(text, name)
    told = sheet(name)
    others = tuple((item, Ground(Around(told, item.recipe), {})) for item in told.conventions)
    return reason_for(TriedChain(members, relations), ground(name), past or Past(), others)


def marked(text: str, found: Reason) -> str:
    assert found.columns is not None
    return text[found.columns[0] - 1 : found.columns[1] - 1]


# The line, the slip, a part of the sentence, what is marked.
REASONS = [
    ("I_Z = 62.2 mA", "sum-at-node", "", "62.2 mA"),
    ("I_R = 15/82 = 183 mA", "whole-input-current", "", "183 mA"),
    ("V_TH = 15 × 82/902 = 1.364 V", "divider-upside-down", "", "1.364 V"),
    ("I_R = (15 - 11)/82 = 0.0588", "arithmetic", "the left comes to 0.04878", "0.0588"),
    ("I_R = (15 - 11)/82 = 4.88 mA", "power-of-ten", "the power of ten is not", "4.88 mA"),
    ("I_R = (11 - 15)/82 = 48.8 mA", "sign", "the sign is lost", "48.8 mA"),
    ("I_R = -48.8 mA", "sign", "the sign is not", "-48.8 mA"),
    ("I_R = 48.8 A", "power-of-ten", "look at the prefixes of I_R", "48.8 A"),
    ("V_O = 22 V", "factor-two", "factor of two", "22 V"),
    ("I_R = (V_I + V_O)/R", "sign", "the sign of V_O is turned", "V_O"),
    ("I_R = R/(V_I - V_O)", "inverted", "upside down", "R/(V_I - V_O)"),
    ("I_R = (V_I - V_O) R", "inverted", "R divides here", "R"),
    ("I_Z = I_R", "left-out", "I_L is left out", "I_R"),
    ("P_Z = V_Z I_R", "symbol", "I_Z belongs here, not I_R", "I_R"),
    ("P_R = V_R/R", "square", "V_R is to be squared", "V_R"),
    ("I_R = (16 - 11)/82 = 61 mA", "copied", "V_I is 15 V: copied wrongly here", "16"),
    ("V_I = 16 V", "copied", "the statement gives V_I = 15 V", "16 V"),
    ("I_R = (V_I + V_O)/R = 317 mA", "sign", "the sign of V_O is turned", "V_O"),
    ("V_O = V_I", "symbol", "V_Z belongs here, not V_I", "V_I"),
    ("V_O = 15.56 V", "rms-crest", "√2: r.m.s. and crest", "15.56 V"), ("V_O = 7.78 V", "rms-crest", "√2", "7.78 V"),
    ("I_R = 15/82 = 0.5", "whole-input-current", "", "15/82"),
    ("I_Z ≈ 61 mA", "sum-at-node", "", "61 mA"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "slip", "words", "where"), REASONS)
def test_a_reason_names_the_slip_says_it_and_marks_it(text: str, slip: str, words: str, where: str):
    """Known slips of the problem first, then arithmetic, powers and signs, then the one edit that heals the line."""
    found = reason(text)
    assert slip in found.slip, found
    assert words in found.why, found
    assert marked(text, found) == where


@pytest.mark.parametrize(
    ("text", "words"),
    [("V_O = 13.13 V", "V_O comes out too large"), ("V_O = 7.17 V", "V_O comes out too small"),
     ("V_I V_Z = P_Z R_L + P_R R", "not true of the circuit"), ("5 + 5 = 13", "the left comes to 10")],
)  # fmt: skip
def test_where_no_reason_is_known_that_is_not_made_up(text: str, words: str):
    """What is true of the line is said, and no slip is named."""
    found = reason(text)
    assert words in found.why, found
    assert found.slip in ((), ("arithmetic",))


POWERS = ["488 mA", "4.88 mA", "4.88 A", "0.488 mA", "48.8 A", "48.8 µA", "48.8 kA", "48.8 nA", "48.8 MA", "48.8 pA"]


@pytest.mark.parametrize("value", [*POWERS, "48.8 GA", "0.0488 pA"])
def test_a_power_of_ten_is_told_whichever_prefix_was_taken(value: str):
    """48.8 mA with one or two places, or any prefix from pico to giga, taken wrongly."""
    assert reason(f"I_R = {value}").slip == ("power-of-ten",)


def test_a_right_value_of_a_wrong_relation_is_not_said_to_be_wrong():
    """V_O is 11 V, though not by V_I - 2 I_L R; and of three sides the last is marked where none is a number."""
    text = "V_O = V_I - 2 I_L R = 11 V"
    found = reason(text)
    assert (found.why, marked(text, found)) == ("this relation is not true of the circuit", "V_I - 2 I_L R")
    for beside in ("I_Z = 61 mA", "V_O = V_I - 2 I_L R = 11.2 V", "I_R = V_I/R_L = 49.3 mA"):  # 1 % off
        assert reason(beside).why == f"{beside[:3]} comes out too large"
    text = "V_I V_Z = V_O V_Z + P_Z R_L = P_Z R_L + P_R R"
    assert marked(text, reason(text)) == "P_Z R_L + P_R R"


def test_a_wrong_comparison_of_numbers_is_no_slip_of_arithmetic():
    """What is compared does not come to one another."""
    assert reason("13.6 V < 11 V").why == "the two sides are not equal"


def test_a_wrong_corner_is_told_with_the_corner():
    """45.9 mA is the current of R at the lowest line, and not the greatest."""
    found = reason("I_R_MAX = 45.9 mA", DESIGN)
    assert found.slip == ("corner",), found
    assert "I_R at another corner: the lowest line" in found.why


def test_no_corner_is_made_up():
    """(21.5 V - 9.373 V)/270 Ω = 44.9 mA: a zener of 3 % more is none of this circuit's corners."""
    assert reason("I_R_MAX = 44.91 mA", DESIGN).why == "I_R_MAX comes out too small"


def test_an_exact_value_of_another_corner_is_no_power_of_ten():
    """99.4 mW is P_Z at low line and full load, to the figure; that 1 W/10 lies near it is chance."""
    assert "corner" in reason("P_Z_MAX = 99.4 mW", DESIGN).slip


def test_slips_that_meet_are_one_of():
    """Two slips with one value: both ids, both names, joined by `one of`."""
    told = sheet(STATE)
    first = told.slips[0]
    twin = SheetSlip("twin", first.key, first.value * 1.001, "a twin of $V_I$", "", "")
    both = replace(told, slips=(first, twin))
    checked = check_working(f"{first.key} = {write(first.value, 'V', figures=4)}".replace("\u00a0", " "), both)
    line = checked.findings[0]
    assert line.code is Code.FAILS and set(line.slip) == {first.id, "twin"}
    assert line.why.startswith("one of: ") and "a twin of V_I" in line.why


def test_right_by_another_convention_is_told_so():
    """REG_LOAD over the no-load voltage: right by that convention, which the problem does not use."""
    name = "supply-source-model:2:1"
    (other,) = [item for item in sheet(name).conventions if item.value == "no-load"]
    found = reason("REG_LOAD = (V_OC - V_I)/V_OC", name)
    assert found.slip == ("load-regulation=no-load",)
    assert "right by another convention" in found.why and other.title.replace("$", "") in found.why


def test_prose_loses_its_marks():
    """Formulas in a sentence are read as they stand."""
    assert plain("the whole $V_I$ across $R$") == "the whole V_I across R"


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_slip_is_named_by_its_value_alone(family: str, level: int):
    """The number with nothing before it: the slip's name and why stand in the sentence, without marks."""
    for _, told in batch(family, level, 2):
        choices = {item.key for item in told.choices}
        for slip in told.slips:
            if slip.key in choices:
                continue
            shown = write(slip.value, told.symbols[slip.key], figures=4).replace("\u00a0", " ")
            line = check_working(f"{slip.key} = {shown}", told).findings[0]
            assert slip.id in line.slip, (told.problem, slip.id, line.why)
            assert "$" not in line.why and plain(slip.name) in line.why
