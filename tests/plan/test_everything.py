"""All that follows from what is known: true to every law, nothing left out that is settled, nothing invented.

The truth here is the circuit's closed forms, worked out by other means than plans are (`laws/closed_form.py`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import derive, load_model
from tutor.laws.law import Law
from tutor.plan.determinacy import manifold
from tutor.plan.everything import everything
from tutor.plan.regions import resolve
from tutor.plan.rule import apply_rules
from tutor.quantities.expression import Add, evaluate

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
CIRCUITS = [FOLDER.circuit(name) for name in FOLDER.circuit_ids()]
SPACES = [
    pytest.param(circuit, region, load, id=f"{circuit.id}-{region.id}-{load.value}")
    for circuit in CIRCUITS
    for region in circuit.regions
    for load in LoadModel
    # A follower that is off, with a load that holds its current: there is no such operating point.
    if (circuit.id, region.id, load) != ("follower", "off", LoadModel.SINK)
]
# Values at which each region's laws are written down, sensible or not: the laws do not ask.
LOADS = {"I_L": 0.013, "I_I": 0.37, "R_L": 512.0}
FINITE = {"A": 1.7e3, "R_O": 83.0}  # of an amplifier that is not taken as ideal
AGREED = 1e-9


def point(circuit: Circuit, load: LoadModel, scale: float = 1.0) -> dict[str, float]:
    """Values of the free parameters, no two alike."""
    return {
        name: {**LOADS, **circuit.typical}[name] * (1 + scale * 0.013 * place)
        for place, name in enumerate(parameters(circuit, load))
    }


@cache
def formulas(circuit_id: str, region_id: str, load: LoadModel) -> Mapping[str, object]:
    circuit = FOLDER.circuit(circuit_id)
    return closed_forms(circuit, circuit.region(region_id), load)


def truth(circuit: Circuit, region: Region, load: LoadModel, at: Mapping[str, float]) -> dict[str, float]:
    """Every quantity at a point, from the closed forms."""
    numbers = {sympy_symbol(name): value for name, value in at.items()}
    found = {name: form.subs(numbers) for name, form in formulas(circuit.id, region.id, load).items()}
    return {name: float(value) for name, value in found.items() if value.is_finite}


def broken(laws: tuple[Law, ...], values: Mapping[str, float]) -> list[str]:
    """Ids of the laws, all of whose quantities have a value, that those values break."""
    found = []
    for law in laws:
        if not set(law.symbols) <= set(values):
            continue
        sides = (law.equation.lhs, law.equation.rhs)
        try:
            terms = [
                evaluate(part, values) for side in sides for part in (side.terms if isinstance(side, Add) else (side,))
            ]
            left, right = (evaluate(side, values) for side in sides)
        except ZeroDivisionError:
            continue
        if abs(left - right) > AGREED * max(1e-12, *(abs(term) for term in terms)):
            found.append(law.id)
    return found


@pytest.mark.parametrize(("circuit", "region", "load"), SPACES)
def test_the_part_values_give_everything_and_every_law_is_kept(circuit: Circuit, region: Region, load: LoadModel):
    """From the free parameters: each law satisfied, each closed form met, each law's quantities all found."""
    at = point(circuit, load)
    values = apply_rules(everything(circuit, region, at, {}), {**circuit.defaults, **at})
    laws = derive(circuit, region, load)
    assert broken(laws.laws, values) == []
    for name, value in truth(circuit, region, load, at).items():
        assert math.isclose(values[name], value, rel_tol=1e-8, abs_tol=1e-12), name
    spoken = [law for law in laws.laws if set(law.symbols) <= set(values)]
    assert len(spoken) > len(laws.laws) / 2, "the check of the laws would otherwise say little"


def test_a_wrong_value_would_be_noticed():
    """The check can fail: one current a thousandth out breaks laws."""
    circuit = FOLDER.circuit("zener-shunt")
    region, at = circuit.regions[0], point(circuit, LoadModel.SINK)
    values = apply_rules(everything(circuit, region, at, {}), at)
    laws = derive(circuit, region, LoadModel.SINK).laws
    assert "kcl.out" in broken(laws, {**values, "I_Z": values["I_Z"] * 1.001})


