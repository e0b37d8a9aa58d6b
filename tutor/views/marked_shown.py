"""A marked class as the command tells it: on the terminal, and as the record that `--json` prints."""

from __future__ import annotations

from typing import Any

from rich.console import Console

from tutor.sets.moved import MovedQuestion
from tutor.views.feedback import marks_shown
from tutor.views.margin import shown_line
from tutor.views.marked_class import MarkedClass
from tutor.views.terminal_lines import heading, paragraph, rows

_MOST_TOLD = 20  # moves and notes told one by one on the terminal


def marked_record(marked: MarkedClass) -> dict[str, Any]:
    """What `--json` promises."""
    figures, marks = marked.figures, marked.figures.marks
    return {
        "out": str(marked.out),
        "learners": figures.learners,
        "counted": figures.counted,
        "absent": list(figures.absent),
        "of": figures.of,
        "marks": None if marks is None else {
            "mean": marks.mean, "deviation": marks.deviation, "least": marks.least, "median": marks.median,
            "greatest": marks.greatest,
        },
        "questions": [
            {
                "question": item.question, "title": item.title, "of": item.of, "mean": item.marks.mean,
                "item_rest": item.rest, "upper_lower": item.index,
                "lost": [
                    {"waypoint": point.waypoint, "lost": point.lost, "of": point.of, "learners": point.learners}
                    for point in item.points
                ],
            }
            for item in figures.questions
        ],
        "slips": [{"slip": name, "met": count} for name, count in figures.slips],
        "lines_left": figures.left_count,
        "notes": [{"id": whose, "note": note} for whose, note in figures.notes],
        "strays": list(marked.strays),
        "moved": [
            {"id": move.id, "question": move.question, "before": move.before, "after": move.after, "why": move.why}
            for move in marked.moved
        ],
        "moved_count": marked.moved_count,
        "kept": marked.kept,
    }  # fmt: skip


def show_marked(console: Console, marked: MarkedClass) -> None:
    """What came of it, what moved, what is left to a person."""
    figures = marked.figures
    heading(console, figures.title, str(marked.out))
    told = [f"{figures.counted} of {figures.learners} learners marked."]
    if figures.marks is not None:
        told.append(
            f"Mean {figures.marks.mean:.1f} of {figures.of}, median {figures.marks.median:g}, "
            f"from {figures.marks.least:g} to {figures.marks.greatest:g}."
        )
    if figures.absent:
        some = ", ".join(map(shown_line, figures.absent[:_MOST_TOLD]))
        told.append(f"Nothing was handed back by {some}{_more(len(figures.absent))}.")
    paragraph(console, " ".join(told))
    if marked.compared:
        console.print()
        paragraph(console, _moved_told(marked.moved_count), style="bold" if marked.moved_count else "")
        rows(console, [_move_told(move) for move in marked.moved[:_MOST_TOLD]])
    notes = [(shown_line(whose), shown_line(note)) for whose, note in figures.notes]
    notes += [("", shown_line(stray)) for stray in marked.strays]
    if figures.left_count or notes:
        console.print()
        paragraph(console, "Left to a person:", style="bold")
        if figures.left_count:
            count = figures.left_count
            paragraph(console, f"{count} line{'' if count == 1 else 's'} could not be read: lines_left.csv", indent=2)
        rows(console, notes[:_MOST_TOLD])
    console.print()
    paragraph(
        console,
        "Marks: marks.csv, marks.xlsx, marks.json. Report: report.html. A sheet for each: feedback/. Marks by hand go "
        "into override.csv; mark again and they win.",
    )


def _more(count: int) -> str:
    return f" and {count - _MOST_TOLD} more" if count > _MOST_TOLD else ""


def _moved_told(count: int) -> str:
    if not count:
        return "No marks moved since the last marking."
    return f"{count} mark{' has' if count == 1 else 's have'} moved since the last marking (moved.csv):"


def _move_told(move: MovedQuestion) -> tuple[str, str]:
    before, after = marks_shown(move.before), marks_shown(move.after)
    return f"{shown_line(move.id)} Q{move.question}", f"{before} → {after}: {shown_line(move.why)}"
