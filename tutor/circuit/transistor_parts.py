"""The transistors, one row a polarity: fixed V_BE and gain while active, nothing while off.

The letters of a PNP are magnitudes: its V_BE and V_CE are counted from the emitter downwards, its base and collector
currents leave it. Source: the fixed-V_BE transistor as in Sedra and Smith, Microelectronic Circuits.
Place in the data flow: rows of the table in `components.py`.
"""

from __future__ import annotations

from tutor.circuit.component import Component, PartKind, PartLaw, PartRegion

_DEFINITION = "definition of power: voltage across times current through"
_MODEL = "part model: Sedra and Smith, Microelectronic Circuits"

TRANSISTOR_PARTS: dict[PartKind, Component] = {
    PartKind.NPN: Component(
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
        flows=(("collector", "c", False), ("base", "b", False), ("emitter", "e", True)),
        laws=(
            PartLaw(
                "drop",
                "Voltage across the transistor",
                "[drop] = c - e",
                0.9,
                "Kirchhoff's voltage law",
                "The transistor takes up whatever the supply has over the output.",
            ),
            PartLaw(
                "sum",
                "Kirchhoff's current law at the transistor",
                "[emitter] = [collector] + [base]",
                1.0,
                "Kirchhoff's current law",
                "What enters at collector and base leaves at the emitter.",
            ),
            PartLaw(
                "power",
                "Power in the transistor (collector)",
                "[power] = [drop]*[collector]",
                1.0,
                _DEFINITION,
                "Nearly all of its heat is made where the large current crosses the large voltage.",
            ),
        ),
        regions=(
            PartRegion(
                "active",
                "the transistor is in its active region",
                (
                    PartLaw(
                        "junction",
                        "One base-emitter drop below the base",
                        "e = b - [junction]",
                        0.6,
                        _MODEL,
                        "The conducting junction sits between base and emitter, and the emitter is its lower end.",
                    ),
                    PartLaw(
                        "gain",
                        "Current gain",
                        "[collector] = [gain]*[base]",
                        1.0,
                        _MODEL,
                        "In the active region the base current is multiplied by the gain.",
                    ),
                    PartLaw(
                        "emitter-gain",
                        "Current gain, emitter current known",
                        "[emitter] = ([gain] + 1)*[base]",
                        0.95,
                        _MODEL,
                        "The emitter carries the collector's current, the gain times that of the base, and the base's.",
                    ),
                ),
                ("[drop] >= [saturation]", "[base] >= 0"),
            ),
            PartRegion(
                "off",
                "the transistor is off",
                (
                    PartLaw(
                        "off-base",
                        "A transistor that is off takes no base current",
                        "[base] = 0",
                        0.5,
                        _MODEL,
                        "Under its base-emitter voltage the junction does not conduct.",
                    ),
                    PartLaw(
                        "off-collector",
                        "A transistor that is off passes nothing",
                        "[collector] = 0",
                        0.5,
                        _MODEL,
                        "Without a base current there is nothing to multiply.",
                    ),
                ),
                ("b - e <= [junction]",),
            ),
        ),
    ),
    PartKind.PNP: Component(
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
        flows=(("collector", "c", True), ("base", "b", True), ("emitter", "e", False)),
        laws=(
            PartLaw(
                "drop",
                "Voltage across the transistor",
                "[drop] = e - c",
                0.9,
                "Kirchhoff's voltage law",
                "The transistor takes up whatever the supply has over the output.",
            ),
            PartLaw(
                "sum",
                "Kirchhoff's current law at the transistor",
                "[emitter] = [collector] + [base]",
                1.0,
                "Kirchhoff's current law",
                "What enters at the emitter leaves at collector and base.",
            ),
            PartLaw(
                "power",
                "Power in the transistor (collector)",
                "[power] = [drop]*[collector]",
                1.0,
                _DEFINITION,
                "Nearly all of its heat is made where the large current crosses the large voltage.",
            ),
        ),
        regions=(
            PartRegion(
                "active",
                "the transistor is in its active region",
                (
                    PartLaw(
                        "junction",
                        "One base-emitter drop below the emitter",
                        "b = e - [junction]",
                        0.6,
                        _MODEL,
                        "The conducting junction sits between emitter and base, and the base is its lower end.",
                    ),
                    PartLaw(
                        "gain",
                        "Current gain",
                        "[collector] = [gain]*[base]",
                        1.0,
                        _MODEL,
                        "In the active region the base current is multiplied by the gain.",
                    ),
                    PartLaw(
                        "emitter-gain",
                        "Current gain, emitter current known",
                        "[emitter] = ([gain] + 1)*[base]",
                        0.95,
                        _MODEL,
                        "The emitter carries the collector's current, the gain times that of the base, and the base's.",
                    ),
                ),
                ("[drop] >= [saturation]", "[base] >= 0"),
            ),
            PartRegion(
                "off",
                "the transistor is off",
                (
                    PartLaw(
                        "off-base",
                        "A transistor that is off takes no base current",
                        "[base] = 0",
                        0.5,
                        _MODEL,
                        "Under its base-emitter voltage the junction does not conduct.",
                    ),
                    PartLaw(
                        "off-collector",
                        "A transistor that is off passes nothing",
                        "[collector] = 0",
                        0.5,
                        _MODEL,
                        "Without a base current there is nothing to multiply.",
                    ),
                ),
                ("e - b <= [junction]",),
            ),
        ),
    ),
}
