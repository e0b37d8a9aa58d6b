"""`steadyrail bench` of raw and whole supplies: readings over a charging period, and the deck in time."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.views.test_commands import run
from tutor.bench.any_circuit import on_the_bench
from tutor.solution.desk import our_desk

WHOLE = ["bench", "whole-supply", "form=three-terminal", "V_SEC=12V", "C=2200uF", "V_REG=9V", "I_L=0.5A"]
TOLD = {"V_SEC": 12.0, "C": 2.2e-3, "V_REG": 9.0, "I_L": 0.5}


def test_a_whole_supply_shows_its_readings_and_its_deck_in_time(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "supply.cir"
    status, out, err = run(capsys, *WHOLE, "--netlist", str(path), "--json")
    assert (status, err) == (0, "")
    values = json.loads(out)["values"]
    found = on_the_bench(our_desk().circuit("whole-supply-three-terminal"), TOLD).values
    for symbol, unit in (("I_CREST", "A"), ("t_HOLD", "s"), ("phi", ""), ("V_TROUGH", "V"), ("T_J", "degC")):
        assert values[symbol]["bench"]["value"] == pytest.approx(float(found[symbol][0]), rel=1e-9), symbol
        assert values[symbol]["bench"]["unit"] == unit
    text = path.read_text(encoding="utf-8")
    assert text.startswith("* Mains to rail with a three-terminal regulator") and text.rstrip().endswith(".end")
    assert all(word in text for word in (".tran ", "SIN(0 -16.97", ".meas tran V_TROUGH MIN v(raw)", "BU raw out"))


def test_a_raw_supply_is_swept(capsys: pytest.CaptureFixture[str]) -> None:
    """More load, a lower trough and a shorter time that it holds."""
    words = ["bench", "reservoir-bridge", "V_SEC=15V", "f=50Hz", "C=4700uF", "I_L=0.5A"]
    _, out, _ = run(capsys, *words, "--sweep", "I_L=0.2:0.8A:3", "--json")
    sweep = json.loads(out)["sweep"]["values"]
    for symbol in ("V_TROUGH", "t_HOLD"):
        low, middle, high = sweep[symbol]
        assert low > middle > high, symbol
