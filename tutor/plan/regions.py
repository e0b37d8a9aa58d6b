"""Assume a region, plan, run, verify; where it does not hold, plan again in the next.

A *resolved* circuit is the outcome: the region that holds, the plan, every value, and what was tried and why it failed.
Where several states are admissible, of one region or of two, the usual one is taken (`states.py`) and the others go
with it: an answer never passes for the only one when it is not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from tutor.circuit.circuit import Circuit
from tutor.errors import Contradiction, SteadyrailError, Unreachable
from tutor.plan.one_region import in_region
from tutor.plan.resolved import OtherState, Resolved, Tried
from tutor.plan.states import Refused, alike, is_silent, unusual
from tutor.plan.verify import names_of

_UNTOLD = "nothing given tells whether it holds"


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
            outcome = in_region(circuit, region, given, wanted, conventions or {}, at_sight=bool(fitting))
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
        if isinstance(outcome, Resolved) and fitting and is_silent(circuit, outcome.laws, outcome.load, given):
            continue
        if isinstance(outcome, Resolved) and _is_taken(circuit, outcome, given):
            fitting.append(replace(outcome, tried=tuple(tried)))
        elif not fitting:
            still_open = still_open or isinstance(outcome, Resolved) or not outcome.refuted
            why = outcome.why if isinstance(outcome, Refused) else unusual(circuit, outcome.values) or _UNTOLD
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


def _is_taken(circuit: Circuit, outcome: Resolved, given: Mapping[str, float]) -> bool:
    """Whether every inequality of the region could be tested; the usual region alone may be taken on trust, when no
    standing value that follows speaks against it (one that is given, such as ideal diodes, is as it is given)."""
    if all(name in outcome.values for bound in outcome.laws.bounds for name in names_of(bound.equation)):
        return True
    found = {name: value for name, value in outcome.values.items() if name not in given}
    return outcome.region == circuit.regions[0] and unusual(circuit, found) is None
