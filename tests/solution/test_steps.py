"""A plan with its numbers as worked steps: one for each law, coupled blocks set out in full, roots with their
reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.generate.problems_folder import ProblemsFolder
from tutor.plan.plan import Plan, Step
from tutor.plan.regions import resolve
from tutor.quantities.expression import Sym
from tutor.quantities.formula import read_equation, read_expression
from tutor.solution.numbers import Writing
from tutor.solution.solution import WorkedStep
from tutor.solution.steps import plan_steps
from tutor.views.plain import chain_text

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def worked(circuit_id: str, given: dict[str, float], wanted: str) -> list[WorkedStep]:
    """The steps from numbers to what is wanted."""
    found = resolve(FOLDER.circuit(circuit_id), given, tuple(wanted.split()))
    writing = Writing({}, found.values, frozenset(given))
    return plan_steps(found.plan, writing, {choice.target: choice.why for choice in found.roots})


def test_a_direct_step_is_one_line_with_its_law_and_reason():
    """Title, why, one chain, the law's id and the result as a quantity."""
    (step,) = worked("zener-shunt", {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01}, "I_Z")
    assert step.title == "Current law at the output node with Ohm's law for $R$"
    assert step.why == "Supply and zener fix the current through $R$; the zener has what the load leaves of it."
    assert [chain_text(chain) for chain in step.chains] == [
        "I_Z = (V_I − V_Z)/R − I_L = (15 V − 9.1 V)/220 Ω − 10 mA = 26.8 mA − 10 mA = 16.82 mA"
    ]
    assert step.law == "feed"
    assert step.result is not None and step.result.text == "16.82 mA"
    assert (step.text, step.waypoint, step.band) == ("", "", "")


def test_a_coupled_step_says_what_was_put_in():
    """The substitutions in words, the equation twice (symbols, numbers), collected, and solved."""
    first, *_ = worked("zener-shunt", {"V_I": 15.0, "R": 220.0, "V_Z0": 8.96, "r_z": 5.0, "I_L": 0.01}, "V_O")
    assert first.why == (
        "Several relations share the unknown $I_Z$. Put in $V_Z = V_Z0 + r_z*I_Z$ (the zener's straight line), and one "
        "equation in $I_Z$ alone is left."
    )
    assert [chain_text(chain) for chain in first.chains] == [
        "I_Z = (V_I − (V_Z0 + r_z I_Z))/R − I_L",
        "I_Z = (15 V − (8.96 V + 5 Ω × I_Z))/220 Ω − 10 mA",
        "1.023 × I_Z = 17.45 mA",
        "I_Z = 17.07 mA",
    ]
    assert first.text == ""


def test_a_name_keeps_its_capital_inside_a_sentence():
    """Ohm's and Kirchhoff's laws are named; other titles begin small."""
    given = {"V_I": 15.0, "R": 220.0, "V_Z0": 11.0, "r_z": 5.0, "V_BE": 0.7, "h_FE": 50.0, "R_L": 50.0}
    first, *_ = worked("follower", given, "V_O")
    assert "(Ohm's law for the load)" in first.why
    assert "(the zener's straight line)" in first.why


def test_a_quadratic_shows_both_roots_and_why_one_is_taken():
    """8 W from 10 V behind 2 Ω: 1 A or 4 A."""
    first, *_ = worked("source", {"V_OC": 10.0, "R_S": 2.0, "P_O": 8.0}, "I_I")
    assert first.text == (
        "A quadratic: its roots are 4 A and 1 A; both fit the circuit, and the one with the greater V_I is taken: a "
        "supply is worked where most of its voltage is left at its terminals."
    )
    assert [chain_text(chain) for chain in first.chains][-1] == "I_I = 1 A"


def test_a_square_term_that_vanishes_leaves_one_root():
    """With no slope the quadratic in I_Z is a line: 0 I² + 9 I − 0.18 = 0, and the infinite root is not shown."""
    equation = read_equation("P_Z = (V_Z0 + r_z*I_Z)*I_Z")
    coefficients = tuple(read_expression(text) for text in ("P_Z", "-V_Z0", "-r_z"))
    step = Step("I_Z", "law", "Power in the zener", "", equation, None, equation, coefficients, ())
    plan = Plan(("P_Z", "V_Z0", "r_z"), ("I_Z",), (step,))
    values = {"P_Z": 0.18, "V_Z0": 9.0, "r_z": 0.0, "I_Z": 0.02}
    (worked_step,) = plan_steps(plan, Writing({}, values, frozenset({"P_Z", "V_Z0", "r_z"})), {"I_Z": "the only one"})
    assert worked_step.text == "The square term vanishes with these values, and one root is left: 20 mA."
    assert worked_step.why == (
        "The unknown $I_Z$ stands in this relation more than once, so it is collected on one side."
    )


def test_a_higher_degree_is_said_to_be_found_by_trial():
    """A cubic has no formula on paper."""
    equation = read_equation("P_Z = r_z*I_Z^3")
    coefficients = tuple(read_expression(text) for text in ("P_Z", "0", "0", "-r_z"))
    step = Step("I_Z", "law", "A cubic", "", equation, None, equation, coefficients, ())
    plan = Plan(("P_Z", "r_z"), ("I_Z",), (step,))
    writing = Writing({}, {"P_Z": 8.0, "r_z": 1.0, "I_Z": 2.0}, frozenset({"P_Z", "r_z"}))
    (worked_step,) = plan_steps(plan, writing, {"I_Z": "the only real root"})
    assert worked_step.text == "The equation is of degree 3; its root is found by trial. The only real root."


def test_names_of_the_corner_stand_in_every_line():
    """I_Z shown as I_ZK, V_I as V_I_MIN: in the reason, the relation and the result."""
    found = resolve(FOLDER.circuit("zener-shunt"), {"V_I": 12.0, "V_Z": 9.1, "I_L": 0.03, "I_Z": 0.005}, ("R",))
    names = {"V_I": Sym("V_I_MIN"), "I_L": Sym("I_L_MAX"), "I_Z": Sym("I_ZK"), "R": Sym("R_MAX")}
    (step,) = plan_steps(found.plan, Writing(names, found.values, frozenset({"V_I", "V_Z", "I_L", "I_Z"})), {})
    assert [chain_text(chain) for chain in step.chains] == [
        "R_MAX = (V_I_MIN − V_Z)/(I_L_MAX + I_ZK) = (12 V − 9.1 V)/(30 mA + 5 mA) = 2.9 V/35 mA = 82.9 Ω"
    ]


@pytest.mark.parametrize("load", ["I_L", "R_L"])
def test_steps_follow_the_plan_one_for_one(load: str):
    """As many steps as the plan has, in its order, each with its result."""
    given = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, load: {"I_L": 0.01, "R_L": 910.0}[load]}
    found = resolve(FOLDER.circuit("zener-shunt"), given, ())
    steps = plan_steps(found.plan, Writing({}, found.values, frozenset(given)), {})
    assert [step.law for step in steps] == [step.law for step in found.plan.steps]
    assert all(step.result is not None for step in steps)
