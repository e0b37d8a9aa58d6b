"""Assume a region, plan, run, verify; where it does not hold, plan again in the next.

A *resolved* circuit is the outcome: the region that holds, the plan, every value, and what was tried and why it failed.
Where several states are admissible, of one region or of two, the usual one is taken (`states.py`) and the others go
with it: an answer never passes for the only one when it is not.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.errors import Contradiction, SteadyrailError, Unreachable
from tutor.laws.derive import derive, load_model
from tutor.laws.law import LawSet
from tutor.plan.determinacy import Manifold, manifold
from tutor.plan.evaluate import compile_plan
from tutor.plan.moves import Moves, ways_from
from tutor.plan.plan import Plan
from tutor.plan.search import search, search_with, unsettled
from tutor.plan.states import (
    Refused,
    State,
    alike,
    below_zero,
    in_order,
    region_fails,
    states_of,
    told_apart,
    turned,
    unusual,
)
from tutor.plan.verify import broken_law, names_of
from tutor.quantities.symbols import SYMBOLS, split_name


@dataclass(frozen=True)
class Tried:
    """A region assumed and found not to hold, and the sentence that says why."""

    region: Region
    why: str


@dataclass(frozen=True)
class RootChoice:
    """Which root of which quantity was taken, and why."""

    target: str
    which: int
    why: str


@dataclass(frozen=True)
class OtherState:
    """A further state that fits the givens as well: its region and every value found there."""

    region: Region
    values: Mapping[str, float]


@dataclass(frozen=True)
class Resolved:
    """A circuit resolved: `values` holds givens, defaults used, wanted and everything else that follows (SI).

    `others` are the states that keep every law and inequality too and differ in some value.
    """

    region: Region
    laws: LawSet
    load: LoadModel
    plan: Plan
    values: Mapping[str, float]
    defaults: Mapping[str, float]
    roots: tuple[RootChoice, ...]
    tried: tuple[Tried, ...]
    others: tuple[OtherState, ...] = ()

    @property
    def root_signs(self) -> tuple[int, ...]:
        """The root taken in each step that has several."""
        return tuple(choice.which for choice in self.roots)


def reading_indices(names: Mapping[str, object] | tuple[str, ...], circuit: Circuit) -> tuple[str, ...]:
    """The reading indices in use among `names`: ("1", "2") when V_I_1 and V_I_2 are."""
    found = set()
    for name in names:
        pieces = split_name(name)
        if pieces.index and name not in SYMBOLS and pieces.base in circuit.readings:
            found.add(pieces.index)
    return tuple(sorted(found))


def resolve(
    circuit: Circuit,
    given: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str] | None = None,
) -> Resolved:
    """The circuit's state at `given` (SI by symbol name) and the plan to `wanted` (all that follows when empty).

    Raises Contradiction when the givens break a law in every region, Unreachable when the wanted does not follow.
    """
    tried: list[Tried] = []
    fitting: list[Resolved] = []
    failure: SteadyrailError | None = None
    still_open = False
    for region in circuit.regions:
        try:
            outcome = _in_region(circuit, region, given, wanted, conventions or {}, at_sight=bool(fitting))
        except (Contradiction, Unreachable) as error:
            if fitting:
                continue
            if isinstance(error, Unreachable):
                # Not refuted, only not settled: what holds in a further region would prove nothing.
                if not tried:
                    raise
                tried.append(Tried(region, error.sentence))
                still_open = True
                break
            if region == circuit.regions[0]:
                failure = error
            tried.append(Tried(region, error.sentence))
            continue
        if isinstance(outcome, Resolved) and fitting and _is_silent(circuit, outcome, given):
            continue
        if isinstance(outcome, Resolved) and (region == circuit.regions[0] or _is_established(outcome)):
            fitting.append(replace(outcome, tried=tuple(tried)))
        elif not fitting:
            still_open = still_open or isinstance(outcome, Resolved) or not outcome.refuted
            why = outcome.why if isinstance(outcome, Refused) else "nothing given tells whether it holds"
            tried.append(Tried(region, why))
    if fitting:
        return _chosen(circuit, fitting)
    reasons = "; ".join(f"{item.region.words}: {item.why}" for item in tried)
    if still_open:
        raise Unreachable(f"these values do not tell in which state '{circuit.id}' is ({reasons})", missing=())
    if failure is not None:
        raise failure
    raise Contradiction(f"no region of '{circuit.id}' holds with these values ({reasons})", tried=tuple(tried))


def _chosen(circuit: Circuit, fitting: list[Resolved]) -> Resolved:
    """The first region that fits with usual standing values; the first of all where none does. What else fits is
    told with it."""
    taken = next((item for item in fitting if unusual(circuit, item.values) is None), fitting[0])
    passed = fitting[: fitting.index(taken)]
    tried = [Tried(item.region, str(unusual(circuit, item.values))) for item in passed]
    states = [OtherState(item.region, item.values) for item in fitting if item not in (taken, *passed)]
    others: list[OtherState] = []
    for state in (*taken.others, *states, *(other for item in fitting if item is not taken for other in item.others)):
        if not any(alike(state.values, values) for values in (taken.values, *(item.values for item in others))):
            others.append(state)
    return replace(taken, tried=(*taken.tried, *tried), others=tuple(others))


def _is_established(outcome: Resolved) -> bool:
    """Whether every inequality of the region could be tested; the usual region alone may be taken on trust."""
    return all(name in outcome.values for bound in outcome.laws.bounds for name in names_of(bound.equation))


def _is_silent(circuit: Circuit, outcome: Resolved, given: Mapping[str, float]) -> bool:
    """Whether a region has no law for something given (a slope of the regulating circuit) of which the usual region
    speaks: then it fits because it says nothing."""
    usual = derive(circuit, circuit.regions[0], outcome.load)
    return any(name in usual.symbols and name not in outcome.laws.symbols for name in given)


def _in_region(
    circuit: Circuit,
    region: Region,
    given: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
    at_sight: bool,
) -> Resolved | Refused:
    """The outcome in one region, or why it is not taken; `at_sight` tests what single laws tell before planning."""
    names = (*given, *wanted)
    load = load_model(given)
    laws = derive(circuit, region, load, conventions=conventions, readings=reading_indices(names, circuit))
    if at_sight:
        refuted = _refuted_at_sight(circuit, laws, given)
        if refuted is not None:
            return refuted
    defaults = _defaults_needed(circuit, laws, given, wanted)
    known = {**given, **defaults}
    facts = None
    if not reading_indices((*known, *wanted), circuit):
        facts = manifold(circuit, region, load, conventions)
        # A standing value is only wanted where the givens leave it open, however they are coupled.
        defaults = {name: value for name, value in defaults.items() if not facts.settles_strictly(given, name)}
        known = {**given, **defaults}
    moves = Moves(laws, None if facts is None else facts.point, known)
    try:
        needed = _needed(facts, laws, known, wanted)
        asked = wanted or _reachable(moves, facts, needed, known, circuit)
        plan = search_with(moves, needed, asked, circuit.preferred)
    except Unreachable:
        refuted = _refuted_at_sight(circuit, laws, given)
        if refuted is None:
            raise
        return refuted
    whole = _extended(moves, plan, circuit)
    outcome = _choose_roots(circuit, region, laws, load, plan, whole, known, defaults, wanted)
    return outcome if isinstance(outcome, Refused) or wanted else replace(outcome, plan=_finite(outcome))


def _refuted_at_sight(circuit: Circuit, laws: LawSet, given: Mapping[str, float]) -> Refused | None:
    """What speaks against a region when each value follows by one law from the last; None when nothing does."""
    plan = search(laws, given, ways_from(Moves(laws), dict.fromkeys(given, 0.0)))
    found = {name: float(value) for name, value in compile_plan(plan).run(given).items()}
    values = {name: value for name, value in {**found, **given}.items() if math.isfinite(value)}
    broken = broken_law(laws, values, given)
    if broken is not None:
        raise Contradiction(broken, given=tuple(given))
    return below_zero(circuit, values) or region_fails(laws, values) or turned(values)


def _finite(outcome: Resolved) -> Plan:
    """Asked for everything that follows: the plan without what has no finite value (R_L of an open output)."""
    plan = outcome.plan
    steps = tuple(step for step in plan.steps if step.target in outcome.values)
    return Plan(plan.known, tuple(name for name in plan.wanted if name in outcome.values), steps)


def _needed(
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


def _defaults_needed(
    circuit: Circuit, laws: LawSet, given: Mapping[str, float], wanted: tuple[str, ...]
) -> dict[str, float]:
    """Standing values (V_BE, V_CE_SAT) not given that the laws speak of and the givens do not fix."""
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


def _reachable(
    moves: Moves, facts: Manifold | None, needed: Mapping[str, float], known: Mapping[str, float], circuit: Circuit
) -> tuple[str, ...]:
    """Those of the circuit's report that follow, coupled blocks included."""
    found: list[str] = []
    for name in circuit.report:
        if name in known or (facts is not None and not facts.settles(needed, name)):
            continue
        try:
            search_with(moves, (*needed, *found), (name,), circuit.preferred)
        except Unreachable:
            continue
        found.append(name)
    if not found:
        raise Unreachable(f"nothing of '{circuit.id}' follows from {', '.join(needed) or 'nothing'}", missing=())
    return tuple(found)


