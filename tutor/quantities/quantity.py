"""Quantities: a value, its unit and how many figures were written; and the rule for writing one.

Vocabulary: *figures* are significant figures. A number is written in its *figures*, and in one more when its first
digit is 1, so that the step between neighbours is never far from the same fraction; a value that needs fewer figures
is written without trailing zeros (4.9 V), a rounded one keeps them (5.90 mA).
Place in the data flow: every number anybody reads passes through `write`.
Source: SI Brochure, 9th edition (2019), section 5.4: space before the unit, one prefix, minus sign.
"""

from __future__ import annotations

import html
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from functools import cache, lru_cache
from types import MappingProxyType

from tutor.errors import BadValue
from tutor.quantities.units import Unit, json_unit, prefixes, unit_for

DEFAULT_FIGURES = 3
# Values agree when they agree to 12 figures: 0.1 + 0.2 is a value that needs one figure.
EXACT_FIGURES = 12
_MINUS = "−"
_SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_TO_FIGURES: Mapping[int, Context] = MappingProxyType(
    {figures: Context(prec=figures, rounding=ROUND_HALF_UP) for figures in range(1, EXACT_FIGURES + 1)}
)
_KEPT = 16384  # numbers whose writing is remembered: a problem writes each of its own several times


@dataclass(frozen=True)
class Quantity:
    """A value in SI (°C for T_*, a fraction for %), its unit code, and the figures it is written in."""

    value: float
    unit: str
    figures: int = DEFAULT_FIGURES

    @property
    def text(self) -> str:
        """The quantity as people read it, such as `5.90 mA`."""
        return write(self.value, self.unit, self.figures)

    def to_json(self) -> dict[str, object]:
        """Value, unit and text; a per cent value is a fraction, so its unit is empty."""
        return {"value": self.value, "unit": json_unit(self.unit), "text": self.text}

    def __str__(self) -> str:
        return self.text

    def _repr_html_(self) -> str:
        return f"<span>{html.escape(self.text)}</span>"


def given(value: float, unit: str) -> Quantity:
    """A quantity that is written as typed, with no rounding that shows."""
    return Quantity(value, unit, EXACT_FIGURES)


def _exact(value: float) -> Decimal:
    """`value` to 12 figures, half up, from its decimal form so that binary noise decides nothing."""
    return _TO_FIGURES[EXACT_FIGURES].create_decimal(repr(value))


def _rounded(value: float, figures: int) -> Decimal:
    """`value` rounded half up to `figures`, from its 12-figure decimal form."""
    return _TO_FIGURES[min(figures, EXACT_FIGURES)].plus(_exact(value))


def round_figures(value: float, figures: int) -> float:
    """`value` to that many significant figures, half up.

    >>> round_figures(0.0059012, 3)
    0.0059
    """
    return float(_rounded(value, figures))


def _written(value: float, figures: int) -> Decimal:
    """The number to print: rounded, one more figure when it starts with 1, trailing zeros only where they are figures.

    A number that rounds up into the next power of ten (999.6) starts with 1 and gets the figure too: 1.000 A says
    what is true of 0.9996 A.
    """
    exact = _exact(value)
    if figures >= EXACT_FIGURES:
        return exact.normalize()
    rounded = _TO_FIGURES[figures].plus(exact)
    if rounded.as_tuple().digits[0] == 1:
        step = Decimal(1).scaleb(rounded.adjusted() - figures)
        rounded = exact.quantize(step, rounding=ROUND_HALF_UP)
    return rounded.normalize() if rounded == exact else rounded


def as_printed(value: float, figures: int) -> float:
    """What a reader takes from a value printed in so many figures.

    >>> as_printed(20.648, 3), as_printed(16.648, 3)
    (20.6, 16.65)
    """
    return _read_off(value, figures) if value else value


@lru_cache(maxsize=_KEPT)
def _read_off(value: float, figures: int) -> float:
    return float(_written(value, figures))


@cache
def _steps(code: str) -> tuple[tuple[Decimal, str, int], ...]:
    """From which size on a unit takes each of its prefixes, rising: the size, the prefix and its power of ten."""
    table = prefixes()
    return tuple((Decimal(1).scaleb(table[item].power), item, table[item].power) for item in unit_for(code).prefixes)


@cache
def _plain_from(code: str) -> Decimal:
    """The size from which, below 1, a unit is written without a prefix."""
    return Decimal(str(unit_for(code).plain_from))


def _prefix(number: Decimal, unit: Unit) -> tuple[str, int]:
    """The prefix that leaves 1 to 1000 before the unit, or the nearest one the unit takes, and its power of ten."""
    size = abs(number)
    if size < 1 and "" in unit.prefixes and _plain_from(unit.code) <= size:
        return "", 0
    steps = _steps(unit.code)
    _, best, power = steps[0]
    for least, candidate, ten in steps:
        if size >= least:
            best, power = candidate, ten
    return best, power


def write_number(number: Decimal) -> str:
    """A decimal number with U+2212 for minus; powers of ten only below 0.001 and from a million on."""
    sign = _MINUS if number < 0 else ""
    size = abs(number)
    if size == 0 or -3 <= size.adjusted() < 6:
        return sign + format(size, "f")
    power = size.adjusted()
    mantissa = format(size.scaleb(-power), "f")
    return f"{sign}{mantissa} × 10{str(power).translate(_SUPERSCRIPTS)}"


def write(value: float, unit: str, figures: int | None = None) -> str:
    """A value with its unit as people read it; `value` in SI, fractions for per cent. BadValue unless finite.

    >>> write(0.0059012, "A"), write(140.0, "ohm"), write(0.9996, "A"), write(0.0102, "%")
    ('5.90 mA', '140 Ω', '1.000 A', '1.02 %')
    """
    return _write(value, unit, DEFAULT_FIGURES if figures is None else figures)


@lru_cache(maxsize=_KEPT)
def _write(value: float, unit: str, figures: int) -> str:
    row = unit_for(unit)
    if not abs(value) < float("inf"):
        raise BadValue(f"{value} is no number that can be written in {unit or 'pure numbers'}", value=value, unit=unit)
    if value == 0:
        return f"0 {row.printed}".rstrip()
    # `scaleb` moves the point and keeps the trailing zeros that are figures; a product would add some.
    number = _written(value, figures).scaleb(row.shown_power)
    prefix, power = _prefix(number, row)
    scaled = number.scaleb(-power)
    if int(scaled.as_tuple().exponent) > 0 and scaled.adjusted() < 6:
        # Where no larger prefix is used, 6944 µF: a zero before the point would stand for a figure.
        whole = _exact(value).scaleb(row.shown_power - power)
        scaled = whole.quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return f"{write_number(scaled)} {prefix}{row.printed}".rstrip()
