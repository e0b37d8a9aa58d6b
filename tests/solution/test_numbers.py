"""One relation as a line of working: symbols, numbers, what can be worked out, the result; nothing said twice."""

from __future__ import annotations

import pytest

from tutor.quantities.expression import Add, Div, Expr, Func, Mul, Neg, Num, Parallel, Sym, Val, factors
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.quantity import Quantity
from tutor.quantities.relation_form import halfway_form, relation_form, spell_parallel, unit_of, worked_part
from tutor.solution.numbers import Writing, equation_lines, line, shown, told, with_numbers, worked_out
from tutor.solution.solution import Chain
from tutor.views.plain import chain_text

VALUES = {
    "V_I": 15.0, "V_Z": 9.1, "R": 220.0, "I_L": 0.01, "I_Z": 0.0168181818, "r_z": 5.0, "V_Z0": 8.96, "h_FE": 50.0,
    "I_B": 0.2 / 51, "I_E": 0.2, "P_Z": 0.15304545, "V_R": 5.9,
}  # fmt: skip
GIVEN = frozenset({"V_I", "V_Z", "R", "I_L", "r_z", "V_Z0", "h_FE", "I_E"})
PLAIN = Writing({}, VALUES, GIVEN)
NAMED = Writing({"V_I": Sym("V_I_MIN"), "I_L": Sym("I_L_MAX"), "I_Z": Sym("I_ZK")}, VALUES, GIVEN)


def written(target: str, formula: str, value: float, unit: str, writing: Writing = PLAIN) -> str:
    return chain_text(line(Sym(target), relation_form(read_expression(formula)), writing, Quantity(value, unit)))


LINES = [
    ("I_R", "(V_I - V_Z)/R", 5.9 / 220, "A", "I_R = (V_I − V_Z)/R = (15 V − 9.1 V)/220 Ω = 5.9 V/220 Ω = 26.8 mA"),
    ("V_O", "V_Z", 9.1, "V", "V_O = V_Z = 9.1 V"),
    ("I_B", "I_E/(h_FE + 1)", 0.2 / 51, "A", "I_B = I_E/(h_FE + 1) = 200 mA/(50 + 1) = 200 mA/51 = 3.92 mA"),
    ("P_Z", "V_Z*I_Z", 0.15304545, "W", "P_Z = V_Z I_Z = 9.1 V × 16.82 mA = 153.0 mW"),
    ("V_Z", "V_Z0 + r_z*I_Z", 9.044, "V", "V_Z = V_Z0 + r_z I_Z = 8.96 V + 5 Ω × 16.82 mA = 8.96 V + 84.1 mV = 9.04 V"),
    (
        "R_OUT", "R || r_z", 220 * 5 / 225, "ohm",
        "R_OUT = R ∥ r_z = R r_z/(R + r_z) = 220 Ω × 5 Ω/(220 Ω + 5 Ω) = 4.89 Ω",
    ),
    ("P_R", "V_R^2/R", 5.9**2 / 220, "W", "P_R = V_R²/R = (5.9 V)²/220 Ω = 158.2 mW"),
    ("I_Z", "0", 0.0, "A", "I_Z = 0 A"),
]  # fmt: skip


@pytest.mark.parametrize(("target", "formula", "value", "unit", "text"), LINES)
def test_a_line_goes_from_symbols_to_the_result(target: str, formula: str, value: float, unit: str, text: str):
    """Each part only where it says something new; givens keep their own figures, results have three (four after 1)."""
    assert written(target, formula, value, unit) == text


def test_where_terms_cancel_the_numbers_have_the_figures_that_the_result_needs():
    """20.6 V − 16.5 V is 4.1 V and no 4.15 V; with no such loss a result keeps its three figures."""
    writing = Writing({}, {"V_PK": 20.6482, "V_TROUGH": 16.5}, frozenset({"V_TROUGH"}), in_full=True)
    assert written("V_RIP", "V_PK - V_TROUGH", 4.1482, "V", writing) == (
        "V_RIP = V_PK − V_TROUGH = 20.65 V − 16.5 V = 4.15 V"
    )
    writing = Writing({}, {"V_PK": 20.6082, "V_F": 0.7}, frozenset({"V_F"}), in_full=True)
    assert written("V_SPK", "V_PK + V_F", 21.3082, "V", writing) == "V_SPK = V_PK + V_F = 20.6 V + 0.7 V = 21.3 V"


def test_a_line_is_written_under_the_names_of_its_corner():
    """V_I at the lowest line is V_I_MIN, the zener's current at its least I_ZK."""
    assert written("R_MAX", "(V_I - V_Z)/(I_L + I_Z)", 220.0, "ohm", NAMED).startswith(
        "R_MAX = (V_I_MIN − V_Z)/(I_L_MAX + I_ZK) = (15 V − 9.1 V)/(10 mA + 16.82 mA) = "
    )


