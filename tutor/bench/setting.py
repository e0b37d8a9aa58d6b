"""What of a circuit is set when it is built on the bench, by letter symbol, and what can be read off it then.

Vocabulary: a *setting* is a letter that a part's curve is made from (R, V_BE, h_FE). Some come as *alternatives*, of
which one is set: a load is a resistance or a current, a zener's line is told by its test point, its intercept or its
voltage. A *reading* is any other quantity: a node voltage, a current, a drop, a power.
Place in the data flow: Circuit + settings -> readings -> what is expected of an answer (`asking.py`).
"""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import replace
from functools import cache

import numpy as np

from tutor.bench.curves import ROOM_CELSIUS, Array
from tutor.bench.fitting import ZENER_LINE, electrical
from tutor.bench.points import bench_points
from tutor.bench.raw_supply import BEFORE, is_raw_supply, raw_wave
from tutor.circuit.circuit import GROUND, Circuit
from tutor.circuit.component import WINDINGS, PartKind
from tutor.circuit.netlist import Part
from tutor.laws.rectifier import supplies

SHORT_OHMS = 1e-3  # a piece of wire across the output
_OPTIONAL: Mapping[PartKind, tuple[str, ...]] = {
    PartKind.ZENER: ("slope", "test_current"),
    PartKind.NPN: ("junction", "gain"),
    PartKind.PNP: ("junction", "gain"),
    PartKind.JUNCTION: ("voltage",),
    PartKind.OPAMP: ("gain", "resistance", "drop", "most"),
    PartKind.AMPLIFIER: ("gain", "resistance", "drop", "most"),
    PartKind.THREE_TERMINAL: ("dropout", "pin"),
    PartKind.SHUNT_REFERENCE: ("pin",),
}
_DEMANDED: Mapping[PartKind, tuple[str, ...]] = {
    PartKind.SOURCE: ("voltage",),
    PartKind.RESISTOR: ("resistance",),
    PartKind.THREE_TERMINAL: ("voltage",),
    PartKind.SHUNT_REFERENCE: ("reference",),
    PartKind.WINDING: ("voltage",),
    PartKind.TAPPED_WINDING: ("voltage",),
    PartKind.RESERVOIR: ("capacitance", "frequency"),
}
_EVERYWHERE = ("alpha_Z", "k_BE")  # coefficients that all parts of a kind share
_STEPS = 300  # of a charging period: what is read then is right within a few parts in ten thousand


@cache
def demanded(circuit: Circuit) -> tuple[tuple[str, ...], ...]:
    """Groups of alternatives, of each of which one must be set; none of a path of heat."""
    if not any(part.kind in (PartKind.SOURCE, PartKind.RESERVOIR) for part in circuit.parts):
        return ()
    groups: list[tuple[str, ...]] = []
    pieces = raw_pieces(circuit)
    for part in (part for piece in pieces or (circuit,) for part in piece.parts):
        if part.kind in WINDINGS and part.symbols.get("primary"):
            groups.append(_letters(part, ("voltage", "primary")))
        elif part.kind is PartKind.LOAD:
            groups.append(_letters(part, ("resistance", "current")))
        elif part.kind is PartKind.ZENER:
            groups.append(_letters(part, ZENER_LINE))
        else:
            groups += [(letter,) for letter in _letters(part, _DEMANDED.get(part.kind, ()))]
    return tuple(dict.fromkeys(group for group in groups if group))


@cache
def optional(circuit: Circuit) -> tuple[str, ...]:
    """Letters that are set where they are known, and stand typically where not."""
    found = [letter for part in circuit.parts for letter in _letters(part, _OPTIONAL.get(part.kind, ()))]
    found += [
        letter for part in circuit.parts if part.kind is PartKind.ZENER
        for role, letter in (("slope", "r_z"), ("test_current", "I_ZT")) if not part.symbols[role]
    ]  # fmt: skip
    raw = ("R_W", "N_T", "V_O") if raw_pieces(circuit) else ()
    return tuple(dict.fromkeys((*found, *_EVERYWHERE, *raw)))


