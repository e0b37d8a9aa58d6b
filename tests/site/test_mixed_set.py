"""Mixed sets in V8: neighbours differ in family and in method, a set stays all day, what is due is mixed too."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from tests.site.record_browser import START, Browser, days, moment

METHODS = {"a": 0, "b": 0, "c": 1, "d": 2, "e": 2, "f": 3}
PATH: dict[str, Any] = {
    "stages": [{"number": 1, "title": "One"}, {"number": 2, "title": "Two"}],
    "families": [
        {
            "id": f"family-{name}",
            "title": f"Family {name}",
            "stage": 1 if name < "d" else 2,
            "levels": [{"level": level, "count": 5, "method": method} for level in (1, 2)],
        }
        for name, method in METHODS.items()
    ],
}


def browser() -> Browser:
    made = Browser(None, "mixed_set")
    made.engine.eval(f"var PATH = {json.dumps(PATH)};")
    return made


def set_of(made: Browser, when: datetime, stage: int | None = None) -> dict[str, Any]:
    found = made.ask(f"Steadyrail.mixed.setOf(PATH, Steadyrail.record.entries(), {moment(when)}, {json.dumps(stage)})")
    assert isinstance(found, dict)
    return found


def differ(problems: list[dict[str, Any]]) -> bool:
    return all(
        one["family"] != other["family"] and one["method"] != other["method"] for one, other in pairwise(problems)
    )


def work(made: Browser, *names: str, when: datetime = START, level: int = 1) -> None:
    for name in names:
        made.finish(when, kind=f"family-{name}:{level}")


def test_neighbours_differ_in_family_and_method_whatever_the_day() -> None:
    made = browser()
    work(made, *METHODS)
    orders = set()
    for day in range(1, 60):
        found = set_of(made, days(day))
        assert found["from"] == "worked" and len(found["problems"]) == 8
        assert differ(found["problems"])
        orders.add(json.dumps(found["problems"]))
        names = [(item["kind"], item["number"]) for item in found["problems"]]
        assert len(set(names)) == len(names), "no problem stands in a set twice"
        assert all(1 <= item["number"] <= 5 for item in found["problems"])
    assert len(orders) > 50, "another day, another set"


def test_a_set_stays_all_day_whatever_is_worked_meanwhile() -> None:
    made = browser()
    work(made, "a", "c", "d")
    morning = set_of(made, days(1).replace(hour=6))
    work(made, "e", "f", when=days(1))
    for item in morning["problems"]:
        made.attempt(days(1), right=True, kind=item["kind"], number=item["number"])
    assert set_of(made, days(1).replace(hour=23)) == morning
    assert set_of(made, days(2)) != morning


def test_the_level_last_reached_is_the_one_that_comes() -> None:
    made = browser()
    work(made, *METHODS)
    work(made, *METHODS, level=2)
    assert {item["level"] for item in set_of(made, days(1))["problems"]} == {2}


def test_without_a_record_or_with_too_little_of_one_a_stage_is_taken_whole() -> None:
    made = browser()
    found = set_of(made, START)
    assert found["from"] == 1 and differ(found["problems"]) and len(found["problems"]) >= 3
    assert set_of(made, START, 2)["from"] == 2
    work(made, "d", "e")  # alike: one of them stands alone
    found = set_of(made, days(1))
    assert found["from"] == 2 and {item["family"] for item in found["problems"]} == {"family-d", "family-e", "family-f"}


def test_numbers_already_tried_come_last() -> None:
    made = browser()
    for number in (1, 2, 3, 4):
        for name in METHODS:
            made.finish(START, kind=f"family-{name}:1", number=number)
    first = {}
    for item in set_of(made, days(1))["problems"]:
        first.setdefault(item["kind"], item["number"])
    assert set(first.values()) == {5}


def test_what_is_due_is_mixed_and_none_is_left_out() -> None:
    made = browser()
    work(made, "a", "b", "d", "e", "c", "f")
    due = f"Steadyrail.mixed.dueOf(PATH, Steadyrail.record.entries(), {moment(days(1))})"
    found = made.ask(due)
    assert isinstance(found, list)
    assert sorted(item["family"] for item in found) == sorted(f"family-{name}" for name in METHODS)
    assert differ(found)
    made.attempt(days(1), right=False, kind=found[0]["kind"], number=found[0]["number"])
    assert made.ask(due) == found, "its numbers stay all day"


def test_alike_ones_alone_are_due_one_after_another() -> None:
    made = browser()
    work(made, "a", "b")
    found = made.ask(f"Steadyrail.mixed.dueOf(PATH, Steadyrail.record.entries(), {moment(days(2))})")
    assert isinstance(found, list) and [item["family"] for item in found] == ["family-a", "family-b"]


def test_kinds_that_the_site_no_longer_has_are_passed_over() -> None:
    made = browser()
    work(made, *METHODS)
    made.finish(START, kind="gone:1")
    made.finish(START, kind="family-a:3")
    found = made.ask(f"Steadyrail.mixed.dueOf(PATH, Steadyrail.record.entries(), {moment(days(2))})")
    assert isinstance(found, list)
    assert {item["kind"] for item in found} <= {f"family-{name}:1" for name in METHODS}
    assert differ(set_of(made, START + timedelta(days=2))["problems"])
