"""Expressions as plain text, order kept, with no more brackets than a reader needs.

Vocabulary: the *strength* of an operator says what it may stand inside without brackets.
Place in the data flow: expression -> text for terminals, messages and alternative text; pages and papers set the same
trees in their own way, in `views`.
"""

from __future__ import annotations

from decimal import Decimal
from enum import IntEnum
from math import pi

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
    split_sign,
)
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol, split_name
from tutor.quantities.units import printed_unit

_SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_RELATIONS = {"<=": "≤", ">=": "≥"}
_GREEK = {"eta": "η", "alpha": "α", "phi": "φ"}
# After a number these letters would read as coulombs and amperes.
_UNIT_LIKE = frozenset({"A", "C"})


class Strength(IntEnum):
    """How tightly an expression holds together, loosest first."""

    SUM = 1  # a + b; also a leading minus
    SIDE = 2  # a ∥ b
    PRODUCT = 3  # a b, and numbers times a power of ten
    QUOTIENT = 4  # a/b
    ATOM = 5


def relation_sign(relation: str) -> str:
    """A relation as printed: ≤ for `<=`."""
    return _RELATIONS.get(relation, relation)


def symbol_text(name: str) -> str:
    """A symbol as printed in plain text: a change takes Δ, Greek letters stand for their names.

    >>> symbol_text("DV_O")
    'ΔV_O'
    """
    if name.partition("_")[0] == "DT" or (is_symbol(name) and split_name(name).change):
        return f"Δ{name[1:]}"
    letter, mark, index = name.partition("_")
    return f"{_GREEK.get(letter, letter)}{mark}{index}"


def plain(expr: Expr) -> str:
    """An expression in plain text.

    >>> plain(Div(Add((Sym("V_I"), Neg(Sym("V_Z")))), Sym("R")))
    '(V_I − V_Z)/R'
    """
    return _print(expr)[0]


def plain_equation(equation: Equation) -> str:
    """An equation or inequality in plain text."""
    return f"{plain(equation.lhs)} {relation_sign(equation.relation)} {plain(equation.rhs)}"


def _print(expr: Expr) -> tuple[str, Strength]:
    if isinstance(expr, Sym):
        return symbol_text(expr.name), Strength.ATOM
    if isinstance(expr, Num):
        return _number(expr.value)
    if isinstance(expr, Val):
        return _value(expr)
    if isinstance(expr, Partial):
        return f"∂{symbol_text(expr.of)}/∂{symbol_text(expr.by)}", Strength.QUOTIENT
    if isinstance(expr, Neg):
        return f"−{_within(expr.arg, Strength.PRODUCT)}", Strength.SUM
    if isinstance(expr, Add):
        return _sum(expr), Strength.SUM
    if isinstance(expr, Mul):
        return _product(expr), Strength.PRODUCT
    if isinstance(expr, Div):
        over = _within(expr.num, Strength.PRODUCT, brackets_for=(Div, Partial))
        return f"{over}/{_within(expr.den, Strength.ATOM)}", Strength.QUOTIENT
    if isinstance(expr, Parallel):
        left = _within(expr.left, Strength.ATOM, free=(Parallel,))
        return f"{left} ∥ {_within(expr.right, Strength.ATOM)}", Strength.SIDE
    if isinstance(expr, Pow):
        return _power(expr), Strength.ATOM
    return _function(expr), Strength.ATOM


def _within(
    expr: Expr, least: Strength, brackets_for: tuple[type[Expr], ...] = (), free: tuple[type[Expr], ...] = ()
) -> str:
    text, strength = _print(expr)
    if isinstance(expr, free):
        return text
    return f"({text})" if strength < least or isinstance(expr, brackets_for) else text


def _number(value: float) -> tuple[str, Strength]:
    if value == pi:
        return "π", Strength.ATOM
    number = Decimal(repr(float(value)))
    sign, size = ("−" if number < 0 else ""), abs(number)
    if size == 0 or -7 <= size.adjusted() < 15:
        text = format(size, "f")
        text = text.rstrip("0").rstrip(".") if "." in text else text
        return sign + text, Strength.SUM if sign else Strength.ATOM
    power = size.adjusted()
    mantissa = format(size.scaleb(-power).normalize(), "f")
    text = f"{sign}{mantissa} × 10{str(power).translate(_SUPERSCRIPTS)}"
    return text, Strength.SUM if sign else Strength.PRODUCT


def _value(expr: Val) -> tuple[str, Strength]:
    text = write(expr.value, expr.unit, expr.figures)
    if text.startswith("−"):
        return text, Strength.SUM
    if "×" in text:
        return text, Strength.PRODUCT
    return text, Strength.QUOTIENT if "/" in printed_unit(expr.unit) else Strength.ATOM


def _sum(expr: Add) -> str:
    text = ""
    for place, term in enumerate(expr.terms):
        minus, size = split_sign(term)
        # A sum inside a sum keeps its brackets: they are the order in which it was written.
        part = _within(size, Strength.SIDE if not minus else Strength.PRODUCT)
        joint = ("−" if minus else "") if place == 0 else (" − " if minus else " + ")
        text += joint + part
    return text


def _product(expr: Mul) -> str:
    text = ""
    for place, factor in enumerate(expr.factors):
        part = _within(factor, Strength.PRODUCT, brackets_for=(Mul, Div, Partial))
        if place:
            text += (" × " if _takes_cross(expr.factors[place - 1], factor, part) else " ") + part
        else:
            text = part
    return text


def _takes_cross(left: Expr, right: Expr, printed: str) -> bool:
    """Numbers and values are multiplied by ×; symbols stand side by side."""
    if any(isinstance(leaf, Val) for side in (left, right) for leaf in leaves(side)):
        return True
    if isinstance(left, Num) and isinstance(right, Sym) and right.name in _UNIT_LIKE:
        return True
    return printed[0].isdigit()


def _power(expr: Pow) -> str:
    exponent = str(expr.exponent).translate(_SUPERSCRIPTS)
    bare = isinstance(expr.base, Sym | Func) or (isinstance(expr.base, Num) and expr.base.value >= 0)
    text, strength = _print(expr.base)
    return f"{text}{exponent}" if bare and strength == Strength.ATOM else f"({text}){exponent}"


def _function(expr: Func) -> str:
    inside = plain(expr.arg)
    if expr.name == "cbrt":
        return f"({inside})^(1/3)"  # as it can be typed: a raised third has no sign of its own
    if expr.name != "sqrt":
        return f"{expr.name}({inside})"
    whole = isinstance(expr.arg, Num) and expr.arg.value >= 0 and float(expr.arg.value).is_integer()
    return f"√{inside}" if whole else f"√({inside})"
