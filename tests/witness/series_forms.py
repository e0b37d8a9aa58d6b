"""The decks' forms of the series regulators: Darlington pair, limiters, three-terminal regulators, heat.

The state of a draw is decided here by plain arithmetic of the trade: where a node would stand with a part taken out.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from tests.witness.forms import CLEAR, SLOPE, STRAIGHT, TEST_POINT, Form, Values, onset, pick

Draw = Callable[[Random], Values | None]
LOADS = (("R_L", "resistor"), ("I_L", "current"))

# Ranges usual in courses (common practice, no further source): those of the follower, a driver of 30-200 and a pass
# transistor of 20-100, loads of 2-100 ohm.
DARLINGTON = {
    "V_I": (12.0, 30.0),
    "V_Z": (5.1, 15.0),
    "R": (100.0, 4.7e3),
    "R_L": (2.0, 100.0),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.005, 0.05),
    "V_BE_1": (0.5, 0.8),
    "h_FE_1": (30.0, 200.0),
    "V_BE_2": (0.5, 0.8),
    "h_FE_2": (20.0, 100.0),
}
PAIR = ("V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2")


def darlington(conducts: bool, zener: tuple[str, ...], load: str) -> Draw:
    """Draws of a Darlington regulator with both transistors active, by the base voltage with the zener taken out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, DARLINGTON)
        least = onset(values, zener)
        junctions = values["V_BE_1"] + values["V_BE_2"]
        share = (values["h_FE_1"] + 1) * (values["h_FE_2"] + 1)
        values["I_L"] = (values["V_Z"] - junctions) / values["R_L"]
        bare = values["V_I"] - values["R"] * values["I_L"] / share
        if load == "R_L":
            seen = share * values["R_L"]
            bare = junctions + (values["V_I"] - junctions) * seen / (values["R"] + seen)
        fits = bare > (1 + CLEAR) * least if conducts else junctions < bare < (1 - CLEAR) * least
        return {name: values[name] for name in ("V_I", "R", *zener, *PAIR, load)} if fits else None

    return draw


def _darlington_form(words: str, state: str, zener: tuple[str, ...], load: str) -> Form:
    told = ("V_I", "R", *zener, *PAIR, load)
    return Form(f"darlington_{words}", "darlington", state, told, darlington(state == "regulating", zener, load))


# Limiters: 0.22-3.3 ohm and 0.2-3 A of the current-limit problem, a divider of 0.05-0.3 for the foldback.
LIMITER = {
    "V_I": (12.0, 30.0),
    "V_Z": (5.1, 15.0),
    "R": (100.0, 1e3),
    "R_SENSE": (0.22, 3.3),
    "R_A": (47.0, 220.0),
    "R_B": (680.0, 1.5e3),
    "V_BE_1": (0.5, 0.8),
    "h_FE_1": (30.0, 100.0),
    "V_BE_2": (0.5, 0.8),
    "h_FE_2": (50.0, 200.0),
}
LIMIT = ("V_I", "R", "V_Z", "V_BE_1", "h_FE_1", "R_SENSE", "V_BE_2", "h_FE_2")
FOLDBACK = ("V_I", "R", "V_Z", "V_BE_1", "h_FE_1", "R_SENSE", "R_A", "R_B", "V_BE_2", "h_FE_2")


