"""Find the wrong line: each working shown is held against the checker, which knows nothing of how it was made."""

from __future__ import annotations

from functools import cache

import pytest

from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.across.slipped import has_lost_prefix
from tutor.generate.judging import Outcome, judge
from tutor.quantities.formula import read_expression
from tutor.solution.desk import our_desk
from tutor.views.plain import chain_text
from tutor.working.check import Checked, check_working
from tutor.working.finding import WRONG, Code

NUMBERS = range(1, 61)


@cache
def problem(level: int, number: int) -> Posed:
    return posed(our_desk(), f"find-the-wrong-line:{level}:{number}")


def checked(item: Posed) -> Checked:
    """What the checker says of the lines shown, typed one by one; a choice is typed as one."""
    assert item.sheet is not None
    typed = []
    for line in item.lines:
        assert line.chain is not None
        said = "choose " if line.words.startswith("Choice") else ""
        typed.append(said + chain_text(line.chain).replace("\u00a0", " "))
    return check_working("\n".join(typed), item.sheet)


def place_of(item: Posed) -> int:
    """The place of the wrong line."""
    return item.problem.waypoints[0].options.index(item.problem.waypoints[0].state)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_checker_finds_the_same_line_and_names_the_same_slip(level: int) -> None:
    """The first line it counts wrong is the one asked for, by the slip's name; no line after it is counted wrong."""
    for number in NUMBERS:
        item = problem(level, number)
        at = place_of(item)
        found = checked(item)
        told = (item.problem.name, [(row.text, row.code.value, row.why) for row in found.findings])
        assert found.first_wrong == at + 1, told
        reason = item.problem.waypoints[1].state
        assert item.sheet is not None
        names = {slip.name for slip in item.sheet.slips if slip.id in found.findings[at].slip}
        assert reason in names, (told, names)
        others = [row for place, row in enumerate(found.findings) if place != at]
        assert not [row.text for row in others if row.code in WRONG or row.code is Code.UNREAD], told


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_working_put_right_holds(level: int) -> None:
    """Every line of the solution after the wrong one, which puts right what the slip changed, is true."""
    for number in NUMBERS:
        item = problem(level, number)
        steps = item.solution.steps
        first = next(place for place, step in enumerate(steps) if step.waypoint == "reason") + 1
        lines = [chain_text(chain).replace("\u00a0", " ") for step in steps[first:] for chain in step.chains]
        assert item.sheet is not None and lines
        found = check_working("\n".join(lines), item.sheet)
        assert found.first_wrong is None, (item.problem.name, [(row.text, row.code.value) for row in found.findings])


@pytest.mark.parametrize("level", [1, 2, 3])
def test_five_to_eight_lines_and_one_carried_on(level: int) -> None:
    """The form's own length; a line after the wrong one has its value from it, and the last answer is not the shown."""
    for number in NUMBERS:
        item = problem(level, number)
        assert 5 <= len(item.lines) <= 8
        line, reason, _, last = item.problem.waypoints
        assert any("carries a wrong value on" in remark.why for remark in line.remarks), item.problem.name
        assert 3 <= len(reason.options) <= 4
        if last.answer is not None:
            shown = [chain_text(row.chain) for row in item.lines if row.chain is not None]
            right = f"= {last.answer.text}"
            assert not any(text.startswith(f"{last.key} =") and text.endswith(right) for text in shown)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_wrong_value_is_named_where_the_right_one_is_asked_for(level: int) -> None:
    """Whoever copies the wrong line as its correction is told the slip by name."""
    for number in NUMBERS:
        item = problem(level, number)
        reason, corrected = item.problem.waypoints[1:3]
        slip = next(slip for slip in corrected.slips if slip.name == reason.state)
        assert corrected.answer is not None
        found = judge(corrected, f"{slip.value:.6g} {_typed(corrected.answer.unit)}")
        assert found.outcome is Outcome.SLIP and slip.id in found.slip.split()


def _typed(unit: str) -> str:
    return {"ohm": "Ω", "C": "°C"}.get(unit, unit)


def test_slips_of_the_trade_are_put_in() -> None:
    """Errors of several kinds: wrong corners, terms left out, lost prefixes, wrong picks from a shelf."""
    put_in = {item.problem.waypoints[1].state for level in (1, 2, 3) for item in (problem(level, n) for n in NUMBERS)}
    assert len(put_in) >= 40


def test_a_power_of_ten_let_into_a_step_is_a_lost_prefix() -> None:
    right = read_expression("(V_I - V_Z)/(I_L + I_Z)")
    assert has_lost_prefix(read_expression("(V_I - V_Z)/((I_L + I_Z)*1000)"), right)
    assert not has_lost_prefix(read_expression("(V_I - V_Z)/I_L"), right)
