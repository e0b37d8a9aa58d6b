"""Problems of three-terminal regulators worked by hand: plain arithmetic from the data, nothing of the engine.

Sources as in `test_by_hand.py`: Ohm's law, Kirchhoff's two laws, power as voltage across times current through; a
regulator that holds its reference between output and adjust pin. E24 and E96: IEC 60063:2015.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.problems.sheet_by_hand import Sheet


def regulator_as_it_comes() -> Sheet:
    """three-terminal:1:1: 21.5 V to 9 V at 600 mA, 5 mA of its own, 2 V of drop-out."""
    return Sheet(
        {"V_I": 21.5, "V_REG": 9, "I_Q": 0.005, "V_DROP": 2, "I_L": 0.6},
        {
            "V_I_MIN": 9 + 2,
            "I_I": 0.6 + 0.005,
            "P_D": 12.5 * 0.6 + 21.5 * 0.005,  # 7.61 W
            "eta": 9 * 0.6 / (21.5 * 0.605),  # 5.4 W of 13.0 W
        },
    )


def every_sample_of_the_type() -> Sheet:
    """three-terminal:2:1: references of 1.2 V to 1.28 V, 430 ohm over 1.5 kilo-ohm, 26 V, 200 mA."""
    low_divider = 1.2 / 430  # 2.791 mA
    low = 1.2 + (low_divider + 45e-6) * 1500  # 5.454 V
    high = 1.28 + (1.28 / 430 + 45e-6) * 1500  # 5.813 V
    # The lowest output leaves the regulator most; its pin's current falls as far as the pin, one reference lower.
    heat = (26 - low) * (0.2 + low_divider) + (26 - low + 1.2) * 45e-6
    return Sheet(
        {
            "V_I": 26, "V_REF_MIN": 1.2, "V_REF_MAX": 1.28, "I_ADJ": 45 * 1e-6, "V_DROP": 2, "I_REG_MIN": 0.006,
            "R_1": 430, "R_2": 1500, "I_L": 0.2,
        },
        {
            "V_O_MIN": low,
            "V_O_MAX": high,
            "I_L_MIN": 0.006 - low_divider,  # 3.209 mA are missing
            "V_I_MIN": high + 2,  # 7.81 V
            "P_D_MAX": heat,  # 4.17 W
        },
    )  # fmt: skip


def both_resistors() -> Sheet:
    """three-terminal:3:1: 6.98 V to 8.02 V from 23 V to 27 V, references of 1.22 V to 1.28 V, 2 mA to 5 mA, 1 %."""
    r_1_max = 1.22 / 0.002  # the lowest reference must still drive 2 mA: 610 ohm
    r_1_min = 1.28 / 0.005  # the highest may drive no more than 5 mA: 256 ohm
    assert 270 * 0.99 >= r_1_min > 240 * 0.99  # 267 ohm is enough, 238 ohm is not: from 270 ohm
    assert 560 * 1.01 <= r_1_max < 620 * 1.01  # 565.6 ohm feeds, 626 ohm does not: to 560 ohm
    r_2_min = (6.98 - 1.22) / (1.22 / (560 * 1.01) + 55e-6)  # 5.76 V at 2.212 mA
    r_2_max = (8.02 - 1.28) / (1.28 / (560 * 0.99) + 55e-6)  # 6.74 V at 2.364 mA
    assert 2670 * 0.99 >= r_2_min > 2610 * 0.99  # 2.643 kilo-ohm is enough, 2.584 is not: from 2.67 kilo-ohm
    assert 2800 * 1.01 <= r_2_max < 2870 * 1.01  # 2.828 kilo-ohm still is, 2.899 is not: to 2.8 kilo-ohm
    divider = 1.22 / 560  # 2.179 mA at the lowest reference
    output = 1.22 + (divider + 55e-6) * 2670  # 7.18 V
    return Sheet(
        {
            "V_O_MIN": 6.98, "V_O_MAX": 8.02, "V_I_MIN": 23, "V_I_MAX": 27, "I_L": 0.25, "V_REF_MIN": 1.22,
            "V_REF_MAX": 1.28, "I_ADJ": 55 * 1e-6, "V_DROP": 1.7, "I_REG_MIN": 0.002, "I_DIV_MAX": 0.005,
            "tol_R": 0.01,
        },
        {
            "R_1_MAX": r_1_max,
            "R_1_MIN": r_1_min,
            "R_1": 560,  # the largest that fits
            "R_2_MIN": r_2_min,
            "R_2_MAX": r_2_max,
            "R_2": 2670,  # the smallest that fits
            "P_D_MAX": (27 - output) * (0.25 + divider) + (27 - output + 1.22) * 55e-6,  # 5.00 W
        },
        {"R_1": (270, 300, 330, 360, 390, 430, 470, 510, 560), "R_2": (2670, 2740, 2800)},
    )  # fmt: skip


def current_into_a_load() -> Sheet:
    """constant-current:1:2: 1.25 V across 62 ohm, 80 uA more, 390 ohm of load."""
    through = 1.25 / 62  # 20.16 mA
    load = through + 80e-6  # 20.24 mA
    assert 16 - 1.25 - load * 390 >= 3  # 6.86 V are left for the regulator
    return Sheet(
        {"V_I": 16, "V_REF": 1.25, "I_ADJ": 80 * 1e-6, "V_DROP": 3, "R": 62, "R_L": 390},
        {"I_REG": through, "I_L": load, "V_O": load * 390},
    )


def current_of_every_sample() -> Sheet:
    """constant-current:2:2: references of 1.22 V to 1.3 V across 4.7 ohm, 16 V to 19 V, shorted."""
    most = 1.3 / 4.7  # 276.6 mA
    heat = 1.3**2 / 4.7  # 360 mW
    assert 0.5 < 1.5 * heat <= 1
    # Shorted, the regulator has the highest line less its reference; of that a higher reference takes 1 part, but
    # drives more current: 17.7 V x 276.6 mA beside 17.78 V x 259.6 mA.
    assert (19 - 1.3) * most > (19 - 1.22) * 1.22 / 4.7
    return Sheet(
        {
            "V_I_MIN": 16, "V_I_MAX": 19, "V_REF_MIN": 1.22, "V_REF_MAX": 1.3, "I_ADJ": 75 * 1e-6, "V_DROP": 2,
            "R": 4.7,
        },
        {
            "I_L_MIN": 1.22 / 4.7 + 75e-6,
            "I_L_MAX": most + 75e-6,
            "V_O_MAX": 16 - 2 - 1.3,
            "P_R_MAX": heat,
            "P_RM": 1,
            "P_D_MAX": (19 - 1.3) * most + 19 * 75e-6,  # 4.90 W
        },
        {"P_RM": (1, 2, 5, 10)},
    )  # fmt: skip


def resistor_for_a_band_of_currents() -> Sheet:
    """constant-current:3:2: 109 mA to 131 mA, references of 1.2 V to 1.28 V, 2 %, load of 10 V to 12.5 V."""
    r_min = 1.28 / (0.131 - 75e-6)  # 9.78 ohm
    r_max = 1.2 / (0.109 - 75e-6)  # 11.02 ohm
    assert 9.1 * 0.98 < r_min <= 10 * 0.98 and 10 * 1.02 <= r_max < 11 * 1.02  # 10 ohm alone
    heat = 1.28**2 / 10  # 164 mW
    assert 1.5 * heat <= 0.25
    through = 1.28 / 10
    return Sheet(
        {
            "V_I_MIN": 25, "V_I_MAX": 28, "I_L_MIN": 0.109, "I_L_MAX": 0.131, "V_O_MIN": 10, "V_O_MAX": 12.5,
            "V_REF_MIN": 1.2, "V_REF_MAX": 1.28, "I_ADJ": 75 * 1e-6, "V_DROP": 2, "I_REG_MIN": 0.005, "tol_R": 0.02,
        },
        {
            "R_MIN": r_min,
            "R_MAX": r_max,
            "R": 10,
            "P_R_MAX": heat,
            "P_RM": 0.25,
            "P_D_MAX": (28 - 10 - 1.28) * through + 18 * 75e-6,  # highest line, least load voltage: 2.14 W
        },
        {"R": (10,), "P_RM": (0.25, 0.5, 1, 2, 5, 10)},
    )  # fmt: skip


def from_the_regulators_share() -> Sheet:
    """three-terminal-boost:1:1: 0.7 V across 3.9 ohm, 200 mA out of the regulator and 5 mA of its own, gain 75."""
    beside = 0.7 / 3.9  # 179.5 mA
    base = 0.2 + 0.005 - beside  # 25.5 mA
    return Sheet(
        {"V_I": 18, "V_REG": 5, "I_Q": 0.005, "V_DROP": 2, "V_BE": 0.7, "h_FE": 75, "R_BE": 3.9, "I_REG": 0.2},
        {"I_RBE": beside, "I_B": base, "I_C": 75 * base, "I_L": 0.2 + 75 * base},
    )


def share_over_all_gains() -> Sheet:
    """three-terminal-boost:2:1: 17 V to 6 V at 3 A, 0.7 V across 3.3 ohm, 5 mA, gains of 20 to 100."""
    beside = 0.7 / 3.3  # 212.1 mA
    most = (3 + 20 * (beside - 0.005)) / 21  # the lowest gain leaves most to the regulator: 340 mA
    least = (3 + 100 * (beside - 0.005)) / 101  # 234.8 mA
    return Sheet(
        {
            "V_I": 17, "V_REG": 6, "I_Q": 0.005, "V_DROP": 2, "V_BE": 0.7, "h_FE_MIN": 20, "h_FE_MAX": 100,
            "R_BE": 3.3, "I_L": 3,
        },
        {
            "I_RBE": beside,
            "I_REG_MAX": most,
            "V_I_MIN": 6 + 2 + 0.7,
            "P_D_MAX": (17 - 0.7 - 6) * most + (17 - 0.7) * 0.005,  # 3.58 W
            "P_Q_MAX": (17 - 6) * (3 - least),  # 30.4 W
        },
    )  # fmt: skip


def resistor_that_turns_it_on() -> Sheet:
    """three-terminal-boost:3:1: 18 V to 19 V, 9 V at 3 A, 0.55 V to 0.75 V, gains of 25 to 60, 600 mA, 150 mA, 5 %."""
    r_max = 0.55 / 0.15  # a hot junction begins first: 3.667 ohm
    beside = (0.6 * 26 - 3) / 25 + 0.005  # 3 A = 600 mA + 25 (605 mA - I_RBE): 509 mA
    r_min = 0.75 / beside  # 1.473 ohm
    assert 1.5 * 0.95 < r_min <= 1.6 * 0.95 and 3.3 * 1.05 <= r_max < 3.6 * 1.05
    cold, hot = 0.75 / 3.3, 0.55 / 3.3
    most = (3 + 25 * (cold - 0.005)) / 26  # 329 mA
    least = (3 + 60 * (hot - 0.005)) / 61  # 208 mA
    # A cold junction keeps 0.75 V from the regulator and gives it more current; of the two the current counts more.
    assert (19 - 0.75 - 9) * most > (19 - 0.55 - 9) * (3 + 25 * (hot - 0.005)) / 26
    transistor = (19 - 9) * (3 - least)  # 27.9 W
    assert 40 < 2 * transistor <= 65
    return Sheet(
        {
            "V_I_MIN": 18, "V_I_MAX": 19, "V_REG": 9, "I_Q": 0.005, "V_DROP": 2, "V_BE_MIN": 0.55, "V_BE_MAX": 0.75,
            "h_FE_MIN": 25, "h_FE_MAX": 60, "I_L": 3, "I_REG_MAX": 0.6, "I_RBE_MIN": 0.15, "tol_R": 0.05,
        },
        {
            "R_BE_MAX": r_max,
            "R_BE_MIN": r_min,
            "R_BE": 3.3,
            "P_D_MAX": (19 - 0.75 - 9) * most + (19 - 0.75) * 0.005,
            "P_Q_MAX": transistor,
            "P_QM": 65,
        },
        {"R_BE": (1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3), "P_QM": (65, 90, 125, 150)},
    )  # fmt: skip


def drift_of_each_part() -> Sheet:
    """series-temperature:1:1: 4.3 V at -0.045 % a kelvin, -1.8 mV a kelvin, 43 K."""
    zener, junction = -0.00045 * 4.3 * 43, -0.0018 * 43  # -83.2 mV and -77.4 mV
    return Sheet(
        {"V_Z": 4.3, "alpha_Z": -0.00045, "V_BE": 0.75, "k_BE": -0.0018, "DT": 43},
        {"DV_Z": zener, "DV_BE": junction, "DV_O": zener - junction},  # the junction's fall lifts the output: -5.8 mV
    )


def drift_in_the_circuit() -> Sheet:
    """series-temperature:2:1: 11 V, 330 ohm, 6.8 V at 0.0375 %, 0.6 V at -1.8 mV, gain 60, 250 mA, 50 K."""
    slope = 0.000375 * 6.8 + 0.0018  # 2.55 mV and 1.8 mV a kelvin, both upwards
    return Sheet(
        {
            "V_I": 11, "R": 330, "V_Z": 6.8, "alpha_Z": 0.000375, "V_BE": 0.6, "k_BE": -0.0018, "h_FE": 60,
            "I_L": 0.25, "DT": 50,
        },
        {"V_O": 6.2, "I_Z": (11 - 6.8) / 330 - 0.25 / 61, "S_T": slope, "DV_O": slope * 50},
    )  # fmt: skip


def zener_behind_a_drift() -> Sheet:
    """series-temperature:3:1: 274 mV over 55 K with 7.5 V and -1.8 mV a kelvin; 50 mV allowed."""
    slope = 0.274 / 55  # 4.98 mV a kelvin
    return Sheet(
        {"V_Z": 7.5, "V_BE": 0.75, "k_BE": -0.0018, "DV_O": 0.274, "DT": 55, "DV_O_MAX": 0.05},
        {
            "S_T": slope,
            "alpha_Z": (slope - 0.0018) / 7.5,  # of that the junction gives 1.8 mV
            "alpha_Z_NOM": -0.0018 / 7.5,
            "DT_MAX": 0.05 / slope,
        },
    )


def shares_of_the_error() -> Sheet:
    """output-accuracy:1:1: 1.25 V to 4 %, 430 ohm over 3 kilo-ohm to 1 %, 75 uA."""
    output = 1.25 + (1.25 / 430 + 75e-6) * 3000  # 10.20 V
    reference = 0.04 * 1.25 * 3430 / 430  # 399 mV
    upper, lower = 0.01 * 1.25 * 3000 / 430, 0.01 * (output - 1.25)  # 87.2 mV and 89.5 mV
    assert reference > lower
    return Sheet(
        {
            "V_I": 14, "V_REF": 1.25, "tol_REF": 0.04, "I_ADJ": 75 * 1e-6, "V_DROP": 2.5, "R_1": 430, "R_2": 3000,
            "tol_R": 0.01,
        },
        {"V_O": output, "E_REF": reference, "E_UPPER": upper, "E_LOWER": lower, "E_WC": reference + upper + lower},
        state="the reference matters most",
    )  # fmt: skip


def corners_of_a_raised_regulator() -> Sheet:
    """output-accuracy:2:1: 5.7 V to 6.3 V, 3 mA to 8 mA, 142.5 to 157.5 ohm over 95 to 105 ohm."""
    low = 5.7 + (5.7 / 157.5 + 0.003) * 95  # least reference and pin current, upper high, lower low: 9.42 V
    high = 6.3 + (6.3 / 142.5 + 0.008) * 105  # all the other way: 11.78 V
    return Sheet(
        {
            "V_I": 27.5, "V_REG_MIN": 5.7, "V_REG_MAX": 6.3, "I_Q_MIN": 0.003, "I_Q_MAX": 0.008, "V_DROP": 2,
            "R_1_MIN": 142.5, "R_1_MAX": 157.5, "R_2_MIN": 95, "R_2_MAX": 105,
        },
        {"V_O_MIN": low, "V_O_MAX": high, "V_I_MIN": high + 2},
    )  # fmt: skip


def tolerance_that_is_left() -> Sheet:
    """output-accuracy:3:1: 1.25 V to 1.5 %, 180 ohm over 1.6 kilo-ohm, 40 uA, 370 mV in all."""
    output = 1.25 + (1.25 / 180 + 40e-6) * 1600  # 12.43 V
    reference = 0.015 * 1.25 * 1780 / 180  # 185 mV
    across, lower = 1.25 * 1600 / 180, output - 1.25  # 11.11 V by the reference's current alone, 11.18 V in all
    share = (0.37 - reference) / (across + lower)  # 185 mV for both: 0.828 %
    squares = reference**2 + (share * across) ** 2 + (share * lower) ** 2
    return Sheet(
        {
            "V_I": 18, "V_REF": 1.25, "tol_REF": 0.015, "I_ADJ": 40 * 1e-6, "V_DROP": 2.5, "R_1": 180, "R_2": 1600,
            "E_WC_MAX": 0.37,
        },
        {"V_O": output, "E_REF": reference, "tol_R_MAX": share, "E_RSS": squares**0.5},
    )  # fmt: skip


TERMINALS: dict[str, Callable[[], Sheet]] = {
    "three-terminal:1:1": regulator_as_it_comes,
    "three-terminal:2:1": every_sample_of_the_type,
    "three-terminal:3:1": both_resistors,
    "output-accuracy:1:1": shares_of_the_error,
    "output-accuracy:2:1": corners_of_a_raised_regulator,
    "output-accuracy:3:1": tolerance_that_is_left,
    "series-temperature:1:1": drift_of_each_part,
    "series-temperature:2:1": drift_in_the_circuit,
    "series-temperature:3:1": zener_behind_a_drift,
    "constant-current:1:2": current_into_a_load,
    "constant-current:2:2": current_of_every_sample,
    "constant-current:3:2": resistor_for_a_band_of_currents,
    "three-terminal-boost:1:1": from_the_regulators_share,
    "three-terminal-boost:2:1": share_over_all_gains,
    "three-terminal-boost:3:1": resistor_that_turns_it_on,
}
