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
    by_hand = [solve("zener-shunt", {**TOLD, "I_L": load}).values["V_O"].value for load in record["sweep"]["at"]]
    assert record["sweep"]["by_hand"]["V_O"] == pytest.approx(by_hand)
    ends = record["sweep"]["values"]["V_O"][:: len(by_hand) - 1]
    assert record["sweep"]["rate"]["R_OUT"]["value"] == pytest.approx((ends[0] - ends[1]) / 0.04)
    assert record["values"]["R_OUT"]["formula"] == "R_OUT = R ∥ r_z"


def test_a_sweep_is_written_as_a_table_with_units(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "sweep.csv"
    _, out, _ = run(capsys, *SHUNT, "--sweep", "T=0:75:4", "--csv", str(path))
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    assert rows[0][:2] == ["T (°C)", "V_O (V)"] and "by hand" not in str(rows[0])
    assert [float(row[0]) for row in rows[1:]] == [0, 25, 50, 75]
    assert "T from 0 °C to 75 °C" in out


def test_a_sweep_of_the_load_has_the_hand_answer_in_its_table(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "sweep.csv"
    _, out, _ = run(capsys, *SHUNT, "--sweep", "I_L=0:40mA:5", "--csv", str(path))
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    assert rows[0][:3] == ["I_L (A)", "V_O (V)", "V_O by hand (V)"]
    for row in rows[1:]:
        hand = solve("zener-shunt", {**TOLD, "I_L": float(row[0])}).values["V_O"].value
        assert float(row[2]) == pytest.approx(hand, rel=1e-8)
    # 15 V through 220 Ω into 40 mA leaves 6.2 V, under the zener (worked by hand): out of regulation at the far end.
    assert float(rows[-1][2]) == pytest.approx(15 - 220 * 0.04)
    assert "By hand: S_V = r_z/(R + r_z); R_OUT = R ∥ r_z." in out
    assert "V_O changes by −2.8" in out and "on the whole" in out


def test_slopes_stand_beside_what_is_derived(capsys: pytest.CaptureFixture[str]) -> None:
    """Without values, at typical ones. S_T = alpha_Z V_Z - k_BE; a pair that feeds back has no slope by hand: 0."""
    _, out, _ = run(capsys, "bench", "follower", "--json")
    values = json.loads(out)["values"]
    assert values["S_T"]["formula"] == "S_T = α_Z V_Z − k_BE"
    assert values["S_T"]["bench"]["value"] == pytest.approx(values["S_T"]["hand"]["value"], rel=0.02)
    _, out, _ = run(capsys, "bench", "feedback-pair-fed", "--json")
    values = json.loads(out)["values"]
    assert values["R_OUT"]["hand"]["value"] == 0 and values["R_OUT"]["bench"]["value"] > 0.1
    assert values["R_OUT"]["apart"] is None and "formula" not in values["R_OUT"]


def test_the_output_resistance_of_a_sweep_is_that_of_its_small_steps(capsys: pytest.CaptureFixture[str]) -> None:
    """Over a narrow sweep in regulation, what is read off end to end is the slope at the middle."""
    _, out, _ = run(capsys, *SHUNT, "--sweep", "I_L=9.9mA:10.1mA:3", "--json")
    record = json.loads(out)
    rate = record["sweep"]["rate"]["R_OUT"]["value"]
    assert rate == pytest.approx(record["values"]["R_OUT"]["bench"]["value"], rel=1e-3)


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


def test_tolerances_of_a_circuit_named_alone_are_about_its_typical_values(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "bench", "zener-shunt", "--spread", "R=5%", "--sets", "10", "--json")
    ends = json.loads(out)["spread"]["ends"]["I_R"]
    typical = bench_points(our_desk().circuit("zener-shunt"), our_desk().circuit("zener-shunt").typical).values["I_R"]
    assert ends["low"]["value"] < float(typical[0]) < ends["high"]["value"]


REFUSED = [
    (["--sweep", "I_L"], "'I_L' is no sweep; write it like I_L=0:100mA or V_I=12V:20V:17"),
    (["--sweep", "I_Q=0:1"], "'zener-shunt' has no value 'I_Q' to sweep; did you mean"),
    (["--sweep", "I_L=0:5V"], "'I_L=0:5V': 5V cannot be read, this is a voltage; a current in A was asked"),
    (["--sweep", "I_L=1:0"], "'I_L=1:0': a sweep runs from the lesser end to the greater"),
    (["--sweep", "I_L=0:1:x"], "'I_L=0:1:x': 'x' is no number of points"),
    (["--sweep", "I_L=0:1:1"], "a sweep has 2 to 10001 points (got 1)"),
    (["--temperature", "900"], "a temperature on the bench lies between -60 °C and 200 °C"),
    (["--temperature", "warm"], "'--temperature warm': warm cannot be read"),
    (["--of", "V_O"], "--of says what a sweep is about"),
    (["--sweep", "I_L=0:10mA", "--of", "V_X"], "the bench has no quantity 'V_X' here"),
    (["--plot", "x.svg"], "--plot draws a sweep: say which with --sweep"),
    (["--sweep", "I_L=0:10mA", "--plot", "x.pdf"], "--plot x.pdf: a figure is written as .svg or .png"),
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
    lines = sketch([0, 1, 2, 3], [0, 1, 2, 3], width=8, height=4)
    assert len(lines) == 4 and lines[-1][0] != " " and lines[0].rstrip()[-1] != " " and len(lines[0]) == 8
    level = sketch([0, 1], [5, 5], width=8, height=5)
    assert level[2].strip() and not any(line.strip() for place, line in enumerate(level) if place != 2)
    assert sketch([0, 1], [float("nan")] * 2, width=8, height=3) == ["", "", ""]


def test_curves_in_one_sketch_have_letters_at_their_ends() -> None:
    lines = sketch([0, 1, 2], [0, 1, 2], [2, 1, 0], width=8, height=4)
    assert lines[0].endswith(" a") and lines[-1].endswith(" b") and not any("a" in line for line in lines[1:])
