"""A worked solution, checks and a mark scheme as code of our pages: what keys, solutions and feedback sheets share.

Place in the data flow: Solution, Scheme + Pen -> code for `document.py`. Only formatting.
"""

from __future__ import annotations

from collections.abc import Sequence

from tutor.sets.paper import Asked
from tutor.solution.solution import Check, Solution, WorkedStep
from tutor.views.print.parts import QuestionPart, accepted_told, answer_told
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal


def steps_code(pen: Pen, steps: Sequence[WorkedStep]) -> str:
    """The steps of a worked solution, numbered from 1, each with its reason."""
    told = []
    for number, step in enumerate(steps, 1):
        band = joined([literal(f"{step.band_lead.capitalize()}: "), pen.prose(step.band)]) if step.band else '""'
        told.append(
            call(
                "step", literal(str(number)), pen.prose(step.title), pen.prose(step.why),
                array(pen.chain(chain) for chain in step.chains), pen.prose(step.text), band,
            )
        )  # fmt: skip
    return joined(told)


def checks_code(pen: Pen, checks: Sequence[Check]) -> str:
    """The closing checks, each with whether it holds and by how much."""
    told = []
    for check in checks:
        verdict = ": holds" if check.holds else ": does not hold"
        margin = [literal(", "), pen.words(check.margin)] if check.margin else []
        told.append(joined([pen.prose(check.text), literal(verdict), *margin, literal(".")]))
    return call("points", array(told))


def solution_code(pen: Pen, solution: Solution) -> str:
    """A whole worked solution: steps, checks, what to expect on a bench, what to mind."""
    pieces = [call("small-heading", literal("Worked solution")), steps_code(pen, solution.steps)]
    if solution.checks:
        pieces += [call("small-heading", literal("Checks")), checks_code(pen, solution.checks)]
    if solution.bench:
        pieces += [call("small-heading", literal("On the bench")), call("par", pen.prose(solution.bench))]
    if solution.warnings:
        pieces += [call("small-heading", literal("Mind")), call("points", array(map(pen.prose, solution.warnings)))]
    return joined(pieces)


def answers_code(pen: Pen, parts: Sequence[QuestionPart], tolerance: float) -> str:
    """A question's answers in a table: part, letter symbol, answer, what else counts as right, marks."""
    rows = []
    for part in parts:
        told = answer_told(part)
        in_words = part.point.state if any(part.option_letters) else ""
        answer = joined([pen.told(told), *([literal(": "), pen.told(in_words)] if in_words else [])])
        cells = (
            literal(f"({part.letter})" if part.letter else ""),
            pen.symbol(part.point.key) if part.point.answer else '""', answer,
            pen.quantity(accepted_told(part, tolerance)), literal(str(part.marks) if part.marks else ""),
        )  # fmt: skip
        rows.append(array(map(_cell, cells)))
    head = array(map(literal, ("part", "", "answer", "accepted", "marks")))
    return call("whole", call("rows-table", "(auto, auto, 2fr, 3fr, auto)", head, array(rows)))


def scheme_code(pen: Pen, asked: Asked, parts: Sequence[QuestionPart]) -> str:
    """A question's mark scheme: each mark, what earns it, and which must be won first."""
    rows = []
    for part in parts:
        names = mark_names([mark.kind.value for mark in part.scheme.marks])
        for place, mark in enumerate(part.scheme.marks):
            needs = ", ".join(names[at] for at in mark.needs)
            first = f"({part.letter})" if part.letter and place == 0 else ""
            earns = mark.earns or _told_answer(part)
            cells = (literal(first), literal(names[place]), pen.told(earns), literal(needs))
            rows.append(array(map(_cell, cells)))
    head = array(map(literal, ("part", "mark", "what earns it", "needs")))
    pieces = [
        call("small-heading", literal(f"Mark scheme, {counted(asked.scheme.total, 'mark')}")),
        call("rows-table", "(auto, auto, 1fr, auto)", head, array(rows)),
    ]
    if asked.scheme.total != asked.marks:
        pieces.append(
            call(
                "par",
                literal(
                    f"On this paper the question counts {counted(asked.marks, 'mark')}: the marks won above are "
                    f"multiplied by {asked.marks}/{asked.scheme.total}."
                ),
            )
        )
    return joined(pieces)


def _told_answer(part: QuestionPart) -> str:
    """What a mark is for where its scheme has no words for it: the answer itself."""
    point = part.point
    told = point.state if point.answer is None else point.answer.text
    return f"{point.prompt}: {told}"


def mark_names(kinds: Sequence[str]) -> list[str]:
    """M1, M2, A1, ...: marks of a part, counted by their kind.

    >>> mark_names(["M", "M", "A"])
    ['M1', 'M2', 'A1']
    """
    return [f"{kind}{kinds[: place + 1].count(kind)}" for place, kind in enumerate(kinds)]


def counted(number: int, word: str) -> str:
    """A number with its word: 1 mark, 2 marks."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def _cell(code: str) -> str:
    """Content of a cell, so that a text is never taken for something else."""
    return f"[#{code}]" if code.startswith(("(", '"')) else f"[#({code})]"
