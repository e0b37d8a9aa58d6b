"""The decks' forms of the shunt regulators with a transistor, a reference, an op-amp or a compensating diode.

The state of a draw is decided here by plain arithmetic of the trade: what is left of the current through R once the
output stands where it is meant to, and where the output would stand with nothing drawn but the load.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from tests.witness.forms import CLEAR, SLOPE, STRAIGHT, TEST_POINT, Form, Values, onset, pick

# Ranges usual in courses (common practice, no further source): those of the shunt regulator, the loads heavier where a
# transistor takes the current; references of 1.2-6.2 V, dividers of 1-22 kilo-ohm, pin currents of 1-4 microamperes.
BOOSTED = {
    "V_I": (9.0, 30.0),
    "V_Z": (3.3, 15.0),
    "R": (10.0, 470.0),
    "R_L": (20.0, 10e3),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.005, 0.05),
    "R_BE": (100.0, 1e3),
    "V_BE": (0.5, 0.8),
    "h_FE": (20.0, 200.0),
}
DIVIDED = {
    "V_I": (9.0, 30.0),
    "V_REF": (1.2, 6.2),
    "R": (20.0, 1e3),
    "R_1": (1e3, 22e3),
    "R_2": (1e3, 22e3),
    "R_L": (20.0, 10e3),
    "I_REF": (1e-6, 4e-6),
    "V_BE": (0.5, 0.8),
    "h_FE": (20.0, 200.0),
}
COMPENSATED = {
    "V_I": (9.0, 30.0),
    "V_Z": (3.3, 15.0),
    "R": (47.0, 2200.0),
    "R_L": (100.0, 10e3),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.005, 0.05),
    "V_F": (0.5, 0.8),
}
Draw = Callable[[Random], Values | None]


def _bare(values: Values, load: str) -> float:
    """The output with nothing drawn but the load."""
    if load == "R_L":
        return values["V_I"] * values["R_L"] / (values["R"] + values["R_L"])
    return values["V_I"] - values["R"] * values["I_L"]


def _left(values: Values, load: str, output: float) -> float:
    """What the load leaves of the current through R with the output at a voltage."""
    drawn = output / values["R_L"] if load == "R_L" else values["I_L"]
    return (values["V_I"] - output) / values["R"] - drawn


def boosted(state: str, zener: tuple[str, ...], load: str) -> Draw:
    """Draws of a boosted shunt: the transistor conducts when more is left than its base resistor takes at V_BE."""

    def draw(source: Random) -> Values | None:
        values = pick(source, BOOSTED)
        least = onset(values, zener)
        values["I_L"] = values["V_Z"] / values["R_L"]
        edge = values["V_BE"] / values["R_BE"]
        slope = values["r_z"] * edge if "r_z" in zener else 0.0
        left, bare = _left(values, load, least + slope + values["V_BE"]), _bare(values, load)
        fits = {
            "regulating": left > (1 + CLEAR) * edge,
            "zener-alone": bare > (1 + CLEAR) * least and left < (1 - CLEAR) * edge,
            "off": 0 < bare < (1 - CLEAR) * least,
        }[state]
        names = ("V_I", "R", *zener, "R_BE", "V_BE", "h_FE", load)
        return {name: values[name] for name in names} if fits and least > 0 else None

    return draw


def compensated(conducts: bool, zener: tuple[str, ...], load: str) -> Draw:
    """Draws of a compensated shunt, by the output with nothing drawn but the load."""

    def draw(source: Random) -> Values | None:
        values = pick(source, COMPENSATED)
        least = onset(values, zener)
        values["I_L"] = values["V_Z"] / values["R_L"]
        # An off zener is one below its own voltage: the diode's counts only once both conduct.
        bare = _bare(values, load)
        above = least + values["V_F"]
        fits = bare > (1 + CLEAR) * above if conducts else 0 < bare < (1 - CLEAR) * least
        return {name: values[name] for name in ("V_I", "R", *zener, "V_F", load)} if fits and least > 0 else None

    return draw


def divided(names: tuple[str, ...], regulates: bool, load: str) -> Draw:
    """Draws of a regulator with a divider, by what is left with the output where the divider says."""

    def draw(source: Random) -> Values | None:
        values = pick(source, DIVIDED)
        pin = values["I_REF"] if "I_REF" in names else 0.0
        output = values["V_REF"] * (1 + values["R_1"] / values["R_2"]) + pin * values["R_1"]
        values["I_L"] = (0.5 if regulates else 2.0) * output / values["R_L"]
        left = _left(values, load, output) - (output - values["V_REF"]) / values["R_1"]
        lowest = values["V_I"] - values["R"] * values["I_L"] if load == "I_L" else values["V_I"]
        scale = CLEAR * values["V_I"] / values["R"]
        fits = left > scale if regulates else left < -scale and lowest > 0.2 * values["V_I"]
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


REFERENCE = ("V_I", "R", "R_1", "R_2", "V_REF", "I_REF")
OPAMP = ("V_I", "R", "R_1", "R_2", "V_REF", "V_BE", "h_FE")
LOADS = (("R_L", "resistor"), ("I_L", "current"))
FULL = ((STRAIGHT, "straight"), (SLOPE, "slope"), (TEST_POINT, "test_point"))
SOME = ((STRAIGHT, "resistor", "R_L"), (STRAIGHT, "current", "I_L"), (SLOPE, "slope", "R_L"))
# What a state leaves idle: a value there may be any and nothing shows it.
IDLE = {
    ("boosted-shunt", "zener-alone"): {"V_BE", "h_FE"},
    ("boosted-shunt", "off"): {"V_Z", "r_z", "V_BE", "h_FE", "R_BE"},
    ("compensated-shunt", "off"): {"V_Z", "r_z", "V_F"},
    ("reference-shunt", "off"): {"V_REF"},
    ("opamp-shunt", "off"): {"V_REF", "V_BE", "h_FE"},
}


def _boosted_form(deck: str, state: str, zener: tuple[str, ...], load: str) -> Form:
    told = ("V_I", "R", *zener, "R_BE", "V_BE", "h_FE", load)
    return Form(f"boosted_{deck}", "boosted-shunt", state, told, boosted(state, zener, load))


def _compensated_form(deck: str, state: str, zener: tuple[str, ...], load: str) -> Form:
    draw = compensated(state == "regulating", zener, load)
    return Form(f"compensated_{deck}", "compensated-shunt", state, ("V_I", "R", *zener, "V_F", load), draw)


SHUNT_FORMS = (
    *(
        make(f"{words}_{load_words}", "regulating", zener, load)
        for make in (_boosted_form, _compensated_form)
        for zener, words in FULL
        for load, load_words in LOADS
    ),
    *(_boosted_form(f"alone_{words}", "zener-alone", zener, load) for zener, words, load in SOME),
    *(_boosted_form(f"off_{words}", "off", zener, load) for zener, words, load in SOME),
    *(_compensated_form(f"off_{words}", "off", zener, load) for zener, words, load in SOME),
    *(
        Form(f"{stem}{words}", circuit, state, (*names, load), divided(names, state == "regulating", load))
        for circuit, names, short in (("reference-shunt", REFERENCE, "reference"), ("opamp-shunt", OPAMP, "opamp"))
        for state, stem in (("regulating", f"{short}_"), ("off", f"{short}_off_"))
        for load, words in LOADS
    ),
)


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    if form.circuit == "boosted-shunt":
        breakdown = values["V_Z"] if "V_Z" in values else seen["V_Z"]
        if form.region == "regulating":
            return seen["I_B"] > 0 and seen["V_CE"] > 0.2
        if form.region == "zener-alone":
            return seen["I_Z"] > 0 and seen["V_B"] < values["V_BE"]
        return seen["V_O"] - seen["V_B"] < breakdown
    if form.circuit == "compensated-shunt":
        breakdown = values["V_Z"] if "V_Z" in values else seen["V_Z"]
        return seen["I_Z"] > 0 if form.region == "regulating" else seen["V_O"] < breakdown
    drawn = seen["I_K"] if form.circuit == "reference-shunt" else seen["I_B"]
    return drawn > 0 if form.region == "regulating" else seen["V_TAP"] < values["V_REF"]
