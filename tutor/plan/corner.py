"""Which corner is the worst, from derived signs: composition, sensitivities, stationary points.

A plan composed into one expression of its givens is differentiated with respect to each quantity that ranges. The sign
of that slope at the values at hand says which end is worst; where the slope can vanish inside the range, the place
where it does is kept as a further candidate, so an interior extremum is found and can be named.
"""

from __future__ import annotations

import sympy

from tutor.laws.algebra import SympyExpr, factored, from_sympy, sympy_symbol, to_sympy
from tutor.plan.plan import Plan
from tutor.quantities.expression import Expr, sum_of
from tutor.quantities.formula import formula_text
from tutor.quantities.symbols import symbol_for


def compose(plan: Plan, target: str) -> SympyExpr | None:
    """`target` as one sympy expression of the plan's givens; None when a step on the way has several roots."""
    forms: dict[str, SympyExpr] = {name: sympy_symbol(name) for name in plan.known}
    for step in plan.steps:
        if step.expr is None:
            continue
        form = to_sympy(step.expr)
        needed = [item for item in form.free_symbols if str(item) not in forms]
        if needed:
            continue
        forms[step.target] = form.subs({item: forms[str(item)] for item in form.free_symbols}, simultaneous=True)
    return forms.get(target)


def depends_on(plan: Plan, target: str, name: str) -> bool:
    """Whether a given takes part in finding `target`."""
    reached = {name}
    for step in plan.steps:
        if any(str(item) in reached for side in step.sides for item in to_sympy(side).free_symbols):
            reached.add(step.target)
    return target in reached


def slope(form: SympyExpr, by: str) -> Expr:
    """d(form)/d(by) as a tree a person could have written."""
    return from_sympy(factored(sympy.cancel(sympy.diff(form, sympy_symbol(by)))))


def stationary(form: SympyExpr, by: str) -> Expr | None:
    """Where the slope along `by` vanishes, when that is one place given by a formula; None otherwise."""
    numerator = sympy.fraction(sympy.cancel(sympy.diff(form, sympy_symbol(by))))[0]
    if sympy_symbol(by) not in numerator.free_symbols:
        return None
    poly = numerator.as_poly(sympy_symbol(by))
    if poly is None or poly.degree() != 1:
        return None
    high, low = poly.all_coeffs()
    place = sympy.cancel(-low / high)
    return min((from_sympy(place), _by_cause(place)), key=lambda found: len(formula_text(found)))


def _by_cause(form: SympyExpr) -> Expr:
    """A quotient as a sum over the voltages and currents in it, each with its own factor: easier to read at times."""
    above, below = sympy.fraction(sympy.together(form))
    groups: dict[tuple[str, ...], SympyExpr] = {}
    for term in sympy.Add.make_args(sympy.expand(above)):
        letters = map(str, term.free_symbols)
        cause = tuple(sorted(name for name in letters if symbol_for(name).unit in ("V", "A", "W")))
        groups[cause] = groups.get(cause, sympy.Integer(0)) + term
    terms = [from_sympy(factored(group / below)) for group in groups.values()]
    terms.sort(key=lambda term: formula_text(term).startswith("-"))
    return sum_of(terms)
