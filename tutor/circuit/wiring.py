"""Whether a drawing shows the circuit of its netlist, and where its junction dots go.

Vocabulary: a *spot* is a point of the drawing that belongs to one node: a terminal of a part, a point of a wire, a
ground, a mark. Spots of one node must hang together along its wires; spots of different nodes must not touch. Wires
that merely cross are not joined.
Place in the data flow: Drawing + netlist -> sentences about disagreements (none when they agree), junctions -> views.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from tutor.circuit.placement import (
    Arrow,
    Box,
    Drawing,
    NodeLabel,
    Outline,
    Place,
    PlaceDevice,
    Point,
    Side,
    Terminal,
    Voltage,
    arrow_point,
    direction,
    is_device,
    outline,
)
from tutor.circuit.placement import PartLike as Part

Stretch = tuple[Point, Point]


@dataclass(frozen=True)
class _Spot:
    """Something of one node: a polyline (one point for a mark) and how a sentence names it."""

    node: str
    points: tuple[Point, ...]
    words: str
    ground: bool = False

    def stretches(self) -> list[Stretch]:
        """The straight pieces; a lone point is a piece of no length."""
        return list(pairwise(self.points)) or [(self.points[0], self.points[0])]

    def meets(self, other: _Spot) -> Point | None:
        """A point of one that lies on the other; None when they keep apart or only cross."""
        for ours, theirs in ((self, other), (other, self)):
            for point in ours.points:
                if any(_on(point, stretch) for stretch in theirs.stretches()):
                    return point
        return None


def check_drawing(drawing: Drawing, parts: Sequence[Part]) -> list[str]:
    """Sentences about every way the drawing disagrees with the netlist's parts; empty when it shows the same circuit.

    Raises BadCircuit for a kind of part that has no outline.
    """
    named = {part.name: part for part in parts}
    faults = [*_part_faults(drawing, named), *_wire_faults(drawing, named)]
    if faults:
        return faults  # positions mean nothing until every part stands where it can be found
    spots = [*_part_spots(drawing, named), *_other_spots(drawing)]
    faults += _short_faults(spots)
    faults += _open_faults(spots)
    faults += _mark_faults(drawing, spots)
    faults += _body_faults(drawing, named)
    return faults


def junctions(drawing: Drawing, parts: Sequence[Part]) -> tuple[Point, ...]:
    """The points at which three conductors or more of one node meet, bottom left first: those that take a dot."""
    named = {part.name: part for part in parts}
    outlines = [outline(place, named[place.part]) for place in drawing.places]
    ends = {terminal for shape in outlines for terminal in shape.terminals}
    ends |= {point for wire in drawing.wires for point in wire.points}
    ends |= {ground.at for ground in drawing.grounds}
    return tuple(sorted(point for point in ends if len(_branches(point, drawing, outlines)) >= 3))


def _branches(point: Point, drawing: Drawing, outlines: Sequence[Outline]) -> set[Side]:
    """The directions in which conductors leave a point."""
    stretches = [stretch for wire in drawing.wires for stretch in pairwise(wire.points)]
    stretches += [lead for shape in outlines for lead in _leads(shape)]
    leaving: set[Side] = set()
    for start, end in stretches:
        towards = direction(start, end)
        if towards is not None and _on(point, (start, end)):
            leaving |= {towards} if point != end else set()
            leaving |= {towards.opposite} if point != start else set()
    if any(ground.at == point for ground in drawing.grounds):
        leaving.add(Side.BELOW)
    return leaving


def _leads(shape: Outline) -> list[Stretch]:
    return list(zip(shape.terminals, shape.roots, strict=True))


def _part_faults(drawing: Drawing, named: dict[str, Part]) -> Iterator[str]:
    drawn = [place.part for place in drawing.places]
    for name in sorted(set(drawn) - set(named)):
        yield f"the drawing places '{name}', which the netlist does not have"
    for name in sorted(set(named) - set(drawn)):
        yield f"the netlist has '{name}', which the drawing does not place"
    for name in sorted({name for name in drawn if drawn.count(name) > 1}):
        yield f"the drawing places '{name}' more than once"
    for place in drawing.places:
        part = named.get(place.part)
        if part is None:
            continue
        if is_device(part) != isinstance(place, PlaceDevice):
            right = "PlaceDevice" if is_device(part) else "Place"
            yield f"'{place.part}' has {len(part.nodes)} terminals, so it is drawn by {right}"
        elif isinstance(place, Place):
            length = abs(place.end[0] - place.start[0]) + abs(place.end[1] - place.start[1])
            if direction(place.start, place.end) is None or length < 1:
                yield f"'{place.part}' must run straight across or up and down over one grid unit at least"


def _wire_faults(drawing: Drawing, named: dict[str, Part]) -> Iterator[str]:
    nodes = {node for part in named.values() for node in part.nodes}
    for spot in _other_spots(drawing):
        if spot.node not in nodes:
            yield f"{spot.words} names the node '{spot.node}', which the netlist does not have"
    for wire in drawing.wires:
        for start, end in pairwise(wire.points):
            if direction(start, end) is None:
                yield f"a wire of node '{wire.node}' is slanted or has no length between {_at(start)} and {_at(end)}"
        if len(wire.points) < 2:
            yield f"a wire of node '{wire.node}' needs two points at least"


def _part_spots(drawing: Drawing, named: dict[str, Part]) -> list[_Spot]:
    found = []
    for place in drawing.places:
        part = named[place.part]
        for number, (node, lead) in enumerate(zip(part.nodes, _leads(outline(place, part)), strict=True), start=1):
            found.append(_Spot(node, lead, f"terminal {number} of '{part.name}'"))
    return found


def _other_spots(drawing: Drawing) -> list[_Spot]:
    found = [_Spot(wire.node, wire.points, f"a wire at {_at(wire.points[0])}") for wire in drawing.wires if wire.points]
    found += [_Spot(ground.node, (ground.at,), f"the ground at {_at(ground.at)}", True) for ground in drawing.grounds]
    for mark in drawing.marks:
        if isinstance(mark, Terminal):
            found.append(_Spot(mark.node, (mark.at,), f"the open terminal at {_at(mark.at)}"))
        elif isinstance(mark, Voltage):
            found.append(_Spot(mark.plus_node, (mark.plus,), f"the + of '{mark.name}'"))
            found.append(_Spot(mark.minus_node, (mark.minus,), f"the − of '{mark.name}'"))
        else:
            found.append(_Spot(mark.node, (mark.at,), f"the mark '{mark.name}'"))
    return found


def _short_faults(spots: Sequence[_Spot]) -> Iterator[str]:
    for one, other in combinations(spots, 2):
        point = one.meets(other)
        if one.node != other.node and point is not None:
            yield (
                f"{one.words} (node '{one.node}') touches {other.words} (node '{other.node}') at {_at(point)}, "
                "but the netlist keeps these nodes apart"
            )


def _open_faults(spots: Sequence[_Spot]) -> Iterator[str]:
    for node in sorted({spot.node for spot in spots}):
        islands = _islands([spot for spot in spots if spot.node == node])
        if len(islands) > 1:
            pieces = "; ".join(" and ".join(spot.words for spot in island) for island in islands)
            yield f"the drawing leaves node '{node}' in {len(islands)} pieces that are not joined: {pieces}"


def _islands(spots: Sequence[_Spot]) -> list[list[_Spot]]:
    """The spots of one node grouped by what touches; grounds of one node are joined by what they mean."""
    islands: list[list[_Spot]] = []
    for spot in spots:
        joined = [island for island in islands if any(_joined(spot, other) for other in island)]
        islands = [island for island in islands if island not in joined]
        islands.append([*(member for island in joined for member in island), spot])
    return islands


def _joined(one: _Spot, other: _Spot) -> bool:
    return (one.ground and other.ground) or one.meets(other) is not None


def _mark_faults(drawing: Drawing, spots: Sequence[_Spot]) -> Iterator[str]:
    """An arrow must lie along its wire; names must differ, since labels are given by name."""
    for mark in drawing.marks:
        if isinstance(mark, Arrow):
            wires = [stretch for spot in spots if spot.node == mark.node for stretch in spot.stretches()]
            along = [direction(*stretch) for stretch in wires if _on(mark.at, stretch)]
            if mark.towards not in along and mark.towards.opposite not in along:
                yield f"the arrow '{mark.name}' at {_at(mark.at)} does not lie along a wire of node '{mark.node}'"
    # What several have in common (the output of three regulators) may be marked at each of them, once at a node.
    places = [place for place in drawing.places if isinstance(place, Place) and place.current]
    marked = [(place.current, place.part) for place in places]
    marked += [(mark.name, _node_of(mark)) for mark in drawing.marks if not isinstance(mark, Terminal)]
    parts = [place.part for place in drawing.places]
    for name in sorted({name for name, at in marked if marked.count((name, at)) > 1 or name in parts}):
        yield f"the drawing marks '{name}' more than once"


def _node_of(mark: Arrow | NodeLabel | Voltage) -> str:
    return mark.plus_node if isinstance(mark, Voltage) else mark.node


def _body_faults(drawing: Drawing, named: dict[str, Part]) -> Iterator[str]:
    bodies = [(place, outline(place, named[place.part]).body) for place in drawing.places]
    for place, body in bodies:
        for wire in drawing.wires:
            if any(_crosses(stretch, body) for stretch in pairwise(wire.points)):
                yield f"a wire of node '{wire.node}' runs through the symbol of '{place.part}'"
        if isinstance(place, Place) and place.current and _inside(arrow_point(place), body):
            yield f"'{place.part}' is too short for the arrow of '{place.current}' on its lead"
    for (one, ours), (other, theirs) in combinations(bodies, 2):
        if max(ours.left, theirs.left) < min(ours.right, theirs.right) and (
            max(ours.bottom, theirs.bottom) < min(ours.top, theirs.top)
        ):
            yield f"the symbols of '{one.part}' and '{other.part}' lie over one another"


def _on(point: Point, stretch: Stretch) -> bool:
    (x, y), ((x1, y1), (x2, y2)) = point, stretch
    return min(x1, x2) <= x <= max(x1, x2) and min(y1, y2) <= y <= max(y1, y2)


def _crosses(stretch: Stretch, box: Box) -> bool:
    (x1, y1), (x2, y2) = stretch
    return min(x1, x2) < box.right and max(x1, x2) > box.left and min(y1, y2) < box.top and max(y1, y2) > box.bottom


def _inside(point: Point, box: Box) -> bool:
    return box.left <= point[0] <= box.right and box.bottom <= point[1] <= box.top


def _at(point: Point) -> str:
    return f"({point[0]:g}, {point[1]:g})"
