"""The sheet: a circuit's truth at one problem's numbers as plain data, for checking a learner's working.

Vocabulary: a *world* is one set of numbers (`env`: givens, standing values and choices, by key, SI); the problem's own
is the first, and others near it tell what is true whatever the numbers. A *recipe* says how every quantity follows from
a world's env, at each corner of what ranges and at the operating point of each thing asked. A *branch* is another
region, for a hypothesis; a *reading convention* another convention of the trade, with its own recipe.
Place in the data flow: problem or own numbers -> Sheet -> `working`, which imports neither algebra nor numpy.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tutor.plan.rule import Rule
from tutor.quantities.expression import Expr

Env = Mapping[str, float]

SHORTED, UNPLUGGED = "output-shorted", "load-unplugged"  # ids of branches that change the load


@dataclass(frozen=True)
class AskRecipe:
    """How one thing asked is found: bases from keys, the corner with the least or greatest value, then the rules.

    `box` are the bases that range, `resting` where the slope along one vanishes inside its range. For a bound,
    `relation` is <= or >= as the quantity is bounded.
    """

    key: str
    quantity: str
    inputs: tuple[tuple[str, Expr], ...]
    box: tuple[str, ...]
    greatest: bool | None
    resting: tuple[tuple[str, Expr], ...]
    rules: tuple[Rule, ...]
    relation: str = ""


@dataclass(frozen=True)
class ReadingRecipe:
    """One of several operating points read off: names that carry the index, and what follows from them."""

    index: str
    names: tuple[str, ...]
    rules: tuple[Rule, ...]


@dataclass(frozen=True)
class Recipe:
    """How a whole world follows from its env in one region under one set of conventions."""

    region: str
    known: tuple[str, ...]
    ranges: tuple[str, ...]
    shifts: tuple[str, ...]  # bases of which the change is given: DV_I
    tolerances: tuple[tuple[str, str], ...]  # a chosen base and the key of its tolerance
    rules: tuple[Rule, ...]
    readings: tuple[ReadingRecipe, ...]
    asks: tuple[AskRecipe, ...]


@dataclass(frozen=True)
class SheetChoice:
    """A choice asked for: a value of `series` or `shelf` (or one near `near`) between the values of the keys `low` and
    `high`, its tolerance included; or a rating from `shelf` of at least `margin` times the value of `load`. `accepted`
    are those that fit beside the model's other choices, `model` the model's own."""

    key: str
    quantity: str
    accepted: tuple[float, ...]
    model: float
    low: str = ""
    high: str = ""
    tolerance: str = ""
    near: str = ""
    load: str = ""
    margin: float = 1.0
    series: str = ""
    shelf: tuple[float, ...] = ()


@dataclass(frozen=True)
class DesignDemand:
    """What a design must meet: `words` that introduce it (prose), how its quantity is found at the corner where it is
    met worst, at least or at most (the ask's `relation`) the value of the key `limit`; `part` is whose it is."""

    words: str
    ask: AskRecipe
    limit: str
    part: str = ""


@dataclass(frozen=True)
class SheetSlip:
    """A named wrong route at a key: its id, the value it leads to (SI), and prose: its name, why, a hint."""

    id: str
    key: str
    value: float
    name: str
    why: str
    hint: str


@dataclass(frozen=True)
class Branch:
    """A state other than the problem's own, for hypotheses; `words` as the circuit says it, `region` its id.

    `sets` are values that hold there instead of the problem's: no load resistance with the output shorted.
    """

    region: str
    words: str
    recipe: Recipe
    sets: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Convention:
    """Another convention: an approximation with its limit (of `watches` against `against`), or just another habit."""

    id: str
    value: str
    title: str
    approximate: bool
    limit: float
    watches: str
    against: str
    recipe: Recipe


@dataclass(frozen=True)
class Sheet:
    """All that checking needs. `given` as the statement prints it; `symbols` of the circuit with their unit codes."""

    circuit: str
    problem: str
    symbols: Mapping[str, str]
    aliases: Mapping[str, str]
    given: Env
    env: Env
    recipe: Recipe
    worlds: tuple[Env, ...]
    generic: Recipe
    exact: Recipe | None
    generic_worlds: tuple[Env, ...]
    choices: tuple[SheetChoice, ...] = ()
    demands: tuple[DesignDemand, ...] = ()
    slips: tuple[SheetSlip, ...] = ()
    branches: tuple[Branch, ...] = ()
    conventions: tuple[Convention, ...] = ()
    region: str = ""
    region_words: str = ""
    ends: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    asked: tuple[str, ...] = ()
    decimal_comma: bool = False
