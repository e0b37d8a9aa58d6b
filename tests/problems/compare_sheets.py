"""Problems of three regulators side by side worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def zener_of_shunt_and_follower() -> Sheet:
    """compare-regulators:1:1: 10 V from 20 V, 1 mA to 50 mA, 4 mA left for either zener at full load, gain 75."""
    base = 0.05 / 76  # 658 uA at full load
    i_r = base + 0.004  # 4.66 mA, and that is all the follower's zener can ever be given
    return Sheet(
        {"V_I": 20, "V_O": 10, "I_L_MIN": 0.001, "I_L_MAX": 0.05, "I_ZK": 0.004, "V_BE": 0.6, "h_FE": 75},
        {
            "I_R_2": i_r,
            "P_Z_1": 10 * (0.05 + 0.004 - 0.001),  # 49 mA of the load's come back to the zener: 530 mW
            "P_Z_2": 10.6 * (i_r - 0.001 / 76),  # 10.6 V, 4.64 mA: 49.2 mW
        },
    )


def waste_efficiency_and_stiffness() -> Sheet:
    """compare-regulators:2:1: 7.5 V from 11.5 V to 14.5 V, up to 150 mA; 18 Ω, 330 Ω and 1.8 kΩ from the line."""
    drawn = 7 / 18  # the shunt draws 389 mA at 14.5 V, whatever the load
    zener = (14.5 - 8.15) / 330 - 0.15 / 61  # the follower's zener at full load: 16.78 mA
    reference = 7.5 * 2200 / 4900  # 3.367 V
    third = 0.15 + 7.5 / 4900 + (14.5 - reference) / 1800  # load, divider and zener: 157.7 mA
    loop = 1 + 200 * 2200 / 4900  # 90.8
    return Sheet(
        {
            "V_I_MIN": 11.5, "V_I_MAX": 14.5, "V_O": 7.5, "I_L_MIN": 0, "I_L_MAX": 0.15, "V_BE": 0.65, "h_FE": 60,
            "R_FEED_1": 18, "R_FEED_2": 330, "R_FEED_3": 1800, "R_1": 2700, "R_2": 2200, "A": 200, "R_O": 75, "r_z": 12,
        },
        {
            "P_D_1_MAX": 14.5 * drawn,  # nothing connected: all 5.64 W of it
            "P_D_2_MAX": 7 * 0.15 + 14.5 * zener,  # full load: 1.05 W in the path of the load, 243 mW beside it
            "P_D_3_MAX": 14.5 * third - 7.5 * 0.15,
            "eta_1": 7.5 * 0.15 / (14.5 * drawn),
            "eta_2": 7.5 * 0.15 / (14.5 * (0.15 + zener)),
            "R_OUT_1": 18 * 12 / 30,
            "R_OUT_2": 330 * 12 / 342 / 61,
            "R_OUT_3": 75 / 61 / loop,
        },
    )  # fmt: skip


def simplest_that_serves() -> Sheet:
    """compare-regulators:3:1: 9 V from 12 V to 15 V, 10 mA to 180 mA; 20 Ω at most, zeners of half a watt and 8 mA."""
    first = 3 / 0.188  # 15.96 Ω
    hot = 9 * (6 / first - 0.01)  # 376 mA less 10 mA: 3.29 W, and a smaller resistor only makes it more
    second = (12 - 9.6) / (0.18 / 51 + 0.008)  # 2.4 V at 11.53 mA: 208 Ω
    warm = 9.6 * ((15 - 9.6) / second - 0.01 / 51)  # 25.75 mA: 247 mW
    assert hot > 0.5 > warm  # so no resistor serves the shunt, stiff enough as it is, and the follower will do
    return Sheet(
        {
            "V_I_MIN": 12, "V_I_MAX": 15, "V_O": 9, "I_L_MIN": 0.01, "I_L_MAX": 0.18, "R_OUT_MAX": 20, "I_ZK": 0.008,
            "P_ZM": 0.5, "r_z": 10, "V_BE": 0.6, "h_FE": 50, "R_1": 2700, "R_2": 5600, "A": 50, "R_O": 50,
        },
        {
            "R_FEED_1_MAX": first,
            "P_Z_1_MAX": hot,
            "R_FEED_2_MAX": second,
            "P_Z_2_MAX": warm,
            "R_OUT_1": first * 10 / (first + 10),  # 6.15 Ω
            "R_OUT_2": second * 10 / (second + 10) / 51,  # 0.187 Ω
            "R_OUT_3": 50 / 51 / (1 + 50 * 5600 / 8300),
        },
        state="the emitter follower is the simplest that serves",
    )  # fmt: skip


COMPARED: dict[str, Callable[[], Sheet]] = {
    "compare-regulators:1:1": zener_of_shunt_and_follower,
    "compare-regulators:2:1": waste_efficiency_and_stiffness,
    "compare-regulators:3:1": simplest_that_serves,
}
