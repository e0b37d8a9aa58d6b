"""The study pages of a class's set: one page for each problem on its papers, with the sheet that checks a working.

A set's problems are of many numbers, a page of the study site turns those of one level; so each problem has a page of
its own here, whole as it is made, by the same templates, scripts and data. Pages are made with a learner's paper, in
whichever process makes it; nothing on them or in their names tells whose paper that is. What all of them share (the
index, scripts, font) is written once, for the whole class.
Place in the data flow: Paper -> `pages_of` -> files; names of problems -> `write_shared` -> index, settings, assets.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from hashlib import sha256
from pathlib import Path
from urllib.parse import urlsplit

from jinja2 import Environment
from markupsafe import Markup

from tutor.across.family import Posed
from tutor.across.hinting import hints_of_posed
from tutor.across.named import across_family, posed
from tutor.errors import BadValue
from tutor.sets.kept import write_whole
from tutor.sets.levels import assumed_key, ready_level_of, runs_across
from tutor.sets.numbers_used import OWN
from tutor.sets.paper import Asked, ClassSet, DrawnQuestion, Look, Paper, Question
from tutor.solution.desk import our_desk
from tutor.solution.fading import fading_order, fading_order_of
from tutor.solution.hints import Hints, hints_of
from tutor.solution.sheet_json import write_sheets
from tutor.views.assemble import page_tables
from tutor.views.content import LevelContent, ProblemContent
from tutor.views.data_scripts import drawing_script, tables_script
from tutor.views.drawn_problem import Pictures
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.fonts import FONT_FILE, LICENCE_FILE, maths_font
from tutor.views.markup import serialise
from tutor.views.packed import packed
from tutor.views.pages import (
    ON_EVERY_PAGE,
    PROBLEM_SCRIPTS,
    PROBLEM_SHEETS,
    frame_values,
    problem_body,
    scripts_of,
)
from tutor.views.press import make_press
from tutor.views.settings_page import SETTINGS
from tutor.views.sources import site_folder

PAGES = "pages"  # the folder of a set's pages within that of its papers
PROBLEMS, SHEETS, DRAWINGS = "problems", "sheets", "drawings"
INDEX = "index.html"
LONGEST_ADDRESS = 300  # characters; a longer one makes a code too fine to be read off paper
_RUNNING_LINKS = (("contents", INDEX, "Contents"), ("settings", "settings.html", "Settings"))
# A set's pages are not kept for reading without a network: that is of a whole site, which tells its version.
_ON_EVERY_PAGE = tuple(stem for stem in ON_EVERY_PAGE if stem != "offline")
_SCRIPTS = tuple(stem for stem in PROBLEM_SCRIPTS if stem not in ("bank", "problem"))
_SHEETS = ("page", "maths", "book", *PROBLEM_SHEETS, "settings", "set_pages", "print")
_ADDRESS = re.compile(r"[!-~]+")  # what is printable in ASCII, without a space (RFC 3986 allows no other)


@dataclass(frozen=True)
class PagesAsked:
    """Which pages are wanted: with worked solutions or without, and the address where their folder will stand, '' where
    that is not known (papers then have no codes)."""

    solved: bool = False
    at: str = ""

    def address(self, name: str) -> str:
        """Where the page of a problem will be found."""
        return f"{self.at}{PROBLEMS}/{page_stem(name)}.html"


def checked_address(text: str) -> str:
    """The address of a folder, ending in a slash; BadValue says what is wrong with it.

    >>> checked_address("https://example.org/regulators/week5")
    'https://example.org/regulators/week5/'
    """
    told = f"--pages-at {text[:80]!r}"
    if not _ADDRESS.fullmatch(text) or len(text) > LONGEST_ADDRESS:
        raise BadValue(
            f"{told} is no address of up to {LONGEST_ADDRESS} characters without spaces, such as "
            "https://example.org/week5 (signs outside ASCII are written as %C3%A9)"
        )
    try:
        parts = urlsplit(text)
        usable = parts.scheme in ("http", "https") and bool(parts.hostname) and parts.port != 0
    except ValueError:
        usable = False
    if not usable or parts.username is not None or "?" in text or "#" in text:
        raise BadValue(f"{told} is no address of a folder on the web; it looks like https://example.org/week5")
    return text if text.endswith("/") else f"{text}/"


def page_stem(name: str) -> str:
    """The file name of a problem's page, without its ending: its family, level and number, and a digest of what it
    assumes where it assumes something. The edition is left out, since one version draws one edition.

    >>> page_stem("zener-resistor:2:17@2"), page_stem("own:5")
    ('zener-resistor-2-17', 'own-5')
    >>> page_stem("zener-resistor:2:17@2+V_BE=0.6V")
    'zener-resistor-2-17-2b5bbc4b'
    """
    recipe, _, assumed = name.partition("+")
    stem = recipe.partition("@")[0].replace(":", "-")
    return f"{stem}-{sha256(assumed.encode()).hexdigest()[:8]}" if assumed else stem


def addresses_of(paper: Paper, asked: PagesAsked) -> dict[str, str]:
    """Where the pages of a paper will be found, by the names of its problems."""
    return {item.name: asked.address(item.name) for item in paper.asked} if asked.at else {}


def pages_of(paper: Paper, solved: bool) -> Iterator[tuple[str, str]]:
    """The pages of a paper's problems with their data: places within the folder of pages, and texts."""
    for item in paper.asked:
        yield from _page(item, paper.set, solved)


