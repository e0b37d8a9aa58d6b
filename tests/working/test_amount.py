"""Trees worked out: values as arithmetic has them, slack as rounding allows, reach as the largest term."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.working.trees import exact, member, value_of
from tutor.working.amount import MOST_BAND, NUMBER_BAND, Amount, rounding, work_out
from tutor.working.dimension_check import is_coefficient
from tutor.working.tree import Literal

VALUES = {"V_I": 15.0, "V_Z": 9.1, "R": 220.0, "R_L": 470.0, "I_L": 0.01, "h_FE": 50.0, "V_O": 0.0}
CASES = [
    ("(V_I - V_Z)/R", 5.9 / 220), ("V_I - V_Z - V_O", 5.9), ("-V_I + 2 V_Z", 3.2), ("R || R_L", 220 * 470 / 690),
    ("(V_I - V_Z)^2/R", 5.9**2 / 220), ("√(R R_L)", math.sqrt(220 * 470)), ("sqrt(4)", 2.0), ("5 mA × 2", 0.01),
    ("ln(exp(2))", 2.0), ("log10(1000)", 3.0), ("abs(V_Z - V_I)", 5.9), ("min(R, R_L)", 220.0), ("2^-2", 0.25),
    ("max(R, R_L, 1000)", 1000.0), ("12 V ± 5 %", 12.0), ("5 % of 12 V", 0.6), ("V_O^2", 0.0), ("(-2)^3", -8.0),
    ("4^½", 2.0), ("h_FE + 1", 51.0), ("2k7", 2700.0), ("π", math.pi), ("exp(0)", 1.0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), CASES)
def test_the_value_is_that_of_the_arithmetic(text: str, value: float):
    """Every kind of node."""
    found = value_of(member(text), VALUES)
    assert found is not None
    assert math.isclose(found, value, rel_tol=1e-12, abs_tol=1e-15)


@pytest.mark.parametrize(
    "text",
    ["I_Z", "V_I/V_O", "1/(V_I - V_I)", "√(V_Z - V_I)", "ln(0)", "ln(V_Z - V_I)", "log10(-1)", "exp(1000)",
     "V_O^-1", "(-2)^0.5", "R || (V_O - R)", "10^30 × 10^30 × 10", "2 + 3 I_Z", "(I_Z)^2", "max(1, I_Z)", "(10^30)^3"],
)  # fmt: skip
def test_what_has_no_finite_value_is_none(text: str):
    """A symbol without a value, a division by nothing, a root of less than nothing, what is past all bounds."""
    assert value_of(member(text), VALUES) is None


def slackened(text: str, values: dict[str, float], share: float) -> tuple[Amount, float]:
    """The amount with every number but pure coefficients good to `share`, and the furthest its value goes."""
    node = member(text)

    def amount_of(literal: Literal) -> Amount:
        value = literal.meanings[0].value
        return Amount(value, 0.0 if is_coefficient(literal) else share * abs(value), abs(value))

    found = work_out(node, lambda name: values.get(name), amount_of)
    assert found is not None
    furthest = 0.0
    for way in range(64):
        bits = iter([(1 if way >> place & 1 else -1) for place in range(6)])

        def moved(literal: Literal, bits=bits) -> Amount:
            way = 0 if is_coefficient(literal) else next(bits, 1)
            value = literal.meanings[0].value * (1 + share * way)
            return Amount(value, 0.0, abs(value))

        other = work_out(node, lambda name: values.get(name), moved)
        assert other is not None
        furthest = max(furthest, abs(other.value - found.value))
    return found, furthest


@pytest.mark.parametrize(
    "text",
    ["(27 V - 12 V)/270 Ω", "12 V × 3 mA", "(27 - 12)^2/270", "√(3 V × 12 V)", "82 || 820", "3 mA + 5 mA - 2 mA",
     "exp(0.3)", "ln(3.3)", "log10(47)", "1/(1/82 + 1/820)", "-5 V + 3 V", "abs(3 V - 12 V)", "V_I - 3 V/2.2"],
)  # fmt: skip
def test_slack_is_what_rounding_may_do(text: str):
    """To first order the slack is the furthest that moved numbers take the value: never less, hardly more."""
    share = 1e-5
    found, furthest = slackened(text, VALUES, share)
    assert furthest * (1 - 1e-3) <= found.slack <= furthest * 1.02


def test_symbols_have_no_slack():
    """They have their values exactly."""
    found = work_out(member("(V_I - V_Z)/R"), lambda name: VALUES.get(name), exact)
    assert found is not None
    assert found.slack == 0.0


@pytest.mark.parametrize(
    ("text", "reach"),
    [("15.1 V - 15 V", 15.1), ("-3 + 2", 3.0), ("(15.1 - 15)/0.5", 30.2), ("5 - 5", 5.0), ("3 × 4", 12.0),
     ("(100 - 99)^2", 200.0), ("10 mA", 0.01), ("√(100 - 99)", 50.0)],
)  # fmt: skip
def test_reach_is_the_largest_term(text: str, reach: float):
    """The measure where terms cancel: what the largest of them came to in the unit of the result."""
    found = work_out(member(text), lambda name: None, exact)
    assert found is not None
    assert math.isclose(found.reach, reach, rel_tol=1e-9)
    assert found.reach >= abs(found.value)


@given(st.floats(1e-9, 1e9), st.integers(0, 6))
def test_rounding_is_a_hundredth_or_half_a_figure(value: float, figures: int):
    """1 %, or half a unit of the last figure, and 3 % at most."""
    step = value * 10.0**-figures
    room = rounding(value, step)
    assert NUMBER_BAND * value <= room * (1 + 1e-12)
    assert room <= MOST_BAND * value * (1 + 1e-12)
    assert room == rounding(-value, step)


def test_rounding_by_figures():
    """0.1 and 15 and 15.00."""
    assert math.isclose(rounding(0.1, 0.1), 0.003)
    assert math.isclose(rounding(40.0, 1.0), 0.5)
    assert math.isclose(rounding(15.0, 0.01), 0.15)
    assert rounding(0.0, 0.1) == 0.0
