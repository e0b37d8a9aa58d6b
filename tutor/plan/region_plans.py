"""Plans in letters alone, one a region: what `resolve` would do with any numbers of the same names, as plain data.

Vocabulary: a *region plan* is the plan from given names in one region; *sight* is what single laws tell, which may
refute the region before it is planned, or where no plan reaches anything. Which one holds is told by numbers, later.
Place in the data flow: circuit + names of givens -> RegionPlan (this) -> the own-numbers pages, which run it without
algebra. It follows `one_region.in_region` step by step and differs in that no number is known.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit, Region
from tutor.errors import Unreachable
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.laws.law import LawSet
from tutor.plan.moves import Moves
from tutor.plan.one_region import (
    extended,
    is_forced,
    needed_of,
    plan_at_sight,
    plan_of_report,
    standing_values,
    with_tests,
)
from tutor.plan.plan import Step
from tutor.plan.states import is_silent


@dataclass(frozen=True)
class RegionPlan:
    """The plan of some givens in a region. `known` are the names it starts from, `asked` what it is for.

    `steps` go on to everything that follows. `forced` says that a broken law is the givens' own doing; `silent` that
    the region has no law for something given of which the usual region speaks. `why_not` is '' where there is a plan,
    else the sentence that says why nothing follows; `sight` are the steps single laws allow.
    """

    region: Region
    laws: LawSet
    known: tuple[str, ...]
    defaults: Mapping[str, float]
    asked: tuple[str, ...]
    steps: tuple[Step, ...]
    forced: bool
    silent: bool
    sight: tuple[Step, ...]
    why_not: str = ""


def region_plans(circuit: Circuit, given: Iterable[str], conventions: Mapping[str, str]) -> tuple[RegionPlan, ...]:
    """The plans of givens in each region of a circuit, in the order in which regions are tried.

    UnknownName for a convention or a value of one that the circuit does not have.
    """
    names = tuple(given)
    return tuple(_in_region(circuit, region, names, conventions) for region in circuit.regions)


def _in_region(circuit: Circuit, region: Region, given: tuple[str, ...], conventions: Mapping[str, str]) -> RegionPlan:
    load = load_model(given)
    laws = derive(circuit, region, load, conventions=conventions, readings=reading_indices(given, circuit))
    defaults, facts = standing_values(circuit, region, laws, load, given, (), conventions)
    # Any value will do: what follows asks of the givens for their names alone.
    known = {**dict.fromkeys(given, 1.0), **defaults}
    silent = is_silent(circuit, laws, load, given)
    moves = Moves(laws, None if facts is None else facts.point)
    sight = plan_at_sight(laws, given).steps
    try:
        needed = needed_of(facts, laws, known, ())
        plan = plan_of_report(moves, facts, needed, known, circuit)
    except Unreachable as error:
        return RegionPlan(region, laws, given, {}, (), (), False, silent, sight, error.sentence)
    whole = extended(moves, with_tests(moves, facts, plan, circuit), circuit)
    forced = is_forced(whole, known)
    return RegionPlan(region, laws, whole.known, defaults, plan.wanted, whole.steps, forced, silent, sight)
