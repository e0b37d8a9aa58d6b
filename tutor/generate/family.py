"""What an author declares: one family, three levels, everything as data.

Vocabulary: a *draw* gives one named given its value; an *ask* is something to find, a *waypoint* when the learner is
asked for it; a *corner* is a choice of ends for the quantities that range; a *slip* is an edit of one step of the plan
behind an ask. Names with `_MIN` and `_MAX` are the declared ends of what ranges, or what an ask finds at the worst
corner. Prose holds formulas between `$` signs.
Place in the data flow: problems/families/*.py -> Family -> stages -> Problem.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum

from tutor.quantities.preferred import Series


@dataclass(frozen=True)
class Pick:
    """A draw from a list of SI values. A name with a lower-case start that is no letter symbol stays hidden."""

    name: str
    values: tuple[float, ...]


@dataclass(frozen=True)
class PickPart:
    """A draw of a part from a catalogue: `take` maps letter symbols to columns; `where` keeps low <= column <= high."""

    catalogue: str
    take: Mapping[str, str]
    where: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True)
class Work:
    """A given worked out from earlier draws by a formula, rounded to `figures` (a meter reading has 3 or 4)."""

    name: str
    formula: str
    figures: int = 12


Draw = Pick | PickPart | Work


class Extreme(Enum):
    """Which end of what a quantity can do is asked for."""

    LEAST = "least"
    GREATEST = "greatest"


@dataclass(frozen=True)
class Find:
    """Find `quantity` with the givens as they stand, or with some of them taken at named values (`at`)."""

    quantity: str
    prompt: str
    key: str = ""
    at: Mapping[str, str] = field(default_factory=dict)
    region: str = ""
    shown: bool = True


@dataclass(frozen=True)
class FindExtreme:
    """Find what `quantity` comes to at its worst corner; the corner is derived from the signs of its sensitivities."""

    quantity: str
    extreme: Extreme
    prompt: str
    key: str = ""
    region: str = ""
    shown: bool = True
    at: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class FindBound:
    """Find the bound that a requirement (`I_Z >= I_ZK`) sets on `quantity` over every corner."""

    quantity: str
    requirement: str
    prompt: str
    key: str = ""
    region: str = ""
    shown: bool = True
    at: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Stock:
    """Values of a catalogue's column to choose from: `part` says what they belong to (a heat-sink), `told` names the
    column that describes each, `where` keeps low <= column <= high. Values (SI, rising; what several parts have stands
    once) and descriptions are read with the family's file."""

    catalogue: str
    column: str
    part: str
    told: str
    values: tuple[float, ...] = ()
    descriptions: tuple[str, ...] = ()
    where: tuple[tuple[str, float, float], ...] = ()

    def description(self, value: float) -> str:
        """What the catalogue says of the part with that value."""
        return self.descriptions[self.values.index(value)]


class Prefer(Enum):
    """Which of the values that meet the specification the model solution takes, and what it says of it."""

    LARGEST = "largest"
    SMALLEST = "smallest"
    NEAREST = "nearest"


@dataclass(frozen=True)
class Choose:
    """Choose `quantity` from a series of preferred values, or from stock, between bounds found before (`FindBound`).

    `tolerance` (a key such as tol_R, or '') must keep the part inside the bounds; `near` is a key whose value the
    choice should be nearest to when there are no bounds. Any value that meets the bounds is right.
    """

    quantity: str
    series: Series | Stock
    prompt: str
    prefer: Prefer
    why: str
    low: str = ""
    high: str = ""
    near: str = ""
    tolerance: str = ""
    key: str = ""
    region: str = ""
    shown: bool = True


@dataclass(frozen=True)
class ChooseRating:
    """Choose a rating from a shelf (SI values), or from stock, at least `margin` times what `load` (a key) comes to."""

    key: str
    load: str
    shelf: tuple[float, ...]
    margin: float
    prompt: str
    why: str
    region: str = ""
    shown: bool = True
    stock: Stock | None = None


@dataclass(frozen=True)
class TellState:
    """Say which region the circuit is in, by the test `quantity` against `limit` (keys)."""

    quantity: str
    limit: str
    prompt: str
    key: str = "state"
    region: str = ""
    shown: bool = True


@dataclass(frozen=True)
class Demand:
    """One row of a table of margins: `requirement` over keys found or given before (`I_Z_MIN >= I_ZK`), in words."""

    words: str
    requirement: str


@dataclass(frozen=True)
class Verdict:
    """What is to be said where the requirements among `meets` are met and those among `misses` are not."""

    words: str
    meets: tuple[str, ...] = ()
    misses: tuple[str, ...] = ()


@dataclass(frozen=True)
class TellVerdict:
    """Say which of the verdicts is true, by the demands at their worst corners; `why` says what the table shows.

    Several verdicts may be in the same words (a thing may fail by one demand or by another). A draw in which none or
    more than one is true is refused, and one in which a demand is met or missed by less than the share `apart` of its
    limit.
    """

    prompt: str
    demands: tuple[Demand, ...]
    verdicts: tuple[Verdict, ...]
    why: str
    apart: float = 0.02
    key: str = "verdict"
    region: str = ""
    shown: bool = True


