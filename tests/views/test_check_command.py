"""`steadyrail check`: the lines printed back with their findings, the JSON of the contract, the exit status."""

from __future__ import annotations

import io
import json
import sys
from dataclasses import FrozenInstanceError
from pathlib import Path
from typing import Any

import pytest
from rich.console import Console

import tutor
from tests.views.test_commands import run
from tutor.errors import BadValue, OutOfRange
from tutor.views.checking import CheckedWorking, first_told
from tutor.views.margin import Weight, rows_of
from tutor.views.terminal_lines import rows
from tutor.working.finding import Code, Finding

PROBLEM = "zener-resistor:2:17"
OWN = ["--circuit", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V", "R_L=1k"]
VALUES = {"V_I": "15V", "R": "220", "V_Z": "9.1V", "R_L": "1k"}
WORKING = """R = (V_I - V_Z)/(I_L + I_Z)
R <= (17.5 - 11)/15m = 433 Ω

choose R = 390 Ω
I_Z = (19.5-11)/390 - 5m = 16.8 mA
P_Z = 11 V × 16.8 mA = 185 mW
"""
RIGHT = "I_R = 5.9/220 = 26.8 mA\nI_Z = I_R - I_L = 17.7 mA\n"


def typed(folder: Path, text: str | bytes) -> str:
    """A file with that working in it."""
    file = folder / "working.txt"
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return str(file)


def checked(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, dict[str, Any]]:
    status, out, err = run(capsys, "check", *words, "--json")
    assert err == ""
    return status, json.loads(out)


def test_a_working_is_printed_back_with_its_findings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Number, text, finding and reason; carets under the failing columns; where to look; the marks."""
    status, out, err = run(capsys, "check", typed(tmp_path, WORKING), "--problem", PROBLEM)
    assert (status, err) == (1, "")
    lines = out.splitlines()
    assert lines[:5] == [
        "Choose the series resistor of a shunt regulator   zener-resistor:2:17",
        "",
        "  1  R = (V_I - V_Z)/(I_L + I_Z)         holds",
        "  2  R <= (17.5 - 11)/15m = 433 Ω        fails: the zener's least current left",
        "                            ^^^^^        out. At full load R also carries the",
    ]
    assert any(
        line.startswith("  4  choose R = 390 Ω                    follows: from your own bound;") for line in lines
    )
    assert "First line to look at: 2." in lines
    assert any(line.startswith("Marks ") and line.endswith(" Not won:") for line in lines)
    assert any(line.startswith("  R_MAX    A0  line 2: the zener's least current left out.") for line in lines)
    assert max(map(len, lines)) <= 80
    assert "\x1b" not in out


def test_the_json_is_that_of_the_contract(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Blank lines are counted and left out; columns are 1-based; a slip has its id; marks are their ledger's sum."""
    status, record = checked(capsys, typed(tmp_path, WORKING), "--problem", PROBLEM)
    assert status == 1
    assert list(record) == ["lines", "first_wrong", "marks", "margins"]
    assert all(list(row) == ["text", "holds", "margin"] for row in record["margins"])
    assert [line["number"] for line in record["lines"]] == [1, 2, 4, 5, 6]
    assert all(list(line) == ["number", "text", "finding", "why", "columns", "slip"] for line in record["lines"])
    first, second = record["lines"][:2]
    assert (first["finding"], first["columns"], first["slip"]) == ("holds", None, None)
    assert (second["finding"], second["columns"], second["slip"]) == ("fails", [24, 29], "no-knee-current")
    assert second["text"] == WORKING.splitlines()[1]
    assert record["first_wrong"] == 2
    ledger = record["marks"]["ledger"]
    assert all(list(entry) == ["waypoint", "kind", "got", "line", "why"] for entry in ledger)
    assert record["marks"]["got"] == sum(entry["got"] for entry in ledger) < record["marks"]["of"] == len(ledger)
    assert {entry["kind"] for entry in ledger} == {"M", "A", "B"}


def test_own_numbers_have_no_marks_and_status_0_when_nothing_is_wrong(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What it was held against stands above the lines."""
    file = typed(tmp_path, RIGHT)
    status, record = checked(capsys, file, *OWN)
    assert (status, record["first_wrong"], record["marks"]) == (0, None, None)
    status, out, _ = run(capsys, "check", file, *OWN)
    assert status == 0
    assert out.startswith("Zener shunt regulator   zener-shunt\nV_I = 15 V, R = 220 Ω, V_Z = 9.1 V, R_L = 1 kΩ\n")
    assert out.endswith("No line is wrong.\n")


def test_assumptions_are_taken_and_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A convention and a standing value, as `solve` takes them; what was not said is told as assumed."""
    follower = ["--circuit", "follower", "V_I=20", "R=220", "V_Z=12", "R_L=1k", "h_FE=50"]
    file = typed(tmp_path, "V_BE = 0.6 V\nI_B = I_L/h_FE")
    other = ["--assume", "V_BE=0.6", "--assume", "base-current=load-over-h_FE"]
    status, out, _ = run(capsys, "check", file, *follower, *other)
    assert status == 0
    assert "V_BE = 0.6 V" in out and "base-current load-over-h_FE" in out
    status, out, _ = run(capsys, "check", file, *follower)
    assert status == 1
    assert "V_BE = 0.7 V assumed" in out.replace("\n", " ")


def test_standard_input_is_read(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """`-` is standard input, a byte-order mark and the line ends of any system included."""
    text = "\ufeffI_R = 26.8 mA\r\n\r\nI_Z = I_R + I_L\rI_L = 9.1 mA"
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode("utf-8"))))
    status, record = checked(capsys, "-", *OWN)
    assert status == 1
    assert [(line["number"], line["finding"]) for line in record["lines"]] == [
        (1, "holds-here"),
        (3, "fails"),
        (4, "holds-here"),
    ]
    assert record["lines"][0]["text"] == "I_R = 26.8 mA"


