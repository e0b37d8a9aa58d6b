"""Where an author puts a circuit's parts on the page, beside its netlist.

Vocabulary: a *drawing* places parts on a grid; one grid unit is the body of a resistor, x runs right and y runs up. A
*two-terminal* part lies between two points, its first node at `start`. A *device* has three terminals or more, and
its outline gives them. A *wire* is a polyline which names its node. A *mark* is what a reader measures: a current
arrow, a voltage between two points, a node's letter, an open terminal.
Place in the data flow: a circuit's file holds a Drawing beside its netlist; `wiring.py` compares the two, and
`views/schematic.py` draws it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from tutor.errors import BadCircuit

Point = tuple[float, float]


class Side(Enum):
    """A side of a point or part; also a direction along the grid. The value is its unit vector."""

    RIGHT = (1, 0)
    ABOVE = (0, 1)
    LEFT = (-1, 0)
    BELOW = (0, -1)

    @property
    def opposite(self) -> Side:
        """The side facing this one."""
        return Side((-self.value[0], -self.value[1]))


class Lead(Enum):
    """Which of a two-terminal part's leads carries its current arrow."""

    START = "start"
    END = "end"


class Turn(Enum):
    """Quarter turns of a device, anticlockwise. Unturned, a transistor has its base lead at the left."""

    NONE = 0
    QUARTER = 1
    HALF = 2
    THREE_QUARTERS = 3


class PartLike(Protocol):
    """What a drawing needs to know of a netlist's part; `kind` is a word or an enum whose value is that word."""

    @property
    def name(self) -> str:
        """Its name in the netlist."""

    @property
    def kind(self) -> object:
        """What kind of part it is."""

    @property
    def nodes(self) -> tuple[str, ...]:
        """Its nodes, in the order of its terminals."""


@dataclass(frozen=True)
class Place:
    """A two-terminal part: the netlist's first node at `start`, the second at `end`; its label on the side `label`.

    `current` is the letter symbol of the current from `start` to `end` through the part, drawn as an arrow on a lead.
    """

    part: str
    start: Point
    end: Point
    label: Side
    current: str = ""
    lead: Lead = Lead.START
    current_side: Side = Side.RIGHT


@dataclass(frozen=True)
class PlaceDevice:
    """A device by the point of its anchor terminal (the base of a transistor), turned, then placed.

    `mirrored` exchanges left and right before turning, so that a transistor's base lead comes from the right.
    """

    part: str
    at: Point
    turn: Turn
    label: Side
    mirrored: bool = False


@dataclass(frozen=True)
class Wire:
    """A conductor of one node, through its points."""

    node: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Ground:
    """The earth symbol, hanging from a point of its node."""

    at: Point
    node: str = "gnd"


@dataclass(frozen=True)
class Terminal:
    """An open terminal at a point of its node."""

    node: str
    at: Point


@dataclass(frozen=True)
class NodeLabel:
    """The letter of a node's voltage to ground, beside a point of the node."""

    node: str
    at: Point
    name: str
    side: Side


@dataclass(frozen=True)
class Voltage:
    """A voltage marked + and − between a point of one node and a point of another, its letter halfway.

    The marks stand on the line between the points, or aside on `side` when something is drawn on that line.
    """

    name: str
    plus_node: str
    plus: Point
    minus_node: str
    minus: Point
    side: Side | None = None


@dataclass(frozen=True)
class Arrow:
    """A current marked on a wire: at a point of the node, pointing `towards`, its letter on `side`."""

    name: str
    node: str
    at: Point
    towards: Side
    side: Side


Mark = Terminal | NodeLabel | Voltage | Arrow


@dataclass(frozen=True)
class Drawing:
    """One circuit as drawn; `title` names the circuit in a few words."""

    title: str
    places: tuple[Place | PlaceDevice, ...]
    wires: tuple[Wire, ...]
    grounds: tuple[Ground, ...]
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class Box:
    """A rectangle of the grid."""

    left: float
    bottom: float
    right: float
    top: float


@dataclass(frozen=True)
class Outline:
    """Terminals in the netlist's order, where the lead of each enters the body, and the room the body takes."""

    terminals: tuple[Point, ...]
    roots: tuple[Point, ...]
    body: Box


