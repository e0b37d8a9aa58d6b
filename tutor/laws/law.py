"""A law as data: both sides as a person writes them, when it holds, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from tutor.quantities.expression import Equation, symbols_of


@dataclass(frozen=True)
class Law:
    """One relation of a circuit. `cost` is how far it is from a person's first thought (1 = a step of its own).

    `why` is prose: the physical reason a solution gives when it takes this step.
    """

    id: str
    title: str
    equation: Equation
    holds: str
    source: str
    cost: float
    why: str = ""

    @cached_property
    def symbols(self) -> tuple[str, ...]:
        """Names of the symbols of both sides, each once."""
        return tuple(dict.fromkeys(symbols_of(self.equation.lhs) + symbols_of(self.equation.rhs)))


@dataclass(frozen=True)
class Bound:
    """An inequality that must hold for a region to be the right one; `part` is the part it belongs to."""

    part: str
    equation: Equation


@dataclass(frozen=True)
class LawSet:
    """The laws of one circuit in one region, and what must hold there."""

    laws: tuple[Law, ...]
    bounds: tuple[Bound, ...]

    def by_id(self, law_id: str) -> Law:
        """The law of that id; KeyError when there is none."""
        for law in self.laws:
            if law.id == law_id:
                return law
        raise KeyError(law_id)

    @cached_property
    def symbols(self) -> tuple[str, ...]:
        """Every symbol of the set, each once."""
        return tuple(dict.fromkeys(name for law in self.laws for name in law.symbols))
