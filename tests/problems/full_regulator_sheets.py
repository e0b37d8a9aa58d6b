"""The whole regulator worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def output_limit_and_drive() -> Sheet:
    """full-regulator:1:1: 6.2 V, 1.5 kΩ over 2.7 kΩ, 2 Ω and 0.65 V, 260 mA."""
    through = 6.2 / 2700  # 2.296 mA in the divider
    v_o = 6.2 + 1500 * through  # 3.444 V on top of the reference
    emitter = v_o + 0.26 * 2  # 0.52 V in the sense resistor
    return Sheet(
        {
            "V_I": 15, "V_Z": 6.2, "R_1": 1500, "R_2": 2700, "V_BE_1": 0.7, "V_BE_2": 0.7, "R_SENSE": 2,
            "V_BE_3": 0.65, "I_L": 0.26,
        },
        {"V_O": v_o, "I_LIM": 0.325, "V_OA": emitter + 0.7 + 0.7},
    )  # fmt: skip


def every_station() -> Sheet:
    """full-regulator:2:1: 26 V to 32 V, 2.7 kΩ, 5.6 V at 5 mA and 40 Ω, 3.3 kΩ over 1.5 kΩ, pair of 100 and 25."""
    bare = 5.6 - 0.2  # 5.4 V: 40 Ω take 0.2 V at the test current
    i_z_low, i_z_high = (26 - bare) / 2740, (32 - bare) / 2740  # 7.518 mA and 9.708 mA through R and slope in a row
    ref_low, ref_high = bare + 40 * i_z_low, bare + 40 * i_z_high  # 5.701 V and 5.788 V
    v_o_low, v_o_high = 3.2 * ref_low, 3.2 * ref_high  # 18.24 V and 18.52 V
    sensed = 0.6 + ref_high / 1500  # 603.9 mA: the divider's 3.859 mA come through the sense resistor too
    emitter = v_o_high + 0.82 * sensed  # 0.4952 V more
    base = sensed / 26  # 23.23 mA into the output transistor
    assert 0.6 < 0.7 / 0.82 and emitter + 1.4 + 2.5 < 26  # below the limit of 853.7 mA, 2.5 V below the line
    return Sheet(
        {
            "V_I_MIN": 26, "V_I_MAX": 32, "R": 2700, "V_ZT": 5.6, "I_ZT": 0.005, "r_z": 40, "I_ZK": 0.001,
            "R_1": 3300, "R_2": 1500, "V_BE_1": 0.7, "h_FE_1": 100, "V_BE_2": 0.7, "h_FE_2": 25, "R_SENSE": 0.82,
            "V_BE_3": 0.7, "V_DROP": 2.5, "I_L_MIN": 0, "I_L_MAX": 0.6,
        },
        {
            "I_Z_MIN": i_z_low, "V_O_MIN": v_o_low, "V_O_MAX": v_o_high, "V_OA_MAX": emitter + 1.4,
            "I_OA_MAX": base / 101,  # 230 uA
            "P_Q_1_MAX": (32 - emitter - 0.7) * base * 100 / 101,  # 12.28 V at 23 mA: 282 mW
            "P_Q_2_MAX": (32 - emitter) * 25 * base,  # 12.98 V at 580.7 mA: 7.54 W
        },
    )  # fmt: skip


def margins() -> Sheet:
    """full-regulator:3:1: 7.5 V of 6.2 V, 5.6 kΩ below, up to 1.2 A from 12.5 V to 15.5 V, 0.57 V to 0.65 V, 41 W."""
    most = 0.57 / 1.2  # 475 mΩ: a hot limiter lets 1.2 A through
    least = 0.65 * (15.5 - 0.65) / 41  # 235 mΩ: a cold one no more than 41 W in a short
    fits = [
        value for value in (0.22, 0.24, 0.27, 0.3, 0.33, 0.36, 0.39, 0.43, 0.47)
        if 0.95 * value >= least and 1.05 * value <= most
    ]  # fmt: skip
    assert fits == [0.27, 0.3, 0.33, 0.36, 0.39, 0.43]
    upper = 1.3 / (6.2 / 5600)  # 1.3 V at 1.107 mA: 1174 Ω
    assert 1180 - upper < upper - 1150  # 1.18 kΩ lies nearer than 1.15 kΩ
    v_o = 6.2 + 1180 * 6.2 / 5600  # 7.506 V
    line = v_o + 1.2 * 0.43 + 1.4 + 2.5  # 11.92 V
    assert line < 12.5 and 6.2 / 5600 < 0.012
    return Sheet(
        {
            "V_TROUGH": 12.5, "V_I_MAX": 15.5, "V_O_NOM": 7.5, "V_Z": 6.2, "R_2": 5600, "V_BE_1": 0.7, "V_BE_2": 0.7,
            "V_BE_3_MIN": 0.57, "V_BE_3_MAX": 0.65, "V_DROP": 2.5, "I_L_MIN": 0, "I_L_MAX": 1.2, "I_DIV_MAX": 0.012,
            "P_QM": 41, "tol_R": 0.05,
        },
        {
            "R_SENSE_MAX": most, "R_SENSE_MIN": least, "R_SENSE": 0.43, "R_1_NOM": upper, "R_1": 1180,
            "V_I_MIN": line, "P_SC_MAX": (15.5 - 0.65) * 0.65 / 0.43,  # 14.85 V at 1.512 A: 22.4 W
        },
        {"R_SENSE": tuple(fits), "R_1": (1180,)},
    )  # fmt: skip


WHOLE_REGULATORS: dict[str, Callable[[], Sheet]] = {
    "full-regulator:1:1": output_limit_and_drive,
    "full-regulator:2:1": every_station,
    "full-regulator:3:1": margins,
}
