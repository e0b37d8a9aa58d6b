"""Directions worked on paper, one problem or more of each level, and beliefs that lead astray.

Sources: Ohm's law, Kirchhoff's two laws, power as voltage across times current through; the zener as a straight line;
a fixed V_BE and a gain, as in Sedra and Smith, Microelectronic Circuits.
"""

from __future__ import annotations

from functools import cache

import pytest

import tutor
from tutor.across.bare_circuit import bare_recipe
from tutor.across.directions import Directions, directions, sensible_values
from tutor.across.family import Posed
from tutor.across.named import across_family, posed
from tutor.across.stated import WAYS
from tutor.generate.judging import Outcome, judge
from tutor.solution.desk import our_desk

# Circuit, state, zener leaning, what moves and which way: written down before the program was asked, with the reason.
ON_PAPER = {
    # Straight zener: the output is the zener's, R has the same two ends, so the zener gets what the load leaves.
    ("zener-shunt", "breakdown", False, "I_L", -1): {"V_O": "stays", "P_O": "falls", "I_Z": "rises", "P_I": "stays"},
    # Less R between two fixed voltages: more current, and all of the surplus is the zener's, since the base takes what
    # the load and the gains say.
    ("darlington", "regulating", False, "R", -1): {
        "V_B_1": "stays",
        "R_L": "stays",
        "I_Z": "rises",
        "P_Z": "rises",
        "P_I": "rises",
    },
    # A fixed regulator: less load, same output; heat is headroom times current and the headroom stays.
    ("three-terminal-fixed", "regulating", False, "I_L", -1): {
        "V_O": "stays",
        "R_L": "rises",
        "P_O": "falls",
        "P_D": "falls",
        "V_IO": "stays",
    },
    # More gain, less base current, more for the leaning zener, whose voltage and so the output rise by r_z dI_Z. With
    # d = I_L/(h_FE + 1)^2: dP_Q = d (V_CE - I_C r_z) = d (8 V - 1.4 V) > 0; P_O gains 1.4 V of some 2 W for each
    # ampere, P_I 18 V of some 4 W: the efficiency falls.
    ("follower", "regulating", True, "h_FE", 1): {
        "I_B": "falls",
        "I_Z": "rises",
        "V_B": "rises",
        "P_O": "rises",
        "P_Q": "rises",
        "eta": "falls",
    },
    # Dropped out: output = line less the drop-out voltage, so all but that voltage goes down with the line.
    ("three-terminal-adjustable", "dropout", False, "V_I", -1): {
        "V_O": "falls",
        "V_IO": "stays",
        "I_DIV": "falls",
        "I_REG": "falls",
        "P_I": "falls",
        "P_D": "falls",
    },
}


@pytest.mark.parametrize("case", ON_PAPER, ids=lambda case: f"{case[0]}-{case[3]}")
def test_directions_agree_with_paper(case: tuple[str, str, bool, str, int]) -> None:
    name, state, leaning, mover, moved = case
    desk = our_desk()
    circuit = desk.circuit(name)
    region = circuit.region(state)
    recipe = bare_recipe(desk, circuit, region, leaning=leaning)
    values = sensible_values(circuit, region, recipe)
    assert values is not None
    found = directions(recipe, values, mover)
    assert {key: WAYS[moved * found[key]] for key in ON_PAPER[case]} == ON_PAPER[case]


@cache
def shunt_unloaded() -> Posed:
    """The first problem in which the load of a zener shunt regulator falls and its zener current is asked for."""
    for number in range(1, 400):
        item = posed(our_desk(), f"direction-of-change:1:{number}")
        keys = {point.key for point in item.problem.waypoints}
        row = item.problem.table[0]
        falls = (item.problem.circuit, row.symbol, row.value) == ("zener-shunt", "I_L", "falls a little")
        if falls and keys >= {"I_Z", "P_I", "V_O"}:
            return item
    raise AssertionError("no such problem")


def test_every_circuit_is_asked_about() -> None:
    """Any circuit can be asked which way it goes, and each is."""
    levels = across_family(our_desk().folder, "direction-of-change").levels
    asked = {circuit for level in levels if isinstance(level, Directions) for circuit in level.circuits}
    assert asked == set(our_desk().folder.circuit_ids())


def test_a_known_belief_is_named_where_it_leads_astray() -> None:
    """The load falls; the belief that what is taken less in one branch leaves the zener as it was."""
    point = next(item for item in shunt_unloaded().problem.waypoints if item.key == "I_Z")
    said = judge(point, "stays")
    assert (said.outcome, said.slip) == (Outcome.SLIP, "only-the-moved-part-I_Z-down") and said.why and said.hint
    other = judge(point, "falls")
    assert (other.outcome, other.slip) == (Outcome.WRONG, "") and "I_Z = " in other.hint


@pytest.mark.parametrize(
    ("line", "finding"),
    [
        ("V_O stays", "holds"),
        ("V_O: unchanged", "holds"),
        ("vo does not change", "holds"),
        ("I_Z = rises", "holds"),
        ("the zener current I_Z goes up", "holds"),
        ("P_I falls", "fails"),
        ("I_Z stays, V_O falls", "unread"),
        ("I_Z: sideways", "unread"),
        ("= + ; :", "unread"),
    ],
)
def test_an_answer_in_words_is_read_however_it_is_written(line: str, finding: str) -> None:
    working = tutor.check(line, problem=shunt_unloaded().problem.name)
    assert [item.code.value for item in working.findings] == [finding]
    assert working.findings[0].why or finding == "holds"


def test_words_are_marked_and_the_last_on_a_quantity_counts() -> None:
    others = [item for item in shunt_unloaded().problem.waypoints if item.key not in ("V_O", "I_Z", "P_I")]
    text = "V_O falls\nI_Z rises\n\nV_O stays\nP_I falls\n" + "\n".join(f"{item.key} {item.state}" for item in others)
    working = tutor.check(text, problem=shunt_unloaded().problem.name)
    assert working.marks is not None and (working.marks.got, working.marks.of) == (3, 4)
    assert working.first_wrong == 1
    lost = [entry for entry in working.marks.ledger if not entry.got]
    assert [entry.waypoint for entry in lost] == ["P_I"] and "supply believed to feel the load" in lost[0].why


def test_an_order_is_read_with_commas_or_spaces() -> None:
    point = posed(our_desk(), "chain-of-cause:1:4").problem.waypoints[0]
    letters = point.state.split("; ")
    for text in (", ".join(letters), " ".join(letters), "; ".join(letters).lower()):
        working = tutor.check(f"order: {text}", problem="chain-of-cause:1:4")
        assert working.marks is not None and working.marks.got == 1, text
    assert tutor.check(" ".join(letters), problem="chain-of-cause:1:4").marks.got == 1  # type: ignore[union-attr]
