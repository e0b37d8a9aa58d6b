"""Compiled levels kept on disk, keyed by what they were made from, so that a second use needs no algebra.

A key is a digest of the engine's own source, the circuit's and the family's files, the level and its conventions; a
change in any of them makes another key. A store that cannot be written is simply not used.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from tutor.circuit.circuit import Circuit, Variant
from tutor.errors import BadFamily
from tutor.generate.family import Family
from tutor.generate.level_run import ReadyLevel, ready_level
from tutor.generate.problems_folder import ProblemsFolder, file_name
from tutor.generate.stage import LevelPlan, level_plan_from_json, level_plan_to_json

Compiler = Callable[[Family, Circuit, int, str], LevelPlan]
Kept = TypeVar("Kept")

_LAYERS = ("quantities", "circuit", "laws", "plan", "generate")


def store_folder() -> Path:
    """Where compiled levels are kept: STEADYRAIL_STORE, else steadyrail in the user's cache folder."""
    named = os.environ.get("STEADYRAIL_STORE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "steadyrail"


@cache
def engine_digest() -> str:
    """A digest of the engine's source, layer by layer."""
    digest = hashlib.sha256()
    root = Path(__file__).resolve().parents[1]
    for layer in _LAYERS:
        for file in sorted((root / layer).iterdir()):
            if file.suffix in (".py", ".txt"):
                digest.update(file.name.encode())
                digest.update(file.read_bytes())
    return digest.hexdigest()


def load_level(folder: ProblemsFolder, family: Family, circuit: Circuit, number: int, compiler: Compiler) -> ReadyLevel:
    """A level ready to run, from the store when it is there, compiled and kept when not."""
    file = store_folder() / f"{level_key(folder, family, circuit, number)}.json"
    plans, approximate = stored_or_made(
        file, lambda data: _decoded(data, circuit), lambda: _compile(family, circuit, number, compiler)
    )
    return ready_level(family, circuit, number, plans, approximate)


def _decoded(
    stored: dict[str, Any], circuit: Circuit
) -> tuple[tuple[LevelPlan, ...], tuple[tuple[Variant, LevelPlan], ...]]:
    """The plans of a stored level and those under approximations."""
    by_name = {(variant.convention, variant.value): variant for variant in circuit.variants}
    approximate = tuple(
        (by_name[(item["convention"], item["value"])], level_plan_from_json(item["plan"]))
        for item in stored["approximate"]
    )
    return tuple(level_plan_from_json(item) for item in stored["plans"]), approximate


def level_key(folder: ProblemsFolder, family: Family, circuit: Circuit, number: int) -> str:
    """A digest of all that a level's plans are made from."""
    files = folder.file_bytes(f"circuits/{file_name(circuit.stem)}", f"families/{file_name(family.id)}")
    recipe = json.dumps([engine_digest(), family.id, number, circuit.form, sorted(family.assume.items())])
    return hashlib.sha256(recipe.encode() + files).hexdigest()


def _compile(family: Family, circuit: Circuit, number: int, compiler: Compiler) -> dict[str, Any]:
    level = family.levels[number - 1]
    regions = level.regions or (circuit.regions[0].id,)
    plans = [level_plan_to_json(compiler(family, circuit, number, region)) for region in regions]
    approximate = []
    for variant in circuit.variants:
        if variant.watches and family.assume.get(variant.convention) != variant.value:
            plan = _approximate_plan(family, circuit, number, regions[0], variant, compiler)
            if plan is not None:
                item = {"convention": variant.convention, "value": variant.value, "plan": level_plan_to_json(plan)}
                approximate.append(item)
    return {"plans": plans, "approximate": approximate}


def _approximate_plan(
    family: Family, circuit: Circuit, number: int, region: str, variant: Variant, compiler: Compiler
) -> LevelPlan | None:
    """The level under an approximation; None where the approximation leaves nothing to solve (no h_FE without I_B)."""
    try:
        return compiler(family.under({variant.convention: variant.value}), circuit, number, region)
    except BadFamily:
        return None


def stored_or_made(
    file: Path, decode: Callable[[dict[str, Any]], Kept], make: Callable[[], dict[str, Any]]
) -> Kept:
    """What `decode` reads in a file of the store; where there is none, or none it can read, what it reads in the data
    that `make` makes, which are kept: so that a second use meets the same."""
    found = read_as(file, decode)
    if found is None:
        data = make()
        keep_stored(file, data)
        found = decode(data)
    return found


def read_as(file: Path, decode: Callable[[dict[str, Any]], Kept]) -> Kept | None:
    """What `decode` reads in a file of the store; None where there is none, or what is stored is of another form."""
    stored = read_stored(file)
    try:
        return None if stored is None else decode(stored)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError):
        return None


def read_stored(file: Path) -> dict[str, Any] | None:
    """The JSON object in a stored file, or None when there is none that can be read."""
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return data if isinstance(data, dict) else None


def keep_stored(file: Path, data: dict[str, Any]) -> None:
    """Write whole or not at all: a reader never meets half a file, and a full disk leaves none behind."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
    except OSError:
        return
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            json.dump(data, out)
        Path(name).replace(file)
    except OSError:
        with suppress(OSError):
            Path(name).unlink()
