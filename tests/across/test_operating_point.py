"""The solver of any netlist, held against the engine on every healthy circuit, and against plain arithmetic elsewhere.

The engine works each circuit by its algebra, region by region; the solver tries states with numbers. A set of values
counts where the solver rests in a region that the circuit knows, and every node and current must then be the engine's.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from random import Random

import pytest

import tutor
from tutor.across.bare_circuit import bare_recipe
from tutor.across.faults import CircuitFault, FaultKind, possible_faults, with_fault
from tutor.across.operating_point import OperatingPoint, operating_points
from tutor.across.rectified import RAW_PARTS
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part, read_netlist
from tutor.errors import BadCircuit
from tutor.plan.rule import Rule, apply_rules
from tutor.solution.desk import our_desk

SETS = 20
CLOSE = 1e-6
# Part values (SI) of the orders a lecturer would put on a board, from and to; the rest are a circuit's own typical
# ones. Common practice, no source.
SENSIBLE = {
    "V_I": (12, 28), "V_OC": (8, 30), "R": (0.6, 1.6), "R_S": (0.5, 8), "I_L": (0.2, 1.2), "I_I": (0.05, 1.0),
    "V_Z": (4, 9), "h_FE": (0.6, 2), "h_FE_1": (0.6, 2), "h_FE_2": (0.6, 2), "R_1": (0.8, 1.2), "R_2": (0.8, 1.2),
}  # fmt: skip
HEAT = (PartKind.HEAT_SOURCE, PartKind.THERMAL)


def electrical() -> list[str]:
    """The circuits whose nodes stand at steady voltages and whose zeners are told; where they follow from an output
    that is wanted, there is nothing to solve."""
    desk = our_desk()
    found = [desk.circuit(name) for name in desk.folder.circuit_ids()]
    steady = [item for item in found if not any(part.kind in (*RAW_PARTS, *HEAT) for part in item.parts)]
    return [item.id for item in steady if all(told(item, part) for part in item.parts)]


def told(circuit: Circuit, part: Part) -> bool:
    """Whether a zener's voltage is among what the circuit starts from."""
    return part.kind is not PartKind.ZENER or bool(
        {part.symbols["voltage"], part.symbols["intercept"]} & {*circuit.typical}
    )


@cache
def rules(circuit: Circuit, region: str) -> tuple[Rule, ...]:
    """All that follows from part values in a region, the base currents counted where that is a convention."""
    offered = circuit.convention_values()
    if offered.get("base-current", ("exact",))[0] == "exact":
        return bare_recipe(our_desk(), circuit, circuit.region(region)).rules
    return tutor.generic_recipe(circuit, circuit.region(region), (), (), {"base-current": "exact"}).rules


def drawn(circuit: Circuit, source: Random) -> dict[str, float]:
    """Typical values, those of the table moved; a zener straight."""
    values = {**circuit.defaults, **circuit.typical}
    if "V_Z0" in values:
        values["V_Z"] = values.pop("V_Z0")
    for name in ("r_z", "I_ZT", "A", "R_O"):
        values.pop(name, None)
    for name, (low, high) in SENSIBLE.items():
        if name in values:
            drawn = source.uniform(low, high)
            values[name] = drawn if name[0] == "V" or name in ("R_S", "I_I") else values[name] * drawn
    return values


def here(circuit: Circuit, point: OperatingPoint) -> str | None:
    """The region of the circuit that a point rests in."""
    fits = [item.id for item in circuit.regions if all(point.states[name] == told for name, told in item.parts.items())]
    return fits[0] if fits else None


def currents(circuit: Circuit, point: OperatingPoint) -> Mapping[str, float]:
    """The currents by letter."""
    return {part.symbols[role]: point.currents[part.name, role] for part in circuit.parts for role, _, _ in
            part.component.flows if part.symbols[role]}  # fmt: skip


@pytest.mark.parametrize("name", electrical())
def test_a_healthy_circuit_rests_where_the_engine_says(name: str) -> None:
    """20 sets of values: every node voltage and current within a millionth of the largest of its kind."""
    circuit = our_desk().circuit(name)
    source = Random(name)
    met, tried = 0, 0
    while met < SETS:
        tried += 1
        assert tried <= 10 * SETS, f"{met} of {tried - 1} sets in a region of the circuit"
        values = drawn(circuit, source)
        for point in operating_points(circuit.parts, values):
            region = here(circuit, point)
            if region is None:
                continue
            expected = apply_rules(rules(circuit, region), values)
            seen = {word.symbol: point.volts[node] for node, word in circuit.nodes.items() if word.symbol}
            volts = max(abs(value) for value in seen.values())
            for letter, value in seen.items():
                if letter in expected and letter not in values:  # a node may bear the letter of a part value, V_F
                    assert value == pytest.approx(expected[letter], abs=CLOSE * volts), (letter, region, values)
            amperes = currents(circuit, point)
            most = max(abs(value) for value in amperes.values())
            known = [letter for letter in amperes if letter in expected]
            assert known
            for letter in known:
                assert amperes[letter] == pytest.approx(expected[letter], abs=CLOSE * most), (letter, region, values)
            met += 1