# Half the width of a two-terminal part's body across its line, in grid units; half its length is 0.5 for all.
_HALF_WIDTH = {
    "source": 0.5,
    "resistor": 0.25,
    "load": 0.25,
    "zener": 0.4,
    "winding": 0.25,
    "diode": 0.3,
    "reservoir": 0.4,
    "junction": 0.3,
    "thermal": 0.25,
    "heat-source": 0.5,
}
# One row per device kind: terminals relative to the anchor, in the netlist's order, unturned.
_DEVICES = {
    # collector, base, emitter
    "npn": Outline(((1, 1), (0, 0), (1, -1)), ((1, 0.7), (0.3, 0), (1, -0.7)), Box(0.3, -0.7, 1.1, 0.7)),
    "pnp": Outline(((1, 1), (0, 0), (1, -1)), ((1, 0.7), (0.3, 0), (1, -0.7)), Box(0.3, -0.7, 1.1, 0.7)),
    # cathode, reference pin, anode
    "shunt-reference": Outline(((1, 1), (0, 0), (1, -1)), ((1, 0.4), (0.6, 0), (1, -0.4)), Box(0.55, -0.4, 1.45, 0.4)),
    # non-inverting input, inverting input below it, output
    "opamp": Outline(((0, 0), (0, -1), (2, -0.5)), ((0.4, 0), (0.4, -1), (1.6, -0.5)), Box(0.4, -1.35, 1.6, 0.35)),
    # the same with its supply lead above
    "amplifier": Outline(
        ((0, 0), (0, -1), (2, -0.5), (1, 0.5)),
        ((0.4, 0), (0.4, -1), (1.6, -0.5), (1, -0.08)),
        Box(0.4, -1.35, 1.6, 0.35),
    ),
    # input, third pin below, output
    "three-terminal": Outline(
        ((-1.25, 0), (0, -1.25), (1.25, 0)), ((-0.85, 0), (0, -0.6), (0.85, 0)), Box(-0.85, -0.6, 0.85, 0.6)
    ),
    # upper end, tap, lower end of the winding, which stands upright with its tap to the right
    "tapped-winding": Outline(((0, 1.5), (0.75, 0), (0, -1.5)), ((0, 1), (0.25, 0), (0, -1)), Box(-0.25, -1, 0.25, 1)),
}


def kind_word(part: PartLike) -> str:
    """The kind of a part as a word, whether the netlist holds a word or an enum."""
    return str(part.kind.value) if isinstance(part.kind, Enum) else str(part.kind)


def is_device(part: PartLike) -> bool:
    """Whether the part is placed by `PlaceDevice`; BadCircuit for a kind that has no outline at all."""
    word = kind_word(part)
    if word not in _DEVICES and word not in _HALF_WIDTH:
        raise BadCircuit(
            f"a part of kind '{word}' has no outline to draw; add it to _HALF_WIDTH or _DEVICES in placement.py",
            kind=word,
        )
    return word in _DEVICES


def outline(place: Place | PlaceDevice, part: PartLike) -> Outline:
    """Where the terminals and the body of a placed part lie on the grid. BadCircuit for one laid aslant."""
    if isinstance(place, Place):
        return _between(place, _HALF_WIDTH[kind_word(part)])
    shape = _DEVICES[kind_word(part)]
    corners = [
        placed(place, corner) for corner in ((shape.body.left, shape.body.bottom), (shape.body.right, shape.body.top))
    ]
    xs, ys = zip(*corners, strict=True)
    return Outline(
        tuple(placed(place, terminal) for terminal in shape.terminals),
        tuple(placed(place, root) for root in shape.roots),
        Box(min(xs), min(ys), max(xs), max(ys)),
    )


def placed(place: PlaceDevice, point: Point) -> Point:
    """A point relative to the unturned device's anchor, as a point of the grid."""
    x, y = point
    if place.mirrored:
        x = -x
    for _ in range(place.turn.value):
        x, y = -y, x
    return (place.at[0] + x, place.at[1] + y)


def direction(start: Point, end: Point) -> Side | None:
    """The side towards which the line from `start` to `end` runs; None when it is slanted or has no length."""
    across, up = end[0] - start[0], end[1] - start[1]
    if (across == 0) == (up == 0):
        return None
    return Side(((across > 0) - (across < 0), (up > 0) - (up < 0)))


def middle(place: Place) -> Point:
    """The centre of a two-terminal part's body."""
    return ((place.start[0] + place.end[0]) / 2, (place.start[1] + place.end[1]) / 2)


def arrow_point(place: Place) -> Point:
    """Where the current arrow of a two-terminal part sits: halfway along the chosen lead. BadCircuit for one aslant."""
    start_root, end_root = _roots(place)
    terminal, root = (place.start, start_root) if place.lead is Lead.START else (place.end, end_root)
    return ((terminal[0] + root[0]) / 2, (terminal[1] + root[1]) / 2)


def _roots(place: Place) -> tuple[Point, Point]:
    """Where the leads of a two-terminal part enter its body, which is one grid unit long."""
    towards = direction(place.start, place.end)
    if towards is None:
        raise BadCircuit(f"the drawing lays '{place.part}' neither across nor up and down", part=place.part)
    (x, y), (along, up) = middle(place), towards.value
    return (x - along / 2, y - up / 2), (x + along / 2, y + up / 2)


def _between(place: Place, half: float) -> Outline:
    roots = _roots(place)
    (x1, y1), (x2, y2) = min(roots), max(roots)
    wide, high = (0.0, half) if y1 == y2 else (half, 0.0)
    return Outline((place.start, place.end), roots, Box(x1 - wide, y1 - high, x2 + wide, y2 + high))
