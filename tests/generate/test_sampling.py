"""Draws and roundings: by decimal arithmetic where it matters, from declared lists, and mistakes named."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tutor.errors import BadFamily, UnknownName
from tutor.generate.family import Level, Pick, PickPart, Work
from tutor.generate.sampling import (
    allowed_rows,
    as_written,
    draw,
    draw_names,
    formula_values,
    part_index,
    round12,
    round12_of,
    round_to,
)
from tutor.quantities.parts import Catalogue, read_catalogue
from tutor.quantities.quantity import DEFAULT_FIGURES, as_printed

ZENERS = read_catalogue(Path(__file__).parents[2] / "problems" / "parts" / "zeners.csv")
PARTS: dict[str, Catalogue] = {"zeners": ZENERS}


def decimally(value: float, figures: int) -> float:
    """`value` rounded by decimal arithmetic from its exact binary value."""
    return float(Context(prec=figures, rounding=ROUND_HALF_EVEN).plus(Decimal(value)))


ANY_FLOAT = st.floats(allow_nan=True, allow_infinity=True)


@settings(deadline=None, max_examples=60)
@given(st.one_of(ANY_FLOAT, st.floats(min_value=-1e6, max_value=1e6)))
@example(-1e-31)
@example(0.1 + 0.2)
def test_one_value_is_rounded_as_many_are(value: float):
    """To the bit, whatever the size, zero, inf and nan among them."""
    alone, together = round12_of(value), float(round12(np.array([value]))[0])
    assert alone.hex() == together.hex()


AWAY_FROM_TIES = st.floats(min_value=1e-12, max_value=1e12, allow_nan=False)


def _near_tie(value: float, figures: int) -> bool:
    """Whether a value lies so near half way between two roundings that binary scaling may decide."""
    scaled = Decimal(value).scaleb(figures - 1 - Decimal(value).adjusted())
    return abs(scaled % 1 - Decimal("0.5")) < Decimal("1e-3")


@settings(deadline=None, max_examples=300)
@given(AWAY_FROM_TIES, st.sampled_from((2, 3, 4, 12)), st.sampled_from((1.0, -1.0)))
@example(0.1 + 0.2, 12, 1.0)
@example(9.995, 3, 1.0)
@example(0.0049999, 3, -1.0)
@example(999.96, 4, 1.0)
@example(1e12, 12, 1.0)
@example(1e-12, 12, 1.0)
def test_rounding_is_decimal_rounding(size: float, figures: int, sign: float):
    """To 2, 3, 4 and 12 figures the result is the decimal one to the last bits, whatever the size."""
    value = sign * size
    if _near_tie(size, figures):
        return
    found = float(round_to(np.array([value]), figures)[0])
    assert found == pytest.approx(decimally(value, figures), rel=4e-16, abs=0)


def test_sums_that_should_agree_do_after_rounding():
    """0.1 + 0.2 and 0.3, 3 × 0.7 and 2.1: equal to 12 figures."""
    left = np.array([0.1 + 0.2, 3 * 0.7, 1 - 0.9, 4.35 * 100])
    right = np.array([0.3, 2.1, 0.1, 435.0])
    assert (left != right).any()
    assert (round12(left) == round12(right)).all()


def test_zero_infinity_and_nan_stay():
    """They have no figures to round."""
    kept = round12(np.array([0.0, np.inf, -np.inf, np.nan]))
    assert kept[:3].tolist() == [0.0, np.inf, -np.inf]
    assert np.isnan(kept[3])


def test_rounding_twice_changes_nothing():
    """A rounded value is its own rounding."""
    values = np.array([float(f"{mantissa}e{power}") for mantissa in (1, 2.5, 3.3, 9.99) for power in range(-11, 12)])
    once = round12(values)
    assert (round12(once) == once).all()


def level(*draws: object) -> Level:
    """A level with these draws and nothing else."""
    return Level(about="", draws=draws, given=(), data="", ask="", asks=())  # type: ignore[arg-type]


def drawn(*draws: object, count: int = 400) -> dict[str, np.ndarray]:
    numbers = np.arange(1, count + 1, dtype=np.uint64)
    return draw(level(*draws), PARTS, 77, numbers, np.zeros_like(numbers), "here")


def test_a_pick_takes_every_value_of_its_list_and_no_other():
    """All of a list turns up in 400 numbers, as the very floats of the list."""
    env = drawn(Pick("I_L", (0.01, 0.02, 0.05)))
    assert set(env["I_L"].tolist()) == {0.01, 0.02, 0.05}


def test_a_part_brings_its_own_figures_together():
    """Voltage, test current and slope of one row of the catalogue, never of two; `where` is kept."""
    item = PickPart("zeners", {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z"}, (("V_Z", 5.0, 10.0), ("P_ZM", 1.0, 1.0)))
    env = drawn(item)
    rows = {(row["V_Z"], row["I_ZT"], row["r_z"]) for row in ZENERS.rows if row["P_ZM"] == 1.0}
    seen = set(zip(env["V_ZT"].tolist(), env["I_ZT"].tolist(), env["r_z"].tolist(), strict=True))
    assert seen <= rows
    assert {5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1, 10.0} == {volts for volts, _, _ in seen}
    row = allowed_rows(item, PARTS, "here")[int(env[part_index("zeners")][0])]
    assert row["V_Z"] == env["V_ZT"][0]


def test_two_parts_of_one_catalogue_are_drawn_apart():
    """Each has its own row and its own hidden index, whatever the other allows."""
    first = PickPart("zeners", {"V_Z_P": "V_Z"}, (("V_Z", 12.0, 18.0), ("P_ZM", 1.0, 1.0)))
    second = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 5.0, 10.0),))
    env = drawn(first, second)
    for item, place in ((first, part_index("zeners")), (second, part_index("zeners", 1))):
        (name,) = item.take
        rows = allowed_rows(item, PARTS, "here")
        assert [rows[int(index)]["V_Z"] for index in env[place]] == env[name].tolist()
    assert len(set(zip(env["V_Z_P"].tolist(), env["V_Z"].tolist(), strict=True))) > 30


def test_work_rounds_to_the_figures_of_a_meter():
    """A reading worked out from hidden draws has as many figures as declared."""
    env = drawn(Pick("true_V", (17.0,)), Pick("I_I", (0.123,)), Work("V_I", "true_V - I_I*1.5", 3), count=1)
    assert env["V_I"][0] == 16.8  # 17 − 0.1845 = 16.8155


def test_later_draws_do_not_move_earlier_ones():
    """Each draw has a slot of its own: adding one at the end leaves the others as they were."""
    first, second = Pick("V_I", tuple(range(10, 20))), Pick("R", (100.0, 220.0, 330.0))
    short, long = drawn(first, second), drawn(first, second, Pick("I_L", (0.01, 0.02)))
    assert (short["V_I"] == long["V_I"]).all() and (short["R"] == long["R"]).all()


def test_names_of_draws():
    """Every key the draws give a value, hidden ones included."""
    part = PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"})
    assert draw_names((Pick("V_I", (1.0,)), part, Work("x", "V_I*2"))) == ("V_I", "V_Z", "P_ZM", "x")


def test_a_formula_is_worked_elementwise():
    """+ − × ÷ and √ over whole arrays; a number alone is spread over the batch."""
    env = {"V_I": np.array([9.0, 16.0]), "R": np.array([3.0, 4.0])}
    assert formula_values("sqrt(V_I)/R", env, "here").tolist() == [1.0, 1.0]
    assert formula_values("5", env, "here").tolist() == [5.0, 5.0]


def test_what_nothing_draws_is_named():
    """A key that does not exist (yet), a catalogue that does not exist, a filter that leaves nothing."""
    with pytest.raises(BadFamily) as caught:
        drawn(Pick("V_I", (10.0,)), Work("V_X", "V_I*share"))
    assert caught.value.sentence == "here: the formula 'V_I*share' uses 'share', which nothing before it draws or finds"
    with pytest.raises(UnknownName) as missing:
        drawn(PickPart("zenrs", {"V_Z": "V_Z"}))
    assert missing.value.sentence == "there is no catalogue (named by here) 'zenrs'; did you mean 'zeners'?"
    with pytest.raises(BadFamily) as empty:
        drawn(PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 50.0, 90.0),)))
    assert empty.value.sentence == "here: no part of 'zeners' meets where=(('V_Z', 50.0, 90.0),)"


@settings(deadline=None)
@given(st.floats(1e-9, 1e9))
@example(9.996)
@example(1.9996)
@example(26.98)
@example(99.96)
@example(100.0)
def test_arrays_are_written_as_results_are_printed(value: float) -> None:
    """The same figures as in the printing of one value; half a last figure may go either way."""
    found, printed = float(as_written(np.array([value]))[0]), as_printed(value, DEFAULT_FIGURES)
    nearly_half = abs(abs(found - value) - abs(printed - value)) <= 1e-9 * value
    assert found == pytest.approx(printed, rel=1e-12) or nearly_half
