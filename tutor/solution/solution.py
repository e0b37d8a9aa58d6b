"""The frozen values a worked solution consists of; one of them feeds every view.

Vocabulary: a *chain* is one line as a person writes it, `R_MAX = (V_I_MIN − V_Z)/(I_L_MAX + I_ZK) = 140 Ω`; a *step* is
the reason, the relation by name, and its chains; a *check* closes the solution. Prose is plain text with `$...$`
formulas (grammar of `quantities/formula.py`).
"""

from __future__ import annotations

from dataclasses import dataclass, field

from tutor.quantities.expression import Expr
from tutor.quantities.quantity import Quantity


@dataclass(frozen=True)
class Chain:
    """`first`, then (relation, expression) pairs; relations are =, ≈, <=, >=, < or >."""

    first: Expr
    rest: tuple[tuple[str, Expr], ...]


@dataclass(frozen=True)
class WorkedStep:
    """One step of a worked solution or, without numbers, of a derivation."""

    title: str  # prose: the law by name
    why: str  # prose: the reason, '' when the title says it
    chains: tuple[Chain, ...]
    text: str  # prose after the lines: the verdict, the choice and why up or down; '' when none
    law: str  # law id, '' for a choice
    waypoint: str  # key of the waypoint this step reaches, '' when it is on the way
    result: Quantity | None
    band: str  # prose: what a bench would show beside this result, '' when nothing is known
    band_by: str = ""  # what the band comes from: "bench", or "relation" where the part spreads alone make it

    @property
    def band_lead(self) -> str:
        """What stands before the band."""
        return "on a bench" if self.band_by == "bench" else "with part spreads"


@dataclass(frozen=True)
class Check:
    """One closing check: what was asked of the result, whether it holds, and by how much."""

    text: str  # prose: "Starving corner with 136.5 Ω: $I_Z$ = 5.9 mA, at least 5 mA"
    holds: bool
    margin: str  # "0.9 mA to spare", '' when there is no number
    part: str = ""  # whose requirement it is, where parts are told apart
    share: float = field(default=0.0, compare=False)  # to spare, of the limit; below zero where it is missed


@dataclass(frozen=True)
class Solution:
    """A problem or a set of anybody's own numbers, worked as on paper."""

    name: str
    steps: tuple[WorkedStep, ...]
    checks: tuple[Check, ...]
    bench: str  # prose: what to expect on a bench
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
