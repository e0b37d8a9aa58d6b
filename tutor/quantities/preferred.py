"""Preferred values of resistors and capacitors: the E series.

Vocabulary: a *mantissa* is a preferred value between 1 and 10; a *decade* holds every mantissa once.
Place in the data flow: families and solutions choose from these values; `judging` accepts them.
Source: IEC 60063:2015, Preferred number series for resistors and capacitors. E48 and E96 are 10^(k/n) rounded to three
figures; E24 and those within it keep historic values that the formula does not give (27, 30, 33, 36, 39, 43, 47, 82),
so that table stands here as printed.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from enum import Enum
from functools import cache

from tutor.errors import OutOfRange

_E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
# Room for the rounding of a computed bound: 140.00000000000003 still admits 140.
SLACK = 1e-9
# Values are built for these powers of ten, one beyond what is asked for at either end.
LEAST_POWER, GREATEST_POWER = -15, 12
_LEAST, _GREATEST = 1e-14, 1e11  # what may be asked for: hundredths of a picofarad to a hundred gigohms


class Series(Enum):
    """An E series; its value is the number of mantissas in a decade."""

    E6 = 6
    E12 = 12
    E24 = 24
    E48 = 48
    E96 = 96


@cache
def mantissas(series: Series) -> tuple[int, ...]:
    """The mantissas of a series as whole numbers: two figures up to E24 (47), three above (475)."""
    if series.value <= 24:
        return _E24[:: 24 // series.value]
    return tuple(round(100 * 10 ** (step / series.value)) for step in range(series.value))


@cache
def _all_values(series: Series) -> tuple[float, ...]:
    shift = 1 if series.value <= 24 else 2
    powers = range(LEAST_POWER, GREATEST_POWER)
    # Built from decimal text, so that 4.7 kΩ is the float nearest 4700 and no product of floats.
    return tuple(float(f"{mantissa}e{power - shift}") for power in powers for mantissa in mantissas(series))


def values_between(low: float, high: float, series: Series) -> tuple[float, ...]:
    """Every preferred value from `low` to `high` inclusive, rising; both in the same SI unit and above zero.

    OutOfRange for an end below 1e-14 or above 1e11, here as below.

    >>> values_between(77.5, 140, Series.E24)
    (82.0, 91.0, 100.0, 110.0, 120.0, 130.0)
    """
    _check(low)
    _check(high)
    values = _all_values(series)
    return values[bisect_left(values, low * (1 - SLACK)) : bisect_right(values, high * (1 + SLACK))]


def at_or_below(value: float, series: Series) -> float:
    """The largest preferred value not above `value` (SI); OutOfRange as above."""
    _check(value)
    values = _all_values(series)
    return values[bisect_right(values, value * (1 + SLACK)) - 1]


def at_or_above(value: float, series: Series) -> float:
    """The smallest preferred value not below `value` (SI); OutOfRange as above."""
    _check(value)
    values = _all_values(series)
    return values[bisect_left(values, value * (1 - SLACK))]


def nearest_to(value: float, series: Series) -> float:
    """The preferred value nearest in ratio to `value` (SI), the smaller of two equally near."""
    below, above = at_or_below(value, series), at_or_above(value, series)
    return below if value * value <= below * above * (1 + SLACK) else above


def is_preferred(value: float, series: Series) -> bool:
    """Whether `value` (SI) belongs to the series, to a part in a thousand million."""
    return value > 0 and abs(nearest_to(value, series) - value) <= SLACK * value


def _check(value: float) -> None:
    if not _LEAST <= value <= _GREATEST:
        raise OutOfRange(f"preferred values reach from {_LEAST:g} to {_GREATEST:g} (got {value:g})", value=value)
