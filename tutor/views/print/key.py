"""The key to a learner's paper as PDF: answers, worked solutions with their reasons, mark schemes; the scheme alone.

Place in the data flow: Paper -> `key_pdf`, `scheme_pdf` -> bytes.
"""

from __future__ import annotations

from tutor.sets.paper import Asked, Paper
from tutor.solution.desk import Desk, our_desk
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code, learner_code, learner_told, title_code
from tutor.views.print.paper import circuit_code, lines_code, statement_code
from tutor.views.print.parts import parts_of
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, flag, joined, literal
from tutor.views.print.worked import answers_code, counted, scheme_code, solution_code

HOW_TO_MARK = (
    "M is a mark for method: a relation that could lead to the answer. A is for accuracy, the value with its unit, and "
    "needs the marks named beside it. B stands by itself: one fact or one choice.",
    "Marks are given for what is right and never taken away. One slip costs one mark, a wrong or missing unit one mark "
    "in a question.",
)
_FOLLOWS = (
    "What follows from a wrong value is marked on that value; where the slip made the rest easier, what it left out "
    "earns nothing."
)
_NO_FOLLOWING = "What follows from a wrong value earns its method, and not its accuracy."
_BARE = "A bare right value earns its method marks too."
_NO_BARE = "Working is asked for: a bare right value earns its accuracy mark alone."


def key_pdf(paper: Paper, desk: Desk | None = None) -> bytes:
    """The key to one learner's paper: each question with its answers, its worked solution and its mark scheme."""
    pen, desk = Pen(paper.set.look), desk or our_desk()
    questions = [_question(item, paper, pen, desk) for item in paper.asked]
    return _document(paper, "key", "Key with worked solutions and mark scheme", pen, questions)


def scheme_pdf(paper: Paper) -> bytes:
    """The mark scheme of one learner's paper alone: answers, and what earns each mark."""
    pen = Pen(paper.set.look)
    questions = [_heading(item, [_answers(item, paper, pen), _scheme(item, pen)], pen) for item in paper.asked]
    return _document(paper, "mark scheme", "Mark scheme", pen, questions)


def marking_rules(paper: Paper) -> tuple[str, ...]:
    """How a set is marked, in sentences of prose."""
    rules = paper.set.rules
    within = f"A value is right within {rules.tolerance * 100:.3g} %, or half a unit of the last figure written."
    figures = ("A mark of its own stands for 2 to 4 significant figures.",) if rules.figures else ()
    follows = _FOLLOWS if rules.follow_through else _NO_FOLLOWING
    return (*HOW_TO_MARK, follows, _NO_BARE if rules.working_asked else _BARE, within, *figures)


def _document(paper: Paper, short: str, kind: str, pen: Pen, questions: list[str]) -> bytes:
    whole, learner = paper.set, paper.learner
    left = learner_code(learner.id, learner.name)
    head = title_code(whole.title, kind, left, literal(counted(paper.marks, "mark")))
    rules = call("rubric", array(map(pen.prose, marking_rules(paper))))
    code = document_code(
        joined([head, rules, *questions]), whole.look,
        title=f"{whole.title}: {short}", running=learner_told(learner.id, learner.name), foot=f"seed {whole.seed}",
    )  # fmt: skip
    return compile_pdf(code)


def _question(asked: Asked, paper: Paper, pen: Pen, desk: Desk) -> str:
    """A question of the key: told again with its drawing, since the numbers are this learner's alone."""
    told = joined([statement_code(asked, pen), literal(" "), pen.told(asked.problem.ask)])
    pieces = [
        call("telling", told, keep=flag(asked.number > 1)),
        circuit_code(asked, pen, desk),
        lines_code(asked, pen),
        _answers(asked, paper, pen),
        solution_code(pen, asked.solution),
        _scheme(asked, pen),
    ]
    return _heading(asked, pieces, pen)


def _heading(asked: Asked, pieces: list[str], pen: Pen) -> str:
    total = literal(counted(asked.marks, "mark"))
    title = pen.told(asked.problem.title)
    return call("question", literal(str(asked.number)), title, total, literal(asked.name), joined(pieces))


def _answers(asked: Asked, paper: Paper, pen: Pen) -> str:
    rules = paper.set.rules
    answers = call("small-heading", literal("Answers"))
    return joined([answers, answers_code(pen, parts_of(asked), rules.tolerance)])


def _scheme(asked: Asked, pen: Pen) -> str:
    return scheme_code(pen, asked, parts_of(asked))
