"""One relation as a line of working: symbols, then numbers, then what can be worked out, then the result.

Vocabulary: *naming* says under which name each symbol of a plan is shown (V_I as V_I_MIN at the lowest line); *figures*
are those a number is written with: all of them for a given, three or four for a result.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.errors import BadFormula
from tutor.quantities.dimensions import dimension_of, dimension_of_unit
from tutor.quantities.expression import (
    LEAVES,
    Add,
    Div,
    Equation,
    Expr,
    Mul,
    Neg,
    Num,
    Parallel,
    Sym,
    Val,
    children,
    evaluate,
    rebuild,
    substitute,
    symbols_of,
)
from tutor.quantities.quantity import EXACT_FIGURES, Quantity, as_printed, given
from tutor.quantities.symbols import symbol_for
from tutor.solution.solution import Chain

MOST_FIGURES_MORE = 3
ENOUGH = 0.005  # of the result: this near it a reader's own arithmetic agrees with what is printed
_PRINTABLE = ("V", "A", "ohm", "W", "S", "", "V/K", "K", "K/W", "1/A")


@dataclass(frozen=True)
class Reading:
    """The names and numbers a line is written with: shown name, value (SI) and whether it is a given, by symbol.

    With `in_full` numbers get more figures where terms cancel. Own numbers go without: their pages print each line
    before its numbers are known.
    """

    names: Mapping[str, Expr]
    values: Mapping[str, float]
    exact: frozenset[str]
    in_full: bool = False

    def quantity(self, name: str) -> Quantity:
        """The value of a symbol as it is printed."""
        unit = symbol_for(name).unit
        return given(self.values[name], unit) if name in self.exact else Quantity(self.values[name], unit)

    def val(self, name: str) -> Val:
        """The value of a symbol as a leaf of an expression."""
        quantity = self.quantity(name)
        return Val(quantity.value, quantity.unit, quantity.figures)


def shown(expr: Expr, reading: Reading) -> Expr:
    """The expression under the names in use."""
    return substitute(expr, reading.names)


def with_numbers(expr: Expr, reading: Reading, keep: str = "") -> Expr:
    """The expression with numbers for symbols, `keep` left as the unknown, and whatever has no value as it is."""
    known = [name for name in symbols_of(expr) if name != keep and name in reading.values]
    put: dict[str, Expr] = {name: reading.val(name) for name in known}
    return substitute(expr, put)


def line(target: Expr, expr: Expr, reading: Reading, result: Quantity) -> Chain:
    """`target = symbols = numbers = worked out part by part = result`, each part only where it says something new."""
    if expr == Num(0):
        return Chain(target, (("=", Val(0.0, result.unit)),))
    parts: list[tuple[str, Expr]] = [("=", shown(expr, reading))]
    spelled = spell_parallel(expr)
    if spelled != expr:
        parts.append(("=", shown(spelled, reading)))
    final = Val(result.value, result.unit, result.figures)
    numbers = _telling(with_numbers(spelled, reading), final, reading)
    if not isinstance(expr, LEAVES) and numbers != final:
        parts.append(("=", numbers))
        halfway = worked_out(spelled, reading)
        if halfway is not None and halfway not in (numbers, final):
            parts.append(("=", _telling(halfway, final, reading)))
    parts.append(("=", final))
    return Chain(target, tuple(parts))


def _telling(numbers: Expr, final: Val, reading: Reading) -> Expr:
    """The numbers with as many figures as a reader needs to come to the result: 20.65 V − 16.5 V = 4.15 V, where three
    figures would give 4.1 V. Numbers given, and those that come near enough anyhow, stay as they are."""
    if not reading.in_full:
        return numbers
    for more in range(MOST_FIGURES_MORE + 1):
        told = _with_figures(numbers, more)
        try:
            found = evaluate(_read(told), {})
        except (ArithmeticError, KeyError):
            return numbers
        if abs(found - final.value) <= ENOUGH * abs(final.value):
            return told
    return numbers


def _with_figures(expr: Expr, more: int) -> Expr:
    """Each number that is no given with so many figures more."""
    if isinstance(expr, Val):
        given_in_full = expr.figures >= EXACT_FIGURES
        return expr if given_in_full or not more else Val(expr.value, expr.unit, expr.figures + more)
    if isinstance(expr, LEAVES):
        return expr
    return rebuild(expr, tuple(_with_figures(part, more) for part in children(expr)))


def _read(expr: Expr) -> Expr:
    """The numbers as a reader takes them from the page."""
    if isinstance(expr, Val):
        return Val(as_printed(expr.value, expr.figures), expr.unit, expr.figures)
    if isinstance(expr, LEAVES):
        return expr
    return rebuild(expr, tuple(_read(part) for part in children(expr)))


def spell_parallel(expr: Expr) -> Expr:
    """R ∥ r_z written out as a fraction, ready for numbers."""
    if isinstance(expr, LEAVES):
        return expr
    parts = tuple(spell_parallel(part) for part in children(expr))
    if isinstance(expr, Parallel):
        left, right = parts
        return Div(Mul((*factors(left), *factors(right))), Add((left, right)))
    return rebuild(expr, parts)


def factors(expr: Expr) -> tuple[Expr, ...]:
    """The factors of a product, or the expression itself."""
    return expr.factors if isinstance(expr, Mul) else (expr,)


def worked_out(expr: Expr, reading: Reading) -> Expr | None:
    """The outermost operation kept, each part of it that is not a leaf worked out; None when nothing changes."""
    if not isinstance(expr, Add | Div):
        return None
    parts = []
    changed = False
    for part in children(expr):
        inner = part.arg if isinstance(part, Neg) else part
        if isinstance(inner, LEAVES):
            parts.append(with_numbers(part, reading))
            continue
        value = value_of(inner, reading)
        if value is None:
            return None
        changed = True
        parts.append(Neg(value) if isinstance(part, Neg) else value)
    return rebuild(expr, tuple(parts)) if changed else None


def value_of(expr: Expr, reading: Reading) -> Val | None:
    """A part of a relation as one number with its unit; None when its unit is none that is printed."""
    unit = unit_of(expr)
    if unit is None:
        return None
    value = float(evaluate(expr, reading.values))
    # A sum of values as given is exact, and printed in full; one with a quotient in it (69.2857142857 Ω) is not.
    exact = all(name in reading.exact for name in symbols_of(expr)) and isinstance(expr, Add) and not _divides(expr)
    return Val(value, unit, 12 if exact else 3)


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


def equation_lines(equation: Equation, unknown: str, reading: Reading) -> tuple[Chain, ...]:
    """A coupled equation: under its names, with numbers, and collected to `a × unknown = b` where it is linear."""
    lines = [Chain(shown(equation.lhs, reading), (("=", shown(equation.rhs, reading)),))]
    left, right = (with_numbers(spell_parallel(side), reading, unknown) for side in (equation.lhs, equation.rhs))
    named = _renamed(unknown, reading)
    lines.append(Chain(substitute(left, named), (("=", substitute(right, named)),)))
    collected = _collected(equation, unknown, reading)
    if collected is not None:
        slope, constant, unit = collected
        slope_unit = unit_of(Div(equation_unit_probe(equation), Sym(unknown)))
        if slope_unit is not None:
            factor = Val(slope, slope_unit)
            lines.append(Chain(Mul((factor, shown(Sym(unknown), reading))), (("=", Val(constant, unit)),)))
    return tuple(lines)


def equation_unit_probe(equation: Equation) -> Expr:
    """A side of an equation whose dimension can be told (not a bare zero)."""
    return equation.rhs if equation.lhs == Num(0) else equation.lhs


def _renamed(unknown: str, reading: Reading) -> dict[str, Expr]:
    return {unknown: reading.names.get(unknown, Sym(unknown))}


def _collected(equation: Equation, unknown: str, reading: Reading) -> tuple[float, float, str] | None:
    """Slope and constant of `slope × unknown = constant`; None when a side is not of first degree in it, or holds a
    symbol without a value."""
    unit = unit_of(equation_unit_probe(equation))
    names = (*symbols_of(equation.lhs), *symbols_of(equation.rhs))
    if unit is None or any(name not in reading.values for name in names):
        return None
    size = abs(reading.values[unknown]) or 1.0

    def at(value: float) -> float:
        values = {**reading.values, unknown: value}
        return float(evaluate(equation.lhs, values) - evaluate(equation.rhs, values))

    try:
        start, one, two = at(0.0), at(size), at(2 * size)
    except ZeroDivisionError:
        return None
    slope = (one - start) / size
    if abs((two - one) - (one - start)) > 1e-9 * max(abs(start), abs(two), 1e-30):
        return None
    return (slope, -start, unit) if slope > 0 else (-slope, start, unit)
