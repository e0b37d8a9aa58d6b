"""The curves of real parts: true to their equations, their slopes those of differences, none ever overflowing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tutor.bench.curves import between, exponential, junction_with_resistance, lesser, softened_step, thermal_voltage

WILD = np.array([-1e9, -1e3, -40.0, -1.0, 0.0, 0.5, 1.0, 40.0, 1e3, 1e9])


def slope_of(curve, at: float) -> float:
    """By a difference to either side."""
    step = 1e-6 * max(abs(at), 1e-3)
    ends = [float(np.ravel(curve(np.array([at + sign * step]))[0])[0]) for sign in (-1, 1)]
    return (ends[1] - ends[0]) / (2 * step)


def test_the_thermal_voltage_is_that_of_the_si() -> None:
    """25.852 mV at 300 K: CODATA, k = 1.380649e-23 J/K and e = 1.602176634e-19 C exactly."""
    assert float(thermal_voltage(np.array(300.0))) == pytest.approx(0.0258520, abs=1e-7)


@pytest.mark.parametrize("volts", [-5.0, 0.2, 0.6, 0.7, 1.0, 5.0, 300.0])
@pytest.mark.parametrize("ohms", [1e-3, 0.5, 1e4])
def test_a_junction_with_its_resistance_keeps_its_equation(volts: float, ohms: float) -> None:
    """I = I_S e^((v - r I)/u), put in logarithms; and the slope of differences."""
    unit, saturation = 0.0257, 1e-14
    current, slope = junction_with_resistance(
        np.array([volts]), np.array([unit]), np.array([saturation]), np.array([ohms])
    )
    left = math.log(current[0]) if current[0] > 0 else -math.inf
    right = math.log(saturation) + (volts - ohms * current[0]) / unit
    assert left == pytest.approx(right, abs=1e-9 * max(1.0, abs(right)))

    def curve(at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return junction_with_resistance(at, np.array([unit]), np.array([saturation]), np.array([ohms]))

    assert slope[0] == pytest.approx(slope_of(curve, volts), rel=1e-4)


def test_limits_hold_and_corners_are_round() -> None:
    """Far inside nothing is changed, far outside the limit stands; at a corner it is ln 2 of the corner away."""
    low, high, corner = np.array([1.0]), np.array([9.0]), np.array([0.1])
    value, slope, by_high = between(np.array([-20.0, 5.0, 30.0, 9.0]), low, high, corner)
    assert value == pytest.approx([1.0, 5.0, 9.0, 9.0 - 0.1 * math.log(2)], abs=1e-12)
    assert slope == pytest.approx([0.0, 1.0, 0.0, 0.5], abs=1e-12)
    assert by_high == pytest.approx([0.0, 0.0, 1.0, 0.5], abs=1e-12)
    least, by_first = lesser(np.array([2.0, 5.0, 3.0]), np.array([3.0, 1.0, 3.0]), corner)
    assert least == pytest.approx([2.0, 1.0, 3.0 - 0.1 * math.log(2)], abs=1e-4)
    assert by_first == pytest.approx([1.0, 0.0, 0.5], abs=1e-4)


@pytest.mark.parametrize("at", [-3.0, -0.2, 0.0, 0.4, 6.0])
def test_slopes_are_those_of_differences(at: float) -> None:
    here = np.array([at])
    assert softened_step(here)[1][0] == pytest.approx(slope_of(softened_step, at), rel=1e-5)
    assert exponential(here)[1][0] == pytest.approx(slope_of(exponential, at), rel=1e-5)


def test_nothing_overflows() -> None:
    """Warnings are errors here: whatever a first guess hands over, a number comes back."""
    one = np.ones(1)
    for found in (
        exponential(np.minimum(WILD, 1e200)),
        softened_step(WILD),
        between(WILD, -one, one, 0.1 * one),
        junction_with_resistance(WILD, 0.0257 * one, 1e-14 * one, one),
    ):
        assert all(np.isfinite(part).all() for part in found)
