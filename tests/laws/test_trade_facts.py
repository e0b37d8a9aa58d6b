"""What every practitioner knows of these circuits follows from the derived laws: common practice, no source.

Closed forms alone are used; a straight zener is one with r_z = 0.
"""

from __future__ import annotations

from functools import cache
from math import isnan
from pathlib import Path
from random import Random

import pytest
import sympy

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import SympyExpr, sympy_symbol
from tutor.laws.closed_form import closed_forms, derivative

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
STRAIGHT = {sympy_symbol("r_z"): 0}
SEED = 20
DRAWS = 200


@cache
def forms(circuit_id: str, region: str, load: LoadModel) -> dict[str, SympyExpr]:
    """The closed forms of a circuit in a region."""
    found = FOLDER.circuit(circuit_id)
    return closed_forms(found, found.region(region), load)


def slope(circuit_id: str, region: str, load: LoadModel, of: str, by: str) -> SympyExpr:
    """d(of)/d(by), the other part values held."""
    return derivative(forms(circuit_id, region, load), of, by)


def same(left: SympyExpr, right: str) -> bool:
    """Whether an expression is the one written."""
    names = {name: sympy_symbol(name) for name in ("R", "R_S", "R_L", "r_z", "h_FE", "V_I", "V_Z0", "V_O", "I_L")}
    return bool(sympy.cancel(left - sympy.sympify(right, locals=names)) == 0)


def test_a_raw_supply_sags_by_its_resistance_per_ampere():
    """V_I falls when the load current rises, by R_S for each ampere."""
    assert same(slope("source", "linear", LoadModel.SINK, "V_I", "I_I"), "-R_S")


def test_a_raw_supply_gives_most_power_to_a_load_like_itself():
    """P_O is greatest at R_L = R_S (maximum power transfer), and nowhere else."""
    rate = slope("source", "linear", LoadModel.RESISTOR, "P_O", "R_L")
    numerator = sympy.fraction(sympy.together(rate))[0]
    assert sympy.solve(numerator, sympy_symbol("R_L")) == [sympy_symbol("R_S")]


def test_behind_its_resistor_a_straight_zener_takes_what_the_load_leaves():
    """∂I_R/∂I_L = 0 and ∂I_Z/∂I_L = −1: the current through R stays, the zener takes up the change."""
    for of, expected in (("I_R", "0"), ("I_Z", "-1"), ("V_O", "0"), ("P_I", "0")):
        rate = slope("zener-shunt", "breakdown", LoadModel.SINK, of, "I_L").subs(STRAIGHT)
        assert same(rate, expected), of


def test_a_shunt_zener_is_hottest_with_the_load_unplugged():
    """P_Z of a straight zener falls by V_Z for each ampere of load: it is greatest at none."""
    rate = slope("zener-shunt", "breakdown", LoadModel.SINK, "P_Z", "I_L").subs(STRAIGHT)
    assert same(rate, "-V_Z0")


def test_the_line_raises_the_zener_current_and_hardly_the_output():
    """∂I_Z/∂V_I = 1/(R + r_z) and ∂V_O/∂V_I = r_z/(R + r_z), which is far below one for r_z far below R."""
    assert same(slope("zener-shunt", "breakdown", LoadModel.SINK, "I_Z", "V_I"), "1/(R + r_z)")
    assert same(slope("zener-shunt", "breakdown", LoadModel.SINK, "V_O", "V_I"), "r_z/(R + r_z)")


def test_an_unregulating_shunt_is_a_divider():
    """With the zener off the output follows the line in full proportion: V_O/V_I = R_L/(R + R_L)."""
    assert same(slope("zener-shunt", "off", LoadModel.RESISTOR, "V_O", "V_I"), "R_L/(R + R_L)")


# A regulator across its output, and all that it takes beside the load.
ACROSS = [
    ("zener-shunt", "breakdown", "I_Z"),
    ("compensated-shunt", "regulating", "I_Z"),
    ("boosted-shunt", "regulating", "I_Z + I_C"),
    ("reference-shunt", "regulating", "I_K + I_DIV"),
    ("opamp-shunt", "regulating", "I_C + I_DIV"),
]


