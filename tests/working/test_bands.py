"""How near two sides of a line must be, by sums by hand on the rules: 1 % or half a unit of a lone number's last figure
and never more than 3 %; 5 % with ≈; where terms cancel the largest is the measure; a third of the way to a slip.
"""

from __future__ import annotations

import pytest

from tests.working.trees import exact, member
from tutor.working.amount import Amount
from tutor.working.bands import ChainSide, agree, band

SYMBOL = member("I_R")


def true_side(value: float, *, reach: float | None = None, slack: float = 0.0) -> ChainSide:
    """A symbol and its value; `reach` is the largest of the terms it was worked out from."""
    return ChainSide(SYMBOL, False, Amount(value, slack, value if reach is None else reach))


def written(text: str) -> ChainSide:
    """A number as written."""
    node = member(text)
    return ChainSide(node, True, exact(node))


# What is written | beside = or ≈ | the truth in mA | whether it agrees.
NUMBERS = [
    ("48.8 mA", "=", 49.29, True),  # 0.49 of 0.4929, which is 1 %
    ("48.8 mA", "=", 49.31, False),
    ("48.8 mA", "=", 48.32, True),  # of the larger of the two
    ("48.8 mA", "=", 48.30, False),
    ("48 mA", "=", 48.49, True),  # half a unit of the last figure: 0.5 mA
    ("48 mA", "=", 48.51, False),
    ("5 mA", "=", 5.15, True),  # half a unit would be 10 %: 3 % of 5.15 are 0.1545
    ("5 mA", "=", 5.16, False),
    ("48.8 mA", "≈", 51.3, True),  # 5 % of 51.3 are 2.565
    ("48.8 mA", "≈", 51.4, False),
    ("0 mA", "=", 0.0, True),
    ("-48.8 mA", "=", -49.29, True),
    ("-48 mA", "=", -48.49, True),
    ("-48 mA", "=", -48.51, False),
]


@pytest.mark.parametrize(("text", "sign", "truth", "agrees"), NUMBERS)
def test_a_number_for_a_quantity(text: str, sign: str, truth: float, agrees: bool):
    """Whichever of the two stands on the left."""
    number = written(text) if not text.startswith("-") else _negative(text[1:])
    assert agree(number, true_side(truth / 1000), sign, ()) is agrees
    assert agree(true_side(truth / 1000), number, sign, ()) is agrees


def _negative(text: str) -> ChainSide:
    node = member(f"-{text}")
    value = exact(member(text)).value
    return ChainSide(node, True, Amount(-value, 0.0, value))


def test_where_terms_cancel_the_largest_is_the_measure():
    """0.1 A left of terms of 1 A is held to 1 % of 1 A; 0.3 A, more than a fifth of them, to 1 % of itself."""
    assert agree(written("0.109 A"), true_side(0.1, reach=1.0), "=", ())
    assert not agree(written("0.111 A"), true_side(0.1, reach=1.0), "=", ())
    assert not agree(written("0.304 A"), true_side(0.3, reach=1.0), "=", ())


def test_two_sides_of_symbols_agree_to_rounding_alone():
    """1 part in 10⁹ of the largest term."""
    assert agree(true_side(1.0), true_side(1.0 + 5e-10), "=", ())
    assert not agree(true_side(1.0), true_side(1.0 + 5e-9), "=", ())
    assert agree(true_side(1e-3, reach=1.0), true_side(1e-3 + 5e-10, reach=1.0), "=", ())


def test_a_bound_has_the_same_room_on_its_side():
    """49 mA are at most 48.8 mA but for rounding; 50 mA are not."""
    for sign in "<≤":
        assert agree(true_side(0.049), written("48.8 mA"), sign, ())
        assert agree(true_side(0.020), written("48.8 mA"), sign, ())
        assert not agree(true_side(0.050), written("48.8 mA"), sign, ())
    for sign in ">≥":
        assert agree(true_side(0.0485), written("48.8 mA"), sign, ())
        assert agree(true_side(0.080), written("48.8 mA"), sign, ())
        assert not agree(true_side(0.047), written("48.8 mA"), sign, ())


# With a slip at 1.015 of a truth of 1: a third of the way is 1.005. Written, sign, slip, whether it agrees.
SLIPS = [
    ("1.004 A", "=", 1.015, True),
    ("1.006 A", "=", 1.015, False),  # 0.6 % off, but more than a third of the way to the slip
    ("0.994 A", "=", 1.015, True),  # on the other side of the truth the slip has no say
    ("0.994 A", "=", 0.985, False),
    ("1.006 A", "=", 1.5, True),
    ("1.02 A", "≈", 1.03, False),  # nearer the slip than the truth
    ("1.01 A", "≈", 1.03, True),
]


@pytest.mark.parametrize(("text", "sign", "slip", "agrees"), SLIPS)
def test_a_known_slip_draws_the_band_in(text: str, sign: str, slip: float, agrees: bool):
    """The result may go a third of the way to it and no further; ≈ half of it."""
    for pair in ((written(text), true_side(1.0)), (true_side(1.0), written(text))):
        assert agree(*pair, sign, ((1.0, slip),)) is agrees


def test_a_slip_of_another_corner_is_met_by_its_value_alone():
    """The slip 1.007 belongs to a truth of 0.9, and draws nothing in; a number that is the slip is it."""
    assert agree(written("1.003 A"), true_side(1.0), "=", ((0.9, 1.007),))
    assert not agree(written("1.006 A"), true_side(1.0), "=", ((0.9, 1.007),))


def test_what_rounding_did_before_widens_a_result_to_five_per_cent_at_most():
    """A result of 1 A may be 1 % off and what its steps were rounded by more, never past 5 %."""
    left, right = true_side(1.0, slack=0.02), written("1.03 A")
    assert band(left, right, "=") == pytest.approx(0.0103 + 0.02)
    assert band(left, right, "=", 0.01) == pytest.approx(0.0103 + 0.03)
    assert band(left, right, "=", 0.9) == pytest.approx(0.05 * 1.03)
    assert agree(left, right, "=", ()) and not agree(true_side(1.0), right, "=", ())


def test_a_lines_own_arithmetic_goes_by_its_result():
    """9.1 × 63.5 = 577.85: 578 is within 1 % of it, and so is 573; 570 is not."""
    product = member("9.1 V * 63.5 mA")
    left = ChainSide(product, True, Amount(0.57785, 0.01, 0.57785))
    assert agree(left, written("578 mW"), "=", ()) and agree(left, written("573 mW"), "=", ())
    assert not agree(left, written("570 mW"), "=", ())
    assert agree(left, written("570 mW"), "≈", ())
    # Half a unit of the result's last figure, 0.05 W, would be 8 %: 3 % of 0.6 W are 0.018 W.
    assert not agree(left, written("0.6 W"), "=", ())
    assert agree(ChainSide(product, True, Amount(0.583, 0.0, 0.583)), written("0.6 W"), "=", ())