def limiter(names: tuple[str, ...], state: str, load: str) -> Draw:
    """Draws of a follower with a limiter: the output is chosen, and the load that brings it there follows by node laws.

    Without a divider the tap is the emitter itself: R_A = 0 and nothing through R_B.
    """
    fold = "R_A" in names

    def draw(source: Random) -> Values | None:
        values = pick(source, LIMITER)
        upper, lower = (values["R_A"], 1 / values["R_B"]) if fold else (0.0, 0.0)
        junction, sense = values["V_BE_2"], values["R_SENSE"]
        full = values["V_Z"] - values["V_BE_1"]
        share = values["h_FE_1"] + 1
        place = 0.02 + 0.96 * source.random()
        if state in ("regulating", "starved"):
            emitter = full if state == "regulating" else (0.3 + 0.65 * place) * full
            tap = emitter / (1 + upper * lower)
            most = (emitter - tap + junction) / sense
            current = place * most if state == "regulating" else None
            feed = (values["V_I"] - emitter - values["V_BE_1"]) / values["R"]
            if current is None:  # all that R brings is base current
                current = share * feed - emitter * lower / (1 + upper * lower)
            drive = (current + emitter * lower / (1 + upper * lower)) / share
            output = emitter - current * sense
            fits = 0 < current < (1 - CLEAR) * most and output > 0.2
            fits = fits and (feed > (1 + CLEAR) * drive if state == "regulating" else values["V_I"] > values["V_BE_1"])
        else:
            # The limiter's base current is b; emitter, sense and feed currents are straight lines in it.
            def at(output: float, b: float) -> tuple[float, float, float]:
                tap = output + junction
                emitter = tap + upper * (tap * lower + b)
                return emitter, (emitter - output) / sense, tap * lower + b if fold else b

            if state == "holding":
                b = place * (values["V_I"] - values["V_Z"]) / values["R"] / values["h_FE_2"]
                output = (full - upper * b) / (1 + upper * lower) - junction
            else:
                knee = full / (1 + upper * lower) - junction
                output = place * knee
                b = 0.0
                for _ in range(60):  # each round divides what is left by the gain
                    emitter, through, aside = at(output, b)
                    feed = (values["V_I"] - emitter - values["V_BE_1"]) / values["R"]
                    b = (feed - (through + aside) / share) / values["h_FE_2"]
            emitter, through, aside = at(output, b)
            feed = (values["V_I"] - emitter - values["V_BE_1"]) / values["R"]
            left = feed - (through + aside) / share - values["h_FE_2"] * b
            current = through + (values["h_FE_2"] + 1) * b
            fits = b > 1e-7 and output > 0.2 and emitter < full + 1e-9
            fits = fits and (left > CLEAR * feed if state == "holding" else emitter < (1 - CLEAR) * full)
            alone = full / (sense + output / current) * (output / current)  # the output were the limiter not there
            fits = fits and full / (1 + upper * lower) - alone > (1 + CLEAR) * junction
        fits = fits and values["V_I"] > values["V_Z"] + 0.5
        values["I_L"], values["R_L"] = current, output / current
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


# Three-terminal regulators: references of 1.2-1.3 V and pin currents of 20-100 uA; fixed ones of 3.3-15 V and 2-10 mA.
TERMINALS = {
    "V_I": (6.0, 40.0),
    "V_REF": (1.2, 1.3),
    "I_ADJ": (20e-6, 100e-6),
    "V_REG": (3.3, 15.0),
    "I_Q": (2e-3, 10e-3),
    "V_DROP": (0.3, 3.0),
    "R_1": (100.0, 1e3),
    "R_2": (100.0, 5e3),
    "I_L": (1e-3, 1.5),
}


def three_terminal(names: tuple[str, ...], regulates: bool, load: str) -> Draw:
    """Draws of a three-terminal regulator, by the output it is set to beside the input less the drop-out voltage."""
    voltage, pin = ("V_REF", "I_ADJ") if "V_REF" in names else ("V_REG", "I_Q")

    def draw(source: Random) -> Values | None:
        values = pick(source, TERMINALS)
        upper, lower = (values["R_1"], values["R_2"]) if "R_1" in names else (1.0, 0.0)
        set_to = values[voltage] * (1 + lower / upper) + values[pin] * lower
        most = values["V_I"] - values["V_DROP"]
        fits = most > (1 + CLEAR) * set_to if regulates else 1.0 < most < (1 - CLEAR) * set_to
        values["R_L"] = min(set_to, most) / values["I_L"]
        # Dropped out, what the pin brings to the lower resistor must not outdo what the output brings.
        fits = fits and (lower == 0 or most > 2 * values[pin] * lower)
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


