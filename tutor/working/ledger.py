"""What marks are: a ledger of every mark of a scheme, won or not, and the rules a lecturer may set.

Place in the data flow: Checked + Scheme + MarkRules -> `marks.py` -> Marks -> terminal, pages, class tables.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.solution.scheme import MarkKind


@dataclass(frozen=True)
class MarkRules:
    """What a lecturer may set. `figures` adds one mark for 2 to 4 significant figures in every answer.

    `working_asked`: the task says "show", so that a right value alone implies no method.
    """

    follow_through: bool = True
    unit_once: bool = True
    figures: bool = False
    working_asked: bool = False


@dataclass(frozen=True)
class LedgerEntry:
    """One mark: won (1) or not (0), the line that decided it (None when no line speaks of it), and why."""

    waypoint: str
    kind: MarkKind
    got: int
    line: int | None
    why: str


@dataclass(frozen=True)
class Marks:
    """The marks of one working, with the ledger that they are the sum of."""

    ledger: tuple[LedgerEntry, ...]

    @property
    def got(self) -> int:
        """Marks won."""
        return sum(entry.got for entry in self.ledger)

    @property
    def of(self) -> int:
        """Marks there are."""
        return len(self.ledger)


@dataclass(frozen=True)
class Won:
    """What became of one mark, before it is entered under its waypoint."""

    got: int
    line: int | None
    why: str
