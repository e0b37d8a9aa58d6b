"""Problems by name: find the family, draw the number, word the problem, work it.

Place in the data flow: the one value that `__main__`, the site and Python users ask for problems. Plans come from the
store; only when one is missing is the compiler (and with it the algebra) called for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path

import tutor
from tutor.bench.stored import read_bands
from tutor.circuit.circuit import Circuit
from tutor.errors import BadFamily, BadValue, OutOfRange, unknown
from tutor.generate.draws import Drawn, draw_numbers
from tutor.generate.family import Family
from tutor.generate.level_run import ReadyLevel
from tutor.generate.make import make_problems
from tutor.generate.name import ProblemName, read_name
from tutor.generate.problem import Problem
from tutor.generate.problems_folder import (
    ProblemsFolder,
    Stamp,
    default_folder,
    file_name,
    load_module,
    short_path,
)  # fmt: skip
from tutor.generate.stage import LevelPlan
from tutor.generate.store import load_level
from tutor.generate.store_files import store_folder
from tutor.quantities.parts import Catalogue
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.solution.bands import bands_of_level
from tutor.solution.declared_types import require_types
from tutor.solution.recipe_store import LevelRecipes, load_recipes
from tutor.solution.sheet import Sheet
from tutor.solution.sheets import sheet_of
from tutor.solution.solution import Solution
from tutor.solution.worked import work

KEPT = 96  # levels ready to run that stay at hand


def _compile(family: Family, circuit: Circuit, level: int, region: str) -> LevelPlan:
    """Plan a level, loading the algebra only now."""
    return tutor.compile_level(family, circuit, level, region)


def _make_recipes(ready: ReadyLevel) -> LevelRecipes:
    """Make a level's recipes, loading the algebra only now."""
    return tutor.make_recipes(ready)


@dataclass(frozen=True)
class _FolderState:
    """A problems folder as it stands now, and the store that its levels are kept in."""

    folder: ProblemsFolder
    stamps: tuple[Stamp, ...]
    store: Path


def _state_of(folder: ProblemsFolder) -> _FolderState:
    return _FolderState(folder, folder.stamps(), store_folder())


@lru_cache(maxsize=512)
def _require_types(file: Path, content: bytes) -> None:
    """BadFamily where a field of a family's file, with this content, is not of its type; what else is wrong is said
    when it is read."""
    declared = getattr(load_module(file, BadFamily), "FAMILY", None)
    if isinstance(declared, Family):
        require_types(declared, short_path(file))


def _family(folder: ProblemsFolder, family_id: str) -> Family:
    if family_id in folder.family_ids():
        file = folder.path / "families" / file_name(family_id)
        _require_types(file, file.read_bytes())
    return folder.family(family_id)


@lru_cache(maxsize=KEPT)
def _level(state: _FolderState, family_id: str, level: int, assumed: tuple[tuple[str, str], ...]) -> ReadyLevel:
    """A level ready to run: read from the store once, and again when a file of the folder has changed."""
    family = _family(state.folder, family_id)
    if level not in (1, 2, 3):
        raise OutOfRange(f"'{family_id}' has the levels 1, 2 and 3 (got {level})")
    circuit = state.folder.circuit(family.circuit_of(level))
    conventions = {name: value for name, value in assumed if name not in circuit.defaults}
    offered = circuit.convention_values()
    for name, value in conventions.items():
        if name not in offered:
            raise unknown("convention", name, [*offered, *circuit.defaults])
        if value not in offered[name]:
            raise unknown(f"value of '{name}'", value, offered[name])
    here = family.under({**family.levels[level - 1].assume, **conventions})
    return load_level(state.folder, here, circuit, level, _compile)


@dataclass(frozen=True)
class WorkedProblem:
    """A problem and its worked solution."""

    problem: Problem
    solution: Solution
    drawn: Drawn = field(repr=False, compare=False)


