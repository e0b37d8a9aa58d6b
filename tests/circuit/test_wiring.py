"""The drawing against the netlist: agreement of every circuit, and planted faults, each of which must be noticed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tutor.circuit.netlist import read_netlist
from tutor.circuit.placement import (
    Arrow,
    Drawing,
    Ground,
    NodeLabel,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)
from tutor.circuit.wiring import check_drawing, junctions
from tutor.generate.problems_folder import ProblemsFolder

PROBLEMS = ProblemsFolder(Path(__file__).parents[2] / "problems")
PARTS = read_netlist(
    """
    V_I  source    in    gnd
    R    resistor  in    base
    Z    zener     base  gnd
    Q    npn       in    base  out
    L    load      out   gnd
    """,
    "test",
)
SOUND = Drawing(
    title="emitter follower",
    places=(
        Place("V_I", (0, 5), (0, 0), Side.LEFT),
        Place("R", (2, 5), (2, 2.5), Side.RIGHT, current="I_R"),
        Place("Z", (2, 2.5), (2, 0), Side.RIGHT, current="I_Z"),
        PlaceDevice("Q", (4, 4), Turn.QUARTER, Side.ABOVE),
        Place("L", (6, 5), (6, 0), Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 5), (3, 5))),
        Wire("base", ((2, 2.5), (4, 2.5), (4, 4))),
        Wire("out", ((5, 5), (7, 5))),
        Wire("gnd", ((0, 0), (7, 0))),
    ),
    grounds=(Ground((1, 0)),),
    marks=(
        Arrow("I_B", "base", (3, 2.5), Side.RIGHT, Side.ABOVE),
        NodeLabel("base", (4, 3), "V_B", Side.RIGHT),
        Terminal("out", (7, 5)),
        Terminal("gnd", (7, 0)),
        Voltage("V_O", "out", (7, 5), "gnd", (7, 0)),
    ),
)


def without_wire(number: int) -> Drawing:
    return replace(SOUND, wires=SOUND.wires[:number] + SOUND.wires[number + 1 :])


def with_place(number: int, place: Place | PlaceDevice) -> Drawing:
    return replace(SOUND, places=(*SOUND.places[:number], place, *SOUND.places[number + 1 :]))


def with_mark(mark: Terminal | NodeLabel | Voltage | Arrow) -> Drawing:
    return replace(SOUND, marks=(*SOUND.marks, mark))


def with_wire(wire: Wire) -> Drawing:
    return replace(SOUND, wires=(*SOUND.wires, wire))


FAULTS: list[tuple[str, Callable[[], Drawing], str]] = [
    ("wire in dropped", lambda: without_wire(0), "leaves node 'in' in 3 pieces"),
    ("wire base dropped", lambda: without_wire(1), "leaves node 'base' in"),
    ("wire out dropped", lambda: without_wire(2), "leaves node 'out' in"),
    ("wire gnd dropped", lambda: without_wire(3), "leaves node 'gnd' in"),
    (
        "zener upside down",
        lambda: with_place(2, Place("Z", (2, 0), (2, 2.5), Side.RIGHT)),
        "terminal 1 of 'Z' \\(node 'base'\\) touches",
    ),
    (
        "source upside down",
        lambda: with_place(0, Place("V_I", (0, 0), (0, 5), Side.LEFT)),
        "terminal 1 of 'V_I' \\(node 'in'\\) touches",
    ),
    (
        "collector and emitter exchanged",
        lambda: with_place(3, PlaceDevice("Q", (4, 4), Turn.THREE_QUARTERS, Side.ABOVE, mirrored=True)),
        "terminal 1 of 'Q' \\(node 'in'\\) touches",
    ),
    ("transistor turned away", lambda: with_place(3, PlaceDevice("Q", (4, 4), Turn.NONE, Side.ABOVE)), "'in' in 2"),
    ("part left out", lambda: replace(SOUND, places=SOUND.places[:-1]), "has 'L', which the drawing does not place"),
    (
        "part too many",
        lambda: replace(SOUND, places=(*SOUND.places, Place("R_9", (9, 5), (9, 0), Side.LEFT))),
        "places 'R_9', which the netlist does not have",
    ),
    (
        "part drawn twice",
        lambda: replace(SOUND, places=(*SOUND.places, Place("R", (9, 5), (9, 0), Side.LEFT))),
        "'R' more than once",
    ),
    ("part slanted", lambda: with_place(1, Place("R", (2, 5), (3, 2.5), Side.LEFT)), "must run straight"),
    ("part too short", lambda: with_place(1, Place("R", (2, 5), (2, 4.5), Side.LEFT)), "one grid unit at least"),
    ("no room for an arrow", lambda: with_place(1, Place("R", (2, 5), (2, 4), Side.LEFT, "I_R")), "too short for"),
    ("transistor as two-terminal", lambda: with_place(3, Place("Q", (3, 5), (5, 5), Side.ABOVE)), "PlaceDevice"),
    ("wire of an unknown node", lambda: with_wire(Wire("out2", ((8, 0), (8, 1)))), "names the node 'out2'"),
    ("wire slanted", lambda: with_wire(Wire("out", ((7, 5), (8, 6)))), "is slanted"),
    ("wire of one point", lambda: with_wire(Wire("out", ((7, 5),))), "needs two points"),
    ("wire that shorts", lambda: with_wire(Wire("out", ((6.5, 5), (6.5, 0)))), "keeps these nodes apart"),
    ("wire through a symbol", lambda: with_wire(Wire("gnd", ((1, 0), (1, 1), (3, 1)))), "through the symbol of 'Z'"),
    (
        "symbols over one another",
        lambda: with_place(0, Place("V_I", (2.25, 2.5), (2.25, 0), Side.LEFT)),
        "symbols of 'V_I' and 'Z' lie over one another",
    ),
    ("mark off its node", lambda: with_mark(Terminal("out", (7, 3))), "leaves node 'out' in 2 pieces"),
    ("mark on another node", lambda: with_mark(NodeLabel("out", (3, 0), "V_X", Side.ABOVE)), "keeps these nodes apart"),
    ("arrow across its wire", lambda: with_mark(Arrow("I_X", "gnd", (3, 0), Side.ABOVE, Side.LEFT)), "does not lie"),
    ("name marked twice", lambda: with_mark(NodeLabel("out", (6, 5), "V_O", Side.ABOVE)), "marks 'V_O' more than once"),
]


@pytest.mark.parametrize("circuit_id", PROBLEMS.circuit_ids())
def test_every_circuit_is_drawn_as_its_netlist_says(circuit_id: str) -> None:
    circuit = PROBLEMS.circuit(circuit_id)
    assert check_drawing(circuit.drawing, circuit.parts) == []


def test_the_sound_drawing_has_no_fault() -> None:
    assert check_drawing(SOUND, PARTS) == []


@pytest.mark.parametrize(("fault", "drawing", "sentence"), FAULTS, ids=[fault for fault, _, _ in FAULTS])
def test_a_planted_fault_is_noticed(fault: str, drawing: Callable[[], Drawing], sentence: str) -> None:
    found = check_drawing(drawing(), PARTS)
    assert any(re.search(sentence, line) for line in found), (fault, found)


def test_every_wire_of_the_sound_drawing_matters() -> None:
    for number in range(len(SOUND.wires)):
        assert check_drawing(without_wire(number), PARTS), SOUND.wires[number]


def test_crossing_wires_are_not_joined() -> None:
    # A base wire that runs up across the rail of node `in` and ends in the open joins nothing; ending on it does.
    assert check_drawing(with_wire(Wire("base", ((2.5, 2.5), (2.5, 5.5)))), PARTS) == []
    assert check_drawing(with_wire(Wire("base", ((2.5, 2.5), (2.5, 5)))), PARTS) != []


def test_dots_stand_where_three_conductors_meet_and_nowhere_else() -> None:
    # Junctions of three get a dot, corners and ends do not (IEC 61082-1, from memory).
    assert junctions(SOUND, PARTS) == ((1, 0), (2, 0), (2, 2.5), (2, 5), (6, 0), (6, 5))


def test_a_corner_of_two_wires_takes_no_dot() -> None:
    rest, base = (*SOUND.wires[:1], *SOUND.wires[2:]), SOUND.wires[1].points
    split = replace(SOUND, wires=(*rest, Wire("base", base[:2]), Wire("base", base[1:])))
    assert junctions(split, PARTS) == junctions(SOUND, PARTS)
