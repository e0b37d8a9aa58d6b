"""Is a line true: of the circuit whatever the numbers (symbols alone), or with this problem's numbers?

Vocabulary: a *side* is a member with what kind it is: symbols alone (pure coefficients allowed), numbers alone, or
mixed. A *scaling* puts the prefix that a hand-written number left out (27 − 12 = 15 mA). The bands are those of
`_agree`: a line's own arithmetic, a number against the truth, and what rounding may have done on the way.
Place in the data flow: members + Ground -> Truth or None. What is not true here may still follow (`follow.py`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from tutor.working.amount import MOST_BAND, NUMBER_BAND, Amount, rounding, work_out
from tutor.working.dimension_check import is_coefficient
from tutor.working.ground import Case, Ground, Place, distinct, distinct_in, places_in, value_in, values_at
from tutor.working.tree import Literal, Minus, Name, Node, Relation, parts
from tutor.working.world import World

SYMBOLS_BAND = 1e-7  # two ways of writing the same, of the largest term
RESULT_BAND = 0.05  # the widest a result may be from the truth, whatever was rounded on the way
CANCELLED = 0.2  # below this share of its largest term a result counts as one in which terms cancel
OVERHEAD = 8  # of trying a relation at all, in places
SLIP_SHARE = 1 / 3  # of the way to a known slip

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


class Kind(Enum):
    """What a side is made of."""

    SYMBOLS = "symbols"
    NUMBERS = "numbers"
    MIXED = "mixed"


@dataclass(frozen=True)
class Truth:
    """Where a line is true: the words of the place, the case, and whether a prefix or unit had to be supplied."""

    words: str
    case: Case | None = None
    supplied: bool = False
    place: Place | None = None
    scaling: Scaling | None = None


@dataclass(frozen=True)
class Scaling:
    """Powers of ten put to bare numbers: to each in a mixed side (`inside`), or to a whole side of bare numbers."""

    inside: int = 0
    whole: int = 0
    last: int = 0  # to the lone bare number at the end


@dataclass(frozen=True)
class Question:
    """A chain as it is tried: members, relations, what its numbers may be exactly equal to, slips near its head."""

    members: tuple[Node, ...]
    relations: tuple[Relation, ...]
    exact: tuple[float, ...] = ()
    slips: tuple[tuple[float, float], ...] = ()  # of the quantity spoken of: its true value, a known slip's

    @cached_property
    def kinds(self) -> tuple[Kind, ...]:
        """What each member is made of."""
        return tuple(kind_of(member) for member in self.members)

    @cached_property
    def numbers(self) -> tuple[tuple[Literal, ...], ...]:
        """The numbers in each member."""
        return tuple(tuple(literals_in(member)) for member in self.members)


def value_member(question: Question) -> Node:
    """The member that says what a chain comes to: the last one before an inequality, where the chain begins with =."""
    found = question.members[0]
    for relation, member in zip(question.relations, question.members[1:], strict=False):
        if relation.sign not in "=≈":
            break
        found = member
    return found if found is not question.members[0] else question.members[-1]


def names_in(nodes: Iterable[Node]) -> tuple[str, ...]:
    """Symbols in some trees, each once, in order of first use."""
    found: dict[str, None] = {}
    pending = list(nodes)[::-1]
    while pending:
        node = pending.pop()
        if isinstance(node, Name):
            found.setdefault(node.name)
        pending += parts(node)[::-1]
    return tuple(found)


def links_of(question: Question) -> Iterable[tuple[Relation, Node, Node]]:
    """The relations of a chain, each with the members beside it."""
    return zip(question.relations, question.members, question.members[1:], strict=False)


def literals_in(node: Node) -> list[Literal]:
    """The numbers in a tree, left to right."""
    if isinstance(node, Literal):
        return [node]
    return [item for part in parts(node) for item in literals_in(part)]


def kind_of(node: Node) -> Kind:
    """What a member is made of."""
    numbers = [item for item in literals_in(node) if not is_coefficient(item)]
    if not names_in((node,)):
        nought = isinstance(node, Literal) and is_coefficient(node) and node.meanings[0].value == 0
        return Kind.SYMBOLS if nought else Kind.NUMBERS
    return Kind.MIXED if numbers else Kind.SYMBOLS


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

    Where both sides vanish a relation says nothing (nothing flows, so any factor of it is right): such a place counts
    only when there is no other.
    """
    if effort is not None and effort.spent:
        return
    names = names_in((left, right))
    for worlds in (ground.around.near, ground.around.generic):
        if not worlds:
            continue
        tried = _tried(worlds[0], names, overlay)
        if effort is not None and not effort.spend(len(tried) + OVERHEAD):
            return
        idle: list[Place] = []
        for place in tried:
            stands: list[bool | None] = []
            for world in worlds:
                stands.append(_stands(left, right, sign, world, place, overlay))
                if stands[-1] is False:
                    break
            else:
                if all(item is None for item in stands) or _is_idle(worlds[0], place, names, (left, right), overlay):
                    idle.append(place)
                else:
                    yield place
        # A given that is nought (I_L_MIN = 0) makes such a place its own.
        if idle and (len(idle) == len(tried) or any(ground.sheet.given.get(name) == 0 for name in names)):
            yield from idle
        if tried:
            return


