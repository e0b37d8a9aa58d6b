"""Papers of a whole class: time and memory of drawing, working and making sheets, as the class grows.

Each size runs in a process of its own, since what is told of memory is the most that a process ever took. What bounds
it: each learner's numbers are drawn after those of the learners before them, in one process; the rest is alike for
every paper, and several processes or a cluster divide it among them.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from peak import peak_memory
from table import Row, Section, figures
from timing import Effort, Timing

import tutor
from tutor.sets.drafts import drafts
from tutor.sets.equal import equal_report, facts_of
from tutor.sets.paper import ClassSet, DrawnQuestion, Learner, Question
from tutor.sets.papers import papers, papers_from

QUESTIONS = (("zener-resistor", 2), ("zener-state", 1), ("supply-ripple", 2), ("follower-state", 2), ("zener-slope", 1))
FULL_SIZES, QUICK_SIZES = (100, 1_000, 10_000), (4, 8)
HOW = (
    "Papers of {count} questions, numbers of their own for every learner; each problem worked, with its mark scheme "
    "and sheet, and facts kept for the report on equal difficulty; nothing printed. One process a size, processor "
    "time, plans from the store. Ratio: time of a paper in the smallest class ÷ in this one, 1 where time grows as the "
    "class does. The note tells the whole time, the share of drawing, which goes in the order of the class and so in "
    "one process, and the most memory taken."
)


@dataclass(frozen=True)
class Measured:
    """One size: processor seconds in all, those of drawing alone, and the most memory taken (MB)."""

    seconds: float
    drawing: float
    peak: float
    equal: bool


def a_set(learners: int) -> ClassSet:
    """The set that is measured."""
    asked = tuple(Question(DrawnQuestion(family, level)) for family, level in QUESTIONS)
    return ClassSet("Benchmark", 1, asked, tuple(Learner(str(place)) for place in range(1, learners + 1)))


def measure_here(learners: int) -> Measured:
    """Every paper of a class, made in this process and let go."""
    of = a_set(learners)
    papers_from(of, list(drafts(a_set(1))))  # what is read or imported once is not part of a rate
    start = time.process_time()
    for _ in drafts(of):
        pass
    drawing = time.process_time() - start
    start = time.process_time()
    report = equal_report(of, map(facts_of, papers(of)))
    seconds = time.process_time() - start
    return Measured(seconds, drawing, peak_memory(), report.equal)


def measure_apart(learners: int) -> Measured:
    """The same in a process of its own. RuntimeError when it fails."""
    folders = [str(Path(tutor.__file__).resolve().parents[1]), str(Path(__file__).parent)]
    code = (
        f"import sys, json, dataclasses; sys.path[:0] = {folders!r}; import papers; "
        f"print(json.dumps(dataclasses.asdict(papers.measure_here({learners}))))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"papers of {learners} learners failed: {done.stderr.strip().rpartition(chr(10))[2]}")
    return Measured(**json.loads(done.stdout))


def rows_for(sizes: Sequence[int]) -> list[Row]:
    """A row for each size, against the smallest."""
    found = {size: measure_apart(size) for size in sizes}
    first = Timing((found[sizes[0]].seconds / sizes[0],))
    rows = []
    for size, item in found.items():
        told = f"{figures(item.seconds)} s, drawing {round(100 * item.drawing / item.seconds)} %, {round(item.peak)} MB"
        if not item.equal:
            raise RuntimeError(f"the papers of {size} learners are not equally difficult")
        rows.append(
            Row(f"a paper, {size} learners", Timing((item.seconds / size,)), f"{sizes[0]} learners", first, told)
        )
    return rows


def measure(effort: Effort) -> Section:
    """The rows of every size."""
    sizes = FULL_SIZES if effort.measures else QUICK_SIZES
    return Section(tuple(rows_for(sizes)), HOW.format(count=len(QUESTIONS)))
