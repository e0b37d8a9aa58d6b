"""Slips as edits of a plan's step: what each edit makes of it, and the value the edited plan then gives."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tutor.errors import BadFamily
from tutor.generate.compile import compile_level
from tutor.generate.family import Drop, Edit, NoMargin, Rewrite, RoundAway, Slip, Swap, Turn
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.run import edited_stage, run, run_edited, runnable
from tutor.generate.slips import edited_step
from tutor.generate.stage import Stage
from tutor.plan.plan import Plan, Step
from tutor.quantities.expression import Sym
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def stage_of(*steps: str) -> Stage:
    """A stage whose plan has these steps (`target = expression`), its inputs standing for themselves."""
    made = []
    for text in steps:
        equation = read_equation(text)
        assert isinstance(equation.lhs, Sym)
        made.append(Step(equation.lhs.name, "law", "Law", "", equation, equation.rhs))
    known = ("V_I", "V_Z", "I_L", "I_Z", "R", "h_FE")
    inputs = tuple((name, Sym(name)) for name in known)
    last = made[-1].target
    return Stage(last, last, Plan(known, (last,), tuple(made)), inputs, (), None, (), (), last, "", "", False)


def slip(edit: Edit, step: str = "") -> Slip:
    return Slip("x", "R_MAX", edit, "a slip", "why", "hint?", step=step)


BOUND = "R_MAX = (V_I - V_Z)/(I_L + I_Z)"
# The right step, the edit, and the wrong step as it would stand on paper.
EDITS = [
    (BOUND, Drop("I_Z"), "(V_I − V_Z)/I_L"),
    (BOUND, Drop("V_Z"), "V_I/(I_L + I_Z)"),
    (BOUND, Swap("I_L + I_Z", "I_L - I_Z"), "(V_I − V_Z)/(I_L − I_Z)"),
    (BOUND, Swap("V_I", "V_I_MAX"), "(V_I_MAX − V_Z)/(I_L + I_Z)"),
    (BOUND, Swap("V_I - V_Z", "V_I"), "V_I/(I_L + I_Z)"),
    (BOUND, Turn("I_Z"), "(V_I − V_Z)/(I_L − I_Z)"),
    (BOUND, Turn("V_Z"), "(V_I + V_Z)/(I_L + I_Z)"),
    (BOUND, Rewrite("(V_I - V_Z)*1000"), "(V_I − V_Z) × 1000"),
    ("I_B = I_L/(h_FE + 1)", Drop("1"), "I_L/h_FE"),
    ("I_B = I_L/(h_FE + 1)", Drop("h_FE + 1"), "I_L"),
    ("P_R = (V_I - V_Z)^2/R", Drop("V_Z"), "V_I²/R"),
    ("P_R = R*I_Z*I_L", Drop("I_Z"), "R I_L"),
    ("V_R = -I_L*R", Turn("I_L*R"), "I_L R"),
    ("V_R = I_L*R", Turn("I_L*R"), "−I_L R"),
    ("V_R = I_L*R - V_Z", Turn("I_L*R"), "−I_L R − V_Z"),
    ("I_R = I_L", Drop("I_L"), None),
    (BOUND, Drop("P_Z"), None),
    (BOUND, Swap("I_B", "I_L"), None),
    (BOUND, Turn("h_FE"), None),
]


@pytest.mark.parametrize(("right", "edit", "wrong"), EDITS)
def test_an_edit_makes_the_wrong_step(right: str, edit: Edit, wrong: str | None):
    """A term left out, turned or put in another's place; an edit that changes nothing is an author's mistake."""
    stage = stage_of(right)
    if wrong is None:
        with pytest.raises(BadFamily) as caught:
            edited_step(slip(edit), stage, "here")
        target = stage.plan.steps[-1].target
        assert caught.value.sentence == f"here: the edit changes nothing in the step that finds '{target}'"
    else:
        target, found = edited_step(slip(edit), stage, "here")
        assert target == stage.plan.steps[-1].target
        assert plain(found) == wrong


def test_an_earlier_step_may_be_edited():
    """`step` names the step by what it finds; the last one is meant unless said."""
    stage = stage_of("I_B = I_L/(h_FE + 1)", "R_MAX = (V_I - V_Z)/(I_B + I_Z)")
    assert edited_step(slip(Swap("h_FE", "h_FE_MAX"), "I_B"), stage, "here")[0] == "I_B"
    assert edited_step(slip(Drop("I_Z")), stage, "here")[0] == "R_MAX"
    with pytest.raises(BadFamily) as caught:
        edited_step(slip(Drop("I_Z"), "I_C"), stage, "here")
    assert caught.value.sentence == "here: no step finds 'I_C'; the plan of 'R_MAX' finds I_B, R_MAX"


WRONG_PLACE = [
    (RoundAway(above=True), "here: a RoundAway edits a choice, and here is a step of algebra"),
    (NoMargin(), "here: a NoMargin edits a choice, and here is a step of algebra"),
    (Drop("V_I +"), "here: expected 'a value' but found 'the end' in the formula 'V_I +'"),
    (Swap("I_Z", "V_I)"), "here: nothing should follow ')' in the formula 'V_I)'"),
]


@pytest.mark.parametrize(("edit", "sentence"), WRONG_PLACE)
def test_an_edit_that_cannot_be_made_is_named(edit: Edit, sentence: str):
    """A wrong pick where there is no shelf, a term that cannot be read."""
    with pytest.raises(BadFamily) as caught:
        edited_step(slip(edit), stage_of(BOUND), "here")
    assert caught.value.sentence == sentence


def test_the_wrong_value_comes_from_running_the_edited_plan():
    """By hand at V_I = 14 V, V_Z = 9 V, I_L = 20 mA, I_Z = 5 mA: right 200 Ω; knee left out 250 Ω; turned 333 Ω."""
    env = {name: np.array([value]) for name, value in (
        ("V_I", 14.0), ("V_Z", 9.0), ("I_L", 0.02), ("I_Z", 0.005), ("R", 1.0), ("h_FE", 50.0))}  # fmt: skip
    ready = runnable(stage_of(BOUND))
    outcome = run(ready, env)
    assert outcome.value[0] == pytest.approx(200)
    for edit, value in ((Drop("I_Z"), 250), (Turn("I_Z"), 5 / 0.015), (Rewrite("V_I/I_L"), 700)):
        step, wrong = edited_step(slip(edit), ready.stage, "here")
        assert run_edited(ready, outcome, env, edited_stage(ready.stage, step, wrong))[0] == pytest.approx(value)


def test_what_follows_an_edited_step_follows_it():
    """h_FE left out of I_B: with I_L = 0.5 A the wrong base current, 0.5 A, goes on into R_MAX.

    By hand: V_I − V_Z = 5 V; right I_B = 0.5/51, R = 5/(0.0098 + 0.005) = 337.6 Ω; wrong R = 5/0.505 = 9.90 Ω.
    """
    env = {name: np.array([value]) for name, value in (
        ("V_I", 14.0), ("V_Z", 9.0), ("I_L", 0.5), ("I_Z", 0.005), ("R", 1.0), ("h_FE", 50.0))}  # fmt: skip
    ready = runnable(stage_of("I_B = I_L/(h_FE + 1)", "R_MAX = (V_I - V_Z)/(I_B + I_Z)"))
    outcome = run(ready, env)
    assert outcome.value[0] == pytest.approx(5 / (0.5 / 51 + 0.005))
    step, wrong = edited_step(slip(Drop("h_FE + 1"), "I_B"), ready.stage, "here")
    assert run_edited(ready, outcome, env, edited_stage(ready.stage, step, wrong))[0] == pytest.approx(5 / 0.505)


def test_a_slip_stays_at_the_corner_the_right_step_took():
    """The knee left out of a design's R_MAX: lowest line and fullest load are kept, only the term goes.

    zener-resistor, level 2, at V_I 14 V to 18 V, V_Z = 9.1 V, I_L 5 mA to 30 mA, I_ZK = 5 mA: 4.9/0.035 = 140 Ω;
    wrong 4.9/0.030 = 163.3 Ω.
    """
    family, circuit = FOLDER.family("zener-resistor"), FOLDER.circuit("zener-shunt")
    plan = compile_level(family, circuit, 2, "breakdown")
    assert plan.asks[0] is not None
    ready = runnable(plan.asks[0])
    env = {name: np.array([value]) for name, value in (
        ("V_I_MIN", 14.0), ("V_I_MAX", 18.0), ("V_Z", 9.1), ("I_L_MIN", 0.005), ("I_L_MAX", 0.03), ("I_ZK", 0.005),
        ("P_ZM", 1.0), ("tol_R", 0.05))}  # fmt: skip
    outcome = run(ready, env)
    assert outcome.value[0] == pytest.approx(140)
    declared = next(item for item in family.levels[1].slips if item.id == "no-knee-current")
    step, wrong = edited_step(declared, ready.stage, "here")
    assert run_edited(ready, outcome, env, edited_stage(ready.stage, step, wrong))[0] == pytest.approx(4.9 / 0.03)


def test_a_wrong_step_may_name_any_key_of_the_problem():
    """`Swap("V_I", "V_I_MAX")` reads the other corner's end from the problem, not from the plan."""
    env = {name: np.array([value]) for name, value in (
        ("V_I", 14.0), ("V_I_MAX", 19.0), ("V_Z", 9.0), ("I_L", 0.02), ("I_Z", 0.005), ("R", 1.0), ("h_FE", 50.0))}
    ready = runnable(stage_of(BOUND))  # fmt: skip
    step, wrong = edited_step(slip(Swap("V_I", "V_I_MAX")), ready.stage, "here")
    assert wrong == read_expression("(V_I_MAX - V_Z)/(I_L + I_Z)")
    found = run_edited(ready, run(ready, env), env, edited_stage(ready.stage, step, wrong))
    assert found[0] == pytest.approx(10 / 0.025)
