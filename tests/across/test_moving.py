"""Which way quantities move: held against differences of numbers, against the engine's own slopes, and by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tutor.across.bare_circuit import bare_recipe
from tutor.across.directions import directions, typical_values
from tutor.across.moving import Moving, followed, pulls, way
from tutor.plan.rule import apply_rules
from tutor.quantities.expression import Sym
from tutor.quantities.formula import read_expression
from tutor.solution.desk import our_desk

CIRCUITS = [name for name in our_desk().folder.circuit_ids() if not name.startswith("heat-path-free")]


def test_rules_of_differentiation() -> None:
    """Sum, difference, product, quotient, root; exact where no root is taken. Source: any calculus textbook."""
    x = Moving(Fraction(3), Fraction(1))
    assert (x + 2, 2 - x) == (Moving(Fraction(5), Fraction(1)), Moving(Fraction(-1), Fraction(-1)))
    assert x * x == Moving(Fraction(9), Fraction(6))
    assert 1 / x == Moving(Fraction(1, 3), Fraction(-1, 9))
    assert (x * x) ** 0.5 == Moving(3.0, 1.0)
    assert way(x / x) == 0 and way(-x) == -1 and way(x) == 1


def test_what_pulls_on_a_product() -> None:
    """P = V I with V falling and I rising: each side's own rate, the other held."""
    values = {"V_CE": Moving(Fraction(6), Fraction(-1)), "I_C": Moving(Fraction(2), Fraction(3))}
    assert pulls(read_expression("V_CE*I_C"), values) == {"V_CE": -2, "I_C": 18}
    assert pulls(Sym("V_CE"), values) == {"V_CE": -1}


@pytest.mark.parametrize("name", CIRCUITS)
def test_ways_agree_with_differences_of_numbers(name: str) -> None:
    """Every quantity of every circuit, for each thing that may move: a small step in numbers goes the same way."""
    desk = our_desk()
    circuit = desk.circuit(name)
    recipe = bare_recipe(desk, circuit, circuit.regions[0])
    values = typical_values(circuit, recipe)
    told = 0
    for mover in values:
        step = 1e-4 * values[mover]
        if step == 0:
            continue
        before, after = (apply_rules(recipe.rules, {**values, mover: values[mover] + by}) for by in (-step, step))
        for quantity, found in directions(recipe, values, mover).items():
            change = after[quantity] - before[quantity]
            slack = 1e-10 * max(abs(after[quantity]), abs(before[quantity]))
            seen = 0 if abs(change) <= slack else (1 if change > 0 else -1)
            assert seen == found, (mover, quantity)
            told += 1
    assert told >= 2


def test_ways_of_the_shunt_regulator_by_hand() -> None:
    """A straight zener: the load falls by as much as the zener current rises, and nothing else moves but the power of
    the zener. Source: Sedra and Smith, Microelectronic Circuits, zener shunt regulator (from memory)."""
    desk = our_desk()
    circuit = desk.circuit("zener-shunt")
    recipe = bare_recipe(desk, circuit, circuit.regions[0])
    values = typical_values(circuit, recipe)
    rates = {name: item.rate for name, item in followed(recipe.rules, values, "I_L").items()}
    assert (rates["I_Z"], rates["I_R"], rates["V_O"], rates["I_I"]) == (-1, 0, 0, 0)
    assert rates["P_Z"] == -Fraction(str(values["V_Z"]))


def test_a_leaning_zener_lets_the_output_move() -> None:
    """With a slope the output falls under load; dV_O/dI_L = -(R side by side with r_z), as the circuit's R_OUT says."""
    desk = our_desk()
    circuit = desk.circuit("zener-shunt")
    recipe = bare_recipe(desk, circuit, circuit.regions[0], leaning=True)
    values = typical_values(circuit, recipe)
    rate = followed(recipe.rules, values, "I_L")["V_O"].rate
    series, slope = Fraction(str(values["R"])), Fraction(str(values["r_z"]))
    assert rate == -series * slope / (series + slope)
