"""Problems of the shunt regulators worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`: Ohm's law, Kirchhoff's two laws, power as voltage across times current through; the
straight line V_Z = V_Z0 + r_z·I_Z; for changes, r_z below R is a divider. E24 and E12: IEC 60063:2015.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def loads_over_a_range_of_lines() -> Sheet:
    """zener-range:2:1: 24.5 V to 26.5 V through 270 Ω, a 15 V zener of half a watt, 3 mA at least."""
    i_zm = 0.5 / 15  # 33.3 mA
    i_most = (24.5 - 15) / 270 - 0.003  # lowest line brings 35.2 mA, 3 mA stay with the zener: 32.2 mA
    i_least = (26.5 - 15) / 270 - i_zm  # highest line brings 42.6 mA, of which the zener may take 33.3 mA: 9.26 mA
    return Sheet(
        {"V_I_MIN": 24.5, "V_I_MAX": 26.5, "R": 270, "V_Z": 15, "I_ZK": 0.003, "P_ZM": 0.5},
        {"I_ZM": i_zm, "I_L_MAX": i_most, "I_L_MIN": i_least, "R_L_MIN": 15 / i_most, "R_L_MAX": 15 / i_least},
    )


def ratings_over_line_and_load() -> Sheet:
    """zener-ratings:2:1: 17 V ± 10 % through 120 Ω, a 4.7 V zener, up to 25 mA."""
    i_r = (18.7 - 4.7) / 120  # highest line: 14 V across 120 Ω: 116.7 mA, all of it the zener's with no load
    p_r = 14**2 / 120  # 1.633 W, the load makes no difference
    assert 0.5 < 1.5 * 4.7 * i_r <= 1  # 822 mW of rating wanted: from 1 W
    assert 2 < 1.5 * p_r <= 5  # 2.45 W of rating wanted: from 5 W
    i_nominal = (17 - 4.7) / 120  # 102.5 mA from the supply, of which the load has 25 mA
    return Sheet(
        {
            "V_I_MIN": 15.3, "V_I_NOM": 17, "V_I_MAX": 18.7, "R": 120, "V_Z": 4.7, "I_L_MIN": 0, "I_L_MAX": 0.025,
        },
        {
            "P_Z_MAX": 4.7 * i_r,  # 548 mW
            "P_ZM": 1,
            "P_R_MAX": p_r,
            "P_RM": 5,
            "eta": 4.7 * 0.025 / (17 * i_nominal),  # 117.5 mW of 1.743 W: 6.74 %
        },
        {"P_ZM": (1, 1.3, 2, 3, 5), "P_RM": (5, 10)},
    )  # fmt: skip


def ripple_beside_a_load() -> Sheet:
    """zener-ripple:2:1: 20.5 V to 22.5 V, 120 Ω, 5.1 V at 49 mA and 7 Ω, 150 Ω load."""
    small_arm = 7 * 150 / (7 + 150)  # slope and load side by side: 6.688 Ω
    share = small_arm / (120 + small_arm)  # 52.8 mV/V
    v_z0 = 5.1 - 7 * 0.049  # 343 mV off: 4.757 V
    # At the trough the node says (20.5 - V_O)/120 = (V_O - V_Z0)/7 + V_O/150.
    v_o = (20.5 / 120 + v_z0 / 7) / (1 / 120 + 1 / 7 + 1 / 150)
    return Sheet(
        {
            "V_I_MIN": 20.5, "V_I_MAX": 22.5, "V_RIP": 2, "R": 120, "V_ZT": 5.1, "I_ZT": 0.049, "r_z": 7, "R_L": 150,
            "I_ZK": 0.001,
        },
        {"S_V": share, "V_RIP_O": 2 * share, "V_Z0": v_z0, "I_Z_MIN": (v_o - v_z0) / 7},
    )  # fmt: skip


def resistor_against_ripple() -> Sheet:
    """zener-ripple:3:1: 17.5 V to 18.1 V, 9.1 V at 5 mA and 15 Ω, 4 mA of load, 12 mV of ripple at most."""
    v_z0 = 9.1 - 15 * 0.005  # 9.025 V
    v_knee = v_z0 + 15 * 0.004  # 9.085 V with the zener at its least current
    r_max = (17.5 - v_knee) / (0.004 + 0.004)  # trough: 8.415 V for 8 mA: 1052 Ω
    r_min = 15 * 0.6 / 0.012 - 15  # 15 Ω must be 12 parts of 600: 750 Ω together, 735 Ω for R
    assert 680 < r_min <= 750 and 1000 <= r_max < 1100
    return Sheet(
        {
            "V_I_MIN": 17.5, "V_I_MAX": 18.1, "V_RIP": 0.6, "V_ZT": 9.1, "I_ZT": 0.005, "r_z": 15, "I_L": 0.004,
            "I_ZK": 0.004, "P_ZM": 0.5, "V_RIP_O_MAX": 0.012,
        },
        {
            "V_Z0": v_z0,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 1000,
            "V_RIP_O": 0.6 * 15 / 1015,  # 8.87 mV
            "I_Z_MAX": (18.1 - v_z0) / 1015,  # crest, no load: 9.075 V across R and slope: 8.94 mA
        },
        {"R": (750, 820, 910, 1000)},
    )  # fmt: skip


def corners_of_four() -> Sheet:
    """zener-corner-table:2:1: 23.5 V ± 10 %, 220 Ω ± 10 % rated 1 W, 12 V ± 5 %, 5 mA to 12 mA."""
    i_least = (21.15 - 12.6) / 242 - 0.012  # low line, high zener, large R, full load: 35.3 mA less 12 mA
    i_most = (25.85 - 11.4) / 198 - 0.005  # high line, low zener, small R, light load: 73 mA less 5 mA
    # P_Z = V_Z((V_I - V_Z)/R - I_L) is a parabola in V_Z with its top at (V_I - R I_L)/2, half of 24.86 V: 12.43 V,
    # which a zener of the batch may have; there the power is V_Z²/R.
    top = (25.85 - 198 * 0.005) / 2
    assert 11.4 < top < 12.6
    p_z = top**2 / 198  # 780 mW, a little more than at either end
    assert p_z > 12.6 * ((25.85 - 12.6) / 198 - 0.005) > 11.4 * i_most
    p_r = (25.85 - 11.4) ** 2 / 198  # 14.45 V across 198 Ω: 1.05 W
    assert i_least > 0.003 and p_z < 1 < p_r  # fed and cool enough, but the resistor is too hot
    return Sheet(
        {
            "V_I_MIN": 21.15, "V_I_MAX": 25.85, "R_NOM": 220, "tol_R": 0.1, "R_MIN": 198, "R_MAX": 242,
            "V_Z_MIN": 11.4, "V_Z_MAX": 12.6, "I_L_MIN": 0.005, "I_L_MAX": 0.012, "I_ZK": 0.003, "P_ZM": 1, "P_RM": 1,
        },
        {"I_Z_MIN": i_least, "I_Z_MAX": i_most, "P_Z_MAX": p_z, "P_R_MAX": p_r},
        state="only the resistor is overloaded",
    )  # fmt: skip


def slope_behind_two_loads() -> Sheet:
    """shunt-inverse:3:1: 180 Ω; 22 V and 5.015 V at 2 mA, 21.5 V and 4.856 V at 20 mA."""
    i_1 = (22 - 5.015) / 180 - 0.002  # 94.4 mA come, 2 mA go to the load: 92.4 mA
    i_2 = (21.5 - 4.856) / 180 - 0.020  # 92.5 mA come, 20 mA go: 72.5 mA
    r_z = (5.015 - 4.856) / (i_1 - i_2)  # 159 mV for 19.89 mA: 7.992 Ω
    return Sheet(
        {
            "R": 180, "V_I_1": 22, "V_O_1": 5.015, "I_L_1": 0.002, "V_I_2": 21.5, "V_O_2": 4.856, "I_L_2": 0.02,
        },
        {
            "I_Z_1": i_1,
            "I_Z_2": i_2,
            "r_z": r_z,
            "V_Z0": 5.015 - r_z * i_1,
            "R_OUT": 180 * r_z / (180 + r_z),  # side by side: 7.652 Ω
        },
    )  # fmt: skip


def crossing_of_two_lines() -> Sheet:
    """zener-lab:3:1: 2.69 V at 15 mA, 2.94 V at 40 mA; 16.5 V to 20.5 V, 18 mA of load, 5 mA to 80 mA for the zener."""
    r_z = (2.94 - 2.69) / (0.040 - 0.015)  # 0.25 V for 25 mA: 10 Ω
    v_z0 = 2.69 - 0.015 * r_z  # 2.54 V
    r_max = (16.5 - (v_z0 + 0.005 * r_z)) / (0.018 + 0.005)  # low line, at the knee: 13.91 V for 23 mA: 604.8 Ω
    r_min = (20.5 - (v_z0 + 0.080 * r_z)) / 0.080  # high line, no load, zener at its most: 17.16 V for 80 mA: 214.5 Ω
    i_z = (16.5 - v_z0 - 560 * 0.018) / (560 + r_z)  # 3.88 V across 570 Ω: 6.807 mA
    return Sheet(
        {
            "V_Z_1": 2.69, "I_Z_1": 0.015, "V_Z_2": 2.94, "I_Z_2": 0.04, "V_I_MIN": 16.5, "V_I_MAX": 20.5,
            "I_L": 0.018, "I_ZK": 0.005, "I_ZM": 0.08,
        },
        {
            "r_z": r_z,
            "V_Z0": v_z0,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 560,
            "I_Z_MIN": i_z,
            "V_O_MIN": v_z0 + r_z * i_z,
        },
        {"R": (220, 270, 330, 390, 470, 560)},
    )  # fmt: skip


def zener_with_a_transistor() -> Sheet:
    """boosted-shunt:2:1: 28 V to 32 V through 150 Ω, 3.9 V and 0.7 V, 330 Ω beside the junction, 10 mA to 100 mA."""
    i_be = 0.7 / 330  # 2.121 mA whatever the line
    low = (28 - 4.6) / 150 - 0.100  # 156 mA come, 100 mA go: 56 mA for zener and collector
    i_b_low = (low - i_be) / 41  # all but 2.121 mA is 1 part base and 40 parts collector current: 1.314 mA
    high = (32 - 4.6) / 150 - 0.010  # 182.7 mA come, 10 mA go: 172.7 mA
    p_q = 4.6 * 40 * (high - i_be) / 41  # 166.4 mA of collector current at 4.6 V: 0.765 W
    assert 0.625 < 1.5 * p_q <= 1.5
    return Sheet(
        {
            "V_I_MIN": 28, "V_I_MAX": 32, "R": 150, "V_Z": 3.9, "R_BE": 330, "V_BE": 0.7, "h_FE": 40, "I_L_MIN": 0.01,
            "I_L_MAX": 0.1, "I_ZK": 0.002,
        },
        {"V_O": 3.9 + 0.7, "I_RBE": i_be, "I_Z_MIN": i_be + i_b_low, "P_Q_MAX": p_q, "P_QM": 1.5},
        {"P_QM": (1.5, 2, 12.5, 40)},
    )  # fmt: skip


def two_resistors_for_a_boosted_zener() -> Sheet:
    """boosted-shunt:3:1: 20 V to 23 V, 3.9 V, gain 75, 40 mA, 10 mA at least, 10 W in a short."""
    assert 82 >= 0.7 / 0.010 > 68 and 120 <= 0.7 / 0.005 < 150  # 70 Ω to 140 Ω: from 82 Ω to 120 Ω
    i_z = 0.7 / 120 + 0.010 / 75  # base resistor and base: 5.833 mA + 0.133 mA
    r_max = (20 - 4.6) / (0.040 + i_z + 0.010)  # 15.4 V for 55.97 mA: 275.2 Ω
    r_min = 23**2 / 10  # shorted, the whole highest line: 52.9 Ω
    assert 51 < r_min <= 56 and 270 <= r_max < 300
    left = (23 - 4.6) / 270  # no load at the highest line: 68.1 mA for zener and collector
    return Sheet(
        {
            "V_I_MIN": 20, "V_I_MAX": 23, "V_Z": 3.9, "V_BE": 0.7, "h_FE": 75, "I_L_MIN": 0,
            "I_L_MAX": 0.04, "I_ZK": 0.005, "I_RBE_MAX": 0.01, "I_C_MIN": 0.01, "P_RM": 10,
        },
        {
            "R_BE_MAX": 140,
            "R_BE_MIN": 70,
            "R_BE": 120,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 270,
            "P_Q_MAX": 4.6 * 75 * (left - 0.7 / 120) / 76,
        },
        {
            "R_BE": (82, 100, 120),
            "R": (56, 62, 68, 75, 82, 91, 100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270),
        },
    )  # fmt: skip


def loads_of_a_shunt_reference() -> Sheet:
    """reference-shunt:2:1: 19.5 V to 23.5 V through 560 Ω, 15 kΩ over 13 kΩ, 2.495 V with 2 µA."""
    i_upper = 2.495 / 13e3 + 2e-6  # 191.9 µA below, 2 µA into the pin
    v_o = 2.495 + 15e3 * i_upper  # 5.404 V
    return Sheet(
        {
            "V_I_MIN": 19.5, "V_I_MAX": 23.5, "R": 560, "R_1": 15e3, "R_2": 13e3, "V_REF": 2.495, "I_REF": 2e-6,
            "I_K_MIN": 0.001,
        },
        {
            "V_O": v_o,
            "I_DIV": i_upper,
            "I_L_MAX": (19.5 - v_o) / 560 - 0.001 - i_upper,  # 25.2 mA less 1 mA and the divider's
            "P_D_MAX": v_o * ((23.5 - v_o) / 560 - i_upper),
        },
    )  # fmt: skip


def divider_and_resistor_of_a_shunt_reference() -> Sheet:
    """reference-shunt:3:1: 6 V from 29 V ± 15 %, 2 mA to 8 mA, 2.2 kΩ below."""
    i_upper = 2.495 / 2200 + 2e-6  # 1.134 mA + 2 µA, whatever stands above
    r_wanted = (6 - 2.495) / i_upper  # 3085 Ω; E96 has 3.01 kΩ and 3.09 kΩ there
    assert 3090 - r_wanted < r_wanted - 3010
    v_o = 2.495 + 3090 * i_upper  # 6.006 V
    r_max = (24.65 - v_o) / (0.008 + i_upper + 0.001)  # 1839 Ω
    r_min = (33.35 - v_o) / (0.002 + i_upper + 0.100)  # 265 Ω
    assert 240 < r_min <= 270 and 1800 <= r_max < 2000
    p_r = (33.35 - v_o) ** 2 / 1800  # 415 mW
    assert 0.5 < 1.5 * p_r <= 1
    return Sheet(
        {
            "V_O_NOM": 6, "V_I_MIN": 24.65, "V_I_NOM": 29, "V_I_MAX": 33.35, "I_L_MIN": 0.002, "I_L_MAX": 0.008,
            "V_REF": 2.495, "I_REF": 2e-6, "I_K_MIN": 0.001, "I_K_MAX": 0.1, "R_2": 2200,
        },
        {
            "R_1_NOM": r_wanted,
            "R_1": 3090,
            "V_O": v_o,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 1800,
            "P_R_MAX": p_r,
            "P_RM": 1,
        },
        {
            "R_1": (3090,),
            "R": (
                270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910, 1000, 1100, 1200, 1300, 1500,
                1600, 1800,
            ),
            "P_RM": (1, 2, 5),
        },
    )  # fmt: skip


def loop_across_the_output() -> Sheet:
    """opamp-shunt:3:1: 8 V from 17 V to 18 V, up to 80 mA, 1.24 V across 1.5 kΩ, gain 100, 8 mA at least, 5 W."""
    r_wanted = 1500 * (8 - 1.24) / 1.24  # 8177 Ω; E96 has 8.06 kΩ and 8.25 kΩ there
    assert 8250 - r_wanted < r_wanted - 8060
    i_divider = 1.24 / 1500  # 827 µA
    v_o = 1.24 * (1 + 8250 / 1500)  # 8.06 V
    r_max = (17 - v_o) / (0.080 + i_divider + 0.008)  # 100.6 Ω
    r_min = 18**2 / 5  # 64.8 Ω
    assert 62 < r_min <= 68 and 100 <= r_max < 110
    i_c = (18 - v_o) / 100 - i_divider  # no load at the highest line: 98.6 mA
    return Sheet(
        {
            "V_O_NOM": 8, "V_I_MIN": 17, "V_I_MAX": 18, "I_L_MIN": 0, "I_L_MAX": 0.08, "V_REF": 1.24, "R_2": 1500,
            "I_C_MIN": 0.008, "V_BE": 0.7, "h_FE": 100, "P_RM": 5,
        },
        {
            "R_1_NOM": r_wanted,
            "R_1": 8250,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 100,
            "P_Q_MAX": v_o * i_c,
            "I_OA_MAX": i_c / 100,
        },
        {"R_1": (8250,), "R": (68, 75, 82, 91, 100)},
    )  # fmt: skip


def drift_with_a_diode() -> Sheet:
    """zener-temperature:2:1: 11 V through 100 Ω, 3.9 V at -0.045 %/K, a diode of 0.7 V at -2.2 mV/K, 40 K."""
    s_t = 3.9 * -0.045e-2 - 2.2e-3  # both fall: -1.755 mV/K - 2.2 mV/K
    return Sheet(
        {
            "V_I": 11, "R": 100, "V_Z": 3.9, "V_F": 0.7, "alpha_Z": -0.045e-2, "k_BE": -2.2e-3, "I_L": 0.01, "DT": 40,
        },
        {"V_O": 3.9 + 0.7, "I_Z": (11 - 4.6) / 100 - 0.010, "S_T": s_t, "DV_O": 40 * s_t},
    )  # fmt: skip


SHUNT: dict[str, Callable[[], Sheet]] = {
    "zener-range:2:1": loads_over_a_range_of_lines,
    "zener-ratings:2:1": ratings_over_line_and_load,
    "zener-ripple:2:1": ripple_beside_a_load,
    "zener-ripple:3:1": resistor_against_ripple,
    "zener-corner-table:2:1": corners_of_four,
    "shunt-inverse:3:1": slope_behind_two_loads,
    "zener-lab:3:1": crossing_of_two_lines,
    "boosted-shunt:2:1": zener_with_a_transistor,
    "boosted-shunt:3:1": two_resistors_for_a_boosted_zener,
    "reference-shunt:2:1": loads_of_a_shunt_reference,
    "reference-shunt:3:1": divider_and_resistor_of_a_shunt_reference,
    "opamp-shunt:3:1": loop_across_the_output,
    "zener-temperature:2:1": drift_with_a_diode,
}
