"""Units of a line: clashes named where they are, numbers without a unit let through, whole numbers pure first."""

from __future__ import annotations

import pytest

from tests.working.trees import chain, member
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import unit_for
from tutor.working.chain import literals_in
from tutor.working.dimension_check import (
    clash_in,
    dimension_of_member,
    is_coefficient,
    pure_beside_symbols,
    with_units_left_out,
    words_of,
)
from tutor.working.tree import Exponents, Literal

VOLT, AMPERE, OHM, PURE = (1, 0, 0, 0), (0, 1, 0, 0), (1, -1, 0, 0), (0, 0, 0, 0)
WATT, KELVIN = (1, 1, 0, 0), (0, 0, 0, 1)


def dimension_of(name: str) -> Exponents | None:
    return unit_for(symbol_for(name).unit).exponents


DIMENSIONS = [
    ("V_I", VOLT), ("5 V", VOLT), ("5m", None), ("5", None), ("12.5", None), ("V_I/R", AMPERE), ("V_I I_Z", WATT),
    ("V_I^2/R", WATT), ("√(P_R R)", VOLT), ("2 V_I", None), ("V_I - V_Z", VOLT), ("V_I - 12", VOLT), ("R || R_L", OHM),
    ("R || 470", OHM), ("ln(V_I/V_Z)", PURE), ("h_FE + 1", PURE), ("V_I/V_Z", PURE), ("abs(V_I - V_Z)", VOLT),
    ("min(I_Z, I_L)", AMPERE), ("-I_Z", AMPERE), ("12 V ± 5 %", VOLT), ("10^-3", None), ("P_R/12.5", None),
    ("R^½", None), ("2k7", None), ("270R", OHM), ("5 mV/K", (1, 0, 0, -1)), ("T_J - T_A", KELVIN),
    ("V_I^-1", (-1, 0, 0, 0)), ("(P_R R)^(1/2)", VOLT), ("(V_I/V_Z)^(1/3)", PURE), ("V_I^(4/2)", (2, 0, 0, 0)),
    ("V_I^(1/0)", None), ("V_I^(3/2)", None), ("V_I^-(2/2)", (-1, 0, 0, 0)),
    # Each of the four by itself, so that none is taken for its neighbour.
    ("2.5 s I_Z", (0, 1, 1, 0)), ("V_I/2.5 s", (1, 0, -1, 0)), ("I_Z^2", (0, 2, 0, 0)), ("(2.5 s)^2", (0, 0, 2, 0)),
    ("(T_J - T_A)^2", (0, 0, 0, 2)), ("√(I_Z^2)", AMPERE), ("√((2.5 s)^2)", (0, 0, 1, 0)),
    ("√((T_J - T_A)^4)", (0, 0, 0, 2)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "exponents"), DIMENSIONS)
def test_the_dimension_of_a_side(text: str, exponents: Exponents | None):
    """As exponents of volt, ampere, second and kelvin; open where a unit may have been left out."""
    found = dimension_of_member(member(text), dimension_of)
    assert found == exponents and all(isinstance(item, int) for item in found or ())


AGREE = [
    "I_R = I_Z + I_L", "I_Z = 27 - 12", "I_Z = (V_I - V_Z)/R - 5", "P_R = (27 - 12)^2/270", "V_O = 2 V_Z",
    "V_O = 2 V_Z - 5", "R = 12/5m", "I_Z = 27m - 9m = 18 mA", "5 mA ≤ I_Z ≤ 50 mA", "h_FE = 50", "I_B = I_L/(h_FE + 1)",
    "V_I = 5 V + 3", "0 = I_R - I_Z - I_L", "V_I/V_Z = 2", "P_R = V_I²/R", "T_J = T_A + 20 K", "eta = 40 %",
    "V_O = √(P_R R_L)", "I_Z = 5 × 3 mA", "R_L = V_O/I_L = 470", "S_V = R/(R + R_L)", "5 = 5",
]  # fmt: skip


@pytest.mark.parametrize("text", AGREE)
def test_units_that_agree(text: str):
    """No clash, also where hand style leaves units out."""
    assert clash_in(*chain(text), dimension_of) is None


