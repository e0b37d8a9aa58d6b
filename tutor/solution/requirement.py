"""A requirement told: what was asked of a result, whether it holds, and by how much.

Place in the data flow: a closing check of a solution, or a demand on a learner's own design -> Check. No arrays here:
`working` stands on it.
"""

from __future__ import annotations

from tutor.quantities.quantity import given, write
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import difference_unit
from tutor.solution.solution import Check

SAME = 1e-9  # of the larger: a value this near its limit meets it
_WORDS = {">=": ("at least", "needed", "missing"), "<=": ("at most", "allowed", "too much")}


def requirement_told(words: str, quantity: str, relation: str, value: float, limit: float) -> Check:
    """The check that a quantity (SI) is at least (`>=`) or at most (`<=`) a limit, introduced by `words` (prose)."""
    unit = symbol_for(quantity).unit
    word, close, short = _WORDS[relation]
    text = f"{words}: ${quantity}$ = {write(value, unit)}, {word} {given(limit, unit).text} is {close}"
    left = "to spare" if meets(value, limit, relation) else short
    # A check put at a bound found before meets its limit to the last figure; a picoampere to spare would say nothing.
    at_limit = abs(value - limit) <= SAME * max(abs(value), abs(limit))
    margin = "nothing to spare" if at_limit else f"{write(abs(value - limit), difference_unit(unit))} {left}"
    return Check(text, left == "to spare", margin)


def meets(value: float, limit: float, relation: str) -> bool:
    """Whether a value is at least (`>=`) or at most (`<=`) a limit, to within what rounding leaves."""
    slack = SAME * max(abs(value), abs(limit))
    return value >= limit - slack if relation == ">=" else value <= limit + slack
