"""Feedback sheets and class reports as PDF: what their pages say (`views/feedback.py`, `class_report.py`), on paper.

Place in the data flow: FeedbackSheet, ClassReport + Look -> code for `document.py` -> `compile_pdf` -> bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from tutor.generate.cautions import STANDING
from tutor.sets.paper import Look
from tutor.views.class_plots import Plot
from tutor.views.class_report import SOURCE, ClassReport
from tutor.views.feedback import FeedbackSheet, LineShown, PointShown, QuestionShown
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code, learner_code, learner_told, title_code
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, flag, joined, literal
from tutor.views.print.worked import checks_code


@cache
def _functions() -> str:
    """The functions of sheets on marked work, `marking.typ`."""
    return Path(__file__).with_name("marking.typ").read_text(encoding="utf-8")


def feedback_pdf(sheet: FeedbackSheet, look: Look) -> bytes:
    """The feedback sheet of one learner; equal sheets give equal bytes."""
    pen = Pen(look)
    counts = literal(f"{sheet.marks} of {sheet.of} marks" if sheet.counts else "no marks")
    pieces = [title_code(sheet.title, "Feedback", learner_code(sheet.id, sheet.name), counts)]
    if not sheet.counts:
        pieces.append(call("par", literal("There are no marks: nothing was handed back that could be read.")))
    if sheet.notes:
        pieces += [_heading("What could not be used"), call("points", array(map(literal, sheet.notes)))]
    if sheet.counts:
        pieces += [_question(item, pen) for item in sheet.questions]
    pieces.append(call("aside", pen.prose(STANDING)))
    return _compiled(joined(pieces), look, sheet.title, learner_told(sheet.id, sheet.name))


def _compiled(body: str, look: Look, title: str, running: str) -> bytes:
    return compile_pdf(document_code(body, look, title=title, running=running, functions=_functions()))


def _heading(text: str) -> str:
    return call("heading-line", literal(text))


def _question(item: QuestionShown, pen: Pen) -> str:
    aside = item.by_hand or item.scale
    pieces = [call("par", pen.told(item.statement)), call("asking", f"emph({pen.told(item.ask)})")]
    if item.lines:
        pieces.append(call("written", array(_line(line, pen) for line in item.lines)))
    for place, look in enumerate(item.look):
        told = joined([pen.words(look.words), *([pen.prose(look.prose)] if look.prose else [])])
        pieces.append(call("look", told, flag(place == 0)))
    if aside:
        pieces.append(call("marked-total", literal(item.marks), literal(str(item.of)), pen.words(aside)))
    pieces.append(
        _table(
            "(1fr, auto, 1.6fr)", ("asked", "marks", "why"), [_point(point, pen) for point in item.points]
        )
    )  # fmt: skip
    if item.margins:
        pieces.append(call("small-heading", pen.words(f"Your design at its worst corners, with {item.design}")))
        pieces.append(checks_code(pen, item.margins))
    if item.fresh:
        pieces.append(call("look", literal(f"A fresh problem, {item.why_fresh}: {item.fresh}"), "false"))
    total = f"{item.marks} of {item.of} marks"
    return call(
        "question", literal(str(item.number)), pen.told(item.title), literal(total), literal(item.name),
        joined(pieces),
    )  # fmt: skip


def _line(line: LineShown, pen: Pen) -> str:
    return array(
        (
            literal(str(line.number)), literal(line.before), literal(line.pointed), literal(line.after),
            literal(line.sign), pen.words(line.words), pen.words(line.why), flag(line.kind == "wrong"),
            flag(line.first),
        )
    )  # fmt: skip


def _point(point: PointShown, pen: Pen) -> tuple[str, str, str]:
    asked, marks = pen.told(point.prompt), literal(point.marks)
    if point.got < point.of:
        asked, marks = f"strong({asked})", f"strong({marks})"
    reasons = [piece for reason in point.reasons for piece in ("linebreak()", pen.words(reason))][1:]
    return asked, marks, joined(reasons)


def _table(columns: str, head: Iterable[str], rows: Iterable[Sequence[str]]) -> str:
    cells = array(array(f"[#{cell}]" for cell in row) for row in rows)
    return call("small", call("rows-table", columns, array(map(literal, head)), cells))


def report_pdf(report: ClassReport, plots: Sequence[Plot], look: Look) -> bytes:
    """The report on a class."""
    pen = Pen(look)
    drawn = {plot.title: call("plot", literal(plot.light.decode("utf-8")), literal(plot.says)) for plot in plots}
    pieces = [title_code(report.title, "Report on a class", '""', '""')]
    pieces += [call("par", literal(sentence)) for sentence in report.summary]
    if report.moved:
        rows = [[*map(literal, row[:4]), pen.words(row[4])] for row in report.moved]
        pieces.append(_heading("What moved since the last marking"))
        pieces.append(_table("(auto, auto, auto, auto, 1fr)", ("learner", "question", "before", "now", "why"), rows))
        pieces += _more(report.moved_more, "moved.csv")
    if report.spread:
        pieces += _figures(report, drawn, pen)
    pieces.append(_heading("Left to a person"))
    if report.left:
        told = "These lines could not be read. Marks given for them by hand go into override.csv, and win."
        pieces.append(call("par", literal(told)))
        left = [list(map(literal, row)) for row in report.left]
        pieces.append(_table("(auto, auto, auto, 1fr)", ("learner", "question", "line", "as typed"), left))
        pieces += _more(report.left_more, "lines_left.csv")
    else:
        pieces.append(call("par", literal("Every line that was handed back could be read.")))
    notes = [literal(f"{whose}: {note}") for whose, note in report.notes] + list(map(literal, report.strays))
    if notes:
        pieces += [call("small-heading", literal("Notes on what was handed back")), call("points", array(notes))]
    pieces.append(call("aside", pen.prose(STANDING)))
    return _compiled(joined(pieces), look, report.title, "report on a class")


def _figures(report: ClassReport, drawn: dict[str, str], pen: Pen) -> list[str]:
    """The part of a report that figures fill."""
    none = '""'
    pieces = [_heading("Marks"), drawn.get("Distribution of marks", none)]
    pieces.append(_table("(1fr, auto)", ("", "marks"), [list(map(literal, row)) for row in report.spread]))
    pieces += [_heading("Which question discriminated"), drawn.get("Which question discriminated", none)]
    head = ("", "title", "mean", "won", "answered", "item-rest", "upper-lower", "discriminates")
    questions = [
        [
            literal(f"Q{row.number}"), pen.told(row.title), literal(row.mean), literal(row.facility),
            literal(row.answered), literal(row.rest), literal(row.index), literal(row.words),
        ]
        for row in report.questions
    ]  # fmt: skip
    pieces.append(_table("(auto, 1fr, auto, auto, auto, auto, auto, auto)", head, questions))
    pieces.append(call("aside", literal(f"{report.chance} {SOURCE}")))
    pieces += [_heading("What was lost"), drawn.get("Marks lost on each thing asked", none)]
    lost = [
        [literal(f"Q{row.question}"), pen.words(row.prompt), literal(row.lost), literal(row.learners)]
        for row in report.points
    ]
    pieces.append(_table("(auto, 1fr, auto, auto)", ("", "asked", "marks lost", "learners"), lost))
    pieces.append(_heading("Slips"))
    if report.slips:
        pieces.append(drawn.get("Slips met", none))
        slips = [[pen.words(name), literal(str(count)), literal(where)] for name, count, where in report.slips]
        pieces.append(_table("(1fr, auto, auto)", ("slip", "met", "where"), slips))
    else:
        pieces.append(call("par", literal("No line was counted wrong.")))
    return pieces


def _more(count: int, file: str) -> list[str]:
    return [call("par", literal(f"And {count} more; {file} has them all."))] if count > 0 else []
