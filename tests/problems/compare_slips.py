"""What the trade's names of slips are called in the comparison of three regulators (`test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE, LOAD, Differs

# The shunt's zener stands across the output; the follower's stands one junction above it.
SHUNT = {"VZ": "V_O", "IZmin": "I_ZK", "rz": "r_z", "dIL": "1", "hFE": "h_FE", "VBE": "V_BE"}
BASE = {"VZ": "V_O + V_BE"}
LOOP = {"ro": "R_O/(h_FE + 1)", "A": "A", "R1": "R_1", "R2": "R_2"}

COMPARE_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("compare-regulators", 1): {
        **SHUNT, **LOAD, "Vmin": "V_I", "Vmax": "V_I", "R": "(V_I - V_O)/(I_L_MAX + I_ZK)",
    },
    ("compare-regulators", 2): {
        **SHUNT, **LINE, **LOAD, **LOOP, "Vin": "V_I_MAX", "IL": "I_L_MAX", "Vo": "V_O", "R": "R_FEED_1", "VT": "0",
    },
    ("compare-regulators", 3): {
        **SHUNT, **LINE, **LOAD, **LOOP, "Vnom": "V_I_MIN", "IL": "I_L_MAX", "R": "R_FEED_1_MAX", "VT": "0",
    },
}  # fmt: skip

ABOVE = "V_I - V_O - V_BE"

COMPARE_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    **{
        ("compare-regulators", 1, reference): Differs(
            "the family asks for the current through the resistor: its voltage over the reference's resistance",
            names=BASE,
            wrong=f"({ABOVE})/VALUE",
            right=f"({ABOVE})/VALUE",
        )
        for reference in ("E04", "E09")
    },
    ("compare-regulators", 1, "E11"): Differs(
        "the family asks for the zener's power: the reference's current times the voltage of the follower's zener",
        names={
            **BASE, "Vin": "V_I", "IL": "I_L_MIN", "R": "(V_I - V_O - V_BE)/I_R_2",
        },
        wrong="VALUE/(V_O + V_BE)",
        right="VALUE/(V_O + V_BE)",
    ),
    ("compare-regulators", 1, "E01"): Differs(
        "the family gives the output and asks for the zener's power: with the zener's voltage that this power comes to "
        "at its current, the reference's formula gives back the output",
        names={"VZ": "VALUE/(I_R_2 - I_L_MIN/(h_FE + 1))"},
        wrong="V_O",
        right="V_O",
    ),
    **{
        ("compare-regulators", 3, reference): Differs(
            "the follower's zener stands one junction above the output", names=BASE
        )
        for reference in ("E04", "E10")
    },
    ("compare-regulators", 2, "E12"): Differs(
        "the family asks for all that the follower wastes: what its zener draws comes on top of the transistor's, and "
        "the base current is counted in the load's; the wrong value is the reference's",
        right="VALUE - V_I_MAX*((V_I_MAX - V_O - V_BE)/R_FEED_2 - I_L_MAX/(h_FE + 1))",
    ),
    **{
        ("compare-regulators", level, "E17"): Differs(
            "the family takes the junction's voltage as fixed, and counts the resistor beside the slope; the wrong "
            "value is the reference's",
            right_names={"rz": f"{feed}*r_z/({feed} + r_z)"},
        )
        for level, feed in ((2, "R_FEED_2"), (3, "R_FEED_2_MAX"))
    },
}
