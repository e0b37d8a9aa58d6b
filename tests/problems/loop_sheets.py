"""Problems of regulators with a loop worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def output_and_drive() -> Sheet:
    """opamp-series:1:1: 3 V made 10.8 V by 3.9 kΩ over 1.5 kΩ, 750 mA, gain 80."""
    through = 3 / 1500  # 2 mA in the divider
    v_o = 3 + 3900 * through  # 7.8 V on top of the reference
    return Sheet(
        {"V_I": 21, "V_REF": 3, "R_1": 3900, "R_2": 1500, "V_BE": 0.7, "h_FE": 80, "I_L": 0.75},
        {"V_O": v_o, "V_OA": v_o + 0.7, "I_OA": (0.75 + through) / 81},  # 752 mA of emitter current
    )


def lowest_line_and_heat() -> Sheet:
    """opamp-series:2:1: 1.25 V, 10 kΩ over 1.2 kΩ, up to 400 mA, gain 150, 2 V of dropout, up to 15.5 V."""
    through = 1.25 / 1200  # 1.042 mA
    v_o = 1.25 + 10000 * through  # 11.67 V
    i_base = (0.4 + through) / 151  # 2.656 mA at full load
    p = (15.5 - v_o) * 150 * i_base  # 3.833 V at 398.4 mA: 1.527 W
    assert 1.5 < 1.5 * p <= 12.5 and 1.5 * p > 2  # 2.29 W of rating wanted
    return Sheet(
        {
            "V_I_MAX": 15.5, "V_REF": 1.25, "R_1": 10000, "R_2": 1200, "V_BE": 0.7, "h_FE": 150, "I_L_MIN": 0,
            "I_L_MAX": 0.4, "V_DROP": 2,
        },
        {"V_O": v_o, "I_OA_MAX": i_base, "V_I_MIN": v_o + 0.7 + 2, "P_Q_MAX": p, "P_QM": 12.5},
        {"P_QM": (12.5, 40)},
    )  # fmt: skip


def divider_gain_and_line() -> Sheet:
    """opamp-series:3:1: 13.5 V of 5 V, divider 0.8 mA to 1.6 mA, 750 mA, 4 mA of drive, 1.2 V of dropout."""
    most, least = 5 / 0.0008, 5 / 0.0016  # 6.25 kΩ and 3.125 kΩ
    assert 6200 <= most < 6800 and 3000 < least <= 3300
    upper = (13.5 - 5) / (5 / 6200)  # 8.5 V at 806 uA: 10.54 kΩ
    assert 10500 - upper > upper - 10700  # 10.5 kΩ lies nearer than 10.7 kΩ
    v_o = 5 + 10500 * 5 / 6200  # 13.47 V
    return Sheet(
        {
            "V_O_NOM": 13.5, "V_REF": 5, "I_DIV_MIN": 0.0008, "I_DIV_MAX": 0.0016, "I_L_MIN": 0, "I_L_MAX": 0.75,
            "I_OA_MAX": 0.004, "V_BE": 0.7, "V_DROP": 1.2,
        },
        {
            "R_2_MAX": most, "R_2_MIN": least, "R_2": 6200, "R_1_NOM": upper, "R_1": 10500,
            "h_FE_MIN": (0.75 + 5 / 6200) / 0.004 - 1,  # 186.7
            "V_I_MIN": v_o + 0.7 + 1.2,
        },
        {"R_2": (3300, 3600, 3900, 4300, 4700, 5100, 5600, 6200), "R_1": (10500,)},
    )  # fmt: skip


def tap_and_output() -> Sheet:
    """feedback-output:1:1: 6.2 V and 0.6 V at the tap of 6.8 kΩ over 8.2 kΩ."""
    tap = 6.2 + 0.6  # 6.8 V
    through = tap / 8200  # 829 uA
    return Sheet(
        {"V_Z": 6.2, "V_BE_2": 0.6, "R_1": 6800, "R_2": 8200},
        {"V_TAP": tap, "V_O": tap + 6800 * through, "I_DIV": through},
    )


def error_current_and_heat() -> Sheet:
    """feedback-output:2:1: 29.5 V to 34.5 V, 20 mA to 180 mA, 1.5 kΩ to the base, 5.6 V, 2.2 kΩ over 1.2 kΩ."""
    tap = 5.6 + 0.7
    through = tap / 1200  # 5.25 mA
    v_o = tap + 2200 * through  # 17.85 V
    full, light = (0.18 + through) / 51, (0.02 + through) / 51  # base current: 3.63 mA and 495 uA
    most = (34.5 - v_o - 0.7) / 1500 - light  # 10.63 mA less 0.50 mA
    assert 2200 * most / 180 < 0.015 * v_o  # 56 uA through 2.2 kΩ would add 0.12 V
    return Sheet(
        {
            "V_I_MIN": 29.5, "V_I_MAX": 34.5, "R": 1500, "V_Z": 5.6, "V_BE_1": 0.7, "V_BE_2": 0.7, "h_FE_1": 50,
            "h_FE_2": 180, "R_1": 2200, "R_2": 1200, "I_L_MIN": 0.02, "I_L_MAX": 0.18,
        },
        {
            "V_O": v_o,
            "I_C_2_MIN": (29.5 - v_o - 0.7) / 1500 - full,  # 7.3 mA less 3.63 mA
            "I_C_2_MAX": most,
            "I_B_2_MAX": most / 180,
            "P_Q_1_MAX": (34.5 - v_o) * 50 * full,  # 16.65 V at 181.6 mA
        },
    )  # fmt: skip


def fullest_load_of_a_drive() -> Sheet:
    """feedback-output:3:1: 15 V to 19 V, 1.3 kΩ to the base, gain 100, 6.2 V fed by 1 kΩ, 1.2 kΩ over 2.7 kΩ."""
    tap = 6.2 + 0.6
    through = tap / 2700  # 2.52 mA
    v_o = tap + 1200 * through  # 9.82 V
    feed = (v_o - 6.2) / 1000  # 3.62 mA
    base = (15 - v_o - 0.7) / 1300 - 0.0008  # 3.44 mA, of which 0.8 mA are kept: 2.64 mA
    unloaded = (through + feed) / 101  # 61 uA of base current
    return Sheet(
        {
            "V_I_MIN": 15, "V_I_MAX": 19, "R": 1300, "V_Z": 6.2, "V_BE_1": 0.7, "V_BE_2": 0.6, "h_FE_1": 100,
            "R_1": 1200, "R_2": 2700, "R_D": 1000, "I_C_2_MIN": 0.0008,
        },
        {
            "V_O": v_o,
            "I_L_MAX": 101 * base - through - feed,  # 267 mA less what divider and feed take
            "I_Z_MAX": (19 - v_o - 0.7) / 1300 - unloaded + feed,  # 6.52 mA - 0.06 mA + 3.62 mA
        },
    )  # fmt: skip


def divider_for_a_current() -> Sheet:
    """feedback-design:1:1: 12 V, zener 3.6 V and junction 0.7 V, 2.5 mA."""
    tap = 3.6 + 0.7
    return Sheet(
        {"V_O": 12, "V_Z": 3.6, "V_BE_2": 0.7, "I_DIV": 0.0025},
        {"V_TAP": tap, "R_2": tap / 0.0025, "R_1": (12 - tap) / 0.0025},  # 1.72 kΩ and 3.08 kΩ
    )


def feed_and_drive() -> Sheet:
    """feedback-design:2:1: 18 V from 34 V to 36 V, up to 75 mA, 3 mA and 4 mA besides, gain 75, 1.5 mA to 6 mA."""
    full, none = (0.075 + 0.003 + 0.004) / 76, (0.003 + 0.004) / 76  # base current: 1.079 mA and 92 uA
    most = (34 - 18 - 0.7) / (full + 0.0015)  # 15.3 V over 2.58 mA: 5.93 kΩ
    least = (36 - 18 - 0.7) / (none + 0.006)  # 17.3 V over 6.09 mA: 2.84 kΩ
    assert 5600 <= most < 6200 and 2700 < least <= 3000
    return Sheet(
        {
            "V_I_MIN": 34, "V_I_MAX": 36, "V_O": 18, "V_Z": 6.2, "V_BE_1": 0.7, "h_FE_1": 75, "I_DIV": 0.003,
            "I_RD": 0.004, "I_C_2_MIN": 0.0015, "I_C_2_MAX": 0.006, "I_L_MIN": 0, "I_L_MAX": 0.075,
        },
        {"R_D": (18 - 6.2) / 0.004, "R_MAX": most, "R_MIN": least, "R": 5600},
        {"R": (3000, 3300, 3600, 3900, 4300, 4700, 5100, 5600)},
    )  # fmt: skip


def divider_and_drive() -> Sheet:
    """feedback-design:3:1: 20 V from 29 V to 32 V, up to 100 mA, 4.7 V and 0.6 V, gain 80, 1.5 mA to 10 mA."""
    tap = 4.7 + 0.6
    assert 5100 <= tap / 0.001 < 5600 and 2400 < tap / 0.002 <= 2700  # 5.3 kΩ and 2.65 kΩ
    upper = (20 - tap) / (tap / 5100)  # 14.15 kΩ
    assert upper - 14000 < 14300 - upper
    through = tap / 5100  # 1.04 mA
    v_o = tap + 14000 * through  # 19.85 V
    full, none = (0.1 + through) / 81, through / 81  # 1.247 mA and 13 uA
    most = (29 - v_o - 0.7) / (full + 0.0015)  # 8.45 V over 2.75 mA: 3.08 kΩ
    least = (32 - v_o - 0.7) / (none + 0.01)  # 1.14 kΩ
    assert 3000 <= most < 3300 and 1100 < least <= 1200
    return Sheet(
        {
            "V_I_MIN": 29, "V_I_MAX": 32, "V_O_NOM": 20, "V_Z": 4.7, "V_BE_1": 0.7, "V_BE_2": 0.6, "h_FE_1": 80,
            "I_DIV_MIN": 0.001, "I_DIV_MAX": 0.002, "I_C_2_MIN": 0.0015, "I_C_2_MAX": 0.01, "I_L_MIN": 0,
            "I_L_MAX": 0.1,
        },
        {
            "R_2_MAX": tap / 0.001, "R_2_MIN": tap / 0.002, "R_2": 5100, "R_1_NOM": upper, "R_1": 14000,
            "R_MAX": most, "R_MIN": least, "R": 3000, "P_Q_1_MAX": (32 - v_o) * 80 * full,
        },
        {
            "R_2": (2700, 3000, 3300, 3600, 3900, 4300, 4700, 5100),
            "R_1": (14000,),
            "R": (1200, 1300, 1500, 1600, 1800, 2000, 2200, 2400, 2700, 3000),
        },
    )  # fmt: skip


def stiffness_of_an_opamp() -> Sheet:
    """opamp-loop:1:1: 6.2 V, gain 150 and 60 Ω, 6.8 kΩ over 3.3 kΩ, 8 mA and 3 mA more."""
    share = 3300 / 10100  # of a change at the output, 0.3267 reach the input
    closed = 1 + 150 * share  # 50.01
    r_out = 60 / closed
    return Sheet(
        {"V_REF": 6.2, "A": 150, "R_O": 60, "R_1": 6800, "R_2": 3300, "I_L": 0.008, "DI_L": 0.003},
        {"V_O": (150 * 6.2 - 60 * 0.008) / closed, "R_OUT": r_out, "DV_O": -r_out * 0.003},  # 18.98 V were it ideal
    )


def load_step_and_ripple() -> Sheet:
    """opamp-loop:2:1: gain 2000 and 120 Ω, pass gain 60, 5.6 kΩ over 3.9 kΩ, zener of 15 Ω behind 560 Ω."""
    closed = 1 + 2000 * 3900 / 9500  # 822.1
    r_out = 120 / 61 / closed  # 1.967 Ω at the emitter with the loop open
    s_v = 15 / 575 * 2000 / closed  # 26.1 mV a volt at the zener, 2.43 times that at the output
    return Sheet(
        {
            "A": 2000, "R_O": 120, "h_FE": 60, "R_1": 5600, "R_2": 3900, "R": 560, "r_z": 15, "DI_L": 0.5,
            "V_RIP": 1.5,
        },
        {"R_OUT": r_out, "DV_O": -r_out * 0.5, "S_V": s_v, "V_RIP_O": 1.5 * s_v},
    )  # fmt: skip


def resistor_and_gain_of_a_loop() -> Sheet:
    """opamp-loop:3:1: 13.5 V at least, 5 V + 12 Ω, 1.5 mA, 5.6 kΩ over 6.8 kΩ, gain 300, 100 Ω; 5 mV/V and 20 mΩ."""
    closed = 1 + 300 * 6800 / 12400  # 165.5
    most = (13.5 - 5 - 12 * 0.0015) / 0.0015  # 5.65 kΩ
    through = 300 / closed  # what the reference moves, 1.813 times at the output
    least = 12 * through / 0.005 - 12  # r_z/(R + r_z) is 2.76 mV/V: 4.34 kΩ
    assert 5600 <= most < 6200 and 4300 < least <= 4700
    return Sheet(
        {
            "V_I_MIN": 13.5, "V_I_MAX": 18.5, "V_Z0": 5, "r_z": 12, "I_ZK": 0.0015, "R_1": 5600, "R_2": 6800, "A": 300,
            "R_O": 100, "S_V_MAX": 0.005, "R_OUT_MAX": 0.02,
        },
        {
            "R_MAX": most,
            "R_MIN": least,
            "R": 5600,
            "S_V": 12 / 5612 * through,
            "h_FE_MIN": 100 / (0.02 * closed) - 1,  # 29.2
        },
        {"R": (4700, 5100, 5600)},
    )  # fmt: skip


LOOPS: dict[str, Callable[[], Sheet]] = {
    "opamp-series:1:1": output_and_drive,
    "opamp-series:2:1": lowest_line_and_heat,
    "opamp-series:3:1": divider_gain_and_line,
    "feedback-design:1:1": divider_for_a_current,
    "feedback-design:2:1": feed_and_drive,
    "feedback-design:3:1": divider_and_drive,
    "opamp-loop:1:1": stiffness_of_an_opamp,
    "opamp-loop:2:1": load_step_and_ripple,
    "opamp-loop:3:1": resistor_and_gain_of_a_loop,
    "feedback-output:1:1": tap_and_output,
    "feedback-output:2:1": error_current_and_heat,
    "feedback-output:3:1": fullest_load_of_a_drive,
}
