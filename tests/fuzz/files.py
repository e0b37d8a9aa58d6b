"""The targets of what a lecturer or an author writes: set files, class lists, workings handed back, marks by hand,
numbers used, netlists, values, formulas, names of problems.

Each is accepted, or refused in one sentence that says where: a SteadyrailError and nothing else. Whatever is fed,
nothing is run, and nothing is written: the tree of files is the same afterwards.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from tests.fuzz.feed import as_text
from tests.fuzz.watch import watched
from tutor.circuit.netlist import read_netlist
from tutor.errors import BadCircuit, SteadyrailError
from tutor.generate.name import read_name
from tutor.generate.problems_folder import default_folder
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import write
from tutor.quantities.reading import read_quantity
from tutor.quantities.units import units
from tutor.sets.by_hand import read_by_hand
from tutor.sets.class_list import file_stem, read_class_list
from tutor.sets.numbers_used import names_used
from tutor.sets.paper import Learner
from tutor.sets.returned import MOST_STRAYS, Filed, file_returns
from tutor.sets.returned_table import file_table
from tutor.sets.set_file import read_set_file
from tutor.sets.spreadsheet import safe_cell
from tutor.solution.declared_types import MOST_BRACKETS, deepest_bracket
from tutor.solution.desk import our_desk
from tutor.solution.own_values import read_own

CLASS = (Learner("a1"), Learner("b2"), Learner("../../x"))
QUESTIONS = 3


def refused(sentence: str, *names: str) -> None:
    """What is true of every refusal: one sentence, of a length that can be read, which names where."""
    assert sentence.strip() and "Traceback" not in sentence and " object at 0x" not in sentence
    assert len(sentence) < 2000, sentence[:300]
    assert all(name in sentence for name in names), sentence[:300]


@cache
def _folder() -> Path:
    """One folder for all that is fed to this process."""
    kept = tempfile.TemporaryDirectory(prefix="steadyrail-fed-")
    _kept.append(kept)
    return Path(kept.name)


_kept: list[tempfile.TemporaryDirectory[str]] = []


def tree(folder: Path) -> dict[str, tuple[int, bytes]]:
    """All that is in a folder: every path with its mode and, of a file, its content."""
    found = {}
    for path in sorted(folder.rglob("*")):
        state = path.lstat()
        found[os.fspath(path.relative_to(folder))] = (
            state.st_mode, path.read_bytes() if path.is_file() and not path.is_symlink() else b"",
        )  # fmt: skip
    return found


@contextmanager
def fed(name: str, data: bytes) -> Iterator[Path]:
    """A file with what is fed, alone in a folder; afterwards nothing else is there and it is as it was."""
    folder = _folder() / "fed"
    folder.mkdir(exist_ok=True)
    path = folder / name
    path.write_bytes(data)
    try:
        with watched():
            yield path
        assert tree(_folder()) == {"fed": (folder.stat().st_mode, b""), f"fed/{name}": (path.stat().st_mode, data)}
    finally:
        path.unlink()


@cache
def warm() -> None:
    """A set that is right, read once: what only a first use imports is there."""
    read_set_file(default_folder() / "sets" / "shunt-week.toml")


def set_file(data: bytes) -> None:
    """A set file, which may name itself as its class list, and anything else that is there."""
    warm()
    with fed("set.toml", data) as path:
        try:
            told = read_set_file(path)
        except SteadyrailError as error:
            return refused(error.sentence, "set.toml")
        assert told.title.strip() and told.questions and told.learners
        assert 0.01 <= told.rules.tolerance <= 0.05 and 0 <= told.seed < 2**63


def class_list(data: bytes) -> None:
    """A class list; the names of its learners' files stay plain, apart, and below their folder."""
    with fed("class.csv", data) as path:
        try:
            learners = read_class_list(path)
        except SteadyrailError as error:
            return refused(error.sentence, "class.csv")
        assert learners and len({item.id for item in learners}) == len(learners)
        stems = {file_stem(item.id) for item in learners}
        assert len(stems) == len(learners)
        for stem in stems:
            assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-_."), stem
            assert stem[0] not in "-." and len(stem) <= 60, stem
        for item in learners:
            for cell in (safe_cell(item.id), safe_cell(item.name)):
                assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell


