"""The pages of the study site as text: lessons, problems, circuits, letter symbols (the path: path_pages.py).

Vocabulary: a *page* is a path inside the site and its text; the *body* of a problem is the part of its page that
changes with its number.
Place in the data flow: SiteContent + lessons -> pages (this file) -> files (site.py). Only formatting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jinja2 import Environment
from markupsafe import Markup

from tutor.generate.cautions import STANDING
from tutor.quantities.expression import symbols_of
from tutor.quantities.symbols import split_name, symbol_for
from tutor.quantities.units import printed_unit
from tutor.views.content import CircuitContent, FamilyContent, LevelContent, ProblemContent, SiteContent, StageContent
from tutor.views.lessons import FamilyLinks, Lesson, LevelLink, set_lesson
from tutor.views.markup import Element, parse, serialise
from tutor.views.own_numbers import own_page, writing_help
from tutor.views.own_plans import own_data_script
from tutor.views.sources import site_folder
from tutor.views.writing_help import writing_help_of

# What other scripts make pages with; what a page is shown by, what is remembered of the reader, what is kept for
# reading without a network. In this order.
ON_EVERY_PAGE = ("made", "unpack", "settings", "settings_shown", "record", "record_carried", "offline")
# What stands in the running head: the page's name, where it is, its words there; a page does not lead to itself.
_RUNNING_LINKS = (
    ("contents", "index.html", "Contents"),
    ("today", "today.html", "Today"),
    ("own", "own.html", "Own numbers"),
    ("symbols", "symbols.html", "Letter symbols"),
    ("search", "search.html", "Search"),
    ("settings", "settings.html", "Settings"),
)
PROBLEM_SCRIPTS = (
    *("judge", "bank", "steps", "copied", "presenting", "answers", "hints", "part_worked"),
    *("working_margin", "working_lines", "working_keys", "working_told", "working", "problem"),
)
CONVENTION = "convention: "  # how a statement's table begins the row of one (generate/make.py)
PROBLEM_SHEETS = ("problem", "part_worked", "working", "working_keys", "presenting")  # the looks of what those make
_SHARED_HELP = ("bank", "typing", "shared_help")  # before the scripts that put keys to use
_SHEET_SCRIPTS = ("working_margin", "working_lines", "working_keys", "working")
_LIVE_SCRIPTS = ("checker_writing", "own_states", "own_resolve", "own_steps", "live_figure")
_OWN_SCRIPTS = ("own_states", "own_resolve", "own_sheet", "own_steps", "own_solution", "own")


@dataclass(frozen=True)
class Page:
    """A file of the site: its path inside the site's folder, with / between folders, and its text."""

    path: str
    text: str


@dataclass(frozen=True)
class Link:
    """A way on, with the words before it and what is to be found there, in prose."""

    words: str
    title: str
    href: str
    about: str = ""


@dataclass(frozen=True)
class SymbolRow:
    """A row of a table of letters."""

    name: str
    meaning: str
    unit: str
    typed: tuple[str, ...]


def lessons_shown(content: SiteContent, lessons: tuple[Lesson, ...]) -> tuple[Lesson, ...]:
    """The lessons whose circuit and stage are in the content; a lesson without its circuit would stand empty."""
    circuits = content.circuits()
    stages = {stage.number for stage in content.stages}
    return tuple(lesson for lesson in lessons if lesson.circuit in circuits and lesson.stage in stages)


def lesson_page(lesson: Lesson, content: SiteContent, press: Environment) -> Page:
    """One lesson with its figure, derivation, prediction and list of problems."""
    stage = next(stage for stage in content.stages if stage.number == lesson.stage)
    families = tuple(
        FamilyLinks(family.id, family.title, family.about, level_links(family, "../"))
        for family in content.families()
        if family.lesson == lesson.id and family.levels
    )
    body = set_lesson(lesson, content.circuits(), families, press)
    text = press.get_template("lesson.html").render(
        frame_values(lesson.title, "../", "lesson", f"Lesson: {lesson.title}.", f"{stage.number}. {stage.title}"),
        sheets=("problem", "book", "presenting"),
        scripts=("steps", "copied", "presenting", "prediction"),
        body=body,
    )
    return Page(f"lessons/{lesson.id}.html", text)


def circuit_pages(
    circuit: CircuitContent, stage: StageContent, content: SiteContent, lessons: tuple[Lesson, ...], press: Environment
) -> Iterator[Page]:
    """A circuit's page, and the script with the data of the figure on it."""
    yield circuit_page(circuit, stage, content, lessons, press)
    if circuit.live is not None:
        yield Page(f"circuits/{circuit.id}.js", own_data_script(circuit.live.data))