def test_names_are_put_in_and_an_unknown_is_kept():
    """`shown` renames, `with_numbers` puts values in, and one symbol may be kept as it is."""
    expr = read_expression("(V_I - V_Z)/R")
    assert shown(expr, NAMED) == read_expression("(V_I_MIN - V_Z)/R")
    numbers = with_numbers(expr, PLAIN, keep="V_Z")
    assert numbers == Div(Add((Val(15.0, "V", 12), Neg(Sym("V_Z")))), Val(220.0, "ohm", 12))


WORKED = [
    ("(V_I - V_Z)/R", Div(Val(15.0 - 9.1, "V", 12), Val(220.0, "ohm", 12))),
    ("V_I - I_L*R", Add((Val(15.0, "V", 12), Neg(Val(2.2, "V", 3))))),
    ("V_I - V_Z", None),  # one operation: nothing lies half way
    ("V_I*R", None),  # a product is worked in one go
    ("V_I/(V_I*V_Z*V_Z)", None),  # a part with no unit that is printed
]


@pytest.mark.parametrize(("formula", "expected"), WORKED)
def test_what_is_worked_out_half_way(formula: str, expected: Expr | None):
    """The outermost sum or quotient kept, its parts as one number each."""
    form = halfway_form(read_expression(formula))
    assert (None if form is None else told(form, PLAIN, Val(0.0, ""))) == expected


def test_a_sum_of_givens_is_exact_and_a_product_is_rounded():
    """15 V − 9.1 V is 5.9 V as written; 10 mA × 220 Ω is a result."""
    exact, rounded = (worked_part(read_expression(formula)) for formula in ("V_I - V_Z", "I_L*R"))
    assert exact is not None and worked_out(exact, PLAIN) == Val(15.0 - 9.1, "V", 12)
    assert rounded is not None and worked_out(rounded, PLAIN) == Val(2.2, "V", 3)
    assert worked_part(read_expression("V_I*V_Z")) is None


UNITS = [("V_I*I_L", "W"), ("V_I/R", "A"), ("I_L/V_I", "S"), ("R/r_z", ""), ("V_I*V_Z", None), ("V_I + I_L", None)]


@pytest.mark.parametrize(("formula", "unit"), UNITS)
def test_the_unit_of_a_part(formula: str, unit: str | None):
    """A unit that is printed, or none: V² has no name here, and volts and amperes make no sum."""
    assert unit_of(read_expression(formula)) == unit


def test_parallel_resistances_are_spelled_out_wherever_they_stand():
    """R ∥ r_z in a sum, and a parallel of three."""
    spelled = spell_parallel(read_expression("V_I*(R || r_z)"))
    assert spelled == Mul((Sym("V_I"), Div(Mul((Sym("R"), Sym("r_z"))), Add((Sym("R"), Sym("r_z"))))))
    assert spell_parallel(Func("sqrt", Parallel(Sym("R"), Sym("r_z")))) == Func(
        "sqrt", Div(Mul((Sym("R"), Sym("r_z"))), Add((Sym("R"), Sym("r_z"))))
    )
    assert factors(Sym("R")) == (Sym("R"),)


def texts(chains: tuple[Chain, ...]) -> list[str]:
    return [chain_text(chain) for chain in chains]


def test_a_coupled_equation_is_shown_put_in_and_collected():
    """By hand: (1 + 5/220) I_Z = (15 − 8.96)/220 − 0.01, that is 1.0227 I_Z = 17.45 mA."""
    equation = read_equation("I_Z = (V_I - (V_Z0 + r_z*I_Z))/R - I_L")
    assert texts(equation_lines(equation, "I_Z", PLAIN)) == [
        "I_Z = (V_I − (V_Z0 + r_z I_Z))/R − I_L",
        "I_Z = (15 V − (8.96 V + 5 Ω × I_Z))/220 Ω − 10 mA",
        "1.023 × I_Z = 17.45 mA",
    ]


def test_a_quadratic_is_not_collected():
    """P = (V_Z0 + r_z I) I has a square in it: two lines, no third."""
    lines = equation_lines(read_equation("P_Z = (V_Z0 + r_z*I_Z)*I_Z"), "I_Z", PLAIN)
    assert texts(lines)[1] == "153.0 mW = (8.96 V + 5 Ω × I_Z) × I_Z"
    assert len(lines) == 2


def test_a_number_is_given_or_found():
    """A given is written as typed, a result in its figures."""
    assert (PLAIN.quantity("V_Z").text, PLAIN.quantity("I_Z").text) == ("9.1 V", "16.82 mA")
    assert PLAIN.val("I_Z") == Val(0.0168181818, "A", 3)
    assert written("I_Z", "0", 0.0, "A") == chain_text(Chain(Sym("I_Z"), (("=", Val(0.0, "A")),)))
    assert Num(0) == read_expression("0")
