"""Every chain of every solution is true as printed: each part equals its neighbour within what was rounded away.

A reader has only the printed numbers. Each part of a chain is evaluated with its numbers as printed; two neighbours may
differ by what half a unit in the last printed figure of each number in them can do, and no more.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

import pytest

import tutor
from tutor.quantities.dimensions import check_equation
from tutor.quantities.expression import Equation, Expr, Sym, Val, evaluate, leaves, symbols_of, transform
from tutor.quantities.quantity import write
from tutor.quantities.reading import read_quantity
from tutor.solution.solution import Chain, WorkedStep
from tutor.views.plain import chain_text

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
NUMBERS = range(1, 41)
OWN = [
    ("zener-shunt", {"V_I": "15V", "R": "220", "V_Z": "9.1V", "R_L": "1k"}),
    ("zener-shunt", {"V_I": "15V", "R": "220", "V_Z": "9.1V", "R_L": "100"}),
    ("zener-shunt", {"V_I": "17.3V", "R": "180", "V_Z0": "8.83V", "r_z": "6.5", "R_L": "470"}),
    ("zener-shunt", {"V_I": "15V", "V_Z0": "9V", "r_z": "5", "P_Z": "0.182", "I_L": "10mA"}),
    ("source", {"V_OC": "18.7", "R_S": "2.4", "P_O": "8"}),
    ("source", {"V_I_1": "11.43", "I_I_1": "310mA", "V_I_2": "10.87", "I_I_2": "620mA"}),
    ("follower", {"V_I": "20", "R": "220", "V_Z": "12", "R_L": "68", "h_FE": "45"}),
    ("follower", {"V_I": "18", "R": "390", "V_Z0": "9.9", "r_z": "7", "R_L": "47", "h_FE": "60"}),
    ("follower", {"V_I": "10", "R": "220", "V_Z": "12", "R_L": "100", "h_FE": "50"}),
]


def last_figure(text: str) -> float:
    """Half a unit in the last printed figure of `16.82 mA`, as a share of the number."""
    number = re.match(r"−?[0-9.]+", text)
    assert number is not None, text
    digits = number.group().lstrip("−")
    decimals = len(digits.partition(".")[2])
    return 0.5 * 10**-decimals / float(digits) if float(digits) else 0.0


def as_printed(expr: Expr) -> Expr:
    """The expression with each number as a reader sees it."""

    def printed(leaf: Expr) -> Expr:
        if not isinstance(leaf, Val):
            return leaf
        found = read_quantity(write(leaf.value, leaf.unit, leaf.figures), leaf.unit)
        assert found.value is not None, leaf
        return Val(found.value, leaf.unit, leaf.figures)

    return transform(expr, printed)


def looseness(expr: Expr) -> float:
    """How far the value may lie from the true one: each rounded number moved by half its last figure, in turn."""
    centre = evaluate(expr, {})
    total = 0.0
    for leaf in set(leaves(expr)):
        if isinstance(leaf, Val) and leaf.figures < 12 and leaf.value:
            share = last_figure(write(leaf.value, leaf.unit, leaf.figures))
            moved = Val(leaf.value * (1 + share), leaf.unit, leaf.figures)
            other = transform(expr, lambda part, old=leaf, new=moved: new if part == old else part)
            total += abs(evaluate(other, {}) - centre)
    return total


def numeric_pairs(chain: Chain) -> Iterator[tuple[str, Expr, Expr]]:
    """Neighbouring parts of a chain that hold numbers alone, as printed, with the relation between them."""
    parts = [part for _, part in chain.rest]
    signs = [sign for sign, _ in chain.rest]
    ready = [as_printed(part) for part in parts]
    for (left, right), sign in zip(pairwise(ready), signs[1:], strict=True):
        if not symbols_of(left) and not symbols_of(right):
            yield sign, left, right


def check_chain(chain: Chain, where: str) -> int:
    """Assert every numeric neighbour pair; how many there were."""
    seen = 0
    for sign, left, right in numeric_pairs(chain):
        one, other = evaluate(left, {}), evaluate(right, {})
        text = f"{where}: {chain_text(chain)}"
        if sign == "=":
            slack = looseness(left) + looseness(right) + 1e-9 * max(abs(one), abs(other))
            # The looseness is of first order; what is of second order counts for a hundredth of it at most.
            assert abs(one - other) <= slack * 1.01, f"{text}: {one} and {other} differ by more than {slack}"
        else:
            assert {"<": one < other, ">": one > other, "<=": one <= other, ">=": one >= other}[sign], text
        seen += 1
    return seen


def check_steps(steps: tuple[WorkedStep, ...], where: str) -> int:
    """Every chain of a solution: numbers agree, dimensions agree, and the last number is the step's result."""
    seen = 0
    for step in steps:
        for chain in step.chains:
            seen += check_chain(chain, where)
            for _, part in chain.rest:
                check_equation(Equation(chain.first, part))
        if step.result is not None and step.chains:
            last = step.chains[-1].rest[-1][1]
            assert isinstance(last, Val), f"{where}: {chain_text(step.chains[-1])}"
            assert write(last.value, last.unit, last.figures) == step.result.text, where
    return seen


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_chain_of_a_family_is_true_as_printed(family: str, level: int):
    """Forty problems of each level."""
    desk = tutor.open_desk()
    seen = 0
    for worked in desk.batch(desk.level(family, level), NUMBERS):
        seen += check_steps(worked.solution.steps, worked.problem.name)
    assert seen >= len(NUMBERS)


@pytest.mark.parametrize(("circuit", "values"), OWN, ids=lambda item: item if isinstance(item, str) else ",".join(item))
def test_every_chain_of_somebodys_own_numbers_is_true_as_printed(circuit: str, values: dict[str, str]):
    """Direct, coupled and quadratic steps, both states, two readings."""
    assert check_steps(tutor.solve(circuit, values).steps, circuit) >= 3


@pytest.mark.parametrize(("circuit", "values"), OWN, ids=lambda item: item if isinstance(item, str) else ",".join(item))
def test_a_number_once_found_is_written_the_same_again(circuit: str, values: dict[str, str]):
    """A symbol keeps one printed value through the whole solution."""
    answer = tutor.solve(circuit, values)
    found = {step.waypoint: step.result.text for step in answer.steps if step.waypoint and step.result}
    assert all(answer.value(name).text == text for name, text in found.items())


def test_a_chain_that_does_not_hold_is_noticed():
    """The check can fail: a wrong result, a wrong part half way, a wrong inequality."""
    right = Chain(Sym("I_R"), (("=", Val(5.9, "V", 12)), ("=", Val(5.9, "V", 12))))
    assert check_chain(right, "x") == 1
    for wrong in (
        Chain(Sym("V_R"), (("=", Val(5.9, "V", 12)), ("=", Val(5.91, "V", 3)))),
        Chain(Sym("V_TH"), (("=", Val(12.3, "V", 3)), ("<", Val(9.1, "V", 12)))),
    ):
        with pytest.raises(AssertionError):
            check_chain(wrong, "x")
