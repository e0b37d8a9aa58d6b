"""Recipes through JSON and back: nothing is lost, and what is no recipe is refused."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

import tutor
from tutor.plan.rule import Rule
from tutor.quantities.expression import Add, Neg, Num, Sym
from tutor.solution.desk import our_desk
from tutor.solution.recipe_json import (
    branch_from_json,
    branch_to_json,
    convention_from_json,
    convention_to_json,
    recipe_from_json,
    recipe_to_json,
)
from tutor.solution.recipe_store import load_recipes
from tutor.solution.sheet import AskRecipe, Branch, Convention, ReadingRecipe, Recipe

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
RULE = Rule("I_Z", Add((Sym("I_R"), Neg(Sym("I_L")))))
ROOT = Rule("I_L", None, (Sym("P_O"), Neg(Sym("V_OC")), Sym("R_S")))
# Every field set, no two alike.
FULL = Recipe(
    "breakdown", ("V_I", "R"), ("V_I",), ("I_L",), (("R", "tol_R"),), (RULE, ROOT),
    (ReadingRecipe("1", ("V_Z", "I_Z"), (ROOT,)), ReadingRecipe("2", (), ())),
    (
        AskRecipe("R_MAX", "R", (("I_Z", Sym("I_ZK")),), ("V_I", "I_L"), False, (("V_Z", Num(2.0)),), (RULE,), "<="),
        AskRecipe("V_O", "V_O", (), (), None, (), ()),
    ),
)  # fmt: skip


def through(data: Any) -> Any:
    return json.loads(json.dumps(data))


def test_every_field_survives():
    """A recipe, a convention and a branch with every field in use."""
    convention = Convention("base-current", "neglected", "I_B left out", True, 0.02, "I_B", "I_R", FULL)
    branch = Branch("off", "the zener is off", FULL)
    assert recipe_from_json(through(recipe_to_json(FULL))) == FULL
    assert convention_from_json(through(convention_to_json(convention))) == convention
    assert branch_from_json(through(branch_to_json(branch))) == branch


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_recipes_of_every_level_survive(family: str, level: int):
    """In all its regions, under all conventions, for every hypothesis."""
    recipes = our_desk().recipes(our_desk().level(family, level))
    found = [item.recipe for item in recipes.regions.values()] + [recipes.generic]
    for recipe in found:
        assert recipe_from_json(through(recipe_to_json(recipe))) == recipe
    for item in (other for region in recipes.regions.values() for other in region.conventions):
        assert convention_from_json(through(convention_to_json(item))) == item
    for branch in recipes.branches:
        assert branch_from_json(through(branch_to_json(branch))) == branch
    # Of slopes and changes alone nothing follows but the answers themselves.
    assert found[0].known and (found[0].rules or found[0].readings or (family, level) == ("disturbance-budget", 1))


@pytest.mark.parametrize("name", sorted(recipe_to_json(FULL)))
def test_a_recipe_without_one_of_its_entries_is_refused(name: str):
    """So is one whose entry is no list."""
    told = recipe_to_json(FULL)
    with pytest.raises(KeyError):
        recipe_from_json({key: value for key, value in told.items() if key != name})
    if name != "region":
        with pytest.raises((KeyError, TypeError, ValueError, IndexError)):
            recipe_from_json({**copy.deepcopy(told), name: 7})


@pytest.mark.parametrize("spoil", ["", "{", "[]", "7", '{"regions": {}}', '{"regions": {"x": 1}, "branches": []}'])
def test_a_spoiled_file_in_the_store_is_made_anew(spoil: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Whatever stands in the store, the recipes are those of the level; what was spoiled is mended."""
    monkeypatch.setenv("STEADYRAIL_STORE", str(tmp_path))
    desk = our_desk()
    ready = desk.level("supply-source-model", 1)
    before = set(tmp_path.iterdir())
    first = desk.recipes(ready)
    (file,) = set(tmp_path.iterdir()) - before
    good = file.read_bytes()
    file.write_text(spoil, encoding="utf-8")
    assert desk.recipes(ready) == first
    assert file.read_bytes() == good
    assert load_recipes(desk.folder, ready, _refusing) == first


def _refusing(ready: object) -> Any:
    raise AssertionError("made although the store has them")