def _is_idle(world: World, place: Place, names: Sequence[str], sides: tuple[Node, Node], overlay: Overlay) -> bool:
    """Whether a symbol is nought at a place, where any sign and factor of it would be right.

    Not where a nought is written, nor where a line names what belongs to one corner (R_MIN, with I_B = 0 there).
    """
    if any(_speaks_of_nought(side) for side in sides):
        return False
    plain = world.situations[place.situation].values
    return all(name in plain for name in names) and any(overlay(world, place, name) == 0 for name in names)


def _tried(world: World, names: Sequence[str], overlay: Overlay) -> list[Place]:
    if overlay is value_in:
        return distinct_in(world, names)
    return distinct(places_in(world, names), names, _places_of(world, overlay))


def _places_of(world: World, overlay: Overlay) -> Callable[[Place, str], float | None]:
    return lambda place, name: overlay(world, place, name)


def _names_of(world: World, place: Place, overlay: Overlay) -> Callable[[str], float | None]:
    return values_at(world, place) if overlay is value_in else lambda name: overlay(world, place, name)


def _stands(left: Node, right: Node, sign: str, world: World, place: Place, overlay: Overlay) -> bool | None:
    """Whether a relation holds at a place of a world; None where both sides vanish there."""
    value_of = _names_of(world, place, overlay)
    a = work_out(left, value_of, plain_amount)
    b = None if a is None else work_out(right, value_of, plain_amount)
    if a is None or b is None:
        return False
    if a.reach == 0 and b.reach == 0 and not _speaks_of_nought(left) and not _speaks_of_nought(right):
        return None
    room = SYMBOLS_BAND * max(a.reach, b.reach)
    if sign in "=≈":
        return abs(a.value - b.value) <= room
    return a.value <= b.value + room if sign in "<≤" else a.value >= b.value - room


def _speaks_of_nought(node: Node) -> bool:
    """Whether a nought is written: then that both sides vanish is what is said."""
    return any(item.meanings[0].value == 0 for item in literals_in(node))


def plain_amount(literal: Literal) -> Amount:
    """A number taken as exact."""
    value = literal.meanings[0].value
    return Amount(value, 0.0, abs(value))


def true_here(question: Question, ground: Ground, overlay: Overlay = value_in) -> Truth | None:
    """Where a chain with numbers is true of the problem's own numbers, or None."""
    names = names_in(question.members)
    # What its numbers alone come to is the same everywhere, and so is whether they agree with one another.
    numbers = [(scaling, numbers_of(question, scaling)) for scaling in _scalings(question)]
    agreeing = [(scaling, alone) for scaling, alone in numbers if alone is not None]
    if not agreeing:
        return None
    for case in _cases(ground, names):
        tried = _tried(case.world, names, overlay)
        for scaling, alone in agreeing:
            for place in tried:
                if chain_holds(question, scaling, _names_of(case.world, place, overlay), alone):
                    words = case.world.situations[place.situation].words if len(tried) > 1 else ""
                    told = ", ".join(item for item in (words, case.words) if item)
                    return Truth(told, case, scaling != Scaling(), place, scaling)
        if not names:
            return None
    return None


def _cases(ground: Ground, names: Sequence[str]) -> Iterator[Case]:
    """The cases a chain is tried in: those with further values of a choice last, and only where symbols are named."""
    yield from ground.cases
    if names:
        yield from ground.rarer_cases


