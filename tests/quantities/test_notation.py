"""Expressions in plain text: order kept, brackets where needed, and nothing lost on reading back."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.quantities.evaluator import evaluator
from tutor.quantities.expression import Add, Div, Expr, Func, Mul, Neg, Num, Parallel, Partial, Pow, Sym, Val, evaluate
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain, plain_equation

FORMULAS = [
    ("(V_I - V_Z)/(I_L + I_Z)", "(V_I − V_Z)/(I_L + I_Z)"),
    ("r_z*I_Z", "r_z I_Z"),
    ("V_Z0 + r_z*I_Z", "V_Z0 + r_z I_Z"),
    ("V_R^2/R", "V_R²/R"),
    ("I_L/(2*f*C)", "I_L/(2 f C)"),
    ("2*C", "2 × C"),
    ("V_REF*(1 + R_1/R_2) + I_REF*R_1", "V_REF (1 + R_1/R_2) + I_REF R_1"),
    ("(r_z || R_L)/(R + (r_z || R_L))", "(r_z ∥ R_L)/(R + r_z ∥ R_L)"),
    ("-(R || r_z)", "−(R ∥ r_z)"),
    ("sqrt(2)*V_SEC - 2*V_F", "√2 V_SEC − 2 V_F"),
    ("sqrt(V_R/R)", "√(V_R/R)"),
    ("a - (b - c)", "a − (b − c)"),
    ("a - b - c", "a − b − c"),
    ("a/(b/c)", "a/(b/c)"),
    ("a/b/c", "(a/b)/c"),
    ("a/b*c", "(a/b) c"),
    ("-{V_O by V_I}", "−∂V_O/∂V_I"),
    ("{V_O by V_I}*DV_I", "(∂V_O/∂V_I) ΔV_I"),
    ("(a + b)^2", "(a + b)²"),
    ("0.5*C*V_PK^2", "0.5 × C V_PK²"),
    ("1 - eta", "1 − η"),
]


@pytest.mark.parametrize(("formula", "text"), FORMULAS)
def test_a_formula_prints(formula: str, text: str):
    """As a textbook sets it in one line."""
    assert plain(read_expression(formula)) == text


VALUES = [
    (Mul((Val(9.1, "V"), Val(0.0635, "A"))), "9.1 V × 63.5 mA"),
    (Div(Add((Val(14, "V"), Neg(Val(9.1, "V")))), Add((Val(0.03, "A"), Val(0.005, "A")))),
     "(14 V − 9.1 V)/(30 mA + 5 mA)"),
    (Div(Pow(Val(8.9, "V"), 2), Val(130, "ohm")), "(8.9 V)²/130 Ω"),
    (Add((Num(1), Div(Val(2200, "ohm"), Val(1000, "ohm")))), "1 + 2.2 kΩ/1 kΩ"),
    (Mul((Val(1.25, "V"), Add((Num(1), Div(Val(2200, "ohm"), Val(240, "ohm")))))), "1.25 V × (1 + 2.2 kΩ/240 Ω)"),
    (Mul((Val(-0.002, "V/K"), Val(25, "K"))), "(−2 mV/K) × 25 K"),
    (Add((Val(9.1, "V"), Val(-0.7, "V"))), "9.1 V − 0.7 V"),
    (Add((Val(9.1, "V"), Val(-0.71234, "V", 12))), "9.1 V − 0.71234 V"),
    (Div(Val(3.0, "V"), Val(0.002, "V/K")), "3 V/(2 mV/K)"),
    (Mul((Num(2), Num(3), Sym("R"))), "2 × 3 R"),
    (Add((Sym("a"), Add((Sym("b"), Sym("c"))))), "a + (b + c)"),
    (Neg(Neg(Sym("a"))), "−(−a)"),
    (Mul((Sym("a"), Neg(Sym("b")))), "a (−b)"),
    (Pow(Num(-2), 2), "(−2)²"),
    (Partial("V_O", "V_I"), "∂V_O/∂V_I"),
]  # fmt: skip


@pytest.mark.parametrize(("expr", "text"), VALUES)
def test_numbers_with_units_print(expr: Expr, text: str):
    """Values take × and their unit, negative ones brackets."""
    assert plain(expr) == text


def test_relations_print():
    """<= and >= become their signs."""
    assert plain_equation(read_equation("R <= V_R/I_R")) == "R ≤ V_R/I_R"
    assert plain_equation(read_equation("I_Z >= I_ZK")) == "I_Z ≥ I_ZK"


SYMBOLS = ["R", "V_I", "r_z", "I_L", "C", "A", "DV_O", "eta"]
SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")

LEAVES = st.one_of(
    st.sampled_from(SYMBOLS).map(Sym),
    st.sampled_from([0.5, 1.0, 2.0, 3.25, 12.0, 100.0, 1e-5]).map(Num),
)


def _bigger(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    some = st.lists(inner, min_size=2, max_size=3).map(tuple)
    return st.one_of(
        some.map(Add),
        some.map(Mul),
        inner.map(Neg),
        st.builds(Div, inner, inner),
        st.builds(Parallel, inner, inner),
        st.builds(Pow, inner, st.integers(2, 3)),
    )


EXPRESSIONS = st.recursive(LEAVES, _bigger, max_leaves=12)


def author_form(text: str) -> str:
    """Plain text turned back into the authors' grammar: typographic characters, implicit products."""
    text = text.replace("η", "eta").replace("Δ", "D").replace("−", "-").replace("∥", "||").replace(" × ", "*")
    text = re.sub("[⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda found: "^" + found.group().translate(SUPERSCRIPTS), text)
    text = re.sub(r"√(\d+)", r"sqrt(\1)", text)
    return re.sub(r"(?<=[\w)]) (?=[\w(])", "*", text)


@settings(max_examples=600, deadline=None)
@given(EXPRESSIONS, st.integers(0, 10**6))
def test_what_is_printed_reads_back_to_the_same_value(expr: Expr, seed: int):
    """Brackets are never missing: the text, read by the authors' reader, has the value of the tree."""
    values = {name: 0.5 + ((seed + 1) * (place + 3) * 7919 % 1009) / 500 for place, name in enumerate(SYMBOLS)}
    again = read_expression(author_form(plain(expr)))
    try:
        wanted = evaluate(expr, values)
    except ZeroDivisionError:
        return
    got = evaluate(again, values)
    assert math.isclose(got, wanted, rel_tol=1e-6, abs_tol=1e-6 * _largest(expr, values)), plain(expr)


@settings(max_examples=400, deadline=None)
@given(EXPRESSIONS, st.integers(-500, 500))
def test_made_ready_it_has_the_same_bits(expr: Expr, seed: int):
    """An evaluator and `evaluate` agree exactly, in value and in what cannot be worked out."""
    values = {name: (seed * (place + 3) * 7919 % 1009 - 400) / 500 for place, name in enumerate(SYMBOLS)}
    ready = evaluator(expr)
    assert _outcome(lambda: ready(values)) == _outcome(lambda: evaluate(expr, values))
    partly = {name: value for name, value in values.items() if name != "R"}
    assert _outcome(lambda: ready(partly)) == _outcome(lambda: evaluate(expr, partly))


def _outcome(work: Callable[[], float]) -> str:
    try:
        return repr(work())
    except ArithmeticError:
        return "no finite value"
    except KeyError as missing:
        return f"no value for {missing}"


def _largest(expr: Expr, values: dict[str, float]) -> float:
    """The size against which terms that cancel are compared."""
    sizes = {name: abs(value) for name, value in values.items()}
    return min(abs(evaluate(_all_plus(expr), sizes)), 1e9)


def _all_plus(expr: Expr) -> Expr:
    if isinstance(expr, Neg):
        return _all_plus(expr.arg)
    if isinstance(expr, Add):
        return Add(tuple(_all_plus(term) for term in expr.terms))
    if isinstance(expr, Mul):
        return Mul(tuple(_all_plus(factor) for factor in expr.factors))
    return expr


def test_the_property_notices_a_missing_bracket():
    """Without its bracket the quotient reads back to something else."""
    values = {"R": 2.0, "V_I": 3.0, "r_z": 5.0}
    whole = Div(Sym("V_I"), Mul((Sym("R"), Sym("r_z"))))
    careless = plain(whole).replace("(", "").replace(")", "")
    assert evaluate(read_expression(author_form(careless)), values) != evaluate(whole, values)
    assert Func("sqrt", Num(2)) == read_expression(author_form("√2"))
