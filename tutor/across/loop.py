"""How a regulator answers: what moves what, read off the netlist, and the way round its loop.

Vocabulary: a *thing* is a node's voltage or a part's current; an *influence* is one thing that moves another, up with
it (+1) or the other way (-1), by a part; a *held* node is tied to a source, or to ground by a zener in breakdown; a
*loop* is a way from the output's voltage through influences back to the current at the output that opposes the change.
The influences are those of real parts, whose currents grow with the voltage that drives them; in the idealised models
that the rest of the engine works with (a fixed V_BE, equal inputs) the drive that is needed has shrunk to nothing.
Source: the sign of each part's characteristic (any textbook of electronics, e.g. Sedra and Smith); the choice of the
loop that passes most active parts is ours.
Place in the data flow: circuit + region -> loops -> `causes.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import prod

from tutor.circuit.circuit import GROUND, Circuit, Region
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part

ACTIVE = frozenset(
    {
        PartKind.NPN, PartKind.PNP, PartKind.ZENER, PartKind.OPAMP, PartKind.AMPLIFIER, PartKind.THREE_TERMINAL,
        PartKind.SHUNT_REFERENCE,
    }
)  # fmt: skip
IDLE = frozenset({"off", "low", "high", "dropout"})
LONGEST = 9  # influences on one way


@dataclass(frozen=True)
class Influence:
    """`cause` moves `effect` by the part of that name: with it (+1) or against it (-1). `way` tells which part's
    characteristic is meant (`drive`, `draw`, `feed`, `divide`, `invert`, `follow`)."""

    cause: str
    effect: str
    sign: int
    part: str
    way: str


def influences(circuit: Circuit, region: Region) -> tuple[Influence, ...]:
    """Every influence of the parts that are at work in a region; none into a held node."""
    held = held_nodes(circuit, region)
    found: list[Influence] = []
    for part in circuit.parts:
        if region.parts.get(part.name) not in IDLE:
            found += _of_part(circuit, part)
    return tuple(item for item in found if item.effect not in held)


def held_nodes(circuit: Circuit, region: Region) -> set[str]:
    """Letters of the nodes that do not move: the source's, and those that a zener in breakdown ties to ground."""
    held: set[str] = set()
    loads = {part.nodes[0] for part in circuit.parts if part.kind is PartKind.LOAD}
    for part in circuit.parts:
        node = part.nodes[0]
        zener = part.kind is PartKind.ZENER and part.nodes[1] == GROUND and region.parts.get(part.name) == "breakdown"
        if part.kind is PartKind.SOURCE or (zener and node not in loads):
            held.add(circuit.nodes[node].symbol)
    return held - {""}


def _of_part(circuit: Circuit, part: Part) -> Iterator[Influence]:
    """The influences of one part; a node without a letter, or ground, has none."""

    def volts(terminal: str) -> str:
        node = part.terminals[terminal]
        return "" if node == GROUND else circuit.nodes[node].symbol

    def link(cause: str, effect: str, sign: int, way: str) -> Iterator[Influence]:
        if cause and effect and cause != effect:
            yield Influence(cause, effect, sign, part.name, way)

    letters = part.symbols
    if part.kind is PartKind.RESISTOR:
        ends = (volts("a"), volts("b"))
        source = next((item for item in circuit.parts if item.kind is PartKind.SOURCE), None)
        line = circuit.nodes[source.nodes[0]].symbol if source is not None else ""
        if line and line in ends:
            other = ends[1] if ends[0] == line else ends[0]
            yield from link(line, letters["current"], 1, "drive")
            yield from link(letters["current"], other, 1, "feed")
        else:
            yield from link(ends[0], ends[1], 1, "divide")
            yield from link(ends[1], ends[0], 1, "divide")
    elif part.kind in (PartKind.NPN, PartKind.PNP):
        sense = 1 if part.kind is PartKind.NPN else -1
        for current, terminal, into in ((letters["collector"], "c", -sense), (letters["emitter"], "e", sense)):
            yield from link(volts("b"), current, sense, "drive")
            yield from link(volts("e"), current, -sense, "drive")
            yield from link(current, volts(terminal), into, "feed" if into > 0 else "draw")
    elif part.kind is PartKind.ZENER:
        yield from link(volts("a"), letters["current"], 1, "drive")
        yield from link(volts("b"), letters["current"], -1, "drive")
        yield from link(letters["current"], volts("a"), -1, "draw")
        yield from link(letters["current"], volts("b"), 1, "feed")
    elif part.kind in (PartKind.OPAMP, PartKind.AMPLIFIER):
        yield from link(volts("p"), volts("o"), 1, "follow")
        yield from link(volts("n"), volts("o"), -1, "invert")
    elif part.kind is PartKind.THREE_TERMINAL:
        yield from link(volts("o"), letters["current"], -1, "drive")
        yield from link(volts("g"), letters["current"], 1, "drive")
        yield from link(letters["current"], volts("o"), 1, "feed")
    elif part.kind is PartKind.SHUNT_REFERENCE:
        yield from link(volts("r"), letters["current"], 1, "drive")
        yield from link(letters["current"], volts("c"), -1, "draw")
    elif part.kind is PartKind.JUNCTION:
        yield from link(volts("a"), volts("b"), 1, "divide")


def output_of(circuit: Circuit) -> str:
    """The letter of the voltage across its load; '' where it has none."""
    letters = circuit.output_voltages()
    return letters[0] if letters else ""


def loops(circuit: Circuit, region: Region) -> tuple[tuple[Influence, ...], ...]:
    """The ways from the output's voltage back to it that oppose a change, the one a person tells first."""
    output = output_of(circuit)
    every = influences(circuit, region)
    found = [way for way in _ways(every, output, output, ()) if sign_of(way) < 0]
    kinds = {part.name: part.kind for part in circuit.parts}

    def rank(way: Sequence[Influence]) -> tuple[int, int]:
        return -len({item.part for item in way if kinds[item.part] in ACTIVE}), len(way)

    return tuple(sorted(found, key=rank))


def way_to_output(circuit: Circuit, region: Region, start: str) -> tuple[Influence, ...]:
    """The shortest way from a thing that is moved from outside to the output's voltage; () when there is none."""
    found = sorted(_ways(influences(circuit, region), start, output_of(circuit), ()), key=len)
    return found[0] if found else ()


def _ways(
    every: Sequence[Influence], start: str, goal: str, gone: tuple[Influence, ...]
) -> Iterator[tuple[Influence, ...]]:
    """Every way from one thing to another that meets nothing twice, of `LONGEST` influences at most."""
    if len(gone) >= LONGEST:
        return
    met = {start, *(item.cause for item in gone)}
    for item in every:
        if item.cause == start:
            if item.effect == goal:
                yield (*gone, item)
            elif item.effect not in met:
                yield from _ways(every, item.effect, goal, (*gone, item))


def sign_of(way: Sequence[Influence]) -> int:
    """Whether the end of a way moves with its beginning (1) or against it (-1)."""
    return prod(item.sign for item in way)
