"""Worst corners from derived signs: what a quantity depends on, which way, and where the sign turns inside a range."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.run import INSIDE, run, runnable
from tutor.generate.stage import Stage
from tutor.laws.algebra import sympy_symbol
from tutor.laws.derive import derive
from tutor.plan.corner import compose, depends_on, slope, stationary
from tutor.plan.plan import Plan, Step
from tutor.plan.search import search
from tutor.quantities.expression import Sym, evaluate
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def plan(circuit_id: str, known: str, wanted: str) -> Plan:
    found = FOLDER.circuit(circuit_id)
    laws = derive(found, found.regions[0], LoadModel.SINK)
    return search(laws, known.split(), [wanted], found.preferred)


# Known, wanted, the quantity that moves, the slope as written, its sign at sensible values.
SLOPES = [
    ("zener-shunt", "V_I R V_Z I_L", "I_Z", "V_I", "1/R", 1),
    ("zener-shunt", "V_I R V_Z I_L", "I_Z", "I_L", "−1", -1),
    ("zener-shunt", "V_I R V_Z I_L", "P_Z", "I_L", "−V_Z", -1),
    ("zener-shunt", "V_I R V_Z I_L", "I_R", "V_I", "1/R", 1),
    ("follower", "V_I R V_Z I_L h_FE", "I_Z", "h_FE", "I_L/(h_FE + 1)²", 1),
    ("follower", "V_I V_Z V_BE I_L h_FE", "P_Q", "V_I", "I_L h_FE/(h_FE + 1)", 1),
    ("source", "V_OC R_S I_I", "V_I", "I_I", "−R_S", -1),
]
SENSIBLE = {
    "V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01, "h_FE": 50.0, "V_BE": 0.7, "V_OC": 18.0, "R_S": 2.0, "I_I": 0.5
}  # fmt: skip


@pytest.mark.parametrize(("circuit_id", "known", "wanted", "by", "written", "sign"), SLOPES)
def test_slopes_are_derived_and_written_as_on_paper(
    circuit_id: str, known: str, wanted: str, by: str, written: str, sign: int
):
    """"I_Z is least at the lowest line and the fullest load" rests on these two signs."""
    found = slope(compose(plan(circuit_id, known, wanted), wanted), by)
    assert plain(found) == written
    assert np.sign(evaluate(found, SENSIBLE)) == sign


def test_a_composed_plan_is_one_expression_of_its_givens():
    """Step put into step: P_Z from V_I, R, V_Z and I_L alone."""
    form = compose(plan("zener-shunt", "V_I R V_Z I_L", "P_Z"), "P_Z")
    assert {str(item) for item in form.free_symbols} == {"V_I", "R", "V_Z", "I_L"}
    values = {sympy_symbol(name): SENSIBLE[name] for name in ("V_I", "R", "V_Z", "I_L")}
    assert float(form.subs(values)) == pytest.approx(
        9.1 * (5.9 / 220 - 0.01)
    )


def test_a_plan_with_several_roots_has_no_composed_form():
    """Behind a quadratic the one expression is lost, and None says so."""
    assert compose(plan("source", "V_OC R_S P_O", "V_I"), "V_I") is None


def test_what_a_quantity_depends_on():
    """The line heats R whatever the load; the load moves the zener and not R."""
    heat = plan("zener-shunt", "V_I R V_Z I_L", "P_R")
    assert depends_on(heat, "P_R", "V_I") and not depends_on(heat, "P_R", "I_L")
    assert depends_on(plan("zener-shunt", "V_I R V_Z I_L", "P_Z"), "P_Z", "I_L")
    assert depends_on(plan("source", "V_OC R_S P_O", "I_I"), "I_I", "P_O")


def test_a_slope_that_never_turns_has_no_resting_place():
    """I_Z rises with the line all the way."""
    assert stationary(compose(plan("zener-shunt", "V_I R V_Z I_L", "I_Z"), "I_Z"), "V_I") is None


def test_the_resting_place_is_given_by_a_formula():
    """P_O of a source is at rest along I at V_OC/(2 R_S): maximum power transfer. (P_Z along V_Z likewise.)"""
    found = stationary(compose(plan("source", "V_OC R_S I_I", "P_O"), "P_O"), "I_I")
    assert found is not None and plain(found) == "V_OC/(2 R_S)"
    zener = stationary(compose(plan("zener-shunt", "V_I R V_Z I_L", "P_Z"), "P_Z"), "V_Z")
    assert zener is not None
    assert evaluate(zener, SENSIBLE) == pytest.approx((15 - 220 * 0.01) / 2)


def test_a_long_resting_place_is_told_by_its_causes():
    """A foldback limit's heat along its output: half of two straight lines' zeros, worked on paper."""
    v_i, v_o, v_be, r_a, r_b, r = (sympy_symbol(name) for name in ("V_I", "V_O", "V_BE", "R_A", "R_B", "R_SENSE"))
    emitter = (v_o + v_be) * (1 + r_a / r_b)
    found = stationary((v_i - emitter) * (emitter - v_o) / r, "V_O")
    assert found is not None and plain(found) == "R_B V_I/(2 (R_A + R_B)) − V_BE (2 R_A + R_B)/(2 R_A)"
    # The current is nothing at −V_BE (1 + R_B/R_A), the voltage at V_I R_B/(R_A + R_B) − V_BE; the summit half-way.
    at = {"V_I": 15.0, "V_BE": 0.7, "R_A": 330.0, "R_B": 1200.0}
    no_current, no_voltage = -0.7 * (1 + 1200 / 330), 15 * 1200 / 1530 - 0.7
    assert evaluate(found, at) == pytest.approx((no_current + no_voltage) / 2)


def extreme(greatest: bool) -> Stage:
    """P_O of a source at its worst corner, the current ranging."""
    found = plan("source", "V_OC R_S I_I", "P_O")
    form = compose(found, "P_O")
    rest = stationary(form, "I_I")
    assert rest is not None
    inputs = (("V_OC", Sym("V_OC")), ("R_S", Sym("R_S")))
    return Stage(
        "P_O_MAX", "P_O", found, inputs, ("I_I",), greatest, (("I_I", slope(form, "I_I")),), (("I_I", rest),), "P_O",
        "", "", greatest,
    )  # fmt: skip


# V_OC = 20 V, R_S = 2 Ω: P_O = 20 I − 2 I², at rest at 5 A with 50 W. Range, greatest, where.
BOXES = [
    (1.0, 3.0, 42.0, 1, 3.0),
    (6.0, 9.0, 48.0, 0, 6.0),
    (1.0, 9.0, 50.0, INSIDE, 5.0),
    (4.0, 5.5, 50.0, INSIDE, 5.0),
]


@pytest.mark.parametrize(("low", "high", "greatest", "end", "where"), BOXES)
def test_an_interior_extremum_is_found_when_it_lies_inside(
    low: float, high: float, greatest: float, end: int, where: float
):
    """At an end when the peak lies outside the range; at the peak, and said so, when inside."""
    env = {name: np.array([value]) for name, value in (
        ("V_OC", 20.0), ("R_S", 2.0), ("I_I_MIN", low), ("I_I_MAX", high))}  # fmt: skip
    outcome = run(runnable(extreme(True)), env)
    assert outcome.value[0] == pytest.approx(greatest)
    assert outcome.ends["I_I"][0] == end
    assert outcome.bases["I_I"][0] == pytest.approx(where)


def test_a_batch_takes_each_ones_own_corner():
    """Four boxes at once give what each gives alone; the least is always at an end."""
    lows, highs = (np.array([row[place] for row in BOXES]) for place in (0, 1))
    env = {"V_OC": np.full(4, 20.0), "R_S": np.full(4, 2.0), "I_I_MIN": lows, "I_I_MAX": highs}
    outcome = run(runnable(extreme(True)), env)
    assert outcome.value.tolist() == pytest.approx([row[2] for row in BOXES])
    assert outcome.ends["I_I"].tolist() == [row[3] for row in BOXES]
    least = run(runnable(extreme(False)), env)
    expected = [min(20 * end - 2 * end * end for end in (low, high)) for low, high, *_ in BOXES]
    assert least.value.tolist() == pytest.approx(expected)


def test_the_corner_of_signs_is_the_corner_of_a_grid():
    """For I_Z over line, load and zener spread: the corner told by signs is the least of 1,000 points of the box."""
    form = compose(plan("zener-shunt", "V_I R V_Z I_L", "I_Z"), "I_Z")
    box = {"V_I": (12.0, 16.0), "I_L": (0.002, 0.03), "V_Z": (8.6, 9.6)}
    ends = {
        name: box[name][0] if evaluate(slope(form, name), {**SENSIBLE, "R": 82.0}) > 0 else box[name][1] for name in box
    }
    assert ends == {"V_I": 12.0, "I_L": 0.03, "V_Z": 9.6}
    at_corner = (ends["V_I"] - ends["V_Z"]) / 82.0 - ends["I_L"]
    grid = product(*(np.linspace(*box[name], 10) for name in ("V_I", "V_Z", "I_L")))
    assert min((volts - zener) / 82.0 - load for volts, zener, load in grid) == pytest.approx(at_corner)


def test_what_rests_on_no_quadratic_is_composed_past_one():
    """The current into a load of given power is a quadratic, and what it drops is lost with it; 3 V_OC is not."""
    first = plan("source", "V_OC R_S P_O", "V_I").steps
    later = Step("V_T", "later", "", "", read_equation("V_T = 3*V_OC"), read_expression("3*V_OC"))
    found = Plan(("V_OC", "R_S", "P_O"), ("V_T",), (*first, later))
    assert any(step.expr is None for step in first)
    assert compose(found, "V_T") == 3 * sympy_symbol("V_OC")


def test_two_places_of_rest_are_none():
    """I³ − 3 I has a summit and a hollow: no one place that a formula could give."""
    current = sympy_symbol("I_I")
    assert stationary(current**3 - 3 * current, "I_I") is None
