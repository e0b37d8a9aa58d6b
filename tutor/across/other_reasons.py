"""Reasons that a wrong line does not have: other slips of the same line, and edits of its relation, each run.

A reason is offered only where the line it would lead to is another than the one shown and than the right one.
Place in the data flow: base problem + the slip put in -> reasons beside the right one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tutor.across.base_problem import BaseProblem
from tutor.across.slipped import Planted
from tutor.across.stream import Stream
from tutor.generate.family import Choose, RoundAway
from tutor.generate.level_run import APART
from tutor.generate.run import StageOutcome
from tutor.generate.stage import Stage
from tutor.quantities.expression import (
    LEAVES,
    Add,
    Div,
    Expr,
    Neg,
    Sym,
    children,
    evaluate,
    rebuild,
    replace_subtree,
    substitute,
)
from tutor.quantities.expression import symbols_of as names_in
from tutor.quantities.formula import formula_text
from tutor.solution.worked import writing_of

LONGEST = 24  # characters of a term that a reason names
BOUNDS = "Hold what was taken against what it must serve for, its tolerance or margin included."
HINT = "Write the right relation beside the line: where do the two part?"


@dataclass(frozen=True)
class OtherReason:
    """Another reason: its name, what the line would come to by it (SI), a question; `why` where no value tells."""

    name: str
    value: float
    hint: str
    why: str = ""


def other_reasons(base: BaseProblem, planted: Planted, stream: Stream, count: int) -> tuple[OtherReason, ...]:
    """Up to `count` of them, slips of the same line first."""
    key = base.drawn.region.plan.keys[planted.index]
    right = float(base.drawn.run.env[key][0])
    shown = float(base.drawn.run.slips[planted.slip.id][0])
    named = _apart(_slips_of_line(base, planted), right, shown, [])
    edits = _apart(_edits(base, planted), right, shown, named)
    taken = stream.some("named reasons", named, count)
    return (*taken, *stream.some("edited reasons", edits, count - len(taken)))


def _apart(found: Iterator[OtherReason], right: float, shown: float, besides: list[OtherReason]) -> list[OtherReason]:
    """Those that lead elsewhere than to the right value, the shown one, and those before them."""
    kept: list[OtherReason] = []
    for item in found:
        values = [right, shown, *(other.value for other in (*besides, *kept) if not other.why)]
        names = [other.name for other in (*besides, *kept)]
        alone = all(abs(item.value - value) > APART * max(abs(item.value), abs(value)) for value in values)
        told = item.why or (math.isfinite(item.value) and alone and item.value * shown > 0)
        if item.name not in names and told:
            kept.append(item)
    return kept


def _slips_of_line(base: BaseProblem, planted: Planted) -> Iterator[OtherReason]:
    for slip, index, _, _ in base.drawn.region.slips:
        if index == planted.index and slip.id != planted.slip.id and slip.name != planted.slip.name:
            yield OtherReason(slip.name, float(base.drawn.run.slips[slip.id][0]), slip.hint)


def _edits(base: BaseProblem, planted: Planted) -> Iterator[OtherReason]:
    stage, outcome = base.drawn.region.plan.asks[planted.index], base.drawn.run.outcomes[planted.index]
    if stage is None or outcome is None:
        yield from _of_choices(base, planted)
        return
    expr = stage.plan.steps[-1].expr
    if expr is None:
        return
    values = {name: float(value[0]) for name, value in {**outcome.bases, **outcome.steps}.items()}
    names = writing_of(base.ready, base.drawn, stage, outcome, stage.key).names
    yield from _other_ends(base, stage, outcome, expr, values)
    for term in _terms(expr):
        text = formula_text(substitute(term, names))
        if len(text) > LONGEST:
            continue
        yield _edited(f"${text}$ left out", _without_term(expr, term), values)
        yield _edited(f"the sign of ${text}$ turned", replace_subtree(expr, term, Neg(term)), values)
    if isinstance(expr, Div):
        yield _edited("the fraction turned upside down", Div(expr.den, expr.num), values)


def _other_ends(
    base: BaseProblem, stage: Stage, outcome: StageOutcome, expr: Expr, values: dict[str, float]
) -> Iterator[OtherReason]:
    for name in stage.box:
        end = int(outcome.ends[name][0])
        if end < 2 and name in names_in(expr):
            here, there = ("MIN", "MAX") if end == 0 else ("MAX", "MIN")
            other = float(base.drawn.run.env[f"{name}_{there}"][0])
            yield _edited(f"${name}_{there}$ put in for ${name}_{here}$", expr, {**values, name: other})


def _of_choices(base: BaseProblem, planted: Planted) -> Iterator[OtherReason]:
    """What may go wrong with a choice; none of it has gone wrong here."""
    ask = base.ready.level.asks[planted.index]
    if not isinstance(ask, Choose):
        yield OtherReason("twice the margin asked for", 0.0, BOUNDS, "The rating taken is too small, not too large.")
        yield OtherReason("a rating that is not on the shelf", 0.0, BOUNDS, "What was taken is on the shelf.")
        return
    above = isinstance(planted.slip.edit, RoundAway) and planted.slip.edit.above
    if ask.low and ask.high:
        side, bound = ("lower", ask.low) if above else ("upper", ask.high)
        yield OtherReason(
            f"rounded past the {side} bound", 0.0, BOUNDS, f"What was taken lies on the right side of ${bound}$."
        )
    yield OtherReason(
        "a value that is not to be had", 0.0, BOUNDS, "What was taken is one of the values to choose from."
    )
    yield OtherReason("a prefix lost on the way from the bound", 0.0, BOUNDS, "What was taken lies close to a bound.")


def _edited(name: str, expr: Expr | None, values: dict[str, float]) -> OtherReason:
    try:
        value = math.nan if expr is None else float(evaluate(expr, values))
    except (ArithmeticError, KeyError):
        value = math.nan
    return OtherReason(name, value, HINT)


def _terms(expr: Expr) -> Iterator[Expr]:
    """The terms of every sum in an expression, without their signs."""
    if isinstance(expr, LEAVES):
        return
    if isinstance(expr, Add):
        for term in expr.terms:
            inner = term.arg if isinstance(term, Neg) else term
            if isinstance(inner, Sym) or not isinstance(inner, LEAVES):
                yield inner
    for part in children(expr):
        yield from _terms(part)


def _without_term(expr: Expr, term: Expr) -> Expr | None:
    """The expression with a term of its sums left out; None where nothing is left."""
    if isinstance(expr, LEAVES):
        return expr
    if isinstance(expr, Add):
        kept = [_without_term(part, term) for part in expr.terms if part not in (term, Neg(term))]
        left = [part for part in kept if part is not None]
        return None if not left else left[0] if len(left) == 1 else Add(tuple(left))
    parts = [_without_term(part, term) for part in children(expr)]
    whole = tuple(part for part in parts if part is not None)
    return rebuild(expr, whole) if len(whole) == len(parts) else None
