"""The transistors: fixed V_BE and gain while active, nothing while off.

The letters of a PNP are magnitudes: its V_BE and V_CE are counted from the emitter downwards, its base and collector
currents leave it. So the two polarities differ in which way currents cross the terminals and voltages are counted, and
share all else. Source: the fixed-V_BE transistor as in Sedra and Smith, Microelectronic Circuits.
Place in the data flow: rows of the table in `components.py`.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.component import (
    CURRENT_LAW,
    PART_MODEL,
    POWER,
    VOLTAGE_LAW,
    Component,
    PartKind,
    PartLaw,
    PartRegion,
)


def _transistor(drop: str, sum_why: str, junction: PartLaw, unreached: str, leaves: bool) -> Component:
    """A polarity: what its V_CE is, why its currents add up, its junction's law while active, the inequality that
    keeps it off, and whether base and collector current leave the part."""
    return Component(
        terminals=("c", "b", "e"),
        roles={
            "base": "I_B{index}",
            "collector": "I_C{index}",
            "emitter": "I_E{index}",
            "gain": "h_FE{index}",
            "junction": "V_BE{index}",
            "drop": "V_CE{index}",
            "saturation": "V_CE_SAT",
            "power": "P_Q{index}",
        },
        flows=(("collector", "c", leaves), ("base", "b", leaves), ("emitter", "e", not leaves)),
        laws=(
            PartLaw(
                "drop",
                "Voltage across the transistor",
                f"[drop] = {drop}",
                0.9,
                VOLTAGE_LAW,
                "The transistor takes up whatever the supply has over the output.",
            ),
            PartLaw(
                "sum",
                "Kirchhoff's current law at the transistor",
                "[emitter] = [collector] + [base]",
                1.0,
                CURRENT_LAW,
                sum_why,
            ),
            PartLaw(
                "power",
                "Power in the transistor (collector)",
                "[power] = [drop]*[collector]",
                1.0,
                POWER,
                "Nearly all of its heat is made where the large current crosses the large voltage.",
            ),
        ),
        regions=(
            PartRegion(
                "active",
                "the transistor is in its active region",
                (junction, *_GAINS),
                ("[drop] >= [saturation]", "[base] >= 0"),
            ),
            PartRegion("off", "the transistor is off", _NOTHING, (unreached,)),
        ),
    )


_GAINS = (
    PartLaw(
        "gain",
        "Current gain",
        "[collector] = [gain]*[base]",
        1.0,
        PART_MODEL,
        "In the active region the base current is multiplied by the gain.",
    ),
    PartLaw(
        "emitter-gain",
        "Current gain, emitter current known",
        "[emitter] = ([gain] + 1)*[base]",
        0.95,
        PART_MODEL,
        "The emitter carries the collector's current, the gain times that of the base, and the base's.",
    ),
)
_NOTHING = (
    PartLaw(
        "off-base",
        "A transistor that is off takes no base current",
        "[base] = 0",
        0.5,
        PART_MODEL,
        "Under its base-emitter voltage the junction does not conduct.",
    ),
    PartLaw(
        "off-collector",
        "A transistor that is off passes nothing",
        "[collector] = 0",
        0.5,
        PART_MODEL,
        "Without a base current there is nothing to multiply.",
    ),
)

TRANSISTOR_PARTS: Mapping[PartKind, Component] = {
    PartKind.NPN: _transistor(
        drop="c - e",
        sum_why="What enters at collector and base leaves at the emitter.",
        junction=PartLaw(
            "junction",
            "One base-emitter drop below the base",
            "e = b - [junction]",
            0.6,
            PART_MODEL,
            "The conducting junction sits between base and emitter, and the emitter is its lower end.",
        ),
        unreached="b - e <= [junction]",
        leaves=False,
    ),
    PartKind.PNP: _transistor(
        drop="e - c",
        sum_why="What enters at the emitter leaves at collector and base.",
        junction=PartLaw(
            "junction",
            "One base-emitter drop below the emitter",
            "b = e - [junction]",
            0.6,
            PART_MODEL,
            "The conducting junction sits between emitter and base, and the base is its lower end.",
        ),
        unreached="e - b <= [junction]",
        leaves=True,
    ),
}
