"""Recipes of a level kept on disk beside its plans, so that checking a second working needs no algebra.

Place in the data flow: Desk asks for a level's recipes; `recipes.py` makes them when the store has none.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from tutor.circuit.circuit import Circuit
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problems_folder import ProblemsFolder, file_name
from tutor.generate.store import level_key
from tutor.generate.store_files import engine_digest, keep_stored, read_as, store_folder, stored_or_made
from tutor.solution.own_values import OwnNames
from tutor.solution.recipe_json import (
    branch_from_json,
    branch_to_json,
    convention_from_json,
    convention_to_json,
    demand_from_json,
    demand_to_json,
    recipe_from_json,
    recipe_to_json,
)
from tutor.solution.sheet import Branch, Convention, DesignDemand, Recipe

KEPT = 96  # recipes of levels that stay at hand


@dataclass(frozen=True)
class RegionRecipes:
    """A level in one region: its recipe, its recipes under the other conventions, and what a design must meet."""

    recipe: Recipe
    conventions: tuple[Convention, ...]
    demands: tuple[DesignDemand, ...] = ()


@dataclass(frozen=True)
class LevelRecipes:
    """All recipes of a level; `branches` are the circuit's regions for hypotheses, `generic` its manifold, `exact` the
    same with nothing neglected (None where the level neglects nothing)."""

    regions: Mapping[str, RegionRecipes]
    branches: tuple[Branch, ...]
    generic: Recipe
    exact: Recipe | None


@dataclass(frozen=True)
class OwnRegion:
    """Somebody's own givens in one region: the recipe, those under the other conventions, the bare circuit's, and the
    same with nothing neglected (None where nothing is)."""

    recipe: Recipe
    conventions: tuple[Convention, ...]
    generic: Recipe
    exact: Recipe | None


@dataclass(frozen=True)
class OwnRecipes:
    """The recipes of a set of own givens, by region; `branches` are those with another load."""

    regions: Mapping[str, OwnRegion]
    branches: tuple[Branch, ...] = ()


Maker = Callable[[ReadyLevel], LevelRecipes]
OwnMaker = Callable[[Circuit, OwnNames, Mapping[str, str]], OwnRecipes]


@cache
def recipes_digest() -> str:
    """A digest of the files that make recipes."""
    digest = hashlib.sha256()
    here = Path(__file__).resolve().parent
    for name in ("recipes.py", "recipe_json.py", "recipe_store.py", "sheet.py", "own_values.py"):
        digest.update((here / name).read_bytes())
    return digest.hexdigest()[:16]


def load_recipes(folder: ProblemsFolder, ready: ReadyLevel, maker: Maker) -> LevelRecipes:
    """The recipes of a level, from the store when they are there, made and kept when not."""
    name = f"{level_key(folder, ready.family, ready.circuit, ready.number)}-{recipes_digest()}.json"
    file = store_folder() / name
    try:
        return _read(file)
    except LookupError:
        found = maker(ready)
        keep_stored(file, _encoded(found))
    return found


@lru_cache(maxsize=KEPT)
def _read(file: Path) -> LevelRecipes:
    """The recipes in a file of the store, whose name changes with what they are made from; LookupError without any."""
    found = read_as(file, _decoded)
    if found is None:
        raise LookupError(str(file))
    return found


def load_own_recipes(
    folder: ProblemsFolder, circuit: Circuit, given: OwnNames, conventions: Mapping[str, str], maker: OwnMaker
) -> OwnRecipes:
    """The recipes for a set of own givens, from the store when they are there, made and kept when not."""
    told = json.dumps([engine_digest(), circuit.id, given.names, sorted(conventions.items())])
    source = folder.file_bytes(f"circuits/{file_name(circuit.stem)}")
    file = store_folder() / f"{hashlib.sha256(told.encode() + source).hexdigest()}-own-{recipes_digest()}.json"
    return stored_or_made(file, _own_decoded, lambda: _own_encoded(maker(circuit, given, conventions)))


def _own_encoded(recipes: OwnRecipes) -> dict[str, Any]:
    regions = {
        region: [
            recipe_to_json(item.recipe), [convention_to_json(other) for other in item.conventions],
            recipe_to_json(item.generic), item.exact and recipe_to_json(item.exact),
        ]
        for region, item in recipes.regions.items()
    }  # fmt: skip
    return {"regions": regions, "branches": [branch_to_json(item) for item in recipes.branches]}


def _own_decoded(data: dict[str, Any]) -> OwnRecipes:
    return OwnRecipes(
        {
            region: OwnRegion(
                recipe_from_json(recipe), tuple(map(convention_from_json, others)), recipe_from_json(generic),
                None if exact is None else recipe_from_json(exact),
            )
            for region, (recipe, others, generic, exact) in data["regions"].items()
        },
        tuple(map(branch_from_json, data["branches"])),
    )  # fmt: skip


def _encoded(recipes: LevelRecipes) -> dict[str, Any]:
    return {
        "regions": {
            region: [
                recipe_to_json(item.recipe), [convention_to_json(other) for other in item.conventions],
                [demand_to_json(demand) for demand in item.demands],
            ]
            for region, item in recipes.regions.items()
        },
        "branches": [branch_to_json(item) for item in recipes.branches],
        "generic": recipe_to_json(recipes.generic),
        "exact": recipes.exact and recipe_to_json(recipes.exact),
    }  # fmt: skip


def _decoded(data: dict[str, Any]) -> LevelRecipes:
    return LevelRecipes(
        {
            region: RegionRecipes(
                recipe_from_json(recipe), tuple(map(convention_from_json, others)),
                tuple(map(demand_from_json, demands)),
            )
            for region, (recipe, others, demands) in data["regions"].items()
        },
        tuple(map(branch_from_json, data["branches"])),
        recipe_from_json(data["generic"]),
        None if data["exact"] is None else recipe_from_json(data["exact"]),
    )  # fmt: skip
