"""Problems of stages in a row worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def ripple_divided_twice() -> Sheet:
    """prestabilised:1:1: 14 Ω under 82 Ω, then 15 Ω under 820 Ω, 2 V of ripple."""
    assert 14 / (820 + 15) < 0.02  # the second stage beside the first zener's slope: 1.68 %
    first = 14 / (82 + 14)  # 145.8 mV of each volt
    both = first * 15 / (820 + 15)  # 17.96 mV of each of those volts: 2.62 mV/V
    return Sheet(
        {"R_P": 82, "r_z_P": 14, "R": 820, "r_z": 15, "V_RIP": 2},
        {"S_V_P": first, "S_V": both, "V_RIP_O": both * 2},  # 5.24 mV
    )


def two_zeners_from_their_sheets() -> Sheet:
    """prestabilised:2:1: 26 V to 30 V, 390 Ω and 15 V, 1 kΩ and 8.2 V, 150 mA at a gain of 100, 1 V of ripple."""
    assert 14 / (1000 + 15) < 0.02
    between = (15 - 8.2) / 1000  # 6.8 mA, both zeners at their test voltages
    second = between - 0.15 / 101  # 1.49 mA go to the base: 5.31 mA are left
    v_o = 8.2 + 15 * (second - 0.005) - 0.75  # 5 mV above the test voltage, one junction down
    least = (26 - 15) / 390 - between  # 28.2 mA less 6.8 mA
    most = (30 - 15) / 390 - between  # 38.5 mA less 6.8 mA: 31.7 mA
    p_z = (15 + 14 * (most - 0.017)) * most  # 15.2 V
    assert min(second, least) > 0.001 and p_z < 1
    s_v = 14 / (390 + 14) * 15 / (1000 + 15)  # 512 uV/V
    return Sheet(
        {
            "V_I_MIN": 26, "V_I_MAX": 30, "V_RIP": 1, "R_P": 390, "V_ZT_P": 15, "I_ZT_P": 0.017, "r_z_P": 14,
            "P_ZM_P": 1, "R": 1000, "V_ZT": 8.2, "I_ZT": 0.005, "r_z": 15, "I_ZK": 0.001, "V_BE": 0.75, "h_FE": 100,
            "I_L": 0.15,
        },
        {"I_R": between, "V_O": v_o, "I_Z_P_MIN": least, "P_Z_P_MAX": p_z, "S_V": s_v, "V_RIP_O": s_v},
    )  # fmt: skip


def first_resistor_for_ripple_and_feed() -> Sheet:
    """prestabilised:3:1: 17 V to 23 V, 12 V before 680 Ω and 7.5 V, 1 V of ripple, 0.5 mV allowed."""
    drawn = (12 - 7.5) / 680  # 6.62 mA, whatever the load
    r_most = (17 - 12) / (drawn + 0.004)  # 5 V for 10.62 mA: 471 Ω
    let_through = 0.0005 * (680 + 15) / 15  # 23.2 mV/V may pass the first stage
    r_least = 9 / let_through - 9  # 388 Ω less the slope: 379 Ω
    # 409 Ω and 452 Ω lie inside; 371 Ω does not, nor does 494 Ω.
    assert 0.95 * 390 < r_least <= 0.95 * 430 and 1.05 * 430 <= r_most < 1.05 * 470
    left = 9 / (430 + 9) * 15 / (680 + 15)
    p_z = 12 * ((23 - 12) / 430 - drawn)
    assert drawn - 0.3 / 121 > 0.002
    assert 12 * ((23 - 12) / r_least - drawn) < 1  # 268 mW: whatever lies between the bounds spares the zener
    return Sheet(
        {
            "V_I_MIN": 17, "V_I_MAX": 23, "V_RIP": 1, "V_RIP_O_MAX": 0.0005, "V_Z_P": 12, "r_z_P": 9,
            "I_ZK_P": 0.004, "P_ZM_P": 1, "R": 680, "V_Z": 7.5, "r_z": 15, "V_BE": 0.7, "h_FE": 120, "I_L": 0.3,
            "tol_R": 0.05,
        },
        {"I_R": drawn, "R_P_MAX": r_most, "R_P_MIN": r_least, "R_P": 430, "V_RIP_O": left, "P_Z_P_MAX": p_z},
        {"R_P": (430,)},
    )  # fmt: skip


def three_shares() -> Sheet:
    """disturbance-budget:1:1: 0.5 mV/V for 5 V of line, 0.15 Ω for 400 mA of load, 60 mV seen with the temperature."""
    line, load = 0.0005 * 5, 0.15 * 0.4  # 2.5 mV and 60 mV
    return Sheet(
        {"S_V": 0.0005, "DV_I": 5, "R_OUT": 0.15, "DI_L": 0.4, "E_TEMP": 0.06},
        {"E_LINE": line, "E_LOAD": load, "E_BAND": 0.1225},
    )


def shares_from_the_parts() -> Sheet:
    """disturbance-budget:2:1: 14 Ω under 680 Ω, 4 Ω under 820 Ω, 7.5 V with 0.0425 %/K, gains of 60 to 250."""
    assert 14 / (820 + 4) < 0.02
    s_v = 14 / (680 + 14) * 4 / (820 + 4)  # 97.9 uV/V
    at_base = 820 * 4 / (820 + 4)  # 3.98 Ω
    load = at_base / 61 * 0.4  # the lowest gain: 65.3 mΩ, 26.1 mV
    s_t = 0.000425 * 7.5 + 0.0018  # the junction is taken off and falls: both lift the output
    return Sheet(
        {
            "R_P": 680, "r_z_P": 14, "R": 820, "r_z": 4, "V_Z": 7.5, "alpha_Z": 0.000425, "k_BE": -0.0018,
            "h_FE_MIN": 60, "h_FE_MAX": 250, "DV_I": 4, "DI_L": 0.4, "DT": 20,
        },
        {
            "S_V": s_v, "E_LINE": s_v * 4, "E_LOAD_MAX": load, "S_T": s_t, "E_TEMP": s_t * 20,
            "E_BAND_MAX": s_v * 4 + load + s_t * 20,
        },
        state="the temperature matters most",  # 99.8 mV of 126 mV
    )  # fmt: skip


def what_a_band_leaves() -> Sheet:
    """disturbance-budget:3:1: 0.1 V in all; 16 Ω under 220 Ω, 2 Ω under 1 kΩ, 6.2 V, a gain of 80."""
    line = 8 * 16 / (220 + 16) * 2 / (1000 + 2)  # 1.08 mV
    load = 0.5 * (1000 * 2 / (1000 + 2)) / 81  # 12.3 mV
    left = 0.1 - line - load  # 86.6 mV
    drift = left / 30  # 2.89 mV/K
    return Sheet(
        {
            "R_P": 220, "r_z_P": 16, "R": 1000, "r_z": 2, "V_Z": 6.2, "k_BE": -0.0018, "h_FE": 80, "DV_I": 8,
            "DI_L": 0.5, "DT": 30, "E_BAND_MAX": 0.1,
        },
        {
            "E_LINE": line, "E_LOAD": load, "E_TEMP_MAX": left, "S_T_MAX": drift,
            "alpha_Z_MAX": (drift - 0.0018) / 6.2,  # 1.09 mV/K of 6.2 V
        },
    )  # fmt: skip


def base_held_by_a_reference() -> Sheet:
    """reference-follower:1:1: 30 kΩ over 8.2 kΩ, 2.495 V with 2 µA, a junction of 0.7 V."""
    v_b = 2.495 + 30e3 * (2.495 / 8200 + 2e-6)  # 304.3 µA below and 2 µA into the pin: 9.188 V across the upper one
    return Sheet(
        {"V_REF": 2.495, "I_REF": 2e-6, "R_1": 30e3, "R_2": 8200, "V_BE": 0.7},
        {"V_B": v_b, "V_O": v_b - 0.7},
    )


def load_that_a_reference_steers() -> Sheet:
    """reference-follower:2:1: 9.5 V to 12.5 V through 560 Ω, 4.3 kΩ over 3.3 kΩ, 1 mA to keep, a gain of 75."""
    divider = 2.495 / 3300 + 2e-6  # 758 µA
    v_b = 2.495 + 4300 * divider  # 5.755 V
    base = (9.5 - v_b) / 560 - divider - 0.001  # 6.69 mA less the two: 4.93 mA
    load = base * 76  # 375 mA
    idle = (12.5 - v_b) / 560 - divider  # 11.3 mA, all that the divider leaves
    return Sheet(
        {
            "V_I_MIN": 9.5, "V_I_MAX": 12.5, "R": 560, "R_1": 4300, "R_2": 3300, "V_REF": 2.495, "I_REF": 2e-6,
            "I_K_MIN": 0.001, "V_BE": 0.75, "h_FE": 75,
        },
        {
            "V_B": v_b, "V_O": v_b - 0.75, "I_L_MAX": load, "P_D_MAX": v_b * idle,
            "P_Q_MAX": (12.5 - v_b + 0.75) * load * 75 / 76,
        },
    )  # fmt: skip


def divider_and_resistor_before_a_follower() -> Sheet:
    """reference-follower:3:1: 15 V for up to 1 A from 21 V to 26 V, 4.7 kΩ below, gains of 60 to 250."""
    divider = 2.495 / 4700 + 2e-6  # 532.9 µA
    wanted = (15 + 0.7 - 2.495) / divider  # 24.78 kΩ; E96 has 24.3 kΩ and 24.9 kΩ there
    assert 24.9e3 - wanted < wanted - 24.3e3
    v_b = 2.495 + 24.9e3 * divider  # 15.76 V
    most = (21 - v_b) / (1 / 61 + divider + 0.0007)  # 5.24 V for 17.6 mA
    least = (26 - v_b) / (divider + 0.1)  # nothing drawn: 10.2 V for 100.5 mA
    # 110 Ω and 270 Ω lie inside with their 5 %; 100 Ω and 300 Ω do not.
    assert 0.95 * 100 < least <= 0.95 * 110 and 1.05 * 270 <= most < 1.05 * 300
    return Sheet(
        {
            "V_O_NOM": 15, "V_I_MIN": 21, "V_I_MAX": 26, "I_L_MIN": 0, "I_L_MAX": 1, "V_REF": 2.495, "I_REF": 2e-6,
            "I_K_MIN": 0.0007, "I_K_MAX": 0.1, "R_2": 4700, "V_BE": 0.7, "h_FE_MIN": 60, "h_FE_MAX": 250,
            "tol_R": 0.05,
        },
        {
            "R_1_NOM": wanted, "R_1": 24.9e3, "V_O": v_b - 0.7, "R_MAX": most, "R_MIN": least, "R": 270,
            "P_Q_MAX": (26 - v_b + 0.7) * 250 / 251,  # nearly all of 1 A, with 10.9 V
        },
        {"R_1": (24.9e3,), "R": (110, 120, 130, 150, 160, 180, 200, 220, 240, 270)},
    )  # fmt: skip


COMBINED: dict[str, Callable[[], Sheet]] = {
    "disturbance-budget:1:1": three_shares,
    "disturbance-budget:2:1": shares_from_the_parts,
    "disturbance-budget:3:1": what_a_band_leaves,
    "prestabilised:1:1": ripple_divided_twice,
    "prestabilised:2:1": two_zeners_from_their_sheets,
    "prestabilised:3:1": first_resistor_for_ripple_and_feed,
    "reference-follower:1:1": base_held_by_a_reference,
    "reference-follower:2:1": load_that_a_reference_steers,
    "reference-follower:3:1": divider_and_resistor_before_a_follower,
}
