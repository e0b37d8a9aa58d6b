"""Everything the study site shows, as frozen values: what the engine hands over, and all that the pages know.

Vocabulary: a *stage* is a chapter of the path (raw supply, shunt, series, combined); a *circuit* has a page of its
own; a *family* is one kind of problem, at up to three *levels*; *description rows* are a drawing in words.
Place in the data flow: circuits, families, Problems and Solutions -> SiteContent -> pages. Nothing here computes.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.across.family import ShownLine
from tutor.generate.problem import Problem
from tutor.quantities.expression import Equation
from tutor.solution.hints import Hints
from tutor.solution.own_offer import OwnOffer
from tutor.solution.sheet import Sheet
from tutor.solution.solution import Solution, WorkedStep
from tutor.views.described import PartRow
from tutor.views.design_desks import DeskContent
from tutor.views.live_figure import LiveFigure

Redrawn = tuple[str, str]  # the key of a drawing, and its strokes in the other national style as SVG
NamedLaw = tuple[str, Equation, str]  # title as prose, the relation, the source


@dataclass(frozen=True)
class ProblemContent:
    """One problem with its solution and its drawing, labelled with this problem's values."""

    problem: Problem
    solution: Solution
    schematic_svg: str
    description_rows: tuple[PartRow, ...]
    marked: tuple[str, ...] = ()  # letter symbols of the currents and voltages marked in the drawing
    lines: tuple[ShownLine, ...] = ()  # what a problem across circuits lays before the learner
    caption: str = ""  # prose: what those lines are
    in_words: str = ""  # whether lines of its working answer in words: alone, among relations, or not at all
    base: str = ""  # name of the problem that a problem across circuits is about, if any
    hints: tuple[Hints, ...] = ()  # of its waypoints, in their order
    fades: tuple[str, ...] = ()  # keys of its waypoints in the order in which their steps are left out


@dataclass(frozen=True)
class LevelContent:
    """A family at one level: what it asks, and its problems, number 1 first, with their sheets (none where it asks for
    words alone: then the answers are all that a working is held against)."""

    level: int
    about: str  # prose
    problems: tuple[ProblemContent, ...]
    sheets: tuple[Sheet, ...]
    circuit: str = ""  # id of the circuit, of one form where it comes in several; '' where it is drawn too
    desk: DeskContent | None = None  # where parts are chosen and judged; none where the level asks for no choice
    redrawn: tuple[Redrawn, ...] = ()


@dataclass(frozen=True)
class FamilyContent:
    """One kind of problem."""

    id: str
    title: str
    about: str  # prose
    lesson: str  # name of the lesson it belongs to, '' when there is none
    circuit: str
    levels: tuple[LevelContent, ...]

    def redrawn(self) -> tuple[Redrawn, ...]:
        """The drawings of all its levels in the other national style."""
        return tuple(pair for level in self.levels for pair in level.redrawn)

    def on(self, circuit: str) -> tuple[LevelContent, ...]:
        """The levels that are about a circuit."""
        return tuple(level for level in self.levels if (level.circuit or self.circuit) == circuit)


@dataclass(frozen=True)
class CircuitContent:
    """One circuit: its drawing with general letters, its laws and what follows from them."""

    id: str
    title: str
    purpose: str  # prose
    schematic_svg: str
    description_rows: tuple[PartRow, ...]
    laws: tuple[NamedLaw, ...]
    derivations: dict[str, tuple[WorkedStep, ...]]  # by the symbol derived
    sensitivities: tuple[WorkedStep, ...]
    symbols: tuple[str, ...]
    live: LiveFigure | None = None  # what a reader disturbs; none where nothing that moves is found
    redrawn: tuple[Redrawn, ...] = ()


@dataclass(frozen=True)
class StageContent:
    """One stage of the path."""

    number: int
    title: str
    summary: str  # prose
    circuits: tuple[CircuitContent, ...]
    families: tuple[FamilyContent, ...]


@dataclass(frozen=True)
class SiteContent:
    """The whole site; `tables` are what the scripts of the pages need to know, as plain JSON data.

    `own` are the circuits on which anybody's own numbers may be worked.
    """

    stages: tuple[StageContent, ...]
    tables: dict[str, object]
    own: tuple[OwnOffer, ...] = ()

    def circuits(self) -> dict[str, CircuitContent]:
        """Every circuit by its id, in the order of the path."""
        return {circuit.id: circuit for stage in self.stages for circuit in stage.circuits}

    def redrawn(self) -> dict[str, str]:
        """Every drawing's strokes in the other national style, by its key."""
        found = dict(pair for circuit in self.circuits().values() for pair in circuit.redrawn)
        return found | {pair[0]: pair[1] for family in self.families() for pair in family.redrawn()}

    def families(self) -> tuple[FamilyContent, ...]:
        """Every family, in the order of the path."""
        return tuple(family for stage in self.stages for family in stage.families)
