"""Figures of a class: how marks lie, and which questions tell those who know from those who do not yet.

Vocabulary: an *item* is a question; its *facility* the mean share of its marks that was won; it *discriminates* when
those who do well on the rest do well on it. All are pure functions of plain numbers, and dimensionless unless said.
Place in the data flow: marks -> figures -> the class report.
Source: classical test theory; the upper-lower index and how it is read after R. L. Ebel and D. A. Frisbie, Essentials
of Educational Measurement, 5th ed., ch. 13 (from memory; they take the upper and lower 27 %, thirds serve small
classes).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

FEWEST = 3  # learners, for anything to be said of how an item discriminates


@dataclass(frozen=True)
class Distribution:
    """How numbers lie: how many, least, lower quartile, median, upper quartile, greatest; mean, standard deviation.

    All in the unit of the numbers. The standard deviation is that of a sample (divided by one less), 0 of one number;
    quartiles are interpolated between ranks (R. J. Hyndman, Y. Fan, The American Statistician 50 (1996) 361, type 7).
    """

    count: int
    least: float
    lower: float
    median: float
    upper: float
    greatest: float
    mean: float
    deviation: float


def spread(values: Sequence[float]) -> Distribution:
    """How numbers lie. ValueError for none."""
    if not values:
        raise ValueError("the spread of no numbers")
    ranked = sorted(values)
    mean = math.fsum(ranked) / len(ranked)
    squares = math.fsum((value - mean) ** 2 for value in ranked)
    deviation = math.sqrt(squares / (len(ranked) - 1)) if len(ranked) > 1 else 0.0
    lower, median, upper = (_quantile(ranked, share) for share in (0.25, 0.5, 0.75))
    return Distribution(len(ranked), ranked[0], lower, median, upper, ranked[-1], mean, deviation)


def _quantile(ranked: Sequence[float], share: float) -> float:
    at = share * (len(ranked) - 1)
    low = math.floor(at)
    high = min(low + 1, len(ranked) - 1)
    return ranked[low] + (at - low) * (ranked[high] - ranked[low])


def counted(values: Sequence[float], of: float, bins: int) -> tuple[int, ...]:
    """How many of the values from 0 to `of` lie in each of so many equal bins; a bound counts upward, `of` in the last.

    >>> counted([0, 4.9, 5, 10], 10, 2)
    (2, 2)
    """
    found = [0] * bins
    for value in values:
        found[min(bins - 1, max(0, math.floor(value / of * bins + 1e-9)))] += 1
    return tuple(found)


def correlation(first: Sequence[float], second: Sequence[float]) -> float | None:
    """Pearson's product-moment correlation, −1 to 1; None where either does not vary at all.

    Of a right-or-wrong item (1 or 0) and a score it is the point-biserial correlation. ValueError where there are more
    of one than of the other.
    """
    count = len(first)
    if count != len(second):
        raise ValueError(f"{count} numbers beside {len(second)}")
    if count < 2:
        return None
    a, b = math.fsum(first) / count, math.fsum(second) / count
    across = math.fsum((x - a) * (y - b) for x, y in zip(first, second, strict=True))
    square = math.fsum((x - a) ** 2 for x in first) * math.fsum((y - b) ** 2 for y in second)
    # What rounding alone leaves of no variation at all is none.
    scale = max(1.0, *(abs(x) for x in (*first, *second)))
    return across / math.sqrt(square) if square > (1e-12 * scale * scale * count) ** 2 else None


def item_rest(item: Sequence[float], totals: Sequence[float]) -> float | None:
    """The correlation of an item's marks with those of the rest of the paper (the total without the item)."""
    return correlation(item, [total - own for own, total in zip(item, totals, strict=True)])


def upper_lower(item: Sequence[float], totals: Sequence[float], of: float) -> float | None:
    """The upper-lower index, −1 to 1: the item's facility in the best third of the class less that in the last third.

    `of` are the item's marks. Learners with the same total at the edge of a third count in it by an equal share each,
    so that the index does not hang on the order of a list. None for fewer than three learners.
    """
    if len(totals) < FEWEST:
        return None
    size = max(1, round(len(totals) / 3))
    best = _facility_of(item, [-total for total in totals], size)
    last = _facility_of(item, totals, size)
    return (best - last) / of


def _facility_of(item: Sequence[float], order: Sequence[float], size: int) -> float:
    """The mean of an item over the `size` learners that come first in an order; those level at the edge share it."""
    edge = sorted(order)[size - 1]
    within = [own for own, place in zip(item, order, strict=True) if place < edge]
    level = [own for own, place in zip(item, order, strict=True) if place == edge]
    return (math.fsum(within) + (size - len(within)) * math.fsum(level) / len(level)) / size


def how_it_discriminates(index: float | None) -> str:
    """The upper-lower index in words, by the bounds 0.40, 0.30, 0.20 of Ebel and Frisbie."""
    if index is None:
        return "cannot be said"
    for bound, words in ((0.4, "well"), (0.3, "fairly well"), (0.2, "a little"), (0.0, "hardly")):
        if index >= bound:
            return words
    return "the wrong way round"


def chance(count: int) -> float:
    """How far from nought a correlation of so many learners may well lie by chance alone: two standard errors, 2/√n."""
    return 2 / math.sqrt(count) if count else math.inf
