"""Feedback sheets: what they say, that nothing a learner typed is more than text, on a page and on paper alike."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.sets.demo_class import DIVIDER_TURNED, JUNCTION_ADDED, LEARNERS, RIGHT, SET, UNREAD, paper_of
from tutor.generate.name import read_name
from tutor.sets.asked import asked
from tutor.sets.by_hand import Override
from tutor.sets.marking import MarkedPaper, mark_paper, mark_question
from tutor.sets.paper import Learner, Look
from tutor.sets.returned import Answer, Returned, by_headings, unreadable
from tutor.solution.desk import our_desk
from tutor.views.feedback import FeedbackSheet, feedback_page, feedback_sheet, marks_shown
from tutor.views.found_words import SAID
from tutor.views.press import make_press
from tutor.views.print.feedback import feedback_pdf
from tutor.views.relettered import press_for
from tutor.views.sources import site_folder

HOSTILE = """Q1
</ol><script>alert(1)</script> = 1
V_TH = $x$ #image("/etc/passwd") \\ "quoted" = 3
V_O = 15 V\x1b[31m\u202e
Q2
<img src=x onerror=alert(1)>
"""


def sheet_of(text: str, learner: Learner = LEARNERS[1], decided: tuple[Override, ...] = ()) -> FeedbackSheet:
    return feedback_sheet(mark_paper(paper_of(learner), by_headings(text, 3), decided), SET.title)


@cache
def page_of(sheet: FeedbackSheet) -> str:
    return feedback_page(sheet, make_press(site_folder() / "templates"))


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())


def test_the_first_line_to_look_at_comes_with_what_rests_on_it_and_what_it_should_come_from() -> None:
    """The reason in words, the relation that earns its mark, the lines that follow, a fresh problem by name."""
    question = sheet_of(DIVIDER_TURNED).questions[0]
    assert [item.words for item in question.look] == [
        "First line to look at: 1. The divider turned upside down. The output is taken across the load, so R_L stands "
        "above the line.",
        "What it should come from: ",
        "Lines 2 and 3 follow from what stood before; that is not counted wrong again.",
    ]
    assert question.look[1].prose == "Output with the zener taken out: $V_TH = V_I*R_L/(R + R_L)$."
    assert (question.fresh, question.why_fresh) == ("zener-state:1:4", "to practise what was lost here")
    assert [(point.key, point.marks) for point in question.points] == [
        ("V_TH", "M0 A0"), ("state", "B0"), ("V_O", "M1 A1"),
    ]  # fmt: skip


def test_lines_stand_as_typed_with_the_part_in_question_marked() -> None:
    """Before, the part, after: together the line; its finding in words; the first wrong one is marked as that."""
    lines = sheet_of(DIVIDER_TURNED).questions[0].lines
    assert lines[0].before + lines[0].pointed + lines[0].after == "V_TH = V_I R/(R + R_L) = 30 × 100/430 = 6.98 V"
    assert lines[0].pointed == "6.98 V"
    assert [(line.kind, line.first, line.words) for line in lines] == [
        ("wrong", True, "not so"), ("plain", False, "it follows"), ("plain", False, "it follows"),
    ]  # fmt: skip


def test_a_scale_a_decision_and_lines_left_are_said() -> None:
    """How marks were scaled; what a human decided; which lines a person reads."""
    scaled = sheet_of(JUNCTION_ADDED).questions[1]
    assert (scaled.marks, scaled.scale) == ("2½", "4 of 6 marks of its scheme, to the nearest half mark of 4")
    decided = sheet_of(JUNCTION_ADDED, decided=(Override(2, "", 3, "seen at the desk", ""),)).questions[1]
    assert (decided.marks, decided.by_hand) == ("3", "by hand: seen at the desk")
    unread = sheet_of(UNREAD)
    assert unread.questions[0].look[-1].words == "Lines 1 and 2 could not be read and are left to a person."
    assert unread.questions[1].look[0].words == "Nothing was handed back for this question."
    assert unread.notes[0] == "line 8: there is no question 7; the paper asks 3 questions"


def test_half_marks_are_written_as_fractions() -> None:
    """As on paper."""
    assert [marks_shown(value) for value in (0, 0.5, 1, 12.5)] == ["0", "½", "1", "12½"]


def test_the_words_of_findings_are_those_of_the_pages() -> None:
    """The table here and that of the scripts say the same of every code."""
    script = (site_folder() / "assets" / "working_margin.js").read_text(encoding="utf-8")
    rows = re.findall(r'\["([a-z-]+)", \["([^"]+)", "([^"]+)"\]\]', script)
    said = {code: (sign, words) for code, sign, words in rows}
    assert said == {code.value: words for code, words in SAID.items()}


def test_a_page_asks_for_nothing_and_runs_nothing() -> None:
    """No script, no address of anything to load; its policy forbids both."""
    page = page_of(sheet_of(DIVIDER_TURNED))
    assert "<script" not in page and "http:" not in page.replace("http://www.w3.org", "") and "url(" not in page
    assert "default-src &#39;none&#39;; style-src &#39;sha256-" in page
    assert page.count("<h2") == 3 and "Bo Finch" in page


@pytest.mark.parametrize("name", ["<b>Bo</b>", "$x$", "=cmd()", "#let x = 1", "\\", '"', "\u202eevil"])
def test_nothing_typed_is_more_than_text(name: str) -> None:
    """In names and workings: tags stay words on a page, code stays words on paper, control signs are made visible."""
    sheet = sheet_of(HOSTILE, Learner("w02", name))
    page = page_of(sheet)
    assert "<script>" not in page and "<img" not in page and "<b>" not in page
    typed = re.sub(r'<span class="pointed">(.*?)</span>', r"\1", page)
    assert "&lt;/ol&gt;&lt;script&gt;alert(1)&lt;/script&gt;" in typed and "&lt;img src=x onerror" in typed
    assert "\x1b" not in page and "\u202e" not in page
    told = text_of(feedback_pdf(sheet, Look()))
    assert '#image("/etc/passwd")' in told.replace("“", '"').replace("”", '"')
    assert "$x$" in told


def test_paper_says_what_the_page_says() -> None:
    """Marks, reasons, the first line, the fresh problem; the same sheet, the same bytes; in the paper's letters."""
    sheet = sheet_of(DIVIDER_TURNED)
    pdf = feedback_pdf(sheet, Look())
    assert pdf == feedback_pdf(sheet, Look())
    told = text_of(pdf)
    wanted = ("9 of 13 marks", "First line to look at: 1.", "M0 A0", "zener-state:1:4", "as you concluded")
    assert [words for words in wanted if words not in told] == []
    other = text_of(feedback_pdf(sheet, Look(paper="Letter", large=True, decimal_comma=True, voltages="V_in")))
    assert "the zener’s characteristic" in other and "6.98 V" in other  # a learner's own line stays as it was typed


def test_a_page_is_in_the_letters_of_the_class_s_papers() -> None:
    """V_in for V_I, β for h_FE, a decimal comma in what we say; a learner's own line stays as it was typed."""
    look = Look(decimal_comma=True, voltages="V_in", gain="beta")
    page = feedback_page(sheet_of(JUNCTION_ADDED.replace("V_TH = 23.0 V", "V_TH = 2.30 V")), press_for(look))
    usual = page_of(sheet_of(JUNCTION_ADDED))
    assert '<mtext>in</mtext>' in page and '<mtext>in</mtext>' not in usual
    assert "5,1\xa0V" in page and "5.1\xa0V" in usual
    assert 'alttext="V_in"' in page
    assert "<mi>β</mi>" in press_for(look).filters["words"]("h_FE is large")
    assert "V_O = V_Z + V_BE = 5.1 + 0.7 = " in page.replace('<span class="pointed">', "")


@pytest.mark.parametrize("returned", [None, unreadable("'w06.txt' is too large", "w06.txt")])
def test_without_marks_a_sheet_says_why(returned: Returned | None) -> None:
    """And shows no questions as lost."""
    sheet = feedback_sheet(mark_paper(paper_of(LEARNERS[5]), returned), SET.title)
    page = page_of(sheet)
    assert "There are no marks: nothing was handed back that could be read." in page
    assert "Question 1." not in page
    assert ("too large" in page) == (returned is not None)
    assert "There are no marks" in text_of(feedback_pdf(sheet, Look()))


def test_a_sheet_with_all_right_says_nothing_of_lost_marks() -> None:
    """The fresh problem is then another of its kind."""
    sheet = sheet_of(RIGHT, Learner("w01", "Ada Wren"))
    assert sheet.marks == "13" and all(not item.look for item in sheet.questions)
    assert {item.why_fresh for item in sheet.questions} == {"for another of this kind"}


def test_a_design_of_ones_own_is_shown_at_its_worst_corners() -> None:
    """The part chosen, each demand with whether it holds and by how much: on the page and on paper."""
    item = asked(our_desk(), 1, read_name("zener-resistor:2:17"))
    marked = mark_question(item, Answer("R <= (17.5 - 11)/15m = 433 Ω\nchoose R = 390 Ω"), SET.rules)
    sheet = feedback_sheet(MarkedPaper(LEARNERS[0], (marked,), Returned()), SET.title)
    question = sheet.questions[0]
    # By hand: 6.5 V/409.5 Ω - 15 mA = 0.87 mA where 4 mA are needed.
    assert question.design == "R = 390 Ω"
    margins = [(row.holds, row.margin) for row in question.margins]
    assert margins == [(False, "3.13 mA missing"), (True, "803 mW to spare")]
    assert "3.13 mA missing" in page_of(sheet).replace("\xa0", " ")
    assert "3.13 mA missing" in text_of(feedback_pdf(sheet, Look())).replace("\xa0", " ")


def test_templates_have_no_door_of_their_own() -> None:
    """The one filter that lets markup through is for our own style and pictures."""
    for name in ("feedback.html", "class_report.html"):
        text = (Path(site_folder()) / "templates" / name).read_text(encoding="utf-8")
        assert "| safe" not in text and "| svg" not in text
