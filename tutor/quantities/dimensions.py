"""Dimensions: exponent vectors over volt, ampere, second and kelvin, and their arithmetic.

Vocabulary: the *dimension* of a quantity is what remains when its number is left aside; a pure number has none.
Volt and ampere are taken as base units because every quantity here is made of them.
Place in the data flow: under the checks of circuits, families and a learner's lines.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from tutor.errors import BadFormula
from tutor.quantities.expression import (
    Add,
    Div,
    Equation,
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
)
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import unit_for, units


@dataclass(frozen=True)
class Dimension:
    """Exponents of volt, ampere, second and kelvin."""

    volt: int = 0
    ampere: int = 0
    second: int = 0
    kelvin: int = 0

    @property
    def exponents(self) -> tuple[int, int, int, int]:
        """The four exponents in order."""
        return (self.volt, self.ampere, self.second, self.kelvin)

    def __mul__(self, other: Dimension) -> Dimension:
        return Dimension(*(a + b for a, b in zip(self.exponents, other.exponents, strict=True)))

    def __truediv__(self, other: Dimension) -> Dimension:
        return Dimension(*(a - b for a, b in zip(self.exponents, other.exponents, strict=True)))

    def __pow__(self, exponent: int) -> Dimension:
        return Dimension(*(a * exponent for a in self.exponents))

    def __str__(self) -> str:
        """The unit of that dimension when it has one of its own, else the product of base units."""
        for unit in units().values():
            if unit.exponents == self.exponents:
                return unit.printed or "a pure number"
        bases = zip(("V", "A", "s", "K"), self.exponents, strict=True)
        return " ".join(base if power == 1 else f"{base}^{power}" for base, power in bases if power)

    def root(self, order: int = 2) -> Dimension | None:
        """The dimension whose square (or power of that order) this is, or None when an exponent has no such part."""
        if any(exponent % order for exponent in self.exponents):
            return None
        return Dimension(*(exponent // order for exponent in self.exponents))


PURE = Dimension()


@cache
def dimension_of_unit(code: str) -> Dimension:
    """The dimension of a unit code; UnknownName when there is no such unit."""
    return Dimension(*unit_for(code).exponents)


def dimension_of(expr: Expr, extra_units: Mapping[str, str] | None = None) -> Dimension:
    """The dimension of an expression; BadFormula names both sides where a sum mixes two.

    Units of symbols come from the table, or from `extra_units` (symbol name to unit code) where that has them.
    """
    return _measure(expr, extra_units or {}) or PURE


def check_equation(equation: Equation, extra_units: Mapping[str, str] | None = None) -> Dimension:
    """The dimension both sides share; BadFormula names the two when they differ."""
    left, right = (_measure(side, extra_units or {}) for side in (equation.lhs, equation.rhs))
    if left is not None and right is not None and left != right:
        raise BadFormula(f"the two sides differ: {left} on the left, {right} on the right", left=left, right=right)
    return left or right or PURE


def _measure(expr: Expr, extra: Mapping[str, str]) -> Dimension | None:
    """As `dimension_of`; None is the zero that agrees with anything."""
    if isinstance(expr, Num):
        return None if expr.value == 0 else PURE
    if isinstance(expr, Val):
        return dimension_of_unit(expr.unit)
    if isinstance(expr, Sym):
        return _of_symbol(expr.name, extra)
    if isinstance(expr, Partial):
        return _of_symbol(expr.of, extra) / _of_symbol(expr.by, extra)
    if isinstance(expr, Add):
        return _common(expr, extra)
    parts = [_measure(part, extra) for part in children(expr)]
    if isinstance(expr, Neg):
        return parts[0]
    if any(part is None for part in parts):
        # 0 × anything and 0/anything stay a zero; a power or root of zero is a zero as well.
        return None
    known = [part for part in parts if part is not None]
    if isinstance(expr, Mul):
        product = PURE
        for part in known:
            product = product * part
        return product
    if isinstance(expr, Div):
        return known[0] / known[1]
    if isinstance(expr, Pow):
        return known[0] ** expr.exponent
    if isinstance(expr, Parallel):
        ohm = dimension_of_unit("ohm")
        for part in known:
            if part != ohm:
                raise BadFormula(f"both sides of ∥ must be resistances (got {part})", left=part, right=ohm)
        return ohm
    return _of_root(expr, known[0])


def _of_symbol(name: str, extra: Mapping[str, str]) -> Dimension:
    return dimension_of_unit(extra[name] if name in extra else symbol_for(name).unit)


def _of_root(expr: Func, inside: Dimension) -> Dimension:
    root = inside.root(3 if expr.name == "cbrt" else 2)
    if root is None:
        raise BadFormula(f"{expr.name} of {inside} has no unit of its own", left=inside, right=PURE)
    return root


def _common(expr: Add, extra: Mapping[str, str]) -> Dimension | None:
    found: Dimension | None = None
    for term in expr.terms:
        here = _measure(term, extra)
        if found is not None and here is not None and here != found:
            raise BadFormula(f"a sum cannot mix {found} and {here}", left=found, right=here)
        found = found or here
    return found
