"""Tolerances: ends as worked by hand, shares as counted, refusals in a sentence."""

from __future__ import annotations

import numpy as np
import pytest

from tests.bench.conftest import circuit_of
from tutor.bench.spread import spread
from tutor.errors import OutOfRange, UnknownName

SHUNT = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "r_z": 0.01, "I_ZT": 0.02, "I_L": 0.01}


def test_corners_are_those_worked_by_hand() -> None:
    """A stiff zener: I_R = (V_I - V_Z)/R, R and V_Z 5 % either way; 5.445/209 and 6.355/231 and their like by hand."""
    found = spread(circuit_of("zener-shunt"), SHUNT, {"R": 0.05, "V_Z": 0.05}, 50)
    by_hand = [(15 - volts) / ohms for volts in (9.1 * 0.95, 9.1 * 1.05) for ohms in (209.0, 231.0)]
    assert found.ends("I_R") == pytest.approx((min(by_hand), max(by_hand)), rel=2e-3)
    assert found.corners.settled.size == 4


def test_chance_stays_within_the_corners_and_is_the_same_each_time() -> None:
    """I_R moves one way with each part, so no draw lies outside the corners; a uniform V_Z makes a uniform output."""
    found = spread(circuit_of("zener-shunt"), SHUNT, {"R": 0.05, "V_Z": 0.05}, 4000)
    low, high = found.ends("I_R")
    drawn = found.chance.values["I_R"]
    assert low <= drawn.min() and drawn.max() <= high
    again = spread(circuit_of("zener-shunt"), SHUNT, {"R": 0.05, "V_Z": 0.05}, 4000)
    assert np.array_equal(again.chance.values["I_R"], drawn)
    middle = found.share_within("V_O", 9.1 * 0.975, 9.1 * 1.025)
    assert middle == pytest.approx(0.5, abs=0.03), "half of a uniform band"
    counts, limits = found.histogram("V_O", 10)
    assert counts.sum() == 4000 and counts == pytest.approx([400] * 10, abs=90)
    assert (limits[0], limits[-1]) == pytest.approx((9.1 * 0.95, 9.1 * 1.05), rel=3e-3)


@pytest.mark.parametrize(
    ("bands", "sets", "error", "says"),
    [
        ({"Q": 0.05}, 10, UnknownName, "Q has a band but no value"),
        ({"R": 1.5}, 10, OutOfRange, "between 0 and 100 %"),
        ({}, 10, OutOfRange, "1 to 10 parts"),
        ({"R": 0.05}, 0, OutOfRange, "1 to 100000 sets"),
    ],
)
def test_what_cannot_be_spread_is_said(bands: dict, sets: int, error: type, says: str) -> None:
    with pytest.raises(error, match=says):
        spread(circuit_of("zener-shunt"), SHUNT, bands, sets)
