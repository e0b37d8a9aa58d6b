"""Why this corner: the derived signs put into a sentence."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.circuit.circuit import Circuit
from tutor.generate.run import INSIDE
from tutor.generate.stage import Stage, ToldSlope
from tutor.quantities.evaluator import Evaluator
from tutor.quantities.expression import Add, Div, Expr, Mul, Neg, Sym, evaluate, substitute
from tutor.quantities.formula import formula_text
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for

LONGEST = 34  # characters of a slope, or of where it vanishes, that still read well inside a sentence


def corner_reason(circuit: Circuit, stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> str:
    """The sentence for the corner a stage took: which ends, and the slopes that say so.

    `values` (SI) gives the bases at that corner; a slope too long to read is told by its sign alone. An interior
    extremum is named as such; what makes no difference there (the gain, with the load unplugged) is left out.
    """
    box = _telling(stage, ends, values)
    if not box:
        return ""
    rising = stage.watched_greatest
    superlative = "greatest" if rising else "least"
    short = {base: text for base, expr in _summits(stage, ends, values) if len(text := formula_text(expr)) <= LONGEST}
    places = [_place(circuit, base, ends[base], values[base], short.get(base, "")) for base in box]
    signs = [
        _sign(stage.watched, base, stage.told_slopes[base].text, value, ends[base])
        for base, value in box.items()
        if base in stage.told_slopes
    ]
    told = listed(places)
    because = f", because {listed(signs)}" if signs else ""
    return f"${stage.watched}$ is {superlative} at {told}{because}."


def telling_bases(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> list[str]:
    """What ranges and makes a difference at the corner a stage took; `values` (SI) gives the bases there."""
    return list(_telling(stage, ends, values))


def _telling(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> dict[str, float | None]:
    """What ranges and makes a difference, with the slope along it; None where that cannot be worked out."""
    found = {base: _slope(stage.told_slopes.get(base), values) for base in stage.box}
    return {base: value for base, value in found.items() if ends[base] == INSIDE or value != 0}


def _place(circuit: Circuit, base: str, end: int, value: float, formula: str) -> str:
    if end == INSIDE:
        written = f"{base} = {formula}" if formula else base
        return f"${written}$ = {write(value, symbol_for(base).unit)}, inside its range"
    return circuit.end_words(base, greatest=end == 1)


def long_summits(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> dict[str, Expr]:
    """Where slopes vanish inside a range, at `values` (SI), for those whose formula is too long for the sentence: they
    have a line of their own."""
    return {base: expr for base, expr in _summits(stage, ends, values) if len(formula_text(expr)) > LONGEST}


def _summits(stage: Stage, ends: Mapping[str, int], values: Mapping[str, float]) -> Iterator[tuple[str, Expr]]:
    """Where the slopes vanish of what stands inside its range."""
    for base, expr in stage.resting:
        if ends.get(base) == INSIDE:
            yield base, _summit(stage, expr, values)


def _summit(stage: Stage, expr: Expr, values: Mapping[str, float]) -> Expr:
    """Where a slope vanishes, as a person would write it.

    At a bound the quantity that is watched stands at its limit. Two minus signs over one another are left out.
    """
    if stage.limit and stage.watched != stage.quantity:
        expr = substitute(expr, {stage.watched: Sym(stage.limit)})
    if isinstance(expr, Neg) and isinstance(expr.arg, Div):
        expr = Div(sign_turned(expr.arg.num), expr.arg.den)
    if isinstance(expr, Div):
        known = {**values, **({stage.limit: values[stage.watched]} if stage.watched in values else {})}
        over, under = _value(expr.num, known), _value(expr.den, known)
        if over is not None and under is not None and over < 0 and under < 0:
            expr = Div(sign_turned(expr.num), sign_turned(expr.den))
    return expr


def sign_turned(expr: Expr) -> Expr:
    """The same with the other sign, minus signs inside it turned where it has any."""
    if isinstance(expr, Neg):
        return expr.arg
    if isinstance(expr, Add):
        turned = [sign_turned(term) for term in expr.terms]
        return Add(tuple(sorted(turned, key=lambda term: isinstance(term, Neg))))
    if isinstance(expr, Mul):
        place = next((k for k, item in enumerate(expr.factors) if isinstance(item, Add | Neg)), None)
        if place is not None:
            factors = list(expr.factors)
            factors[place] = sign_turned(factors[place])
            return Mul(tuple(factors))
    return Neg(expr)


def _sign(watched: str, base: str, text: str, value: float | None, end: int) -> str:
    """What is said of a slope, `text`, and of its sign."""
    partial = f"{{{watched} by {base}}}"
    if end == INSIDE:
        return f"${partial}$ passes through zero there"
    if value is None:
        return f"${partial}$ keeps its sign"
    if len(text) > LONGEST:
        return f"${partial} {'>' if value > 0 else '<'} 0$"
    return f"${partial} = {text}$ is {'positive' if value > 0 else 'negative'}"


def _slope(slope: ToldSlope | None, values: Mapping[str, float]) -> float | None:
    """A slope at the corner; None where there is none to work out."""
    return None if slope is None else _tried(slope.value, values)


def _value(expr: Expr, values: Mapping[str, float]) -> float | None:
    return _tried(lambda known: evaluate(expr, known), values)


def _tried(value: Evaluator, values: Mapping[str, float]) -> float | None:
    try:
        return float(value(values))
    except (KeyError, ZeroDivisionError):
        return None
