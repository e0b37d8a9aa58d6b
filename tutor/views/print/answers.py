"""The answers of all papers of a set in one table, to mark by hand: a row for each learner, a column for each part.

Vocabulary: a *band* is a table of some questions' columns; a set whose columns do not fit beside one another has several
bands, each with every learner, and a class that does not fit on a page goes on over pages under repeated heads.
Place in the data flow: Papers -> `answers_pdf` -> bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tutor.errors import SteadyrailError
from tutor.sets.paper import Asked, Paper
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code, title_code
from tutor.views.print.parts import Part, answer_told, parts_of
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal
from tutor.views.print.worked import counted

# Widths in ems of a table's own size of print: generous, since what does not fit would break inside a value.
_LETTER = 0.5
_GUTTER = 1.1
_NARROWEST, _WIDEST = 3.0, 11.0
_ROOM = {("A4", False): 55.0, ("A4", True): 84.0, ("Letter", False): 57.0, ("Letter", True): 78.0}


@dataclass(frozen=True)
class _Column:
    """A part of a question: its two heads as plain letters, and the answers of all learners, with its width in ems."""

    question: int
    part: Part
    told: tuple[str, ...]
    width: float


def answers_pdf(papers: Sequence[Paper]) -> bytes:
    """The answer table of a set. Raises SteadyrailError where papers ask different numbers of things."""
    if not papers:
        raise SteadyrailError("there are no papers to make an answer table of; a set needs at least one learner")
    whole = papers[0].set
    look = replace(whole.look, large=False)
    pen = Pen(look)
    columns = [column for place in range(len(papers[0].asked)) for column in _columns(papers, place)]
    who = _LETTER * max(8, *(min(len(_name(paper)), 26) for paper in papers)) + _GUTTER
    needed = who + sum(column.width for column in columns)
    wide = needed > _ROOM[look.paper, False]
    bands = _bands(columns, _ROOM[look.paper, wide] - who)
    tolerance = f"{whole.rules.tolerance * 100:.3g}"
    about = (
        f"{counted(len(papers), 'paper')}. Values are right within {tolerance} %; a choice may be another value that "
        "meets the specification (see the key). Letters are those of the options on the paper."
    )
    pieces = [title_code(whole.title, "Answers", pen.prose(about), literal(counted(papers[0].marks, "mark")))]
    pieces += [_band(papers, band, who, pen) for band in bands]
    code = document_code(
        joined(pieces), look, title=f"{whole.title}: answers", foot=f"seed {whole.seed}", wide=wide
    )  # fmt: skip
    return compile_pdf(code)


def _name(paper: Paper) -> str:
    return f"{paper.learner.id}  {paper.learner.name}".strip()


def _columns(papers: Sequence[Paper], place: int) -> list[_Column]:
    """The columns of a question; learners' own numbers may need more or less room."""
    asked: list[Asked] = []
    for paper in papers:
        if place >= len(paper.asked) or len(paper.asked) != len(papers[0].asked):
            raise SteadyrailError(f"the paper of {paper.learner.id} asks another number of questions than the others")
        asked.append(paper.asked[place])
    parts = [parts_of(item) for item in asked]
    if len({len(found) for found in parts}) > 1:
        return [_Column(asked[0].number, parts[0][0], tuple(map(_all_told, parts)), _WIDEST)]
    columns = []
    for at, part in enumerate(parts[0]):
        told = tuple(answer_told(found[at]) for found in parts)
        longest = max(len(text.replace("$", "")) for text in (*told, part.point.key if part.point.answer else ""))
        columns.append(_Column(asked[0].number, part, told, min(_WIDEST, max(_NARROWEST, longest * _LETTER)) + _GUTTER))
    return columns


def _all_told(parts: Sequence[Part]) -> str:
    """All answers of a question in one cell, where learners are asked different numbers of things."""
    return "; ".join(f"({part.letter or 'a'}) {answer_told(part)}" for part in parts)


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


def _band(papers: Sequence[Paper], band: Sequence[_Column], who: float, pen: Pen) -> str:
    """One table: its heads are the question's number, the part with its marks, the letter symbol."""
    widths = array((f"{who:.2f}em", *(f"{column.width:.2f}em" for column in band)))
    spans: list[tuple[int, int]] = []
    for column in band:
        if spans and spans[-1][0] == column.question:
            spans[-1] = (column.question, spans[-1][1] + 1)
        else:
            spans.append((column.question, 1))
    questions = array(array((literal(f"Question {number}" if count > 1 else f"Q {number}"), str(count))) for number, count in spans)
    heads = []
    for column in band:
        letter = f"({column.part.letter})" if column.part.letter else ""
        worth = f"[{column.part.marks}]" if column.part.marks else ""
        symbol = pen.symbol(column.part.point.key) if column.part.point.answer else '""'
        heads.append(array((literal(f"{letter} {worth}".strip()), symbol)))
    rows = []
    for place, paper in enumerate(papers):
        learner = array((literal(paper.learner.id), literal(paper.learner.name)))
        rows.append(array((learner, *(f"[#({pen.told(column.told[place])})]" for column in band))))
    return call("answers-band", widths, questions, array(heads), array(rows))
