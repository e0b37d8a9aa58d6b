"""The decks' forms of the whole supply, mains to rail: bridge and reservoir, a series regulator, the path of its heat.

The state of a draw is decided here by plain arithmetic of the trade: crest, sag by charge balance, what the regulator
needs above its output.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from tests.witness.forms import CLEAR, RESERVOIR, Form, Values, pick
from tests.witness.series_forms import HEAT

Draw = Callable[[Random], Values | None]
LOADS = (("R_L", "resistor"), ("I_L", "current"))
RAW = ("N_T", "V_SEC", "V_F", "f", "C")
PATH = ("R_thJC", "R_thCS", "R_thSA", "T_A")
FIXED = (*RAW, "V_DROP", "V_REG", "I_Q", *PATH)
FOLLOWER = (*RAW, "R", "V_Z", "V_BE", "h_FE", *PATH)

# Windings, reservoirs and heat as of their own circuits; regulators of 3.3-15 V; zeners of 5.1-15 V behind 100-820 ohm;
# pass gains of 30-200; loads of 0.1-1.5 A.
WHOLE = {
    **RESERVOIR,
    **HEAT,
    "V_SEC": (8.0, 22.0),
    "C": (1e-3, 10e-3),
    "I_L": (0.1, 1.5),
    "V_REG": (3.3, 15.0),
    "I_Q": (2e-3, 10e-3),
    "V_DROP": (0.3, 3.0),
    "V_Z": (5.1, 15.0),
    "R": (100.0, 820.0),
    "V_BE": (0.5, 0.8),
    "h_FE": (30.0, 200.0),
}


def raw(source: Random) -> tuple[Values, float, float]:
    """A draw of every part, the crest of its reservoir and half the sag at the load's current."""
    values = pick(source, WHOLE)
    values["f"] = source.choice((50.0, 60.0))
    crest = 2**0.5 * values["V_SEC"] - 2 * values["V_F"]
    return values, crest, values["I_L"] / (4 * values["f"] * values["C"])


def fixed(regulates: bool, load: str) -> Draw:
    """Draws of the whole with a three-terminal regulator, by the mean at its input beside output and drop-out."""

    def draw(source: Random) -> Values | None:
        values, crest, half = raw(source)
        most = crest - half - values["V_DROP"]
        values["R_L"] = min(values["V_REG"], most) / values["I_L"]
        fits = most > (1 + CLEAR) * values["V_REG"] if regulates else 1.0 < most < (1 - CLEAR) * values["V_REG"]
        fits = fits and half < crest / 6
        return {name: values[name] for name in (*FIXED, load)} if fits else None

    return draw


def follower(state: str, load: str) -> Draw:
    """Draws of the whole with zener and follower, by the base voltage with the zener taken out."""

    def draw(source: Random) -> Values | None:
        values, crest, half = raw(source)
        least, junction, share = values["V_Z"], values["V_BE"], values["h_FE"] + 1
        full = least - junction
        bare = crest - half - values["R"] * values["I_L"] / share
        values["R_L"] = (full if state == "regulating" else bare - junction) / values["I_L"]
        fits = bare > (1 + CLEAR) * least if state == "regulating" else junction + 0.5 < bare < (1 - CLEAR) * least
        # The zener's current, left out of the sag, is to leave the state as it is where a deck counts it.
        fits = fits and half < crest / 8 and crest - 2 * half > full + 0.5 and values["R_L"] > 0
        return {name: values[name] for name in (*FOLLOWER, load)} if fits else None

    return draw


def _follower_form(words: str, load: str, counted: bool = False) -> Form:
    state = "starved" if words.startswith("starved") else "regulating"
    taken = {"ripple-current": "input"} if counted else {}
    draw = follower(state, load)
    return Form(f"whole_follower_{words}", "whole-supply-follower", state, (*FOLLOWER, load), draw, taken)


SUPPLY_FORMS = (
    *(
        Form(f"whole_fixed_{state}_{words}", "whole-supply-three-terminal", state, (*FIXED, load),
             fixed(state == "regulating", load))
        for state in ("regulating", "dropout")
        for load, words in LOADS
    ),
    _follower_form("straight_resistor", "R_L"),
    _follower_form("straight_current", "I_L"),
    _follower_form("starved_resistor", "R_L"),
    _follower_form("starved_current", "I_L"),
    _follower_form("counted", "I_L", counted=True),
)  # fmt: skip
# What a state leaves idle: a value there may be any and nothing shows it.
SUPPLY_IDLE: dict[tuple[str, str], set[str]] = {
    ("whole-supply-three-terminal", "regulating"): {"V_DROP"},
    ("whole-supply-three-terminal", "dropout"): {"V_REG"},
    ("whole-supply-follower", "starved"): {"V_Z"},
}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    chain = [seen[name] for name in ("T_J", "T_C", "T_S")] + [values["T_A"]]
    ordered = 0 < seen["V_TROUGH"] < seen["V_DC"] < seen["V_PK"] and chain == sorted(chain, reverse=True)
    if form.circuit.endswith("three-terminal"):
        held = seen["V_O"] < values["V_REG"] if form.region == "dropout" else seen["V_IO"] > values["V_DROP"]
        return held and ordered
    active = seen["I_B"] > 0 and seen["V_CE"] > 0.2
    breakdown = seen["I_Z"] > 0 if form.region == "regulating" else seen["V_B"] < values["V_Z"]
    return active and breakdown and ordered
