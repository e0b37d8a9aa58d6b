"""Numbers read back as the symbols they stand for, and the relation behind a line of numbers found."""

from __future__ import annotations

import pytest

from tests.solution.at_hand import ground, sheet
from tests.working.trees import chain, member
from tutor.working.chain import literals_in, names_in
from tutor.working.edits import text_of
from tutor.working.follow import same_shape
from tutor.working.ground import Place
from tutor.working.symbolise import (
    MOST_FOR_ONE,
    MOST_GUESSES,
    NAMED,
    Past,
    borne_out,
    exponents_of,
    likelier_first,
    overlay_of,
    symbolised,
    unit_of,
    values_of,
    ways_to_read,
    with_one_as,
)
from tutor.working.tree import Literal, Node
from tutor.working.truth import Effort

STATE, DESIGN = "zener-state:2:1", "zener-resistor:2:1"  # 15 V, 82 Ω, 820 Ω, 11 V, I_Z = 35.4 mA
NOTHING = Past()


def read(text: str, name: str, past: Past = NOTHING) -> list[list[Node]]:
    """What each number of a member may stand for."""
    return [[tree for tree, _ in found] for _, found in ways_to_read(member(text, name), ground(name), past)]


def stands_for(text: str, name: str, past: Past = NOTHING) -> list[set[str]]:
    return [{item for tree in found for item in names_in((tree,))} for found in read(text, name, past)]


def behind(left: str, right: str, name: str, past: Past = NOTHING) -> bool:
    """Whether some relation that is true of the circuit stands behind `left = right`, a side of numbers."""
    here, tree = ground(name), member(right, name)
    ways = ways_to_read(tree, here, past)
    effort = Effort(100_000)
    return any(borne_out(member(left, name), guess, "=", here, past, effort) for guess in symbolised(tree, ways, past))


@pytest.mark.parametrize(
    ("text", "names"),
    [("15 V", {"V_I"}), ("820 Ω", {"R_L"}), ("82", {"R"}), ("35.4 mA", {"I_Z"}), ("13.4", {"I_L"}),
     ("13.6 V", {"V_TH"}), ("195 mW", {"P_R"})],
)  # fmt: skip
def test_a_number_stands_for_what_has_its_value(text: str, names: set[str]):
    """Givens and all that is true here; a bare one may lack its prefix; an index counts for nothing."""
    (found,) = stands_for(text, STATE)
    assert names <= found


def test_a_unit_tells_quantities_of_one_value_apart():
    """11 V is the zener's voltage or the output's, never a current."""
    (found,) = stands_for("11 V", STATE)
    assert found >= {"V_Z", "V_O"}
    assert all(item.startswith("V_") for item in found)


def test_a_number_near_no_value_is_a_sum_of_two():
    """4 V is V_I − V_Z; 902 Ω is R + R_L; both are tried only when no symbol fits."""
    assert any(names_in((tree,)) in (("V_R",), ("V_I", "V_Z"), ("V_I", "V_O")) for tree in read("4 V", STATE)[0])
    assert any(set(names_in((tree,))) == {"R", "R_L"} for tree in read("902 Ω", STATE)[0])


def test_a_number_that_is_nothing_known_stands_for_itself_or_for_nothing():
    """A bare one may be anything; one with a unit must be something of the circuit."""
    assert [type(tree) for tree in read("77.7", STATE)[0]] == [Literal]
    assert read("77.7 V", STATE) == [[]]
    tree = member("77.7 V/R", STATE)
    assert list(symbolised(tree, ways_to_read(tree, ground(STATE), NOTHING), NOTHING)) == []


def test_a_value_never_chosen_may_be_a_choice():
    """470 Ω while R is still to be chosen; once it is chosen it is that or nothing."""
    assert stands_for("470 Ω", DESIGN) == [{"R"}]
    here = ground(DESIGN, R=240.0)
    ways = ways_to_read(member("470 Ω", DESIGN), here, NOTHING)
    assert ways[0][1] == ()


def test_the_learners_own_values_come_first():
    """After I_Z = 43 mA a 43 is that; the last value written of a symbol counts."""
    past = Past(values={"I_Z": 0.043})
    assert stands_for("43 mA", STATE, past) == [{"I_Z"}]
    assert stands_for("43", STATE, past) == [{"I_Z"}]
    assert stands_for("43 mA", STATE) != [{"I_Z"}]


def test_a_value_of_an_expression_stands_for_it():
    """(V_I − V_Z)/2 = 2.15 V: a later 2.15 is that expression."""
    part = member("(V_I - V_Z)/2", STATE)
    past = Past(parts=((part, 2.15),))
    assert read("2.15 V", STATE, past)[0][0] is part


def test_a_bare_number_beside_units_is_likelier_itself():
    """Ripple of 2 V, 2 pulses a period: in a line with its units the bare 2 is 2; in one without it may be the 2 V."""
    past = Past(values={"V_RIP": 2.0})
    ripple = "supply-ripple:1:1"
    with_units = read("2 V × 2 × 50 Hz", ripple, past)[1]
    assert isinstance(with_units[0], Literal)
    assert ("V_RIP",) in [names_in((tree,)) for tree in with_units]
    assert names_in((read("2 × 2 × 50", ripple, past)[1][0],)) == ("V_RIP",)


