"""The three-terminal regulator, one row: it holds its output a fixed voltage above its ground or adjust pin.

Place in the data flow: a row of the table in `components.py`.
"""

from __future__ import annotations

from tutor.circuit.component import Component, PartKind, PartLaw, PartRegion

_MODEL = "part model: data sheets of three-terminal regulators, typical values (from memory)"

REGULATOR_PARTS: dict[PartKind, Component] = {
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
                "Kirchhoff's current law",
                "What enters at its input leaves by its output and by its third pin.",
            ),
            PartLaw(
                "across",
                "Voltage across the regulator",
                "[across] = i - o",
                0.9,
                "Kirchhoff's voltage law",
                "The regulator takes up whatever the supply has over the output.",
            ),
            PartLaw(
                "power",
                "Power in the regulator",
                "[power] = (i - o)*[current] + (i - g)*[pin]",
                1.0,
                "definition of power: voltage across times current through",
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
}
