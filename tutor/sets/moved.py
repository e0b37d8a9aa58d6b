"""What moved when a class was marked again: which marks, from what to what, and why.

Place in the data flow: earlier records + new ones -> Moves -> the terminal, `moved.csv`, before the marks are replaced.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tutor.sets.marks_record import LearnerRecord, PointRecord, QuestionRecord


@dataclass(frozen=True)
class MovedQuestion:
    """A question whose marks are others than before; None where there were none, or are none now."""

    id: str
    question: int
    before: float | None
    after: float | None
    why: str


def moves(
    before: Iterable[LearnerRecord], after: Iterable[LearnerRecord], rules: tuple[Mapping[str, Any], Mapping[str, Any]]
) -> Iterator[MovedQuestion]:
    """Each mark that moved, in the order of the class as it was; then those who were not in it.

    `rules` are those of before and of now. Both markings are gone through once, side by side; only learners who changed
    places are held until they meet.
    """
    changed = _rules_told(*rules)
    early: dict[str, LearnerRecord] = {}
    late: dict[str, LearnerRecord] = {}
    old, new = iter(before), iter(after)
    while True:
        left, right = next(old, None), next(new, None)
        if left is None and right is None:
            break
        if left is not None:
            early[left.id] = left
        if right is not None:
            late[right.id] = right
        for whose in [item.id for item in (left, right) if item is not None]:
            if whose in early and whose in late:
                yield from _of_learner(early.pop(whose), late.pop(whose), changed)
    for gone in early.values():
        yield from (MovedQuestion(gone.id, item.question, _marks(gone, item), None, "no longer in the class")
                    for item in gone.questions if gone.counts)  # fmt: skip
    for come in late.values():
        yield from (MovedQuestion(come.id, item.question, None, _marks(come, item), "not in the class before")
                    for item in come.questions if come.counts)  # fmt: skip


def _rules_told(before: Mapping[str, Any], after: Mapping[str, Any]) -> str:
    """Which rules changed, in words; '' for none."""
    names = [name for name in after if before.get(name) != after[name]]
    told = [f"{name.replace('_', ' ')} was {_value(before.get(name))}, is {_value(after[name])}" for name in names]
    return "; ".join(told)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, float):
        return f"{100 * value:g} %"
    if isinstance(value, Mapping):
        return ", ".join(f"{name}={told}" for name, told in value.items()) or "none"
    return "not told" if value is None else str(value)


def _marks(record: LearnerRecord, item: QuestionRecord) -> float | None:
    return item.marks if record.counts else None


def _of_learner(before: LearnerRecord, after: LearnerRecord, rules: str) -> Iterator[MovedQuestion]:
    old = {item.question: item for item in before.questions}
    new = {item.question: item for item in after.questions}
    for number in sorted({*old, *new}):
        first, last = old.get(number), new.get(number)
        was = None if first is None else _marks(before, first)
        now = None if last is None else _marks(after, last)
        if was == now and (first is None or last is None or first.of == last.of):
            continue
        yield MovedQuestion(after.id, number, was, now, _why(first, last, before, after, rules))


def _why(
    first: QuestionRecord | None, last: QuestionRecord | None, before: LearnerRecord, after: LearnerRecord, rules: str
) -> str:
    """The likeliest reason: what a human decided, what the learner returned, the question, rules, the scheme."""
    if first is None:
        return "the question is new"
    if last is None:
        return "the question is no longer asked"
    decided = _decisions(last)
    if decided != _decisions(first):
        return decided or "a decision by hand was taken back"
    if before.counts != after.counts:
        if before.returned == after.returned and not before.left:
            return "marks by hand came for this paper" if after.counts else "marks by hand were taken back"
        return "a readable working came" if after.counts else "there is no readable working any more"
    if first.problem != last.problem:
        return f"{first.problem} was asked, now {last.problem}"
    if first.working != last.working:
        return "another working was handed back"
    if first.of != last.of:
        return f"the question counted {first.of} marks, now {last.of}"
    moved = _first_difference(first.points, last.points)
    if rules:
        return f"{rules}{f' ({moved})' if moved else ''}"
    return moved or "the mark scheme has another number of marks"


def _decisions(item: QuestionRecord) -> str:
    told = [mark.why for point in item.points for mark in point.ledger[:1] if mark.why.startswith("by hand")]
    return item.by_hand or "; ".join(told)


def _first_difference(before: tuple[PointRecord, ...], after: tuple[PointRecord, ...]) -> str:
    """The first mark that is won now and was not, or the other way round; '' where there is none."""
    old = {point.waypoint: point for point in before}
    for point in after:
        was = old.get(point.waypoint)
        if was is None or was.of != point.of:
            return f"the scheme of {point.waypoint} has {point.of} marks, was {0 if was is None else was.of}"
        for first, last in zip(was.ledger, point.ledger, strict=True):
            if first.got != last.got:
                return f"{point.waypoint}, {last.kind}{first.got} now {last.kind}{last.got}: {last.why}"
    return ""
