"""A law solved for one of its symbols, as on paper: the order a person wrote is kept, and the value is right."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.plan.rearrange import isolate, polynomial, product, quotient, tidy_sum
from tutor.quantities.expression import Add, Div, Equation, Expr, Mul, Neg, Num, Parallel, Pow, Sym, count, evaluate
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain

# The law as written, the symbol wanted, and what stands on paper.
ISOLATED = [
    ("I_R = (V_I - V_O)/R", "I_R", "(V_I − V_O)/R"),
    ("I_R = (V_I - V_O)/R", "R", "(V_I − V_O)/I_R"),
    ("I_R = (V_I - V_O)/R", "V_I", "V_O + I_R R"),
    ("I_R = (V_I - V_O)/R", "V_O", "V_I − I_R R"),
    ("I_R = I_Z + I_L", "I_Z", "I_R − I_L"),
    ("P_Z = V_Z*I_Z", "I_Z", "P_Z/V_Z"),
    ("P_R = V_R^2/R", "V_R", "√(P_R R)"),
    ("P_R = V_R^2/R", "R", "V_R²/P_R"),
    ("I_E = (h_FE + 1)*I_B", "h_FE", "I_E/I_B − 1"),
    ("V_O = V_Z - V_BE", "V_Z", "V_O + V_BE"),
    ("I_Z = (V_I - V_Z)/R - I_L", "R", "(V_I − V_Z)/(I_Z + I_L)"),
    ("V_Z = V_Z0 + r_z*I_Z", "r_z", "(V_Z − V_Z0)/I_Z"),
    ("DV_O = -R_OUT*DI_L", "R_OUT", "−ΔV_O/ΔI_L"),
    ("R_OUT = R || r_z", "r_z", "R_OUT R/(R − R_OUT)"),
    ("V_O = V_I*R_L/(R + R_L)", "V_I", "V_O (R + R_L)/R_L"),
    # A symbol on both sides, or twice on one, is collected by algebra.
    ("V_O = V_I*R_L/(R + R_L)", "R_L", "R V_O/(V_I − V_O)"),
    ("REG_LOAD = (V_OC - V_I)/V_I", "V_I", "V_OC/(REG_LOAD + 1)"),
    ("I_Z = 0", "I_Z", "0"),
]


@pytest.mark.parametrize(("text", "target", "written"), ISOLATED)
def test_a_law_is_solved_as_on_paper(text: str, target: str, written: str):
    """Everything else goes across in the order it stood."""
    found = isolate(read_equation(text), target)
    assert found is not None
    assert plain(found) == written
    assert count(found, target) == 0


REFUSED = [
    ("P_O = I_I*V_OC - I_I^2*R_S", "I_I"),  # of second degree
    ("P_R = V_R^3/R", "V_R"),  # a cube
    ("V_O - V_O = V_I - V_Z", "V_O"),  # falls out
]


@pytest.mark.parametrize(("text", "target"), REFUSED)
def test_what_one_step_cannot_solve_is_left(text: str, target: str):
    """A higher degree is a matter for a coupled step; a symbol that falls out is not found."""
    assert isolate(read_equation(text), target) is None


POINT = {
    "V_I": 15.0, "V_O": 9.1, "R": 220.0, "I_R": 0.03, "I_Z": 0.012, "I_L": 0.018, "r_z": 5.0, "R_L": 505.0,
    "P_R": 0.7, "V_R": 5.9, "V_Z": 9.1, "V_Z0": 8.9,
}  # fmt: skip
LAWS = [
    "I_R = (V_I - V_O)/R", "I_R = I_Z + I_L", "P_R = V_R^2/R", "V_O = V_I*R_L/(R + R_L)", "R = (V_I - V_Z)/(I_L + I_Z)",
    "V_Z = V_Z0 + r_z*I_Z", "V_I = V_O + R || r_z * I_L", "V_O = (V_I*r_z + V_Z0*R - I_L*R*r_z)/(R + r_z)",
]  # fmt: skip


@pytest.mark.parametrize("text", LAWS)
def test_putting_the_solution_back_satisfies_the_law(text: str):
    """For each symbol of each law: the others at a point, the isolated one from the formula, and both sides agree."""
    equation = read_equation(text)
    names = [name for name in POINT if count(equation.lhs, name) + count(equation.rhs, name)]
    solved = 0
    for target in names:
        found = isolate(equation, target)
        if found is None:
            continue
        values = {**POINT, target: evaluate(found, POINT)}
        left, right = evaluate(equation.lhs, values), evaluate(equation.rhs, values)
        assert math.isclose(left, right, rel_tol=1e-9, abs_tol=1e-12), target
        solved += 1
    assert solved == len(names)


leaf = st.sampled_from(sorted(POINT)).map(Sym)
sides = st.recursive(
    leaf,
    lambda parts: st.one_of(
        st.tuples(parts, parts).map(Add), st.tuples(parts, parts).map(lambda two: Add((two[0], Neg(two[1])))),
        st.tuples(parts, parts).map(Mul), st.tuples(parts, parts).map(lambda two: Div(*two)),
        st.tuples(leaf, leaf).map(lambda two: Parallel(*two)), parts.map(lambda part: Pow(part, 2)),
    ),
    max_leaves=5,
)  # fmt: skip


@settings(deadline=None, max_examples=80)
@given(sides)
def test_any_relation_is_undone_step_by_step(side: Expr):
    """`P_O` equals some expression; solved for any symbol that stands in it once, it gives that symbol back."""
    try:
        value = evaluate(side, POINT)
    except ZeroDivisionError:
        return
    for target in POINT:
        if count(side, target) != 1:
            continue
        found = isolate(Equation(Sym("P_O"), side), target)
        if found is None:
            continue
        try:
            back = evaluate(found, {**POINT, "P_O": value})
        except ZeroDivisionError:
            continue  # 0 × the target, say: it cannot be told from the other side
        if isinstance(back, complex) or abs(value) < 1e-9:
            continue
        # The root of a square is the positive one, and every symbol of the point is positive.
        assert math.isclose(back, POINT[target], rel_tol=1e-4) or has_square(side), (plain(side), target)


def has_square(side: Expr) -> bool:
    """Whether a square is undone on the way, under which a sum may be negative."""
    return "Pow(" in repr(side)


def test_polynomials_come_with_the_constant_term_first():
    """Coefficients of the equation multiplied out, rising powers; None where the unknown stands under a root."""
    coefficients = polynomial(read_equation("P_O = (V_OC - I_I*R_S)*I_I"), "I_I")
    assert coefficients is not None and len(coefficients) == 3
    assert [str(item) for item in coefficients] in (["P_O", "-V_OC", "R_S"], ["-P_O", "V_OC", "-R_S"])
    assert polynomial(read_equation("V_I = sqrt(P_R)"), "P_R") is None


SUMS = [
    (["V_I", "0"], "V_I"),
    (["-I_L", "I_R"], "I_R − I_L"),
    (["I_R*R", "V_O"], "V_O + I_R R"),
    (["0"], "0"),
]


@pytest.mark.parametrize(("terms", "written"), SUMS)
def test_sums_are_tidied(terms: list[str], written: str):
    """Zeros dropped, single letters first, then products, then what is taken away."""
    assert plain(tidy_sum([read_expression(term) for term in terms])) == written


def test_quotients_are_not_stacked_and_products_are_flat():
    """(a/b)/c is a/(b c); (a b) × (c d) is one product; nothing over anything is nothing."""
    a, b, c = Sym("V_I"), Sym("R"), Sym("r_z")
    assert quotient(Div(a, b), c) == Div(a, Mul((b, c)))
    assert quotient(Num(0), c) == Num(0)
    assert product(Mul((a, b)), Mul((b, c))) == Mul((a, b, b, c))
    assert product(Div(a, b), c) == Div(Mul((a, c)), b)


ROOTS = [
    ("V_R = sqrt(P_R*R)", "P_R", "V_R²/R"),
    ("V_R = cbrt(P_R*R)", "P_R", "V_R³/R"),
    ("V_R = cbrt(P_R)", "P_R", "V_R³"),
    ("P_R = V_R^2/R", "V_R", "√(P_R R)"),
]


@pytest.mark.parametrize(("text", "target", "written"), ROOTS)
def test_a_root_is_undone_by_its_power(text: str, target: str, written: str):
    """A square root by the square, a cube root by the cube."""
    found = isolate(read_equation(text), target)
    assert found is not None and plain(found) == written