def test_what_is_settled_and_has_no_way_is_left_out():
    """A zener that is off takes nothing and so no power, whatever its voltage: no law gives 0 for a product of which
    one factor is unknown. The rest follows: 12 V over 220 Ω, all of it for a load of 3 V/54.5 mA = 55 Ω."""
    circuit = FOLDER.circuit("zener-shunt")
    at = {"V_I": 15.0, "V_O": 3.0, "R": 220.0}
    values = apply_rules(everything(circuit, circuit.region("off"), at, {}), at)
    assert "P_Z" not in values
    assert (values["I_Z"], values["I_L"], values["R_L"]) == (0, pytest.approx(12 / 220), pytest.approx(55))


@pytest.mark.parametrize("circuit", CIRCUITS, ids=lambda circuit: circuit.id)
def test_it_agrees_with_the_state_that_resolve_finds(circuit: Circuit):
    """`resolve` plans for one set of numbers and picks the region; the rules for that region give the same values."""
    compared = 0
    for load in LoadModel:
        at = point(circuit, load, 0.1)
        found = resolve(circuit, at, ())
        values = apply_rules(everything(circuit, found.region, (*at, *found.defaults), {}), {**found.defaults, **at})
        for name, value in found.values.items():
            assert math.isclose(values[name], value, rel_tol=AGREED, abs_tol=1e-15), name
            compared += 1
    assert compared > (15 if circuit.stem != "heat-path" else 7)  # which has few quantities


def conventions_of(circuit: Circuit) -> list[dict[str, str]]:
    return [{name: value} for name, offered in circuit.convention_values().items() for value in offered]


@pytest.mark.parametrize(
    ("circuit", "assumed"),
    [
        pytest.param(circuit, assumed, id="-".join((circuit.id, *assumed, *assumed.values())))
        for circuit in CIRCUITS
        for assumed in conventions_of(circuit)
    ],
)
def test_each_convention_keeps_its_own_laws(circuit: Circuit, assumed: dict[str, str]):
    """Under every value of every convention the values satisfy the laws as that convention has them."""
    compared = []
    for load in LoadModel:
        at = point(circuit, load) | (FINITE if assumed.get("amplifier") in ("finite", "counted") else {})
        region = circuit.regions[0]
        values = apply_rules(everything(circuit, region, at, assumed), {**circuit.defaults, **at})
        laws = derive(circuit, region, load, conventions=assumed).laws
        assert broken(laws, values) == []
        compared += [law for law in laws if set(law.symbols) <= set(values)]
    assert len(compared) > 10


