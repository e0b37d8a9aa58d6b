"""Figures of a class against numpy and the standard library, and the upper-lower index against sums by hand."""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.sets.class_figures import (
    chance,
    correlation,
    counted,
    how_it_discriminates,
    item_rest,
    spread,
    upper_lower,
)

MARKS = [3.0, 8.5, 9.0, 9.5, 11.5, 13.0, 9.0]
HALVES = st.lists(st.integers(0, 40).map(lambda half: half / 2), min_size=2, max_size=40)


@settings(max_examples=60, deadline=None)
@given(HALVES)
def test_a_spread_is_that_of_the_standard_library_and_numpy(values: list[float]) -> None:
    """Mean and sample deviation as `statistics` has them, quartiles as numpy's linear rule (type 7)."""
    found = spread(values)
    assert (found.count, found.least, found.greatest) == (len(values), min(values), max(values))
    assert found.mean == pytest.approx(statistics.fmean(values))
    assert found.deviation == pytest.approx(statistics.stdev(values))
    assert [found.lower, found.median, found.upper] == pytest.approx(np.percentile(values, [25, 50, 75]).tolist())
    assert found.median == pytest.approx(statistics.median(values))


def test_the_spread_of_one_and_of_none() -> None:
    """One number has no deviation; none have no spread."""
    assert spread([4.0]).deviation == 0
    with pytest.raises(ValueError, match="no numbers"):
        spread([])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 1), st.integers(0, 40)), min_size=3, max_size=40))
def test_the_point_biserial_is_numpys_correlation(pairs: list[tuple[int, int]]) -> None:
    """Of right or wrong and a score; where either does not vary there is none to be had."""
    right, score = [float(a) for a, _ in pairs], [b / 2 for _, b in pairs]
    found = correlation(right, score)
    if len(set(right)) == 1 or len(set(score)) == 1:
        assert found is None
        return
    assert found == pytest.approx(np.corrcoef(right, score)[0, 1])
    # The textbook's form: (mean of the right - mean of the wrong)/s sqrt(p q), s with n below (from memory: G. V. Glass
    # and K. D. Hopkins, Statistical Methods in Education and Psychology, on the point-biserial).
    ones = [b for a, b in zip(right, score, strict=True) if a]
    noughts = [b for a, b in zip(right, score, strict=True) if not a]
    share = len(ones) / len(right)
    difference = statistics.fmean(ones) - statistics.fmean(noughts)
    assert found == pytest.approx(difference / statistics.pstdev(score) * math.sqrt(share * (1 - share)))


def test_the_item_itself_is_left_out_of_the_rest() -> None:
    """An item that is all of the total has no rest to go with; numpy's on the rest otherwise."""
    item, totals = [1.0, 2.0, 0.0, 2.0, 1.0, 2.0, 0.5], MARKS
    rest = [total - own for own, total in zip(item, totals, strict=True)]
    assert item_rest(item, totals) == pytest.approx(np.corrcoef(item, rest)[0, 1])
    assert item_rest(totals, totals) is None


def test_the_upper_lower_index_by_hand() -> None:
    """Six learners, thirds of two: the best won 4 and 3 of 4, the last 1 and 0; (7/2 - 1/2)/4 = 0.75."""
    item, totals = [4, 3, 2, 2, 1, 0], [20, 18, 12, 11, 6, 5]
    assert upper_lower(item, totals, 4) == pytest.approx(0.75)
    assert upper_lower(item[::-1], totals[::-1], 4) == pytest.approx(0.75)


