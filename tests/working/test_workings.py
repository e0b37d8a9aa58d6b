"""Whole workings by people who saw only the statements: each line finds what they said before the checker was run."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.solution import earlier_editions
from tutor.working.check import check_working
from tutor.working.finding import WRONG

FOLDER = Path(__file__).parent / "workings"
TRUE = {"holds", "holds-here", "follows", "defines", "choice-ok", "note"}
LEAST = {"workings": 70, "lines": 580, "as labelled": 460}


@dataclass(frozen=True)
class Told:
    """A line of a working with the findings that may be said of it, the writer's own first."""

    labels: tuple[str, ...]
    text: str
    remark: str = ""


@dataclass(frozen=True)
class Working:
    """A working: the problem's name, how it was written, its lines (blank ones have no labels)."""

    problem: str
    style: str
    lines: tuple[Told, ...]


def workings() -> list[Working]:
    """Every working of the folder."""
    found: list[Working] = []
    for file in sorted(FOLDER.glob("*.txt")):
        for block in ("\n" + file.read_text(encoding="utf-8").rstrip("\n")).split("\n== ")[1:]:
            title, *rows = block.split("\n")
            lines: list[Told] = []
            for row in rows:
                if row.startswith("-- "):
                    last = lines[-1]
                    lines[-1] = Told(last.labels, last.text, f"{last.remark} {row[3:]}".strip())
                else:
                    label = row.split(" ", 1)[0]
                    text = row[13:] if len(label) < 13 else row[len(label) + 1 :]
                    lines.append(Told(tuple(label.split("|")) if label else (), text))
            problem, style = title.split(" | ")
            found.append(Working(problem, style, tuple(lines)))
    return found


WORKINGS = workings()


@pytest.mark.parametrize("working", WORKINGS, ids=[f"{item.problem} {item.style[:40]}" for item in WORKINGS])
def test_each_line_finds_what_its_writer_said(working: Working):
    """The writer's label, or the other finding that the file gives with its reason."""
    checked = check_working("\n".join(line.text for line in working.lines), earlier_editions.sheet(working.problem))
    found = {item.number: item for item in checked.findings}
    for number, line in enumerate(working.lines, 1):
        if line.labels:
            finding = found[number]
            assert finding.code.value in line.labels, (number, line.text, finding.why)
            if finding.code.value != line.labels[0] and finding.code.value not in line.labels[:1]:
                assert "[" in line.remark or len(line.labels) > 1, line.text


def test_no_true_line_is_called_wrong():
    """A line its writer holds for true is called wrong only where the file says why it can be."""
    wrong = {code.value for code in WRONG}
    for working in WORKINGS:
        for line in working.lines:
            if line.labels and line.labels[0] in TRUE and set(line.labels) & wrong:
                assert "[" in line.remark, line.text
                assert line.labels[0] not in ("holds", "defines"), line.text


def test_the_score_is_kept():
    """No fewer workings, and no fewer lines that find exactly what their writer said, than were once reached."""
    lines = [line for working in WORKINGS for line in working.lines if line.labels]
    exact = [line for line in lines if f"[{line.labels[-1]}]" not in line.remark]
    reached = {"workings": len(WORKINGS), "lines": len(lines), "as labelled": len(exact)}
    assert all(reached[name] >= least for name, least in LEAST.items()), reached
