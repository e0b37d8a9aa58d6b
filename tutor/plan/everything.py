"""All that follows from what is known, in an order in which it can be computed: the circuit's truth as formulas.

Place in the data flow: circuit + names known -> rules -> the sheet against which a learner's working is held.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.errors import Unreachable
from tutor.laws.derive import derive, load_model, reading_indices
from tutor.plan.determinacy import manifold
from tutor.plan.moves import Moves, ways_from
from tutor.plan.plan import Step
from tutor.plan.rule import Rule, rules_of
from tutor.plan.search import search


def everything(
    circuit: Circuit,
    region: Region,
    known: Iterable[str],
    conventions: Mapping[str, str],
    load: LoadModel | None = None,
) -> tuple[Rule, ...]:
    """Rules for every quantity of the circuit that `known` settles in `region`, in an order to compute them in.

    What the load holds fixed is told by `known` unless `load` says it.
    """
    names = tuple(dict.fromkeys(known))
    load = load or load_model(names)
    indices = reading_indices(names, circuit)
    laws = derive(circuit, region, load, conventions=conventions, readings=indices)
    spoken = [name for name in names if name in laws.symbols]
    settled = [] if indices else _settled_in_rings(circuit, region, spoken, conventions, load, tuple(laws.symbols))
    steps: list[Step] = []
    while True:
        have = [*spoken, *(step.target for step in steps)]
        direct = [name for name in ways_from(Moves(laws), dict.fromkeys(have, 0.0)) if name not in have]
        steps += search(laws, have, direct, circuit.preferred).steps
        have += direct
        ring = next((name for name in settled if name not in have), None)
        if ring is None:
            return rules_of(steps)
        settled.remove(ring)
        try:
            steps += search(laws, have, (ring,), circuit.preferred).steps
        except Unreachable:
            continue


def _settled_in_rings(
    circuit: Circuit,
    region: Region,
    known: list[str],
    conventions: Mapping[str, str],
    load: LoadModel,
    spoken: tuple[str, ...],
) -> list[str]:
    """Quantities that the known settle, those first that a person would take as the one unknown."""
    facts = manifold(circuit, region, load, conventions)
    ranked = [*circuit.preferred, *(name for name in spoken if name not in circuit.preferred)]
    return [name for name in ranked if facts.settles_strictly(known, name) and name not in known]
