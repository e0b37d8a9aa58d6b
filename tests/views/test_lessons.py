"""Lessons: long enough to explain, true to their form, and set as pages with formulas, notes and placeholders."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tutor.errors import SteadyrailError
from tutor.quantities.expression import Sym
from tutor.solution.solution import Chain, WorkedStep
from tutor.views.content import CircuitContent
from tutor.views.lessons import read_lesson, read_lessons, set_lesson
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
        (LESSON + "{{derivation:V_Q}}", "lesson.md asks for the derivation of V_Q, but circuit 'zener-shunt' derives:"),
    ],
)
def test_a_lesson_with_a_mistake_is_told_where(text: str, told: str, tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(SteadyrailError) as caught:
        set_lesson(read_lesson(path), CIRCUIT, (), make_press(site_folder() / "templates"))
    assert told in caught.value.sentence


def test_lessons_come_in_the_order_of_the_path() -> None:
    stages = [lesson.stage for lesson in read_lessons(site_folder() / "lessons")]
    assert stages == sorted(stages) and len(stages) == len(LESSONS)


def test_a_lesson_sets_formulas_notes_and_displays(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(LESSON + "# *It* is $V_I_MIN$.\n\n> a note\n\n$$R_OUT = R||r_z$$\n", encoding="utf-8")
    body = set_lesson(read_lesson(path), CIRCUIT, (), make_press(site_folder() / "templates"))
    assert '<aside class="margin-note">\n<p>a note</p>\n</aside>' in body
    assert '<div class="display chain"><math display="block"' in body
    assert '<em>It</em> is <math alttext="V_I_MIN">' in body and "\ue000" not in body


def test_placeholders_are_filled_where_they_stand(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_text(LESSON + "before\n\n{{derivation:V_O}}\n\n{{figure:circuit}}\n\nafter\n", encoding="utf-8")
    body = set_lesson(read_lesson(path), CIRCUIT, (), make_press(site_folder() / "templates"))
    places = [body.index(part) for part in ("before", "Zener in breakdown", "<svg>", "after")]
    assert places == sorted(places) and "{{" not in body
