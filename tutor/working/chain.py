"""A chain as it is tried: its members, what each is made of, the numbers and symbols in it.

Vocabulary: a member is of symbols alone (pure coefficients allowed), of numbers alone, or mixed. A *scaling* puts the
prefix that a hand-written number left out (27 − 12 = 15 mA).
Place in the data flow: members + relations -> TriedChain -> `truth.py`, `follow.py`, `reasons.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property

from tutor.working.amount import Amount, work_out
from tutor.working.dimension_check import is_coefficient
from tutor.working.tree import Literal, Minus, Name, Node, Relation, equates, parts


class SideKind(Enum):
    """What a side is made of."""

    SYMBOLS = "symbols"
    NUMBERS = "numbers"
    MIXED = "mixed"


@dataclass(frozen=True)
class Scaling:
    """Powers of ten put to bare numbers: to each in a mixed side (`inside`), or to a whole side of bare numbers."""

    inside: int = 0
    whole: int = 0
    last: int = 0  # to the lone bare number at the end


@dataclass(frozen=True)
class TriedChain:
    """A chain as it is tried: members, relations, what its numbers may be exactly equal to, slips near its head."""

    members: tuple[Node, ...]
    relations: tuple[Relation, ...]
    exact: tuple[float, ...] = ()
    slips: tuple[tuple[float, float], ...] = ()  # of the quantity spoken of: its true value, a known slip's
    pure: tuple[bool, ...] = ()  # for each member, whether units show that the numbers beside its symbols are pure

    @cached_property
    def kinds(self) -> tuple[SideKind, ...]:
        """What each member is made of."""
        return tuple(kind_of(member) for member in self.members)

    @cached_property
    def numbers(self) -> tuple[tuple[Literal, ...], ...]:
        """The numbers in each member."""
        return tuple(tuple(literals_in(member)) for member in self.members)

    @cached_property
    def statements(self) -> tuple[TriedChain, ...]:
        """What it says, one by one: V_Z = 11 V < V_TH = 13.6 V says two things and compares them.

        A sign of order parts what has a symbol at its head on both sides: R ≤ 155 Ω is one statement, as is 5 mA < I_Z.
        """
        parts: list[list[int]] = [[0]]
        for place, relation in enumerate(self.relations, start=1):
            if equates(relation.sign):
                parts[-1].append(place)
            else:
                parts.append([place])
        found = [parts[0]]
        for part in parts[1:]:
            if all(head_of(self.members[place] for place in item) for item in (found[-1], part)):
                found.append(part)
            else:
                found[-1] = found[-1] + part
        return tuple(self._only(part[0], part[-1] + 1) for part in found) if len(found) > 1 else (self,)

    def _only(self, first: int, past: int) -> TriedChain:
        """The chain from one member up to another; slips are those near its own head."""
        return replace(
            self,
            members=self.members[first:past],
            relations=self.relations[first : past - 1],
            pure=self.pure[first:past],
            slips=self.slips if first == 0 else (),
        )


def value_member(question: TriedChain) -> Node:
    """The member that says what a chain comes to: of its first statement the last one before an inequality, where the
    chain begins with =."""
    first = question.statements[0]
    found = first.members[0]
    for relation, member in zip(first.relations, first.members[1:], strict=False):
        if not equates(relation.sign):
            break
        found = member
    return found if found is not first.members[0] else first.members[-1]


def value_with_unit(question: TriedChain) -> float | None:
    """What a chain comes to in SI, as a number with its unit says; None for bare numbers, which may mean others."""
    last = value_member(question)
    if kind_of(last) is not SideKind.NUMBERS or all(item.bare for item in literals_in(last)):
        return None
    amount = work_out(last, lambda name: None, plain_amount)
    return None if amount is None else amount.value


def head_of(members: Iterable[Node]) -> Name | None:
    """The symbol that a chain speaks of: the first member that is one, whatever its sign; None when none is."""
    for member in members:
        inner = member.arg if isinstance(member, Minus) else member
        if isinstance(inner, Name):
            return inner
    return None


def names_in(nodes: Iterable[Node]) -> tuple[str, ...]:
    """Symbols in some trees, each once, in order of first use."""
    return tuple(dict.fromkeys(name for node in nodes for name in node.names))


def links_of(question: TriedChain) -> Iterable[tuple[Relation, Node, Node]]:
    """The relations of a chain, each with the members beside it."""
    return zip(question.relations, question.members, question.members[1:], strict=False)


def literals_in(node: Node) -> tuple[Literal, ...]:
    """The numbers in a tree, left to right."""
    return node.literals


def leaf_count(node: Node) -> int:
    """How many numbers and symbols a tree holds."""
    inner = parts(node)
    return sum(map(leaf_count, inner)) if inner else 1


def kind_of(node: Node) -> SideKind:
    """What a member is made of."""
    numbers = [item for item in literals_in(node) if not is_coefficient(item)]
    if not node.names:
        nought = isinstance(node, Literal) and is_coefficient(node) and node.meanings[0].value == 0
        return SideKind.SYMBOLS if nought else SideKind.NUMBERS
    return SideKind.MIXED if numbers else SideKind.SYMBOLS


def plain_amount(literal: Literal) -> Amount:
    """A number taken as exact."""
    value = literal.meanings[0].value
    return Amount(value, 0.0, abs(value))


def scalings_of(question: TriedChain) -> Iterator[Scaling]:
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


def _has_bare_side(question: TriedChain) -> bool:
    return any(
        kind_of(member) is SideKind.NUMBERS and all(item.bare for item in literals_in(member))
        for member in question.members
    )


def _is_bare(question: TriedChain, index: int) -> bool:
    numbers = question.numbers[index]
    return bool(numbers) and all(item.bare for item in numbers)


def power_inside(question: TriedChain, index: int, scaling: Scaling) -> int:
    """The power of ten put to each bare number of a member; none where they are pure: twice a current has no prefix."""
    if question.pure and question.pure[index]:
        return 0
    return scaling.inside if not _is_bare(question, index) or question.kinds[index] is SideKind.MIXED else 0


def power_of_side(question: TriedChain, index: int, scaling: Scaling) -> int:
    """The power of ten put to the whole of a member: one of bare numbers alone."""
    if question.kinds[index] is not SideKind.NUMBERS or not _is_bare(question, index):
        return 0
    is_last = index == len(question.members) - 1 and isinstance(question.members[index], Literal)
    return scaling.last if is_last else scaling.whole
