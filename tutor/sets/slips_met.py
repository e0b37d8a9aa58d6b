"""Slips by their names: what the findings on a working say went wrong, for a class to be told of.

Vocabulary: a slip of the *problem* has its name there (an author's); one of the *trade* has its name in the table here.
Place in the data flow: findings + Problem + Sheet -> names, one for each slip met on a question -> class figures.
"""

from __future__ import annotations

from collections.abc import Iterable

from tutor.generate.problem import Problem
from tutor.solution.sheet import Sheet
from tutor.working.finding import WRONG, Code, Finding
from tutor.working.sayings import as_typed

# The kinds that `working/reasons.py` and `working/edits.py` tell, in a few words; common practice, no source.
OF_THE_TRADE = {
    "arithmetic": "a slip of arithmetic",
    "bound-turned": "a bound the wrong way round",
    "copied": "a value copied wrongly",
    "corner": "the value of another corner",
    "factor-two": "a factor of two",
    "inverted": "a ratio upside down",
    "left-out": "a term left out",
    "parallel": "series for parallel, or parallel for series",
    "power-of-ten": "a power of ten lost",
    "rms-crest": "r.m.s. for crest, or crest for r.m.s.",
    "rounding": "rounded too early",
    "sign": "a sign turned",
    "square": "a square left out, or one too many",
    "symbol": "another quantity in its place",
    "too-many": "a term too many",
}
UNITS = "units that do not agree"
UNNAMED = "wrong without a known slip"
BAD_CHOICE = "a part that does not meet the specification"
CONVENTION = "another convention than the one stated"


def slips_met(findings: Iterable[Finding], problem: Problem, sheet: Sheet | None) -> tuple[str, ...]:
    """The names of the slips on one question, each once, in the order met; prose in plain letters."""
    names = {slip.id: slip.name for slip in (() if sheet is None else sheet.slips)}
    for point in problem.waypoints:
        names.update({slip.id: slip.name for slip in point.slips})
        names.update({remark.id: remark.name for remark in point.remarks if remark.id})
    return tuple(dict.fromkeys(_name(item, names) for item in findings if item.code in WRONG))


def _name(line: Finding, names: dict[str, str]) -> str:
    if line.slip:
        told = [_of_one(slip, names) for slip in line.slip]
        return " or ".join(dict.fromkeys(told))
    if line.code is Code.UNITS:
        return UNITS
    return BAD_CHOICE if line.code is Code.CHOICE_BAD else UNNAMED


def _of_one(slip: str, names: dict[str, str]) -> str:
    if names.get(slip):
        return as_typed(names[slip])
    if "=" in slip:
        return CONVENTION
    return OF_THE_TRADE.get(slip, slip.replace("-", " "))
