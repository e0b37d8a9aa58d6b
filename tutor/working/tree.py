"""What a line of working reads as: a chain of expressions, each node with its columns in the text as typed.

Vocabulary: a *literal* is a number as typed, with every meaning it may have (47 K: kilohms or kelvins), *bare* when it
has neither unit nor prefix. A *name* is a symbol of the circuit, the learner's own, or unknown. A *member* is one side
of a relation; a line is one *chain* of members. *Columns* are (first, past), counted from 1 in code points.
Place in the data flow: text -> `read.py` -> Line -> dimensions, truth, findings. `site/assets/reader.js` does likewise.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from types import MappingProxyType
from typing import Any, cast

Columns = tuple[int, int]
Exponents = tuple[int, int, int, int]  # of volt, ampere, second, kelvin
PURE: Exponents = (0, 0, 0, 0)
MOST_NODES, MOST_NESTED = 400, 160  # of a chain, its own symbols put in; more than any one line has


class _Told:
    """What is asked of a tree many times over, told once."""

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Its symbols, each once, in order of first use."""
        if isinstance(self, Name):
            return (self.name,)
        inner = [part.names for part in parts(cast(Node, self))]
        return inner[0] if len(inner) == 1 else tuple(dict.fromkeys(itertools.chain.from_iterable(inner)))

    @cached_property
    def literals(self) -> tuple[Literal, ...]:
        """Its numbers, left to right."""
        if isinstance(self, Literal):
            return (self,)
        return tuple(item for part in parts(cast(Node, self)) for item in part.literals)


@dataclass(frozen=True)
class Meaning:
    """One meaning of a literal: its value in SI (°C for temperatures, percent as a fraction), what one unit of its last
    figure is worth, its dimension (None: no unit was written), and the unit's code ('' when none)."""

    value: float
    step: float
    exponents: Exponents | None
    unit: str


@dataclass(frozen=True)
class Literal(_Told):
    """A number as typed. `figures` as written (trailing zeros count); `power` of ten that prefix and unit brought (−3
    for 5 mA and for 5m); `bare`: neither unit nor prefix; meanings in order of preference."""

    columns: Columns
    meanings: tuple[Meaning, ...]
    figures: int
    power: int
    bare: bool


class Standing(Enum):
    """Whose symbol a name is."""

    CIRCUIT = "circuit"
    OWN = "own"  # defined by the learner on an earlier line
    UNKNOWN = "unknown"  # allowed alone on the left only, where it defines


@dataclass(frozen=True)
class Name(_Told):
    """A symbol by its name in the table (`V_I_MAX`, `DV_O`) or, when it is none of the circuit's, as typed."""

    columns: Columns
    name: str
    standing: Standing


@dataclass(frozen=True)
class Minus(_Told):
    """−x, also as a subtracted term."""

    columns: Columns
    arg: Node


@dataclass(frozen=True)
class Sum(_Told):
    """A sum of two terms or more."""

    columns: Columns
    terms: tuple[Node, ...]


@dataclass(frozen=True)
class Product(_Told):
    """A product of two factors or more, written or implied."""

    columns: Columns
    factors: tuple[Node, ...]


@dataclass(frozen=True)
class Quotient(_Told):
    """over/under."""

    columns: Columns
    over: Node
    under: Node


@dataclass(frozen=True)
class Power(_Told):
    """base^exponent; the exponent is pure."""

    columns: Columns
    base: Node
    exponent: Node


@dataclass(frozen=True)
class Parallel(_Told):
    """left ∥ right."""

    columns: Columns
    left: Node
    right: Node


@dataclass(frozen=True)
class Call(_Told):
    """A function of one argument (sqrt, ln, log10, exp, abs) or of two or more (min, max)."""

    columns: Columns
    function: str
    args: tuple[Node, ...]


@dataclass(frozen=True)
class Spread(_Told):
    """base ± share, the share a percentage."""

    columns: Columns
    base: Node
    share: Literal


def pure_number(columns: Columns, value: float) -> Literal:
    """A number that no learner wrote, exact and without a unit, at the columns it stands for."""
    return Literal(columns, (Meaning(value, 0.0, None, ""),), 1, 0, bare=True)


Node = Literal | Name | Minus | Sum | Product | Quotient | Power | Parallel | Call | Spread


