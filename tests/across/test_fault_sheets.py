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
    """20 V, 120 ohms, 5.6 V, 390 ohms. Healthy: (20 - 5.6)/120 = 120 mA; 86.2 mA is read while the output stands."""
    item = problem("find-the-fault:1:1")
    given = {name: quantity.value for name, quantity in item.problem.given.items()}
    assert given == {"V_I": 20.0, "R": 120.0, "V_Z": 5.6, "R_L": 390.0}
    assert read(item) == ["5.6 V", "5.6 V", "86.2 mA"]
    with_joint = (20 - 5.6) / (120 + 47)
    assert with_joint == pytest.approx(0.0862, abs=5e-5)
    others = {
        "series resistor open": 0.0,
        "zener open": 20 / (120 + 390),
        "zener fitted the wrong way round": (20 - 0.7) / 120,
        "zener shorted": 20 / 120,
    }
    assert all(abs(current - 0.0862) > 0.02 for current in others.values())
    assert set(item.problem.waypoints[0].options) == {*others, "a bad joint of 47 Ω in the supply lead"}
    assert right(item, "fault") == "a bad joint of 47 Ω in the supply lead"
    assert (right(item, "way_1"), right(item, "way_2")) == ("falls", "falls")  # 5.6 V to 0.7 V, loaded and not


def test_level_2_a_follower_whose_base_and_emitter_are_joined() -> None:
    """20 V, 390 ohms, 10 V, 39 ohms: unloaded the output has no junction to lose, loaded R and R_L divide."""
    item = problem("find-the-fault:2:4")
    given = {name: quantity.value for name, quantity in item.problem.given.items()}
    assert [given[name] for name in ("V_I", "R", "V_Z", "h_FE", "R_L")] == [20.0, 390.0, 10.0, 50.0, 39.0]
    divided = 20 * 39 / (390 + 39)
    assert divided == pytest.approx(1.818, abs=5e-4)
    assert read(item) == ["20 V", "10 V", "10 V", "1.818 V", "1.818 V"]
    assert right(item, "fault") == "pass transistor shorted from base to emitter"
    # With the transistor open no current reaches the output, so unloaded too it stands at nothing; 10 V is read.
    assert "the pass transistor open" in item.problem.waypoints[1].prompt
    assert right(item, "against") == "output voltage, unloaded"
    # Collector on emitter: the output is the supply, 20 V where 10 V - 0.7 V should be.
    assert right(item, "way_1") == "rises"
    # R ten times too large: 19.3 V/(3900 + 51 * 39) ohms into the base, which then stands 3.9 k times that below 20 V.
    base = 20 - 3900 * 19.3 / (3900 + 51 * 39)
    step = next(step for step in item.solution.steps if "ten times too large" in step.title)
    assert f"{base:.2f} V" == "7.22 V" and "7.22 V" in step.text.replace("\u00a0", " ")


def test_level_3_one_diode_of_a_bridge_open() -> None:
    """10 V r.m.s., 4700 uF, 100 mA, 50 Hz: two drops; 0.1/(2*50*4700u) when whole, twice that with half the crests."""
    item = problem("find-the-fault:3:5")
    crest = sqrt(2) * 10 - 1.4
    whole, half = 0.1 / (100 * 4.7e-3), 0.1 / (50 * 4.7e-3)
    assert read(item) == [f"{crest - half / 2:.2f} V", f"{half:.3f} V", "50 Hz"]
    assert whole == pytest.approx(0.213, abs=5e-4)
    assert right(item, "fault") == "one of the four diodes open"
    # A reservoir of a third: three times the ripple, still at 100 Hz.
    assert right(item, "way_1") == "stays" and "frequency" in item.problem.waypoints[1].prompt


def test_level_3_zener_shorted_or_transistor_open() -> None:
    """18 V, 220 ohms, 7.5 V: no output either way; the base tells, at nothing or at the zener's voltage."""
    item = problem("find-the-fault:3:4")
    assert read(item) == ["18 V", "0 V"]
    assert right(item, "pair") == "zener shorted, or pass transistor open"
    assert right(item, "next") == "base voltage, unloaded"
    foretold = item.problem.waypoints[2].answer
    assert foretold is not None and foretold.value == pytest.approx(7.5) and foretold.unit == "V"
