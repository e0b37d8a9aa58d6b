"""Engine values -> SiteContent: which circuits and families stand in which stage, each drawn and worked.

Place in the data flow: the desk (problems, solutions) and derivations -> SiteContent -> pages. Only gathering.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from tutor.across.family import AcrossFamily, Posed, Setting, pose
from tutor.across.hinting import hints_of_posed
from tutor.across.named import across_family, across_ids
from tutor.circuit.circuit import Circuit
from tutor.generate.family import Family
from tutor.generate.mirror_tables import reader_tables
from tutor.solution.bare_set import bare_set
from tutor.solution.derivation import derive
from tutor.solution.desk import Desk, WorkedProblem
from tutor.solution.fading import fading_order, fading_order_of
from tutor.solution.hints import hints_of
from tutor.solution.own_offer import own_offer
from tutor.solution.sheets import sheet_of
from tutor.views.content import (
    CircuitContent,
    FamilyContent,
    LevelContent,
    ProblemContent,
    SiteContent,
    StageContent,
)
from tutor.views.described import describe_circuit, marked_letters
from tutor.views.design_desks import desk_content
from tutor.views.drawn_symbols import SymbolStyle
from tutor.views.drawn_values import circuit_id, drawing_values, general_labels, part_labels
from tutor.views.live_figure import live_figure
from tutor.views.schematic import Schematic, schematic
from tutor.views.unfinished import drawn_without
from tutor.working.mirror_tables import checking_tables, reading_tables

Progress = Callable[[int, int, str], None]  # done, of how many, what is being made

STAGES = (
    (
        1,
        "The raw supply",
        "What an unregulated supply does when load, line and temperature move, and why a regulator needs it to stand "
        "too high.",
    ),
    (2, "Shunt regulators", "A part across the load steers current: it takes what the load leaves."),
    (3, "Series regulators", "A part in the lead steers its own voltage drop: it takes up what the line has over."),
    (4, "Combined regulators", "Stages one behind another, from the mains to the rail."),
    (
        5,
        "Across all circuits",
        "Questions that any circuit can be asked: which way it goes, what is wrong, whether a result can be.",
    ),
)


def assemble(desk: Desk, per_level: int, progress: Progress, only: Collection[str] | None = None) -> SiteContent:
    """Everything the site shows, with `per_level` problems a family and level; `progress` is told of each step.

    `only` names the families that are worked, all where it is None; own numbers are offered for the givens of all.
    """
    circuits = {name: desk.circuit(name) for name in desk.folder.circuit_ids()}
    families = {name: desk.family(name) for name in desk.folder.family_ids()}
    shown = {name: family for name, family in families.items() if only is None or name in only}
    across_shown = [name for name in across_ids(desk.folder) if only is None or name in only]
    across = {name: across_family(desk.folder, name) for name in across_shown}
    total = 2 * len(circuits) + 3 * len(shown) + 3 * len(across)
    done = 0
    drawn: dict[str, CircuitContent] = {}
    for name, circuit in circuits.items():
        progress(done, total, f"deriving {name}")
        drawn[name] = circuit_content(desk, circuit)
        done += 1
    worked: dict[str, FamilyContent] = {}
    for name, family in shown.items():
        levels = []
        for number in (1, 2, 3):
            progress(done, total, f"drawing and working {name}, level {number}")
            levels.append(level_content(desk, circuits[family.circuit_of(number)], family, number, per_level))
            done += 1
        worked[name] = FamilyContent(name, family.title, family.about, family.lesson, family.circuit, tuple(levels))
    for name, item in across.items():
        levels = []
        for number in (1, 2, 3):
            progress(done, total, f"posing {name}, level {number}")
            levels.append(posed_content(desk, circuits, item, number, per_level))
            done += 1
        worked[name] = FamilyContent(name, item.title, item.about, item.lesson, "", tuple(levels))
    offers = []
    for name, circuit in circuits.items():
        progress(done, total, f"planning own numbers on {name}")
        offer = own_offer(desk.folder, circuit, families.values())
        offers += [offer] if offer.sets else []  # a circuit that nothing is given for yet has no such page
        done += 1
    stage_of = {name: circuits[family.circuit_of(1)].stage for name, family in shown.items()}
    stage_of |= dict.fromkeys(across, STAGES[-1][0])
    stages = tuple(
        StageContent(
            number,
            title,
            summary,
            tuple(drawn[name] for name, circuit in circuits.items() if circuit.stage == number),
            tuple(worked[name] for name, stage in stage_of.items() if stage == number),
        )
        for number, title, summary in STAGES
    )
    there = tuple(stage for stage in stages if stage.circuits or stage.families)
    return SiteContent(there, page_tables(), tuple(offers))


def topic_content(
    desk: Desk, name: str, per_level: int, stage: int, shown: Collection[str], progress: Progress
) -> SiteContent:
    """One family alone, with `per_level` problems a level, and the circuits `shown` beside it, in that stage."""
    circuits = {found: desk.circuit(found) for found in desk.folder.circuit_ids()}
    levels: list[LevelContent] = []
    if name in across_ids(desk.folder):
        posed = across_family(desk.folder, name)
        title, about, lesson, circuit = posed.title, posed.about, posed.lesson, ""
    else:
        family = desk.family(name)
        title, about, lesson, circuit = family.title, family.about, family.lesson, family.circuit
    total = 3 + len(shown)
    for number in (1, 2, 3):
        progress(number - 1, total, f"working {name}, level {number}")
        if circuit:
            levels.append(level_content(desk, circuits[family.circuit_of(number)], family, number, per_level))
        else:
            levels.append(posed_content(desk, circuits, posed, number, per_level))
    drawn = []
    for at, found in enumerate(shown):
        progress(3 + at, total, f"deriving {found}")
        drawn.append(circuit_content(desk, circuits[found]))
    number, heading, summary = next(row for row in STAGES if row[0] == stage)
    worked = FamilyContent(name, title, about, lesson, circuit, tuple(levels))
    return SiteContent((StageContent(number, heading, summary, tuple(drawn), (worked,)),), page_tables())


def page_tables() -> dict[str, object]:
    """Everything the scripts of the pages need to know: of quantities, of lines of working, of checking them."""
    return {**reader_tables(), "lines": reading_tables(), "checking": checking_tables()}


def circuit_content(desk: Desk, circuit: Circuit) -> CircuitContent:
    """A circuit's page: its drawing, what is derived of it, the figure to disturb."""
    derived = derive(circuit.id)
    labels = general_labels(circuit)
    bare = bare_set(desk.folder, circuit)
    picture = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels)
    return CircuitContent(
        circuit.id,
        circuit.title,
        circuit.purpose,
        picture.with_labels({}),
        describe_circuit(circuit, labels, {}),
        tuple((law.title, law.equation, law.source) for law in derived.laws),
        {item.quantity: item.steps for item in derived.derivations},
        tuple(step for item in derived.derivations for step in item.sensitivities),
        tuple(dict.fromkeys(name for law in derived.laws for name in law.symbols)),
        None if bare is None else live_figure(bare),
        (_redrawn(circuit, picture),),
    )


