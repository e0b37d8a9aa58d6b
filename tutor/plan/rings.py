"""Rings: laws that share unknowns so that none has one alone, and the step that opens them.

A quantity is supposed known, others follow from it, and a law not yet used closes the ring. Where one supposition is
not enough, two are made: a law in which one of them falls out settles the other, or one law gives the one through the
other and a second law closes the ring. At a true operating point (the *probe*) it is told by number, before any
algebra, which rings say anything: moved along one unknown, a law that says something does not stay kept.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tutor.laws.law import Law
from tutor.plan.coupled import close, expressed, reach
from tutor.plan.moves import Move, Moves, Supposed, Way, chain_to, ways_from
from tutor.plan.plan import Step
from tutor.quantities.expression import evaluate, symbols_of

NEAR = 1e-3  # how far an unknown is moved from the probe, relative
SILENT = 1e-7  # a law whose residue moves by less than this share of the unknown's says nothing about it
FAR_OFF = 50.0  # cost of a ring that does not reach what is wanted
FURTHER = 6  # rings of one unknown put into algebra in search of a lower degree, after the first that serves
TRIED = 12  # rings of two unknowns that are put into algebra before the search gives up


@dataclass(frozen=True)
class Ring:
    """Unknowns supposed known, the moves that follow from them, and the law that closes the ring."""

    unknowns: tuple[str, ...]
    law: Law
    chain: tuple[Move, ...]
    cost: float
    order: int


Found = tuple[Step, tuple[str, ...]]


def best_ring(moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str) -> Found | None:
    """The cheapest ring in one unknown (failing that, in two): its step, and what must be known before it."""
    have = frozenset(ways)
    if have in moves.closing_nothing:
        return None
    found = _best_of_one(moves, ways, preferred, wanted) or _first_of_two(moves, ways, preferred, wanted)
    if found is None:
        moves.closing_nothing.add(have)
    return found


def _best_of_one(moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str) -> Found | None:
    best: tuple[float, int, Step, Ring] | None = None
    further = 0
    # The cheapest first, so that algebra is spent on few; a higher degree costs more and is only known after it.
    for ring in sorted(_rings_of_one(moves, ways, preferred, wanted), key=lambda item: (item.cost, item.order)):
        if best is not None and ring.cost > best[0] + 1e-9:
            break
        if further > FURTHER and moves.probe:
            break
        if not _speaks(moves, ring):
            continue
        closed = _closed(moves, ring, ways)
        further += best is not None
        if closed is None:
            continue
        cost = ring.cost + 2.0 * (closed.degree - 1)
        if best is None or cost < best[0] - 1e-9 or (cost < best[0] + 1e-9 and ring.order < best[1]):
            best = (cost, ring.order, closed, ring)
    return None if best is None else (best[2], _needs(best[3], ways))


def _rings_of_one(moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str) -> Iterator[Ring]:
    order = itertools.count()
    for supposed in _supposed(moves, ways, 1):
        far = _far(supposed, preferred, wanted)
        for law, chain, spent in supposed.closing:
            yield Ring(supposed.unknowns, law, chain, far + law.cost + spent, next(order))


def _supposed(moves: Moves, ways: Mapping[str, Way], count: int) -> tuple[Supposed, ...]:
    """What closes on each unknown, or each two of them, when they are supposed known; of two, only what says anything
    of them. Kept: one search asks it for every quantity wanted, and others begin from the same ways."""
    key = (count, frozenset((name, way.cost) for name, way in ways.items()))
    if key not in moves.alike.rings:
        unknown = [name for name in moves.laws.symbols if name not in ways]
        if count == 2:
            unknown = [name for name in unknown if moves.probe.get(name, 0.0) != 0]
        found = (_closing_on(moves, ways, names) for names in itertools.combinations(unknown, count))
        moves.alike.rings[key] = tuple(item for item in found if item.closing)
    return moves.alike.rings[key]


def _closing_on(moves: Moves, ways: Mapping[str, Way], names: tuple[str, ...]) -> Supposed:
    onward, alike = _onward(moves, ways, names), moves.alike
    reached, known = alike.mask(onward), alike.mask(ways)
    closing = []
    for law, mask in zip(moves.laws.laws, alike.masks, strict=True):
        if mask & ~reached or not mask & ~known:  # it speaks of what is out of reach, or of nothing new
            continue
        chain = _chain(law, onward, ways, names)
        if chain is not None:
            closing.append((law, chain, sum(move.cost for move in chain)))
    if len(names) == 2:
        closing = [item for item in closing if _says(_slopes(moves, names, *item[:2]))]
    return Supposed(names, frozenset(onward), tuple(closing))


def _far(supposed: Supposed, preferred: tuple[str, ...], wanted: str) -> float:
    """What it costs that unknowns are not those a person would take, or do not lead to what is wanted."""
    ranks = sum(_rank(name, preferred) for name in supposed.unknowns)
    return (0.0 if wanted in supposed.reached else FAR_OFF) + 0.6 * ranks


def _onward(moves: Moves, ways: Mapping[str, Way], supposed: tuple[str, ...]) -> dict[str, Way]:
    return ways_from(moves, {**{known: way.cost for known, way in ways.items()}, **dict.fromkeys(supposed, 0.0)})


def _rank(name: str, preferred: tuple[str, ...]) -> int:
    return preferred.index(name) if name in preferred else len(preferred) + 1


def _chain(
    law: Law, onward: Mapping[str, Way], ways: Mapping[str, Way], supposed: tuple[str, ...]
) -> tuple[Move, ...] | None:
    """The moves that lead to every symbol of a law; None when the law does not close a ring."""
    chain = tuple(chain_to(onward, law.symbols, ways))  # what is supposed has no move, so that nothing leads to it
    made = {move.target for move in chain} | set(supposed)
    if any(move.law.id == law.id for move in chain) or not made & set(law.symbols):
        return None
    return chain


def _closed(moves: Moves, ring: Ring, ways: Mapping[str, Way]) -> Step | None:
    """What the algebra makes of a ring in one unknown, kept for the next time it is met."""
    key = (ring.unknowns[0], ring.law.id, *(f"{move.target}:{move.law.id}" for move in ring.chain))
    if key not in moves.closed:
        links = [(move.target, move.expr, move.law) for move in ring.chain]
        numbers = _Numbers(moves, ways, _needs(ring, ways))
        moves.closed[key] = numbers.noted(close(ring.law, links, ring.unknowns[0], moves.probe, numbers=numbers.put))
    return moves.closed[key]


class _Numbers:
    """The numbers of some names, for a ring that turns out too long for letters."""

    def __init__(self, moves: Moves, ways: Mapping[str, Way], names: tuple[str, ...]) -> None:
        self.moves = moves
        self.ways = ways
        self.names = names
        self.used = False

    def put(self) -> Mapping[str, Fraction]:
        """Those that have one, worked out along their ways where need be."""
        for move in chain_to(self.ways, self.names, self.moves.numbers):
            self.moves.note(move.target, move.expr)
        found = {name: self.moves.numbers[name] for name in self.names if name in self.moves.numbers}
        self.used = bool(found)
        self.moves.asked_for_numbers = self.moves.asked_for_numbers or self.used
        return found

    def noted(self, step: Step | None) -> Step | None:
        """The step of the ring, noted as one for these numbers alone where they went into it."""
        if step is not None and self.used:
            self.moves.in_numbers.append(step)
        return step


def _needs(ring: Ring, ways: Mapping[str, Way], *others: Ring) -> tuple[str, ...]:
    rings = (ring, *others)
    made = {move.target for item in rings for move in item.chain} | set(ring.unknowns)
    mentioned = [name for item in rings for name in item.law.symbols]
    mentioned += [need for item in rings for move in item.chain for need in move.needs]
    return tuple(dict.fromkeys(item for item in mentioned if item not in made and item in ways))


def _speaks(moves: Moves, ring: Ring) -> bool:
    """Whether a ring in one unknown says anything about it; True where the probe does not reach."""
    slopes = _slopes(moves, ring.unknowns, ring.law, ring.chain)
    return slopes is None or _says(slopes)


def _says(slopes: tuple[float, ...] | None) -> bool:
    return slopes is not None and any(abs(slope) > SILENT for slope in slopes)


def _slopes(moves: Moves, unknowns: tuple[str, ...], law: Law, chain: tuple[Move, ...]) -> tuple[float, ...] | None:
    """The slopes of a ring, kept for the next time it is met: one search meets most rings many times."""
    key = (unknowns, law.id, chain)
    if key not in moves.alike.slopes:
        moves.alike.slopes[key] = _slopes_at(unknowns, law, chain, moves.probe)
    return moves.alike.slopes[key]


def _slopes_at(
    unknowns: tuple[str, ...], law: Law, chain: tuple[Move, ...], probe: Mapping[str, float]
) -> tuple[float, ...] | None:
    """How the residue of the closing law moves with each unknown, relative to both; None where the probe does not
    reach. A chain that divides by nothing at the probe does so everywhere, and its ring says nothing."""
    names = {*law.symbols, *(need for move in chain for need in move.needs)}
    if not names <= probe.keys() or any(probe[name] == 0 for name in unknowns):
        return None
    if _residue(law, chain, probe) is None:
        return (0.0,) * len(unknowns)
    slopes = []
    for name in unknowns:
        up, down = (_residue(law, chain, {**probe, name: probe[name] * (1 + side * NEAR)}) for side in (1, -1))
        if up is None or down is None:
            return None
        slopes.append((up - down) / (2 * NEAR))
    return tuple(slopes)


def _residue(law: Law, chain: tuple[Move, ...], at: Mapping[str, float]) -> float | None:
    """How far the closing law is from being kept, as a share of its largest term; None where it has no value."""
    values = dict(at)
    try:
        for move in chain:
            values[move.target] = evaluate(move.expr, values)
        left, right = (evaluate(side, values) for side in (law.equation.lhs, law.equation.rhs))
        if isinstance(left - right, complex):
            return None
        scale = max(reach(law.equation.lhs, values), reach(law.equation.rhs, values))
    except ZeroDivisionError:
        return None
    return (left - right) / scale if scale else 0.0


def _first_of_two(moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str) -> Found | None:
    """A ring in two unknowns that the algebra opens, cheaper ones first; None without a probe to tell them by."""
    pairs = sorted(_rings_of_two(moves, ways, preferred, wanted), key=lambda pair: pair[0].cost + pair[-1].cost)
    for first, second in pairs[:TRIED]:
        if first is second:
            found = _without_the_other(moves, first, ways)
        else:
            found = _through_the_other(moves, first, second, ways) or _through_the_other(moves, second, first, ways)
        if found is not None:
            return found
    return None


def _rings_of_two(
    moves: Moves, ways: Mapping[str, Way], preferred: tuple[str, ...], wanted: str
) -> Iterator[tuple[Ring, Ring]]:
    """Pairs of rings in the same two unknowns that settle both; a ring twice where it settles the first alone."""
    order = itertools.count()
    for supposed in _supposed(moves, ways, 2):
        pair, far = supposed.unknowns, _far(supposed, preferred, wanted)
        told: list[tuple[Ring, tuple[float, ...]]] = []
        for law, chain, spent in supposed.closing:
            slopes = _slopes(moves, pair, law, chain)
            if slopes is not None:
                told.append((Ring(pair, law, chain, far + law.cost + spent, next(order)), slopes))
        told.sort(key=lambda item: item[0].cost)
        for ring, slopes in told:
            if abs(slopes[1]) <= SILENT:
                yield ring, ring
            elif abs(slopes[0]) <= SILENT:
                turned = Ring(pair[::-1], ring.law, ring.chain, ring.cost, ring.order)
                yield turned, turned
        yield from _first_independent(told)


def _first_independent(told: list[tuple[Ring, tuple[float, ...]]]) -> Iterator[tuple[Ring, Ring]]:
    for (one, along), (other, across) in itertools.combinations(told, 2):
        turn = along[0] * across[1] - along[1] * across[0]
        if abs(turn) > 1e-4 * max(map(abs, along)) * max(map(abs, across)):
            yield one, other
            return


def _without_the_other(moves: Moves, ring: Ring, ways: Mapping[str, Way]) -> Found | None:
    """A law in which the second unknown falls out."""
    links = [(move.target, move.expr, move.law) for move in ring.chain]
    numbers = _Numbers(moves, ways, _needs(ring, ways))
    closed = close(ring.law, links, ring.unknowns[0], moves.probe, ring.unknowns[1], numbers.put)
    return _if_settled(numbers.noted(closed), ring, ways)


def _through_the_other(moves: Moves, first: Ring, second: Ring, ways: Mapping[str, Way]) -> Found | None:
    """One law solved for an unknown in terms of the other, put into the second law."""
    for through, left in (first.unknowns, first.unknowns[::-1]):
        links = [(move.target, move.expr, move.law) for move in first.chain]
        expr = expressed(first.law, links, through, moves.probe)
        if expr is None:
            continue
        further = [(move.target, move.expr, move.law) for move in second.chain]
        numbers = _Numbers(moves, ways, _needs(second, ways, first))
        closed = close(second.law, [(through, expr, first.law), *further], left, moves.probe, numbers=numbers.put)
        found = _if_settled(numbers.noted(closed), second, ways, first)
        if found is not None:
            return found
    return None


def _if_settled(closed: Step | None, ring: Ring, ways: Mapping[str, Way], *others: Ring) -> Found | None:
    """The step, when what it rests on is known."""
    if closed is None or any(name not in ways for item in closed.coefficients for name in symbols_of(item)):
        return None
    return closed, _needs(ring, ways, *others)
