"""Numbers read back as the symbols they stand for, so that a substituted line shows the relation behind it.

Vocabulary: a *candidate* is a small tree (a symbol, or a sum of two) with the value it has for this learner. A *guess*
is a whole tree with candidates put for its numbers; it is *borne out* at a place where it is true whatever the numbers
and where each number has the value that its candidate has there.
Place in the data flow: numbers of a line + what is known -> guesses -> `follow.py` and `reasons.py`.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.quantities.units import unit_for
from tutor.working.amount import MOST_BAND, Amount, rounding, work_out
from tutor.working.chain import literals_in, plain_amount
from tutor.working.dimension_check import is_coefficient
from tutor.working.ground import Case, Ground, Place, value_in
from tutor.working.tree import (
    PURE,
    Columns,
    Exponents,
    Literal,
    Minus,
    Name,
    Node,
    Standing,
    Sum,
    placed,
    pure_number,
    with_leaves,
    without_extreme,
)
from tutor.working.truth import Effort, Overlay, true_places
from tutor.working.world import World

MOST_GUESSES = 64  # ways of putting symbols for the numbers of a line
MOST_FOR_ONE = 6  # candidates tried for one number
MOST_PAIRED = 24  # symbols of which sums and differences are tried
FLOAT_ROOM = 1e-9  # of a value: what working it out leaves over
NAMED = 0.006  # of a value: this near it a number stands for the symbol
HAND_PREFIXES = (1.0, 1e-3, 1e3)
_NOWHERE: Columns = (0, 0)


@dataclass(frozen=True)
class Past:
    """What stood before: values in SI by symbol, the last relation written for each, values of parts that have no
    symbol of their own, own definitions, and values that were not true."""

    values: Mapping[str, float] = field(default_factory=dict)
    relations: Mapping[str, Node] = field(default_factory=dict)
    parts: tuple[tuple[Node, float], ...] = ()
    own: Mapping[str, Node] = field(default_factory=dict)
    wrong: tuple[float, ...] = ()
    slipped: bool = False  # whether any line so far was not true


@dataclass(frozen=True)
class Guess:
    """A tree with symbols put for its numbers, those candidates with the value written (SI), and what the numbers as
    they were meant come to (None: no value)."""

    tree: Node
    put: tuple[tuple[Node, float], ...]
    comes_to: float | None


def overlay_of(past: Past, *, with_values: bool = True, without: str = "") -> Overlay:
    """Values as the learner has them: written ones first, then those by the learner's own relations, then the truth.

    `without` names a symbol whose written value is left aside.
    """
    values = {name: value for name, value in past.values.items() if name != without} if with_values else {}

    def value_of(world: World, place: Place, name: str) -> float | None:
        if name in values:
            return values[name]
        relation = past.relations.get(name)
        if relation is not None:
            found = work_out(relation, lambda other: values.get(other, value_in(world, place, other)), plain_amount)
            if found is not None:
                return found.value
        return value_in(world, place, name)

    return value_of


Ways = tuple[tuple[Literal, tuple[tuple[Node, float], ...]], ...]


def ways_to_read(node: Node, ground: Ground, past: Past) -> Ways:
    """For each number of a tree what it may stand for, likelier candidates first."""
    pool = list(_pool(ground, past))
    numbers = literals_in(node)
    in_units = not all(literal.bare for literal in numbers)
    return tuple((literal, tuple(_meant(literal, pool, ground, in_units))) for literal in numbers)


def symbolised(node: Node, ways: Ways, past: Past) -> Iterator[Guess]:
    """The tree with candidates put for its numbers, likelier ones first; nothing when a number stands for nothing."""
    for places in itertools.islice(likelier_first([len(found) for _, found in ways]), MOST_GUESSES):
        combination = [found[place] for (_, found), place in zip(ways, places, strict=True)]
        pairs = [(literal.columns, tree, value) for (literal, _), (tree, value) in zip(ways, combination, strict=True)]
        chosen = {columns: placed(tree, columns) for columns, tree, _ in pairs}
        put = tuple((tree, value) for _, tree, value in pairs if not _is_part(tree, past))
        written = {columns: value for columns, _, value in pairs}
        yield Guess(_replaced(node, chosen), put, _comes_to(node, written))


def likelier_first(sizes: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Places in lists of these sizes, one of each: all first ones, then those with one second among them, and on."""
    if all(sizes):
        for steps in range(sum(sizes) - len(sizes) + 1):
            yield from _steps_back(sizes, steps)


