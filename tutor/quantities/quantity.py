"""Quantities: a value, its unit and how many figures were written; and the rule for writing one.

Vocabulary: *figures* are significant figures. A number is written in its *figures*, and in one more when its first
digit is 1, so that the step between neighbours is never far from the same fraction; a value that needs fewer figures
is written without trailing zeros (4.9 V), a rounded one keeps them (5.90 mA).
Place in the data flow: every number anybody reads passes through `write`.
Source: SI Brochure, 9th edition (2019), section 5.4: space before the unit, one prefix, minus sign.
"""

from __future__ import annotations

import html
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal

from tutor.errors import BadValue
from tutor.quantities.units import Unit, json_unit, prefixes, unit_for

DEFAULT_FIGURES = 3
# Values agree when they agree to 12 figures: 0.1 + 0.2 is a value that needs one figure.
EXACT_FIGURES = 12
_MINUS = "−"
_SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


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


def _rounded(value: float, figures: int) -> Decimal:
    """`value` rounded half up to `figures`, from its 12-figure decimal form so that binary noise decides nothing."""
    exact = Context(prec=EXACT_FIGURES, rounding=ROUND_HALF_UP).create_decimal(repr(value))
    return Context(prec=figures, rounding=ROUND_HALF_UP).plus(exact)


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
    exact = _rounded(value, EXACT_FIGURES)
    rounded = _rounded(value, figures)
    if rounded.as_tuple().digits[0] == 1:
        step = Decimal(1).scaleb(rounded.adjusted() - figures)
        rounded = exact.quantize(step, rounding=ROUND_HALF_UP) if figures < EXACT_FIGURES else rounded
    return rounded.normalize() if rounded == exact else rounded


def as_printed(value: float, figures: int) -> float:
    """What a reader takes from a value printed in so many figures.

    >>> as_printed(20.648, 3), as_printed(16.648, 3)
    (20.6, 16.65)
    """
    return float(_written(value, figures)) if value else value


def _prefix(number: Decimal, unit: Unit) -> str:
    """The prefix that leaves 1 to 1000 before the unit, or the nearest one the unit takes."""
    size = abs(number)
    if "" in unit.prefixes and Decimal(str(unit.plain_from)) <= size < 1:
        return ""
    table = prefixes()
    best = unit.prefixes[0]
    for candidate in unit.prefixes:
        if size >= Decimal(1).scaleb(table[candidate].power):
            best = candidate
    return best


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
    row = unit_for(unit)
    if not abs(value) < float("inf"):
        raise BadValue(f"{value} is no number that can be written in {unit or 'pure numbers'}", value=value, unit=unit)
    if value == 0:
        return f"0 {row.printed}".rstrip()
    number = _written(value, DEFAULT_FIGURES if figures is None else figures)
    # `scaleb` moves the point and keeps the trailing zeros that are figures; a product would add some.
    number = number.scaleb(row.shown_power)
    prefix = _prefix(number, row)
    scaled = number.scaleb(-prefixes()[prefix].power)
    if int(scaled.as_tuple().exponent) > 0 and scaled.adjusted() < 6:
        # Where no larger prefix is used, 6944 µF: a zero before the point would stand for a figure.
        whole = _rounded(value, EXACT_FIGURES).scaleb(row.shown_power - prefixes()[prefix].power)
        scaled = whole.quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return f"{write_number(scaled)} {prefix}{row.printed}".rstrip()