def _page(asked: Asked, of: ClassSet, solved: bool) -> Iterator[tuple[str, str]]:
    picture = _pictures(SymbolStyle.IEC).of(asked.problem, asked.withheld)
    name = _kept_as(asked, of)
    hints, fades = _help(asked)
    shown = ProblemContent(
        replace(asked.problem, name=name), asked.solution, picture.svg, picture.rows, picture.marked, asked.lines,
        asked.caption, _in_words(asked), hints=hints, fades=fades,
    )  # fmt: skip
    sheets = (replace(asked.sheet, problem=name),) if asked.sheet else ()
    stem = page_stem(asked.name)
    kind = f"{asked.problem.family}:{asked.problem.level}"
    press, level = _press(), LevelContent(asked.problem.level, "", (shown,), sheets)
    text = press.get_template("set_problem.html").render(
        _frame(of, shown.problem.title, "../", "problem"),
        sheets=PROBLEM_SHEETS,
        scripts=tuple(dict.fromkeys(("tables", "quantity", *scripts_of(level), *_SCRIPTS, "set_problem"))),
        kind=kind,
        number=asked.problem.number,
        sheets_at=f"../{SHEETS}/{stem}.js" if sheets else "",
        body=Markup(serialise(problem_body(shown, press, solved))),
    )
    yield f"{PROBLEMS}/{stem}.html", text
    if sheets:
        yield f"{SHEETS}/{stem}.js", packed(write_sheets(kind, sheets))
    strokes = _pictures(SymbolStyle.IEEE).strokes(asked.problem, asked.withheld)
    yield f"{DRAWINGS}/{picture.key}.js", drawing_script(picture.key, strokes)


def _kept_as(asked: Asked, of: ClassSet) -> str:
    """The name under which a browser keeps what is typed on a page. A past question's is a number made of what it asks,
    since every set has an own:1 and a browser may visit the pages of several; its level is 0, of which the record keeps
    nothing, since no other of its kind could come back."""
    if asked.named is not None:
        return asked.name
    problem = asked.problem
    told = (problem.circuit, problem.form, problem.statement, sorted(problem.answers.items()), of.rules.assume)
    return f"{problem.family}:{problem.level}:{int(sha256(repr(told).encode()).hexdigest()[:8], 16)}"


def _in_words(asked: Asked) -> str:
    if asked.named is None or not runs_across(asked.named.family):
        return ""
    return "among" if asked.sheet else "alone"


def _help(asked: Asked) -> tuple[tuple[Hints, ...], tuple[str, ...]]:
    """The hints of a problem, and in which order its steps are left out; a past question has neither."""
    if asked.named is None:
        return (), ()
    if runs_across(asked.named.family):
        found: Posed = posed(our_desk(), asked.named)
        return hints_of_posed(found), fading_order_of(asked.problem.waypoints)
    assumed = assumed_key(asked.named.assumed)
    ready = ready_level_of(asked.named.family, asked.named.level, assumed)
    worked = our_desk().batch(ready, [asked.named.number], dict(assumed))[0]
    return hints_of(ready, worked.drawn, worked.problem, worked.solution), fading_order(ready, worked.drawn)


