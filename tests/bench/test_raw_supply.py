"""The raw supply in time, held against the simulator's runs of the hand-written decks and against what must balance.

Source of the expected values: ngspice 39 (Debian 12) on `tests/witness/transients/*.cir`, the same rectifier diodes.
"""

from __future__ import annotations

import importlib.util
import shutil
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.bench.conftest import circuit_of
from tutor.bench.raw_supply import hold_up, raw_wave
from tutor.errors import Unreachable

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
def test_crest_trough_and_mean_are_those_of_the_simulator(form: str) -> None:
    """To 2 parts in a thousand; ripple to 5. A large reservoir behind a large resistance has not come to rest in the
    twelve cycles that are simulated: those runs are left out."""
    simulator = shutil.which("ngspice")
    if simulator is None:
        pytest.skip("ngspice is missing (Debian package ngspice)")
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
    assert wave.readings["I_FM"][0] > 4 * 0.5, "short pulses are high"
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
    found = hold_up(np.array([16.0, 9.0]), np.array(10.0), np.array(2.2e-3), np.array(0.5))
    assert found == pytest.approx([0.0264, 0.0])


def test_a_circuit_without_a_rectifier_is_refused() -> None:
    with pytest.raises(Unreachable, match="no rectifier with one reservoir"):
        raw_wave(circuit_of("zener-shunt"), {})
