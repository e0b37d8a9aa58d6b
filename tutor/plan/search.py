"""Givens + laws -> the cheapest chain of steps to the wanted.

Each law with one unknown is a possible step; costs add up along a chain, and the cheapest way to every quantity is
kept. Where several laws share an unknown and none has it alone, one quantity is supposed known, the others follow from
it, and a law not yet used closes the ring: one equation in one unknown (`coupled.py`). The wanted are planned in the
order asked, what was found before costing nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tutor.errors import Unreachable
from tutor.laws.law import LawSet
from tutor.plan.moves import Move, Moves, chain_to, ways_from
from tutor.plan.plan import Plan, Step
from tutor.plan.rings import best_ring


def search(
    laws: LawSet,
    known: Iterable[str],
    wanted: Iterable[str],
    preferred: Iterable[str] = (),
    probe: Mapping[str, float] | None = None,
) -> Plan:
    """The plan from `known` to `wanted`.

    `preferred` names the quantities a person would choose as the one unknown of a coupled block, best first; `probe`
    is a true operating point that unmasks rings which say nothing. Raises Unreachable when a wanted quantity does not
    follow, naming what would help.
    """
    return search_with(Moves(laws, probe), known, wanted, preferred)


def search_with(moves: Moves, known: Iterable[str], wanted: Iterable[str], preferred: Iterable[str] = ()) -> Plan:
    """`search` with moves at hand, which keep what algebra found for the next search. Unreachable as there."""
    givens = tuple(dict.fromkeys(known))
    found: dict[str, float] = {name: 0.0 for name in givens}
    steps: list[Step] = []
    for name in wanted:
        more = _steps_to(moves, found, name, preferred)
        if more is None:
            raise _unreachable(moves, found, name)
        steps += more
    return Plan(givens, tuple(wanted), tuple(steps))


def carried_on(moves: Moves, plan: Plan, name: str, preferred: Iterable[str] = ()) -> Plan | None:
    """The plan carried on to one more quantity; None when that does not follow (what would help is not looked for)."""
    have = (*plan.known, *(step.target for step in plan.steps))
    more = _steps_to(moves, dict.fromkeys(have, 0.0), name, preferred)
    return None if more is None else Plan(plan.known, (*plan.wanted, name), (*plan.steps, *more))


def _steps_to(moves: Moves, found: dict[str, float], name: str, preferred: Iterable[str]) -> list[Step] | None:
    """The steps from what is found to a quantity, which join it; None when it does not follow."""
    steps: list[Step] = []
    ways = ways_from(moves, found)
    while name not in ways:
        closed = best_ring(moves, ways, tuple(preferred), name)
        if closed is None:
            return None
        step, needed = closed
        for need in needed:
            steps += _take(chain_to(ways, (need,), found), found, moves)
        steps.append(step)
        moves.note(step.target, step.expr)
        found[step.target] = 0.0
        ways = ways_from(moves, found)
    return steps + _take(chain_to(ways, (name,), found), found, moves)


def _take(chain: list[Move], found: dict[str, float], moves: Moves) -> list[Step]:
    for move in chain:
        found[move.target] = 0.0
        moves.note(move.target, move.expr)
    return [
        Step(move.target, move.law.id, move.law.title, move.law.source, move.law.equation, move.expr, why=move.law.why)
        for move in chain
    ]


def _unreachable(moves: Moves, found: Mapping[str, float], wanted: str) -> Unreachable:
    if wanted not in moves.laws.symbols:
        return Unreachable(f"no law of this circuit speaks of {wanted}", wanted=wanted, missing=())
    helpful = []
    for name in moves.laws.symbols:
        if name not in found and name != wanted:
            ways = ways_from(moves, {**found, name: 0.0})
            if wanted in ways:
                helpful.append(name)
    return unsettled(wanted, found, helpful)


def unsettled(wanted: str, known: Iterable[str], helpful: list[str]) -> Unreachable:
    """The error for a wanted quantity that the givens leave open; `helpful` names quantities that would close it."""
    advice = f"; give one of these too: {', '.join(helpful[:6])}" if helpful else "; more than one more is needed"
    told = ", ".join(known) or "nothing"
    return Unreachable(f"{wanted} does not follow from {told}{advice}", wanted=wanted, missing=tuple(helpful))
