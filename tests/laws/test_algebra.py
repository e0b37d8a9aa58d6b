"""Trees to sympy and back: the same function, in the order a person would write."""

from __future__ import annotations

import math

import numpy as np
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st
from sympy.core import random as sympy_random

from tutor.laws.algebra import factored, factors_of, from_sympy, numbers_at, sympy_symbol, to_sympy
from tutor.quantities.expression import (
    Add,
    Div,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Partial,
    Pow,
    Sym,
    Val,
    evaluate,
)
from tutor.quantities.formula import read_expression
from tutor.quantities.notation import plain

NAMES = ("V_I", "V_Z", "R", "r_z", "I_L")


def test_a_symbol_is_one_symbol():
    """The same letter is the same sympy symbol wherever it is made: real, with no sign assumed."""
    assert sympy_symbol("V_I") is sympy_symbol("V_I")
    assert sympy_symbol("V_I").is_real
    assert sympy_symbol("V_I").is_positive is None


EXACT = [
    ("0.1 + 0.2", sympy.Rational(3, 10)),
    ("R || r_z", "R*r_z/(R + r_z)"),
    ("(V_I - V_Z)/R", "(V_I - V_Z)/R"),
    ("V_I^3", "V_I**3"),
    ("sqrt(V_I)", "sqrt(V_I)"),
    ("-V_I", "-V_I"),
]


@pytest.mark.parametrize(("text", "expected"), EXACT)
def test_a_tree_becomes_the_exact_form(text: str, expected: object):
    """Decimal numbers become exact rationals (0.1 + 0.2 is 3/10), ∥ is spelled out."""
    wanted = sympy.sympify(expected, locals={name: sympy_symbol(name) for name in NAMES})
    assert sympy.cancel(to_sympy(read_expression(text)) - wanted) == 0


def test_a_value_counts_in_si():
    """A number with its unit is its SI value."""
    assert to_sympy(Val(0.005, "A")) == sympy.Rational(1, 200)


def test_a_sensitivity_standing_for_itself_has_no_algebra():
    """∂V_O/∂V_I before it is worked out cannot be added to anything."""
    with pytest.raises(ValueError, match="a sensitivity standing for itself has no algebra"):
        to_sympy(Partial("V_O", "V_I"))


ORDERED = [
    ("(V_I - V_Z)/R - I_L", "(V_I − I_L R − V_Z)/R"),
    ("-I_L", "−I_L"),
    ("-V_Z/R", "−V_Z/R"),
    ("V_Z/(-R)", "−V_Z/R"),
    ("0*V_I", "0"),
    ("V_I*1", "V_I"),
    ("V_I/2", "V_I/2"),
    ("2*V_I^2/R", "2 V_I²/R"),
    ("2*I_L*R", "2 I_L R"),
    ("R*r_z/(R + r_z)", "R r_z/(R + r_z)"),
    ("V_I*R + V_I*r_z", "V_I (R + r_z)"),
]


@pytest.mark.parametrize(("text", "written"), ORDERED)
def test_coming_back_it_is_one_fraction_positive_terms_first(text: str, written: str):
    """What algebra makes is written as a person would: no leading minus where a plus can lead, constants last."""
    assert plain(from_sympy(to_sympy(read_expression(text)))) == written


def test_a_root_comes_back_as_one():
    """√, 1/√, the cube root and its square have trees; a fifth root has none, and says so."""
    volts = sympy_symbol("V_I")
    assert from_sympy(sympy.sqrt(volts)) == Func("sqrt", Sym("V_I"))
    assert from_sympy(1 / sympy.sqrt(volts)) == Div(Num(1), Func("sqrt", Sym("V_I")))
    third = Func("cbrt", Sym("V_I"))
    assert from_sympy(volts ** sympy.Rational(1, 3)) == third
    assert from_sympy(volts ** sympy.Rational(2, 3)) == Pow(third, 2)
    assert to_sympy(third) == volts ** sympy.Rational(1, 3)
    with pytest.raises(ValueError, match="no tree for"):
        from_sympy(volts ** sympy.Rational(1, 5))


ROOTED = [
    ("sqrt(V_I/R)", "√(V_I/R)"),
    ("sqrt(1/V_I + 1/R)", "√((R + V_I)/(R V_I))"),
    ("sqrt(V_I)*(1 + 1/sqrt(V_I))", "√(V_I) + 1"),
    ("V_I/(-I_L - R)", "V_I/(−(I_L + R))"),
    ("(V_I - R)/(sqrt(2) - 2)", "(V_I − R)/(√2 − 2)"),
    ("0.005*V_I", "V_I/200"),
    ("0.0001*V_I + 0.3", "(V_I + 3000)/10000"),
]


