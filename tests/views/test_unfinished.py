"""A drawing with parts left out shows the rest as it was, and no wire that leads to nothing."""

from __future__ import annotations

import pytest

from tutor.across.named import posed
from tutor.circuit.wiring import check_drawing
from tutor.solution.desk import our_desk
from tutor.views.unfinished import drawn_without


def cases() -> list[tuple[str, tuple[str, ...]]]:
    """The circuits and parts that the first problems of complete-the-circuit leave open."""
    found = []
    for level in (1, 2, 3):
        for number in range(1, 31):
            item = posed(our_desk(), f"complete-the-circuit:{level}:{number}")
            problem = item.problem
            name = f"{problem.circuit}-{problem.form}" if problem.form else problem.circuit
            found.append((name, tuple(sorted(item.withheld))))
    return sorted(set(found))


@pytest.mark.parametrize(("name", "withheld"), cases())
def test_what_is_left_is_drawn_as_it_was(name: str, withheld: tuple[str, ...]) -> None:
    whole = our_desk().circuit(name)
    drawn = drawn_without(whole, withheld)
    left = [part for part in whole.parts if part.name not in withheld]
    assert list(drawn.parts) == left and withheld
    assert {place.part for place in drawn.drawing.places} == {part.name for part in left}
    assert check_drawing(drawn.drawing, drawn.parts) == []


def test_nothing_left_out_is_the_circuit_itself() -> None:
    circuit = our_desk().circuit("follower")
    assert drawn_without(circuit, ()) is circuit


def test_a_wire_to_what_is_gone_goes_with_it() -> None:
    """In the op-amp regulator nothing hangs on the amplifier's input leads, and no mark is left in the air."""
    circuit = our_desk().circuit("opamp-series-reference")
    drawn = drawn_without(circuit, ("U",))
    assert {wire.node for wire in drawn.drawing.wires} < {wire.node for wire in circuit.drawing.wires}
    assert "drive" not in {wire.node for wire in drawn.drawing.wires}
