"""The decks' forms: which circuit and region each stands for, what the engine is told, and how its values are drawn.

A *bare* voltage is the one with the zener taken out; a zener conducts when that is above its onset. The state of a draw
is decided here by such plain arithmetic of the trade, not by the engine under test.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from random import Random

Values = dict[str, float]


@dataclass(frozen=True)
class Form:
    """One deck: its circuit, the region it stands for, what the engine is told, how a set is drawn, and conventions
    other than the circuit's first."""

    deck: str
    circuit: str
    region: str
    told: tuple[str, ...]
    draw: Callable[[Random], Values | None]
    conventions: Mapping[str, str] = field(default_factory=dict)

    def sets(self, count: int, seed: int) -> list[Values]:
        """The first `count` draws in this form's state, from a generator of the form's own."""
        source = Random(f"{self.deck} {seed}")
        found: list[Values] = []
        for _ in range(400 * count):
            drawn = self.draw(source)
            if drawn is not None:
                found.append(drawn)
            if len(found) == count:
                return found
        raise AssertionError(f"{self.deck}: only {len(found)} of {count} sets found")


# Ranges. Shunt: supply, zener, resistor and load of the state problem (9-30 V; 3.3-18 V; 47 ohm-2.2 kilo-ohm;
# 100 ohm-10 kilo-ohm), slope and test current of the operating-point problem (2-50 ohm; 5-50 mA), after the zener shunt
# regulator of Sedra and Smith, Microelectronic Circuits. Follower: 12-30 V; 5.1-15 V; 100-820 ohm; gain 30-100; load
# 10 ohm-1 kilo-ohm. Source: 5-30 V, 20 mA-2 A, falling by 0.1-20 %. V_BE 0.5-0.8 V as books have it. All of these are
# ranges usual in courses: common practice, no further source.
SHUNT = {
    "V_I": (9.0, 30.0),
    "V_Z": (3.3, 18.0),
    "R": (47.0, 2200.0),
    "R_L": (100.0, 10e3),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.005, 0.05),
}
FOLLOWER = {
    "V_I": (12.0, 30.0),
    "V_Z": (5.1, 15.0),
    "R": (100.0, 820.0),
    "R_L": (10.0, 1e3),
    "r_z": (2.0, 50.0),
    "I_ZT": (0.005, 0.05),
    "V_BE": (0.5, 0.8),
    "h_FE": (30.0, 100.0),
}
SOURCE = {"V_OC": (5.0, 30.0), "I_I": (0.02, 2.0), "fall": (0.001, 0.2)}
# Reservoir: windings of 6-22 V, 50 or 60 Hz, 470-10 000 uF, 20 mA-2 A, ripple under a third of the crest, as in the
# usual rectifier problem of a course; V_F 0.5-1.1 V.
RESERVOIR = {"N_T": (5.0, 40.0), "V_SEC": (6.0, 22.0), "V_F": (0.5, 1.1), "C": (470e-6, 10e-3), "I_L": (0.02, 2.0)}
CLEAR = 0.01  # how far a drawn state keeps from its border, as a share of the zener voltage


def pick(source: Random, ranges: Mapping[str, tuple[float, float]]) -> Values:
    """One value from each range: voltages evenly, the rest evenly in their logarithm."""
    values: Values = {}
    for name, (low, high) in ranges.items():
        share = source.random()
        values[name] = low + share * (high - low) if name[0] == "V" else low * (high / low) ** share
    return values


def onset(values: Values, zener: tuple[str, ...]) -> float:
    """The voltage above which a zener given in these terms conducts."""
    if "V_ZT" in zener:
        values["V_ZT"] = values["V_Z"]
        return values["V_Z"] - values["r_z"] * values["I_ZT"]
    if "V_Z0" in zener:
        values["V_Z0"] = values["V_Z"] - values["r_z"] * values["I_ZT"]
        return values["V_Z0"]
    return values["V_Z"]


def shunt(conducts: bool, zener: tuple[str, ...], load: str) -> Callable[[Random], Values | None]:
    """Draws of a shunt regulator whose zener conducts, or does not, by the voltage with the zener taken out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, SHUNT)
        least = onset(values, zener)
        values["I_L"] = values["V_Z"] / values["R_L"]
        bare = values["V_I"] - values["R"] * values["I_L"]
        if load == "R_L":
            bare = values["V_I"] * values["R_L"] / (values["R"] + values["R_L"])
        fits = bare > (1 + CLEAR) * least if conducts else 0 < bare < (1 - CLEAR) * least
        return {name: values[name] for name in ("V_I", "R", *zener, load)} if fits and least > 0 else None

    return draw


def follower(conducts: bool, zener: tuple[str, ...], load: str) -> Callable[[Random], Values | None]:
    """Draws of a follower with its transistor active, by the base voltage with the zener taken out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, FOLLOWER)
        least = onset(values, zener)
        junction, share = values["V_BE"], values["h_FE"] + 1
        values["I_L"] = (values["V_Z"] - junction) / values["R_L"]
        bare = values["V_I"] - values["R"] * values["I_L"] / share
        if load == "R_L":
            seen = share * values["R_L"]
            bare = junction + (values["V_I"] - junction) * seen / (values["R"] + seen)
        fits = bare > (1 + CLEAR) * least if conducts else junction < bare < (1 - CLEAR) * least
        return {name: values[name] for name in ("V_I", "R", *zener, "V_BE", "h_FE", load)} if fits else None

    return draw