Ask = Find | FindExtreme | FindBound | Choose | ChooseRating | TellState | TellVerdict


def key_of_ask(ask: Ask) -> str:
    """The key an ask's result is stored under; a bound's (R_MAX or R_MIN) is known once it is planned."""
    if ask.key or isinstance(ask, ChooseRating | TellVerdict):
        return ask.key
    if isinstance(ask, FindExtreme):
        return f"{ask.quantity}_{'MAX' if ask.extreme is Extreme.GREATEST else 'MIN'}"
    return ask.quantity


@dataclass(frozen=True)
class Drop:
    """Edit: leave a term (or factor) out."""

    term: str


@dataclass(frozen=True)
class Turn:
    """Edit: turn the sign of a term."""

    term: str


@dataclass(frozen=True)
class Swap:
    """Edit: one symbol (or subexpression) in place of another; `new` may name another corner's end."""

    old: str
    new: str


@dataclass(frozen=True)
class Rewrite:
    """Edit: the whole step replaced by another formula over the same quantities."""

    formula: str


@dataclass(frozen=True)
class RoundAway:
    """Edit of a choice: the next preferred value on the far side of the bound (`above` it, or below)."""

    above: bool


@dataclass(frozen=True)
class NoMargin:
    """Edit of a rating: the smallest that just covers the calculated dissipation."""


Edit = Drop | Turn | Swap | Rewrite | RoundAway | NoMargin


@dataclass(frozen=True)
class Slip:
    """A wrong route: `edit` of the step that finds `step` ('' the last one) of the ask `at`.

    `reference` lists the slips of the trade it stands for (S01, E04, N01), whose own formulas check its value.
    """

    id: str
    at: str
    edit: Edit
    name: str
    why: str
    hint: str
    step: str = ""
    region: str = ""
    reference: tuple[str, ...] = ()


@dataclass(frozen=True)
class CheckLine:
    """A closing check: `requirement` over keys, at the worst corner of `corner` quantities; `words` introduce it.

    `at` overrides givens (R at the end of its tolerance, the output shorted) by formulas over keys. `part` says whose
    requirement it is: where several parts have one, the weakest is named by what it has to spare.
    """

    words: str
    requirement: str
    at: Mapping[str, str] = field(default_factory=dict)
    region: str = ""
    part: str = ""


@dataclass(frozen=True)
class BackLine:
    """A closing check by putting back: `formula` over keys must give the value of `key` again; `words` introduce it."""

    words: str
    formula: str
    key: str


def applies_in(entry: Ask | Slip | CheckLine, region: str) -> bool:
    """Whether an ask, a slip or a check is for a region of the circuit: for its own, or for any where it names none."""
    return entry.region in ("", region)


@dataclass(frozen=True)
class Level:
    """One level of a family.

    `ranges` names the quantities given by two ends; `given` the keys shown to the learner, in order; `require` the
    conditions a draw must meet; `data` a sentence with {KEY} placeholders; `band` the part spreads (fractions by key)
    behind the bench band of each result; `form` which form the circuit is in, where it has several;
    `assume` conventions of this level alone, over the family's.
    """

    about: str
    draws: tuple[Draw, ...]
    given: tuple[str, ...]
    data: str
    ask: str
    asks: tuple[Ask, ...]
    require: tuple[str, ...] = ()
    ranges: tuple[str, ...] = ()
    slips: tuple[Slip, ...] = ()
    checks: tuple[CheckLine, ...] = ()
    back: tuple[BackLine, ...] = ()
    band: Mapping[str, float] = field(default_factory=dict)
    regions: tuple[str, ...] = ()
    labels: Mapping[str, str] = field(default_factory=dict)
    bench: str = ""
    form: str = ""
    assume: Mapping[str, str] = field(default_factory=dict)

    def asked_in(self, region: str) -> tuple[int, ...]:
        """The places of the asks that a learner is asked where the circuit is in a region."""
        return tuple(place for place, ask in enumerate(self.asks) if ask.shown and applies_in(ask, region))


@dataclass(frozen=True)
class Family:
    """A family of problems: id is its file's name with `-` for `_`."""

    title: str
    about: str
    lesson: str
    circuit: str
    levels: tuple[Level, Level, Level]
    scenarios: tuple[str, ...]
    cautions: tuple[str, ...]
    edition: int = 1
    assume: Mapping[str, str] = field(default_factory=dict)
    id: str = ""

    def circuit_of(self, number: int) -> str:
        """Id of the circuit that a level (1 to 3) is about."""
        form = self.levels[number - 1].form
        return f"{self.circuit}-{form}" if form else self.circuit

    def under(self, assumed: Mapping[str, str]) -> Family:
        """The family with other conventions in place of its own."""
        return replace(self, assume={**self.assume, **assumed})
