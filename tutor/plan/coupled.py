"""Several laws that share an unknown, put into one equation in that unknown.

The chain expresses each other unknown through the supposed one; putting it into the closing law leaves an equation in
one unknown. Of first degree it has a closed form; of second, two roots of which the signs of the circuit's currents
choose one (`regions.py`); above, it is solved by number.
"""

from __future__ import annotations

from collections.abc import Sequence

import sympy

from tutor.laws.algebra import from_sympy
from tutor.laws.law import Law
from tutor.plan.plan import Step, Substitution
from tutor.plan.rearrange import polynomial
from tutor.quantities.expression import Equation, Expr, substitute


def close(law: Law, chain: Sequence[tuple[str, Expr, Law]], unknown: str) -> Step | None:
    """The coupled step that finds `unknown`, or None when the ring closes on itself and says nothing."""
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
