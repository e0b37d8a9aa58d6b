"""Raw and whole supplies in time against the simulator; the limits are those that hold.

Source of the expected values: ngspice 39 (Debian 12) on decks with the same curves and numbers, which the bench writes
(`bench_deck`); that the raw supplies' decks are what hand-written ones say is held in `test_raw_supply.py`.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from tests.bench.against_simulator import (
    Compared,
    compare_in_time,
    measured,
    steady_lines,
    supply_lines,
    told_typically,
)
from tests.bench.conftest import HEAT_ALONE, IN_TIME, STEADY, circuit_of
from tests.bench.report_against_simulator import STEADY_KINDS, TIMED_KINDS, table_of
from tutor.bench import any_circuit
from tutor.bench.any_circuit import on_the_bench
from tutor.bench.points import bench_deck
from tutor.bench.whole_supply import LOST_SHARE, whole_wave
from tutor.solution.desk import our_desk

READINGS = {"V_PK": 1e-4, "V_TROUGH": 1e-4, "V_DC": 5e-4, "V_RIP": 5e-4, "I_CREST": 5e-4, "I_SEC": 5e-4, "V_O": 1e-4,
            "V_RIP_O": 2e-3}  # fmt: skip
PICKED = slice(1, None, 3)  # of the points: least line, load, reservoir and temperature; the report works all
WHOLE = tuple(name for name in IN_TIME if name.startswith("whole-supply"))


@pytest.mark.parametrize("name", IN_TIME)
def test_a_supply_in_time_agrees(name: str, simulator: str, tmp_path: Path) -> None:
    """Ripple, trough, crest and mean, the winding's current, the output and its ripple: line, load, reservoir and
    temperature moved, a regulator that drops out in the trough among them."""
    found = compare_in_time(name, simulator, tmp_path, PICKED)
    assert found.points == len(supply_lines(name)[PICKED])
    expected = set(READINGS) if name in WHOLE else set(READINGS) - {"V_O", "V_RIP_O"}
    assert set(found.worst) == expected
    assert all(apart < READINGS[kind] for kind, apart in found.worst.items()), found.worst


def test_a_wrong_diode_is_noticed(simulator: str, tmp_path: Path) -> None:
    """Twice the resistance in the deck's diodes moves the crest current by more than is allowed."""
    circuit = circuit_of("reservoir-bridge")
    told = told_typically(circuit)
    deck = bench_deck(circuit, told)
    assert "RS=0.04" in deck
    seen = measured(simulator, deck.replace("RS=0.04", "RS=0.08"), tmp_path)
    ours = float(on_the_bench(circuit, told).values["I_CREST"][0])
    assert abs(ours / seen["i_crest"] - 1) > 10 * READINGS["I_CREST"]


@pytest.mark.parametrize("name", WHOLE)
def test_hold_up_is_as_long_as_in_the_simulator(name: str, simulator: str, tmp_path: Path) -> None:
    """The deck with everything before the reservoir taken out, begun in the trough: when the output has lost 2 %."""
    circuit = circuit_of(name)
    told = told_typically(circuit) | {"C": 1e-3}
    found = on_the_bench(circuit, told).values
    held, trough, lost = (float(found[name][0]) for name in ("t_HOLD", "V_TROUGH", "V_O"))
    assert held > 1e-3
    before = re.compile(r"VS|RS|DD|RD|\.meas|\.tran")
    deck = "\n".join(line for line in bench_deck(circuit, told).splitlines() if not before.match(line))
    deck = deck.replace(".end", "")
    deck = re.sub(r"\.ic v\(raw\)=\S+", f".ic v(raw)={trough:.9g}", deck)
    deck += f"\n.tran {held / 2000:g} {1.2 * held:g} 0 {held / 2000:g}\n"
    deck += f".meas tran held WHEN v(out)={(1 - LOST_SHARE) * lost:.9g} FALL=1\n.end\n"
    assert measured(simulator, deck, tmp_path)["held"] == pytest.approx(held, rel=1e-3)


