"""Problems worked by hand beside the engine: plain arithmetic, one line for each line on paper.

Nothing of the engine takes part but the problem's name. Each instance states its data again first, so that a draw that
has changed is told apart from an answer that is wrong; then every answer is worked from the data alone and compared.

Sources: Ohm's law, Kirchhoff's two laws and the power of a part (voltage across it times current through it) carry all
of it; I_E = (h_FE + 1)·I_B is the definition of the static gain with the current law at the transistor. Preferred
values are those of the E24 series, IEC 60063:2015. V_Z and V_BE constant, a straight slope r_z and a straight source
line are the models the statements name. A part run at two thirds of its rating at most: common practice, no source; the
statement asks for it.

Vocabulary: a *sheet* is one problem worked by hand.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

import tutor
from tests.problems.combined_sheets import COMBINED
from tests.problems.compare_sheets import COMPARED
from tests.problems.full_regulator_sheets import WHOLE_REGULATORS
from tests.problems.heat_sheets import HEAT
from tests.problems.loop_sheets import LOOPS
from tests.problems.pair_sheets import PAIR
from tests.problems.raw_supply_by_hand import RAW_SUPPLY
from tests.problems.sheet_by_hand import Sheet
from tests.problems.shunt_sheets import SHUNT
from tests.problems.supply_sheets import SUPPLY
from tests.problems.terminal_sheets import TERMINALS
from tutor.generate.problem import Problem, WaypointKind

CLOSE = 1e-9


def source_from_two_loads() -> Sheet:
    """supply-source-model:3:1: 19.32 V across 82 Ω, 17.8 V across 33 Ω; 16 V needed."""
    i_1 = 19.32 / 82  # the load's own resistance gives its current: 235.6 mA
    i_2 = 17.8 / 33  # 539.4 mA
    r_s = (19.32 - 17.8) / (i_2 - i_1)  # 1.52 V are lost for 303.8 mA more: 5.004 Ω
    v_oc = 19.32 + i_1 * r_s  # what R_S loses at the first reading put back: 20.50 V
    i_most = (v_oc - 16) / r_s  # 4.499 V may be lost in R_S: 899 mA
    return Sheet(
        {"V_I_1": 19.32, "R_L_1": 82, "V_I_2": 17.8, "R_L_2": 33, "V_I_MIN": 16},
        {
            "I_I_1": i_1,
            "I_I_2": i_2,
            "R_S": r_s,
            "V_OC": v_oc,
            "R_L_MIN": 16 / i_most,  # 17.8 Ω
        },
    )


def resistor_for_a_load_range() -> Sheet:
    """zener-resistor:2:1: 21.5 V to 26.5 V, a 9.1 V zener, 10 mA to 35 mA, 5 % resistor."""
    r_max = (21.5 - 9.1) / (0.035 + 0.008)  # lowest line, fullest load, zener at its least: 12.4 V / 43 mA = 288 Ω
    i_zm = 1 / 9.1  # one watt at 9.1 V: 109.9 mA
    r_min = (26.5 - 9.1) / (0.010 + i_zm)  # highest line, lightest load, zener at its most: 17.4 V / 119.9 mA = 145 Ω
    assert 160 * 0.95 >= r_min > 150 * 0.95  # 152 Ω is enough, 142.5 Ω is not: from 160 Ω
    assert 270 * 1.05 <= r_max < 300 * 1.05  # 283.5 Ω still feeds, 315 Ω does not: to 270 Ω
    p_r = 17.4**2 / 270  # highest line, 17.4 V across 270 Ω: 1.12 W
    assert 1 < 1.5 * p_r <= 2  # 1.68 W of rating wanted: 2 W and up
    i_r = 17.4 / 270  # 64.4 mA through R at the highest line
    return Sheet(
        {
            "V_I_MIN": 21.5, "V_I_MAX": 26.5, "V_Z": 9.1, "I_L_MIN": 0.01, "I_L_MAX": 0.035, "I_ZK": 0.008, "P_ZM": 1,
            "tol_R": 0.05,
        },
        {
            "R_MAX": r_max,
            "I_ZM": i_zm,
            "R_MIN": r_min,
            "R": 270,  # the largest that fits
            "P_R_MAX": p_r,
            "P_RM": 2,  # the least that does
            "P_Z_MAX": 9.1 * (i_r - 0.010),  # the lightest load leaves the zener 54.4 mA: 495 mW
        },
        {"R": (160, 180, 200, 220, 240, 270), "P_RM": (2, 5, 10)},
    )  # fmt: skip


def resistor_for_every_zener() -> Sheet:
    """zener-resistor:3:1: 17 V to 18 V, zeners of 8.64 V to 9.56 V, 820 Ω load, unplugged or shorted."""
    fed_high = (17 - 9.56) / (9.56 / 820 + 0.003)  # high zener: 7.44 V for 11.66 mA + 3 mA: 508 Ω
    fed_low = (17 - 8.64) / (8.64 / 820 + 0.003)  # low zener: 8.36 V for 10.54 mA + 3 mA: 618 Ω
    r_max = min(fed_high, fed_low)  # every zener is to be fed
    # Unplugged, R = V_Z (V_I - V_Z)/P_ZM: a parabola in V_Z with its top at V_I/2 = 9 V, which is inside 8.64..9.56 V.
    hot_low = (18 - 8.64) * 8.64 / 1  # low zener: 80.9 Ω
    hot_high = (18 - 9.56) * 9.56 / 1  # high zener: 80.7 Ω
    hot_inside = (18 - 9) * 9 / 1  # the zener of 9 V: 81 Ω, more than at either end
    assert hot_inside > hot_low > hot_high
    r_min = hot_inside  # none is to be overloaded
    assert 91 * 0.95 >= r_min > 82 * 0.95  # 86.5 Ω is enough, 77.9 Ω is not: from 91 Ω
    assert 470 * 1.05 <= r_max < 510 * 1.05  # 493.5 Ω still feeds, 535.5 Ω does not: to 470 Ω
    p_r = 18**2 / 470  # shorted: the whole highest line across 470 Ω: 689 mW
    assert 1 < 1.5 * p_r <= 2  # 1.03 W of rating wanted: 2 W and up
    return Sheet(
        {
            "V_I_MIN": 17, "V_I_MAX": 18, "V_Z_MIN": 8.64, "V_Z_MAX": 9.56, "R_L": 820, "I_ZK": 0.003, "P_ZM": 1,
            "tol_R": 0.05,
        },
        {"R_MAX": r_max, "R_MIN": r_min, "R": 470, "P_R_MAX": p_r, "P_RM": 2},
        {
            "R": (91, 100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470),
            "P_RM": (2, 5, 10),
        },
    )  # fmt: skip


def slope_from_two_readings() -> Sheet:
    """zener-slope:3:1: 6.35 V at 20 mA, 6.55 V at 40 mA; 390 Ω, 25 V to 27 V, up to 30 mA."""
    r_z = (6.55 - 6.35) / (0.040 - 0.020)  # 200 mV more for 20 mA more: 10 Ω
    v_z0 = 6.35 - 0.020 * r_z  # back along the slope to no current: 6.15 V
    r_out = 390 * r_z / (390 + r_z)  # seen from the load, R and r_z stand side by side: 9.75 Ω
    # Input voltage = R·(I_Z + I_L) + V_Z0 + r_z·I_Z, so I_Z = (V_I - V_Z0 - R·I_L)/(R + r_z).
    i_least = (25 - v_z0 - 390 * 0.030) / (390 + r_z)  # 18.85 V - 11.7 V over 400 Ω: 17.9 mA
    i_most = (27 - v_z0) / (390 + r_z)  # 20.85 V over 400 Ω: 52.1 mA
    return Sheet(
        {
            "V_Z_1": 6.35, "I_Z_1": 0.02, "V_Z_2": 6.55, "I_Z_2": 0.04, "R": 390, "V_I_MIN": 25, "V_I_MAX": 27,
            "I_L_MIN": 0, "I_L_MAX": 0.03, "DI_L": 0.03, "I_ZK": 0.001, "P_ZM": 0.5,
        },
        {
            "r_z": r_z,
            "V_Z0": v_z0,
            "R_OUT": r_out,
            "DV_O": -r_out * 0.030,  # 30 mA more load: the output sinks by 293 mV
            "V_O_MIN": v_z0 + r_z * i_least,  # 6.15 V + 0.179 V = 6.329 V
            "V_O_MAX": v_z0 + r_z * i_most,  # 6.15 V + 0.521 V = 6.671 V
        },
    )  # fmt: skip


def zener_off() -> Sheet:
    """zener-state:1:1: 20 V, 180 Ω, 150 Ω, an 11 V zener."""
    v_th = 20 * 150 / (180 + 150)  # zener out: 150 parts of 330 of 20 V: 9.09 V
    assert v_th < 11  # the node does not reach the zener's voltage, so the divider stands as it is
    return Sheet({"V_I": 20, "R": 180, "R_L": 150, "V_Z": 11}, {"V_TH": v_th, "V_O": v_th}, state="the zener is off")


def zener_in_breakdown() -> Sheet:
    """zener-state:1:2: 24 V, 120 Ω, 2.2 kΩ, a 13 V zener."""
    v_th = 24 * 2200 / (120 + 2200)  # zener out: 2200 parts of 2320 of 24 V: 22.8 V
    assert v_th > 13  # more than the zener lets stand
    assert (24 - 13) / 120 - 13 / 2200 > 0  # 91.7 mA come in, 5.9 mA go to the load: current for the zener is left
    return Sheet(
        {"V_I": 24, "R": 120, "R_L": 2200, "V_Z": 13}, {"V_TH": v_th, "V_O": 13}, state="the zener is in breakdown"
    )


def least_gain_and_line() -> Sheet:
    """follower-state:3:1: 24 V, 680 Ω, a 9.1 V zener, V_BE 0.7 V, 0.8 A, gain 50."""
    v_o = 9.1 - 0.7  # one junction below the base: 8.4 V
    i_r = (24 - 9.1) / 680  # R ends at the base: 14.9 V / 680 Ω = 21.9 mA
    i_b_most = i_r - 0.003  # the zener keeps 3 mA: 18.9 mA for the base
    i_b = 0.8 / (50 + 1)  # the transistor fitted takes 15.69 mA
    v_i_min = 9.1 + 680 * (i_b + 0.003)  # R must bring 18.69 mA, which takes 12.7 V: 21.8 V
    assert v_i_min > v_o + 0.3  # the base drive gives out before the transistor saturates at 8.7 V
    return Sheet(
        {"V_I": 24, "R": 680, "V_Z": 9.1, "V_BE": 0.7, "I_L": 0.8, "I_ZK": 0.003, "h_FE": 50, "V_CE_SAT": 0.3},
        {
            "V_O": v_o,
            "I_R": i_r,
            "h_FE_MIN": 0.8 / i_b_most - 1,  # 800 mA is 42.3 times 18.9 mA, and that is gain and one: 41.3
            "I_Z": i_r - i_b,  # what the base leaves of 21.9 mA: 6.23 mA
            "V_I_MIN": v_i_min,
        },
    )


def follower_for_every_transistor() -> Sheet:
    """follower-design:2:1: 19.5 V to 22.5 V, a 13 V zener, up to 0.3 A, gain 50 to 250."""
    i_b = 0.3 / (50 + 1)  # the lowest gain asks for most: 5.88 mA
    r_max = (19.5 - 13) / (i_b + 0.002)  # lowest line: 6.5 V for 7.88 mA: 825 Ω
    i_zm = 0.5 / 13  # half a watt at 13 V: 38.5 mA
    r_min = (22.5 - 13) / i_zm  # highest line, no load and so no base current: 9.5 V at 38.5 mA: 247 Ω
    assert 270 * 0.95 >= r_min > 240 * 0.95  # 256.5 Ω is enough, 228 Ω is not: from 270 Ω
    assert 750 * 1.05 <= r_max < 820 * 1.05  # 788 Ω still feeds, 861 Ω does not: to 750 Ω
    p_r = 9.5**2 / 750  # highest line: 120 mW
    assert 1.5 * p_r <= 0.25  # 181 mW of rating wanted: the smallest on the shelf
    i_c = 0.3 - 0.3 / (250 + 1)  # least base current, most collector current at the highest gain: 298.8 mA
    return Sheet(
        {
            "V_I_MIN": 19.5, "V_I_MAX": 22.5, "V_Z": 13, "V_BE": 0.7, "I_L_MIN": 0, "I_L_MAX": 0.3, "h_FE_MIN": 50,
            "h_FE_MAX": 250, "I_ZK": 0.002, "P_ZM": 0.5, "tol_R": 0.05,
        },
        {
            "R_MAX": r_max,
            "I_ZM": i_zm,
            "R_MIN": r_min,
            "R": 750,
            "P_R_MAX": p_r,
            "P_RM": 0.25,
            "P_Q_MAX": (22.5 - (13 - 0.7)) * i_c,  # 10.2 V from collector to emitter: 3.05 W
        },
        {
            "R": (270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750),
            "P_RM": (0.25, 0.5, 1, 2, 5, 10),
        },
    )  # fmt: skip


def follower_from_the_output_wanted() -> Sheet:
    """follower-design:3:1: 11.5 V wanted from 19 V to 22 V, up to 0.15 A, gain 50, zener of 1.3 W."""
    v_z_wanted = 11.5 + 0.7  # the base stands one junction above the output: 12.2 V
    assert v_z_wanted - 12 < 13 - v_z_wanted  # E24 has 12 V and 13 V there: 12 V is nearer
    v_o = 12 - 0.7  # 11.3 V with the zener that can be had
    i_b = 0.15 / (50 + 1)  # 2.94 mA
    r_max = (19 - 12) / (i_b + 0.004)  # lowest line: 7 V for 6.94 mA: 1.008 kΩ
    r_min = (22 - 12) / (1.3 / 12)  # highest line, no base current: 10 V at 108.3 mA: 92.3 Ω
    assert 100 * 0.95 >= r_min > 91 * 0.95  # 95 Ω is enough, 86 Ω is not: from 100 Ω
    assert 910 * 1.05 <= r_max < 1000 * 1.05  # 956 Ω still feeds, 1.05 kΩ does not: to 910 Ω
    i_c = 0.15 - i_b  # what the base brings need not come by the collector: 147.1 mA
    return Sheet(
        {
            "V_O_NOM": 11.5, "V_I_MIN": 19, "V_I_MAX": 22, "V_BE": 0.7, "I_L_MIN": 0, "I_L_MAX": 0.15, "h_FE": 50,
            "I_ZK": 0.004, "P_ZM": 1.3, "tol_R": 0.05,
        },
        {
            "V_Z_NOM": v_z_wanted,
            "V_Z": 12,
            "V_O": v_o,
            "R_MAX": r_max,
            "R_MIN": r_min,
            "R": 910,
            "P_Q_MAX": (22 - v_o) * i_c,  # 10.7 V from collector to emitter at the highest line: 1.57 W
        },
        {
            "V_Z": (12,),
            "R": (
                100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620,
                680, 750, 820, 910,
            ),
        },
    )  # fmt: skip


SHEETS: dict[str, Callable[[], Sheet]] = {
    "supply-source-model:3:1": source_from_two_loads,
    **RAW_SUPPLY,
    "zener-resistor:2:1": resistor_for_a_load_range,
    "zener-resistor:3:1": resistor_for_every_zener,
    "zener-slope:3:1": slope_from_two_readings,
    "zener-state:1:1": zener_off,
    "zener-state:1:2": zener_in_breakdown,
    "follower-state:3:1": least_gain_and_line,
    "follower-design:2:1": follower_for_every_transistor,
    "follower-design:3:1": follower_from_the_output_wanted,
    **SHUNT,
    **TERMINALS,
    **SUPPLY,
    **HEAT,
    **LOOPS,
    **COMPARED,
    **COMBINED,
    **WHOLE_REGULATORS,
    **PAIR,
}
every_sheet = pytest.mark.parametrize("name", SHEETS)


def problem(name: str) -> Problem:
    return tutor.open_desk().problem(name).problem


@every_sheet
def test_the_data_are_still_those_of_the_sheet(name: str) -> None:
    """When this fails the draw has changed, not the arithmetic: the sheet is to be worked again."""
    assert {key: quantity.value for key, quantity in problem(name).given.items()} == SHEETS[name]().given


@every_sheet
def test_every_answer_is_the_one_worked_by_hand(name: str) -> None:
    """Each value to 1e-9 of itself, and no waypoint that the sheet leaves out."""
    made, sheet = problem(name).answers, SHEETS[name]()
    assert set(made) == set(sheet.answers)
    for key, value in sheet.answers.items():
        assert made[key].value == pytest.approx(value, rel=CLOSE, abs=0), key


@every_sheet
def test_every_choice_takes_the_values_found_by_hand(name: str) -> None:
    """The accepted values of a choice are the sheet's, all of them and no more; the state is the sheet's too."""
    points, sheet = problem(name).waypoints, SHEETS[name]()
    accepted = {point.key: point.accepted for point in points if point.kind is WaypointKind.CHOICE}
    assert set(accepted) == set(sheet.accepted)
    for key, values in sheet.accepted.items():
        assert sorted(accepted[key]) == pytest.approx(list(values), rel=CLOSE, abs=0), key
    assert [point.state for point in points if point.kind is WaypointKind.STATE] == [sheet.state] * bool(sheet.state)


def test_every_family_has_a_sheet() -> None:
    """One problem of each family at least."""
    assert {name.split(":")[0] for name in SHEETS} == set(tutor.families())
