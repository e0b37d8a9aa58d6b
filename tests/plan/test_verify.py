"""Inequalities and laws held against values: rounding is forgiven, a real breach is named."""

from __future__ import annotations

import pytest

from tutor.laws.law import Bound, Law, LawSet
from tutor.plan.verify import broken_law, holds, names_of, value_text
from tutor.quantities.formula import read_equation

Values = dict[str, float]


BOUNDS = [
    ("I_Z >= 0", {"I_Z": 1e-6}, True),
    ("I_Z >= 0", {"I_Z": -1e-6}, False),
    ("I_Z >= 0", {"I_Z": -1.4e-17, "I_R": 0.12}, True),  # what is left of 0.12 A − 0.12 A
    ("I_Z >= 0", {"I_Z": -1.4e-6, "I_R": 0.12}, False),
    ("V_O <= V_Z", {"V_O": 9.1 + 1e-12, "V_Z": 9.1}, True),
    ("V_O <= V_Z", {"V_O": 9.11, "V_Z": 9.1}, False),
    ("V_B - V_O <= V_BE", {"V_B": 0.5, "V_O": 0.0, "V_BE": 0.7}, True),
]


@pytest.mark.parametrize(("text", "values", "held"), BOUNDS)
def test_an_inequality_forgives_rounding_and_nothing_else(text: str, values: Values, held: bool):
    """To a part in a thousand million of the largest value of its kind."""
    assert holds(Bound("Z", read_equation(text)), values) is held


def laws(*texts: str) -> LawSet:
    """A law set of these relations, each titled by its own text."""
    return LawSet(tuple(Law(text, f"${text}$", read_equation(text), "", "", 1.0) for text in texts), ())


KIRCHHOFF = laws("I_R = I_Z + I_L", "I_R = (V_I - V_O)/R", "R_L = V_O/I_L")
TRUE = {"I_R": 0.03, "I_Z": 0.02, "I_L": 0.01, "V_I": 15.0, "V_O": 9.0, "R": 200.0, "R_L": 900.0}


def test_true_values_break_nothing():
    """Within a part in a million of the largest term, cancelling terms included."""
    assert broken_law(KIRCHHOFF, TRUE) is None
    assert broken_law(KIRCHHOFF, {**TRUE, "I_Z": 0.02 * (1 + 1e-7)}) is None
    assert broken_law(laws("V_R = V_I - V_O"), {"V_R": 1e-7, "V_I": 15.0, "V_O": 15.0}) is None


def test_a_broken_law_is_told_with_its_values():
    """Title, relation and every value in it; the dollars of prose are left out."""
    assert broken_law(KIRCHHOFF, {**TRUE, "I_Z": 0.021}) == (
        "the givens contradict each other: I_R = I_Z + I_L, I_R = I_Z + I_L, is broken by I_R = 30 mA, I_Z = 21 mA, "
        "I_L = 10 mA"
    )


def test_small_values_are_held_to_their_own_size():
    """A tenth of a microampere is half of two tenths."""
    assert broken_law(laws("I_Z = I_L"), {"I_Z": 2e-7, "I_L": 1e-7}) is not None


def test_of_several_broken_laws_the_one_among_the_givens_is_told():
    """A person can mend what he typed: the law that binds most of the givens comes first."""
    wrong = {**TRUE, "I_R": 0.05}
    told = broken_law(KIRCHHOFF, wrong, ("I_R", "V_I", "V_O", "R"))
    assert told is not None and "I_R = (V_I − V_O)/R, is broken by" in told


def test_what_is_not_known_or_not_finite_proves_nothing():
    """A law over a missing symbol, and a division by nothing (an open output), break nothing."""
    assert broken_law(KIRCHHOFF, {"I_R": 1.0}) is None
    assert broken_law(laws("R_L = V_O/I_L"), {"R_L": 1e9, "V_O": 9.0, "I_L": 0.0}) is None


def test_names_and_values_for_sentences():
    """Every symbol of both sides; a value with its unit, or that it is no number."""
    assert names_of(read_equation("V_B - V_O <= V_BE")) == {"V_B", "V_O", "V_BE"}
    assert value_text("I_Z", -0.0532) == "−53.2 mA"
    assert value_text("R", float("inf")) == "no finite number"


def test_a_product_with_nothing_needs_no_other_factor():
    """V_Z = V_Z0 + r_z I_Z without current is V_Z = V_Z0; with a current it waits for r_z."""
    line = laws("V_Z = V_Z0 + r_z*I_Z")
    assert broken_law(line, {"V_Z": 9.0, "V_Z0": 9.0, "I_Z": 0.0}) is None
    told = broken_law(line, {"V_Z": 9.0, "V_Z0": 8.9, "I_Z": 0.0})
    assert told is not None and told.endswith("is broken by V_Z = 9 V, V_Z0 = 8.9 V, I_Z = 0 A")
    assert broken_law(line, {"V_Z": 9.0, "V_Z0": 8.9, "I_Z": 0.02}) is None
