"""A circuit and part values -> its operating points on the bench, every quantity under its letter symbol.

    >>> from tutor.bench.points import bench_points
    >>> from tutor.solution.desk import our_desk
    >>> found = bench_points(our_desk().circuit("zener-shunt"), {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "R_L": 560.0})
    >>> f"{found.values['V_O'][0]:.2f}"
    '8.99'

Place in the data flow: Circuit + values (numbers or arrays of them) -> BenchPoints -> sweeps, bands, pages.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

import numpy as np

from tutor.bench.curves import ROOM_CELSIUS, Array, Places, Truth
from tutor.bench.deck import deck_text
from tutor.bench.devices import Device
from tutor.bench.drifts import share_drift
from tutor.bench.fitting import ZENER_LINE, Fitting, celsius, device, electrical, require_temperature
from tutor.bench.heat import heat_letters, temperatures
from tutor.bench.newton import BenchCircuit, Settled, settle
from tutor.bench.raw_supply import KnownValues, raw_supplies
from tutor.bench.timed_deck import timed_deck
from tutor.circuit.circuit import GROUND, Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.errors import Unreachable
from tutor.plan.everything import everything
from tutor.plan.rule import apply_rules
from tutor.quantities.evaluator import evaluator
from tutor.quantities.expression import Expr, Sym, symbols_of
from tutor.quantities.formula import read_equation


@dataclass(frozen=True)
class BenchPoints:
    """Letter symbol -> its value at each point (SI; NaN where a point has not settled), and which points settled.

    `assumed` are the part values that nobody told, at the first point; `nodes` the volts of every node by its name
    (nodes of several circuits side by side may share a letter).
    """

    values: Mapping[str, Array]
    settled: Truth
    assumed: Mapping[str, float]
    nodes: Mapping[str, Array] = field(default_factory=dict)

    @property
    def unsettled(self) -> int:
        """How many points have not settled."""
        return int(np.count_nonzero(~self.settled))


def bench_points(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> BenchPoints:
    """The operating points of a circuit with real parts; values are numbers or arrays of one length, in SI.

    What is not given stands at the circuit's typical value (`temperature` in °C, of every part alike). Raises
    Unreachable where a circuit has no steady operating point (a raw supply) and OutOfRange for a temperature at which
    the curves do not hold.
    """
    return _points(circuit, _ready(circuit, values, temperature), values)


def fed_points(
    circuit: Circuit, volts: Array, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> BenchPoints:
    """The operating points of what a reservoir feeds, the reservoir standing at `volts`; otherwise as `bench_points`.

    What it draws is there under the reservoir's letter for it.
    """
    return _points(circuit, _fed(circuit, [volts], values, temperature), values)


def bench_deck(circuit: Circuit, values: Mapping[str, float], temperature: float = ROOM_CELSIUS) -> str:
    """A deck for ngspice with the curves and numbers of this bench: one operating point, or a supply from the mains on
    in time; raises Unreachable for a path of heat."""
    if raw_supplies(circuit):
        known = KnownValues(circuit, values, temperature)

        def behind(levels: Sequence[float]) -> tuple[Sequence[tuple[str, Device]], Mapping[str, float]]:
            ready = _fed(circuit, [np.full(known.shape, level) for level in levels], known.all, temperature)
            return _named(ready), _starts(settle(ready.bench))

        return timed_deck(circuit, known, behind)
    return _deck(circuit.title, _ready(circuit, values, temperature), temperature)


def _points(circuit: Circuit, ready: _Ready, values: Mapping[str, float | Array]) -> BenchPoints:
    found = settle(ready.bench)
    made = _quantities(circuit, ready.parts, ready.devices(), found)
    warmed = temperatures(circuit, ready.known, made)
    path = heat_letters(circuit) if warmed else ()
    used = {**ready.used, **{name: float(ready.known[name][0]) for name in path}}
    assumed = {name: value for name, value in used.items() if name not in values}
    return BenchPoints({**made, **warmed}, found.settled, assumed, found.volts)


def _deck(title: str, ready: _Ready, temperature: float) -> str:
    fixed = {node: float(volts[0]) for node, volts in ready.bench.fixed.items()}
    kelvins = float(celsius(np.asarray(temperature, float)))
    return deck_text(title, _named(ready), fixed, kelvins, _starts(settle(ready.bench)))


def _named(ready: _Ready) -> list[tuple[str, Device]]:
    names = [part.name for part in ready.parts if part.kind is not PartKind.SOURCE]
    return list(zip(names, ready.devices(), strict=True))


def _starts(found: Settled) -> dict[str, float]:
    return {node: float(volts[0]) for node, volts in found.volts.items() if found.settled[0] and node != GROUND}


@dataclass(frozen=True)
class _Ready:
    """A circuit on the bench, not yet settled."""

    parts: tuple[Part, ...]
    bench: BenchCircuit
    used: Mapping[str, float]
    known: Mapping[str, Array]

    def devices(self) -> Sequence[Device]:
        return self.bench.devices(np.arange(self.bench.count))


def _ready(circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array) -> _Ready:
    parts = electrical(circuit.parts)
    has_source = any(part.kind is PartKind.SOURCE for part in parts)
    has_reservoir = any(part.kind is PartKind.RESERVOIR for part in circuit.parts)
    if not has_source and not has_reservoir:
        raise Unreachable(f"'{circuit.id}' is a path of heat: nothing electrical of it can be put on the bench")
    if not has_source or has_reservoir:
        raise Unreachable(f"'{circuit.id}' has no steady source: its raw supply is a matter of time")
    return _ready_with(parts, circuit, values, temperature)


def _fed(
    circuit: Circuit, volts: Sequence[Array], values: Mapping[str, float | Array], temperature: float | Array
) -> _Ready:
    """What reservoirs feed, a source in the place of each and of all before it."""
    sources, levels = [], {}
    for reservoir, standing in zip((supply.reservoir for supply in raw_supplies(circuit)), volts, strict=True):
        level = circuit.nodes[reservoir.nodes[0]].symbol
        letters = {"voltage": level, "current": reservoir.symbols["draw"], "power": ""}
        sources.append(Part(f"V_{reservoir.nodes[0]}", PartKind.SOURCE, reservoir.nodes, letters))
        levels[level] = standing
    return _ready_with((*sources, *electrical(circuit.parts)), circuit, {**values, **levels}, temperature)


def _ready_with(
    parts: tuple[Part, ...], circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array
) -> _Ready:
    sources = [part for part in parts if part.kind is PartKind.SOURCE]
    shape = np.broadcast_shapes(*(np.shape(value) for value in values.values()), np.shape(temperature), (1,))
    degrees = np.broadcast_to(np.asarray(temperature, float), shape)
    require_temperature(degrees)
    told = {name: np.broadcast_to(np.asarray(value, float), shape) for name, value in values.items()}
    known = {name: np.broadcast_to(value, shape) for name, value in {**_standing(circuit, told), **told}.items()}
    carried = carried_typically(circuit)

    def fitting(points: Places) -> Fitting:
        return Fitting({name: value[points] for name, value in known.items()}, carried, celsius(degrees[points]))

    def devices(points: Places, fit: Fitting | None = None) -> list[Device]:
        fit = fit or fitting(points)
        return [made for part in parts if (made := device(part, fit, sources[0].nodes[0])) is not None]

    letters = {part.nodes[0]: part.symbols["voltage"] for part in sources}
    warmer = degrees - ROOM_CELSIUS
    fixed = {node: known[letter] * (1.0 + share_drift(letter) * warmer) for node, letter in letters.items()}
    fixed[GROUND] = np.zeros(shape)
    free = tuple(dict.fromkeys(node for part in parts for node in part.nodes if node not in fixed))
    first = fitting(np.zeros(1, dtype=np.intp))
    devices(np.zeros(1, dtype=np.intp), first)
    return _Ready(parts, BenchCircuit(devices, fixed, free, shape[0]), first.used, known)


def _standing(circuit: Circuit, told: Mapping[str, Array]) -> dict[str, Array]:
    """What is not told: part values that follow by hand from what is told, and typical ones.

    Of a load and of a zener's line only one kind stands, and an amplifier that nobody describes is a good one.
    """
    count = max((value.size for value in told.values()), default=1)
    lines = {
        part.symbols[role] for part in circuit.parts if part.kind is PartKind.ZENER
        for role in ZENER_LINE if part.symbols.get(role)
    }  # fmt: skip
    left_out = {"A", "R_O"}
    for alike in (lines, {"I_L", "R_L"}):
        left_out |= alike if alike & set(told) else set()
    found = {name: np.full(count, float(value)) for name, value in circuit.typical.items() if name not in left_out}
    zeners = {part.symbols["voltage"] for part in circuit.parts if part.kind is PartKind.ZENER} - {""}
    missing = zeners - set(found) - set(told)
    if missing:
        start = {**{name: float(value[0]) for name, value in found.items()},
                 **{name: float(value.flat[0]) for name, value in told.items()}}  # fmt: skip
        rules = everything(circuit, circuit.regions[0], [*start], {})
        by_hand = apply_rules(rules, {**circuit.defaults, **start})
        found |= {name: np.full(count, by_hand[name]) for name in missing if name in by_hand}
    return found


@cache
def carried_typically(circuit: Circuit) -> dict[str, float]:
    """Part -> the current through its junction at the circuit's typical point, as hand analysis has it (A).

    A transistor's is its collector current. It tells a power transistor from a small one.
    """
    names = [*circuit.typical]
    values = apply_rules(everything(circuit, circuit.regions[0], names, {}), {**circuit.defaults, **circuit.typical})
    role = {PartKind.NPN: "collector", PartKind.PNP: "collector", PartKind.JUNCTION: "current"}
    found = {}
    for part in circuit.parts:
        current = values.get(part.symbols.get(role.get(part.kind, ""), ""), 0.0)
        if part.kind in role and current:
            found[part.name] = abs(current)
    return found


def letters_of_nodes(circuit: Circuit) -> dict[str, str]:
    """Node -> its letter symbol. Nodes that share a letter, as the outputs of regulators side by side do, but are no
    single wire have it with their own number: V_O_1 at out_1. Lines fed alike keep one letter."""
    lettered = {node: word.symbol for node, word in circuit.nodes.items() if word.symbol}
    fed = {part.nodes[0] for part in circuit.parts if part.kind is PartKind.SOURCE}
    free = [letter for node, letter in lettered.items() if node not in fed]
    return {
        node: f"{letter}_{node.rpartition('_')[2]}" if node not in fed and free.count(letter) > 1 else letter
        for node, letter in lettered.items()
    }


def _quantities(
    circuit: Circuit, parts: Sequence[Part], devices: Sequence[Device], found: Settled
) -> dict[str, Array]:
    """Node voltages, the currents of every part, and what the laws of the parts say of both (drops, powers)."""
    values: dict[str, Array] = {
        letter: found.volts[node] for node, letter in letters_of_nodes(circuit).items() if node in found.volts
    }
    entering: dict[str, Array] = {node: np.zeros(found.settled.shape) for node in found.volts}
    plain = iter(devices)
    for part in parts:
        if part.kind is PartKind.SOURCE:
            continue
        made = next(plain)
        at = np.stack([found.volts[node] for node in made.nodes])
        currents = _exact(made, at)
        for row, node in enumerate(made.nodes):
            entering[node] = entering[node] + currents[row]
        for role, terminal, leaves in part.component.flows:
            symbol = part.symbols.get(role, "")
            if symbol:
                current = currents[part.component.terminals.index(terminal)]
                values[symbol] = -current if leaves else current
    for part in parts:
        if part.kind is PartKind.SOURCE and part.symbols["current"]:
            values[part.symbols["current"]] = entering[part.nodes[0]]
    for part in parts:
        values |= _of_laws(part, found, values)
    return values


def _exact(made: Device, at: Array) -> Array:
    """Currents of a device where it is calm: asked again until it holds nothing back."""
    for _ in range(200):
        seen = made.see(at)
        if seen.calm[~np.isnan(at).any(axis=0)].all():
            break
    return seen.currents


def _of_laws(part: Part, found: Settled, values: Mapping[str, Array]) -> dict[str, Array]:
    """Roles that a law of the part gives outright from what is known: a drop, a headroom, a power."""
    made: dict[str, Array] = {}
    symbols = {role: symbol for role, symbol in part.symbols.items() if symbol}
    for law in part.component.laws:
        role, right = _law(law.formula)
        symbol = symbols.get(role, "")
        if not symbol or symbol in values or symbol in made:
            continue
        known = {name: {**values, **made}[letter] for name, letter in symbols.items() if letter in {**values, **made}}
        known |= {terminal: found.volts[node] for terminal, node in part.terminals.items()}
        if set(symbols_of(right)) <= set(known):
            made[symbol] = evaluator(right)(known)  # type: ignore[arg-type, assignment]  # numbers or arrays of them
    return made


@cache
def _law(template: str) -> tuple[str, Expr]:
    """The role on the left of a law of the table of parts ('' where there is no single one), and its right side."""
    equation = read_equation(re.sub(r"\[(\w+)\]", r"\1", template))
    return (equation.lhs.name if isinstance(equation.lhs, Sym) else ""), equation.rhs