def test_a_decimal_comma_is_read_where_it_is_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In lines and in values; elsewhere it is asked back, and an unread line is never called right."""
    file = typed(tmp_path, "I_Z = 17,7 mA")
    own = ["--circuit", "zener-shunt", "V_I=15,0", "R=220", "V_Z=9,1", "R_L=1k"]
    status, record = checked(capsys, file, *own, "--decimal-comma")
    assert (status, record["lines"][0]["finding"]) == (0, "holds-here")
    status, out, _ = run(capsys, "check", file, *OWN)
    assert status == 0
    assert "unread: " in out and "No line that could be read is wrong; write line 1 again." in out


def test_an_empty_working_has_no_line_to_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is wrong with it, and nothing is won."""
    file = typed(tmp_path, "\n\n")
    status, record = checked(capsys, file, "--problem", PROBLEM)
    assert (status, record["lines"], record["first_wrong"], record["marks"]["got"]) == (0, [], None, 0)
    _, out, _ = run(capsys, "check", file, *OWN)
    assert "There is no line to check." in out


REFUSED: list[tuple[str | bytes, list[str], str]] = [
    (RIGHT, [], "a working is held against --problem NAME or against --circuit CIRCUIT NAME=VALUE ...; give one"),
    (RIGHT, ["--problem", PROBLEM, *OWN], "a working is held against --problem NAME or against --circuit CIRCUIT "
     "NAME=VALUE ...; give one of them, not both"),
    (RIGHT, ["--problem", PROBLEM, "V_I=3"], f"'{PROBLEM}' has its own values; leave V_I=3 out, or use --circuit"),
    (RIGHT, ["--problem", PROBLEM, "--assume", "V_BE=0.6"],
     f"'{PROBLEM}' has its own values; what else is assumed goes into the name: {PROBLEM}+NAME=VALUE"),
    (RIGHT, ["--problem", "zener-resistr:2:17"], "there is no family 'zener-resistr'; did you mean 'zener-resistor'?"),
    (RIGHT, ["--circuit", "zner-shunt", "V_I=3"], "there is no circuit 'zner-shunt'; did you mean 'zener-shunt'?"),
    (RIGHT, ["--circuit", "zener-shunt"], "a working on 'zener-shunt' is held against its values: give them"),
    (RIGHT, ["--circuit", "zener-shunt", "V_I"], "'V_I' is not of the form NAME=VALUE; write it like V_I=15V"),
    (RIGHT, [*OWN, "I_R=1A"], "the givens contradict each other: "),
    (b"I_Z = 5 \xff", OWN, "'{file}' is no UTF-8 text (byte 9); save it as plain text in UTF-8"),
    (b"\xff\xfeI\x00", OWN, "'{file}' is no UTF-8 text (byte 1)"),
    (b"I_Z\x00", OWN, "'{file}' is no text; save the working as plain text, one line a step"),
    (b"a" * 65537, OWN, "'{file}' is too large: a working may hold up to 64 kB of text"),
    (b"x = 1\n" * 401, OWN, "a working may have up to 400 lines (got 401)"),
]  # fmt: skip


