"""Estimates: the arithmetic of the head by hand, what a one-figure answer is told, and the corner that counts."""

from __future__ import annotations

import re
from functools import cache

import pytest

from tutor.across.estimates import FACTOR
from tutor.across.family import Posed
from tutor.across.in_the_head import rough
from tutor.across.named import posed
from tutor.generate.judging import Outcome, judge
from tutor.quantities.expression import Add, Val, evaluate, leaves
from tutor.quantities.formula import read_expression
from tutor.quantities.quantity import EXACT_FIGURES, round_figures, write
from tutor.quantities.reading import read_quantity
from tutor.solution.desk import our_desk

NUMBERS = range(1, 61)

# Sums first, then one figure each: 14 V − 9.1 V = 4.9 V, about 5 V; 30 mA + 5 mA, about 40 mA; 5/0.04 = 125.
HEAD = [
    ("(V_I - V_Z)/(I_L + I_Z)", {"V_I": 14.0, "V_Z": 9.1, "I_L": 0.030, "I_Z": 0.005}, 5 / 0.04),
    ("V_Z*I_Z", {"V_Z": 9.1, "I_Z": 0.0635}, 9 * 0.06),
    ("I_L/(h_FE + 1)", {"I_L": 0.36, "h_FE": 50.0}, 0.4 / 50),
    ("V_I - R*I_L", {"V_I": 14.0, "R": 130.0, "I_L": 0.035}, 10.0),
    ("I_L/(2*f*C)", {"I_L": 0.45, "f": 50.0, "C": 2200e-6}, 0.5 / (2 * 50 * 0.002)),
]


@pytest.mark.parametrize(("formula", "values", "value"), HEAD)
def test_the_arithmetic_of_the_head(formula: str, values: dict[str, float], value: float) -> None:
    assert evaluate(rough(read_expression(formula), values), {}) == pytest.approx(value)


@cache
def problem(level: int, number: int) -> Posed:
    return posed(our_desk(), f"estimate:{level}:{number}")


@pytest.mark.parametrize("level", [1, 2, 3])
def test_every_number_of_the_head_has_one_figure(level: int) -> None:
    """Sums as they stand apart, whatever stands after an "about" has one; the last is within the factor."""
    for number in NUMBERS:
        item = problem(level, number)
        point = item.problem.waypoints[-1]
        assert point.answer is not None
        assert (point.low, point.high) == pytest.approx((point.answer.value / FACTOR, point.answer.value * FACTOR))
        for step in item.solution.steps:
            for chain in step.chains:
                about = [side for sign, side in chain.rest if sign == "≈"]
                for leaf in (leaf for side in about for leaf in leaves(side) if isinstance(leaf, Val)):
                    assert leaf.value == round_figures(leaf.value, 1), (item.problem.name, leaf)
        last = item.solution.steps[-1].chains[-1].rest[-1][1]
        assert isinstance(last, Val) and point.low <= last.value <= point.high


@pytest.mark.parametrize("level", [1, 2, 3])
def test_one_figure_is_enough_and_a_thousand_out_is_named(level: int) -> None:
    for number in NUMBERS:
        item = problem(level, number)
        point = item.problem.waypoints[-1]
        assert point.answer is not None and point.slips
        about = write(round_figures(point.answer.value, 1), point.answer.unit, EXACT_FIGURES)
        assert judge(point, about).outcome is Outcome.RIGHT, (item.problem.name, about)
        for slip in point.slips:
            about = write(round_figures(slip.value, 1), point.answer.unit, EXACT_FIGURES)
            found = judge(point, about)
            assert found.outcome is Outcome.SLIP and slip.id in found.slip.split(), (item.problem.name, about)


def test_levels_differ_in_what_has_to_be_found() -> None:
    """One relation; two or three; a corner first."""
    for number in NUMBERS:
        lines = [sum(_says_something(step) for step in problem(level, number).solution.steps) for level in (1, 2, 3)]
        assert lines[0] == 1 and 2 <= lines[1] <= 3 and 1 <= lines[2] <= 4
        keys = [problem(level, number).problem.wanted[0] for level in (1, 2, 3)]
        assert keys[2] == "corner" and "corner" not in keys[:2]


def _says_something(step: object) -> bool:
    chains = getattr(step, "chains", ())
    return any(isinstance(side, Add) or len(list(leaves(side))) > 1 for chain in chains for _, side in chain.rest[:1])


def test_no_other_corner_is_worse() -> None:
    """What each other corner would come to, as its remark says, lies on the harmless side of the answer."""
    told = 0
    for number in NUMBERS:
        item = problem(3, number)
        corner, point = item.problem.waypoints
        assert point.answer is not None
        bound = any(word in point.prompt for word in ("largest", "least"))
        upper = point.key.endswith("_MAX")
        for remark in corner.remarks:
            found = re.search(r"come to (.*), which", remark.why)
            if found is None:
                continue
            value = read_quantity(found.group(1).replace("\u00a0", " ").replace("−", "-"), point.answer.unit).value
            assert value is not None, remark.why
            slack = 0.06 * abs(point.answer.value)
            looser = value >= point.answer.value - slack if bound == upper else value <= point.answer.value + slack
            assert looser, (item.problem.name, point.prompt, remark.why, point.answer.text)
            told += 1
    assert told > 60
