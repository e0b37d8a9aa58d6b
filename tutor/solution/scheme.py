"""What a mark scheme is: for each waypoint its marks, what earns each, and which must be won first.

Vocabulary: M is a mark for *method* (a relation that could lead to the answer), A for *accuracy* (the right value with
its unit, which needs its method mark), B an *independent* mark (one fact or choice). Prose as in `solution.py`.
Place in the data flow: Problem + Solution -> `scheme_of.py` -> Scheme -> `working/marks.py` and printed schemes. Plain
values only, since `working` imports neither algebra nor arrays.
Source of the letters and of `needs`: the trade's key to mark codes (method, accuracy, independent; dependent marks).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tutor.generate.problem import WaypointKind


class MarkKind(Enum):
    """What a mark is given for."""

    METHOD = "M"
    ACCURACY = "A"
    INDEPENDENT = "B"


@dataclass(frozen=True)
class SchemeMark:
    """One mark. `needs` are places (from 0) of marks of the same waypoint that must be won first.

    `names` are the symbols at the head of a line that may earn it; `value` (SI) is set for a relation on the way, whose
    symbol alone does not say at which corner it is meant.
    """

    kind: MarkKind
    earns: str  # prose: what earns it, without a full stop
    names: tuple[str, ...] = ()
    needs: tuple[int, ...] = ()
    value: float | None = None


@dataclass(frozen=True)
class SchemePoint:
    """The marks of one waypoint, those for relations on the way first, and what its answer is held against.

    `answer` and the slips' values in SI; `printed_figures` is how many figures the answer needs when it is exact (0: it
    is rounded). `careless` are ids of slips that spoil the value alone (a prefix lost). `rests_on` are keys of choices
    from which the answer is worked out; `operations` how many signs of operation the shortest form of its own relation
    has. For a state: `options`, the right one, and the test that tells it: a symbol, its limit, the limit's value.
    """

    key: str
    kind: WaypointKind
    prompt: str
    marks: tuple[SchemeMark, ...]
    answer: float | None = None
    unit: str = ""
    accepted: tuple[float, ...] = ()
    slips: tuple[tuple[str, float], ...] = ()
    careless: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    operations: int = 0
    printed_figures: int = 0
    options: tuple[str, ...] = ()
    state: str = ""
    test: tuple[str, str, float] | None = None


@dataclass(frozen=True)
class Scheme:
    """The mark scheme of one problem, waypoints in reading order."""

    problem: str
    points: tuple[SchemePoint, ...]

    @property
    def total(self) -> int:
        """How many marks there are."""
        return sum(len(point.marks) for point in self.points)
