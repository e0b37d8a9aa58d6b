"""A paper of ten questions in every form that a class's command writes: printed, its key, study pages, package, tables.

The set is `ten-questions.toml`, the whole class of which is timed by hand with the command itself; here are its first
questions, at the numbers 1, 2, ..., in one process.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from unittest.mock import patch

from plans import Disagreement
from table import Row, Section
from timing import Contender, Effort, interleaved

from tutor.sets.drafts import Draft
from tutor.sets.paper import DrawnQuestion, Paper
from tutor.sets.papers import papers_from
from tutor.sets.set_file import read_set_file
from tutor.views.package.writing import write_package
from tutor.views.print import key as key_module
from tutor.views.print import paper as paper_module
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.key import key_pdf
from tutor.views.print.paper import paper_pdf
from tutor.views.set_pages import PagesAsked, addresses_of, pages_of
from tutor.views.set_tables import write_tables

SET = Path(__file__).with_name("ten-questions.toml")
_AT = PagesAsked(at="https://teaching.example.org/regulators/week-5/")
_PAPERS, _FEW = 6, 1
PAPERS, KEYS = "papers as PDF, with codes", "keys as PDF"
HOW = (
    "Papers of the questions of ten-questions.toml in one process; plans from the store. Ratio: working a "
    "paper's ten questions, with schemes and sheets, over writing it in this form: below 1 where writing takes longer. "
    "Typst alone: the compiler on the same source, written beforehand, with the same fonts; its PDFs are the same, "
    "byte for byte."
)


def papers(count: int) -> tuple[list[Paper], Callable[[], list[Paper]]]:
    """Papers of the set's questions at the numbers 1, 2, ..., and what works them anew."""
    of = read_set_file(SET)
    asked = [question.asks for question in of.questions if isinstance(question.asks, DrawnQuestion)]
    first = enumerate(of.learners[:count], 1)
    some = [Draft(learner, tuple(asks.named(number) for asks in asked)) for number, learner in first]
    work = partial(papers_from, of, some)
    return work(), work


def rows_for(count: int, effort: Effort) -> list[Row]:
    """A row for each form that a paper takes."""
    found, work = papers(count)
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as folder:
        forms = {
            PAPERS: lambda: [paper_pdf(item, addresses_of(item, _AT)) for item in found],
            KEYS: lambda: [key_pdf(item) for item in found],
            "study pages": lambda: [dict(pages_of(item, False)) for item in found],
            "a package": lambda: write_package(iter(found), Path(folder) / "package.zip"),
            "tables": lambda: write_tables(iter(found), Path(folder)),
        }
        return _rows(forms, work, count, effort)


def _rows(
    forms: dict[str, Callable[[], object]], work: Callable[[], object], count: int, effort: Effort
) -> list[Row]:
    bare = {f"{name}, bare": _compiled(codes_of(forms[name])) for name in (PAPERS, KEYS)}
    calls = {"worked": work, **forms, **bare}
    times = interleaved({name: Contender(partial(_again, call)) for name, call in calls.items()}, effort.rounds)
    return [
        *(Row(name, times[name], "papers worked", times["worked"], "one core", count) for name in forms),
        *(Row(name, times[name], "Typst alone", times[f"{name}, bare"], "one core", count) for name in (PAPERS, KEYS)),
    ]


def codes_of(form: Callable[[], object]) -> list[str]:
    """The Typst source of each PDF of a form. Disagreement where the compiler alone makes another PDF of it."""
    codes: list[str] = []

    def kept(code: str) -> bytes:
        codes.append(code)
        return compile_pdf(code)

    with patch.object(paper_module, "compile_pdf", kept), patch.object(key_module, "compile_pdf", kept):
        made = form()
    if made != [compile_pdf(code) for code in codes]:
        raise Disagreement("the same source gives another PDF")
    return codes


def _compiled(codes: list[str]) -> Callable[[], object]:
    return lambda: [compile_pdf(code) for code in codes]


def _again(call: Callable[[], object], number: int) -> Callable[[], object]:
    """The same in every round."""
    return call


def measure(effort: Effort) -> Section:
    """The rows of all forms."""
    rows: Sequence[Row] = rows_for(_PAPERS if effort.measures else _FEW, effort)
    return Section(tuple(rows), HOW)