@pytest.mark.parametrize(("content", "words", "sentence"), REFUSED, ids=lambda item: str(item)[:40])
def test_what_cannot_be_used_gets_one_sentence_and_status_2(
    content: str | bytes, words: list[str], sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Standard output stays empty."""
    file = typed(tmp_path, content)
    status, out, err = run(capsys, "check", file, *words)
    assert (status, out) == (2, "")
    assert err.startswith(f"steadyrail: {sentence.replace('{file}', file)}")
    assert err.count("\n") == 1


def test_a_file_that_is_not_there_is_told_with_the_nearest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A misspelt name, a folder, a name no system takes, and values put before the file."""
    file = typed(tmp_path, RIGHT)
    cases = [
        (file.replace("working", "workng"), f"did you mean '{file}'?"),
        (str(tmp_path / "nowhere" / "x.txt"), "name a text file, or - for standard input"),
        (str(tmp_path), "is a folder; name a text file in it"),
        ("a\0b", "cannot be read: its name cannot be used"),
        ("n" * 300, "cannot be read: "),
        ("V_I=15V", "there is no file 'V_I=15V'; the file comes first, then NAME=VALUE"),
    ]
    for name, told in cases:
        status, out, err = run(capsys, "check", name, *OWN)
        assert (status, out) == (2, ""), name
        assert told in err and err.count("\n") == 1


def test_a_working_may_be_as_long_as_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """400 lines, and a line as long as the file may be."""
    status, record = checked(capsys, typed(tmp_path, "I_L = 9.1 mA\n" * 400), *OWN)
    assert (status, len(record["lines"])) == (0, 400)
    status, out, _ = run(capsys, "check", typed(tmp_path, b"1" * 65536), *OWN)
    assert status == 0
    assert "unread: " in out and max(map(len, out.splitlines())) <= 80


def test_the_same_in_python() -> None:
    """A frozen value that shows itself as the terminal does, findings and marks inside."""
    working = tutor.check(WORKING, problem=PROBLEM)
    assert isinstance(working, CheckedWorking)
    assert working.first_wrong == 2 and working.findings[1].slip == ("no-knee-current",)
    assert working.marks is not None and 0 < working.marks.got < working.marks.of
    assert str(working) == repr(working)
    assert "  1  R = (V_I - V_Z)/(I_L + I_Z)         holds\n" in str(working)
    assert str(working).endswith(f"First line to look at: 2.   Marks {working.marks.got} of {working.marks.of}.")
    with pytest.raises(FrozenInstanceError):
        working.first_wrong = 3  # type: ignore[misc]
    own = tutor.check(RIGHT, circuit="zener-shunt", values=VALUES)
    assert own.marks is None and str(own).endswith("\n\nNo line is wrong.")
    assert tutor.check("I_Z = 17,7 mA", circuit="zener-shunt", values=VALUES, decimal_comma=True).first_wrong is None


def test_python_refuses_likewise() -> None:
    """Both, neither, values of a problem, too much text, no text."""
    for told, arguments in (
        ("give one of the two", {}),
        ("give not both", {"problem": PROBLEM, "circuit": "zener-shunt"}),
        ("has its own values", {"problem": PROBLEM, "values": VALUES}),
    ):
        with pytest.raises(BadValue, match=told):
            tutor.check(RIGHT, **arguments)
    with pytest.raises(OutOfRange, match="up to 64 kB of text"):
        tutor.check("é" * 40000, problem=PROBLEM)
    with pytest.raises(BadValue, match="holds a zero byte"):
        tutor.check("a\0", problem=PROBLEM)


def finding(text: str, code: Code = Code.FAILS, columns: tuple[int, int] | None = None, why: str = "") -> Finding:
    return Finding(1, text, code, why, columns)


def page(item: Finding, width: int = 80) -> list[str]:
    return [f"{row.left}{row.margin}".rstrip() for row in rows_of((item,), width)]


def test_carets_stand_under_the_columns_whatever_is_typed() -> None:
    """Tabs and signs of no width or of two columns do not push them aside; what acts on a terminal is made visible."""
    assert page(finding("I_Z = 5", columns=(7, 8)))[1] == "           ^"
    assert page(finding("I_Z\t= 5", columns=(7, 8)))[:2] == ["  1  I_Z = 5       fails", "           ^"]
    assert page(finding("電 = 5", columns=(5, 6)))[1] == "          ^"
    assert page(finding("e\u0301 = 5", columns=(6, 7)))[1] == "         ^"
    assert page(finding("\x1b[31m5", columns=(6, 7))) == ["  1  \ufffd[31m5        fails", "          ^"]
    assert page(finding("5 +", Code.UNREAD, (4, 4)))[1] == "        ^"
    assert len(page(finding("5 +", Code.UNREAD))) == 1


def test_a_long_line_has_its_finding_below_it() -> None:
    """Broken after a space, carets under each piece, the margin where it always is."""
    text = "R_MIN = " + " + ".join(f"{number} Ω" for number in range(100, 120))
    shown = page(finding(text, columns=(1, len(text) + 1), why="much too long to be true"))
    assert [line[:9] for line in shown] == [
        "  1  R_MI", "     ^^^^", "     108 ", "     ^^^^", "     117 ", "     ^^^^",
    ]  # fmt: skip
    assert shown[-1].index("fails: much too long to be true") == len("  1  ") + 40 + 2
    assert max(map(len, shown)) <= 80
    assert sum(line.count("^") for line in shown) == len(text)


@pytest.mark.parametrize("width", [40, 60, 80])
def test_a_page_keeps_within_its_width(width: int) -> None:
    """A narrow window makes the lines' side narrower; nothing is cut off."""
    why = "the zener's least current left out; at full load R also carries the current that keeps the zener going"
    shown = page(finding("R <= (17.5 - 11)/15m = 433 Ω of a long shelf of parts", why=why, columns=(24, 29)), width)
    assert max(map(len, shown)) <= width
    assert " ".join(why.split()) in " ".join(" ".join(shown).replace("^", "").split()).replace("fails: ", "", 1)


def test_meaning_is_never_told_by_weight_alone() -> None:
    """A wrong line, one aside and any other differ in words as in weight."""
    lines = [finding("x", code) for code in Code]
    weights = {item.code: rows_of((item,), 80)[0] for item in lines}
    assert {code for code, row in weights.items() if row.weight is Weight.WRONG} == {
        Code.FAILS, Code.UNITS, Code.CHOICE_BAD,
    }  # fmt: skip
    assert len({row.margin for row in weights.values()}) == len(Code)


def test_several_unread_lines_are_named() -> None:
    """None is passed over."""
    unread = tuple(Finding(number, "?", Code.UNREAD, "") for number in (1, 3, 4))
    working = CheckedWorking("", "", (), unread, None, None)
    assert first_told(working) == "No line that could be read is wrong; write lines 1, 3 and 4 again."


def table(entries: list[tuple[str, ...]], width: int) -> list[str]:
    """What `rows` prints in a window of that width."""
    out = io.StringIO()
    rows(Console(file=out, width=width, highlight=False), entries)
    return out.getvalue().splitlines()


def test_a_long_value_stands_under_its_words() -> None:
    """A convention has no symbol and a sentence for a value: neither squeezes the other columns."""
    convention = "REG_LOAD = (V_OC − V_I)/V_I, the change referred to the full-load voltage"
    assert table([("", "convention: load regulation", convention)], 80) == [
        "  convention: load regulation",
        "    REG_LOAD = (V_OC − V_I)/V_I, the change referred to the full-load voltage",
    ]
    mixed = [
        ("I_ZK", "least zener current for good regulation", "2 mA"),
        ("", "convention: load regulation", convention),
    ]
    assert table(mixed, 80) == [
        "  I_ZK  least zener current for good regulation  2 mA",
        "        convention: load regulation",
        "          REG_LOAD = (V_OC − V_I)/V_I, the change referred to the full-load",
        "          voltage",
    ]
    assert table([("V_O", "", "9.1 V"), ("eta", "", "20.6 %")], 80) == ["  V_O    9.1 V", "  eta    20.6 %"]


def test_a_statement_prints_its_convention_whole(capsys: pytest.CaptureFixture[str]) -> None:
    """No line of a problem's table is a letter long."""
    _, out, _ = run(capsys, "problem", "supply-source-model:2:3")
    assert "convention: load regulation\n" in out
    assert min(len(line.strip()) for line in out.splitlines() if line.strip()) > 5


def test_the_sample_in_the_tour_finds_the_line_that_is_wrong(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The command is run as it stands there, its left side printed into its right."""
    tour = (Path(__file__).resolve().parents[2] / "docs" / "learner.md").read_text(encoding="utf-8")
    (line,) = (item for item in tour.splitlines() if item.startswith("printf ") and "steadyrail check" in item)
    printed, command = line.split(" | ")
    text = printed.removeprefix("printf ").strip("'").replace("\\n", "\n")
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode("utf-8"))))
    status, out, _ = run(capsys, *command.split()[1:])
    assert status == 1
    assert "26.8 mA  holds here" in out and "fails: the sign of I_L is turned" in out
    assert "First line to look at: 2." in out
