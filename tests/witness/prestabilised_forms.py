"""The decks' forms of the follower with a stage before its reference: two zeners, or an adjustable shunt reference.

The state of a draw is decided here by plain arithmetic of the trade: what each zener is left, or where its node would
stand with it taken out.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from tests.witness.forms import CLEAR, Form, Values, pick

Draw = Callable[[Random], Values | None]
LOADS = (("R_L", "resistor"), ("I_L", "current"))
# The ranges of the follower, with a first zener above the second one (common practice, no further source).
ZENERS = {
    "V_I": (8.0, 35.0),
    "V_Z_P": (6.2, 20.0),
    "V_Z": (4.7, 12.0),
    "R_P": (47.0, 820.0),
    "R": (100.0, 1500.0),
    "r_z_P": (2.0, 25.0),
    "I_ZT_P": (0.005, 0.03),
    "r_z": (2.0, 25.0),
    "I_ZT": (0.005, 0.03),
    "V_BE": (0.5, 0.8),
    "h_FE": (20.0, 150.0),
    "R_L": (5.0, 1e3),
}
REFERENCE = {
    "V_I": (8.0, 35.0),
    "R": (100.0, 1e3),
    "R_1": (1e3, 22e3),
    "R_2": (1e3, 22e3),
    "V_REF": (1.2, 2.5),
    "I_REF": (1e-6, 4e-6),
    "V_BE": (0.5, 0.8),
    "h_FE": (20.0, 150.0),
    "R_L": (5.0, 1e3),
}
STRAIGHT = ("V_I", "R_P", "V_Z_P", "R", "V_Z", "V_BE", "h_FE")
TEST_POINT = ("V_I", "R_P", "V_ZT_P", "I_ZT_P", "r_z_P", "R", "V_ZT", "I_ZT", "r_z", "V_BE", "h_FE")
DIVIDED = ("V_I", "R", "R_1", "R_2", "V_REF", "I_REF", "V_BE", "h_FE")


def zeners(names: tuple[str, ...], state: str, load: str) -> Draw:
    """Draws of the two stages, by what each zener is left when it holds its node, or by the node when it is out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, ZENERS)
        line, first, second = values["V_I"], values["V_Z_P"], values["V_Z"]
        values["V_ZT_P"], values["V_ZT"] = first, second
        # With a slope a zener begins to conduct that much below its test voltage.
        sag_first, sag_second = (
            (values["r_z_P"] * values["I_ZT_P"], values["r_z"] * values["I_ZT"]) if "r_z" in names else (0.0, 0.0)
        )
        seen = (values["h_FE"] + 1) * values["R_L"]
        values["I_L"] = (second - values["V_BE"]) / values["R_L"]
        sink = values["I_L"] / (values["h_FE"] + 1)

        def base_current(feed: float, through: float) -> float:
            """What the base takes when it is fed from a voltage through a resistance, no zener at it."""
            return sink if load == "I_L" else (feed - values["V_BE"]) / (through + seen)

        held = base_current(second, 0.0)
        both = values["R_P"] + values["R"]
        open_base = {
            "second-starved": first - values["R"] * base_current(first, values["R"]),
            "starved": line - both * base_current(line, both),
        }.get(state, second)
        drawn = base_current(first, values["R"]) if state == "second-starved" else base_current(line, both)
        fits = {
            "regulating": (first - sag_first - second) / values["R"] > (1 + CLEAR) * held
            and (line - first) / values["R_P"] > (1 + CLEAR) * (first - second + sag_second) / values["R"],
            "first-starved": (line - second) / both > (1 + CLEAR) * held
            and second + (line - second) * values["R"] / both < (1 - CLEAR) * first,
            "second-starved": (line - first) / values["R_P"] > (1 + CLEAR) * drawn,
            "starved": line - values["R_P"] * drawn < (1 - CLEAR) * first,
        }[state]
        if state in ("second-starved", "starved"):
            fits = fits and values["V_BE"] + 0.1 < open_base < (1 - CLEAR) * second
        return {name: values[name] for name in (*names, load)} if fits and first > second + 1 else None

    return draw


def reference(state: str, load: str) -> Draw:
    """Draws of the shunt reference, by what base and divider leave when the base stands where the divider says."""

    def draw(source: Random) -> Values | None:
        values = pick(source, REFERENCE)
        held = values["V_REF"] * (1 + values["R_1"] / values["R_2"]) + values["I_REF"] * values["R_1"]
        values["I_L"] = (held - values["V_BE"]) / values["R_L"]
        base = values["I_L"] / (values["h_FE"] + 1)
        left = (values["V_I"] - held) / values["R"] - base - (held - values["V_REF"]) / values["R_1"]
        lowest = values["V_I"] - values["R"] * (base + held / (values["R_1"] + values["R_2"]))
        scale = CLEAR * values["V_I"] / values["R"]
        fits = left > scale if state == "regulating" else left < -scale and lowest > values["V_BE"] + 0.5
        return {name: values[name] for name in (*DIVIDED, load)} if fits and held > 2.0 else None

    return draw


PRESTABILISED_FORMS = (
    *(
        Form(
            f"prestabilised_zener_{words.replace('-', '_')}_{load_words}",
            "prestabilised-zener",
            state,
            (*names, load),
            zeners(names, state, load),
        )
        for words, state, names in (
            ("straight", "regulating", STRAIGHT),
            ("test_point", "regulating", TEST_POINT),
            *((state, state, STRAIGHT) for state in ("first-starved", "second-starved", "starved")),
        )
        for load, load_words in LOADS
    ),
    *(
        Form(
            f"prestabilised_reference_{state}_{load_words}",
            "prestabilised-reference",
            state,
            (*DIVIDED, load),
            reference(state, load),
        )
        for state in ("regulating", "starved")
        for load, load_words in LOADS
    ),
)
# What a state leaves idle: a value there may be any and nothing shows it.
PRESTABILISED_IDLE: dict[tuple[str, str], set[str]] = {
    ("prestabilised-zener", "first-starved"): {"V_Z_P"},
    ("prestabilised-zener", "second-starved"): {"V_Z"},
    ("prestabilised-zener", "starved"): {"V_Z_P", "V_Z"},
    ("prestabilised-reference", "starved"): {"V_REF"},
}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    carried = seen["I_B"] > 0 and seen["V_CE"] > 0.2
    if form.circuit == "prestabilised-reference":
        return carried and (seen["I_K"] > 0 if form.region == "regulating" else seen["V_TAP"] < values["V_REF"])
    first = form.region in ("regulating", "second-starved")
    second = form.region in ("regulating", "first-starved")
    on = (seen["I_Z_P"] > 0) is first and (seen["I_Z"] > 0) is second
    below = (first or seen["V_O_P"] < values["V_Z_P"]) and (second or seen["V_B"] < values["V_Z"])
    return carried and on and below
