"""A region assumed: its laws planned and run, its inequalities tested, its roots put in order.

A region is *refuted* when a law or an inequality speaks against it, *open* when the givens do not settle what is asked
in it or what its inequalities speak of. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.errors import Contradiction, SteadyrailError, Unreachable
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.laws.law import LawSet
from tutor.plan.determinacy import Manifold, manifold
from tutor.plan.evaluate import Program, compile_plan
from tutor.plan.kept import KeptPlans
from tutor.plan.moves import Moves, ways_from
from tutor.plan.plan import Plan
from tutor.plan.resolved import OtherState, Resolved, RootChoice
from tutor.plan.search import carried_on, search_with, unsettled
from tutor.plan.states import (
    Refused,
    State,
    below_zero,
    in_order,
    region_fails,
    states_of,
    told_apart,
    turned,
    unusual,
)
from tutor.plan.verify import broken_law, names_of
from tutor.quantities.symbols import split_name


def in_region(
    circuit: Circuit,
    region: Region,
    given: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
    at_sight: bool,
) -> Resolved | Refused:
    """The outcome in one region, or why it is not taken; `at_sight` tests what single laws tell before planning.

    A SteadyrailError where the wanted does not follow (Unreachable) or the givens break a law (Contradiction).
    """
    names = (*given, *wanted)
    load = load_model(given)
    laws = derive(circuit, region, load, conventions=conventions, readings=reading_indices(names, circuit))
    if at_sight:
        refuted = _refuted_at_sight(circuit, laws, given)
        if refuted is not None:
            return refuted
    asked = tuple(given), wanted, region.id, load, tuple(conventions.items())
    try:
        way = _WAYS.planned(laws, asked, lambda: _way_in(circuit, region, laws, load, given, wanted, conventions))
    except Unreachable:
        refuted = _refuted_at_sight(circuit, laws, given)
        if refuted is None and wanted:
            refuted = _refuted_as_a_whole(circuit, region, given, conventions)
        if refuted is None:
            raise
        return refuted
    outcome = _choose_roots(circuit, region, laws, load, way, {**given, **way.defaults}, wanted)
    return outcome if isinstance(outcome, Refused) or wanted else replace(outcome, plan=_finite(outcome))


@dataclass(frozen=True)
class _Way:
    """What names alone settle of a region: the standing values taken, the plan to the wanted, the plan carried on to
    all that follows, and its program."""

    defaults: Mapping[str, float]
    plan: Plan
    whole: Plan
    program: Program


_WAYS: KeptPlans[_Way] = KeptPlans()
_SIGHTS: KeptPlans[Program] = KeptPlans()


def _way_in(
    circuit: Circuit,
    region: Region,
    laws: LawSet,
    load: LoadModel,
    given: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
) -> tuple[_Way | Unreachable, bool]:
    """The way from givens in a region, or why there is none; and whether it is the way for any numbers."""
    defaults, facts = standing_values(circuit, region, laws, load, given, wanted, conventions)
    known = {**given, **defaults}
    try:
        needed = needed_of(facts, laws, known, wanted)
    except Unreachable as error:
        return error, True
    # Of needed givens alone: the number of one that others settle may contradict them, and a ring of laws that says
    # nothing (R from Ohm's law put into Ohm's law) would then seem to say something.
    moves = Moves(laws, None if facts is None else facts.point, needed)
    try:
        if wanted:
            plan = search_with(moves, needed, wanted, circuit.preferred)
        else:
            plan = plan_of_report(moves, facts, needed, known, circuit)
    except Unreachable as error:
        return error, not moves.asked_for_numbers
    whole = extended(moves, with_tests(moves, facts, plan, circuit), circuit)
    lasting = not any(step is other for step in whole.steps for other in moves.in_numbers)
    return _Way(defaults, plan, whole, compile_plan(whole)), lasting


def _refuted_at_sight(circuit: Circuit, laws: LawSet, given: Mapping[str, float]) -> Refused | None:
    """What speaks against a region when each value follows by one law from the last; None when nothing does."""
    program = _SIGHTS.planned(laws, tuple(given), lambda: (compile_plan(plan_at_sight(laws, given)), True))
    found = {name: float(value) for name, value in program.run(given).items()}
    values = {name: value for name, value in {**found, **given}.items() if math.isfinite(value)}
    broken = broken_law(laws, values, given)
    if broken is not None:
        raise Contradiction(broken, given=tuple(given))
    odd = unusual(circuit, values)
    open_still = None if odd is None else Refused(odd, refuted=False)
    return below_zero(circuit, values) or region_fails(laws, values) or turned(values) or open_still


def plan_at_sight(laws: LawSet, given: Iterable[str]) -> Plan:
    """The plan to all that follows from givens by one law after another."""
    moves = Moves(laws)
    names = tuple(given)
    return search_with(moves, names, ways_from(moves, dict.fromkeys(names, 0.0)))


def _refuted_as_a_whole(
    circuit: Circuit, region: Region, given: Mapping[str, float], conventions: Mapping[str, str]
) -> Refused | None:
    """What speaks against a region when all that follows in it is worked out; None when nothing does."""
    try:
        outcome = in_region(circuit, region, given, (), conventions, at_sight=False)
    except Unreachable:
        return None
    if isinstance(outcome, Refused):
        return outcome if outcome.refuted else None
    odd = unusual(circuit, outcome.values)
    return None if odd is None else Refused(odd, refuted=False)


def _finite(outcome: Resolved) -> Plan:
    """Asked for everything that follows: the plan without what has no finite value (R_L of an open output)."""
    plan = outcome.plan
    steps = tuple(step for step in plan.steps if step.target in outcome.values)
    return Plan(plan.known, tuple(name for name in plan.wanted if name in outcome.values), steps)


def needed_of(
    facts: Manifold | None, laws: LawSet, known: Mapping[str, float], wanted: tuple[str, ...]
) -> dict[str, float]:
    """The givens that no other givens settle; Unreachable when they do not settle the wanted.

    A given left out here is held against the result afterwards (`_choose_roots`), so one that disagrees is found.
    """
    if facts is None:
        return dict(known)
    idle = set(facts.idle(known))
    needed = {name: value for name, value in known.items() if name not in idle}
    for name in wanted:
        if not facts.settles(needed, name):
            helpful = [item for item in laws.symbols if item not in known and facts.settles([*needed, item], name)]
            raise unsettled(name, known, [item for item in helpful if item != name and item in facts.gradients])
    return needed


def standing_values(
    circuit: Circuit,
    region: Region,
    laws: LawSet,
    load: LoadModel,
    given: Collection[str],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
) -> tuple[dict[str, float], Manifold | None]:
    """The standing values (V_BE, V_CE_SAT; SI) that givens leave open, however they are coupled, and the manifold that
    tells so; no manifold where readings are among the names, of which it knows nothing."""
    defaults = _defaults_needed(circuit, laws, given, wanted)
    if reading_indices((*given, *defaults, *wanted), circuit):
        return defaults, None
    facts = manifold(circuit, region, load, conventions)
    return {name: value for name, value in defaults.items() if not facts.settles_strictly(given, name)}, facts


def _defaults_needed(
    circuit: Circuit, laws: LawSet, given: Collection[str], wanted: tuple[str, ...]
) -> dict[str, float]:
    """Standing values not given that the laws speak of and that no chain of single laws gives."""
    moves = Moves(laws)
    defaults: dict[str, float] = {}
    for name, value in circuit.defaults.items():
        mentioned = name in laws.symbols or any(name in names_of(bound.equation) for bound in laws.bounds)
        if (
            mentioned
            and name not in given
            and name not in wanted
            and name not in ways_from(moves, dict.fromkeys(given, 0.0))
        ):
            defaults[name] = value
    return defaults


def plan_of_report(
    moves: Moves, facts: Manifold | None, needed: Mapping[str, float], known: Mapping[str, float], circuit: Circuit
) -> Plan:
    """The plan to those of the circuit's report that follow, coupled blocks included; Unreachable when none does.

    Where nothing of the report follows from readings alone, the part values that they settle, and what a further
    reading then comes to.
    """
    plan = _to_those_of(Plan(tuple(needed), (), ()), moves, facts, known, circuit, circuit.report)
    read = set(reading_indices(tuple(known), circuit))
    if not plan.wanted and read:
        plan = _to_those_of(plan, moves, facts, known, circuit, circuit.constants)
        told = {split_name(name).base for name in known}
        further = [name for name in moves.laws.symbols if split_name(name).index in read]
        if plan.wanted:
            foretold = [name for name in further if split_name(name).base in told]
            plan = _to_those_of(plan, moves, facts, {**known, **dict.fromkeys(plan.wanted, 0.0)}, circuit, foretold)
    if not plan.wanted:
        raise Unreachable(f"nothing of '{circuit.id}' follows from {', '.join(needed) or 'nothing'}", missing=())
    return plan


def _to_those_of(
    plan: Plan,
    moves: Moves,
    facts: Manifold | None,
    known: Mapping[str, float],
    circuit: Circuit,
    names: Iterable[str],
) -> Plan:
    """The plan carried on to those of some names that follow."""
    for name in names:
        if name in known or (facts is not None and not facts.settles((*plan.known, *plan.wanted), name)):
            continue
        plan = carried_on(moves, plan, name, circuit.preferred) or plan
    return plan


def with_tests(moves: Moves, facts: Manifold | None, plan: Plan, circuit: Circuit) -> Plan:
    """The plan carried on to what the region's inequalities speak of, as far as the givens settle it."""
    for name in sorted({name for bound in moves.laws.bounds for name in names_of(bound.equation)}):
        have = (*plan.known, *(step.target for step in plan.steps))
        if name in have or (facts is not None and not facts.settles_strictly(plan.known, name)):
            continue
        more = carried_on(moves, plan, name, circuit.preferred)
        plan = plan if more is None else replace(more, wanted=plan.wanted)
    return plan


