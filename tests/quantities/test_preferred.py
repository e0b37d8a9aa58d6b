"""E series against IEC 60063, and the search for values between bounds."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor.errors import OutOfRange
from tutor.quantities.preferred import (
    Series,
    at_or_above,
    at_or_below,
    is_preferred,
    mantissas,
    nearest_to,
    values_between,
)

# IEC 60063:2015, tables of the series; E12 and E24 as printed, E6 every second of E12.
E6 = (10, 15, 22, 33, 47, 68)
E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
E96 = (
    100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169,
    174, 178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294,
    301, 309, 316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511,
    523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665, 681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887,
    909, 931, 953, 976,
)  # fmt: skip


PRINTED = {Series.E6: E6, Series.E12: E12, Series.E24: E24, Series.E48: E96[::2], Series.E96: E96}


@pytest.mark.parametrize(("series", "printed"), PRINTED.items())
def test_the_series_are_those_of_the_standard(series: Series, printed: tuple[int, ...]):
    """IEC 60063:2015; E48 is every second value of E96."""
    assert mantissas(series) == printed


def test_values_are_exact_decimals():
    """4.7 kΩ is the float nearest 4700, 0.47 Ω the float nearest 0.47, 330 pF the float nearest 330e-12."""
    for text in ("4700", "0.47", "0.15", "330e-12", "82e6", "1.2e-9"):
        value = float(text)
        assert values_between(value, value, Series.E12) == (value,)


def test_bounds_are_inclusive():
    """Values at the bounds count, also when a bound carries the rounding of a sum."""
    assert values_between(82, 130, Series.E24) == (82, 91, 100, 110, 120, 130)
    assert values_between(82 * (1 + 1e-12), 130 * (1 - 1e-12), Series.E24) == (82, 91, 100, 110, 120, 130)
    assert values_between(83, 90, Series.E24) == ()


NEIGHBOURS = [
    (140, Series.E24, 130, 150),
    (140, Series.E96, 140, 140),
    (9.5, Series.E12, 8.2, 10),
    (999, Series.E6, 680, 1000),
]


@pytest.mark.parametrize(("value", "series", "below", "above"), NEIGHBOURS)
def test_neighbours(value: float, series: Series, below: float, above: float):
    """The preferred values on either side, across a decade as well."""
    assert (at_or_below(value, series), at_or_above(value, series)) == (below, above)


@given(st.floats(1e-11, 1e9), st.sampled_from(list(Series)))
def test_nearest_lies_within_half_a_step(value: float, series: Series):
    """The nearest value is one of the two neighbours and lies within the widest half step of its series (in ratio)."""
    found = nearest_to(value, series)
    assert is_preferred(found, series)
    assert found in (at_or_below(value, series), at_or_above(value, series))
    printed = PRINTED[series]
    steps = [after / before for before, after in pairwise((*printed, 10 * printed[0]))]
    widest = max(steps) ** 0.5 * (1 + 1e-9)
    assert 1 / widest <= found / value <= widest


def test_what_is_not_preferred():
    """140 Ω is in E96 and not in E24."""
    assert is_preferred(140, Series.E96) and not is_preferred(140, Series.E24)
    assert not is_preferred(-4.7, Series.E24) and not is_preferred(0, Series.E24)


@pytest.mark.parametrize("value", [0.0, -1.0, 1e-20, 1e20])
def test_beyond_the_table(value: float):
    """A bound that no part has is an error, not an endless search."""
    with pytest.raises(OutOfRange, match="preferred values reach from"):
        at_or_below(value, Series.E24)
    for low, high in ((value, 1e3), (1e3, value)):
        with pytest.raises(OutOfRange, match=r"from 1e-14 to 1e[+]11"):
            values_between(low, high, Series.E24)
