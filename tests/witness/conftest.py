"""The witness: hand-written ngspice decks, run for many sets of values at once, and the engine asked the same.

Vocabulary: a *form* is one deck with the ranges its values are drawn from (forms.py); the engine is *told* the form's
givens, values of the deck or readings the simulator took; a *set* is one draw; the *disagreement* of two values is
their difference over the simulator's value. A value below a millionth of the set's largest of its unit (for currents
and powers: of what V_I would drive through R, where that is more) is measured against that millionth: the current of
a zener that is off comes out of the simulator as some 1e-16 A.
"""

from __future__ import annotations

import importlib.util
import math
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.witness.compare_forms import COMPARE_FORMS
from tests.witness.full_regulator_forms import FULL_FORMS
from tests.witness.loop_forms import LOOP_FORMS
from tests.witness.prestabilised_forms import PRESTABILISED_FORMS
from tests.witness.series_forms import SERIES_FORMS
from tests.witness.shunt_forms import SHUNT_FORMS
from tests.witness.supply_forms import SUPPLY_FORMS
from tutor.circuit.circuit import Circuit, Region
from tutor.errors import SteadyrailError, Unreachable
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive
from tutor.laws.law import LawSet
from tutor.plan import determinacy, one_region, regions, states
from tutor.plan.resolved import Resolved
from tutor.quantities.symbols import symbol_for

HERE = Path(__file__).parent
FOLDER = ProblemsFolder(HERE.parents[1] / "problems")
DEFAULTS = {"V_CE_SAT"}  # standing values the engine adds of its own accord

Values = dict[str, float]


