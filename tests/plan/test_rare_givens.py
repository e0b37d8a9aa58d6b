"""Givens that nobody puts into a textbook, and the sets of them by which the planner once went wrong.

Each row fixes part values; the circuit's closed forms say what every quantity is, the names are given, and `resolve`
must find the rest: as the answer or, where a second state fits the same givens, told beside it. The parameters settle
everything, so nothing here may be refused.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
import sympy

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import derive, load_model
from tutor.plan.regions import resolve
from tutor.quantities.expression import evaluate
from tutor.quantities.symbols import SYMBOLS, Sign

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
Values = dict[str, float]
AGREED = 1e-6

SHUNT = {"V_I": 20.0, "R": 220.0, "V_Z0": 8.0, "r_z": 6.0, "I_ZT": 0.02, "I_L": 0.015, "R_L": 400.0}
SHUNT_OFF = {**SHUNT, "V_Z0": 25.0}
FOLLOWER = {
    "V_I": 20.0, "R": 330.0, "V_Z0": 9.0, "r_z": 7.0, "I_ZT": 0.02, "V_BE": 0.65, "h_FE": 40.0, "I_L": 0.1,
    "R_L": 150.0,
}  # fmt: skip
STARVED = {**FOLLOWER, "V_Z0": 30.0, "V_I": 12.0, "I_L": 0.05, "R_L": 200.0}


@cache
def forms_of(circuit_id: str, region_id: str, load: LoadModel):
    circuit = FOLDER.circuit(circuit_id)
    region = circuit.region(region_id)
    forms = closed_forms(circuit, region, load)
    letters = [sympy_symbol(name) for name in parameters(circuit, load)]
    return {name: sympy.lambdify(letters, form, "math") for name, form in forms.items()}, derive(circuit, region, load)


def point(circuit_id: str, region_id: str, parts: Values, names: tuple[str, ...]) -> Values:
    """Every quantity at these part values, slopes included; the load is what the names make it."""
    load = load_model(names)
    functions, laws = forms_of(circuit_id, region_id, load)
    at = [parts[name] for name in parameters(FOLDER.circuit(circuit_id), load)]
    values: Values = {}
    for name, function in functions.items():
        try:
            values[name] = float(function(*at))
        except ZeroDivisionError:
            continue
    for law in laws.laws:
        if law.id.startswith("slope.") and law.symbols[0] not in values:
            values[law.symbols[0]] = evaluate(law.equation.rhs, values)
    return values


def agrees(found: Mapping[str, float], truth: Values) -> bool:
    """Whether every quantity of the truth is there and true to a part in a million."""
    return all(
        name in found and math.isclose(found[name], value, rel_tol=AGREED, abs_tol=1e-12)
        for name, value in truth.items()
    )


# A factor that came in by multiplying out (r_z = −R_L, R = −r_z) is no root of the circuit.
FACTORS = [
    ("zener-shunt", "breakdown", SHUNT, "R_OUT eta V_Z V_Z0 V_I V_ZT"),
    ("zener-shunt", "breakdown", SHUNT, "V_Z S_V V_Z0 R_L I_ZT eta"),
    ("zener-shunt", "breakdown", SHUNT, "eta R_OUT I_L V_ZT I_ZT I_Z"),
    ("follower", "regulating", FOLLOWER, "V_R R_OUT P_Q V_I eta I_E P_R V_ZT"),
    ("follower", "regulating", FOLLOWER, "I_L V_Z0 S_V P_Q I_I eta V_ZT V_CE"),
    ("follower", "regulating", FOLLOWER, "R_L eta I_R I_ZT V_CE P_Q R_OUT V_Z0"),
]  # fmt: skip
# Two suppositions, not one, open the ring: I_L falls out of the efficiency, or one law gives the one by the other.
PAIRS = [
    ("zener-shunt", "off", SHUNT_OFF, "R V_Z0 r_z I_ZT V_O eta"),
    ("zener-shunt", "breakdown", SHUNT, "P_R eta V_ZT S_V R_L V_Z0"),
    ("follower", "regulating", FOLLOWER, "I_ZT R_L P_I R_OUT V_I P_R V_Z0 S_V"),
    ("follower", "regulating", FOLLOWER, "S_V P_I V_ZT R_OUT P_R I_ZT R_L V_O"),
]  # fmt: skip
# No zener current: nothing follows from a product with it, and no law stands that would divide by it.
CURRENTLESS = [
    ("zener-shunt", "off", SHUNT_OFF, "eta r_z V_O I_ZT R V_ZT"),
    ("follower", "starved", STARVED, "h_FE V_ZT I_ZT V_I R_L V_Z0 R I_R"),
    ("follower", "starved", STARVED, "V_ZT P_R I_I V_O V_B I_ZT V_Z I_B"),
    ("follower", "starved", STARVED, "I_B V_Z r_z P_I V_CE V_B I_ZT V_O"),
]  # fmt: skip
# Equations too long for letters.
LONG = [
    ("follower", "starved", STARVED, "I_ZT V_Z P_Q V_BE R_L P_I V_B V_ZT"),
    ("follower", "starved", STARVED, "r_z P_Q I_E R V_BE I_ZT eta V_ZT"),
    ("follower", "regulating", FOLLOWER, "I_ZT I_E R_OUT P_Q P_I P_Z P_O R"),
]  # fmt: skip
# Of two roots in the same region both are told, and neither has a value that its laws do not bear out.
DOUBLE = [
    ("follower", "regulating", FOLLOWER, "V_I I_B V_CE I_ZT I_C I_R R_OUT V_Z0"),
    ("follower", "regulating", FOLLOWER, "I_B P_Z V_Z0 I_R R_OUT V_ZT eta V_BE"),
]


@pytest.mark.parametrize(
    ("circuit_id", "region_id", "parts", "names"), [*FACTORS, *PAIRS, *CURRENTLESS, *LONG, *DOUBLE]
)
def test_rare_givens_lead_to_the_truth(circuit_id: str, region_id: str, parts: Values, names: str):
    """Every quantity that the part values give is found, and found true."""
    told = tuple(names.split())
    truth = point(circuit_id, region_id, parts, told)
    found = resolve(FOLDER.circuit(circuit_id), {name: truth[name] for name in told}, ())
    states = [(found.region.id, found.values), *((other.region.id, other.values) for other in found.others)]
    assert any(region == region_id and agrees(values, truth) for region, values in states)
    for region, values in states:
        assert broken(circuit_id, region, told, values) == []


def broken(circuit_id: str, region_id: str, names: tuple[str, ...], values: Mapping[str, float]) -> list[str]:
    """The laws of a region that values do not keep, and the quantities that run backwards."""
    found = [name for name, value in values.items() if value < -1e-9 and SYMBOLS[name].sign is not Sign.ANY]
    for law in forms_of(circuit_id, region_id, load_model(names))[1].laws:
        if set(law.symbols) <= set(values):
            try:
                sides = [evaluate(side, values) for side in (law.equation.lhs, law.equation.rhs)]
            except ZeroDivisionError:
                continue
            if not math.isclose(*sides, rel_tol=1e-5, abs_tol=1e-9):
                found.append(law.id)
    return found


ONE_ASKED = [
    ("zener-shunt", "off", SHUNT_OFF, "R V_Z eta V_O", "I_L"),
    ("follower", "starved", STARVED, "eta R_L V_ZT P_R V_BE V_R I_ZT V_Z", "P_Z"),
    ("follower", "starved", STARVED, "I_L V_Z P_O P_R V_R V_BE", "I_I"),
]


@pytest.mark.parametrize(("circuit_id", "region_id", "parts", "names", "wanted"), ONE_ASKED)
def test_one_quantity_asked_for_is_as_true_as_all(
    circuit_id: str, region_id: str, parts: Values, names: str, wanted: str
):
    """What tells the region is worked out too, asked or not."""
    told = tuple(names.split())
    truth = point(circuit_id, region_id, parts, told)
    found = resolve(FOLDER.circuit(circuit_id), {name: truth[name] for name in told}, (wanted,))
    assert found.region.id == region_id
    assert found.values[wanted] == pytest.approx(truth[wanted], rel=AGREED, abs=1e-12)


def test_a_root_that_runs_backwards_is_no_state():
    """I_Z = 6 mA, R = 150 Ω, R_L = 240 Ω at 45 % efficiency: the smaller root would drive current out of the load.

    In I_R: R_L (I_R − I_Z)² = η I_R (R_L (I_R − I_Z) + R I_R) has a root above I_Z and one below it, at which V_O
    and I_L are negative and their quotient R_L is not.
    """
    found = resolve(FOLDER.circuit("zener-shunt"), {"eta": 0.45, "I_Z": 0.006, "R": 150.0, "R_L": 240.0}, ())
    assert found.others == ()
    assert found.values["I_R"] > 0.006
    assert found.values["eta"] == pytest.approx(
        found.values["V_O"] * found.values["I_L"] / (found.values["V_I"] * found.values["I_R"])
    )
    assert "the other root is refused" in found.roots[0].why
