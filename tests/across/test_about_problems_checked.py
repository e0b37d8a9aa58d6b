"""Workings on problems that are about another problem, through the door a learner uses: findings and marks."""

from __future__ import annotations

import pytest

from tutor.across.family import Posed
from tutor.across.named import posed
from tutor.generate.problem import Waypoint
from tutor.solution.desk import our_desk
from tutor.views.checking import check
from tutor.views.plain import chain_text, prose_text
from tutor.working.word_answers import is_worded

NAMES = [f"{family}:{level}:{number}" for family in ("find-the-wrong-line", "sanity-check", "estimate")
         for level in (1, 2, 3) for number in (1, 2, 3, 4)]  # fmt: skip


def answered(point: Waypoint) -> str:
    """A line that answers rightly in words, or about how much."""
    said = point.state if point.answer is None else point.answer.text
    return typed(f"{point.key}: {prose_text(said)}")


def typed(text: str) -> str:
    return text.replace("\u00a0", " ")


def worked(item: Posed) -> list[str]:
    """The lines of the solution from where it puts things right."""
    steps = item.solution.steps
    reason = next(place for place, step in enumerate(steps) if step.waypoint == "reason")
    found = []
    for step in steps[reason + 1 :]:
        said = "choose " if step.title.startswith("Choice") else ""
        found += [said + typed(chain_text(chain)) for chain in step.chains]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_all_that_is_right_wins_all_marks(name: str) -> None:
    """Answers in words, an estimate, and the lines put right under the letters they have in the problem."""
    item = posed(our_desk(), name)
    lines = [answered(point) for point in item.problem.waypoints if is_worded(point)]
    if any(not is_worded(point) for point in item.problem.waypoints):
        lines += worked(item)
    found = check("\n".join(lines), problem=name)
    assert found.marks is not None and found.first_wrong is None, [(row.text, row.why) for row in found.findings]
    assert found.marks.got == found.marks.of > 0, [row for row in found.marks.ledger if not row.got]
    assert {entry.waypoint for entry in found.marks.ledger} == {point.key for point in item.problem.waypoints}


def test_an_estimate_within_the_factor_is_right_and_one_a_thousand_out_is_named() -> None:
    """estimate:3:1: 631 ohm in full."""
    right = check("R_MAX ≈ 3 V/4 mA ≈ 800 Ω", problem="estimate:3:1")
    assert right.findings[0].code.value == "holds"
    wrong = check("R_MAX = 0.8 Ω", problem="estimate:3:1")
    assert wrong.findings[0].slip == ("milliamperes-as-amperes",) and wrong.first_wrong == 1
    told = check("some hundred", problem="estimate:1:1").findings[0].why
    assert told == "write what is asked for and about how much it is, R_BE_MIN = ... Ω"
