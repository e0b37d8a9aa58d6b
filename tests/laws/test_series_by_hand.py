"""One instance of each series regulator worked on paper: arithmetic alone, a line for each line on paper.

Sources: Kirchhoff's laws, Ohm's law, the fixed-V_BE transistor (Sedra and Smith, Microelectronic Circuits, large-signal
active model). The engine is given the same values and must find the same, to the twelve figures of the arithmetic.
"""

from __future__ import annotations

import pytest

import tutor


def agree(circuit: str, given: dict[str, float | str], expected: dict[str, float]) -> None:
    """The engine's values are those of the paper, every one; `--exact` after the circuit counts every base current."""
    name, _, exact = circuit.partition(" --")
    taken = {"base-current": "exact"} if exact else {}
    answer = tutor.solve(name, given, find=tuple(expected), assume=taken)
    for name, value in expected.items():
        assert answer.value(name).value == pytest.approx(value, rel=1e-11), name


def test_darlington_on_paper() -> None:
    """20 V, 680 ohm, 13 V zener, gains 100 and 40, junctions of 0.7 and 0.8 V, 1.5 A."""
    output = 13 - 0.7 - 0.8  # 11.5 V
    pass_base = 1.5 / 41  # 36.59 mA
    base = pass_base / 101  # 362.2 uA
    brought = (20 - 13) / 680  # 10.29 mA
    agree(
        "darlington",
        {
            "V_I": 20, "R": 680, "V_Z": 13, "V_BE_1": 0.7, "V_BE_2": 0.8, "h_FE_1": 100, "h_FE_2": 40, "I_L": 1.5,
        },
        {
            "V_O": output, "I_B_2": pass_base, "I_B_1": base, "I_R": brought, "I_Z": brought - base,
            "P_Q_2": (20 - output) * 1.5 * 40 / 41, "P_Q_1": (20 - output - 0.8) * pass_base * 100 / 101,
            "eta": output * 1.5 / (20 * (1.5 + brought - base)),
        },
    )  # fmt: skip


def test_current_limit_on_paper() -> None:
    """20 V, 390 ohm, 12 V zener, 1.2 ohm, junctions 0.7 and 0.65 V, gains 60 and 150: 0.3 A, then held at no output."""
    output = 12 - 0.7 - 0.3 * 1.2  # 10.94 V
    base = 0.3 / 61  # 4.918 mA
    parts = {
        "V_I": 20, "R": 390, "V_Z": 12, "V_BE_1": 0.7, "h_FE_1": 60, "R_SENSE": 1.2, "V_BE_2": 0.65, "h_FE_2": 150,
    }  # fmt: skip
    agree(
        "current-limit",
        {**parts, "I_L": 0.3},
        {"I_LIM": 0.65 / 1.2, "V_O": output, "I_B_1": base, "I_Z": 8 / 390 - base, "P_SENSE": 0.3**2 * 1.2},
    )
    sense = 0.65 / 1.2  # 541.7 mA
    drive = (20 - 0.7 - 0.65) / 390  # the base two junctions above a shorted output: 47.82 mA
    # The pass base takes (sense + I_C2/150)/61 of the drive, the limiter the rest.
    taken = (drive - sense / 61) / (1 + 1 / (150 * 61))
    shorted = tutor.solve("current-limit", {**parts, "R_L": 1e-9}, find=("I_L", "I_C_2", "I_Z"))
    assert shorted.value("I_C_2").value == pytest.approx(taken, rel=1e-6)
    assert shorted.value("I_L").value == pytest.approx(sense + taken * 151 / 150, rel=1e-6)
    assert shorted.value("I_Z").value == 0


def test_foldback_on_paper() -> None:
    """20 V, 390 ohm, 12 V zener, 3 ohm, 100 ohm over 1 kilo-ohm, junctions 0.7 and 0.65 V: knee and short."""
    emitter = 12 - 0.7  # 11.3 V
    tap = emitter * 1000 / 1100  # 10.27 V
    knee = tap - 0.65  # 9.623 V
    agree(
        "foldback",
        {
            "V_I": 20, "R": 390, "V_Z": 12, "V_BE_1": 0.7, "h_FE_1": 60, "R_SENSE": 3, "R_A": 100, "R_B": 1000,
            "V_BE_2": 0.65, "h_FE_2": 150, "I_L": 0.3,
        },
        {
            "V_O": emitter - 0.9, "V_TAP": tap, "I_DIV": emitter / 1100, "V_KNEE": knee,
            "I_KNEE": (emitter - knee) / 3,  # what the sense resistor then has across it: 1.677 V, 559 mA
            "I_SC": 0.65 * 1.1 / 3, "I_B_1": (0.3 + emitter / 1100) / 61,
        },
    )  # fmt: skip


