"""Workings on two supplies: the worked solution is right line by line and wins every mark, a slip is named where it
stands, and what is true at another load than the readings' is not called wrong."""

from __future__ import annotations

import json
from functools import cache

import pytest

import tutor
from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.quantities.quantity import write
from tutor.solution.desk import our_desk
from tutor.solution.sheet_json import level_sheet_data, number_sheet_data, sheet_from_data
from tutor.views.plain import chain_text
from tutor.working.finding import WRONG, Code

NUMBERS = range(1, 21)
every_level = pytest.mark.parametrize("level", [1, 2, 3])


@cache
def problem(level: int, number: int) -> Posed:
    return posed(our_desk(), f"which-is-better:{level}:{number}")


def codes(text: str, name: str) -> list[Code]:
    return [item.code for item in tutor.check(text, problem=name).findings]


@every_level
def test_the_worked_solution_holds_and_wins_every_mark(level: int) -> None:
    for number in NUMBERS:
        item = problem(level, number)
        lines = [
            " ".join(chain_text(chain).replace("\u00a0", " ").split())
            for step in item.solution.steps
            for chain in step.chains
        ]
        words = [f"{point.key}: {point.state}" for point in item.problem.waypoints if point.state]
        working = tutor.check("\n".join((*lines, *words)), problem=item.problem.name)
        assert all(found.code in (Code.HOLDS, Code.HOLDS_HERE) for found in working.findings), item.problem.name
        assert working.marks is not None
        assert all(entry.got for entry in working.marks.ledger), (item.problem.name, working.marks.ledger)


@every_level
def test_a_slip_is_named_on_its_line(level: int) -> None:
    met = set()
    for number in NUMBERS:
        item = problem(level, number)
        for point in item.problem.waypoints:
            for slip in point.slips:
                assert point.answer is not None
                line = f"{point.key} = {write(slip.value, point.answer.unit, 4)}"
                (found,) = tutor.check(line, problem=item.problem.name).findings
                if found.code in WRONG:  # else it is true of the supply at another load
                    assert slip.id in found.slip, (item.problem.name, line, found)
                    met.add(slip.id)
    assert met == {slip.id for number in NUMBERS for point in problem(level, number).problem.waypoints
                   for slip in point.slips}  # fmt: skip


def test_what_is_true_at_another_load_is_not_wrong() -> None:
    """which-is-better:3:1, A: 19.45 V behind 3 ohm. At 200 mA 18.85 V and 3.18 %; as read 19 V and 2.37 %."""
    lines = (
        "V_I_1 = 18.85 V", "REG_LOAD_1 = 0.6 V/18.85 V = 3.18 %", "REG_LOAD_1 = 2.37 %", "V_1 = 19 V",
        "V_OC_1 - 0.2 A * R_S_1 = 18.85 V", "I_I_1_MAX >= I_I", "R_S_1 = (V_OC_1 - V_1)/I_1",
    )  # fmt: skip
    assert not set(codes("\n".join(lines), "which-is-better:3:1")) & {*WRONG, Code.UNREAD}


@pytest.mark.parametrize("line", ["REG_LOAD_1 = 5 %", "V_I_1 = 15 V", "R_S_1 = 4 ohm", "I_I_1_MAX = 250 mA",
                                  "R_S_1 = V_I_1/I_I_1", "I_I_2_MAX <= I_I"])  # fmt: skip
def test_what_is_true_at_none_is_wrong(line: str) -> None:
    assert set(codes(line, "which-is-better:3:1")) <= set(WRONG)


def test_a_line_of_no_supply_in_particular_is_unread_and_not_wrong() -> None:
    assert codes("REG_LOAD = (V_OC - V_I)/V_I", "which-is-better:2:1") == [Code.UNREAD]


@every_level
def test_the_sheets_of_a_level_share_all_but_their_numbers(level: int) -> None:
    """A page holds the relations once, and gives each sheet back whole."""
    sheets = [item.sheet for item in (problem(level, number) for number in NUMBERS) if item.sheet is not None]
    assert len(sheets) == len(NUMBERS)
    shared = level_sheet_data(sheets)
    assert (len(shared["kinds"]), len(shared["recipes"])) == (1, 1)
    for sheet in sheets:
        kept = json.loads(json.dumps([shared, number_sheet_data(sheet, shared)]))
        assert sheet_from_data(*kept) == sheet
