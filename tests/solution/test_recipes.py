"""Recipes carried out: in the world of every problem stand the answers of its solution, and every law is kept."""

from __future__ import annotations

import math

import pytest

from tests.solution.at_hand import LEVELS, batch, broken, laws_for
from tutor.circuit.circuit import LoadModel
from tutor.generate.problem import WaypointKind
from tutor.laws.closed_form import parameters
from tutor.quantities.expression import symbols_of
from tutor.solution.desk import our_desk
from tutor.solution.recipes import generic_recipe
from tutor.solution.sheet import SHORTED, UNPLUGGED, Recipe, Sheet
from tutor.working.world import World, expand

NUMBERS = 8
ANSWER = 1e-9  # of a value: two ways of working out the same
# What a region fixes: where it is given, supposing that region contradicts the statement and no law can be kept.
FIXED = {
    ("zener-shunt", "off"): {"I_Z", "P_Z"},
    ("follower", "off"): {"I_Z", "I_L"},
    ("follower", "starved"): {"I_Z"},
    ("boosted-shunt", "off"): {"I_RBE"},
    ("foldback", "holding"): {"V_O"},
    ("heat-path-regulator", "dropout"): {"V_O"},
    ("feedback-pair-unfed", "dropout"): {"V_O"},
    ("feedback-pair-fed", "dropout"): {"V_O"},
    ("feedback-pair-fed", "starved"): {"V_O"},
    ("heat-path-raw-supply", "dropout"): {"V_O"},
    ("whole-supply-three-terminal", "dropout"): {"V_O"},
}


def own_world(sheet: Sheet) -> World:
    """The world of a problem's own numbers with the model's choices."""
    return expand(sheet.recipe, with_model(sheet), sheet.ends)


def with_model(sheet: Sheet) -> dict[str, float]:
    """A problem's own numbers and the model's choices."""
    return {**sheet.env, **{item.key: item.model for item in sheet.choices}}


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_answer_stands_in_the_expanded_world(family: str, level: int):
    """Each waypoint with a value, of the first numbers, under its own key among what is asked."""
    for item, sheet in batch(family, level, NUMBERS):
        view = own_world(sheet).views[0]
        answers = [point for point in item.problem.waypoints if point.answer is not None]
        assert answers
        for point in answers:
            assert math.isclose(view[point.key], point.answer.value, rel_tol=ANSWER), (item.problem.name, point.key)
        assert {point.key for point in item.problem.waypoints} == set(sheet.asked)
        assert all(point.key in view for point in item.problem.waypoints if point.kind is not WaypointKind.STATE), (
            item.problem.name
        )


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_situation_keeps_every_law(family: str, level: int):
    """The main corners of each problem's own world, and the givens unchanged in the fixed names."""
    looked_at = 0
    for item, sheet in batch(family, level, NUMBERS):
        world = own_world(sheet)
        # The further looks, at the part as marked, have the corner's values beside it: no law is kept there.
        looks = world.situations[: len(world.situations) - world.marked]
        last = len(looks) - len(sheet.recipe.readings)
        corners = looks[: last - len(sheet.recipe.asks)]
        # A reading is an operating point of the same circuit, its load told by voltage and current or by R_L.
        for situation in (*corners, *looks[last:]):
            wrong, seen = broken(laws_for(sheet, sheet.recipe), situation.values)
            assert wrong == [], (item.problem.name, situation.words)
            looked_at += seen
        for view in world.views:
            assert all(view[name] == value for name, value in sheet.given.items()), item.problem.name
    # Slopes and changes alone tell of no operating point: no law has all its quantities there.
    assert looked_at >= NUMBERS or (family, level) == ("disturbance-budget", 1)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_other_conventions_and_hypotheses_have_worlds_of_their_own(family: str, level: int):
    """Each expands at the problem's numbers, in its own region; where a slope or base current differs, so does it."""
    for item, sheet in batch(family, level, 3):
        env = with_model(sheet)
        own = own_world(sheet)
        for convention in sheet.conventions:
            assert convention.recipe.region == sheet.recipe.region
            world = expand(convention.recipe, env, sheet.ends)
            assert world.situations, item.problem.name
            # What is given is what it is by any convention.
            watched = "" if convention.watches in sheet.given else convention.watches
            if watched and any(item.values.get(watched) for item in own.situations):
                pairs = zip(own.situations, world.situations, strict=False)
                told = [[one.values.get(watched) for one in pair] for pair in pairs]
                # Not at every corner: with no load there is no base current to leave out.
                assert any(here != there for here, there in told), (item.problem.name, convention.value)
        for branch in sheet.branches:
            assert branch.region != sheet.region
            # Another load is supposed in a region of the circuit; any other branch is a region of its own.
            assert branch.recipe.region == branch.region or (branch.region in (SHORTED, UNPLUGGED) and branch.sets)
            if FIXED.get((sheet.circuit, branch.region), set()) & set(branch.recipe.known):
                continue
            values = expand(branch.recipe, {**env, **branch.sets}, sheet.ends).situations[0].values
            assert all(values[name] == value for name, value in branch.sets.items())
            wrong, seen = broken(laws_for(sheet, branch.recipe), values)
            assert wrong == [], (item.problem.name, branch.region)
            # An output that follows the line says nothing where the line is what is asked for.
            assert seen or (branch.region == "dropout" and "V_I" not in branch.recipe.known), branch.region


