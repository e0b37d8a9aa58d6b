"""A class marked into a folder: feedback sheets, tables, the report, what moved since the last marking.

    DIR/override.csv      marks by hand: made with its head alone the first time, and never written again
    DIR/feedback/         ID.html and ID.pdf for each learner, ID being the id or its safe stem; hidden beside them what
                          each sheet says, for the tables, and what it was made from
    DIR/marks.csv marks.xlsx marks.json lines_left.csv moved.csv report.html report.pdf

Vocabulary: a learner's *key* is a digest of all that the sheet is made from; a sheet with the same key is kept
(`sets/kept.py`), so that a marking that was stopped goes on where it was. Nothing in the folder is replaced before all
of it is there (`sets/coming.py`).
Place in the data flow: ClassSet + workings + overrides -> jobs -> MarkedSheets -> files.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.sets.by_hand import TEMPLATE, Overrides, read_by_hand
from tutor.sets.class_list import file_stem
from tutor.sets.class_marks import ClassFigures, ClassTally
from tutor.sets.coming import Coming, coming_for
from tutor.sets.drafts import Draft, drafts, for_everyone
from tutor.sets.kept import PART, digest_of, engine_version, record_files, write_whole
from tutor.sets.marks_record import LearnerRecord, from_json, kept_marks, marks_lines, rules_kept
from tutor.sets.moved import MovedQuestion, moves
from tutor.sets.paper import ClassSet
from tutor.sets.returned import Filed, Returned, file_returns
from tutor.sets.returned_table import file_table
from tutor.views.class_plots import class_plots
from tutor.views.class_report import class_report, report_page
from tutor.views.mark_tables import (
    LEFT_HEAD,
    MOVED_HEAD,
    csv_lines,
    left_rows,
    marks_head,
    marks_row,
    moved_row,
    write_workbook,
)
from tutor.views.marked_sheets import MarkedSheets, MarkJob, mark_job, require_room
from tutor.views.print.feedback import report_pdf
from tutor.views.relettered import press_for

TOGETHER = 8  # learners of a job
_FEEDBACK, _SAID = "feedback", ".said"
# In the order in which they take their places: what moved is told against the last of them, so that where a run was
# killed before it stood there, the next tells the same moves again.
_TABLES = ("lines_left.csv", "marks.csv", "marks.xlsx", "moved.csv", "report.html", "report.pdf", "marks.json")
MOST_MOVES = 10_000  # held to be shown; moved.csv has them all
Run = Callable[[Callable[[MarkJob], tuple[MarkedSheets, ...]], Iterable[MarkJob]], Iterator[tuple[MarkedSheets, ...]]]


@dataclass(frozen=True)
class MarkedClass:
    """What came of it. `kept` sheets were as they are now already; `moved` are the first, `moved_count` all."""

    out: Path
    figures: ClassFigures
    strays: tuple[str, ...]
    moved: tuple[MovedQuestion, ...]
    moved_count: int
    compared: bool
    kept: int

    @property
    def flawed(self) -> bool:
        """Whether anything is left that a human has to see to."""
        return bool(self.figures.left_count or self.figures.notes or self.strays)


def in_order(
    work: Callable[[MarkJob], tuple[MarkedSheets, ...]], jobs: Iterable[MarkJob]
) -> Iterator[tuple[MarkedSheets, ...]]:
    """All jobs one after another, in this process."""
    return map(work, jobs)


def mark_class(
    whole: ClassSet, workings: Path, out: Path, *, override: Path | None = None, pdf: bool = True, run: Run = in_order,
    told: Callable[[int], None] = lambda done: None,
) -> MarkedClass:
    """Marks what `workings` (a folder, or a table) holds into the folder `out`. `told` hears of each learner done.

    SteadyrailError for a set, workings, an override file or an earlier marking that cannot be used; nothing is replaced
    then. What learners wrote raises nothing.
    """
    questions = len(whole.questions)
    filed = file_returns(workings, whole.learners) if workings.is_dir() else file_table(
        workings, whole.learners, questions
    )  # fmt: skip
    decided = _decisions(whole, out, override)
    earlier = kept_marks(out / "marks.json")
    found = MovesKept()
    with coming_for(out, "marks") as coming:
        _make_template(coming)
        kept = _mark_all(whole, filed, decided, coming, pdf, run, told)
        tally = ClassTally(whole.title)
        for record in _records(whole, coming):
            tally.add(record)
        figures = tally.figures()
        if earlier is not None:
            both = (earlier.rules, rules_kept(whole.rules))
            moved = found.through(moves(earlier.records(), _records(whole, coming), both))
            write_whole(coming.path / "moved.csv", csv_lines(MOVED_HEAD, map(moved_row, moved)))
        _write_tables(whole, coming, figures)
        _write_report(whole, coming, figures, filed.strays, found.first, pdf)
        sheets = (name for learner in whole.learners for name in coming.vouched(_FEEDBACK, file_stem(learner.id)))
        made_not = {"moved.csv": earlier is None, "report.pdf": not pdf}
        coming.place(sheets, [name for name in _TABLES if not made_not.get(name)])
    return MarkedClass(
        out, figures, filed.strays, tuple(found.first), found.count, earlier is not None, kept
    )  # fmt: skip


class MovesKept:
    """Moves as they pass by: how many, and the first of them."""

    def __init__(self) -> None:
        self.count = 0
        self.first: list[MovedQuestion] = []

    def through(self, found: Iterable[MovedQuestion]) -> Iterator[MovedQuestion]:
        """The same moves, counted."""
        for move in found:
            self.count += 1
            if len(self.first) < MOST_MOVES:
                self.first.append(move)
            yield move


def _decisions(whole: ClassSet, out: Path, override: Path | None) -> Overrides:
    """The marks by hand, checked against the papers of those they are for."""
    beside = [file for file in (out / "override.csv", out / "override.toml") if file.exists()]
    if override is None and len(beside) == 2:
        only_head = beside[0].read_bytes().strip() == TEMPLATE.strip().encode()
        if not only_head:
            raise SteadyrailError(f"{beside[0]} and {beside[1]} both decide by hand; leave one of them")
        beside = beside[1:]
    file = override or next(iter(beside), None)
    if file is None:
        return {}
    decided = read_by_hand(file, whole.learners, len(whole.questions))
    if decided:
        meant = tuple(draft for draft in drafts(whole) if draft.learner.id in decided)
        require_room(for_everyone(whole), meant, decided)
    return decided


def _make_template(coming: Coming) -> None:
    """The file for marks by hand, with its head alone, where there is none yet."""
    if not any((coming.folder / name).exists() for name in ("override.csv", "override.toml")):
        write_whole(coming.path / "override.csv", TEMPLATE)
        coming.put("override.csv")


def _mark_all(
    whole: ClassSet, filed: Filed, decided: Overrides, coming: Coming, pdf: bool, run: Run, told: Callable[[int], None]
) -> int:
    """Marks everyone whose sheet is not there yet; how many were."""
    bare = for_everyone(whole)
    base = digest_of(engine_version(), replace(bare, file=None), pdf)
    kept = 0

    def waiting() -> Iterator[tuple[Draft, Returned | None, str]]:
        nonlocal kept
        for draft in drafts(whole):
            returned = filed.of(draft.learner, len(whole.questions))
            key = digest_of(base, draft, returned, decided.get(draft.learner.id, ()))
            if coming.is_kept(_FEEDBACK, file_stem(draft.learner.id), key):
                kept += 1
                told(1)
            else:
                yield draft, returned, key

    def jobs() -> Iterator[MarkJob]:
        queue = waiting()
        while some := list(islice(queue, TOGETHER)):
            chosen, returned, keys = zip(*some, strict=True)
            ids = {draft.learner.id for draft in chosen}
            yield MarkJob(bare, chosen, returned, {whose: decided[whose] for whose in ids & set(decided)}, keys, pdf)

    for made in run(mark_job, jobs()):
        for sheets in made:
            _write_sheets(coming.path, sheets)
            told(1)
    return kept


def _write_sheets(out: Path, made: MarkedSheets) -> None:
    """A learner's files, and what they were made from last: with it there they are whole."""
    stem = file_stem(made.id)
    folder = out / _FEEDBACK
    files = {
        folder / f"{stem}.html": made.page.encode("utf-8", "replace"),
        folder / _SAID / f"{stem}.json": f"{made.record}\n".encode("utf-8", "replace"),
    }
    if made.pdf is not None:
        files[folder / f"{stem}.pdf"] = made.pdf
    for file, content in files.items():
        write_whole(file, content)
    record_files(folder, stem, made.key, files)


