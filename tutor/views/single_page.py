"""One topic as one page to pass on: a lesson's section and the problems of a family, with all they need inside it.

Vocabulary: a *topic* is a family of problems; a page *stands alone* when it asks for nothing beside itself, neither
from its folder nor from a host. Its scripts and sheets are allowed by their digests (Content Security Policy 3, 2.3.1)
and nothing else is, so that a page passed from hand to hand runs what was put into it and no more.
Place in the data flow: SiteContent with one family -> `single_page` -> the text of one HTML file.
"""

from __future__ import annotations

import re
from base64 import b64encode
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from markupsafe import Markup

from tutor.errors import SteadyrailError
from tutor.generate.cautions import STANDING
from tutor.solution.sheet_json import write_sheets
from tutor.views import bank
from tutor.views.content import FamilyContent, LevelContent, SiteContent
from tutor.views.data_scripts import assigned, tables_script
from tutor.views.fonts import FONT_FILE, maths_font
from tutor.views.lessons import Lesson, read_lessons, set_lesson
from tutor.views.markup import serialise
from tutor.views.packed import packed
from tutor.views.pages import (
    ON_EVERY_PAGE,
    PROBLEM_SCRIPTS,
    PROBLEM_SHEETS,
    lessons_shown,
    level_bodies,
    level_name,
    mains_signs,
    scripts_of,
)
from tutor.views.press import make_press
from tutor.views.schematic import renamed
from tutor.views.settings_page import SETTINGS
from tutor.views.sources import site_folder

_SHEETS = ("page", "maths", *PROBLEM_SHEETS, "book", "settings")
# A way to another page of the site: its words stay, the way goes.
_WAY = re.compile(r'<a href="(?![a-z]+:|#)[^"]*">(.*?)</a>', re.DOTALL)


@dataclass(frozen=True)
class _Shown:
    """One level as the page holds it: its first body, how many problems, the mains of each."""

    level: LevelContent
    name: str
    kind: str
    first: Markup
    mains: str


def single_page(content: SiteContent, name: str) -> str:
    """The whole page of one family; SteadyrailError when the content has no such family with problems."""
    family = next((found for found in content.families() if found.id == name), None)
    levels = tuple(level for level in family.levels if level.problems) if family else ()
    if family is None or not levels:
        known = ", ".join(found.id for found in content.families())
        raise SteadyrailError(f"there is no topic '{name}' to put on a page; there are: {known}")
    source = site_folder()
    press = make_press(source / "templates")
    shown: list[_Shown] = []
    data: list[str] = []
    for level in levels:
        bodies, kind = level_bodies(level, press), f"{family.id}:{level.level}"
        first = Markup(serialise(bodies[0]))
        shown.append(_Shown(level, level_name(family, level), kind, first, mains_signs(level)))
        data.append(bank.write(kind, bank.pack(bodies)))
        data += [write_sheets(kind, level.sheets)] if level.sheets else []
    assets = source / "assets"
    lesson = _lesson_of(family, content)
    section = _within(set_lesson(lesson, content.circuits(), (), press)) if lesson else Markup("")
    scripts = [_script(assets, "settings"), _drawings(content, "".join((section, *data)))]
    scripts += [_script(assets, stem) for stem in ON_EVERY_PAGE if stem not in ("settings", "offline")]
    scripts.append(_closed(tables_script(content.tables)))
    scripts += [_script(assets, stem) for stem in dict.fromkeys(_stems(levels))]
    scripts += [packed(text) for text in data]
    scripts += [_script(assets, stem) for stem in ("single", "problem", "prediction", "settings_page")]
    font = maths_font()
    style = _style(assets, font.woff2)
    return press.get_template("single.html").render(
        policy=_policy(scripts, style),
        title=family.title,
        about=family.about,
        icon=_data_address("image/svg+xml", (assets / "mark.svg").read_bytes()),
        style=Markup(style),
        scripts=[Markup(text) for text in scripts],
        section=section,
        shown=shown,
        settings=SETTINGS,
        standing_caution=STANDING,
        font_owner=font.copyright,
    )


def _stems(levels: tuple[LevelContent, ...]) -> list[str]:
    """The scripts of a problem's page, of all levels; those that start the page come last, by themselves."""
    stems = ["quantity", *(stem for level in levels for stem in scripts_of(level)), *PROBLEM_SCRIPTS]
    return [stem for stem in stems if stem != "problem"]


def lesson_about(family: str, lesson: str) -> Lesson | None:
    """A family's lesson cut down to the section about it, all of it where it has no section of its own; None where
    there is no such lesson."""
    found = next((item for item in read_lessons(site_folder() / "lessons") if item.id == lesson), None)
    return found.section(family) if found and found.section_of(family) else found


def _lesson_of(family: FamilyContent, content: SiteContent) -> Lesson | None:
    """That lesson, where the content has its circuit and its stage."""
    lesson = lesson_about(family.id, family.lesson)
    return lesson if lesson and lessons_shown(content, (lesson,)) else None


def _within(section: str) -> Markup:
    """A section for this page alone: without ways to other pages, its drawings named apart from those of problems."""
    return Markup(renamed(_WAY.sub(r"\1", section), before="lesson-"))


def _script(assets: Path, stem: str) -> str:
    return _closed((assets / f"{stem}.js").read_text(encoding="utf-8"))


def _closed(text: str) -> str:
    """A script that no `</script>` nor `<!--` in a string of it can end or change early (HTML, 4.12.1.3)."""
    return text.replace("</", "<\\/").replace("<!--", "<\\!--")


def _drawings(content: SiteContent, page: str) -> str:
    """The other national style of every drawing that stands on the page or in its banks."""
    shown = {key: strokes for key, strokes in content.redrawn().items() if key in page}
    return _closed(assigned("drawings", shown, sort_keys=True))


def _style(assets: Path, font: bytes) -> str:
    """All sheets in one, the font inside it, the sheet for paper last."""
    text = "\n".join((assets / f"{stem}.css").read_text(encoding="utf-8") for stem in _SHEETS)
    text = text.replace(f"../fonts/{FONT_FILE}", _data_address("font/woff2", font))
    paper = (assets / "print.css").read_text(encoding="utf-8")
    # A rule for pages may not stand inside one for media.
    return f"{text}\n{_on_paper(paper)}"


def _on_paper(paper: str) -> str:
    """The sheet for paper behind its own condition; its @page rule, which holds for paper alone, before it."""
    at = paper.index("@page")
    depth, end = 0, at
    for end in range(paper.index("{", at), len(paper)):
        depth += {"{": 1, "}": -1}.get(paper[end], 0)
        if depth == 0:
            break
    return f"{paper[at : end + 1]}\n@media print {{\n{paper[:at]}{paper[end + 1 :]}}}\n"


def _data_address(kind: str, data: bytes) -> str:
    return f"data:{kind};base64,{b64encode(data).decode()}"


def _policy(scripts: list[str], style: str) -> str:
    """What the page may run and load: what stands in it, by digest, and nothing from elsewhere."""

    def digest(text: str) -> str:
        return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"

    allowed = " ".join(dict.fromkeys(map(digest, scripts)))
    return (
        f"default-src 'none'; script-src {allowed}; style-src {digest(style)}; font-src data:; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
