"""The path as pages: the contents, a page for every topic, today's page, the mixed sets, and what their scripts know.

Vocabulary: a *topic* is a family with the section of the lesson that explains it; it *builds on* earlier topics; a
*method* is the law that leads in a level's worked solution: problems of one method are worked alike.
Place in the data flow: SiteContent + lessons -> topics -> pages (this file) -> files (site.py). Only formatting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jinja2 import Environment
from markupsafe import Markup

from tutor.errors import SteadyrailError
from tutor.generate.name import read_name
from tutor.views.content import FamilyContent, LevelContent, SiteContent, StageContent
from tutor.views.data_scripts import assigned
from tutor.views.lessons import Lesson, set_lesson
from tutor.views.pages import Page, frame_values, level_links, level_name
from tutor.views.schematic import renamed

_WRONG_LINES = "find-the-wrong-line"
PART_WORKED = (2, 3, 4)  # numbers of level 1, after number 1, which is worked; with less and less help
WHOLE = (5, 6, 7)


@dataclass(frozen=True)
class Topic:
    """A family as a place on the path: its stage, the lesson that explains it (if any), what it builds on."""

    family: FamilyContent
    stage: StageContent
    lesson: Lesson | None
    builds_on: tuple[FamilyContent, ...]

    @property
    def href(self) -> str:
        """Where its page stands, from the site's root."""
        return f"topics/{self.family.id}.html"

    @property
    def has_section(self) -> bool:
        """Whether its lesson has a section about it."""
        return self.lesson is not None and bool(self.lesson.section_of(self.family.id))


@dataclass(frozen=True)
class PathLine:
    """A line of a list that leads to a problem: its words, where it leads, what stands at its end.

    With a `number` the record says there what was made of that problem of the topic's first level.
    """

    words: str
    href: str
    end: str = ""
    number: int = 0


def topics_of(content: SiteContent, lessons: tuple[Lesson, ...]) -> tuple[Topic, ...]:
    """Every family with problems, in the order in which the lessons explain them.

    A family builds on what its lesson says, or else on the family before it that is about the same circuit. Families
    that the content lacks are left out. SteadyrailError where one is said to build on what comes after it.
    """
    named = {lesson.id: lesson for lesson in lessons}
    places = {lesson.id: at for at, lesson in enumerate(lessons)}
    topics: list[Topic] = []
    for stage in content.stages:
        here = [family for family in stage.families if any(level.problems for level in family.levels)]
        for family in sorted(here, key=lambda item: _place(item, named, places)):
            lesson = named.get(family.lesson)
            topics.append(Topic(family, stage, lesson, _needed(family, lesson, topics, content)))
    return tuple(topics)


def _place(family: FamilyContent, named: dict[str, Lesson], places: dict[str, int]) -> tuple[int, int]:
    lesson = named.get(family.lesson)
    return (len(places), 0) if lesson is None else (places[lesson.id], lesson.place_of(family.id))


def _needed(
    family: FamilyContent, lesson: Lesson | None, before: list[Topic], content: SiteContent
) -> tuple[FamilyContent, ...]:
    earlier = {topic.family.id: topic.family for topic in before}
    if lesson is not None and family.id in lesson.builds_on:
        there = {item.id for item in content.families() if any(level.problems for level in item.levels)}
        for name in lesson.builds_on[family.id]:
            if name in there and name not in earlier:
                raise SteadyrailError(
                    f"{lesson.file} says that {family.id} builds on {name}, which comes after it on the path; "
                    "it can build on what comes before"
                )
        return tuple(earlier[name] for name in lesson.builds_on[family.id] if name in earlier)
    same = [item for item in earlier.values() if family.circuit and item.circuit == family.circuit]
    return tuple(same[-1:])


def method_of(family: FamilyContent, level: LevelContent) -> str:
    """The law that leads in a level's worked solution: of the first step that reaches what is asked for by a law.

    The same words are the same method, on whatever circuit; where no law leads, the family is its own method.
    """
    for step in level.problems[0].solution.steps:
        if step.law and step.waypoint:
            return step.title
    return f"{family.id}, by reasons"


def path_data(topics: tuple[Topic, ...]) -> dict[str, object]:
    """What the scripts know of the path: stages, families in order, levels with their count and method."""
    methods: dict[str, int] = {}
    families = []
    for topic in topics:
        levels = []
        for level in topic.family.levels:
            if level.problems:
                method = methods.setdefault(method_of(topic.family, level), len(methods))
                levels.append({"level": level.level, "count": len(level.problems), "method": method})
        families.append(
            {"id": topic.family.id, "title": topic.family.title, "stage": topic.stage.number, "levels": levels}
        )
    stages = {topic.stage.number: topic.stage.title for topic in topics}
    return {
        "stages": [{"number": number, "title": title} for number, title in stages.items()],
        "families": families,
    }


