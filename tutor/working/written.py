"""How an answer is written, as far as marks depend on it: one number, its digits, its figures.

Place in the data flow: attempts at a waypoint -> `marks.py`.
"""

from __future__ import annotations

import math

from tutor.solution.scheme import SchemePoint
from tutor.working.attempts import Tried, Worth
from tutor.working.finding import Finding

FEWEST_FIGURES, MOST_FIGURES = 2, 4
SAME_DIGITS = 0.01  # of a value: its digits agree, whatever the prefix and unit


def unevaluated(tried: Tried) -> int | None:
    """The line of an answer left as an expression, unless it is worked out on another line."""
    right = [item.line for item in tried.values if item.worth in (Worth.RIGHT, Worth.FOLLOWS, Worth.UNIT)]
    if any(line.shown is None or line.shown.evaluated for line in right):
        return None
    return right[-1].number


def same_value(a: Finding, b: Finding) -> bool:
    """Whether two lines give the same value."""
    return a.reached is not None and b.reached is not None and math.isclose(a.reached, b.reached, rel_tol=SAME_DIGITS)


def same_digits(line: Finding, point: SchemePoint) -> bool:
    """Whether a number has the digits of the answer, its prefix and unit apart."""
    if line.shown is None or point.answer is None or line.shown.number * point.answer <= 0:
        return False
    thousands = math.log10(line.shown.number / point.answer) / 3
    return math.isclose(1000 ** (thousands - round(thousands)), 1.0, rel_tol=SAME_DIGITS)


def figures_fit(point: SchemePoint, line: Finding) -> bool:
    """Whether an answer has 2 to 4 figures, or the few that write it exactly."""
    if line.shown is None or not line.shown.evaluated:
        return True
    exact = bool(point.printed_figures) and line.shown.figures >= point.printed_figures
    return line.shown.figures <= MOST_FIGURES and (line.shown.figures >= FEWEST_FIGURES or exact)