def parts(text: str) -> tuple[Part, ...]:
    return read_netlist(text, "a test")


SHUNT = parts("V_I source in gnd\nR resistor in out\nZ zener out gnd\nL load out gnd")
SHUNT_VALUES = {"V_I": 20.0, "R": 100.0, "V_Z": 10.0, "R_L": 400.0}


@pytest.mark.parametrize(
    ("fault", "volts"),
    [  # worked by hand: a divider of 100 and 400 ohms, a junction of 0.7 V, a node that hangs in the air
        (CircuitFault(FaultKind.NOTHING), 10.0),
        (CircuitFault(FaultKind.OPEN, "Z"), 16.0),
        (CircuitFault(FaultKind.REVERSED, "Z"), 0.7),
        (CircuitFault(FaultKind.SHORT, "Z"), 0.0),
        (CircuitFault(FaultKind.OPEN, "R"), 0.0),
        (CircuitFault(FaultKind.TENFOLD, "R"), 20 * 400 / 1400),
        (CircuitFault(FaultKind.TENTH, "R"), 10.0),
        (CircuitFault(FaultKind.SHORT, "L"), 0.0),
        (CircuitFault(FaultKind.JOINT, "V_I", 300.0), 10.0),
    ],
)
def test_each_fault_of_a_shunt_does_what_hand_arithmetic_says(fault: CircuitFault, volts: float) -> None:
    (point,) = operating_points(*with_fault(SHUNT, SHUNT_VALUES, fault))
    assert point.volts["out"] == pytest.approx(volts, abs=1e-6)


def test_a_part_without_a_value_is_named_as_such() -> None:
    with pytest.raises(BadCircuit, match=r"some part has no value"):
        operating_points(SHUNT, {"V_I": 20.0, "R": 100.0, "R_L": 400.0})


def test_a_zener_right_across_a_source_has_no_point() -> None:
    """Two voltages against each other: no current makes them agree, and the solver says so by finding nothing."""
    assert operating_points(parts("V_I source in gnd\nZ zener in gnd"), {"V_I": 20.0, "V_Z": 10.0}) == ()


def test_a_zener_under_its_voltage_right_across_a_source_is_off() -> None:
    (point,) = operating_points(parts("V_I source in gnd\nZ zener in gnd"), {"V_I": 5.0, "V_Z": 10.0})
    assert point.states == {"Z": "off"} and point.currents["Z", "current"] == 0


SWITCH = parts("V_I source in gnd\nR resistor in c\nR_1 resistor in b current=I_DIV voltage= power=\nQ npn c b gnd")


def test_a_transistor_with_base_current_to_spare_is_saturated() -> None:
    """(10 V - 0.7 V)/10 kohm into the base asks for 93 mA at a gain of 100; 1 kohm passes (10 V - 0.2 V)/1 kohm."""
    values = {"V_I": 10.0, "R": 1e3, "R_1": 1e4, "V_BE": 0.7, "V_CE_SAT": 0.2, "h_FE": 100.0}
    (point,) = operating_points(SWITCH, values)
    assert point.states == {"Q": "saturated"}
    assert point.volts["c"] == pytest.approx(0.2)
    assert point.currents["Q", "collector"] == pytest.approx(9.8e-3)


def test_an_amplifier_fed_back_to_its_wrong_input_latches() -> None:
    """With its inputs exchanged a loop rests at either end and nowhere between."""
    circuit = our_desk().circuit("opamp-series-reference")
    values = {**circuit.defaults, **circuit.typical, "R_L": 20.0}
    found = operating_points(*with_fault(circuit.parts, values, CircuitFault(FaultKind.EXCHANGED, "U")))
    assert [point.states["U"] for point in found] == ["high", "low"]
    assert found[0].volts["out"] == pytest.approx(18.0 - 2.0 - 0.7)
    assert found[1].volts["out"] == pytest.approx(0, abs=1e-6)


def test_every_kind_of_part_but_a_load_may_fail_in_two_ways_and_a_resistor_in_three() -> None:
    circuit = our_desk().circuit("follower")
    found = [fault.id for fault in possible_faults(circuit, joint=10.0)]
    assert found == [
        "nothing", "joint V_I", "open R", "tenfold R", "tenth R", "open Z", "short Z", "reversed Z", "open Q",
        "short Q", "base-short Q", "short L",
    ]  # fmt: skip
