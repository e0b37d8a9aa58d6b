"""The frozen values a drawn problem consists of.

Vocabulary: a *waypoint* is something a learner must reach on the way (a value, a choice, a state), in reading order;
*given* is what the statement's table says; a *slip value* is what a named wrong route would give at a waypoint.
*Prose* is plain text in which `$...$` holds a formula in the grammar of `quantities/formula.py`.
Place in the data flow: Family + number -> Problem -> Solution and views. Nothing here computes.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tutor.quantities.quantity import Quantity

SEPARATOR = "; "


class WaypointKind(Enum):
    """What sort of answer a waypoint takes."""

    VALUE = "value"  # a quantity, right within low..high
    CHOICE = "choice"  # a quantity the learner chooses; right when it is one of `accepted`
    STATE = "state"  # one of `options`, in words
    ARRANGEMENT = "arrangement"  # one of `options` for each of `places`, judged together


@dataclass(frozen=True)
class SlipValue:
    """Where a named wrong route leads at one waypoint; `value` in SI, of the waypoint's unit."""

    id: str
    value: float
    name: str  # prose: the slip in a few words
    why: str  # prose: why it is wrong
    hint: str  # prose: a question that leads back
    reference: tuple[str, ...] = ()  # slips of the trade it stands for, where no declared slip says it


@dataclass(frozen=True)
class Remark:
    """What is said of a wrong option: `id` and `name` are a belief's that leads there, '' where none is known."""

    option: str
    why: str  # prose: why it is wrong
    hint: str  # prose: a question that leads back
    id: str = ""
    name: str = ""  # prose: the belief in a few words
    reference: tuple[str, ...] = ()  # slips of the trade it stands for


@dataclass(frozen=True)
class Waypoint:
    """One thing to find. `key` is its name in `answers` (R_MAX, I_Z, R, state).

    An arrangement is written as its options in the order of its places, with `SEPARATOR` between them.
    """

    key: str
    kind: WaypointKind
    prompt: str  # prose, ends without a full stop: "the largest R that keeps the zener fed"
    answer: Quantity | None  # None where the answer is words
    low: float  # SI; accepted band, inclusive
    high: float
    accepted: tuple[float, ...]  # CHOICE: every SI value that meets the specification
    options: tuple[str, ...]  # STATE, ARRANGEMENT: the choices in words
    state: str  # STATE: the right one; ARRANGEMENT: the one of the worked solution
    slips: tuple[SlipValue, ...]
    remarks: tuple[Remark, ...] = ()  # on wrong options
    places: tuple[str, ...] = ()  # ARRANGEMENT: what an option is chosen for, in prose
    arrangements: tuple[str, ...] = ()  # ARRANGEMENT: every right one


@dataclass(frozen=True)
class TableRow:
    """A row of the statement's table of data: what it is and its value as prose, its symbol (may be empty)."""

    label: str
    symbol: str
    value: str


@dataclass(frozen=True)
class Problem:
    """One generated problem, whole: enough to print, to solve on paper and to judge an answer.

    `name` is its whole recipe (`zener-resistor:2:17`); `given` and `answers` are SI quantities by symbol name.
    """

    name: str
    family: str
    level: int
    number: int
    edition: int
    title: str
    circuit: str
    form: str
    statement: str  # prose: the scenario
    ask: str  # prose: what to find
    table: tuple[TableRow, ...]
    given: dict[str, Quantity]
    wanted: tuple[str, ...]
    waypoints: tuple[Waypoint, ...]
    cautions: tuple[str, ...]
    assumed: dict[str, str]

    @property
    def answers(self) -> dict[str, Quantity]:
        """The right value of each waypoint that has one."""
        return {point.key: point.answer for point in self.waypoints if point.answer is not None}
