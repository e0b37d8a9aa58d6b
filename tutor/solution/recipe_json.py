"""Recipes to JSON data and back: for the store, and for the pages of the study site."""

from __future__ import annotations

from typing import Any

from tutor.plan.rule import rules_from_json, rules_to_json
from tutor.quantities.expression import from_json, to_json
from tutor.solution.sheet import AskRecipe, Branch, Convention, DesignDemand, ReadingRecipe, Recipe


def recipe_to_json(recipe: Recipe) -> dict[str, Any]:
    """A recipe as JSON data."""
    return {
        "region": recipe.region,
        "known": list(recipe.known),
        "ranges": list(recipe.ranges),
        "shifts": list(recipe.shifts),
        "tolerances": [list(item) for item in recipe.tolerances],
        "rules": rules_to_json(recipe.rules),
        "readings": [[item.index, list(item.names), rules_to_json(item.rules)] for item in recipe.readings],
        "asks": [_ask_to_json(item) for item in recipe.asks],
    }


def recipe_from_json(data: dict[str, Any]) -> Recipe:
    """The inverse of `recipe_to_json`; a malformed entry raises KeyError, TypeError, ValueError or IndexError."""
    return Recipe(
        data["region"],
        tuple(data["known"]),
        tuple(data["ranges"]),
        tuple(data["shifts"]),
        tuple((base, key) for base, key in data["tolerances"]),
        rules_from_json(data["rules"]),
        tuple(ReadingRecipe(index, tuple(names), rules_from_json(rules)) for index, names, rules in data["readings"]),
        tuple(_ask_from_json(item) for item in data["asks"]),
    )


def _ask_to_json(ask: AskRecipe) -> dict[str, Any]:
    return {
        "key": ask.key,
        "quantity": ask.quantity,
        "inputs": [[name, to_json(expr)] for name, expr in ask.inputs],
        "box": list(ask.box),
        "greatest": ask.greatest,
        "resting": [[name, to_json(expr)] for name, expr in ask.resting],
        "rules": rules_to_json(ask.rules),
        "relation": ask.relation,
    }


def _ask_from_json(data: dict[str, Any]) -> AskRecipe:
    return AskRecipe(
        data["key"],
        data["quantity"],
        tuple((name, from_json(expr)) for name, expr in data["inputs"]),
        tuple(data["box"]),
        data["greatest"],
        tuple((name, from_json(expr)) for name, expr in data["resting"]),
        rules_from_json(data["rules"]),
        data["relation"],
    )


def demand_to_json(item: DesignDemand) -> dict[str, Any]:
    """What a design must meet as JSON data."""
    return {"words": item.words, "limit": item.limit, "part": item.part, "ask": _ask_to_json(item.ask)}


def demand_from_json(data: dict[str, Any]) -> DesignDemand:
    """The inverse of `demand_to_json`."""
    return DesignDemand(data["words"], _ask_from_json(data["ask"]), data["limit"], data["part"])


def convention_to_json(item: Convention) -> dict[str, Any]:
    """Another convention with its recipe as JSON data."""
    return {
        "id": item.id,
        "value": item.value,
        "title": item.title,
        "approximate": item.approximate,
        "limit": item.limit,
        "watches": item.watches,
        "against": item.against,
        "recipe": recipe_to_json(item.recipe),
    }


def convention_from_json(data: dict[str, Any]) -> Convention:
    """The inverse of `convention_to_json`."""
    told = {name: value for name, value in data.items() if name != "recipe"}
    return Convention(
        told["id"], told["value"], told["title"], told["approximate"], told["limit"], told["watches"], told["against"],
        recipe_from_json(data["recipe"]),
    )  # fmt: skip


def branch_to_json(item: Branch) -> dict[str, Any]:
    """A region for hypotheses as JSON data."""
    return {
        "region": item.region, "words": item.words, "sets": dict(item.sets), "recipe": recipe_to_json(item.recipe),
    }  # fmt: skip


def branch_from_json(data: dict[str, Any]) -> Branch:
    """The inverse of `branch_to_json`."""
    return Branch(data["region"], data["words"], recipe_from_json(data["recipe"]), data["sets"])
