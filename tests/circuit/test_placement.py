"""Placing parts on the grid: where terminals, bodies and arrows come to lie."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tutor.circuit.component import PartKind
from tutor.circuit.components import COMPONENTS
from tutor.circuit.placement import (
    Lead,
    Place,
    PlaceDevice,
    Side,
    Turn,
    arrow_point,
    direction,
    is_device,
    outline,
)
from tutor.errors import BadCircuit


@dataclass(frozen=True)
class Part:
    """The least a drawing needs to know of a part."""

    name: str
    kind: object
    nodes: tuple[str, ...]


NPN = Part("Q", PartKind.NPN, ("c", "b", "e"))

# Unturned, an NPN transistor stands with its base at the left, collector above, emitter below (IEC 60617, from memory).
# The others follow by turning the page.
ORIENTATIONS = [
    (Turn.NONE, False, ((3, 5), (2, 4), (3, 3))),
    (Turn.NONE, True, ((1, 5), (2, 4), (1, 3))),
    (Turn.QUARTER, False, ((1, 5), (2, 4), (3, 5))),
    (Turn.HALF, False, ((1, 3), (2, 4), (1, 5))),
    (Turn.THREE_QUARTERS, False, ((3, 3), (2, 4), (1, 3))),
]


@pytest.mark.parametrize(("turn", "mirrored", "terminals"), ORIENTATIONS)
def test_a_device_turns_about_its_base(turn: Turn, mirrored: bool, terminals: tuple[tuple[int, int], ...]) -> None:
    shape = outline(PlaceDevice("Q", (2, 4), turn, Side.ABOVE, mirrored), NPN)
    assert shape.terminals == terminals
    for terminal, root in zip(shape.terminals, shape.roots, strict=True):
        assert direction(terminal, root) is not None  # every lead runs along the grid
        assert shape.body.left <= root[0] <= shape.body.right
        assert shape.body.bottom <= root[1] <= shape.body.top


def test_a_two_terminal_part_keeps_its_netlist_order() -> None:
    upright = outline(Place("Z", (3, 4), (3, 0), Side.LEFT), Part("Z", "zener", ("out", "gnd")))
    assert upright.terminals == ((3, 4), (3, 0))
    assert upright.roots == ((3, 2.5), (3, 1.5))
    assert (upright.body.bottom, upright.body.top) == (1.5, 2.5)


@pytest.mark.parametrize(
    ("start", "end", "lead", "point"),
    [
        ((0, 4), (3, 4), Lead.START, (0.5, 4)),
        ((0, 4), (3, 4), Lead.END, (2.5, 4)),
        ((3, 4), (3, 0), Lead.START, (3, 3.25)),
        ((3, 0), (3, 4), Lead.START, (3, 0.75)),
    ],
)
def test_a_current_arrow_sits_halfway_along_its_lead(
    start: tuple[int, int], end: tuple[int, int], lead: Lead, point: tuple[float, float]
) -> None:
    assert arrow_point(Place("R", start, end, Side.LEFT, "I_R", lead)) == point


def test_a_slanted_part_is_refused() -> None:
    with pytest.raises(BadCircuit, match="'R' neither across nor up and down"):
        outline(Place("R", (0, 0), (3, 1), Side.LEFT), Part("R", "resistor", ("a", "b")))


def test_a_kind_without_an_outline_is_refused() -> None:
    with pytest.raises(BadCircuit, match="kind 'valve' has no outline"):
        is_device(Part("V1", "valve", ("a", "b")))


@pytest.mark.parametrize("kind", list(PartKind), ids=lambda kind: kind.value)
def test_every_kind_of_the_component_table_has_an_outline(kind: PartKind) -> None:
    terminals = len(COMPONENTS[kind].terminals)
    assert is_device(Part("X", kind, ())) == (terminals > 2)
