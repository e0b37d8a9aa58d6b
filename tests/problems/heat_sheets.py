"""Problems of heat and of limits worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`, and the definition of thermal resistance: rise of temperature over flow of heat
(IEC 60747-1, from memory). The heat-sinks are those of the list in the statement.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet

SINKS = (0.6, 0.9, 1.5, 2.2, 3.5, 5.0, 8.0, 12.0, 18.0, 25.0)


def temperatures_down_the_path() -> Sheet:
    """heat-sink:1:1: 8 W over 2.5 K/W, 0.6 K/W and 12 K/W into air of 30 °C, 175 °C at most."""
    t_s = 30 + 8 * 12  # 96 K above the air
    t_c = t_s + 8 * 0.6  # 4.8 K more across the joint
    return Sheet(
        {
            "P_D": 8, "R_thJC": 2.5, "R_thCS": 0.6, "R_thSA": 12, "R_thJA": 62.5, "T_A": 30, "T_JM": 175, "P_QM": 60,
        },
        {"T_S": t_s, "T_C": t_c, "T_J": t_c + 8 * 2.5, "P_D_MAX": (175 - 30) / (2.5 + 0.6 + 12)},  # 145 K over 15.1 K/W
    )  # fmt: skip


def hottest_junction() -> Sheet:
    """heat-sink:2:1: 12 V from 19.5 V to 21.5 V, up to 1 A, 1 + 0.8 + 5 K/W, air of up to 45 °C, 125 °C at most."""
    p = (21.5 - 12) * 1  # highest line, fullest load: 9.5 W
    t_s = 45 + p * 5  # 47.5 K above the hottest air
    t_j = t_s + p * (0.8 + 1)  # 17.1 K more: 109.6 °C, 15.4 K below the limit
    return Sheet(
        {
            "V_I_MIN": 19.5, "V_I_MAX": 21.5, "V_O": 12, "I_L_MIN": 0.1, "I_L_MAX": 1, "R_thJC": 1, "R_thCS": 0.8,
            "R_thSA": 5, "T_A_MIN": 5, "T_A_MAX": 45, "T_JM": 125,
        },
        {"P_D_MAX": p, "T_S_MAX": t_s, "T_J_MAX": t_j},
        state="the junction stays within its limit at every corner",
    )  # fmt: skip


def heat_sink_for_a_large_case() -> Sheet:
    """heat-sink:3:4: 12 V from up to 29.5 V, up to 500 mA, air of up to 55 °C, 150 °C at most, 20 or 4 K/W of case."""
    p = (29.5 - 12) * 0.5  # 8.75 W
    budget = (150 - 55) / p  # 95 K for 8.75 W: 10.86 K/W in all
    small, large = budget - 20 - 0.8, budget - 4 - 0.8  # -9.94 K/W: none can do it; 6.06 K/W
    assert small < 0 < large
    fits = tuple(value for value in SINKS if value <= large)  # 5 K/W will do, 8 K/W not
    return Sheet(
        {
            "V_I_MIN": 25.5, "V_I_MAX": 29.5, "V_O": 12, "I_L_MIN": 0.1, "I_L_MAX": 0.5, "R_thJC_1": 20, "R_thJC_2": 4,
            "R_thCS": 0.8, "T_A_MIN": 10, "T_A_MAX": 55, "T_JM": 150,
        },
        {
            "P_D_MAX": p,
            "R_thSA_1_MAX": small,
            "T_J_1_MAX": 55 + p * (20 + 0.8),  # 237 °C with the heat-sink at the air's own 55 °C
            "R_thSA_2_MAX": large,
            "R_thSA": 5,
            "T_J_2_MAX": 55 + p * (4 + 0.8 + 5),  # 85.75 K above the air: 140.75 °C
        },
        {"R_thSA": fits},
        state="no heat-sink whatever can save the small case",
    )  # fmt: skip


def sense_resistor_and_short() -> Sheet:
    """limit-constant:1:1: 9 V from 17.5 V, limited at 800 mA by a junction of 0.65 V."""
    return Sheet(
        {"V_I": 17.5, "V_O_NOM": 9, "V_BE_2": 0.65, "I_LIM": 0.8},
        {
            "R_SENSE": 0.65 / 0.8,  # 812.5 mOhm
            "P_SENSE": 0.65 * 0.8,  # 520 mW
            "P_Q_1": (17.5 - 0 - 0.65) * 0.8,  # shorted, 16.85 V stand across it: 13.48 W
        },
    )


def limits_hot_and_cold() -> Sheet:
    """limit-constant:2:1: 0.47 Ω, a limiter of 0.6 V hot and 0.7 V cold, 10 V from up to 21.5 V, 1.5 V needed."""
    most = 0.7 / 0.47  # cold: 1.489 A
    p = (21.5 - 0.7) * most  # 20.8 V at 1.489 A: 31 W, and 15 W are borne
    assert p > 15
    return Sheet(
        {
            "V_I_MAX": 21.5, "V_O_NOM": 10, "V_BE_2_MIN": 0.6, "V_BE_2_MAX": 0.7, "R_SENSE": 0.47, "V_CE_1_MIN": 1.5,
            "P_QM": 15,
        },
        {"I_LIM_MIN": 0.6 / 0.47, "I_LIM_MAX": most, "V_I_MIN": 10 + 0.7 + 1.5, "P_Q_1_MAX": p},
        state="a lasting short destroys it",
    )  # fmt: skip


def sense_resistor_between_load_and_short() -> Sheet:
    """limit-constant:3:1: 400 mA from 14.5 V to 16.5 V, junction 0.57 V to 0.65 V, 10 W borne, 5 %."""
    r_max = 0.57 / 0.4  # hot: 1.425 Ω still lets 400 mA through
    i_most = 10 / (16.5 - 0.65)  # 15.85 V in a short: 10 W at 631 mA
    r_min = 0.65 / i_most  # cold: 1.03 Ω
    assert 1.1 * 0.95 >= r_min > 1.0 * 0.95  # from 1.1 Ω
    assert 1.3 * 1.05 <= r_max < 1.5 * 1.05  # to 1.3 Ω
    p_sense = 0.65**2 / 1.3  # 325 mW
    assert 0.25 < 1.5 * p_sense <= 0.5  # 488 mW of rating wanted
    return Sheet(
        {
            "V_I_MIN": 14.5, "V_I_MAX": 16.5, "V_O_NOM": 9, "I_L_MAX": 0.4, "V_BE_2_MIN": 0.57, "V_BE_2_MAX": 0.65,
            "V_CE_1_MIN": 1, "P_QM": 10, "tol_R": 0.05,
        },
        {
            "R_SENSE_MAX": r_max, "R_SENSE_MIN": r_min, "R_SENSE": 1.3, "P_SENSE_MAX": p_sense, "P_RM": 0.5,
            "P_Q_1_MAX": (16.5 - 0.65) * 0.65 / 1.3,  # 500 mA: 7.93 W
        },
        {"R_SENSE": (1.1, 1.2, 1.3), "P_RM": (0.5, 1, 2, 5, 10)},
    )  # fmt: skip


def heat_at_a_stiff_line() -> Sheet:
    """pass-heat:1:1: 15 V from 18 V to 23 V, 800 mA, 2.5 + 0.4 + 2.2 K/W, air of 35 °C."""
    p = (23 - 15) * 0.8  # highest line: 6.4 W
    return Sheet(
        {
            "V_I_MIN": 18, "V_I_MAX": 23, "V_O": 15, "I_L": 0.8, "R_thJC": 2.5, "R_thCS": 0.4, "R_thSA": 2.2, "T_A": 35,
        },
        {"P_D_MAX": p, "eta_MIN": 15 / 23, "T_J_MAX": 35 + p * 5.1},  # 12 W of 18.4 W; 32.6 K above the air
    )  # fmt: skip


def heat_before_full_load() -> Sheet:
    """pass-heat:2:2: 21.5 V behind 12 Ω, 12 V out, 50 mA to 600 mA."""
    worst = (21.5 - 12) / (2 * 12)  # half of what a short of the regulator would draw: 396 mA, inside the range
    assert 0.05 < worst < 0.6
    p = (21.5 - 12 * worst - 12) * worst  # 4.75 V left at 396 mA: 1.880 W
    assert p > (21.5 - 12 * 0.6 - 12) * 0.6  # at full load 2.3 V are left: 1.38 W
    return Sheet(
        {"V_OC": 21.5, "R_S": 12, "V_O": 12, "I_L_MIN": 0.05, "I_L_MAX": 0.6},
        {"V_I_MIN": 21.5 - 0.6 * 12, "P_D_MAX": p, "P_R_MAX": 0.6**2 * 12, "eta": 12 / 21.5},
    )


def resistor_that_shares_the_heat() -> Sheet:
    """pass-heat:3:1: 12 V from 25.5 V to 27 V, up to 600 mA, 1.5 V needed, 3.3 W carried off, 5 %."""
    r_max = (25.5 - 12 - 1.5) / 0.6  # lowest line, fullest load: 12 V for the resistor at 600 mA: 20 Ω
    r_min = (27 - 12) ** 2 / (4 * 3.3)  # the summit 15 V · 15 V/(4 R) is 3.3 W at 17.05 Ω
    assert 15 / (2 * r_min) < 0.6  # it lies at 440 mA, inside the range
    assert 18 * 0.95 >= r_min > 16 * 0.95 and 18 * 1.05 <= r_max < 20 * 1.05  # 18 Ω alone
    p_r = 0.6**2 * 18  # 6.48 W
    assert 5 < 1.5 * p_r <= 10  # 9.72 W of rating wanted
    return Sheet(
        {
            "V_OC_MIN": 25.5, "V_OC_MAX": 27, "V_O": 12, "V_DROP": 1.5, "I_L_MIN": 0, "I_L_MAX": 0.6, "P_QM": 3.3,
            "tol_R": 0.05,
        },
        {
            "R_S_MAX": r_max, "R_S_MIN": r_min, "R_S": 18, "P_R_MAX": p_r, "P_RM": 10,
            "P_D_MAX": 15**2 / (4 * 18),  # the summit with 18 Ω: 3.125 W at 417 mA
        },
        {"R_S": (18,), "P_RM": (10, 20, 50)},
    )  # fmt: skip


HEAT: dict[str, Callable[[], Sheet]] = {
    "heat-sink:1:1": temperatures_down_the_path,
    "heat-sink:2:1": hottest_junction,
    "heat-sink:3:4": heat_sink_for_a_large_case,
    "pass-heat:1:1": heat_at_a_stiff_line,
    "pass-heat:2:2": heat_before_full_load,
    "pass-heat:3:1": resistor_that_shares_the_heat,
    "limit-constant:1:1": sense_resistor_and_short,
    "limit-constant:2:1": limits_hot_and_cold,
    "limit-constant:3:1": sense_resistor_between_load_and_short,
}