class LineKind(Enum):
    """What a line is before it is judged."""

    BLANK = "blank"
    NOTE = "note"  # words only, or a question to oneself
    CHAIN = "chain"
    HYPOTHESIS = "hypothesis"  # assume, suppose, if: `words` say what
    RELEASE = "release"  # so not: the hypothesis is given up
    UNREAD = "unread"


@dataclass(frozen=True)
class Relation:
    """A relation between two members: one of = ≈ < > ≤ ≥."""

    columns: Columns
    sign: str


def equates(sign: str) -> bool:
    """Whether a relation's sign says that its members are equal, exactly or nearly; the others order them."""
    return sign in ("=", "≈")


@dataclass(frozen=True)
class Misread:
    """Why a line cannot be read: the code of the row in the table of misread forms, the sentence, the columns."""

    fault: str
    sentence: str
    columns: Columns


@dataclass(frozen=True)
class Line:
    """One line read. `members` has one more entry than `relations`; one member alone is an unfinished chain.

    `continued`: the line begins with a relation and goes on with the chain before; `members` then holds the members
    after that relation, and `relations` as many. `choice`: choose, take, use, pick or select stood before the chain.
    `label` is what stood before a colon, `words` what followed a comma (or, in a note or hypothesis, the words).
    """

    kind: LineKind
    members: tuple[Node, ...] = ()
    relations: tuple[Relation, ...] = ()
    continued: bool = False
    choice: bool = False
    label: str = ""
    words: str = ""
    misread: Misread | None = None


def without_extreme(name: str) -> str:
    """The name of a symbol without its least or greatest: I_L of I_L_MAX."""
    return name.removesuffix("_MIN").removesuffix("_MAX")


_PARTS: Mapping[type, Callable[[Any], tuple[Node, ...]]] = MappingProxyType({
    Literal: lambda node: (),
    Name: lambda node: (),
    Minus: lambda node: (node.arg,),
    Sum: lambda node: node.terms,
    Product: lambda node: node.factors,
    Quotient: lambda node: (node.over, node.under),
    Power: lambda node: (node.base, node.exponent),
    Parallel: lambda node: (node.left, node.right),
    Call: lambda node: node.args,
    Spread: lambda node: (node.base, node.share),
})  # fmt: skip


def parts(node: Node) -> tuple[Node, ...]:
    """The direct parts of a node, in the order written."""
    return _PARTS[node.__class__](node)


def rebuilt(node: Node, inner: tuple[Node, ...]) -> Node:
    """The same kind of node, in the same columns, over other parts."""
    match node:
        case Literal() | Name():
            return node
        case Minus(columns, _):
            return Minus(columns, inner[0])
        case Sum(columns, _):
            return Sum(columns, inner)
        case Product(columns, _):
            return Product(columns, inner)
        case Quotient(columns, _, _):
            return Quotient(columns, inner[0], inner[1])
        case Power(columns, _, _):
            return Power(columns, inner[0], inner[1])
        case Parallel(columns, _, _):
            return Parallel(columns, inner[0], inner[1])
        case Call(columns, function, _):
            return Call(columns, function, inner)
        case Spread(columns, _, share):
            return Spread(columns, inner[0], share)


def with_leaves(node: Node, leaf: Callable[[Literal | Name], Node]) -> Node:
    """The tree with every number and symbol replaced by `leaf(it)`."""
    if isinstance(node, Literal | Name):
        return leaf(node)
    return rebuilt(node, tuple(with_leaves(part, leaf) for part in parts(node)))


def placed(node: Node, columns: Columns) -> Node:
    """The tree with every part at the given columns: what was put for a number stands where the number stood."""
    inner = rebuilt(node, tuple(placed(part, columns) for part in parts(node)))
    return replace(inner, columns=columns)


def outgrows(members: Iterable[Node], own: Mapping[str, Node]) -> bool:
    """Whether members, with what the learner's own symbols stand for put in, are more than can be judged.

    Symbols built on symbols may double with every line, and nest deeper with each. Nothing is put in here, so that the
    answer costs no more than the cap. What the reader lets through of one line without such symbols never outgrows.
    """
    count = 0
    waiting = [(member, 1) for member in members]
    while waiting:
        node, depth = waiting.pop()
        meaning = own.get(node.name) if isinstance(node, Name) and node.standing is Standing.OWN else None
        count += 1
        if count > MOST_NODES or depth > MOST_NESTED:
            return True
        waiting += [(meaning, depth)] if meaning is not None else [(part, depth + 1) for part in parts(node)]
    return False
