"""The terminal: what each command prints, its JSON, and one sentence with exit status 2 for what it cannot use."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import tutor
from tutor.__main__ import COMMANDS, main

ZENER = ["solve", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V"]
FOLLOWER = ["solve", "follower", "V_I=20", "R=220", "V_Z=12", "R_L=1k", "h_FE=50"]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        main(list(words))
    captured = capsys.readouterr()
    return int(ended.value.code or 0), captured.out, captured.err


REFUSED = [
    (["solve", "zner-shunt", "R=1"], "there is no circuit 'zner-shunt'; did you mean 'zener-shunt'?"),
    (["solve", "zener-shunt", "V_I=15V", "R=22x"],
     "R=22x: 'x' is no unit that is known here; a resistance in Ω was asked"),
    ([*ZENER, "I_L=10mA", "I_R=50mA"],
     "the givens contradict each other: Ohm's law for R, I_R = (V_I − V_O)/R, is broken by "
     "I_R = 50 mA, V_I = 15 V, V_O = 9.1 V, R = 220 Ω"),
    (["solve", "zener-shunt", "V_I=15A", "R=1"], "V_I=15A: this is a current; a voltage in V was asked"),
    (["solve", "zener-shunt", "V_I", "R=1"], "'V_I' is not of the form NAME=VALUE; write it like V_I=15V"),
    (["solve", "zener-shunt", "R=1", "R=2"], "R is given twice (1 and 2); leave one out"),
    (["solve", "zener-shunt", "V_I=15", "R=220", "V_Z=9.1", "--find", "I_Z"],
     "I_Z does not follow from V_I, R, V_Z; give one of these too: "),
    ([*FOLLOWER, "--assume", "base-curent=exact"],
     "there is no convention 'base-curent'; did you mean 'base-current'?"),
    ([*FOLLOWER, "--assume", "base-current=exat"], "there is no value of 'base-current' 'exat'; did you mean 'exact'?"),
    ([*ZENER, "form=bridge"], "form=bridge: 'zener-shunt' comes in one form; leave form= out"),
    ([*ZENER, "R_L=-1k"], "R_L=-1k: load resistance cannot be negative"),
    (["problem", "zener-resistr"], "there is no family 'zener-resistr'; did you mean 'zener-resistor'?"),
    (["problem", "zener-resistor", "--level", "4"], "'zener-resistor' has the levels 1, 2 and 3 (got 4)"),
    (["problem", "zener-resistor:1:1@9"], "'zener-resistor:1:1@9' asks for edition 9; this version draws edition 2"),
    (["problem", "zener-resistor:1:1", "--level", "2"], "'zener-resistor:1:1' already says its level and number"),
    (["problem", "zener-resistor", "--hint", "R_MAXX"], "there is no answer to this problem called 'R_MAXX'"),
    (["problem", "zener-resistor", "--hint", "R_MAX:4"], "there are hints 1, 2 and 3 for R_MAX (got '4')"),
    (["problem", "zener-resistor", "--number", "0"], "levels and numbers start at 1 (got 0)"),
    (["derive", "source", "--for", "h_FE"], "there is no quantity of 'source' 'h_FE'"),
    (["prblem"], "there is no command 'prblem'; did you mean 'problem'?"),
    (["solve"], "CIRCUIT is missing; the command reads `steadyrail solve [OPTIONS] CIRCUIT NAME=VALUE...` (--help"),
    (["paper", "class.toml"], "--out DIR is missing; the command reads `steadyrail paper [OPTIONS] SET.toml` (--help"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "sentence"), REFUSED, ids=lambda item: " ".join(item)[:40])
def test_bad_input_gets_one_sentence_and_status_two(
    words: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Standard error holds one line that says what, where and what would be right; standard output stays empty."""
    status, out, err = run(capsys, *words)
    assert status == 2
    assert out == ""
    assert err.startswith(f"steadyrail: {sentence}")
    assert err.count("\n") == 1


