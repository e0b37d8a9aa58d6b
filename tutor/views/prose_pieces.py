"""Prose cut into words and formulas, and its formulas read: for whatever sets both, each in its own way.

Vocabulary: *prose* is plain words with formulas of the authors' grammar (`quantities/formula.py`) between dollar signs.
Place in the data flow: prose of problems and solutions -> words and expressions -> pages, papers and notes.
"""

from __future__ import annotations

from collections.abc import Callable

from tutor.errors import BadFormula
from tutor.quantities.expression import Equation, Expr
from tutor.quantities.formula import read_equation, read_expression

_RELATIONS = "=<>~"


def pieces_of(text: str) -> list[str]:
    """Words and formulas in turn, words first and last; BadFormula for a dollar sign without its partner.

    >>> pieces_of("at $I_Z$ and above")
    ['at ', 'I_Z', ' and above']
    """
    pieces = text.split("$")
    if len(pieces) % 2 == 0:
        raise BadFormula(f"a dollar sign without its partner in '{text}'; a formula stands between two", text=text)
    return pieces


def set_prose(text: str, words: Callable[[str], str], formula: Callable[[str], str]) -> str:
    """The text with its words and its formulas each written by their function; BadFormula for a lone dollar sign."""
    return "".join(formula(piece) if place % 2 else words(piece) for place, piece in enumerate(pieces_of(text)))


def read_formula(formula: str) -> Expr | Equation:
    """A formula as an expression, or as a relation where it has a sign for one; BadFormula where it does not read."""
    return read_equation(formula) if any(sign in formula for sign in _RELATIONS) else read_expression(formula)


def unreadable(formula: str, text: str, error: BadFormula) -> BadFormula:
    """The complaint about a formula that does not read, with the text in which it stands."""
    return BadFormula(f"the formula '${formula}$' in '{text}' does not read: {error.sentence}", text=text)