SOME = {
    "source": [("V_OC", "V_I"), ("V_I", "R_L"), ("P_O", "V_I", "V_OC"), ("I_I", "P_R", "V_I")],
    "zener-shunt": [
        ("V_I", "V_O", "R"), ("V_I", "V_O", "R", "I_L"), ("I_Z", "I_R", "V_O", "V_I"), ("P_Z", "V_O", "I_L", "V_I"),
        ("V_I", "R", "V_Z0", "r_z"), ("V_I", "R", "V_Z0", "r_z", "I_R"), ("eta", "V_I", "P_O"), ("V_Z0", "I_Z", "V_O"),
        ("V_I", "R", "V_Z0", "r_z", "I_L"),
    ],
    "follower": [
        ("V_I", "V_Z", "R", "V_BE"), ("V_O", "I_L", "h_FE", "V_I", "V_BE"), ("I_C", "I_B"), ("P_Q", "V_I", "V_O"),
        ("V_I", "R", "V_Z0", "r_z", "V_BE", "h_FE", "R_L"), ("I_I", "I_Z", "V_O"),
    ],
    "boosted-shunt": [
        ("V_I", "R", "V_Z", "V_BE"), ("V_I", "V_O", "R", "I_L"), ("I_RBE", "I_B", "h_FE"), ("P_Q", "V_O"),
        ("V_I", "R", "V_Z0", "r_z", "V_BE", "h_FE", "R_BE", "I_L"),
    ],
    "compensated-shunt": [("V_I", "R", "V_Z", "V_F"), ("V_O", "V_Z"), ("V_I", "V_O", "R", "I_L"), ("P_Z", "I_Z")],
    "reference-shunt": [("V_REF", "R_1", "R_2"), ("V_REF", "R_1", "R_2", "I_REF"), ("V_O", "I_K"), ("V_I", "V_O", "R")],
    "opamp-shunt": [("V_REF", "R_1", "R_2"), ("V_I", "V_O", "R", "I_L"), ("I_OA", "h_FE"), ("V_O", "I_C")],
    "rectifiers": [
        ("V_SEC", "V_F", "f", "C", "I_L"), ("PIV_1", "PIV_3"), ("V_TROUGH_2", "V_TROUGH_3"), ("VA_2", "V_SEC"),
        ("V_RIP_1", "f", "C"), ("V_DC_1", "V_PK_1"),
    ],
    "regulators": [
        ("V_I", "V_O", "R_FEED_1", "I_L"), ("V_O", "V_BE", "I_L", "h_FE"), ("R_FEED_1", "r_z"), ("P_D_2", "V_O", "I_L"),
    ],
    "darlington": [
        ("V_I", "V_Z", "R", "V_BE_1", "V_BE_2"), ("I_L", "h_FE_1", "h_FE_2"), ("V_O", "V_B_1"), ("I_Z", "I_L", "V_I"),
    ],
    "current-limit": [("V_BE_2", "R_SENSE"), ("V_Z", "V_BE_1", "I_L", "R_SENSE"), ("V_O", "I_L"), ("I_LIM", "V_BE_2")],
    "full-regulator": [
        ("V_REF", "R_1", "R_2"), ("V_BE_3", "R_SENSE", "V_I"), ("V_O", "I_SENSE", "R_SENSE", "V_BE_1", "V_BE_2"),
        ("I_SENSE", "h_FE_1", "h_FE_2"),
    ],
    "prestabilised-zener": [
        ("V_I", "R_P", "V_Z_P"), ("V_Z_P", "V_Z", "R", "I_L", "h_FE"), ("V_O", "V_BE", "I_Z", "r_z"),
        ("I_R", "I_Z_P", "V_I", "V_Z_P"),
    ],
    "prestabilised-reference": [
        ("V_REF", "R_1", "R_2", "I_REF"), ("V_B", "V_BE", "I_L"), ("I_K", "I_B", "V_I", "V_B"), ("V_O", "I_L", "h_FE"),
    ],
    "whole-supply-follower": [
        ("V_SEC", "V_F", "f", "C", "I_L"), ("V_Z", "V_BE", "R"), ("V_DC", "V_O", "I_L", "h_FE"),
        ("T_A", "P_Q", "R_thSA"),
    ],
    "whole-supply-three-terminal": [
        ("V_SEC", "V_F", "f", "C", "I_L"), ("V_TROUGH", "V_REG"), ("V_DC", "V_O", "I_L"), ("T_A", "P_D", "R_thSA"),
    ],
    "heat-path-heat-sink": [("T_C", "P_D", "R_thJC"), ("T_S", "T_A", "P_D")],
    "heat-path-free-air": [("T_J", "T_A", "P_D"), ("T_J", "P_D", "R_thJA")],
    "heat-path-regulator": [("V_I", "V_O", "I_L"), ("T_A", "R_thSA", "P_D"), ("P_D", "V_I", "V_O")],
    "heat-path-raw-supply": [
        ("V_OC", "R_S", "I_I"), ("P_D", "I_L", "V_O"), ("T_J", "T_A", "R_thJC", "R_thCS", "R_thSA"),
    ],
    "three-terminal-current-source": [("V_REF", "R", "I_ADJ"), ("V_O", "I_L"), ("V_I", "V_RO", "V_O")],
    "three-terminal": [("V_I", "V_O"), ("V_O", "I_L"), ("V_I", "V_O", "I_L", "P_D"), ("I_I", "I_L")],
    "opamp-series": [
        ("V_REF", "R_1", "R_2"), ("V_O", "R_1", "R_2"), ("V_O", "I_L"), ("I_L", "V_O", "V_I", "R_1", "R_2"),
    ],
    "feedback-pair": [
        ("V_Z", "V_BE_2", "R_1", "R_2"), ("V_O", "R_1", "R_2"), ("I_L", "I_DIV", "V_O", "V_I"),
        ("V_O", "V_BE_1", "V_I", "R"),
    ],
    "foldback": [
        ("V_BE_2", "R_A", "R_B", "R_SENSE"), ("V_Z", "V_BE_1", "I_L", "R_SENSE"), ("I_KNEE", "I_SC", "V_KNEE"),
    ],
    "reservoir": [
        ("V_SEC", "V_F", "f", "C", "I_L"), ("V_SEC", "V_F", "f", "C", "R_L"), ("V_PRI", "N_T"), ("V_SEC", "V_PK"),
        ("I_L", "f", "V_RIP"), ("V_TROUGH", "V_DC"), ("V_PK", "V_DC", "f", "C"), ("V_DC", "R_L", "f", "C"),
        ("PIV", "V_F"), ("VA", "V_SEC"), ("W_C", "C"), ("V_DC", "P_O"),
    ],
}  # fmt: skip


