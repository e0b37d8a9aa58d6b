"""`steadyrail mark`: a class into a folder; tables safe to open; marks by hand kept; going on after a stop."""

from __future__ import annotations

import csv
import io
import json
import shutil
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from tests.sets.demo_class import LEARNERS, MARKS, NAMES, RIGHT, SET, write_workings
from tests.views.test_commands import run
from tutor.errors import SteadyrailError
from tutor.sets.by_hand import TEMPLATE
from tutor.sets.class_list import file_stem
from tutor.views.marked_class import MarkedClass, mark_class
from tutor.views.marked_sheets import MarkedSheets, MarkJob, mark_job

SPREADSHEET = {"m": "http://schemas.openxmlformats.org/spreadsheetml/2006/main"}
HAND = 'w05,1,,3.5,"=1+1 seen, at the desk"\nw02,1,V_TH,1,method shown in a drawing\n'


@dataclass(frozen=True)
class Demo:
    """The demo class on disk, and what came of marking it once."""

    folder: Path
    workings: Path
    out: Path
    marked: MarkedClass


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    folder = tmp_path_factory.mktemp("demo")
    workings, out = write_workings(folder / "w"), folder / "out"
    return Demo(folder, workings, out, mark_class(SET, workings, out))


@pytest.fixture
def again(demo: Demo, tmp_path: Path) -> Iterator[Path]:
    """A copy of the folder of marks, to be marked again."""
    shutil.copytree(demo.out, tmp_path / "out")
    yield tmp_path / "out"


def rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def cells(file: Path) -> list[tuple[str, str | None, str]]:
    """Every cell of a workbook: the sheet, its type, its text; no cell may hold a formula."""
    found = []
    with zipfile.ZipFile(file) as book:
        for name in book.namelist():
            if name.startswith("xl/worksheets/sheet"):
                tree = ElementTree.fromstring(book.read(name))
                assert tree.findall(".//m:f", SPREADSHEET) == []
                assert tree.findall(".//m:hyperlink", SPREADSHEET) == []
                for cell in tree.iterfind(".//m:c", SPREADSHEET):
                    found.append((name, cell.get("t"), "".join(cell.itertext())))
    return found


def test_every_file_is_there_and_none_is_outside(demo: Demo) -> None:
    """A page and a paper for each learner, named by the id or its safe stem; nothing half-written is left."""
    stems = {file_stem(learner.id) for learner in LEARNERS}
    shown = {file.name for file in (demo.out / "feedback").iterdir() if not file.name.startswith(".")}
    assert shown == {f"{stem}.{ending}" for stem in stems for ending in ("html", "pdf")}
    assert {file.name for file in demo.out.iterdir()} == {
        "feedback", "lines_left.csv", "marks.csv", "marks.json", "marks.xlsx", "override.csv",
        "report.html", "report.pdf",
    }  # fmt: skip
    assert {file.name for file in demo.folder.iterdir()} == {"w", "out"}
    assert not list(demo.folder.rglob("*.part"))


def test_the_marks_table_has_everyone(demo: Demo) -> None:
    """Marks as said by hand in `tests/sets/test_marking.py`; no marks, and why, where nothing could be read."""
    table = {row["id"]: row for row in rows(demo.out / "marks.csv")}
    assert [table["w02"][name] for name in ("Q1 (of 5)", "Q2 (of 4)", "Q3 (of 4)", "marks", "of")] == [
        "2", "4", "3", "9", "13",
    ]  # fmt: skip
    assert table["w03"]["marks"] == "9.5"
    assert (table["w05"]["marks"], table["w05"]["notes"]) == ("", "nothing handed back")
    assert table["w06"]["marks"] == "" and "too large" in table["w06"]["notes"]
    assert table["w04"]["lines left"] == "2"


def test_no_cell_is_a_formula(demo: Demo) -> None:
    """An id, a name and a line that begin like one: an apostrophe before them in CSV, strings in the workbook."""
    for name in ("marks.csv", "lines_left.csv"):
        for row in rows(demo.out / name):
            assert not any(cell.lstrip().startswith(("=", "+", "-", "@")) for cell in row.values())
    assert {"'=cmd()", "../../x"} <= {row["id"] for row in rows(demo.out / "marks.csv")}
    assert "'=cmd|' /C calc'!A0" in {row["as typed"] for row in rows(demo.out / "lines_left.csv")}
    found = cells(demo.out / "marks.xlsx")
    for text in ("=cmd()", '=HYPERLINK("http://x")', "+Eve", "=cmd|' /C calc'!A0"):
        assert {kind for _, kind, told in found if told == text} == {"inlineStr"}
    assert ("xl/worksheets/sheet1.xml", None, "9.5") in found