def test_what_a_number_is_to_the_figure_comes_before_what_it_is_near():
    """8.425 V after V_Z0 = 8.425 V and then V_Z = 8.455 V: the first, though the other is 0.4 % off and later."""
    past = Past(values={"V_Z0": 8.425, "V_Z": 8.455})
    assert [names_in((tree,)) for tree in read("8.425 V", "zener-lab:3:6", past)[0]][:2] == [("V_Z0",), ("V_Z",)]


def test_a_least_or_greatest_equal_to_the_symbol_is_not_tried_again():
    """R_L has one value throughout: R_L_MIN and R_L_MAX would only be tried in its place."""
    assert stands_for("820 Ω", STATE) == [{"R_L"}]


def test_combinations_come_by_how_likely_they_are_together():
    """All first ones, then one second among them, the last list first; each combination once."""
    found = list(likelier_first([2, 1, 3]))
    assert found == [(0, 0, 0), (0, 0, 1), (1, 0, 0), (0, 0, 2), (1, 0, 1), (1, 0, 2)]
    assert list(likelier_first([2, 0])) == []
    assert list(likelier_first([])) == [()]


def test_guesses_are_few_and_likely_ones_first():
    """So many for a number, so many for a line."""
    tree = member(" + ".join(["11 V"] * 8), STATE)
    ways = ways_to_read(tree, ground(STATE), NOTHING)
    assert all(len(found) <= MOST_FOR_ONE for _, found in ways)
    assert len(list(symbolised(tree, ways, NOTHING))) <= MOST_GUESSES
    first = next(symbolised(member("(15 V - 11 V)/82 Ω", STATE), ways_to_read(
        member("(15 V - 11 V)/82 Ω", STATE), ground(STATE), NOTHING), NOTHING))  # fmt: skip
    assert same_shape(first.tree, member("(V_I - V_Z)/R", STATE))
    assert first.comes_to is not None and abs(first.comes_to - 4 / 82) < 1e-12


@pytest.mark.parametrize(
    ("left", "right", "true"),
    [("I_R", "(15 - 11)/82", True), ("I_R", "(15 V - 11 V)/82 Ω", True), ("I_Z", "48.8m - 13.4m", True),
     ("I_R", "(15 + 11)/82", False), ("I_R", "15/82", False), ("P_Z", "11 × 35.4m", True), ("P_Z", "11 × 13.4m", False),
     ("V_TH", "15 × 820/(82 + 820)", True), ("V_TH", "15 × 820/902", True), ("V_TH", "15 × 82/902", False),
     ("R_L", "10 × 82", False)],
)  # fmt: skip
def test_the_relation_behind_the_numbers(left: str, right: str, true: bool):
    """True whatever the numbers, each number having the value of its symbol; fitting by chance is not enough."""
    assert behind(left, right, STATE) is true


def test_a_relation_behind_the_learners_own_numbers():
    """With I_Z = 43 mA of theirs, 11 × 43m stands for V_Z I_Z; without it for nothing."""
    assert behind("P_Z", "11 × 43m", STATE, Past(values={"I_Z": 0.043}))
    assert not behind("P_Z", "11 × 43m", STATE)


def test_one_number_may_be_read_as_a_given_symbol():
    """For a datum copied wrongly: 16 taken as V_I, whatever its value."""
    tree = member("(16 V - 11 V)/82 Ω", STATE)
    number = literals_in(tree)[0]
    ways = with_one_as(ways_to_read(tree, ground(STATE), NOTHING), number, "V_I")
    assert same_shape(next(symbolised(tree, ways, NOTHING)).tree, member("(V_I - V_Z)/R", STATE))


def test_an_overlay_is_own_values_then_own_relations_then_the_truth():
    """V_O written, I_L by the learner's relation from it, R_L true."""
    world = ground(STATE).cases[0].world
    past = Past(values={"V_O": 13.6}, relations={"I_L": member("V_O/R_L", STATE)})
    have = overlay_of(past)
    assert have(world, Place(0), "V_O") == 13.6
    assert have(world, Place(0), "I_L") == 13.6 / 820
    assert have(world, Place(0), "R_L") == 820.0
    assert overlay_of(past, with_values=False)(world, Place(0), "V_O") == 11.0
    assert overlay_of(past, without="V_O")(world, Place(0), "V_O") == 11.0
    assert have(world, Place(0), "kappa") is None


def test_units_of_symbols():
    """Suffixed or not; none for what the table does not know."""
    here = ground(DESIGN)
    assert exponents_of(here, "V_I") == exponents_of(here, "V_I_MAX") == (1, 0, 0, 0)
    assert unit_of(here, "R_MIN") == "ohm"
    assert exponents_of(here, "kappa") is None and unit_of(here, "kappa") is None


def test_every_value_of_a_symbol():
    """Those of all corners and of what is asked; none of the moved worlds."""
    assert set(values_of(ground(DESIGN), "V_I")) == {21.5, 26.5}
    assert list(values_of(ground(DESIGN), "R_MAX"))
    assert list(values_of(ground(DESIGN), "kappa")) == []


def test_the_band_for_naming_a_number():
    """35.4 mA is I_Z; 36 mA is nothing."""
    assert NAMED == 0.006
    assert "I_Z" in stands_for("35.4 mA", STATE)[0]
    assert "I_Z" not in stands_for("35.8 mA", STATE)[0]
    assert text_of(member("V_I", STATE)) == "V_I" and sheet(STATE).given["V_I"] == 15.0
    assert chain("V_I = 15 V", STATE)[1][0].sign == "="
