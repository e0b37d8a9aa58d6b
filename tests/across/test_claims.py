"""Claims: what can be is true and breaks no principle; what cannot be breaks the one named, and none other offered."""

from __future__ import annotations

from functools import cache

import pytest

from tutor.across.claims import UNIT
from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.across.principles import PRINCIPLES, Facts, Principle, broken
from tutor.across.sanity import CAN, CANNOT, NOTHING
from tutor.quantities.expression import Sym, Val
from tutor.solution.desk import our_desk
from tutor.views.plain import chain_text
from tutor.working.check import check_working
from tutor.working.finding import WRONG, Code, Finding

NUMBERS = range(1, 61)
BY_WORDS = {item.words: item for item in (*PRINCIPLES, UNIT)}


@cache
def problem(level: int, number: int) -> Posed:
    return posed(our_desk(), f"sanity-check:{level}:{number}")


def claimed(item: Posed) -> list[tuple[str, Val, str]]:
    """Key and value of each claim, and the line as it is typed."""
    found = []
    for line in item.lines:
        assert line.chain is not None and isinstance(line.chain.first, Sym)
        value = line.chain.rest[0][1]
        assert isinstance(value, Val)
        found.append((line.chain.first.name, value, chain_text(line.chain).replace("\u00a0", " ")))
    return found


def facts(item: Posed) -> Facts:
    asked = frozenset({"h_FE"} if item.sheet is not None and "h_FE_MIN" in item.sheet.asked else ())
    given = {key: quantity.value for key, quantity in item.problem.given.items()}
    return Facts(item.problem.circuit.replace("-", "_"), given, asked)


@cache
def told(name: str, line: str) -> Finding:
    """What the checker says of a claim; it knows nothing of principles."""
    level, number = (int(part) for part in name.split(":")[1:])
    sheet = problem(level, number).sheet
    assert sheet is not None
    return check_working(line, sheet).findings[0]


def is_true(item: Posed, line: str) -> bool:
    """By the checker."""
    return told(item.problem.name, line).code not in WRONG


def breaks(item: Posed, principle: Principle, key: str, value: Val, line: str) -> bool:
    """Whether a claim breaks a principle; of the unit, by the checker."""
    if principle is UNIT:
        return told(item.problem.name, line).code is Code.UNITS
    return principle in broken(facts(item), key, value.value, clear=0.0)


def test_one_claim() -> None:
    """Its verdict is the checker's; the reason alone of those offered speaks against it."""
    for number in NUMBERS:
        item = problem(1, number)
        ((key, value, line),) = claimed(item)
        verdict, reason = item.problem.waypoints
        assert (verdict.state == CAN) == is_true(item, line), (item.problem.name, line)
        assert (verdict.state == CANNOT) == (reason.state != NOTHING)
        for option in reason.options:
            if option != NOTHING and reason.state != UNIT.words:
                found = breaks(item, BY_WORDS[option], key, value, line)
                assert found == (option == reason.state), (item.problem.name, line, option)


def test_three_claims() -> None:
    """One is false and breaks its principle; the others are true and break none offered."""
    for number in NUMBERS:
        item = problem(2, number)
        result, reason = item.problem.waypoints
        at = result.options.index(result.state)
        rows = claimed(item)
        assert [is_true(item, line) for _, _, line in rows] == [place != at for place in range(len(rows))], number
        key, value, line = rows[at]
        assert breaks(item, BY_WORDS[reason.state], key, value, line), (item.problem.name, line)
        others = [row for place, row in enumerate(rows) if place != at]
        for option in reason.options:
            assert not any(breaks(item, BY_WORDS[option], *row) for row in others), (item.problem.name, option)


def test_each_for_itself() -> None:
    """Each verdict is the checker's, with the one reason among those offered; what surprises is true."""
    surprising = set()
    for number in NUMBERS:
        item = problem(3, number)
        *points, meaning = item.problem.waypoints
        for point, (key, value, line) in zip(points, claimed(item), strict=True):
            assert (point.state == CAN) == is_true(item, line), (item.problem.name, line)
            for option in point.options:
                words = option.partition(": ")[2]
                if words and point.state != f"it cannot: {UNIT.words}":
                    found = breaks(item, BY_WORDS[words], key, value, line)
                    assert found == (option == point.state), (item.problem.name, line, option)
        letter = meaning.prompt.split()[2].strip(",")
        point = next(point for point in points if point.key == letter)
        assert point.state == CAN and meaning.state in meaning.options
        surprising.add(meaning.state)
    assert len(surprising) >= 6
    assert any(point.state != CAN for number in NUMBERS for point in problem(3, number).problem.waypoints[:-1])


@pytest.mark.parametrize("reference", ["S24", "H09", "N04", "N05", "N07"])
def test_slips_of_the_trade_are_met(reference: str) -> None:
    """A remark on a wrong option stands for each."""
    met = {
        found
        for level in (1, 2, 3)
        for number in NUMBERS
        for point in problem(level, number).problem.waypoints
        for remark in point.remarks
        for found in remark.reference
    }
    assert reference in met, met
