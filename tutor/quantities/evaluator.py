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
    two = _two_symbols(expr)
    if two is not None:
        return two
    if isinstance(expr, Add):
        return _total([evaluator(term) for term in expr.terms])
    if isinstance(expr, Mul):
        return _product([evaluator(factor) for factor in expr.factors])
    if isinstance(expr, Div):
        return _quotient(evaluator(expr.num), evaluator(expr.den))
    return lambda values: evaluate(expr, values)


def _two_symbols(expr: Expr) -> Evaluator | None:
    """A sum, difference, product or quotient of two symbols, which most relations are made of, at one go."""
    if isinstance(expr, Add | Mul):
        left, *others = expr.terms if isinstance(expr, Add) else expr.factors
    elif isinstance(expr, Div):
        left, others = expr.num, [expr.den]
    else:
        return None
    right = others[0] if len(others) == 1 else None
    if not isinstance(left, Sym):
        return None
    if isinstance(expr, Add) and isinstance(right, Neg) and isinstance(right.arg, Sym):
        return _difference(left.name, right.arg.name)
    if not isinstance(right, Sym):
        return None
    a, b = left.name, right.name
    if isinstance(expr, Add):
        return lambda values: values[a] + values[b]
    if isinstance(expr, Mul):
        return lambda values: values[a] * values[b]
    return lambda values: values[a] / values[b]


def _difference(a: str, b: str) -> Evaluator:
    return lambda values: values[a] - values[b]


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
