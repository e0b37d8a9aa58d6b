"""A design judged at every corner: parts chosen from their shelves held against all that a level demands.

Vocabulary: a *part* is something to be chosen, with its shelf; a *demand* is a row of the table (a closing check, the
inequality of a region, a bound of a choice, a rating with its margin, a value aimed at); a *feed* is a result on which
demands rest (a greatest power, a current limit worked out first); the *numbers* are what a problem tells.
Place in the data flow: ReadyLevel -> DesignDesk -> the design desk of the site (views/design_desks.py), whose scripts
run the same stages. Algebra is asked for only where a bound of a choice has no closing check (`design_bounds.py`).
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

import numpy as np

from tutor.generate.choices import shelf_of, value_words
from tutor.generate.draws import Drawn
from tutor.generate.family import Choose, ChooseRating, Find, FindBound, Stock
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import RunnableStage, StageOutcome, run, runnable
from tutor.generate.sampling import Environment, round12
from tutor.generate.stage import Stage
from tutor.plan.plan import Plan, Step
from tutor.quantities.expression import Equation, Sym, symbols_of
from tutor.quantities.formula import read_equation, read_expression
from tutor.solution.requirement import meets


class DemandKind(Enum):
    """Where a demand comes from."""

    CHECK = "check"  # a closing check of the level
    BOUND = "bound"  # what bounds a choice, where no closing check says the same
    RATING = "rating"  # a rating at least so many times what the part bears
    AIM = "aim"  # the value of the shelf nearest to what is aimed at
    REGION = "region"  # what must hold for the circuit to work as supposed


@dataclass(frozen=True)
class ChosenPart:
    """Something to choose: its key, the prompt, the shelf (SI, rising), what a value of it is called, descriptions of
    the values of a list ('' where there are none), the key of its tolerance ('' for none)."""

    key: str
    prompt: str
    shelf: tuple[float, ...]
    called: str
    described: tuple[str, ...]
    tolerance: str


@dataclass(frozen=True)
class DemandRow:
    """A row: `factor` times what `stage` comes to, held against the key `limit` (or `fixed`, where that is '').

    Of an aim, the stage gives the value aimed at and `limit` is the part that should lie nearest to it.
    """

    kind: DemandKind
    words: str
    quantity: str
    relation: str
    limit: str
    fixed: float
    stage: RunnableStage
    factor: float = 1.0


@dataclass(frozen=True)
class DesignDesk:
    """Everything by which a design of one level is judged."""

    ready: ReadyLevel
    parts: tuple[ChosenPart, ...]
    feeds: tuple[tuple[str, RunnableStage], ...]
    demands: tuple[DemandRow, ...]

    def numbers(self, drawn: Drawn) -> dict[str, float]:
        """What a drawn problem tells of all that the desk rests on (SI, by key)."""
        found = {**self._needed(), **dict.fromkeys(self.ready.level.given)}
        made = {*(part.key for part in self.parts), *(key for key, _ in self.feeds)}
        return {key: float(drawn.run.env[key][0]) for key in found if key in drawn.run.env and key not in made}

    def chosen(self, drawn: Drawn) -> dict[str, float]:
        """What the worked solution of a drawn problem chooses."""
        return {part.key: float(drawn.run.env[part.key][0]) for part in self.parts}

    def _needed(self) -> dict[str, None]:
        stages = [*(stage for _, stage in self.feeds), *(demand.stage for demand in self.demands)]
        keys = [key for stage in stages for key in keys_of(stage.stage)]
        beside = [demand.limit for demand in self.demands] + [part.tolerance for part in self.parts]
        return dict.fromkeys(key for key in (*keys, *beside) if key)


@dataclass(frozen=True)
class JudgedDemand:
    """A demand held against a design (SI): what it comes to, its limit, whether it passes, what is to spare.

    `spare` is in the limit's unit, below zero where it is missed; of an aim it is the share by which the part lies off.
    """

    demand: DemandRow
    value: float
    limit: float
    passes: bool
    spare: float
    outcome: StageOutcome


def keys_of(stage: Stage) -> tuple[str, ...]:
    """The keys of the environment that a stage reads."""
    names = [name for _, expr in stage.inputs for name in symbols_of(expr)]
    return tuple(dict.fromkeys((*names, *(f"{base}_{end}" for base in stage.box for end in ("MIN", "MAX")))))


def has_choice(ready: ReadyLevel) -> bool:
    """Whether a level asks for a choice of parts."""
    return any(isinstance(ask, Choose | ChooseRating) for ask in ready.level.asks)


def design_desk(ready: ReadyLevel, bounds: Mapping[str, Stage]) -> DesignDesk:
    """The desk of a level that asks for a choice, in its first region; `bounds` are the stages of `missing_bounds`."""
    region = ready.regions[0]
    stages = dict(zip(region.plan.keys, region.asks, strict=True))
    demands = (
        *_checks(ready), *_bounds(ready, bounds), *_told_bounds(ready), *_ratings(ready, stages),
        *_aims(ready, stages), *_regions(ready),
    )  # fmt: skip
    return DesignDesk(ready, tuple(_parts(ready)), tuple(_feeds(ready, stages, demands)), demands)


def _parts(ready: ReadyLevel) -> Iterator[ChosenPart]:
    for ask, key in zip(ready.level.asks, ready.regions[0].plan.keys, strict=True):
        if isinstance(ask, Choose):
            stock = ask.series if isinstance(ask.series, Stock) else None
            shelf = tuple(float(value) for value in shelf_of(ask.series))
            told = () if stock is None else tuple(stock.description(value) for value in shelf)
            yield ChosenPart(key, ask.prompt, shelf, value_words(ask.series), told, ask.tolerance)
        elif isinstance(ask, ChooseRating):
            shelf = tuple(sorted(ask.shelf))
            told = () if ask.stock is None else tuple(ask.stock.description(value) for value in shelf)
            yield ChosenPart(key, ask.prompt, shelf, "rating", told, "")


def _checks(ready: ReadyLevel) -> Iterator[DemandRow]:
    for line, stage in zip(ready.level.checks, ready.regions[0].checks, strict=True):
        if stage is not None:
            told = stage.stage
            yield DemandRow(DemandKind.CHECK, line.words, told.quantity, told.relation, told.limit, 0.0, stage)


def missing_bounds(ready: ReadyLevel) -> Iterator[tuple[FindBound, Choose, str]]:
    """The bounds of choices whose requirement no closing check repeats: the bound, its choice, and its key."""
    said = {line.requirement for line in ready.level.checks}
    found = list(zip(ready.level.asks, ready.regions[0].plan.keys, strict=True))
    for ask, key in found:
        for choice, _ in found:
            bounds = isinstance(choice, Choose) and key in (choice.low, choice.high)
            if isinstance(ask, FindBound) and isinstance(choice, Choose) and bounds and ask.requirement not in said:
                yield ask, choice, key


def _bounds(ready: ReadyLevel, stages: Mapping[str, Stage]) -> Iterator[DemandRow]:
    from_above = {choice.high for _, choice, _ in missing_bounds(ready)}
    for ask, choice, key in missing_bounds(ready):
        side, stage = "above" if key in from_above else "below", stages[key]
        words = f"What bounds ${choice.quantity}$ from {side}"
        equation = read_equation(ask.requirement)
        (limit,) = symbols_of(equation.rhs)
        yield DemandRow(DemandKind.BOUND, words, stage.quantity, equation.relation, limit, 0.0, runnable(stage))


def _told_bounds(ready: ReadyLevel) -> Iterator[DemandRow]:
    """A bound that the problem tells in so many words: the most capacitance that a rectifier is to charge."""
    found = {*ready.regions[0].plan.keys}
    for ask in ready.level.asks:
        if not isinstance(ask, Choose):
            continue
        for limit, sign, relation in ((ask.high, "+", "<="), (ask.low, "-", ">=")):
            if limit and limit not in found:
                words = f"${ask.quantity}$ within what is told of it"
                stage = _itself(ask, sign, relation, limit)
                yield DemandRow(DemandKind.BOUND, words, ask.quantity, relation, limit, 0.0, runnable(stage))


def _itself(ask: Choose, sign: str, relation: str, limit: str) -> Stage:
    """The part itself, at that end of its tolerance."""
    part = ask.quantity
    taken = read_expression(f"{part}*(1 {sign} {ask.tolerance})" if ask.tolerance else part)
    step = Step(part, "", "", "", Equation(Sym(part), Sym(part)), Sym(part))
    plan = Plan((part,), (part,), (step,))
    greatest = relation == "<="
    return Stage(part, part, plan, ((part, taken),), (), None, (), (), part, relation, limit, greatest)


def _ratings(ready: ReadyLevel, stages: Mapping[str, RunnableStage | None]) -> Iterator[DemandRow]:
    """A rating with its margin; one without margin is left to the closing check that rests on what was chosen."""
    checked = {key for stage in ready.regions[0].checks if stage is not None for key in keys_of(stage.stage)}
    for ask in ready.level.asks:
        stage = stages[ask.load] if isinstance(ask, ChooseRating) else None
        if isinstance(ask, ChooseRating) and stage is not None and not (ask.margin == 1 and ask.key in checked):
            words = f"The rating ${ask.key}$"
            words += f", with its margin of {ask.margin:g} times" if ask.margin != 1 else ""
            yield DemandRow(DemandKind.RATING, words, ask.load, "<=", ask.key, 0.0, stage, ask.margin)


def _aims(ready: ReadyLevel, stages: Mapping[str, RunnableStage | None]) -> Iterator[DemandRow]:
    for ask, key in zip(ready.level.asks, ready.regions[0].plan.keys, strict=True):
        stage = stages.get(ask.near) if isinstance(ask, Choose) and ask.near else None
        if isinstance(ask, Choose) and stage is not None:
            words = f"${key}$ as near as a value comes to what is aimed at"
            yield DemandRow(DemandKind.AIM, words, ask.near, "=", key, 0.0, stage)


def _regions(ready: ReadyLevel) -> Iterator[DemandRow]:
    """The inequalities of the region; one that a closing check holds to more than nothing is not told again."""
    region = ready.regions[0]
    told = ready.circuit.region(region.plan.region).words
    held = {(stage.stage.quantity, stage.stage.relation) for stage in region.checks if stage is not None}
    for test in region.tests:
        stage = test.stage
        if stage.limit or (stage.quantity, stage.relation) not in held:
            fixed = ready.circuit.defaults.get(stage.limit, 0.0)
            yield DemandRow(DemandKind.REGION, told, stage.quantity, stage.relation, stage.limit, fixed, test)


def _feeds(
    ready: ReadyLevel, stages: Mapping[str, RunnableStage | None], demands: Iterable[DemandRow]
) -> Iterator[tuple[str, RunnableStage]]:
    """The asks on which demands rest, and those on which these rest, in the order of the level."""
    needed = {key for demand in demands for key in (*keys_of(demand.stage.stage), demand.limit)}
    # Part values that the level settles on its way are parts of the circuit that is swept.
    parts = {ask.quantity for ask in ready.level.asks if isinstance(ask, Find) and not ask.at}
    needed |= parts & {*ready.circuit.constants}
    kept: set[str] = set()
    for key in reversed(ready.regions[0].plan.keys):
        stage = stages[key]
        if key in needed and stage is not None:
            kept.add(key)
            needed |= {*keys_of(stage.stage)}
    for key in ready.regions[0].plan.keys:
        stage = stages[key]
        if key in kept and stage is not None:
            yield key, stage


def environment(desk: DesignDesk, numbers: Mapping[str, float], chosen: Mapping[str, float]) -> Environment:
    """Numbers and choices with all that the demands rest on worked out (arrays of length one)."""
    env: Environment = {key: np.array([value]) for key, value in (*numbers.items(), *chosen.items())}
    for key, stage in desk.feeds:
        env[key] = round12(run(stage, env).value)
    return env


def judge(desk: DesignDesk, numbers: Mapping[str, float], chosen: Mapping[str, float]) -> tuple[JudgedDemand, ...]:
    """Every demand held against a design: `numbers` of a problem, `chosen` a value for each part (SI, by key)."""
    env = environment(desk, numbers, chosen)
    return tuple(_judged(desk, demand, env) for demand in desk.demands)


def _judged(desk: DesignDesk, demand: DemandRow, env: Environment) -> JudgedDemand:
    outcome = run(demand.stage, env)
    value = demand.factor * float(outcome.value[0])
    if demand.kind is DemandKind.AIM:
        part = next(part for part in desk.parts if part.key == demand.limit)
        here = float(env[part.key][0])
        # As far as another value of the shelf: the lower of two that are as near is taken (`choose_value`).
        nearest = min(part.shelf, key=lambda item: (float(round12(np.array(abs(item - value)))), item))
        return JudgedDemand(demand, here, value, here == nearest, here / value - 1, outcome)
    limit = float(env[demand.limit][0]) if demand.limit in env else demand.fixed
    spare = value - limit if demand.relation == ">=" else limit - value
    return JudgedDemand(demand, value, limit, meets(value, limit, demand.relation), spare, outcome)
