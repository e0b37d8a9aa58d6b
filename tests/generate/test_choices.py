"""Choices from shelves: which preferred values fit, which is taken, and the usual wrong picks."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.generate.choices import (
    HIGHEST,
    LOWEST,
    all_that_fit,
    choose_rating,
    choose_value,
    rated_without_margin,
    ratings_that_fit,
    rounded_away,
    shelf_of,
    value_words,
    window,
)
from tutor.generate.family import Choose, ChooseRating, Prefer, Stock
from tutor.quantities.preferred import Series

SHELF = (0.25, 0.5, 1.0, 2.0, 5.0)


def between(low: str = "R_MIN", high: str = "R_MAX", prefer: Prefer = Prefer.LARGEST, tolerance: str = "") -> Choose:
    return Choose("R", Series.E24, "a value", prefer, "why", low=low, high=high, tolerance=tolerance)


def env(**values: float | list[float]) -> dict[str, np.ndarray]:
    return {name: np.atleast_1d(np.array(value, dtype=np.float64)) for name, value in values.items()}


# Bounds, tolerance, the E24 values between (IEC 60063), and the largest and smallest of them.
WINDOWS = [
    (77.5, 140.0, 0.0, (82, 91, 100, 110, 120, 130)),
    (77.5, 140.0, 0.05, (82, 91, 100, 110, 120, 130)),  # 82 × 0.95 = 77.9; 130 × 1.05 = 136.5
    (78.0, 136.0, 0.05, (91, 100, 110, 120)),  # 77.9 is under, 136.5 is over
    (100.0, 100.0, 0.0, (100,)),
    (101.0, 109.0, 0.0, ()),
    (140.0, 77.5, 0.0, ()),
    (990.0, 1110.0, 0.0, (1000, 1100)),
]


@pytest.mark.parametrize(("low", "high", "tolerance", "fits"), WINDOWS)
def test_what_fits_between_two_bounds(low: float, high: float, tolerance: float, fits: tuple[int, ...]):
    """A value fits when its whole tolerance band does; the model takes the largest or the smallest, as declared."""
    values = env(R_MIN=low, R_MAX=high, tol_R=tolerance)
    ask = between(tolerance="tol_R" if tolerance else "")
    assert all_that_fit(ask, values) == fits
    for prefer, place in ((Prefer.LARGEST, -1), (Prefer.SMALLEST, 0)):
        chosen, count = choose_value(between(prefer=prefer, tolerance=ask.tolerance), values)
        assert count[0] == len(fits)
        if fits:
            assert chosen[0] == fits[place]


def test_a_bound_itself_is_inside_whatever_the_rounding():
    """140 Ω worked out as 140.00000000000003 or 139.99999999999997 still admits a part of that value."""
    for bound in (4.9 / 0.035, np.nextafter(150.0, 0), np.nextafter(150.0, 200)):
        assert max(all_that_fit(between(low="", high="R_MAX"), env(R_MAX=bound))) == (130 if bound < 145 else 150)


def test_one_bound_leaves_the_other_side_to_the_decades():
    """With no lower bound the window begins at the least value on the shelf."""
    low, high = window(between(low=""), env(R_MAX=10.0))
    assert (low[0], high[0]) == (LOWEST, 10.0)
    low, high = window(between(high=""), env(R_MIN=10.0))
    assert (low[0], high[0]) == (10.0, HIGHEST)
    assert choose_value(between(high="", prefer=Prefer.SMALLEST), env(R_MIN=101.0))[0][0] == 110


# What is wished for and the nearest E24 value: 9.55 lies half way between 9.1 and 10, where the lower is taken.
NEAREST = [(9.1, 9.1), (9.5, 9.1), (9.55, 9.1), (9.56, 10.0), (7.8, 7.5), (7.9, 8.2), (12.4, 12.0), (0.1, 0.1)]


@pytest.mark.parametrize(("wish", "taken"), NEAREST)
def test_the_nearest_value_to_a_wish(wish: float, taken: float):
    """By difference; of two equally near the lower."""
    ask = Choose("V_Z", Series.E24, "a zener", Prefer.NEAREST, "why", near="V_Z_NOM")
    values = env(V_Z_NOM=wish)
    assert choose_value(ask, values)[0][0] == taken
    assert all_that_fit(ask, values) == (taken,)


def test_a_batch_is_its_members():
    """Choices of many at once are those of each alone."""
    lows, highs = [77.5, 100.0, 101.0], [140.0, 300.0, 109.0]
    chosen, count = choose_value(between(), env(R_MIN=lows, R_MAX=highs))
    assert chosen[:2].tolist() == [130.0, 300.0]
    assert count.tolist() == [6, 12, 0]


AWAY = [
    (140.0, True, 150.0),
    (150.0, True, 160.0),  # the bound itself would still be right
    (77.5, False, 75.0),
    (75.0, False, 68.0),
    (26.98, True, 30.0),  # written 27.0 Ω, which allows 27 Ω
    (26.94, True, 27.0),
    (10.996, True, 12.0),  # written 11.00 Ω
    (10.99, True, 11.0),
    (47.04, False, 43.0),  # written 47.0 Ω
]


@pytest.mark.parametrize(("bound", "above", "wrong"), AWAY)
def test_rounding_the_wrong_way_passes_the_bound(bound: float, above: bool, wrong: float):
    """The next value beyond the bound: never one that would do."""
    found = float(rounded_away(between(), env(R_MIN=bound, R_MAX=bound), above)[0])
    assert found == wrong
    assert (found > bound) is above


def test_a_rating_with_the_margin_as_the_load_is_written_is_no_slip():
    """A crest of 28.02 V is written 28.0 V, and 28.0 V × 1.25 = 35 V: who chooses 35 V goes by what is printed."""
    ask = ChooseRating("V_CM", "V_PK", (16.0, 25.0, 35.0, 50.0), 1.25, "a rating", "why")
    assert np.isnan(rated_without_margin(ask, env(V_PK=28.02))[0])
    assert rated_without_margin(ask, env(V_PK=29.0))[0] == 35.0


# The load, the least rating with a margin of 1.5, without margin, and all that fit.
RATINGS = [
    (0.385, 1.0, 0.5, (1.0, 2.0, 5.0)),
    (0.2, 0.5, 0.25, (0.5, 1.0, 2.0, 5.0)),
    (1 / 3, 0.5, 0.5, (0.5, 1.0, 2.0, 5.0)),  # 1.5 × ⅓ W is ½ W to 12 figures
    (4.0, None, 5.0, ()),
    (0.0, 0.25, 0.25, SHELF),
]


@pytest.mark.parametrize(("load", "taken", "bare", "fits"), RATINGS)
def test_a_rating_with_its_margin(load: float, taken: float | None, bare: float, fits: tuple[float, ...]):
    """The smallest on the shelf that reaches 1.5 times the load; none when the shelf ends before."""
    ask = ChooseRating("P_RM", "P_R", SHELF, 1.5, "a rating", "why")
    values = env(P_R=load)
    chosen, found = choose_rating(ask, values, ask.margin)
    assert bool(found[0]) is (taken is not None)
    if taken is not None:
        assert chosen[0] == taken
    assert choose_rating(ask, values, 1.0)[0][0] == bare
    assert ratings_that_fit(ask, values) == fits


def test_shelves_cannot_be_written_on():
    """One array serves every family, so nobody may change it."""
    with pytest.raises(ValueError, match="read-only"):
        shelf_of(Series.E24)[0] = 1.0


@settings(deadline=None)
@given(st.floats(1, 1e5), st.floats(1.0, 20), st.sampled_from((0.0, 0.02, 0.05)))
def test_whatever_is_chosen_keeps_both_bounds(low: float, ratio: float, tolerance: float):
    """For any bounds: each value that fits lies inside with its band, and the next ones outside do not."""
    values = env(R_MIN=low, R_MAX=low * ratio, tol_R=tolerance)
    ask = between(tolerance="tol_R")
    fits = all_that_fit(ask, values)
    shelf = shelf_of(Series.E24)
    slack = 1e-9
    inside = [
        value for value in shelf
        if value * (1 - tolerance) >= low * (1 - slack) and value * (1 + tolerance) <= low * ratio * (1 + slack)
    ]  # fmt: skip
    assert list(fits) == inside


def test_what_is_in_stock_is_chosen_as_preferred_values_are():
    """The largest that fits under a bound, all that fit, the next beyond it, and what such a part is called."""
    stock = Stock("heat-sinks", "R_thSA", "heat-sink", "build", (1.5, 2.2, 5.0, 8.0), ("a", "b", "c", "d"))
    ask = Choose("R_thSA", stock, "a heat-sink", Prefer.LARGEST, "why", high="R_thSA_MAX")
    for bound, fits, next_up in ((6.0, (1.5, 2.2, 5.0), 8.0), (5.0, (1.5, 2.2, 5.0), 8.0), (1.6, (1.5,), 2.2)):
        values = env(R_thSA_MAX=bound)
        chosen, count = choose_value(ask, values)
        assert all_that_fit(ask, values) == fits and (chosen[0], count[0]) == (fits[-1], len(fits))
        assert rounded_away(ask, values, above=True)[0] == next_up
    assert choose_value(ask, env(R_thSA_MAX=1.4))[1][0] == 0
    assert (value_words(stock), value_words(Series.E24)) == ("heat-sink of the list", "E24 value")
    assert stock.description(5.0) == "c"
