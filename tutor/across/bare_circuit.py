"""A circuit by its letters alone: what follows from its part values or from other quantities, worked out once and kept.

Place in the data flow: circuit + region -> Recipe (by way of the algebra, once; then from the store) -> directions,
chains of cause, faults, comparisons.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from typing import TYPE_CHECKING

import tutor
from tutor.circuit.circuit import Circuit, Region
from tutor.generate.problems_folder import file_name
from tutor.generate.store_files import engine_digest, store_folder, stored_or_made
from tutor.later import later
from tutor.solution.desk import Desk
from tutor.solution.recipe_json import recipe_from_json, recipe_to_json
from tutor.solution.recipe_store import recipes_digest
from tutor.solution.sheet import Recipe

if TYPE_CHECKING:
    from tutor.plan import everything as algebra
else:
    algebra = later("tutor.plan.everything")


def bare_recipe(
    desk: Desk, circuit: Circuit, region: Region, *, leaning: bool = False, resistor: bool = False
) -> Recipe:
    """All that follows from the circuit's free parameters in a region.

    The zener is straight (a voltage V_Z) or, `leaning`, a line (V_Z0 and r_z); the load is a current or a `resistor`.
    """
    names = (("r_z",) if leaning else ()) + (("R_L",) if resistor else ())
    return _kept(desk, circuit, [region.id, names], lambda: tutor.generic_recipe(circuit, region, names, (), {}))


def recipe_from(desk: Desk, circuit: Circuit, region: Region, known: tuple[str, ...]) -> Recipe:
    """All that follows from `known` quantities of the circuit in a region, forwards or backwards."""
    return _kept(
        desk, circuit, [region.id, "from", known],
        lambda: Recipe(region.id, known, (), (), (), algebra.everything(circuit, region, known, {}), (), ()),
    )  # fmt: skip


def _kept(desk: Desk, circuit: Circuit, what: list[object], make: Callable[[], Recipe]) -> Recipe:
    """The stored recipe, or one made and stored."""
    told = json.dumps([engine_digest(), circuit.id, *what])
    source = desk.folder.file_bytes(f"circuits/{file_name(circuit.stem)}")
    file = store_folder() / f"{hashlib.sha256(told.encode() + source).hexdigest()}-bare-{recipes_digest()}.json"
    return stored_or_made(file, recipe_from_json, lambda: recipe_to_json(make()))
