"""Prose with formulas between dollar signs as plain text, for the terminal, for JSON and for findings in words.

Vocabulary: *prose* is plain words with formulas of the authors' grammar (`formula.py`) between dollar signs.
Place in the data flow: prose of problems and solutions -> plain text. What cannot be read raises BadFormula.
"""

from __future__ import annotations

from collections.abc import Sequence

from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.notation import plain, plain_equation

_ON_ONE_LINE = 40  # characters of a formula that a line is broken before rather than inside
_RELATIONS = ("<=", ">=", "=", "<", ">", "~")


def prose_text(text: str) -> str:
    """Prose with each `$...$` formula printed as plain text, a short one held together by no-break spaces.

    BadFormula names one that does not read.
    """
    pieces = text.split("$")
    for index in range(1, len(pieces), 2):
        formula = formula_plain(pieces[index])
        pieces[index] = formula.replace(" ", "\u00a0") if len(formula) <= _ON_ONE_LINE else formula
    return "".join(pieces)


def formula_plain(formula: str) -> str:
    """One formula of the authors' grammar as plain text."""
    if any(sign in formula for sign in _RELATIONS):
        return plain_equation(read_equation(formula))
    return plain(read_expression(formula))


def listed(words: Sequence[str]) -> str:
    """Words as a list within a sentence.

    >>> listed(["3"]), listed(["1", "2", "5"])
    ('3', '1, 2 and 5')
    """
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)
