"""Problems of stages in a row worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def ripple_divided_twice() -> Sheet:
    """prestabilised:1:1: 16 Ω under 390 Ω, then 7 Ω under 820 Ω, 0.6 V of ripple."""
    assert 16 / (820 + 7) < 0.02  # the second stage beside the first zener's slope: 1.93 %
    first = 16 / (390 + 16)  # 39.4 mV of each volt
    both = first * 7 / (820 + 7)  # 8.46 mV of each of those volts: 334 uV/V
    return Sheet(
        {"R_P": 390, "r_z_P": 16, "R": 820, "r_z": 7, "V_RIP": 0.6},
        {"S_V_P": first, "S_V": both, "V_RIP_O": both * 0.6},  # 200 uV
    )


def two_zeners_from_their_sheets() -> Sheet:
    """prestabilised:2:1: 27 V to 30 V, 560 Ω and 13 V, 1 kΩ and 6.8 V, 250 mA at a gain of 150, 2 V of ripple."""
    assert 10 / (1000 + 15) < 0.02
    between = (13 - 6.8) / 1000  # 6.2 mA, both zeners at their test voltages
    second = between - 0.25 / 151  # 1.66 mA go to the base: 4.54 mA are left
    v_o = 6.8 + 15 * (second - 0.005) - 0.7  # 7 mV below the test voltage, one junction down
    least = (27 - 13) / 560 - between  # 25 mA less 6.2 mA
    most = (30 - 13) / 560 - between  # 30.4 mA less 6.2 mA: 24.2 mA
    p_z = (13 + 10 * (most - 0.019)) * most  # 13.05 V
    assert min(second, least) > 0.001 and p_z < 1
    s_v = 10 / (560 + 10) * 15 / (1000 + 15)  # 259 uV/V
    return Sheet(
        {
            "V_I_MIN": 27, "V_I_MAX": 30, "V_RIP": 2, "R_P": 560, "V_ZT_P": 13, "I_ZT_P": 0.019, "r_z_P": 10,
            "P_ZM_P": 1, "R": 1000, "V_ZT": 6.8, "I_ZT": 0.005, "r_z": 15, "I_ZK": 0.001, "V_BE": 0.7, "h_FE": 150,
            "I_L": 0.25,
        },
        {"I_R": between, "V_O": v_o, "I_Z_P_MIN": least, "P_Z_P_MAX": p_z, "S_V": s_v, "V_RIP_O": s_v * 2},
    )  # fmt: skip


def first_resistor_for_ripple_and_feed() -> Sheet:
    """prestabilised:3:1: 24.5 V to 29.5 V, 12 V before 560 Ω and 7.5 V, 2.5 V of ripple, 0.8 mV allowed."""
    drawn = (12 - 7.5) / 560  # 8.04 mA, whatever the load
    r_most = (24.5 - 12) / (drawn + 0.004)  # 12.5 V for 12.04 mA: 1.039 kΩ
    let_through = 0.0008 / 2.5 * (560 + 4) / 4  # 45.1 mV/V may pass the first stage
    r_least = 9 / let_through - 9  # 199 Ω less the slope: 190 Ω
    # 209 Ω and 955 Ω lie inside; 190 Ω does not quite, nor does 1.05 kΩ.
    assert 0.95 * 200 < r_least <= 0.95 * 220 and 1.05 * 910 <= r_most < 1.05 * 1000
    left = 2.5 * 9 / (910 + 9) * 4 / (560 + 4)
    p_z = 12 * ((29.5 - 12) / 910 - drawn)
    assert drawn - 0.3 / 76 > 0.002 and p_z < 1
    return Sheet(
        {
            "V_I_MIN": 24.5, "V_I_MAX": 29.5, "V_RIP": 2.5, "V_RIP_O_MAX": 0.0008, "V_Z_P": 12, "r_z_P": 9,
            "I_ZK_P": 0.004, "P_ZM_P": 1, "R": 560, "V_Z": 7.5, "r_z": 4, "V_BE": 0.7, "h_FE": 75, "I_L": 0.3,
            "tol_R": 0.05,
        },
        {"I_R": drawn, "R_P_MAX": r_most, "R_P_MIN": r_least, "R_P": 910, "V_RIP_O": left, "P_Z_P_MAX": p_z},
        {"R_P": (220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910)},
    )  # fmt: skip


def three_shares() -> Sheet:
    """disturbance-budget:1:1: 5.6 V less 0.65 V; 0.5 mV/V for 5 V, 0.15 Ω for 400 mA, 2.5 mV/K for 40 K."""
    line, load, warmth = 0.0005 * 5, 0.15 * 0.4, 0.0025 * 40  # 2.5 mV, 60 mV, 100 mV
    assert warmth > load > line
    return Sheet(
        {"V_Z": 5.6, "V_BE": 0.65, "S_V": 0.0005, "DV_I": 5, "R_OUT": 0.15, "DI_L": 0.4, "S_T": 0.0025, "DT": 40},
        {"V_O": 5.6 - 0.65, "E_LINE": line, "E_LOAD": load, "E_TEMP": warmth, "E_BAND": 0.1625},
        state="the temperature matters most",
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


COMBINED: dict[str, Callable[[], Sheet]] = {
    "disturbance-budget:1:1": three_shares,
    "disturbance-budget:2:1": shares_from_the_parts,
    "disturbance-budget:3:1": what_a_band_leaves,
    "prestabilised:1:1": ripple_divided_twice,
    "prestabilised:2:1": two_zeners_from_their_sheets,
    "prestabilised:3:1": first_resistor_for_ripple_and_feed,
}