def circuit_page(
    circuit: CircuitContent, stage: StageContent, content: SiteContent, lessons: tuple[Lesson, ...], press: Environment
) -> Page:
    """One circuit: drawing, letters, laws, derivations, sensitivities."""
    links = [
        Link("Explained in", lesson.title, f"../lessons/{lesson.id}.html")
        for lesson in lessons
        if circuit.id in lesson.circuits()
    ]
    if any(offer.circuit.id == circuit.id for offer in content.own):
        links.append(Link("Your own numbers on", circuit.title, f"../own/{circuit.id}.html"))
    for family in stage.families:
        about = [level.level for level in family.on(circuit.id)]
        levels = [link for link in level_links(family, "../") if link.number in about]
        if levels:
            links.append(Link("Problems:", family.title, levels[0].href))
        desk = next((level for level in family.levels if level.desk is not None and level.level in about), None)
        if desk is not None:
            links.append(Link("Design desk:", family.title, f"../desks/{level_name(family, desk)}.html"))
    links.append(Link("To print:", "Formula sheet", f"../formulas/{circuit.id}.html"))
    live = circuit.live
    text = press.get_template("circuit.html").render(
        frame_values(circuit.title, "../", "circuit", f"Circuit: {circuit.title}.", f"{stage.number}. {stage.title}"),
        sheets=("problem", "book", "presenting", *(("live_figure",) if live else ())),
        scripts=(*(("tables", *_LIVE_SCRIPTS) if live else ()), "steps", "copied", "presenting"),
        data=f"{circuit.id}.js",
        circuit=circuit,
        live=live,
        symbols=[symbol_row(name) for name in circuit.symbols],
        closed_forms=[steps[-1].chains[-1] for steps in circuit.derivations.values() if steps and steps[-1].chains],
        links=links,
    )
    return Page(f"circuits/{circuit.id}.html", text)


def own_index_page(content: SiteContent, press: Environment) -> Page:
    """The page from which the own-numbers page of each circuit is reached."""
    circuits = content.circuits()
    listed = [
        {"id": offer.circuit.id, "title": offer.circuit.title, "count": len(offer.sets)}
        for offer in content.own
        if offer.circuit.id in circuits
    ]
    text = press.get_template("own.html").render(
        frame_values("Your own numbers", "", "own", "Anybody's own numbers, worked line by line.", ""), circuits=listed
    )
    return Page("own.html", text)


def own_circuit_pages(content: SiteContent, press: Environment) -> Iterator[Page]:
    """The own-numbers page of each circuit, and the script with its data."""
    circuits = content.circuits()
    offers = [offer for offer in content.own if offer.circuit.id in circuits]
    for offer in offers:
        circuit = circuits[offer.circuit.id]
        page = own_page(offer, press)
        made_from = press.get_template("own_templates.html").render(page=page)
        yield Page(f"own/{circuit.id}.js", own_data_script({**page.data, "templates": made_from.strip()}))
        text = press.get_template("own_circuit.html").render(
            frame_values(
                f"Your own numbers: {circuit.title}",
                "../",
                "own-circuit",
                f"Anybody's own numbers on this circuit, worked line by line: {circuit.title}.",
                "Your own numbers",
            ),
            **writing_help(page),
            sheets=("problem", "working", "working_keys", "own"),
            scripts=("tables", "quantity", *_checking_scripts(), *_SHEET_SCRIPTS, *_OWN_SCRIPTS),
            data=f"{circuit.id}.js",
            circuit=circuit,
            page=page,
            cautions=_cautions(circuit, content),
        )
        yield Page(f"own/{circuit.id}.html", text)


def _checking_scripts() -> Iterator[str]:
    """The reader of lines and the checker; each is many files, which find one another whatever their order."""
    for part in ("reader", "checker"):
        yield from sorted(path.stem for path in (site_folder() / "assets").glob(f"{part}_*.js"))
        yield part


def scripts_of(level: LevelContent) -> Iterator[str]:
    """What a level's lines are checked with: as relations, as answers in words, or both."""
    if level.sheets:
        yield from _checking_scripts()
    if any(shown.in_words for shown in level.problems):
        yield "answers_in_words"


def _cautions(circuit: CircuitContent, content: SiteContent) -> tuple[str, ...]:
    """The cautions that stand with the circuit's problems, each once."""
    levels = [level for family in content.families() for level in family.on(circuit.id)]
    return tuple(dict.fromkeys(item for level in levels for shown in level.problems for item in shown.problem.cautions))


def symbols_page(content: SiteContent, press: Environment) -> Page:
    """The table of letter symbols of the circuits present, and the conventions the problems take."""
    names = dict.fromkeys(name for circuit in content.circuits().values() for name in circuit.symbols)
    bases = dict.fromkeys(split_name(name).base for name in names)
    taken: dict[str, dict[str, None]] = {}
    for shown in (shown for family in content.families() for level in family.levels for shown in level.problems):
        for row in shown.problem.table:
            told, _, convention = row.label.partition(CONVENTION)
            if convention and not told:
                taken.setdefault(convention, {})[row.value] = None
    text = press.get_template("symbols.html").render(
        frame_values(
            "Conventions and letter symbols", "", "symbols", "What the letters mean and how values are written.", ""
        ),
        sheets=("book",),
        symbols=[symbol_row(name) for name in bases],
        taken=sorted(taken.items()),
    )
    return Page("symbols.html", text)


