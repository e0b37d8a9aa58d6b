"""Expressions, chains and prose with formulas as Typst code, in the order written and in the letters of a Look.

Vocabulary: *code* is an expression of Typst's code mode (`typst_text.py`); a *body* is what stands inside an equation;
a *chain* is a first expression and its relations. The functions called are those of `book.typ`.
Place in the data flow: expressions, chains and prose of a Problem or Solution -> `Pen` -> code. It prints as
`views/mathml.py` does for pages: italic letters with upright subscripts, upright units after a thin space, × between
values and a thin space between symbols (SI Brochure, 9th edition, 5.4; ISO 80000-1, 7.1).
"""

from __future__ import annotations

from dataclasses import dataclass
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
    split_sign,
)
from tutor.quantities.notation import Strength, plain, relation_sign
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol
from tutor.sets.paper import Look
from tutor.solution.solution import Chain
from tutor.views.lettering import is_abbreviation, symbol_parts
from tutor.views.mathml import FROM_SUPERSCRIPTS, WRITTEN_NUMBER, takes_cross
from tutor.views.press import named_pieces, typeset
from tutor.views.print.shown import lettered, shown
from tutor.views.print.typst_text import array, call, joined, literal
from tutor.views.prose_pieces import pieces_of, read_formula, unreadable

_UNIT_SPACE = "\u2005"  # between a number and its unit


