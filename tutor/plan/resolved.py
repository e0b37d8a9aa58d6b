"""A circuit resolved: the region that holds, the plan, every value, and what else was tried or fits.

Place in the data flow: `one_region.py` makes one for a region assumed, `regions.py` chooses among them.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import LoadModel, Region
from tutor.laws.law import LawSet
from tutor.plan.plan import Plan


@dataclass(frozen=True)
class Tried:
    """A region assumed and found not to hold, and the sentence that says why."""

    region: Region
    why: str


@dataclass(frozen=True)
class RootChoice:
    """Which root of which quantity was taken, and why."""

    target: str
    which: int
    why: str


@dataclass(frozen=True)
class OtherState:
    """A further state that fits the givens as well: its region and every value found there."""

    region: Region
    values: Mapping[str, float]


@dataclass(frozen=True)
class Resolved:
    """A circuit resolved: `values` holds givens, defaults used, wanted and everything else that follows (SI).

    `others` are the states that keep every law and inequality too and differ in some value.
    """

    region: Region
    laws: LawSet
    load: LoadModel
    plan: Plan
    values: Mapping[str, float]
    defaults: Mapping[str, float]
    roots: tuple[RootChoice, ...]
    tried: tuple[Tried, ...]
    others: tuple[OtherState, ...] = ()

    @property
    def root_signs(self) -> tuple[int, ...]:
        """The root taken in each step that has several."""
        return tuple(choice.which for choice in self.roots)
