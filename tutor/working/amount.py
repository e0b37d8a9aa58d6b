"""A tree worked out: its value, what the rounding of its numbers may do to it, and the largest term that went into it.

Vocabulary: the *slack* of an amount is how far the numbers in it, each rounded as a learner rounds, may have moved it;
its *reach* is the size of the largest term that went into it, the measure where terms cancel.
Place in the data flow: tree + values of symbols -> Amount -> truth. Plain floats; the mirror does the same.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from tutor.working.tree import (
    Call,
    Literal,
    Minus,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Spread,
    Sum,
    parts,
)

NUMBER_BAND = 0.01  # of a number that stands for a quantity
MOST_BAND = 0.03  # a lone figure such as 0.1 would else match anything
MOST_SIZE = 1e60  # of a value; what is larger is no number here


class Amount(NamedTuple):
    """A value in SI, its slack and its reach, both in the same unit and not negative."""

    value: float
    slack: float
    reach: float


ValueOf = Callable[[str], float | None]
AmountOf = Callable[[Literal], Amount]


def work_out(node: Node, value_of: ValueOf, amount_of: AmountOf) -> Amount | None:
    """What a tree comes to; None when a symbol has no value or there is no finite result."""
    return _in_bounds(_work(node, value_of, amount_of))


def _in_bounds(found: Amount | None) -> Amount | None:
    if found is None or not abs(found[0]) < MOST_SIZE or not math.isfinite(found[1]):
        return None
    return found


Ready = Callable[[ValueOf], Amount | None]


def made_ready(node: Node, amount_of: AmountOf) -> Ready:
    """`work_out` for many places: what holds no symbol is worked out now, the rest when values are given."""
    ready = _made_ready(node, amount_of)
    return ready if callable(ready) else lambda value_of: ready


def _made_ready(node: Node, amount_of: AmountOf) -> Ready | Amount | None:
    if isinstance(node, Name | Literal):
        return work_out(node, _unknown, amount_of) if isinstance(node, Literal) else _symbol_ready(node.name)
    if isinstance(node, Spread):
        return _made_ready(node.base, amount_of)
    inner: list[Ready | Amount] = []
    for part in parts(node):
        made = _made_ready(part, amount_of)
        if made is None:
            return None
        inner.append(made)
    if not any(callable(part) for part in inner):
        return work_out(node, _unknown, amount_of)

    if isinstance(node, Product):
        return _product_ready(inner)
    if isinstance(node, Quotient):
        return _quotient_ready(inner)
    if isinstance(node, Sum):
        return _sum_ready(inner)

    def ready(value_of: ValueOf) -> Amount | None:
        found = _all_of(inner, value_of)
        return None if found is None else _in_bounds(_joined(node, found))

    return ready


def _all_of(inner: list[Ready | Amount], value_of: ValueOf) -> list[Amount] | None:
    found: list[Amount] = []
    for part in inner:
        amount = part if isinstance(part, Amount) else part(value_of)
        if amount is None:
            return None
        found.append(amount)
    return found


def _product_ready(inner: list[Ready | Amount]) -> Ready:
    first, *rest = inner

    def ready(value_of: ValueOf) -> Amount | None:
        product = first if isinstance(first, Amount) else first(value_of)
        if product is None:
            return None
        for part in rest:
            amount = part if isinstance(part, Amount) else part(value_of)
            if amount is None:
                return None
            product = _times(product, amount)
        return _in_bounds(product)

    return ready


def _quotient_ready(inner: list[Ready | Amount]) -> Ready:
    over, under = inner

    def ready(value_of: ValueOf) -> Amount | None:
        above = over if isinstance(over, Amount) else over(value_of)
        if above is None:
            return None
        below = under if isinstance(under, Amount) else under(value_of)
        return None if below is None else _in_bounds(_over(above, below))

    return ready


def _sum_ready(inner: list[Ready | Amount]) -> Ready:
    def ready(value_of: ValueOf) -> Amount | None:
        value = slack = reach = 0.0
        for part in inner:
            amount = part if isinstance(part, Amount) else part(value_of)
            if amount is None:
                return None
            value += amount[0]
            slack += amount[1]
            if amount[2] > reach:
                reach = amount[2]
        return _in_bounds(Amount(value, slack, reach))

    return ready


def _symbol_ready(name: str) -> Ready:
    def ready(value_of: ValueOf) -> Amount | None:
        value = value_of(name)
        return None if value is None or not abs(value) < MOST_SIZE else Amount(value, 0.0, abs(value))

    return ready


def _unknown(name: str) -> float | None:
    return None


def _work(node: Node, value_of: ValueOf, amount_of: AmountOf) -> Amount | None:
    if isinstance(node, Name):
        value = value_of(node.name)
        return None if value is None else Amount(value, 0.0, abs(value))
    if isinstance(node, Literal):
        return amount_of(node)
    if isinstance(node, Spread):
        return work_out(node.base, value_of, amount_of)
    found = _parts_of(node, value_of, amount_of)
    return None if found is None else _joined(node, found)


def _joined(node: Node, amounts: list[Amount]) -> Amount | None:
    """What a node makes of the amounts of its parts."""
    first = amounts[0]
    if isinstance(node, Quotient):
        return _over(first, amounts[1])
    if isinstance(node, Product):
        product = first
        for amount in amounts[1:]:
            product = _times(product, amount)
        return product
    if isinstance(node, Sum):
        return _sum_ready(list(amounts))(_unknown)
    if isinstance(node, Minus):
        return Amount(-first.value, first.slack, first.reach)
    if isinstance(node, Power):
        return _power(first, amounts[1])
    if isinstance(node, Parallel):
        return _beside(first, amounts[1])
    assert isinstance(node, Call)
    return _call(node, amounts)


def _parts_of(node: Node, value_of: ValueOf, amount_of: AmountOf) -> list[Amount] | None:
    found: list[Amount] = []
    for part in parts(node):
        amount = work_out(part, value_of, amount_of)
        if amount is None:
            return None
        found.append(amount)
    return found


def _times(a: Amount, b: Amount) -> Amount:
    (x, x_slack, x_reach), (y, y_slack, y_reach) = a, b
    x_size, y_size = abs(x), abs(y)
    left, right = x_reach * y_size, y_reach * x_size
    return Amount(x * y, x_size * y_slack + y_size * x_slack, left if left >= right else right)


def _over(a: Amount, b: Amount) -> Amount | None:
    (x, x_slack, x_reach), (y, y_slack, y_reach) = a, b
    if y == 0:
        return None
    x_size, size = abs(x), abs(y)
    square = size * size
    left, right = x_reach / size, x_size * y_reach / square
    return Amount(x / y, x_slack / size + x_size * y_slack / square, left if left >= right else right)


def _power(base: Amount, exponent: Amount) -> Amount | None:
    n = exponent.value
    if base.value == 0:
        return Amount(0.0, 0.0, 0.0) if n > 0 else None
    if base.value < 0 and n != int(n):
        return None
    if abs(n) * abs(math.log10(abs(base.value))) > 60:
        return None
    value = abs(base.value) ** n
    if base.value < 0 and int(n) % 2 == 1:
        value = -value
    steep = abs(n * value / base.value)
    return Amount(value, steep * base.slack, max(abs(value), steep * base.reach))


def _beside(a: Amount, b: Amount) -> Amount | None:
    total = a.value + b.value
    if total == 0:
        return None
    value = a.value * b.value / total
    near, far = (b.value / total) ** 2, (a.value / total) ** 2
    return Amount(value, near * a.slack + far * b.slack, max(abs(value), near * a.reach, far * b.reach))


def _call(node: Call, args: list[Amount]) -> Amount | None:
    x = args[0]
    if node.function in ("min", "max"):
        pick = min if node.function == "min" else max
        return pick(args, key=lambda arg: arg.value)
    if node.function == "abs":
        return Amount(abs(x.value), x.slack, x.reach)
    if node.function == "sqrt":
        if x.value < 0:
            return None
        root = math.sqrt(x.value)
        steep = 0.5 / root if root else 0.0
        return Amount(root, steep * x.slack, max(root, steep * x.reach))
    if node.function == "exp":
        if abs(x.value) > 100:
            return None
        value = math.exp(x.value)
        return Amount(value, value * x.slack, value)
    if x.value <= 0:
        return None
    if node.function == "ln":
        return Amount(math.log(x.value), x.slack / x.value, max(1.0, abs(math.log(x.value))))
    if node.function == "log10":
        return Amount(math.log10(x.value), x.slack / x.value / math.log(10), max(1.0, abs(math.log10(x.value))))
    return None


def rounding(value: float, step: float) -> float:
    """How far a written number may be from what it stands for: 1 % or half its last figure, never more than 3 %."""
    return min(max(NUMBER_BAND * abs(value), step / 2), MOST_BAND * abs(value))
