"""Problems of three-terminal regulators worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`: Ohm's law, Kirchhoff's two laws, power as voltage across times current through; a
regulator that holds its reference between output and adjust pin. E24 and E96: IEC 60063:2015.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def output_of_two_resistors() -> Sheet:
    """three-terminal:1:1: 1.25 V across 300 ohm, 80 uA more through 2.4 kilo-ohm."""
    upper = 1.25 / 300  # 4.167 mA
    lower = upper + 80e-6  # 4.247 mA
    return Sheet(
        {"V_I": 32, "V_REF": 1.25, "I_ADJ": 80 * 1e-6, "V_DROP": 3, "R_1": 300, "R_2": 2400},
        {"I_DIV": upper, "I_LOWER": lower, "V_O": 1.25 + lower * 2400},  # 10.19 V on top of the reference: 11.44 V
    )


def every_sample_of_the_type() -> Sheet:
    """three-terminal:2:1: references of 1.2 V to 1.28 V, 360 ohm over 2.2 kilo-ohm, 16 V, 50 mA."""
    low_divider = 1.2 / 360  # 3.333 mA
    low = 1.2 + (low_divider + 40e-6) * 2200  # 8.621 V
    high = 1.28 + (1.28 / 360 + 40e-6) * 2200  # 9.190 V
    # The lowest output leaves the regulator most; its pin's current falls as far as the pin, one reference lower.
    heat = (16 - low) * (0.05 + low_divider) + (16 - low + 1.2) * 40e-6
    return Sheet(
        {
            "V_I": 16, "V_REF_MIN": 1.2, "V_REF_MAX": 1.28, "I_ADJ": 40 * 1e-6, "V_DROP": 2.5, "I_REG_MIN": 0.005,
            "R_1": 360, "R_2": 2200, "I_L": 0.05,
        },
        {
            "V_O_MIN": low,
            "V_O_MAX": high,
            "I_L_MIN": 0.005 - low_divider,  # 1.667 mA are missing
            "V_I_MIN": high + 2.5,  # 11.69 V
            "P_D_MAX": heat,  # 394 mW
        },
    )  # fmt: skip


def both_resistors() -> Sheet:
    """three-terminal:3:1: 16.7 V to 19.3 V from 28 V to 30 V, references of 1.22 V to 1.3 V, 2 mA to 4 mA, 1 %."""
    r_1_max = 1.22 / 0.002  # the lowest reference must still drive 2 mA: 610 ohm
    r_1_min = 1.3 / 0.004  # the highest may drive no more than 4 mA: 325 ohm
    assert 330 * 0.99 >= r_1_min > 300 * 0.99  # 326.7 ohm is enough, 297 ohm is not: from 330 ohm
    assert 560 * 1.01 <= r_1_max < 620 * 1.01  # 565.6 ohm feeds, 626 ohm does not: to 560 ohm
    r_2_min = (16.7 - 1.22) / (1.22 / (560 * 1.01) + 40e-6)  # 15.48 V at 2.197 mA
    r_2_max = (19.3 - 1.3) / (1.3 / (560 * 0.99) + 40e-6)  # 18 V at 2.385 mA
    assert 7150 * 0.99 >= r_2_min > 6980 * 0.99  # 7.079 kilo-ohm is enough, 6.910 is not: from 7.15 kilo-ohm
    assert 7320 * 1.01 <= r_2_max < 7500 * 1.01  # 7.393 kilo-ohm still is, 7.575 is not: to 7.32 kilo-ohm
    divider = 1.22 / 560  # 2.179 mA at the lowest reference
    output = 1.22 + (divider + 40e-6) * 7150  # 17.08 V
    return Sheet(
        {
            "V_O_MIN": 16.7, "V_O_MAX": 19.3, "V_I_MIN": 28, "V_I_MAX": 30, "I_L": 0.75, "V_REF_MIN": 1.22,
            "V_REF_MAX": 1.3, "I_ADJ": 40 * 1e-6, "V_DROP": 2.5, "I_REG_MIN": 0.002, "I_DIV_MAX": 0.004, "tol_R": 0.01,
        },
        {
            "R_1_MAX": r_1_max,
            "R_1_MIN": r_1_min,
            "R_1": 560,  # the largest that fits
            "R_2_MIN": r_2_min,
            "R_2_MAX": r_2_max,
            "R_2": 7150,  # the smallest that fits
            "P_D_MAX": (30 - output) * (0.75 + divider) + (30 - output + 1.22) * 40e-6,  # 9.72 W
        },
        {"R_1": (330, 360, 390, 430, 470, 510, 560), "R_2": (7150, 7320)},
    )  # fmt: skip


TERMINALS: dict[str, Callable[[], Sheet]] = {
    "three-terminal:1:1": output_of_two_resistors,
    "three-terminal:2:1": every_sample_of_the_type,
    "three-terminal:3:1": both_resistors,
}