# With a pass transistor around it: 0.2-5 A, a resistor that turns it on at some tenths of an ampere.
BOOSTED = {
    "V_I": (8.0, 30.0),
    "V_REG": (3.3, 15.0),
    "I_Q": (2e-3, 10e-3),
    "V_DROP": (0.3, 3.0),
    "R_BE": (1.0, 20.0),
    "V_BE": (0.5, 0.8),
    "h_FE": (20.0, 150.0),
    "I_L": (0.01, 5.0),
}


def boosted(names: tuple[str, ...], state: str, load: str) -> Draw:
    """Draws of a regulator with a transistor around it, by the voltage its whole current puts across R_BE alone."""
    conducts, regulates = state in ("sharing", "dropout"), state in ("sharing", "alone")

    def draw(source: Random) -> Values | None:
        values = pick(source, BOOSTED)
        alone = (values["I_L"] + values["I_Q"]) * values["R_BE"]
        drop = values["V_BE"] if conducts else alone
        most = values["V_I"] - drop - values["V_DROP"]
        fits = most > (1 + CLEAR) * values["V_REG"] if regulates else 1.0 < most < (1 - CLEAR) * values["V_REG"]
        on = alone > (1 + CLEAR) * values["V_BE"] and values["V_BE"] / values["R_BE"] > 2 * values["I_Q"]
        fits = fits and (on if conducts else alone < (1 - CLEAR) * values["V_BE"])
        values["R_L"] = (values["V_REG"] if regulates else most) / values["I_L"]
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


# As a current source: 5 mA to 1 A into 0-25 V.
SOURCE = {
    "V_I": (6.0, 40.0),
    "V_REF": (1.2, 1.3),
    "I_ADJ": (20e-6, 100e-6),
    "V_DROP": (0.3, 3.0),
    "R": (1.2, 240.0),
    "V_O": (0.3, 25.0),
}


def current_source(names: tuple[str, ...], regulates: bool, load: str) -> Draw:
    """Draws of a regulator as a current source: the load's voltage first, and what current comes of it."""

    def draw(source: Random) -> Values | None:
        values = pick(source, SOURCE)
        left = values["V_I"] - values["V_DROP"] - values["V_O"]  # across the resistor, were it dropped out
        least = 0.05 * values["V_REF"]
        own = values["V_REF"]
        fits = left > (1 + CLEAR) * own if regulates else least < left < (1 - CLEAR) * own
        values["R_L"] = values["V_O"] / ((own if regulates else left) / values["R"] + values["I_ADJ"])
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


# The heat chain: 1-40 W, 0.8-5, 0.2-1.5 and 0.8-25 K/W, 35-80 K/W in free air, an ambient of 25-60 degrees Celsius.
HEAT = {
    "P_D": (1.0, 40.0),
    "R_thJC": (0.8, 5.0),
    "R_thCS": (0.2, 1.5),
    "R_thSA": (0.8, 25.0),
    "R_thJA": (35.0, 80.0),
    "T_A": (25.0, 60.0),
}
HEAT_NAMES = {
    "sink": ("heat-path-heat-sink", ("P_D", "R_thJC", "R_thCS", "R_thSA", "T_A")),
    "free_air": ("heat-path-free-air", ("P_D", "R_thJA", "T_A")),
}


def heat(names: tuple[str, ...]) -> Draw:
    """Draws of a heat path; any will do."""

    def draw(source: Random) -> Values | None:
        values = pick(source, HEAT)
        return {name: values[name] for name in names}

    return draw


# A regulator and the path of its heat, at a stiff line or behind 0.2-10 ohm of a raw supply.
HEATED = {**TERMINALS, **HEAT, "R_S": (0.2, 10.0), "I_L": (0.1, 1.5)}
HEATED_NAMES = ("V_DROP", "V_REG", "I_Q", "R_thJC", "R_thCS", "R_thSA", "T_A")