def extended(moves: Moves, plan: Plan, circuit: Circuit) -> Plan:
    """The plan carried on to every quantity that follows, for checks and for the table of values."""
    have = [*plan.known, *(step.target for step in plan.steps)]
    rest = [name for name in ways_from(moves, dict.fromkeys(have, 0.0)) if name not in have]
    more = search_with(moves, have, rest, circuit.preferred)
    return Plan(plan.known, (*plan.wanted, *rest), (*plan.steps, *more.steps))


def _choose_roots(
    circuit: Circuit,
    region: Region,
    laws: LawSet,
    load: LoadModel,
    way: _Way,
    known: Mapping[str, float],
    wanted: tuple[str, ...],
) -> Resolved | Refused:
    plan, whole = way.plan, way.whole
    forced = is_forced(whole, known)
    allowed, refused = states_of(circuit, laws, whole, way.program, known, plan.steps if wanted else ())
    if not allowed:
        _raise_if_contradictory(laws, known, forced, way.program)
        return refused[0] if refused else Refused("it has no real solution", refuted=True)
    unbroken = [state for state in allowed if broken_law(laws, state.values) is None]
    if not unbroken:
        raise _broken(str(broken_law(laws, allowed[0].values, known)), known, forced, plan)
    states = in_order(circuit, unbroken)
    several = [step.target for step in whole.steps if step.degree > 1]
    reason = _root_reason(circuit, states, refused)
    choices = tuple(RootChoice(name, which, reason) for name, which in zip(several, states[0].roots, strict=True))
    others = tuple(OtherState(region, state.values) for state in states[1:])
    return Resolved(region, laws, load, plan, states[0].values, way.defaults, choices, (), others)