@pytest.mark.parametrize(("circuit_id", "region", "taken"), ACROSS, ids=[item[0] for item in ACROSS])
def test_a_regulator_across_its_output_takes_what_the_load_leaves(circuit_id: str, region: str, taken: str):
    """Whatever the load gives up it takes, so that current through R and drop stay; the line moves it, not the output.

    Straight zeners; it never gives: with the load at what R brings, it is left nothing, and more it cannot serve.
    """
    known = forms(circuit_id, region, LoadModel.SINK)
    own = sympy.sympify(taken, locals=known).subs(STRAIGHT)
    load, line, series = (sympy_symbol(name) for name in ("I_L", "V_I", "R"))
    assert sympy.cancel(sympy.diff(own, load) + 1) == 0
    assert sympy.cancel(sympy.diff(own, line) - 1 / series) == 0
    for held, by in (("I_R", load), ("V_O", load), ("V_O", line)):
        assert sympy.cancel(sympy.diff(known[held].subs(STRAIGHT), by)) == 0, (held, by)
    brought = known["I_R"].subs(STRAIGHT)
    assert sympy.cancel(own.subs(load, brought)) == 0


def test_a_transistor_divides_the_zener_current_and_the_output_resistance():
    """∂I_Z/∂I_L is −1/(h_FE + 1) with a transistor across the output, and the slope counts by that share."""
    gain = sympy_symbol("h_FE") + 1
    rate = slope("boosted-shunt", "regulating", LoadModel.SINK, "I_Z", "I_L").subs(STRAIGHT)
    assert sympy.cancel(rate * gain + 1) == 0
    output = slope("boosted-shunt", "regulating", LoadModel.SINK, "V_O", "I_L")
    shared = {sympy_symbol("r_z"): sympy_symbol("r_z") / gain}
    plain = slope("zener-shunt", "breakdown", LoadModel.SINK, "V_O", "I_L").subs(shared)
    assert sympy.cancel(output - plain) == 0


def test_the_drift_of_zeners_changes_sign_near_five_volts():
    """The catalogue's coefficients: negative below 4.7 V, positive above 5.6 V, between them near nothing.

    Microsemi MicroNote 203; JEDEC 1N47xxA, Crea-Tek Rev. 3.0.
    """
    rows = FOLDER.parts()["zeners"].rows
    told = {float(row["V_Z"]): float(row["alpha_Z"]) for row in rows if not isnan(row["alpha_Z"])}
    assert all(value < 0 for volts, value in told.items() if volts < 4.7)
    assert all(value > 0 for volts, value in told.items() if volts > 5.6)
    assert all(abs(value) < 0.0004 for volts, value in told.items() if 4.7 <= volts <= 5.6)


def test_a_follower_stands_one_junction_below_its_zener():
    """∂V_O/∂V_BE = −1 and ∂V_O/∂V_Z0 = 1 with a straight zener, whatever load and gain."""
    for by, expected in (("V_BE", "-1"), ("V_Z0", "1"), ("I_L", "0"), ("h_FE", "0"), ("V_I", "0")):
        rate = slope("follower", "regulating", LoadModel.SINK, "V_O", by).subs(STRAIGHT)
        assert same(rate, expected), by


def test_a_follower_divides_the_load_current_for_its_zener():
    """∂I_Z/∂I_L is −1 in the shunt regulator and −1/(h_FE + 1) with the transistor (straight zener)."""
    rate = slope("follower", "regulating", LoadModel.SINK, "I_Z", "I_L").subs(STRAIGHT)
    assert same(rate, "-1/(h_FE + 1)")


def test_a_follower_divides_the_output_resistance_too():
    """−∂V_O/∂I_L is that of the shunt regulator over h_FE + 1."""
    shunt = slope("zener-shunt", "breakdown", LoadModel.SINK, "V_O", "I_L")
    follower = slope("follower", "regulating", LoadModel.SINK, "V_O", "I_L")
    assert same(shunt, "-R*r_z/(R + r_z)")
    assert same(follower * (sympy_symbol("h_FE") + 1) - shunt, "0")


