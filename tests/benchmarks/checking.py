"""Lines of working a second: on numbers new to the checker, on numbers it has met, and lines it has met; and the
slowest line against the middle one.

The slowest lines are wrong ones, on which every reason is tried.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from plans import Disagreement
from table import Row, Section
from timing import Contender, Effort, interleaved

from tutor.solution.desk import our_desk
from tutor.solution.sheet import Sheet
from tutor.working.check import check_working

PROBLEM = "zener-resistor:3:1"
# Each line with its finding, the sums made long and wrong on purpose.
LINES = (
    ("R = (V_I − V_Z)/(I_L + I_Z)", "holds"),
    ("I_R = I_L + I_Z", "holds"),
    ("V_R = V_I − V_Z", "holds"),
    ("P_R = V_R I_R", "holds"),
    ("P_Z = V_Z I_Z", "holds"),
    ("I_Z = I_R − I_L", "holds"),
    ("I_R = I_L − I_Z", "fails"),
    ("P_R = 2 V_R I_R", "fails"),
    ("V_R = " + " + ".join(["V_I", "V_Z", "V_O"] * 14), "fails"),
    ("P_Z = " + " + ".join(["P_Z_MAX 3/5", "P_R 220 V/15 V", "P_R_MAX 100m/12k"] * 3), "fails"),
    ("R ≥ 9.56 (18 − 8.64) = 89.5 Ω", "fails"),
)
HOW = (
    f"Lines of working on {PROBLEM}, its recipes from the store: {len(LINES)} lines, right and wrong, held against "
    "what each must be found to be before anything is timed. Numbers new: a sheet that nothing was checked on, its "
    "worlds worked out first. Numbers met: lines that the sheet has not seen, on a sheet that has its worlds. Lines "
    "met: the same working once more, as where a class shares its numbers or a line is mended at the end. Ratio of the "
    "last row: the slowest line over the line in the middle, each by itself on new numbers."
)


def require_findings(sheet: Sheet) -> None:
    """Disagreement where a line is found to be something else: then its time says nothing."""
    for line, code in LINES:
        found = [item.code.value for item in check_working(line, sheet).findings]
        if found != [code]:
            raise Disagreement(f"{line[:40]}: {code} expected, {found} found")


def rows_for(effort: Effort) -> list[Row]:
    """The rows: right lines on numbers new and met, lines met; the middle line against the slowest."""
    sheet = our_desk().sheet(PROBLEM)
    require_findings(sheet)
    right = [line for line, code in LINES if code == "holds"]
    met = replace(sheet)
    check_working("\n".join(right), met)

    def fresh(text: str, number: int) -> partial[object]:
        return partial(check_working, text, replace(sheet))

    def unseen(number: int) -> partial[object]:
        spaced = "\n".join(line + " " * (number + 1) for line in right)  # read and judged anew: no such line was met
        return partial(check_working, spaced, met)

    contenders = {
        "new": Contender(partial(fresh, "\n".join(right))),
        "met": Contender(unseen),
        "again": Contender(lambda number: partial(check_working, "\n".join(right), met), effort.sample_seconds),
        **{line: Contender(partial(fresh, line)) for line, _ in LINES},
    }
    found = interleaved(contenders, effort.rounds)
    alone = sorted((found[line] for line, _ in LINES), key=lambda timing: timing.median)
    count = len(right)
    return [
        Row("right lines, numbers met", found["met"], "numbers new", found["new"], "what a sheet's worlds cost", count),
        Row("right lines, lines met", found["again"], "numbers met", found["met"], "what reading, judging cost", count),
        Row("the middle line", alone[len(LINES) // 2], "the slowest", alone[-1], "ratio: slowest over middle", 1),
    ]


def measure(effort: Effort) -> Section:
    """The rows of checking."""
    return Section(tuple(rows_for(effort)), HOW)
