"""What each kind of part is: terminals, the letter symbols it brings, and the regions it can be in.

Vocabulary: a *role* is what a symbol is to a part ("current", "slope"); a *region* is a state in which other laws hold
(a zener in breakdown or off). One row per kind; the laws a region brings are formulas over roles in square brackets,
with `a` and `b` (or `c`, `b`, `e`) for the node voltages. Sources: Kirchhoff's laws and Ohm's law for the linear parts;
the straight-line zener V_Z = V_Z0 + r_z I_Z and the fixed-V_BE transistor as in Sedra and Smith, Microelectronic
Circuits (zener shunt regulator; large-signal active model); SI units throughout. Windings, diodes and the reservoir of
a raw supply have no current that stands still: what flows between them is told by `laws/rectifier.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tutor.circuit.component import PART_MODEL, POWER, VOLTAGE_LAW, Component, PartKind, PartLaw, PartRegion
from tutor.circuit.heat_parts import HEAT_PARTS
from tutor.circuit.rectifier_parts import RECTIFIER_PARTS
from tutor.circuit.regulator_parts import REGULATOR_PARTS
from tutor.circuit.transistor_parts import TRANSISTOR_PARTS

_LOOP = "part model: ideal amplifier in a closed loop, inputs that draw nothing but what is named"

COMPONENTS: Mapping[PartKind, Component] = MappingProxyType({
    PartKind.SOURCE: Component(
        terminals=("a", "b"),
        roles={"voltage": "{name}", "current": "I_I", "power": "P_I"},
        flows=(("current", "a", True), ("current", "b", False)),
        laws=(
            PartLaw(
                "power",
                "Power taken from the supply",
                "[power] = [voltage]*[current]",
                1.0,
                POWER,
                "All that flows into the circuit comes from the supply, at its own voltage.",
            ),
        ),
    ),
    PartKind.RESISTOR: Component(
        terminals=("a", "b"),
        roles={"resistance": "{name}", "current": "I_{name}", "voltage": "V_{name}", "power": "P_{name}"},
        flows=(("current", "a", False), ("current", "b", True)),
        laws=(
            PartLaw(
                "ohm",
                "Ohm's law for {part}",
                "[current] = (a - b)/[resistance]",
                1.0,
                "Ohm's law",
                "The voltages at its two ends fix the current through {part}.",
            ),
            PartLaw(
                "drop",
                "Voltage across {part}",
                "[voltage] = a - b",
                0.9,
                VOLTAGE_LAW,
                "{part} stands between the two nodes and takes the difference.",
            ),
            PartLaw(
                "drop-ohm",
                "Ohm's law for {part}",
                "[voltage] = [current]*[resistance]",
                1.05,
                "Ohm's law",
                "The current through {part} sets the voltage that it takes.",
            ),
            PartLaw(
                "power",
                "Power in {part}",
                "[power] = [voltage]*[current]",
                1.0,
                POWER,
                "All of it becomes heat in {part}.",
            ),
            PartLaw(
                "power-square",
                "Power in {part}",
                "[power] = [voltage]^2/[resistance]",
                1.1,
                POWER,
                "Voltage times current, the current being the voltage over {part}: all of it becomes heat.",
            ),
        ),
    ),
    PartKind.ZENER: Component(
        terminals=("a", "b"),
        roles={
            "voltage": "V_Z",
            "current": "I_Z",
            "power": "P_Z",
            "slope": "r_z",
            "intercept": "V_Z0",
            "test_voltage": "V_ZT",
            "test_current": "I_ZT",
            "rating": "P_ZM",
            "rated_current": "I_ZM",
        },
        flows=(("current", "a", False), ("current", "b", True)),
        laws=(
            PartLaw(
                "slope",
                "The zener's straight line",
                "[voltage] = [intercept] + [slope]*[current]",
                1.0,
                PART_MODEL,
                "More current means a little more voltage: the breakdown line leans by its slope.",
            ),
            PartLaw(
                "test-point",
                "The same line through the test point",
                "[test_voltage] = [intercept] + [slope]*[test_current]",
                1.0,
                PART_MODEL,
                "The data sheet gives one point of the line; the slope leads from it to zero current.",
            ),
            PartLaw(
                "power",
                "Power in the zener",
                "[power] = [voltage]*[current]",
                1.0,
                POWER,
                "Its own voltage times its own current.",
            ),
            PartLaw(
                "rating",
                "Greatest zener current its rating allows",
                "[rated_current] = [rating]/[voltage]",
                1.0,
                POWER,
                "At its rated power the zener carries its rating divided by its voltage.",
            ),
        ),
        regions=(
            PartRegion(
                "breakdown",
                "the zener is in breakdown",
                (
                    PartLaw(
                        "holds",
                        "In breakdown the zener sets the voltage across it",
                        "a - b = [voltage]",
                        0.5,
                        PART_MODEL,
                        "Whatever current it is left, a zener in breakdown keeps this voltage.",
                    ),
                ),
                ("[current] >= 0",),
            ),
            PartRegion(
                "off",
                "the zener is off",
                (
                    PartLaw(
                        "off",
                        "Below breakdown the zener takes no current",
                        "[current] = 0",
                        0.5,
                        PART_MODEL,
                        "It can only take current away from the node; under its breakdown voltage it takes none.",
                    ),
                ),
                ("a - b <= [voltage]",),
            ),
        ),
    ),
    PartKind.LOAD: Component(
        terminals=("a", "b"),
        # What its regulator wastes has a letter where regulators are compared.
        roles={"current": "I_L", "resistance": "R_L", "power": "P_O", "waste": ""},
        flows=(("current", "a", False), ("current", "b", True)),
        laws=(
            PartLaw(
                "ohm",
                "Ohm's law for the load",
                "[current] = (a - b)/[resistance]",
                1.0,
                "Ohm's law",
                "The load takes what its resistance asks at the output voltage.",
            ),
            PartLaw(
                "power",
                "Power delivered to the load",
                "[power] = (a - b)*[current]",
                1.0,
                POWER,
                "The load has the output voltage across it and the load current through it.",
            ),
        ),
    ),
    PartKind.JUNCTION: Component(
        terminals=("a", "b"),
        roles={"voltage": "V_F", "current": "I_F"},
        flows=(("current", "a", False), ("current", "b", True)),
        regions=(
            PartRegion(
                "conducting",
                "the junction conducts",
                (
                    PartLaw(
                        "holds",
                        "A conducting junction keeps its forward voltage",
                        "a - b = [voltage]",
                        0.6,
                        PART_MODEL,
                        "Whatever forward current it carries, a junction keeps nearly the same voltage.",
                    ),
                ),
                ("[current] >= 0",),
            ),
            PartRegion(
                "off",
                "the junction is off",
                (PartLaw("off", "A junction that is off passes nothing", "[current] = 0", 0.5, PART_MODEL),),
                ("a - b <= [voltage]",),
            ),
        ),
    ),
    # The anode carries cathode and pin current together and stands at ground, where no current law is written.
    PartKind.SHUNT_REFERENCE: Component(
        terminals=("c", "r", "a"),
        roles={"reference": "V_REF", "pin": "I_REF", "current": "I_K", "power": "P_D"},
        flows=(("current", "c", False), ("pin", "r", False)),
        laws=(
            PartLaw(
                "power",
                "Power in the reference",
                "[power] = (c - a)*[current]",
                1.0,
                POWER,
                "It has all of its voltage from cathode to anode, and what is left for it flows there.",
            ),
        ),
        regions=(
            PartRegion(
                "regulating",
                "the reference regulates",
                (
                    PartLaw(
                        "holds",
                        "The reference holds its pin at the reference voltage",
                        "r - a = [reference]",
                        0.6,
                        _LOOP,
                        "It takes just as much cathode current as brings its pin to the reference voltage.",
                    ),
                ),
                ("[current] >= 0",),
            ),
            PartRegion(
                "off",
                "the reference is off",
                (
                    PartLaw(
                        "off",
                        "Below its reference voltage it takes no current",
                        "[current] = 0",
                        0.5,
                        _LOOP,
                        "It draws current only to keep its pin from rising past the reference voltage.",
                    ),
                ),
                ("r - a <= [reference]",),
            ),
        ),
    ),
    PartKind.OPAMP: Component(
        terminals=("p", "n", "o"),
        roles={"gain": "A", "current": "I_OA"},
        flows=(("current", "o", True),),
        regions=(
            PartRegion(
                "linear",
                "the op-amp holds the loop",
                (
                    PartLaw(
                        "virtual",
                        "The loop holds both inputs of the op-amp at one voltage",
                        "p = n",
                        0.6,
                        _LOOP,
                        "With a large gain, any output needs next to no difference between the inputs.",
                    ),
                ),
            ),
            PartRegion(
                "low",
                "the op-amp's output is at its lower rail",
                (
                    PartLaw(
                        "low",
                        "The op-amp's output is at its lower rail, ground",
                        "o = 0",
                        0.5,
                        _LOOP,
                        "While the inverting input is the higher one, the output is driven down as far as it goes.",
                    ),
                ),
                ("p <= n",),
            ),
        ),
    ),
    **TRANSISTOR_PARTS,
    **REGULATOR_PARTS,
    **HEAT_PARTS,
    **RECTIFIER_PARTS,
})
