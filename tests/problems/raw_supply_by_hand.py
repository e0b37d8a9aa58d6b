"""Problems of the raw supply worked by hand, for `test_by_hand.py`: arithmetic alone, a line for each line on paper.

Sources: crest of a sine wave by the definition of its r.m.s. value; Kirchhoff's voltage law round the charging loop;
Q = C V and Q = I t for the ripple; E = C V^2/2. The factor 1.8 of the winding's current stands in the statement.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt

from tests.problems.sheet_by_hand import Sheet


def crest_of_a_tapped_winding() -> Sheet:
    """supply-peak:2:1: 230 V, 15 to 1 over the whole secondary, diodes of 0.85 V."""
    half = 230 / 15 / 2  # 15.33 V across the whole, 7.667 V across a half
    crest = half * sqrt(2)  # 10.84 V
    held = crest - 0.85  # one diode in the way: 9.992 V
    return Sheet(
        {"V_PRI": 230, "N_T": 15, "V_F": 0.85},
        # The other half pulls its end to 10.84 V below the tap while the reservoir holds 9.992 V above it: 20.83 V.
        {"V_SEC": half, "V_SPK": crest, "V_PK": held, "PIV": held + crest},
    )


def ripple_into_a_resistance() -> Sheet:
    """supply-ripple:2:1: 15 V, bridge with diodes of 0.7 V, 60 Hz, 470 uF, 120 ohm."""
    crest = 15 * sqrt(2) - 2 * 0.7  # 21.21 V less two drops: 19.81 V
    # Half of the ripple I/(2 f C) = 17.73 ohm times I lies above the mean, so the mean stands behind 8.865 ohm.
    per_ampere = 1 / (120 * 470e-6)
    mean = crest * 120 / (120 + per_ampere / 2)  # a divider: 18.45 V
    current = mean / 120  # 153.8 mA
    ripple = current * per_ampere  # 8.33 ms from 470 uF: 2.726 V
    return Sheet(
        {"V_SEC": 15, "V_F": 0.7, "f": 60, "C": 470e-6, "R_L": 120},
        {
            "V_PK": crest,
            "V_DC": mean,
            "I_L": current,
            "V_RIP": ripple,
            "RIPPLE_FACTOR": ripple / sqrt(12) / mean,  # a sawtooth's r.m.s. value is its height over 3.464: 4.27 %
        },
    )


def line_and_load_together() -> Sheet:
    """supply-line-change:2:1: 108 V to 129.6 V, 10.5 to 1, one diode of 0.9 V, 50 Hz, 1000 uF, 20 mA to 120 mA."""
    low = 108 / 10.5 * sqrt(2) - 0.9  # 14.55 V less one drop: 13.65 V
    high = 129.6 / 10.5 * sqrt(2) - 0.9  # 17.46 V less one drop: 16.56 V
    ripple = 0.120 * 0.020 / 1e-3  # 2.4 mC in 20 ms from 1000 uF: 2.4 V
    return Sheet(
        {
            "V_PRI_MIN": 108, "V_PRI_MAX": 129.6, "N_T": 10.5, "V_F": 0.9, "f": 50, "C": 1e-3, "I_L_MIN": 0.02,
            "I_L_MAX": 0.12,
        },
        {"V_TROUGH_MIN": low - ripple, "V_PK_MAX": high, "V_DC_MIN": low - 1.2},
    )  # fmt: skip


def reservoir_for_line_and_load() -> Sheet:
    """supply-reservoir:2:1: halves of 6.75 V to 9 V, diodes of 1 V, up to 150 mA, 60 Hz, 8 V needed, 6.8 mF at most."""
    room = 6.75 * sqrt(2) - 1 - 8  # lowest line: 9.546 V less a drop is 8.546 V, 0.546 V above the need
    least = 0.15 / 120 / room  # 1/120 s at 150 mA is 1.25 mC; over 0.546 V: 2290 uF
    assert 0.0033 * 0.8 >= least > 0.0022 * 0.8  # 2640 uF is enough, 1760 uF is not: from 3300 uF
    assert 0.0047 * 1.2 <= 0.0068 < 0.0068 * 1.2  # 5.64 mF may be charged, 8.16 mF may not: to 4700 uF
    crest = 9 * sqrt(2)  # highest line without load: 12.73 V
    assert 1.25 * crest <= 16  # 15.91 V of rating wanted: 16 V and up
    return Sheet(
        {
            "V_SEC_MIN": 6.75, "V_SEC_MAX": 9, "V_F": 1, "I_L_MIN": 0, "I_L_MAX": 0.15, "f": 60, "V_TROUGH_MIN": 8,
            "tol_C": 0.2, "C_MAX": 0.0068,
        },
        {
            "C_MIN": least,
            "C": 0.0033,
            "V_SPK_MAX": crest,
            "V_CM": 16,
            "W_C_MAX": 0.0033 * (crest - 1) ** 2 / 2,  # 11.73 V across 3300 uF: 227 mJ
        },
        {"C": (0.0033, 0.0047), "V_CM": (16, 25, 35, 50, 63)},
    )  # fmt: skip


def winding_for_the_lowest_line() -> Sheet:
    """supply-transformer:3:1: 216 V to 264 V about 240 V, 6 V out and 2 V over it, 1 V, 400 mA, 60 Hz, 4.7 mF."""
    ripple = 0.4 / 120 / 4.7e-3  # 3.333 mC from 4.7 mF: 709 mV
    crest = 6 + 2 + ripple + 1  # 9.709 V
    half = crest / sqrt(2)  # 6.866 V at the lowest line
    ratio = 216 / (2 * half)  # 15.73 over both halves
    rated = half * 240 / 216  # as much more as the line is: 7.628 V
    assert 7.5 < rated <= 8
    return Sheet(
        {
            "V_PRI_NOM": 240, "V_PRI_MIN": 216, "V_PRI_MAX": 264, "V_O": 6, "V_DROP_MIN": 2, "V_F": 1,
            "I_L_MIN": 0, "I_L_MAX": 0.4, "f": 60, "C": 4.7e-3,
        },
        {
            "V_SEC_MIN": half,
            "N_T_MAX": ratio,
            "V_SEC_NOM": rated,
            "V_SEC_1": 8,
            "VA_MAX": 2 * 8 * 1.8 * 0.4 / sqrt(2),  # two halves of 8 V, 509 mA each: 8.15 VA
            "V_PK_MAX": 8 * 1.1 * sqrt(2) - 1,  # a tenth up: 12.45 V less a drop: 11.45 V
        },
        {"V_SEC_1": (8, 9, 10, 11)},
    )  # fmt: skip


def winding_resistance_counted() -> Sheet:
    """supply-headroom:2:1: 13 V behind 1.2 ohm, bridge with diodes of 1.1 V, 60 Hz, 3.3 mF, 350 mA, 9 V regulator."""
    crest = 13 * sqrt(2)  # 18.38 V
    # Cosine pulses of a half angle phi, twice a cycle, through 1.2 ohm: phi^3 = 3 pi R I/(2 V) = 0.1077.
    cube = 3 * pi * 1.2 * 0.35 / (2 * crest)
    half_angle = cube ** (1 / 3)  # 0.4757
    assert 0.47**3 < cube < 0.48**3
    mean = crest * (1 - half_angle**2 / 2) - 2.2  # 11.32 % of the crest and two drops lost: 14.10 V
    ripple = 0.35 / 120 / 3.3e-3  # 2.917 mC from 3.3 mF: 884 mV
    return Sheet(
        {"V_SEC": 13, "R_W": 1.2, "V_F": 1.1, "f": 60, "C": 3.3e-3, "I_L": 0.35, "V_O": 9},
        {
            "V_SPK": crest,
            "V_DC": mean,
            "V_RIP": ripple,
            "V_TROUGH": mean - ripple / 2,  # 13.66 V
            "V_DROP": mean - ripple / 2 - 9,  # 4.66 V
        },
    )


def price_of_each_rectifier() -> Sheet:
    """compare-rectifiers:2:1: 8.1 V to 9.9 V, diodes of 0.9 V, 60 Hz, 1.5 mF, 20 mA to 120 mA."""
    low, high = 8.1 * sqrt(2), 9.9 * sqrt(2)  # 11.46 V and 14.00 V
    whole = 0.12 / 60 / 1.5e-3  # one diode: 2 mC in a whole cycle from 1.5 mF: 1.333 V
    return Sheet(
        {"V_SEC_MIN": 8.1, "V_SEC_MAX": 9.9, "V_F": 0.9, "f": 60, "C": 1.5e-3, "I_L_MIN": 0.02, "I_L_MAX": 0.12},
        {
            "V_TROUGH_1_MIN": low - 0.9 - whole,  # 9.222 V
            "V_TROUGH_3_MIN": low - 1.8 - whole / 2,  # a drop more, half the ripple: 8.988 V
            "PIV_1_MAX": 2 * high - 0.9,  # held at 13.10 V, pulled to 14.00 V the other way: 27.10 V
            "PIV_3_MAX": high - 0.9,  # tied across the winding by its neighbour: 13.10 V
            "VA_2_MAX": 2 * 9.9 * 1.8 * 0.12 / sqrt(2),  # two halves of 9.9 V, 153 mA each: 3.02 VA
            "VA_3_MAX": 9.9 * 1.8 * 0.12,  # 216 mA at 9.9 V: 2.14 VA
        },
    )


def which_rectifier_serves() -> Sheet:
    """compare-rectifiers:3:1: 8.8 V to 11 V behind 0.5 ohm, 0.8 V, 60 Hz, 2.2 mF, up to 600 mA; 10 V and 24 V."""
    low, high = 8.8 * sqrt(2), 11 * sqrt(2)  # 12.45 V and 15.56 V
    once = (3 * pi * 0.5 * 0.6 / low) ** (1 / 3)  # one pulse a cycle: 0.2272, of which the cube root is 0.6102
    twice = (3 * pi * 0.5 * 0.6 / (2 * low)) ** (1 / 3)  # two, half the charge in each: 0.4843
    assert 0.61**3 < 3 * pi * 0.3 / low < 0.611**3
    ripple = 0.6 / 60 / 2.2e-3  # 10 mC from 2.2 mF: 4.545 V, and half of it with two pulses
    one = low * (1 - once**2 / 2) - 0.8 - ripple / 2  # 18.6 % of the crest and a drop lost: 9.33 V; half below: 7.06 V
    tapped = low * (1 - twice**2 / 2) - 0.8 - ripple / 4  # 10.19 V, 9.05 V
    bridge = tapped - 0.8  # the same with a drop more: 8.25 V
    assert max(one, tapped, bridge) < 10  # none of the three feeds the regulator
    assert 2 * high - 0.8 > 24 > high - 0.8  # 30.3 V across the diodes of 1 and 2, 14.76 V across a bridge diode
    return Sheet(
        {
            "V_SEC_MIN": 8.8, "V_SEC_MAX": 11, "R_W": 0.5, "V_F": 0.8, "PIV_MAX": 24, "f": 60, "C": 2.2e-3,
            "I_L_MIN": 0.03, "I_L_MAX": 0.6, "V_TROUGH_MIN": 10,
        },
        {
            "V_TROUGH_1_MIN": one,
            "V_TROUGH_2_MIN": tapped,
            "V_TROUGH_3_MIN": bridge,
            "PIV_2_MAX": 2 * high - 0.8,
            "PIV_3_MAX": high - 0.8,
        },
        state="none of the three serves",
    )  # fmt: skip


def regulation_from_two_loaded_readings() -> Sheet:
    """regulation-figures:2:1: 25.3 V at 0.2 A, 25 V at 0.5 A, 1.2 A at full load."""
    r_s = (25.3 - 25) / (0.5 - 0.2)  # 300 mV for 300 mA: 1 ohm
    v_oc = 25.3 + 0.2 * r_s  # 200 mV back: 25.5 V
    v_full = v_oc - 1.2 * r_s  # 1.2 V down: 24.3 V
    return Sheet(
        {"V_I_1": 25.3, "I_I_1": 0.2, "V_I_2": 25, "I_I_2": 0.5, "I_I": 1.2},
        {"R_S": r_s, "V_OC": v_oc, "V_I": v_full, "REG_LOAD": (v_oc - v_full) / v_full},  # 1.2 V over 24.3 V: 4.94 %
    )


RAW_SUPPLY: dict[str, Callable[[], Sheet]] = {
    "supply-peak:2:1": crest_of_a_tapped_winding,
    "supply-ripple:2:1": ripple_into_a_resistance,
    "supply-line-change:2:1": line_and_load_together,
    "supply-reservoir:2:1": reservoir_for_line_and_load,
    "supply-headroom:2:1": winding_resistance_counted,
    "compare-rectifiers:2:1": price_of_each_rectifier,
    "compare-rectifiers:3:1": which_rectifier_serves,
    "supply-transformer:3:1": winding_for_the_lowest_line,
    "regulation-figures:2:1": regulation_from_two_loaded_readings,
}
