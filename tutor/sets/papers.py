"""Papers: a set and what each learner was drawn -> every question worked, with its mark scheme and its sheet.

    >>> from pathlib import Path
    >>> from tutor.sets.set_file import read_set_file
    >>> week = read_set_file(Path("problems/sets/shunt-week.toml"))
    >>> next(papers(week)).learner.id
    's-017'

Papers are made one after another and none is kept, so that a class of any size takes the same memory. Where several
processes make them, `drafts` are drawn in one and `papers_from` runs in each: `pool.py`.
Place in the data flow: ClassSet -> Drafts -> Papers -> papers in print, packages, marks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import islice

from tutor.errors import OutOfRange
from tutor.generate.name import ProblemName
from tutor.sets.asked import asked
from tutor.sets.drafts import Draft, drafts, for_everyone
from tutor.sets.levels import Assumed, assumed_key, ready_level_of, recipes_of, runs_across
from tutor.sets.paper import Asked, ClassSet, Paper, PastQuestion, Question
from tutor.sets.past_question import past_asked
from tutor.solution.desk import our_desk
from tutor.solution.scheme_of import scheme_of
from tutor.solution.sheets import sheet_of

TOGETHER = 32  # papers whose numbers are drawn together


def papers(of: ClassSet, together: int = TOGETHER) -> Iterator[Paper]:
    """The paper of every learner, in order; the same whatever number of them is made together."""
    waiting = drafts(of)
    while some := list(islice(waiting, together)):
        yield from papers_from(of, some)


def paper_of(of: ClassSet, place: int) -> Paper:
    """The paper of the learner at a place of the class, from 0. OutOfRange when there is none.

    Which numbers they have depends on who stands before them, so those are drawn, too; nothing of theirs is worked.
    """
    if not 0 <= place < len(of.learners):
        raise OutOfRange(f"the class has {len(of.learners)} learners; there is none at place {place + 1}")
    upto = replace(of, learners=of.learners[: place + 1])
    return papers_from(of, [draft for draft in drafts(upto)][-1:])[0]


def papers_from(of: ClassSet, some: Sequence[Draft]) -> list[Paper]:
    """The papers of some drafts, in order. `of` may be `for_everyone(...)`: its learners are not looked at.

    OutOfRange for a problem of an edition that this version does not draw.
    """
    columns = [
        [_past(number, question, for_everyone(of))] * len(some)
        if isinstance(question.asks, PastQuestion)
        else _column(number, question, [draft.names[number - 1] for draft in some])
        for number, question in enumerate(of.questions, 1)
    ]
    return [Paper(of, draft.learner, tuple(column[row] for column in columns)) for row, draft in enumerate(some)]


def _column(number: int, question: Question, names: Sequence[ProblemName | None]) -> list[Asked]:
    """One question on several papers; each problem is worked once."""
    told = [name for name in names if name is not None]
    made: dict[str, Asked] = {}
    groups: dict[tuple[str, int, Assumed], dict[str, ProblemName]] = {}
    for name in told:
        if runs_across(name.family):
            if str(name) not in made:
                made[str(name)] = asked(our_desk(), number, name, question.marks)
        else:
            groups.setdefault((name.family, name.level, assumed_key(name.assumed)), {})[str(name)] = name
    for key, by_name in groups.items():
        for text, item in zip(by_name, _of_level(number, question, key, tuple(by_name.values())), strict=True):
            made[text] = item
    return [made[str(name)] for name in told]


def _of_level(
    number: int, question: Question, key: tuple[str, int, Assumed], names: Sequence[ProblemName]
) -> Iterable[Asked]:
    """Problems of one level, drawn and worked together."""
    ready, recipes = ready_level_of(*key), recipes_of(*key)
    edition = ready.family.edition
    for name in names:
        if name.edition not in (0, edition):
            raise OutOfRange(f"'{name}' asks for edition {name.edition}; this version draws edition {edition}")
    for name, worked in zip(
        names, our_desk().batch(ready, [name.number for name in names], dict(key[2])), strict=True
    ):
        whole = replace(name, edition=edition)
        scheme = scheme_of(worked.problem, worked.solution)
        yield Asked(
            number, str(whole), worked.problem, worked.solution, scheme,
            scheme.total if question.marks is None else question.marks,
            sheet_of(ready, worked.drawn, worked.problem, recipes), named=whole,
        )  # fmt: skip


def _past(number: int, question: Question, of: ClassSet) -> Asked:
    """A past question, solved once in a process and not again for every paper."""
    asks = question.asks
    assert isinstance(asks, PastQuestion)
    return _past_kept(_Past(number, question, of))


class _Past:
    """A past question on a set, as a key: equal where all that it is made from is equal."""

    def __init__(self, number: int, question: Question, of: ClassSet) -> None:
        self.number, self.question, self.of = number, question, of
        asks = question.asks
        assert isinstance(asks, PastQuestion)
        self.key = (
            number, question.marks, question.line, asks.circuit, tuple(asks.given.items()), asks.ask, asks.text,
            tuple(of.rules.assume.items()), of.look.decimal_comma, of.file,
        )  # fmt: skip

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Past) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key)


@lru_cache(128)
def _past_kept(item: _Past) -> Asked:
    return past_asked(our_desk(), item.number, item.question, item.of)
