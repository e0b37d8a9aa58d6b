"""A whole level run on candidates: results of every ask, the region each is in, and why one is refused.

Place in the data flow: draws -> (this) -> accepted environments -> Problem. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tutor.circuit.circuit import Circuit, Variant
from tutor.errors import BadFamily
from tutor.generate.choices import choose_rating, choose_value, rated_without_margin, rounded_away, value_words
from tutor.generate.declaration import require_known, where_of
from tutor.generate.family import (
    Choose,
    ChooseRating,
    Family,
    Level,
    NoMargin,
    RoundAway,
    Slip,
    TellState,
    TellVerdict,
    applies_in,
)
from tutor.generate.run import EditedStage, RunnableStage, StageOutcome, edited_stage, run, run_edited, runnable
from tutor.generate.sampling import (
    Array,
    Environment,
    Mask,
    draw_names,
    inequality_programs,
    program_values,
    round12,
    round_to,
)
from tutor.generate.slips import edited_step
from tutor.generate.stage import LevelPlan, Stage
from tutor.generate.verdicts import one_alone, too_near
from tutor.quantities.expression import Expr, symbols_of

TOLERANCE = 0.01  # a learner's figure is right within 1 %
APART = 3 * TOLERANCE  # a slip nearer than this to the answer would hide


@dataclass(frozen=True)
class ReadyRegion:
    """A level in one region, assembled."""

    plan: LevelPlan
    asks: tuple[RunnableStage | None, ...]
    checks: tuple[RunnableStage | None, ...]
    tests: tuple[RunnableStage, ...]
    slips: tuple[tuple[Slip, int, str, Expr | None], ...]  # slip, index of its ask, step, wrong step
    edited: tuple[EditedStage | None, ...]  # of each slip, what its wrong step makes of the stage


@dataclass(frozen=True)
class ReadyLevel:
    """A level of a family with everything assembled for running."""

    family: Family
    circuit: Circuit
    number: int
    regions: tuple[ReadyRegion, ...]
    approximate: tuple[tuple[Variant, tuple[RunnableStage | None, ...]], ...] = ()

    @property
    def level(self) -> Level:
        """The declaration."""
        return self.family.levels[self.number - 1]

    @property
    def where(self) -> str:
        """How a complaint names this level."""
        return where_of(self.family, self.number)


@dataclass(frozen=True)
class RegionRun:
    """Candidates run in one region: the environment with results, outcomes of asks, checks and tests, slips' values,
    refusals.

    `refused` holds for each candidate the index into `reasons` of the first condition it fails, −1 for none.
    """

    region: str
    env: Environment
    outcomes: tuple[StageOutcome | None, ...]
    checks: tuple[StageOutcome | None, ...]
    tests: tuple[StageOutcome, ...]
    slips: Mapping[str, Array]
    refused: NDArray[np.int64]
    reasons: tuple[str, ...]


def ready_level(
    family: Family,
    circuit: Circuit,
    number: int,
    plans: tuple[LevelPlan, ...],
    approximate: tuple[tuple[Variant, LevelPlan], ...] = (),
) -> ReadyLevel:
    """Assemble a level from its plans, one for each region, and those under conventions that approximate its own.

    Raises BadFamily on a slip that fits no step.
    """
    level = family.levels[number - 1]
    where = where_of(family, number)
    regions = tuple(_ready_region(level, plan, where) for plan in plans)
    others = tuple(
        (variant, tuple(None if stage is None else runnable(stage) for stage in plan.asks))
        for variant, plan in approximate
    )
    return ReadyLevel(family, circuit, number, regions, others)


def _ready_region(level: Level, plan: LevelPlan, where: str) -> ReadyRegion:
    asks = tuple(None if stage is None else runnable(stage) for stage in plan.asks)
    checks = tuple(None if stage is None else runnable(stage) for stage in plan.checks)
    slips: list[tuple[Slip, int, str, Expr | None]] = []
    keys = plan.keys
    for slip in level.slips:
        if not applies_in(slip, plan.region):
            continue
        keyed = zip(keys, level.asks, strict=True)
        places = [index for index, (key, ask) in enumerate(keyed) if key == slip.at and applies_in(ask, plan.region)]
        if not places and slip.at not in keys:
            raise BadFamily(f"{where}, slips '{slip.id}': no ask has the key '{slip.at}'; keys are {', '.join(keys)}")
        for index in places:
            slips.append((slip, index, *_edit(level, plan, slip, index, f"{where}, slips '{slip.id}'")))
    edited = tuple(_edited(plan.asks[index], step, wrong) for _, index, step, wrong in slips)
    return ReadyRegion(plan, asks, checks, tuple(runnable(stage) for stage in plan.tests), tuple(slips), edited)


def _edited(stage: Stage | None, step: str, wrong: Expr | None) -> EditedStage | None:
    return None if stage is None or wrong is None else edited_stage(stage, step, wrong)


def _edit(level: Level, plan: LevelPlan, slip: Slip, index: int, field: str) -> tuple[str, Expr | None]:
    """The step a slip edits and the wrong step ('' and None for a wrong pick); BadFamily when it fits neither."""
    ask, stage = level.asks[index], plan.asks[index]
    if isinstance(slip.edit, RoundAway):
        if not isinstance(ask, Choose) or not (ask.high if slip.edit.above else ask.low):
            raise BadFamily(f"{field}: RoundAway needs a choice with a bound on that side; '{slip.at}' is none")
        return "", None
    if isinstance(slip.edit, NoMargin):
        if not isinstance(ask, ChooseRating):
            raise BadFamily(f"{field}: NoMargin needs a choice of a rating; '{slip.at}' is none")
        return "", None
    if stage is None:
        raise BadFamily(f"{field}: '{slip.at}' is a choice; edit it with RoundAway or NoMargin")
    step, wrong = edited_step(slip, stage, field)
    found = [key for place, key in enumerate(plan.keys) if applies_in(level.asks[place], plan.region)]
    targets = [item.target for item in stage.plan.steps]
    known = {*draw_names(level.draws), *found, *(name for name, _ in stage.inputs), *stage.box}
    known |= set(targets[: targets.index(step)])
    for name in symbols_of(wrong):
        require_known(name, sorted(known), field, "quantity that is known at that step")
    return step, wrong


class _Refusals:
    """Collects the first reason each candidate fails."""

    def __init__(self, size: int) -> None:
        self.codes: NDArray[np.int64] = np.full(size, -1, dtype=np.int64)
        self.reasons: list[str] = []

    def refuse(self, failing: Mask, reason: str) -> None:
        self.reasons.append(reason)
        self.codes = np.where((self.codes < 0) & failing, len(self.reasons) - 1, self.codes)


def run_region(ready: ReadyLevel, region: ReadyRegion, drawn: Environment) -> RegionRun:
    """Every ask, check, test and slip of a level in one region, on candidates drawn."""
    level = ready.level
    env: Environment = dict(drawn)
    size = len(next(iter(env.values())))
    refusals = _Refusals(size)
    refusals.refuse(~_few_figures(level, env), "a given would need more than 4 figures")
    outcomes: list[StageOutcome | None] = []
    for index, ask in enumerate(level.asks):
        applies = applies_in(ask, region.plan.region)
        outcomes.append(_run_ask(region, index, level, env, refusals) if applies else None)
    tests = tuple(run(test, env) for test in region.tests)
    for test, found in zip(region.tests, tests, strict=True):
        holds = _holds(test, found, env, ready.circuit.defaults)
        refusals.refuse(~holds, f"not {ready.circuit.region(region.plan.region).words}")
    checks: list[StageOutcome | None] = []
    for check, line in zip(region.checks, level.checks, strict=True):
        if check is None:
            checks.append(None)
            continue
        outcome = run(check, env)
        refusals.refuse(
            ~_meets(outcome.value, env[check.stage.limit], check.stage.relation), f"fails: {line.requirement}"
        )
        checks.append(outcome)
    for text in level.require:
        refusals.refuse(~requirement_holds(text, env, ready.where), f"needs {text}")
    slips = _run_slips(level, region, env, outcomes, refusals)
    return RegionRun(
        region.plan.region, env, tuple(outcomes), tuple(checks), tests, slips, refusals.codes, tuple(refusals.reasons)
    )


def _run_ask(
    region: ReadyRegion, index: int, level: Level, env: Environment, refusals: _Refusals
) -> StageOutcome | None:
    """The outcome of one ask, None for a choice or a verdict, its result put into the environment."""
    ask = level.asks[index]
    key = region.plan.keys[index]
    stage = region.asks[index]
    if stage is not None:
        outcome = run(stage, env)
        env[key] = round12(outcome.value)
        refusals.refuse(~np.isfinite(env[key]), f"{key} has no value")
        return outcome
    if isinstance(ask, Choose):
        env[key], count = choose_value(ask, env)
        refusals.refuse(count < 1, f"no {value_words(ask.series)} fits for {ask.quantity}")
    elif isinstance(ask, ChooseRating):
        env[key], found = choose_rating(ask, env, ask.margin)
        refusals.refuse(~found, f"no rating on the shelf for {ask.load}")
    elif isinstance(ask, TellState):
        with np.errstate(invalid="ignore"):
            ratio = env[ask.quantity] / env[ask.limit]
        refusals.refuse(np.abs(ratio - 1) < 0.05, f"{ask.quantity} too near {ask.limit} to tell")
    elif isinstance(ask, TellVerdict):
        refusals.refuse(~one_alone(ask, env), "no verdict, or more than one")
        refusals.refuse(too_near(ask, env), "a demand met or missed too narrowly to tell")
    return None


def _few_figures(level: Level, env: Environment) -> Mask:
    size = len(next(iter(env.values())))
    good: Mask = np.ones(size, dtype=np.bool_)
    for key in level.given:
        if key in env:
            good &= round_to(env[key], 4) == round12(env[key])
    return good


def _holds(test: RunnableStage, outcome: StageOutcome, env: Environment, defaults: Mapping[str, float]) -> Mask:
    limit = env.get(test.stage.limit)
    if limit is None:
        limit = np.full(np.shape(outcome.value), defaults.get(test.stage.limit, 0.0))
    return _meets(outcome.value, limit, test.stage.relation)


def _meets(value: Array, limit: Array, relation: str) -> Mask:
    with np.errstate(invalid="ignore"):
        left, right = round12(value), round12(limit)
        slack = 1e-9 * np.maximum(np.abs(left), np.abs(right))
        met = left >= right - slack if relation == ">=" else left <= right + slack
    return np.asarray(met & np.isfinite(left), dtype=np.bool_)


def requirement_holds(text: str, env: Environment, where: str) -> Mask:
    """Whether an author's inequality over keys holds, both sides rounded to 12 figures."""
    over, relation, under = inequality_programs(text)
    left, right = (program_values(side, env, f"{where}: '{text}'") for side in (over, under))
    return _meets(left, right, relation)


def _run_slips(
    level: Level, region: ReadyRegion, env: Environment, outcomes: list[StageOutcome | None], refusals: _Refusals
) -> dict[str, Array]:
    values: dict[str, Array] = {}
    for (slip, index, _, _), edited in zip(region.slips, region.edited, strict=True):
        ask = level.asks[index]
        outcome, stage = outcomes[index], region.asks[index]
        if isinstance(slip.edit, RoundAway) and isinstance(ask, Choose):
            values[slip.id] = rounded_away(ask, env, slip.edit.above)
        elif isinstance(slip.edit, NoMargin) and isinstance(ask, ChooseRating):
            values[slip.id] = rated_without_margin(ask, env)
        elif outcome is not None and stage is not None and edited is not None:
            value = round12(run_edited(stage, outcome, env, edited))
            values[slip.id] = value
            right = env[region.plan.keys[index]]
            with np.errstate(all="ignore"):
                near = np.abs(value - right) < APART * np.abs(right)
            refusals.refuse(near | ~np.isfinite(value), f"slip {slip.id} within 3 tolerances of the answer")
    return values
