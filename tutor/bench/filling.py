"""What a problem says nothing of, and what is built all the same: by hand from what it says, or as is usual.

Place in the data flow: what an ask is told -> (this) -> every setting of the circuit (`building.py`). Values are in SI.
Sources: what is usual is common practice, no source, unless a line says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.sampled import Sets
from tutor.bench.setting import ZENER_LINE, chosen, raw_pieces
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
    circuit, typical = sets.circuit, sets.circuit.typical
    known = {**_plain(sets), **told, **settings}
    left = _by_hand(sets, known, settings, missing)
    for group in [*left]:
        letter, value = _inside_a_bound(sets, group)
        if letter:
            settings[letter] = known[letter] = value
            left.remove(group)
    loads = [group for group in left if group[0] in ("R_L", "I_L")]
    for group in loads:
        letter = chosen(group[::-1], typical)
        light = _LIGHT if raw_pieces(circuit) or letter == "R_L" else 1.0
        settings[letter] = known[letter] = np.full(sets.count, light * typical[letter])
        left.remove(group)
    for part in circuit.parts:
        if part.kind is PartKind.ZENER:
            like = _zener_like(sets, part.symbols, known)
            for role, name in (("test_current", "I_ZT"), ("slope", "r_z")):
                settings.setdefault(part.symbols.get(role, "") or name, like[name])
            if left and part.symbols["current"] not in known:
                is_told = (part.symbols.get("slope", "") or "r_z") in known  # and so holds at the test current
                known[part.symbols["current"]] = (1.0 if is_told else 0.5) * like["I_ZT"]
    left = _by_hand(sets, known, settings, left)
    lines = [group for group in left if _kind(circuit, group) is PartKind.ZENER and chosen(group, typical)]
    for group in lines:
        settings[chosen(group, typical)] = known[chosen(group, typical)] = np.full(
            sets.count, typical[chosen(group, typical)]
        )
        left.remove(group)
    grown = _grown(sets, known) if left else np.ones(sets.count)
    for is_source in (True, False):
        for group in [group for group in left if (_kind(circuit, group) is PartKind.SOURCE) is is_source]:
            letter = chosen(group, typical)
            if letter:
                share = np.maximum(grown, 1.0) if letter[0] in "VR" else 1.0
                settings[letter] = known[letter] = share * np.full(sets.count, typical[letter])
                left.remove(group)
        left = _by_hand(sets, known, settings, left)
    if raw_pieces(circuit) and "R_W" not in settings and "R_W" in typical:
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


def _by_hand(
    sets: Sets, known: dict[str, Array], settings: dict[str, Array], missing: Sequence[tuple[str, ...]]
) -> list[tuple[str, ...]]:
    """Set what follows by hand from what is known; what does not is left."""
    left = list(missing)
    if not left:
        return left
    found = _hand_values(sets, known)
    for group in missing:
        for letter in group:
            values = found.get(letter, np.zeros(sets.count))
            least = _LEAST_ZENER if _kind(sets.circuit, group) is PartKind.ZENER else 0.0
            if np.all(values > least):
                settings[letter] = known[letter] = values
                left.remove(group)
                break
    return left


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
