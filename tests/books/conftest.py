"""Published examples: what a book gives, what it prints, and the comparison of a figure with its print.

`book("B-MAL-5_1")` hands out one row of `examples.json`. Every figure the row prints must be checked or left with a
reason before the test ends, so that no example counts as worked by half.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

ROWS: dict[str, dict[str, Any]] = {
    row["id"]: row for row in json.loads((Path(__file__).parent / "examples.json").read_text(encoding="utf-8"))
}

# One printed unit in SI. "%/mA" is per ampere.
SI = {
    "V": 1.0, "mV": 1e-3, "A": 1.0, "mA": 1e-3, "uA": 1e-6, "ohm": 1.0, "kohm": 1e3, "W": 1.0, "mW": 1e-3, "1": 1.0,
    "uF": 1e-6, "Hz": 1.0, "ms": 1e-3, "%": 1e-2, "%/V": 1e-2, "%/mA": 10.0, "C": 1.0, "%/C": 1e-2, "mV/C": 1e-3,
    "V/C": 1.0, "C/W": 1.0, "W/C": 1.0, "mW/C": 1e-3, "C/mW": 1e3, "ppm/C": 1e-6, "%/A": 1e-2, "dB": 1.0, "mV/V": 1e-3,
}  # fmt: skip


def agrees(value: float, printed: str, units: float = 0.5) -> bool:
    """Whether a value, in the printed unit, is within so many units of the last printed figure of what is printed."""
    figures, _, power = printed.partition("e")
    places = len(figures.partition(".")[2]) - int(power or 0)
    return abs(value - float(printed)) <= units * 10.0**-places + 1e-9 * abs(value)


class Row:
    """One example. `settled` collects the figures that were checked or left."""

    def __init__(self, row: dict[str, Any]) -> None:
        self.row = row
        self.settled: set[str] = set()

    def __call__(self, name: str) -> float:
        """A given in SI."""
        value, unit = self.row["givens"][name]
        return float(value) * SI[unit]

    def prints(self, name: str, value: float) -> None:
        """Hold a value (SI) against the print and, closer, against the figure worked again from the book's givens."""
        exact, unit = self.row["recomputed"][name]
        shown, printed = value / SI[unit], self.row["published_text"][name]
        told = f"{self.row['id']} {name}: {shown!r} {unit}, printed {printed}, worked again {exact!r}"
        if self.row["agrees"][name]:
            # Some prints are cut off or rest on rounded values; the row says so, and the exact figure must say so too.
            loose = self.row["reason"][name].startswith("within one unit of the last published digit")
            assert agrees(shown, printed, 1.0 if loose else 0.5), told
            assert not loose or not agrees(exact, printed), f"{told}: the print needs no allowance"
        else:
            assert not agrees(exact, printed), f"{told}: the print is marked as off and is not"
        assert shown == pytest.approx(exact, rel=1e-6), told
        self.settled.add(name)

    def leave(self, name: str, why: str) -> None:
        """A figure that these circuits do not speak of."""
        assert why and name in self.row["published_text"] and name not in self.settled
        self.settled.add(name)


@pytest.fixture
def book() -> Iterator[Callable[[str], Row]]:
    """One example by its id; afterwards all its figures must be settled."""
    taken: list[Row] = []

    def take(example: str) -> Row:
        taken.append(Row(ROWS[example]))
        return taken[-1]

    yield take
    for row in taken:
        assert row.settled == set(row.row["published_text"]), f"{row.row['id']}: figures neither checked nor left"


@pytest.fixture(name="agrees")
def agrees_fixture() -> Callable[[float, str], bool]:
    """The comparison itself."""
    return agrees


@pytest.fixture
def rows() -> dict[str, dict[str, Any]]:
    """Every example by id."""
    return ROWS
