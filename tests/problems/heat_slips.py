"""What the trade's names of slips are called in the families of heat and limits (see `test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE, LOAD, Differs

CHAIN = {"tJC": "R_thJC", "tCS": "R_thCS", "tSA": "R_thSA", "tJA": "R_thJA"}

HEAT_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("heat-sink", 1): {**CHAIN, "P": "P_D", "Ta": "T_A"},
    ("heat-sink", 2): {**CHAIN, **LINE, **LOAD, "Ta": "T_A_MAX", "Vo": "V_O", "Vin": "V_I_MAX", "IL": "I_L_MAX"},
    ("heat-sink", 3): {
        **LINE, **LOAD, "P": "P_D_MAX", "Ta": "T_A_MAX", "Tj": "T_JM", "tJC": "R_thJC_2", "tCS": "R_thCS", "Vo": "V_O",
        "Vin": "V_I_MAX", "IL": "I_L_MAX", "tSA": "0",
    },
    ("pass-heat", 1): {
        **CHAIN, **LINE, "ILmax": "I_L", "IL": "I_L", "Ta": "T_A", "Vo": "V_O", "Vin": "V_I_MAX",
    },
    ("limit-constant", 1): {"VBE": "V_BE_2", "Ilim": "I_LIM", "Vo": "V_O_NOM", "Vmax": "V_I"},
    ("limit-constant", 2): {
        "VBE": "V_BE_2_MAX", "Ilim": "I_LIM_MAX", "Vo": "V_O_NOM", "Vmax": "V_I_MAX", "Vdo": "V_CE_1_MIN",
    },
}  # fmt: skip

HEAT_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("heat-sink", level, "H08"): Differs(
        "the family asks for the power itself, which the reference's junction temperature rises with",
        wrong=f"T_A_MAX + VALUE*({chain})",
        right=f"T_A_MAX + VALUE*({chain})",
    )
    for level, chain in ((2, "R_thJC + R_thCS + R_thSA"), (3, "R_thJC_2 + R_thCS"))
}