def _steps_back(sizes: Sequence[int], steps: int) -> Iterator[tuple[int, ...]]:
    """Places that are so many steps from the first of each list, taken together; the last lists step first."""
    if not sizes:
        yield ()
        return
    room = sum(sizes[1:]) - len(sizes[1:])
    for here in range(max(0, steps - room), min(steps, sizes[0] - 1) + 1):
        for rest in _steps_back(sizes[1:], steps - here):
            yield (here, *rest)


def with_one_as(ways: Ways, number: Literal, name: str) -> Ways:
    """The same ways with one number read as a symbol, whatever its value."""
    as_name = ((Name(number.columns, name, Standing.CIRCUIT), number.meanings[0].value),)
    return tuple((literal, as_name if literal is number else found) for literal, found in ways)


def _is_part(tree: Node, past: Past) -> bool:
    """Whether a candidate is a number itself, or an expression whose value is the learner's by definition."""
    return isinstance(tree, Literal) or any(tree is part for part, _ in past.parts)


def _comes_to(node: Node, written: Mapping[Columns, float]) -> float | None:
    def amount_of(literal: Literal) -> Amount:
        value = written[literal.columns]
        return Amount(value, 0.0, abs(value))

    found = work_out(node, lambda name: None, amount_of)
    return None if found is None else found.value


def borne_out(left: Node, guess: Guess, sign: str, ground: Ground, past: Past, effort: Effort) -> bool:
    """Whether a guess is true whatever the numbers at a place where its symbols have the values written."""
    overlay = overlay_of(past)
    for place in true_places(left, guess.tree, sign, ground, effort=effort):
        cases = list(_like_near(ground))
        if not cases or any(_fits(guess, case, place, overlay) for case in cases):
            return True
    return False


def _like_near(ground: Ground) -> Iterator[Case]:
    """Cases laid out as the worlds near by, so that a place means the same in both."""
    if ground.around.near:
        size = len(ground.around.near[0].situations)
        yield from (case for case in ground.cases if len(case.world.situations) == size)


def _fits(guess: Guess, case: Case, place: Place, overlay: Overlay) -> bool:
    for tree, written in guess.put:
        found = work_out(tree, lambda name: overlay(case.world, place, name), plain_amount)
        if found is None or abs(found.value - written) > 2 * NAMED * abs(written) + rounding(written, 0.0):
            return False
    return True


def _replaced(node: Node, chosen: Mapping[Columns, Node]) -> Node:
    return with_leaves(node, lambda leaf: chosen.get(leaf.columns, leaf))


Candidate = tuple[Node, float, Exponents | None]


def _meant(literal: Literal, pool: list[Candidate], ground: Ground, in_units: bool) -> list[tuple[Node, float]]:
    """What a number may stand for, with the value written: candidates of its value, or itself when it is pure.

    Where the other numbers have their units (`in_units`) a 2 without one is likelier a 2 than two volts.
    """
    itself = (literal, literal.meanings[0].value)
    found = _matching(literal, pool)
    if is_coefficient(literal) and in_units and itself[1]:
        found = [itself, *found]
    elif is_coefficient(literal) or literal.meanings[0].unit == "%":
        found = [*found[: MOST_FOR_ONE - 1], itself]
    if not found:
        found = _matching(literal, _paired(pool[:MOST_PAIRED]))
    if not found:
        found = _as_choice(literal, ground)
    if not found and (literal.bare or literal.meanings[0].value == 0):
        found = [itself]
    return found[:MOST_FOR_ONE]