CLASH = [
    ("I_Z = V_I", "V_I", ("current (A)", "voltage (V)")),
    ("I_R = I_Z + V_Z", "V_Z", ("a sum cannot mix", "current (A)", "voltage (V)")),
    ("V_O = 5 mA", "5 mA", ("voltage (V)", "current (A)")),
    ("R = R_L || V_I", "V_I", ("∥",)),
    ("V_I = V_Z^I_L", "I_L", ("exponent",)),
    ("V_I = V_Z^(2 V)", "2 V", ("exponent",)),
    ("V_I = exp(V_Z)", "V_Z", ("exp takes a pure number",)),
    ("V_I = √(V_Z)", "√(V_Z)", ("root",)),
    ("I_Z = min(I_L, V_I)", "V_I", ("min cannot mix",)),
    ("I_Z = I_L + 1 = 5 V", "5 V", ("current (A)",)),
    ("I_Z ≤ V_I/R ≤ 5 Ω", "5 Ω", ("resistance",)),
    ("h_FE = 50 V", "50 V", ("a pure number",)),
    ("I_Z = V_I/R - V_Z", "- V_Z", ("a sum cannot mix",)),
]


@pytest.mark.parametrize(("text", "where", "words"), CLASH)
def test_units_that_clash_are_named_where_they_clash(text: str, where: str, words: tuple[str, ...]):
    """Both sides in words, and the columns of what does not fit."""
    clash = clash_in(*chain(text), dimension_of)
    assert clash is not None
    assert text[clash.columns[0] - 1 : clash.columns[1] - 1].strip("()") == where.strip("()")
    assert all(word in clash.sentence for word in words), clash.sentence


@pytest.mark.parametrize(
    ("text", "pure"), [("1", True), ("12", True), ("13", False), ("1.5", False), ("5m", False), ("5 V", False),
                       ("0", True), ("V_I", False), ("π", False)],
)  # fmt: skip
def test_a_coefficient_is_a_small_whole_number(text: str, pure: bool):
    """Whole, up to 12, with neither unit nor prefix."""
    assert is_coefficient(member(text)) is pure


LEFT = [
    ("5", "?"), ("12", "?"), ("0", ""), ("13", ""), ("5 mA", "A"), ("2.5", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit"), LEFT)
def test_a_small_whole_number_may_be_a_quantity(text: str, unit: str):
    """5 for 5 mA; nought is nothing of any unit, and what has a unit keeps it."""
    (found,) = with_units_left_out((member(text),))
    assert isinstance(found, Literal) and found.meanings[0].unit == unit
    assert not is_coefficient(found) or text == "0"


def test_inside_a_side_too_but_exponents_stay_pure():
    """3 V_I² + 2: the factor and the term may be quantities, the exponent may not."""
    (found,) = with_units_left_out((member("3 V_I^2 + 2"),))
    assert [(item.meanings[0].value, item.meanings[0].unit) for item in literals_in(found)] == [
        (3, "?"), (2, ""), (2, "?")
    ]  # fmt: skip


def test_dimensions_in_words():
    """Known kinds by name, others by their unit."""
    assert words_of(AMPERE) == "a current (A)"
    assert words_of(PURE) == "a pure number"
    assert words_of((3, 0, 0, 0)).startswith("a quantity in ")


BESIDE_SYMBOLS = [
    ("I_Z > 3.5 I_L", (False, True)), ("3.5 I_L < 70 mA", (True, False)), ("2.5 I_Z = 3.5 I_L", (True, True)),
    ("V_R = 0.082 I_R", (False, False)), ("V_R = V_I - 11.5", (True, False)), ("V_I > 1.2k V_Z", (True, False)),
    ("I_L = 13.4", (False, False)), ("P_Z = 0.5 V_Z I_Z", (True, True)), ("5.1 I_L = 20.5", (False, False)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "pure"), BESIDE_SYMBOLS)
def test_a_number_is_pure_where_the_units_agree_without_it(text: str, pure: tuple[bool, ...]) -> None:
    """3.5 I_L is a current only with a pure 3.5; 0.082 I_R is a voltage only with kilohms left out."""
    told = pure_beside_symbols(chain(text)[0], dimension_of)
    beside = [bool(literals_in(side)) for side in chain(text)[0]]
    assert [a and b for a, b in zip(told, beside, strict=True)] == [a and b for a, b in zip(pure, beside, strict=True)]
