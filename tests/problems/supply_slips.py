"""What the trade's names of slips are called in the families of the whole supply.

Read by `test_slips_reference.py`.
"""

from __future__ import annotations

from tests.problems.slip_names import LOAD, ZENER, Differs

WINDING = {"nd": "2", "VF": "V_F", "f": "f", "C": "C"}
# Seen from the reservoir: the winding at an end of the line, its ripple, and the mean that warms the regulator.
AT = "sqrt(2)*V_SEC_1*V_PRI_{end}/V_PRI_NOM - 2*V_F - I_L_MAX/(4*f*C)"
RIPPLE = "I_L_MAX/(2*f*C)"
# By charge balance the mean lies below the crest by the winding's share, and half the ripple below that the trough.
SHARE = "sqrt(2)*({winding})*cbrt(3*pi*R_W*I_L_MAX/(2*sqrt(2)*({winding})))^2/2"


def linear(winding: str) -> str:
    """A trough by charge balance as it would be with the winding's resistance left out."""
    return f"VALUE - {RIPPLE}/2 + {SHARE.format(winding=winding)}"


SUPPLY_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("mains-to-rail", 1): {**WINDING, "Vs": "V_SEC", "IL": "I_L", "Vpk": "V_PK", "Vr": "I_L/(2*f*C)"},
    ("mains-to-rail", 2): {
        **WINDING, **LOAD, **ZENER, "IL": "I_L_MAX", "Vs": "V_PRI_NOM/N_T",
        "tl": "1 - V_PRI_MIN/V_PRI_NOM", "Vr": RIPPLE, "Vmin": "V_TROUGH_MIN", "hFE": "h_FE", "VBE": "V_BE",
        "Vo": "V_Z - V_BE", "Vmax": "V_Z - V_BE + P_Q_MAX*(h_FE + 1)/(h_FE*I_L_MAX)", "P": "P_Q_MAX", "Ta": "T_A",
        "tJC": "R_thJC", "tCS": "R_thCS", "tSA": "R_thSA",
    },
    ("mains-to-rail", 3): {
        **LOAD, "Vo": "V_O", "Vmin": AT.format(end="MIN"), "Vmax": AT.format(end="MAX"), "P": "P_D_MAX",
        "Ta": "T_A_MAX", "Tj": "T_JM", "tJC": "R_thJC", "tCS": "R_thCS",
    },
    **{
        ("design-brief", level): {
            **WINDING, "Vs": "V_SEC_1", "Vr": RIPPLE, "tl": "V_PRI_MAX/V_PRI_NOM - 1", "reg": "0", "P": "P_Q_MAX",
            "Ta": air, "Tj": "T_JM", "tJC": case, "tCS": "R_thCS",
        }
        for level, case, air in ((2, "R_thJC", "T_A_MAX"), (3, "(T_JM - T_C_NOM)/P_QM", "T_A"))
    },
}  # fmt: skip
SUPPLY_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("mains-to-rail", 1, "U05"): Differs(
        "the family asks for the trough, which lies below the crest by the reference's ripple",
        wrong="V_PK - VALUE", right="V_PK - VALUE",
    ),
    ("mains-to-rail", 1, "U08"): Differs(
        "the family asks for what is left over the output, which is the reference's input less the output",
        wrong="VALUE + V_O", right="VALUE + V_O",
    ),
    ("mains-to-rail", 2, "U16"): Differs(
        "the reference leaves the winding's resistance out; by charge balance the trough is half a ripple below a mean",
        wrong=linear("V_PRI_NOM/N_T"), right=linear("V_PRI_MIN/N_T"),
    ),
    ("mains-to-rail", 2, "E12"): Differs(
        "the reference takes the load current for the collector current; ours is exact",
        right="VALUE*(h_FE + 1)/h_FE",
    ),
}  # fmt: skip