@pytest.mark.parametrize("command", COMMANDS)
def test_help_breaks_no_name_at_its_hyphen(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    """`zener-resistor:2:17` over two lines is nothing to copy."""
    status, out, _ = run(capsys, command, "--help")
    assert status == 0
    assert [line for line in out.splitlines() if line.endswith("-")] == []


def test_a_refused_site_leaves_the_folder_as_it_was(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder with somebody's files in it is not replaced, and nothing is put beside it."""
    folder = tmp_path / "notes"
    folder.mkdir()
    (folder / "marks.txt").write_text("keep", encoding="utf-8")
    status, _, err = run(capsys, "site", "--out", str(folder))
    assert status == 2
    assert "is not empty and was not built by this command" in err
    assert [item.name for item in tmp_path.rglob("*")] == ["notes", "marks.txt"]


def test_problem_prints_statement_data_and_cautions_within_80_columns(capsys: pytest.CaptureFixture[str]) -> None:
    """Piped, nothing is wider than 80 columns, no escape codes are left, and a value keeps its unit on its line."""
    status, out, _ = run(capsys, "problem", "zener-resistor", "--level", "2", "--number", "17", "--solution")
    assert status == 0
    assert "zener-resistor:2:17, level 2" in out
    assert "Worked solution" in out and "Checks" in out and "Caution:" in out
    assert max(len(line) for line in out.splitlines()) <= 80
    assert "\x1b" not in out and "\u00a0" not in out and "$" not in out
    for told in ("V_I_MIN = 17.5 V", "I_L_MAX = 15 mA", "∂I_Z/∂V_I = 1/R"):
        assert told in out


def test_a_hint_is_printed_alone_and_gives_no_result(capsys: pytest.CaptureFixture[str]) -> None:
    """The third hint of a bound is its relation with numbers; the problem and its answer are not printed with it."""
    status, out, _ = run(capsys, "problem", "zener-resistor:2:17", "--hint", "R_MAX:3")
    assert status == 0 and out.startswith("Hint 3 for R_MAX") and " V" in out
    answer = tutor.problem("zener-resistor:2:17").problem.answers["R_MAX"].text
    assert answer not in out.replace("\u00a0", " ")
    _, out, _ = run(capsys, "problem", "zener-resistor:2:17", "--hint", "R_MAX", "--json")
    hint = json.loads(out)["hint"]
    assert (hint["at"], hint["number"], hint["lines"]) == ("R_MAX", 1, []) and hint["text"]


def test_problem_json_has_the_promised_fields(capsys: pytest.CaptureFixture[str]) -> None:
    """name, statement, given, wanted, answers with low and high, steps, slips, circuit, cautions; plain spaces."""
    _, out, _ = run(capsys, "problem", "zener-resistor:2:17", "--json")
    record = json.loads(out)
    for field in ("name", "statement", "given", "wanted", "answers", "steps", "slips", "circuit", "cautions"):
        assert record[field], field
    assert record["name"] == "zener-resistor:2:17"
    assert set(record["answers"]) == set(record["wanted"])
    for answer in record["answers"].values():
        assert {"value", "unit", "text", "low", "high"} <= set(answer)
        assert answer["low"] <= answer["value"] <= answer["high"]
    for step in record["steps"]:
        assert {"title", "relation", "result", "law"} <= set(step)
    assert "\u00a0" not in out and "$" not in out


def test_a_state_is_answered_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    """A region asked for has no number: its text is the right option."""
    _, out, _ = run(capsys, "problem", "zener-state:1:1", "--json")
    state = json.loads(out)["answers"]["state"]
    assert state["value"] is None and state["text"] in state["options"]


def test_solve_json_has_the_promised_fields(capsys: pytest.CaptureFixture[str]) -> None:
    """circuit, form, region, values, steps, checks, warnings, assumed; quantities in SI."""
    _, out, _ = run(capsys, *FOLLOWER, "--json")
    record = json.loads(out)
    for field in ("circuit", "form", "region", "values", "steps", "checks", "warnings", "assumed"):
        assert field in record
    assert record["values"]["V_O"] == {"value": pytest.approx(11.3), "unit": "V", "text": "11.3 V"}
    assert record["assumed"]["V_BE"] == "0.7 V" and record["assumed"]["base-current"] == "exact"


def test_solve_takes_another_convention_and_says_its_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Neglecting the base current is checked afterwards against the exact circuit."""
    _, out, _ = run(capsys, *FOLLOWER, "--assume", "base-current=neglected", "--json")
    checks = json.loads(out)["checks"]
    assert any("neglected" in check["text"] and check["holds"] for check in checks)


def test_solve_warns_above_sixty_volts_but_computes(capsys: pytest.CaptureFixture[str]) -> None:
    """The refusal of unsafe values binds generation; somebody's own numbers are worked with a warning."""
    status, out, _ = run(capsys, "solve", "zener-shunt", "V_I=100", "R=2k2", "V_Z=12", "R_L=1k")
    assert status == 0
    assert "Warning: A supply of 100 V is above 60 V d.c." in out


def test_a_zener_that_is_off_is_found_out(capsys: pytest.CaptureFixture[str]) -> None:
    """Breakdown is assumed, tested, refused; the circuit is planned again with the zener off."""
    _, out, _ = run(capsys, *ZENER, "R_L=200")
    assert "Assume that the zener is in breakdown" in out
    assert "it needs I_Z ≥ 0, but I_Z = −18.68 mA" in out
    assert "the zener is off, as assumed" in out


def test_derive_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Laws, derivation, closed form, sensitivities."""
    _, out, _ = run(capsys, "derive", "zener-shunt", "--for", "I_Z", "--json")
    record = json.loads(out)
    assert {"circuit", "laws", "derivations"} <= set(record)
    derivation = record["derivations"][0]
    assert derivation["closed_form"] == "I_Z = (V_I − V_Z)/R − I_L"
    assert any("I_Z falls when I_L rises" in item["text"] for item in derivation["sensitivities"])


def test_list_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Circuits with conventions, families with levels."""
    _, out, _ = run(capsys, "list", "--json")
    record = json.loads(out)
    assert {item["id"] for item in record["circuits"]} >= {"source", "zener-shunt", "follower"}
    follower = next(item for item in record["circuits"] if item["id"] == "follower")
    assert follower["conventions"]["base-current"][0] == "exact"
    assert all(len(item["levels"]) == 3 for item in record["families"])


def test_help_without_a_command(capsys: pytest.CaptureFixture[str]) -> None:
    """`steadyrail` alone says what there is."""
    status, out, _ = run(capsys)
    assert status == 0
    assert "problem" in out and "site" in out


@pytest.mark.parametrize("count", ["0", "1001", "many"])
def test_a_site_of_no_problems_is_refused(count: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In one sentence that names the option, and nothing is written."""
    out = tmp_path / "study"
    status, _, err = run(capsys, "site", "--out", str(out), "--problems", count)
    assert status == 2 and "--problems" in err and not out.exists()
