"""A plan with its numbers -> worked steps: one for each law used, coupled blocks set out in full."""

from __future__ import annotations

import math
from collections.abc import Mapping

from tutor.plan.evaluate import PLUS, polynomial_root
from tutor.plan.plan import Plan, Step
from tutor.quantities.expression import Sym, Val, evaluate, symbols_of
from tutor.quantities.formula import formula_text
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for
from tutor.solution.numbers import Writing, equation_lines, line, shown
from tutor.solution.solution import Chain, WorkedStep


def plan_steps(plan: Plan, writing: Writing, root_reasons: Mapping[str, str]) -> list[WorkedStep]:
    """The worked steps of a plan, in order; `root_reasons` says, by target, why a root was taken."""
    return [worked_step(step, writing, root_reasons.get(step.target, "")) for step in plan.steps]


def worked_step(step: Step, writing: Writing, root_reason: str = "") -> WorkedStep:
    """One step of a plan under the names in use."""
    target = shown(Sym(step.target), writing)
    result = writing.quantity(step.target)
    if step.coupled is None and step.expr is not None:
        return WorkedStep(
            step.title, step.why, (line(target, step.form, writing, result),), "", step.law, "", result, ""
        )
    assert step.coupled is not None
    why = _coupled_why(step, writing)
    lines = list(equation_lines(step.coupled, step.target, writing))
    text = "" if step.degree == 1 else _roots_text(step, writing, root_reason)
    lines.append(Chain(target, (("=", Val(result.value, result.unit, result.figures)),)))
    return WorkedStep(step.title, why, tuple(lines), text, step.law, "", result, "")


def _coupled_why(step: Step, writing: Writing) -> str:
    name = formula_text(shown(Sym(step.target), writing))
    if not step.substitutions:
        return f"The unknown ${name}$ stands in this relation more than once, so it is collected on one side."
    put = []
    for item in step.substitutions:
        left, right = (formula_text(shown(side, writing)) for side in (Sym(item.symbol), item.expr))
        put.append(f"${left} = {right}$ ({inside_sentence(item.title)})")
    left_over = _falling_out(step, writing)
    alone = f" alone is left: ${left_over}$ falls out of it." if left_over else " alone is left."
    return f"Several relations share the unknown ${name}$. Put in {listed(put)}, and one equation in ${name}${alone}"


def _falling_out(step: Step, writing: Writing) -> str:
    """A symbol of a coupled equation that has no value of its own, since it cancels; '' when there is none."""
    assert step.coupled is not None
    names = (*symbols_of(step.coupled.lhs), *symbols_of(step.coupled.rhs))
    return next((name for name in names if name != step.target and name not in writing.values), "")


def inside_sentence(title: str) -> str:
    """A title inside a sentence: its first letter small unless it is a name."""
    if title.startswith(("Ohm", "Kirchhoff", "$")):
        return title
    return title[:1].lower() + title[1:]


def _roots_text(step: Step, writing: Writing, reason: str) -> str:
    """The polynomial in numbers, its roots, and which one is taken."""
    coefficients = [float(evaluate(item, writing.values)) for item in step.coefficients]
    unit = symbol_for(step.target).unit
    if step.degree > 2:
        return f"The equation is of degree {step.degree}; its root is found by trial. {reason[:1].upper()}{reason[1:]}."
    roots = [float(polynomial_root(coefficients, which)) for which in (PLUS, 1)]
    finite = [root for root in roots if math.isfinite(root)]
    if len(finite) == 1:
        return f"The square term vanishes with these values, and one root is left: {write(finite[0], unit)}."
    both = " and ".join(write(root, unit) for root in finite)
    return f"A quadratic: its roots are {both}; {reason}."
