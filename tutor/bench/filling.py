"""What a problem says nothing of, and what is built all the same: by hand from what it says, or as is usual.

Place in the data flow: what an ask is told -> (this) -> every setting of the circuit (`building.py`). Values are in SI.
Sources: what is usual is common practice, no source, unless a line says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.fitting import ZENER_LINE
from tutor.bench.sampled import Sets
from tutor.bench.setting import chosen, raw_pieces
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.plan.everything import everything
from tutor.plan.rule import Rule, apply_rules
from tutor.quantities.expression import symbols_of
from tutor.quantities.formula import read_equation
from tutor.quantities.parts import Row

_LEAST_ZENER = 2.0  # volts
_LIGHT = 0.1  # of the typical load: what loads a raw supply, or a source of current, of whose load nothing is said
# Of the greatest slope that a data sheet allows: typical beside greatest in sheets that print both (from memory).
_USUAL_SLOPE = 0.6


def fill(
    sets: Sets, settings: dict[str, Array], told: Mapping[str, Array], missing: Sequence[tuple[str, ...]]
) -> None:
    """What the problem says nothing of: by hand from what it says; then a quarter inside a bound that it asks for;
    then the zener at half its test current, a common choice (at all of it, where its slope is told); then as is
    typical of the circuit, turned up to the voltages of the problem."""
    open_still = _Open(sets, settings, {**_plain(sets), **told, **settings}, list(missing))
    open_still.by_hand()
    open_still.inside_bounds()
    open_still.loads()
    open_still.zeners()
    open_still.by_hand()
    open_still.zener_lines()
    open_still.as_typical()
    _choose_types(sets, settings)


class _Open:
    """The groups of alternatives that are still open, while one way after another settles some of them.

    `settings` (SI, an array a set) are filled in place; `known` are these and whatever else is known by now.
    """

    def __init__(
        self, sets: Sets, settings: dict[str, Array], known: dict[str, Array], left: list[tuple[str, ...]]
    ) -> None:
        self.sets, self.settings, self.known, self.left = sets, settings, known, left
        self.typical = sets.circuit.typical

    def _put(self, group: tuple[str, ...], letter: str, values: Array) -> None:
        self.settings[letter] = self.known[letter] = values
        self.left.remove(group)

    def by_hand(self) -> None:
        """What follows by hand from what is known."""
        found = _hand_values(self.sets, self.known) if self.left else {}
        for group in [*self.left]:
            least = _LEAST_ZENER if _kind(self.sets.circuit, group) is PartKind.ZENER else 0.0
            letter = next((letter for letter in group if letter in found and np.all(found[letter] > least)), "")
            if letter:
                self._put(group, letter, found[letter])

    def inside_bounds(self) -> None:
        """A quarter inside a bound that the problem asks for."""
        for group in [*self.left]:
            letter, value = _inside_a_bound(self.sets, group)
            if letter:
                self._put(group, letter, value)

    def loads(self) -> None:
        """The typical load, or a light one where nothing at all is said of the load of such a circuit."""
        for group in [group for group in self.left if group[0] in ("R_L", "I_L")]:
            letter = chosen(group[::-1], self.typical)
            light = _LIGHT if raw_pieces(self.sets.circuit) or letter == "R_L" else 1.0
            self._put(group, letter, np.full(self.sets.count, light * self.typical[letter]))

    def zeners(self) -> None:
        """Test current and slope of each zener as a catalogued one has them, and a common choice of its current."""
        for part in self.sets.circuit.parts:
            if part.kind is PartKind.ZENER:
                like = _zener_like(self.sets, part.symbols, self.known)
                for role, name in (("test_current", "I_ZT"), ("slope", "r_z")):
                    self.settings.setdefault(part.symbols.get(role, "") or name, like[name])
                if self.left and part.symbols["current"] not in self.known:
                    # A slope that is told holds at the test current.
                    is_told = (part.symbols.get("slope", "") or "r_z") in self.known
                    self.known[part.symbols["current"]] = (1.0 if is_told else 0.5) * like["I_ZT"]

    def zener_lines(self) -> None:
        """Zeners at their typical voltage."""
        for group in [group for group in self.left if _kind(self.sets.circuit, group) is PartKind.ZENER]:
            letter = chosen(group, self.typical)
            if letter:
                self._put(group, letter, np.full(self.sets.count, self.typical[letter]))

    def as_typical(self) -> None:
        """The rest as is typical, supplies first, turned up to the voltages of the problem."""
        grown = _grown(self.sets, self.known) if self.left else np.ones(self.sets.count)
        for is_source in (True, False):
            for group in [group for group in self.left if self._is_source(group) is is_source]:
                letter = chosen(group, self.typical)
                if letter:
                    share = np.maximum(grown, 1.0) if letter[0] in "VR" else 1.0
                    self._put(group, letter, share * np.full(self.sets.count, self.typical[letter]))
            self.by_hand()

    def _is_source(self, group: tuple[str, ...]) -> bool:
        return _kind(self.sets.circuit, group) is PartKind.SOURCE


def _choose_types(sets: Sets, settings: dict[str, Array]) -> None:
    """Of what depends on the load it is meant for: the copper of a transformer, the most that a regulator or an
    amplifier gives."""
    circuit = sets.circuit
    if raw_pieces(circuit) and "R_W" not in settings and "R_W" in circuit.typical:
        settings["R_W"] = _copper(sets, settings)
    kinds = {part.kind for part in circuit.parts}
    drawn = (sets.env.get("I_L_MAX"), sets.env.get("I_L"), settings.get("I_L"), np.zeros(sets.count))
    most = 1.5 * np.max([np.abs(load) for load in drawn if load is not None], axis=0)
    if PartKind.THREE_TERMINAL in kinds:  # of a type for such a load
        settings["I_M"] = np.maximum(1.5, most)
    if kinds & {PartKind.OPAMP, PartKind.AMPLIFIER} and "I_OAM" not in settings:
        gain = np.maximum(1.0, 0.5 * settings.get("h_FE", np.full(sets.count, 50.0))) if PartKind.NPN in kinds else 1.0
        settings["I_OAM"] = np.maximum(0.025, most / gain)


def _inside_a_bound(sets: Sets, group: tuple[str, ...]) -> tuple[str, Array]:
    """A setting of which the problem asks only how great or small it may be."""
    for letter in group:
        for end, share in (("MIN", 1.25), ("MAX", 0.75)):
            if f"{letter}_{end}" in sets.env:
                return letter, share * sets.env[f"{letter}_{end}"]
    return "", np.zeros(0)


def _copper(sets: Sets, settings: Mapping[str, Array]) -> Array:
    """The winding's resistance of a transformer that is made for the fullest load: larger ones have thicker wire."""
    typical, env = sets.circuit.typical, sets.env
    volts = settings.get("V_SEC", np.full(sets.count, typical["V_SEC"]))
    amperes = env.get("I_L_MAX", env.get("I_L", np.full(sets.count, typical["I_L"])))
    return typical["R_W"] * (volts / typical["V_SEC"]) / (amperes / typical["I_L"])


