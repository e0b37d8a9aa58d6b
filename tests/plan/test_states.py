"""Roots sorted by signs, inequalities and usual values, and put in the order a circuit declares."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.generate.problems_folder import ProblemsFolder
from tutor.plan.states import State, alike, below_zero, in_order, told_apart, turned, unusual

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
FOLLOWER, SOURCE = FOLDER.circuit("follower"), FOLDER.circuit("source")
Values = dict[str, float]


def order(circuit, *values: Values) -> list[Values]:
    return [
        dict(state.values) for state in in_order(circuit, [State((place,), one) for place, one in enumerate(values)])
    ]


def test_a_supply_is_worked_at_the_greater_voltage():
    """The circuit's own preference: V_I, greatest."""
    low, high = {"V_I": 2.0, "I_I": 4.0}, {"V_I": 8.0, "I_I": 1.0}
    assert order(SOURCE, low, high) == [high, low]
    assert told_apart(SOURCE, [State((0,), high), State((1,), low)])
    assert not told_apart(SOURCE, [State((0,), high)])  # one alone is told from nothing


def test_a_usual_standing_value_comes_before_any_preference():
    """The follower takes the smaller P_I, but not with 4 V from base to emitter."""
    odd, usual = {"P_I": 1.0, "V_BE": 4.0}, {"P_I": 2.0, "V_BE": 0.72}
    assert order(FOLLOWER, odd, usual) == [usual, odd]
    assert not told_apart(FOLLOWER, [State((0,), usual), State((1,), odd)])


def test_where_the_preference_does_not_tell_the_typical_values_do():
    """P_I given is the same in both: R nearer its typical 390 Ω is taken, whichever was found first."""
    near, far = {"P_I": 2.0, "R": 400.0}, {"P_I": 2.0 * (1 + 1e-9), "R": 4.0}
    assert order(FOLLOWER, far, near) == order(FOLLOWER, near, far) == [near, far]
    assert not told_apart(FOLLOWER, [State((0,), near), State((1,), far)])


def test_roots_that_meet_are_one_state():
    """A double root comes out of a quadratic twice, a little apart."""
    assert len(order(SOURCE, {"V_I": 5.0, "I_I": 2.5}, {"V_I": 5.0 * (1 + 1e-8), "I_I": 2.5})) == 1


ALIKE = [
    ({"V_I": 5.0}, {"V_I": 5.0 * (1 + 5e-7)}, True),
    ({"V_I": 5.0}, {"V_I": 5.0 * (1 + 5e-6)}, False),
    ({"V_I": 5.0, "R": 1.0}, {"V_I": 5.0, "R_L": 9.0}, True),  # compared where both speak
    ({"I_Z": 0.0}, {"I_Z": 1e-19}, True),
]


@pytest.mark.parametrize(("one", "other", "same"), ALIKE)
def test_alike_is_to_a_part_in_a_million(one: Values, other: Values, same: bool):
    """Of what both sets hold."""
    assert alike(one, other) is alike(other, one) is same


REFUSED = [
    (turned, {"I_L": -0.002, "I_R": 0.03}, "I_L would be −2 mA, below zero"),
    (turned, {"I_L": -1e-12, "I_R": 0.03}, None),  # what is left of a difference
    (turned, {"S_V": -0.1}, None),  # may have either sign
]


@pytest.mark.parametrize(("test", "values", "why"), REFUSED)
def test_what_runs_backwards_is_refused(test, values: Values, why: str | None):
    """But for rounding, measured by the largest of its unit."""
    found = test(values)
    assert (found and found.why) == why


def test_part_values_below_zero_are_refused_first():
    """Parts and the load; a current is tested with the others."""
    found = below_zero(FOLLOWER, {"R_L": -32.5, "I_L": -0.1})
    assert found is not None and found.why == "R_L would be −32.5 Ω, below zero"
    assert below_zero(FOLLOWER, {"I_L": -0.1}) is None


def test_a_preference_is_measured_by_what_it_is_about():
    """9 V and 10 V differ, and 10 V is taken; 9 A and 10 A, which nobody prefers, do not matter."""
    low, high = {"V_I": 9.0, "I_I": 10.0}, {"V_I": 10.0, "I_I": 9.0}
    assert order(SOURCE, low, high) == order(SOURCE, high, low) == [high, low]
    assert told_apart(SOURCE, [State((0,), high), State((1,), low)])


UNUSUAL = [(0.7, False), (0.55, False), (0.9, False), (0.4, True), (1.2, True), (-0.7, True)]


@pytest.mark.parametrize(("value", "odd"), UNUSUAL)
def test_a_junction_has_about_its_standing_voltage(value: float, odd: bool):
    """0.7 V, up to half as much again either way."""
    sentence = unusual(FOLLOWER, {"V_BE": value})
    assert (sentence is not None) is odd
    assert sentence is None or "far from its usual 0.7 V" in sentence