@pytest.mark.parametrize(("text", "written"), ROOTED)
def test_fractions_in_roots_and_below_the_line_come_back(text: str, written: str):
    """A root over a whole fraction stays one; numbers that are no whole ones go below the line, however large."""
    found = from_sympy(to_sympy(read_expression(text)))
    assert plain(found) == written
    assert evaluate(found, POINT) == pytest.approx(evaluate(read_expression(text), POINT), rel=1e-12)


def test_a_number_without_a_fraction_comes_back_as_its_decimal():
    """What sympy holds as a floating number."""
    assert from_sympy(sympy.Float(0.3) * sympy_symbol("V_I")) == Mul((Num(0.3), Sym("V_I")))


def test_a_number_kept_before_a_bracket_comes_back():
    """−(V_I + V_O)/2, as factoring leaves it, has a tree."""
    form = sympy.Mul(sympy.Rational(-1, 2), sympy_symbol("V_I") + sympy_symbol("V_O"), evaluate=False)
    assert from_sympy(form) == Neg(Div(Add((Sym("V_I"), Sym("V_O"))), Num(2)))


leaf = st.one_of(
    st.sampled_from(NAMES).map(Sym),
    st.integers(1, 9).map(lambda whole: Num(float(whole))),
    st.sampled_from((0.25, 0.5, 1.5, 0.005)).map(Num),
)


def _deeper(parts: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    pair = st.tuples(parts, parts)
    return st.one_of(
        pair.map(Add), pair.map(Mul), pair.map(lambda two: Div(*two)), pair.map(lambda two: Parallel(*two)),
        pair.map(lambda two: Add((two[0], Neg(two[1])))), parts.map(lambda part: Pow(part, 2)),
    )  # fmt: skip


trees = st.recursive(leaf, _deeper, max_leaves=6)
POINT = {"V_I": 17.3, "V_Z": 9.1, "R": 219.7, "r_z": 5.3, "I_L": 0.0111}


@settings(deadline=None, max_examples=80)
@given(trees)
def test_there_and_back_is_the_same_function(tree: Expr):
    """Any tree an author could write keeps its value at a point where nothing cancels."""
    try:
        before = evaluate(tree, POINT)
    except ZeroDivisionError:
        return
    form = to_sympy(tree)
    if form.has(sympy.zoo, sympy.nan):
        return
    after = evaluate(from_sympy(form), POINT)
    assert math.isclose(before, after, rel_tol=1e-6, abs_tol=1e-9 * max(1.0, abs(before))), (before, after)


def test_factors_are_found_the_same_way_each_time():
    """Which trial points sympy draws decides whether a long form takes a tenth of a second or minutes: whatever was
    drawn before, the same are drawn."""
    names = ("A", "R_1", "R_2", "R_O", "S_V", "V_I", "V_Z0", "r_z")
    a, r_1, r_2, r_o, s, v, v_z, r = (sympy_symbol(name) for name in names)
    form = (r_1 + r_2) * (s + 1) * (v - v_z) + a * r_2 * (r + r_o) * s - r_1 * v_z * (r + 1)
    drawn = []
    for other in (3, 4, 13):
        sympy_random.seed(other)
        assert sympy.expand(factored(form) - form) == 0
        drawn.append(sympy_random.rng.random())
    assert len(set(drawn)) == 1
    assert factors_of(sympy.expand((a + r) ** 2 * (v - v_z) * 3)) == [v - v_z, a + r]


def test_a_form_comes_to_its_numbers_at_many_places_at_once():
    """Worked by head at V = 4 and 9: a sum, a product, whole and broken powers, a quotient; what has no number says so.
    """
    v, r = sympy_symbol("V_I"), sympy_symbol("R")
    letters = {v: np.array([4.0, 9.0], dtype=np.complex128), r: np.array([2.0, 3.0], dtype=np.complex128)}
    for form, expected in (
        (v + r + 1, [7, 13]), (3 * v * r, [24, 81]), (v**3, [64, 729]), (sympy.sqrt(v), [2, 3]),
        (v ** sympy.Rational(3, 2), [8, 27]), (r**-2, [1 / 4, 1 / 9]), (v / r, [2, 3]), (sympy.Integer(7), [7, 7]),
    ):  # fmt: skip
        assert np.allclose(numbers_at(form, letters), expected, rtol=1e-12), form
    with pytest.raises(ValueError, match="no number for sin"):
        numbers_at(sympy.sin(v), letters)
