"""What a learner of a set is given, as files: the paper, its key, the study pages of its problems, and beside them what
the tables of the class need.

Vocabulary: a *trace* of a paper is what the class's tables and report need of it (its row of answers, its facts), kept
as JSON beside the record of the learner's files, so that a run that goes on after a kill works nobody's paper twice.
Place in the data flow: Drafts -> `make_files`, over processes -> files and traces -> tables of the class.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tutor.errors import SteadyrailError
from tutor.later import later
from tutor.sets.class_list import file_stem
from tutor.sets.coming import Coming
from tutor.sets.drafts import Draft
from tutor.sets.equal import PaperFacts, QuestionFacts, facts_of
from tutor.sets.kept import RECORDS, digest_of, engine_version, record_files, write_whole
from tutor.sets.paper import ClassSet, Learner
from tutor.sets.papers import papers_from
from tutor.views.print.answers import AnswerRow, PartAnswer, answer_row
from tutor.views.print.key import key_pdf
from tutor.views.print.paper import NO_ADDRESSES, paper_pdf

if TYPE_CHECKING:
    from tutor.views import set_pages
else:
    set_pages = later("tutor.views.set_pages")

PAPERS, KEYS = "papers", "keys"
_TRACES = "traces"


@dataclass(frozen=True)
class Trace:
    """What is left of a learner's paper once its files are written; `kept`: they were there from an earlier run."""

    names: tuple[str, ...]
    row: AnswerRow
    facts: PaperFacts
    kept: bool


def make_files(of: ClassSet, coming: Coming, pages: set_pages.PagesAsked | None, draft: Draft) -> Trace:
    """Writes the paper and the key of a learner's draft into `coming`, and the pages of its problems where `pages` asks
    for them, unless they are there from the same set, the same numbers and the same version. SteadyrailError when the
    folder cannot be written.

    `of` is the set without its learners. Each file is there whole or not at all.
    """
    stem = file_stem(draft.learner.id)
    made_from = digest_of(of, draft, pages, engine_version())
    trace_name = f"{RECORDS}/{_TRACES}/{stem}.json"
    if coming.is_kept("", stem, made_from):
        try:
            return _read_trace(coming.found(trace_name).read_text(encoding="utf-8"))
        except (OSError, ValueError, KeyError, TypeError):
            pass  # a trace that cannot be read is made again, with what belongs to it
    paper = papers_from(of, [draft])[0]
    folder = coming.path
    addresses = set_pages.addresses_of(paper, pages) if pages else NO_ADDRESSES
    files: dict[Path, bytes | str] = {
        folder / PAPERS / f"{stem}.pdf": paper_pdf(paper, addresses),
        folder / KEYS / f"{stem}.pdf": key_pdf(paper),
    }
    if pages:
        written = set_pages.pages_of(paper, pages.solved)
        files |= {folder / set_pages.PAGES / place: text for place, text in written}
    trace = Trace(tuple(item.name for item in paper.asked), answer_row(paper), facts_of(paper), False)
    files[folder / trace_name] = json.dumps(asdict(trace), ensure_ascii=False)
    for path, content in files.items():
        write_whole(path, content)
    record_files(folder, stem, made_from, files)
    return trace


def require_usable(folder: Path) -> None:
    """Refuses a place for output that holds what no run of ours wrote; SteadyrailError says what would do."""
    if folder.exists() and not folder.is_dir():
        raise SteadyrailError(f"{folder} is a file; name a folder for the papers")
    ours = ((folder / RECORDS).is_dir(), Coming(folder, PAPERS).path.is_dir())
    if folder.is_dir() and any(folder.iterdir()) and not any(ours):
        raise SteadyrailError(
            f"{folder} holds other files; choose an empty folder, or one that papers were written to before"
        )


def _read_trace(text: str) -> Trace:
    told: dict[str, Any] = json.loads(text)
    row, facts = told["row"], told["facts"]
    questions = tuple(tuple(PartAnswer(**part) for part in parts) for parts in row["questions"])
    return Trace(
        tuple(told["names"]),
        AnswerRow(Learner(**row["learner"]), row["marks"], questions),
        PaperFacts(facts["learner"], tuple(_question_facts(item) for item in facts["questions"])),
        True,
    )


def _question_facts(told: dict[str, Any]) -> QuestionFacts:
    listed: dict[str, Any] = {name: tuple(value) if isinstance(value, list) else value for name, value in told.items()}
    return QuestionFacts(**listed)
