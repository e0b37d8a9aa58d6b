"""The lecturer's page: what a set for a class may be chosen from, and the page that shows its sheet and key.

Vocabulary: a *set* is a title and a list of problems by name, some with marks of the lecturer's own; its file is read
by `tutor/sets/set_file.py`. Marks that a lecturer leaves alone are those of the problem's mark scheme.
Place in the data flow: SiteContent -> `lecturer.html` and `assets/class_bank.js` -> assets/lecturer.js, which takes the
problems from their banks when asked for. Only formatting.
"""

from __future__ import annotations

from collections.abc import Iterator

from jinja2 import Environment

from tutor.quantities.prose import prose_text
from tutor.solution.scheme_of import scheme_of
from tutor.views.content import FamilyContent, LevelContent, SiteContent
from tutor.views.data_scripts import assigned
from tutor.views.pages import Page, frame_values
from tutor.views.release import release

_SCRIPTS = ("tables", "checker_writing", "class_bank", "copied", "bank", "class_set", "class_sheet", "lecturer")


def lecturer_pages(content: SiteContent, press: Environment) -> Iterator[Page]:
    """The page, and the script that tells it what there is to choose from."""
    stages = [
        {
            "number": stage.number,
            "title": stage.title,
            "families": [family for family in stage.families if _levels(family)],
        }
        for stage in content.stages
        if any(_levels(family) for family in stage.families)
    ]
    text = press.get_template("lecturer.html").render(
        frame_values("Sheets for a class", "", "lecturer", "A set of problems with its key, to print.", ""),
        sheets=("problem", "book", "lecturer"),
        scripts=_SCRIPTS,
        stages=stages,
    )
    yield Page("lecturer.html", text)
    yield Page("assets/class_bank.js", class_bank(content))


def class_bank(content: SiteContent) -> str:
    """The script with every family and level: titles, editions, how many problems, the marks each is worth."""
    families = [
        {
            "id": family.id,
            "title": family.title,
            "edition": _levels(family)[0].problems[0].problem.edition,
            "levels": [_level_data(level) for level in _levels(family)],
        }
        for family in content.families()
        if _levels(family)
    ]
    return assigned("classBank", {"version": release(), "families": families})


def _levels(family: FamilyContent) -> tuple[LevelContent, ...]:
    return tuple(level for level in family.levels if level.problems)


def _level_data(level: LevelContent) -> dict[str, object]:
    marks = [scheme_of(shown.problem, shown.solution).total for shown in level.problems]
    return {"level": level.level, "about": prose_text(level.about), "count": len(marks), "marks": marks}
