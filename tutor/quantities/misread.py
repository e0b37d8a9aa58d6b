"""What a typed quantity may look like, as data: spellings of units, look-alike characters, and ways to be misread.

Vocabulary: a *token* is one spelling of a unit with its prefix (`mA`, `kohm`); a *misreading* is a way in which text is
no quantity, with the sentence for it and examples. The table of misreadings words the reader and is its test.
Place in the data flow: `reading.py` reads by these tables; so does its counterpart in the browser, which gets them as
data from `generate/mirror_tables.py`.
Sources: SI Brochure, 9th edition (2019); IEC 60062:2016 for letters in the place of the decimal sign (2k7, R47).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import MappingProxyType

from tutor.quantities.units import Unit, prefixes, units

MOST_CHARACTERS = 80
MOST_DIGITS = 20
MOST_POWER = 30

# Characters that stand for another one, code point by code point, so that columns stay those of the text as typed.
ALIKE: Mapping[str, str] = MappingProxyType(
    {
        "\t": " ", "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ",
        "−": "-", "–": "-", "\u2010": "-", "\u2011": "-",
        "\u2126": "\u03a9", "\u03bc": "\u00b5", "º": "°", "˚": "°",
        "·": "×", "⋅": "×", "∙": "×", "*": "×",
        "~": "≈", "≃": "≈", "≅": "≈", "∼": "≈",
    }
)  # fmt: skip

SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹"

# Letters that may stand for the decimal sign (IEC 60062): the power of ten, and the unit where the letter says it.
LETTERS: Mapping[str, tuple[int, str]] = MappingProxyType(
    {
        "R": (0, "ohm"), "k": (3, ""), "K": (3, ""), "M": (6, ""), "G": (9, ""),
        "m": (-3, ""), "u": (-6, ""), "µ": (-6, ""), "n": (-9, ""), "p": (-12, ""),
        "V": (0, "V"), "A": (0, "A"), "F": (0, "F"),
    }
)  # fmt: skip
# Those that may come first: R47, n47. (V47 and A47 are no customary spellings.)
LEADING_LETTERS = "RkKMunpµ"

OPERATORS = "+-×/^±√()[]{}²³"
BOUNDS = "<>≤≥"


class Fault(Enum):
    """The ways in which text is no quantity that was asked for."""

    EMPTY = "empty"
    TOO_LONG = "too-long"
    BOUND = "bound"
    SEVERAL = "several"
    NOT_A_NAME = "not-a-name"
    NOT_FINITE = "not-finite"
    NO_NUMBER = "no-number"
    ARITHMETIC = "arithmetic"
    COMMA = "comma"
    TWO_POINTS = "two-points"
    GROUPING = "grouping"
    DIGITS = "digits"
    EXPONENT = "exponent"
    POWER = "power"
    UNKNOWN_UNIT = "unknown-unit"
    WRONG_KIND = "wrong-kind"
    KELVIN = "kelvin"


@dataclass(frozen=True)
class Misreading:
    """One way to be misread: {found} is the text at fault, {asked} what was asked for, {got} what was given instead.

    `examples` are pairs of text and unit code asked for.
    """

    fault: Fault
    sentence: str
    examples: tuple[tuple[str, str], ...]


MISREADINGS: tuple[Misreading, ...] = (
    Misreading(
        Fault.EMPTY,
        "nothing is written here; write a number and its unit",
        (("", "A"), ("   ", "V"), ("I_Z =", "A"), ("≈", "A"), ("\u202f", "ohm")),
    ),
    Misreading(
        Fault.TOO_LONG,
        f"this is longer than one quantity; write the value alone, in at most {MOST_CHARACTERS} characters",
        (("1" * 81, "A"), ("I_Z = 27 mA" + " " * 80, "A")),
    ),
    Misreading(
        Fault.BOUND,
        "write a value here, without '{found}'",
        (("< 5 mA", "A"), ("≥ 5 mA", "A"), ("R <= 140", "ohm"), ("5 mA <", "A")),
    ),
    Misreading(
        Fault.SEVERAL,
        "write one value; this line has more than one '='",
        (("I_Z = 27m - 9m = 18 mA", "A"), ("== 5", "A"), ("= ≈ 5 mA", "A")),
    ),
    Misreading(
        Fault.NOT_A_NAME,
        "only a symbol may stand before '=' (found '{found}')",
        (("5 = 5 mA", "A"), ("a+b = 5 mA", "A"), ("V_I/R = 5 mA", "A")),
    ),
    Misreading(
        Fault.NOT_FINITE,
        "'{found}' is no number that a meter could show",
        (("nan", "A"), ("inf", "A"), ("-inf", "A"), ("Infinity ohm", "ohm"), ("∞", "ohm"), ("NaN mA", "A")),
    ),
    Misreading(
        Fault.NO_NUMBER,
        "there is no number in '{found}'",
        (("five mA", "A"), ("mA", "A"), ("I_Z", "A"), (".", "V"), ("?", "V"), ("٣ mA", "A"), ("V5", "V"), ("½ W", "W")),
    ),
    Misreading(
        Fault.ARITHMETIC,
        "write the value itself; sums, products and ranges belong in your working (found '{found}')",
        (("14-9", "V"), ("5*3", "V"), ("5 ± 1 mA", "A"), ("2^3", "V"), ("(5)", "V"), ("5-6 mA", "A"), ("√2", "V"),
         ("--5 mA", "A"), ("27 V/150", "A"), ("5 × 4 V", "V"), ("V_I/2", "V"), ("3²", "V")),
    ),
    Misreading(
        Fault.COMMA,
        "is the comma in '{found}' a decimal sign? Write a point for it, and no comma between thousands",
        (("5,1 V", "V"), ("1,000 ohm", "ohm"), ("1,234.5", "ohm"), (",5 V", "V")),
    ),
    Misreading(
        Fault.TWO_POINTS,
        "'{found}' has more than one decimal sign",
        (("1.2.3 V", "V"), ("5..1", "V"), ("2.2k7", "ohm"), ("2k7k1", "ohm")),
    ),
    Misreading(
        Fault.GROUPING,
        "a space may group digits in threes only, as in 1 000 (found '{found}')",
        (("1 00 V", "V"), ("12 5", "V"), ("1000 000", "ohm"), ("1 0000", "ohm"), ("0.1234 5", "V")),
    ),
    Misreading(
        Fault.DIGITS,
        f"no meter shows more than {MOST_DIGITS} digits",
        (("1" * 21, "A"), ("0." + "0" * 30 + "1", "A")),
    ),
    Misreading(
        Fault.EXPONENT,
        "the power of ten in '{found}' needs a whole exponent",
        (("5e", "A"), ("5e mA", "A"), ("5 × 10^", "A"), ("5×10^x", "A"), ("5×10^2.5", "A"), ("5×10^(-3", "A"),
         ("5×10⁻", "A"), ("1e2.5", "A")),
    ),
    Misreading(
        Fault.POWER,
        f"powers of ten beyond {MOST_POWER} are no part of this subject (found '{{found}}')",
        (("5e31", "A"), ("5e-31", "A"), ("1e999999999", "A"), ("10^99 V", "V")),
    ),
    Misreading(
        Fault.UNKNOWN_UNIT,
        "'{found}' is no unit that is known here; {asked} was asked",
        (("5 mAxe", "A"), ("5 x", "A"), ("5 mA max", "A"), ("5 mA 3", "A"), ("5 V A/W/s", "V"), ("5 mA/", "A"),
         ("5 $", "V"), ("5 mK", "K")),
    ),
    Misreading(
        Fault.WRONG_KIND,
        "this is {got}; {asked} was asked",
        (("5 V", "A"), ("5 mA", "ohm"), ("5V6", "A"), ("3 W", "V"), ("4R7", "V"), ("3 dB", "%"), ("2 mV/K", "V"),
         ("5 W/s", "V"), ("60 Hz", "s"), ("5 %", "dB")),
    ),
    Misreading(
        Fault.KELVIN,
        "this is in kelvins; a temperature in °C was asked",
        (("350 K", "degC"), ("25K", "degC")),
    ),
)  # fmt: skip


@dataclass(frozen=True)
class UnitToken:
    """One spelling of a unit: its code, its dimension over (V, A, s, K) and the power of ten to SI."""

    code: str
    exponents: tuple[int, int, int, int]
    power: int


# Units that take no prefix when read; a spelling such as mK would only hide a slip.
_BARE = frozenset({"K", "degC", "%", "dB"})


def _spellings(unit: Unit) -> tuple[str, ...]:
    return tuple(dict.fromkeys((unit.code, unit.printed, *unit.typed)))


@cache
def tokens() -> Mapping[str, UnitToken]:
    """Every spelling of a simple unit, with and without prefix; quotients are read from two of them."""
    table: dict[str, UnitToken] = {}
    for code, unit in units().items():
        if not code or "/" in code:
            continue
        for spelling in _spellings(unit):
            table.setdefault(spelling, UnitToken(code, unit.exponents, -unit.shown_power))
    for code, unit in units().items():
        if not code or "/" in code or code in _BARE:
            continue
        for spelling in _spellings(unit):
            for prefix in prefixes().values():
                for typed in prefix.typed:
                    table.setdefault(typed + spelling, UnitToken(code, unit.exponents, prefix.power))
    return MappingProxyType(table)


@cache
def prefix_powers() -> Mapping[str, int]:
    """Every spelling of a prefix and its power of ten."""
    return MappingProxyType({typed: prefix.power for prefix in prefixes().values() for typed in prefix.typed})


@cache
def kinds() -> Mapping[tuple[int, int, int, int], str]:
    """What a quantity of each dimension is called."""
    table: dict[tuple[int, int, int, int], str] = {}
    for unit in units().values():
        table.setdefault(unit.exponents, unit.kind)
    return MappingProxyType(table)


def asked_for(code: str) -> str:
    """What a unit code asks for, in words: `a current in A`."""
    unit = units()[code]
    return f"{unit.kind} in {unit.printed}" if code not in ("", "dB", "%") else unit.kind


@cache
def sentences() -> Mapping[Fault, str]:
    """The sentence of each misreading."""
    return MappingProxyType({row.fault: row.sentence for row in MISREADINGS})
