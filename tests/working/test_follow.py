"""Follow-through: what is right with the learner's own earlier values and relations, and what is not."""

from __future__ import annotations

import pytest

from tests.solution.at_hand import ground
from tests.working.trees import chain, member
from tutor.working.chain import TriedChain
from tutor.working.follow import follows, rests_on_wrong, same_shape
from tutor.working.symbolise import Past

STATE = "zener-state:2:1"  # 15 V, 82 Ω, 820 Ω, 11 V: I_R = 48.8 mA, I_L = 13.4 mA, I_Z = 35.4 mA
SUM = Past(values={"I_R": 0.0488, "I_Z": 0.0622}, wrong=(0.0622,))
OWN_RELATION = Past(
    values={"I_Z": 0.0622}, relations={"I_Z": member("I_R + I_L", STATE)}, wrong=(0.0622,)
)  # fmt: skip

# V_Z wrong and I_Z right, rounded from 35.366 mA: 10 V × 35.366 mA = 353.66 mW is what a calculator goes on with.
UNROUNDED = Past(values={"V_Z": 10.0, "I_Z": 0.035}, wrong=(10.0,))


def question(text: str) -> TriedChain:
    members, relations = chain(text, STATE)
    return TriedChain(members, relations)


FOLLOWS = [
    (SUM, "P_Z = V_Z I_Z = 684 mW", True), (SUM, "P_Z = 684 mW", False), (SUM, "P_Z = 11 V × 62.2 mA = 684 mW", True),
    (SUM, "P_Z = 11 × 62.2 = 684 mW", True), (SUM, "P_Z = 11 V × 62.2 mA = 700 mW", False),
    (SUM, "P_Z = V_I I_Z = 933 mW", False), (SUM, "P_Z = 15 V × 62.2 mA = 933 mW", False), (SUM, "I_Z = 62.2 mA", True),
    (SUM, "V_O = 12 V", False), (SUM, "I_L = I_R - I_Z = -13.4 mA", True), (SUM, "I_Z > I_R", True),
    (SUM, "V_Z > V_I", False), (OWN_RELATION, "P_Z = V_Z (I_R + I_L)", True), (OWN_RELATION, "P_Z = V_Z I_R", False),
    (OWN_RELATION, "I_Z = 48.8 mA + 13.4 mA = 62.2 mA", True), (OWN_RELATION, "P_Z = V_Z (I_R + I_L) = 684 mW", True),
    (UNROUNDED, "P_Z = V_Z I_Z = 350 mW", True), (UNROUNDED, "P_Z = V_Z I_Z = 356 mW", True),
    (UNROUNDED, "P_Z = V_Z I_Z = 358 mW", False),
    (Past(), "P_Z = V_Z I_Z = 684 mW", False), (Past(), "P_Z = V_Z (I_R + I_L)", False),
]  # fmt: skip


@pytest.mark.parametrize(("past", "text", "expected"), FOLLOWS)
def test_a_chain_follows_from_the_learners_own(past: Past, text: str, expected: bool):
    """Relations must be true or their own, numbers right with their values; a wrong step anew does not follow."""
    assert (follows(question(text), ground(STATE), past, ()) is not None) is expected


def test_a_line_that_uses_a_wrong_value_rests_on_it():
    """Of numbers alone: among what is worked with, not among what comes out."""
    assert rests_on_wrong(question("11 V × 62.2 mA = 684 mW"), SUM)
    assert not rests_on_wrong(question("11 V × 35.4 mA = 389 mW"), SUM)
    assert not rests_on_wrong(question("48.8 mA + 13.4 mA = 62.2 mA"), SUM)
    assert not rests_on_wrong(question("11 V × 62.2 mA = 684 mW"), Past())


@pytest.mark.parametrize(
    ("first", "second", "alike"),
    [("V_I - V_Z", "Vi − v_z", True), ("V_I/R", "V_I/R_L", False), ("2 R", "2 × R", True), ("2 R", "3 R", False),
     ("V_I - V_Z", "V_Z - V_I", False), ("(V_I)", "V_I", True), ("5 mA", "5m", False), ("R || R_L", "R ∥ R_L", True),
     ("V_I + V_Z", "V_I + V_Z + V_O", False), ("V_I", "V_I I_Z", False)],
)  # fmt: skip
def test_trees_alike_but_for_their_columns(first: str, second: str, alike: bool):
    """The same symbols, numbers and shape, wherever they stand."""
    assert same_shape(member(first, STATE), member(second, STATE)) is alike
