"""`steadyrail paper`: a folder that is whole, kept on a second run, mended where something is lost, never half."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from tests.views.print_samples import page_texts
from tutor.__main__ import main

SET = """
title = "Week five"
seed = 7

[learners]
list = "class.csv"

[[questions]]
family = "zener-resistor"
level = 2

[[questions]]
family = "direction-of-change"
level = 1
"""
CLASS = "id,name\ns-017,Ada Marsh\n../../up,=1+1\n"

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def set_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A set for a class of two, one of whom has an id that would lead out of the folder."""
    folder = tmp_path_factory.mktemp("set")
    (folder / "class.csv").write_text(CLASS, encoding="utf-8")
    path = folder / "week.toml"
    path.write_text(SET, encoding="utf-8")
    return path


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """The command as it is typed, in this process: its exit status and what it says."""

    def typed(*words: str | Path) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            main(["paper", *map(str, words), "--processes", "1"])
        said = capsys.readouterr()
        return int(str(ended.value.code)), said.out, said.err

    return typed


def files_in(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_papers_of_a_class(set_file: Path, tmp_path: Path, run: Run) -> None:
    """All files there, ids kept inside the folder, cells safe; run again all is kept; one lost file is made again."""
    out = tmp_path / "out"
    status, said, _ = run(set_file, "--out", out)
    assert (status, said.splitlines()[0]) == (
        0,
        f"2 papers with their keys are in {out} (2 made now, 0 there already); the answer table is answers.pdf.",
    )
    first = files_in(out)
    assert {path.name for path in tmp_path.iterdir()} == {"out"}
    stems = sorted(path.stem for path in (out / "papers").glob("*.pdf"))
    assert stems[0] == "s-017" or stems[1] == "s-017"
    assert sorted(path.stem for path in (out / "keys").glob("*.pdf")) == stems and len(stems) == 2
    rows = list(csv.DictReader((out / "answers.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert (rows[0]["learner"], rows[0]["question"], rows[0]["key"]) == ("s-017", "1", "R_MAX")
    assert {row["learner"] for row in rows} == {"s-017", "../../up"}
    with ZipFile(out / "package.zip") as package:
        items = {name for name in package.namelist() if name.startswith("items/") and name.endswith(".xml")}
    listed = list(csv.DictReader((out / "items.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert items == {f"items/{row['identifier']}.xml" for row in listed}
    assert {row["item"] for row in listed} == {row["item"] for row in rows}
    numbers = json.loads((out / "numbers.json").read_text(encoding="utf-8"))["learners"]
    pages = " ".join(page_texts((out / "papers" / "s-017.pdf").read_bytes()))
    assert "Ada Marsh" in pages and all(name in pages for name in numbers["s-017"])
    assert "equally difficult for everyone" in (out / "report.txt").read_text(encoding="utf-8")

    (out / "papers" / "s-017.pdf").unlink()
    (out / "keys" / ".half.part").write_bytes(b"half")
    (out / "package.zip").write_bytes(b"half")
    status, said, _ = run(set_file, "--out", out, "--json")
    record: dict[str, Any] = json.loads(said)
    assert (status, record["made"], record["kept"], record["marks"]) == (0, 1, 1, 18)
    assert record["tables"] == {"files": ["items.csv", "items.json", "answers.csv"], "items": 4, "answers": len(rows)}
    assert record["package"]["file"] == "package.zip" and record["pages"] is None
    assert record["report"]["equal"] and record["report"]["questions"][0]["asks"] == "zener-resistor:2"
    assert files_in(out) == first

    changed = set_file.with_name("other.toml")
    changed.write_text(SET.replace("seed = 7", "seed = 8"), encoding="utf-8")
    assert json.loads(run(changed, "--out", out, "--json")[1])["made"] == 2


def test_a_mistake_leaves_nothing_behind(set_file: Path, tmp_path: Path, run: Run) -> None:
    """A family that is none: one sentence with its line, exit status 2, and no folder."""
    wrong = set_file.with_name("wrong.toml")
    wrong.write_text(SET.replace("zener-resistor", "zener-resistr"), encoding="utf-8")
    status, said, why = run(wrong, "--out", tmp_path / "out")
    assert (status, said) == (2, "") and not (tmp_path / "out").exists()
    assert "wrong.toml, line 9" in why and "did you mean 'zener-resistor'?" in why


def test_a_folder_of_other_files_is_left_alone(set_file: Path, tmp_path: Path, run: Run) -> None:
    """Papers are not written among somebody's own files, nor in place of one."""
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    status, _, why = run(set_file, "--out", tmp_path)
    instead = "choose an empty folder, or one that papers were written to before"
    assert (status, why) == (2, f"steadyrail: {tmp_path} holds other files; {instead}\n")
    assert run(set_file, "--out", tmp_path / "notes.txt")[0] == 2
    assert files_in(tmp_path) == {"notes.txt": b"mine"}
