"""Laws that share an unknown, put into one equation: of first degree with a closed form, of second with two roots."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.laws.law import Law
from tutor.plan.coupled import close, reach
from tutor.plan.plan import Step
from tutor.plan.search import search
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain, plain_equation

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def law(text: str) -> Law:
    return Law("closing", "Closing law", read_equation(text), "", "a source", 1.0, "a reason")


def ring(closing: str, unknown: str, *chain: str) -> Step | None:
    """The step that closes a ring: `chain` gives the other unknowns, each as `target = expression`."""
    links = []
    for item in chain:
        target, expression = item.split(" = ")
        links.append((target, read_expression(expression), law(item)))
    return close(law(closing), links, unknown, {})


def test_a_ring_of_first_degree_has_a_closed_form():
    """I_Z = (V_I − V_Z)/R − I_L with V_Z = V_Z0 + r_z I_Z: collected by hand, I_Z = (V_I − V_Z0 − R I_L)/(R + r_z)."""
    step = ring("I_Z = (V_I - V_Z)/R - I_L", "I_Z", "V_Z = V_Z0 + r_z*I_Z")
    assert step is not None and step.degree == 1 and step.expr is not None
    assert step.coupled is not None
    assert plain_equation(step.coupled) == "I_Z = (V_I − (V_Z0 + r_z I_Z))/R − I_L"
    values = {"V_I": 15.0, "V_Z0": 8.96, "r_z": 5.0, "R": 220.0, "I_L": 0.01}
    assert evaluate(step.expr, values) == pytest.approx((15 - 8.96 - 2.2) / 225, rel=1e-12)
    assert [(item.symbol, plain(item.expr)) for item in step.substitutions] == [("V_Z", "V_Z0 + r_z I_Z")]
    assert (step.law, step.source, step.why) == ("closing", "a source", "a reason")


def test_a_ring_that_the_unknown_is_not_in_closes_nothing():
    """V_O = V_Z with V_Z = V_Z0 speaks of no current, whatever else it says."""
    assert ring("V_O = V_Z", "I_Z", "V_Z = V_Z0") is None


def test_substitutions_go_through_one_another():
    """I_L through V_O through V_Z: each stands as last written, the one equation holds the unknown alone."""
    step = ring("I_Z = (V_I - V_Z)/R - I_L", "I_Z", "V_Z = V_Z0 + r_z*I_Z", "V_O = V_Z", "I_L = V_O/R_L")
    assert step is not None and step.coupled is not None
    assert plain_equation(step.coupled) == "I_Z = (V_I − (V_Z0 + r_z I_Z))/R − (V_Z0 + r_z I_Z)/R_L"


def test_a_ring_of_second_degree_keeps_its_coefficients():
    """Power from a source: R_S I² − V_OC I + P_O = 0, no closed form, both roots left to choose from."""
    step = ring("P_O = V_I*I_I", "I_I", "V_I = V_OC - I_I*R_S")
    assert step is not None and step.degree == 2 and step.expr is None
    values = {"P_O": 8.0, "V_OC": 10.0, "R_S": 2.0}
    low, middle, high = (evaluate(item, values) for item in step.coefficients)
    for root in (1.0, 4.0):
        assert high * root * root + middle * root + low == pytest.approx(0, abs=1e-12)


def test_a_ring_that_says_nothing_is_none():
    """I_R = I_Z + I_L closed by itself is 0 = 0."""
    assert ring("I_Z = I_R - I_L", "I_Z", "I_L = I_R - I_Z") is None


def test_a_root_at_nothing_that_came_in_by_multiplying_is_left_out():
    """R I² = V_Z I is solved by no current too, which the circuit is not: what is left is I = V_Z/R."""
    step = ring("P_R = V_R*I_R", "I_R", "V_R = I_R*R", "P_R = V_Z*I_R")
    assert step is not None and step.expr is not None
    assert step.degree == 1
    assert plain(step.expr) == "V_Z/R"


def test_a_factor_that_is_not_the_circuits_is_left_out():
    """(R I − V_Z)(I − I_Z) = 0 multiplied out: at a true point I is V_Z/R, so that the other factor goes; where the
    point is told by no probe, both roots stay."""
    product = law("R*I_R*I_R + V_Z*I_Z = I_R*(V_Z + R*I_Z)")
    true = {"V_Z": 10.0, "R": 100.0, "I_Z": 0.02, "I_R": 0.1}
    step = close(product, [], "I_R", true)
    assert step is not None and step.expr is not None and plain(step.expr) == "V_Z/R"
    other = close(product, [], "I_R", {**true, "I_R": 0.02})
    assert other is not None and other.expr is not None and plain(other.expr) == "I_Z"
    open_still = close(product, [], "I_R", {})
    assert open_still is not None and open_still.degree == 2
    assert close(product, [], "I_R", {**true, "I_R": 0.05}) is None  # no root of it is there: it is not of this circuit


def test_the_unknown_a_person_would_choose_is_the_one_solved_for():
    """A follower on a leaning zener is closed in its zener current, as the circuit's file prefers."""
    found = FOLDER.circuit("follower")
    givens = ["V_I", "R", "V_Z0", "r_z", "V_BE", "R_L", "h_FE"]
    plan = search(derive(found, found.regions[0], LoadModel.RESISTOR), givens, ["V_O"], found.preferred)
    coupled = [step for step in plan.steps if step.coupled is not None]
    assert [step.target for step in coupled] == ["I_Z"]
    assert coupled[0].degree == 1