@dataclass(frozen=True)
class Pen:
    """Writes maths and prose in the letters and with the decimal sign of a Look."""

    look: Look

    def prose(self, text: str) -> str:
        """Prose with formulas between dollar signs; BadFormula names the text whose formula does not read."""
        return joined(
            self._formula(piece, text) if place % 2 else literal(shown(piece, self.look))
            for place, piece in enumerate(pieces_of(typeset(text)))
        )

    def told(self, text: str) -> str:
        """Somebody's own words: as prose where they read as that, else letter for letter."""
        try:
            return self.prose(text)
        except BadFormula:
            return literal(typeset(text))

    def words(self, text: str) -> str:
        """Plain words without dollar signs; names such as V_O in them are set as the letters they stand for."""
        return joined(
            self.letter(piece) if is_letter else literal(shown(piece, self.look))
            for piece, is_letter in named_pieces(text)
        )

    def symbol(self, name: str) -> str:
        """A letter symbol as maths; anything else as the words it is."""
        return self.letter(name) if is_symbol(name) else literal(shown(typeset(name), self.look))

    def letter(self, name: str) -> str:
        """One letter symbol in a line of text."""
        return call("eq", self._scripted(name, ""))

    def quantity(self, text: str) -> str:
        """A written value in a line of text, its unit bound to it."""
        return literal(shown(typeset(text), self.look))

    def formula(self, thing: Expr | Equation) -> str:
        """An expression or relation in a line of text."""
        if isinstance(thing, Equation):
            return call("eq", _row(self.body(thing.lhs), _sign(relation_sign(thing.relation)), self.body(thing.rhs)))
        return call("eq", self.body(thing))

    def chain(self, worked: Chain) -> str:
        """A line of working: on one line where it fits, else its relations under one another."""
        links = [
            array((literal(relation_sign(relation)), self.body(expr))) for relation, expr in worked.rest
        ]
        return call("chain", self.body(worked.first), array(links))

    def relation(self, equation: Equation) -> str:
        """An equation or inequality on a line of its own."""
        return self.chain(Chain(equation.lhs, ((equation.relation, equation.rhs),)))

    def body(self, expr: Expr) -> str:
        """An expression as the body of an equation. ValueError where a number is not as `write` writes it."""
        return self._print(expr)[0]

    def _formula(self, formula: str, text: str) -> str:
        try:
            return self.formula(read_formula(formula))
        except BadFormula as error:
            raise unreadable(formula, text, error) from error

    def _print(self, expr: Expr) -> tuple[str, Strength]:
        """The body, and how tightly it holds; a fraction and a root hold like a letter, for their bars enclose them."""
        if isinstance(expr, Sym):
            return self._scripted(expr.name, ""), Strength.ATOM
        if isinstance(expr, Num):
            return (call("it", literal("π")), Strength.ATOM) if expr.value == pi else self._number(plain(expr))
        if isinstance(expr, Val):
            return self._number(write(expr.value, expr.unit, expr.figures))
        if isinstance(expr, Partial):
            over, under = (_row(literal("∂"), self._scripted(name, "")) for name in (expr.of, expr.by))
            return call("fr", over, under), Strength.ATOM
        if isinstance(expr, Neg):
            return _row(_sign("−"), self._within(expr.arg, Strength.PRODUCT)), Strength.SUM
        if isinstance(expr, Add):
            return self._sum(expr), Strength.SUM
        if isinstance(expr, Mul):
            return self._product(expr), Strength.PRODUCT
        if isinstance(expr, Div):
            return call("fr", self.body(expr.num), self.body(expr.den)), Strength.ATOM
        if isinstance(expr, Parallel):
            loose = isinstance(expr.left, Parallel)
            left = self.body(expr.left) if loose else self._within(expr.left, Strength.ATOM)
            return _row(left, _sign("∥"), self._within(expr.right, Strength.ATOM)), Strength.SIDE
        if isinstance(expr, Pow):
            return self._power(expr), Strength.ATOM
        if expr.name in ("sqrt", "cbrt"):
            return call(expr.name, self.body(expr.arg)), Strength.ATOM
        return _row(literal(expr.name), _brackets(self.body(expr.arg))), Strength.ATOM

    def _within(self, expr: Expr, least: Strength) -> str:
        body, strength = self._print(expr)
        return _brackets(body) if strength < least else body

    def _number(self, text: str) -> tuple[str, Strength]:
        """A written number, with its unit when it has one."""
        found = WRITTEN_NUMBER.fullmatch(text)
        if found is None:
            raise ValueError(f"not a written number: {text!r}")
        sign, digits, power, unit = found.groups()
        behind = f"{_UNIT_SPACE}{unit}" if unit else ""
        if power:
            ten = call("ten", literal(power.translate(FROM_SUPERSCRIPTS)))
            parts = [literal(shown(digits, self.look)), _sign("×"), ten, *([literal(behind)] if behind else [])]
        else:
            parts = [literal(shown(digits, self.look) + behind)]
        if sign:
            return _row(_sign("−"), *parts), Strength.SUM
        return _row(*parts), Strength.PRODUCT if power else Strength.ATOM

    def _sum(self, expr: Add) -> str:
        parts: list[str] = []
        for term in expr.terms:
            minus, size = split_sign(term)
            if minus or parts:
                parts.append(_sign("−" if minus else "+"))
            # A sum inside a sum keeps its brackets: they are the order in which it was written.
            parts.append(self._within(size, Strength.PRODUCT if minus else Strength.SIDE))
        return _row(*parts)

    def _product(self, expr: Mul) -> str:
        parts: list[str] = []
        for place, factor in enumerate(expr.factors):
            if place:
                parts.append(_sign("×") if takes_cross(expr.factors[place - 1], factor) else "thin")
            body, strength = self._print(factor)
            parts.append(_brackets(body) if strength < Strength.PRODUCT or isinstance(factor, Mul) else body)
        return _row(*parts)

    def _power(self, expr: Pow) -> str:
        exponent = str(expr.exponent).replace("-", "−")
        if isinstance(expr.base, Sym) and not symbol_parts(expr.base.name)[0].startswith("Δ"):
            return self._scripted(expr.base.name, exponent)
        body, strength = self._print(expr.base)
        bare = strength is Strength.ATOM and isinstance(expr.base, Num | Func)
        return call("raised", body if bare else _brackets(body), literal(exponent))

    def _scripted(self, name: str, exponent: str) -> str:
        """A letter symbol, raised to an exponent when there is one."""
        main, subscript = lettered(*symbol_parts(name), self.look)
        bare = main.removeprefix("Δ")
        told = call(
            "sy", literal(bare), literal(subscript), literal(exponent), "false" if is_abbreviation(main) else "true"
        )
        return _row(literal("Δ"), told) if bare != main else told


def _sign(sign: str) -> str:
    return call("sign", literal(sign))


def _brackets(body: str) -> str:
    return call("br", body)


def _row(*parts: str) -> str:
    return parts[0] if len(parts) == 1 else f"({' + '.join(parts)})"
