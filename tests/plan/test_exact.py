"""Numbers as fractions: what cancels on paper cancels to nothing, and what has no number has none."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tutor.plan.exact import exact, fraction_of, with_fractions
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_expression

NUMBERS = {"V_I": fraction_of(0.1), "V_O": fraction_of(0.3), "R": Fraction(220), "r_z": Fraction(5)}
CASES = [
    ("V_I + 0.2 - V_O", Fraction(0)),  # not 5.6 × 10⁻¹⁷
    ("V_O/V_I - 3", Fraction(0)),
    ("R || r_z", Fraction(1100, 225)),
    ("(V_O - V_I)^2/R", Fraction(4, 100) / 220),
    ("-V_O*R", Fraction(-66)),
    ("V_O/(R - 44*r_z)", None),  # by nothing
    ("V_O/I_R", None),  # no number
    ("sqrt(V_I - V_O)", None),
    ("cbrt(V_O*90*V_I*10)", Fraction(3)),  # the cube root of 27, which a square root would make 5.196
]


@pytest.mark.parametrize(("text", "number"), CASES)
def test_expressions_come_to_fractions(text: str, number: Fraction | None):
    """Worked by hand; None where there is no number."""
    assert exact(read_expression(text), NUMBERS) == number


def test_a_square_root_has_the_figures_of_a_float():
    """√0.3 = 0.5477…"""
    assert float(exact(read_expression("sqrt(V_O)"), NUMBERS) or 0) == pytest.approx(0.3**0.5, rel=1e-15)


def test_a_fraction_is_the_shortest_decimal_form():
    """0.1 is a tenth, a whole number itself however long."""
    assert fraction_of(0.1) == Fraction(1, 10)
    assert fraction_of(10**40) == 10**40


def test_numbers_stand_in_place_of_their_symbols_and_others_stay():
    """The value is the same; what has no number keeps its letter."""
    expr = read_expression("V_I*I_R + V_O/R")
    put = with_fractions(expr, NUMBERS)
    assert evaluate(put, {"I_R": 2.0}) == pytest.approx(evaluate(expr, {"V_I": 0.1, "V_O": 0.3, "R": 220.0, "I_R": 2}))
