"""The witness: hand-written ngspice decks, run for many sets of values at once, and the engine asked the same.

Vocabulary: a *form* is one deck with the ranges its values are drawn from; the engine is *told* the form's givens, which
are values of the deck or readings the simulator took; a *set* is one draw; the *disagreement* of two values is their
difference over the simulator's value; a value below a millionth of the set's largest of its unit (of V_I/R for a current,
of V_I squared over R for a power, where that is more) is measured against that millionth, since the current of a zener
that is off comes out of the simulator as some 1e-16 A.
"""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random

import pytest

from tutor.circuit.circuit import Circuit, Region
from tutor.errors import Unreachable
from tutor.generate.catalogue import ProblemsFolder
from tutor.laws.law import LawSet
from tutor.plan import regions
from tutor.plan.regions import Resolved
from tutor.quantities.symbols import symbol_for

HERE = Path(__file__).parent
FOLDER = ProblemsFolder(HERE.parents[1] / "problems")
DEFAULTS = {"V_CE_SAT"}  # standing values the engine adds of its own accord

Values = dict[str, float]


@dataclass(frozen=True)
class Form:
    """One deck: its circuit, the region it stands for, what the engine is told, and how a set is drawn."""

    deck: str
    circuit: str
    region: str
    told: tuple[str, ...]
    draw: Callable[[Random], Values | None]

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


def _zener_form(circuit: str, state: str, zener: tuple[str, ...], words: str, load: str) -> Form:
    conducts = state in ("breakdown", "regulating")
    draw = shunt(conducts, zener, load) if circuit == "zener-shunt" else follower(conducts, zener, load)
    told = ("V_I", "R", *zener, *(("V_BE", "h_FE") if circuit == "follower" else ()), load)
    return Form(f"{circuit.removeprefix('zener-')}_{words}", circuit, state, told, draw)


