"""States spoken of in words: the region meant, negations turned round, nothing read into words that name none."""

from __future__ import annotations

import pytest

from tests.solution.at_hand import sheet
from tutor.solution.sheet import SHORTED, UNPLUGGED
from tutor.working.hypothesis import OPPOSITE, SAME_STATE, STATES, plain_words, region_meant, states_told

SHUNT, FOLLOWER = "zener-state:2:1", "follower-state:2:1"
SAID = [
    (SHUNT, "the zener is off", "off"), (SHUNT, "zener off", "off"), (SHUNT, "the zener does not conduct", "off"),
    (SHUNT, "the zener is blocked", "off"), (SHUNT, "Zener isn't conducting", "off"), (SHUNT, "zener OFF!", "off"),
    (SHUNT, "the zener is in breakdown", "breakdown"), (SHUNT, "it conducts", "breakdown"),
    (SHUNT, "zener on", "breakdown"), (SHUNT, "the zener is not off", "breakdown"),
    (SHUNT, "the zener regulates", "breakdown"), (SHUNT, "the zener never cuts", ""), (SHUNT, "hello", ""),
    (SHUNT, "the zener is off and in breakdown", ""), (SHUNT, "", ""), (SHUNT, "the load is light", ""),
    (FOLLOWER, "zener and transistor off", "off"), (FOLLOWER, "the zener is in breakdown", "regulating"),
    (FOLLOWER, "zener in breakdown and transistor active", "regulating"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "words", "region"), SAID)
def test_the_region_meant(name: str, words: str, region: str):
    """By the words of the circuit and the usual other ones; none where no state is named."""
    assert region_meant(words, sheet(name)) == region


@pytest.mark.parametrize("words", ["the zener is off", "the zener is off and the transistor follows its base"])
def test_a_state_of_one_part_leaves_the_other_as_it_is(words: str):
    """Of the zener alone nothing is said of the transistor: it is active still."""
    assert region_meant(words, sheet(FOLLOWER)) == "starved"


@pytest.mark.parametrize("name", [SHUNT, "zener-state:1:1", FOLLOWER, "follower-design:2:1"])
def test_each_region_is_meant_by_its_own_words(name: str):
    """What the circuit says of a region names that region."""
    told = sheet(name)
    assert region_meant(told.region_words, told) == told.region
    for branch in told.branches:
        assert region_meant(branch.words, told) == branch.region


def test_a_circuit_of_one_state_has_none_to_suppose():
    """The raw supply as a source is always in the same."""
    assert region_meant("the zener is off", sheet("supply-source-model:1:1")) == ""


def test_words_without_marks():
    """Small letters, apostrophes kept."""
    assert plain_words("The zener ISN'T on: 5 mA!") == ["the", "zener", "isn't", "on", "ma"]


def test_what_is_told_of_which_part():
    """A negation turns the next state round and no further one; a part's name holds until a state is said of it."""
    assert states_told("it isn't conducting, it is off") == [("", "off"), ("", "off")]
    assert states_told("not on, not off") == [("", "off"), ("", "breakdown")]
    assert states_told("zener and transistor off") == [("zener", "off"), ("transistor", "off")]
    assert states_told("the zener does not conduct, the transistor follows") == [
        ("zener", "off"), ("transistor", "active"),
    ]  # fmt: skip
    assert set(SAME_STATE.values()) | set(OPPOSITE) <= set(STATES)


@pytest.mark.parametrize("words", [
    "the output is shorted", "shorted output", "a short circuit at the output", "the load is short-circuited",
    "output terminals shorted",
])  # fmt: skip
def test_a_shorted_output_is_a_state(words: str):
    """In the words of the trade; a shorted zener is another thing, and not shorted is none."""
    assert region_meant(words, sheet(SHUNT)) == SHORTED
    assert region_meant("the zener is shorted", sheet(SHUNT)) == ""
    assert region_meant("the output is not shorted", sheet(SHUNT)) == ""


@pytest.mark.parametrize("words", [
    "the resistor is shorted", "a short across the resistor", "the resistor is open", "the winding is disconnected",
    "base and emitter are shorted", "the resistor does not conduct",
])  # fmt: skip
def test_another_circuit_is_no_state_of_this_one(words: str):
    """A part that has no states of its own: what follows is not held against the learner. Named beside the zener it
    is a place like any other, and what it serves may be said to work."""
    assert region_meant(words, sheet(SHUNT)) == "" == region_meant(words, sheet("zener-resistor:2:5"))
    assert region_meant("the zener behind the resistor is off", sheet(SHUNT)) == "off"
    assert region_meant("the output behind the resistor is shorted", sheet(SHUNT)) == SHORTED
    assert region_meant("with this resistor it regulates", sheet(SHUNT)) == "breakdown"


@pytest.mark.parametrize("words", [
    "no load", "the load is unplugged", "the load is off", "without load", "with the load removed",
    "the output is open", "the load is disconnected", "unloaded",
])  # fmt: skip
def test_no_load_is_a_state(words: str):
    """In the words of the trade."""
    assert region_meant(words, sheet("zener-resistor:2:5")) == UNPLUGGED
    assert region_meant("the zener is removed", sheet("zener-resistor:2:5")) == "off"
