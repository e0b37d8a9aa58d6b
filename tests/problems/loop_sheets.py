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


LOOPS: dict[str, Callable[[], Sheet]] = {
    "opamp-series:1:1": output_and_drive,
    "opamp-series:2:1": lowest_line_and_heat,
    "opamp-series:3:1": divider_gain_and_line,
}