STRAIGHT, SLOPE, TEST_POINT = ("V_Z",), ("V_Z0", "r_z"), ("V_ZT", "I_ZT", "r_z")
FORMS = (
    Form("source_resistor", "source", "linear", ("V_OC", "R_S", "R_L"), supply(("R_L",))),
    Form("source_current", "source", "linear", ("V_OC", "R_S", "I_I"), supply(("I_I",))),
    Form("source_readings_current", "source", "linear", ("V_I_1", "I_I_1", "V_I_2", "I_I_2"), supply(("I_I_1", "I_I_2"))),
    Form("source_readings_resistor", "source", "linear", ("V_I_1", "R_L_1", "V_I_2", "R_L_2"), supply(("R_L_1", "R_L_2"))),
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
    Form("follower_off", "follower", "off", ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L"), follower_off),
)

# Decks whose parts find their own state; no region is declared for them.
STATES = (
    Form("shunt_state", "zener-shunt", "", ("V_I", "R", "V_Z", "R_L"), shunt_any),
    Form("follower_state", "follower", "", ("V_I", "R", "V_Z", "V_BE", "h_FE", "R_L"), follower_any),
)


def find_ngspice() -> str:
    """Where ngspice is. Without it the test is skipped; where CI is set, it fails."""
    found = shutil.which("ngspice")
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail("ngspice is missing, and CI must have it (Debian package ngspice)")
    pytest.skip("ngspice is missing (Debian package ngspice)")


def deck_text(deck: str, edit: tuple[str, str] | None = None) -> str:
    """A deck as written, or with one thing in it changed (found exactly once)."""
    text = (HERE / "decks" / f"{deck}.cir").read_text(encoding="utf-8")
    if edit is not None:
        assert text.count(edit[0]) == 1, f"{deck}: '{edit[0]}' stands {text.count(edit[0])} times"
        text = text.replace(*edit)
    return text


def batch_text(text: str, sets: Sequence[Values]) -> str:
    """The deck with its commands repeated for every set, so that one process runs them all."""
    netlist, commands = text.split(".control\n")
    commands, rest = commands.split("quit\n")
    lines = []
    for values in sets:
        lines += [f"alterparam {name} = {value!r}" for name, value in values.items()]
        lines += ["reset", "echo SET", commands.strip(), "destroy all"]
    return f"{netlist}.control\n" + "\n".join(lines) + f"\nquit\n{rest}"


def run_deck(deck: str, sets: Sequence[Values], edit: tuple[str, str] | None = None) -> list[Values]:
    """What the simulator prints for each set, by the names the deck gives."""
    text = deck_text(deck, edit)
    names = {name.lower(): name for name in re.findall(r"^let (\w+) =", text, re.MULTILINE)}
    done = subprocess.run(
        [find_ngspice(), "-b", "/dev/stdin"],
        input=batch_text(text, sets), capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    blocks = done.stdout.split("SET\n")[1:]
    found = [
        {names[name]: float(value) for name, value in re.findall(r"^(\w+) = (\S+)$", block, re.MULTILINE)}
        for block in blocks
    ]
    if len(found) != len(sets) or any(set(values) != set(names.values()) for values in found):
        raise AssertionError(f"{deck}: ngspice did not finish\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    return found


def disagreement(ours: float, theirs: float, scale: float) -> float:
    """The difference over the simulator's value, or over a millionth of `scale` where that is more; inf when no number."""
    if not math.isfinite(ours):
        return math.inf
    return abs(ours - theirs) / max(abs(theirs), 1e-6 * scale, 1e-30)


def scale_of(name: str, seen: Values, told: Values) -> float:
    """The largest of the values of one unit, and for currents and powers at least what V_I would drive through R alone."""
    unit = symbol_for(name).unit
    alike = [abs(value) for key, value in seen.items() if symbol_for(key).unit == unit]
    if {"V_I", "R"} <= set(told):
        current = told["V_I"] / told["R"]
        alike += {"A": [current], "W": [current * told["V_I"]]}.get(unit, [])
    return max(alike)


@dataclass(frozen=True)
class Worst:
    """The largest disagreement met, and where."""

    size: float
    name: str
    values: Values

    def __str__(self) -> str:
        told = ", ".join(f"{name} = {value:.6g}" for name, value in self.values.items())
        return f"{self.size:.1e} in {self.name} at {told}"


Solve = Callable[[str, Mapping[str, float], tuple[str, ...]], Resolved]


def worst_of(form: Form, solve: Solve, sets: Sequence[Values], seen: Sequence[Values], wanted: tuple[str, ...]) -> Worst:
    """The engine told each set, every value it finds held against what the simulator saw; inf for another region."""
    worst = Worst(-1.0, "nothing", {})
    for drawn, theirs in zip(sets, seen, strict=True):
        told = {name: drawn[name] if name in drawn else theirs[name] for name in form.told}
        found = solve(form.circuit, told, wanted)
        if found.region.id != form.region:
            return Worst(math.inf, f"the region ({found.region.id})", told)
        ours = {name: float(value) for name, value in found.values.items() if name not in form.told}
        expected = {name: value for name, value in theirs.items() if name not in form.told}
        extra = set(ours) ^ set(expected)
        assert not extra - DEFAULTS, f"{form.deck}: one side alone has {sorted(extra - DEFAULTS)}"
        for name, value in expected.items():
            size = disagreement(ours[name], value, scale_of(name, expected, told))
            if size > worst.size:
                worst = Worst(size, name, told)
    return worst


@cache
def circuit_of(circuit_id: str) -> Circuit:
    """A circuit of ours, read once."""
    return FOLDER.circuit(circuit_id)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test that takes `form` runs for every one."""
    if "form" in metafunc.fixturenames:
        metafunc.parametrize("form", FORMS, ids=[form.deck for form in FORMS])


def keeping(function: Callable[..., object], key: Callable[..., object]) -> Callable[..., object]:
    """The function with its results, and its refusals to plan, kept by `key` of its arguments."""
    kept: dict[object, object] = {}

    def again(*args: object, **named: object) -> object:
        place = key(*args, **named)
        if place not in kept:
            try:
                kept[place] = function(*args, **named)
            except Unreachable as error:
                kept[place] = error
        found = kept[place]
        if isinstance(found, Unreachable):
            raise found.with_traceback(None)
        return found

    return again


def _as_derived(laws: LawSet) -> LawSet:
    return laws


@pytest.fixture
def solve_with(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[LawSet], LawSet]], Solve]:
    """The engine with its laws edited, laws and plans kept between the sets of a form: they depend on names, not values."""

    def by_circuit(circuit: Circuit, region: Region, *rest: object, **named: object) -> object:
        return circuit.id, region.id, repr(rest), repr(sorted(named.items()))

    def by_names(laws: LawSet, known: Iterable[str], *rest: object) -> object:
        return id(laws), tuple(known), repr(rest)

    def solver(edit: Callable[[LawSet], LawSet]) -> Solve:
        derive = regions.derive
        monkeypatch.setattr(regions, "derive", keeping(lambda *args, **named: edit(derive(*args, **named)), by_circuit))
        monkeypatch.setattr(regions, "manifold", keeping(regions.manifold, by_circuit))
        monkeypatch.setattr(regions, "search", keeping(regions.search, by_names))
        return lambda circuit_id, given, wanted: regions.resolve(circuit_of(circuit_id), given, wanted)

    return solver


@pytest.fixture
def solve(solve_with: Callable[[Callable[[LawSet], LawSet]], Solve]) -> Solve:
    """The engine as it is."""
    return solve_with(_as_derived)


@dataclass(frozen=True)
class Witness:
    """The simulator's side, for tests."""

    folder: ProblemsFolder
    decks: Path
    forms: Mapping[str, Form]
    find: Callable[[], str]
    run: Callable[..., list[Values]]
    worst: Callable[..., Worst]


@pytest.fixture
def witness() -> Witness:
    """The forms, and what runs and compares them."""
    return Witness(FOLDER, HERE / "decks", {form.deck: form for form in (*FORMS, *STATES)}, find_ngspice, run_deck, worst_of)
