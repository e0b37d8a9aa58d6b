"""The marks of a class gathered as they come: how they lie, what was lost, which slips were met, what is left to read.

Vocabulary: learners who *count* returned something that could be read, or have marks by hand; figures are theirs alone.
Place in the data flow: LearnerRecords -> ClassTally -> ClassFigures -> tables, the class report. A tally holds one
number a question and learner, so that it stays small beside what it is fed with.
"""

from __future__ import annotations

from array import array
from collections import Counter
from dataclasses import dataclass, field

from tutor.sets.class_figures import Distribution, counted, item_rest, spread, upper_lower
from tutor.sets.marking import LineLeft
from tutor.sets.marks_record import LearnerRecord, QuestionRecord
from tutor.sets.slips_met import UNNAMED

MOST_SHOWN = 200  # lines left to a human, and notes, that a report lists; tables have them all
_BINS = 10


@dataclass(frozen=True)
class PointFigures:
    """A waypoint over a class: marks lost, of how many, and how many learners lost any."""

    waypoint: str
    prompt: str
    lost: int
    of: int
    learners: int

    @property
    def share(self) -> float:
        """The share of its marks that was lost."""
        return self.lost / self.of if self.of else 0.0


@dataclass(frozen=True)
class QuestionFigures:
    """A question over a class. Marks are on the paper's scale; `answered` counts those who wrote anything to it.

    `rest` is the item-rest correlation, `index` the upper-lower index; None where neither can be said.
    """

    question: int
    title: str
    of: int
    answered: int
    marks: Distribution
    rest: float | None
    index: float | None
    points: tuple[PointFigures, ...]
    slips: tuple[tuple[str, int], ...]

    @property
    def facility(self) -> float:
        """The mean share of its marks that was won."""
        return self.marks.mean / self.of if self.of else 0.0


@dataclass(frozen=True)
class ClassFigures:
    """What a class made of a set. `slips` count learners' questions on which each was met, the commonest first.

    `left` and `notes` are the first of them, by id; `left_count` counts all lines. `marks` None: nobody counts.
    """

    title: str
    learners: int
    counted: int
    absent: tuple[str, ...]
    of: int
    marks: Distribution | None
    bins: tuple[int, ...]
    questions: tuple[QuestionFigures, ...]
    slips: tuple[tuple[str, int], ...]
    left: tuple[tuple[str, LineLeft], ...]
    left_count: int
    notes: tuple[tuple[str, str], ...]


@dataclass
class _Question:
    """What is known of one question so far; `of` is the most that it counted on any paper."""

    title: str
    of: int = 0
    answered: int = 0
    marks: array[float] = field(default_factory=lambda: array("d"))
    points: dict[str, list[int]] = field(default_factory=dict)
    prompts: dict[str, str] = field(default_factory=dict)
    slips: Counter[str] = field(default_factory=Counter)

    def add(self, item: QuestionRecord) -> None:
        self.of = max(self.of, item.of)
        self.answered += bool(item.working)
        self.marks.append(item.marks)
        self.slips.update(item.slips)
        for point in item.points:
            self.prompts.setdefault(point.waypoint, point.prompt)
            found = self.points.setdefault(point.waypoint, [0, 0, 0])
            found[0] += point.of - point.got
            found[1] += point.of
            found[2] += point.got < point.of


class ClassTally:
    """The figures of a class as its records come, one by one."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.learners = 0
        self.totals = array("d")
        self.of = 0
        self.left_count = 0
        self._questions: dict[int, _Question] = {}
        self._absent: list[str] = []
        self._left: list[tuple[str, LineLeft]] = []
        self._notes: list[tuple[str, str]] = []

    def add(self, record: LearnerRecord) -> None:
        """One learner more."""
        self.learners += 1
        if not record.returned:
            self._absent.append(record.id)
        room = MOST_SHOWN - len(self._notes)
        self._notes += [(record.id, note) for note in record.notes[: max(0, room)]]
        self.left_count += len(record.left)
        room = MOST_SHOWN - len(self._left)
        self._left += [(record.id, line) for line in record.left[: max(0, room)]]
        if not record.counts:
            return
        self.totals.append(record.marks)
        self.of = max(self.of, record.of)
        for item in record.questions:
            self._questions.setdefault(item.question, _Question(item.title)).add(item)

    def figures(self) -> ClassFigures:
        """The figures of all that were added."""
        slips: Counter[str] = Counter()
        for question in self._questions.values():
            slips.update(question.slips)
        return ClassFigures(
            self.title,
            self.learners,
            len(self.totals),
            tuple(self._absent),
            self.of,
            spread(self.totals) if self.totals else None,
            counted(self.totals, self.of, _BINS) if self.totals and self.of else (),
            tuple(self._figures_of(number, item) for number, item in sorted(self._questions.items())),
            _commonest(slips),
            tuple(self._left),
            self.left_count,
            tuple(self._notes),
        )

    def _figures_of(self, number: int, item: _Question) -> QuestionFigures:
        points = tuple(PointFigures(key, item.prompts[key], *found) for key, found in item.points.items())
        rest = item_rest(item.marks, self.totals) if len(self._questions) > 1 else None
        index = upper_lower(item.marks, self.totals, item.of) if len(self._questions) > 1 and item.of else None
        return QuestionFigures(
            number, item.title, item.of, item.answered, spread(item.marks), rest, index, points,
            _commonest(item.slips),
        )  # fmt: skip


def _commonest(slips: Counter[str]) -> tuple[tuple[str, int], ...]:
    """The commonest first; those without a name last, since they say least."""
    return tuple(sorted(slips.items(), key=lambda item: (item[0] == UNNAMED, -item[1], item[0])))
