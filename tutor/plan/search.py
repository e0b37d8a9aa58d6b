"""Givens + laws -> the cheapest chain of steps to the wanted.

Each law with one unknown is a possible step; costs add up along a chain, and the cheapest way to every quantity is
kept. Where several laws share an unknown and none has it alone, one quantity is supposed known, the others follow from
it, and a law not yet used closes the ring: one equation in one unknown (`coupled.py`). The wanted are planned in the
order asked, what was found before costing nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tutor.errors import Unreachable
from tutor.laws.law import Law, LawSet
from tutor.plan.coupled import close
from tutor.plan.plan import Plan, Step
from tutor.plan.rearrange import isolate
from tutor.quantities.expression import Expr, Sym, size


@dataclass(frozen=True)
class Move:
    """A law solved for one of its symbols."""

    target: str
    law: Law
    expr: Expr
    needs: tuple[str, ...]
    cost: float


class Moves:
    """Every law of a set solved for each of its symbols, worked out once when first asked for."""

    def __init__(self, laws: LawSet) -> None:
        self.laws = laws
        self._found: dict[tuple[str, str], Move | None] = {}

    def of(self, law: Law, target: str) -> Move | None:
        """`law` solved for `target`, or None when it cannot be in one step."""
        key = (law.id, target)
        if key not in self._found:
            self._found[key] = self._solve(law, target)
        return self._found[key]

    @staticmethod
    def _solve(law: Law, target: str) -> Move | None:
        expr = isolate(law.equation, target)
        if expr is None:
            return None
        needs = tuple(name for name in law.symbols if name != target)
        stated = law.equation.lhs == Sym(target)
        return Move(target, law, expr, needs, law.cost + 0.04 * size(expr) + (0.0 if stated else 0.15))


@dataclass(frozen=True)
class Way:
    """The cheapest way found so far to a quantity: its cost and the move that ends it (None for a given)."""

    cost: float
    move: Move | None


def ways_from(moves: Moves, start: Mapping[str, float], banned: frozenset[str] = frozenset()) -> dict[str, Way]:
    """The cheapest way to every quantity that follows from `start` (name -> cost) by single-unknown laws."""
    ways = {name: Way(cost, None) for name, cost in start.items()}
    moved = True
    while moved:
        moved = False
        for law in moves.laws.laws:
            if law.id in banned:
                continue
            missing = [name for name in law.symbols if name not in ways]
            if len(missing) > 1:
                continue
            for target in missing or law.symbols:
                if target in start:
                    continue
                move = moves.of(law, target)
                if move is None or any(name not in ways for name in move.needs):
                    continue
                cost = move.cost + sum(ways[name].cost for name in move.needs)
                if target not in ways or cost < ways[target].cost - 1e-9:
                    ways[target] = Way(cost, move)
                    moved = True
    return ways


def chain_to(ways: Mapping[str, Way], wanted: str, done: Iterable[str]) -> list[Move]:
    """The moves that lead to `wanted`, in order, leaving out what is `done`."""
    seen = set(done)
    chain: list[Move] = []

    def visit(name: str) -> None:
        move = ways[name].move
        if name in seen or move is None:
            return
        seen.add(name)
        for need in move.needs:
            visit(need)
        chain.append(move)

    visit(wanted)
    return chain


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
    moves = Moves(laws)
    givens = tuple(dict.fromkeys(known))
    found: dict[str, float] = {name: 0.0 for name in givens}
    steps: list[Step] = []
    for name in wanted:
        ways = ways_from(moves, found)
        while name not in ways:
            closed = _best_closing(moves, ways, tuple(preferred), name, probe or {})
            if closed is None:
                raise _unreachable(moves, found, name)
            step, needed = closed
            for need in needed:
                steps += _take(chain_to(ways, need, found), found)
            steps.append(step)
            found[step.target] = 0.0
            ways = ways_from(moves, found)
        steps += _take(chain_to(ways, name, found), found)
    return Plan(givens, tuple(wanted), tuple(steps))


def _take(chain: list[Move], found: dict[str, float]) -> list[Step]:
    for move in chain:
        found[move.target] = 0.0
    return [
        Step(move.target, move.law.id, move.law.title, move.law.source, move.law.equation, move.expr, why=move.law.why)
        for move in chain
    ]


def _best_closing(
    moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str, probe: Mapping[str, float]
) -> tuple[Step, tuple[str, ...]] | None:
    """The cheapest ring of laws in one unknown: the step, and what must be known before it."""
    unknowns = [name for name in moves.laws.symbols if name not in ways]
    best: tuple[float, Step, tuple[str, ...]] | None = None
    for name in unknowns:
        supposed = {**{known: way.cost for known, way in ways.items()}, name: 0.0}
        onward = ways_from(moves, supposed)
        rank = preferred.index(name) if name in preferred else len(preferred) + 1
        for law in moves.laws.laws:
            if any(symbol not in onward for symbol in law.symbols):
                continue
            chain = [move for symbol in law.symbols for move in chain_to(onward, symbol, ways.keys() | {name})]
            chain = list(dict.fromkeys(chain))
            if any(move.law.id == law.id for move in chain) or not _depends(law, chain, name):
                continue
            reaches = 0.0 if wanted in onward else 50.0
            cost = reaches + 0.6 * rank + law.cost + sum(move.cost for move in chain)
            if best is not None and cost >= best[0] - 1e-9:
                continue
            closed = close(law, [(move.target, move.expr, move.law) for move in chain], name, probe)
            if closed is None:
                continue
            cost += 2.0 * (closed.degree - 1)
            if best is None or cost < best[0] - 1e-9:
                best = (cost, closed, _needs(law, chain, name, ways))
    return None if best is None else (best[1], best[2])


def _depends(law: Law, chain: list[Move], name: str) -> bool:
    made = {move.target for move in chain} | {name}
    return bool(set(law.symbols) & made)


def _needs(law: Law, chain: list[Move], name: str, ways: Mapping[str, Way]) -> tuple[str, ...]:
    made = {move.target for move in chain} | {name}
    mentioned = list(law.symbols) + [need for move in chain for need in move.needs]
    return tuple(dict.fromkeys(item for item in mentioned if item not in made and item in ways))


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
