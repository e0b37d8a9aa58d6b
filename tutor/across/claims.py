"""Claims about a base problem: true values, and values that a slip, a lost prefix or a wrong unit would give.

A claim *can be* when it is true; it *cannot be* when a principle throws it out clearly. What is neither is not claimed:
that a value is wrong does not make it impossible.
Place in the data flow: base problem + principles -> claims -> questions about them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tutor.across.base_problem import BaseProblem
from tutor.across.principles import OPEN, PRINCIPLES, Bound, Facts, Principle, broken, letter_of
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Waypoint, WaypointKind
from tutor.quantities.expression import Sym, Val
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol
from tutor.solution.solution import Chain

THOUSAND = 1000.0
OFTEN, SOMETIMES = 2, 1  # how often a claim is taken beside others
# The unit that is written for another by mistake, by unit code.
OTHER_UNITS = {"W": "V", "V": "A", "A": "V", "ohm": "V", "K/W": "W", "degC": "W", "F": "V", "%": "W", "J": "V"}


def _no_bound(facts: Facts, key: str) -> Bound:
    return OPEN


UNIT = Principle(
    "unit",
    "its unit is that of another quantity",
    (),
    (),
    _no_bound,
    "a number taken for an answer whatever its unit",
    ("N07",),
)


@dataclass(frozen=True)
class Claim:
    """A value claimed of a quantity; `principle` throws it out, `others` would too; None and none where it is true.

    `source` says in a few words where a false value comes from, `weight` how often such are claimed beside others.
    """

    point: Waypoint
    value: float
    unit: str
    principle: Principle | None
    others: tuple[Principle, ...]
    source: str
    weight: int = 1

    @property
    def chain(self) -> Chain:
        """The claim as a line."""
        return Chain(Sym(self.point.key), (("=", Val(self.value, self.unit)),))

    @property
    def can_be(self) -> bool:
        """Whether it is possible, which is to say true."""
        return self.principle is None


def facts_of(ready: ReadyLevel, drawn: Drawn) -> Facts:
    """The numbers that a problem gives, and the letters of what it asks."""
    told = {key: float(drawn.run.env[key][0]) for key in ready.level.given if is_symbol(key)}
    asked = frozenset(letter_of(key) for key in drawn.region.plan.keys if is_symbol(key))
    return Facts(ready.circuit.stem.replace("-", "_"), told, asked)


def value_points(base: BaseProblem) -> list[Waypoint]:
    """What a base problem asks for as a value."""
    return [point for point in base.problem.waypoints if point.kind is WaypointKind.VALUE and is_symbol(point.key)]


def true_claim(point: Waypoint) -> Claim:
    """The right value, claimed."""
    assert point.answer is not None
    return Claim(point, point.answer.value, point.answer.unit, None, (), "")


def false_claims(base: BaseProblem, point: Waypoint) -> list[Claim]:
    """What can be claimed of a quantity and cannot be, one for each place it may come from."""
    assert point.answer is not None
    facts, unit = facts_of(base.ready, base.drawn), point.answer.unit
    found = []
    for value, source, weight in (*_wrong_values(point), *_lifted(facts, point)):
        thrown_out = broken(facts, point.key, value) if math.isfinite(value) else ()
        if thrown_out:
            found.append(Claim(point, value, unit, thrown_out[0], thrown_out[1:], source, weight))
    if unit in OTHER_UNITS:
        found.append(Claim(point, point.answer.value, OTHER_UNITS[unit], UNIT, (), "the wrong unit written"))
    return found


def _wrong_values(point: Waypoint) -> Iterator[tuple[float, str, int]]:
    """Values that are claimed by mistake, where each comes from, and how often it is taken beside others."""
    assert point.answer is not None
    value = point.answer.value
    for slip in point.slips:
        yield slip.value, slip.name, OFTEN
    if not point.key.startswith("V_"):  # nobody takes kilovolts for volts
        yield value * THOUSAND, "a prefix lost", SOMETIMES
        yield value / THOUSAND, "a prefix lost", SOMETIMES
    if letter_of(point.key) in ("V_PK", "V_DC", "V_TROUGH"):
        yield 2 * value, "the sine counted from crest to crest", SOMETIMES
    if point.answer.unit == "%":
        yield value * 100, "per cent counted twice", SOMETIMES
    if point.key.startswith("I_"):
        yield -value, "the two sides of a difference exchanged", SOMETIMES


def _lifted(facts: Facts, point: Waypoint) -> Iterator[tuple[float, str, int]]:
    """An output for which the zener's voltage was put on top of the supply's."""
    supply, zener = facts.most("V_I"), facts.most("V_Z")
    if letter_of(point.key) == "V_O" and supply is not None and zener is not None:
        yield supply + zener, "the zener's voltage put on top of the supply's", SOMETIMES


def principles_of(facts: Facts) -> list[Principle]:
    """The principles that are about the circuit at hand, and that of the unit."""
    return [*(item for item in PRINCIPLES if facts.circuit in item.circuits), UNIT]


def range_words(facts: Facts, principle: Principle, point: Waypoint) -> str:
    """What a principle leaves possible here: `at most 27 V`, '' where it sets no bound."""
    assert point.answer is not None
    low, high = principle.limits(facts, point.key)
    least, most = (None if end is None else write(end, point.answer.unit) for end in (low, high))
    if least is not None and most is not None:
        return f"between {least} and {most}"
    return f"at least {least}" if least is not None else f"at most {most}" if most is not None else ""
