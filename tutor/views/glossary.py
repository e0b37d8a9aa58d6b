"""The glossary: terms of the trade in a sentence each, with the section of a lesson that explains them.

Vocabulary: a *term* is a word or two as the lessons use them; `also` are other spellings of it. The terms stand in
`site/glossary.toml`.
Place in the data flow: glossary.toml + lessons -> `glossary.html`, and entries of the search. Only formatting.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment

from tutor.errors import SteadyrailError
from tutor.views.lessons import Lesson
from tutor.views.pages import Page, frame_values

_FIELDS = {"term", "means", "lesson", "section", "also"}


@dataclass(frozen=True)
class Term:
    """A term: its meaning in prose, where it is explained (lesson and section, by id), other spellings."""

    term: str
    means: str
    lesson: str
    section: str
    also: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """Where on the glossary's page it stands."""
        return "term-" + re.sub("[^a-z0-9]+", "-", self.term.lower()).strip("-")


def read_glossary(path: Path) -> tuple[Term, ...]:
    """The terms of a file in the order of the alphabet; SteadyrailError names the term and field of a mistake."""
    try:
        rows = tomllib.loads(path.read_text(encoding="utf-8")).get("term", [])
    except tomllib.TOMLDecodeError as error:
        raise SteadyrailError(f"{path.name} is not TOML: {error}") from error
    terms = [_term(row, path.name) for row in rows]
    seen: set[str] = set()
    for item in terms:
        if item.id in seen:
            raise SteadyrailError(f"{path.name} has '{item.term}' twice; keep one of them")
        seen.add(item.id)
    return tuple(sorted(terms, key=lambda item: item.term.casefold()))


def _term(row: dict[str, object], name: str) -> Term:
    word = row.get("term", "")
    missing = _FIELDS - {"also"} - row.keys()
    if missing or row.keys() - _FIELDS:
        wrong = ", ".join(sorted(missing) or sorted(row.keys() - _FIELDS))
        verb = "lacks" if missing else "has no use for"
        raise SteadyrailError(f"a term of {name} ('{word}') {verb} {wrong}; it has term, means, lesson, section, also")
    also = row.get("also", [])
    return Term(
        str(word),
        str(row["means"]),
        str(row["lesson"]),
        str(row["section"]),
        tuple(map(str, also)) if isinstance(also, list) else (),
    )


def terms_shown(terms: Iterable[Term], lessons: tuple[Lesson, ...]) -> tuple[Term, ...]:
    """The terms whose lesson is there; one that leads to a section its lesson does not have is a SteadyrailError."""
    sections = {lesson.id: [section.id for section in lesson.sections()] for lesson in lessons}
    shown = tuple(item for item in terms if item.lesson in sections)
    for item in shown:
        if item.section not in sections[item.lesson]:
            there = ", ".join(filter(None, sections[item.lesson]))
            raise SteadyrailError(
                f"the term '{item.term}' leads to '{item.section}', but lesson '{item.lesson}' has: {there}"
            )
    return shown


def glossary_page(terms: tuple[Term, ...], lessons: tuple[Lesson, ...], press: Environment) -> Page:
    """The page of terms, each with its way to where it is explained."""
    titles = {(lesson.id, section.id): section.title for lesson in lessons for section in lesson.sections()}
    text = press.get_template("glossary.html").render(
        frame_values("Glossary", "", "glossary", "Terms of the trade, in a sentence each.", ""),
        sheets=("book", "glossary"),
        terms=[
            {
                "id": item.id,
                "term": item.term,
                "means": item.means,
                "href": f"lessons/{item.lesson}.html{'#' if item.section else ''}{item.section}",
                "title": titles[item.lesson, item.section],
            }
            for item in terms
        ],
    )
    return Page("glossary.html", text)
