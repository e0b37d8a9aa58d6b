"""Is a line true: of the circuit whatever the numbers (symbols alone), or with this problem's numbers?

Vocabulary: members, their kinds and scalings are those of `chain.py`; the bands are those of `bands.py`: a line's own
arithmetic, a number against the truth, and what rounding may have done on the way.
Place in the data flow: members + Ground -> Truth or None. What is not true here may still follow (`follow.py`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from tutor.working.amount import Amount, AmountOf, Ready, made_ready, rounding, work_out
from tutor.working.bands import ChainSide, agree, is_lone
from tutor.working.chain import (
    Scaling,
    SideKind,
    TriedChain,
    leaf_count,
    literals_in,
    names_in,
    plain_amount,
    power_inside,
    power_of_side,
    scalings_of,
    value_member,
)
from tutor.working.dimension_check import is_coefficient
from tutor.working.ground import Case, Ground, Place, distinct, distinct_in, places_in, value_in, values_at
from tutor.working.tree import Literal, Node, equates
from tutor.working.world import World

SYMBOLS_BAND = 1e-7  # two ways of writing the same, of the largest term
MANY = 4  # places from which on a tree is made ready before it is worked out at each
OVERHEAD = 8  # of trying a relation at all, in places
LONG = 12  # leaves of a relation from which on trying it counts double, from twice as many on threefold

Overlay = Callable[[World, Place, str], float | None]


class Effort:
    """How many places may still be tried for one line: a count, not a clock, so that every machine tries alike."""

    def __init__(self, places: int) -> None:
        self.left = places

    @property
    def spent(self) -> bool:
        """Whether more was tried than was to be: then nothing further is found."""
        return self.left < 0

    def spend(self, places: int) -> bool:
        """Whether this much was still to be spent; it is spent then."""
        self.left -= places
        return self.left >= 0


@dataclass(frozen=True)
class Truth:
    """Where a line is true: the words of the place, the case, and whether a prefix or unit had to be supplied."""

    words: str
    case: Case | None = None
    supplied: bool = False
    place: Place | None = None
    scaling: Scaling | None = None


def true_of_circuit(
    left: Node, right: Node, sign: str, ground: Ground, overlay: Overlay = value_in, effort: Effort | None = None
) -> Place | None:
    """The place at which a relation between symbols is true whatever the numbers, or None (also once the effort is
    spent)."""
    if effort is not None or overlay is not value_in:
        return next(iter(true_places(left, right, sign, ground, overlay, effort)), None)
    # A line that fails is asked after several times: for itself, under each approximation, for what it follows from.
    asked = (left, right, sign)
    if asked not in ground.told:
        ground.told[asked] = next(iter(true_places(left, right, sign, ground)), None)
    return ground.told[asked]


def true_places(
    left: Node, right: Node, sign: str, ground: Ground, overlay: Overlay = value_in, effort: Effort | None = None
) -> Iterator[Place]:
    """Every place at which a relation between symbols is true whatever the numbers.

    Near the problem's own numbers; what it leaves open is tried all over the circuit.

    Where both sides vanish a relation says nothing (nothing flows, so any factor of it is right): such a place counts
    only when there is no other.
    """
    if effort is not None and effort.spent:
        return
    names = names_in((left, right))
    for worlds in (ground.around.near, ground.around.generic, ground.around.exact):
        if not worlds:
            continue
        tried = _tried(worlds[0], names, overlay)
        if effort is not None and not effort.spend((len(tried) + OVERHEAD) * _weight(left, right)):
            return
        idle: list[Place] = []
        said = 0  # places at which both sides have a value: 0 V over 0 Ω says nothing of the load
        many = len(tried) > MANY
        sides = [made_ready(side, plain_amount) if many else _each_time(side) for side in (left, right)]
        nought = any(_speaks_of_nought(side) for side in (left, right))
        for place in tried:
            stands: list[Stands] = []
            for world in worlds:
                stands.append(_stands(sides, sign, nought, _names_of(world, place, overlay)))
                if stands[-1] in (Stands.NOT, Stands.WITHOUT):
                    break
            said += stands[0] is not Stands.WITHOUT
            if stands[-1] in (Stands.SO, Stands.IDLE):
                unsaid = all(item is Stands.IDLE for item in stands)
                if unsaid or (not nought and _is_idle(worlds[0], place, names, overlay)):
                    idle.append(place)
                else:
                    yield place
        # A given that is nought (I_L_MIN = 0) makes such a place its own.
        if idle and (len(idle) == said or any(ground.sheet.given.get(name) == 0 for name in names)):
            yield from idle
        # What the problem leaves open may be spoken of as it is when nothing is neglected, too.
        if said and worlds is not ground.around.generic:
            return


def _weight(left: Node, right: Node) -> int:
    """How much trying a relation once counts: a long one more, as working it out takes longer."""
    return 1 + (leaf_count(left) + leaf_count(right)) // LONG


def _is_idle(world: World, place: Place, names: Sequence[str], overlay: Overlay) -> bool:
    """Whether a symbol is nought at a place, where any sign and factor of it would be right.

    Not where a line names what belongs to one corner (R_MIN, with I_B = 0 there).
    """
    plain = world.situations[place.situation].values
    return all(name in plain for name in names) and any(overlay(world, place, name) == 0 for name in names)


def _tried(
    world: World, names: Sequence[str], overlay: Overlay, seen: set[tuple[float | None, ...]] | None = None
) -> list[Place]:
    if overlay is value_in:
        return distinct_in(world, names, seen)
    return distinct(places_in(world, names), names, _places_of(world, overlay))


def _places_of(world: World, overlay: Overlay) -> Callable[[Place, str], float | None]:
    return lambda place, name: overlay(world, place, name)


def _names_of(world: World, place: Place, overlay: Overlay) -> Callable[[str], float | None]:
    return values_at(world, place) if overlay is value_in else lambda name: overlay(world, place, name)


def _each_time(side: Node) -> Ready:
    return lambda value_of: work_out(side, value_of, plain_amount)


class Stands(Enum):
    """Whether a relation is so with some values: not where a side has no value, idly where both sides vanish."""

    SO = "so"
    NOT = "not"
    IDLE = "idle"
    WITHOUT = "without a value"


def _stands(sides: Sequence[Ready], sign: str, nought: bool, value_of: Callable[[str], float | None]) -> Stands:
    """Whether a relation holds with these values; that both sides vanish says something where a `nought` is written."""
    a = sides[0](value_of)
    b = None if a is None else sides[1](value_of)
    if a is None or b is None:
        return Stands.WITHOUT
    if a.reach == 0 and b.reach == 0 and not nought:
        return Stands.IDLE
    room = SYMBOLS_BAND * max(a.reach, b.reach)
    if equates(sign):
        so = abs(a.value - b.value) <= room
    else:
        so = a.value <= b.value + room if sign in "<≤" else a.value >= b.value - room
    return Stands.SO if so else Stands.NOT


def _speaks_of_nought(node: Node) -> bool:
    """Whether a nought is written: then that both sides vanish is what is said."""
    return any(item.meanings[0].value == 0 for item in literals_in(node))


def true_here(question: TriedChain, ground: Ground, overlay: Overlay = value_in) -> Truth | None:
    """Where a chain with numbers is true of the problem's own numbers, or None."""
    if overlay is not value_in:
        return _true_with(question, ground, overlay)
    # Under another convention a line is asked after twice: for an approximation, then for the reason it fails.
    if question not in ground.answers:
        ground.answers[question] = _true_with(question, ground, overlay)
    answer: Truth | None = ground.answers[question]
    return answer