@dataclass(frozen=True)
class Desk:
    """Everything found under one problems folder; `parts` are its catalogues."""

    folder: ProblemsFolder
    parts: Mapping[str, Catalogue]

    def circuit(self, circuit_id: str) -> Circuit:
        """The circuit of that id; UnknownName with the nearest otherwise."""
        return self.folder.circuit(circuit_id)

    def circuit_for(
        self, circuit_id: str, values: Mapping[str, str | float]
    ) -> tuple[Circuit, dict[str, str | float]]:
        """The circuit that values are meant for, `form` (bridge) among them where it comes in several, and the others.

        UnknownName or BadValue, naming the forms, when the form is not told or not known.
        """
        first = self.circuit(circuit_id)
        if not first.form:
            return first, dict(values)  # a form= that is told all the same is refused where values are read
        forms = {item.form: item for item in self.folder.circuit_forms(first.stem)}
        named = "" if circuit_id == first.stem else first.form
        told = str(values.get("form", named))
        rest = {name: value for name, value in values.items() if name != "form"}
        if not told:
            raise BadValue(f"'{circuit_id}' comes in the forms {', '.join(forms)}; say which, as in form={first.form}")
        if told not in forms:
            raise unknown(f"form of '{first.stem}'", told, forms)
        if named and told != named:
            raise BadValue(f"'{circuit_id}' is the form {named} and form={told} was given too; leave one out")
        return forms[told], rest

    def family(self, family_id: str) -> Family:
        """The family of that id; UnknownName with the nearest otherwise, BadFamily where its file is wrong."""
        return _family(self.folder, family_id)

    def level(self, family_id: str, level: int, assumed: Mapping[str, str] | None = None) -> ReadyLevel:
        """A level ready to run. OutOfRange for a level other than 1 to 3, UnknownName for a family or a convention that
        there is not."""
        return _level(_state_of(self.folder), family_id, level, tuple((assumed or {}).items()))

    def problem(self, name: str | ProblemName) -> WorkedProblem:
        """The problem of that name, worked. BadValue, UnknownName or OutOfRange when there is none such."""
        parsed = read_name(name) if isinstance(name, str) else name
        ready = self.level(parsed.family, parsed.level, parsed.assumed)
        edition = ready.family.edition
        if parsed.edition not in (0, edition):
            raise OutOfRange(f"'{parsed}' asks for edition {parsed.edition}; this version draws edition {edition}")
        return self.batch(ready, [parsed.number], parsed.assumed)[0]

    def batch(
        self, ready: ReadyLevel, numbers: Sequence[int], assumed: Mapping[str, str] | None = None
    ) -> list[WorkedProblem]:
        """The problems of these numbers, worked, in order. OutOfRange for a number that finds none, or an assumed value
        that cannot be read."""
        taken = assumed or {}
        overrides = {name: _assumed_value(name, text) for name, text in taken.items() if name in ready.circuit.defaults}
        expected = bands_of_level(read_bands(self.folder.path), ready, taken)
        drawns = draw_numbers(ready, self.parts, numbers, overrides)
        return [
            WorkedProblem(problem, work(ready, drawn, problem, expected), drawn)
            for drawn, problem in zip(drawns, make_problems(ready, drawns, self.parts, taken), strict=True)
        ]

    def recipes(self, ready: ReadyLevel) -> LevelRecipes:
        """The recipes of a level, from which sheets are made."""
        return load_recipes(self.folder, ready, _make_recipes)

    def sheet(self, name: str | ProblemName) -> Sheet:
        """The sheet of the problem of that name: what a learner's working on it is held against."""
        parsed = read_name(name) if isinstance(name, str) else name
        worked = self.problem(parsed)
        ready = self.level(parsed.family, parsed.level, parsed.assumed)
        return sheet_of(ready, worked.drawn, worked.problem, self.recipes(ready))


def _assumed_value(name: str, text: str) -> float:
    reading = read_quantity(text, symbol_for(name).unit)
    if reading.value is None:
        raise OutOfRange(f"{name}={text}: {reading.reason}")
    return reading.value


def open_desk(path: Path | None = None) -> Desk:
    """A desk over a problems folder, ours unless another is given."""
    folder = ProblemsFolder(path or default_folder())
    return Desk(folder, folder.parts())


@cache
def our_desk() -> Desk:
    """The desk over our own problems folder, opened once."""
    return open_desk()


def circuits() -> tuple[str, ...]:
    """Ids of the circuits there are; one that comes in several forms is there once."""
    return our_desk().folder.circuit_stems()


def named_circuit(circuit: str, form: str = "") -> Circuit:
    """The circuit of that id, as its file declares it; one that comes in several forms takes its `form` (`bridge`).

    UnknownName with the nearest for an id or a form that there is not, BadValue where the form is not told.
    """
    return our_desk().circuit_for(circuit, {"form": form} if form else {})[0]


def families() -> tuple[str, ...]:
    """Ids of the problem families there are."""
    return our_desk().folder.family_ids()
