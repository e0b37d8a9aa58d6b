"""Numbers put exactly into relations: as fractions, so that what cancels on paper cancels to nothing.

Place in the data flow: known values (SI) -> fractions -> trees in which they stand in place of symbols -> `coupled.py`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from tutor.quantities.expression import (
    Add,
    Div,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Pow,
    Sym,
    Val,
    children,
    cube_root,
    substitute,
    symbols_of,
)


def fraction_of(value: float) -> Fraction:
    """A number as written: the fraction of its shortest decimal form."""
    return Fraction(value) if isinstance(value, int) else Fraction(repr(float(value)))


def exact(expr: Expr, numbers: Mapping[str, Fraction]) -> Fraction | None:
    """The fraction an expression comes to; None where a symbol has no number or it divides by nothing.

    A root that is no fraction is taken to the figures of a float; of a number below zero there is none.
    """
    if not all(name in numbers for name in symbols_of(expr)):
        return None
    try:
        return _exact(expr, numbers)
    except (ZeroDivisionError, ValueError):
        return None


def _exact(expr: Expr, numbers: Mapping[str, Fraction]) -> Fraction:
    if isinstance(expr, Sym):
        return numbers[expr.name]
    if isinstance(expr, Num | Val):
        return fraction_of(expr.value)
    parts = [_exact(part, numbers) for part in children(expr)]
    if isinstance(expr, Add):
        return sum(parts, Fraction(0))
    if isinstance(expr, Mul):
        return math.prod(parts, start=Fraction(1))
    if isinstance(expr, Div):
        return parts[0] / parts[1]
    if isinstance(expr, Neg):
        return -parts[0]
    if isinstance(expr, Pow):
        return Fraction(parts[0] ** expr.exponent)
    if isinstance(expr, Parallel):
        return parts[0] * parts[1] / (parts[0] + parts[1])
    if isinstance(expr, Func) and expr.name == "cbrt":
        return fraction_of(cube_root(float(parts[0])))
    return fraction_of(math.sqrt(parts[0]))


def with_fractions(expr: Expr, numbers: Mapping[str, Fraction]) -> Expr:
    """An expression with a fraction in place of each symbol that has a number."""
    return substitute(expr, {name: _tree(numbers[name]) for name in symbols_of(expr) if name in numbers})


def _tree(number: Fraction) -> Expr:
    return Num(number.numerator) if number.denominator == 1 else Div(Num(number.numerator), Num(number.denominator))
