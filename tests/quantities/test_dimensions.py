"""Dimensions: derived units against the SI, and sums that cannot be."""

from __future__ import annotations

import pytest

from tutor.errors import BadFormula
from tutor.quantities.dimensions import PURE, Dimension, check_equation, dimension_of, dimension_of_unit
from tutor.quantities.expression import Add, Num, Sym, Val
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.units import units

VOLT, AMPERE, SECOND, KELVIN = (dimension_of_unit(code) for code in ("V", "A", "s", "K"))

# SI Brochure, 9th edition (2019), table 4: derived units with special names.
DERIVED = [
    ("ohm", VOLT / AMPERE),
    ("S", AMPERE / VOLT),
    ("W", VOLT * AMPERE),
    ("VA", VOLT * AMPERE),
    ("J", VOLT * AMPERE * SECOND),
    ("F", AMPERE * SECOND / VOLT),
    ("Hz", SECOND**-1),
    ("degC", KELVIN),
    ("K/W", KELVIN / (VOLT * AMPERE)),
    ("V/K", VOLT / KELVIN),
    ("V/A", VOLT / AMPERE),
    ("%/V", VOLT**-1),
    ("V/V", PURE),
    ("%", PURE),
    ("dB", PURE),
    ("", PURE),
]


@pytest.mark.parametrize(("code", "dimension"), DERIVED)
def test_derived_units(code: str, dimension: Dimension):
    """Each unit is the product of base units that the SI says it is."""
    assert dimension_of_unit(code) == dimension


def test_every_unit_prints():
    """Dimensions name themselves by a unit where there is one."""
    assert str(VOLT / AMPERE) == "Ω"
    assert str(PURE) == "a pure number"
    assert str(VOLT**2 / KELVIN) == "V^2 K^-1"
    assert all(str(dimension_of_unit(code)) for code in units())


def test_a_root_has_half_or_a_third_of_each_exponent():
    """V² to V, (V A)⁴ to (V A)², V³ to V by the cube root; none where an exponent has no such part."""
    assert (VOLT**2).root() == VOLT and ((VOLT * AMPERE) ** 4).root() == (VOLT * AMPERE) ** 2
    assert (VOLT**3).root(3) == VOLT and (VOLT**3 / KELVIN**6).root(3) == (VOLT / KELVIN**2)
    assert VOLT.root() is None and (VOLT**2).root(3) is None and (VOLT**2 / SECOND).root() is None
    assert PURE.root() == PURE


EXPRESSIONS = [
    ("(V_I - V_Z)/(I_L + I_Z)", "ohm"),
    ("I_L/(2*f*C)", "V"),
    ("0.5*C*V_PK^2", "J"),
    ("sqrt(P_R*R)", "V"),
    ("R || r_z", "ohm"),
    ("{V_O by V_I}*DV_I", "V"),
    ("{V_O by I_L}", "ohm"),
    ("{V_O by T}*DT", "V"),
    ("T_A + P_D*R_thJA", "K"),
    ("V_Z*(1 + alpha_Z*DT)", "V"),
    ("h_FE + 1", ""),
    ("0 - V_Z", "V"),
]


@pytest.mark.parametrize(("formula", "code"), EXPRESSIONS)
def test_expressions_have_their_dimension(formula: str, code: str):
    """Sums, products, powers, roots, parallel resistances, sensitivities."""
    assert dimension_of(read_expression(formula)) == dimension_of_unit(code)


MIXED = [
    ("V_I + I_L", "a sum cannot mix V and A"),
    ("V_Z - r_z", "a sum cannot mix V and Ω"),
    ("h_FE + V_BE", "a sum cannot mix a pure number and V"),
    ("R || V_Z", "both sides of ∥ must be resistances (got V)"),
    ("sqrt(V_I)", "sqrt of V has no unit of its own"),
]


@pytest.mark.parametrize(("formula", "sentence"), MIXED)
def test_a_mixed_sum_names_both_sides(formula: str, sentence: str):
    """The sentence says what stands against what."""
    with pytest.raises(BadFormula) as caught:
        dimension_of(read_expression(formula))
    assert caught.value.sentence == sentence


def test_zero_agrees_with_anything_and_values_have_their_units():
    """0 has no unit to clash; 5 mA is a current."""
    assert dimension_of(Add((Num(0), Sym("V_I")))) == VOLT
    assert dimension_of(Add((Val(0.005, "A"), Sym("I_L")))) == AMPERE
    assert dimension_of(Num(0)) == PURE


def test_two_sides_of_an_equation():
    """Both sides agree, or the two are named."""
    assert check_equation(read_equation("R_MAX = (V_I_MIN - V_Z)/(I_L_MAX + I_ZK)")) == VOLT / AMPERE
    assert check_equation(read_equation("I_Z >= 0")) == AMPERE
    with pytest.raises(BadFormula, match="the two sides differ: V on the left, A on the right"):
        check_equation(read_equation("V_O = I_L"))


def test_units_of_other_names():
    """A circuit may bring names of its own, with their units."""
    assert dimension_of(Sym("x"), {"x": "W"}) == VOLT * AMPERE
