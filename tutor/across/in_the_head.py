"""The arithmetic of the head, and the relations that lead from what a problem gives to one of its quantities.

Sums and differences are taken first, as they stand; then every number is rounded to one figure, and so is each result.
Place in the data flow: base problem -> relations under the names in use -> an estimate.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.across.base_problem import BaseProblem
from tutor.errors import BadFormula
from tutor.plan.plan import Step
from tutor.quantities.expression import LEAVES, Add, Expr, Neg, Num, Sym, Val, children, evaluate, rebuild, substitute
from tutor.quantities.expression import symbols_of as names_in
from tutor.quantities.quantity import EXACT_FIGURES, round_figures
from tutor.quantities.relation_form import unit_of
from tutor.quantities.symbols import symbol_for
from tutor.solution.worked import writing_of


@dataclass(frozen=True)
class StepRelation:
    """A step of the way: the name found, its relation under the names in use, and the plan's step."""

    name: str
    expr: Expr
    step: Step


def way_to(base: BaseProblem, index: int) -> tuple[StepRelation, ...] | None:
    """The relations from what is given to an ask, those of earlier asks that it rests on first; None where it rests on
    a choice or on an equation that is not solved term by term."""
    plan = base.drawn.region.plan
    stage, outcome = plan.asks[index], base.drawn.run.outcomes[index]
    if stage is None or outcome is None:
        return None
    if any(step.expr is None or step.coupled is not None for step in stage.plan.steps):
        return None
    names = dict(writing_of(base.ready, base.drawn, stage, outcome, plan.keys[index]).names)
    found: list[StepRelation] = []
    for key in dict.fromkeys(name for _, expr in stage.inputs for name in names_in(expr)):
        if key in plan.keys:
            before = way_to(base, plan.keys.index(key))
            if before is None:
                return None
            found += [item for item in before if item not in found]
        elif key not in base.ready.level.given:
            return None
    for step in stage.plan.steps:
        assert step.expr is not None
        head = names.get(step.target, Sym(step.target))
        if not isinstance(head, Sym):
            return None
        found.append(StepRelation(head.name, substitute(step.expr, names), step))
    return tuple(found)


def rough(expr: Expr, values: Mapping[str, float]) -> Expr:
    """An expression with the numbers put in as they are taken in the head: sums first, then one figure each.

    BadFormula where a sum is of no unit that is written.
    """
    if isinstance(expr, Sym):
        return _figure(values[expr.name], symbol_for(expr.name).unit)
    if isinstance(expr, LEAVES):
        return expr
    if isinstance(expr, Add):
        total = sum(_term(term, values) for term in expr.terms)
        unit = unit_of(expr)
        if unit is None:
            raise BadFormula("a sum of a unit that is never written")
        return Num(one_figure(total)) if unit == "" else _figure(total, unit)
    return rebuild(expr, tuple(rough(part, values) for part in children(expr)))


def _term(term: Expr, values: Mapping[str, float]) -> float:
    """A term of a sum: a number as it stands, anything else as it is taken in the head."""
    if isinstance(term, Neg):
        return -_term(term.arg, values)
    return float(evaluate(term, values)) if isinstance(term, LEAVES) else float(evaluate(rough(term, values), {}))


def _figure(value: float, unit: str) -> Val:
    return Val(one_figure(value), unit, EXACT_FIGURES)


def one_figure(value: float) -> float:
    """A value (SI) to one significant figure; zero stays zero."""
    return round_figures(value, 1) if value else 0.0
