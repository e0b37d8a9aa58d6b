"""Problems kept from an earlier edition: whole, of an edition gone by, and each with a working written on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.solution import earlier_editions
from tutor.errors import OutOfRange
from tutor.generate.name import read_name
from tutor.solution.desk import our_desk

WORKING = Path(__file__).parents[1] / "working"
# Lines, whole workings, and the test of what follows from a slip of one's own.
WRITTEN = [
    *(WORKING / "lines").glob("*.txt"), *(WORKING / "workings").glob("*.txt"), WORKING / "test_model_workings.py",
]  # fmt: skip
every_kept = pytest.mark.parametrize("name", earlier_editions.KEPT)


@every_kept
def test_it_is_of_an_edition_that_is_drawn_no_more(name: str) -> None:
    """Not to be had from the desk under its name, and for that kept."""
    assert 1 <= read_name(name).edition < our_desk().family(read_name(name).family).edition
    with pytest.raises(OutOfRange):
        our_desk().problem(name)


@every_kept
def test_it_has_the_numbers_kept_and_a_sheet_of_them(name: str) -> None:
    """Every given is the number drawn then; the solution's checks hold; sheet and problem tell the same."""
    kept = earlier_editions.KEPT[name]
    worked, sheet = earlier_editions.problem(name), earlier_editions.sheet(name)
    given = {key: quantity.value for key, quantity in worked.problem.given.items()}
    assert given and given == {key: kept[key] for key in given}
    drawn = {key: float(values[0]) for key, values in worked.drawn.run.env.items()}
    assert {key: drawn[key] for key in kept} == dict(kept), "what was worked out of draws comes out as it did"
    assert worked.solution.checks and all(check.holds for check in worked.solution.checks)
    assert {key: sheet.env[key] for key in given} == given
    assert worked.problem.edition == read_name(name).edition


@every_kept
def test_a_working_is_written_on_it(name: str) -> None:
    """None is kept for nothing."""
    assert any(name in path.read_text(encoding="utf-8") for path in WRITTEN)


def test_a_name_that_is_drawn_is_drawn() -> None:
    name = "zener-state:2:1"
    assert name not in earlier_editions.KEPT
    assert earlier_editions.problem(name) == our_desk().problem(name)
    assert earlier_editions.sheet(name) == our_desk().sheet(name)