def test_the_json_is_one_object_with_every_ledger(demo: Demo) -> None:
    """What other programs read: rules, learners, questions, marks, ledgers."""
    told = json.loads((demo.out / "marks.json").read_text(encoding="utf-8"))
    assert told["set"] == SET.title and told["rules"]["tolerance"] == 0.01
    learner = next(item for item in told["learners"] if item["id"] == "w02")
    question = learner["questions"][0]
    assert (question["problem"], question["marks"], question["of"]) == (f"{NAMES[0]}@1", 2.0, 5)
    assert question["points"][1]["ledger"] == [
        {"kind": "B", "got": 0, "line": 2, "why": "you say the zener is off; in fact the zener is in breakdown"}
    ]


def test_the_report_has_the_class_in_figures_and_words(demo: Demo) -> None:
    """How marks lie, what was lost, slips, discrimination with its source, lines left; four pictures, each twice."""
    page = (demo.out / "report.html").read_text(encoding="utf-8")
    assert page.count("<img ") == 4 and page.count("<source ") == 4
    assert "<script" not in page and "=HYPERLINK" not in page
    for words in (
        "6 of 9 learners are counted here.", "Nothing was handed back by w05.", "the divider turned upside down",
        "Ebel and D. A. Frisbie", "V_TH = 30 × 330/(100 + 330 = 23.0 V", "is too large",
    ):  # fmt: skip
        assert words in page
    told = " ".join(sheet.extract_text() for sheet in PdfReader(demo.out / "report.pdf").pages)
    assert "Which question discriminated" in told and "a power of ten lost" in told
    assert [(name, count) for name, count in demo.marked.figures.slips][-1] == ("wrong without a known slip", 2)


def test_the_override_file_is_made_once_and_never_written_again(demo: Demo, again: Path) -> None:
    """First its head alone; then whatever a human put there, byte for byte."""
    assert (demo.out / "override.csv").read_text(encoding="utf-8") == TEMPLATE
    text = TEMPLATE + HAND
    (again / "override.csv").write_text(text, encoding="utf-8")
    marked = mark_class(SET, demo.workings, again, pdf=False)
    assert (again / "override.csv").read_text(encoding="utf-8") == text
    assert [(move.id, move.question, move.before, move.after, move.why) for move in marked.moved] == [
        ("w02", 1, 2.0, 3.0, "by hand: method shown in a drawing"),
        ("w05", 1, None, 3.5, "by hand: =1+1 seen, at the desk"),
        ("w05", 2, None, 0.0, "marks by hand came for this paper"),
        ("w05", 3, None, 0.0, "marks by hand came for this paper"),
    ]
    table = {row["id"]: row for row in rows(again / "marks.csv")}
    assert table["w05"]["marks"] == "3.5" and table["w02"]["marks"] == "10"
    assert "by hand: =1+1 seen" in (again / "feedback" / "w05.html").read_text(encoding="utf-8")
    assert rows(again / "moved.csv")[0] == {
        "id": "w02", "question": "1", "before": "2", "now": "3", "why": "by hand: method shown in a drawing",
    }  # fmt: skip


def test_changed_rules_show_what_moved_and_why(demo: Demo, again: Path) -> None:
    """A mark that rested on follow-through is gone, and the rule is named."""
    strict = replace(SET, rules=replace(SET.rules, follow_through=False))
    marked = mark_class(strict, demo.workings, again, pdf=False)
    assert [(move.id, move.question) for move in marked.moved] == [("w02", 1), ("w03", 2), ("w07", 2)]
    assert all(move.why.startswith("follow through was on, is off (") for move in marked.moved)


def test_a_marking_that_was_stopped_goes_on_where_it_was(demo: Demo, tmp_path: Path) -> None:
    """What is whole is kept; a page changed since, or made from another working, is made anew; all ends alike."""

    class Stopped(Exception):
        pass

    def stopping(work: object, jobs: Iterator[MarkJob]) -> Iterator[tuple[MarkedSheets, ...]]:
        yield mark_job(next(jobs))
        raise Stopped

    out = tmp_path / "out"
    with pytest.raises(Stopped):
        mark_class(SET, demo.workings, out, run=stopping)
    assert [file.name for file in out.iterdir() if not file.name.startswith(".")] == ["override.csv"]
    (out / ".coming-marks" / "feedback" / "w01.html").write_text("", encoding="utf-8")
    done: list[int] = []
    marked = mark_class(SET, demo.workings, out, told=done.append)
    assert (marked.kept, sum(done)) == (7, 9)  # a job is eight learners; one of its pages was spoilt
    for name in ("marks.csv", "marks.json", "report.html", "report.pdf", "marks.xlsx", "feedback/w01.html"):
        assert (out / name).read_bytes() == (demo.out / name).read_bytes(), name