def write_shared(
    of: ClassSet, papers: Iterable[Sequence[str]], folder: Path
) -> tuple[list[str], frozenset[str]]:
    """What a set's pages share, in their folder: the index, the settings, scripts, style sheets, the font. `papers` are
    the names of each paper's problems. The places of what was written, and the stems of the pages of problems."""
    names: list[set[str]] = [set() for _ in of.questions]
    for paper in papers:
        for place, name in enumerate(paper):
            names[place].add(name)
    written = []
    for file, content in _shared(of, names):
        write_whole(folder / file, content)
        written.append(file)
    return written, frozenset(page_stem(name) for of_question in names for name in of_question)


def other_pages(folder: Path, stems: Collection[str]) -> Iterator[str]:
    """The places, within the folder of pages, of those that an earlier run wrote of other problems than these."""
    for path in (*(folder / PROBLEMS).glob("*.html"), *(folder / SHEETS).glob("*.js")):
        if path.stem not in stems:
            yield path.relative_to(folder).as_posix()


def _shared(of: ClassSet, names: Sequence[Iterable[str]]) -> Iterator[tuple[str, bytes | str]]:
    assets = site_folder() / "assets"
    scripts = [path.stem for part in ("reader", "checker") for path in assets.glob(f"{part}*.js")]
    scripts += [*_ON_EVERY_PAGE, "quantity", "answers_in_words", *_SCRIPTS, "set_problem", "settings_page"]
    files = [*(f"{stem}.js" for stem in scripts), *(f"{stem}.css" for stem in _SHEETS)]
    for name in sorted({*files, "mark.svg"}):
        yield f"assets/{name}", (assets / name).read_bytes()
    yield "assets/tables.js", tables_script(page_tables())
    font = maths_font()
    yield f"fonts/{FONT_FILE}", font.woff2
    yield f"fonts/{LICENCE_FILE}", f"{font.copyright}\n\n{(assets / 'OFL-1.1.txt').read_text(encoding='utf-8')}"
    yield "settings.html", _press().get_template("set_settings.html").render(
        _frame(of, "Settings", "", "settings"),
        sheets=("problem", "settings"),
        scripts=("settings_page",),
        settings=[setting for setting in SETTINGS if setting.name != "mains"],  # there is no number to turn to
    )
    questions = [_question(*row) for row in zip(range(1, len(names) + 1), of.questions, names, strict=True)]
    yield INDEX, _press().get_template("set_index.html").render(
        _frame(of, of.title, "", "contents"), sheets=("book", "set_pages"), questions=questions
    )


def _question(number: int, question: Question, names: Iterable[str]) -> Mapping[str, object]:
    """A question in the index: its pages by the names of problems, in the order of their numbers and nobody's else."""
    asks, desk = question.asks, our_desk()
    if isinstance(asks, DrawnQuestion):
        across = runs_across(asks.family)
        title = (across_family(desk.folder, asks.family) if across else desk.family(asks.family)).title
    else:
        title = "Your lecturer’s own question"
    ordered = sorted(names, key=lambda name: (name.startswith(OWN), len(page_stem(name)), page_stem(name)))
    pages = [(name, f"{PROBLEMS}/{page_stem(name)}.html") for name in ordered]
    return {
        "number": number,
        "title": title,
        "level": asks.level if isinstance(asks, DrawnQuestion) else 0,
        "pages": pages,
    }


def _frame(of: ClassSet, title: str, root: str, here: str) -> dict[str, object]:
    """What every page needs; the set's title leads it, and it comes as the set's papers do."""
    return {
        **frame_values(title, root, here, f"{of.title}: {title}", "" if here == "contents" else of.title),
        "on_every_page": _ON_EVERY_PAGE,
        "running_links": _RUNNING_LINKS,
        "usual": usual_settings(of.look),
    }


def usual_settings(look: Look) -> str:
    """What pages come with, as `settings.js` reads it; '' where it is what any page comes with.

    >>> usual_settings(Look(decimal_comma=True, gain="beta"))
    'decimal=comma&gain=beta'
    """
    told = {
        "decimal": "comma" if look.decimal_comma else "point",
        "names": look.voltages,
        "gain": look.gain,
        "drawings": look.drawings,
    }
    first = {setting.name: setting.choices[0].value for setting in SETTINGS}
    return "&".join(f"{name}={value}" for name, value in told.items() if value != first[name])


@cache
def _press() -> Environment:
    return make_press(site_folder() / "templates")


@lru_cache(2)
def _pictures(style: SymbolStyle) -> Pictures:
    return Pictures(our_desk(), style)
