"""No principle is broken by the truth: each is held against every quantity of every family, level and 50 numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest

import tutor
from tutor.across.claims import facts_of
from tutor.across.principles import OPEN, PRINCIPLES, Facts, broken
from tutor.generate.draws import Drawn, draw_numbers
from tutor.quantities.symbols import is_symbol
from tutor.solution.desk import our_desk

NUMBERS = range(1, 51)


def true_values(drawn: Drawn) -> Iterator[tuple[str, float]]:
    """Every value that a problem's asks come to, and every value on the way to one, at its corner."""
    for key in drawn.region.plan.keys:
        value = drawn.run.env.get(key)
        if is_symbol(key) and value is not None:
            yield key, float(value[0])
    for stage, outcome in zip(drawn.region.plan.asks, drawn.run.outcomes, strict=True):
        if stage is not None and outcome is not None:
            for step in stage.plan.steps[:-1]:
                yield step.target, float(outcome.steps[step.target][0])


def spoken_of(family: str) -> set[str]:
    """The principles that speak of some quantity of a family; none of its true values breaks one."""
    desk = our_desk()
    found: set[str] = set()
    for level in (1, 2, 3):
        ready = desk.level(family, level)
        for drawn in draw_numbers(ready, desk.parts, NUMBERS):
            facts = facts_of(ready, drawn)
            for key, value in true_values(drawn):
                if math.isfinite(value):
                    against = [item.id for item in broken(facts, key, value, clear=0.0)]
                    assert not against, (family, level, drawn.number, key, value, against)
                    found.update(item.id for item in PRINCIPLES if item.limits(facts, key) != OPEN)
    return found


@pytest.mark.parametrize("family", tutor.families())
def test_the_truth_breaks_no_principle(family: str) -> None:
    """And some principle speaks of each family whose circuit has one, so that the claim is not empty."""
    file = our_desk().family(family).circuit.replace("-", "_")
    assert bool(spoken_of(family)) == any(file in item.circuits for item in PRINCIPLES), family


# Facts in numbers, a quantity, a value that breaks a principle and one that does not; bounds by hand.
# 12 V over 100 ohm: 120 mA and 1.44 W at most. 12 V and 100 ohm on a load of 300 ohm: 9 V. 10 V r.m.s.: crest 14.14 V.
SHUNT = Facts("zener_shunt", {"V_I": 12.0, "R": 100.0, "R_L": 300.0, "V_Z": 6.2})
RESERVOIR = Facts("reservoir", {"V_SEC": 10.0, "I_L": 0.5})
FOLLOWER = Facts("follower", {"V_I_MIN": 12.0, "V_I_MAX": 15.0, "I_L": 0.1, "h_FE": 50.0, "V_Z": 6.2})
LOOP = Facts("opamp_series", {"V_I": 15.0, "V_REF": 2.5, "I_L": 0.1})
HEAT = Facts("heat_path", {"T_A_MIN": 15.0, "T_A_MAX": 40.0, "V_I": 15.0, "I_L": 0.5})
SOURCE = Facts("source", {"V_I_1": 11.0, "V_I_2": 12.0, "I_L_1": 0.5, "I_L_2": 0.1})
BOUNDS = [
    ("only-takes-away", SHUNT, "V_O", 10.0, 6.2),
    ("supply", SHUNT, "V_O", 14.0, 6.2),
    ("series-current", SHUNT, "I_Z", 0.14, 0.03),
    ("series-power", SHUNT, "P_Z_MAX", 1.7, 0.5),
    ("backward", SHUNT, "I_Z_MIN", -0.01, 0.01),
    ("resistance", SHUNT, "R_MAX", -50.0, 50.0),
    ("share-of-change", SHUNT, "S_V", 1.2, 0.05),
    ("crest", RESERVOIR, "V_PK", 16.0, 12.7),
    ("reverse-voltage", RESERVOIR, "PIV", 32.0, 27.0),
    ("pulses", RESERVOIR, "I_SEC", 0.4, 0.9),
    ("pass-power", FOLLOWER, "P_Q_MAX", 2.0, 0.9),
    ("base-current", FOLLOWER, "I_B", 0.1, 0.00196),
    ("below-zener", FOLLOWER, "V_O", 6.9, 5.5),
    ("above-reference", LOOP, "V_O", 1.2, 9.0),
    ("smoother", Facts("opamp_series", {"V_RIP": 2.0}), "V_RIP_O", 3.0, 0.001),
    ("air", HEAT, "T_J_MAX", 10.0, 90.0),
    ("efficiency", HEAT, "eta", 1.3, 0.6),
    ("unloaded", SOURCE, "V_OC", 10.0, 12.3),
]


@pytest.mark.parametrize(("name", "facts", "key", "wrong", "right"), BOUNDS, ids=[row[0] for row in BOUNDS])
def test_bounds_by_hand(name: str, facts: Facts, key: str, wrong: float, right: float) -> None:
    assert name in {item.id for item in broken(facts, key, wrong)}
    assert name not in {item.id for item in broken(facts, key, right)}


def test_every_principle_has_its_bound_by_hand() -> None:
    assert {row[0] for row in BOUNDS} == {item.id for item in PRINCIPLES}


def test_where_the_gain_is_asked_for_the_base_may_get_all_there_is() -> None:
    """The proviso: in follower-state:3 the base takes what the resistor can spare, and the gain follows from that."""
    open_gain = Facts("follower", FOLLOWER.given, frozenset({"h_FE"}))
    assert "base-current" in {item.id for item in broken(FOLLOWER, "I_B", 0.01)}
    assert "base-current" not in {item.id for item in broken(open_gain, "I_B", 0.01)}
