"""Do values keep the inequalities and laws of a circuit? The checks that follow every assumed region.

Place in the data flow: values of a plan -> (this) -> a region taken or refused in `regions.py`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from tutor.laws.law import Bound, LawSet
from tutor.quantities.expression import Add, Equation, Expr, evaluate, symbols_of
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
        if not all(name in values for name in law.symbols):
            continue
        left, right = _side(law.equation.lhs, values), _side(law.equation.rhs, values)
        if math.isnan(left) or math.isnan(right) or math.isinf(left) or math.isinf(right):
            continue
        scale = max(
            abs(left), abs(right), *(abs(_largest(side, values)) for side in (law.equation.lhs, law.equation.rhs))
        )
        if abs(left - right) > CLOSE * max(scale, 1e-15):
            shown = ", ".join(f"{name} = {value_text(name, values[name])}" for name in law.symbols)
            title = law.title.replace("$", "")
            return f"the givens contradict each other: {title}, {plain_equation(law.equation)}, is broken by {shown}"
    return None


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
