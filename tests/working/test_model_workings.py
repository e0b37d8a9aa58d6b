"""Whole workings: every line of every model solution holds; every slip put in is caught where it is, and named.

Set STEADYRAIL_NUMBERS=50 for the slower run over fifty numbers of each level.
"""

from __future__ import annotations

import math

import pytest

from tests.solution import earlier_editions
from tests.solution.at_hand import LEVELS, MOST_NUMBERS, batch
from tests.working.model_workings import model_lines, slipped_workings
from tutor.solution.sheet import Sheet, SheetSlip
from tutor.working.check import check_working
from tutor.working.finding import WRONG, Code
from tutor.working.ground import Around, Ground

GOOD = {Code.HOLDS, Code.HOLDS_HERE, Code.CHOICE_OK}
MODELS = max(10, MOST_NUMBERS)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_line_of_every_model_solution_holds(family: str, level: int):
    """Numbers 1 to 10: no line is wrong, unread, or merely follows."""
    for worked, sheet in batch(family, level, MODELS):
        lines = model_lines(worked)
        checked = check_working("\n".join(line.text for line in lines), sheet)
        bad = [(item.text, item.code.value, item.why) for item in checked.findings if item.code not in GOOD]
        assert bad == [], worked.problem.name
        assert len(checked.findings) == len(lines) > 0
        assert checked.first_wrong is None


def is_true_elsewhere(slip: SheetSlip, sheet: Sheet) -> bool:
    """Whether a slip's value is, to the last figure, that of the plain symbol at another operating point: by chance, as
    in zener-slope:2:17@1, where the load current added twice is what the change of V_I brings through R."""
    world = Ground(Around(sheet, sheet.recipe), {}).cases[-1].world
    places = world.situations[: len(world.situations) - world.moved]
    return any(math.isclose(item.values.get(slip.key, math.inf), slip.value, rel_tol=1e-9) for item in places)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_every_slip_is_caught_named_and_located_and_the_rest_follows(family: str, level: int):
    """Each slip's value in its waypoint's place: the first line counted wrong, by its name, and the only one.

    Odd numbers go on in symbols, even ones with the learner's numbers put in.
    """
    tried = 0
    for place, (worked, sheet) in enumerate(batch(family, level, MOST_NUMBERS)):
        for working in slipped_workings(worked, sheet, numbers=place % 2 == 1):
            if is_true_elsewhere(working.slip, sheet):
                continue
            checked = check_working(working.text, sheet)
            told = (worked.problem.name, working.slip.id, working.text)
            line = checked.findings[working.at - 1]
            assert checked.first_wrong == working.at, (told, line.code.value, line.why)
            assert working.slip.id in line.slip, (told, line.slip, line.why)
            assert line.why and line.columns is not None, told
            rest = [
                (item.text, item.code.value, item.why)
                for item in checked.findings[working.at :]
                if item.code in WRONG or item.code is Code.UNREAD
            ]
            assert rest == [], told
            tried += 1
        assert all(slip.key in sheet.asked for slip in sheet.slips)
    assert tried >= MOST_NUMBERS


def test_slips_are_carried_on():
    """The claim above is not empty: of most levels that have slips early on, a line after one is credited for it."""
    followed = set()
    for family, level in LEVELS:
        worked, sheet = batch(family, level, 1)[0]
        for working in slipped_workings(worked, sheet, numbers=False):
            lines = "\n".join(working.lines[: working.at + 3])
            if any(item.code is Code.FOLLOWS for item in check_working(lines, sheet).findings[working.at :]):
                followed.add((family, level))
                break
    assert len(followed) > len(LEVELS) / 2, followed


OWN = [
    ("a value copied to a symbol that equals it", "zener-slope:2:1@1", "V_Z0 = 4.476 V\nV_Z = 4.575 V\nV_O = 4.575 V"),
    (
        "numbers of a value below zero",
        "zener-state:3:1",
        "R = −452.2 Ω\nI_L = (11 V − 3.9 V)/(−452.2 Ω) − 1 mA = −16.70 mA",
    ),
]


@pytest.mark.parametrize(("claim", "name", "text"), OWN, ids=[item[0] for item in OWN])
def test_what_rests_on_a_slip_follows(claim: str, name: str, text: str):
    """After a slip a learner goes on with the value written: what comes of it is credited."""
    sheet = earlier_editions.sheet(name)
    assert check_working(text, sheet).findings[-1].code is Code.FOLLOWS, claim
