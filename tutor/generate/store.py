"""Compiled levels kept on disk, keyed by what they were made from, so that a second use needs no algebra.

A key is a digest of the engine's own source, the circuit's and the family's files, the level and its conventions; a
change in any of them makes another key.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from typing import Any

from tutor.circuit.circuit import Circuit, Variant
from tutor.errors import BadFamily
from tutor.generate.family import Family
from tutor.generate.level_run import ReadyLevel, ready_level
from tutor.generate.problems_folder import ProblemsFolder, file_name
from tutor.generate.stage import LevelPlan, level_plan_from_json, level_plan_to_json
from tutor.generate.store_files import engine_digest, store_folder, stored_or_made

Compiler = Callable[[Family, Circuit, int, str], LevelPlan]


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
