"""Lines of returned workings marked a second, on one core: against checking the same lines without marking them, and
marks alone against the feedback sheets that say them, on a page and on paper."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from plans import Disagreement
from table import Row, Section
from timing import Contender, Effort, interleaved

from tutor.generate.name import read_name
from tutor.sets.asked import asked
from tutor.sets.marking import MarkedPaper, mark_paper
from tutor.sets.paper import ClassSet, DrawnQuestion, Learner, Paper, Question
from tutor.sets.returned import Returned, by_headings
from tutor.solution.desk import our_desk
from tutor.views.feedback import feedback_page, feedback_sheet
from tutor.views.press import make_press
from tutor.views.print.feedback import feedback_pdf
from tutor.views.sources import site_folder
from tutor.working.check import Checked, check_working

NAMES = ("zener-state:1:3", "follower-state:1:2", "zener-resistor:2:17")
# A right paper and one with a slip on each question, whose later lines follow from it; and the marks of each, by hand.
WORKINGS = {
    """Q1
V_TH = V_I R_L/(R + R_L) = 30 × 330/(100 + 330) = 23.0 V
V_TH > V_Z, so the zener is in breakdown
V_O = V_Z = 15 V
Q2
V_O = V_Z - V_BE = 5.1 - 0.7 = 4.4 V
I_L = V_O/R_L = 4.4/560 = 7.86 mA
I_B = I_L/(h_FE + 1) = 7.86 mA/121 = 64.9 µA
Q3
R_MAX = (V_I_MIN - V_Z)/(I_L_MAX + I_ZK) = (17.5 - 11)/19m = 342 Ω
I_ZM = P_ZM/V_Z = 1/11 = 90.9 mA
R_MIN = (V_I_MAX - V_Z)/(I_L_MIN + I_ZM) = 8.5/95.9m = 88.6 Ω
choose R = 300 Ω
""": (5, 6),
    """Q1
V_TH = V_I R/(R + R_L) = 30 × 100/430 = 6.98 V
V_TH < V_Z, so the zener is off
V_O = V_TH = 6.98 V
Q2
V_O = V_Z + V_BE = 5.1 + 0.7 = 5.8 V
I_L = V_O/R_L = 5.8/560 = 10.36 mA
I_B = I_L/(h_FE + 1) = 10.36 mA/121 = 85.6 µA
Q3
R <= (17.5 - 11)/15m = 433 Ω
choose R = 390 Ω
I_Z = (19.5-11)/390 - 5m = 16.8 mA
P_Z = 11 V × 16.8 mA = 185 mW
""": (2, 4),
}
HOW = (
    f"Two papers of {len(NAMES)} questions ({', '.join(NAMES)}), one right, one with slips and what follows from them, "
    "on one core; marks of the first two questions held against what they are by hand before anything is timed. Ratio "
    "of the first row: checking the lines alone over marking them; of the second: a feedback sheet as PDF over all its "
    "marking; of the third: as a page over the same."
)


def class_papers() -> list[tuple[Paper, Returned]]:
    """The papers, each with what was handed back."""
    desk = our_desk()
    questions = tuple(asked(desk, number, read_name(name)) for number, name in enumerate(NAMES, 1))
    drawn = [read_name(name) for name in NAMES]
    whole = ClassSet("Marking", 1, tuple(Question(DrawnQuestion(n.family, n.level, n.number)) for n in drawn), ())
    return [
        (Paper(whole, Learner(str(place)), questions), by_headings(text, len(NAMES)))
        for place, text in enumerate(WORKINGS)
    ]


def require_marks(found: list[tuple[Paper, Returned]]) -> list[MarkedPaper]:
    """The papers marked; Disagreement where their marks are others than by hand: then their time says nothing."""
    marked = [mark_paper(paper, returned) for paper, returned in found]
    for paper, wanted in zip(marked, WORKINGS.values(), strict=True):
        got = tuple(item.won for item in paper.questions[: len(wanted)])
        if got != wanted:
            raise Disagreement(f"paper {paper.learner.id}: marks {wanted} expected, {got} given")
    return marked


def rows_for(effort: Effort) -> list[Row]:
    """The rows."""
    found = class_papers()
    sheets = [feedback_sheet(paper, "Marking") for paper in require_marks(found)]
    press = make_press(site_folder() / "templates")
    texts = [answer.text for _, returned in found for answer in returned.answers.values()]
    lines = sum(bool(line.strip()) for text in texts for line in text.split("\n"))
    look = found[0][0].set.look

    def marking(number: int) -> partial[object]:
        return partial(_marked, _handed_back_anew(found))

    def checking(number: int) -> partial[object]:
        return partial(_checked, _handed_back_anew(found))

    def printing(number: int) -> partial[object]:
        return partial(lambda: [feedback_pdf(sheet, look) for sheet in sheets])

    def paging(number: int) -> partial[object]:
        return partial(lambda: [feedback_page(sheet, press) for sheet in sheets])

    contenders = {
        "marked": Contender(marking),
        "checked": Contender(checking),
        "printed": Contender(printing, effort.sample_seconds),
        "pages": Contender(paging, effort.sample_seconds),
    }
    times = interleaved(contenders, effort.rounds)
    papers = len(found)
    return [
        Row("lines marked", times["marked"], "lines checked alone", times["checked"], "one core", lines),
        Row("papers marked", times["marked"], "feedback as PDF", times["printed"], "one core", papers),
        Row("papers marked", times["marked"], "feedback as a page", times["pages"], "one core", papers),
    ]


def _handed_back_anew(found: list[tuple[Paper, Returned]]) -> list[tuple[Paper, Returned]]:
    """The same papers with sheets that nothing was checked on: as each paper of a class is marked once."""

    def anew(paper: Paper) -> Paper:
        return replace(
            paper, asked=tuple(replace(item, sheet=item.sheet and replace(item.sheet)) for item in paper.asked)
        )

    return [(anew(paper), returned) for paper, returned in found]


def _marked(found: list[tuple[Paper, Returned]]) -> list[MarkedPaper]:
    return [mark_paper(paper, returned) for paper, returned in found]


def _checked(found: list[tuple[Paper, Returned]]) -> list[Checked]:
    return [
        check_working(returned.answers[item.number].text, item.sheet)
        for paper, returned in found
        for item in paper.asked
        if item.sheet is not None
    ]


def measure(effort: Effort) -> Section:
    """The rows of marking."""
    return Section(tuple(rows_for(effort)), HOW)
