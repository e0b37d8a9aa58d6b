"""What the trade's names of slips are called in the families of shunt regulators (see `test_slips_reference.py`)."""

from __future__ import annotations

from tests.problems.slip_names import LINE, LOAD, ONE_LINE, ONE_LOAD, ZENER, Differs

R = {"R": "R"}
AT_THE_KNEE = {"VZ": "V_Z0 + r_z*I_ZK", "IZmin": "I_ZK"}  # a zener that leans, at the edge of regulation

SHUNT_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("zener-range", 1): {**ONE_LINE, **ZENER},
    ("zener-range", 2): {**LINE, **ZENER},
    ("zener-ratings", 1): {**ONE_LINE, **LOAD, **ZENER, **R},
    ("zener-ratings", 2): {**LINE, **LOAD, **ZENER, **R, "Vnom": "V_I_NOM", "Vin": "V_I_NOM", "IL": "I_L_MAX"},
    ("zener-ratings", 3): {**LINE, **LOAD, **ZENER, "Vnom": "V_I_NOM"},
    # S_V is the change of the output for one volt of the line.
    ("zener-ripple", 1): {**R, "rz": "r_z", "dVin": "1"},
    ("zener-ripple", 2): {**R, "rz": "r_z", "dVin": "1"},
    ("zener-ripple", 3): {**LINE, **ONE_LOAD, **AT_THE_KNEE},
    # The starving corner: high zener, large resistor.
    ("zener-corner-table", 2): {**LINE, **LOAD, "VZ": "V_Z_MAX", "R": "R_NOM", "tR": "tol_R"},
    ("shunt-inverse", 2): {**ONE_LINE, **ONE_LOAD, **R, "VZ": "V_Z", "IZmin": "I_Z"},
    ("shunt-inverse", 3): {**R, "Vin": "V_I_1", "VZ": "V_O_1", "IL": "I_L_1", "rz": "r_z", "dIL": "1"},
    ("zener-lab", 3): {**LINE, **ONE_LOAD, **AT_THE_KNEE},
    # What R carries beside the load is the zener's current and the collector's.
    ("boosted-shunt", 3): {**LINE, **LOAD, "VZ": "V_Z + V_BE", "IZmin": "V_BE/R_BE + I_C_MIN/h_FE + I_C_MIN"},
}

LOAD_FOR_RESISTOR = (
    "the family asks for the load current at a given R: with that current the reference's formula gives back R"
)

SHUNT_DIFFERENCES: dict[tuple[str, int, str], Differs] = {
    **{
        ("zener-range", level, "S01"): Differs(LOAD_FOR_RESISTOR, names={"ILmax": "VALUE"}, wrong="R", right="R")
        for level in (1, 2)
    },
    ("zener-ratings", 3, "S13"): Differs(
        "the family asks for the least R that bears a short: with it the reference's power is the one allowed",
        names={"R": "VALUE"},
        wrong="P_RM",
        right="P_RM",
    ),
    ("zener-ripple", 2, "S17"): Differs(
        "the load stands beside the slope, and the two together are the small arm",
        right_names={"rz": "r_z*R_L/(r_z + R_L)"},
    ),
    ("zener-corner-table", 2, "S28"): Differs(
        "resistors range too, and the ends of V_Z stand in the statement to three figures: the tolerance is what they "
        "come to",
        names={"VZ": "V_Z", "R": "R_MAX"},
        wrong_names={"tZ": "1 - V_Z_MIN/V_Z"},
        right_names={"tZ": "V_Z_MAX/V_Z - 1"},
    ),
}
