"""Prose cut into words and formulas, for whatever writes each in its own way."""

from __future__ import annotations

from collections.abc import Callable

from tutor.errors import BadFormula


def set_prose(text: str, words: Callable[[str], str], formula: Callable[[str], str]) -> str:
    """The text with its words and its formulas each written by their function; BadFormula for a lone dollar sign."""
    pieces = text.split("$")
    if len(pieces) % 2 == 0:
        raise BadFormula(f"a dollar sign without its partner in '{text}'; a formula stands between two", text=text)
    return "".join(formula(piece) if place % 2 else words(piece) for place, piece in enumerate(pieces))
