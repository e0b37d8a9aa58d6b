"""The one file in which sympy symbols are made: our trees to sympy and back, in a person's order.

Going back, a quotient is written as one fraction, positive terms first, constants last. What may be lost: the order
of a product and brackets that sympy multiplied out; so a law is never sent through here to be printed, only results
of algebra are.
"""

from __future__ import annotations

import operator
from collections.abc import Mapping
from functools import cache, reduce
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray
from sympy.core.random import seed

from tutor.quantities.expression import (
    Add,
    Div,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Partial,
    Pow,
    Sym,
    Val,
    children,
    symbols_of,
)

SympyExpr = Any  # sympy ships no types
Numbers = NDArray[np.complex128]
# The roots that make a power with that denominator; none for a whole power.
_DRAWN = 1  # what the trial points of factoring are drawn from
_ROOTS: dict[int, tuple[str, ...]] = {1: (), 2: ("sqrt",), 3: ("cbrt",), 4: ("sqrt", "sqrt"), 6: ("sqrt", "cbrt")}


@cache
def sympy_symbol(name: str) -> SympyExpr:
    """The one sympy symbol for a letter symbol: real, no sign assumed (a wrongly assumed region may turn it)."""
    return sympy.Symbol(name, real=True)


def to_sympy(expr: Expr) -> SympyExpr:
    """The sympy form of a tree; numbers become exact rationals of their shortest decimal form.

    ValueError for a sensitivity that stands for itself.
    """
    if isinstance(expr, Sym):
        return sympy_symbol(expr.name)
    if isinstance(expr, Num | Val):
        return sympy.Rational(repr(expr.value))
    if isinstance(expr, Partial):
        raise ValueError("a sensitivity standing for itself has no algebra")
    parts = [to_sympy(part) for part in children(expr)]
    if isinstance(expr, Add):
        return sympy.Add(*parts)
    if isinstance(expr, Mul):
        return sympy.Mul(*parts)
    if isinstance(expr, Div):
        return parts[0] / parts[1]
    if isinstance(expr, Neg):
        return -parts[0]
    if isinstance(expr, Pow):
        return parts[0] ** expr.exponent
    if isinstance(expr, Parallel):
        return parts[0] * parts[1] / (parts[0] + parts[1])
    return parts[0] ** sympy.Rational(1, 3) if expr.name == "cbrt" else sympy.sqrt(parts[0])


def numbers_at(form: SympyExpr, letters: Mapping[SympyExpr, Numbers]) -> Numbers:
    """What a form comes to at many places at once, its letters being arrays of equal length; inf or nan where it has
    no value. A part that stands in it several times is worked out once. ValueError for what is neither a number, a sum,
    a product nor a power."""
    found: dict[SympyExpr, Numbers] = dict(letters)
    size = len(next(iter(letters.values())))

    def at(part: SympyExpr) -> Numbers:
        if part not in found:
            found[part] = _number_of(part, [at(inner) for inner in part.args], size)
        return found[part]

    return at(form)


def _number_of(part: SympyExpr, inner: list[Numbers], size: int) -> Numbers:
    if part.is_Number:
        return np.full(size, float(part), dtype=np.complex128)
    if part.is_Add:
        return reduce(operator.add, inner)
    if part.is_Mul:
        return reduce(operator.mul, inner)
    if part.is_Pow and part.exp.is_Integer:
        whole = reduce(operator.mul, [inner[0]] * abs(int(part.exp)))
        return whole if part.exp > 0 else 1 / whole
    if part.is_Pow and part.exp.is_Number:
        power: Numbers = inner[0] ** float(part.exp)
        return power
    raise ValueError(f"no number for {part}")


def from_sympy(form: SympyExpr) -> Expr:
    """A tree a person could have written: one fraction, positive terms first. ValueError where no tree says it."""
    # A number kept before a bracket, −(a + b)/2, is put in again, or it would be taken for a fraction without end.
    whole = sympy.Mul(*form.args) if form.is_Mul else form
    numerator, denominator = sympy.fraction(sympy.together(whole))
    top, bottom = _tree(_shorter(numerator)), _tree(_shorter(denominator))
    if bottom == Num(1):
        return top
    if isinstance(top, Neg):
        return Neg(Div(top.arg, bottom))
    return Div(top, bottom)


def _shorter(form: SympyExpr) -> SympyExpr:
    """A polynomial multiplied out or in factors, whichever is shorter to write."""
    ways = (sympy.factor_terms(sympy.expand(form)), factored(form))
    return min(ways, key=lambda item: (item.count_ops(), str(item)))


def factored(form: SympyExpr) -> SympyExpr:
    """A form in its factors.

    sympy's way to them (Wang's) begins at points that it draws at random, and some lead it astray for minutes: here the
    same are drawn each time, so that a plan takes as long on one machine as on another.
    """
    seed(_DRAWN)
    return sympy.factor(form)


def factors_of(form: SympyExpr) -> list[SympyExpr]:
    """The factors themselves, without numbers, each once; drawn as for `factored`."""
    seed(_DRAWN)
    return [factor for factor, _ in sympy.factor_list(form)[1]]


def _tree(form: SympyExpr) -> Expr:
    if form.is_Symbol:
        return Sym(form.name)
    if form.is_Number:
        return _number(form)
    if form.is_Add:
        terms = [_tree(term) for term in form.as_ordered_terms()]
        return Add(tuple(sorted(terms, key=lambda term: isinstance(term, Neg))))
    if form.is_Pow:
        base, exponent = form.as_base_exp()
        if exponent.is_Rational and exponent.q in _ROOTS:
            root = _tree(base) if exponent.is_Integer else from_sympy(base)
            for name in _ROOTS[exponent.q]:
                root = Func(name, root)
            size = abs(int(exponent.p))
            power = root if size == 1 else Pow(root, size)
            return power if exponent > 0 else Div(Num(1), power)
        raise ValueError(f"no tree for {form}")
    if form.is_Mul:
        if sympy.fraction(form)[1] != 1:
            return from_sympy(form)
        return _product(form)
    raise ValueError(f"no tree for {form}")


def _product(form: SympyExpr) -> Expr:
    coefficient, rest = form.as_coeff_Mul()
    if coefficient.is_negative:
        return Neg(_tree(-form))
    factors = [_tree(factor) for factor in rest.as_ordered_factors()]
    # A root of a bare number goes before the letters, as in √2 V; brackets and other roots go after them.
    factors.sort(key=lambda factor: isinstance(factor, Add | Func) and bool(symbols_of(factor)))
    if coefficient != 1:
        factors.insert(0, _number(coefficient))
    return Mul(tuple(factors))


def _number(form: SympyExpr) -> Expr:
    if form.is_negative:
        return Neg(_number(-form))
    return Num(int(form)) if form.is_Integer else Num(float(form))
