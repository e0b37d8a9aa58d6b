"""Problems of three regulators side by side worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def zener_of_shunt_and_follower() -> Sheet:
    """compare-regulators:1:1: 12 V from 15 V, 2 mA to 50 mA, 4 mA left for either zener at full load, gain 80."""
    base = 0.05 / 81  # 617 uA at full load
    i_r = base + 0.004  # 4.62 mA, and that is all the follower's zener can ever be given
    return Sheet(
        {"V_I": 15, "V_O": 12, "I_L_MIN": 0.002, "I_L_MAX": 0.05, "I_ZK": 0.004, "V_BE": 0.6, "h_FE": 80},
        {
            "I_R_2": i_r,
            "P_Z_1": 12 * (0.05 + 0.004 - 0.002),  # 48 mA of the load's come back to the zener: 624 mW
            "P_Z_2": 12.6 * (i_r - 0.002 / 81),  # 12.6 V, 4.59 mA: 57.9 mW
        },
    )


def waste_efficiency_and_stiffness() -> Sheet:
    """compare-regulators:2:1: 15 V from 19 V to 21 V, 2 mA to 60 mA; 62 Ω, 390 Ω and 1.8 kΩ from the line."""
    drawn = 6 / 62  # the shunt draws 96.8 mA at 21 V, whatever the load
    zener = (21 - 15.6) / 390 - 0.06 / 41  # the follower's zener at full load: 12.38 mA
    reference = 15 * 6800 / 16800  # 6.07 V
    third = 0.06 + 15 / 16800 + (21 - reference) / 1800  # load, divider and zener: 69.2 mA
    loop = 1 + 1000 * 6800 / 16800  # 405.8
    return Sheet(
        {
            "V_I_MIN": 19, "V_I_MAX": 21, "V_O": 15, "I_L_MIN": 0.002, "I_L_MAX": 0.06, "V_BE": 0.6, "h_FE": 40,
            "R_FEED_1": 62, "R_FEED_2": 390, "R_FEED_3": 1800, "R_1": 10000, "R_2": 6800, "A": 1000, "R_O": 100,
            "r_z": 4,
        },
        {
            "P_D_1_MAX": 21 * drawn - 15 * 0.002,  # lightest load: 2.03 W less 30 mW
            "P_D_2_MAX": 6 * 0.06 + 21 * zener,  # full load: 360 mW in the path of the load, 260 mW beside it
            "P_D_3_MAX": 21 * third - 15 * 0.06,
            "eta_1": 15 * 0.06 / (21 * drawn),
            "eta_2": 15 * 0.06 / (21 * (0.06 + zener)),
            "R_OUT_1": 62 * 4 / 66,
            "R_OUT_2": 390 * 4 / 394 / 41,
            "R_OUT_3": 100 / 41 / loop,
        },
    )  # fmt: skip


def simplest_that_serves() -> Sheet:
    """compare-regulators:3:1: 12 V from 15 V to 20 V, up to 60 mA; 5 Ω at most, zeners of 1.3 W and 8 mA."""
    first = 3 / 0.068  # 44.1 Ω
    hot = 12 * 8 / first  # 181 mA with nothing connected: 2.18 W, and a smaller resistor only makes it more
    second = (15 - 12.6) / (0.06 / 31 + 0.008)  # 2.4 V at 9.94 mA: 242 Ω
    warm = 12.6 * (20 - 12.6) / second  # 30.6 mA: 386 mW
    assert hot > 1.3 > warm  # so no resistor serves the shunt, stiff enough as it is, and the follower will do
    return Sheet(
        {
            "V_I_MIN": 15, "V_I_MAX": 20, "V_O": 12, "I_L_MIN": 0, "I_L_MAX": 0.06, "R_OUT_MAX": 5, "I_ZK": 0.008,
            "P_ZM": 1.3, "r_z": 4, "V_BE": 0.6, "h_FE": 30, "R_1": 10000, "R_2": 6800, "A": 200, "R_O": 50,
        },
        {
            "R_FEED_1_MAX": first,
            "P_Z_1_MAX": hot,
            "R_FEED_2_MAX": second,
            "P_Z_2_MAX": warm,
            "R_OUT_1": first * 4 / (first + 4),  # 3.67 Ω
            "R_OUT_2": second * 4 / (second + 4) / 31,  # 0.127 Ω
            "R_OUT_3": 50 / 31 / (1 + 200 * 6800 / 16800),
        },
        state="the emitter follower is the simplest that serves",
    )  # fmt: skip


COMPARED: dict[str, Callable[[], Sheet]] = {
    "compare-regulators:1:1": zener_of_shunt_and_follower,
    "compare-regulators:2:1": waste_efficiency_and_stiffness,
    "compare-regulators:3:1": simplest_that_serves,
}