POWERS = [
    ("zener-shunt", "breakdown", "P_R + P_Z + P_O"),
    ("zener-shunt", "off", "P_R + P_Z + P_O"),
    ("source", "linear", "P_R + P_O"),
    # The transistor's P_Q is that of its collector; the base junction's V_BE I_B is the rest.
    ("follower", "regulating", "P_R + P_Z + P_Q + P_O + V_BE*I_B"),
    ("follower", "starved", "P_R + P_Z + P_Q + P_O + V_BE*I_B"),
    ("boosted-shunt", "regulating", "P_R + P_Z + P_Q + P_O + V_B*I_B + V_B*I_RBE"),
    ("boosted-shunt", "zener-alone", "P_R + P_Z + P_O + V_B*I_RBE"),
    ("compensated-shunt", "regulating", "P_R + P_Z + P_O + V_F*I_Z"),
    ("reference-shunt", "regulating", "P_R + P_D + P_O + (V_O - V_TAP)*I_DIV + V_TAP*(I_LOWER + I_REF)"),
    # The op-amp's supply, which brings the base its current, is not drawn.
    ("opamp-shunt", "regulating", "P_R + P_Q + P_O + V_O*I_DIV"),
]


@pytest.mark.parametrize(("circuit_id", "region", "spent"), POWERS)
@pytest.mark.parametrize("load", list(LoadModel), ids=lambda load: load.value)
def test_all_that_is_drawn_is_spent(circuit_id: str, region: str, spent: str, load: LoadModel):
    """The power from the source equals the powers in the parts (Tellegen's theorem)."""
    known = forms(circuit_id, region, load)
    drawn = known.get("P_I", known.get("V_OC", 0) * known["I_I"])
    assert sympy.cancel(drawn - sympy.sympify(spent, locals=known)) == 0


SENSIBLE = {"V_I": (6, 40), "R": (20, 2000), "V_Z0": (2.4, 30), "r_z": (0, 60), "R_L": (10, 10000), "I_L": (0, 0.2)}


@pytest.mark.parametrize("load", list(LoadModel), ids=lambda load: load.value)
def test_a_shunt_regulator_never_gives_more_than_it_is_fed(load: LoadModel):
    """In whichever region holds, V_O stays at or below V_I, and the efficiency at or below V_O/V_I."""
    source = Random(SEED)
    names = [name for name in SENSIBLE if name != ("I_L" if load is LoadModel.RESISTOR else "R_L")]
    quantities = ("V_O", "I_Z", "V_Z", "eta")
    run = {
        region: sympy.lambdify(
            [sympy_symbol(name) for name in names],
            [forms("zener-shunt", region, load)[name] for name in quantities], "math",
        )
        for region in ("breakdown", "off")
    }  # fmt: skip
    seen = {"breakdown": 0, "off": 0}
    for draw in range(DRAWS):
        drawn = {name: source.uniform(*SENSIBLE[name]) for name in names}
        breakdown = dict(zip(quantities, run["breakdown"](*drawn.values()), strict=True))
        region = "breakdown" if breakdown["I_Z"] >= 0 else "off"
        here = breakdown if region == "breakdown" else dict(zip(quantities, run["off"](*drawn.values()), strict=True))
        if here["V_O"] < 0:
            continue  # a load that would draw more than R can bring: no such load exists
        seen[region] += 1
        assert here["V_O"] <= drawn["V_I"] * (1 + 1e-12), f"seed {SEED}, draw {draw}: {drawn}"
        assert here["eta"] <= here["V_O"] / drawn["V_I"] * (1 + 1e-9), f"seed {SEED}, draw {draw}: {drawn}"
        assert here["V_O"] <= here["V_Z"] * (1 + 1e-12), f"seed {SEED}, draw {draw}: above the zener's voltage"
    assert min(seen.values()) > 10, seen
