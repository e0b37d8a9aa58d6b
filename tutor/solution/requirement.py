"""A requirement told: what was asked of a result, whether it holds, and by how much.

Place in the data flow: a closing check of a solution, or a demand on a learner's own design -> Check. No arrays here:
`working` stands on it. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from collections.abc import Sequence

from tutor.quantities.quantity import given, write
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import difference_unit
from tutor.solution.solution import Check

SAME = 1e-9  # of the larger: a value this near its limit meets it
RATED_AT = 25.0  # degrees Celsius: the temperature at which data sheets rate parts (common practice, no source)
_WORDS = {">=": ("at least", "needed", "missing"), "<=": ("at most", "allowed", "too much")}


def requirement_told(words: str, quantity: str, relation: str, value: float, limit: float, part: str = "") -> Check:
    """The check that a quantity (SI) is at least (`>=`) or at most (`<=`) a limit, introduced by `words` (prose);
    `part` is whose requirement it is."""
    unit = symbol_for(quantity).unit
    word, close, short = _WORDS[relation]
    text = f"{words}: ${quantity}$ = {write(value, unit)}, {word} {given(limit, unit).text} is {close}"
    left = "to spare" if meets(value, limit, relation) else short
    # A check put at a bound found before meets its limit to the last figure; a picoampere to spare would say nothing.
    at_limit = abs(value - limit) <= SAME * max(abs(value), abs(limit))
    margin = "nothing to spare" if at_limit else f"{write(abs(value - limit), difference_unit(unit))} {left}"
    return Check(text, left == "to spare", margin, part, _share(unit, relation, value, limit))


def _share(unit: str, relation: str, value: float, limit: float) -> float:
    """What is to spare as a share of the limit; of a temperature's limit what it has over the room of its ratings."""
    measure = abs(limit - RATED_AT if unit == "degC" else limit)
    spare = value - limit if relation == ">=" else limit - value
    return spare / measure if measure else 0.0


def weakest_told(checks: Sequence[Check]) -> tuple[Check, ...]:
    """The part that has least to spare, in a row of its own; nothing where fewer than two parts are told apart."""
    if len({check.part for check in checks if check.part}) < 2:
        return ()
    weakest = min((check for check in checks if check.part), key=lambda check: check.share)
    spare = "nothing to spare" if abs(weakest.share) <= SAME else (
        f"{write(abs(weakest.share), '%', figures=2)} of its limit {'to spare' if weakest.holds else 'short'}"
    )
    return (Check(f"The weakest part: {weakest.part}", weakest.holds, spare),)


def meets(value: float, limit: float, relation: str) -> bool:
    """Whether a value is at least (`>=`) or at most (`<=`) a limit, to within what rounding leaves."""
    slack = SAME * max(abs(value), abs(limit))
    return value >= limit - slack if relation == ">=" else value <= limit + slack
