"""The path: topics build on what comes before them, methods tell kinds apart, wrong lines are about their topic.

What builds on what is common practice of the trade's courses, no source; the tests hold it to the order of the lessons.
"""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

import tutor
from tests.site.record_browser import Browser
from tutor.across.family import Setting, pose
from tutor.across.named import across_family
from tutor.errors import SteadyrailError
from tutor.generate.name import read_name
from tutor.solution.desk import our_desk
from tutor.views.assemble import STAGES
from tutor.views.content import FamilyContent, LevelContent, ProblemContent, SiteContent, StageContent
from tutor.views.lessons import Lesson, read_lessons
from tutor.views.path_pages import Topic, method_of, path_data, topics_of, wrong_line_about
from tutor.views.sources import site_folder

WRONG_LINES = 12  # numbers of each level of find-the-wrong-line that are posed here


@pytest.fixture(scope="module")
def lessons() -> tuple[Lesson, ...]:
    return read_lessons(site_folder() / "lessons")


@pytest.fixture(scope="module")
def content() -> SiteContent:
    """Every family with the first problem of each level, worked but not drawn; wrong lines with a few more."""
    desk = our_desk()
    stages: dict[int, list[FamilyContent]] = {number: [] for number, _, _ in STAGES}
    for name in tutor.families():
        family = desk.family(name)
        levels = []
        for number in (1, 2, 3):
            worked = desk.batch(desk.level(name, number), [1])[0]
            shown = ProblemContent(worked.problem, worked.solution, "", ())
            levels.append(LevelContent(number, "", (shown,), (), family.circuit_of(number)))
        stage = desk.circuit(family.circuit_of(1)).stage
        stages[stage].append(FamilyContent(name, family.title, "", family.lesson, family.circuit, tuple(levels)))
    for name in tutor.across_families():
        item = across_family(desk.folder, name)
        count = WRONG_LINES if name == "find-the-wrong-line" else 1
        levels = []
        for number in (1, 2, 3):
            posed = [pose(Setting(item, number, at, desk)) for at in range(1, count + 1)]
            shown_ones = tuple(ProblemContent(one.problem, one.solution, "", (), base=one.base) for one in posed)
            levels.append(LevelContent(number, "", shown_ones, ()))
        stages[STAGES[-1][0]].append(FamilyContent(name, item.title, "", item.lesson, "", tuple(levels)))
    told = (StageContent(number, title, "", (), tuple(stages[number])) for number, title, _ in STAGES)
    return SiteContent(tuple(told), {})


@pytest.fixture(scope="module")
def topics(content: SiteContent, lessons: tuple[Lesson, ...]) -> tuple[Topic, ...]:
    return topics_of(content, lessons)


def test_every_family_is_a_topic_and_builds_on_topics_before_it(topics: tuple[Topic, ...]) -> None:
    names = [topic.family.id for topic in topics]
    assert sorted(names) == sorted({*tutor.families(), *tutor.across_families()})
    starts = [topic.family.id for topic in topics if not topic.builds_on]
    assert starts == ["supply-source-model", "supply-peak"], "where a learner may begin"
    for at, topic in enumerate(topics):
        assert {family.id for family in topic.builds_on} <= set(names[:at]), topic.family.id
        assert len(topic.builds_on) <= 3, "one line"


def test_the_lessons_name_only_families_that_there_are(lessons: tuple[Lesson, ...]) -> None:
    families = {*tutor.families(), *tutor.across_families()}
    named = [name for lesson in lessons for item in lesson.builds_on.items() for name in (item[0], *item[1])]
    assert named and set(named) <= families


def test_a_family_builds_on_the_one_before_on_its_circuit_where_no_lesson_says(
    content: SiteContent, lessons: tuple[Lesson, ...]
) -> None:
    silent = tuple(replace(lesson, builds_on={}) for lesson in lessons)
    found = {topic.family.id: [item.id for item in topic.builds_on] for topic in topics_of(content, silent)}
    assert found["zener-state"] == [] and found["zener-range"] == ["zener-state"]
    assert found["estimate"] == [], "a family across circuits has none of its own"


def test_a_lesson_that_builds_on_what_comes_later_is_told(content: SiteContent, lessons: tuple[Lesson, ...]) -> None:
    turned = tuple(
        replace(lesson, builds_on={"supply-peak": ("zener-state",)}) if lesson.id == "raw-supply" else lesson
        for lesson in lessons
    )
    with pytest.raises(SteadyrailError) as caught:
        topics_of(content, turned)
    told = "raw-supply.md says that supply-peak builds on zener-state, which comes after it on the path"
    assert told in caught.value.sentence


def test_what_the_site_lacks_is_left_out_of_what_a_topic_builds_on(
    content: SiteContent, lessons: tuple[Lesson, ...]
) -> None:
    shunt = next(stage for stage in content.stages if stage.number == 2)
    few = tuple(family for family in shunt.families if family.id in ("zener-ripple", "zener-slope"))
    small = replace(content, stages=(replace(shunt, families=few),))
    found = {topic.family.id: [item.id for item in topic.builds_on] for topic in topics_of(small, lessons)}
    assert found == {"zener-slope": [], "zener-ripple": ["zener-slope"]}


def test_methods_tell_kinds_apart_and_join_those_worked_alike(topics: tuple[Topic, ...]) -> None:
    named = {topic.family.id: method_of(topic.family, topic.family.levels[0]) for topic in topics}
    assert all(named.values())
    assert len(set(named.values())) >= len(named) / 2
    assert named["find-the-fault"] != named["estimate"], "where no law leads, the family is its own method"
    data = path_data(topics)
    families = data["families"]
    assert isinstance(families, list) and len(families) == len(topics)
    methods = {level["method"] for family in families for level in family["levels"]}
    assert methods == set(range(len(methods)))


@pytest.mark.parametrize("stage", [1, 2, 3, 4, 5])
def test_every_stage_makes_mixed_sets_whose_neighbours_are_worked_otherwise(
    topics: tuple[Topic, ...], stage: int
) -> None:
    """Eight problems for a month of days, by the page's own script; of few kinds some come twice, but apart."""
    browser = Browser(None, "mixed_set")
    browser.engine.eval(f"var PATH = {json.dumps(path_data(topics))};")
    for day in range(1, 31):
        found = browser.ask(f"Steadyrail.mixed.setOf(PATH, [], new Date(2026, 10, {day}, 12), {stage}).problems")
        assert isinstance(found, list) and len(found) == 8
        for one, other in pairwise(found):
            assert one["family"] != other["family"] and one["method"] != other["method"]


def test_a_wrong_line_is_about_its_topic_or_its_circuit(content: SiteContent) -> None:
    lines = next(family for family in content.families() if family.id == "find-the-wrong-line")
    about = nearby = 0
    for family in content.families():
        way = wrong_line_about(family, content)
        if way is None:
            continue
        level, number = Path(way.href).name.removeprefix("find-the-wrong-line-").split(".html#")
        base = read_name(lines.levels[int(level) - 1].problems[int(number) - 1].base).family
        if "another question" in way.words:
            circuit = next(item.circuit for item in content.families() if item.id == base)
            assert circuit == family.circuit and base != family.id
            nearby += 1
        else:
            assert base == family.id
            about += 1
    assert about >= 10 and nearby >= 3
    assert wrong_line_about(lines, content) is None
