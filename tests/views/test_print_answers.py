"""The answer table: every answer of every learner, on as few pages as hold them, heads repeated."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from tests.views.print_samples import NAMES, NASTY, page_texts, paper_of, plain, text_of
from tutor.errors import SteadyrailError
from tutor.sets.paper import Learner
from tutor.views.print.answers import answer_row, answer_table_pdf, answers_pdf
from tutor.views.print.parts import answer_told, parts_of

PAPERS = [
    paper_of([f"zener-resistor:2:{number}", f"supply-ripple:3:{number}"], learner=Learner(f"K-{number:02d}", name))
    for number, name in ((1, "Ada Marsh"), (2, ""), (3, NASTY[0]))
]


def test_a_small_class_is_on_one_sheet_with_every_answer() -> None:
    """Ten columns: the sheet lies on its side."""
    pdf = answers_pdf(PAPERS)
    pages = PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == 1 and pages[0].mediabox.width > pages[0].mediabox.height
    text = text_of(pdf)
    for paper in PAPERS:
        assert paper.learner.id in text
        assert plain(paper.learner.name).replace(" ", "") in text.replace(" ", "")
        for item in paper.asked:
            assert all(answer_told(part) in text for part in parts_of(item))


def test_a_large_class_goes_on_under_repeated_heads() -> None:
    """Two hundred learners: each page has the heads, no learner is lost."""
    row = answer_row(PAPERS[0])
    rows = [replace(row, learner=Learner(f"L{number:03d}")) for number in range(200)]
    pages = page_texts(answer_table_pdf(PAPERS[0].set, rows))
    assert len(pages) > 3 and all("Question 1" in page and "learner" in page for page in pages)
    whole = " ".join(pages)
    assert all(f"L{number:03d}" in whole for number in range(200))


def test_many_questions_stand_in_several_tables() -> None:
    """What does not fit beside one another is set below, each table with every learner."""
    text = text_of(answers_pdf([paper_of([*NAMES, *NAMES])]))
    assert text.count("K-07") > 1
    assert "G B D E F C A" in text  # the order of the statements, by their letters


def test_options_are_told_by_the_letters_that_the_paper_gives_them() -> None:
    """Long options have letters; short ones stand for themselves."""
    wrong, direction = (paper_of(NAMES).asked[place] for place in (3, 4))
    assert [answer_told(part) for part in parts_of(wrong)] == ["line 2", "A", "54.3 mA", "C"]
    assert [answer_told(part) for part in parts_of(direction)] == ["stays", "stays", "falls", "falls"]


def test_papers_that_ask_different_numbers_are_refused() -> None:
    """And so is a table of none."""
    with pytest.raises(SteadyrailError, match="K-02 asks another number of questions"):
        answers_pdf([PAPERS[0], replace(PAPERS[1], asked=PAPERS[1].asked[:1])])
    with pytest.raises(SteadyrailError, match="no papers"):
        answers_pdf([])
