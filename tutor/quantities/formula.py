"""Reads an author's formula into an expression: `R_MAX = (V_I_MIN - V_Z)/(I_L_MAX + I_ZK)`.

A small grammar for our own files (circuits, families, lessons); a learner's working has a reader of its own, which
forgives far more. Text is never evaluated as code.

    equation  sum (("=" | "<=" | ">=" | "<" | ">" | "~") sum)?
    sum       ["-"] product (("+" | "-") product)*
    product   power (("*" | "/" | "||") power)*
    power     atom ["^" whole number from 1 on]
    atom      number | NAME | "pi" | ("sqrt" | "cbrt") "(" sum ")" | "(" sum ")"
              | "{" NAME "by" NAME "}", a sensitivity: {V_O by V_I}
"""

from __future__ import annotations

import re
from functools import lru_cache
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
    sum_of,
)

_TOKEN = re.compile(
    r"\s*(?:(?P<number>[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?)|(?P<name>[A-Za-z][A-Za-z0-9_]*)"
    r"|(?P<op>\|\||<=|>=|[-+*/^()=<>~{}]))",
    re.ASCII,
)
_KEPT = 4096  # formulas remembered once read: the same few stand in all problems of a level
_RELATIONS = {"=": "=", "<=": "<=", ">=": ">=", "<": "<", ">": ">", "~": "≈"}


class _Reader:
    """One pass over the tokens of one formula."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens: list[tuple[str, str]] = []
        self.at = 0
        place = 0
        while text[place:].strip():
            match = _TOKEN.match(text, place)
            if match is None:
                raise BadFormula(f"cannot read '{text[place:].strip()[:12]}' in the formula '{text}'", text=text)
            kind = match.lastgroup or "op"
            self.tokens.append((kind, match.group(kind)))
            place = match.end()

    def peek(self) -> str:
        return self.tokens[self.at][1] if self.at < len(self.tokens) else ""

    def take(self, wanted: str = "") -> tuple[str, str]:
        if self.at >= len(self.tokens) or (wanted and self.peek() != wanted):
            got = self.peek() or "the end"
            raise BadFormula(f"expected '{wanted or 'a value'}' but found '{got}' in the formula '{self.text}'")
        self.at += 1
        return self.tokens[self.at - 1]

    def sum(self) -> Expr:
        terms: list[Expr] = []
        sign = "+"
        if self.peek() == "-":
            sign = self.take()[1]
        while True:
            product = self.product()
            terms.append(Neg(product) if sign == "-" else product)
            if self.peek() not in ("+", "-"):
                return sum_of(terms)
            sign = self.take()[1]

    def product(self) -> Expr:
        left = self.power()
        while self.peek() in ("*", "/", "||"):
            operator = self.take()[1]
            right = self.power()
            if operator == "/":
                left = Div(left, right)
            elif operator == "||":
                left = Parallel(left, right)
            elif isinstance(left, Mul):
                left = Mul((*left.factors, right))
            else:
                left = Mul((left, right))
        return left

    def power(self) -> Expr:
        base = self.atom()
        if self.peek() != "^":
            return base
        self.take()
        kind, digits = self.take()
        if kind != "number" or not digits.isdigit() or int(digits) == 0:
            raise BadFormula(
                f"an exponent must be a whole number from 1 on (got '{digits}') in the formula '{self.text}'"
            )
        return Pow(base, int(digits))

    def atom(self) -> Expr:
        kind, word = self.take()
        if kind == "number":
            return Num(float(word))
        if word in ("sqrt", "cbrt"):
            self.take("(")
            inside = self.sum()
            self.take(")")
            return Func(word, inside)
        if word == "pi":
            return Num(pi)
        if kind == "name":
            return Sym(word)
        if word == "(":
            inside = self.sum()
            self.take(")")
            return inside
        if word == "{":
            of = self.take()[1]
            self.take("by")
            by = self.take()[1]
            self.take("}")
            return Partial(of, by)
        raise BadFormula(f"expected a value but found '{word}' in the formula '{self.text}'", text=self.text)


@lru_cache(maxsize=_KEPT)
def read_expression(text: str) -> Expr:
    """The expression an author wrote; BadFormula when it cannot be read.

    >>> read_expression("V_I - V_Z")
    Add(terms=(Sym(name='V_I'), Neg(arg=Sym(name='V_Z'))))
    """
    reader = _Reader(text)
    expr = reader.sum()
    if reader.peek():
        raise BadFormula(f"nothing should follow '{reader.peek()}' in the formula '{text}'", text=text)
    return expr


@lru_cache(maxsize=_KEPT)
def read_equation(text: str) -> Equation:
    """The equation or inequality an author wrote; BadFormula when it cannot be read."""
    reader = _Reader(text)
    left = reader.sum()
    relation = reader.take()[1]
    if relation not in _RELATIONS:
        raise BadFormula(f"expected a relation but found '{relation}' in the formula '{text}'", text=text)
    right = reader.sum()
    if reader.peek():
        raise BadFormula(f"nothing should follow '{reader.peek()}' in the formula '{text}'", text=text)
    return Equation(left, right, _RELATIONS[relation])


def formula_text(expr: Expr) -> str:
    """An expression written in this grammar, so that `read_expression` gives it back (values print as bare SI numbers).

    >>> formula_text(read_expression("(V_I - V_Z)/(I_L + I_Z)"))
    '(V_I - V_Z)/(I_L + I_Z)'
    """
    return _write(expr)[0]


_SUM, _PRODUCT, _ATOM = 0, 1, 2


def _write(expr: Expr) -> tuple[str, int]:
    """The text of an expression and how tightly it binds."""
    if isinstance(expr, Sym):
        return expr.name, _ATOM
    if isinstance(expr, Num | Val):
        return _write_number(expr.value)
    if isinstance(expr, Partial):
        return f"{{{expr.of} by {expr.by}}}", _ATOM
    if isinstance(expr, Add):
        text = _within(expr.terms[0], _SUM)
        for term in expr.terms[1:]:
            text += f" - {_within(term.arg, _PRODUCT)}" if isinstance(term, Neg) else f" + {_within(term, _PRODUCT)}"
        return text, _SUM
    if isinstance(expr, Neg):
        return f"-{_within(expr.arg, _PRODUCT)}", _SUM
    if isinstance(expr, Mul):
        return "*".join(_within(factor, _ATOM) for factor in expr.factors), _PRODUCT
    if isinstance(expr, Div):
        return f"{_within(expr.num, _PRODUCT)}/{_within(expr.den, _ATOM)}", _PRODUCT
    if isinstance(expr, Parallel):
        return f"{_within(expr.left, _ATOM)}||{_within(expr.right, _ATOM)}", _PRODUCT
    if isinstance(expr, Pow):
        return f"{_within(expr.base, _ATOM)}^{expr.exponent}", _PRODUCT
    return f"{expr.name}({_write(expr.arg)[0]})", _ATOM


def _write_number(value: float) -> tuple[str, int]:
    if value == pi:
        return "pi", _ATOM
    whole = int(value) if value == int(value) and abs(value) < 1e15 else None
    text = str(whole) if whole is not None else repr(value)
    return text, _SUM if value < 0 else _ATOM


def _within(expr: Expr, least: int) -> str:
    text, binding = _write(expr)
    return text if binding >= least else f"({text})"
