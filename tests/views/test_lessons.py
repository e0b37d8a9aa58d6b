"""Lessons: long enough to explain, true to their form, and set as pages with formulas, notes and placeholders."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import tutor
from tutor.across.named import across_family
from tutor.errors import SteadyrailError
from tutor.quantities.expression import Sym
from tutor.solution.solution import Chain, WorkedStep
from tutor.views.content import CircuitContent
from tutor.views.lessons import FamilyLinks, LevelLink, read_lesson, read_lessons, set_lesson
from tutor.views.press import make_press
from tutor.views.sources import site_folder

LESSONS = sorted((site_folder() / "lessons").glob("*.md"))
STEP = WorkedStep("Zener in breakdown", "", (Chain(Sym("V_O"), (("=", Sym("V_Z")),)),), "", "", "", None, "")
CIRCUIT = CircuitContent("zener-shunt", "Zener", "", "<svg></svg>", (), (), {"V_O": (STEP,)}, (), ())


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_a_lesson_is_long_enough_and_answers_its_own_question(path: Path) -> None:
    lesson = read_lesson(path)
    assert len(re.sub(r"\$.*?\$|\{\{.*?\}\}", "x", lesson.text).split()) >= 400
    assert len(lesson.prediction.choices) == 3
    for choice in lesson.prediction.choices:
        assert len(choice.reason.split()) >= 12, "a reason, not a mark"
    for word in ("load", "line", "temperature"):
        assert f"**{word}**" in lesson.text
    assert "{{problems}}" in lesson.text and "## Cautions" in lesson.text


SECTION = re.compile(r"^## .*\{#([a-z-]+)\}$", re.MULTILINE)


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_every_family_has_a_section(path: Path) -> None:
    """Each says why before how, and ends with the problems of its kind; none speaks of a family that is not there."""
    lesson = read_lesson(path)
    pieces = SECTION.split(lesson.text)
    sections = dict(zip(pieces[1::2], pieces[2::2], strict=True))
    assert len(sections) == len(pieces) // 2, "two sections for one family"
    desk = tutor.open_desk()
    families = {name for name in tutor.families() if desk.family(name).lesson == lesson.id}
    families |= {name for name in tutor.across_families() if across_family(desk.folder, name).lesson == lesson.id}
    assert set(sections) == families
    for family, text in sections.items():
        assert len(re.sub(r"\$.*?\$|\{\{.*?\}\}", "x", text).split()) >= 60, family
        assert text.count(f"{{{{problems:{family}}}}}") == (family in families), family


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_a_lesson_sets_with_the_circuits_there_are(path: Path) -> None:
    """Its formulas read, its circuits derive what it asks for, every question is asked where the text is."""
    lesson = read_lesson(path)
    folder = tutor.open_desk().folder
    derives = {name: dict.fromkeys(folder.circuit(name).derivation, (STEP,)) for name in folder.circuit_ids()}
    circuits = {
        name: CircuitContent(name, name, "", f"<svg>{name}</svg>", (), (), derived, (), ())
        for name, derived in derives.items()
    }
    body = set_lesson(lesson, circuits, (), make_press(site_folder() / "templates"))
    asked = [lesson.prediction, *lesson.questions.values()]
    assert body.count('<form class="prediction"') == len(asked)
    assert all(len(question.choices) == 3 for question in asked)
    assert all(len(choice.reason.split()) >= 12 for question in asked for choice in question.choices)
    assert "{{" not in body and "{#" not in body and "$" not in body


LESSON = """+++
title = "T"
stage = 2
order = 1
circuit = "zener-shunt"
prediction = {question = "Q", choices = []}
+++
"""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("no front matter", "lesson.md must begin with its front matter"),
        ("+++\ntitle = \n+++\n", "the front matter of lesson.md is not TOML"),
        ('+++\ntitle = "T"\n+++\n', "the front matter of lesson.md lacks 'prediction'"),
        (
            LESSON + "{{figur:circuit}}",
            "lesson.md has no use for the placeholder '{{figur:circuit}}'; did you mean 'figure'?",
        ),
        (
            LESSON + "{{figure:foldback}}",
            "lesson.md speaks of the circuit 'foldback', but there are: zener-shunt",
        ),
        (
            LESSON + "{{prediction:heat}}",
            "lesson.md asks for the question 'heat', but its front matter has: none",
        ),
        (LESSON + "{{derivation:V_Q}}", "lesson.md asks for the derivation of V_Q, but circuit 'zener-shunt' derives:"),
    ],
)
def test_a_lesson_with_a_mistake_is_told_where(text: str, told: str, tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(SteadyrailError) as caught:
        set_lesson(read_lesson(path), {"zener-shunt": CIRCUIT}, (), make_press(site_folder() / "templates"))
    assert told in caught.value.sentence


def test_lessons_come_in_the_order_of_the_path() -> None:
    stages = [lesson.stage for lesson in read_lessons(site_folder() / "lessons")]
    assert stages == sorted(stages) and len(stages) == len(LESSONS)


def test_a_lesson_sets_formulas_notes_and_displays(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(LESSON + "# *It* is $V_I_MIN$.\n\n> a note\n\n$$R_OUT = R||r_z$$\n", encoding="utf-8")
    body = set_lesson(read_lesson(path), {"zener-shunt": CIRCUIT}, (), make_press(site_folder() / "templates"))
    assert '<aside class="margin-note">\n<p>a note</p>\n</aside>' in body
    assert '<div class="display chain"><math display="block"' in body
    assert '<em>It</em> is <span class="tied"><math alttext="V_I_MIN">' in body and "\ue000" not in body


def test_placeholders_are_filled_where_they_stand(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(LESSON + "before\n\n{{derivation:V_O}}\n\n{{figure:circuit}}\n\nafter\n", encoding="utf-8")
    body = set_lesson(read_lesson(path), {"zener-shunt": CIRCUIT}, (), make_press(site_folder() / "templates"))
    places = [body.index(part) for part in ("before", "Zener in breakdown", "<svg>", "after")]
    assert places == sorted(places) and "{{" not in body


SECTIONS = """+++
title = "T"
stage = 2
order = 1
circuit = "zener-shunt"
prediction = {question = "Q", choices = []}
[questions.heat]
question = "Which part is hottest?"
choices = [{text = "the load", reason = "no"}]
+++
## The state {#zener-state}