def is_forced(whole: Plan, known: Iterable[str]) -> bool:
    """Whether a broken law is the givens' own doing: one of them was idle, or each value followed by one law."""
    return any(name not in whole.known for name in known) or not any(step.coupled for step in whole.steps)


def _root_reason(circuit: Circuit, states: list[State], refused: list[Refused]) -> str:
    if circuit.root_preference is not None and told_apart(circuit, states):
        name, greatest, words = circuit.root_preference
        side = "greater" if greatest else "smaller"
        return f"both fit the circuit, and the one with the {side} {name} is taken: {words}"
    if len(states) > 1:
        return "more than one fits the circuit, and the one nearest to usual part values is taken"
    return f"the other root is refused: {refused[0].why}" if refused else "the only real root"


def _broken(sentence: str, known: Mapping[str, float], forced: bool, plan: Plan) -> SteadyrailError:
    """Givens that settle one another contradict each other; givens that do not cannot, and no way was found."""
    if forced:
        return Contradiction(sentence, given=tuple(known))
    wanted = ", ".join(plan.wanted)
    return Unreachable(f"no way by hand was found from {', '.join(known)} to {wanted}", wanted=wanted, missing=())


def _raise_if_contradictory(laws: LawSet, known: Mapping[str, float], forced: bool, program: Program) -> None:
    values = {**{name: float(value) for name, value in program.run(known).items()}, **known}
    broken = broken_law(laws, values, known)
    if broken is not None and forced:
        raise Contradiction(broken, given=tuple(known))
