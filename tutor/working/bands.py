"""How near two sides of a line must be: the bands of a hand-written line.

Vocabulary: a *side* is a member of a chain with what it comes to, and whether it is of numbers alone.
Place in the data flow: amounts of two sides -> do they agree? -> `truth.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tutor.working.amount import MOST_BAND, NUMBER_BAND, Amount
from tutor.working.tree import Literal, Minus, Node, equates

RESULT_BAND = 0.05  # the widest a result may be from the truth, whatever was rounded on the way
CANCELLED = 0.2  # below this share of its largest term a result counts as one in which terms cancel
SLIP_SHARE = 1 / 3  # of the way to a known slip


class ChainSide(NamedTuple):
    """A member of a chain, whether it is of numbers alone, and what it comes to (SI)."""

    node: Node
    numbers: bool
    amount: Amount


def agree(
    left: ChainSide,
    right: ChainSide,
    sign: str,
    slips: Sequence[tuple[float, float]],
    carried: float = 0.0,
) -> bool:
    """Whether two sides agree within the bands of a hand-written line.

    `slips` are (right value, what a known slip makes of it), `carried` what rounding did before; all in SI.
    """
    a, b = left.amount, right.amount
    room = band(left, right, sign, carried)
    numbers = [side for side in (left, right) if side.numbers]
    if len(numbers) == 1 and slips and equates(sign):
        written = numbers[0].amount.value
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
    if equates(sign):
        return abs(a.value - b.value) <= room
    return a.value <= b.value + room if sign in "<≤" else a.value >= b.value - room


def band(
    left: ChainSide, right: ChainSide, sign: str, carried: float = 0.0
) -> float:
    """How far apart two sides may be (SI)."""
    a, b = left.amount, right.amount
    if left.numbers and right.numbers:
        result = right if isinstance(_bare(right.node), Literal) else left
        size = _measure(a, b)
        room = _base(result, size)
        return max(room, RESULT_BAND * size) if sign == "≈" else room
    size = _measure(a, b)
    written = right if right.numbers else left
    room = _base(written, size) if left.numbers or right.numbers else 1e-9 * max(a.reach, b.reach)
    # A lone number's own rounding is its band already.
    slack = sum(side.amount.slack for side in (left, right) if not is_lone(side.node))
    room = min(room + slack + carried, RESULT_BAND * size)
    return max(room, RESULT_BAND * size) if sign == "≈" else room


def _base(side: ChainSide, size: float) -> float:
    """1 %, or half a unit of a lone number's last figure, never more than 3 %."""
    node = _bare(side.node)
    half = 0.0
    if isinstance(node, Literal) and node.meanings[0].value:
        half = abs(node.meanings[0].step / 2 / node.meanings[0].value * side.amount.value)
    return min(max(NUMBER_BAND * size, half), MOST_BAND * size)


def is_lone(node: Node) -> bool:
    """Whether a side is one written number, with or without a sign before it."""
    return isinstance(_bare(node), Literal)


def _bare(node: Node) -> Node:
    return node.arg if isinstance(node, Minus) else node


def _measure(a: Amount, b: Amount) -> float:
    """The measure of a comparison: the values, or the largest term where terms cancel."""
    size = max(abs(a.value), abs(b.value))
    reach = max(a.reach, b.reach)
    return reach if size < CANCELLED * reach else size
