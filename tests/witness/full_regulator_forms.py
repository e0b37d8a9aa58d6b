"""The decks' forms of the whole regulator: reference, op-amp, pair, limiter.

The state of a draw is decided here by plain arithmetic of the trade: what the output is set to, what the rail allows,
and what the sense resistor carries when its voltage is the limiter's junction.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from tests.witness.forms import CLEAR, SLOPE, STRAIGHT, TEST_POINT, Form, Values, onset, pick

# Ranges usual in courses (common practice, no further source): those of the op-amp regulator, the Darlington pair and
# the current limit (sense resistors of 0.22-3.3 ohm); op-amps give 5-30 mA at most.
PARTS = {
    "V_I": (8.0, 36.0),
    "R": (270.0, 4.7e3),
    "V_Z": (3.3, 6.2),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.002, 0.02),
    "V_DROP": (0.3, 3.0),
    "I_OAM": (0.005, 0.03),
    "V_BE_1": (0.5, 0.8),
    "h_FE_1": (30.0, 200.0),
    "V_BE_2": (0.5, 0.8),
    "h_FE_2": (20.0, 100.0),
    "R_SENSE": (0.22, 3.3),
    "V_BE_3": (0.5, 0.8),
    "h_FE_3": (50.0, 300.0),
    "R_1": (1e3, 22e3),
    "R_2": (1e3, 22e3),
}
BEFORE, BEHIND = ("V_DROP", "I_OAM", "V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2", "R_SENSE", "V_BE_3"), ("R_1", "R_2")


def regulator(told: tuple[str, ...], state: str, zener: tuple[str, ...]) -> Callable[[Random], Values | None]:
    """Draws in a state: the output and what the sense resistor carries are chosen, and the load follows from them."""
    limits = state in ("holding", "limiting")

    def draw(source: Random) -> Values | None:
        values = pick(source, PARTS)
        place = 0.02 + 0.96 * source.random()
        if state == "starved":
            values["V_I"] = values["V_Z"] * (0.9 + 0.09 * source.random())
        reference = onset(values, zener)
        fits = (values["V_I"] > (1 + CLEAR) * reference) is (state != "starved")
        if "r_z" in zener:
            reference += (values["V_I"] - reference) * values["r_z"] / (values["R"] + values["r_z"])
        chain = values["R_1"] + values["R_2"]
        set_to = reference * chain / values["R_2"]
        most = values["V_BE_3"] / values["R_SENSE"]
        sensed = most if limits else place * (1 - CLEAR) * most
        top = values["V_I"] - values["V_DROP"] - values["V_BE_1"] - values["V_BE_2"] - sensed * values["R_SENSE"]
        share = (values["h_FE_1"] + 1) * (values["h_FE_2"] + 1)
        held = state in ("regulating", "holding")
        output = set_to if held else place * set_to if state == "limiting" else top
        spare = values["I_OAM"] - sensed / share
        limiter = 0.0  # its base current
        if limits:
            limiter = spare / (values["h_FE_3"] + 1 / share) * (place if state == "holding" else 1.0)
        current = sensed + (values["h_FE_3"] + 1) * limiter - output / chain
        fits = fits and output > 0.3 and current > 1e-3 and spare > CLEAR * values["I_OAM"]
        rail = top - output
        fits = fits and (rail > CLEAR * output if held or state == "limiting" else set_to > 1.01 * output)
        values["I_L"], values["R_L"] = current, output / current
        return {name: values[name] for name in told} if fits else None

    return draw


def _form(words: str, state: str, zener: tuple[str, ...], load: str) -> Form:
    limiter = ("h_FE_3",) if state in ("holding", "limiting") else ()
    told = ("V_I", "R", *zener, *BEFORE, *limiter, *BEHIND, load)
    return Form(f"full_regulator_{words}", "full-regulator", state, told, regulator(told, state, zener))


FULL_FORMS = (
    _form("straight_current", "regulating", STRAIGHT, "I_L"),
    _form("slope_current", "regulating", SLOPE, "I_L"),
    _form("slope_resistor", "regulating", SLOPE, "R_L"),
    _form("test_point_current", "regulating", TEST_POINT, "I_L"),
    _form("holding_resistor", "holding", STRAIGHT, "R_L"),
    _form("limiting_current", "limiting", STRAIGHT, "I_L"),
    _form("limiting_resistor", "limiting", SLOPE, "R_L"),
    _form("dropout_current", "dropout", STRAIGHT, "I_L"),
    _form("dropout_resistor", "dropout", SLOPE, "R_L"),
    _form("starved_current", "starved", STRAIGHT, "I_L"),
)
# What a state leaves idle: a value there may be any and nothing shows it.
FULL_IDLE: dict[tuple[str, str], set[str]] = {
    ("full-regulator", "regulating"): {"V_DROP", "I_OAM"},
    ("full-regulator", "holding"): {"V_DROP", "I_OAM"},
    ("full-regulator", "limiting"): {"V_DROP"},
    ("full-regulator", "dropout"): {"I_OAM"},
    ("full-regulator", "starved"): {"I_OAM", "V_Z", "R"},
}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    railed = seen["V_OA"] == pytest.approx(values["V_I"] - values["V_DROP"], rel=1e-9)
    held = seen["V_TAP"] == pytest.approx(seen["V_REF"], rel=1e-9)
    limits = seen["I_C_3"] > 0 and seen["V_SENSE"] == pytest.approx(values["V_BE_3"], rel=1e-9)
    free = seen["I_C_3"] == 0 and seen["V_SENSE"] < values["V_BE_3"]
    fed = seen["I_Z"] > 0 if form.region != "starved" else seen["V_REF"] < values["V_Z"]
    sound = fed and seen["V_TAP"] <= seen["V_REF"] * (1 + 1e-9) and min(seen["I_B_1"], seen["V_CE_1"] - 0.2) > 0
    return sound and {
        "regulating": held and free and not railed and seen["I_OA"] < values["I_OAM"],
        "holding": held and limits and not railed and seen["I_OA"] < values["I_OAM"],
        "limiting": limits and not held and seen["V_OA"] < values["V_I"] - values["V_DROP"],
        "dropout": railed and free,
        "starved": railed and free,
    }[form.region]
