"""Problems of the whole supply worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`; a bridge tops its reservoir up twice a cycle and puts two diodes in the way; by charge
balance over a small angle the pulses through R_W take φ²/2 off the crest, φ³ = 3π·R_W·I_L/(2·crest); rise of
temperature over flow of heat is thermal resistance.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt

from tests.problems.sheet_by_hand import Sheet

SINKS = (0.6, 0.9, 1.5, 2.2, 3.5, 5.0, 8.0, 12.0, 18.0, 25.0)


def head_room_in_the_trough() -> Sheet:
    """mains-to-rail:1:1: 7 V of winding, 50 Hz, 0.8 V a diode, 6800 µF, 1 A, a regulator of 5 V that needs 1.5 V."""
    crest = sqrt(2) * 7 - 2 * 0.8  # 9.90 V less two diodes: 8.30 V
    trough = crest - 1 / (100 * 6.8e-3)  # 100 top-ups a second: 1.47 V of ripple, 6.83 V
    return Sheet(
        {"V_SEC": 7, "V_F": 0.8, "f": 50, "C": 6.8e-3, "I_L": 1, "V_O": 5, "V_DROP": 1.5},
        {"V_PK": crest, "V_TROUGH": trough, "V_HEAD": trough - 5},  # 1.83 V, enough
    )


def from_winding_to_junction() -> Sheet:
    """mains-to-rail:2:1: 108 V to 132 V over 6.47, 0.6 Ω, 4700 µF, a zener of 15 V, a gain of 100, up to 1 A."""
    low, high = 108 / 6.47, 132 / 6.47  # 16.69 V and 20.40 V of winding

    def mean(winding: float) -> float:
        crest = sqrt(2) * winding
        phi = (3 * pi * 0.6 * 1 / (2 * crest)) ** (1 / 3)  # some 0.5 rad of pulse on either side of the crest
        return crest * (1 - phi**2 / 2) - 2 * 0.8

    ripple = 1 / (120 * 4.7e-3)  # 120 top-ups a second: 1.77 V
    trough = mean(low) - ripple / 2  # 18.25 V
    highest = sqrt(2) * high - 2 * 0.8  # 27.25 V with nothing drawn
    assert 25 < 1.25 * highest <= 35
    r_max = (trough - 15) / (1 / 101 + 0.002)  # 3.25 V for 9.90 mA of base and 2 mA of zener: 273 Ω
    i_zm = 1 / 15  # 66.7 mA
    r_min = (highest - 15) / i_zm  # 12.25 V for all that the zener may carry: 184 Ω
    assert 190 * 0.95 < r_min <= 200 * 0.95 and 240 * 1.05 <= r_max < 270 * 1.05
    power = (mean(high) - 14.3) * 1 * 100 / 101  # collector current, 9.79 W
    return Sheet(
        {
            "V_PRI_NOM": 120, "V_PRI_MIN": 108, "V_PRI_MAX": 132, "N_T": 6.47, "R_W": 0.6, "f": 60, "V_F": 0.8,
            "C": 4.7e-3, "V_Z": 15, "P_ZM": 1, "I_ZK": 0.002, "V_BE": 0.7, "h_FE": 100, "tol_R": 0.05, "I_L_MIN": 0,
            "I_L_MAX": 1, "R_thJC": 1.9, "R_thCS": 0.8, "R_thSA": 1.5, "T_A": 45, "T_JM": 150,
        },
        {
            "V_TROUGH_MIN": trough, "V_PK_MAX": highest, "V_CM": 35, "R_MAX": r_max, "I_ZM": i_zm, "R_MIN": r_min,
            "R": 240, "P_Q_MAX": power, "T_J_MAX": 45 + power * (1.9 + 0.8 + 1.5),  # 41.1 K above the air
        },
        {"V_CM": (35, 50, 63), "R": (200, 220, 240)},
    )  # fmt: skip


def backwards_to_the_winding() -> Sheet:
    """mains-to-rail:3:1: 15 V for 50 mA to 1.2 A from 195.5 V to 253 V, 2.5 V of ripple, 4.5 V of head room."""
    c_min = 1.2 / (100 * 2.5)  # 4800 µF; 6800 µF less a fifth is 5440 µF
    crest = 15 + 4.5 + 1.2 / (100 * 5.44e-3)  # 2.21 V of ripple at worst: 21.7 V
    least = (crest + 2 * 0.8) / sqrt(2)  # 16.48 V at 195.5 V of mains
    rated = least * 230 / 195.5  # 19.39 V: a winding of 20 V
    highest = sqrt(2) * 20 * 253 / 230 - 2 * 0.8  # 29.5 V; 36.9 V with the margin
    power = (highest - 1.2 / (200 * 6.8e-3) - 15) * 1.2  # mean half a ripple below: 13.63 V over the output, 16.4 W
    sink = (125 - 60) / power - 1 - 1  # 1.97 K/W
    return Sheet(
        {
            "V_PRI_NOM": 230, "V_PRI_MIN": 195.5, "V_PRI_MAX": 253, "f": 50, "V_F": 0.8, "V_O": 15, "V_HEAD_MIN": 4.5,
            "V_RIP_MAX": 2.5, "tol_C": 0.2, "C_MAX": 0.01, "I_L_MIN": 0.05, "I_L_MAX": 1.2, "R_thJC": 1, "R_thCS": 1,
            "T_A_MIN": 10, "T_A_MAX": 60, "T_JM": 125,
        },
        {
            "C_MIN": c_min, "C": 6.8e-3, "V_SEC_MIN": least, "V_SEC_NOM": rated, "V_SEC_1": 20, "V_PK_MAX": highest,
            "V_CM": 50, "P_D_MAX": power, "R_thSA_MAX": sink, "R_thSA": 1.5,
        },
        {"C": (6.8e-3,), "V_SEC_1": (20, 22), "V_CM": (50, 63), "R_thSA": tuple(v for v in SINKS if v <= sink)},
    )  # fmt: skip


def winding_between_two_bounds() -> Sheet:
    """design-brief:1:1: 5 V for up to 800 mA, 3300 µF, 4 V of head room, 7.5 K/W to air of 45 °C, 207 V to 253 V."""
    crest = 5 + 4 + 0.8 / (100 * 2.64e-3) + 2 * 1  # 3.03 V of ripple at the least reservoir: 14.03 V
    least = crest / sqrt(2) * 230 / 207  # 9.92 V at the lowest line: 11.02 V as rated
    heat = (150 - 45) / (5 + 0.3 + 2.2)  # 14 W
    mean = 5 + heat / 0.8  # 22.5 V
    most = (mean + 0.8 / (200 * 3.3e-3) + 2 * 1) / sqrt(2) * 230 / 253  # 18.18 V at the highest line: 16.53 V
    return Sheet(
        {
            "V_PRI_NOM": 230, "V_PRI_MIN": 207, "V_PRI_MAX": 253, "f": 50, "V_F": 1, "C": 3.3e-3, "tol_C": 0.2,
            "V_O": 5, "V_HEAD_MIN": 4, "I_L_MIN": 0.05, "I_L_MAX": 0.8, "R_thJC": 5, "R_thCS": 0.3, "R_thSA": 2.2,
            "T_A_MIN": 15, "T_A_MAX": 45, "T_JM": 150,
        },
        {"V_SEC_1_MIN": least, "V_SEC_1_MAX": most, "V_SEC_1": 12},
        {"V_SEC_1": (12, 14, 15, 16)},
    )  # fmt: skip


def three_parts_of_a_supply() -> Sheet:
    """design-brief:2:1: 16 V of winding, a zener of 12 V, up to 750 mA, 2.5 V of head room, 108 V to 132 V."""
    low, high = sqrt(2) * 16 * 108 / 120 - 2, sqrt(2) * 16 * 132 / 120 - 2  # 18.4 V and 22.9 V
    c_min = 0.75 / (120 * (low - (12 * 1.05 - 0.7 + 2.5)))  # 3.97 V may be lost: 1576 µF; 2200 µF less a fifth is 1760
    trough = low - 0.75 / (120 * 1.76e-3)  # 3.55 V of ripple: 14.8 V
    r_max = (trough - 12 * 1.05) / (0.75 / 75 + 0.003)  # 2.21 V for 13 mA
    r_min = (high - 12 * 0.95) / (1 / (12 * 0.95))  # 11.5 V for the 87.7 mA of a watt
    assert all(volts * (high - volts) / r_min < 1 for volts in (12, 12 * 1.05)), "coolest where its voltage is most"
    assert 130 * 0.95 < r_min <= 150 * 0.95 and 160 * 1.05 <= r_max < 180 * 1.05
    power = (high - 0.75 / (240 * 2.2e-3) - (12 * 0.95 - 0.7)) * 0.75  # 8.08 W
    sink = (150 - 45) / power - 1.9 - 0.3
    return Sheet(
        {
            "V_PRI_NOM": 120, "V_PRI_MIN": 108, "V_PRI_MAX": 132, "f": 60, "V_F": 1, "V_SEC_1": 16, "V_Z": 12,
            "tol_Z": 0.05, "P_ZM": 1, "I_ZK": 0.003, "V_BE": 0.7, "h_FE": 75, "V_HEAD_MIN": 2.5, "tol_C": 0.2,
            "tol_R": 0.05, "I_L_MIN": 0, "I_L_MAX": 0.75, "R_thJC": 1.9, "R_thCS": 0.3, "T_A_MIN": 15, "T_A_MAX": 45,
            "T_JM": 150,
        },
        {
            "C_MIN": c_min, "C": 2.2e-3, "V_SPK_MAX": high + 2, "V_CM": 35, "V_TROUGH_MIN": trough, "R_MAX": r_max,
            "R_MIN": r_min, "R": 160, "P_Q_MAX": power, "R_thSA_MAX": sink, "R_thSA": 8,
        },
        {
            "C": (2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 1e-2), "V_CM": (35, 50, 63),
            "R": (150, 160), "R_thSA": tuple(v for v in SINKS if v <= sink),
        },
    )  # fmt: skip


def whole_supply_from_the_list() -> Sheet:
    """design-brief:3:1: 9 V to 11 V for up to 500 mA from 207 V to 253 V, 1.5 V of ripple, 4 V of head room."""
    z_min, z_max = 9 + 0.7, 11 + 0.7  # one junction above the output
    assert 10 * 0.95 < z_min <= 11 * 0.95 and 11 * 1.05 <= z_max < 12 * 1.05  # 11 V alone
    c_min = 0.5 / (100 * 1.5)  # 3333 µF; 4700 µF less a fifth is 3760 µF
    crest = 11 * 1.05 - 0.7 + 4 + 0.5 / (100 * 3.76e-3) + 1.8  # 18.0 V
    winding = crest / sqrt(2) * 230 / 207  # 14.1 V as rated: 15 V
    highest = sqrt(2) * 15 * 253 / 230  # 23.3 V; 29.2 V with the margin
    power = (highest - 1.8 - 0.5 / (200 * 4.7e-3) - (11 * 0.95 - 0.7)) * 0.5  # 5.63 W, of which twice is within 12.5 W
    trough = sqrt(2) * 15 * 207 / 230 - 1.8 - 0.5 / (100 * 3.76e-3)  # 16.0 V
    r_max = (trough - 11 * 1.05) / (0.5 / 20 + 0.005)  # 4.41 V for 30 mA
    r_min = (highest - 1.8 - 11 * 0.95) / (1 / (11 * 0.95))  # 11.1 V for the 95.7 mA of a watt
    assert 120 * 0.95 < r_min <= 130 * 0.95 and 130 * 1.05 <= r_max < 150 * 1.05
    sink = (150 - 45) / power - (150 - 25) / 12.5 - 0.8
    return Sheet(
        {
            "V_PRI_NOM": 230, "V_PRI_MIN": 207, "V_PRI_MAX": 253, "f": 50, "V_F": 0.9, "V_O_MIN": 9, "V_O_MAX": 11,
            "V_BE": 0.7, "tol_Z": 0.05, "P_ZM": 1, "I_ZK": 0.005, "h_FE": 20, "V_HEAD_MIN": 4, "V_RIP_MAX": 1.5,
            "tol_C": 0.2, "tol_R": 0.05, "I_L_MIN": 0, "I_L_MAX": 0.5, "R_thCS": 0.8, "T_A": 45, "T_JM": 150,
            "T_C_NOM": 25,
        },
        {
            "V_Z_MIN": z_min, "V_Z_MAX": z_max, "V_Z": 11, "C_MIN": c_min, "C": 4.7e-3, "V_SEC_1_MIN": winding,
            "V_SEC_1": 15, "VA_MAX": 15 * 1.8 * 0.5, "VA_NOM": 20, "V_SPK_MAX": highest, "V_CM": 35, "P_Q_MAX": power,
            "P_QM": 12.5, "V_TROUGH_MIN": trough, "R_MAX": r_max, "R_MIN": r_min, "R": 130, "R_thSA_MAX": sink,
            "R_thSA": 5,
        },
        {
            "V_Z": (11,), "C": (4.7e-3, 6.8e-3, 1e-2), "V_SEC_1": (15, 16, 18, 20, 22),
            "VA_NOM": (20, 30, 50, 80), "V_CM": (35, 50, 63), "P_QM": (12.5, 40, 65, 90), "R": (130,),
            "R_thSA": tuple(v for v in SINKS if v <= sink),
        },
    )  # fmt: skip


SUPPLY: dict[str, Callable[[], Sheet]] = {
    "mains-to-rail:1:1": head_room_in_the_trough,
    "mains-to-rail:2:1": from_winding_to_junction,
    "mains-to-rail:3:1": backwards_to_the_winding,
    "design-brief:1:1": winding_between_two_bounds,
    "design-brief:2:1": three_parts_of_a_supply,
    "design-brief:3:1": whole_supply_from_the_list,
}
