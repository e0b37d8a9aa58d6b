"""The three-terminal regulator, and the amplifier that drives a series regulator from its own supply lead.

Place in the data flow: rows of the table in `components.py`.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.component import CURRENT_LAW, POWER, VOLTAGE_LAW, Component, PartKind, PartLaw, PartRegion

_MODEL = "part model: data sheets of three-terminal regulators, typical values (from memory)"
_LOOP = "part model: amplifier in a closed loop, inputs that draw nothing"

REGULATOR_PARTS: Mapping[PartKind, Component] = {
    # input, ground or adjust pin, output
    PartKind.THREE_TERMINAL: Component(
        terminals=("i", "g", "o"),
        roles={
            "voltage": "V_REG",
            "pin": "I_Q",
            "input": "I_I",
            "current": "I_REG",
            "across": "V_IO",
            "dropout": "V_DROP",
            "power": "P_D",
        },
        flows=(("input", "i", False), ("pin", "g", True), ("current", "o", True)),
        laws=(
            PartLaw(
                "sum",
                "Kirchhoff's current law at the regulator",
                "[input] = [current] + [pin]",
                1.0,
                CURRENT_LAW,
                "What enters at its input leaves by its output and by its third pin.",
            ),
            PartLaw(
                "across",
                "Voltage across the regulator",
                "[across] = i - o",
                0.9,
                VOLTAGE_LAW,
                "The regulator takes up whatever the supply has over the output.",
            ),
            PartLaw(
                "power",
                "Power in the regulator",
                "[power] = (i - o)*[current] + (i - g)*[pin]",
                1.0,
                POWER,
                "Each of its two currents falls through a voltage of its own.",
            ),
        ),
        regions=(
            PartRegion(
                "regulating",
                "the regulator regulates",
                (
                    PartLaw(
                        "holds",
                        "The regulator holds its output above its third pin",
                        "o - g = [voltage]",
                        0.6,
                        _MODEL,
                        "Inside it a loop compares this voltage with a reference and drives the output to agree.",
                    ),
                ),
                ("i - o >= [dropout]", "[current] >= 0"),
            ),
            PartRegion(
                "dropout",
                "the regulator has dropped out",
                (
                    PartLaw(
                        "dropout",
                        "Without headroom the output follows the input",
                        "o = i - [dropout]",
                        0.6,
                        _MODEL,
                        "Its pass transistor is open as far as it will go, and keeps the drop-out voltage for itself.",
                    ),
                ),
                ("o - g <= [voltage]", "[current] >= 0"),
            ),
        ),
    ),
    # non-inverting input, inverting input, output, supply lead (the other supply lead is ground)
    PartKind.AMPLIFIER: Component(
        terminals=("p", "n", "o", "s"),
        roles={
            "gain": "A",
            "resistance": "R_O",
            "current": "I_OA",
            "headroom": "V_HEAD",
            "drop": "V_DROP",
            "power": "P_D",
            "most": "",  # the most current it can give, where a circuit asks that of it
        },
        flows=(("current", "o", True), ("current", "s", False)),
        laws=(
            PartLaw(
                "headroom",
                "Headroom of the amplifier",
                "[headroom] = s - o",
                0.9,
                VOLTAGE_LAW,
                "Its output lies below its supply by this much.",
            ),
            PartLaw(
                "power",
                "Power in the amplifier",
                "[power] = [headroom]*[current]",
                1.0,
                POWER,
                "Its output current comes from its supply lead and falls through what lies between.",
            ),
        ),
        regions=(
            PartRegion(
                "linear",
                "the amplifier holds the loop",
                (
                    PartLaw(
                        "virtual",
                        "The loop holds both inputs of the amplifier at one voltage",
                        "n = p",
                        0.6,
                        _LOOP,
                        "With a large gain, any output needs next to no difference between the inputs.",
                    ),
                ),
                ("[headroom] >= [drop]", "[current] <= [most]"),
            ),
            PartRegion(
                "high",
                "the amplifier's output is at its upper rail",
                (
                    PartLaw(
                        "rail",
                        "The amplifier's output is at its upper rail",
                        "o = s - [drop]",
                        0.5,
                        _LOOP,
                        "The inverting input stays the lower one, so the output is driven up as far as its supply lets "
                        "it go.",
                    ),
                ),
                ("n <= p", "[current] <= [most]"),
            ),
            PartRegion(
                "spent",
                "the amplifier gives all the current it has",
                (
                    PartLaw(
                        "spent",
                        "The amplifier gives all the current it has",
                        "[current] = [most]",
                        0.5,
                        _LOOP,
                        "The inverting input stays the lower one, so the amplifier gives more and more, until its own "
                        "output stage lets no more through.",
                    ),
                ),
                ("n <= p", "[headroom] >= [drop]"),
            ),
        ),
    ),
}
