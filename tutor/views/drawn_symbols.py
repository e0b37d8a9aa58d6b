"""The symbol of each kind of part, in two national styles, as schemdraw elements without text.

Vocabulary: an *element* is schemdraw's word for a symbol laid between two points; a device's symbol is drawn unturned
in grid units about its anchor and laid on the grid by `placement.placed`. IEC symbols after IEC 60617 (resistor a
rectangle, diode with its line through, zener bar with one hook, source a circle with its line through, winding a row
of half circles, polarised capacitor two plates, one of them hollow); IEEE symbols after IEEE 315 (resistor a zigzag,
diode filled, zener bar with two hooks, source a circle with + and −, polarised capacitor with one plate bent).
Place in the data flow: placement -> symbols here -> `schematic.py` collects their strokes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from math import cos, hypot, nan, pi, sin

import schemdraw.elements as elm
from schemdraw.segments import Segment, SegmentCircle, SegmentPoly

from tutor.circuit.placement import Place, PlaceDevice, Point, Side, placed


class SymbolStyle(Enum):
    """Whose drawing symbols are used."""

    IEC = "iec"
    IEEE = "ieee"


@dataclass(frozen=True)
class TwoTerminalSymbol:
    """How to make a symbol, and whether it runs against the part (schemdraw's end at our first node)."""

    make: Callable[[], elm.Element2Term]
    backwards: bool = False


def _zener_iec() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5; the hook points back towards the anode."""
    return _element(
        Segment([(0, 0), (0.5, 0)]),
        SegmentPoly([(0, 0.29), (0.5, 0), (0, -0.29)], closed=True),
        Segment([(0.5, -0.29), (0.5, 0.29), (0.36, 0.29)]),
    )


def _zener_ieee() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5 with a hook at each end, one forwards and one back."""
    return _element(
        Segment(_ends(0.5)),
        SegmentPoly([(0, 0.29), (0.5, 0), (0, -0.29)], closed=True),
        Segment([(0.64, -0.4), (0.5, -0.29), (0.5, 0.29), (0.36, 0.4)]),
    )


def _junction_iec() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5, its line through."""
    return _element(Segment([(0, 0), (0.5, 0)]), *_triangle_and_bar())


def _junction_ieee() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5."""
    return _element(Segment(_ends(0.5)), *_triangle_and_bar())


def _triangle_and_bar() -> tuple[SegmentPoly, Segment]:
    triangle = SegmentPoly([(0, 0.29), (0.5, 0), (0, -0.29)], closed=True)
    return triangle, Segment([(0.5, -0.29), (0.5, 0.29)])


def _source_iec() -> elm.Element2Term:
    """A circle with its line through; the + outside, beside the second end and to the right."""
    return _element(Segment([(0, 0), (1, 0)]), SegmentCircle((0.5, 0), 0.5), *_cross((1.12, -0.42), 0.12))


def _source_ieee() -> elm.Element2Term:
    """A circle with − near its first end and + near its second, both upright to the line."""
    return _element(
        Segment(_ends(1)),
        SegmentCircle((0.5, 0), 0.5),
        Segment([(0.24, -0.12), (0.24, 0.12)]),
        *_cross((0.76, 0), 0.12),
    )


def _heat_source() -> elm.Element2Term:
    """A circle with an arrow towards its second end, whichever the style."""
    return _element(
        Segment(_ends(1)),
        SegmentCircle((0.5, 0), 0.5),
        Segment([(0.2, 0), (0.5, 0)]),
        SegmentPoly([(0.82, 0), (0.5, 0.13), (0.5, -0.13)], closed=True, fill="currentColor"),
    )


def _diode_iec() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5, the line through."""
    return _element(
        Segment([(0, 0), (0.5, 0)]),
        SegmentPoly([(0, 0.29), (0.5, 0), (0, -0.29)], closed=True),
        Segment([(0.5, -0.29), (0.5, 0.29)]),
    )


def _diode_ieee() -> elm.Element2Term:
    """Anode at 0, cathode bar at 0.5, the arrow filled."""
    return _element(
        Segment(_ends(0.5)),
        SegmentPoly([(0, 0.29), (0.5, 0), (0, -0.29)], closed=True, fill="currentColor"),
        Segment([(0.5, -0.29), (0.5, 0.29)]),
    )


def _winding() -> elm.Element2Term:
    """Four turns in a row, bulging to the right of a winding that runs down."""
    return _element(Segment([(along, across) for along, across in _turns(1, 4)]))


def _turns(length: float, count: int) -> list[Point]:
    """Half circles in a row along the first axis from 0, bulging along the second."""
    radius = length / count / 2
    found: list[Point] = [(0, 0)]
    for turn in range(count):
        centre = (2 * turn + 1) * radius
        angles = [pi * step / 10 for step in range(1, 11)]
        found += [(centre - radius * cos(angle), radius * sin(angle)) for angle in angles]
    return found


def _reservoir_iec() -> elm.Element2Term:
    """The hollow plate, with a + beside it, first."""
    return _element(
        Segment(_ends(0.3)),
        SegmentPoly([(0, -0.35), (0, 0.35), (0.09, 0.35), (0.09, -0.35)], closed=True),
        SegmentPoly([(0.21, -0.35), (0.21, 0.35), (0.3, 0.35), (0.3, -0.35)], closed=True, fill="currentColor"),
        *_cross((-0.16, 0.24), 0.09),
    )


def _reservoir_ieee() -> elm.Element2Term:
    """The straight plate, with a + beside it, first, the bent one second."""
    bend = [(0.3 + 0.11 * (1 - cos(place)), 0.36 * sin(place)) for place in (pi * step / 16 for step in range(-8, 9))]
    return _element(
        Segment(_ends(0.3)),
        Segment([(0, -0.35), (0, 0.35)]),
        Segment(bend),
        *_cross((-0.16, 0.24), 0.09),
    )


def _element(*segments: Segment | SegmentPoly | SegmentCircle) -> elm.Element2Term:
    element = elm.Element2Term()
    element.segments.extend(segments)
    return element


def _ends(length: float) -> list[Point]:
    """A path of two bare ends: schemdraw joins the leads to the first and last point of a symbol's first segment."""
    return [(0, 0), (0, 0), (nan, nan), (length, 0), (length, 0)]


def _cross(centre: Point, half: float) -> tuple[Segment, Segment]:
    x, y = centre
    return Segment([(x - half, y), (x + half, y)]), Segment([(x, y - half), (x, y + half)])


_TWO_TERMINAL = {
    ("resistor", SymbolStyle.IEC): TwoTerminalSymbol(elm.ResistorIEC),
    ("resistor", SymbolStyle.IEEE): TwoTerminalSymbol(elm.ResistorIEEE),
    ("load", SymbolStyle.IEC): TwoTerminalSymbol(elm.ResistorIEC),
    ("load", SymbolStyle.IEEE): TwoTerminalSymbol(elm.ResistorIEC),
    ("zener", SymbolStyle.IEC): TwoTerminalSymbol(_zener_iec, backwards=True),
    ("zener", SymbolStyle.IEEE): TwoTerminalSymbol(_zener_ieee, backwards=True),
    ("source", SymbolStyle.IEC): TwoTerminalSymbol(_source_iec, backwards=True),
    ("source", SymbolStyle.IEEE): TwoTerminalSymbol(_source_ieee, backwards=True),
    ("thermal", SymbolStyle.IEC): TwoTerminalSymbol(elm.ResistorIEC),
    ("thermal", SymbolStyle.IEEE): TwoTerminalSymbol(elm.ResistorIEEE),
    ("heat-source", SymbolStyle.IEC): TwoTerminalSymbol(_heat_source, backwards=True),
    ("heat-source", SymbolStyle.IEEE): TwoTerminalSymbol(_heat_source, backwards=True),
    ("junction", SymbolStyle.IEC): TwoTerminalSymbol(_junction_iec),
    ("junction", SymbolStyle.IEEE): TwoTerminalSymbol(_junction_ieee),
    ("winding", SymbolStyle.IEC): TwoTerminalSymbol(_winding),
    ("winding", SymbolStyle.IEEE): TwoTerminalSymbol(_winding),
    ("diode", SymbolStyle.IEC): TwoTerminalSymbol(_diode_iec),
    ("diode", SymbolStyle.IEEE): TwoTerminalSymbol(_diode_ieee),
    ("reservoir", SymbolStyle.IEC): TwoTerminalSymbol(_reservoir_iec),
    ("reservoir", SymbolStyle.IEEE): TwoTerminalSymbol(_reservoir_ieee),
}

# Strokes of each device in grid units about its anchor, unturned; the emitter's slant carries a transistor's arrow.
_TRANSISTOR_LINES = (
    ((0, 0), (0.5, 0)),
    ((0.5, 0.45), (0.5, -0.45)),
    ((0.5, 0.2), (1, 0.6), (1, 1)),
    ((0.5, -0.2), (1, -0.6), (1, -1)),
)
_EMITTER_ARROW = {"npn": ((0.5, -0.2), (1, -0.6)), "pnp": ((1, -0.6), (0.55, -0.24))}
# A zener whose bar bends at both ends, the reference pin at the side of its triangle.
_REFERENCE_LINES = (
    ((1, 1), (1, 0.25)),
    ((0.58, 0.37), (0.7, 0.25), (1.3, 0.25), (1.42, 0.13)),
    ((0.7, -0.25), (1, 0.25), (1.3, -0.25), (0.7, -0.25)),
    ((1, -0.25), (1, -1)),
    ((0, 0), (0.85, 0)),
)
# The triangle of an amplifier, + at its first input and − at its second.
_OPAMP_LINES = (
    ((0.4, 0.35), (1.6, -0.5), (0.4, -1.35), (0.4, 0.35)),
    ((0, 0), (0.4, 0)),
    ((0, -1), (0.4, -1)),
    ((1.6, -0.5), (2, -0.5)),
    ((0.5, 0), (0.74, 0)),
    ((0.62, -0.12), (0.62, 0.12)),
    ((0.5, -1), (0.74, -1)),
)
_AMPLIFIER_LINES = (*_OPAMP_LINES, ((1, 0.5), (1, -0.075)))
# A plain box: which pin is which the drawing's words tell, and the way of the signal.
_REGULATOR_LINES = (
    ((-0.85, -0.6), (0.85, -0.6), (0.85, 0.6), (-0.85, 0.6), (-0.85, -0.6)),
    ((-1.25, 0), (-0.85, 0)),
    ((0.85, 0), (1.25, 0)),
    ((0, -0.6), (0, -1.25)),
)
_DEVICE_LINES = {
    "npn": _TRANSISTOR_LINES,
    "pnp": _TRANSISTOR_LINES,
    "shunt-reference": _REFERENCE_LINES,
    "opamp": _OPAMP_LINES,
    "amplifier": _AMPLIFIER_LINES,
    "three-terminal": _REGULATOR_LINES,
}


def two_terminal(place: Place, kind: str, style: SymbolStyle) -> elm.Element:
    """The symbol of a two-terminal part between its points, leads included."""
    symbol = _TWO_TERMINAL[kind, style]
    ends = (place.end, place.start) if symbol.backwards else (place.start, place.end)
    return symbol.make().endpoints(*ends)


def device(place: PlaceDevice, kind: str) -> elm.Element:
    """The symbol of a device with its leads, laid on the grid; the same in both styles."""
    if kind == "tapped-winding":
        # Its turns run down from the upper end and bulge towards the tap.
        path = [(across, 1 - along) for along, across in _turns(2, 8)]
        leads = (((0, 1.5), (0, 1)), ((0, -1), (0, -1.5)), ((0, 0), (0.75, 0)))
        return _laid(*(Segment([placed(place, point) for point in line]) for line in (path, *leads)))
    lines = [Segment([placed(place, point) for point in line]) for line in _DEVICE_LINES[kind]]
    if kind in _EMITTER_ARROW:
        return _laid(*lines, _head(*(placed(place, point) for point in _EMITTER_ARROW[kind])))
    return _laid(*lines)


def wire(points: Sequence[Point]) -> elm.Element:
    """A wire through its points."""
    return _laid(Segment(points))


def dot(point: Point) -> elm.Element:
    """The dot of a junction."""
    return _laid(SegmentCircle(point, 0.085, fill="currentColor"))


def open_terminal(point: Point, outward: Side) -> elm.Element:
    """An open terminal just beyond the end of its wire, so that the page shows through."""
    (x, y), (along, up) = point, outward.value
    return _laid(SegmentCircle((x + 0.1 * along, y + 0.1 * up), 0.1))


def ground(point: Point) -> elm.Element:
    """The earth symbol hanging from a point."""
    x, y = point
    bars = [((x - half, y - drop), (x + half, y - drop)) for half, drop in ((0.3, 0.4), (0.19, 0.53), (0.08, 0.66))]
    return _laid(Segment([point, (x, y - 0.4)]), *(Segment(bar) for bar in bars))


def arrow(point: Point, towards: Side) -> elm.Element:
    """The head of a current arrow, its middle on the point."""
    (x, y), (along, up) = point, towards.value
    return _laid(_head((x - along, y - up), (x + 0.16 * along, y + 0.16 * up)))


def polarity(point: Point, positive: bool) -> elm.Element:
    """A + or a −, centred on the point."""
    across, up = _cross(point, 0.13)
    return _laid(across, up) if positive else _laid(across)


def _head(tail: Point, tip: Point) -> SegmentPoly:
    """The filled head of an arrow that runs from `tail` and ends at `tip`."""
    length = hypot(tip[0] - tail[0], tip[1] - tail[1])
    along, up = (tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length
    back = (tip[0] - 0.32 * along, tip[1] - 0.32 * up)
    corners = [tip, (back[0] - 0.12 * up, back[1] + 0.12 * along), (back[0] + 0.12 * up, back[1] - 0.12 * along)]
    return SegmentPoly(corners, closed=True, fill="currentColor")


def _laid(*segments: Segment | SegmentPoly | SegmentCircle) -> elm.Element:
    """An element whose segments are in the grid's own coordinates."""
    element = elm.Element().at((0, 0)).theta(0)
    element.segments.extend(segments)
    return element
