"""What a class is given, as frozen values: a set's rules and look, each learner's paper, and the questions on it.

Vocabulary: a *set* asks the same questions of everyone; a *paper* is one learner's edition of it, with numbers of its
own; a question *asked* is a problem with all that a paper, a key and a marker need to know of it.
Place in the data flow: set file + class list -> ClassSet + learners -> Papers -> papers in print, packages, marks.
Plain values only: how they are drawn is in `drafts.py`, how they are worked in `papers.py`, what is made of them in
`views` and in `marking.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from tutor.across.family import ShownLine
from tutor.generate.name import ProblemName
from tutor.generate.problem import Problem
from tutor.solution.scheme import Scheme
from tutor.solution.sheet import Sheet
from tutor.solution.solution import Solution

LARGE_PRINT = 18.0  # points; the size that large print is commonly asked for in
USUAL_PRINT = 11.0


@dataclass(frozen=True)
class Learner:
    """One of a class: `id` as in the class list, or the number of a variant; `name` may be empty."""

    id: str
    name: str = ""


@dataclass(frozen=True)
class Rules:
    """By what a set is marked. `tolerance` is a share (0.01 for 1 %): how near a value must lie to count as right.

    `figures` adds a mark for 2 to 4 significant figures; `working_asked`: a bare right value implies no method.
    `assume` are conventions and standing values as `--assume` takes them (`base-current`: `neglected`, `V_BE`: `0.6V`).
    """

    tolerance: float = 0.01
    figures: bool = False
    follow_through: bool = True
    working_asked: bool = False
    assume: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Look:
    """How a paper looks and writes: values of the settings that a reader of the study site has, too."""

    paper: str = "A4"  # or Letter
    large: bool = False  # large print
    drawings: str = "IEC"  # or IEEE
    decimal_comma: bool = False
    voltages: str = "V_I"  # or V_in: which letters the input and output voltages take
    gain: str = "h_FE"  # or beta
    formula_sheet: bool = False  # appended: the derived relations of the circuits on the paper

    @property
    def points(self) -> float:
        """The size of its text."""
        return LARGE_PRINT if self.large else USUAL_PRINT


@dataclass(frozen=True)
class DrawnQuestion:
    """A question of our families: `number` 0 has one drawn for each learner, else the one number for everyone."""

    family: str
    level: int
    number: int = 0
    edition: int = 0
    assumed: Mapping[str, str] = field(default_factory=dict)

    def named(self, number: int) -> ProblemName:
        """The problem of that number."""
        return ProblemName(self.family, self.level, number, self.edition, self.assumed)


@dataclass(frozen=True)
class PastQuestion:
    """A lecturer's own question: a circuit, its values as typed, what is asked (letter symbols), and its words."""

    circuit: str
    given: Mapping[str, str]
    ask: tuple[str, ...]
    text: str


@dataclass(frozen=True)
class Question:
    """A question of a set; `marks` None: those of its mark scheme. `line` is where the set file asks it, 0 unknown."""

    asks: DrawnQuestion | PastQuestion
    marks: int | None = None
    line: int = 0

    @property
    def problem(self) -> ProblemName | None:
        """The one problem that everyone is asked; None where each learner has their own, or it is a past question."""
        asks = self.asks
        return asks.named(asks.number) if isinstance(asks, DrawnQuestion) and asks.number else None


@dataclass(frozen=True)
class ClassSet:
    """A set as its file says it. `learners` are of the class list, or the variants 1, 2, ..., in order.

    `minutes` 0: no time is told. `mains` in Hz. `avoid` are names of problems that a resit must not use again, without
    their editions.
    """

    title: str
    seed: int
    questions: tuple[Question, ...]
    learners: tuple[Learner, ...]
    rules: Rules = Rules()
    look: Look = Look()
    mains: float = 50.0
    minutes: int = 0
    avoid: frozenset[str] = frozenset()
    file: Path | None = None


@dataclass(frozen=True)
class Asked:
    """A question on a paper, numbered from 1. `name` is whole (with its edition); of a past question it is `own:N`.

    `lines` and `caption`: what a problem across circuits lays before the learner; `withheld`: parts that its drawing
    must not show. `sheet`: what a working is held against; None where the problem asks for words alone.
    `marks` is what it counts on this paper; its scheme may have another total, and is then scaled.
    """

    number: int
    name: str
    problem: Problem
    solution: Solution
    scheme: Scheme
    marks: int
    sheet: Sheet | None = field(default=None, repr=False)
    lines: tuple[ShownLine, ...] = ()
    caption: str = ""
    withheld: tuple[str, ...] = ()
    named: ProblemName | None = None  # None of a past question


@dataclass(frozen=True)
class Paper:
    """One learner's edition of a set."""

    set: ClassSet = field(repr=False)
    learner: Learner
    asked: tuple[Asked, ...]

    @property
    def marks(self) -> int:
        """What all its questions count."""
        return sum(item.marks for item in self.asked)
