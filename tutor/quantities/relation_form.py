"""A relation made ready to be written with the numbers of one problem after another.

Vocabulary: the *letters* of a relation are itself under the names in use; *spelled* it has no ∥ any more; a *place* is
where a number goes; *halfway* its outermost operation is kept and each part of it is one number.
Place in the data flow: the relation of a plan's step -> RelationForm, once -> the line of every problem that takes it.
Nothing here depends on numbers.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.errors import BadFormula
from tutor.quantities.dimensions import dimension_of, dimension_of_unit
from tutor.quantities.evaluator import Evaluator, evaluator
from tutor.quantities.expression import (
    LEAVES,
    Add,
    Div,
    Expr,
    Mul,
    Neg,
    Num,
    Parallel,
    Sym,
    children,
    factors,
    rebuild,
    symbols_of,
)
from tutor.quantities.filling import Filler, filler
from tutor.quantities.symbols import symbol_for

_PRINTABLE = ("V", "A", "ohm", "W", "S", "", "V/K", "K", "K/W", "1/A")


@dataclass(frozen=True)
class WorkedPart:
    """A place for a part of a relation worked out: its unit, its value by the numbers of the problem, the symbols in
    it, and whether it is exact (and printed in full) when they are."""

    unit: str
    value: Evaluator
    symbols: tuple[str, ...]
    may_be_exact: bool


@dataclass(frozen=True)
class NumberForm:
    """A relation with places for numbers: of symbols with their units, and of parts worked out, by the names of their
    places; `fill` puts expressions in, `read` finds what a reader comes to with the numbers at the places."""

    symbols: tuple[tuple[str, str], ...]
    worked: tuple[tuple[str, WorkedPart], ...]
    fill: Filler
    read: Evaluator


@dataclass(frozen=True)
class RelationForm:
    """A relation ready to be written as a line: in letters, spelled where that differs, then with numbers put in and
    halfway worked out, each where it says something new. Of one that is 0 (`is_zero`) there is nothing to write."""

    is_zero: bool
    letters: Filler
    spelled: Filler | None
    numbers: tuple[NumberForm, ...]


def relation_form(expr: Expr) -> RelationForm:
    """The form of a relation `quantity = expr`. UnknownName where it holds a symbol that is not in the table."""
    spelled = spell_parallel(expr)
    numbers = () if isinstance(expr, LEAVES) else (number_form(spelled), halfway_form(spelled))
    return RelationForm(
        expr == Num(0),
        filler(expr),
        None if spelled == expr else filler(spelled),
        tuple(form for form in numbers if form is not None),
    )


def number_form(expr: Expr) -> NumberForm:
    """An expression with a place for each of its symbols."""
    return _form(expr, ())


def halfway_form(expr: Expr) -> NumberForm | None:
    """The outermost operation kept, a place for each part of it that is not a leaf; None when there is no such part,
    or when the unit of one is none that is printed."""
    if not isinstance(expr, Add | Div):
        return None
    parts: list[Expr] = []
    worked: list[tuple[str, WorkedPart]] = []
    for part in children(expr):
        inner = part.arg if isinstance(part, Neg) else part
        if isinstance(inner, LEAVES):
            parts.append(part)
            continue
        found = worked_part(inner)
        if found is None:
            return None
        place = f"part {len(worked) + 1}"
        worked.append((place, found))
        parts.append(Neg(Sym(place)) if isinstance(part, Neg) else Sym(place))
    return _form(rebuild(expr, tuple(parts)), tuple(worked)) if worked else None


def _form(expr: Expr, worked: tuple[tuple[str, WorkedPart], ...]) -> NumberForm:
    places = {name for name, _ in worked}
    symbols = tuple((name, symbol_for(name).unit) for name in symbols_of(expr) if name not in places)
    return NumberForm(symbols, worked, filler(expr), evaluator(expr))


def worked_part(expr: Expr) -> WorkedPart | None:
    """A place for a part of a relation as one number; None when its unit is none that is printed."""
    unit = unit_of(expr)
    if unit is None:
        return None
    # A sum of values as given is exact, and printed in full; one with a quotient in it (69.2857142857 Ω) is not.
    return WorkedPart(unit, evaluator(expr), symbols_of(expr), isinstance(expr, Add) and not _divides(expr))


def _divides(expr: Expr) -> bool:
    """Whether a quotient or a parallel stands anywhere in an expression."""
    return isinstance(expr, Div | Parallel) or (
        not isinstance(expr, LEAVES) and any(_divides(part) for part in children(expr))
    )


def unit_of(expr: Expr) -> str | None:
    """The unit code in which an expression of this dimension is printed, or None."""
    try:
        dimension = dimension_of(expr)
    except BadFormula:
        return None
    return next((code for code in _PRINTABLE if dimension_of_unit(code) == dimension), None)


def spell_parallel(expr: Expr) -> Expr:
    """R ∥ r_z written out as a fraction, ready for numbers."""
    if isinstance(expr, LEAVES):
        return expr
    parts = tuple(spell_parallel(part) for part in children(expr))
    if isinstance(expr, Parallel):
        left, right = parts
        return Div(Mul((*factors(left), *factors(right))), Add((left, right)))
    return rebuild(expr, parts)