def _load_forms() -> ModuleType:
    """The table beside this file; the folder is no package, so it is found by path."""
    spec = importlib.util.spec_from_file_location("witness_forms", HERE / "forms.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


forms = _load_forms()
FORMS = (
    *forms.FORMS, *SHUNT_FORMS, *SERIES_FORMS, *LOOP_FORMS, *COMPARE_FORMS, *SUPPLY_FORMS, *PRESTABILISED_FORMS,
    *FULL_FORMS,
)  # fmt: skip


def find_ngspice() -> str:
    """Where ngspice is. Without it the test is skipped; where CI is set, it fails."""
    found = shutil.which("ngspice")
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail("ngspice is missing, and CI must have it (Debian package ngspice)")
    pytest.skip("ngspice is missing (Debian package ngspice)")


def deck_text(deck: str, edit: tuple[str, str] | None = None) -> str:
    """A deck as written, or with one thing in it changed (found exactly once)."""
    text = (HERE / "decks" / f"{deck}.cir").read_text(encoding="utf-8")
    if edit is not None:
        assert text.count(edit[0]) == 1, f"{deck}: '{edit[0]}' stands {text.count(edit[0])} times"
        text = text.replace(*edit)
    return text


def batch_text(text: str, sets: Sequence[Values]) -> str:
    """The deck with its commands repeated for every set, so that one process runs them all."""
    netlist, commands = text.split(".control\n")
    commands, rest = commands.split("quit\n")
    lines = []
    for values in sets:
        lines += [f"alterparam {name} = {value!r}" for name, value in values.items()]
        lines += ["reset", "echo SET", commands.strip(), "destroy all"]
    return f"{netlist}.control\n" + "\n".join(lines) + f"\nquit\n{rest}"


def run_deck(deck: str, sets: Sequence[Values], edit: tuple[str, str] | None = None) -> list[Values]:
    """What the simulator prints for each set, by the names the deck gives."""
    text = deck_text(deck, edit)
    names = {name.lower(): name for name in re.findall(r"^let (\w+) =", text, re.MULTILINE)}
    done = subprocess.run(
        [find_ngspice(), "-b", "/dev/stdin"],
        input=batch_text(text, sets), capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    blocks = done.stdout.split("SET\n")[1:]
    found = [
        {names[name]: float(value) for name, value in re.findall(r"^(\w+) = (\S+)$", block, re.MULTILINE)}
        for block in blocks
    ]
    if len(found) != len(sets) or any(set(values) != set(names.values()) for values in found):
        raise AssertionError(f"{deck}: ngspice did not finish\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    return found


def disagreement(ours: float, theirs: float, scale: float) -> float:
    """The difference over the simulator's value or, where that is more, a millionth of `scale`; inf when no number."""
    if not math.isfinite(ours):
        return math.inf
    return abs(ours - theirs) / max(abs(theirs), 1e-6 * scale, 1e-30)


def scale_of(name: str, seen: Values, told: Values) -> float:
    """The largest of the values of one unit; for currents and powers at least what V_I would drive through R alone."""
    unit = symbol_for(name).unit
    alike = [abs(value) for key, value in seen.items() if symbol_for(key).unit == unit]
    if {"V_I", "R"} <= set(told):
        current = told["V_I"] / told["R"]
        alike += {"A": [current], "W": [current * told["V_I"]]}.get(unit, [])
    return max(alike)


@dataclass(frozen=True)
class Worst:
    """The largest disagreement met, and where."""

    size: float
    name: str
    values: Values

    def __str__(self) -> str:
        told = ", ".join(f"{name} = {value:.6g}" for name, value in self.values.items())
        return f"{self.size:.1e} in {self.name} at {told}"


Solve = Callable[..., Resolved]


def worst_of(form: Any, solve: Solve, sets: Sequence[Values], seen: Sequence[Values]) -> Worst:
    """The engine told each set, every value it finds held against what the simulator saw; inf for a refusal,
    another region, or where one side finds what the other does not."""
    worst = Worst(-1.0, "nothing", {})
    for drawn, theirs in zip(sets, seen, strict=True):
        told = {name: drawn[name] if name in drawn else theirs[name] for name in form.told}
        try:
            found = solve(form.circuit, told, (), form.conventions)
        except SteadyrailError as error:
            return Worst(math.inf, f"a refusal ({error})", told)
        if found.region.id != form.region:
            return Worst(math.inf, f"the region ({found.region.id})", told)
        ours = {name: float(value) for name, value in found.values.items() if name not in form.told}
        expected = {name: value for name, value in theirs.items() if name not in form.told}
        extra = set(ours) ^ set(expected)
        if extra - DEFAULTS:
            return Worst(math.inf, f"{form.deck}, of which one side alone has {sorted(extra - DEFAULTS)}", told)
        for name, value in expected.items():
            size = disagreement(ours[name], value, scale_of(name, expected, told))
            if size > worst.size:
                worst = Worst(size, name, told)
    return worst


@cache
def circuit_of(circuit_id: str) -> Circuit:
    """A circuit of ours, read once."""
    return FOLDER.circuit(circuit_id)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test that takes `form` runs for every one."""
    if "form" in metafunc.fixturenames:
        metafunc.parametrize("form", FORMS, ids=[form.deck for form in FORMS])


def keeping(function: Callable[..., object], key: Callable[..., object]) -> Callable[..., object]:
    """The function with its results, and its refusals to plan, kept by `key` of its arguments."""
    kept: dict[object, object] = {}

    def again(*args: object, **named: object) -> object:
        place = key(*args, **named)
        if place not in kept:
            try:
                kept[place] = function(*args, **named)
            except Unreachable as error:
                kept[place] = error
        found = kept[place]
        if isinstance(found, Unreachable):
            raise found.with_traceback(None)
        return found

    return again


def _as_derived(laws: LawSet) -> LawSet:
    return laws


@pytest.fixture
def solve_with(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[LawSet], LawSet]], Solve]:
    """The engine with its laws edited, once for all sets of a form: plans go with the laws they were made from.

    A plan with the numbers of a set in it, of a region that only comes into question, is kept here like the others:
    were such a region the one that holds, the next set would show it.
    """

    def by_circuit(circuit: Circuit, region: Region, *rest: object, **named: object) -> object:
        return circuit.id, region.id, repr(rest), repr(sorted(named.items()))

    def by_names(_circuit: Circuit, _region: Region, laws: LawSet, *rest: object) -> object:
        return id(laws), tuple(tuple(item) if isinstance(item, Mapping) else item for item in rest)

    def solver(edit: Callable[[LawSet], LawSet]) -> Solve:
        derived = keeping(lambda *args, **named: edit(derive(*args, **named)), by_circuit)
        for module in (determinacy, one_region, states):
            monkeypatch.setattr(module, "derive", derived)
        if edit is not _as_derived:  # what is found of edited laws is remembered for this test alone
            apart = lru_cache(maxsize=256)(determinacy._manifold.__wrapped__)
            monkeypatch.setattr(determinacy, "_manifold", apart)
        monkeypatch.setattr(one_region, "_way_in", keeping(one_region._way_in, by_names))
        return lambda circuit_id, given, wanted, conventions=None: regions.resolve(
            circuit_of(circuit_id), given, wanted, conventions
        )

    return solver


@pytest.fixture
def solve(solve_with: Callable[[Callable[[LawSet], LawSet]], Solve]) -> Solve:
    """The engine as it is."""
    return solve_with(_as_derived)


@dataclass(frozen=True)
class Witness:
    """The simulator's side, for tests."""

    folder: ProblemsFolder
    decks: Path
    forms: Mapping[str, Any]
    find: Callable[[], str]
    run: Callable[..., list[Values]]
    worst: Callable[..., Worst]


@pytest.fixture
def witness() -> Witness:
    """The forms, and what runs and compares them."""
    by_deck = {form.deck: form for form in (*FORMS, *forms.STATES)}
    return Witness(FOLDER, HERE / "decks", by_deck, find_ngspice, run_deck, worst_of)
