"""Programs: the plan as straight-line arithmetic gives what the trees give, on one value or on thousands."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.plan.evaluate import (
    MINUS,
    PLUS,
    Op,
    assemble,
    compile_plan,
    polynomial_root,
    root_counts,
)
from tutor.plan.plan import Plan
from tutor.plan.search import search
from tutor.quantities.expression import Add, Div, Expr, Func, Mul, Neg, Num, Parallel, Partial, Pow, Sym, Val, evaluate

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
NAMES = ("V_I", "V_Z", "R", "r_z")
POINTS = {
    "V_I": np.array([12.0, 15.5, 20.0]), "V_Z": np.array([5.1, 9.1, 12.0]), "R": np.array([100.0, 220.0, 470.0]),
    "r_z": np.array([7.0, 5.0, 9.0]),
}  # fmt: skip

leaf = st.one_of(
    st.sampled_from(NAMES).map(Sym),
    st.integers(1, 9).map(lambda whole: Num(float(whole))),
    st.just(Val(0.005, "A")),
    st.just(Num(0.25)),
)
trees = st.recursive(
    leaf,
    lambda parts: st.one_of(
        st.tuples(parts, parts, parts).map(Add), st.tuples(parts, parts).map(lambda two: Add((two[0], Neg(two[1])))),
        st.tuples(parts, parts).map(Mul), st.tuples(parts, parts).map(lambda two: Div(*two)), parts.map(Neg),
        st.tuples(parts, parts).map(lambda two: Parallel(*two)), parts.map(lambda part: Pow(part, 3)),
        parts.map(lambda part: Func("sqrt", Mul((part, part)))),
    ),
    max_leaves=8,
)  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(trees)
def test_a_program_gives_what_its_tree_gives(tree: Expr):
    """To the last bit, on scalars and on arrays: the same operations in the same order."""
    program = assemble(NAMES, {"x": tree})
    together = np.broadcast_to(np.asarray(program.run(POINTS)["x"]), 3)
    for place in range(3):
        values = {name: float(array[place]) for name, array in POINTS.items()}
        try:
            expected = evaluate(tree, values)
        except (ZeroDivisionError, OverflowError):
            continue
        if isinstance(expected, complex) or math.isnan(expected):
            continue
        assert float(program.run(values)["x"]) == expected == float(together[place])


def test_a_later_output_may_use_an_earlier_one():
    """Named results stand in for symbols, as steps of a plan do."""
    program = assemble(("V_I", "R"), {"I_R": Div(Sym("V_I"), Sym("R")), "P_R": Mul((Sym("V_I"), Sym("I_R")))})
    found = program.run({"V_I": 10.0, "R": 50.0})
    assert (found["I_R"], found["P_R"]) == (0.2, 2.0)


def test_equal_parts_are_worked_once():
    """(a − b)/R and (a − b)·R share their difference."""
    difference = Add((Sym("V_I"), Neg(Sym("V_Z"))))
    program = assemble(NAMES, {"x": Div(difference, Sym("R")), "y": Mul((difference, Sym("R")))})
    assert [op for op, _ in program.code] == [Op.SUB, Op.DIV, Op.MUL]


def test_what_has_no_value_gives_inf_or_nan_and_never_an_exception():
    """Division by nothing and roots of negative numbers are the caller's to see, warnings being errors here."""
    program = assemble(NAMES, {"x": Div(Sym("V_I"), Add((Sym("R"), Neg(Sym("R"))))), "y": Func("sqrt", Neg(Sym("R")))})
    found = program.run({"V_I": 1.0, "V_Z": 1.0, "R": 2.0, "r_z": 1.0})
    assert math.isinf(found["x"]) and math.isnan(found["y"])
    arrays = program.run({name: np.array([1.0, 2.0]) for name in NAMES})
    assert np.isinf(arrays["x"]).all() and np.isnan(arrays["y"]).all()


def test_a_missing_input_is_named():
    """KeyError with the symbol."""
    with pytest.raises(KeyError, match="V_Z"):
        assemble(NAMES, {"x": Sym("V_Z")}).run({"V_I": 1.0})


def test_a_sensitivity_cannot_be_run():
    """∂V_O/∂V_I standing for itself is no number."""
    with pytest.raises(ValueError, match="the sensitivity of V_O to V_I cannot be run"):
        assemble(NAMES, {"x": Partial("V_O", "V_I")})


