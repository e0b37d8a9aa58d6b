"""Papers of the invented class marked: what each working is worth, said by hand, and why.

The rules are the boards' general marking instructions: error carried forward in full (AQA, general marking instructions
3.4; SQA Mathematics marking guidance of August 2014), method kept through an arithmetic slip (key to mark codes, M and
A), marks awarded and never taken away (SQA, Physics: general marking principles, BA7377, March 2017).
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest

from tests.sets.demo_class import DIVIDER_TURNED, JUNCTION_ADDED, LEARNERS, POWER_OF_TEN, RIGHT, UNREAD, paper_of
from tutor.errors import SteadyrailError
from tutor.sets.by_hand import Override
from tutor.sets.marking import PRACTICE, LineLeft, MarkedPaper, mark_paper, scaled
from tutor.sets.marks_record import from_json, record_of, to_json
from tutor.sets.paper import Rules
from tutor.sets.returned import Returned, by_headings, unreadable
from tutor.sets.slips_met import OF_THE_TRADE
from tutor.views.commands.site import BANK
from tutor.working.check import check_working
from tutor.working.finding import Code

USUAL = Rules()


@cache
def marked(
    text: str, tolerance: float = 0.01, *, figures: bool = False, follow: bool = True, asked: bool = False
) -> MarkedPaper:
    rules = Rules(tolerance, figures, follow, asked)
    return mark_paper(paper_of(LEARNERS[0], rules), by_headings(text, 3))


def won(paper: MarkedPaper) -> list[tuple[float, int]]:
    """Marks on the paper's scale and marks of the scheme, question by question."""
    return [(item.marks, item.won) for item in paper.questions]


def ledger(paper: MarkedPaper, question: int) -> dict[str, str]:
    """Each waypoint's marks, as M1 A0."""
    points = paper.questions[question - 1].points
    return {point.key: " ".join(f"{entry.kind.value}{entry.got}" for entry in point.entries) for point in points}


@pytest.mark.parametrize(
    ("text", "marks"),
    [
        (RIGHT, [(5, 5), (4, 6), (4, 4)]),
        # The divider upside down costs its own M and A, the state said from it its B; the output follows: M and A.
        (DIVIDER_TURNED, [(2, 2), (4, 6), (3, 3)]),
        # The junction added costs M and A of V_O; load and base current follow: 4 of 6, on a scale of four 2.67 -> 2.5.
        (JUNCTION_ADDED, [(5, 5), (2.5, 4), (2, 2)]),
        # The open bracket earns nothing by itself; V_O = 15 V stands alone and is right.
        (UNREAD, [(2, 2), (0, 0), (1, 1)]),
        # A power of ten lost costs one A, and what follows from it nothing: 5 of 6, 3.33 -> 3.5.
        (POWER_OF_TEN, [(5, 5), (3.5, 5), (0, 0)]),
        ("", [(0, 0), (0, 0), (0, 0)]),
    ],
)
def test_what_each_working_is_worth(text: str, marks: list[tuple[float, int]]) -> None:
    """By hand, question by question: on the paper's scale, and of the scheme."""
    assert won(marked(text)) == marks


def test_words_without_a_label_are_answers_where_words_alone_are_asked_for() -> None:
    """`V_O stays` says of which letter it speaks; a problem without a sheet has no relation to take it for."""
    plain = RIGHT.replace(":", "").replace("q3", "q3:")
    assert "V_O stays" in plain
    assert won(marked(plain)) == won(marked(RIGHT))


def test_the_ledger_says_which_mark_and_why() -> None:
    """Every mark of the scheme has its line and its reason."""
    paper = marked(DIVIDER_TURNED)
    assert ledger(paper, 1) == {"V_TH": "M0 A0", "state": "B0", "V_O": "M1 A1"}
    output = paper.questions[0].points[2]
    assert [entry.why for entry in output.entries] == [
        "the right relation, your own values put in",
        "follow-through: right if the zener is off, as you concluded",
    ]  # fmt: skip
    assert ledger(marked(POWER_OF_TEN), 2) == {"V_O": "M1 A1", "I_L": "M1 A0", "I_B": "M1 A1"}