def heated(names: tuple[str, ...], regulates: bool, load: str) -> Draw:
    """Draws of a regulator with its heat path, by the output beside the input, less the drop-out voltage."""

    def draw(source: Random) -> Values | None:
        values = pick(source, HEATED)
        most = values["V_I"] - values["V_DROP"]
        values["R_L"] = min(values["V_REG"], most) / values["I_L"]
        values["V_OC"] = values["V_I"] + (values["I_L"] + values["I_Q"]) * values["R_S"]
        fits = most > (1 + CLEAR) * values["V_REG"] if regulates else 1.0 < most < (1 - CLEAR) * values["V_REG"]
        return {name: values[name] for name in (*names, load)} if fits else None

    return draw


FED = {"regulator": ("V_I",), "raw_supply": ("V_OC", "R_S")}
TERMINAL_NAMES = {
    "adjustable": ("V_I", "V_DROP", "V_REF", "I_ADJ", "R_1", "R_2"),
    "fixed": ("V_I", "V_DROP", "V_REG", "I_Q"),
    "raised": ("V_I", "V_DROP", "V_REG", "I_Q", "R_1", "R_2"),
}
BOOSTED_NAMES = ("V_I", "V_DROP", "V_REG", "I_Q", "R_BE", "V_BE", "h_FE")
SOURCE_NAMES = ("V_I", "V_DROP", "V_REF", "I_ADJ", "R")
SERIES_FORMS = (
    *(
        _darlington_form(f"{words}_{load_words}", "regulating", zener, load)
        for zener, words in ((STRAIGHT, "straight"), (SLOPE, "slope"), (TEST_POINT, "test_point"))
        for load, load_words in LOADS
    ),
    *(
        _darlington_form(f"starved_{words}", "starved", zener, load)
        for zener, words, load in (
            (STRAIGHT, "resistor", "R_L"), (STRAIGHT, "current", "I_L"), (SLOPE, "slope", "R_L"),
        )
    ),
    *(
        Form(f"{deck}_{state}_{words}", circuit, state, (*names, load), limiter(names, state, load))
        for circuit, deck, names in (("current-limit", "limit", LIMIT), ("foldback", "foldback", FOLDBACK))
        for state in ("regulating", "holding", "limiting", "starved")
        for load, words in LOADS
        if (circuit, state) != ("foldback", "limiting")
    ),
    *(
        Form(
            f"three_terminal_{form}_{state}_{words}",
            f"three-terminal-{form}",
            state,
            (*names, load),
            three_terminal(names, state == "regulating", load),
        )
        for form, names in TERMINAL_NAMES.items()
        for state in ("regulating", "dropout")
        for load, words in LOADS
    ),
    *(
        Form(
            f"three_terminal_boosted_{state.replace('-', '_')}_{words}",
            "three-terminal-boosted",
            state,
            (*BOOSTED_NAMES, load),
            boosted(BOOSTED_NAMES, state, load),
        )
        for state in ("sharing", "alone", "dropout", "dropout-alone")
        for load, words in LOADS
    ),
    *(
        Form(
            f"three_terminal_source_{state}_{words}",
            "three-terminal-current-source",
            state,
            (*SOURCE_NAMES, load),
            current_source(SOURCE_NAMES, state == "regulating", load),
        )
        for state in ("regulating", "dropout")
        for load, words in (("R_L", "resistor"), ("V_O", "voltage"))
    ),
    *(Form(f"heat_{deck}", circuit, "steady", names, heat(names)) for deck, (circuit, names) in HEAT_NAMES.items()),
    *(
        Form(
            f"heat_{form}_{state}_{words}",
            f"heat-path-{form.replace('_', '-')}",
            state,
            (*fed, *HEATED_NAMES, load),
            heated((*fed, *HEATED_NAMES), state == "regulating", load),
        )
        for form, fed in FED.items()
        for state in ("regulating", "dropout")
        for load, words in LOADS
    ),
    # A load that holds a current below the knee is served, so that a resistance alone is met folded back; the engine is
    # told the output it comes to. Told the resistance, it works with numbers at once (`test_a_ring_of_numbers`).
    Form("foldback_limiting", "foldback", "limiting", (*FOLDBACK, "V_O"), limiter(FOLDBACK, "limiting", "R_L")),
)  # fmt: skip
# What a state leaves idle: a value there may be any and nothing shows it.
SERIES_IDLE: dict[tuple[str, str], set[str]] = {
    ("current-limit", "regulating"): {"h_FE_2"},
    ("current-limit", "limiting"): {"V_Z"},
    ("current-limit", "starved"): {"V_Z", "h_FE_2"},
    ("foldback", "regulating"): {"h_FE_2"},
    ("foldback", "starved"): {"h_FE_2"},
    ("three-terminal-boosted", "sharing"): {"V_DROP"},
    ("three-terminal-boosted", "alone"): {"V_DROP", "V_BE", "h_FE"},
    ("three-terminal-boosted", "dropout"): {"V_REG"},
    ("three-terminal-boosted", "dropout-alone"): {"V_REG", "V_BE", "h_FE"},
    ("three-terminal-current-source", "regulating"): {"V_DROP"},
    ("three-terminal-current-source", "dropout"): {"V_REF"},
    **{(f"three-terminal-{form}", "regulating"): {"V_DROP"} for form in TERMINAL_NAMES},
    **{(f"three-terminal-{form}", "dropout"): {"V_REF", "V_REG"} for form in TERMINAL_NAMES},
    **{(f"heat-path-{form.replace('_', '-')}", "regulating"): {"V_DROP"} for form in FED},
    **{(f"heat-path-{form.replace('_', '-')}", "dropout"): {"V_REG"} for form in FED},
}