def workings(data: bytes) -> None:
    """Workings handed back as a table, or by one learner as a file. Whatever a file holds is answers or notes, and
    nothing is raised."""
    _table(data)
    with fed("a1.txt", data) as path:
        _returned(file_returns(path.parent, CLASS))


def _table(data: bytes) -> None:
    with fed("workings.csv", data) as path:
        try:
            filed = file_table(path, CLASS, QUESTIONS)
        except SteadyrailError as error:
            return refused(error.sentence, "workings")
        _returned(filed)


def _returned(filed: Filed) -> None:
    assert len(filed.strays) <= MOST_STRAYS + 1
    for learner in CLASS:
        found = filed.of(learner, QUESTIONS)
        if found is None:
            continue
        assert set(found.answers) <= set(range(1, QUESTIONS + 1))
        for answer in found.answers.values():
            assert "\0" not in answer.text
            assert not answer.lines or len(answer.lines) == answer.text.count("\n") + 1
        for note in found.notes:
            refused(note)


def by_hand(data: bytes) -> None:
    """Marks by hand, as a table and as TOML."""
    for name in ("override.csv", "override.toml"):
        with fed(name, data) as path:
            try:
                found = read_by_hand(path, CLASS, QUESTIONS)
            except SteadyrailError as error:
                refused(error.sentence, name)
                continue
            for items in found.values():
                assert all(1 <= item.question <= QUESTIONS and 0 <= item.marks <= 9999.5 for item in items)


def numbers(data: bytes) -> None:
    """A file of numbers used."""
    with fed("numbers.json", data) as path:
        try:
            assert all(name.count(":") == 2 for name in names_used(path))
        except SteadyrailError as error:
            refused(error.sentence, "numbers.json")


def netlist(data: bytes) -> None:
    """A netlist: parts, or BadCircuit with line and column."""
    with watched():
        try:
            parts = read_netlist(as_text(data), "circuit.py")
        except BadCircuit as error:
            return refused(error.sentence, "circuit.py, netlist line ", ", column ")
        assert len({part.name for part in parts}) == len(parts)
        assert all(len(part.nodes) == len(part.component.terminals) for part in parts)


def values(data: bytes) -> None:
    """NAME=VALUE words of the command line, one a line, for a circuit; and a quantity of every unit."""
    text = as_text(data)
    pairs = dict(word.split("=", 1) for word in text.split("\n") if "=" in word)
    with watched():
        for circuit in ("zener-shunt", "follower"):
            for comma in (False, True):
                try:
                    own = read_own(our_desk().circuit(circuit), pairs, {}, decimal_comma=comma)
                except SteadyrailError as error:
                    assert error.sentence.strip()
                    continue
                assert all(abs(value) < 1e60 for value in own.numbers.values())
        for unit in units():
            reading = read_quantity(text, unit)
            assert (reading.value is None) == bool(reading.reason)
            if reading.value is None:
                assert reading.columns and 1 <= reading.columns[0] <= reading.columns[1] <= len(text) + 1
            else:
                assert abs(reading.value) < 1e60 and write(reading.value, unit)


def formulas(data: bytes) -> None:
    """A formula, an equation, prose, the name of a problem: read, or refused."""
    text = as_text(data)
    if deepest_bracket(text) > MOST_BRACKETS:
        return  # refused before it comes here: `set_questions.py`, `declared_types.py`
    readers: tuple[Callable[[str], object], ...] = (read_expression, read_equation, prose_text, read_name)
    with watched():
        for reader in readers:
            try:
                reader(text)
            except SteadyrailError as error:
                assert error.sentence.strip()
