"""Assume a region, plan, run, verify; where it does not hold, plan again in the next.

A *resolved* circuit is the outcome: the region that holds, the plan, every value, and what was tried and why it failed.
What may be lost: where two roots are admissible the circuit's declared preference decides, and the outcome says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.circuit.components import PartKind
from tutor.errors import Contradiction, SteadyrailError, Unreachable
from tutor.laws.derive import derive, load_model
from tutor.laws.law import LawSet
from tutor.plan.determinacy import Manifold, manifold
from tutor.plan.evaluate import compile_plan, root_limit
from tutor.plan.plan import Plan, Step
from tutor.plan.search import Moves, search, unsettled, ways_from
from tutor.plan.verify import broken_law, holds, names_of, value_text
from tutor.quantities.expression import symbols_of
from tutor.quantities.notation import plain_equation
from tutor.quantities.symbols import SYMBOLS, Sign, split_name, symbol_for


@dataclass(frozen=True)
class Tried:
    """A region assumed and found not to hold, and the sentence that says why."""

    region: Region
    why: str


@dataclass(frozen=True)
class Refused:
    """A region not taken: why, and whether a law or an inequality refutes it or the givens merely leave it open."""

    why: str
    refuted: bool


@dataclass(frozen=True)
class RootChoice:
    """Which root of which quantity was taken, and why."""

    target: str
    which: int
    why: str


@dataclass(frozen=True)
class Resolved:
    """A circuit resolved: `values` holds givens, defaults used, wanted and everything else that follows (SI)."""

    region: Region
    laws: LawSet
    load: LoadModel
    plan: Plan
    values: Mapping[str, float]
    defaults: Mapping[str, float]
    roots: tuple[RootChoice, ...]
    tried: tuple[Tried, ...]

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
    failure: SteadyrailError | None = None
    still_open = False
    for region in circuit.regions:
        try:
            outcome = _in_region(circuit, region, given, wanted, conventions or {})
        except (Contradiction, Unreachable) as error:
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
        if isinstance(outcome, Resolved) and (region == circuit.regions[0] or _is_established(outcome)):
            return replace(outcome, tried=tuple(tried))
        still_open = still_open or isinstance(outcome, Resolved) or not outcome.refuted
        why = outcome.why if isinstance(outcome, Refused) else "nothing given tells whether it holds"
        tried.append(Tried(region, why))
    reasons = "; ".join(f"{item.region.words}: {item.why}" for item in tried)
    if still_open:
        raise Unreachable(f"these values do not tell in which state '{circuit.id}' is ({reasons})", missing=())
    if failure is not None:
        raise failure
    raise Contradiction(f"no region of '{circuit.id}' holds with these values ({reasons})", tried=tuple(tried))


def _is_established(outcome: Resolved) -> bool:
    """Whether every inequality of the region could be tested; the usual region alone may be taken on trust."""
    return all(name in outcome.values for bound in outcome.laws.bounds for name in names_of(bound.equation))


def _in_region(
    circuit: Circuit,
    region: Region,
    given: Mapping[str, float],
    wanted: tuple[str, ...],
    conventions: Mapping[str, str],
) -> Resolved | Refused:
    """The outcome in one region, or why it is not taken."""
    names = (*given, *wanted)
    load = load_model(given)
    laws = derive(circuit, region, load, conventions=conventions, readings=reading_indices(names, circuit))
    defaults = _defaults_needed(circuit, laws, given, wanted)
    known = {**given, **defaults}
    facts = None
    if not reading_indices((*known, *wanted), circuit):
        facts = manifold(circuit, region, load, conventions)
        # A standing value is only wanted where the givens leave it open, however they are coupled.
        defaults = {name: value for name, value in defaults.items() if not facts.settles_strictly(given, name)}
        known = {**given, **defaults}
    needed = _needed(facts, laws, known, wanted)
    probe = {} if facts is None else facts.point
    report = tuple(name for name in circuit.report if name not in known)
    asked = wanted or _reachable(laws, needed, report, circuit, probe)
    plan = search(laws, needed, asked, circuit.preferred, probe)
    whole = _extended(laws, plan, circuit)
    outcome = _choose_roots(circuit, region, laws, load, plan, whole, known, defaults, wanted)
    return outcome if isinstance(outcome, Refused) or wanted else replace(outcome, plan=_finite(outcome))


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
    laws: LawSet, known: Mapping[str, float], asked: tuple[str, ...], circuit: Circuit, probe: Mapping[str, float]
) -> tuple[str, ...]:
    """Those of `asked` that follow, coupled blocks included."""
    found: list[str] = []
    for name in asked:
        try:
            search(laws, (*known, *found), (name,), circuit.preferred, probe)
        except Unreachable:
            continue
        found.append(name)
    if not found:
        raise Unreachable(f"nothing of '{circuit.id}' follows from {', '.join(known) or 'nothing'}", missing=())
    return tuple(found)


def _extended(laws: LawSet, plan: Plan, circuit: Circuit) -> Plan:
    """The plan carried on to every quantity that follows, for checks and for the table of values."""
    have = [*plan.known, *(step.target for step in plan.steps)]
    rest = [name for name in ways_from(Moves(laws), dict.fromkeys(have, 0.0)) if name not in have]
    more = search(laws, have, rest, circuit.preferred)
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
    must_be_finite = plan.steps if wanted else ()
    program = compile_plan(whole)
    idle = {name: value for name, value in known.items() if name not in whole.known}
    # Where a given was idle, or each value followed by one law from the last, a broken law is the givens' own doing.
    forced = bool(idle) or not any(step.coupled for step in whole.steps)
    several = [step.target for step in whole.steps if step.degree > 1]
    admissible: list[tuple[tuple[int, ...], dict[str, float]]] = []
    refused: list[Refused] = []
    for roots in itertools.product(*(range(limit) for limit in root_limit(whole))):
        values = {**known, **{name: float(value) for name, value in program.run(known, roots).items()}, **idle}
        values = {name: 0.0 if value == 0 else value for name, value in values.items()}
        why = _inadmissible(circuit, must_be_finite, values, whole) or _region_fails(laws, values)
        values = {name: value for name, value in values.items() if math.isfinite(value)}
        if why is not None:
            refused.append(why)
        else:
            admissible.append((roots, values))
    if not admissible:
        _raise_if_contradictory(laws, known, forced, whole)
        return refused[0] if refused else Refused("it has no real solution", refuted=True)
    unbroken = [entry for entry in admissible if broken_law(laws, entry[1]) is None]
    if not unbroken:
        raise _broken(str(broken_law(laws, admissible[0][1], known)), known, forced, plan)
    admissible = _by_preference(circuit, unbroken)
    roots, values = admissible[0]
    choices = tuple(
        RootChoice(name, which, _root_reason(circuit, len(admissible), refused))
        for name, which in zip(several, roots, strict=True)
    )
    return Resolved(region, laws, load, plan, values, defaults, choices, ())


def _by_preference(
    circuit: Circuit, entries: list[tuple[tuple[int, ...], dict[str, float]]]
) -> list[tuple[tuple[int, ...], dict[str, float]]]:
    """Admissible roots, the one the circuit prefers first; as found where it has no preference."""
    if circuit.root_preference is None:
        return entries
    name, greatest, _ = circuit.root_preference
    sign = -1 if greatest else 1
    return sorted(entries, key=lambda entry: sign * entry[1].get(name, 0.0))


def _root_reason(circuit: Circuit, admissible: int, refused: list[Refused]) -> str:
    if admissible > 1 and circuit.root_preference is not None:
        name, greatest, words = circuit.root_preference
        side = "greater" if greatest else "smaller"
        return f"both fit the circuit, and the one with the {side} {name} is taken: {words}"
    return f"the other root is refused: {refused[0].why}" if refused else "the only real root"


def _inadmissible(
    circuit: Circuit, steps: tuple[Step, ...], values: Mapping[str, float], whole: Plan
) -> Refused | None:
    """Why values cannot be: no number for something asked, or a part value or a root below zero."""
    several = [step for step in whole.steps if step.degree > 1]
    for step in dict.fromkeys((*steps, *several)):
        if not math.isfinite(values[step.target]):
            return _no_number(step, values)
    loads = tuple(part.symbols["resistance"] for part in circuit.parts if part.kind is PartKind.LOAD)
    for name in dict.fromkeys((*(step.target for step in several), *circuit.constants, *loads)):
        value = values.get(name, 0.0)
        if value < 0 and symbol_for(name).sign is not Sign.ANY:
            # A quotient by nothing has no sign worth telling.
            why = f"{name} would be {value_text(name, value)}, below zero" if math.isfinite(value) else _unknown(name)
            return Refused(why, refuted=math.isfinite(value))
    return None


def _no_number(step: Step, values: Mapping[str, float]) -> Refused:
    """A quadratic without a real root refutes; a division by nothing leaves open."""
    names = {name for item in step.coefficients for name in symbols_of(item)}
    if step.degree > 1 and all(math.isfinite(values.get(name, math.nan)) for name in names):
        return Refused(f"no real {step.target} solves it", refuted=True)
    return Refused(_unknown(step.target), refuted=False)


def _unknown(name: str) -> str:
    return f"{name} has no finite value"


def _region_fails(laws: LawSet, values: Mapping[str, float]) -> Refused | None:
    """The first inequality of the region that does not hold; None when all do."""
    for bound in laws.bounds:
        names = names_of(bound.equation)
        if not all(math.isfinite(values.get(name, math.nan)) for name in names):
            continue
        if not holds(bound, values):
            shown = ", ".join(f"{name} = {value_text(name, values[name])}" for name in sorted(names))
            return Refused(f"it needs {plain_equation(bound.equation)}, but {shown}", refuted=True)
    return None


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
