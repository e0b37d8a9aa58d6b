"""A law solved for one of its symbols, as on paper.

A symbol that occurs once is freed by moving everything else across, so the order a person wrote is kept; one that
occurs several times goes through algebra. What may be lost: the negative root of a square (quantities solved for by a
square root are positive in the table of symbols).
"""

from __future__ import annotations

from functools import lru_cache

import sympy

from tutor.laws.algebra import SympyExpr, from_sympy, sympy_symbol
from tutor.laws.closed_form import difference
from tutor.quantities.expression import (
    LEAVES,
    ZEROS,
    Add,
    Div,
    Equation,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Pow,
    Sym,
    children,
    count,
    factors,
    negated,
    sum_of,
)


@lru_cache(maxsize=8192)  # every search asks for the same few laws again
def isolate(equation: Equation, target: str) -> Expr | None:
    """`target` = the returned expression, or None when the equation is not of first degree (or a square) in it."""
    left, right = count(equation.lhs, target), count(equation.rhs, target)
    if left + right == 1:
        side, other = (equation.lhs, equation.rhs) if left else (equation.rhs, equation.lhs)
        return _peel(side, other, target)
    coefficients = polynomial(equation, target)
    if coefficients is None or len(coefficients) != 2 or coefficients[1] == 0:
        return None
    return from_sympy(sympy.cancel(-coefficients[0] / coefficients[1]))


def polynomial(equation: Equation, target: str) -> list[SympyExpr] | None:
    """Coefficients, constant term first, of the polynomial in `target` the equation comes to; None when it is none."""
    numerator = sympy.fraction(sympy.cancel(sympy.together(difference(equation))))[0]
    poly = sympy.expand(numerator).as_poly(sympy_symbol(target))
    return None if poly is None else [sympy.factor_terms(item) for item in reversed(poly.all_coeffs())]


def _peel(side: Expr, other: Expr, target: str) -> Expr | None:
    """Undo, outermost first, whatever stands around the one `target` in `side`."""
    while not isinstance(side, LEAVES):
        inner = next(part for part in children(side) if count(part, target))
        undone = _undo(side, inner, other)
        if undone is None:
            return None
        side, other = inner, undone
    return other


def _undo(side: Expr, inner: Expr, other: Expr) -> Expr | None:
    if isinstance(side, Add):
        start: list[Expr] = list(other.terms) if isinstance(other, Add) else [other]
        return tidy_sum(start + [_turned(term) for term in side.terms if term is not inner])
    if isinstance(side, Mul):
        rest = [factor for factor in side.factors if factor is not inner]
        return quotient(other, rest[0] if len(rest) == 1 else Mul(tuple(rest)))
    if isinstance(side, Div):
        return product(other, side.den) if side.num is inner else quotient(side.num, other)
    if isinstance(side, Neg):
        return _turned(other)
    if isinstance(side, Pow):
        return Func("sqrt", other) if side.exponent == 2 else None
    if isinstance(side, Parallel):
        rest_of = side.right if side.left is inner else side.left
        return Div(product(other, rest_of), Add((rest_of, _turned(other))))
    return Pow(other, 3 if side.name == "cbrt" else 2) if isinstance(side, Func) else None


def _turned(expr: Expr) -> Expr:
    """The same with the other sign, each term of a sum for itself."""
    return tidy_sum([_turned(term) for term in expr.terms]) if isinstance(expr, Add) else negated(expr)


def tidy_sum(terms: list[Expr]) -> Expr:
    """A sum with zeros dropped, positive leaves first, then positive products, then what is taken away."""

    def place(term: Expr) -> int:
        return 2 if isinstance(term, Neg) else 0 if isinstance(term, Sym | Num) else 1

    return sum_of(sorted((term for term in terms if term not in ZEROS), key=place))


def quotient(top: Expr, bottom: Expr) -> Expr:
    """top / bottom, with 0 / x written 0, a minus before the whole and a quotient on top not stacked."""
    if top == Num(0):
        return top
    if isinstance(top, Neg):
        return Neg(quotient(top.arg, bottom))
    if isinstance(top, Div):
        return Div(top.num, product(top.den, bottom))
    return Div(top, bottom)


def product(left: Expr, right: Expr) -> Expr:
    """left x right as one flat product; a quotient on the left keeps its bar."""
    if isinstance(left, Div):
        return Div(product(left.num, right), left.den)
    return Mul((*factors(left), *factors(right)))
