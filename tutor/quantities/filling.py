"""An expression made ready to be filled many times: what kind each part is, is asked once.

Vocabulary: a *filler* gives the expression with other expressions in place of the symbols that are told, as
`expression.substitute` does.
Place in the data flow: the relation of a step -> fillers -> the lines of every problem that takes the step.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tutor.quantities.expression import LEAVES, Add, Div, Expr, Mul, Neg, Sym, children, rebuild, symbols_of

Filler = Callable[[Mapping[str, Expr]], Expr]


def filler(expr: Expr) -> Filler:
    """`substitute(expr, ·)` as a function of the mapping alone."""
    if isinstance(expr, Sym):
        return _symbol(expr)
    if isinstance(expr, LEAVES) or not symbols_of(expr):
        return lambda put: expr
    parts = [filler(part) for part in children(expr)]
    if isinstance(expr, Add | Mul):
        return _row(type(expr), parts)
    if isinstance(expr, Div):
        over, under = parts
        return lambda put: Div(over(put), under(put))
    if isinstance(expr, Neg):
        (inner,) = parts
        return lambda put: Neg(inner(put))
    return lambda put: rebuild(expr, tuple([part(put) for part in parts]))


def _symbol(symbol: Sym) -> Filler:
    name = symbol.name
    return lambda put: put.get(name, symbol)


def _row(kind: type[Add] | type[Mul], parts: list[Filler]) -> Filler:
    """A sum or a product; of two, as most are, at one go."""
    if len(parts) == 2:
        one, two = parts
        return lambda put: kind((one(put), two(put)))
    return lambda put: kind(tuple([part(put) for part in parts]))
