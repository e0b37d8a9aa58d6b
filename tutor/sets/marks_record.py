"""A marked paper as it is kept: plain values that go into JSON and come back the same.

Vocabulary: a *record* is what of one learner's marked paper tables, class figures and a later marking need; the marks
table (`marks.json`) is one JSON object with the set, its rules and all records, each on a line of its own.
Place in the data flow: MarkedPaper -> LearnerRecord <-> JSON -> tables, class figures, what moved.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from tutor.errors import SteadyrailError
from tutor.sets.marking import LineLeft, MarkedPaper, PointMarked, QuestionMarked
from tutor.sets.paper import ClassSet, Rules
from tutor.working.sayings import as_typed

_DIGITS = 16  # of a digest


@dataclass(frozen=True)
class MarkRecord:
    """One mark of a ledger: its kind (M, A, B), won (1) or not (0), the line that decided it, why."""

    kind: str
    got: int
    line: int | None
    why: str


@dataclass(frozen=True)
class PointRecord:
    """The marks of one waypoint; `prompt` in plain letters."""

    waypoint: str
    prompt: str
    ledger: tuple[MarkRecord, ...]

    @property
    def got(self) -> int:
        """Marks won."""
        return sum(mark.got for mark in self.ledger)

    @property
    def of(self) -> int:
        """Marks there are."""
        return len(self.ledger)


@dataclass(frozen=True)
class QuestionRecord:
    """One question: `marks` of `of` on the paper's scale; `working` is a digest of what was returned, '' for none."""

    question: int
    problem: str
    title: str
    marks: float
    of: int
    working: str
    first_wrong: int | None
    by_hand: str
    points: tuple[PointRecord, ...]
    slips: tuple[str, ...]

    @property
    def won(self) -> int:
        """Marks won of its scheme."""
        return sum(point.got for point in self.points)

    @property
    def there_are(self) -> int:
        """Marks of its scheme."""
        return sum(point.of for point in self.points)


@dataclass(frozen=True)
class LearnerRecord:
    """One learner: whether anything was returned and counts, notes on it, the questions, lines left to a human."""

    id: str
    name: str
    returned: bool
    counts: bool
    notes: tuple[str, ...]
    questions: tuple[QuestionRecord, ...]
    left: tuple[LineLeft, ...]

    @property
    def marks(self) -> float:
        """Marks of the whole paper."""
        return sum(item.marks for item in self.questions)

    @property
    def of(self) -> int:
        """What they are marks of."""
        return sum(item.of for item in self.questions)


def record_of(marked: MarkedPaper) -> LearnerRecord:
    """The record of a marked paper."""
    returned = marked.returned
    return LearnerRecord(
        marked.learner.id,
        marked.learner.name,
        returned is not None,
        marked.counts,
        () if returned is None else returned.notes,
        tuple(_question(item) for item in marked.questions),
        marked.left,
    )


def _question(item: QuestionMarked) -> QuestionRecord:
    text = "" if item.answer is None else item.answer.text
    return QuestionRecord(
        item.asked.number,
        item.asked.name,
        item.asked.problem.title,
        item.marks,
        item.asked.marks,
        sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:_DIGITS] if text.strip() else "",
        item.checked.first_wrong,
        item.by_hand,
        tuple(_point(point) for point in item.points),
        item.slips,
    )


def _point(point: PointMarked) -> PointRecord:
    marks = tuple(MarkRecord(entry.kind.value, entry.got, entry.line, entry.why) for entry in point.entries)
    return PointRecord(point.key, as_typed(point.prompt), marks)


def to_json(record: LearnerRecord) -> str:
    """A record on one line of JSON."""
    return json.dumps(asdict(record), ensure_ascii=False, separators=(",", ":"))


def from_json(text: str) -> LearnerRecord:
    """The record of a line; ValueError for anything else."""
    try:
        return _record(json.loads(text))
    except (KeyError, TypeError, AttributeError, RecursionError) as error:
        raise ValueError(f"no record of a marked paper: {error}") from None


def _record(found: Mapping[str, Any]) -> LearnerRecord:
    return LearnerRecord(
        str(found["id"]),
        str(found["name"]),
        bool(found["returned"]),
        bool(found["counts"]),
        tuple(str(note) for note in found["notes"]),
        tuple(_read_question(item) for item in found["questions"]),
        tuple(LineLeft(**item) for item in found["left"]),
    )


def _read_question(found: Mapping[str, Any]) -> QuestionRecord:
    points = tuple(
        PointRecord(
            str(point["waypoint"]), str(point["prompt"]), tuple(MarkRecord(**mark) for mark in point["ledger"])
        )
        for point in found["points"]
    )  # fmt: skip
    return QuestionRecord(
        int(found["question"]), str(found["problem"]), str(found["title"]), float(found["marks"]), int(found["of"]),
        str(found["working"]), found["first_wrong"], str(found["by_hand"]), points, tuple(map(str, found["slips"])),
    )  # fmt: skip


def marks_lines(given: ClassSet, records: Iterable[LearnerRecord]) -> Iterator[str]:
    """The marks table as JSON, a learner a line, as the records come."""
    head = {"set": given.title, "seed": given.seed, "rules": asdict(given.rules)}
    yield json.dumps(head, ensure_ascii=False, default=dict)[:-1] + ',"learners":['
    between = "\n"
    for record in records:
        yield f"{between}{to_json(record)}".encode("utf-8", "replace").decode("utf-8")
        between = ",\n"
    yield "\n]}\n"


@dataclass(frozen=True)
class EarlierMarking:
    """An earlier marking: the rules it was marked by, and where its records are."""

    file: Path
    rules: Mapping[str, Any]

    def records(self) -> Iterator[LearnerRecord]:
        """Its records, in the order of the class; SteadyrailError where the file is damaged."""
        try:
            with self.file.open(encoding="utf-8") as stream:
                stream.readline()
                for line in stream:
                    if line.startswith("{"):
                        yield from_json(line.rstrip().removesuffix(","))
        except (OSError, ValueError) as error:
            raise SteadyrailError(
                f"{self.file} is not as it was written, so nothing can be compared with it: {error}; "
                "take it out of the folder to mark without it"
            ) from None


def kept_marks(file: Path) -> EarlierMarking | None:
    """An earlier marking in a file; None where there is none. SteadyrailError where it is no such file."""
    if not file.exists():
        return None
    try:
        with file.open(encoding="utf-8") as stream:
            head = json.loads(stream.readline().rstrip() + "]}")
        rules = head["rules"]
        if not isinstance(rules, dict):
            raise ValueError("its rules are no table")
    except (OSError, ValueError, KeyError, TypeError, RecursionError) as error:
        raise SteadyrailError(
            f"{file} is no marks table of this command ({error}); take it out of the folder, or name another with --out"
        ) from None
    return EarlierMarking(file, rules)


def rules_kept(rules: Rules) -> dict[str, Any]:
    """Rules as a marks table has them, to be compared."""
    kept: dict[str, Any] = json.loads(json.dumps(asdict(rules), default=dict))
    return kept