def test_a_coupled_block_is_true_of_the_circuit():
    """The follower above at numbers, worked by hand from node equations on paper.

    V_I = 20 V, R = 470 Ω, V_Z0 = 11.75 V, r_z = 9 Ω, V_BE = 0.7 V, R_L = 100 Ω, h_FE = 49.
    Base node: (20 − V_B)/470 = (V_B − 11.75)/9 + (V_B − 0.7)/(50 × 100)
    0.0425532 + 1.3055556 + 0.00014 = V_B (0.0021277 + 0.1111111 + 0.0002), so V_B = 1.3482488/0.1134388 = 11.8853 V,
    V_O = 11.1853 V, I_Z = 0.1353/9 = 15.03 mA.
    """
    found = FOLDER.circuit("follower")
    values = {"V_I": 20.0, "R": 470.0, "V_Z0": 11.75, "r_z": 9.0, "V_BE": 0.7, "R_L": 100.0, "h_FE": 49.0}
    plan = search(derive(found, found.regions[0], LoadModel.RESISTOR), list(values), ["V_O", "I_Z"], found.preferred)
    for step in plan.steps:
        assert step.expr is not None
        values[step.target] = evaluate(step.expr, values)
    assert values["V_O"] == pytest.approx(11.1853, abs=2e-4)
    assert values["I_Z"] == pytest.approx(15.03e-3, rel=2e-3)


REACHES = [
    ("V_I", 5.0),
    ("V_I - V_Z", 9.9),
    ("(V_I - V_Z)*R", 99.0),  # (5 + 4.9) × 10, where 0.1 × 10 is left
    ("R*(V_I - V_Z)/R_L", 49.5),
    ("(V_I - V_I)*R", 10.0),  # nothing is left: the parts themselves
    ("V_I*R/R_L", 25.0),
    ("-(V_I - V_Z)", 9.9),
]


@pytest.mark.parametrize(("text", "size"), REACHES)
def test_the_size_without_cancelling(text: str, size: float):
    """By hand, with V_I = 5, V_Z = 4.9, R = 10, R_L = 2: what rounding of its terms could amount to."""
    at = {"V_I": 5.0, "V_Z": 4.9, "R": 10.0, "R_L": 2.0}
    assert reach(read_expression(text), at) == pytest.approx(size)