def _letters(part: Part, roles: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(part.symbols[role] for role in roles if part.symbols.get(role))


@cache
def readable(circuit: Circuit) -> frozenset[str]:
    """The letters of everything that is read off this circuit."""
    settings = {"V_O": np.full(1, 5.0)} if raw_pieces(circuit) else {}
    return frozenset(readings(circuit, settings, ROOM_CELSIUS))


def readings(circuit: Circuit, settings: Mapping[str, Array], temperature: float | Array) -> dict[str, Array]:
    """Every reading by its letter (SI; NaN where a point does not settle); raises what `bench_points` raises."""
    pieces = raw_pieces(circuit)
    if pieces:
        found: dict[str, Array] = {}
        for piece in pieces:
            found |= _raw_readings(piece, settings, temperature)
        return found
    known = dict(settings)
    if "k_BE" in known and any(part.kind is PartKind.JUNCTION for part in circuit.parts):
        known["k_F"] = known["k_BE"]  # a diode that makes up for a zener's drift has the drift of a junction
    points = bench_points(circuit, known, temperature)
    values = dict(points.values)
    values |= _between_nodes(circuit, points.nodes, values)
    return {name: np.where(points.settled, value, np.nan) for name, value in values.items()}


def _between_nodes(circuit: Circuit, nodes: Mapping[str, Array], values: Mapping[str, Array]) -> dict[str, Array]:
    """What a meter shows between two terminals of a part, and what power it makes of that."""
    found: dict[str, Array] = {}
    for part in electrical(circuit.parts):
        symbols, volts = part.symbols, {name: nodes[node] for name, node in part.terminals.items()}
        if part.kind is PartKind.ZENER:
            across = volts["a"] - volts["b"]
            found |= {symbols["voltage"]: across, symbols["power"]: across * values[symbols["current"]]}
        elif part.kind is PartKind.JUNCTION:
            found[symbols["voltage"]] = volts["a"] - volts["b"]
        elif part.kind in (PartKind.NPN, PartKind.PNP):
            found[symbols["junction"]] = np.abs(volts["b"] - volts["e"])
        elif part.kind is PartKind.LOAD and symbols.get("current") in values:
            suffix = part.name.removeprefix("L")
            power = (volts["a"] - volts["b"]) * values[symbols["current"]]
            taken = values.get(f"P_I{suffix}")
            found[f"V_O{suffix}"] = volts["a"] - volts["b"]
            if taken is not None:
                found |= {f"eta{suffix}": power / taken, symbols.get("waste", ""): taken - power}
    named = {word.symbol for word in circuit.nodes.values()}
    return {name: value for name, value in found.items() if name and (name not in values or name not in named)}


@cache
def raw_pieces(circuit: Circuit) -> tuple[Circuit, ...]:
    """The raw supplies in a circuit, each with what loads it; none where no winding feeds it."""
    if is_raw_supply(circuit):
        return (circuit,)
    found = []
    for reservoir in (part for part in circuit.parts if part.kind is PartKind.RESERVOIR):
        before = [part for part in circuit.parts if part.kind in BEFORE]
        joined = next(parts for parts in supplies(before) if reservoir in parts)
        own = [part for part in before if part in joined]
        load = next(part for part in circuit.parts if part.kind is PartKind.LOAD)
        fed = replace(load, nodes=(reservoir.nodes[0], GROUND), symbols={**load.symbols, "resistance": ""})
        found.append(replace(circuit, parts=(*own, fed)))
    return tuple(found)


def _raw_readings(piece: Circuit, settings: Mapping[str, Array], temperature: float | Array) -> dict[str, Array]:
    known = dict(settings)
    if "V_PRI" in known and "N_T" in known:
        halves = 2.0 if any(part.kind is PartKind.TAPPED_WINDING for part in piece.parts) else 1.0
        known["V_SEC"] = known["V_PRI"] / (halves * known["N_T"])
    known.pop("V_O", None)
    found: dict[str, Array] = {}
    wave = raw_wave(piece, known, temperature, _STEPS).readings
    roles = {"crest": "V_PK", "trough": "V_TROUGH", "ripple": "V_RIP", "mean": "V_DC"}
    for part in piece.parts:
        if part.kind is PartKind.RESERVOIR:
            found |= {part.symbols[role]: wave[name] for role, name in roles.items() if part.symbols.get(role)}
            if "V_O" in settings:  # what is left for a regulator at the lowest moment has two names
                found |= {name: wave["V_TROUGH"] - settings["V_O"] for name in ("V_DROP", "V_HEAD")}
        elif part.kind is PartKind.DIODE and part.symbols.get("reverse"):
            found[part.symbols["reverse"]] = wave["PIV"]
        elif part.kind in WINDINGS and part.symbols.get("current"):
            found[part.symbols["current"]] = wave["I_SEC"]
        elif part.kind is PartKind.LOAD and "R_L" in settings:
            found["I_L"] = wave["V_DC"] / settings["R_L"]
    return found


def chosen(group: tuple[str, ...], told: Container[str]) -> str:
    """The first alternative of a group that is told, '' when none is."""
    return next((letter for letter in group if letter in told), "")