def _true_with(question: TriedChain, ground: Ground, overlay: Overlay) -> Truth | None:
    names = names_in(question.members)
    # What its numbers alone come to is the same everywhere, and so is whether they agree with one another.
    unlike: dict[object, Scaling] = {}
    for scaling in scalings_of(question):
        unlike.setdefault(_effect_of(scaling, question), scaling)
    scaled = [(scaling, sides_ready(question, scaling)) for scaling in unlike.values()]
    agreeing = [(scaling, sides) for scaling, sides in scaled if sides]
    if not agreeing:
        return None
    seen: set[tuple[float | None, ...]] = set()  # what most symbols come to is the same whatever is chosen
    rests_idle = is_between_symbols(question, ground)
    idle: Truth | None = None
    said = False
    for case in _cases(ground, names, overlay):
        tried = _tried(case.world, names, overlay, seen)
        for scaling, sides in agreeing:
            for place in tried:
                rests = rests_idle and _is_idle(case.world, place, names, overlay)
                said = said or not rests
                if sides_hold(question, sides, _names_of(case.world, place, overlay)):
                    one_of_many = len(_tried(case.world, names, overlay)) > 1
                    words = case.world.situations[place.situation].words if one_of_many else ""
                    told = ", ".join(item for item in (words, case.words) if item)
                    found = Truth(told, case, scaling != Scaling(), place, scaling)
                    if not rests:
                        return found
                    idle = idle or found
        if not names:
            return None
    return None if said else idle


def is_between_symbols(question: TriedChain, ground: Ground) -> bool:
    """Whether a chain equates symbols alone, with pure numbers beside them: where a symbol is nought any such number
    fits, and that says nothing unless a nought is given or written."""
    if any(ground.sheet.given.get(name) == 0 for name in names_in(question.members)):
        return False
    if any(_speaks_of_nought(member) for member in question.members):
        return False
    pure = question.pure or (False,) * len(question.members)
    beside = all(kind is SideKind.SYMBOLS or told for kind, told in zip(question.kinds, pure, strict=True))
    return beside and all(equates(relation.sign) for relation in question.relations)


def _cases(ground: Ground, names: Sequence[str], overlay: Overlay) -> Iterator[Case]:
    """The cases a chain is tried in: those with further values of a choice last, and only where symbols are named."""
    yield from ground.cases
    if names:
        # A learner's own relation may make a symbol feel a choice that it does not feel in the circuit.
        yield from ground.rarer_cases(names if overlay is value_in else None)