def path_pages(content: SiteContent, lessons: tuple[Lesson, ...], press: Environment) -> Iterator[Page]:
    """The contents, today's page, the mixed sets, every topic's page, and the script with what they know."""
    topics = topics_of(content, lessons)
    yield contents_page(content, lessons, topics, press)
    yield Page("assets/path.js", assigned("path", path_data(topics)))
    yield _plain_page("today", "Today’s page", "What is due to come back today, what holds, and the record.", press)
    yield _plain_page("mixed", "A mixed set", "Problems whose neighbours need different methods.", press, topics)
    for topic in topics:
        yield topic_page(topic, topics, content, press)


def _plain_page(name: str, title: str, summary: str, press: Environment, topics: tuple[Topic, ...] = ()) -> Page:
    stages = {topic.stage.number: topic.stage.title for topic in topics}
    text = press.get_template(f"{name}.html").render(
        frame_values(title, "", name, summary, ""),
        sheets=("book", "path"),
        scripts=("record_words", "path", "mixed_set", "problem_list", f"{name}_page"),
        stages=stages,
    )
    return Page(f"{name}.html", text)


def contents_page(
    content: SiteContent, lessons: tuple[Lesson, ...], topics: tuple[Topic, ...], press: Environment
) -> Page:
    """The opening page: what the site is for, and everything in it in the order of the path."""
    stages = [
        {
            "stage": stage,
            "lessons": [lesson for lesson in lessons if lesson.stage == stage.number],
            "topics": [
                {"topic": topic, "levels": level_links(topic.family, "")} for topic in topics if topic.stage is stage
            ],
        }
        for stage in content.stages
    ]
    text = press.get_template("contents.html").render(
        frame_values(
            "Steadyrail", "", "contents", "Problems in linear regulators, worked and checked line by line.", ""
        ),
        sheets=("book", "path"),
        scripts=("record_words", "path_dates"),
        stages=stages,
    )
    return Page("index.html", text)


def topic_page(topic: Topic, topics: tuple[Topic, ...], content: SiteContent, press: Environment) -> Page:
    """One topic from its lesson to its mixed sets: what is read, what is worked, what the reader works."""
    family, stage = topic.family, topic.stage
    first = next(level for level in family.levels if level.problems)
    shown = first.problems[0]
    text = press.get_template("topic.html").render(
        frame_values(family.title, "../", "topic", f"Topic: {family.title}.", f"{stage.number}. {stage.title}"),
        sheets=("problem", "book", "path"),
        scripts=("steps", "prediction", "record_words", "path_dates"),
        family=family,
        stage=stage,
        lesson=topic.lesson,
        section=_section(topic, content, press),
        derives="{{derivation:" in topic.lesson.section(family.id).text if topic.lesson else False,
        circuit=content.circuits().get(first.circuit or family.circuit),
        needed=topic.builds_on,
        needed_by=[other.family for other in topics if family in other.builds_on],
        shown=shown,
        drawing=renamed(shown.schematic_svg, after="-worked"),  # the lesson's section may show the same drawing
        part_worked=_numbers(family, first, PART_WORKED),
        whole=_numbers(family, first, WHOLE),
        levels=[link for link in level_links(family, "../") if link.number != first.level],
        desks=[level_name(family, level) for level in family.levels if level.desk is not None],
        has_own=any(offer.circuit.id == family.circuit for offer in content.own),
        first=first.level,
        numbers=[level.level for level in family.levels if level.problems],
        wrong_line=wrong_line_about(family, content),
    )
    return Page(topic.href, text)


def _section(topic: Topic, content: SiteContent, press: Environment) -> Markup:
    if topic.lesson is None or not topic.has_section:
        return Markup("")
    return set_lesson(topic.lesson.section(topic.family.id), content.circuits(), (), press)


def _numbers(family: FamilyContent, level: LevelContent, numbers: tuple[int, ...]) -> list[PathLine]:
    """Ways to some numbers of a level, as far as it has them."""
    name = level_name(family, level)
    return [
        PathLine(f"Problem {number}", f"../problems/{name}.html#{number}", number=number)
        for number in numbers
        if number <= len(level.problems)
    ]


def wrong_line_about(family: FamilyContent, content: SiteContent) -> PathLine | None:
    """A working with one wrong line in it that is about a problem of the family, else about one of its circuit.

    None where there is neither, and for the family of wrong lines itself.
    """
    lines = next((item for item in content.families() if item.id == _WRONG_LINES), None)
    if lines is None or lines is family:
        return None
    about = {item.id: item.circuit for item in content.families()}
    near: PathLine | None = None
    for level in lines.levels:
        for at, shown in enumerate(level.problems, start=1):
            if not shown.base:
                continue
            base = read_name(shown.base).family
            href = f"../problems/{level_name(lines, level)}.html#{at}"
            if base == family.id:
                return PathLine("A working with one wrong line in it", href, f"level {level.level}, number {at}")
            if near is None and family.circuit and about.get(base) == family.circuit:
                words = "A working with one wrong line in it, about another question on this circuit"
                near = PathLine(words, href, f"level {level.level}, number {at}")
    return near