def _extended(moves: Moves, plan: Plan, circuit: Circuit) -> Plan:
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
    plan: Plan,
    whole: Plan,
    known: Mapping[str, float],
    defaults: Mapping[str, float],
    wanted: tuple[str, ...],
) -> Resolved | Refused:
    program = compile_plan(whole)
    # Where a given was idle, or each value followed by one law from the last, a broken law is the givens' own doing.
    forced = any(name not in whole.known for name in known) or not any(step.coupled for step in whole.steps)
    allowed, refused = states_of(circuit, laws, whole, program, known, plan.steps if wanted else ())
    if not allowed:
        _raise_if_contradictory(laws, known, forced, whole)
        return refused[0] if refused else Refused("it has no real solution", refuted=True)
    unbroken = [state for state in allowed if broken_law(laws, state.values) is None]
    if not unbroken:
        raise _broken(str(broken_law(laws, allowed[0].values, known)), known, forced, plan)
    states = in_order(circuit, unbroken)
    several = [step.target for step in whole.steps if step.degree > 1]
    reason = _root_reason(circuit, states, refused)
    choices = tuple(RootChoice(name, which, reason) for name, which in zip(several, states[0].roots, strict=True))
    others = tuple(OtherState(region, state.values) for state in states[1:])
    return Resolved(region, laws, load, plan, states[0].values, defaults, choices, (), others)


def _root_reason(circuit: Circuit, states: list[State], refused: list[Refused]) -> str:
    if len(states) > 1 and circuit.root_preference is not None and told_apart(circuit, states):
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


def _raise_if_contradictory(laws: LawSet, known: Mapping[str, float], forced: bool, whole: Plan) -> None:
    values = {**{name: float(value) for name, value in compile_plan(whole).run(known).items()}, **known}
    broken = broken_law(laws, values, known)
    if broken is not None and forced:
        raise Contradiction(broken, given=tuple(known))
