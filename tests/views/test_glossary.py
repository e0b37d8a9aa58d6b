"""The glossary: each term is explained where it says, in a section that speaks of it; mistakes are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.views.glossary import Term, read_glossary, terms_shown
from tutor.views.lessons import read_lessons
from tutor.views.press import prose
from tutor.views.sources import site_folder

LESSONS = read_lessons(site_folder() / "lessons")
TERMS = read_glossary(site_folder() / "glossary.toml")
TEXTS = {
    (lesson.id, section.id): f"{section.title}\n{section.text}".replace("*", "").lower()
    for lesson in LESSONS
    for section in lesson.sections()
}


def test_the_terms_of_the_trade_are_there() -> None:
    """Terms that learners stumble over, and enough of them; every one leads somewhere."""
    words = {item.term for item in TERMS}
    assert {"starving", "headroom", "drop-out voltage", "crest", "trough", "regulation", "foldback"} <= words
    assert len(TERMS) >= 50 and terms_shown(TERMS, LESSONS) == TERMS
    assert {item.lesson for item in TERMS} == {lesson.id for lesson in LESSONS}


@pytest.mark.parametrize("term", TERMS, ids=lambda item: item.id)
def test_a_term_is_one_sentence_and_its_section_speaks_of_it(term: Term) -> None:
    text = TEXTS[term.lesson, term.section]
    assert any(word.lower() in text for word in (term.term, *term.also)), "the section does not speak of it"
    assert term.means.endswith(".") and term.means[0].isupper()
    assert term.means.count(". ") == 0, "one sentence"
    assert len(str(prose(term.means)).split()) >= 6


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[[term]\n", "words.toml is not TOML"),
        ('[[term]]\nterm = "knee"\n', "a term of words.toml ('knee') lacks lesson, means, section"),
        (
            '[[term]]\nterm = "knee"\nmeans = "M."\nlesson = "shunt"\nsection = ""\nsee = "x"\n',
            "a term of words.toml ('knee') has no use for see",
        ),
        (2 * '[[term]]\nterm = "knee"\nmeans = "M."\nlesson = "shunt"\nsection = ""\n', "has 'knee' twice"),
    ],
)
def test_a_mistake_in_the_file_is_told(text: str, told: str, tmp_path: Path) -> None:
    path = tmp_path / "words.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(SteadyrailError) as caught:
        read_glossary(path)
    assert told in caught.value.sentence


def test_a_term_that_leads_nowhere_is_told() -> None:
    lost = Term("knee", "M.", "shunt", "knees")
    with pytest.raises(SteadyrailError, match="the term 'knee' leads to 'knees', but lesson 'shunt' has: zener-state"):
        terms_shown((lost,), LESSONS)
    assert terms_shown((lost,), ()) == (), "a lesson that is not shown takes its terms with it"