def test_where_to_look_first_and_what_rests_on_it() -> None:
    """The first wrong line, the lines that follow from it, the slip's name, a fresh problem of the same sort."""
    question = marked(DIVIDER_TURNED).questions[0]
    assert question.first_wrong is not None and question.first_wrong.number == 1
    assert question.resting == (2, 3)
    assert question.slips == ("the divider turned upside down",)
    assert question.fresh == "zener-state:1:4" and PRACTICE == BANK, "a page of the site has it"
    assert marked(POWER_OF_TEN).questions[1].slips == (OF_THE_TRADE["power-of-ten"],)


def test_lines_that_could_not_be_read_are_left_with_their_place_in_the_file() -> None:
    """The second line of a question may be the fourth of its file."""
    left = marked(UNREAD).left
    assert [(line.question, line.line, line.in_file) for line in left] == [(1, 1, 3), (1, 2, 4)]
    assert left[0] == LineLeft(1, 1, 3, "V_TH = 30 × 330/(100 + 330 = 23.0 V", "the bracket '(' is never closed")


@pytest.mark.parametrize("marks", [1, 4, 5, 7, 10])
def test_marks_are_scaled_to_the_nearest_half_and_a_quarter_goes_up(marks: int) -> None:
    """Against exact fractions; none stays none, all stays all, and more won is never less."""
    for of in range(1, 25):
        found = [scaled(won, of, marks) for won in range(of + 1)]
        assert found[0] == 0 and found[-1] == marks
        assert found == sorted(found)
        for won, value in enumerate(found):
            off = Fraction(value) - Fraction(won * marks, of)
            assert -Fraction(1, 4) < off <= Fraction(1, 4)


def test_a_question_whose_scheme_has_no_marks_is_worth_none() -> None:
    """Whatever it counts on the paper."""
    assert scaled(0, 0, 5) == 0


def test_without_follow_through_only_the_lecturers_values_count() -> None:
    """Method stays; accuracy that rests on a slip is lost."""
    assert won(marked(JUNCTION_ADDED, follow=False))[1] == (1.5, 2)
    assert won(marked(RIGHT, follow=False)) == won(marked(RIGHT))


def test_a_mark_for_figures_is_one_more_of_the_scheme() -> None:
    """Three figures say what is known; the mark is there for problems across circuits, too, where a value is asked."""
    paper = marked(RIGHT, figures=True)
    assert [item.there_are for item in paper.questions] == [6, 7, 4]
    assert ledger(paper, 1)["figures"] == "B1"
    assert [item.marks for item in paper.questions] == [5, 4, 4]
    seven = RIGHT.replace("= 23.0 V", "= 23.02326 V")
    assert ledger(marked(seven, figures=True), 1)["figures"] == "B0"


def test_where_working_is_asked_for_a_bare_value_implies_no_method() -> None:
    """'Show that': the right value alone earns neither M nor the A that needs it."""
    assert ledger(marked(UNREAD), 1)["V_O"] == "M1 A1"
    assert ledger(marked(UNREAD, asked=True), 1)["V_O"] == "M0 A0"


def off(text: str) -> str:
    """The right paper with another value of V_TH (it is 23.02 V)."""
    return RIGHT.replace("V_TH = V_I R_L/(R + R_L) = 30 × 330/(100 + 330) = 23.0 V", text)


@pytest.mark.parametrize(
    ("line", "usual", "wider"),
    [
        ("V_TH = V_I R_L/(R + R_L) = 30 × 330/(100 + 330) = 23.6 V", "M1 A0", "M1 A1"),  # 2.5 % off, by arithmetic
        ("V_TH = 23.6 V", "M0 A0", "M1 A1"),  # the same, bare
        ("V_TH = V_I R_L/(R + R_L) = 30 × 330/(100 + 330) = 24.4 V", "M1 A0", "M1 A0"),  # 6 %: too far for any set
        ("V_TH = V_I × 0.785 = 23.6 V", "M0 A0", "M0 A0"),  # near by a relation that is wrong
    ],
)
def test_a_wider_tolerance_widens_the_marks_alone(line: str, usual: str, wider: str) -> None:
    """At 1 % and at 3 %; a wrong relation earns nothing however near its value; the checker says as before."""
    assert ledger(marked(off(line)), 1)["V_TH"] == usual
    assert ledger(marked(off(line), 0.03), 1)["V_TH"] == wider
    sheet = paper_of(LEARNERS[0]).asked[0].sheet
    assert sheet is not None
    assert check_working(line, sheet).findings[0].code is Code.FAILS


