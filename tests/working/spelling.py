"""Expressions typed as learners type them: names, signs, units and blanks in any of the accepted spellings."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hypothesis import strategies as st

from tutor.quantities.expression import Add, Div, Expr, Mul, Neg, Num, Parallel, Pow, Sym, Val
from tutor.solution.sheet import Sheet
from tutor.working.tree import Standing
from tutor.working.vocabulary import Vocabulary

Draw = Callable[..., object]
UNITS = {"V": ("V", " V", " volts"), "A": ("A", " A", " amps"), "ohm": ("Ω", " Ω", " ohm", "R"), "W": ("W", " W")}
MILLI = {"A": ("m", "mA", " mA"), "W": ("mW", " mW")}
TIMES = ("*", " × ", " · ", " * ", " ")
DIVIDED = ("/", " / ", " ÷ ")
MINUS = (" - ", " − ", "-")
PARALLEL = (" || ", " ∥ ")


def spellings(name: str, sheet: Sheet) -> list[str]:
    """Ways to type a symbol that mean it and nothing else on this sheet."""
    stem, _, index = name.partition("_")
    small = index.lower()
    typed = [name, f"{stem}_{{{index}}}", f"{stem}{index}", f"{stem.lower()}_{small}", f"{stem}_{small}"]
    vocabulary = Vocabulary(frozenset(sheet.symbols), sheet.aliases)
    meant = [item for item in typed if vocabulary.resolve(item) == (name, Standing.CIRCUIT)]
    return list(dict.fromkeys(meant)) if index else [name]


class Typist:
    """Types one line: each symbol in one of its spellings, each sign in one of its own."""

    def __init__(self, draw: Draw, sheet: Sheet, own: Sequence[str] = ()) -> None:
        self.draw, self.sheet, self.own = draw, sheet, own

    def _one(self, ways: Sequence[str]) -> str:
        return str(self.draw(st.sampled_from(list(ways))))

    def text(self, expr: Expr) -> str:
        """The expression as typed, with no bracket too few."""
        return self._typed(expr, 0)

    def _typed(self, expr: Expr, tight: int) -> str:
        """`tight` is how closely what stands around holds together: 0 a side, 1 a term, 2 a factor, 3 under a power."""
        if isinstance(expr, Sym):
            return expr.name if expr.name in self.own else self._one(spellings(expr.name, self.sheet))
        if isinstance(expr, Num):
            return f"{expr.value:g}"
        if isinstance(expr, Val):
            typed = self._number(expr)
            return f"({typed})" if tight > 1 or expr.value < 0 else typed
        loose = {Add: 1, Neg: 1, Mul: 2, Div: 2, Parallel: 2, Pow: 3}[type(expr)]
        inner = self._inner(expr)
        return f"({inner})" if tight >= loose else inner

    def _inner(self, expr: Expr) -> str:
        if isinstance(expr, Add):
            text = self._typed(expr.terms[0], 0 if isinstance(expr.terms[0], Neg) else 1)
            for term in expr.terms[1:]:
                taken = isinstance(term, Neg)
                sign = self._one(MINUS) if taken else self._one((" + ", "+"))
                text += sign + self._typed(term.arg if isinstance(term, Neg) else term, 1)
            return text
        if isinstance(expr, Mul):
            sign = self._one(TIMES)
            factors = [self._typed(factor, 2) for factor in expr.factors]
            # A blank between a number and what follows it may be read as its unit.
            clear = sign != " " or not any(text[-1:].isdigit() for text in factors[:-1])
            return (sign if clear else " × ").join(factors)
        if isinstance(expr, Div):
            return self._typed(expr.num, 2) + self._one(DIVIDED) + self._typed(expr.den, 2)
        if isinstance(expr, Parallel):
            return self._typed(expr.left, 2) + self._one(PARALLEL) + self._typed(expr.right, 2)
        if isinstance(expr, Pow):
            return self._typed(expr.base, 3) + self._one(("^2", "²", "**2"))
        assert isinstance(expr, Neg)
        return "-" + self._typed(expr.arg, 2)

    def _number(self, value: Val) -> str:
        if value.unit in MILLI and abs(value.value) < 1:
            return f"{value.value * 1000:.10g}" + self._one(MILLI[value.unit])
        return f"{value.value:.10g}" + (self._one(UNITS[value.unit]) if value.unit in UNITS else "")
