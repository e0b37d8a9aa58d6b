"""The way round a regulator's loop, read off its netlist: against loops told by hand and against the derived signs."""

from __future__ import annotations

import pytest

from tutor.across.bare_circuit import bare_recipe
from tutor.across.causes import Causes, story_of
from tutor.across.directions import directions, typical_values
from tutor.across.loop import loops, way_to_output
from tutor.across.named import across_family, posed
from tutor.generate.judging import Outcome, judge
from tutor.quantities.symbols import is_symbol
from tutor.solution.desk import our_desk

# Told as the US Navy's training series does (NEETS module 7, shunt and series regulators, from memory): what falls,
# what then falls or rises, until the output is lifted again.
BY_HAND = {
    "zener-shunt": "I_Z- V_O+",
    "follower": "I_E+ V_O+",
    "darlington": "I_E_2+ V_O+",
    "boosted-shunt": "I_Z- V_B- I_C- V_O+",
    "reference-shunt": "V_TAP- I_K- V_O+",
    "opamp-shunt": "V_TAP- V_OA- I_C- V_O+",
    "feedback-pair-unfed": "V_TAP- I_C_2- V_B+ I_E_1+ V_O+",
    "opamp-series-reference": "V_TAP- V_OA+ I_E+ V_O+",
    "three-terminal-adjustable": "I_REG+ V_O+",
}
PLACES = [
    (circuit, step)
    for family in ("chain-of-cause",)
    for level in across_family(our_desk().folder, family).levels
    if isinstance(level, Causes)
    for circuit in level.circuits
    for step in level.steps
]


@pytest.mark.parametrize("name", BY_HAND)
def test_the_loop_as_told_by_hand(name: str) -> None:
    """Where the output sags, each thing on the way goes as the hand-told loop says."""
    circuit = our_desk().circuit(name)
    sign, told = -1, []
    for item in loops(circuit, circuit.regions[0])[0]:
        sign *= item.sign
        told.append(f"{item.effect}{'+' if sign > 0 else '-'}")
    assert " ".join(told) == BY_HAND[name]


def test_a_divider_on_the_wrong_input_leaves_no_opposing_loop() -> None:
    """The inputs of the op-amp exchanged (slip F06): the loop that passes it no longer opposes."""
    circuit = our_desk().circuit("opamp-series-reference")
    found = loops(circuit, circuit.regions[0])
    assert any(item.way == "invert" for item in found[0])
    swapped = [
        part if part.name != found[0][1].part else part.__class__(
            **{**part.__dict__, "nodes": (part.nodes[1], part.nodes[0], *part.nodes[2:])}
        )
        for part in circuit.parts
    ]  # fmt: skip
    turned = circuit.__class__(**{**circuit.__dict__, "parts": tuple(swapped)})
    assert not any(item.way in ("invert", "follow") for way in loops(turned, turned.regions[0]) for item in way)


@pytest.mark.parametrize(("name", "step"), PLACES)
def test_a_story_agrees_with_the_derived_signs(name: str, step: str) -> None:
    """What settles at last never contradicts the story: each thing ends as it went, or where it was (in models whose
    drive has shrunk to nothing). Two worlds of reasoning, one from characteristics, the other from solved laws."""
    desk = our_desk()
    circuit = desk.circuit(name)
    recipe = bare_recipe(desk, circuit, circuit.regions[0])
    ways = directions(recipe, typical_values(circuit, recipe), step)
    told = 0
    for up in (1, -1):
        story = story_of(circuit, recipe, step, up, 4)
        assert story is not None or (step == "V_I" and not way_to_output(circuit, circuit.regions[0], step))
        for item in story or ():
            if item.thing in ways and is_symbol(item.thing) and item.way and "brought back" not in item.words:
                assert ways[item.thing] * up in (item.way, 0), item
                told += 1
    assert told >= 4 or story is None


def test_every_order_that_leans_rightly_is_right_and_a_turned_one_is_not() -> None:
    """By hand on one problem: load, output, current, then power and settling in either order."""
    item = posed(our_desk(), "chain-of-cause:1:4")
    point = item.problem.waypoints[0]
    load, begins, current, power, settles = (
        next(line.label for line in item.lines if words in line.words)
        for words in ("The load", "begins", "$I_Z$", "$P_Z$", "settles")
    )
    for right in ([load, begins, current, power, settles], [load, begins, current, settles, power]):
        assert judge(point, "; ".join(right)).outcome is Outcome.RIGHT
    wrong = judge(point, "; ".join([load, current, begins, power, settles]))
    assert wrong.outcome is Outcome.WRONG and "3 of 5" in wrong.sentence
    assert judge(point, "A; B").outcome is Outcome.UNREAD
