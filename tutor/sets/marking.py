"""A learner's paper marked: each question's findings, the ledger of its marks, and what a human has to look at.

Vocabulary: a question's *marks* are on the paper's scale; its ledger counts the marks of its scheme. Where the two
totals differ the marks won are scaled and rounded to the nearest half mark, and a quarter goes up (in the learner's
favour); none stays none and all stays all. What is decided `by hand` wins over what was marked.
Place in the data flow: Paper + Returned + Overrides -> MarkedPaper -> feedback sheets, tables, class figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from tutor.errors import SteadyrailError, unknown
from tutor.sets.by_hand import Override
from tutor.sets.levels import runs_across
from tutor.sets.paper import Asked, Learner, Paper, Rules
from tutor.sets.returned import Answer, Returned
from tutor.sets.slips_met import slips_met
from tutor.working.finding import Code, Finding
from tutor.working.ledger import LedgerEntry, MarkRules, Marks
from tutor.working.marks import FIGURES_WAYPOINT
from tutor.working.problem_checked import ProblemChecked, check_across, check_on_circuit

FIGURES_PROMPT = "significant figures"
PRACTICE = 40  # numbers of a level that a study site holds unless told otherwise; a fresh problem is one of these


@dataclass(frozen=True)
class PointMarked:
    """The marks of one waypoint of a question: what is asked (prose), and its part of the ledger."""

    key: str
    prompt: str
    entries: tuple[LedgerEntry, ...]
    by_hand: str = ""

    @property
    def got(self) -> int:
        """Marks won."""
        return sum(entry.got for entry in self.entries)

    @property
    def of(self) -> int:
        """Marks there are."""
        return len(self.entries)


@dataclass(frozen=True)
class LineLeft:
    """A line that could not be read and is left to a human; `in_file` is its line there, None of a table's cell."""

    question: int
    line: int
    in_file: int | None
    text: str
    why: str


@dataclass(frozen=True)
class QuestionMarked:
    """One question of a paper, marked. `marks` of `asked.marks`; `by_hand` says what a human decided of the whole."""

    asked: Asked = field(repr=False)
    answer: Answer | None
    checked: ProblemChecked = field(repr=False)
    points: tuple[PointMarked, ...]
    marks: float
    by_hand: str = ""

    @property
    def won(self) -> int:
        """Marks won of its scheme."""
        return sum(point.got for point in self.points)

    @property
    def there_are(self) -> int:
        """Marks of its scheme, with the one for figures where the set's rules add it."""
        return sum(point.of for point in self.points)

    @property
    def left(self) -> tuple[LineLeft, ...]:
        """The lines that could not be read."""
        lines = () if self.answer is None else self.answer.lines
        return tuple(
            LineLeft(
                self.asked.number, item.number, lines[item.number - 1] if lines else None, item.text, item.why
            )
            for item in self.checked.findings
            if item.code is Code.UNREAD
        )  # fmt: skip

    @property
    def slips(self) -> tuple[str, ...]:
        """The names of the slips met, each once."""
        return slips_met(self.checked.findings, self.asked.problem, self.asked.sheet)

    @property
    def first_wrong(self) -> Finding | None:
        """The first line counted wrong."""
        return next((item for item in self.checked.findings if item.number == self.checked.first_wrong), None)

    @property
    def resting(self) -> tuple[int, ...]:
        """The lines after the first wrong one that follow from what stood before."""
        first = self.checked.first_wrong
        return tuple(
            item.number
            for item in self.checked.findings
            if first is not None and item.number > first and item.code is Code.FOLLOWS
        )  # fmt: skip

    @property
    def fresh(self) -> str:
        """The name of a fresh problem of the same sort, '' for a question of the lecturer's own."""
        named = self.asked.named
        if named is None:
            return ""
        return str(replace(named, number=named.number % PRACTICE + 1, edition=0))


@dataclass(frozen=True)
class MarkedPaper:
    """A learner's paper, marked. `returned` None: nothing was handed back, and there are no marks at all."""

    learner: Learner
    questions: tuple[QuestionMarked, ...]
    returned: Returned | None = None

    @property
    def counts(self) -> bool:
        """Whether its marks say anything: something was handed back and could be read, or a human decided."""
        read = self.returned is not None and self.returned.readable
        return read or any(item.by_hand or any(point.by_hand for point in item.points) for item in self.questions)

    @property
    def marks(self) -> float:
        """Marks of the whole paper."""
        return sum(item.marks for item in self.questions)

    @property
    def of(self) -> int:
        """What they are marks of."""
        return sum(item.asked.marks for item in self.questions)

    @property
    def left(self) -> tuple[LineLeft, ...]:
        """All lines left to a human."""
        return tuple(line for item in self.questions for line in item.left)


