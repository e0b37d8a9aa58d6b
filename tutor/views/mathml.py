"""Expressions as MathML Core, in the order written, and prose with formulas as HTML.

Vocabulary: *markup* is what stands inside a `<math>` element; a *chain* is a first expression and its relations; *prose*
is plain text with formulas between dollar signs (grammar of `quantities/formula.py`).
Place in the data flow: expressions, chains and prose of a Solution or Problem -> markup for pages. All of it is
well-formed XML with characters instead of named entities.

Symbols are italic with upright subscripts, units upright after a thin space, values multiplied by × and symbols by a
thin space (SI Brochure, 9th edition, 5.4; ISO 80000-1, 7.1). MathML Core leaves alignment to style sheets: the cells
of a chain carry the classes `lhs`, `rel` and `rhs`.
"""

from __future__ import annotations

from html import escape

from tutor.errors import BadFormula
from tutor.quantities.expression import (
    Add,
    Div,
    Equation,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Partial,
    Pow,
    Sym,
    Val,
    leaves,
)
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain, plain_equation, relation_sign
from tutor.quantities.quantity import write
from tutor.solution.solution import Chain
from tutor.views.lettering import is_abbreviation, symbol_parts

_TIMES = "<mo>&#x2062;</mo>"
_THIN = '<mspace width="0.17em"/>'
_RELATIONS = frozenset("=<>~")
# Characters of plain text that stand beside one another on a phone's line of working.
LINE_LENGTH = 34


def expression(expr: Expr) -> str:
    """The markup of an expression, one element."""
    if isinstance(expr, Sym):
        return symbol(expr.name)
    if isinstance(expr, Num | Val):
        return _row(*_number(expr))
    if isinstance(expr, Partial):
        return f"<mfrac>{_row(_mo('∂'), symbol(expr.of))}{_row(_mo('∂'), symbol(expr.by))}</mfrac>"
    if isinstance(expr, Neg):
        return _row(_mo("−"), _bracketed(expr.arg, (Add, Neg, Parallel)))
    if isinstance(expr, Add):
        return _sum(expr)
    if isinstance(expr, Mul):
        return _product(expr)
    if isinstance(expr, Div):
        return f"<mfrac>{expression(expr.num)}{expression(expr.den)}</mfrac>"
    if isinstance(expr, Parallel):
        left = _bracketed(expr.left, (Add, Neg, Mul))
        return _row(left, _mo("∥"), _bracketed(expr.right, (Add, Neg, Mul, Parallel)))
    if isinstance(expr, Pow):
        return _power(expr)
    return _function(expr)
