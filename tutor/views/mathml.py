"""Expressions as MathML Core, in the order written, and prose with formulas as HTML.

Vocabulary: *markup* is what stands inside a `<math>` element; a *chain* is a first expression and its relations;
*prose* is plain text with formulas between dollar signs (grammar of `quantities/formula.py`).
Place in the data flow: expressions, chains and prose of a Solution or Problem -> markup for pages. All of it is
well-formed XML with characters instead of named entities.

Symbols are italic with upright subscripts, units upright after a thin space, values multiplied by × and symbols by a
thin space (SI Brochure, 9th edition, 5.4; ISO 80000-1, 7.1). MathML Core leaves alignment to style sheets: the cells
of a chain carry the classes `lhs` and `rhs`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from html import escape
from math import pi

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
    children,
    leaves,
    split_sign,
)
from tutor.quantities.notation import Strength, plain, plain_equation, relation_sign
from tutor.quantities.quantity import write
from tutor.solution.solution import Chain
from tutor.views.lettering import is_abbreviation, symbol_parts
from tutor.views.plain import chain_text
from tutor.views.prose_pieces import pieces_of, read_formula, unreadable

# Characters of plain text that fit beside one another on a phone.
LINE_LENGTH = 34
_KEPT = 4096  # formulas whose markup is remembered: a level's problems speak in the same few

_PRODUCT = '<mo lspace="0" rspace="0.17em">\u2062</mo>'  # invisible times
_THIN = '<mspace width="0.17em"/>'
# What `write` and `plain` make of a number: sign, digits, power of ten, unit.
WRITTEN_NUMBER = re.compile(r"(−?)([0-9.]+)(?: × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?(?: (.+))?")
FROM_SUPERSCRIPTS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "−0123456789")
# After a number these italic letters could be taken for coulombs and amperes.
_UNIT_LIKE = frozenset({"A", "C"})

_TIED = re.compile("(?:\u00a0[^ \u00a0]+)+")


def expression(expr: Expr) -> str:
    """The markup of an expression, as one element. ValueError where a number is not as `write` writes it.

    >>> expression(Parallel(Sym("R"), Sym("C")))
    '<mrow><mi>R</mi><mo>∥</mo><mi>C</mi></mrow>'
    """
    return _print(expr)[0]


def symbol(name: str) -> str:
    """The markup of a letter symbol: italic letter, upright subscript, Δ before a change.

    >>> symbol("V_I_MIN")
    '<msub><mi>V</mi><mtext>I(min)</mtext></msub>'
    """
    return _scripted(name, "")


def math(thing: Expr | Equation | Chain, display: bool) -> str:
    """A `<math>` element with its alternative text; on a line of its own when `display`."""
    if isinstance(thing, Chain):
        inner = _row(expression(thing.first), *(part for link in thing.rest for part in _link(*link)))
        return _math(inner, chain_text(thing), display)
    if isinstance(thing, Equation):
        inner = _row(expression(thing.lhs), *_link(thing.relation, thing.rhs))
        return _math(inner, plain_equation(thing), display)
    return _math(expression(thing), plain(thing), display)


def chain_table(first: Expr, rest: Sequence[tuple[str, Expr]]) -> str:
    """A chain as a `<math>` block: on one line while it fits a phone, else one relation a line, relations aligned."""
    spans = [_span(first), *(_span(expr) for _, expr in rest)]
    fits = sum(spans) + 3 * len(rest) <= LINE_LENGTH
    lines = [tuple(rest)] if fits and rest else [(link,) for link in rest]
    rows = []
    for number, line in enumerate(lines):
        left = expression(first) if number == 0 else ""
        # The empty row before the relation gives the sign its space on both sides.
        right = _row("<mrow></mrow>", *(part for link in line for part in _link(*link)))
        rows.append(f'<mtr><mtd class="lhs">{left}</mtd><mtd class="rhs">{right}</mtd></mtr>')
    inner = f'<mtable class="chain" displaystyle="true" columnalign="right left">{"".join(rows)}</mtable>'
    return _math(inner if rows else expression(first), chain_text(Chain(first, tuple(rest))), True)


def prose(text: str) -> str:
    """Prose as HTML: words escaped, formulas between dollar signs as inline MathML; BadFormula names the text.

    >>> prose("at least 5 mA < 6 mA")
    'at least 5 mA &lt; 6 mA'
    """
    pieces = pieces_of(text)
    return "".join(_with_tail(pieces, number, text) for number in range(0, len(pieces), 2))


def _with_tail(pieces: list[str], number: int, text: str) -> str:
    """The words at `number` and the formula before them; what no-break spaces tie to a formula stays on its line."""
    words = pieces[number]
    if number == 0:
        return escape(words)
    formula = _formula(pieces[number - 1], text)
    tied = _TIED.match(words)
    if tied is None:
        return formula + escape(words)
    return f'<span class="tied">{formula}{escape(tied.group())}</span>{escape(words[tied.end():])}'


def _formula(formula: str, text: str) -> str:
    try:
        return _inline(formula)
    except BadFormula as error:
        raise unreadable(formula, text, error) from error


@lru_cache(maxsize=_KEPT)
def _inline(formula: str) -> str:
    return math(read_formula(formula), display=False)


def _math(inner: str, alternative: str, display: bool) -> str:
    block = ' display="block"' if display else ""
    return f'<math{block} alttext="{escape(alternative)}">{inner}</math>'


def _link(relation: str, expr: Expr) -> tuple[str, str]:
    return _mo(relation_sign(relation)), expression(expr)


def _span(expr: Expr) -> int:
    """About how many characters an expression is wide: a fraction is as wide as its wider half."""
    if isinstance(expr, Div):
        return max(_span(expr.num), _span(expr.den))
    parts = children(expr)
    return sum(map(_span, parts)) + 3 * len(parts) - 2 if parts else len(plain(expr))


def _print(expr: Expr) -> tuple[str, Strength]:
    """The markup, and how tightly it holds; a fraction and a root hold like a letter, for their bars enclose them."""
    if isinstance(expr, Sym):
        return symbol(expr.name), Strength.ATOM
    if isinstance(expr, Num):
        return ("<mi>π</mi>", Strength.ATOM) if expr.value == pi else _number(plain(expr))
    if isinstance(expr, Val):
        return _number(write(expr.value, expr.unit, expr.figures))
    if isinstance(expr, Partial):
        return _fraction(_row(_mo("∂"), symbol(expr.of)), _row(_mo("∂"), symbol(expr.by))), Strength.ATOM
    if isinstance(expr, Neg):
        return _row(_mo("−"), _within(expr.arg, Strength.PRODUCT)), Strength.SUM
    if isinstance(expr, Add):
        return _sum(expr), Strength.SUM
    if isinstance(expr, Mul):
        return _product(expr), Strength.PRODUCT
    if isinstance(expr, Div):
        return _fraction(expression(expr.num), expression(expr.den)), Strength.ATOM
    if isinstance(expr, Parallel):
        left = expression(expr.left) if isinstance(expr.left, Parallel) else _within(expr.left, Strength.ATOM)
        return _row(left, _mo("∥"), _within(expr.right, Strength.ATOM)), Strength.SIDE
    if isinstance(expr, Pow):
        return _power(expr), Strength.ATOM
    if expr.name == "sqrt":
        return f"<msqrt>{expression(expr.arg)}</msqrt>", Strength.ATOM
    if expr.name == "cbrt":
        return f"<mroot><mrow>{expression(expr.arg)}</mrow><mn>3</mn></mroot>", Strength.ATOM
    return _row(f"<mi>{escape(expr.name)}</mi>", "<mo>\u2061</mo>", _brackets(expression(expr.arg))), Strength.ATOM


def _within(expr: Expr, least: Strength) -> str:
    markup, strength = _print(expr)
    return _brackets(markup) if strength < least else markup


def _number(text: str) -> tuple[str, Strength]:
    """A written number, with its unit when it has one."""
    found = WRITTEN_NUMBER.fullmatch(text)
    if found is None:
        raise ValueError(f"not a written number: {text!r}")
    sign, digits, power, unit = found.groups()
    parts = [_mo("−")] if sign else []
    parts.append(f"<mn>{digits}</mn>")
    if power:
        exponent = power.translate(FROM_SUPERSCRIPTS)
        parts += [_mo("×"), f"<msup><mn>10</mn><mn>{exponent}</mn></msup>"]
    if unit:
        parts += [_THIN, f"<mtext>{escape(unit)}</mtext>"]
    if sign:
        return _row(*parts), Strength.SUM
    return _row(*parts), Strength.PRODUCT if power else Strength.ATOM


def _sum(expr: Add) -> str:
    parts: list[str] = []
    for term in expr.terms:
        minus, size = split_sign(term)
        if minus:
            parts.append(_mo("−"))
        elif parts:
            parts.append(_mo("+"))
        # A sum inside a sum keeps its brackets: they are the order in which it was written.
        parts.append(_within(size, Strength.PRODUCT if minus else Strength.SIDE))
    return _row(*parts)


def _product(expr: Mul) -> str:
    parts: list[str] = []
    for place, factor in enumerate(expr.factors):
        if place:
            parts.append(_mo("×") if takes_cross(expr.factors[place - 1], factor) else _PRODUCT)
        markup, strength = _print(factor)
        bracketed = strength < Strength.PRODUCT or isinstance(factor, Mul)
        parts.append(_brackets(markup) if bracketed else markup)
    return _row(*parts)


def takes_cross(left: Expr, right: Expr) -> bool:
    """Numbers and values are multiplied by ×; symbols stand side by side."""
    if any(isinstance(leaf, Val) for side in (left, right) for leaf in leaves(side)):
        return True
    if isinstance(left, Num) and isinstance(right, Sym) and right.name in _UNIT_LIKE:
        return True
    base = right.base if isinstance(right, Pow) else right
    return isinstance(base, Num) and base.value >= 0


def _power(expr: Pow) -> str:
    exponent = f"<mn>{str(expr.exponent).replace('-', '−')}</mn>"
    if isinstance(expr.base, Sym) and not symbol_parts(expr.base.name)[0].startswith("Δ"):
        return _scripted(expr.base.name, exponent)
    markup, strength = _print(expr.base)
    bare = strength is Strength.ATOM and isinstance(expr.base, Num | Func)
    return f"<msup>{markup if bare else _brackets(markup)}{exponent}</msup>"


def _scripted(name: str, exponent: str) -> str:
    """A letter symbol, raised to an exponent when there is one."""
    main, subscript = symbol_parts(name)
    bare = main.removeprefix("Δ")
    base = f"<mtext>{escape(bare)}</mtext>" if is_abbreviation(main) else f"<mi>{escape(bare)}</mi>"
    upright = f"<mtext>{escape(subscript)}</mtext>"
    lowered = f"<mn>{subscript}</mn>" if subscript.isdigit() else upright
    if subscript:
        base = f"<msubsup>{base}{lowered}{exponent}</msubsup>" if exponent else f"<msub>{base}{lowered}</msub>"
    elif exponent:
        base = f"<msup>{base}{exponent}</msup>"
    return _row('<mi mathvariant="normal">Δ</mi>', base) if bare != main else base


def _fraction(over: str, under: str) -> str:
    return f"<mfrac>{over}{under}</mfrac>"


def _brackets(markup: str) -> str:
    return _row(_mo("("), markup, _mo(")"))


def _mo(sign: str) -> str:
    return f"<mo>{escape(sign)}</mo>"


def _row(*parts: str) -> str:
    return parts[0] if len(parts) == 1 else f"<mrow>{''.join(parts)}</mrow>"
