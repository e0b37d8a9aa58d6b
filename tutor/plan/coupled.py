"""Several laws that share an unknown, put into one equation in that unknown.

The chain expresses each other unknown through the supposed one; putting it into the closing law leaves an equation in
one unknown. Of first degree it has a closed form; of second, two roots of which the signs of the circuit's currents
choose one (`regions.py`); above, it is solved by number.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import sympy

from tutor.laws.algebra import from_sympy
from tutor.laws.law import Law
from tutor.plan.plan import Step, Substitution
from tutor.plan.rearrange import polynomial
from tutor.quantities.expression import Add, Equation, Expr, children, evaluate, substitute, symbols_of

VANISHING = 1e-7  # a coefficient below this share of its largest term is zero but for rounding


def close(
    law: Law, chain: Sequence[tuple[str, Expr, Law]], unknown: str, probe: Mapping[str, float]
) -> Step | None:
    """The coupled step that finds `unknown`, or None when the ring closes on itself and says nothing.

    `probe` is any true operating point (SI): where quantities of the ring settle one another, its equation may be an
    identity without looking like one, and then every coefficient vanishes there.
    """
    standing: dict[str, Expr] = {}
    substitutions: list[Substitution] = []
    for target, expr, used in chain:
        standing[target] = substitute(expr, standing)
        substitutions.append(Substitution(target, expr, used.id, used.title))
    coupled = Equation(substitute(law.equation.lhs, standing), substitute(law.equation.rhs, standing))
    forms = polynomial(coupled, unknown)
    # A factor of the unknown itself came in with a division by it: zero solves the equation, not the circuit.
    while forms and forms[0] == 0:
        forms = forms[1:]
    if forms is None or len(forms) < 2 or any(unknown in {str(item) for item in form.free_symbols} for form in forms):
        return None
    closed = from_sympy(sympy.cancel(-forms[0] / forms[1])) if len(forms) == 2 else None
    coefficients = tuple(from_sympy(form) for form in forms)
    if all(_vanishes(item, probe) for item in coefficients):
        return None
    return Step(
        unknown,
        law.id,
        law.title,
        law.source,
        law.equation,
        closed,
        coupled,
        coefficients,
        tuple(substitutions),
        law.why,
    )


def _vanishes(expr: Expr, probe: Mapping[str, float]) -> bool:
    """Whether an expression is zero at the probe but for rounding; False where the probe does not reach."""
    if not all(name in probe for name in symbols_of(expr)):
        return False
    try:
        return abs(evaluate(expr, probe)) <= VANISHING * _reach(expr, probe)
    except ZeroDivisionError:
        return False


def _reach(expr: Expr, probe: Mapping[str, float]) -> float:
    """The size an expression would have if no term cancelled another."""
    if isinstance(expr, Add):
        return sum(_reach(term, probe) for term in expr.terms)
    parts = children(expr)
    if not parts:
        return abs(evaluate(expr, probe))
    inner = abs(evaluate(expr, probe))
    for part in parts:
        own = abs(evaluate(part, probe))
        inner = max(inner, inner * _reach(part, probe) / own if own else _reach(part, probe))
    return inner