def _records(whole: ClassSet, coming: Coming) -> Iterator[LearnerRecord]:
    """The records of the class, in its order."""
    for learner in whole.learners:
        file = coming.found(f"{_FEEDBACK}/{_SAID}/{file_stem(learner.id)}.json")
        with file.open(encoding="utf-8") as stream:
            yield from_json(stream.readline())


def _write_tables(whole: ClassSet, coming: Coming, figures: ClassFigures) -> None:
    by_number = {item.question: item.of for item in figures.questions}
    counts = [by_number.get(number, item.marks or 0) for number, item in enumerate(whole.questions, 1)]
    out = coming.path
    write_whole(out / "marks.csv", csv_lines(marks_head(counts), map(marks_row, _records(whole, coming))))
    left = (row for record in _records(whole, coming) for row in left_rows(record))
    write_whole(out / "lines_left.csv", csv_lines(LEFT_HEAD, left))
    part = out / f".marks{PART}"
    write_workbook(part, counts, _records(whole, coming), figures)
    os.replace(part, out / "marks.xlsx")
    write_whole(out / "marks.json", marks_lines(whole, _records(whole, coming)))


def _write_report(
    whole: ClassSet,
    coming: Coming,
    figures: ClassFigures,
    strays: Sequence[str],
    moved: Sequence[MovedQuestion],
    pdf: bool,
) -> None:
    report, plots = class_report(figures, strays, moved), class_plots(figures)
    page = report_page(report, plots, press_for(whole.look))
    write_whole(coming.path / "report.html", page.encode("utf-8", "replace"))
    if pdf:
        write_whole(coming.path / "report.pdf", report_pdf(report, plots, whole.look))