def test_a_supply_that_is_too_low_drops_out_and_says_so() -> None:
    """9 V behind a winding of 9 V at 0.5 A: the trough lies below what the regulator needs, and the rail has ripple."""
    circuit = circuit_of("whole-supply-three-terminal")
    sets = told_typically(circuit) | {"V_SEC": np.array([9.0, 15.0]), "C": 2.2e-3}
    found = whole_wave(circuit, sets)
    assert found.drops_out.tolist() == [True, False]
    assert found.readings["V_RIP_O"][0] > 0.3 and found.readings["V_RIP_O"][1] < 1e-3
    assert found.readings["t_HOLD"][0] == 0.0 < found.readings["t_HOLD"][1]
    assert found.output.min(axis=0)[0] == pytest.approx(found.readings["V_TROUGH"][0] - 2.0, abs=0.1), "less V_DROP"


@pytest.mark.parametrize(("name", "power"), [("whole-supply-follower", "P_Q"), ("whole-supply-three-terminal", "P_D")])
def test_the_mean_power_warms_the_junction(name: str, power: str) -> None:
    """All rises one upon another, with the sum of the three thermal resistances: 1.9, 0.5 and 5 K/W above 40 °C."""
    found = on_the_bench(circuit_of(name), told_typically(circuit_of(name))).values
    heat = float(found[power][0])
    assert found["T_J"][0] == pytest.approx(40 + heat * 7.4)
    assert found["T_C"][0] == pytest.approx(40 + heat * 5.5)
    assert found["T_S"][0] == pytest.approx(40 + heat * 5.0)


@pytest.mark.parametrize("name", WHOLE)
def test_what_goes_in_comes_out(name: str) -> None:
    """The charge that the diodes bring is what the regulator takes: the same pulses, the same mean."""
    circuit = circuit_of(name)
    found = whole_wave(circuit, told_typically(circuit))
    assert found.raw.amperes[:-1].mean() == pytest.approx(found.readings["I_I"][0], rel=2e-3)
    assert found.readings["V_I"][0] == found.readings["V_DC"][0]
    assert found.readings["V_O"][0] == pytest.approx(found.output[:-1, 0].mean(), rel=1e-6)


def test_a_set_alone_is_the_set_among_others() -> None:
    circuit = circuit_of("whole-supply-follower")
    told = told_typically(circuit)
    together = on_the_bench(circuit, {**told, "C": np.array([1e-3, 2.2e-3])}, np.array([0.0, 50.0]))
    alone = on_the_bench(circuit, {**told, "C": 2.2e-3}, 50.0)
    for symbol, values in alone.values.items():
        assert together.values[symbol][1] == pytest.approx(values[0], rel=1e-6, abs=1e-9), symbol
    assert set(alone.assumed) & {"r_z", "I_ZT"} and not set(alone.assumed) & set(told)


def test_many_sets_are_worked_piece_by_piece(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same comes out, and what follows by hand from the first set stands for all: C = I/(2 f V_RIP), 5 mF."""
    circuit = circuit_of("reservoir-bridge")
    told = {"V_SEC": 15.0, "f": 50.0, "I_L": 0.5, "V_RIP": np.array([1.0, 2.0, 3.0])}
    whole = on_the_bench(circuit, told)
    monkeypatch.setattr(any_circuit, "AT_ONCE", 2)
    pieces = on_the_bench(circuit, told)
    assert whole.assumed["C"] == pieces.assumed["C"] == pytest.approx(5e-3)
    for symbol, values in whole.values.items():
        assert pieces.values[symbol] == pytest.approx(values, rel=1e-9), symbol
    assert pieces.settled.size == 3


def test_every_circuit_but_a_path_of_heat_is_on_the_bench() -> None:
    """Steady ones and those in time are all there are; and 500 points at least are compared with the simulator."""
    assert sorted((*STEADY, *IN_TIME)) == sorted(set(our_desk().folder.circuit_ids()) - set(HEAT_ALONE))
    assert sum(len(steady_lines(name)) for name in STEADY) + sum(len(supply_lines(name)) for name in IN_TIME) >= 500


def test_the_report_shows_every_kind() -> None:
    row = Compared("follower", 3, {"output": 1e-7, "base": 2e-6})
    table = table_of("Steady", STEADY_KINDS, [row])
    assert [str(column.header) for column in table.columns] == ["circuit", "points", *STEADY_KINDS]
    assert next(iter(table.columns[4].cells)) == "2.0e-06"
    assert set(TIMED_KINDS) == set(READINGS)
