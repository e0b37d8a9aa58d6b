"""Answers in words: which option a line names, whichever way it is put, and what is no answer.

The words for a direction and the signs between causes are common speech; no source.
"""

from __future__ import annotations

import pytest

from tutor.generate.problem import Remark, Waypoint, WaypointKind
from tutor.quantities.quantity import given
from tutor.views.checking import check
from tutor.working.finding import Code
from tutor.working.word_answers import answered_in_words, word_answers, word_marks

DIRECTION = Waypoint(
    "V_O", WaypointKind.STATE, "", None, 0.0, 0.0, (), ("rises", "falls", "stays"), "falls", (),
    (Remark("rises", "", "$P_O = V_O*I_L$: what moves"),),
)  # fmt: skip
ORDER = Waypoint(
    "order", WaypointKind.ARRANGEMENT, "", None, 0.0, 0.0, (), ("A", "B", "C"), "B; A; C", (),
    places=("first", "second", "last"), arrangements=("B; A; C",),
)  # fmt: skip
JOINED = Waypoint(
    "joining", WaypointKind.ARRANGEMENT, "", None, 0.0, 0.0, (), ("the input node", "ground"), "ground; the input node",
    (), places=("cathode", "anode"), arrangements=("ground; the input node",),
)  # fmt: skip
REASON = Waypoint(
    "reason", WaypointKind.STATE, "", None, 0.0, 0.0, (), ("$alpha_Z*V_Z$ left out", "no load"), "no load", ()
)
VALUE = Waypoint("turned", WaypointKind.VALUE, "", given(0.7, "V"), 0.69, 0.71, (), (), "", ())


@pytest.mark.parametrize(
    ("line", "point", "code"),
    [
        ("V_O: falls", DIRECTION, Code.HOLDS), ("vo = goes down", DIRECTION, Code.HOLDS),
        ("V_O drops", DIRECTION, Code.HOLDS), ("V_O goes up", DIRECTION, Code.FAILS),
        ("V_O does not change", DIRECTION, Code.FAILS), ("V_O does not rise", DIRECTION, Code.UNREAD),
        ("V_O: it doesn't rise", DIRECTION, Code.UNREAD), ("V_O: rises or falls", DIRECTION, Code.UNREAD),
        ("order: B A C", ORDER, Code.HOLDS), ("order: B -> A → C", ORDER, Code.HOLDS), ("b, a, c", ORDER, Code.HOLDS),
        ("order: B; C; A", ORDER, Code.FAILS), ("order: B; A", ORDER, Code.UNREAD),
        ("joining: Ground, the INPUT node", JOINED, Code.HOLDS),
        ("reason: no load", REASON, Code.HOLDS), ("reason: α_Z V_Z left out", REASON, Code.FAILS),
        ("reason: alpha_Z V_Z left out", REASON, Code.FAILS),
        ("turned = 0.7 V", VALUE, Code.HOLDS), ("turned: 7 V", VALUE, Code.FAILS), ("turned: $5", VALUE, Code.UNREAD),
    ],
)  # fmt: skip
def test_what_a_line_answers(line: str, point: Waypoint, code: Code) -> None:
    (answer,) = word_answers(line, (point,), words_alone=True)
    assert answer.finding.code is code, answer.finding.why


def test_a_formula_in_a_reason_is_told_as_it_is_printed() -> None:
    (answer,) = word_answers("V_O: rises", (DIRECTION,), words_alone=True)
    assert answer.finding.why == "Not so. P_O = V_O I_L: what moves"


def test_among_relations_only_labelled_lines_are_answers() -> None:
    points = (DIRECTION, VALUE)
    text = "V_O stays\nturned = 0.7 V\nV_O: falls"
    answers = word_answers(text, points, words_alone=False)
    assert [answer.finding.number for answer in answers] == [3]
    ledger = word_marks(answered_in_words(points, words_alone=False), answers)
    assert [(entry.waypoint, entry.got, entry.line) for entry in ledger] == [("V_O", 1, 3)]


def test_a_value_asked_for_beside_words_alone_has_its_mark() -> None:
    """complete-the-circuit:1:1 asks for a joining and for the output with the zener turned, a junction's 0.7 V."""
    found = check("turned = 0.7 V", problem="complete-the-circuit:1:1")
    assert found.marks is not None and (found.marks.got, found.marks.of) == (1, 2)
    nothing = check("", problem="complete-the-circuit:1:1")
    assert nothing.marks is not None and (nothing.marks.got, nothing.marks.of) == (0, 2)
