"""Slips by their names: every kind that the checker can tell has one, and none is said by its id."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from pathlib import Path

from tests.sets.demo_class import questions
from tutor.generate.problem import Problem
from tutor.sets.slips_met import BAD_CHOICE, CONVENTION, OF_THE_TRADE, UNITS, UNNAMED, slips_met
from tutor.solution.sheet import Sheet, SheetSlip
from tutor.working.finding import Code, Finding

KIND = re.compile(r"[a-z]+(-[a-z]+)*")
WORKING = Path(__file__).resolve().parents[2] / "tutor" / "working"


def kinds() -> set[str]:
    """The kinds of slip in the source: alone in a tuple (of a reason), last of three (a factor), second of an Edit."""
    found = set()
    for name in ("reasons.py", "judge.py", "edits.py"):
        for node in ast.walk(ast.parse((WORKING / name).read_text(encoding="utf-8"))):
            parts: list[ast.expr] = []
            if isinstance(node, ast.Tuple) and len(node.elts) in (1, 3):
                parts = [node.elts[-1]]
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Edit":
                parts = [node.args[1]]
            found |= {part.value for part in parts if isinstance(part, ast.Constant) and isinstance(part.value, str)}
    return {kind for kind in found if KIND.fullmatch(kind)}


def test_every_kind_the_checker_tells_has_a_name() -> None:
    """Read from the source that tells them."""
    assert {"arithmetic", "copied", "sign", "left-out", "bound-turned"} <= kinds()
    assert kinds() - set(OF_THE_TRADE) == set()


def of(code: Code, *slip: str) -> Finding:
    return Finding(1, "x = 1", code, "", slip=slip)


def held() -> tuple[Problem, Sheet | None]:
    return questions()[0].problem, questions()[0].sheet


def test_names_come_from_the_problem_then_from_the_trade() -> None:
    """One of several is said as such; what only follows or cannot be read is no slip."""
    problem, sheet = held()
    slip = next(item for point in problem.waypoints for item in point.slips)
    found = slips_met(
        [
            of(Code.FAILS, slip.id), of(Code.FAILS, "sign"), of(Code.FAILS, "sign", "copied"), of(Code.FAILS),
            of(Code.UNITS), of(Code.CHOICE_BAD), of(Code.FAILS, "base-current=neglected"), of(Code.FOLLOWS),
            of(Code.UNREAD), of(Code.FAILS, "sign"),
        ],
        problem,
        sheet,
    )  # fmt: skip
    assert found[1:] == (
        OF_THE_TRADE["sign"], f"{OF_THE_TRADE['sign']} or {OF_THE_TRADE['copied']}", UNNAMED, UNITS, BAD_CHOICE,
        CONVENTION,
    )  # fmt: skip
    assert found[0] and "$" not in found[0] and found[0] != slip.id
    assert slips_met([of(Code.FAILS, slip.id)], problem, None) == found[:1]  # where there is no sheet


def test_a_slip_of_a_choice_has_its_name_from_the_sheet() -> None:
    """What the problem's waypoints do not tell; without a sheet it is its id in plain words."""
    problem, sheet = held()
    assert sheet is not None
    known = replace(sheet, slips=(SheetSlip("next-one-up", "R", 300.0, "the next value up", "", ""),))
    assert slips_met([of(Code.FAILS, "next-one-up")], problem, known) == ("the next value up",)
    assert slips_met([of(Code.FAILS, "next-one-up")], problem, None) == ("next one up",)