def follower_off(source: Random) -> Values | None:
    """Draws of a follower whose supply is below V_BE."""
    values = pick(source, FOLLOWER)
    values["V_I"] = values["V_BE"] * (0.05 + 0.9 * source.random())
    return {name: values[name] for name in ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L")}


def shunt_any(source: Random) -> Values | None:
    """Draws of a shunt regulator in whatever state."""
    values = pick(source, SHUNT)
    return {name: values[name] for name in ("V_I", "R", "V_Z", "R_L")}


def follower_any(source: Random) -> Values | None:
    """Draws of a follower in whatever state, a fifth of them with a supply near or below V_BE."""
    values = pick(source, FOLLOWER)
    if source.random() < 0.2:
        values["V_I"] = values["V_BE"] * (0.5 + source.random())
    return {name: values[name] for name in ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L")}


def supply(names: tuple[str, ...]) -> Callable[[Random], Values | None]:
    """Draws of a raw supply: full load, and two lighter loads of which the second is the heavier."""

    def draw(source: Random) -> Values | None:
        values = pick(source, SOURCE)
        full = values["V_OC"] / (1 + values["fall"])
        values["R_S"] = (values["V_OC"] - full) / values["I_I"]
        values["R_L"] = full / values["I_I"]
        values["R_L_2"] = values["R_L"] * (1 + source.random())
        values["R_L_1"] = values["R_L"] * (3 + 7 * source.random())
        values["I_I_2"] = values["I_I"] * (0.5 + 0.5 * source.random())
        values["I_I_1"] = values["I_I"] * (0.1 + 0.2 * source.random())
        return {name: values[name] for name in ("V_OC", "R_S", *names)}

    return draw


def reservoir(pulses: int, load: str) -> Callable[[Random], Values | None]:
    """Draws of a rectifier with so many top-ups a cycle and a reservoir; heavy ripple is left out."""

    def draw(source: Random) -> Values | None:
        values = pick(source, RESERVOIR)
        values["f"] = source.choice((50.0, 60.0))
        crest = 2**0.5 * values["V_SEC"] - 2 * values["V_F"]
        ripple = values["I_L"] / (pulses * values["f"] * values["C"])
        values["R_L"] = (crest - ripple / 2) / values["I_L"]
        values["V_O"] = (crest - ripple) * (0.2 + 0.7 * source.random())
        names = ("N_T", "V_SEC", "V_F", "f", "C", "V_O", load)
        return {name: values[name] for name in names} if ripple < crest / 3 else None

    return draw


def rectifiers(source: Random) -> Values | None:
    """Draws of three rectifiers side by side: the ripple of the one with one top-up a cycle keeps moderate."""
    values = pick(source, {name: RESERVOIR[name] for name in ("V_SEC", "V_F", "C", "I_L")})
    values["f"] = source.choice((50.0, 60.0))
    crest = 2**0.5 * values["V_SEC"] - 2 * values["V_F"]
    return values if values["I_L"] / (values["f"] * values["C"]) < crest / 3 else None


def _zener_form(circuit: str, state: str, zener: tuple[str, ...], words: str, load: str) -> Form:
    conducts = state in ("breakdown", "regulating")
    draw = shunt(conducts, zener, load) if circuit == "zener-shunt" else follower(conducts, zener, load)
    told = ("V_I", "R", *zener, *(("V_BE", "h_FE") if circuit == "follower" else ()), load)
    return Form(f"{circuit.removeprefix('zener-')}_{words}", circuit, state, told, draw)


STRAIGHT, SLOPE, TEST_POINT = ("V_Z",), ("V_Z0", "r_z"), ("V_ZT", "I_ZT", "r_z")
FORMS = (
    Form("source_resistor", "source", "linear", ("V_OC", "R_S", "R_L"), supply(("R_L",))),
    Form("source_current", "source", "linear", ("V_OC", "R_S", "I_I"), supply(("I_I",))),
    *(
        Form(f"source_readings_{words}", "source", "linear", ("V_I_1", first, "V_I_2", second), supply((first, second)))
        for words, first, second in (("current", "I_I_1", "I_I_2"), ("resistor", "R_L_1", "R_L_2"))
    ),
    *(
        _zener_form(circuit, state, zener, f"{words}_{load_words}", load)
        for circuit, state in (("zener-shunt", "breakdown"), ("follower", "regulating"))
        for zener, words in ((STRAIGHT, "straight"), (SLOPE, "slope"), (TEST_POINT, "test_point"))
        for load, load_words in (("R_L", "resistor"), ("I_L", "current"))
    ),
    *(
        _zener_form(circuit, state, zener, words, load)
        for circuit, state, off in (("zener-shunt", "off", "off"), ("follower", "starved", "starved"))
        for zener, words, load in (
            (STRAIGHT, f"{off}_resistor", "R_L"),
            (STRAIGHT, f"{off}_current", "I_L"),
            (SLOPE, f"{off}_slope", "R_L"),
        )
    ),
    *(
        Form(
            f"reservoir_{form.replace('-', '_')}_{words}",
            f"reservoir-{form}",
            "charged",
            ("N_T", "V_SEC", "V_F", "f", "C", "V_O", load),
            reservoir(pulses, load),
        )
        for form, pulses in (("half-wave", 1), ("centre-tap", 2), ("bridge", 2))
        for load, words in (("I_L", "current"), ("R_L", "resistor"))
    ),
    Form("rectifiers_current", "rectifiers", "charged", ("V_SEC", "V_F", "f", "C", "I_L"), rectifiers),
    Form("follower_off", "follower", "off", ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L"), follower_off),
)

# Decks whose parts find their own state; no region is declared for them.
STATES = (
    Form("shunt_state", "zener-shunt", "", ("V_I", "R", "V_Z", "R_L"), shunt_any),
    Form("follower_state", "follower", "", ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L"), follower_any),
)
