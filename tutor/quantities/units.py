"""Units and prefixes, read from `units.txt` at first use.

Vocabulary: a *unit code* is the ASCII name used in code and data (`ohm`, `degC`, '' for a pure number); *printed* is
what people read. A quantity is stored in the unit its code names without prefix; per cent is stored as a fraction.
Place in the data flow: under quantities as written and as read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from tutor.errors import unknown


@dataclass(frozen=True)
class Unit:
    """One unit: printed form, exponents over (V, A, s, K), power of ten from stored to printed, prefixes it
    takes, further spellings, and what a quantity in it is called."""

    code: str
    printed: str
    exponents: tuple[int, int, int, int]
    shown_power: int
    plain_from: float
    prefixes: tuple[str, ...]
    typed: tuple[str, ...]
    kind: str


@dataclass(frozen=True)
class Prefix:
    """One prefix: printed form, power of ten, and the spellings a learner may type."""

    printed: str
    power: int
    typed: tuple[str, ...]


def _lines(kind: str) -> list[list[str]]:
    text = Path(__file__).with_name("units.txt").read_text(encoding="utf-8")
    rows = [line.split() for line in text.splitlines() if not line.startswith("#")]
    return [row[1:] for row in rows if row and row[0] == kind]


@cache
def units() -> Mapping[str, Unit]:
    """Every unit by its code."""
    typed = {row[0]: tuple(row[1:]) for row in _lines("typed")}
    kinds = {row[0]: " ".join(row[1:]) for row in _lines("kind")}
    table: dict[str, Unit] = {}
    for code, printed, volt, ampere, second, kelvin, shown, plain_from, prefixes in _lines("unit"):
        key = "" if code == "1" else code
        table[key] = Unit(
            key,
            "" if printed == "1" else printed,
            (int(volt), int(ampere), int(second), int(kelvin)),
            int(shown),
            float(plain_from),
            tuple("" if prefix == "-" else prefix for prefix in prefixes.split(",")),
            typed.get(code, ()),
            kinds[code],
        )
    return MappingProxyType(table)


@cache
def prefixes() -> Mapping[str, Prefix]:
    """Every prefix by its printed form; '' is the absence of one."""
    table = {"": Prefix("", 0, ())}
    for printed, factor, *typed in _lines("prefix"):
        table[printed] = Prefix(printed, int(factor.removeprefix("1e")), tuple(typed))
    return MappingProxyType(table)


def difference_unit(code: str) -> str:
    """The unit of a difference of two values in `code`: kelvins between degrees Celsius, else the same."""
    return "K" if code == "degC" else code


def unit_for(code: str) -> Unit:
    """The unit of a code; UnknownName names the nearest valid code."""
    table = units()
    if code not in table:
        raise unknown("unit", code, (name for name in table if name))
    return table[code]


def printed_unit(code: str) -> str:
    """The unit as people read it: Ω for `ohm`, '' for a pure number."""
    return unit_for(code).printed


def json_unit(code: str) -> str:
    """The unit beside a stored number in JSON: a fraction needs none, a fraction per kelvin is 1/K."""
    return {"%": "", "%/K": "1/K", "%/V": "1/V", "%/A": "1/A"}.get(unit_for(code).code, code)
