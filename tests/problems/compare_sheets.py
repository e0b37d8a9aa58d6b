"""Problems of three regulators side by side worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def zener_of_shunt_and_follower() -> Sheet:
    """compare-regulators:1:1: 6 V from 9 V, 5 mA to 150 mA, 10 mA left for either zener at full load, gain 60."""
    base = 0.15 / 61  # 2.459 mA at full load
    i_r = base + 0.01  # 12.46 mA, and that is all the follower's zener can ever be given
    return Sheet(
        {"V_I": 9, "V_O": 6, "I_L_MIN": 0.005, "I_L_MAX": 0.15, "I_ZK": 0.01, "V_BE": 0.6, "h_FE": 60},
        {
            "I_R_2": i_r,
            "P_Z_1": 6 * (0.15 + 0.01 - 0.005),  # 145 mA of the load's come back to the zener: 930 mW
            "P_Z_2": 6.6 * (i_r - 0.005 / 61),  # 6.6 V, 12.38 mA: 81.7 mW
        },
    )


def waste_efficiency_and_stiffness() -> Sheet:
    """compare-regulators:2:1: 15 V from 20 V to 24 V, 5 mA to 100 mA; 43 Ω, 470 Ω and 1.2 kΩ from the line."""
    drawn = 9 / 43  # the shunt draws 209.3 mA at 24 V, whatever the load
    zener = (24 - 15.65) / 470 - 0.1 / 51  # the follower's zener at full load: 15.81 mA
    third = 0.1 + 15 / 4500 + (24 - 6) / 1200  # load, divider and zener of 6 V: 118.3 mA
    loop = 1 + 500 * 1800 / 4500  # 201
    return Sheet(
        {
            "V_I_MIN": 20, "V_I_MAX": 24, "V_O": 15, "I_L_MIN": 0.005, "I_L_MAX": 0.1, "V_BE": 0.65, "h_FE": 50,
            "R_FEED_1": 43, "R_FEED_2": 470, "R_FEED_3": 1200, "R_1": 2700, "R_2": 1800, "A": 500, "R_O": 50, "r_z": 8,
        },
        {
            "P_D_1_MAX": 24 * drawn - 15 * 0.005,  # lightest load: 5.02 W less 75 mW
            "P_D_2_MAX": 9 * 0.1 + 24 * zener,  # full load: 900 mW in the path of the load, 379 mW beside it
            "P_D_3_MAX": 24 * third - 1.5,
            "eta_1": 1.5 / (24 * drawn),
            "eta_2": 1.5 / (24 * (0.1 + zener)),
            "R_OUT_1": 43 * 8 / 51,
            "R_OUT_2": 470 * 8 / 478 / 51,
            "R_OUT_3": 50 / 51 / loop,
        },
    )  # fmt: skip


def simplest_that_serves() -> Sheet:
    """compare-regulators:3:1: 10 V from 16 V or 17 V, 20 mA to 150 mA; 15 Ω at most, zeners of 1.3 W and 8 mA."""
    first = 6 / 0.158  # 37.97 Ω
    hot = 10 * (7 / first - 0.02)  # 184.3 mA less 20 mA: 1.643 W, and a smaller resistor only makes it more
    second = (16 - 10.65) / (0.15 / 41 + 0.008)  # 5.35 V at 11.66 mA: 458.9 Ω
    assert hot > 1.3  # so no resistor serves the shunt, stiff enough as it is
    return Sheet(
        {
            "V_I_MIN": 16, "V_I_MAX": 17, "V_O": 10, "I_L_MIN": 0.02, "I_L_MAX": 0.15, "R_OUT_MAX": 15, "I_ZK": 0.008,
            "P_ZM": 1.3, "r_z": 12, "V_BE": 0.65, "h_FE": 40, "R_1": 5600, "R_2": 3900, "A": 50, "R_O": 60,
        },
        {
            "R_FEED_1_MAX": first,
            "P_Z_1_MAX": hot,
            "R_FEED_2_MAX": second,
            "P_Z_2_MAX": 10.65 * ((17 - 10.65) / second - 0.02 / 41),  # 13.35 mA: 142 mW
            "R_OUT_1": first * 12 / (first + 12),  # 9.12 Ω
            "R_OUT_2": second * 12 / (second + 12) / 41,  # 0.285 Ω
            "R_OUT_3": 60 / 41 / (1 + 50 * 3900 / 9500),
        },
        state="the emitter follower is the simplest that serves",
    )  # fmt: skip


COMPARED: dict[str, Callable[[], Sheet]] = {
    "compare-regulators:1:1": zener_of_shunt_and_follower,
    "compare-regulators:2:1": waste_efficiency_and_stiffness,
    "compare-regulators:3:1": simplest_that_serves,
}