def test_feedback_pair_on_paper() -> None:
    """20 V, 820 ohm, 5.6 V zener, junctions of 0.7 V, gains 60 and 150, 2.2 over 2.7 kilo-ohm, 200 mA; fed by 2.2
    kilo-ohm; then with every base current, and with the drive too small."""
    parts = {
        "V_I": 20, "R": 820, "V_Z": 5.6, "V_BE_1": 0.7, "V_BE_2": 0.7, "h_FE_1": 60, "h_FE_2": 150, "R_1": 2200,
        "R_2": 2700, "I_L": 0.2,
    }  # fmt: skip
    tap = 5.6 + 0.7  # 6.3 V
    output = tap * 4900 / 2700  # 11.43 V
    divider = tap / 2700  # 2.333 mA
    drive = (20 - output - 0.7) / 820  # 9.594 mA
    base = (0.2 + divider) / 61  # 3.317 mA
    agree(
        "feedback-pair",
        {"form": "unfed", **parts},
        {
            "V_TAP": tap, "V_O": output, "I_DIV": divider, "I_R": drive, "I_B_1": base, "I_C_2": drive - base,
            "I_Z": drive - base, "I_B_2": (drive - base) / 150, "P_Q_1": (20 - output) * (0.2 + divider) * 60 / 61,
            "V_CE_2": output + 0.7 - 5.6,
        },
    )  # fmt: skip
    feed = (output - 5.6) / 2200  # 2.652 mA
    fed = (0.2 + divider + feed) / 61
    agree(
        "feedback-pair",
        {"form": "fed", **parts, "R_D": 2200},
        {"V_O": output, "I_RD": feed, "I_C_2": drive - fed, "I_Z": drive - fed + feed},
    )
    # Counted, the error transistor's base current b comes through R_1 too: the output rises by 2200 b.
    b = (drive - base) / (150 + 2200 / 820 + 1 / 61)  # 41.1 uA
    agree(
        "feedback-pair --exact",
        {"form": "unfed", **parts},
        {"V_O": output + 2200 * b, "I_B_2": b, "I_DIV": divider + b, "I_Z": 151 * b},
    )
    # 4.7 kilo-ohm bring too little: all of it is base current, and the output falls until that is enough.
    low = (19.3 / 4700 - 0.15 / 61) / (1 / 4700 + 1 / (61 * 4900))  # 7.623 V
    agree(
        "feedback-pair",
        {"form": "unfed", **parts, "R": 4700, "I_L": 0.15},
        {"V_O": low, "V_TAP": low * 2700 / 4900, "I_C_2": 0, "I_B_1": (19.3 - low) / 4700},
    )


def test_opamp_series_on_paper() -> None:
    """18 V, reference 5 V, twice 4.7 kilo-ohm, gain 60, 0.7 V, 0.5 A; a zener of 4.9 V and 25 ohm behind 1.8
    kilo-ohm; a gain of 2000 and 75 ohm; 11 V with 2 V of dropout; the amplifier alone."""
    parts = {"V_I": 18, "R_1": 4700, "R_2": 4700, "V_BE": 0.7, "h_FE": 60, "I_L": 0.5}
    divider = 5 / 4700  # 1.064 mA
    base = (0.5 + divider) / 61  # 8.214 mA
    agree(
        "opamp-series",
        {"form": "reference", "V_REF": 5, **parts},
        {
            "V_O": 10, "V_OA": 10.7, "I_OA": base, "P_Q": 8 * 60 * base, "I_I": 0.5 + divider,
            "eta": 10 * 0.5 / (18 * (0.5 + divider)),
        },
    )  # fmt: skip
    reference = 4.9 + 25 * 13.1 / 1825  # 5.079 V
    agree(
        "opamp-series",
        {"form": "zener", "V_Z0": 4.9, "r_z": 25, "R": 1800, **parts},
        {"V_REF": reference, "V_O": 2 * reference, "I_Z": 13.1 / 1825, "S_V": 50 / 1825},
    )
    # A gain of 2000: the loop gain is 1000, and 75 ohm lose 75 x 8.197 mA before the junction.
    closed = (2000 * 5 - 0.7 - 75 * 0.5 / 61) / 1001
    agree(
        "opamp-series",
        {"form": "reference", "V_REF": 5, "A": 2000, "R_O": 75, **parts},
        {"V_O": closed, "V_TAP": closed / 2, "I_OA": 0.5 / 61, "R_OUT": 75 / 61 / 1001},
    )
    agree(
        "opamp-series",
        {"form": "reference", "V_REF": 5, **parts, "V_I": 11},
        {"V_OA": 9, "V_O": 8.3, "V_TAP": 4.15, "I_OA": (0.5 + 8.3 / 9400) / 61},
    )
    agree(
        "opamp-series",
        {"form": "direct", "V_REF": 5, "V_I": 18, "R_1": 4700, "R_2": 4700, "I_L": 0.01},
        {"V_O": 10, "I_OA": 0.01 + divider, "P_D": 8 * (0.01 + divider)},
    )


