"""Do values keep the inequalities and laws of a circuit? The checks that follow every assumed region.

Place in the data flow: values of a plan -> (this) -> a region taken or refused in `regions.py`.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from tutor.laws.law import Bound, LawSet
from tutor.quantities.expression import (
    Add,
    Equation,
    Expr,
    Mul,
    Num,
    Sym,
    children,
    evaluate,
    rebuild,
    symbols_of,
)
from tutor.quantities.notation import plain_equation
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for

CLOSE = 1e-6  # relative disagreement that counts as a contradiction between givens


def names_of(equation: Equation) -> set[str]:
    """The symbols of both sides."""
    return {*symbols_of(equation.lhs), *symbols_of(equation.rhs)}


def holds(bound: Bound, values: Mapping[str, float]) -> bool:
    """Whether an inequality of a region holds, to 1 part in 10⁹ of the largest value of its kind.

    A zener that carries nothing comes out of sums of other currents as some 10⁻¹⁷ A, of either sign.
    """
    left, right = evaluate(bound.equation.lhs, values), evaluate(bound.equation.rhs, values)
    units = {symbol_for(name).unit for name in names_of(bound.equation)}
    alike = (abs(value) for name, value in values.items() if symbol_for(name).unit in units and math.isfinite(value))
    slack = 1e-9 * max(abs(left), abs(right), *alike)
    return bool(left >= right - slack if bound.equation.relation == ">=" else left <= right + slack)


def broken_law(laws: LawSet, values: Mapping[str, float], givens: Iterable[str] = ()) -> str | None:
    """A sentence naming the law that `values` break (of several the one that holds most `givens`), or None.

    Terms that cancel are measured by the largest.
    """
    named = set(givens)
    for law in sorted(laws.laws, key=lambda item: -len(named & set(item.symbols))):
        equation = law.equation
        if not all(name in values for name in law.symbols):
            # What stands beside nothing in a product need not be known: V_Z = V_Z0 + r_z I_Z where no current flows.
            left_side, right_side = (_without_nothing(side, values) for side in (equation.lhs, equation.rhs))
            equation = Equation(left_side, right_side)
            if not names_of(equation) <= values.keys():
                continue
        left, right = _side(equation.lhs, values), _side(equation.rhs, values)
        if math.isnan(left) or math.isnan(right) or math.isinf(left) or math.isinf(right):
            continue
        scale = max(abs(left), abs(right), *(abs(_largest(side, values)) for side in (equation.lhs, equation.rhs)))
        if abs(left - right) > CLOSE * max(scale, 1e-15):
            told = [name for name in law.symbols if name in values]
            shown = ", ".join(f"{name} = {value_text(name, values[name])}" for name in told)
            title = law.title.replace("$", "")
            return f"the givens contradict each other: {title}, {plain_equation(law.equation)}, is broken by {shown}"
    return None


def _without_nothing(expr: Expr, values: Mapping[str, float]) -> Expr:
    """An expression with 0 for every product that has a factor of exactly nothing."""
    if isinstance(expr, Mul) and any(isinstance(item, Sym) and values.get(item.name) == 0 for item in expr.factors):
        return Num(0)
    return rebuild(expr, tuple(_without_nothing(part, values) for part in children(expr)))


def _side(expr: Expr, values: Mapping[str, float]) -> float:
    """One side of a law; nan where it divides by zero (R_L of an open output, say), which proves nothing."""
    try:
        return float(evaluate(expr, values))
    except ZeroDivisionError:
        return math.nan


def _largest(expr: Expr, values: Mapping[str, float]) -> float:
    """The largest term of a sum: what a difference of near-equal terms is measured against."""
    return max((abs(_side(part, values)) for part in expr.terms), default=0.0) if isinstance(expr, Add) else 0.0


def value_text(name: str, value: float) -> str:
    """A value with its unit, for a sentence."""
    if not math.isfinite(value):
        return "no finite number"
    return write(value, symbol_for(name).unit)
