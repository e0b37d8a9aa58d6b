"""One problem of each level of find-the-fault, worked by hand: readings from the table, arithmetic of our own.

Each sheet takes the values from the problem's table, works the readings of every fault on offer with a pocket
calculator's rules, and finds the one that the table shows.
"""

from __future__ import annotations

from math import sqrt

import pytest

from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.solution.desk import our_desk


def problem(name: str) -> Posed:
    return posed(our_desk(), name)


def right(item: Posed, key: str) -> str:
    return next(point.state for point in item.problem.waypoints if point.key == key)


def read(item: Posed) -> list[str]:
    """What the table says the meters show."""
    return [row.value for row in item.problem.table if row.label.startswith("read: ")]


def test_level_1_a_bad_joint_before_a_zener_shunt() -> None:
    """12 V, 180 ohms, 6.2 V, 390 ohms. Healthy: (12 - 6.2)/180 = 32.2 mA; 25.6 mA is read while the output stands."""
    item = problem("find-the-fault:1:10")
    given = {name: quantity.value for name, quantity in item.problem.given.items()}
    assert given == {"V_I": 12.0, "R": 180.0, "V_Z": 6.2, "R_L": 390.0}
    assert read(item) == ["6.2 V", "6.2 V", "25.6 mA"]
    with_joint = (12 - 6.2) / (180 + 47)
    assert with_joint == pytest.approx(0.0256, abs=5e-5)
    others = {
        "series resistor open": 0.0,
        "series resistor ten times too large": 12 / (1800 + 390),
        "zener fitted the wrong way round": (12 - 0.7) / 180,
        "zener shorted": 12 / 180,
    }
    assert all(abs(current - 0.0256) > 0.015 for current in others.values())
    assert set(item.problem.waypoints[0].options) == {*others, "a bad joint of 47 Ω in the supply lead"}
    assert right(item, "fault") == "a bad joint of 47 Ω in the supply lead"
    # With the zener shorted the output is gone, and 12 V/180 ohms = 66.7 mA is drawn.
    assert (right(item, "way_1"), right(item, "way_2")) == ("falls", "rises")


def test_level_2_a_bad_joint_before_a_follower() -> None:
    """15 V, 470 ohms, 6.8 V, 47 ohms: the input sags by 10 ohms times what base resistor and collector draw."""
    item = problem("find-the-fault:2:38")
    given = {name: quantity.value for name, quantity in item.problem.given.items()}
    assert [given[name] for name in ("V_I", "R", "V_Z", "h_FE", "R_L")] == [15.0, 470.0, 6.8, 50.0, 47.0]
    collector = (6.8 - 0.7) / 47 * 50 / 51
    terminals = (15 - 10 * collector + 10 * 6.8 / 470) / (1 + 10 / 470)
    assert terminals == pytest.approx(13.58, abs=5e-3)
    assert read(item) == ["13.58 V", "6.8 V", "6.1 V", "6.8 V", "6.1 V"]
    assert right(item, "fault") == "a bad joint of 10 Ω in the supply lead"
    # With the transistor shorted the output is the supply and the base stays on its zener.
    assert "shorted from collector to emitter" in item.problem.waypoints[1].prompt
    assert right(item, "against") == "output voltage, loaded"
    # Base on emitter, no load: no junction to lose, 6.8 V where 6.1 V should be.
    assert "shorted from base to emitter: the output voltage, unloaded" in item.problem.waypoints[2].prompt
    assert right(item, "way_1") == "rises"


def test_level_3_one_diode_of_a_bridge_open() -> None:
    """12 V r.m.s., 1500 uF, 100 mA, 50 Hz: two drops; 0.1/(2*50*1500u) when whole, twice that with half the crests."""
    item = problem("find-the-fault:3:10")
    crest = sqrt(2) * 12 - 1.4
    whole, half = 0.1 / (100 * 1.5e-3), 0.1 / (50 * 1.5e-3)
    assert read(item) == [f"{crest - half / 2:.2f} V", f"{half:.3f} V", "50 Hz"]
    assert whole == pytest.approx(0.667, abs=5e-4)
    assert right(item, "fault") == "one of the four diodes open"
    assert "mean output voltage" in item.problem.waypoints[1].prompt and right(item, "way_1") == "rises"  # higher tap


def test_level_3_zener_shorted_or_output_shorted() -> None:
    """20 V, 100 ohms, 8.2 V: no output either way; without the load 20/100 against (20 - 8.2)/100 amperes."""
    item = problem("find-the-fault:3:4")
    assert read(item) == ["20 V", "0 V"]
    assert right(item, "pair") == "zener shorted, or output shorted"
    assert right(item, "next") == "supply current, unloaded"
    foretold = item.problem.waypoints[2].answer
    assert "the zener shorted" in item.problem.waypoints[2].prompt
    assert foretold is not None and foretold.value == pytest.approx(20 / 100) and foretold.unit == "A"
    step = next(step for step in item.solution.steps if step.waypoint == "next")
    assert f"{(20 - 8.2) / 100 * 1e3:.1f} mA" in step.text.replace("\u00a0", " ")
