"""Problems of the Darlington pair and of foldback worked by hand: plain arithmetic, nothing of the engine.

Sources as in `test_by_hand.py`. E24 values: IEC 60063:2015.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def two_junctions_and_two_gains() -> Sheet:
    """darlington:1:1: 8.2 V, 0.65 V twice, 1.8 A, gains of 40 and 15."""
    i_b_2 = 1.8 / 16  # 112.5 mA
    return Sheet(
        {"V_Z": 8.2, "V_BE_1": 0.65, "V_BE_2": 0.65, "I_L": 1.8, "h_FE_1": 40, "h_FE_2": 15},
        {"V_O": 8.2 - 0.65 - 0.65, "I_B_2": i_b_2, "I_B_1": i_b_2 / 41},  # 6.9 V; 2.74 mA
    )


def resistor_for_every_pair() -> Sheet:
    """darlington:2:1: 10 V to 12 V, 7.5 V of half a watt, up to 2 A, gains from 30 and 25, 5 mA at least, 5 %."""
    v_o = 7.5 - 2 * 0.65
    i_b = 2 / (31 * 26)  # the lowest gains: 2.48 mA
    r_max = (10 - 7.5) / (i_b + 0.005)  # 334 Ω
    r_min = (12 - 7.5) / (0.5 / 7.5)  # load unplugged, 66.7 mA: 67.5 Ω
    assert 75 * 0.95 >= r_min > 68 * 0.95 and 300 * 1.05 <= r_max < 330 * 1.05
    return Sheet(
        {
            "V_I_MIN": 10, "V_I_MAX": 12, "V_Z": 7.5, "P_ZM": 0.5, "V_BE_1": 0.65, "V_BE_2": 0.65, "I_L_MIN": 0,
            "I_L_MAX": 2, "h_FE_1_MIN": 30, "h_FE_1_MAX": 120, "h_FE_2_MIN": 25, "h_FE_2_MAX": 100, "I_ZK": 0.005,
            "tol_R": 0.05,
        },
        {
            "V_O": v_o,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 300,
            "P_Q_2_MAX": (12 - v_o) * 2 * 100 / 101,  # highest line, fullest load, most of it through the collector
        },
        {"R": (75, 82, 91, 100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300)},
    )  # fmt: skip


def least_driver_and_lowest_line() -> Sheet:
    """darlington:3:1: 25 V through 2.2 kΩ, 16 V, 1.5 A, a pass transistor of 25, 2 mA at least, a driver of 75."""
    i_b = (25 - 16) / 2200 - 0.002  # 4.09 mA through R, 2 mA stay with the zener: 2.09 mA
    return Sheet(
        {
            "V_I": 25, "R": 2200, "V_Z": 16, "V_BE_1": 0.65, "V_BE_2": 0.65, "I_L": 1.5, "I_ZK": 0.002, "h_FE_2": 25,
            "h_FE_1": 75, "V_CE_SAT": 0.5,
        },
        {
            "V_O": 16 - 0.65 - 0.65,
            "h_FE_1_MIN": 1.5 / 26 / i_b - 1,  # 57.7 mA to be given from 2.09 mA: 27.6, one of it the base itself
            "V_I_MIN": 16 + 2200 * (1.5 / 26 / 76 + 0.002),  # 0.759 mA and 2 mA through 2.2 kΩ: 6.07 V
        },
    )  # fmt: skip


def knee_and_short() -> Sheet:
    """limit-foldback:1:1: 15 V, 10 V at the knee, 0.7 V, 4.3 Ω, 220 Ω over 680 Ω."""
    a = 220 / 680
    short = 0.7 * (1 + a)  # 0.926 V across the sense resistor
    return Sheet(
        {"V_I": 15, "V_KNEE": 10, "V_BE_2": 0.7, "R_SENSE": 4.3, "R_A": 220, "R_B": 680},
        {
            "I_KNEE": (short + 10 * a) / 4.3,  # 3.235 V more with the output there: 968 mA
            "I_SC": short / 4.3,  # 215 mA
            "P_Q_1": (15 - short) * short / 4.3,  # 14.07 V at 215 mA
        },
    )


def summit_on_the_way_down() -> Sheet:
    """limit-foldback:2:1: 18 V, from 14 V to a short, 0.6 V, 3.9 Ω, 130 Ω over 1 kΩ."""
    a = 0.13
    short = 0.6 * (1 + a)
    # With v at the output: V_CE = 18 - 1.13 (v + 0.6), I = (0.678 + 0.13 v)/3.9; the product's slope is nothing where
    # 0.13 (17.322 - 1.13 v) = 1.13 (0.678 + 0.13 v).
    v = (a * (18 - short) - (1 + a) * short) / (2 * a * (1 + a))  # 5.06 V
    assert 0 < v < 14
    return Sheet(
        {"V_I": 18, "V_O_MIN": 0, "V_O_MAX": 14, "V_BE_2": 0.6, "R_SENSE": 3.9, "R_A": 130, "R_B": 1000},
        {
            "I_KNEE": (short + 14 * a) / 3.9,
            "I_SC": short / 3.9,
            "P_Q_1_MAX": (18 - short - (1 + a) * v) * (short + a * v) / 3.9,  # 11.61 V at 342 mA: 3.97 W
        },
    )


def foldback_from_two_currents() -> Sheet:
    """limit-foldback:3:1: 19 V, 12 V and 1 A at the knee, 300 mA into a short, 0.6 V, 1 kΩ below."""
    r_nom = 0.6 / (0.3 - 0.6 * 0.7 / 12)  # of 300 mA 35 mA are the divider's doing: 2.264 Ω
    assert 2.2 < r_nom < (2.2 + 2.4) / 2
    r_a_nom = 1000 * (1 * 2.2 - 0.6) / 12.6  # 1.6 V above, 12.6 V below: 127 Ω
    assert 125 < r_a_nom < 130
    a = 0.13
    short = 0.6 * (1 + a)
    v = (a * (19 - short) - (1 + a) * short) / (2 * a * (1 + a))  # 5.50 V: the summit
    return Sheet(
        {
            "V_I": 19, "V_KNEE": 12, "V_O_MIN": 0, "V_O_MAX": 12, "V_BE_2": 0.6, "I_KNEE_NOM": 1, "I_SC_NOM": 0.3,
            "R_B": 1000, "P_QM": 12,
        },
        {
            "R_SENSE_NOM": r_nom, "R_SENSE": 2.2, "R_A_NOM": r_a_nom, "R_A": 130, "I_SC": short / 2.2,
            "P_Q_1_MAX": (19 - short - (1 + a) * v) * (short + a * v) / 2.2,
        },
        {"R_SENSE": (2.2,), "R_A": (130,)},
    )  # fmt: skip


PAIR: dict[str, Callable[[], Sheet]] = {
    "darlington:1:1": two_junctions_and_two_gains,
    "darlington:2:1": resistor_for_every_pair,
    "darlington:3:1": least_driver_and_lowest_line,
    "limit-foldback:1:1": knee_and_short,
    "limit-foldback:2:1": summit_on_the_way_down,
    "limit-foldback:3:1": foldback_from_two_currents,
}