def level_content(desk: Desk, circuit: Circuit, family: Family, number: int, per_level: int) -> LevelContent:
    """A level of a family: its first problems with their solutions, drawings and sheets, and its design desk."""
    ready = desk.level(family.id, number)
    problems = desk.batch(ready, range(1, per_level + 1))
    labels = part_labels(circuit, problems[0].problem.given)
    picture = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels)
    recipes = desk.recipes(ready)
    return LevelContent(
        number,
        ready.level.about,
        tuple(
            replace(
                _problem_content(circuit, item, picture, labels),
                hints=hints_of(ready, item.drawn, item.problem, item.solution),
                fades=fading_order(ready, item.drawn),
            )
            for item in problems
        ),
        tuple(sheet_of(ready, item.drawn, item.problem, recipes) for item in problems),
        circuit.id,
        desk_content(desk.folder, ready, problems),
        (_redrawn(circuit, picture),),
    )


def posed_content(
    desk: Desk, circuits: Mapping[str, Circuit], family: AcrossFamily, number: int, per_level: int
) -> LevelContent:
    """A level of a family across circuits: each problem with the drawing of its own circuit."""
    found = [pose(Setting(family, number, at, desk)) for at in range(1, per_level + 1)]
    sheets = tuple(item.sheet for item in found if item.sheet is not None)
    if len(sheets) < len(found):
        sheets = ()
    in_words = "among" if sheets else "alone"
    problems = []
    redrawn: dict[str, str] = {}
    for item in found:
        problem = item.problem
        circuit = drawn_without(circuits[circuit_id(problem)], item.withheld)
        labels = part_labels(circuit, problem.given)
        picture = schematic(circuit.drawing, circuit.parts, SymbolStyle.IEC, labels)
        if picture.key not in redrawn:
            redrawn |= [_redrawn(circuit, picture)]
        drawn = _problem_content(circuit, item, picture, labels)
        shown = replace(drawn, lines=item.lines, caption=item.caption, in_words=in_words)
        problems.append(replace(shown, hints=hints_of_posed(item), fades=fading_order_of(problem.waypoints)))
    about = family.levels[number - 1].about
    return LevelContent(number, about, tuple(problems), sheets, redrawn=tuple(redrawn.items()))


def _redrawn(circuit: Circuit, picture: Schematic) -> tuple[str, str]:
    """The same drawing in the other national style: its labels stand where they stood."""
    return picture.key, schematic(circuit.drawing, circuit.parts, SymbolStyle.IEEE, {}).shapes


def _problem_content(
    circuit: Circuit, worked: WorkedProblem | Posed, picture: Schematic, labels: Mapping[str, str]
) -> ProblemContent:
    values = drawing_values(circuit, worked.problem, picture.slots)
    rows, marked = describe_circuit(circuit, labels, values), marked_letters(circuit.drawing)
    base = worked.base if isinstance(worked, Posed) else ""
    return ProblemContent(worked.problem, worked.solution, picture.with_labels(values), rows, marked, base=base)