def test_learners_level_at_the_edge_of_a_third_share_it() -> None:
    """Totals 9, 7, 7, 7, 3, 3: the best third is the 9 and a third of each 7; by hand (4 + (4 + 1 + 1)/3)/2 = 3; last
    (0 + 1)/2. The order of the list does not matter."""
    item, totals = [4.0, 4.0, 1.0, 1.0, 0.0, 1.0], [9.0, 7.0, 7.0, 7.0, 3.0, 3.0]
    assert upper_lower(item, totals, 4) == pytest.approx((3 - 0.5) / 4)
    order = [3, 0, 5, 2, 4, 1]
    assert upper_lower([item[n] for n in order], [totals[n] for n in order], 4) == pytest.approx((3 - 0.5) / 4)
    assert upper_lower([1, 0], [2, 1], 1) is None


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 20)), min_size=3, max_size=30))
def test_the_index_lies_between_its_bounds_and_turns_with_the_item(pairs: list[tuple[int, int]]) -> None:
    """From -1 to 1; won and lost marks change places with its sign."""
    item, totals = [float(a) for a, _ in pairs], [float(b) for _, b in pairs]
    found = upper_lower(item, totals, 4)
    turned = upper_lower([4 - own for own in item], totals, 4)
    assert found is not None and turned is not None
    assert -1 <= found <= 1
    assert found == pytest.approx(-turned)


def test_a_third_is_rounded_and_never_empty() -> None:
    """By hand: of five learners two (5/3 = 1.67), of four and three one."""
    assert upper_lower([4, 2, 2, 1, 0], [9, 8, 7, 6, 5], 4) == pytest.approx((3 - 0.5) / 4)
    assert upper_lower([4, 2, 2, 0], [9, 8, 7, 6], 4) == pytest.approx(1.0)
    assert upper_lower([3, 2, 1], [9, 8, 7], 4) == pytest.approx(0.5)


def test_a_correlation_needs_pairs_and_two_of_them() -> None:
    """Of two points on a line it is 1 or -1, whatever their unit; of one there is none; unlike lengths are refused."""
    assert correlation([1, 2], [5, 9]) == pytest.approx(1)
    assert correlation([1e-3, 2e-3], [9e4, 5e4]) == pytest.approx(-1)
    assert correlation([1], [2]) is None and correlation([], []) is None
    assert correlation([0.1 + 0.2, 0.3, 0.3], [1, 2, 3]) is None  # what rounding leaves is no variation
    with pytest.raises(ValueError, match="2 numbers beside 3"):
        correlation([1, 2], [1, 2, 3])


def test_what_lies_outside_the_scale_is_in_the_first_or_last_bin() -> None:
    """Nothing is lost: a paper may be decided by hand above its marks, and a difference may be below none."""
    assert counted([-3, 0, 10, 12], 10, 5) == (2, 0, 0, 0, 2)


def test_marks_are_counted_in_bins_as_numpy_counts_them() -> None:
    """A bound counts upward, the last one into the last bin: numpy.histogram's rule."""
    values = [0, 1.3, 2.6, 2.5, 13, 12.9, 6.5, 6.4]
    assert list(counted(values, 13, 10)) == np.histogram(values, bins=10, range=(0, 13))[0].tolist()


@pytest.mark.parametrize(
    ("index", "words"),
    [(0.4, "well"), (0.39, "fairly well"), (0.3, "fairly well"), (0.29, "a little"), (0.2, "a little"),
     (0.19, "hardly"), (0.0, "hardly"), (-0.01, "the wrong way round"), (None, "cannot be said")],
)  # fmt: skip
def test_an_index_in_words(index: float | None, words: str) -> None:
    """The bounds are those of Ebel and Frisbie, from memory; the words are ours."""
    assert how_it_discriminates(index) == words


def test_chance_is_two_standard_errors() -> None:
    """Of a correlation of unrelated numbers the variance is 1/(n - 1): checked on pairs drawn at random."""
    noise = np.random.default_rng(5).normal(size=(2, 400, 50))
    found = [correlation(a.tolist(), b.tolist()) for a, b in zip(*noise, strict=True)]
    within = np.mean([abs(value or 0) <= chance(50) for value in found])
    assert 0.93 <= within <= 0.97
    assert (chance(4), chance(1)) == (1.0, 2.0)
    assert chance(0) == math.inf  # of nobody anything may be chance
