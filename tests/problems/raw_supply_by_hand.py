"""Problems of the raw supply worked by hand, for `test_by_hand.py`: arithmetic alone, a line for each line on paper.

Sources: crest of a sine wave by the definition of its r.m.s. value; Kirchhoff's voltage law round the charging loop;
Q = C V and Q = I t for the ripple; E = C V^2/2. The factor 1.8 of the winding's current stands in the statement.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt

from tests.problems.sheet_by_hand import Sheet

E6_SHELF = (0.001, 0.0015, 0.0022, 0.0033, 0.0047, 0.0068, 0.01, 0.015, 0.022)


def crest_of_a_tapped_winding() -> Sheet:
    """supply-peak:2:1: 240 V, 19.5 to 1 over the whole secondary, diodes of 0.75 V."""
    half = 240 / 19.5 / 2  # 12.31 V across the whole, 6.154 V across a half
    crest = half * sqrt(2)  # 8.703 V
    held = crest - 0.75  # one diode in the way: 7.953 V
    return Sheet(
        {"V_PRI": 240, "N_T": 19.5, "V_F": 0.75},
        # The other half pulls its end to 8.703 V below the tap while the reservoir holds 7.953 V above it: 16.66 V.
        {"V_SEC": half, "V_SPK": crest, "V_PK": held, "PIV": held + crest},
    )


def ripple_into_a_resistance() -> Sheet:
    """supply-ripple:2:1: 9 V, bridge with diodes of 0.8 V, 50 Hz, 1000 uF, 82 ohm."""
    crest = 9 * sqrt(2) - 2 * 0.8  # 12.73 V less two drops: 11.13 V
    # Half of the ripple I/(2 f C) = 10 ohm times I lies above the mean, so the mean stands behind 5 ohm: a divider.
    mean = crest * 82 / (82 + 5)  # 10.49 V
    current = mean / 82  # 127.9 mA
    ripple = current * 10  # 10 ms from 1000 uF: 1.279 V
    return Sheet(
        {"V_SEC": 9, "V_F": 0.8, "f": 50, "C": 1e-3, "R_L": 82},
        {
            "V_PK": crest,
            "V_DC": mean,
            "I_L": current,
            "V_RIP": ripple,
            "RIPPLE_FACTOR": ripple / sqrt(12) / mean,  # a sawtooth's r.m.s. value is its height over 3.464: 3.52 %
        },
    )


def line_and_load_together() -> Sheet:
    """supply-line-change:2:1: 207 V to 252.5 V, 21.5 to 1, one diode of 0.9 V, 50 Hz, 1000 uF, 10 mA to 150 mA."""
    low = 207 / 21.5 * sqrt(2) - 0.9  # 13.62 V less one drop: 12.72 V
    high = 252.5 / 21.5 * sqrt(2) - 0.9  # 16.61 V less one drop: 15.71 V
    ripple = 0.150 * 0.020 / 1e-3  # 3 mC in 20 ms from 1000 uF: 3 V
    return Sheet(
        {
            "V_PRI_MIN": 207, "V_PRI_MAX": 252.5, "N_T": 21.5, "V_F": 0.9, "f": 50, "C": 1e-3, "I_L_MIN": 0.01,
            "I_L_MAX": 0.15,
        },
        {"V_TROUGH_MIN": low - ripple, "V_PK_MAX": high, "V_DC_MIN": low - 1.5},
    )  # fmt: skip


def reservoir_for_line_and_load() -> Sheet:
    """supply-reservoir:2:1: halves of 9 V to 13 V, diodes of 0.8 V, up to 200 mA, 60 Hz, 10.5 V needed."""
    room = 9 * sqrt(2) - 0.8 - 10.5  # lowest line: 12.73 V less a drop is 11.93 V, 1.428 V above the need
    least = 0.2 / 120 / room  # 1/120 s at 200 mA is 1.667 mC; over 1.428 V: 1167 uF
    assert 0.0015 * 0.8 >= least > 0.001 * 0.8  # 1200 uF is enough, 800 uF is not: from 1500 uF
    assert 0.022 * 1.2 <= 0.033 < 0.033 * 1.2  # 26.4 mF may be charged, 39.6 mF may not: to 22 mF
    crest = 13 * sqrt(2)  # highest line without load: 18.38 V
    assert 16 < 1.25 * crest <= 25  # 22.98 V of rating wanted: 25 V and up
    return Sheet(
        {
            "V_SEC_MIN": 9, "V_SEC_MAX": 13, "V_F": 0.8, "I_L_MIN": 0, "I_L_MAX": 0.2, "f": 60, "V_TROUGH_MIN": 10.5,
            "tol_C": 0.2, "C_MAX": 0.033,
        },
        {
            "C_MIN": least,
            "C": 0.0015,
            "V_SPK_MAX": crest,
            "V_CM": 25,
            "W_C_MAX": 0.0015 * (crest - 0.8) ** 2 / 2,  # 17.58 V across 1500 uF: 232 mJ
        },
        {"C": E6_SHELF[1:], "V_CM": (25, 35, 50, 63)},
    )  # fmt: skip


def winding_for_the_lowest_line() -> Sheet:
    """supply-transformer:3:1: 195.5 V to 253 V about 230 V, 8 V out and 2 V over it, 0.9 V, 400 mA, 60 Hz, 2.2 mF."""
    ripple = 0.4 / 120 / 2.2e-3  # 3.333 mC from 2.2 mF: 1.515 V
    crest = 8 + 2 + ripple + 0.9  # 12.42 V
    half = crest / sqrt(2)  # 8.779 V at the lowest line
    ratio = 195.5 / (2 * half)  # 11.13 over both halves
    rated = half * 230 / 195.5  # as much more as the line is: 10.33 V
    assert 10 < rated <= 11
    return Sheet(
        {
            "V_PRI_NOM": 230, "V_PRI_MIN": 195.5, "V_PRI_MAX": 253, "V_O": 8, "V_DROP_MIN": 2, "V_F": 0.9,
            "I_L_MIN": 0.01, "I_L_MAX": 0.4, "f": 60, "C": 2.2e-3,
        },
        {
            "V_SEC_MIN": half,
            "N_T_MAX": ratio,
            "V_SEC_NOM": rated,
            "V_SEC_1": 11,
            "VA_MAX": 2 * 11 * 1.8 * 0.4 / sqrt(2),  # two halves of 11 V, 509 mA each: 11.2 VA
            "V_PK_MAX": 11 * 1.1 * sqrt(2) - 0.9,  # a tenth up: 17.11 V less a drop: 16.21 V
        },
        {"V_SEC_1": (11,)},
    )  # fmt: skip


def winding_resistance_counted() -> Sheet:
    """supply-headroom:2:1: 11 V behind 0.5 ohm, bridge with diodes of 0.8 V, 50 Hz, 6.8 mF, 500 mA, 8 V regulator."""
    crest = 11 * sqrt(2)  # 15.56 V
    # Cosine pulses of a half angle phi, twice a cycle, through 0.5 ohm: phi^3 = 3 pi R I/(2 V) = 0.07573.
    cube = 3 * pi * 0.5 * 0.5 / (2 * crest)
    half_angle = cube ** (1 / 3)  # 0.4231
    assert 0.42**3 < cube < 0.43**3
    mean = crest * (1 - half_angle**2 / 2) - 1.6  # 8.95 % of the crest and two drops lost: 12.56 V
    ripple = 0.5 * 0.010 / 6.8e-3  # 5 mC from 6.8 mF: 735 mV
    return Sheet(
        {"V_SEC": 11, "R_W": 0.5, "V_F": 0.8, "f": 50, "C": 6.8e-3, "I_L": 0.5, "V_O": 8},
        {
            "V_SPK": crest,
            "V_DC": mean,
            "V_RIP": ripple,
            "V_TROUGH": mean - ripple / 2,  # 12.20 V
            "V_DROP": mean - ripple / 2 - 8,  # 4.20 V
        },
    )


def price_of_each_rectifier() -> Sheet:
    """compare-rectifiers:2:1: 7.2 V to 8.8 V, diodes of 0.8 V, 50 Hz, 3.3 mF, nothing to 250 mA."""
    low, high = 7.2 * sqrt(2), 8.8 * sqrt(2)  # 10.18 V and 12.45 V
    whole = 0.25 * 0.020 / 3.3e-3  # one diode: 5 mC in a whole cycle from 3.3 mF: 1.515 V
    return Sheet(
        {"V_SEC_MIN": 7.2, "V_SEC_MAX": 8.8, "V_F": 0.8, "f": 50, "C": 3.3e-3, "I_L_MIN": 0, "I_L_MAX": 0.25},
        {
            "V_TROUGH_1_MIN": low - 0.8 - whole,  # 7.867 V
            "V_TROUGH_3_MIN": low - 1.6 - whole / 2,  # a drop more, half the ripple: 7.825 V
            "PIV_1_MAX": 2 * high - 0.8,  # held at 11.65 V, pulled to 12.45 V the other way: 24.09 V
            "PIV_3_MAX": high - 0.8,  # tied across the winding by its neighbour: 11.65 V
            "VA_2_MAX": 2 * 8.8 * 1.8 * 0.25 / sqrt(2),  # two halves of 8.8 V, 318 mA each: 5.60 VA
            "VA_3_MAX": 8.8 * 1.8 * 0.25,  # 450 mA at 8.8 V: 3.96 VA
        },
    )


def which_rectifier_serves() -> Sheet:
    """compare-rectifiers:3:1: 8.5 V to 11 V behind 0.15 ohm, 0.8 V, 50 Hz, 10 mF, up to 600 mA; 8 V and 16 V."""
    low, high = 8.5 * sqrt(2), 11 * sqrt(2)  # 12.02 V and 15.56 V
    once = (3 * pi * 0.15 * 0.6 / low) ** (1 / 3)  # one pulse a cycle: 0.07056, of which the cube root is 0.4132
    twice = (3 * pi * 0.15 * 0.6 / (2 * low)) ** (1 / 3)  # two, half the charge in each: 0.3280
    assert 0.413**3 < 3 * pi * 0.09 / low < 0.414**3
    ripple = 0.6 * 0.020 / 0.01  # 12 mC from 10 mF: 1.2 V, and 0.6 V with two pulses
    one = low * (1 - once**2 / 2) - 0.8 - ripple / 2  # 8.54 % of the crest and a drop lost: 10.19 V; half below: 9.59 V
    tapped = low * (1 - twice**2 / 2) - 0.8 - ripple / 4  # 10.57 V, 10.27 V
    bridge = tapped - 0.8  # the same with a drop more: 9.47 V
    assert min(one, tapped, bridge) > 8  # all three feed the regulator
    assert 2 * high - 0.8 > 16 > high - 0.8  # 30.3 V across the diodes of 1 and 2, 14.76 V across a bridge diode
    return Sheet(
        {
            "V_SEC_MIN": 8.5, "V_SEC_MAX": 11, "R_W": 0.15, "V_F": 0.8, "PIV_MAX": 16, "f": 50, "C": 0.01,
            "I_L_MIN": 0.05, "I_L_MAX": 0.6, "V_TROUGH_MIN": 8,
        },
        {
            "V_TROUGH_1_MIN": one,
            "V_TROUGH_2_MIN": tapped,
            "V_TROUGH_3_MIN": bridge,
            "PIV_2_MAX": 2 * high - 0.8,
            "PIV_3_MAX": high - 0.8,
        },
        state="only the bridge serves",
    )  # fmt: skip


def regulation_from_two_loaded_readings() -> Sheet:
    """regulation-figures:2:1: 21.38 V at 0.2 A, 21.14 V at 0.6 A, 1.2 A at full load."""
    r_s = (21.38 - 21.14) / (0.6 - 0.2)  # 240 mV for 400 mA: 0.6 ohm
    v_oc = 21.38 + 0.2 * r_s  # 120 mV back: 21.5 V
    v_full = v_oc - 1.2 * r_s  # 720 mV down: 20.78 V
    return Sheet(
        {"V_I_1": 21.38, "I_I_1": 0.2, "V_I_2": 21.14, "I_I_2": 0.6, "I_I": 1.2},
        {"R_S": r_s, "V_OC": v_oc, "V_I": v_full, "REG_LOAD": (v_oc - v_full) / v_full},  # 720 mV over 20.78 V: 3.46 %
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