def _plain(sets: Sets) -> dict[str, Array]:
    """Givens of the problem under their letters, what is wanted (V_O_NOM) among them."""
    given = {name: sets.env[name] for name in sets.ready.level.given if name in sets.env}
    return given | {name.removesuffix("_NOM"): value for name, value in given.items() if name.endswith("_NOM")}


def _kind(circuit: Circuit, group: tuple[str, ...]) -> PartKind | None:
    return next((part.kind for part in circuit.parts if group[0] in part.symbols.values()), None)


def _grown(sets: Sets, known: Mapping[str, Array]) -> Array:
    """How many times the typical output voltage (or that of the zener) each problem is about."""
    circuit = sets.circuit
    usual = _rows(sets, _rules(circuit, circuit.regions[0].id, tuple(sorted(circuit.typical))), circuit.typical)
    here = {**sets.env, **_hand_values(sets, known)}
    for name in ("V_O", "V_O_P", "V_Z", "V_REF", "V_Z_P"):
        if name in here and name in usual and np.all(here[name] > 0.0):
            return here[name] / usual[name]
    return np.ones(sets.count)


def _hand_values(sets: Sets, known: Mapping[str, Array]) -> dict[str, Array]:
    """All that follows by hand from what is known, and from what the circuit takes where nothing is said (SI)."""
    circuit = sets.circuit
    known = {**{name: np.full(sets.count, value) for name, value in circuit.defaults.items()}, **known}
    letters = tuple(sorted(name for name in known if name in _letters_of(circuit)))
    rules = _rules(circuit, circuit.regions[0].id, letters)
    rows = [_rows(sets, rules, {name: float(known[name][place]) for name in letters}) for place in range(sets.count)]
    names = set.intersection(*(set(row) for row in rows))
    return {name: np.array([row[name] for row in rows]) for name in names}


def _rows(sets: Sets, rules: tuple[Rule, ...], known: Mapping[str, float]) -> dict[str, float]:
    return apply_rules(rules, {**sets.circuit.defaults, **known})


@cache
def _rules(circuit: Circuit, region: str, letters: tuple[str, ...]) -> tuple[Rule, ...]:
    return everything(circuit, circuit.region(region), letters, {})


@cache
def _letters_of(circuit: Circuit) -> frozenset[str]:
    letters = {letter for part in circuit.parts for letter in part.symbols.values() if letter}
    at_edges = {name for edge in circuit.edges for text, _, _ in edge.at for name in _letters_in(text)}
    return frozenset(letters | at_edges | {word.symbol for word in circuit.nodes.values() if word.symbol})


def _letters_in(text: str) -> tuple[str, ...]:
    equation = read_equation(text)
    return (*symbols_of(equation.lhs), *symbols_of(equation.rhs))


def _zener_like(sets: Sets, symbols: Mapping[str, str], known: Mapping[str, Array]) -> dict[str, Array]:
    """Test current and usual slope of the catalogued type whose voltage is nearest to each zener's: of the 1 W series,
    or the half-watt one where that is the rating or its slope is nearer to what is told."""
    letter = chosen(tuple(symbols.get(role, "") for role in ZENER_LINE), known)
    volts = known[letter] if letter else np.full(sets.count, 5.6)
    watts = known.get(symbols.get("rating", ""), sets.env.get("P_ZM", np.ones(sets.count)))
    slopes = known.get(symbols.get("slope", "") or "r_z", np.zeros(sets.count))
    found: dict[str, list[float]] = {"I_ZT": [], "r_z": []}
    for volt, watt, slope in zip(volts, watts, slopes, strict=True):
        types = [_nearest(sets, rating, float(volt)) for rating in (1.0, 0.5)]
        row = types[1 if watt < 0.75 else 0]
        if slope > 0.0:
            row = min(types, key=lambda item: abs(np.log(_USUAL_SLOPE * float(item["r_z"]) / slope)))
        for name, values in found.items():
            values.append(float(row[name]))
    return {"I_ZT": np.array(found["I_ZT"]), "r_z": _USUAL_SLOPE * np.array(found["r_z"])}


def _nearest(sets: Sets, rating: float, volts: float) -> Row:
    rows = [row for row in sets.catalogues["zeners"].rows if float(row["P_ZM"]) == rating]
    return min(rows, key=lambda row: abs(float(row["V_Z"]) - volts))
