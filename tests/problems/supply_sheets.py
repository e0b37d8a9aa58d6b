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
    """design-brief:1:1: 5 V for up to 250 mA, 1000 µF, 4 V of head room, 29 K/W to air of 40 °C, 102 V to 132 V."""
    crest = 5 + 4 + 0.25 / (120 * 0.8e-3) + 2 * 0.8  # 2.60 V of ripple at the least reservoir: 13.2 V
    least = crest / sqrt(2) * 120 / 102  # 9.34 V at the lowest line: 10.98 V as rated
    heat = (150 - 40) / (3 + 1 + 25)  # 3.79 W
    mean = 5 + heat / 0.25  # 20.2 V
    most = (mean + 0.25 / (240 * 1e-3) + 2 * 0.8) / sqrt(2) * 120 / 132  # 16.13 V at the highest line: 14.67 V
    return Sheet(
        {
            "V_PRI_NOM": 120, "V_PRI_MIN": 102, "V_PRI_MAX": 132, "f": 60, "V_F": 0.8, "C": 1e-3, "tol_C": 0.2,
            "V_O": 5, "V_HEAD_MIN": 4, "I_L_MIN": 0.02, "I_L_MAX": 0.25, "R_thJC": 3, "R_thCS": 1, "R_thSA": 25, "T_A_MIN": 5,
            "T_A_MAX": 40, "T_JM": 150,
        },
        {"V_SEC_1_MIN": least, "V_SEC_1_MAX": most, "V_SEC_1": 12},
        {"V_SEC_1": (12, 14)},
    )  # fmt: skip


def three_parts_of_a_supply() -> Sheet:
    """design-brief:2:1: 16 V of winding, a zener of 9.1 V, up to 350 mA, 3.5 V of head room, 102 V to 132 V."""
    low, high = sqrt(2) * 16 * 102 / 120 - 1.8, sqrt(2) * 16 * 132 / 120 - 1.8  # 17.4 V and 23.1 V
    c_min = 0.35 / (120 * (low - (9.1 * 1.05 - 0.7 + 3.5)))  # 5.08 V may be lost: 574 µF; 1000 µF less a fifth
    trough = low - 0.35 / (120 * 0.8e-3)  # 3.65 V of ripple: 13.8 V
    r_max = (trough - 9.1 * 1.05) / (0.35 / 50 + 0.005)  # 4.23 V for 12 mA
    r_min = (high - 9.1 * 0.95) / (1 / 9.1)  # 14.4 V for 110 mA
    power = (high - 0.35 / (240 * 1e-3) - (9.1 * 0.95 - 0.7)) * 0.35  # 4.79 W
    sink = (150 - 35) / power - 1.9 - 0.5
    return Sheet(
        {
            "V_PRI_NOM": 120, "V_PRI_MIN": 102, "V_PRI_MAX": 132, "f": 60, "V_F": 0.9, "V_SEC_1": 16, "V_Z": 9.1,
            "tol_Z": 0.05, "P_ZM": 1, "I_ZK": 0.005, "V_BE": 0.7, "h_FE": 50, "V_HEAD_MIN": 3.5, "tol_C": 0.2,
            "C_MAX": 0.01, "tol_R": 0.05, "I_L_MIN": 0, "I_L_MAX": 0.35, "R_thJC": 1.9, "R_thCS": 0.5, "T_A_MIN": 15,
            "T_A_MAX": 35, "T_JM": 150,
        },
        {
            "C_MIN": c_min, "C": 1e-3, "V_SPK_MAX": high + 1.8, "V_CM": 35, "V_TROUGH_MIN": trough, "V_PK_MAX": high,
            "R_MAX": r_max, "I_ZM": 1 / 9.1, "R_MIN": r_min, "R": 330, "P_Q_MAX": power, "R_thSA_MAX": sink,
            "R_thSA": 18,
        },
        {
            "C": (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3), "V_CM": (35, 50, 63),
            "R": (150, 160, 180, 200, 220, 240, 270, 300, 330), "R_thSA": tuple(v for v in SINKS if v <= sink),
        },
    )  # fmt: skip


def whole_supply_from_the_list() -> Sheet:
    """design-brief:3:1: 5.28 V to 6.72 V for up to 600 mA from 108 V to 132 V, 1.5 V of ripple, 3 V of head room."""
    z_min, z_max = 5.28 + 0.7, 6.72 + 0.7  # one junction above the output
    assert 6.2 * 0.95 < z_min <= 6.8 * 0.95 and 6.8 * 1.05 <= z_max < 7.5 * 1.05  # 6.8 V alone
    c_min = 0.6 / (120 * 1.5)  # 3333 µF; 4700 µF less a fifth is 3760 µF
    crest = 6.8 * 1.05 - 0.7 + 3 + 0.6 / (120 * 3.76e-3) + 1.8  # 12.57 V
    winding = crest / sqrt(2) * 120 / 108  # 9.88 V as rated: 10 V
    highest = sqrt(2) * 10 * 132 / 120  # 15.56 V
    power = (highest - 1.8 - 0.6 / (240 * 4.7e-3) - (6.8 * 0.95 - 0.7)) * 0.6  # 4.48 W, of which twice is under 12.5 W
    trough = sqrt(2) * 10 * 108 / 120 - 1.8 - 0.6 / (120 * 3.76e-3)  # 9.60 V
    r_max = (trough - 6.8 * 1.05) / (0.6 / 20 + 0.002)  # 2.46 V for 32 mA
    r_min = (highest - 1.8 - 6.8 * 0.95) / (1 / 6.8)
    sink = (150 - 40) / power - (150 - 25) / 12.5 - 0.8
    return Sheet(
        {
            "V_PRI_NOM": 120, "V_PRI_MIN": 108, "V_PRI_MAX": 132, "f": 60, "V_F": 0.9, "V_O_MIN": 5.28, "V_O_MAX": 6.72,
            "V_BE": 0.7, "tol_Z": 0.05, "P_ZM": 1, "I_ZK": 0.002, "h_FE": 20, "V_HEAD_MIN": 3, "V_RIP_MAX": 1.5,
            "tol_C": 0.2, "C_MAX": 0.01, "tol_R": 0.05, "I_L_MIN": 0, "I_L_MAX": 0.6, "R_thCS": 0.8, "T_A_MIN": 10,
            "T_A_MAX": 40, "T_JM": 150,
        },
        {
            "V_Z_MIN": z_min, "V_Z_MAX": z_max, "V_Z": 6.8, "C_MIN": c_min, "C": 4.7e-3, "V_SEC_1_MIN": winding,
            "V_SEC_1": 10, "VA_MAX": 10 * 1.8 * 0.6, "VA_NOM": 15, "V_SPK_MAX": highest, "V_CM": 25, "P_Q_MAX": power,
            "P_QM": 12.5, "V_TROUGH_MIN": trough, "V_PK_MAX": highest - 1.8, "R_MAX": r_max, "I_ZM": 1 / 6.8,
            "R_MIN": r_min, "R": 68, "R_thSA_MAX": sink, "R_thSA": 12,
        },
        {
            "V_Z": (6.8,), "C": (4.7e-3, 6.8e-3), "V_SEC_1": (10, 12, 14, 15, 16, 18, 20, 22),
            "VA_NOM": (15, 20, 30, 50, 80), "V_CM": (25, 35, 50, 63), "P_QM": (12.5, 40, 65, 90), "R": (56, 62, 68),
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
