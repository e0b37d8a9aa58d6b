"""Single edits of a tree, each undoing one ordinary slip: a wrong line that one of them heals shows what went wrong.

Vocabulary: an *edit* is the healed tree, where it was healed, the kind of slip and its words. The kinds are the general
slips: sign, term left out, term too many, upside down, parallel for series, factor of two, wrong symbol, square.
Place in the data flow: a relation that is not true -> edits -> the first that is true names the slip (`reasons.py`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from tutor.working.sayings import say
from tutor.working.tree import (
    PURE,
    Columns,
    Exponents,
    Minus,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Standing,
    Sum,
    parts,
    pure_number,
    rebuilt,
    without_extreme,
)

DimensionOf = Callable[[str], Exponents | None]


@dataclass(frozen=True)
class Edit:
    """A tree with one slip undone: the kind of slip, what it was in words, and the columns at fault."""

    tree: Node
    kind: str
    words: str
    columns: Columns


def edits_of(node: Node, names: Iterable[str], dimension_of: DimensionOf) -> Iterator[Edit]:
    """Every single edit of a tree, the commonest slips first; `names` are symbols that may have been left out."""
    known = tuple(names)
    yield from _everywhere(node, _signs)
    yield from _everywhere(node, _swapped)
    yield from _everywhere(node, lambda part: _symbols(part, known, dimension_of))
    yield from _everywhere(node, lambda part: _left_out(part, known, dimension_of))
    yield from _everywhere(node, _too_many)
    yield from _whole(node)


def _everywhere(node: Node, change: Callable[[Node], Iterator[Edit]]) -> Iterator[Edit]:
    """An edit of the tree itself or of any part of it, put back in its place."""
    yield from change(node)
    inner = parts(node)
    for index, part in enumerate(inner):
        for edit in _everywhere(part, change):
            healed = rebuilt(node, (*inner[:index], edit.tree, *inner[index + 1 :]))
            yield Edit(healed, edit.kind, edit.words, edit.columns)


def text_of(node: Node) -> str:
    """A short name for a part: its symbol, or 'this term'."""
    inner = node.arg if isinstance(node, Minus) else node
    return inner.name if isinstance(inner, Name) else say("this-term")


def _signs(node: Node) -> Iterator[Edit]:
    if isinstance(node, Sum):
        for index, term in enumerate(node.terms):
            turned = term.arg if isinstance(term, Minus) else Minus(term.columns, term)
            terms = (*node.terms[:index], turned, *node.terms[index + 1 :])
            yield Edit(Sum(node.columns, terms), "sign", say("sign-turned", part=text_of(term)), term.columns)
    elif isinstance(node, Minus):
        yield Edit(node.arg, "sign", say("sign-turned", part=text_of(node)), node.columns)


def _swapped(node: Node) -> Iterator[Edit]:
    if isinstance(node, Quotient):
        yield Edit(Quotient(node.columns, node.under, node.over), "inverted", say("upside-down"), node.columns)
        words = say("multiplies-here", part=text_of(node.under))
        yield Edit(Product(node.columns, (node.over, node.under)), "inverted", words, node.under.columns)
    if isinstance(node, Product) and len(node.factors) == 2:
        first, second = node.factors
        for over, under in ((first, second), (second, first)):
            words = say("divides-here", part=text_of(under))
            yield Edit(Quotient(node.columns, over, under), "inverted", words, under.columns)
    if isinstance(node, Parallel):
        yield Edit(Sum(node.columns, (node.left, node.right)), "parallel", say("in-series"), node.columns)
    if isinstance(node, Sum) and len(node.terms) == 2 and not any(isinstance(term, Minus) for term in node.terms):
        beside = Parallel(node.columns, node.terms[0], node.terms[1])
        yield Edit(beside, "parallel", say("side-by-side"), node.columns)
    if isinstance(node, Power):
        yield Edit(node.base, "square", say("not-squared", part=text_of(node.base)), node.columns)


def _symbols(node: Node, names: tuple[str, ...], dimension_of: DimensionOf) -> Iterator[Edit]:
    if not isinstance(node, Name):
        return
    own = dimension_of(node.name)
    stem = without_extreme(node.name)
    ranked = sorted(names, key=lambda name: not name.startswith(stem))
    for name in ranked:
        if name != node.name and dimension_of(name) == own:
            wrong_end = without_extreme(name) == stem
            kind = "corner" if wrong_end else "symbol"
            words = say("belongs-here", right=name, wrong=node.name)
            yield Edit(Name(node.columns, name, Standing.CIRCUIT), kind, words, node.columns)
    squared = Power(node.columns, node, pure_number(node.columns, 2.0))
    yield Edit(squared, "square", say("to-be-squared", name=node.name), node.columns)


def _left_out(node: Node, names: tuple[str, ...], dimension_of: DimensionOf) -> Iterator[Edit]:
    """A term missing from a sum, or beside a lone symbol or quotient that should be a sum."""
    terms = node.terms if isinstance(node, Sum) else (node,)
    if not isinstance(node, Sum | Name | Quotient | Product):
        return
    dimension = _dimension(terms[0], dimension_of)
    present = {text_of(term) for term in terms}
    for name in names:
        if name in present or (dimension is not None and dimension_of(name) != dimension):
            continue
        if dimension is None and not isinstance(node, Sum):
            continue
        new = Name(node.columns, name, Standing.CIRCUIT)
        for term in (new, Minus(node.columns, new)):
            yield Edit(Sum(node.columns, (*terms, term)), "left-out", say("left-out", name=name), node.columns)
    if dimension == PURE and isinstance(node, Name):
        one = pure_number(node.columns, 1.0)
        words = say("one-left-out", name=node.name)
        yield Edit(Sum(node.columns, (node, one)), "left-out", words, node.columns)


def _dimension(node: Node, dimension_of: DimensionOf) -> Exponents | None:
    inner = node.arg if isinstance(node, Minus) else node
    if isinstance(inner, Name):
        return dimension_of(inner.name)
    if isinstance(inner, Quotient):
        over, under = _dimension(inner.over, dimension_of), _dimension(inner.under, dimension_of)
        if over is None or under is None:
            return None
        return (over[0] - under[0], over[1] - under[1], over[2] - under[2], over[3] - under[3])
    if isinstance(inner, Sum):
        return _dimension(inner.terms[0], dimension_of)
    return None


def _too_many(node: Node) -> Iterator[Edit]:
    if isinstance(node, Sum):
        for index, term in enumerate(node.terms):
            kept = (*node.terms[:index], *node.terms[index + 1 :])
            tree: Node = kept[0] if len(kept) == 1 else Sum(node.columns, kept)
            yield Edit(tree, "too-many", say("not-here", part=text_of(term)), term.columns)
    if isinstance(node, Product):
        for index, factor in enumerate(node.factors):
            left = (*node.factors[:index], *node.factors[index + 1 :])
            tree = left[0] if len(left) == 1 else Product(node.columns, left)
            yield Edit(tree, "too-many", say("not-here", part=text_of(factor)), factor.columns)
    if isinstance(node, Quotient):
        yield Edit(node.over, "too-many", say("not-here", part=text_of(node.under)), node.under.columns)


def _whole(node: Node) -> Iterator[Edit]:
    yield Edit(Minus(node.columns, node), "sign", say("whole-sign-turned"), node.columns)
    two = pure_number(node.columns, 2.0)
    yield Edit(Quotient(node.columns, node, two), "factor-two", say("twice-too-large"), node.columns)
    yield Edit(Product(node.columns, (two, node)), "factor-two", say("only-half"), node.columns)
    one = pure_number(node.columns, 1.0)
    yield Edit(Quotient(node.columns, one, node), "inverted", say("reciprocal"), node.columns)
