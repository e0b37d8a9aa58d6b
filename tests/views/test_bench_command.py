"""`steadyrail bench`: what it prints beside the hand answer, its files, its JSON, and what it refuses."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from tests.views.test_commands import run
from tutor.bench.points import bench_points
from tutor.solution.desk import our_desk
from tutor.solution.own import solve
from tutor.views.sketch import sketch

SHUNT = ["bench", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V", "r_z=6", "I_L=10mA"]
TOLD = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "r_z": 6.0, "I_L": 0.01}


def test_the_bench_stands_beside_the_hand_answer(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, *SHUNT)
    assert (status, err) == (0, "")
    lines = {line.split()[0]: line for line in out.splitlines() if line.strip()}
    assert "by hand: the zener is in breakdown" in out
    hand = solve("zener-shunt", TOLD).values["I_Z"]
    assert hand.text in lines["I_Z"] and "%" in lines["I_Z"]
    assert "Assumed of the parts: I_ZT = " in out and "r_z =" not in out.split("Assumed")[1].splitlines()[0]


def test_the_json_holds_numbers_of_the_bench_and_of_solve(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, *SHUNT, "--sweep", "I_L=0:40mA:5", "--json")
    record = json.loads(out)
    found = bench_points(our_desk().circuit("zener-shunt"), TOLD)
    assert record["values"]["V_O"]["bench"]["value"] == pytest.approx(found.values["V_O"][0])
    assert record["values"]["I_Z"]["hand"]["value"] == pytest.approx(solve("zener-shunt", TOLD).values["I_Z"].value)
    apart = found.values["I_Z"][0] / solve("zener-shunt", TOLD).values["I_Z"].value - 1
    assert record["values"]["I_Z"]["apart"] == pytest.approx(apart)
    assert record["sweep"]["at"] == pytest.approx([0, 0.01, 0.02, 0.03, 0.04])
    assert record["sweep"]["values"]["V_O"][1] == pytest.approx(found.values["V_O"][0], rel=1e-6)
    assert record["sweep"]["unsettled"] == 0 and record["settled"]


def test_a_sweep_is_written_as_a_table_with_units(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "sweep.csv"
    _, out, _ = run(capsys, *SHUNT, "--sweep", "T=0:75:4", "--csv", str(path))
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    assert rows[0][:2] == ["T (°C)", "V_O (V)"] and [float(row[0]) for row in rows[1:]] == [0, 25, 50, 75]
    assert "T from 0 °C to 75 °C" in out


def test_a_deck_is_written_that_names_every_part(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "deck.cir"
    run(capsys, *SHUNT, "--netlist", str(path))
    text = path.read_text(encoding="utf-8")
    assert text.startswith("* Zener shunt regulator") and text.rstrip().endswith(".end")
    assert all(word in text for word in ("V_in in 0 15", "RR in out 220", "DZ ", "BL out 0"))


def test_tolerances_are_told_with_ends_share_and_bars(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, *SHUNT, "--spread", "V_Z=5%", "--within", "V_O=9V:20V", "--sets", "400")
    assert "V_Z ±5 %" in out and "of 400 sets drawn by chance" in out and "▇" in out
    _, out, _ = run(capsys, *SHUNT, "--spread", "V_Z=5%", "--within", "V_O=9V:20V", "--sets", "400", "--json")
    spread = json.loads(out)["spread"]
    assert spread["ends"]["V_O"]["low"]["value"] == pytest.approx(9.1 * 0.95, rel=0.02)
    assert 0.5 < spread["within"]["share"] < 0.8 and sum(spread["histogram"]["counts"]) == 400


REFUSED = [
    (["--sweep", "I_L"], "'I_L' is no sweep; write it like I_L=0:100mA or V_I=12V:20V:17"),
    (["--sweep", "I_Q=0:1"], "'zener-shunt' has no value 'I_Q' to sweep; did you mean"),
    (["--sweep", "I_L=0:5V"], "'I_L=0:5V': 5V cannot be read, this is a voltage; a current in A was asked"),
    (["--sweep", "I_L=1:0"], "'I_L=1:0': a sweep runs from the lesser end to the greater"),
    (["--sweep", "I_L=0:1:x"], "'I_L=0:1:x': 'x' is no number of points"),
    (["--sweep", "I_L=0:1:1"], "a sweep has 2 to 10001 points (got 1)"),
    (["--temperature", "900"], "a temperature on the bench lies between -60 °C and 200 °C"),
    (["--temperature", "warm"], "'--temperature warm': warm cannot be read"),
    (["--csv", "x.csv"], "--csv writes a sweep: say which with --sweep"),
    (["--within", "V_O=1:2"], "--within asks what parts within their bands do"),
    (["--spread", "V_Z=much"], "--spread V_Z=much: "),
    (["--spread", "V_Z=5%", "--within", "V_X=1:2"], "the bench has no quantity 'V_X' here"),
    (["--spread", "h_FE=5%"], "h_FE has a band but no value; give one"),
    (["--netlist", "/nowhere/at/all.cir"], "/nowhere/at/all.cir cannot be written"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "sentence"), REFUSED, ids=lambda item: " ".join(item)[:40])
def test_what_it_cannot_use_gets_one_sentence(
    words: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = run(capsys, *SHUNT, *words)
    assert (status, out) == (2, "")
    assert err.startswith(f"steadyrail: {sentence}") and err.count("\n") == 1


def test_a_sketch_goes_from_corner_to_corner() -> None:
    """A rising straight line begins below on the left and ends above on the right; a level one lies in the middle."""
    lines = sketch([0, 1, 2, 3], [0, 1, 2, 3], 8, 4)
    assert len(lines) == 4 and lines[-1][0] != " " and lines[0].rstrip()[-1] != " " and len(lines[0]) == 8
    level = sketch([0, 1], [5, 5], 8, 5)
    assert level[2].strip() and not any(line.strip() for place, line in enumerate(level) if place != 2)
    assert sketch([0, 1], [float("nan")] * 2, 8, 3) == ["", "", ""]
