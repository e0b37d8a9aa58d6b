"""A level run again with one of its slips put in: the wrong line as whoever made the slip would write it, and all after
it carried on with the wrong value, choices and verdicts too.

Place in the data flow: a drawn problem + one of its slips -> the draw with the slip in it -> worked steps of each ask.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tutor.across.base_problem import BaseProblem
from tutor.errors import BadFormula
from tutor.generate.choices import choose_rating, choose_value
from tutor.generate.draws import Drawn
from tutor.generate.family import Choose, ChooseRating, Slip, TellState, TellVerdict
from tutor.generate.run import StageOutcome, run, runnable
from tutor.generate.sampling import Environment, round12
from tutor.generate.stage import Stage
from tutor.generate.verdicts import one_alone
from tutor.quantities.dimensions import dimension_of
from tutor.quantities.expression import LEAVES, Expr, Num, Sym, children, evaluate, symbols_of
from tutor.solution.solution import WorkedStep
from tutor.solution.worked import ask_steps

PREFIX = 100  # a number this large in a wrong step is a power of ten that was lost, not a relation


@dataclass(frozen=True)
class Planted:
    """A slip of a level at one of its asks (`index`): the step it edits and what it puts there, '' and None for a
    choice."""

    slip: Slip
    index: int
    step: str
    wrong: Expr | None


@dataclass(frozen=True)
class Working:
    """The worked steps of each ask, by its index among the asks of the level, with the draw they were worked from."""

    steps: Mapping[int, tuple[WorkedStep, ...]]
    drawn: Drawn


def planted_slips(base: BaseProblem) -> tuple[Planted, ...]:
    """The slips of the base problem that edit the line itself which its ask leads to."""
    found = []
    for slip, index, step, wrong in base.drawn.region.slips:
        stage = base.drawn.region.plan.asks[index]
        value = base.drawn.run.slips.get(slip.id)
        if value is None or not math.isfinite(float(value[0])) or _is_right(base, index, float(value[0])):
            continue
        if stage is None or (step == stage.plan.steps[-1].target and _reads(stage, wrong)):
            found.append(Planted(slip, index, step, wrong))
    return tuple(found)


def _reads(stage: Stage, wrong: Expr | None) -> bool:
    """Whether a wrong step is a relation whose units agree: one that does not is told by its units alone, and a bare
    letter or number is no relation."""
    if wrong is None or isinstance(wrong, LEAVES):
        return False
    try:
        found, meant = dimension_of(wrong), dimension_of(Sym(stage.quantity))
    except BadFormula:
        return False
    right = stage.plan.steps[-1].expr
    return found == meant or has_lost_prefix(wrong, right)


def _is_right(base: BaseProblem, index: int, value: float) -> bool:
    """Whether a wrong pick from a shelf is a right one in this draw."""
    key = base.drawn.region.plan.keys[index]
    return any(point.key == key and value in point.accepted for point in base.problem.waypoints)


def right_working(base: BaseProblem) -> Working:
    """The base problem's own working, ask by ask."""
    return _worked(base, base.drawn)


def slipped_working(base: BaseProblem, planted: Planted) -> Working | None:
    """The working with the slip put in; None where what follows cannot be carried on (nothing fits, no value)."""
    drawn = _with_slip(base, planted)
    return None if drawn is None else _worked(base, drawn)


def _worked(base: BaseProblem, drawn: Drawn) -> Working:
    found: dict[int, tuple[WorkedStep, ...]] = {}
    before: list[WorkedStep] = []
    for index, ask in enumerate(base.ready.level.asks):
        if ask.region in ("", drawn.run.region):
            steps = ask_steps(base.ready, drawn, index, {}, before)
            found[index] = tuple(steps)
            before += steps
    return Working(found, drawn)


def _with_slip(base: BaseProblem, planted: Planted) -> Drawn | None:
    drawn, level = base.drawn, base.ready.level
    plan = drawn.region.plan
    env: Environment = dict(drawn.run.env)
    outcomes, stages = list(drawn.run.outcomes), list(plan.asks)
    key = plan.keys[planted.index]
    env[key] = drawn.run.slips[planted.slip.id]
    stage, outcome = stages[planted.index], outcomes[planted.index]
    if stage is not None and outcome is not None and planted.wrong is not None:
        edited = _edited(base, stage, planted)
        stages[planted.index] = edited
        outcomes[planted.index] = _slipped_outcome(edited, outcome, env, key)
    for index in range(planted.index + 1, len(level.asks)):
        stages[index] = _resting_on(base, planted, index)
        if level.asks[index].region in ("", drawn.run.region) and not _carry_on(base, index, stages, env, outcomes):
            return None
    region = replace(drawn.region, plan=replace(plan, asks=tuple(stages)))
    return replace(drawn, region=region, run=replace(drawn.run, env=env, outcomes=tuple(outcomes)))