def symbol_row(name: str) -> SymbolRow:
    """What the table says of a letter: meaning, unit as printed, the spellings a learner may type."""
    symbol = symbol_for(name)
    plain = name.replace("_", "")
    typed = dict.fromkeys((name, plain, *symbol.aliases))
    unit = printed_unit(symbol.unit) or "none"
    return SymbolRow(name, symbol.meaning, unit, tuple(typed))


def problem_body(shown: ProblemContent, press: Environment, solved: bool = True) -> Element:
    """The part of a problem's page that changes with its number, as a tree; its worked solution is left out where it is
    not `solved`."""
    steps = shown.solution.steps if solved else ()
    markup = press.get_template("problem_body.html").render(
        **writing_help_of(shown),
        problem=shown.problem,
        solved=solved,
        solution=shown.solution,
        svg=shown.schematic_svg,
        rows=shown.description_rows,
        lines=shown.lines,
        caption=shown.caption,
        hints={item.key: item for item in shown.hints},
        worked_lines={step.waypoint: step.chains for step in steps if len(step.chains) == 1},
        fades=shown.fades if solved else (),
    )
    return parse(markup.strip())


def level_bodies(level: LevelContent, press: Environment) -> list[Element]:
    """The bodies of all problems of a level, in the order of their numbers."""
    return [problem_body(shown, press) for shown in level.problems]


def problem_page(
    family: FamilyContent, level: LevelContent, first: Element, content: SiteContent,
    lessons: tuple[Lesson, ...], press: Environment,
) -> Page:  # fmt: skip
    """The page of a family at one level, with its first problem set in full."""
    stage = next(stage for stage in content.stages if family in stage.families)
    links = [
        Link("The same at", f"level {other.number}", other.href, other.about)
        for other in level_links(family, "../")
        if other.number != level.level
    ]
    links.append(Link("Topic:", family.title, f"../topics/{family.id}.html"))
    links += [
        Link("Lesson:", lesson.title, f"../lessons/{lesson.id}.html{lesson.section_of(family.id)}")
        for lesson in lessons
        if lesson.id == family.lesson
    ]
    circuit = content.circuits().get(level.circuit or family.circuit)
    if circuit is not None:
        links.append(Link("Circuit:", circuit.title, f"../circuits/{circuit.id}.html"))
    text = press.get_template("problem.html").render(
        frame_values(
            f"{family.title}, level {level.level}",
            "../",
            "problem",
            f"Problems: {family.title}, level {level.level}.",
            f"{stage.number}. {stage.title}",
        ),
        sheets=PROBLEM_SHEETS,
        scripts=tuple(dict.fromkeys(("tables", "quantity", *scripts_of(level), *_SHARED_HELP, *PROBLEM_SCRIPTS))),
        laws=_laws_of(circuit),
        family=family,
        level=level,
        count=len(level.problems),
        mains=mains_signs(level),
        body=Markup(serialise(first)),
        links=links,
    )
    return Page(f"problems/{level_name(family, level)}.html", text)


def mains_signs(level: LevelContent) -> str:
    """For each number its mains frequency by its first figure, `5` or `6`, or `-`; '' where none has one."""
    told = [shown.problem.given.get("f") for shown in level.problems]
    signs = [str(round(frequency.value))[0] if frequency else "-" for frequency in told]
    return "".join(signs) if set(signs) != {"-"} else ""


def _laws_of(circuit: CircuitContent | None) -> list[tuple[str, str]]:
    """The titles of a circuit's laws, each once, and the letters of each: what a principle is picked from."""
    found: dict[str, set[str]] = {}
    for title, equation, _ in [] if circuit is None else circuit.laws:
        found.setdefault(title, set()).update(symbols_of(equation.lhs), symbols_of(equation.rhs))
    return [(title, " ".join(sorted(names))) for title, names in found.items()]


def level_name(family: FamilyContent, level: LevelContent) -> str:
    """The file name of a family at one level, without its ending."""
    return f"{family.id}-{level.level}"


def level_links(family: FamilyContent, root: str) -> tuple[LevelLink, ...]:
    """Ways to the levels of a family that have problems; `root` leads to the site's root."""
    return tuple(
        LevelLink(level.level, f"{root}problems/{level_name(family, level)}.html", level.about)
        for level in family.levels
        if level.problems
    )


def frame_values(title: str, root: str, here: str, summary: str, chapter: str) -> dict[str, object]:
    """What every page needs: title, way to the site's root, which page it is, a sentence for it, its chapter."""
    return {
        "title": title,
        "root": root,
        "here": here,
        "summary": summary,
        "chapter": chapter,
        "sheets": ("book",),
        "scripts": (),
        "on_every_page": ON_EVERY_PAGE,
        "running_links": _RUNNING_LINKS,
        "standing_caution": STANDING,
    }
