"""Why this corner: the derived signs put into a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.circuit import Circuit
from tutor.generate.run import INSIDE
from tutor.generate.stage import Stage
from tutor.quantities.expression import Add, Div, Expr, Mul, Neg, Sym, evaluate, substitute
from tutor.quantities.formula import formula_text
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for

LONGEST = 34  # characters of a slope, or of where it vanishes, that still read well inside a sentence


def corner_reason(circuit: Circuit, stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> str:
    """The sentence for the corner a stage took: which ends, and the slopes that say so.

    `values` (SI) gives the bases at that corner; a slope too long to read is told by its sign alone. An interior
    extremum is named as such; what makes no difference there (the gain, with the load unplugged) is left out.
    """
    slopes = dict(stage.slopes)
    box = telling_bases(stage, ends, values)
    if not box:
        return ""
    rising = stage.watched_greatest
    superlative = "greatest" if rising else "least"
    resting = {base: _summit(stage, expr, values) for base, expr in stage.resting}
    short = {base: text for base, expr in resting.items() if len(text := formula_text(expr)) <= LONGEST}
    places = [_place(circuit, base, ends[base], values[base], short.get(base, "")) for base in box]
    signs = [_sign(stage.watched, base, slopes[base], values, ends[base]) for base in box if base in slopes]
    told = listed(places)
    because = f", because {listed(signs)}" if signs else ""
    return f"${stage.watched}$ is {superlative} at {told}{because}."


def telling_bases(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> list[str]:
    """What ranges and makes a difference at the corner a stage took; `values` (SI) gives the bases there."""
    slopes = dict(stage.slopes)
    return [base for base in stage.box if ends[base] == INSIDE or _value(slopes.get(base), values) != 0]


def _place(circuit: Circuit, base: str, end: int, value: float, formula: str) -> str:
    if end == INSIDE:
        written = f"{base} = {formula}" if formula else base
        return f"${written}$ = {write(value, symbol_for(base).unit)}, inside its range"
    return circuit.end_words(base, greatest=end == 1)


def long_summits(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> dict[str, Expr]:
    """Where slopes vanish inside a range, at `values` (SI), for those whose formula is too long for the sentence: they
    have a line of their own."""
    found = {base: _summit(stage, expr, values) for base, expr in stage.resting if ends.get(base) == INSIDE}
    return {base: expr for base, expr in found.items() if len(formula_text(expr)) > LONGEST}


def _summit(stage: Stage, expr: Expr, values: Mapping[str, float]) -> Expr:
    """Where a slope vanishes, as a person would write it.

    At a bound the quantity that is watched stands at its limit. Two minus signs over one another are left out.
    """
    if stage.limit and stage.watched != stage.quantity:
        expr = substitute(expr, {stage.watched: Sym(stage.limit)})
    if isinstance(expr, Neg) and isinstance(expr.arg, Div):
        expr = Div(negated(expr.arg.num), expr.arg.den)
    if isinstance(expr, Div):
        known = {**values, **({stage.limit: values[stage.watched]} if stage.watched in values else {})}
        over, under = _value(expr.num, known), _value(expr.den, known)
        if over is not None and under is not None and over < 0 and under < 0:
            expr = Div(negated(expr.num), negated(expr.den))
    return expr


def negated(expr: Expr) -> Expr:
    """The same with the other sign, minus signs inside it turned where it has any."""
    if isinstance(expr, Neg):
        return expr.arg
    if isinstance(expr, Add):
        turned = [negated(term) for term in expr.terms]
        return Add(tuple(sorted(turned, key=lambda term: isinstance(term, Neg))))
    if isinstance(expr, Mul):
        place = next((k for k, item in enumerate(expr.factors) if isinstance(item, Add | Neg)), None)
        if place is not None:
            factors = list(expr.factors)
            factors[place] = negated(factors[place])
            return Mul(tuple(factors))
    return Neg(expr)


def _sign(watched: str, base: str, slope: Expr, values: Mapping[str, float], end: int) -> str:
    text = formula_text(slope)
    partial = f"{{{watched} by {base}}}"
    if end == INSIDE:
        return f"${partial}$ passes through zero there"
    value = _value(slope, values)
    if value is None:
        return f"${partial}$ keeps its sign"
    if len(text) > LONGEST:
        return f"${partial} {'>' if value > 0 else '<'} 0$"
    return f"${partial} = {text}$ is {'positive' if value > 0 else 'negative'}"


def _value(slope: Expr | None, values: Mapping[str, float]) -> float | None:
    """A slope at the corner; None where there is none to work out."""
    try:
        return None if slope is None else float(evaluate(slope, values))
    except (KeyError, ZeroDivisionError):
        return None


def listed(items: list[str]) -> str:
    """Parts of a sentence side by side, the last with "and"."""
    if len(items) <= 1:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]
