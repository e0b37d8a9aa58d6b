"""What is said of a set's variants: whether they are equally difficult, and whether a copied answer shows; as text.

Place in the data flow: EqualReport -> lines of `report.txt`, and a record for JSON.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tutor.sets.equal import EqualReport, Gap, QuestionReport


def report_text(report: EqualReport) -> str:
    """The report as plain text, a question a paragraph."""
    return "\n".join(_lines(report)) + "\n"


def report_record(report: EqualReport) -> dict[str, Any]:
    """The report in short: of each question whether all variants are equal, and how near neighbours come."""
    return {
        "equal": report.equal,
        "copying_shows": report.copying_shows,
        "questions": [
            {
                "number": item.number,
                "asks": item.asks,
                "problems": item.problems,
                "equal": item.equal,
                "marks": [marks for marks, _ in item.marks],
                "steps": list(item.steps),
                "neighbours": item.pairs,
                "apart": item.apart,
                "alike": item.alike,
            }
            for item in report.questions
        ],
    }


def _lines(report: EqualReport) -> Iterator[str]:
    yield f"{report.title}: {report.papers} {'paper' if report.papers == 1 else 'papers'}"
    yield ""
    if report.equal:
        yield "Every question is equally difficult for everyone: the same steps, the same level, the same marks."
    else:
        yield "Not every question is equally difficult for everyone; see below."
    if report.copying_shows:
        yield "An answer copied from a neighbour in the list shows, in every question that has numbers of its own."
    else:
        yield "In some questions the answers of neighbours in the list are too near to show copying; see below."
    yield f"Values count as right within {report.tolerance * 100:.3g} %."
    for item in report.questions:
        yield ""
        yield from _question(item)


def _question(item: QuestionReport) -> Iterator[str]:
    yield f"Question {item.number} ({item.asks})"
    if item.same_for_all:
        yield "  The same problem for everyone."
        return
    yield f"  {item.problems} different problems on {item.papers} papers."
    least, most = item.steps
    steps = f"{least} steps" if least == most else f"{least} to {most} steps"
    marks = " or ".join(f"{marks} marks ({count} papers)" for marks, count in item.marks)
    if item.equal:
        yield f"  Equal: one shape of solution, {steps}, a scheme of {item.marks[0][0]} marks."
    else:
        yield f"  Not all equal: {len(item.shapes)} shapes of solution, {steps}, {marks}."
    near = f"{item.apart} differ in every answer, {item.alike} in none"
    yield f"  Of {item.pairs} pairs of neighbours in the list {near}."
    for beside, of_all in zip(item.neighbours, item.nearest, strict=True):
        yield f"  Nearest in {of_all.key}: {_gap(of_all)}."
        if beside != of_all:
            yield f"    of neighbours in the list: {_gap(beside)}."


def _gap(gap: Gap) -> str:
    told = "" if gap.shows else ", too little to show copying"
    return f"{gap.first} and {gap.second}, {gap.share * 100:.3g} % or {gap.tolerances:.3g} tolerances apart{told}"