def _scalings(question: Question) -> Iterable[Scaling]:
    """No scaling first; then the prefixes written in the line, put to what has none."""
    yield Scaling()
    written = [item for member in question.members for item in literals_in(member)]
    if not any(item.bare and not is_coefficient(item) for item in written) and not _has_bare_side(question):
        return
    powers = dict.fromkeys(item.power for item in written if item.power)
    if names_in(question.members):
        # Milliamperes left out under a voltage: 8.4/38 = 221 Ω. The result is held against the truth all the same.
        powers |= dict.fromkeys((-3, 3))
    last = question.members[-1]
    if isinstance(last, Literal) and last.bare:
        for power in (-3, 3, -6, 6):
            yield Scaling(0, power, power)
            yield Scaling(0, 0, power)
        return
    for power in powers:
        yield Scaling(0, power)
        yield Scaling(0, -power)
        yield Scaling(power, 0)


def _has_bare_side(question: Question) -> bool:
    return any(
        kind_of(member) is Kind.NUMBERS and all(item.bare for item in literals_in(member))
        for member in question.members
    )


def numbers_of(question: Question, scaling: Scaling) -> dict[int, Amount] | None:
    """What the members that are numbers alone come to, by their place in the chain; None where one has no value or two
    beside each other do not agree."""
    found: dict[int, Amount] = {}
    for index, kind in enumerate(question.kinds):
        if kind is Kind.NUMBERS:
            amount = side_amount(question, index, scaling, lambda name: None)
            if amount is None:
                return None
            found[index] = amount
    for index, relation in enumerate(question.relations):
        if index in found and index + 1 in found:
            left, right = ((question.members[at], Kind.NUMBERS, found[at]) for at in (index, index + 1))
            if not _agree(left, right, relation.sign, ()):
                return None
    return found


def chain_holds(
    question: Question,
    scaling: Scaling,
    value_of: Callable[[str], float | None],
    numbers: Mapping[int, Amount] | None = None,
) -> bool:
    """Whether every relation of a chain holds with these values, its numbers scaled; `numbers` are those of
    `numbers_of` where they are at hand."""
    sides: list[tuple[Node, Kind, Amount]] = []
    for index, (member, kind) in enumerate(zip(question.members, question.kinds, strict=True)):
        amount = numbers.get(index) if numbers is not None else None
        if amount is None:
            amount = side_amount(question, index, scaling, value_of)
        if amount is None:
            return False
        sides.append((member, kind, amount))
    said = value_member(question)

    def slips_of(*pair: tuple[Node, Kind, Amount]) -> Sequence[tuple[float, float]]:
        # Only what a chain comes to is held against the known slips; its steps may be rounded.
        return question.slips if any(side[0] is said for side in pair) else ()

    truth = next((amount for _, kind, amount in sides if kind is not Kind.NUMBERS), None)
    strict = True
    for relation, left, right in zip(question.relations, sides, sides[1:], strict=False):
        if not _agree(left, right, relation.sign, slips_of(left, right)):
            return False
        strict = strict and relation.sign in "=≈"
    # Each number against the symbol it stands for as well, so that steps do not add up their bands.
    if truth is not None and strict:
        loose = any(relation.sign == "≈" for relation in question.relations)
        # What the rounding of its numbers did to a step is in the result too.
        steps = [side for side in sides if side[1] is Kind.NUMBERS and not _is_lone(side[0])]
        rounded = max((side[2].slack for side in steps), default=0.0)
        head = next((side for side in sides if side[1] is not Kind.NUMBERS), sides[0])
        for side in sides:
            carried = rounded if side[0] is said else 0.0
            if side[1] is Kind.NUMBERS and not _agree(
                head, side, "≈" if loose else "=", slips_of(head, side), carried
            ):
                return False
    return True


