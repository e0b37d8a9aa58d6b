"""What the trade's names of slips are called in the families of stages in a row (`test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE, LOAD, Differs

# What the reference holds the base at stands for the voltage of the follower's zener.
HELD = "(V_REF*(1 + R_1/R_2) + I_REF*R_1)"
BASE = {"VZ": HELD, "VBE": "V_BE"}

COMBINED_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("prestabilised", 1): {"dVin": "1", "R": "R_P", "rz": "r_z_P"},
    ("prestabilised", 2): {"VZ": "(V_O + V_BE)", "VBE": "V_BE"},
    ("reference-follower", 1): BASE,
    ("reference-follower", 2): BASE,
    # Beside the least cathode current R also brings what the divider takes.
    ("reference-follower", 3): {
        **LINE, **LOAD, **BASE, "hFE": "h_FE_MIN", "IZmin": "(I_K_MIN + V_REF/R_2 + I_REF)",
    },
    # What the follower's zener resistor feeds beside the zener is a base current; here it is the second stage's I_R.
    ("prestabilised", 3): {
        **LINE, "VZ": "V_Z_P", "IZmin": "I_ZK_P", "ILmax": "I_L", "hFE": "I_L/I_R - 1",
    },
}  # fmt: skip

COMBINED_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    ("prestabilised", 3, reference): Differs(
        "the load of the first stage is the second one, which draws I_R", names={"ILmax": "I_R"}
    )
    for reference in ("S01", "S02")
}
