"""The decks' forms of the series regulators that have a loop: two transistors, or an op-amp and a transistor.

The state of a draw is decided here by plain arithmetic of the trade: where the output would stand with the loop open.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from tests.witness.forms import CLEAR, SLOPE, STRAIGHT, Form, Values, onset, pick

Draw = Callable[[Random], Values | None]
LOADS = (("R_L", "resistor"), ("I_L", "current"))
PAIR = ("V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2")

# Two transistors: 15-36 V, zeners of 3.3-6.8 V, dividers of 1-10 kilo-ohm, outputs that leave a volt (the problem of a
# course has 8-20 V and 1-10 kilo-ohm before the collector; smaller ones here for heavier loads).
FEEDBACK = {
    "V_I": (15.0, 36.0),
    "V_Z": (3.3, 6.8),
    "R": (220.0, 8.2e3),
    "R_D": (470.0, 4.7e3),
    "R_1": (1e3, 10e3),
    "R_2": (1e3, 10e3),
    "R_L": (5.0, 1e3),
    "V_BE_1": (0.5, 0.8),
    "h_FE_1": (30.0, 200.0),
    "V_BE_2": (0.5, 0.8),
    "h_FE_2": (50.0, 300.0),
}


def feedback(fed: bool, state: str, load: str) -> Draw:
    """Draws of a two-transistor regulator, by the output it would have were its error transistor taken out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, FEEDBACK)
        tap = values["V_Z"] + values["V_BE_2"]
        chain = values["R_1"] + values["R_2"]
        set_to = tap * chain / values["R_2"]
        values["I_L"] = set_to / values["R_L"]
        seen, aside = 1 / chain, 0.0
        seen, aside = (seen + 1 / values["R_L"], 0.0) if load == "R_L" else (seen, values["I_L"])
        bare = bare_without = output_of(values, seen, aside)
        if fed and state != "starved":
            bare = output_of(values, seen + 1 / values["R_D"], aside - values["V_Z"] / values["R_D"])
        top = values["V_I"] - values["V_BE_1"] - 0.3
        if state == "regulating":
            fits = set_to < top and bare > (1 + CLEAR) * set_to
        elif state == "dropout":
            least = (1 + CLEAR) * values["V_Z"] if fed else values["V_Z"] - values["V_BE_1"] + 0.3
            fits = least < bare < (1 - CLEAR) * set_to
        else:
            fits = 0.2 < bare_without < (1 - CLEAR) * values["V_Z"] and bare_without < (1 - CLEAR) * set_to
        names = ("V_I", "R", "V_Z", *PAIR, "R_1", "R_2", *(("R_D",) if fed else ()), load)
        return {name: values[name] for name in names} if fits else None

    return draw


def output_of(values: Values, seen: float, aside: float) -> float:
    """Where a pass transistor with all of the drive holds a load of `seen` siemens and `aside` amperes."""
    share = (values["h_FE_1"] + 1) / values["R"]
    return ((values["V_I"] - values["V_BE_1"]) * share - aside) / (share + seen)


def _feedback_form(fed: bool, state: str, words: str, load: str, exact: bool = False) -> Form:
    form = "fed" if fed else "unfed"
    told = ("V_I", "R", "V_Z", *PAIR, "R_1", "R_2", *(("R_D",) if fed else ()), load)
    deck = f"feedback_{form}_exact" if exact else f"feedback_{form}_{state}_{words}"
    taken = {"base-current": "exact"} if exact else {}
    return Form(deck, f"feedback-pair-{form}", state, told, feedback(fed, state, load), taken)


# Op-amps: references of 1.2-6.2 V and dividers of 1-22 kilo-ohm as the amplifier problem has them, 8-36 V, a pass gain
# of 30-200, amplifiers of a gain of 100 to 100 000 with 10-200 ohm.
AMPLIFIER = {
    "V_I": (8.0, 36.0),
    "V_REF": (1.2, 6.2),
    "V_Z": (3.3, 6.2),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.002, 0.02),
    "R": (270.0, 4.7e3),
    "V_DROP": (0.3, 3.0),
    "V_BE": (0.5, 0.8),
    "h_FE": (30.0, 200.0),
    "R_1": (1e3, 22e3),
    "R_2": (1e3, 22e3),
    "A": (100.0, 1e5),
    "R_O": (10.0, 200.0),
    "I_L": (0.005, 0.5),
}


