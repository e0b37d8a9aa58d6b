"""Circuits laid over each other on the bench: each is what it is alone; what cannot be is refused in one sentence."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from tests.views.test_commands import run
from tutor.bench.jobs import read_job
from tutor.errors import BadCircuit
from tutor.solution.desk import our_desk
from tutor.views.bench_beside import beside
from tutor.views.bench_report import bench_report

FOUR = ("zener-shunt", "follower", "feedback-pair-fed", "opamp-series-zener")
SWEEP = "I_L=0:150mA:7"


def test_each_circuit_of_a_job_is_what_it_is_alone() -> None:
    laid = beside("four-regulators", {}, [], 25.0, SWEEP)
    assert tuple(laid.sweeps) == FOUR
    job = read_job(our_desk().folder.path / "jobs" / "four_regulators.toml")
    for circuit, values in job.circuits.items():
        alone = bench_report(circuit, values, 25.0, SWEEP)
        assert alone.sweep is not None
        assert laid.sweeps[circuit].leading[0].bench == pytest.approx(alone.sweep.leading[0].bench)


def test_the_four_do_one_job() -> None:
    """What the job's title claims: near 10 V from no load to 80 mA and from 16 V to 24 V, by whatever each does."""
    load = beside("four-regulators", {}, [], 25.0, "I_L=1mA:80mA:9").sweeps
    line = beside("four-regulators", {"I_L": "80mA"}, [], 25.0, "V_I=16V:24V:9").sweeps
    for circuit in FOUR:
        for sweep in (load[circuit], line[circuit]):
            assert sweep.run.points.unsettled == 0
            # A shunt regulator's zener may fall by its slope times the whole change of its current: 7 Ω times 0.15 A.
            assert sweep.leading[0].bench == pytest.approx(10.0, abs=1.0 if circuit == "zener-shunt" else 0.25), circuit


def test_they_stand_in_the_order_the_course_teaches() -> None:
    """Each regulates better than the one before. Source: Horowitz and Hill, The Art of Electronics, ch. 9 (from
    memory): a zener alone has ohms, a follower a fraction of one, feedback divides what is left by its gain."""
    rows = beside("four-regulators", {}, [], 25.0).compared()
    for symbol in ("R_OUT", "S_V"):
        found = [row.bench.value for row in rows[symbol] if row is not None]
        assert len(found) == 4 and found == sorted(found, reverse=True), symbol
    shunt, follower, pair, amplifier = (row.bench.value for row in rows["R_OUT"] if row is not None)
    assert 4 < shunt < 8 and follower < 1 and pair < follower and amplifier < pair / 1000
    shunt, *series = (row.bench.value for row in rows["P_I"] if row is not None)
    assert all(shunt > 2 * power for power in series), "the shunt regulator draws full current at any load"


def test_values_told_reach_every_circuit_that_has_them() -> None:
    laid = beside("four-regulators", {"h_FE": "40"}, ["darlington V_I=20V"], 25.0)
    found = {report.circuit: report.values for report in laid.reports}
    assert found["follower"]["h_FE"] == 40 == found["opamp-series-zener"]["h_FE"]
    assert "h_FE" not in found["zener-shunt"] and found["feedback-pair-fed"]["h_FE_1"] == 80
    assert found["darlington"] == {"V_I": 20.0}


def test_the_terminal_shows_them_under_letters(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "bench", "four-regulators", "--sweep", SWEEP)
    assert (status, err) == (0, "")
    assert "a  Zener shunt regulator (zener-shunt)" in out and "d  Series regulator with an op-amp" in out
    table = {line.split()[0]: line.split()[1:] for line in out.splitlines() if line.strip()}
    laid = beside("four-regulators", {}, [], 25.0)
    told = [row.bench.text.replace(" ", "") for row in laid.compared()["R_OUT"] if row is not None]
    assert "".join(table["R_OUT"]) == "".join(told)
    assert max(map(len, out.splitlines())) <= 80


def test_the_table_and_the_json_hold_all(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "four.csv"
    _, out, _ = run(capsys, "bench", "four-regulators", "--sweep", SWEEP, "--csv", str(path), "--json")
    record = json.loads(out)
    assert [item["circuit"] for item in record["beside"]] == list(FOUR)
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    for circuit, item in zip(FOUR, record["beside"], strict=True):
        place = rows[0].index(f"V_O of {circuit} (V)")
        assert [float(row[place]) for row in rows[1:]] == pytest.approx(item["sweep"]["values"]["V_O"], rel=1e-8)


REFUSED = [
    (["zener-shunt", "--beside", "folower"], "there is no circuit 'folower'; did you mean"),
    (["zener-shunt", "--beside", "zener-shunt"], "'zener-shunt' is laid over itself"),
    (["zener-shunt", "--beside", "follower V_I"], "--beside \"follower V_I\": 'V_I' is not of the form NAME=VALUE"),
    (["zener-shunt", "--beside", ""], "--beside names a circuit"),
    (["zener-shunt", "--beside", "follower R=x"], "follower: R=x"),
    (["zener-shunt", "--beside", 'follower "'], '--beside "follower "": a quotation mark is not closed'),
    (["four-regulators", "V_X=1"], "none of the circuits of 'four-regulators' has a value 'V_X'"),
    (["four-regulators", "--netlist", "x.cir"], "--spread and --netlist are of one circuit"),
    (["four-regulators", "--plot", "x.svg"], "--plot draws a sweep"),
]


@pytest.mark.parametrize(("words", "sentence"), REFUSED, ids=lambda item: " ".join(item)[:40])
def test_what_cannot_be_laid_over_gets_one_sentence(
    words: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = run(capsys, "bench", *words)
    assert (status, out) == (2, "")
    assert err.startswith(f"steadyrail: {sentence}") and err.count("\n") == 1


WRONG = [
    ("title = 3", "title: expected title"),
    ('title = "x"', "a job has two circuits or more"),
    ('title = "x"\nfollower = 3\n[zener-shunt]', "follower: expected a table [follower]"),
    ('title = "x"\n[follower]\nR = 390\n[zener-shunt]', 'follower.R: expected a value in quotes, such as "10 V"'),
    ("title = ", "Invalid value"),
]


@pytest.mark.parametrize(("text", "sentence"), WRONG)
def test_a_wrong_job_names_its_file_and_field(text: str, sentence: str, tmp_path: Path) -> None:
    path = tmp_path / "jobs" / "mine.toml"
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadCircuit, match=r"jobs/mine\.toml") as told:
        read_job(path)
    assert sentence in str(told.value)
