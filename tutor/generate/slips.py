"""A slip put into a plan: the step it edits, the wrong step, and the value the edited plan gives.

The wrong value is never written down: it comes from running the edited plan at the corner the right one used.
"""

from __future__ import annotations

from tutor.errors import BadFamily, BadFormula
from tutor.generate.family import Drop, Edit, Rewrite, Slip, Swap, Turn
from tutor.generate.stage import Stage
from tutor.quantities.expression import (
    LEAVES,
    Add,
    Div,
    Expr,
    Mul,
    Neg,
    Num,
    children,
    rebuild,
    replace_subtree,
)
from tutor.quantities.formula import read_expression


def edited_step(slip: Slip, stage: Stage, field: str) -> tuple[str, Expr]:
    """The target of the step a slip edits, and the wrong expression; BadFamily when the edit changes nothing.

    `field` names file, level and slip in complaints.
    """
    target = slip.step or stage.plan.steps[-1].target
    step = stage.plan.step(target)
    if step is None:
        have = ", ".join(item.target for item in stage.plan.steps)
        raise BadFamily(f"{field}: no step finds '{target}'; the plan of '{slip.at}' finds {have}")
    right = step.expr if step.expr is not None else step.coefficients[0]
    try:
        wrong = _edited(right, slip.edit)
    except BadFormula as error:
        raise BadFamily(f"{field}: {error.sentence}") from error
    if wrong == right:
        raise BadFamily(f"{field}: the edit changes nothing in the step that finds '{target}'")
    return target, wrong


def _edited(right: Expr, edit: Edit) -> Expr:
    if isinstance(edit, Rewrite):
        return read_expression(edit.formula)
    if isinstance(edit, Swap):
        return replace_subtree(right, read_expression(edit.old), read_expression(edit.new))
    if isinstance(edit, Drop):
        return _drop(right, read_expression(edit.term))
    if isinstance(edit, Turn):
        return _turn(right, read_expression(edit.term))
    raise BadFormula(f"a {type(edit).__name__} edits a choice, and here is a step of algebra")


def _drop(expr: Expr, term: Expr) -> Expr:
    """The expression with every sum's (or product's) part equal to `term` left out."""
    if isinstance(expr, LEAVES):
        return expr
    if isinstance(expr, Add):
        kept = tuple(_drop(part, term) for part in expr.terms if part not in (term, Neg(term)))
        return kept[0] if len(kept) == 1 else Add(kept) if kept else Num(0)
    if isinstance(expr, Mul):
        factors = tuple(_drop(part, term) for part in expr.factors if part != term)
        return factors[0] if len(factors) == 1 else Mul(factors) if factors else Num(1)
    if isinstance(expr, Div) and expr.den == term:
        return _drop(expr.num, term)
    return rebuild(expr, tuple(_drop(part, term) for part in children(expr)))


def _turn(expr: Expr, term: Expr) -> Expr:
    """The expression with the sign of every sum's part (or of the whole) equal to `term` turned."""
    if expr in (term, Neg(term)):
        return Neg(term) if expr == term else term
    if isinstance(expr, LEAVES):
        return expr
    if isinstance(expr, Add):
        turned = {term: Neg(term), Neg(term): term}
        return Add(tuple(turned.get(part, _turn(part, term)) for part in expr.terms))
    return rebuild(expr, tuple(_turn(part, term) for part in children(expr)))
