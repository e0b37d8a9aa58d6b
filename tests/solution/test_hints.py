"""Hints over every family, level and several numbers: more direct from one to the next, and never the answer.

What is held here is what a hint must and must not say; it comes from the brief of the study site (three hints of rising
directness, none the waypoint's title again, the third with a symbol or a number of the problem and not its result), not
from the code that makes them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest

import tutor
from tutor.across.hinting import hints_of_posed
from tutor.across.named import posed
from tutor.generate.problem import Problem, Waypoint
from tutor.quantities.quantity import Quantity
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import is_symbol
from tutor.quantities.units import printed_unit
from tutor.solution.desk import our_desk
from tutor.solution.hints import Hints, hints_of
from tutor.views.plain import chain_text, prose_text

NUMBERS = (1, 2, 11)
ACROSS_NUMBERS = (1, 2)
SAME = 0.003  # of a value: a number printed in three figures is as near as that
LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
ACROSS = [(family, level) for family in tutor.across_families() for level in (1, 2, 3)]
every_level = pytest.mark.parametrize(("family", "level"), [*LEVELS, *ACROSS])

Hinted = tuple[Problem, tuple[Hints, ...]]


@cache
def hinted(family: str, level: int) -> tuple[Hinted, ...]:
    """Problems of a level with their hints."""
    desk = our_desk()
    if family in tutor.across_families():
        found = [posed(desk, f"{family}:{level}:{number}") for number in ACROSS_NUMBERS]
        return tuple((item.problem, hints_of_posed(item)) for item in found)
    ready = desk.level(family, level)
    return tuple(
        (item.problem, hints_of(ready, item.drawn, item.problem, item.solution))
        for item in desk.batch(ready, NUMBERS)
    )


def texts(hints: Hints) -> tuple[str, str, str]:
    """The three hints as a reader meets them, spaces made ordinary."""
    third = " ".join([prose_text(hints.third), *(chain_text(line) for line in hints.lines)])
    first, second, last = (
        text.replace("\u00a0", " ").replace("\u202f", " ")
        for text in (prose_text(hints.first), prose_text(hints.second), third)
    )
    return first, second, last


def each(family: str, level: int) -> Iterator[tuple[Problem, Waypoint, Hints, tuple[str, str, str]]]:
    for problem, found in hinted(family, level):
        by_key = {item.key: item for item in found}
        for point in problem.waypoints:
            yield problem, point, by_key[point.key], texts(by_key[point.key])


def content_words(text: str) -> set[str]:
    words = re.findall(r"[a-z]{4,}|[A-Z][A-Za-z]*(?:_[A-Za-z0-9]+)+", prose_text(text))
    return {word.lower().rstrip("s") for word in words}


def is_told(quantity: Quantity, text: str) -> bool:
    """Whether a number with its unit in a text reads as this quantity, under any prefix and in any figures."""
    for number in re.findall(r"(?<![A-Za-z_0-9.])[0-9][0-9.]*(?: ?[A-Za-zΩµ°%/]+)?", text):
        if "/" not in printed_unit(quantity.unit):
            number = number.partition("/")[0]  # the bar of a fraction, not of a unit
        reading = read_quantity(number.rstrip("."), quantity.unit)
        if reading.value is None or (reading.bare and quantity.unit):
            continue
        if abs(abs(reading.value) - abs(quantity.value)) <= SAME * abs(quantity.value):
            return True
    return False


def stands_in(form: str, text: str) -> bool:
    return re.search(rf"(?<![0-9A-Za-z._]){re.escape(form)}(?![0-9A-Za-z]|\.[0-9])", text) is not None


@every_level
def test_every_waypoint_has_three_hints_that_differ(family: str, level: int) -> None:
    """Values, choices, states, verdicts and answers in words alike; each ends as a sentence does."""
    for problem, point, _, said in each(family, level):
        assert len({*said}) == 3, (problem.name, point.key, said)
        assert all(len(text) > 15 for text in said), (problem.name, point.key, said)


@every_level
def test_no_hint_restates_what_is_asked(family: str, level: int) -> None:
    """Not the prompt, nor a text with all of its words that says hardly anything more."""
    for problem, point, _, said in each(family, level):
        words = content_words(point.prompt)
        for text in said[:2]:
            found = content_words(text)
            assert not words <= found or len(found - words) >= 4, (problem.name, point.key, point.prompt, text)


@every_level
def test_the_third_hint_is_about_this_problem(family: str, level: int) -> None:
    """A letter symbol stands in it, or a number with its unit."""
    for problem, point, _, (_, _, third) in each(family, level):
        symbols = [word for word in re.findall(r"[A-Za-z][A-Za-z0-9_]*", third) if is_symbol(word)]
        known = {*problem.given, *problem.answers, *(row.symbol for row in problem.table)}
        given = [quantity.text for quantity in problem.given.values() if stands_in(quantity.text, third)]
        assert symbols or given or known & set(symbols), (problem.name, point.key, third)


@every_level
def test_no_hint_gives_a_result_away(family: str, level: int) -> None:
    """Neither its own nor that of anything else asked, however it is printed; nor the words that are right."""
    for problem, point, hints, said in each(family, level):
        for text in said:
            for other in problem.waypoints:
                if other.answer is not None:
                    assert not is_told(other.answer, text), (problem.name, point.key, other.key, text)
                elif other.key != hints.after and prose_text(other.state) not in prose_text(point.prompt + problem.ask):
                    named = prose_text(other.state).lower() in text.lower()
                    assert not named, (problem.name, point.key, other.key, text)


@every_level
def test_hints_rest_only_on_what_stands_above(family: str, level: int) -> None:
    """What must be settled first is a waypoint before this one, and one in words."""
    for problem, point, hints, _ in each(family, level):
        keys = [item.key for item in problem.waypoints]
        if hints.after:
            assert keys.index(hints.after) < keys.index(point.key), (problem.name, point.key)
            assert problem.waypoints[keys.index(hints.after)].answer is None, problem.name


def test_a_design_is_hinted_as_a_lecturer_would() -> None:
    """The series resistor: the corner as a question, then its answer and what hangs together, then the relation with
    its numbers (SAMPLE of the trade: I_Z is least at the lowest line and the fullest load)."""
    problem, found = hinted("zener-resistor", 2)[0]
    first, second, third = texts(next(item for item in found if item.key == "R_MAX"))
    assert "I_Z" in first and "least" in first and "V_I" in first and "I_L" in first
    assert "lowest line" not in first and "lowest line" in second and "fullest load" in second
    for name in ("V_I_MIN", "I_L_MAX", "V_Z", "I_ZK"):
        assert stands_in(problem.given[name].text, third), (name, third)


def test_a_check_that_can_fail() -> None:
    """A result is found in whatever figures and prefix it is printed, and a longer number does not mislead."""
    bound = Quantity(139.9, "ohm")
    assert is_told(bound, "R = 4.9 V/35 mA = 140 Ω.") and is_told(bound, "0.1399 kΩ") and is_told(bound, "139.9 Ω, say")
    assert not is_told(bound, "140 mΩ") and not is_told(bound, "140 V") and not is_told(bound, "of 1140 Ω")
    assert stands_in("140 Ω", "R = 4.9 V/35 mA = 140 Ω.")
    assert not stands_in("140 Ω", "R = 1140 Ω") and not stands_in("5 V", "2.5 V") and not stands_in("5 V", "5 VA")