def test_what_is_within_the_tolerance_is_said_to_be_so() -> None:
    """By how much it is off, and what is allowed."""
    finding = marked(off("V_TH = 23.6 V"), 0.03).questions[0].checked.findings[0]
    assert (finding.code, finding.why) == (Code.HOLDS_HERE, "2.5 % off, within the 3 % allowed here")


def override(question: int, waypoint: str, marks: float, note: str = "seen at the desk") -> Override:
    return Override(question, waypoint, marks, note, "override.csv, line 2")


def test_what_a_human_decides_wins() -> None:
    """Of a question on the paper's scale; of a waypoint in marks of its scheme, which are then scaled."""
    paper = paper_of(LEARNERS[0])
    returned = by_headings(JUNCTION_ADDED, 3)
    whole = mark_paper(paper, returned, [override(2, "", 3.5)])
    assert won(whole)[1] == (3.5, 4)
    assert whole.questions[1].by_hand == "by hand: seen at the desk"
    part = mark_paper(paper, returned, [override(2, "V_O", 1)])
    assert won(part)[1] == (3.5, 5)  # 5 of 6 on a scale of four: 3.33
    assert ledger(part, 2)["V_O"] == "M1 A0"
    assert [entry.why for entry in part.questions[1].points[0].entries] == ["by hand: seen at the desk"] * 2
    assert ledger(mark_paper(paper, returned, [override(2, "I_L", 0)]), 2)["I_L"] == "M0 A0"
    assert ledger(mark_paper(paper, returned, [override(2, "V_O", 2)]), 2)["V_O"] == "M1 A1"


@pytest.mark.parametrize(
    ("decided", "sentence"),
    [
        (override(2, "", 4.5), "override.csv, line 2: question 2 has 4 marks (got 4.5)"),
        (override(2, "V_O", 3), "override.csv, line 2: the waypoint V_O has 2 marks in its scheme (got 3)"),
        (override(2, "V_0", 1), "override.csv, line 2: there is no waypoint 'V_0'; did you mean 'V_O'?"),
    ],
)
def test_a_decision_that_there_is_no_room_for_is_refused(decided: Override, sentence: str) -> None:
    """With the line it stands on."""
    with pytest.raises(SteadyrailError) as refused:
        mark_paper(paper_of(LEARNERS[0]), None, [decided])
    assert refused.value.sentence == sentence


def test_whoever_returned_nothing_readable_does_not_count_unless_a_human_says_so() -> None:
    """A broken file says nothing of what its learner knows; a blank one does."""
    paper = paper_of(LEARNERS[0])
    assert not mark_paper(paper, None).counts
    assert not mark_paper(paper, unreadable("too large", "w06.txt")).counts
    assert mark_paper(paper, Returned()).counts
    assert mark_paper(paper, None, [override(1, "", 2)]).counts


@pytest.mark.parametrize("text", [RIGHT, DIVIDER_TURNED, UNREAD, ""])
def test_a_record_comes_back_from_json_as_it_went(text: str) -> None:
    """On one line, whatever was typed."""
    record = record_of(marked(text))
    line = to_json(record)
    assert "\n" not in line
    assert from_json(line) == record


@pytest.mark.parametrize("line", ["", "{}", "[]", "null", '{"id": 1}', "not json"])
def test_what_is_no_record_is_said_to_be_none(line: str) -> None:
    """ValueError, whatever is at fault with it."""
    with pytest.raises(ValueError):
        from_json(line)
