"""What the own-numbers page of a circuit offers: its given-sets planned in letters, with sample numbers and recipes.

Vocabulary: a *sample* is one set of numbers to start from (SI), near the circuit's typical point; the *exact* set of
one under an approximation has the same names and the exact convention, and is planned to tell how far the first is off.
Place in the data flow: Circuit + families -> given-sets -> OwnOffer (kept in the store) -> `views/own_numbers.py`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tutor
from tutor.circuit.circuit import Circuit, LoadModel
from tutor.errors import SteadyrailError
from tutor.generate.family import Family
from tutor.generate.problems_folder import ProblemsFolder, file_name
from tutor.generate.store_files import engine_digest, store_folder, stored_or_made
from tutor.laws.closed_form import parameters
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.plan.everything import everything
from tutor.plan.plan import Plan, plan_from_json, plan_to_json
from tutor.plan.region_plans import RegionPlan, region_plans
from tutor.plan.rule import apply_rules
from tutor.quantities.quantity import round_figures
from tutor.quantities.symbols import split_name
from tutor.solution.own_sets import Conventions, GivenSet, given_sets
from tutor.solution.own_values import OwnNames
from tutor.solution.recipe_store import OwnRecipes, load_own_recipes

# Loads at which readings are sampled, as a share of the typical one; further readings go on from the last.
_READ_AT = {"1": 0.4, "2": 1.4, "3": 1.9}
_CHANGE = 0.05  # a change given, as a share of what changes
# What only warnings speak of, and the quantity of a part that each limits.
_RATINGS = {"I_ZK": "I_Z", "I_K_MIN": "I_K", "P_ZM": "P_Z", "P_RM": "P_R", "P_QM": "P_Q"}


@dataclass(frozen=True)
class OfferedSet:
    """A given-set with its plans, one a region in the order tried, its sample, and the recipes for checking."""

    given: GivenSet
    plans: tuple[RegionPlan, ...]
    sample: Mapping[str, float]
    recipes: OwnRecipes


@dataclass(frozen=True)
class OwnOffer:
    """All that is offered on a circuit; `exact` are sets that stand beside approximate ones and are not offered.

    `ratings` may be given beside any set: only warnings speak of them.
    """

    circuit: Circuit
    sets: tuple[OfferedSet, ...]
    exact: tuple[OfferedSet, ...]
    ratings: tuple[str, ...]


def own_offer(folder: ProblemsFolder, circuit: Circuit, families: Iterable[Family]) -> OwnOffer:
    """The offer of a circuit; a given-set from which nothing can be worked by hand is not in it."""
    told = given_sets(circuit, families)
    sets = [_offered(folder, circuit, item) for item in told]
    usable = tuple(item for item in sets if _is_workable(item))
    exact = {given for item in usable if (given := _exactly(circuit, item.given)) is not None}
    beside = tuple(_offered(folder, circuit, given) for given in sorted(exact, key=lambda given: given.id))
    return OwnOffer(circuit, usable, beside, _ratings(circuit))


def _is_workable(item: OfferedSet) -> bool:
    """Whether the usual region has a plan, and no step needs more than a quadratic."""
    steps = [step for plan in item.plans for step in plan.steps]
    return not item.plans[0].why_not and all(step.degree <= 2 for step in steps)


def _ratings(circuit: Circuit) -> tuple[str, ...]:
    letters = {letter for part in circuit.parts for letter in part.symbols.values()}
    return tuple(rating for rating, limited in _RATINGS.items() if limited in letters)


def _exactly(circuit: Circuit, given: GivenSet) -> GivenSet | None:
    """The set under the exact convention, for a set that takes an approximation; None where it takes none."""
    taken = dict(given.conventions)
    rough = {item.convention for item in circuit.variants if item.watches and taken.get(item.convention) == item.value}
    if not rough:
        return None
    return GivenSet(given.names, tuple(pair for pair in given.conventions if pair[0] not in rough), ())


def _offered(folder: ProblemsFolder, circuit: Circuit, given: GivenSet) -> OfferedSet:
    conventions = dict(given.conventions)
    names = OwnNames(tuple(sorted(given.names)), ())
    recipes = load_own_recipes(folder, circuit, names, conventions, tutor.make_own_recipes)
    return OfferedSet(given, kept_plans(folder, circuit, given), _sample(circuit, given), recipes)


def kept_plans(folder: ProblemsFolder, circuit: Circuit, given: GivenSet) -> tuple[RegionPlan, ...]:
    """The plans of a set, from the store when they are there, made and kept when not."""
    told = json.dumps([engine_digest(), circuit.id, given.names, given.conventions])
    source = folder.file_bytes(f"circuits/{file_name(circuit.stem)}") + Path(__file__).read_bytes()
    file = store_folder() / f"{hashlib.sha256(told.encode() + source).hexdigest()}-offer.json"
    return stored_or_made(file, lambda data: _decoded(circuit, given, data), lambda: _made(circuit, given))


def _made(circuit: Circuit, given: GivenSet) -> dict[str, Any]:
    plans = region_plans(circuit, given.names, dict(given.conventions))
    return {"regions": [_encoded(plan) for plan in plans]}


def _encoded(plan: RegionPlan) -> dict[str, Any]:
    return {
        "plan": plan_to_json(Plan(plan.known, plan.asked, plan.steps)),
        "sight": plan_to_json(Plan(plan.known, (), plan.sight)),
        "defaults": dict(plan.defaults),
        "forced": plan.forced,
        "silent": plan.silent,
        "why_not": plan.why_not,
    }


def _decoded(circuit: Circuit, given: GivenSet, stored: dict[str, Any]) -> tuple[RegionPlan, ...]:
    load, readings = load_model(given.names), reading_indices(given.names, circuit)
    found = []
    for region, data in zip(circuit.regions, stored["regions"], strict=True):
        laws = derive(circuit, region, load, conventions=dict(given.conventions), readings=readings)
        plan, sight = plan_from_json(data["plan"]), plan_from_json(data["sight"])
        found.append(
            RegionPlan(
                region, laws, plan.known, data["defaults"], plan.wanted, plan.steps, data["forced"],
                data["silent"], sight.steps, data["why_not"],
            )
        )  # fmt: skip
    return tuple(found)


def _sample(circuit: Circuit, given: GivenSet) -> dict[str, float]:
    """Numbers of a set to start from, three figures each, all from the circuit's typical point."""
    # What stands beside an operating point (a ripple, a coefficient) is told by the typical values alone.
    usual = {**circuit.typical, **_state(circuit, given.conventions, 1.0)}
    found: dict[str, float] = {}
    for name in given.names:
        parts = split_name(name)
        if parts.change:
            value = _CHANGE * usual[parts.base]
        elif parts.index in _READ_AT and name not in usual:
            value = _state(circuit, given.conventions, _READ_AT[parts.index])[parts.base]
        else:
            value = usual[name]
        # More figures for readings: what is sought stands in their small differences.
        found[name] = round_figures(value, 4 if parts.index in _READ_AT and name not in usual else 3)
    return found


def _state(circuit: Circuit, conventions: Conventions, share: float) -> dict[str, float]:
    """Every quantity at the typical point, with that share of its load, in the first region."""
    names = parameters(circuit, LoadModel.SINK)
    start = {name: circuit.typical[name] for name in names}
    start |= {name: value * share for name, value in start.items() if name not in circuit.constants}
    known = {**circuit.defaults, **start}
    values = _all_from(circuit, conventions, known)
    # A convention may bring values of its own: a finite gain, and what goes with it.
    brought = {name: value for name, value in circuit.typical.items() if name not in values}
    return _all_from(circuit, conventions, {**known, **brought}) if brought else values


def _all_from(circuit: Circuit, conventions: Conventions, known: Mapping[str, float]) -> dict[str, float]:
    try:
        rules = everything(circuit, circuit.regions[0], known, dict(conventions))
    except SteadyrailError:
        rules = everything(circuit, circuit.regions[0], known, {})
    return apply_rules(rules, known)
