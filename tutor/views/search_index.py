"""The search: an index of lessons by section, letters, terms, circuits and kinds of problem, and the page that asks it.

Vocabulary: a *place* is somewhere on the site that can be found; its *keys* are names that mean it alone (the letter
V_Z, typed `Vz`), its *words* those of the text that stands there, each once. Words are *folded*: in small letters,
without underscores, formulas read as their letters.
Place in the data flow: SiteContent + lessons + glossary -> `assets/search_index.js` -> assets/search.js, which folds
what is typed in the same way. Only that page loads the index.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jinja2 import Environment

from tutor.quantities.prose import prose_text
from tutor.quantities.symbols import SYMBOLS, split_name
from tutor.views.content import SiteContent
from tutor.views.data_scripts import assigned
from tutor.views.glossary import Term
from tutor.views.lessons import Lesson
from tutor.views.lettering import symbol_parts
from tutor.views.pages import Page, frame_values, level_name
from tutor.views.press import typeset

# What a place is called at the end of its line; of two equal finds the one named first here stands first.
KINDS = ("letter", "term", "lesson", "circuit", "problems", "page")
_WORD = re.compile(r"[^\W_]+(?:_[^\W_]+)*")
_HYPHENED = re.compile(r"[^\W_]+(?:-[^\W_]+)+")
_PLACEHOLDER = re.compile(r"^\{\{.*\}\}$", re.MULTILINE)
# Words that stand everywhere and tell nothing.
_STOP = (
    "a an and are as at be been but by can do does each for from had has have he her his how if in into is it its "
    "may more most must no not of off on one only or other out over s so than that the their them then there these "
    "they this those to too up was what when where which while who will with would you your"
)
STOP = frozenset(_STOP.split())


@dataclass(frozen=True)
class Found:
    """A place: its kind, title (of a letter its main and its subscript), address, what it is about, keys and words."""

    kind: str
    title: str | tuple[str, str]
    href: str
    about: str
    keys: tuple[str, ...]
    words: tuple[str, ...]
    levels: tuple[tuple[int, str], ...] = ()


def folded(text: str) -> list[str]:
    """The words of a text as they are looked for, in order; one with hyphens also as a whole.

    >>> folded("Drop-out of $V_Z$")
    ['drop', 'out', 'of', 'vz', 'dropout']
    """
    small = text.lower()
    words = [found.replace("_", "") for found in _WORD.findall(small)]
    return words + [found.replace("-", "").replace("_", "") for found in _HYPHENED.findall(small)]


def _telling(texts: Iterable[str]) -> tuple[str, ...]:
    """The words of texts that tell something, each once."""
    words = {word for text in texts for word in folded(text)} - STOP
    return tuple(sorted(word for word in words if not word.isdigit() and (len(word) > 1 or not word.isascii())))


def places(content: SiteContent, lessons: tuple[Lesson, ...], terms: tuple[Term, ...]) -> Iterator[Found]:
    """Every place of the site that can be found."""
    yield from _letters(content)
    for term in terms:
        about = prose_text(term.means)
        yield Found("term", term.term, f"glossary.html#{term.id}", about, (), _telling((about, *term.also)))
    for lesson in lessons:
        for section in lesson.sections():
            href = f"lessons/{lesson.id}.html{'#' if section.id else ''}{section.id}"
            about = f"in {lesson.title}" if section.id else ""
            words = _telling((lesson.title, _PLACEHOLDER.sub("", section.text)))
            yield Found("lesson", section.title, href, about, (), words)
    for circuit in content.circuits().values():
        words = _telling((circuit.id, *circuit.symbols, *(title for title, _, _ in circuit.laws)))
        href = f"circuits/{circuit.id}.html"
        yield Found("circuit", circuit.title, href, prose_text(circuit.purpose), (), words)
    for family in content.families():
        levels = tuple(
            (level.level, f"problems/{level_name(family, level)}.html") for level in family.levels if level.problems
        )
        if levels:
            asked = [prose_text(level.about) for level in family.levels]
            words = _telling((family.id, *asked))
            yield Found("problems", family.title, levels[0][1], prose_text(family.about), (), words, levels)
    for title, href, about in _PAGES:
        yield Found("page", title, href, about, (), ())


_PAGES = (
    ("Sheets for a class", "lecturer.html", "problems chosen for a class, printed with their key"),
    ("Your own numbers", "own.html", "anybody’s own numbers, worked and checked"),
    ("Design desk", "desks.html", "parts chosen and judged at every corner"),
    ("Conventions and letter symbols", "symbols.html", "what the letters mean, and how values are written"),
    ("Glossary", "glossary.html", "terms of the trade in a sentence each"),
    ("Formula sheets", "formulas.html", "the derived relations of every circuit, to print"),
)


def _letters(content: SiteContent) -> Iterator[Found]:
    """The letters of the table that stands on the page of letters."""
    names = dict.fromkeys(split_name(name).base for item in content.circuits().values() for name in item.symbols)
    for name in names:
        symbol = SYMBOLS[name]
        keys = tuple(dict.fromkeys(word.replace("_", "").lower() for word in (name, *symbol.aliases)))
        title = symbol_parts(name)
        href = f"symbols.html#letter-{name}"
        yield Found("letter", title, href, symbol.meaning, keys, _telling((symbol.meaning,)))


def search_index(found: Iterable[Found]) -> str:
    """The script with the index: the same bytes every time."""
    rows = [
        [
            KINDS.index(item.kind),
            list(item.title) if isinstance(item.title, tuple) else item.title,
            item.href,
            typeset(item.about),
            " ".join(item.keys),
            " ".join(item.words),
            *([list(map(list, item.levels))] if item.levels else []),
        ]
        for item in found
    ]
    return assigned("searchIndex", {"kinds": KINDS, "stop": sorted(STOP), "places": rows}, ascii_only=False)


def search_pages(
    content: SiteContent, lessons: tuple[Lesson, ...], terms: tuple[Term, ...], press: Environment
) -> Iterator[Page]:
    """The page of the search, and its index."""
    text = press.get_template("search.html").render(
        frame_values("Search", "", "search", "Lessons, letters, terms, circuits and problems by their words.", ""),
        sheets=("book", "search"),
        scripts=("search_index", "search"),
    )
    yield Page("search.html", text)
    yield Page("assets/search_index.js", search_index(places(content, lessons, terms)))
