"""Choices from shelves: preferred values between bounds, ratings with margin, and the usual wrong picks."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from functools import cache

import numpy as np

from tutor.generate.family import Choose, ChooseRating, Prefer, Stock
from tutor.generate.sampling import Array, Environment, Mask, as_written, round12, round12_of
from tutor.quantities.preferred import Series, values_between

LOWEST, HIGHEST = 1e-6, 1e7  # farads, ohms and volts: the decades a choice may come from


@cache
def shelf_of(series: Series | Stock) -> Array:
    """Every preferred value of a series over the decades in use, or all that is in stock, rising (SI)."""
    shelf = np.array(_values_of(series))
    shelf.setflags(write=False)
    return shelf


@cache
def _values_of(series: Series | Stock) -> tuple[float, ...]:
    return tuple(map(float, series.values if isinstance(series, Stock) else values_between(LOWEST, HIGHEST, series)))


def value_words(series: Series | Stock) -> str:
    """What one value to choose from is called: an E24 value, a heat-sink of the list."""
    return f"{series.part} of the list" if isinstance(series, Stock) else f"{series.name} value"


def window(ask: Choose, env: Environment) -> tuple[Array, Array]:
    """The least and greatest nominal value whose tolerance band stays inside the bounds, rounded to 12 figures."""
    shape = np.shape(next(iter(env.values())))
    spread = env[ask.tolerance] if ask.tolerance else np.zeros(shape)
    low = env[ask.low] / (1 - spread) if ask.low else np.full(shape, LOWEST)
    high = env[ask.high] / (1 + spread) if ask.high else np.full(shape, HIGHEST)
    return round12(low), round12(high)


def choose_value(ask: Choose, env: Environment) -> tuple[Array, Array]:
    """The model choice (SI) and how many preferred values would do (0 where none fits)."""
    shelf = shelf_of(ask.series)
    if ask.near:
        wish = env[ask.near]
        above = np.clip(np.searchsorted(shelf, round12(wish)), 1, len(shelf) - 1)
        lower_is_nearer = round12(wish - shelf[above - 1]) <= round12(shelf[above] - wish)
        return np.where(lower_is_nearer, shelf[above - 1], shelf[above]), np.ones(np.shape(wish), dtype=np.int64)
    low, high = window(ask, env)
    with np.errstate(invalid="ignore"):
        first = np.searchsorted(shelf, low, side="left")
        last = np.searchsorted(shelf, high, side="right") - 1
    count = np.maximum(last - first + 1, 0)
    index = last if ask.prefer is Prefer.LARGEST else first
    return shelf[np.clip(index, 0, len(shelf) - 1)], count


def all_that_fit(ask: Choose, env: Environment) -> tuple[float, ...]:
    """Every preferred value (SI) that meets the bounds, for one problem (arrays of length one)."""
    if ask.near:
        return (float(choose_value(ask, env)[0][0]),)
    spread = float(env[ask.tolerance][0]) if ask.tolerance else 0.0
    low = round12_of(float(env[ask.low][0]) / (1 - spread)) if ask.low else LOWEST
    high = round12_of(float(env[ask.high][0]) / (1 + spread)) if ask.high else HIGHEST
    shelf = _values_of(ask.series)
    return shelf[bisect_left(shelf, low) : bisect_right(shelf, high)]


def rounded_away(ask: Choose, env: Environment, above: bool) -> Array:
    """The next preferred value beyond the upper (or lower) bound: rounding the bound itself the wrong way.

    A bound of 26.98 Ω is written 27.0 Ω, and who goes by that chooses 27 Ω rightly: without a tolerance to keep, the
    value is one beyond the bound as it is written.
    """
    shelf = shelf_of(ask.series)
    bound = round12(env[ask.high if above else ask.low])
    written = bound if ask.tolerance else as_written(bound)
    if above:
        index = np.searchsorted(shelf, np.fmax(bound, written), side="right")
    else:
        index = np.searchsorted(shelf, np.fmin(bound, written), side="left") - 1
    return shelf[np.clip(index, 0, len(shelf) - 1)]


def choose_rating(ask: ChooseRating, env: Environment, margin: float) -> tuple[Array, Mask]:
    """The smallest rating on the shelf (SI) at least `margin` times the load, and whether there is one."""
    shelf = np.array(sorted(ask.shelf))
    need = round12(env[ask.load] * margin)
    with np.errstate(invalid="ignore"):
        index = np.searchsorted(shelf, need, side="left")
    return shelf[np.clip(index, 0, len(shelf) - 1)], np.asarray(index < len(shelf), dtype=np.bool_)


def rated_without_margin(ask: ChooseRating, env: Environment) -> Array:
    """The smallest rating that bears the load alone: the margin left out.

    nan where the load as it is written leaves the margin and the load itself does not: 28.02 V times 1.25 is above
    35 V, and who goes by 28.0 V is right to choose 35 V.
    """
    rating = choose_rating(ask, env, 1.0)[0]
    need, needed_as_written = (round12(load * ask.margin) for load in (env[ask.load], as_written(env[ask.load])))
    return np.where((rating < need) & (rating >= needed_as_written), np.nan, rating)


def ratings_that_fit(ask: ChooseRating, env: Environment) -> tuple[float, ...]:
    """Every rating on the shelf (SI) with enough margin, for one problem."""
    need = round12_of(float(env[ask.load][0]) * ask.margin)
    return tuple(value for value in sorted(ask.shelf) if value >= need)