def amplifier(told: tuple[str, ...], state: str) -> Draw:
    """Draws of an op-amp regulator, by the output it is set to beside what its rail allows."""

    def draw(source: Random) -> Values | None:
        values = pick(source, AMPLIFIER)
        values["R_L"] = 5.0 / values["I_L"]
        if state == "starved":
            values["V_I"] = values["V_Z"] * (0.9 + 0.09 * source.random())
        zener = next((item for item in (SLOPE, STRAIGHT) if item[0] in told), ())
        reference = values["V_REF"] if not zener else onset(values, zener)
        fits = not zener or (values["V_I"] > (1 + CLEAR) * reference) is (state != "starved")
        if "r_z" in told:
            slope = values["r_z"] / (values["R"] + values["r_z"])
            reference += (values["V_I"] - reference) * slope
        set_to = reference * (1 + values["R_1"] / values["R_2"])
        junction = values["V_BE"] if "V_BE" in told else 0.0
        most = values["V_I"] - values["V_DROP"] - junction
        # Where the gain is finite the amplifier has its own drop too, and stays the further below its rail.
        fits = fits and most > 0.3 and (set_to < (1 - CLEAR) * most if state == "regulating" else set_to > 1.01 * most)
        values["I_L"] = min(values["I_L"], most / 0.02)
        return {name: values[name] for name in told} if fits else None

    return draw


OPAMP_PARTS = {
    "reference": ("V_I", "V_REF", "V_DROP", "V_BE", "h_FE", "R_1", "R_2"),
    "zener": ("V_I", "R", "V_Z", "V_DROP", "V_BE", "h_FE", "R_1", "R_2"),
    "direct": ("V_I", "V_REF", "V_DROP", "R_1", "R_2"),
}


def _opamp_form(form: str, words: str, state: str, load: str) -> Form:
    told = [*OPAMP_PARTS[form], *(("A", "R_O") if words in ("finite", "counted") else ()), load]
    if form == "zener" and words in ("slope", "finite"):
        told[told.index("V_Z") : told.index("V_Z") + 1] = SLOPE
    deck = f"opamp_series_{form}_{words}"
    deck += "" if words == "counted" or (form, words) == ("zener", "finite") else f"_{dict(LOADS)[load]}"
    taken = {"amplifier": words} if words in ("finite", "counted") else {}
    return Form(deck, f"opamp-series-{form}", state, tuple(told), amplifier(tuple(told), state), taken)


LOOP_FORMS = (
    *(
        _feedback_form(fed, state, words, load)
        for fed in (False, True)
        for state in ("regulating", "dropout", "starved")
        if fed or state != "starved"
        for load, words in LOADS
    ),
    *(_feedback_form(fed, "regulating", "current", "I_L", exact=True) for fed in (False, True)),
    *(
        _opamp_form(form, words, state, load)
        for form, kinds in (
            ("reference", ("regulating", "dropout", "finite")),
            ("direct", ("regulating", "dropout", "finite")),
            ("zener", ("straight", "slope", "dropout", "starved")),
        )
        for words in kinds
        for state in (words if words in ("dropout", "starved") else "regulating",)
        for load, _ in LOADS
    ),
    *(_opamp_form(form, "counted", "regulating", "I_L") for form in ("reference", "direct")),
    _opamp_form("zener", "finite", "regulating", "I_L"),
)
# What a state leaves idle: a value there may be any and nothing shows it.
LOOP_IDLE: dict[tuple[str, str], set[str]] = {
    **{
        (f"feedback-pair-{form}", state): {"V_BE_2", "h_FE_2", *(("V_Z", "R_D") if state == "starved" else ())}
        for form in ("unfed", "fed")
        for state in ("dropout", "starved")
    },
    **{(f"opamp-series-{form}", "regulating"): {"V_DROP"} for form in OPAMP_PARTS},
    **{(f"opamp-series-{form}", "dropout"): {"V_REF"} for form in OPAMP_PARTS},
    ("opamp-series-zener", "starved"): {"V_Z", "R"},
}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    if form.circuit.startswith("opamp-series"):
        top = values["V_I"] - values["V_DROP"]
        at_rail = seen.get("V_OA", seen["V_O"]) == pytest.approx(top, rel=1e-9)
        below = seen["V_TAP"] <= (seen["V_REF"] if "V_REF" in seen else values["V_REF"]) * (1 + 1e-9)
        fed = form.region == "starved" or seen.get("I_Z", 1.0) > 0
        return fed and below and at_rail is (form.region != "regulating") and seen["I_OA"] > 0
    if form.circuit.startswith("feedback-pair"):
        held = seen["V_TAP"] == pytest.approx(values["V_Z"] + values["V_BE_2"]) and seen["I_C_2"] > 0
        idle = seen["V_TAP"] < values["V_Z"] + values["V_BE_2"] and seen["I_C_2"] == 0
        zener = seen["V_E_2"] < values["V_Z"] if form.region == "starved" else seen["I_Z"] >= 0
        return (held if form.region == "regulating" else idle) and zener and min(seen["I_B_1"], seen["V_CE_2"]) > 0
