"""Sheets to JSON data and back, for the pages of the study site: what the numbers of a level share is told once.

Vocabulary: the *level data* hold what sheets share: kinds of sheet (all but the numbers), recipes, each rule once, and
the words of slips; the *number data* of a sheet are its kind and its numbers, as lists in the order of the level data.
Place in the data flow: sheets of one family and level -> data -> `site/assets/checker_sheets.js`, which reads
them alike.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Any

from tutor.solution.recipe_json import (
    branch_from_json,
    branch_to_json,
    convention_from_json,
    convention_to_json,
    demand_from_json,
    demand_to_json,
    recipe_from_json,
    recipe_to_json,
)
from tutor.solution.sheet import Sheet, SheetChoice, SheetSlip

Json = dict[str, Any]

_RULES = ("inputs", "resting", "rules")  # keys of recipes and their asks that hold rules


def level_sheet_data(sheets: Sequence[Sheet]) -> Json:
    """What these sheets share, as JSON data: `kinds`, `recipes`, `rules`, `slips`."""
    level: Json = {"kinds": [], "recipes": [], "rules": [], "slips": []}
    for sheet in sheets:
        _placed(level["kinds"], _kind(sheet, level))
        for slip in sheet.slips:
            _placed(level["slips"], _slip_words(slip))
    return level


def number_sheet_data(sheet: Sheet, level: Json) -> list[Any]:
    """The numbers of one sheet, given the data of its level; ValueError when it was not among the level's sheets."""
    kind = level["kinds"].index(_kind(sheet, level))
    return [
        kind,
        sheet.problem,
        list(sheet.given.values()),
        list(sheet.env.values()),
        [list(world.values()) for world in sheet.worlds],
        [[list(choice.accepted), choice.model] for choice in sheet.choices],
        [[level["slips"].index(_slip_words(slip)), slip.value] for slip in sheet.slips],
    ]


def sheet_from_data(level: Json, number: list[Any]) -> Sheet:
    """The inverse of the two above; malformed data raise KeyError, IndexError, TypeError or ValueError."""
    place, problem, given, env, worlds, picked, slips = number
    kind = level["kinds"][place]

    def recipe(index: int) -> Json:
        return _over_rules(level["recipes"][index], lambda at: level["rules"][at])

    return Sheet(
        circuit=kind["circuit"],
        problem=problem,
        symbols=kind["symbols"],
        aliases=kind["aliases"],
        given=dict(zip(kind["given"], given, strict=True)),
        env=dict(zip(kind["env"], env, strict=True)),
        recipe=recipe_from_json(recipe(kind["recipe"])),
        worlds=tuple(dict(zip(kind["worlds"], world, strict=True)) for world in worlds),
        generic=recipe_from_json(recipe(kind["generic"])),
        exact=None if kind["exact"] is None else recipe_from_json(recipe(kind["exact"])),
        generic_worlds=tuple(kind["genericWorlds"]),
        choices=tuple(
            SheetChoice(**words | {"accepted": tuple(fits), "model": model, "shelf": tuple(words["shelf"])})
            for words, (fits, model) in zip(kind["choices"], picked, strict=True)
        ),
        demands=tuple(demand_from_json(_over_demand(item, lambda at: level["rules"][at])) for item in kind["demands"]),
        slips=tuple(_slip(level["slips"][at], value) for at, value in slips),
        branches=tuple(branch_from_json(item | {"recipe": recipe(item["recipe"])}) for item in kind["branches"]),
        conventions=tuple(
            convention_from_json(item | {"recipe": recipe(item["recipe"])}) for item in kind["conventions"]
        ),
        region=kind["region"],
        region_words=kind["regionWords"],
        ends={name: (low, high) for name, (low, high) in kind["ends"].items()},
        asked=tuple(kind["asked"]),
        decimal_comma=kind["decimalComma"],
    )


def _kind(sheet: Sheet, level: Json) -> Json:
    """All of a sheet but its numbers; recipes and rules are added to the level's when they are new."""

    def rule(data: Any) -> int:
        return _placed(level["rules"], data)

    def recipe(data: Json) -> int:
        return _placed(level["recipes"], _over_rules(data, rule))

    return {
        "circuit": sheet.circuit,
        "symbols": dict(sheet.symbols),
        "aliases": dict(sheet.aliases),
        "given": list(sheet.given),
        "env": list(sheet.env),
        "recipe": recipe(recipe_to_json(sheet.recipe)),
        "worlds": list(sheet.worlds[0]) if sheet.worlds else [],
        "generic": recipe(recipe_to_json(sheet.generic)),
        "exact": None if sheet.exact is None else recipe(recipe_to_json(sheet.exact)),
        "genericWorlds": [dict(world) for world in sheet.generic_worlds],
        "choices": [_choice_words(choice) for choice in sheet.choices],
        "demands": [_over_demand(demand_to_json(item), rule) for item in sheet.demands],
        "branches": [
            data | {"recipe": recipe(data["recipe"])} for data in (branch_to_json(item) for item in sheet.branches)
        ],
        "conventions": [
            data | {"recipe": recipe(data["recipe"])}
            for data in (convention_to_json(item) for item in sheet.conventions)
        ],
        "region": sheet.region,
        "regionWords": sheet.region_words,
        "ends": {name: list(pair) for name, pair in sheet.ends.items()},
        "asked": list(sheet.asked),
        "decimalComma": sheet.decimal_comma,
    }


def _choice_words(choice: SheetChoice) -> Json:
    return {
        "key": choice.key,
        "quantity": choice.quantity,
        "low": choice.low,
        "high": choice.high,
        "tolerance": choice.tolerance,
        "near": choice.near,
        "load": choice.load,
        "margin": choice.margin,
        "series": choice.series,
        "shelf": list(choice.shelf),
    }


def _slip_words(slip: SheetSlip) -> list[str]:
    return [slip.id, slip.key, slip.name, slip.why, slip.hint]


def _slip(words: list[str], value: float) -> SheetSlip:
    slip_id, key, name, why, hint = words
    return SheetSlip(slip_id, key, value, name, why, hint)


def _over_rules(recipe: Json, change: Callable[[Any], Any]) -> Json:
    """A recipe's data with each rule changed, those of its readings and asks too."""
    asks = [_over_ask(ask, change) for ask in recipe["asks"]]
    readings = [[index, names, [change(rule) for rule in rules]] for index, names, rules in recipe["readings"]]
    return recipe | {"rules": [change(rule) for rule in recipe["rules"]], "readings": readings, "asks": asks}


def _over_ask(ask: Json, change: Callable[[Any], Any]) -> Json:
    return {key: [change(one) for one in told] if key in _RULES else told for key, told in ask.items()}


def _over_demand(demand: Json, change: Callable[[Any], Any]) -> Json:
    """What a design must meet with each rule of its ask changed."""
    return demand | {"ask": _over_ask(demand["ask"], change)}


def _placed(items: list[Any], item: Any) -> int:
    """The place of an item in a list, put at its end when it is new."""
    if item not in items:
        items.append(item)
    return items.index(item)


def write_sheets(name: str, sheets: Sequence[Sheet]) -> str:
    """The script that hands the sheets of a level to the page: one call with one literal, the same bytes every time."""
    level = level_sheet_data(sheets)
    data = {"level": level, "numbers": [number_sheet_data(sheet, level) for sheet in sheets]}
    literal = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    literal = literal.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"Steadyrail.takeSheets({json.dumps(name)}, {literal});\n"