{{prediction:heat}}

{{figure:other}}

{{derivation:V_O of other}}

{{problems:zener-state}}

## Its range {#zener-range}

{{problems:zener-range}}
"""


def test_sections_have_places_questions_circuits_and_problems_of_their_own(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(SECTIONS, encoding="utf-8")
    lesson = read_lesson(path)
    assert lesson.section_of("zener-state") == "#zener-state" and lesson.section_of("zener-slope") == ""
    assert lesson.circuits() == ("zener-shunt", "other")
    other = CircuitContent("other", "Other", "", "<svg>other</svg>", (), (), {"V_O": (STEP,)}, (), ())
    links = (LevelLink(1, "state-1.html", ""), LevelLink(2, "state-2.html", ""))
    state = FamilyLinks("zener-state", "State", "", links)
    circuits = {"zener-shunt": CIRCUIT, "other": other}
    body = set_lesson(lesson, circuits, (state,), make_press(site_folder() / "templates"))
    assert '<h2 id="zener-state">The state</h2>' in body and '<h2 id="zener-range">' in body
    assert "Which part is hottest?" in body and "<svg>other</svg>" in body and "Zener in breakdown" in body
    assert body.count('<p class="practice">') == 1, "a family without problems leaves nothing"
    assert '<a href="state-1.html">level 1</a>,' in body and '<a href="state-2.html">level 2</a>.' in body