def in_its_state(form: Form, values: Values, seen: Values) -> bool:
    """Whether by the simulator's own readings the circuit is in the state of its form."""
    if form.circuit.startswith("heat-path"):
        chain = [seen[name] for name in ("T_J", "T_C", "T_S") if name in seen] + [values["T_A"]]
        headroom = seen.get("V_I", values.get("V_I", 0.0)) - seen.get("V_O", 0.0)
        held = {
            "steady": True,
            "regulating": headroom > values.get("V_DROP", 0.0),
            "dropout": seen.get("V_O", 0.0) < values.get("V_REG", 0.0),
        }
        return held[form.region] and chain == sorted(chain, reverse=True)
    if form.circuit == "three-terminal-current-source":
        held = seen["V_R"] < values["V_REF"] if form.region == "dropout" else seen["V_IO"] > values["V_DROP"]
        return held and seen["I_REG"] > 0
    if form.circuit == "three-terminal-boosted":
        dropped = form.region.startswith("dropout")
        held = seen["V_O"] < values["V_REG"] if dropped else seen["V_IO"] > values["V_DROP"]
        off = form.region.endswith("alone")
        junction = seen["I_RBE"] * values["R_BE"] < values["V_BE"] if off else seen["I_B"] > 0
        return held and junction and seen["I_REG"] > 0
    if form.circuit.startswith("three-terminal"):
        across = seen["V_O"] - seen.get("V_TAP", 0.0)
        own = values["V_REF"] if "V_REF" in values else values["V_REG"]
        headroom = values["V_I"] - seen["V_O"]
        held = across < own if form.region == "dropout" else headroom > values["V_DROP"]
        return held and seen["V_O"] > 0 and seen.get("I_REG", 1.0) > 0
    if form.circuit in ("current-limit", "foldback"):
        tap = seen.get("V_TAP", seen["V_E"])
        if form.region in ("regulating", "starved"):
            limits = tap - seen["V_O"] < values["V_BE_2"] and seen["I_C_2"] == 0
        else:
            limits = seen["I_B_2"] > 0 and seen["V_CE_2"] > 0.2
        zener = seen["I_Z"] > 0 if form.region in ("regulating", "holding") else seen["V_B"] < values["V_Z"]
        return limits and zener and seen["I_B_1"] > 0 and seen["V_CE_1"] > 0.2
    active = seen["I_B_1"] > 0 and seen["I_B_2"] > 0 and seen["V_CE_1"] > 0.2 and seen["V_CE_2"] > 0.2
    breakdown = values["V_Z"] if "V_Z" in values else seen["V_Z"]
    return active and (seen["I_Z"] > 0 if form.region == "regulating" else seen["V_B_1"] < breakdown)
