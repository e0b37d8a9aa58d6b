"""The targets of what an author declares: a family's and a circuit's file, one or more of their fields replaced.

What is fed has on each line the place of a constant in our own file (modulo their count), a space, and what stands
there instead: a number, a text, None, a list of these as Python writes it, or any other words, taken as a text. So what
is fed is data: only the file itself is run, as an author's own program is.
"""

from __future__ import annotations

import ast
import os
import shutil
import sys
import tempfile
from functools import cache
from pathlib import Path
from unittest import mock

from tests.fuzz.feed import as_text
from tests.fuzz.watch import watched
from tutor.circuit.circuit import Circuit
from tutor.errors import SteadyrailError
from tutor.generate.declaration import check_level
from tutor.generate.problems_folder import ProblemsFolder, default_folder
from tutor.solution.desk import Desk, open_desk, our_desk

FAMILY, CIRCUIT = "zener_state", "zener_shunt"
MOST_CHANGES = 4
_LONGEST = 300  # of what is put in
_kept: list[tempfile.TemporaryDirectory[str]] = []


@cache
def folder() -> Path:
    """A problems folder of our circuits and parts, and no family."""
    kept = tempfile.TemporaryDirectory(prefix="steadyrail-declared-")
    _kept.append(kept)
    root = Path(kept.name) / "problems"
    for name in ("circuits", "parts"):
        shutil.copytree(default_folder() / name, root / name, ignore=shutil.ignore_patterns("__pycache__"))
    (root / "families").mkdir()
    return root


@cache
def _desk() -> Desk:
    """A desk over that folder, ready: what only its first use imports and looks up is there."""
    our_desk().family(FAMILY.replace("_", "-"))
    return open_desk(folder())


@cache
def _declared(kind: str, stem: str) -> str:
    return (default_folder() / kind / f"{stem}.py").read_text(encoding="utf-8")


def changed(kind: str, stem: str, data: bytes) -> str:
    """Our file with constants of it replaced as the text says."""
    tree = ast.parse(_declared(kind, stem))
    inside = {id(item) for item in ast.walk(tree) if isinstance(item, ast.FormattedValue | ast.JoinedStr)}
    places = [item for item in ast.walk(tree) if isinstance(item, ast.Constant) and id(item) not in inside]
    for line in as_text(data).split("\n")[:MOST_CHANGES]:
        number, _, told = line[:_LONGEST].partition(" ")
        if number.isascii() and number.isdigit():
            places[int(number[:9]) % len(places)].value = _value(told)  # type: ignore[assignment]
    return ast.unparse(ast.fix_missing_locations(tree))


def _value(told: str) -> object:
    """What a text stands for as a constant; lists are given as such, everything else as the text it is."""
    try:
        return ast.literal_eval(told)
    except (ValueError, SyntaxError, MemoryError, RecursionError, TypeError):
        return told


def family(data: bytes) -> None:
    """A family's file: a Family whose levels are checked, or one sentence that names the file."""
    text = changed("families", FAMILY, data)
    file = folder() / "families" / "declared.py"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    _desk()
    with watched(folder()):
        try:
            found = _desk().family("declared")
            for number in (1, 2, 3):
                check_level(found, _desk().circuit(found.circuit_of(number)), number)
        except SteadyrailError as error:
            assert "families/declared.py" in error.sentence, error.sentence


def drawn(data: bytes) -> None:
    """A family's file, on to its problems: the first of each level solved and worked, or one sentence that names it."""
    text = changed("families", FAMILY, data)
    (folder() / "families" / "declared.py").write_bytes(text.encode("utf-8", "surrogatepass"))
    with mock.patch.dict(os.environ, STEADYRAIL_STORE=str(folder() / "store")):
        _work_unchanged()
        with watched(folder(), algebra=True):
            for number in (1, 2, 3):
                try:
                    worked = _desk().problem(f"declared:{number}:1")
                    assert worked.problem.statement and worked.solution.steps
                except SteadyrailError as error:
                    assert "declared" in error.sentence, error.sentence


@cache
def _work_unchanged() -> None:
    """The family as it is, planned and worked: what only the first algebra imports is there."""
    (folder() / "families" / "unchanged.py").write_text(_declared("families", FAMILY), encoding="utf-8")
    for number in (1, 2, 3):
        _desk().problem(f"unchanged:{number}:1")


def circuit(data: bytes) -> None:
    """A circuit's file: a Circuit, or one sentence that names the file."""
    text = changed("circuits", CIRCUIT, data)
    file = folder() / "circuits" / "declared.py"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        with watched(folder()):
            try:
                assert isinstance(ProblemsFolder(folder()).circuit("declared"), Circuit)
            except SteadyrailError as error:
                assert "circuits/declared.py" in error.sentence, error.sentence
    finally:
        file.unlink()
        sys.modules.pop("steadyrail_circuits_declared", None)
