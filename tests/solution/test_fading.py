"""Which step is left out first: the one that carries the idea, by where the slips are; then the rest in order.

That the telling step goes first and the rest follow forward is from the literature named in `solution/fading.py`; which
step tells, in the families below, is a lecturer's judgement (common practice, no source).
"""

from __future__ import annotations

import pytest

import tutor
from tutor.across.named import posed
from tutor.solution.desk import our_desk
from tutor.solution.fading import fading_order, fading_order_of, telling_first

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]


def orders(family: str, level: int) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Of some numbers: the keys asked for, and the order in which they are left out."""
    ready = our_desk().level(family, level)
    return [
        (tuple(point.key for point in item.problem.waypoints), fading_order(ready, item.drawn))
        for item in our_desk().batch(ready, (1, 2, 3))
    ]


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_all_that_is_asked_is_left_out_in_the_end(family: str, level: int) -> None:
    """Each waypoint once; behind the telling one they stand as in the problem."""
    for keys, order in orders(family, level):
        assert sorted(order) == sorted(keys)
        assert list(order[1:]) == [key for key in keys if key != order[0]]


@pytest.mark.parametrize(
    ("family", "level", "telling"),
    [
        ("zener-resistor", 1, "R_MAX"),  # the starving corner
        ("zener-resistor", 2, "R_MAX"),
        ("zener-state", 1, "V_TH"),  # the test of a zener: where the node would stand without it
        ("supply-ripple", 1, "V_RIP"),
        ("heat-sink", 1, "T_J"),
    ],
)
def test_the_telling_step_is_the_one_the_family_is_about(family: str, level: int, telling: str) -> None:
    """Left out first, whichever number is drawn."""
    assert {order[0] for _, order in orders(family, level)} == {telling}


def test_across_circuits_too() -> None:
    """There the order is one of the problem's own waypoints, each once."""
    for family in tutor.across_families():
        item = posed(our_desk(), f"{family}:2:1")
        keys = [point.key for point in item.problem.waypoints]
        assert sorted(fading_order_of(item.problem.waypoints)) == sorted(keys)


def test_weight_decides_and_then_the_place() -> None:
    """Most slips first; of as many the one that tells more; of equals the one that stands first."""
    assert telling_first(("a", "b", "c"), ((1, 0), (3, 0), (2, 4))) == ("b", "a", "c")
    assert telling_first(("a", "b", "c"), ((1, 0), (1, 4), (1, 2))) == ("b", "a", "c")
    assert telling_first(("a", "b"), ((1, 1), (1, 1))) == ("a", "b")
    assert telling_first((), ()) == ()