def _matching(literal: Literal, pool: Iterable[Candidate]) -> list[tuple[Node, float]]:
    """Candidates of a number's value: those that it is to the figures written, then those that are near."""
    exact: list[tuple[Node, float]] = []
    near: list[tuple[Node, float]] = []
    lifts = HAND_PREFIXES if literal.bare else (1.0,)
    for meaning in literal.meanings:
        written_as = [(meaning.value * lift, abs(meaning.step * lift) / 2) for lift in lifts]
        for tree, value, exponents in pool:
            for written, half_step in written_as:
                away = abs(written - value)
                if away > MOST_BAND * abs(value):
                    continue
                if meaning.exponents is not None and exponents is not None and meaning.exponents != exponents:
                    continue
                room = max(NAMED * abs(value), min(rounding(value, meaning.step), abs(meaning.step / 2)))
                is_it = away <= room if value else written == 0
                if is_it and all(tree != other for other, _ in (*exact, *near)):
                    to_the_figure = away <= half_step + FLOAT_ROOM * abs(value)
                    (exact if to_the_figure else near).append((tree, written))
            if len(exact) >= MOST_FOR_ONE:
                return exact
    return [*exact, *near][:MOST_FOR_ONE]


def _paired(pool: list[Candidate]) -> Iterator[Candidate]:
    """Sums and differences of two quantities of a kind, and a gain with its 1."""
    one = pure_number(_NOWHERE, 1.0)
    for tree, value, exponents in pool:
        if exponents == PURE:
            yield Sum(_NOWHERE, (tree, one)), value + 1, PURE
            yield Sum(_NOWHERE, (one, Minus(_NOWHERE, tree))), 1 - value, PURE
    for (first, a, kind), (second, b, other) in itertools.permutations(pool, 2):
        if kind is not None and kind == other:
            yield Sum(_NOWHERE, (first, Minus(_NOWHERE, second))), a - b, kind
            if a <= b:
                yield Sum(_NOWHERE, (first, second)), a + b, kind


def _as_choice(literal: Literal, ground: Ground) -> list[tuple[Node, float]]:
    """A number that is nothing known may be a choice that was never said to be one."""
    for choice in ground.sheet.choices:
        exponents = exponents_of(ground, choice.quantity)
        fits = literal.meanings[0].exponents in (None, exponents)
        if not choice.load and choice.key not in ground.choices and fits:
            return [(Name(literal.columns, choice.quantity, Standing.CIRCUIT), literal.meanings[0].value)]
    return []


def exponents_of(ground: Ground, name: str) -> Exponents | None:
    """The dimension of a symbol of the sheet, suffixed or not; None for one it does not know."""
    unit = unit_of(ground, name)
    return None if unit is None else unit_for(unit).exponents


def unit_of(ground: Ground, name: str) -> str | None:
    """The unit code of a symbol of the sheet, suffixed or not."""
    if name in ground.sheet.symbols:
        return ground.sheet.symbols[name]
    return symbol_for(name).unit if is_symbol(name) else None


def _pool(ground: Ground, past: Past) -> Iterator[Candidate]:
    """Candidates with their values: the learner's own first, then givens and choices, then all that is true here."""
    for tree, value in reversed(past.parts):
        yield tree, value, None
    seen: set[tuple[str, float]] = set()
    for source in _sources(ground, past):
        for name, value in source.items():
            # Where the symbol without its least or greatest has the value already it stands for both.
            if (name, value) not in seen and (without_extreme(name), value) not in seen:
                seen.add((name, value))
                symbol, exponents = Name(_NOWHERE, name, Standing.CIRCUIT), exponents_of(ground, name)
                # The number of (−452 Ω) is written without its sign, so what it stands for is −R.
                yield (symbol, value, exponents) if value >= 0 else (Minus(_NOWHERE, symbol), -value, exponents)


def _sources(ground: Ground, past: Past) -> Iterator[Mapping[str, float]]:
    yield dict(reversed(list(past.values.items())))
    yield ground.sheet.env
    yield ground.choices
    for case in ground.cases[:2]:
        for situation in case.world.situations[: len(case.world.situations) - case.world.moved]:
            yield situation.values
        yield case.world.views[0]


def values_of(ground: Ground, name: str) -> Iterator[float]:
    """Every value that a symbol has somewhere in the problem's own worlds, those asked for first."""
    for case in ground.cases:
        for view in case.world.views:
            if name in view:
                yield view[name]
        for situation in case.world.situations[: len(case.world.situations) - case.world.moved]:
            if name in situation.values:
                yield situation.values[name]
