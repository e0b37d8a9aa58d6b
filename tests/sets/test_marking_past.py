"""A lecturer's own question, and numbers of each learner's own, marked like ours."""

from __future__ import annotations

from functools import cache

import pytest

from tutor.sets.marking import QuestionMarked, mark_question
from tutor.sets.paper import ClassSet, Learner, PastQuestion, Question
from tutor.sets.papers import paper_of
from tutor.sets.returned import Answer

GIVEN = {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "I_L": "10 mA"}
ASKS = PastQuestion("zener-shunt", GIVEN, ("I_Z", "P_Z"), "The rail of a tide gauge is held by a zener.")


@cache
def past() -> ClassSet:
    return ClassSet("Past", 1, (Question(ASKS),), (Learner("1"),))


def marked(text: str) -> QuestionMarked:
    return mark_question(paper_of(past(), 0).asked[0], Answer(text), past().rules)


@pytest.mark.parametrize(
    ("text", "ledger"),
    [
        # By hand: (15 - 9.1)/220 - 0.01 = 16.8 mA; 9.1 V times that is 153 mW.
        ("I_R = (V_I - V_Z)/R = 26.8 mA\nI_Z = I_R - I_L = 16.8 mA\nP_Z = V_Z I_Z = 153 mW", "M1 A1 M1 A1"),
        ("I_Z = 16.8 mA\nP_Z = 153 mW", "M1 A1 M1 A1"),
        # The load current added instead of taken off: its own M and A; the power follows from 36.8 mA.
        ("I_Z = (V_I - V_Z)/R + I_L = 36.8 mA\nP_Z = V_Z I_Z = 335 mW", "M0 A0 M1 A1"),
        ("I_Z = (V_I - V_Z)/R - I_L = 1.68 mA", "M1 A0 M0 A0"),  # a power of ten costs accuracy alone
    ],
)
def test_a_question_of_ones_own_is_marked_like_ours(text: str, ledger: str) -> None:
    """Its sheet knows nothing of what is asked; the scheme does."""
    found = marked(text)
    assert " ".join(f"{e.kind.value}{e.got}" for point in found.points for e in point.entries) == ledger
    assert found.fresh == ""
