"""A circuit with some of its parts left out of the drawing, for whoever is to say where they go.

A wire that led to nothing but them is left out too, back to where something else hangs on it.
Place in the data flow: Circuit + names of parts -> Circuit as drawn -> schematic.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import pairwise

from tutor.circuit.circuit import Circuit
from tutor.circuit.placement import Arrow, NodeLabel, Point, Terminal, Voltage, Wire, outline


def drawn_without(circuit: Circuit, names: Collection[str]) -> Circuit:
    """The circuit as it is drawn without those parts; itself when none is named."""
    if not names:
        return circuit
    parts = tuple(part for part in circuit.parts if part.name not in names)
    named = {part.name: part for part in parts}
    places = tuple(place for place in circuit.drawing.places if place.part in named)
    terminals = {terminal for place in places for terminal in outline(place, named[place.part]).terminals}
    held = terminals | {ground.at for ground in circuit.drawing.grounds}
    held |= {mark.at for mark in circuit.drawing.marks if isinstance(mark, Terminal)}
    wires = _cut_back(circuit.drawing.wires, held)
    ends = held | {point for wire in wires for point in wire.points}
    grounds = tuple(
        ground for ground in circuit.drawing.grounds if ground.at in terminals or _on_some(ground.at, wires)
    )
    marks = tuple(
        mark
        for mark in circuit.drawing.marks
        if not isinstance(mark, Arrow | NodeLabel | Voltage)
        or all(point in ends or _on_some(point, wires) for point in _points(mark))
    )
    drawing = replace(circuit.drawing, places=places, wires=wires, grounds=grounds, marks=marks)
    return replace(circuit, parts=parts, drawing=drawing)


def _points(mark: Arrow | NodeLabel | Voltage) -> tuple[Point, ...]:
    return (mark.plus, mark.minus) if isinstance(mark, Voltage) else (mark.at,)


def _cut_back(wires: Sequence[Wire], held: Collection[Point]) -> tuple[Wire, ...]:
    """The wires, each end that hangs loose cut back to the last point that is held or met by another wire."""
    left = list(wires)
    while True:
        cut: list[Wire] = []
        for place, wire in enumerate(left):
            others = [*left[:place], *left[place + 1 :]]
            points = _trimmed(_trimmed(wire.points, others, held)[::-1], others, held)[::-1]
            if len(points) > 1:
                cut.append(replace(wire, points=points))
        if cut == left:
            return tuple(cut)
        left = cut


def _trimmed(points: tuple[Point, ...], others: Sequence[Wire], held: Collection[Point]) -> tuple[Point, ...]:
    """A polyline whose first point is held or met, or shorter until it is."""
    while len(points) > 1 and points[0] not in held and not _on_some(points[0], others):
        first, second = points[:2]
        between = [point for point in held if _on(point, first, second) and point != first]
        between += [point for wire in others for point in wire.points if _on(point, first, second) and point != first]
        nearest = min(between, key=lambda point: _far(point, first), default=None)
        points = points[1:] if nearest is None or nearest == second else (nearest, *points[1:])
    return points


def _far(one: Point, other: Point) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _on_some(point: Point, wires: Sequence[Wire]) -> bool:
    return any(_on(point, *stretch) for wire in wires for stretch in pairwise(wire.points))


def _on(point: Point, start: Point, end: Point) -> bool:
    return min(start[0], end[0]) <= point[0] <= max(start[0], end[0]) and (
        min(start[1], end[1]) <= point[1] <= max(start[1], end[1])
    )
