"""Sheets as data for pages and back: nothing is lost, what is shared is told once, and pages stay small."""

from __future__ import annotations

import json
from dataclasses import fields, replace

import pytest

from tests.solution.at_hand import LEVELS, batch
from tutor.solution.sheet import Sheet
from tutor.solution.sheet_json import level_sheet_data, number_sheet_data, sheet_from_data, write_sheets

NUMBERS = 10
SHARED = 5000  # bytes of a level that do not grow with its numbers, at most three times this
MOST_BYTES = 120_000  # of a level with forty numbers


def sheets(family: str, level: int) -> list[Sheet]:
    """The first sheets of a level."""
    return [sheet for _, sheet in batch(family, level, NUMBERS)]


def in_order(value: object) -> object:
    """A value whose equality tells the order of mappings too."""
    if isinstance(value, dict):
        return [(key, in_order(item)) for key, item in value.items()]
    return value


def there_and_back(some: list[Sheet]) -> list[Sheet]:
    """The sheets from their data, as text between."""
    level = level_sheet_data(some)
    data = json.loads(json.dumps([level, [number_sheet_data(sheet, level) for sheet in some]]))
    return [sheet_from_data(data[0], number) for number in data[1]]


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_sheets_come_back_as_they_were(family: str, level: int):
    """Every field, every bit of every number, and the order in which names stand."""
    some = sheets(family, level)
    for sheet, back in zip(some, there_and_back(some), strict=True):
        assert back == sheet
        for item in fields(Sheet):
            before, after = getattr(sheet, item.name), getattr(back, item.name)
            assert in_order(after) == in_order(before), item.name
        for world, other in zip(sheet.worlds, back.worlds, strict=True):
            assert list(other.items()) == list(world.items())


def test_sheets_of_several_kinds_come_back():
    """A level whose problems lie in several regions, and choices and slips that differ, have each their own kind."""
    some = [*sheets("zener-state", 1), *sheets("zener-resistor", 3), *sheets("supply-source-model", 2)]
    assert len({sheet.region for sheet in some}) > 1
    assert there_and_back(some) == some
    assert len(level_sheet_data(some)["kinds"]) >= 4


def test_what_is_shared_is_told_once():
    """The level's data do not grow with its numbers, and no rule stands there twice."""
    some = sheets("follower-design", 2)
    level = level_sheet_data(some)
    assert level == level_sheet_data(some[:1]) | {"slips": level["slips"]}
    rules = [json.dumps(rule) for rule in level["rules"]]
    assert len(rules) == len(set(rules)) > 20
    assert len(json.dumps(level)) < 3 * SHARED


def test_a_sheet_of_another_level_is_refused():
    """Its numbers would be read against the wrong names."""
    level = level_sheet_data(sheets("zener-slope", 1))
    other = sheets("zener-slope", 2)[0]
    with pytest.raises(ValueError, match="is not in list"):
        number_sheet_data(other, level)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_page_of_forty_numbers_stays_small(family: str, level: int):
    """Raw bytes of a level's script, reckoned from ten numbers to forty: what they share stands in it once."""
    script = write_sheets(f"{family}:{level}", sheets(family, level))
    level_data = level_sheet_data(sheets(family, level))
    shared = len(json.dumps(level_data, ensure_ascii=False, separators=(",", ":")).encode())
    assert script.startswith(f'Steadyrail.takeSheets("{family}:{level}", {{') and script.endswith("});\n")
    assert shared + (len(script.encode()) - shared) * 40 / NUMBERS < MOST_BYTES


def test_the_script_holds_no_end_of_line_that_breaks_it():
    """U+2028 and U+2029 end a line of script in old engines; they are written as escapes."""
    odd = replace(sheets("zener-slope", 1)[0], region_words="off\u2028then\u2029on")
    script = write_sheets("x:1", [odd])
    assert "\\u2028then\\u2029on" in script
    assert "\u2028" not in script