@pytest.mark.parametrize(
    ("circuit", "names"),
    [pytest.param(circuit, names, id="-".join((circuit.id, *names))) for circuit in CIRCUITS for names in
     SOME.get(circuit.id) or SOME[circuit.stem]],
)  # fmt: skip
def test_part_of_the_truth_gives_nothing_but_the_truth(circuit: Circuit, names: tuple[str, ...]):
    """From some quantities of an operating point: no other value is invented, and all that is settled is found."""
    region = circuit.regions[0]
    load = load_model(names)
    real = truth(circuit, region, load, point(circuit, load))
    told = {name: real[name] for name in names}
    rules = everything(circuit, region, names, {})
    values = apply_rules(rules, told)
    for name, value in values.items():
        if name in real:
            assert math.isclose(value, real[name], rel_tol=1e-7), name
    facts = manifold(circuit, region, load, {})
    settled = {name for name in real if facts.settles_strictly(told, name)}
    assert settled <= set(values), "what the givens settle is found"
    assert set(names) < set(values), "every set above settles something"


def test_givens_of_a_straight_zener_need_no_slope():
    """V_Z given: the zener's line plays no part, and I_Z follows without r_z, V_Z0 and I_ZT."""
    circuit = FOLDER.circuit("zener-shunt")
    names = ("V_I", "R", "V_Z", "I_L")
    rules = everything(circuit, circuit.regions[0], names, {})
    assert not {"r_z", "V_Z0", "I_ZT"} & {name for rule in rules for name in (rule.target, *rule.needs)}
    values = apply_rules(rules, {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01})
    assert math.isclose(values["I_Z"], 5.9 / 220 - 0.01)


def test_a_resistance_among_the_known_makes_the_load_a_resistor():
    """S_V then counts the load in: 10 Ω ∥ 90 Ω are 9 Ω, and 9/(100 + 9); with a load current it is 10/(100 + 10)."""
    circuit = FOLDER.circuit("zener-shunt")
    told = {"V_I": 15.0, "R": 100.0, "V_Z0": 9.0, "r_z": 10.0, "I_ZT": 0.02}
    for load, slope in (({"R_L": 90.0}, 9 / 109), ({"I_L": 0.01}, 10 / 110)):
        given = {**told, **load}
        assert math.isclose(apply_rules(everything(circuit, circuit.regions[0], given, {}), given)["S_V"], slope)


def test_readings_settle_the_part_between_them():
    """Two readings of a source give R_S and V_OC, as paper does: (V_I_1 − V_I_2)/(I_I_2 − I_I_1)."""
    circuit = FOLDER.circuit("source")
    told = {"V_I_1": 17.0, "I_I_1": 0.3, "V_I_2": 16.0, "I_I_2": 0.7}
    values = apply_rules(everything(circuit, circuit.regions[0], told, {}), told)
    assert math.isclose(values["R_S"], 2.5)
    assert math.isclose(values["V_OC"], 17.75)


@pytest.mark.parametrize("circuit", CIRCUITS, ids=lambda circuit: circuit.id)
def test_rules_stand_in_an_order_in_which_they_can_be_worked_out(circuit: Circuit):
    """Each needs only what is known or stood before it, and finds what did not; the order of the known is no matter."""
    names = parameters(circuit, LoadModel.SINK)
    found: set[str] = set(names)
    rules = everything(circuit, circuit.regions[0], names, {})
    for rule in rules:
        assert set(rule.needs) <= found, rule.target
        assert rule.target not in found
        found.add(rule.target)
    turned = everything(circuit, circuit.regions[0], names[::-1], {})
    assert {rule.target for rule in turned} == {rule.target for rule in rules}


def test_nothing_follows_from_nothing():
    """Nor from a name that no law speaks of."""
    circuit = FOLDER.circuit("zener-shunt")
    assert everything(circuit, circuit.regions[0], (), {}) == ()
    for pair in combinations(("tol_R", "T_A", "h_FE"), 2):
        assert everything(circuit, circuit.regions[0], pair, {}) == ()
