"""A level's asks compiled: each with its plan, where its inputs come from, and what decides its worst corner.

Vocabulary: a *key* names a value in the environment of a problem (V_I_MAX, R, I_Z_MIN); a *base* is the plain letter
symbol a plan speaks in (V_I). A stage says which key (or formula of keys) each base stands for.
Place in the data flow: Family + Circuit -> stages (this file, with algebra, once) -> runs (numbers only).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

from tutor.plan.plan import Plan, plan_from_json, plan_to_json
from tutor.quantities.evaluator import Evaluator, evaluator
from tutor.quantities.expression import Expr, from_json, to_json
from tutor.quantities.formula import formula_text


@dataclass(frozen=True)
class ToldSlope:
    """A derivative made ready to be told: as text, and its value at a corner."""

    text: str
    value: Evaluator


@dataclass(frozen=True)
class Stage:
    """One ask (or check, or region test) compiled.

    `inputs` maps each base the plan needs, the ranging ones apart, to an expression over keys; `box` lists the bases
    that range; `greatest` says which extreme is wanted (None: no box, or every corner matters); `slopes` and `resting`
    give the derivative along each box base of what decides the corner, and where it vanishes.
    """

    key: str
    quantity: str
    plan: Plan
    inputs: tuple[tuple[str, Expr], ...]
    box: tuple[str, ...]
    greatest: bool | None
    slopes: tuple[tuple[str, Expr], ...]
    resting: tuple[tuple[str, Expr], ...]
    watched: str  # the quantity whose slopes these are (the required one, for a bound)
    relation: str  # "<=" or ">=" for a bound or a check, "" otherwise
    limit: str  # key of the limit, "" otherwise
    watched_greatest: bool  # whether the corner is the one at which the watched quantity is greatest

    @cached_property
    def told_slopes(self) -> Mapping[str, ToldSlope]:
        """The slopes by what they are along."""
        return {base: ToldSlope(formula_text(expr), evaluator(expr)) for base, expr in self.slopes}

    def __getstate__(self) -> dict[str, Any]:
        # What was made ready of a stage cannot be sent to another process, and is made anew there.
        return {item.name: getattr(self, item.name) for item in fields(self)}


@dataclass(frozen=True)
class LevelPlan:
    """Every stage of one level in one region: the asks in order (None for choices) and the key each result goes under,
    its checks, its region tests."""

    region: str
    asks: tuple[Stage | None, ...]
    keys: tuple[str, ...]
    checks: tuple[Stage | None, ...]
    tests: tuple[Stage, ...]


def stage_to_json(stage: Stage) -> dict[str, Any]:
    """A stage as JSON data."""
    return {
        "key": stage.key,
        "quantity": stage.quantity,
        "plan": plan_to_json(stage.plan),
        "inputs": [[name, to_json(expr)] for name, expr in stage.inputs],
        "box": list(stage.box),
        "greatest": stage.greatest,
        "slopes": [[name, to_json(expr)] for name, expr in stage.slopes],
        "resting": [[name, to_json(expr)] for name, expr in stage.resting],
        "watched": stage.watched,
        "relation": stage.relation,
        "limit": stage.limit,
        "watched_greatest": stage.watched_greatest,
    }


def stage_from_json(data: dict[str, Any]) -> Stage:
    """The inverse of `stage_to_json`."""
    return Stage(
        data["key"],
        data["quantity"],
        plan_from_json(data["plan"]),
        tuple((name, from_json(expr)) for name, expr in data["inputs"]),
        tuple(data["box"]),
        data["greatest"],
        tuple((name, from_json(expr)) for name, expr in data["slopes"]),
        tuple((name, from_json(expr)) for name, expr in data["resting"]),
        data["watched"],
        data["relation"],
        data["limit"],
        data["watched_greatest"],
    )


def level_plan_to_json(plan: LevelPlan) -> dict[str, Any]:
    """A level's plan as JSON data."""
    return {
        "region": plan.region,
        "asks": [None if stage is None else stage_to_json(stage) for stage in plan.asks],
        "keys": list(plan.keys),
        "checks": [None if stage is None else stage_to_json(stage) for stage in plan.checks],
        "tests": [stage_to_json(stage) for stage in plan.tests],
    }


def level_plan_from_json(data: dict[str, Any]) -> LevelPlan:
    """The inverse of `level_plan_to_json`."""
    return LevelPlan(
        data["region"],
        tuple(None if item is None else stage_from_json(item) for item in data["asks"]),
        tuple(data["keys"]),
        tuple(None if item is None else stage_from_json(item) for item in data["checks"]),
        tuple(stage_from_json(item) for item in data["tests"]),
    )
