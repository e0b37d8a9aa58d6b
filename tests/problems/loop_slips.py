"""What the trade's names of slips are called in the families of regulators with a loop (`test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE, Differs

OPAMP = {"Vref": "V_REF", "R1": "R_1", "R2": "R_2", "VBE": "V_BE", "Vo": "V_O", "hFE": "h_FE"}

PAIR = {"Vref": "(V_Z + V_BE_2)", "VZ": "V_Z", "VBE": "V_BE_2", "R1": "R_1", "R2": "R_2"}

# The amplifier feeds the base, and emitter current is the load's and the divider's together.
LOOP_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("opamp-series", 1): {**OPAMP, "ILmax": "I_L + V_REF/R_2"},
    ("opamp-series", 2): {**OPAMP, "ILmax": "I_L_MAX + V_REF/R_2"},
    # Of a pair both junctions count, and both gains in turn; between them and the output lies the sense resistor.
    ("full-regulator", 1): {"Vref": "V_Z", "R1": "R_1", "R2": "R_2", "VBE": "(V_BE_1 + V_BE_2)"},
    ("full-regulator", 2): {
        "ILmax": "(I_L_MAX + ((V_ZT - r_z*I_ZT)*R + V_I_MAX*r_z)/(R + r_z)/R_2)",
        "hFE": "((h_FE_1 + 1)*(h_FE_2 + 1) - 1)",
    },
    ("full-regulator", 3): {
        "Vo": "V_Z*(1 + R_1/R_2)", "Vdo": "(V_DROP + V_BE_1 + V_BE_2)", "VBE": "V_BE_3_MAX", "Vmax": "V_I_MAX",
        "Ilim": "V_BE_3_MAX/R_SENSE",
    },
    ("opamp-loop", 1): {**OPAMP, "ro": "R_O", "A": "A"},
    ("opamp-loop", 2): {**OPAMP, "ro": "R_O/(h_FE + 1)", "A": "A"},
    ("feedback-output", 1): PAIR,
    # What crosses the pass transistor's collector is its share of the load's and the divider's current.
    ("feedback-output", 2): {
        **PAIR, **LINE, "Vo": "V_O", "ILmax": "(I_L_MAX + (V_Z + V_BE_2)/R_2)*h_FE_1/(h_FE_1 + 1)",
    },
    ("feedback-output", 3): PAIR,
}  # fmt: skip

# Family, level, reference -> how the family differs.
LOOP_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("full-regulator", 3, "C04"): Differs(
        "the family asks for the lowest line at full load, where the sense resistor has somewhat less than a junction",
        names={"VBE": "I_L_MAX*R_SENSE"},
    ),
}