def test_three_terminal_on_paper() -> None:
    """Adjustable: 18 V, 240 ohm and 2 kilo-ohm, 50 uA, 0.5 A. Fixed: 9 V to 5 V. Raised: 5 V by 200 and 82 ohm."""
    divider = 1.25 / 240  # 5.208 mA
    output = 1.25 + (divider + 50e-6) * 2000  # 11.77 V
    agree(
        "three-terminal",
        {"form": "adjustable", "V_I": 18, "V_REF": 1.25, "I_ADJ": 50e-6, "R_1": 240, "R_2": 2000, "I_L": 0.5},
        {
            "V_O": output, "I_REG": 0.5 + divider, "I_I": 0.5 + divider + 50e-6,
            "P_D": (18 - output) * (0.5 + divider) + (18 - output + 1.25) * 50e-6,
        },
    )  # fmt: skip
    agree(
        "three-terminal",
        {"form": "fixed", "V_I": 9, "V_REG": 5, "I_Q": 5e-3, "I_L": 0.5},
        {"V_O": 5, "P_D": 4 * 0.5 + 9 * 5e-3, "I_I": 0.505, "eta": 2.5 / (9 * 0.505)},
    )
    agree(
        "three-terminal",
        {"form": "raised", "V_I": 15, "V_REG": 5, "I_Q": 4.2e-3, "R_1": 200, "R_2": 82, "I_L": 0.3},
        {"V_O": 5 + (25e-3 + 4.2e-3) * 82, "I_DIV": 25e-3, "I_LOWER": 29.2e-3},
    )


def test_a_transistor_around_a_regulator_on_paper() -> None:
    """12 V to 5 V at 3 A, 5 mA of its own, 3.3 ohm, 0.7 V, gain 40; at 0.1 A the transistor is off."""
    parts = {"form": "boosted", "V_I": 12, "V_REG": 5, "I_Q": 5e-3, "V_DROP": 2, "R_BE": 3.3, "V_BE": 0.7, "h_FE": 40}
    beside = 0.7 / 3.3  # 212.1 mA
    # I_L = I_REG + 40 (I_REG + 5 mA - 212.1 mA)
    regulator = (3 + 40 * (beside - 5e-3)) / 41  # 275.2 mA
    base = regulator + 5e-3 - beside  # 68.12 mA
    agree(
        "three-terminal",
        {**parts, "I_L": 3},
        {
            "I_RBE": beside, "I_REG": regulator, "I_B": base, "I_C": 40 * base, "I_I": 3.005, "V_IO": 6.3,
            "P_Q": 7 * 40 * base, "P_D": 6.3 * regulator + 11.3 * 5e-3,
        },
    )  # fmt: skip
    light = tutor.solve("three-terminal", {**parts, "I_L": 0.1}, find=("I_RBE", "I_C", "V_IO"))
    assert light.value("I_C").value == 0
    assert light.value("I_RBE").value == pytest.approx(0.105, rel=1e-11)
    assert light.value("V_IO").value == pytest.approx(12 - 0.105 * 3.3 - 5, rel=1e-11)


def test_a_regulator_as_a_current_source_on_paper() -> None:
    """15 V, 1.25 V across 12 ohm, 50 uA, 47 ohm of load; 470 ohm is more than it can drive."""
    parts = {"form": "current-source", "V_I": 15, "V_REF": 1.25, "I_ADJ": 50e-6, "V_DROP": 2, "R": 12}
    through = 1.25 / 12  # 104.2 mA
    load = (through + 50e-6) * 47  # 4.898 V
    agree(
        "three-terminal",
        {**parts, "R_L": 47},
        {
            "I_REG": through, "I_L": through + 50e-6, "V_O": load, "V_IO": 15 - 1.25 - load, "P_R": 1.25**2 / 12,
            "P_D": (13.75 - load) * through + (15 - load) * 50e-6,
        },
    )  # fmt: skip
    # Dropped out there are 13 V over 12 and 470 ohm, of which the pin's 50 uA take theirs in the load alone.
    left = (13 - 50e-6 * 470) / 482
    agree("three-terminal", {**parts, "R_L": 470}, {"I_REG": left, "I_L": left + 50e-6, "V_IO": 2})


def test_heat_path_on_paper() -> None:
    """10 W through 1.5, 0.5 and 4 K/W into 40 degrees Celsius; 1 W into free air by 62.5 K/W."""
    agree(
        "heat-path",
        {"form": "heat-sink", "P_D": 10, "R_thJC": 1.5, "R_thCS": 0.5, "R_thSA": 4, "T_A": 40},
        {"T_S": 80, "T_C": 85, "T_J": 100},
    )
    agree("heat-path", {"form": "free-air", "P_D": 1, "R_thJA": 62.5, "T_A": 40}, {"T_J": 102.5})
