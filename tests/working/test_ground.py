"""The ground a line stands on: places, changes between them, cases with and without the learner's choices."""

from __future__ import annotations

import math

import pytest

from tests.solution.at_hand import LEVELS, around, ground, sheet
from tutor.working.ground import (
    MOST_ACCEPTED,
    MOST_PAIRS,
    MOST_WORLDS,
    SHIFT,
    Ground,
    Place,
    distinct,
    is_change,
    places_in,
    value_in,
)
from tutor.working.world import Situation, World

WORLD = World(
    (Situation("low", {"V_I": 10.0, "V_O": 5.0}), Situation("high", {"V_I": 14.0, "V_O": 5.2}),
     Situation("V_I moved", {"V_I": 10.3, "V_O": 5.01})),
    ({"V_I_MAX": 14.0, "DI_L": 0.01}, {"V_I_MAX": 15.0}), {}, 1,
)  # fmt: skip
DESIGN, STATE = "zener-resistor:2:1", "zener-state:2:1"


@pytest.mark.parametrize(("name", "change"), [("DV_O", True), ("DI_L", True), ("V_O", False), ("x", False)])
def test_names_of_changes(name: str, change: bool):
    """ΔV_O is one; a symbol that is none of the table is not."""
    assert is_change(name) is change


def test_a_line_without_changes_stands_at_one_situation():
    """Every situation under every view; those that are there for changes alone are left out."""
    places = list(places_in(WORLD, ["V_I", "V_O"]))
    assert len(places) == 4
    assert {item.situation for item in places} == {0, 1}
    assert all(item.other == -1 for item in places)


def test_a_line_with_a_change_stands_at_two():
    """From the first to the moved one, and between the others either way, as differences and as sizes."""
    places = [item for item in places_in(WORLD, ["DV_O"]) if item.other >= 0]
    assert [(item.situation, item.other, item.sizes) for item in places] == [
        (0, 2, False), (0, 2, True), (0, 1, False), (0, 1, True), (1, 0, False), (1, 0, True),
    ]  # fmt: skip
    assert len(list(places_in(around("zener-slope:3:1").near[0], ["DV_O"]))) <= 2 * MOST_PAIRS + 4 * 30


def test_values_at_a_place():
    """Plain symbols of the situation, fixed names of the view, changes from one situation to the other."""
    plain, down, size = Place(0), Place(1, 0), Place(1, 0, 0, True)
    assert value_in(WORLD, plain, "V_I") == 10.0
    assert value_in(WORLD, plain, "V_I_MAX") == 14.0
    assert value_in(WORLD, Place(0, -1, 1), "V_I_MAX") == 15.0
    assert value_in(WORLD, plain, "DV_O") is None and value_in(WORLD, plain, "R") is None
    assert math.isclose(value_in(WORLD, down, "DV_O") or 0.0, -0.2)
    assert math.isclose(value_in(WORLD, size, "DV_O") or 0.0, 0.2)
    assert value_in(WORLD, down, "DI_L") == 0.01, "a given change stands before a difference"
    assert value_in(WORLD, down, "DR") is None


def test_places_alike_are_tried_once():
    """Two places with the same values of the names are one; a place with an unknown is none."""
    world = World((Situation("", {"V_I": 10.0, "R": 1.0}), Situation("", {"V_I": 10.0, "R": 2.0})), ({},), {})

    def value_of(place: Place, name: str) -> float | None:
        return value_in(world, place, name)

    assert len(distinct(places_in(world, ["V_I"]), ["V_I"], value_of)) == 1
    assert len(distinct(places_in(world, ["R"]), ["R"], value_of)) == 2
    assert distinct(places_in(world, ["V_O"]), ["V_O"], value_of) == []


def test_shifted_situations_move_one_base_each():
    """At a world's end: the first situation with one base moved by a small share, and what follows from it."""
    for world in (*around(STATE).near, *around(STATE).generic):
        first = world.situations[0].values
        moved = world.situations[len(world.situations) - world.moved :]
        known = set(sheet(STATE).recipe.known)
        for item in moved:
            name = item.words.removesuffix(" moved")
            assert math.isclose(item.values[name], first[name] * SHIFT)
            assert all(item.values[other] == first[other] for other in known - {name} if other in first)
        assert world.moved > 1


def test_near_and_generic_worlds():
    """As many as are tried, each a world of other numbers."""
    for name in (DESIGN, STATE):
        near, generic = around(name).near, around(name).generic
        assert 2 <= len(near) <= MOST_WORLDS == len(generic)
        values = [world.situations[0].values["V_Z"] for world in (*near, *generic)]
        assert len(set(values)) == len(values)
    assert around(STATE).near is around(STATE).near, "worked out once"


def test_without_choices_the_first_case_leaves_them_open():
    """The problem as given; then with the value that the model takes, which the case says."""
    cases = ground(DESIGN).cases
    assert [case.taken for case in cases] == [False, False]
    assert "R" not in cases[0].world.situations[0].values
    (model,) = [item.model for item in sheet(DESIGN).choices if item.key == "R"]
    assert cases[1].world.situations[0].values["R"] == model
    assert cases[1].words.startswith("with R = ")


def test_a_choice_made_is_a_case_of_its_own():
    """The learner's value stands in their case and in all supposed ones; without choices nothing is supposed."""
    here = ground(DESIGN, R=240.0)
    assert [case.taken for case in here.cases] == [False, True, False]
    assert here.cases[1].world.situations[0].values["R"] == 240.0
    assert here.cases[2].world.situations[0].values["R"] == 240.0
    assert "R =" not in here.cases[2].words
    both = Ground(here.around, {"R": 240.0, "P_RM": 2.0})
    assert [case.taken for case in both.cases] == [False, True]
    assert both.around is here.around
    assert len(ground(STATE).cases) == 1


def test_rarer_cases_are_the_other_values_that_would_do():
    """One each, at most so many; none once the choice is made."""
    (choice,) = [item for item in sheet(DESIGN).choices if item.key == "R"]
    rarer = tuple(ground(DESIGN).rarer_cases())
    found = [case.world.situations[0].values["R"] for case in rarer]
    assert found == [value for value in choice.accepted[-MOST_ACCEPTED:] if value != choice.model]
    assert found and all(case.words for case in rarer)
    assert tuple(ground(DESIGN, R=240.0).rarer_cases()) == ()
    assert tuple(ground(STATE).rarer_cases()) == ()


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_what_is_not_felt_is_the_same_whatever_is_chosen(family: str, level: int):
    """The symbols said not to feel a choice have the same values in the further cases, bit for bit.

    At the same corners: which corner is the worst may change with a choice, as with a divider that no supply serves.
    """
    here = ground(f"{family}:{level}:1")
    for choice in here.sheet.choices:
        others = [item for item in here.rarer_cases() if choice.series]
        own = here.cases[-1].world
        names = {name for item in own.situations for name in item.values} | set(own.views[0])
        idle = [name for name in sorted(names) if not any(here.around.feels([name], item.key)
                                                          for item in here.sheet.choices)]  # fmt: skip
        assert not any(name == choice.key for name in idle)
        for other in others:
            pairs = list(zip(own.situations, other.world.situations, strict=True))
            alike = [(one, two) for one, two in pairs if one.words == two.words]
            assert len(alike) > len(pairs) / 2
            for name in idle:
                assert all(one.values.get(name) == two.values.get(name) for one, two in alike), (name, other.words)
            for name in idle:
                assert [one.get(name) for one in own.views] == [two.get(name) for two in other.world.views], name
