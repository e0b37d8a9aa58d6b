"""What is said of a line: a code, why, the columns it is about, and the known slips it may be.

Vocabulary: the ten codes are the whole list. `fails`, `units` and `choice-bad` are counted wrong; `follows` is a value
that is not the true one but right given what stood before it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from tutor.working.tree import Columns


class Code(Enum):
    """How a line stands."""

    HOLDS = "holds"
    HOLDS_HERE = "holds-here"
    FOLLOWS = "follows"
    FAILS = "fails"
    UNITS = "units"
    UNREAD = "unread"
    DEFINES = "defines"
    CHOICE_OK = "choice-ok"
    CHOICE_BAD = "choice-bad"
    NOTE = "note"


WRONG = frozenset({Code.FAILS, Code.UNITS, Code.CHOICE_BAD})


@dataclass(frozen=True)
class Shown:
    """How a line is written, for marks: made by `shown.py`.

    `worked`: a relation stands in it, not a result alone; `operations` of its longest side; `names`: the symbols in it.
    `value` (SI) is what its head equals, None when it says no such number (5 mA ≤ I_Z ≤ 50 mA). `evaluated`: that is
    one number, `number` as typed without its prefix, in `figures` figures at `columns`; `unitless`: it lacks the unit
    that its quantity has.
    """

    worked: bool = True
    operations: int = 0
    names: tuple[str, ...] = ()
    value: float | None = None
    evaluated: bool = True
    number: float = 0.0
    figures: int = 0
    columns: Columns = (0, 0)
    unitless: bool = False


@dataclass(frozen=True)
class Finding:
    """The finding on one line. `number` counts from 1, blanks included; `slip` holds ids of slips, none when unknown.

    `key` is the quantity the line speaks of (for marks), `value` what it comes to in SI (None when it says none).
    For marks too, None where not worked out: `shown`, how it is written; `answers`, which of the quantities asked have
    that value beside the learner's choices. `chosen`: it chooses a part.
    """

    number: int
    text: str
    code: Code
    why: str
    columns: Columns | None = None
    slip: tuple[str, ...] = ()
    key: str = ""
    value: float | None = None
    shown: Shown | None = None
    answers: tuple[str, ...] | None = None
    chosen: bool = False
    assumed: bool = False

    @property
    def reached(self) -> float | None:
        """What the head of the line equals, SI; None when it says no such number."""
        return self.value if self.shown is None else self.shown.value


def first_wrong(findings: Iterable[Finding]) -> int | None:
    """The number of the first line counted wrong; None when none is."""
    return next((item.number for item in findings if item.code in WRONG), None)
