"""A raw or whole supply as a deck for ngspice in time: the bench's diodes and regulators, from the mains on.

What the bench reads off a charging period the deck measures in its last cycle, under the same letters.
Place in the data flow: Circuit + values + the devices behind the reservoirs -> text.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

from tutor.bench.charging import DIODE_OHMS, EMISSION, SATURATION, SATURATION_POWER, STATED_CELSIUS, Rectifier
from tutor.bench.curves import BAND_GAP, ZERO_CELSIUS, Array
from tutor.bench.deck import device_lines, node_text
from tutor.bench.devices import LEAK, Device
from tutor.bench.raw_supply import KnownValues, RawParts, raw_supplies
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind

PULSES = 24  # charging crests from the start on; the last cycle of the mains is measured
_SETTLING = 10.0  # times reservoir and winding's resistance: what a large reservoir wants on top
STRIDES = 2000  # least steps in a cycle
# Farads of a rectifier diode that rests, and of the junctions behind the reservoir (from memory, as in data sheets): so
# few that nothing shows them, but without any the winding would hang in the air where all diodes rest, a zener's knee
# would turn a corner in no time at all, and the simulator would lose its way at both.
_CHARGE, _CHARGE_BEHIND = 20e-12, 100e-12
_DROP = 0.9  # volts of a diode, for where the reservoirs begin

# Volts of the reservoirs, in netlist order -> named devices behind them, and where the nodes of these begin.
Behind = Callable[[Sequence[float]], tuple[Sequence[tuple[str, Device]], Mapping[str, float]]]


def timed_deck(circuit: Circuit, known: KnownValues, behind: Behind) -> str:
    """The deck of the first set of `known`; every number in SI. Source of the cards: the manual of ngspice."""
    celsius = float(known.degrees.flat[0])
    lines = [f"* {circuit.title}", f".options temp={celsius:.12g} tnom={celsius:.12g}"]
    lines += [".options gmin=1e-15 reltol=1e-5 vntol=1e-7 abstol=1e-10 itl4=100"]
    lines += [
        f".model rectifier D(IS={SATURATION:g} N={EMISSION:g} RS={DIODE_OHMS:g} XTI={SATURATION_POWER:g} "
        f"EG={BAND_GAP:g} TNOM={STATED_CELSIUS:g} CJO={_CHARGE:g})"
    ]
    supplies = raw_supplies(circuit)
    made = [known.rectifier(parts) for parts in supplies]
    levels = [_first(item.crest) - item.diodes * _DROP for item in made]
    named, starts = behind(levels)
    for parts, rectifier, level in zip(supplies, made, levels, strict=True):
        lines += _supply_lines(parts, rectifier, level)
    for name, device in named:
        lines += device_lines(name, device, celsius + ZERO_CELSIUS, _CHARGE_BEHIND)
    reservoirs = {parts.reservoir.nodes[0] for parts in supplies}
    lines += [f".nodeset v({node})={volts:.9g}" for node, volts in starts.items() if node not in reservoirs]
    period = 1.0 / _first(known("f"))
    cycles = max(_cycles(item) for item in made)
    lines += [f".tran {period / STRIDES:.9g} {cycles * period:.9g} 0 {period / STRIDES:.9g}"]
    window = f"from={(cycles - 1) * period:.9g} to={cycles * period:.9g}"
    for parts in supplies:
        lines += [f".meas tran {what} {window}" for what in _measured(parts)]
        lines += [f".meas tran {what} {window}" for what in _output(circuit, parts)]
    return "\n".join([*lines, ".end", ""])


def _cycles(rectifier: Rectifier) -> int:
    """Cycles of the mains until a wave has come to rest."""
    ohms = rectifier.winding + rectifier.diodes * DIODE_OHMS
    settling = _SETTLING * rectifier.farads * ohms * rectifier.angular / math.tau
    return math.ceil(PULSES / rectifier.pulses + _first(settling))


def _supply_lines(parts: RawParts, rectifier: Rectifier, level: float) -> list[str]:
    """Windings as sources with their resistance, diodes, and the reservoir charged to begin with."""
    crest, ohms = _first(rectifier.crest), _first(rectifier.winding)
    cycles = _first(rectifier.angular) / math.tau
    winding, lines = parts.winding, []
    for number, (end, other) in enumerate(pairwise(node_text(node) for node in winding.nodes), start=1):
        # Turned round, so that the current of the source is the one that it gives.
        inside = f"{winding.name}_{number}_inside" if ohms else end
        lines.append(f"V{winding.name}_{number} {other} {inside} SIN(0 {-crest:.12g} {cycles:.12g})")
        if ohms:
            lines.append(f"R{winding.name}_{number} {inside} {end} {ohms:.12g}")
    for part in parts.parts:
        if part.kind is PartKind.DIODE:
            anode, cathode = (node_text(node) for node in part.nodes)
            lines += [f"D{part.name} {anode} {cathode} rectifier", f"R{part.name}_leak {anode} {cathode} {1 / LEAK:g}"]
    upper, lower = (node_text(node) for node in parts.reservoir.nodes)
    lines.append(f"C{parts.reservoir.name} {upper} {lower} {_first(rectifier.farads):.12g}")
    return [*lines, f".ic v({upper})={level:.9g}"]


def _measured(parts: RawParts) -> list[str]:
    """Crest, trough, ripple and mean of the reservoir, crest and r.m.s. value of the winding's current."""
    symbols, node = parts.reservoir.symbols, node_text(parts.reservoir.nodes[0])
    source = f"i(V{parts.winding.name}_1)"
    read = [
        (symbols["crest"], "MAX", f"v({node})"),
        (symbols["trough"], "MIN", f"v({node})"),
        (symbols["ripple"], "PP", f"v({node})"),
        (symbols["mean"], "AVG", f"v({node})"),
        (f"I_CREST{parts.index}", "MAX", source),
        (parts.winding.symbols["current"], "RMS", source),
    ]
    return [f"{name} {how} {what}" for name, how, what in read if name]


def _output(circuit: Circuit, parts: RawParts) -> list[str]:
    """Mean and ripple of an output that something regulates."""
    node = parts.load.nodes[0]
    if node == parts.reservoir.nodes[0]:
        return []
    return [f"{circuit.nodes[node].symbol} AVG v({node})", f"V_RIP_O PP v({node})"]


def _first(values: Array) -> float:
    """The value of the first set."""
    return float(values.flat[0])
