"""Do the units of a line agree? A number without a unit may stand for any quantity; a symbol and a unit may not.

Vocabulary: an *open* dimension (None) is that of a number whose unit was left out, or of what such a number went into:
it agrees with anything. A *clash* names two places whose dimensions differ.
Place in the data flow: tree -> dimensions or a clash -> findings. Nothing is raised for what a learner wrote.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from tutor.quantities.dimensions import Dimension
from tutor.quantities.misread import kinds
from tutor.working.sayings import say
from tutor.working.tree import (
    PURE,
    Call,
    Columns,
    Exponents,
    Literal,
    Minus,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Relation,
    Spread,
    Sum,
    parts,
    rebuilt,
)

LEFT_OUT = "?"  # the unit code of a small whole number that is read as a quantity, its unit left out
MOST_WHOLE = 12  # a whole number up to this is a coefficient before it is a quantity
DimensionOf = Callable[[str], Exponents | None]


@dataclass(frozen=True)
class UnitClash:
    """Two places of a line whose units do not agree, and the sentence that says so."""

    sentence: str
    columns: Columns


class _Clashing(Exception):
    """Leaves the walk from any depth; never leaves this module."""

    def __init__(self, sentence: str, columns: Columns) -> None:
        super().__init__(sentence)
        self.clash = UnitClash(sentence, columns)


def dimension_of_member(node: Node, dimension_of: DimensionOf) -> Exponents | None:
    """The dimension of one side, None where it is open or its parts clash."""
    try:
        return _measure(node, dimension_of)
    except _Clashing:
        return None


def clash_in(members: tuple[Node, ...], relations: tuple[Relation, ...], dimension_of: DimensionOf) -> UnitClash | None:
    """The first place where the units of a chain disagree, or None."""
    try:
        sides = [_measure(member, dimension_of) for member in members]
    except _Clashing as found:
        return found.clash
    first: Exponents | None = None
    for side, member in zip(sides, members, strict=True):
        if side is None:
            continue
        if first is not None and side != first:
            return UnitClash(say("sides-differ", left=words_of(first), right=words_of(side)), member.columns)
        first = first or side
    return None


def words_of(exponents: Exponents) -> str:
    """A dimension in words: `a current (A)`."""
    if exponents == PURE:
        return say("pure")
    kind, unit = kinds().get(exponents), str(Dimension(*exponents))
    return f"{kind} ({unit})" if kind else say("quantity-in", unit=unit)


def is_coefficient(node: Node) -> bool:
    """Whether a number is a pure coefficient: whole, small, without unit or prefix."""
    if not isinstance(node, Literal) or not node.bare or len(node.meanings) != 1:
        return False
    value = node.meanings[0].value
    return node.meanings[0].unit != LEFT_OUT and value == int(value) and 0 <= value <= MOST_WHOLE


def with_units_left_out(members: tuple[Node, ...]) -> tuple[Node, ...]:
    """Small whole numbers read as quantities without their unit; exponents stay pure."""
    return tuple(_left_out(member) for member in members)


def _left_out(node: Node) -> Node:
    if isinstance(node, Literal):
        if not is_coefficient(node) or node.meanings[0].value == 0:
            return node
        return replace(node, meanings=(replace(node.meanings[0], unit=LEFT_OUT),))
    if isinstance(node, Power):
        return replace(node, base=_left_out(node.base))
    return rebuilt(node, tuple(_left_out(part) for part in parts(node)))


def are_pure(members: tuple[Node, ...], relations: tuple[Relation, ...], dimension_of: DimensionOf) -> bool:
    """Whether the units of a chain agree with every small whole number taken as pure."""
    return clash_in(tuple(_as_pure(member) for member in members), relations, dimension_of) is None


def pure_beside_symbols(members: tuple[Node, ...], dimension_of: DimensionOf) -> tuple[bool, ...]:
    """For each member, whether the numbers beside its symbols are pure: taken so, it has the unit of another member."""
    sides = [_as_pure(member, lambda literal: literal.bare) if member.names else member for member in members]
    measured = [dimension_of_member(side, dimension_of) for side in sides]
    return tuple(
        bool(member.names) and mine is not None and mine in (*measured[:at], *measured[at + 1 :])
        for at, (member, mine) in enumerate(zip(members, measured, strict=True))
    )


def _as_pure(node: Node, is_meant: Callable[[Literal], bool] = is_coefficient) -> Node:
    if isinstance(node, Literal):
        if not is_meant(node) or node.meanings[0].value == 0:
            return node
        return replace(node, meanings=(replace(node.meanings[0], exponents=PURE),), bare=False)
    return rebuilt(node, tuple(_as_pure(part, is_meant) for part in parts(node)))


def _measure(node: Node, dimension_of: DimensionOf) -> Exponents | None:
    if isinstance(node, Literal):
        return node.meanings[0].exponents
    if isinstance(node, Name):
        return dimension_of(node.name)
    if isinstance(node, Minus):
        return _measure(node.arg, dimension_of)
    if isinstance(node, Spread):
        return _measure(node.base, dimension_of)
    if isinstance(node, Sum):
        return _common(node.terms, "sum-mixes", dimension_of)
    if isinstance(node, Parallel):
        return _common((node.left, node.right), "beside-mixes", dimension_of)
    if isinstance(node, Power):
        return _of_power(node, dimension_of)
    if isinstance(node, Call):
        return _of_call(node, dimension_of)
    if isinstance(node, Quotient):
        over, under = _measure(node.over, dimension_of), _measure(node.under, dimension_of)
        return None if over is None or under is None else _combined(over, under, -1)
    assert isinstance(node, Product)
    product: Exponents | None = PURE
    for factor in node.factors:
        side = PURE if is_coefficient(factor) and len(node.factors) > 1 else _measure(factor, dimension_of)
        product = None if product is None or side is None else _combined(product, side, 1)
    # A small whole number may still be a quantity whose unit was left out (5 for 5 mA).
    return None if any(is_coefficient(factor) for factor in node.factors) else product


def _combined(a: Exponents, b: Exponents, sign: int) -> Exponents:
    return (a[0] + sign * b[0], a[1] + sign * b[1], a[2] + sign * b[2], a[3] + sign * b[3])


def _common(
    nodes: tuple[Node, ...], saying: str, dimension_of: DimensionOf, function: str = ""
) -> Exponents | None:
    """The dimension that all of some nodes have; clashing, by that saying, where two differ."""
    found: Exponents | None = None
    for node in nodes:
        side = _measure(node, dimension_of)
        if side is None:
            continue
        if found is not None and side != found:
            words = say(saying, left=words_of(found), right=words_of(side), function=function)
            raise _Clashing(words, node.columns)
        found = side
    return found


def _of_power(node: Power, dimension_of: DimensionOf) -> Exponents | None:
    exponent = _measure(node.exponent, dimension_of)
    if exponent is not None and exponent != PURE:
        raise _Clashing(say("exponent-not-pure", got=words_of(exponent)), node.exponent.columns)
    base = _measure(node.base, dimension_of)
    if base is None or base == PURE:
        return base
    times = _plain_value(node.exponent)
    if times is None or any((2 * times * item) % 2 for item in base):
        return None
    return (int(base[0] * times), int(base[1] * times), int(base[2] * times), int(base[3] * times))


def _plain_value(node: Node) -> float | None:
    """The value of an exponent written as a number, a signed one or a quotient of two."""
    if isinstance(node, Literal):
        return node.meanings[0].value
    if isinstance(node, Minus):
        inner = _plain_value(node.arg)
        return None if inner is None else -inner
    if isinstance(node, Quotient):
        over, under = _plain_value(node.over), _plain_value(node.under)
        return over / under if over is not None and under else None
    return None


def _of_call(node: Call, dimension_of: DimensionOf) -> Exponents | None:
    if node.function in ("min", "max", "abs"):
        return _common(node.args, "function-mixes", dimension_of, node.function)
    inside = _measure(node.args[0], dimension_of)
    if node.function == "sqrt":
        if inside is None:
            return None
        if any(item % 2 for item in inside):
            raise _Clashing(say("root-without-unit", got=words_of(inside)), node.columns)
        return (inside[0] // 2, inside[1] // 2, inside[2] // 2, inside[3] // 2)
    if inside is not None and inside != PURE:
        words = say("argument-not-pure", function=node.function, got=words_of(inside))
        raise _Clashing(words, node.args[0].columns)
    return PURE
