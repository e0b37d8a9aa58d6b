"""Single steps: each law solved for each of its symbols, and how far they lead from what is known.

Vocabulary: a *move* is a law solved for one symbol; a *way* is the cheapest chain of moves to a quantity; a *probe* is
a true operating point (SI) at which a move that divides by nothing shows itself.
"""

from __future__ import annotations

import math
from collections.abc import Container, Hashable, Iterable, Mapping
from dataclasses import dataclass

from tutor.laws.law import Law, LawSet
from tutor.plan.exact import exact, fraction_of
from tutor.plan.kept import KeptPlans
from tutor.plan.plan import Step
from tutor.plan.rearrange import isolate
from tutor.quantities.expression import Expr, Sym, evaluate, size


@dataclass(frozen=True, eq=False)  # told apart as objects: comparing formulas is slow, and `Moves` makes each once
class Move:
    """A law solved for one of its symbols."""

    target: str
    law: Law
    expr: Expr
    needs: tuple[str, ...]
    cost: float


Slopes = dict[tuple[tuple[str, ...], str, tuple[Move, ...]], tuple[float, ...] | None]


@dataclass(frozen=True)
class Supposed:
    """Unknowns supposed known, what all can be had then, and the laws that close on them: each with the moves that lead
    to its symbols and what these cost."""

    unknowns: tuple[str, ...]
    reached: frozenset[str]
    closing: tuple[tuple[Law, tuple[Move, ...], float], ...]


class Alike:
    """What laws and a probe say of themselves, kept for every search from the same two.

    `bits` has a bit for each symbol, `masks` those of each law; `speaking` says where the laws stand that speak of a
    symbol. `found`, `slopes` and `rings` grow as moves, rings and what closes on what is supposed are met (`rings.py`).
    """

    def __init__(self, laws: LawSet) -> None:
        self.bits = {name: 1 << place for place, name in enumerate(laws.symbols)}
        self.named = {bit: name for name, bit in self.bits.items()}
        self.masks = [sum(self.bits[name] for name in law.symbols) for law in laws.laws]
        self.speaking: dict[str, list[int]] = {}
        for place, law in enumerate(laws.laws):
            for name in law.symbols:
                self.speaking.setdefault(name, []).append(place)
        self.found: dict[tuple[str, str], Move | None] = {}
        self.slopes: Slopes = {}
        self.rings: dict[Hashable, tuple[Supposed, ...]] = {}

    def mask(self, names: Iterable[str]) -> int:
        """The bits of names; those of which no law speaks have none."""
        return sum([self.bits.get(name, 0) for name in names])


_ALIKE: KeptPlans[Alike] = KeptPlans(most=128)  # the regions and conventions of a few circuits


class Moves:
    """Every law of a set solved for each of its symbols, worked out once when first asked for.

    With a `probe`, a move that has no finite value there is none: where I_Z is nothing, V_Z = P_Z/I_Z says nothing.
    `known` are values (SI) to be put into rings that grow too long for letters. What rings of laws came to is kept too
    (`rings.py`), for the next search from the same laws.
    """

    def __init__(
        self, laws: LawSet, probe: Mapping[str, float] | None = None, known: Mapping[str, float] | None = None
    ) -> None:
        self.laws = laws
        self.probe: Mapping[str, float] = probe or {}
        self.alike = _ALIKE.planned(laws, tuple(self.probe.items()), lambda: (Alike(laws), True))
        self.numbers = {name: fraction_of(value) for name, value in (known or {}).items()}
        self.asked_for_numbers = False  # whether they went into any ring, taken or not
        self.in_numbers: list[Step] = []  # steps they went into, which are for these numbers alone
        self.closed: dict[tuple[str, ...], Step | None] = {}
        self.closing_nothing: set[frozenset[str]] = set()

    def of(self, law: Law, target: str) -> Move | None:
        """`law` solved for `target`, or None when it cannot be in one step."""
        key = (law.id, target)
        if key not in self.alike.found:
            self.alike.found[key] = self._solve(law, target)
        return self.alike.found[key]

    def note(self, target: str, expr: Expr | None) -> None:
        """Keep the number `target` has by `expr`, when all that stands in it has one."""
        number = None if expr is None or target in self.numbers else exact(expr, self.numbers)
        if number is not None:
            self.numbers[target] = number

    def _solve(self, law: Law, target: str) -> Move | None:
        expr = isolate(law.equation, target)
        if expr is None:
            return None
        needs = tuple(name for name in law.symbols if name != target)
        if all(name in self.probe for name in needs) and not _is_finite(expr, self.probe):
            return None
        stated = law.equation.lhs == Sym(target)
        return Move(target, law, expr, needs, law.cost + 0.04 * size(expr) + (0.0 if stated else 0.15))


def _is_finite(expr: Expr, values: Mapping[str, float]) -> bool:
    try:
        found = evaluate(expr, values)
    except ZeroDivisionError:
        return False
    return isinstance(found, complex) or math.isfinite(found)


@dataclass(frozen=True)
class Way:
    """The cheapest way found so far to a quantity: its cost and the move that ends it (None for a given)."""

    cost: float
    move: Move | None


def ways_from(moves: Moves, start: Mapping[str, float]) -> dict[str, Way]:
    """The cheapest way to every quantity that follows from `start` (name -> cost) by single-unknown laws."""
    ways = {name: Way(cost, None) for name, cost in start.items()}
    laws, alike = moves.laws.laws, moves.alike
    have = given = alike.mask(start)
    changed = [bool(mask & ~given) for mask in alike.masks]  # a law is looked at when a way to its symbols changed
    while True in changed:
        for place, law in enumerate(laws):
            if not changed[place]:
                continue
            changed[place] = False
            missing = alike.masks[place] & ~have
            if missing & (missing - 1):  # more than one
                continue
            for target in (alike.named[missing],) if missing else law.symbols:
                if target in start:
                    continue
                move = moves.of(law, target)
                if move is None:
                    continue
                cost = move.cost + sum([ways[name].cost for name in move.needs])
                if target not in ways or cost < ways[target].cost - 1e-9:
                    ways[target] = Way(cost, move)
                    have |= alike.bits[target]
                    for speaking in alike.speaking[target]:
                        changed[speaking] = True
    return ways


def chain_to(ways: Mapping[str, Way], wanted: Iterable[str], done: Container[str]) -> list[Move]:
    """The moves that lead to all of the wanted, each once, in order, leaving out what is `done`."""
    seen: set[str] = set()
    chain: list[Move] = []

    def visit(name: str) -> None:
        if name in seen or name in done:
            return
        seen.add(name)
        move = ways[name].move
        if move is None:
            return
        for need in move.needs:
            visit(need)
        chain.append(move)

    for name in wanted:
        visit(name)
    return chain
