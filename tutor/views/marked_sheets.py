"""Marks a part of a class: what every process does, whole and by itself.

Vocabulary: a *job* is some learners next to each other in the class, what they handed back and what a human decided.
Place in the data flow: MarkJob -> papers worked, marked, set -> MarkedSheets, which whoever asked writes down.
Nothing here touches a file, so that a job may run on another machine.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from jinja2 import Environment

from tutor.sets.by_hand import Override
from tutor.sets.drafts import Draft
from tutor.sets.marking import mark_paper
from tutor.sets.marks_record import record_of, to_json
from tutor.sets.paper import ClassSet, Look
from tutor.sets.papers import papers_from
from tutor.sets.returned import Returned
from tutor.views.feedback import feedback_page, feedback_sheet
from tutor.views.print.feedback import feedback_pdf
from tutor.views.relettered import press_for


@dataclass(frozen=True)
class MarkJob:
    """Some learners to be marked. `whole` is the set without its learners; `keys` name what each is made from."""

    whole: ClassSet
    drafts: tuple[Draft, ...]
    returned: tuple[Returned | None, ...]
    by_hand: Mapping[str, tuple[Override, ...]]
    keys: tuple[str, ...]
    pdf: bool = True


@dataclass(frozen=True)
class MarkedSheets:
    """One learner's record on a line of JSON, and the feedback sheet; `pdf` None where none was asked for."""

    id: str
    key: str
    record: str
    page: str
    pdf: bytes | None


def mark_job(job: MarkJob) -> tuple[MarkedSheets, ...]:
    """The learners of a job marked. SteadyrailError names the place of an override that there is no room for."""
    made = []
    for paper, returned, key in zip(papers_from(job.whole, job.drafts), job.returned, job.keys, strict=True):
        marked = mark_paper(paper, returned, job.by_hand.get(paper.learner.id, ()))
        sheet = feedback_sheet(marked, job.whole.title)
        pdf = feedback_pdf(sheet, job.whole.look) if job.pdf else None
        page = feedback_page(sheet, _press(job.whole.look))
        made.append(MarkedSheets(paper.learner.id, key, to_json(record_of(marked)), page, pdf))
    return tuple(made)


def require_room(bare: ClassSet, drafts: tuple[Draft, ...], by_hand: Mapping[str, tuple[Override, ...]]) -> None:
    """SteadyrailError where a decision by hand names a waypoint not asked for, or gives more marks than there are.

    `bare` is the set without its learners.
    """
    for paper in papers_from(bare, drafts):
        mark_paper(paper, None, by_hand.get(paper.learner.id, ()))


@cache
def _press(look: Look) -> Environment:
    return press_for(look)