def needs_of(recipe: Recipe) -> set[str]:
    """Every key that a recipe says it reads from a world's env."""
    names = {*recipe.known, *(f"{base}_{end}" for base in recipe.ranges for end in ("MIN", "MAX"))}
    names |= {key for _, key in recipe.tolerances}
    return names | {name for ask in recipe.asks for _, expr in ask.inputs for name in symbols_of(expr)}


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_recipe_says_what_it_needs(family: str, level: int):
    """Without the other keys the world is the same, and each world's env has those that are read."""
    _, sheet = batch(family, level, 1)[0]
    needs, env = needs_of(sheet.recipe), with_model(sheet)
    assert needs - set(env) <= {*sheet.recipe.ranges, *sheet.recipe.known, *(ask.key for ask in sheet.recipe.asks)}
    readings = {f"{name}_{item.index}" for item in sheet.recipe.readings for name in item.names}
    shifts = {f"D{base}" for base in sheet.recipe.shifts}
    fewer = {name: value for name, value in env.items() if name in needs | readings | shifts}
    short, whole = expand(sheet.recipe, fewer, sheet.ends), expand(sheet.recipe, env, sheet.ends)
    assert [item.values for item in short.situations] == [item.values for item in whole.situations]


@pytest.mark.parametrize("circuit_id", our_desk().folder.circuit_ids())
def test_the_bare_circuit_starts_from_its_free_parameters(circuit_id: str):
    """In each region: from the parameters of the load spoken of, the straight zener where no slope is spoken of."""
    circuit = our_desk().circuit(circuit_id)
    sloped = "V_Z0" in circuit.constants
    for names, load in ((("I_L",), LoadModel.SINK), (("R_L",), LoadModel.RESISTOR)):
        for region in circuit.regions:
            found: Recipe = generic_recipe(circuit, region, names, ("P_RM", "I_L"), {})
            free = set(parameters(circuit, load))
            assert found.region == region.id and found.rules and not found.asks
            assert set(found.known) >= (free - {"V_Z0", "r_z", "I_ZT"} if sloped else free)
            straight = sloped or "V_Z" in circuit.constants
            assert ("V_Z" in found.known) == straight and "V_Z0" not in found.known
            assert "P_RM" in found.known, "a rating stands beside the parameters"
            if sloped:
                told = generic_recipe(circuit, region, (*names, "r_z"), (), {})
                assert {"V_Z0", "r_z"} <= set(told.known) and "V_Z" not in told.known


def test_a_load_is_the_same_load_in_every_situation():
    """zener-state:3 has a load resistor, and one V_TH: that of the divider, at whatever is asked."""
    for item, sheet in batch("zener-state", 3, 3):
        for situation in own_world(sheet).situations:
            assert broken(laws_for(sheet, sheet.recipe), situation.values)[0] == [], item.problem.name