def test_marks_that_were_kept_are_compared_and_none_moved(demo: Demo, again: Path) -> None:
    """Marked twice from the same: everyone kept, nothing moved, said so."""
    marked = mark_class(SET, demo.workings, again)
    assert (marked.kept, marked.compared, marked.moved_count) == (9, True, 0)


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("w02,1,V_HT,1,\n", "override.csv, line 2: there is no waypoint 'V_HT'; did you mean 'V_TH'?"),
        ("w02,2,,4.5,\n", "override.csv, line 2: question 2 has 4 marks (got 4.5)"),
        ("w2,2,,4,\n", "override.csv, line 2: 'w2' is nobody of the class; did you mean 'w02'?"),
    ],
)
def test_a_mistake_in_the_override_file_replaces_nothing(demo: Demo, again: Path, line: str, sentence: str) -> None:
    """It is told with its line before anything is marked."""
    (again / "override.csv").write_text(TEMPLATE + line, encoding="utf-8")
    before = {file: file.stat().st_mtime_ns for file in again.rglob("*")}
    with pytest.raises(SteadyrailError) as refused:
        mark_class(replace(SET, title="Another"), demo.workings, again)
    assert refused.value.sentence == sentence
    assert {file: file.stat().st_mtime_ns for file in again.rglob("*")} == before


def set_file(folder: Path) -> Path:
    """The demo's set as a file, with its class list."""
    line = io.StringIO()
    csv.writer(line).writerows([("id", "name"), *((learner.id, learner.name) for learner in LEARNERS)])
    (folder / "class.csv").write_text(line.getvalue(), encoding="utf-8")
    asked = "".join(
        f'\n[[questions]]\nproblem = "{name}"\nmarks = {marks}\n' for name, marks in zip(NAMES, MARKS, strict=True)
    )
    file = folder / "set.toml"
    file.write_text(f'title = "{SET.title}"\nseed = 7\n\n[learners]\nlist = "class.csv"\n{asked}', encoding="utf-8")
    return file


def test_the_command_marks_and_says_what_is_left(
    demo: Demo, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 1 where lines or files are left to a person; one JSON object when asked; the same marks as from Python."""
    words = ("mark", str(set_file(tmp_path)), str(demo.workings), "--out", str(tmp_path / "out"), "--no-pdf")
    status, out, err = run(capsys, *words, "--json")
    assert (status, err) == (1, "")
    told = json.loads(out)
    assert (told["learners"], told["counted"], told["absent"], told["lines_left"]) == (9, 6, ["w05"], 3)
    assert told["marks"]["median"] == 9.25 and told["moved"] == []
    status, out, err = run(capsys, *words)
    assert (status, err) == (1, "")
    assert "No marks moved since the last marking." in out and "3 lines could not be read: lines_left.csv" in out
    assert not list((tmp_path / "out" / "feedback").glob("*.pdf"))


def test_status_is_nought_where_nothing_is_left(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A table of workings with one right paper: whoever handed nothing back is told, and is no fault."""
    file = tmp_path / "returned.csv"
    text = RIGHT.split("q3:")[1].strip()
    file.write_text(f'id,question,working\nw01,3,"{text}"\n', encoding="utf-8")
    status, out, err = run(capsys, "mark", str(set_file(tmp_path)), str(file), "--out", str(tmp_path / "o"), "--no-pdf")
    assert (status, err) == (0, "")
    assert "1 of 9 learners marked. Mean 4.0 of 13" in out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("none.toml", "w"), "none.toml cannot be read as a set file"),
        (("set.toml", "none"), "the workings 'none' cannot be read: No such file or directory"),
        (("set.toml", "set.toml"), "set.toml, line 1, has no column 'id'"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(
    words: tuple[str, str], sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    """Status 2, and no folder is made."""
    set_file(tmp_path)
    (tmp_path / "w").mkdir()
    monkeypatch.chdir(tmp_path)
    status, out, err = run(capsys, "mark", *words, "--out", "o")
    assert (status, out) == (2, "")
    assert err.startswith(f"steadyrail: {sentence}") and err.count("\n") == 1
    assert not (tmp_path / "o").exists()
