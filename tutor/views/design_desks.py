"""The design desks: for each level that asks for a choice of parts, a page on which parts are chosen and judged.

Vocabulary: what a desk is, its parts, demands and feeds, is told in solution/design_desk.py; the *window* of a shelf is
what a page offers of it: the decades in which the level's problems lie, and somewhat more.
Place in the data flow: DesignDesk + SweepSet -> DeskContent -> `desks/FAMILY-LEVEL.html`, and `desks/FAMILY-LEVEL.js`
with the expression trees once and each problem's numbers -> assets/design_desk_*.js, which work them out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Waypoint
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.run import RunnableStage
from tutor.plan.verify import names_of
from tutor.quantities.expression import Equation, Expr, Mul, Num, Sym, to_json
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.quantities.units import difference_unit
from tutor.solution.design_bounds import bound_stages
from tutor.solution.design_desk import ChosenPart, DemandKind, DemandRow, DesignDesk, design_desk, has_choice, keys_of
from tutor.solution.design_sweep import SweepSet, sweep_set
from tutor.solution.desk import WorkedProblem
from tutor.views.lettering import symbol_parts
from tutor.views.own_plans import Data, Shelves, circuit_data, names_spoken_of, plan_data, step_data, symbol_data

_AROUND = 3.0  # a window goes so many times past what the problems of its level allow, and on to whole decades
_OF_CIRCUIT = ("circuit", "regions", "constants", "loads", "typical", "standing", "rootPreference")


@dataclass(frozen=True)
class DeskPart:
    """A part to choose: its key, the prompt in prose, what a value is called, and the key of its tolerance or ''."""

    key: str
    prompt: str
    called: str
    tolerance: str


@dataclass(frozen=True)
class DeskDemand:
    """A row of the table of corners: its words in prose, what is demanded, and where the demand comes from."""

    words: str
    demanded: Equation
    kind: str


@dataclass(frozen=True)
class DeskContent:
    """Everything one desk needs: the specification's rows (label in prose, key), parts, demands, what is swept along
    which ways and shown, letters, cautions in prose, data."""

    specification: tuple[tuple[str, str], ...]
    parts: tuple[DeskPart, ...]
    demands: tuple[DeskDemand, ...]
    ways: tuple[str, ...]
    heights: tuple[str, ...]
    letters: tuple[str, ...]
    cautions: tuple[str, ...]
    data: Data


def desk_content(folder: ProblemsFolder, ready: ReadyLevel, problems: Sequence[WorkedProblem]) -> DeskContent | None:
    """The desk of a level for these problems of it, number 1 first; None where nothing is to be chosen."""
    if not has_choice(ready):
        return None
    desk = design_desk(ready, bound_stages(folder, ready))
    return desk_of(desk, sweep_set(folder, desk), problems)


def desk_of(desk: DesignDesk, sweep: SweepSet | None, problems: Sequence[WorkedProblem]) -> DeskContent:
    """A desk as its page shows it."""
    ready, shelves = desk.ready, Shelves()
    labels = ready.level.labels
    windows = {part.key: _window(part, [_accepted(item, part.key) for item in problems]) for part in desk.parts}
    told: Data = {
        "parts": [_part_data(part, windows[part.key]) for part in desk.parts],
        "feeds": [[key, _stage_data(stage, shelves)] for key, stage in desk.feeds],
        "demands": [_demand_data(demand, shelves) for demand in desk.demands],
        "numbers": _numbers(desk, [item.drawn for item in problems]),
        "sweep": None if sweep is None else _sweep_data(sweep),
    }
    plans = () if sweep is None else sweep.plans
    sets = [{"plans": [{**plan_data(plan, shelves), "laws": []} for plan in plans]}]
    shelves.laws.clear()  # what is known of the circuit never says a thing twice, so that no law can be broken
    names = names_spoken_of(plans, shelves, _beside(desk, sweep))
    circuit = circuit_data(ready.circuit)
    data = {
        **{key: circuit[key] for key in _OF_CIRCUIT},
        "usual": ready.regions[0].plan.region,
        "symbols": {name: {**symbol_data(name), "letter": list(symbol_parts(name))} for name in names},
        "laws": [],
        "steps": [{key: step_data(step, ())[key] for key in ("target", "rule")} for step in shelves.steps],
        "sets": sets,
        "desk": told,
    }
    return DeskContent(
        tuple((labels.get(key, symbol_for(key).meaning), key) for key in ready.level.given),
        tuple(DeskPart(part.key, part.prompt, part.called, part.tolerance) for part in desk.parts),
        tuple(DeskDemand(demand.words, _demanded(demand), demand.kind.value) for demand in desk.demands),
        () if sweep is None else sweep.ways,
        () if sweep is None else sweep.heights,
        tuple(name for name in names if name in _spoken(desk, sweep)),
        problems[0].problem.cautions,
        data,
    )


def _accepted(item: WorkedProblem, key: str) -> tuple[float, ...]:
    point: Waypoint | None = next((point for point in item.problem.waypoints if point.key == key), None)
    return point.accepted if point is not None else (float(item.drawn.run.env[key][0]),)


def _window(part: ChosenPart, accepted: Iterable[tuple[float, ...]]) -> tuple[float, ...]:
    """The part of a long shelf that is offered: whole decades around all that the problems of a level accept."""
    values = [value for row in accepted for value in row]
    if part.described or part.called == "rating" or not values:
        return part.shelf
    low = 10.0 ** math.floor(math.log10(min(values) / _AROUND) + 1e-9)
    high = 10.0 ** math.ceil(math.log10(max(values) * _AROUND) - 1e-9)
    return tuple(value for value in part.shelf if low * (1 - 1e-9) <= value <= high * (1 + 1e-9))


def _part_data(part: ChosenPart, window: tuple[float, ...]) -> Data:
    told = {"key": part.key, "shelf": [_short(value) for value in window], "tolerance": part.tolerance}
    return {**told, "described": list(part.described)} if part.described else told


def _stage_data(ready: RunnableStage, shelves: Shelves) -> Data:
    stage = ready.stage
    return {
        "quantity": stage.quantity,
        "steps": [shelves.step(step) for step in stage.plan.steps],
        "inputs": [[base, to_json(expr)] for base, expr in stage.inputs],
        "box": list(stage.box),
        "greatest": bool(stage.greatest),
        "resting": [[base, to_json(expr)] for base, expr in stage.resting],
        "keys": list(keys_of(stage)),
    }


def _demand_data(demand: DemandRow, shelves: Shelves) -> Data:
    return {
        "kind": demand.kind.value,
        "relation": demand.relation,
        "limit": demand.limit,
        "fixed": demand.fixed,
        "factor": demand.factor,
        "spareUnit": difference_unit(symbol_for(demand.quantity).unit),
        "stage": _stage_data(demand.stage, shelves),
    }


def _demanded(demand: DemandRow) -> Equation:
    """What a row demands, as it is printed."""
    if demand.kind is DemandKind.AIM:
        return Equation(Sym(demand.limit), Sym(demand.quantity), "≈")
    quantity: Expr = Sym(demand.quantity)
    if demand.factor != 1:
        factor = int(demand.factor) if demand.factor == int(demand.factor) else demand.factor
        quantity = Mul((Num(factor), quantity))
    return Equation(quantity, Sym(demand.limit) if demand.limit else Num(0), demand.relation)


def _numbers(desk: DesignDesk, drawn: Sequence[Drawn]) -> Data:
    """The numbers of the problems: the keys once, then a row a problem."""
    rows = [desk.numbers(item) for item in drawn]
    keys = list(rows[0])
    return {"keys": keys, "rows": [[_short(row[key]) for key in keys] for row in rows]}


def _short(value: float) -> float | int:
    """A whole number as one: it takes less room and reads the same."""
    return int(value) if value == int(value) and abs(value) < 1e15 else value


def _sweep_data(sweep: SweepSet) -> Data:
    return {
        "ends": [[name, [to_json(expr) for expr in formulas]] for name, formulas in sweep.ends.items()],
        "ways": list(sweep.ways),
        "heights": list(sweep.heights),
    }


def _beside(desk: DesignDesk, sweep: SweepSet | None) -> set[str]:
    """Letters that are written on the page, or given where a state is looked for."""
    return {*_spoken(desk, sweep), *desk.ready.circuit.defaults, *desk.ready.level.given}


def _spoken(desk: DesignDesk, sweep: SweepSet | None) -> set[str]:
    stages = [demand.stage.stage for demand in desk.demands]
    found = {part.key for part in desk.parts} | {name for stage in stages for name, _ in stage.inputs}
    found |= {name for stage in stages for name in (*stage.box, stage.quantity)}
    found |= {name for demand in desk.demands for name in (demand.quantity, demand.limit) if name}
    if sweep is not None:
        found |= {*sweep.ends, *sweep.heights}
        found |= {name for plan in sweep.plans for bound in plan.laws.bounds for name in names_of(bound.equation)}
    return {name for name in found if is_symbol(name)}
