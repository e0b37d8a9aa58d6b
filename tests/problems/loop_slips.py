"""What the trade's names of slips are called in the families of regulators with a loop (`test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE

OPAMP = {"Vref": "V_REF", "R1": "R_1", "R2": "R_2", "VBE": "V_BE", "Vo": "V_O", "hFE": "h_FE"}

PAIR = {"Vref": "(V_Z + V_BE_2)", "VZ": "V_Z", "VBE": "V_BE_2", "R1": "R_1", "R2": "R_2"}

# The amplifier feeds the base, and emitter current is the load's and the divider's together.
LOOP_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("opamp-series", 1): {**OPAMP, "ILmax": "I_L + V_REF/R_2"},
    ("opamp-series", 2): {**OPAMP, "ILmax": "I_L_MAX + V_REF/R_2"},
    ("opamp-loop", 1): {**OPAMP, "ro": "R_O", "A": "A"},
    ("opamp-loop", 2): {**OPAMP, "ro": "R_O/(h_FE + 1)", "A": "A"},
    ("feedback-output", 1): PAIR,
    # What crosses the pass transistor's collector is its share of the load's and the divider's current.
    ("feedback-output", 2): {
        **PAIR, **LINE, "Vo": "V_O", "ILmax": "(I_L_MAX + (V_Z + V_BE_2)/R_2)*h_FE_1/(h_FE_1 + 1)",
    },
    ("feedback-output", 3): PAIR,
}  # fmt: skip
