"""Lines of working a second: a whole working at once, each line by itself, and the slowest line against the middle one.

A line by itself pays for its sheet's worlds, which a whole working works out once; the slowest lines are wrong ones, on
which every reason is tried.
"""

from __future__ import annotations

from functools import partial

from plans import Disagreement
from table import Row, Section
from timing import Contender, Effort, added, interleaved

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
    "what each must be found to be before anything is timed. Ratio of the first row: what a right line costs by "
    "itself, the sheet's worlds worked out anew for it, over what it costs in a working; of the second: the slowest "
    "line over the line in the middle, each by itself."
)


def require_findings(sheet: Sheet) -> None:
    """Disagreement where a line is found to be something else: then its time says nothing."""
    for line, code in LINES:
        found = [item.code.value for item in check_working(line, sheet).findings]
        if found != [code]:
            raise Disagreement(f"{line[:40]}: {code} expected, {found} found")


def rows_for(effort: Effort) -> list[Row]:
    """The rows: a whole working against its lines one by one, the middle line against the slowest."""
    sheet = our_desk().sheet(PROBLEM)
    require_findings(sheet)
    right = [line for line, code in LINES if code == "holds"]  # a wrong line's reasons would hide what a sheet costs
    whole = "\n".join(right)
    texts = {"whole": whole, **{line: line for line, _ in LINES}}

    def checking(text: str, number: int) -> partial[object]:
        return partial(check_working, text, sheet)

    contenders = {name: Contender(partial(checking, text), effort.sample_seconds) for name, text in texts.items()}
    found = interleaved(contenders, effort.rounds)
    alone = sorted((found[line] for line, _ in LINES), key=lambda timing: timing.median)
    cold = added([found[line] for line in right])
    return [
        Row("right lines in one working", found["whole"], "each by itself", cold, "ratio: cold over warm", len(right)),
        Row("the middle line", alone[len(LINES) // 2], "the slowest", alone[-1], "ratio: slowest over middle", 1),
    ]


def measure(effort: Effort) -> Section:
    """The rows of checking."""
    return Section(tuple(rows_for(effort)), HOW)
