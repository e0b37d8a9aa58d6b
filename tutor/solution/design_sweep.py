"""What a design is swept over: the circuit's state from what a level tells and what is chosen, region by region.

Vocabulary: a *name* is what is known of the circuit at one moment; its *ends* are formulas over the keys of a problem:
one where it stands still, several where it lies between them (V_I between V_I_MIN and V_I_MAX; a winding that follows
the mains). A *way* is a name along which a sweep goes, a *height* a quantity it shows.
Place in the data flow: DesignDesk -> SweepSet -> the sweep on the design desk of the site, and the words of a region
where regulation is lost.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit
from tutor.circuit.component import LINES, PartKind
from tutor.generate.family import Choose, Find
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.derive import derive, load_model
from tutor.plan.region_plans import RegionPlan
from tutor.plan.verify import names_of
from tutor.quantities.expression import Expr, Sym
from tutor.quantities.symbols import SYMBOLS, is_symbol, split_name, without_end
from tutor.solution.design_desk import DemandKind, DesignDesk
from tutor.solution.own_offer import kept_plans
from tutor.solution.own_sets import GivenSet

_MOST_HEIGHTS = 8

Ends = Mapping[str, tuple[Expr, ...]]


@dataclass(frozen=True)
class SweepSet:
    """The names with their ends, the conventions, a plan a region, the ways and the heights of a level's sweeps."""

    circuit: Circuit
    ends: Ends
    conventions: Mapping[str, str]
    plans: tuple[RegionPlan, ...]
    ways: tuple[str, ...]
    heights: tuple[str, ...]


def sweep_set(folder: ProblemsFolder, desk: DesignDesk) -> SweepSet | None:
    """What the design of a level is swept over; None where nothing that a sweep could show follows."""
    ready = desk.ready
    circuit, region = ready.circuit, ready.regions[0].plan.region
    offered = circuit.convention_values()
    unusual = tuple(
        sorted((name, value) for name, value in ready.family.assume.items() if offered.get(name, (value,))[0] != value)
    )
    ends = _told(ready, unusual)
    wanted = _wanted(desk)
    plans = _planned(folder, circuit, region, ends, unusual)
    for name, formulas in _taken(ready).items():
        # What a check takes a quantity at is known too, where more follows from it.
        more = {**ends, name: formulas}
        further = _planned(folder, circuit, region, more, unusual) if name not in ends else ()
        if further and _reached(further, more, wanted) > _reached(plans, ends, wanted):
            ends, plans = more, further
    known = {step.target for plan in plans[:1] for step in plan.steps}
    heights = tuple(name for name in wanted if name in known and name not in ends)[:_MOST_HEIGHTS]
    ways = tuple(_ways(circuit, ends))
    if not plans or not heights or not ways:
        return None
    return SweepSet(circuit, ends, dict(unusual), plans, ways, heights)


def _told(ready: ReadyLevel, conventions: tuple[tuple[str, str], ...]) -> dict[str, tuple[Expr, ...]]:
    """What is told, chosen or settled of the circuit, as far as its laws speak of it."""
    level, circuit = ready.level, ready.circuit
    found: dict[str, tuple[Expr, ...]] = {}
    for key in level.given:
        if not is_symbol(key) or key.startswith("tol_"):
            continue
        base = without_end(key) if split_name(key).end in ("MIN", "MAX") else key
        if base in level.ranges:
            found[base] = (Sym(f"{base}_MIN"), Sym(f"{base}_MAX"))
        elif not split_name(key).end:
            found[key] = (Sym(key),)
    found |= {ask.quantity: (Sym(ask.quantity),) for ask in level.asks if isinstance(ask, Choose)}
    parts = [ask.quantity for ask in level.asks if isinstance(ask, Find) and not ask.at]
    settled = [name for name in parts if name in circuit.constants and name not in found and "V_ZT" not in found]
    if settled:  # readings are spoken of until they have settled the parts
        own = {*circuit.constants, *circuit.defaults, *circuit.report, *SYMBOLS}
        found = {name: ends for name, ends in found.items() if not split_name(name).index or name in own}
    found |= {name: (Sym(name),) for name in settled}
    limits = {stage.stage.limit for stage in (*ready.regions[0].checks, *ready.regions[0].tests) if stage is not None}
    laws = derive(circuit, circuit.regions[0], load_model([*found]), conventions=dict(conventions))
    spoken = {*laws.symbols} - (limits - {*circuit.constants})
    return {name: ends for name, ends in found.items() if name in spoken}


def _taken(ready: ReadyLevel) -> dict[str, tuple[Expr, ...]]:
    """What closing checks take quantities at, by quantity: all the formulas, each once."""
    found: dict[str, tuple[Expr, ...]] = {}
    for stage in ready.regions[0].checks:
        for name, expr in stage.stage.inputs if stage is not None else ():
            if name not in ready.circuit.defaults:
                found[name] = tuple(dict.fromkeys((*found.get(name, ()), expr)))
    return found


def _wanted(desk: DesignDesk) -> tuple[str, ...]:
    """The quantities that a sweep should show: the output, then what is demanded of anything."""
    demanded = [demand.stage.stage.quantity for demand in desk.demands if demand.kind is not DemandKind.AIM]
    return tuple(dict.fromkeys((*desk.ready.circuit.output_voltages(), *demanded)))


def _planned(
    folder: ProblemsFolder, circuit: Circuit, region: str, ends: Ends, conventions: tuple[tuple[str, str], ...]
) -> tuple[RegionPlan, ...]:
    """The plans in every region; none where the usual one follows from nothing, or a step is above a quadratic."""
    usual = circuit.regions[0].id
    plans = kept_plans(folder, circuit, GivenSet(tuple(ends), conventions, ()))
    if region != usual:  # a level about another state supposes it throughout (a limiter that limits)
        plans = tuple(plan for plan in plans if plan.region.id == region)
    hard = any(step.degree > 2 for plan in plans for step in plan.steps)
    return () if plans[0].why_not or hard else plans


def _reached(plans: tuple[RegionPlan, ...], ends: Ends, wanted: tuple[str, ...]) -> int:
    """How much of what is wanted the plan of the first region reaches, and its inequalities with it."""
    if not plans:
        return -1
    found = {*ends, *plans[0].defaults, *(step.target for step in plans[0].steps)}
    tested = sum(names_of(bound.equation) <= found for bound in plans[0].laws.bounds)
    return sum(name in found for name in wanted) + tested


def _ways(circuit: Circuit, ends: Ends) -> list[str]:
    """Loads, then lines, then whatever else lies between ends."""
    load = [symbol for part in circuit.parts if part.kind is PartKind.LOAD for symbol in part.symbols.values()]
    loads = [name for name in ends if name in load and name not in circuit.output_voltages()]
    supplies = [part.symbols["voltage"] for part in circuit.parts if part.kind in LINES]
    lines = [name for name in ends if name in (*supplies, "V_PRI", "V_OC") and "V_REF" not in name]
    between = [name for name, formulas in ends.items() if len(formulas) > 1]
    return [*dict.fromkeys((*loads, *lines, *between))]
