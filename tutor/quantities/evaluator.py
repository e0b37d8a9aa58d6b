"""An expression made ready to be evaluated many times: what kind each part is, is asked once.

Vocabulary: an *evaluator* gives the number an expression has at some values, the same bits as `expression.evaluate`.
Place in the data flow: rules -> evaluators -> the many worlds a learner's working is held against.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tutor.quantities.expression import Add, Div, Expr, Mul, Neg, Num, Sym, Val, evaluate

Evaluator = Callable[[Mapping[str, float]], float]


def evaluator(expr: Expr) -> Evaluator:
    """`evaluate(expr, ·)` as a function of the values alone (SI); called, it raises what `evaluate` raises."""
    if isinstance(expr, Sym):
        return _symbol(expr.name)
    if isinstance(expr, Num | Val):
        return _number(expr.value)
    if isinstance(expr, Neg):
        return _negative(evaluator(expr.arg))
    if isinstance(expr, Add):
        return _total([evaluator(term) for term in expr.terms])
    if isinstance(expr, Mul):
        return _product([evaluator(factor) for factor in expr.factors])
    if isinstance(expr, Div):
        return _quotient(evaluator(expr.num), evaluator(expr.den))
    return lambda values: evaluate(expr, values)


def _symbol(name: str) -> Evaluator:
    return lambda values: values[name]


def _number(value: float) -> Evaluator:
    return lambda values: value


def _negative(arg: Evaluator) -> Evaluator:
    return lambda values: -arg(values)


def _total(terms: list[Evaluator]) -> Evaluator:
    if len(terms) == 2:
        left, right = terms
        return lambda values: left(values) + right(values)
    first, *rest = terms

    def total(values: Mapping[str, float]) -> float:
        found = first(values)
        for term in rest:
            found = found + term(values)
        return found

    return total


def _product(factors: list[Evaluator]) -> Evaluator:
    if len(factors) == 2:
        left, right = factors
        return lambda values: left(values) * right(values)
    first, *rest = factors

    def product(values: Mapping[str, float]) -> float:
        found = first(values)
        for factor in rest:
            found = found * factor(values)
        return found

    return product


def _quotient(num: Evaluator, den: Evaluator) -> Evaluator:
    return lambda values: num(values) / den(values)