def _effect_of(scaling: Scaling, question: TriedChain) -> tuple[tuple[int, int], ...]:
    """What a scaling does to each member: to its bare numbers, and to the whole of it."""
    return tuple(
        (
            power_inside(question, index, scaling) if any(item.bare for item in question.numbers[index]) else 0,
            power_of_side(question, index, scaling),
        )
        for index in range(len(question.members))
    )


Sides = tuple[Amount | Ready, ...]


def sides_ready(question: TriedChain, scaling: Scaling) -> Sides:
    """The members of a chain with its numbers scaled: worked out where they are numbers alone, else made ready to be;
    empty where one such has no value or two beside each other do not agree."""
    sides: list[Amount | Ready] = []
    for index, member in enumerate(question.members):
        if question.kinds[index] is SideKind.NUMBERS:
            amount = _number_side(question, index, scaling)
            if amount is None:
                return ()
            sides.append(amount)
        else:
            sides.append(made_ready(member, _amounts(question, index, scaling)))
    for index, relation in enumerate(question.relations):
        left, right = sides[index], sides[index + 1]
        if isinstance(left, Amount) and isinstance(right, Amount):
            pair = ChainSide(question.members[index], True, left), ChainSide(question.members[index + 1], True, right)
            if not agree(*pair, relation.sign, ()):
                return ()
    return tuple(sides)


def adds_up(question: TriedChain) -> bool:
    """Whether a chain of numbers is right in itself, the prefixes written in it put to what has none; one side alone
    is."""
    if len(question.members) == 1:
        return True
    powers = dict.fromkeys(item.power for member in question.members for item in literals_in(member) if item.power)
    scalings = [Scaling(), *(Scaling(0, sign * power) for power in powers for sign in (1, -1))]
    return any(chain_holds(question, scaling, lambda name: None) for scaling in scalings)


def chain_holds(question: TriedChain, scaling: Scaling, value_of: Callable[[str], float | None]) -> bool:
    """Whether every relation of a chain holds with these values, its numbers scaled."""
    return sides_hold(question, sides_ready(question, scaling), value_of)


def sides_hold(question: TriedChain, ready: Sides, value_of: Callable[[str], float | None]) -> bool:
    """Whether every relation of a chain holds with these values, its members made ready."""
    sides: list[ChainSide] = []
    for member, kind, made in zip(question.members, question.kinds, ready, strict=False):
        amount = made if isinstance(made, Amount) else made(value_of)
        if amount is None:
            return False
        sides.append(ChainSide(member, kind is SideKind.NUMBERS, amount))
    if not sides:
        return False
    said = value_member(question)

    def slips_of(*pair: ChainSide) -> Sequence[tuple[float, float]]:
        # Only what a chain comes to is held against the known slips; its steps may be rounded.
        return question.slips if any(side.node is said for side in pair) else ()

    truth = next((side.amount for side in sides if not side.numbers), None)
    strict = True
    for relation, left, right in zip(question.relations, sides, sides[1:], strict=False):
        if not agree(left, right, relation.sign, slips_of(left, right)):
            return False
        strict = strict and equates(relation.sign)
    # Each number against the symbol it stands for as well, so that steps do not add up their bands.
    if truth is not None and strict:
        loose = any(relation.sign == "≈" for relation in question.relations)
        # What the rounding of its numbers did to a step is in the result too.
        steps = [side for side in sides if side.numbers and not is_lone(side.node)]
        rounded = max((side.amount.slack for side in steps), default=0.0)
        head = next((side for side in sides if not side.numbers), sides[0])
        for side in sides:
            carried = rounded if side.node is said else 0.0
            if side.numbers and not agree(head, side, "≈" if loose else "=", slips_of(head, side), carried):
                return False
    return True


def _amounts(question: TriedChain, index: int, scaling: Scaling) -> AmountOf:
    """How the numbers of one member are taken: the bare ones scaled, those equal to a given exact."""
    inside = power_inside(question, index, scaling)

    def amount_of(literal: Literal) -> Amount:
        meaning = literal.meanings[0]
        lift = float(f"1e{inside}") if inside and literal.bare and not is_coefficient(literal) else 1.0
        value, step = meaning.value * lift, meaning.step * lift
        exact = is_coefficient(literal) or any(abs(value - item) <= 1e-9 * abs(item) for item in question.exact)
        return Amount(value, 0.0 if exact else rounding(value, step), abs(value))

    return amount_of


def _number_side(question: TriedChain, index: int, scaling: Scaling) -> Amount | None:
    """What a member of numbers alone comes to, its bare numbers scaled."""
    found = work_out(question.members[index], lambda name: None, _amounts(question, index, scaling))
    power = power_of_side(question, index, scaling)
    if found is None or not power:
        return found
    lift = float(f"1e{power}")
    return Amount(found.value * lift, found.slack * lift, found.reach * lift)


def exact_values(given: Mapping[str, float], choices: Mapping[str, float]) -> tuple[float, ...]:
    """Values that a written number may be equal to without any rounding."""
    return tuple(value for value in (*given.values(), *choices.values()) if value)
