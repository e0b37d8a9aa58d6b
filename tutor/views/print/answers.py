"""The answers of all papers of a set in one table, to mark by hand: a row for each learner, a column for each part.

Vocabulary: a *band* is a table of some questions' columns; a set whose columns do not fit beside one another has
several bands, each with every learner, and a class that does not fit on a page goes on over pages under repeated heads.
Place in the data flow: Papers -> `answers_pdf` -> bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tutor.errors import SteadyrailError
from tutor.sets.paper import ClassSet, Learner, Paper
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code, title_code
from tutor.views.print.parts import answer_told, parts_of
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal
from tutor.views.print.worked import counted

# Widths in ems of a table's own size of print: generous, since what does not fit would break inside a value.
_LETTER = 0.5
_GUTTER = 1.1
_NARROWEST, _WIDEST = 3.0, 11.0
_SHORTEST_NAME, _NAME = 8, 26  # letters of a learner's id and name; longer ones break
_ROOM = {("A4", False): 55.0, ("A4", True): 84.0, ("Letter", False): 57.0, ("Letter", True): 78.0}


@dataclass(frozen=True)
class PartAnswer:
    """A part of a question in the table: its letter ('' where it is alone), key, marks as printed, answer as prose.

    `is_value`: the key is a letter symbol to be set above the column."""

    letter: str
    key: str
    marks: int
    told: str
    is_value: bool


@dataclass(frozen=True)
class AnswerRow:
    """One learner's answers, small enough to be kept of a whole class; `questions` in the order of the paper."""

    learner: Learner
    marks: int
    questions: tuple[tuple[PartAnswer, ...], ...]


@dataclass(frozen=True)
class _Column:
    """A part of a question: what stands at its head, the answers of all learners, its width in ems."""

    question: int
    part: PartAnswer
    told: tuple[str, ...]
    width: float


def answers_pdf(papers: Sequence[Paper]) -> bytes:
    """The answer table of some papers of one set. SteadyrailError where they ask different numbers of questions."""
    if not papers:
        raise SteadyrailError("there are no papers to make an answer table of; a set needs at least one learner")
    return answer_table_pdf(papers[0].set, [answer_row(paper) for paper in papers])


def answer_row(paper: Paper) -> AnswerRow:
    """What the table needs of a paper."""
    questions = tuple(
        tuple(
            PartAnswer(part.letter, part.point.key, part.marks, answer_told(part), part.point.answer is not None)
            for part in parts_of(item)
        )
        for item in paper.asked
    )
    return AnswerRow(paper.learner, paper.marks, questions)


def answer_table_pdf(of: ClassSet, rows: Sequence[AnswerRow]) -> bytes:
    """The answer table of a set; SteadyrailError where papers ask different numbers of questions, or none is there."""
    if not rows:
        raise SteadyrailError("there are no papers to make an answer table of; a set needs at least one learner")
    look = replace(of.look, large=False)
    pen = Pen(look)
    columns = [column for place in range(len(rows[0].questions)) for column in _columns(rows, place)]
    longest = max(min(len(f"{row.learner.id} {row.learner.name}"), _NAME) for row in rows)
    who = _LETTER * max(_SHORTEST_NAME, longest) + _GUTTER
    wide = who + sum(column.width for column in columns) > _ROOM[look.paper, False]
    bands = _bands(columns, _ROOM[look.paper, wide] - who)
    about = (
        f"{counted(len(rows), 'paper')}. Values are right within {of.rules.tolerance * 100:.3g} %; a choice may be "
        "another value that meets the specification (see the key). Letters are those of the options on the paper."
    )
    pieces = [title_code(of.title, "Answers", pen.prose(about), literal(counted(rows[0].marks, "mark")))]
    pieces += [_band(rows, band, who, pen) for band in bands]
    return compile_pdf(
        document_code(joined(pieces), look, title=f"{of.title}: answers", foot=f"seed {of.seed}", wide=wide)
    )


def _columns(rows: Sequence[AnswerRow], place: int) -> list[_Column]:
    """The columns of a question; learners' own numbers may need more or less room."""
    for row in rows:
        if len(row.questions) != len(rows[0].questions):
            raise SteadyrailError(f"the paper of {row.learner.id} asks another number of questions than the others")
    found = [row.questions[place] for row in rows]
    if len({tuple(part.key for part in parts) for parts in found}) > 1:
        # Where learners are asked different things, each has a cell with all of them.
        heads = PartAnswer("", "", sum(part.marks for part in found[0]), "", False)
        return [_Column(place + 1, heads, tuple(map(_all_told, found)), _WIDEST * 2)]
    columns = []
    for at, part in enumerate(found[0]):
        told = tuple(parts[at].told for parts in found)
        longest = max(len(text.replace("$", "")) for text in (*told, part.key if part.is_value else ""))
        width = min(_WIDEST, max(_NARROWEST, longest * _LETTER)) + _GUTTER
        columns.append(_Column(place + 1, part, told, width))
    return columns


def _all_told(parts: Sequence[PartAnswer]) -> str:
    return "; ".join(f"({part.letter}) {part.told}" if part.letter else part.told for part in parts)


def _bands(columns: Sequence[_Column], room: float) -> list[list[_Column]]:
    """The columns in as few tables as hold them, whole questions together where one fits."""
    groups: dict[int, list[_Column]] = {}
    for column in columns:
        groups.setdefault(column.question, []).append(column)
    bands: list[list[_Column]] = [[]]
    for group in groups.values():
        if bands[-1] and sum(item.width for item in (*bands[-1], *group)) > room:
            bands.append([])
        for column in group:
            if bands[-1] and sum(item.width for item in (*bands[-1], column)) > room:
                bands.append([])
            bands[-1].append(column)
    return bands


def _band(rows: Sequence[AnswerRow], band: Sequence[_Column], who: float, pen: Pen) -> str:
    """One table: its heads are the question's number, the letter symbol, the part with its marks."""
    widths = array((f"{who:.2f}em", *(f"{column.width:.2f}em" for column in band)))
    spans: dict[int, int] = {}
    for column in band:
        spans[column.question] = spans.get(column.question, 0) + 1
    questions = array(
        array((literal(f"Question {number}" if count > 1 else f"Q {number}"), str(count)))
        for number, count in spans.items()
    )
    heads = []
    for column in band:
        part = column.part
        told = f"({part.letter})" * bool(part.letter) + f" [{part.marks}]" * bool(part.marks)
        heads.append(array((literal(told.strip()), pen.symbol(part.key) if part.is_value else '""')))
    lines = []
    for place, row in enumerate(rows):
        learner = array((literal(_breakable(row.learner.id)), literal(_breakable(row.learner.name))))
        lines.append(array((learner, *(f"[#({pen.told(column.told[place])})]" for column in band))))
    return call("answers-band", widths, questions, array(heads), array(lines))


def _breakable(text: str) -> str:
    """A name whose long words may break anywhere, so that none runs into its neighbour's column."""
    return " ".join(
        "\u200b".join(word) if len(word) > _NAME else word for word in text.split(" ")
    )