def _resting_on(base: BaseProblem, planted: Planted, index: int) -> Stage | None:
    """The stage of a later ask, with the value that the slipped ask found put in where it would find it again.

    On paper nobody works the same line twice: what stands above is taken over.
    """
    plan = base.drawn.region.plan
    stage, found = plan.asks[index], base.drawn.run.outcomes[index]
    source = plan.asks[planted.index]
    if stage is None or found is None or source is None:
        return stage
    key, law = plan.keys[planted.index], source.plan.steps[-1].law
    right = float(base.drawn.run.env[key][0])
    again = next(
        (
            step.target
            for step in stage.plan.steps[:-1]
            if (step.target, step.law) == (source.quantity, law)
            and math.isclose(float(found.steps[step.target][0]), right, rel_tol=1e-9)
        ),
        None,
    )
    if again is None:
        return stage
    steps = tuple(step for step in stage.plan.steps if step.target != again)
    shorter = replace(stage.plan, known=(*stage.plan.known, again), steps=steps)
    return replace(stage, plan=shorter, inputs=(*stage.inputs, (again, Sym(key))))


def _carry_on(
    base: BaseProblem, index: int, stages: Sequence[Stage | None], env: Environment, outcomes: list[StageOutcome | None]
) -> bool:
    """Run one ask again with what stands in `env` by now; False where it comes to nothing."""
    ask, region = base.ready.level.asks[index], base.drawn.region
    key, stage, ready = region.plan.keys[index], stages[index], region.asks[index]
    if stage is not None and ready is not None:
        outcome = run(ready if stage is ready.stage else runnable(stage), env)
        outcomes[index], env[key] = outcome, round12(outcome.value)
        return bool(np.isfinite(env[key][0]))
    if isinstance(ask, Choose):
        env[key], count = choose_value(ask, env)
        return bool(count[0] >= 1)
    if isinstance(ask, ChooseRating):
        env[key], fits = choose_rating(ask, env, ask.margin)
        return bool(fits[0])
    if isinstance(ask, TellVerdict):
        return bool(one_alone(ask, env)[0])
    assert isinstance(ask, TellState)
    was, now = (float(world[ask.quantity][0] - world[ask.limit][0]) for world in (base.drawn.run.env, env))
    return (was > 0) == (now > 0)  # in another state other asks are made


def _edited(base: BaseProblem, stage: Stage, planted: Planted) -> Stage:
    """The stage with the wrong step in place; what the wrong step needs besides comes from the keys found before.

    A power of ten lost on the way stands in no relation: there the step stays as it is and its value alone is wrong.
    """
    assert planted.wrong is not None
    right = stage.plan.step(planted.step)
    assert right is not None
    if has_lost_prefix(planted.wrong, right.expr):
        return stage
    inside = {name for name, _ in stage.inputs} | {step.target for step in stage.plan.steps} | set(stage.box)
    more = tuple((name, Sym(name)) for name in symbols_of(planted.wrong) if name not in inside)
    step = replace(right, expr=planted.wrong, coupled=None, coefficients=(), substitutions=())
    steps = tuple(step if item.target == planted.step else item for item in stage.plan.steps)
    return replace(stage, inputs=(*stage.inputs, *more), plan=replace(stage.plan, steps=steps))


def has_lost_prefix(wrong: Expr, right: Expr | None) -> bool:
    """Whether the wrong step is the right one with a power of ten let into it."""
    return bool(_great_numbers(wrong) - (set() if right is None else _great_numbers(right)))


def _great_numbers(expr: Expr) -> set[float]:
    if isinstance(expr, Num):
        size = abs(float(expr.value))
        return {size} if size >= PREFIX or 0 < size <= 1 / PREFIX else set()
    return set() if isinstance(expr, LEAVES) else set().union(*(_great_numbers(part) for part in children(expr)))


def _slipped_outcome(edited: Stage, outcome: StageOutcome, env: Environment, key: str) -> StageOutcome:
    """What the edited stage comes to at the corner the right one took."""
    bases = {**outcome.bases, **{name: env[name] for name, _ in edited.inputs if name not in outcome.bases}}
    values = {name: float(value[0]) for name, value in {**env, **bases}.items() if np.ndim(value)}
    steps = dict(outcome.steps)
    for step in edited.plan.steps:
        if step.expr is not None and set(symbols_of(step.expr)) <= set(values):
            steps[step.target] = np.array([evaluate(step.expr, values)])
        values[step.target] = float(steps[step.target][0])
    steps[edited.quantity] = env[key]
    return replace(outcome, value=env[key], bases=bases, steps=steps)
