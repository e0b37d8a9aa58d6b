"""What the trade's names of slips are called in the families of heat, limits and pairs.

Read by `test_slips_reference.py`.
"""

from __future__ import annotations

from tests.problems.slip_names import LINE, LOAD, ONE_LINE, ONE_LOAD, ZENER, Differs

CHAIN = {"tJC": "R_thJC", "tCS": "R_thCS", "tSA": "R_thSA", "tJA": "R_thJA"}

# Two junctions below the zener; both gains in turn.
PAIR = {"VBE": "V_BE_1", "Vo": "V_Z - V_BE_1 - V_BE_2"}
BOTH = "(h_FE_1{end} + 1)*(h_FE_2{end} + 1) - 1"

FOLDED = {"VBE": "V_BE_2", "Rsc": "R_SENSE", "Ra": "R_A", "Rb": "R_B"}

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
    ("darlington", 1): {**PAIR, **ONE_LOAD, **ZENER, "hFE": "h_FE_2"},
    ("darlington", 2): {
        **PAIR, **LINE, **LOAD, **ZENER, "hFE": BOTH.format(end="_MIN"), "hFEtyp": BOTH.format(end="_MAX"),
    },
    ("darlington", 3): {
        **PAIR, **ONE_LINE, **ONE_LOAD, **ZENER, "hFE": BOTH.format(end=""), "R": "R", "VCEsat": "V_CE_SAT",
    },
    ("limit-foldback", 1): {**FOLDED, "Vo": "V_KNEE", "Vmax": "V_I", "Ilim": "I_SC"},
    ("limit-foldback", 2): {**FOLDED, "Vo": "V_O_MAX"},
    ("limit-constant", 1): {"VBE": "V_BE_2", "Ilim": "I_LIM", "Vo": "V_O_NOM", "Vmax": "V_I"},
    ("limit-constant", 2): {
        "VBE": "V_BE_2_MAX", "Ilim": "I_LIM_MAX", "Vo": "V_O_NOM", "Vmax": "V_I_MAX", "Vdo": "V_CE_1_MIN",
    },
}  # fmt: skip

HEAT_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("limit-foldback", 1, "C03"): Differs(
        "the divider lets a little more than a junction stand across the sense resistor",
        right_names={"VBE": "V_BE_2*(1 + R_A/R_B)"},
    ),
    **{
        ("darlington", 2, reference): Differs(
            "the reference takes the load current for the collector current; ours is exact",
            right="VALUE*(h_FE_2_MAX + 1)/h_FE_2_MAX",
        )
        for reference in ("E12", "E14")
    },
    **{
        ("heat-sink", level, "H08"): Differs(
            "the family asks for the power itself, which the reference's junction temperature rises with",
            wrong=f"T_A_MAX + VALUE*({chain})",
            right=f"T_A_MAX + VALUE*({chain})",
        )
        for level, chain in ((2, "R_thJC + R_thCS + R_thSA"), (3, "R_thJC_2 + R_thCS"))
    },
}