def side_amount(
    question: Question, index: int, scaling: Scaling, value_of: Callable[[str], float | None]
) -> Amount | None:
    """What one member of a chain comes to, its bare numbers scaled."""
    member = question.members[index]
    numbers = question.numbers[index]
    bare = bool(numbers) and all(item.bare for item in numbers)
    is_last = index == len(question.members) - 1 and isinstance(member, Literal)
    inside = scaling.inside if not bare or question.kinds[index] is Kind.MIXED else 0

    def amount_of(literal: Literal) -> Amount:
        meaning = literal.meanings[0]
        lift = float(f"1e{inside}") if inside and literal.bare and not is_coefficient(literal) else 1.0
        value, step = meaning.value * lift, meaning.step * lift
        exact = is_coefficient(literal) or any(abs(value - item) <= 1e-9 * abs(item) for item in question.exact)
        return Amount(value, 0.0 if exact else rounding(value, step), abs(value))

    found = work_out(member, value_of, amount_of)
    power = (scaling.last if is_last else scaling.whole) if bare and question.kinds[index] is Kind.NUMBERS else 0
    if found is None or not power:
        return found
    lift = float(f"1e{power}")
    return Amount(found.value * lift, found.slack * lift, found.reach * lift)


def _agree(
    left: tuple[Node, Kind, Amount],
    right: tuple[Node, Kind, Amount],
    sign: str,
    slips: Sequence[tuple[float, float]],
    carried: float = 0.0,
) -> bool:
    """Whether two sides agree within the bands of a hand-written line; `carried` is what rounding did before."""
    a, b = left[2], right[2]
    room = band(left, right, sign, carried)
    numbers = [side for side in (left, right) if side[1] is Kind.NUMBERS]
    if len(numbers) == 1 and slips and sign in "=≈":
        written = numbers[0][2].value
        true = b.value if numbers[0] is left else a.value
        near = [slip for right_value, slip in slips if abs(right_value - true) <= 1e-6 * abs(true) and slip != true]
        # A known slip this near the truth would hide in the band, however wide; and what is written is a slip when it
        # is that slip's value much rather than the true one, at whatever corner.
        towards = [slip for slip in near if (slip - true) * (written - true) > 0]
        if sign != "≈":
            room = min([room, *(SLIP_SHARE * abs(slip - true) for slip in towards)])
        if any(abs(written - slip) < SLIP_SHARE * abs(written - true) for _, slip in slips):
            return False
        if sign == "≈" and any(abs(written - slip) < abs(written - true) for slip in near):
            return False
    if sign in "=≈":
        return abs(a.value - b.value) <= room
    return a.value <= b.value + room if sign in "<≤" else a.value >= b.value - room


def band(
    left: tuple[Node, Kind, Amount], right: tuple[Node, Kind, Amount], sign: str, carried: float = 0.0
) -> float:
    """How far apart two sides may be (SI)."""
    a, b = left[2], right[2]
    if left[1] is Kind.NUMBERS and right[1] is Kind.NUMBERS:
        result = right if isinstance(_bare(right[0]), Literal) else left
        size = _measure(a, b)
        room = _base(result, size)
        return max(room, RESULT_BAND * size) if sign == "≈" else room
    size = _measure(a, b)
    written = right if right[1] is Kind.NUMBERS else left
    room = _base(written, size) if Kind.NUMBERS in (left[1], right[1]) else 1e-9 * max(a.reach, b.reach)
    # A lone number's own rounding is its band already.
    slack = sum(side[2].slack for side in (left, right) if not _is_lone(side[0]))
    room = min(room + slack + carried, RESULT_BAND * size)
    return max(room, RESULT_BAND * size) if sign == "≈" else room


def _base(side: tuple[Node, Kind, Amount], size: float) -> float:
    """1 %, or half a unit of a lone number's last figure, never more than 3 %."""
    node = _bare(side[0])
    half = 0.0
    if isinstance(node, Literal) and node.meanings[0].value:
        half = abs(node.meanings[0].step / 2 / node.meanings[0].value * side[2].value)
    return min(max(NUMBER_BAND * size, half), MOST_BAND * size)


def _is_lone(node: Node) -> bool:
    return isinstance(_bare(node), Literal)


def _bare(node: Node) -> Node:
    return node.arg if isinstance(node, Minus) else node


def _measure(a: Amount, b: Amount) -> float:
    """The measure of a comparison: the values, or the largest term where terms cancel."""
    size = max(abs(a.value), abs(b.value))
    reach = max(a.reach, b.reach)
    return reach if size < CANCELLED * reach else size


def exact_values(given: Mapping[str, float], choices: Mapping[str, float]) -> tuple[float, ...]:
    """Values that a written number may be equal to without any rounding."""
    return tuple(value for value in (*given.values(), *choices.values()) if value)
