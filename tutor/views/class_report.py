"""The report on a class: how marks lie, what was lost, slips, which questions discriminated, what is left to read.

Place in the data flow: ClassFigures + plots -> HTML here, Typst in `print/feedback.py`.
Figures of discrimination are those of classical test theory; `sets/class_figures.py` names the source.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import dataclass

from jinja2 import Environment
from markupsafe import Markup

from tutor.generate.cautions import STANDING
from tutor.sets.class_figures import chance, how_it_discriminates
from tutor.sets.class_marks import ClassFigures, QuestionFigures
from tutor.sets.moved import MovedQuestion
from tutor.views.alone import style_and_policy
from tutor.views.class_plots import Plot, number
from tutor.views.feedback import marks_shown
from tutor.views.margin import shown_line

MOST_MOVES, MOST_ABSENT = 200, 20  # told one by one
SOURCE = (
    "The item-rest correlation is Pearson's correlation of a question's marks with those of the rest of the paper; the "
    "upper-lower index is the share of its marks won by the best third of the class less that won by the last third. "
    "Classical test theory; read after R. L. Ebel and D. A. Frisbie, Essentials of Educational Measurement: an index "
    "from 0.40 discriminates well, from 0.30 fairly well, from 0.20 a little."
)


@dataclass(frozen=True)
class QuestionRow:
    """A question as its row in the report has it, all in words and figures."""

    number: int
    title: str
    mean: str
    facility: str
    answered: str
    rest: str
    index: str
    words: str


@dataclass(frozen=True)
class PointRow:
    """A waypoint as its row has it."""

    question: int
    key: str
    prompt: str
    lost: str
    learners: str


@dataclass(frozen=True)
class ClassReport:
    """All that a report says. `moved` are the marks that are others than at the marking before."""

    title: str
    summary: tuple[str, ...]
    spread: tuple[tuple[str, str], ...]
    questions: tuple[QuestionRow, ...]
    chance: str
    points: tuple[PointRow, ...]
    slips: tuple[tuple[str, int, str], ...]
    left: tuple[tuple[str, str, str, str], ...]
    left_more: int
    notes: tuple[tuple[str, str], ...]
    strays: tuple[str, ...]
    moved: tuple[tuple[str, str, str, str, str], ...]
    moved_more: int


def class_report(figures: ClassFigures, strays: Sequence[str] = (), moved: Sequence[MovedQuestion] = ()) -> ClassReport:
    """The report on these figures."""
    return ClassReport(
        figures.title,
        _summary(figures),
        _spread(figures),
        tuple(_question_row(item, figures) for item in figures.questions),
        _chance(figures.counted),
        tuple(
            PointRow(
                item.question, point.waypoint, point.prompt, f"{100 * point.share:.0f} %",
                f"{point.learners} of {figures.counted}",
            )
            for item in figures.questions
            for point in item.points
        ),
        tuple((name, count, _where(name, figures)) for name, count in figures.slips),
        tuple(
            (shown_line(whose), f"Q{line.question}", str(line.in_file or line.line), shown_line(line.text))
            for whose, line in figures.left
        ),
        figures.left_count - len(figures.left),
        tuple((shown_line(whose), shown_line(note)) for whose, note in figures.notes),
        tuple(shown_line(stray) for stray in strays),
        tuple(
            (shown_line(move.id), f"Q{move.question}", marks_shown(move.before), marks_shown(move.after),
             shown_line(move.why))
            for move in moved[:MOST_MOVES]
        ),
        max(0, len(moved) - MOST_MOVES),
    )  # fmt: skip


def _summary(figures: ClassFigures) -> tuple[str, ...]:
    found = [f"{figures.counted} of {figures.learners} learners are counted here."]
    if figures.absent:
        some = ", ".join(shown_line(whose) for whose in figures.absent[:MOST_ABSENT])
        left = len(figures.absent) - MOST_ABSENT
        more = f" and {left} more" if left > 0 else ""
        found.append(f"Nothing was handed back by {some}{more}.")
    unread = figures.learners - figures.counted - len(figures.absent)
    if unread > 0:
        found.append(f"{unread} handed back what could not be read; the notes below say why.")
    return tuple(found)


def _spread(figures: ClassFigures) -> tuple[tuple[str, str], ...]:
    found = figures.marks
    if found is None:
        return ()
    rows = (
        ("mean", found.mean), ("standard deviation", found.deviation), ("least", found.least),
        ("lower quartile", found.lower), ("median", found.median), ("upper quartile", found.upper),
        ("greatest", found.greatest),
    )  # fmt: skip
    return tuple((name, f"{value:.1f}".removesuffix(".0")) for name, value in rows)


def _question_row(item: QuestionFigures, figures: ClassFigures) -> QuestionRow:
    return QuestionRow(
        item.question, item.title, f"{item.marks.mean:.1f} of {item.of}", f"{100 * item.facility:.0f} %",
        f"{item.answered} of {figures.counted}", number(item.rest), number(item.index),
        how_it_discriminates(item.index),
    )  # fmt: skip


def _chance(count: int) -> str:
    bound = chance(count)
    if bound >= 1:
        return f"With {count} learners any of these figures may be chance."
    return f"With {count} learners a correlation under {bound:.2f} may be chance (two standard errors, 2/√n)."


def _where(name: str, figures: ClassFigures) -> str:
    found = [
        f"Q{item.question}: {count}" for item in figures.questions for slip, count in item.slips if slip == name
    ]  # fmt: skip
    return ", ".join(found)


def report_page(report: ClassReport, plots: Sequence[Plot], press: Environment) -> str:
    """The report as one page of HTML that asks for nothing beside itself and runs nothing."""
    style, policy = style_and_policy()
    shown = [(plot.title, plot.says, _address(plot.light), _address(plot.dark)) for plot in plots]
    return press.get_template("class_report.html").render(
        report=report, plots=shown, source=SOURCE, style=Markup(style), policy=policy, standing_caution=STANDING
    )


def _address(picture: bytes) -> str:
    return f"data:image/svg+xml;base64,{b64encode(picture).decode()}"
