"""The characters a line of working may be made of, as data: look-alikes, letters of names, signs, marks.

Vocabulary: *alike* characters stand for another one, code point by code point, so that columns stay those of the text
as typed; a *foreign* character belongs to no name, unit or sign, only to words.
Place in the data flow: data for `tokens.py` and `numerals.py`, and through `mirror_tables.py` for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tutor.quantities import misread

DIGITS = "0123456789"
SUPERSCRIPTS = misread.SUPERSCRIPTS

_STANDS_FOR: tuple[tuple[str, str], ...] = (
    (" ", "\n\r\v\f\u00ad\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2008\u200a\u200b\u205f\u2060\u3000\ufeff"),
    ("-", "\u2012\ufe63\uff0d"),
    ("×", "∗⨯✕✖"),
    ("/", "÷∕⁄／"),
    ("∥", "‖⫽"),
    ("=", "＝≔"),
    ("≈", "≒≐∽"),
    ("≤", "⩽≦"),
    ("≥", "⩾≧"),
    ("∴", "⇒→⟹⟶⟾➔➜∵"),
    ("'", "’‘′´`"),
    ("Δ", "∆△"),
    ("d", "∂"),
    ("φ", "ϕ"),
    ("K", "\u212a"),
    ("(", "（"),
    (")", "）"),
    ("[", "［"),
    ("]", "］"),
    (",", "，"),
    (";", "；"),
    (":", "：∶"),
    ("—", "―"),
)
_LOWERED = dict(zip("₀₁₂₃₄₅₆₇₈₉ₐₑₕᵢₖₗₘₙₒₚᵣₛₜᵤᵥₓ", "0123456789aehiklmnoprstuvx", strict=True))

# One character for another. A subscript figure or letter reads as itself: V₁ is V1, Vₘₐₓ is Vmax.
ALIKE: Mapping[str, str] = MappingProxyType(
    {**misread.ALIKE, **{char: plain for plain, chars in _STANDS_FOR for char in chars}, **_LOWERED}
)

_SMALL = {ord(char): ord(char) + 32 for char in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}

FRACTIONS: Mapping[str, tuple[str, str]] = MappingProxyType({"½": ("1", "2"), "¼": ("1", "4"), "¾": ("3", "4")})

SIGNS = "+-×/^∥±√"
RELATIONS = "=≈<>≤≥"
OTHER_RELATIONS = "≠≡∝≪≫≁≮≯≰≱"
OPENING = "(["
CLOSING = ")]"
STOPS = ".!…"
BREAKS = ";—"
TICKS = "✓✔☑✗✘✅❌"
# Beside letters and digits these may stand inside a run: V_Z, R', 25 °C.
JOINED = "_'°℃"
# What ends a run although it is no ASCII character; every other character from U+0080 on is foreign.
SPECIAL = frozenset("×∥±√≈≤≥∴—…∞" + OTHER_RELATIONS + TICKS + SUPERSCRIPTS + "⁻⁺" + "".join(FRACTIONS) + "“”„«»•¿¡§")


def is_letter(char: str) -> bool:
    """A letter of a name: Latin without accents, Greek, or the micro sign."""
    return "a" <= char <= "z" or "A" <= char <= "Z" or "\u0370" <= char <= "\u03ff" or char == "\u00b5"


def is_name_char(char: str) -> bool:
    """What a symbol or unit may hold."""
    return is_letter(char) or char in DIGITS or char in JOINED


def is_foreign(char: str) -> bool:
    """A character of words only."""
    return char >= "\u0080" and not is_name_char(char) and char not in SPECIAL


def is_run_char(char: str) -> bool:
    """What goes on with a run of letters: a name, a unit or a word."""
    return is_name_char(char) or is_foreign(char)


def lowered(text: str) -> str:
    """Latin capitals made small, everything else kept: the same in every language and runtime."""
    return text.translate(_SMALL)


def lines_in(text: str) -> list[str]:
    """The lines of a text, by whatever ends them (LF, CR LF, CR); one, and empty, of a text that holds nothing."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