def scaled(won: int, of: int, marks: int) -> float:
    """Marks won of a scheme's total on the paper's scale, to the nearest half mark, a quarter going up.

    >>> scaled(5, 8, 5), scaled(0, 8, 5), scaled(8, 8, 5), scaled(1, 4, 3)
    (3.0, 0.0, 5.0, 1.0)
    """
    return 0.0 if of == 0 else (4 * won * marks + of) // (2 * of) / 2


def mark_paper(paper: Paper, returned: Returned | None, by_hand: Sequence[Override] = ()) -> MarkedPaper:
    """A paper marked. SteadyrailError names the place of an override that its scheme has no room for.

    Nothing that a learner wrote raises an error.
    """
    given = Returned() if returned is None else returned
    marked = tuple(
        mark_question(
            item,
            given.answers.get(item.number),
            paper.set.rules,
            [decided for decided in by_hand if decided.question == item.number],
            decimal_comma=paper.set.look.decimal_comma,
        )
        for item in paper.asked
    )
    return MarkedPaper(paper.learner, marked, returned)


def mark_question(
    item: Asked, answer: Answer | None, rules: Rules, by_hand: Sequence[Override] = (), *, decimal_comma: bool = False
) -> QuestionMarked:
    """One question marked; a question that is not answered has its ledger too, with nothing won.

    SteadyrailError names the place of an override that its scheme has no room for.
    """
    text = "" if answer is None else answer.text
    how = MarkRules(
        follow_through=rules.follow_through, figures=rules.figures, working_asked=rules.working_asked
    )  # fmt: skip
    sheet = None if item.sheet is None else replace(item.sheet, decimal_comma=decimal_comma)
    if sheet is None or (item.named is not None and runs_across(item.named.family)):
        checked = check_across(
            text, item.problem, item.solution, sheet,
            rules=how, tolerance=rules.tolerance, decimal_comma=decimal_comma,
        )  # fmt: skip
    else:
        checked = check_on_circuit(text, sheet, item.scheme, how, rules.tolerance)
    return _with_decisions(item, answer, checked, by_hand)


def _with_decisions(
    item: Asked, answer: Answer | None, checked: ProblemChecked, by_hand: Sequence[Override]
) -> QuestionMarked:
    points = _points(item, checked.marks)
    for decided in by_hand:
        if decided.waypoint:
            points = _decided(points, decided)
    won, of = sum(point.got for point in points), sum(point.of for point in points)
    marks, words = scaled(won, of, item.marks), ""
    for decided in by_hand:
        if not decided.waypoint:
            if decided.marks > item.marks:
                raise SteadyrailError(
                    f"{decided.place}: question {item.number} has {item.marks} marks (got {decided.marks:g})"
                )
            marks, words = decided.marks, decided.words
    return QuestionMarked(item, answer, checked, points, marks, words)


def _points(item: Asked, marks: Marks) -> tuple[PointMarked, ...]:
    prompts = {point.key: point.prompt for point in item.problem.waypoints}
    prompts[FIGURES_WAYPOINT] = FIGURES_PROMPT
    return tuple(
        PointMarked(key, prompts.get(key, key), tuple(entries))
        for key, entries in groupby(marks.ledger, lambda entry: entry.waypoint)
    )


def _decided(points: tuple[PointMarked, ...], decided: Override) -> tuple[PointMarked, ...]:
    """The points with one decided by hand; its marks are entered from the first on, method before accuracy."""
    keys = [point.key for point in points]
    if decided.waypoint not in keys:
        raise SteadyrailError(f"{decided.place}: {unknown('waypoint', decided.waypoint, keys).sentence}")
    found = points[keys.index(decided.waypoint)]
    if decided.marks > found.of:
        raise SteadyrailError(
            f"{decided.place}: the waypoint {found.key} has {found.of} marks in its scheme (got {decided.marks:g})"
        )
    entries = tuple(
        replace(entry, got=int(place < decided.marks), line=None, why=decided.words)
        for place, entry in enumerate(found.entries)
    )
    changed = replace(found, entries=entries, by_hand=decided.words)
    return tuple(changed if point is found else point for point in points)
