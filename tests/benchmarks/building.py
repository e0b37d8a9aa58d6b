"""The study site built, store empty and full: what a page takes, against jinja2 alone on the same pages.

A *whole* build is the command itself; for a smoke run a *topic* is built: a family of problems, its lesson, and the
circuits that this shows.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from time import process_time
from unittest.mock import patch

from jinja2 import Environment, Template
from plans import Disagreement
from processes import Contents, Ground, contents_of
from table import Row, Section, figures
from timing import Contender, Effort, Timing, interleaved

from tutor.solution.desk import our_desk
from tutor.views.assemble import assemble, topic_content
from tutor.views.content import SiteContent
from tutor.views.lessons import read_lessons
from tutor.views.site import build_site
from tutor.views.sources import site_folder

BANK = 10  # problems of each family and level
ROUNDS = 1  # the whole site with an empty store takes minutes
FAMILY = "supply-source-model"
_BUILD_TOPIC = "import sys; sys.path.append({here!r}); import building; building.build_topic({out!r})"
HOW = (
    "Site: {words}, a whole process each, one round with a new store: empty, then as the empty one left it; both sites "
    "are the same byte for byte, and times are those of one page (.html). Built alone: the same site from content at "
    "hand, in this process. jinja2 alone: every template that this build renders, with the values it rendered it with, "
    "parsed and compiled beforehand; it gives the same texts, and none is kept. All in processor time."
)


@dataclass(frozen=True)
class Rendered:
    """A template, what it was given, and the text it made of it."""

    template: Template
    values: tuple[object, ...]
    named: dict[str, object]
    text: str

    def again(self) -> str:
        """The text, rendered anew by jinja2 alone."""
        return Template.render(self.template, *self.values, **self.named)


@dataclass(frozen=True)
class Scope:
    """What is built: what it is called, the words of a process that builds it into a folder, and its content."""

    what: str
    words: Callable[[Path], tuple[str, ...]]
    content: Callable[[], SiteContent]


def quiet(_done: int, _total: int, _what: str) -> None:
    """A build that nobody watches."""


def topic() -> SiteContent:
    """One family of problems, with the circuits of its lesson."""
    told = our_desk().family(FAMILY).lesson
    (lesson,) = (item for item in read_lessons(site_folder() / "lessons") if item.id == told)
    return topic_content(our_desk(), FAMILY, BANK, lesson.stage, lesson.circuits(), quiet)


def build_topic(out: str) -> None:
    """Builds it: what a process of its own is for."""
    build_site(topic(), Path(out), quiet)


WHOLE = Scope(
    f"python -m tutor site --problems {BANK}",
    lambda out: ("-m", "tutor", "site", "--problems", str(BANK), "--out", str(out)),
    lambda: assemble(our_desk(), BANK, quiet),
)
TOPIC = Scope(
    f"{FAMILY} alone, {BANK} problems a level, with its lesson's circuits",
    lambda out: ("-c", _BUILD_TOPIC.format(here=str(Path(__file__).parent), out=str(out))),
    topic,
)


def renders_of(content: SiteContent, out: Path) -> list[Rendered]:
    """Every template rendered while the site is built."""
    found: list[Rendered] = []

    class Kept(Template):
        def render(self, *values: object, **named: object) -> str:
            text = super().render(*values, **named)
            found.append(Rendered(self, values, named, text))
            return text

    with patch.object(Environment, "template_class", Kept):
        build_site(content, out, quiet)
    return found


def require_same_texts(found: list[Rendered]) -> None:
    """Disagreement where a template renders otherwise a second time."""
    for item in found:
        if item.again() != item.text:
            raise Disagreement(f"{item.template.name} rendered again gives another text")


@dataclass
class _InThisProcess:
    """The content and its renders, made when they are first asked for: by then the round's store is full."""

    scope: Scope
    ground: Ground
    _content: SiteContent | None = field(default=None, init=False)
    _renders: list[Rendered] = field(default_factory=list, init=False)

    def content(self, number: int) -> SiteContent:
        if self._content is None:
            with patch.dict(os.environ, {"STEADYRAIL_STORE": str(self.ground.store(number))}):
                self._content = self.scope.content()
        return self._content

    def build(self, number: int) -> Callable[[], object]:
        return partial(build_site, self.content(number), self.ground.folder / "built", quiet)

    def render(self, number: int) -> Callable[[], object]:
        if not self._renders:
            self._renders = renders_of(self.content(number), self.ground.folder / "rendered")
            require_same_texts(self._renders)
        return lambda: [item.again() for item in self._renders]


def rows_for(scope: Scope, rounds: int) -> tuple[Row, ...]:
    """The rows of one scope."""
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as name:
        ground = Ground(Path(name))
        ground.run(("-c", "import tutor.views.site, tutor.views.assemble, sympy"), -1)  # bytecode is written before
        cold, warm = ground.folder / "cold", ground.folder / "warm"
        here = _InThisProcess(scope, ground)
        found = interleaved(
            {
                "empty": ground.first_process(scope.words(cold)),
                "full": ground.process(scope.words(warm)),
                "build": Contender(here.build, clock=process_time),
                "jinja2": Contender(here.render, clock=process_time),
            },
            rounds,
        )
        pages = len(list(warm.rglob("*.html")))
        return site_rows(found, pages, contents_of(cold), contents_of(warm))


def site_rows(found: dict[str, Timing], pages: int, cold: Contents, warm: Contents) -> tuple[Row, ...]:
    """The rows, a page at a time; Disagreement unless both stores gave the same site, byte for byte."""
    if cold != warm:
        raise Disagreement("the site built with an empty store and the one with a full store differ")
    told = f"{pages} pages among {warm.files} files, {figures(warm.bytes / 1e6)} MB"
    each = {name: timing.per(pages) for name, timing in found.items()}
    ours, bare = "a page, store full", "jinja2 alone"
    seconds = f"{figures(found['full'].median)} s in all"
    return (
        Row(ours, each["full"], "a page, store empty", each["empty"], told),
        Row(ours, each["full"], bare, each["jinja2"], seconds),
        Row("a page, store empty", each["empty"], bare, each["jinja2"], f"{figures(found['empty'].median)} s in all"),
        Row("a page, built alone", each["build"], bare, each["jinja2"], "content at hand"),
    )


def measure(effort: Effort) -> Section:
    """The whole site where it is measured, a topic where it is tried out."""
    scope: Scope = WHOLE if effort.measures else TOPIC
    return Section(rows_for(scope, ROUNDS), HOW.format(words=scope.what))