# x² − 3x + 2, −x² + 3x − 2, x² − 4; 1e-9 x² + x − 1 has one root at 1 and one near −10⁹; 0 x² + 2x − 6 is linear.
QUADRATICS = [
    ([2.0, -3.0, 1.0], 2.0, 1.0),
    ([-2.0, 3.0, -1.0], 1.0, 2.0),
    ([-4.0, 0.0, 1.0], 2.0, -2.0),
    ([-1.0, 1.0, 1e-9], 0.999999999, -1.000000001e9),
    ([-6.0, 2.0, 0.0], 3.0, -math.inf),
    ([6.0, -2.0, 0.0], math.inf, 3.0),
    # x² ∓ x/2 + 10⁻¹²: the roots multiply to 10⁻¹² and add up to ±1/2, so the small one is 2·10⁻¹² (1 + 4·10⁻¹²).
    ([1e-12, -0.5, 1.0], 0.499999999998, 2.000000000008e-12),
    ([1e-12, 0.5, 1.0], -2.000000000008e-12, -0.499999999998),
]


@pytest.mark.parametrize(("coefficients", "plus", "minus"), QUADRATICS)
def test_both_roots_of_a_quadratic(coefficients: list[float], plus: float, minus: float):
    """The root with + and the root with − before √, to full figures; a vanishing square term leaves the linear one."""
    assert float(polynomial_root(coefficients, PLUS)) == pytest.approx(plus, rel=1e-12, abs=0)
    assert float(polynomial_root(coefficients, MINUS)) == pytest.approx(minus, rel=1e-12, abs=0)
    arrays = [np.array([item, item]) for item in coefficients]
    assert polynomial_root(arrays, PLUS).tolist() == [float(polynomial_root(coefficients, PLUS))] * 2


@settings(deadline=None)
@given(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3), st.floats(1e-3, 1e3))
def test_roots_of_a_product_come_back(first: float, second: float, high: float):
    """high (x − first)(x − second): the larger root goes with + before √, the smaller with −."""
    coefficients = [high * first * second, -high * (first + second), high]
    found = [float(polynomial_root(coefficients, which)) for which in (PLUS, MINUS)]
    if any(math.isnan(item) for item in found):
        assert abs(first - second) < 1e-4  # two roots so near that rounding parts them into complex ones
        return
    size = max(abs(first), abs(second), 1e-3)
    assert found == pytest.approx([max(first, second), min(first, second)], abs=1e-4 * size + 1e-6)


def test_real_roots_of_a_cubic_in_rising_order():
    """(x − 1)(x − 2)(x − 3) has three; x³ + x has one; what is not there is nan."""
    assert [float(polynomial_root([-6.0, 11.0, -6.0, 1.0], which)) for which in range(3)] == pytest.approx([1, 2, 3])
    assert float(polynomial_root([0.0, 1.0, 0.0, 1.0], 0)) == 0.0
    assert math.isnan(polynomial_root([0.0, 1.0, 0.0, 1.0], 1))


def plan_of(circuit_id: str, known: list[str], wanted: tuple[str, ...], load: LoadModel) -> Plan:
    found = FOLDER.circuit(circuit_id)
    return search(derive(found, found.regions[0], load), known, wanted, found.preferred)


def test_a_compiled_plan_finds_every_step():
    """Each step's target is an output; the values are those of the steps worked one by one."""
    plan = plan_of("zener-shunt", ["V_I", "R", "V_Z", "R_L"], ("I_Z", "P_Z"), LoadModel.RESISTOR)
    program = compile_plan(plan)
    values = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "R_L": 1000.0}
    found = program.run(values)
    assert set(found) == {step.target for step in plan.steps}
    known = dict(values)
    for step in plan.steps:
        assert step.expr is not None
        known[step.target] = evaluate(step.expr, known)
        assert float(found[step.target]) == known[step.target]


def test_roots_are_chosen_in_the_order_of_the_steps():
    """P_O of a source has two currents; the choice of root is passed in, and told by the plan."""
    plan = plan_of("source", ["V_OC", "R_S", "P_O"], ("I_I", "V_I"), LoadModel.SINK)
    assert root_counts(plan) == (2,)
    program = compile_plan(plan)
    currents = {
        round(float(program.run({"V_OC": 10.0, "R_S": 2.0, "P_O": 8.0}, (which,))["I_I"]), 9) for which in (PLUS, MINUS)
    }
    assert currents == {1.0, 4.0}  # I (10 − 2 I) = 8: I = 1 A or 4 A
