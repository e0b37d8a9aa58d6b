"""A class of three who count, one who handed nothing back and one who cannot be read: its figures, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tutor.sets.class_marks import MOST_SHOWN, ClassFigures, ClassTally, PointFigures
from tutor.sets.marking import LineLeft
from tutor.sets.marks_record import LearnerRecord, MarkRecord, PointRecord, QuestionRecord
from tutor.sets.slips_met import UNNAMED

SIGN, HALF, COPIED = "a sign turned", "a factor of two", "a value copied wrongly"


def point(waypoint: str, *got: int) -> PointRecord:
    """A waypoint and what each of its marks came to."""
    return PointRecord(waypoint, f"the {waypoint}", tuple(MarkRecord("A", mark, None, "") for mark in got))


def question(
    number: int, marks: float, of: int, *points: PointRecord, working: str = "typed", slips: tuple[str, ...] = ()
) -> QuestionRecord:
    return QuestionRecord(number, "", f"question {number}", marks, of, working, None, "", points, slips)


def learner(whose: str, *questions: QuestionRecord, returned: bool = True, counts: bool = True) -> LearnerRecord:
    return LearnerRecord(whose, "", returned, counts, (), questions, ())


# The second question counted one mark on two of the papers; w3 left it out and was given its mark by hand.
W2 = learner(
    "w2", question(1, 2, 4, point("V_O", 1, 1), point("I_L", 0, 0), slips=(SIGN,)),
    question(2, 1, 1, slips=(UNNAMED, HALF)),
)  # fmt: skip
W1 = learner("w1", question(1, 4, 4, point("V_O", 1, 1), point("I_L", 1, 1)), question(2, 2, 2, slips=(UNNAMED,)))
W3 = learner(
    "w3", question(1, 1, 4, point("V_O", 1, 0), point("I_L", 0, 0), slips=(UNNAMED, SIGN)),
    question(2, 1, 1, working="", slips=(COPIED,)),
)  # fmt: skip
ABSENT = learner("w4", question(1, 0, 9), question(2, 0, 9), returned=False, counts=False)
UNREADABLE = replace(ABSENT, id="w5", returned=True, notes=("no text",))


def figures(*records: LearnerRecord) -> ClassFigures:
    tally = ClassTally("a class")
    for record in records:
        tally.add(record)
    return tally.figures()


def test_who_counts_and_how_the_marks_lie() -> None:
    """Totals 3, 6 and 2 of 6: 3.67 in the mean; tenths of six are 0.6 wide. Who does not count is in no figure."""
    found = figures(W2, ABSENT, W1, UNREADABLE, W3)
    assert (found.learners, found.counted, found.absent, found.of) == (5, 3, ("w4",), 6)
    assert found.notes == (("w5", "no text"),)
    assert found.marks is not None
    assert (found.marks.least, found.marks.median, found.marks.greatest) == (2, 3, 6)
    assert found.marks.mean == pytest.approx(11 / 3)
    assert found.bins == (0, 0, 0, 1, 0, 1, 0, 0, 0, 1)


def test_what_each_question_was_worth() -> None:
    """Q1 was won 2, 4, 1 of 4, Q2 1, 2, 1 of 2: their product-moment correlation is 15/√252; the best third less the
    last third is (4 − 1)/4 and (2 − 1)/2. Marks lost of a waypoint are counted over all three."""
    first, second = figures(W2, ABSENT, W1, UNREADABLE, W3).questions
    assert (first.question, first.title, first.of, first.answered) == (1, "question 1", 4, 3)
    assert (second.question, second.of, second.answered) == (2, 2, 2)
    assert (first.facility, second.facility) == pytest.approx((7 / 12, 2 / 3))
    assert (first.rest, second.rest) == pytest.approx((15 / math.sqrt(252),) * 2)
    assert (first.index, second.index) == pytest.approx((0.75, 0.5))
    assert first.points == (PointFigures("V_O", "the V_O", 1, 6, 1), PointFigures("I_L", "the I_L", 4, 6, 2))
    assert [item.share for item in first.points] == pytest.approx([1 / 6, 2 / 3])


def test_the_commonest_slip_is_told_first_and_one_without_a_name_last() -> None:
    """However often it was met; as often met, in the order of the alphabet. A learner's question counts once."""
    found = figures(W2, ABSENT, W1, UNREADABLE, W3)
    assert found.slips == ((SIGN, 2), (HALF, 1), (COPIED, 1), (UNNAMED, 3))
    assert found.questions[0].slips == ((SIGN, 2), (UNNAMED, 1))
    assert found.questions[1].slips == ((HALF, 1), (COPIED, 1), (UNNAMED, 2))


def test_what_cannot_be_said_is_not_said() -> None:
    """Nothing of marks where nobody counts; of one question alone nothing of how it goes with the rest."""
    nobody = figures(ABSENT, UNREADABLE)
    assert (nobody.counted, nobody.marks, nobody.bins, nobody.questions) == (0, None, (), ())
    alone = figures(*(replace(record, questions=record.questions[:1]) for record in (W1, W2, W3)))
    assert [(item.rest, item.index) for item in alone.questions] == [(None, None)]
    assert PointFigures("V_O", "", 0, 0, 0).share == 0.0  # a waypoint without marks


def test_a_report_lists_the_first_lines_left_and_counts_all() -> None:
    """And the first notes, whether or not their learner counts."""
    half = MOST_SHOWN * 3 // 4
    lines = tuple(LineLeft(1, number, None, "x", "") for number in range(half))
    notes = tuple(f"note {number}" for number in range(half))
    found = figures(*(replace(ABSENT, id=whose, left=lines, notes=notes) for whose in ("w6", "w7", "w8")))
    assert found.left_count == 3 * half
    assert found.left == tuple(("w6", line) for line in lines) + tuple(("w7", line) for line in lines[: half // 3])
    assert found.notes == tuple(("w6", note) for note in notes) + tuple(("w7", note) for note in notes[: half // 3])
