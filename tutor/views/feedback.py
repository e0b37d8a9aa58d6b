"""A feedback sheet: a learner's own lines with what was found beside them, where to look first, marks and reasons.

Place in the data flow: MarkedPaper -> FeedbackSheet -> HTML here, Typst in `print/feedback.py`. Plain values stand
between the two, so that both say the same. What quotes a learner is never prose: a dollar sign in it is a dollar sign.
"""

from __future__ import annotations

from dataclasses import dataclass

from jinja2 import Environment
from markupsafe import Markup

from tutor.generate.cautions import STANDING
from tutor.quantities.prose import listed
from tutor.quantities.quantity import given
from tutor.quantities.symbols import symbol_for
from tutor.sets.marking import MarkedPaper, PointMarked, QuestionMarked
from tutor.solution.solution import Check
from tutor.views.alone import style_and_policy
from tutor.views.found_words import SAID, found_words
from tutor.views.margin import shown_line
from tutor.views.plain import sentence
from tutor.working.finding import WRONG, Code, Finding
from tutor.working.marks import FIGURES_WAYPOINT


@dataclass(frozen=True)
class LineShown:
    """A line as typed, the part of it in question between `before` and `after`, and its finding in words."""

    number: int
    before: str
    pointed: str
    after: str
    sign: str
    words: str
    why: str
    kind: str  # wrong, unread or plain
    first: bool


@dataclass(frozen=True)
class LookShown:
    """A sentence on where to look: plain words (a learner may be quoted in them), then prose of an author, or ''."""

    words: str
    prose: str = ""


@dataclass(frozen=True)
class PointShown:
    """A waypoint's marks: its key, what it asks (prose), its marks as M1, A0, what was won of how many, and reasons."""

    key: str
    prompt: str
    marks: str
    got: int
    of: int
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class QuestionShown:
    """One question of a sheet. `look` are sentences on where to look first; `scale` says how marks were scaled, '' not.

    `statement` and `ask` are prose; `fresh` is the name of a problem to practise on, `why_fresh` what for.
    """

    number: int
    title: str
    name: str
    statement: str
    ask: str
    marks: str
    of: int
    scale: str
    by_hand: str
    lines: tuple[LineShown, ...]
    look: tuple[LookShown, ...]
    points: tuple[PointShown, ...]
    design: str
    margins: tuple[Check, ...]
    fresh: str
    why_fresh: str


@dataclass(frozen=True)
class FeedbackSheet:
    """All that a feedback sheet says."""

    title: str
    id: str
    name: str
    marks: str
    of: int
    counts: bool
    notes: tuple[str, ...]
    questions: tuple[QuestionShown, ...]


def marks_shown(marks: float | None) -> str:
    """Marks with their half as a fraction; a dash where there are none.

    >>> marks_shown(3.0), marks_shown(2.5), marks_shown(0.5), marks_shown(None)
    ('3', '2½', '½', '–')
    """
    if marks is None:
        return "–"
    whole, half = int(marks), marks % 1 >= 0.5
    return f"{whole if whole or not half else ''}{'½' if half else ''}"


def feedback_sheet(marked: MarkedPaper, title: str) -> FeedbackSheet:
    """The sheet of a marked paper; `title` is the set's."""
    notes = () if marked.returned is None else marked.returned.notes
    return FeedbackSheet(
        title, shown_line(marked.learner.id), shown_line(marked.learner.name), marks_shown(marked.marks), marked.of,
        marked.counts, tuple(shown_line(note) for note in notes), tuple(_question(item) for item in marked.questions),
    )  # fmt: skip


def _question(item: QuestionMarked) -> QuestionShown:
    asked, problem = item.asked, item.asked.problem
    scale = ""
    if item.there_are != asked.marks:
        scale = f"{item.won} of {item.there_are} marks of its scheme, to the nearest half mark of {asked.marks}"
    taken = item.checked.chosen.items()
    lost = item.won < item.there_are
    return QuestionShown(
        asked.number,
        problem.title,
        asked.name,
        problem.statement,
        problem.ask,
        marks_shown(item.marks),
        asked.marks,
        scale,
        shown_line(item.by_hand),
        tuple(_line(line, item.checked.first_wrong) for line in item.checked.findings),
        _look(item),
        tuple(_point(point) for point in item.points),
        ", ".join(f"{key} = {given(value, symbol_for(key).unit).text}" for key, value in taken),
        item.checked.margins,
        item.fresh,
        "to practise what was lost here" if lost else "for another of this kind",
    )


def _line(line: Finding, first_wrong: int | None) -> LineShown:
    text = shown_line(line.text)
    first, past = line.columns or (1, 1)
    kind = "wrong" if line.code in WRONG else "unread" if line.code is Code.UNREAD else "plain"
    words, why = found_words(line)
    return LineShown(
        line.number, text[: first - 1], text[first - 1 : past - 1], text[past - 1 :], SAID[line.code][0], words, why,
        kind, line.number == first_wrong,
    )  # fmt: skip


def _look(item: QuestionMarked) -> tuple[LookShown, ...]:
    """Where to look first, what goes on from there, and which lines nobody could read."""
    found = []
    first = item.first_wrong
    if item.answer is None:
        return (LookShown("Nothing was handed back for this question."),)
    if first is not None:
        why = sentence(shown_line(first.why or found_words(first)[0]))
        found.append(LookShown(f"First line to look at: {first.number}. {why}"))
        earns = _earned_by(item, first)
        if earns:
            found.append(LookShown("What it should come from: ", f"{earns}."))
        if item.resting:
            lines, verb = _lines(item.resting), "follows" if len(item.resting) == 1 else "follow"
            found.append(LookShown(f"{lines} {verb} from what stood before; that is not counted wrong again."))
    elif any(point.got < point.of for point in item.points):
        found.append(LookShown("No line that could be read is wrong; what is missing stands with the marks."))
    unread = tuple(line.line for line in item.left)
    if unread:
        left = "is left" if len(unread) == 1 else "are left"
        found.append(LookShown(f"{_lines(unread)} could not be read and {left} to a person."))
    return tuple(found)


def _earned_by(item: QuestionMarked, first: Finding) -> str:
    """What earns the method mark of the waypoint that a wrong line speaks of (prose); '' where it speaks of none."""
    for point in item.asked.scheme.points:
        if first.key and len(point.marks) > 1 and first.key in {point.key, *point.marks[-2].names}:
            return point.marks[-2].earns
    return ""


def _lines(numbers: tuple[int, ...]) -> str:
    return f"{'Line' if len(numbers) == 1 else 'Lines'} {listed([str(number) for number in numbers])}"


def _point(point: PointMarked) -> PointShown:
    """A waypoint's marks; a reason that two of its marks share is said once."""
    reasons: list[str] = []
    for entry in point.entries:
        why = shown_line(entry.why)
        if not any(said.endswith(why) for said in reasons):
            reasons.append(why if entry.line is None else f"line {entry.line}: {why}")
    key = "" if point.key == FIGURES_WAYPOINT else point.key
    marks = " ".join(f"{entry.kind.value}{entry.got}" for entry in point.entries)
    return PointShown(key, point.prompt, marks, point.got, point.of, tuple(reasons))


def feedback_page(sheet: FeedbackSheet, press: Environment) -> str:
    """The sheet as one page of HTML that asks for nothing beside itself and runs nothing."""
    style, policy = style_and_policy()
    return press.get_template("feedback.html").render(
        sheet=sheet, style=Markup(style), policy=policy, standing_caution=STANDING
    )
