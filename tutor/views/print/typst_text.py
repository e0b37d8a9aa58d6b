"""Text and values as Typst code in which nothing that was typed by anybody can be more than text.

Vocabulary: *code* is an expression of Typst's code mode. Everything a person wrote enters as a string literal, where
two signs alone mean something (the backslash and the quotation mark); markup and maths mode are never used for it.
Place in the data flow: text of any origin -> literals -> calls of the functions in `book.typ`.
Source: Typst's reference, "Syntax" and "str": escapes of string literals.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

# Marks that turn the reading direction of all that follows: in a name they could make a line say something else.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# What may need an escape: the two signs, and everything that is neither a printed sign nor a plain space.
_SPECIAL = re.compile("[\x00-\x1f\"\\\\\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def literal(text: str) -> str:
    r"""The text as a Typst string literal; control characters become spaces, turning marks are left out.

    >>> literal('a "b" \\ #c')
    '"a \\"b\\" \\\\ #c"'
    """
    # Most text has no such sign, and a paper has hundreds of thousands of letters.
    return f'"{_SPECIAL.sub(lambda found: _escaped(found[0]), text)}"'


def _escaped(character: str) -> str:
    if character in '"\\':
        return f"\\{character}"
    if character in _TURNING:
        return ""
    kind = unicodedata.category(character)
    if kind == "Cs":  # half of a pair: no character at all
        return "\ufffd"
    return " " if kind in ("Cc", "Zl", "Zp") else character


def call(function: str, *arguments: str, **named: str) -> str:
    """A call of one of our functions; the arguments are code. An underscore in a name stands for Typst's hyphen."""
    told = [*arguments, *(f"{name.replace('_', '-')}: {value}" for name, value in named.items())]
    return f"{function}({', '.join(told)})"


def array(items: Iterable[str]) -> str:
    """An array of code, of any length."""
    return "(" + "".join(f"{item}, " for item in items) + ")"


def joined(parts: Iterable[str]) -> str:
    """Pieces of content, one behind another.

    >>> joined(['"a"', 'eq("b")']), joined([])
    ('("a" + eq("b"))', '""')
    """
    found = [part for part in parts if part != '""']
    if not found:
        return '""'
    return found[0] if len(found) == 1 else "(" + " + ".join(found) + ")"


def flag(value: bool) -> str:
    """A truth value."""
    return "true" if value else "false"
