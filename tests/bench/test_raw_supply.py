"""The raw supply in time, held against the simulator's runs of the hand-written decks and against what must balance.

Source of the expected values: ngspice 39 (Debian 12) on `tests/witness/transients/*.cir`, the same rectifier diodes.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.bench.conftest import circuit_of
from tutor.bench.any_circuit import on_the_bench
from tutor.bench.charging import hold_up
from tutor.bench.raw_supply import raw_wave
from tutor.errors import OutOfRange, Unreachable
from tutor.quantities.symbols import is_symbol

WITNESS = Path(__file__).parents[1] / "witness" / "test_transients.py"
FORMS = ("half-wave", "centre-tap", "bridge")


def transients():
    """The runs of the witness, found by path: its folder is no package."""
    spec = importlib.util.spec_from_file_location("witness_transients", WITNESS)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("form", FORMS)
def test_crest_trough_and_mean_are_those_of_the_simulator(form: str, simulator: str) -> None:
    """To 2 parts in a thousand; ripple to 5. A large reservoir behind a large resistance has not come to rest in the
    twelve cycles that are simulated: those runs are left out."""
    steady = [
        run for run in transients().runs(form, simulator)
        if run.values["C"] * (run.values["R_W"] + 0.1) * 12 < 12 / run.values["f"] / 2
    ]  # fmt: skip
    assert len(steady) >= 5
    values = {name: np.array([run.values[name] for run in steady]) for name in steady[0].values}
    wave = raw_wave(circuit_of(f"reservoir-{form}"), values, 27.0)
    assert wave.settled.all()
    for symbol, name, close in (
        ("V_PK", "crest", 2e-3), ("V_TROUGH", "trough", 2e-3), ("V_DC", "mean", 2e-3), ("V_RIP", "ripple", 5e-3),
    ):  # fmt: skip
        seen = np.array([getattr(run, name) for run in steady])
        assert wave.readings[symbol] == pytest.approx(seen, rel=close), symbol


@pytest.mark.parametrize("form", FORMS)
def test_what_is_charged_is_what_is_drawn(form: str) -> None:
    """Over a period the reservoir ends where it began, so the mean of the pulses is the load current."""
    told = {"V_SEC": 15.0, "f": 50.0, "C": 2.2e-3, "I_L": 0.5, "R_W": 0.5}
    wave = raw_wave(circuit_of(f"reservoir-{form}"), told)
    assert wave.amperes[:-1].mean() == pytest.approx(0.5, rel=2e-3)
    assert wave.readings["I_CREST"][0] > 4 * 0.5, "short pulses are high"
    assert 0.2 < wave.readings["phi"][0] < 1.0


def test_hand_analysis_is_the_limit_of_a_good_winding() -> None:
    """Without resistance the crest is that of the winding less two diodes at the height of their pulses, some 2 V in
    all; and the ripple no more than I/(2 f C)."""
    told = {"V_SEC": 15.0, "f": 50.0, "C": 4.7e-3, "I_L": 0.2, "R_W": 0.0}
    found = raw_wave(circuit_of("reservoir-bridge"), told).readings
    assert found["V_PK"][0] == pytest.approx(15 * 2**0.5 - 2.0, abs=0.4)
    assert 0.6 * 0.2 / (100 * 4.7e-3) < found["V_RIP"][0] < 0.2 / (100 * 4.7e-3)


def test_a_load_that_is_a_resistance_takes_what_it_takes() -> None:
    wave = raw_wave(circuit_of("reservoir-bridge"), {"V_SEC": 15.0, "f": 50.0, "C": 2.2e-3, "R_L": 40.0, "R_W": 0.5})
    assert wave.amperes[:-1].mean() == pytest.approx((wave.volts[:-1] / 40).mean(), rel=2e-3)


def test_hold_up_is_charge_over_current() -> None:
    """2.2 mF from 16 V down to 10 V at 0.5 A: 26.4 ms; nothing where it is below already."""
    supply, farads = np.array([16.0, 9.0]), np.array(2.2e-3)
    assert hold_up(supply, np.array(10.0), farads, lambda volts: np.full(2, 0.5)) == pytest.approx([0.0264, 0.0])


def test_hold_up_into_a_resistance_is_a_logarithm() -> None:
    """R C ln(V_1/V_2), worked by hand: 40 ohm and 2.2 mF from 16 V down to 10 V, 41.36 ms."""
    found = hold_up(np.array([16.0]), np.array(10.0), np.array(2.2e-3), lambda volts: volts / 40.0)
    assert found == pytest.approx([0.04136], rel=1e-3)
    assert np.isnan(hold_up(np.array([16.0]), np.array(10.0), np.array(2.2e-3), lambda volts: 0.0 * volts)[0])


def test_a_supply_of_its_own_holds_until_it_has_lost_a_tenth_of_its_trough() -> None:
    """C times a tenth of the trough over the current."""
    told = {"V_SEC": 15.0, "f": 50.0, "C": 2.2e-3, "I_L": 0.5, "R_W": 0.5}
    found = raw_wave(circuit_of("reservoir-bridge"), told).readings
    assert found["t_HOLD"][0] == pytest.approx(2.2e-3 * 0.1 * found["V_TROUGH"][0] / 0.5, rel=1e-6)


def test_rectifiers_side_by_side_are_those_that_stand_alone() -> None:
    """One diode (1), a tapped winding (2) and a bridge (3), each with letters of its own and the load they share."""
    told = {"V_SEC": 9.0, "f": 50.0, "C": 2.2e-3, "I_L": 0.4, "R_W": 0.5}
    together = on_the_bench(circuit_of("rectifiers"), told)
    for number, form in enumerate(FORMS, start=1):
        alone = on_the_bench(circuit_of(f"reservoir-{form}"), told).values
        for symbol in ("V_PK", "V_TROUGH", "V_RIP", "V_DC", "PIV", "I_SEC", "VA", "I_CREST", "phi", "t_HOLD"):
            assert together.values[f"{symbol}_{number}"] == pytest.approx(alone[symbol], rel=1e-9), symbol
    assert all(is_symbol(symbol) for symbol in together.values)


def test_a_warm_diode_drops_less() -> None:
    """(V - E_G - 3 kT/q)/T by hand, some 0.7 mV less a kelvin at the height of a pulse: two diodes, 50 K."""
    told = {"V_SEC": 15.0, "f": 50.0, "C": 4.7e-3, "I_L": 0.5, "R_W": 0.5}
    cold, warm = raw_wave(circuit_of("reservoir-bridge"), told, np.array([0.0, 50.0])).readings["V_PK"]
    assert 2 * 50 * 0.5e-3 < warm - cold < 2 * 50 * 1e-3


def test_the_winding_may_be_told_by_its_primary_or_its_crest() -> None:
    """230 V over 15, and 230/15 times the square root of 2; where a ripple is told, C is by hand: 0.5/(100 x 1)."""
    circuit, rest = circuit_of("reservoir-bridge"), {"f": 50.0, "C": 2.2e-3, "I_L": 0.5, "R_W": 0.5}
    plain = raw_wave(circuit, {"V_SEC": 230 / 15, **rest}).readings["V_PK"]
    assert raw_wave(circuit, {"V_PRI": 230.0, "N_T": 15.0, **rest}).readings["V_PK"] == pytest.approx(plain)
    assert raw_wave(circuit, {"V_SPK": 2**0.5 * 230 / 15, **rest}).readings["V_PK"] == pytest.approx(plain)
    told = {"V_SEC": 15.0, "f": 50.0, "V_RIP": 1.0, "I_L": 0.5}
    assert raw_wave(circuit, told).used["C"] == pytest.approx(5e-3)


def test_a_supply_without_a_load_stands_at_its_crest() -> None:
    """Nothing is drawn: no ripple, no resistance that could be told, and what is held is held without end."""
    found = on_the_bench(circuit_of("reservoir-bridge"), {"V_SEC": 15.0, "f": 50.0, "C": 4.7e-3, "I_L": 0.0})
    assert found.settled.all() and found.values["V_RIP"][0] < 1e-4
    assert not {"R_L", "t_HOLD"} & set(found.values)


def test_a_circuit_without_a_rectifier_is_refused() -> None:
    with pytest.raises(Unreachable, match="no rectifier with one reservoir"):
        raw_wave(circuit_of("zener-shunt"), {})
    with pytest.raises(Unreachable, match="no rectifier with one reservoir"):
        raw_wave(circuit_of("rectifiers"), {})
    with pytest.raises(OutOfRange, match="between -60 °C and 200 °C"):
        raw_wave(circuit_of("reservoir-bridge"), {}, 400.0)
