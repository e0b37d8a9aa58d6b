"""The deck's form of three regulators side by side, all of them regulating."""

from __future__ import annotations

from random import Random

import pytest

from tests.witness.forms import Form, Values, pick

# Outputs of 5-15 V from at most 2.2 times as much, loads of 20-500 mA, dividers of 1-10 kilo-ohm, gains and slopes as
# in the single circuits (common practice, no further source).
RANGES = {
    "V_O": (5.0, 15.0),
    "above": (1.3, 2.2),
    "R_1": (1e3, 10e3),
    "R_2": (1e3, 10e3),
    "V_BE": (0.5, 0.8),
    "h_FE": (30.0, 200.0),
    "r_z": (2.0, 50.0),
    "A": (50.0, 5e3),
    "R_O": (20.0, 200.0),
    "V_DROP": (0.2, 0.5),
    "I_L": (0.02, 0.5),
    "spare": (0.002, 0.05),
    "R_FEED_3": (1e3, 10e3),
}
TOLD = ("V_I", "V_O", "R_FEED_1", "R_FEED_2", "R_FEED_3", "R_1", "R_2", "V_BE", "h_FE", "r_z", "A", "R_O", "V_DROP",
        "I_L")  # fmt: skip


def three_regulators(source: Random) -> Values | None:
    """Draws in which both feed resistors leave their zener so much to spare, and the amplifier has its headroom."""
    values = pick(source, RANGES)
    values["V_I"] = values["V_O"] * values["above"]
    over = values["V_I"] - values["V_O"]
    values["R_FEED_1"] = over / (values["I_L"] + values["spare"])
    values["R_FEED_2"] = (over - values["V_BE"]) / (values["I_L"] / (values["h_FE"] + 1) + values["spare"])
    fits = over > values["V_BE"] + values["V_DROP"]
    return {name: values[name] for name in TOLD} if fits else None


COMPARE_FORMS = (Form("regulators_current", "regulators", "regulating", TOLD, three_regulators),)
# What only decides whether the amplifier has left its state.
COMPARE_IDLE: dict[tuple[str, str], set[str]] = {("regulators", "regulating"): {"V_DROP"}}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings all three regulate: each output stands where it was set."""
    output = values["V_O"]
    outputs = (seen["V_Z_1"], seen["V_B_2"] - values["V_BE"], seen["V_OA"] - values["V_BE"])
    held = seen["V_TAP"] == pytest.approx(seen["V_Z_3"]) and all(found == pytest.approx(output) for found in outputs)
    return held and min(seen["I_Z_1"], seen["I_Z_2"], seen["I_Z_3"], seen["I_B_2"], seen["I_B_3"]) > 0
