"""Rows of figures, and the one table that shows them, with how they were measured below it."""

from __future__ import annotations

import os
import platform
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.metadata import version

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text
from timing import Timing

PIPED_WIDTH = 144  # columns where there is no terminal to ask
CAPTION = (
    "Each cell: the median over the rounds and, below it, least..most. Ratio = theirs ÷ ours, both as times for the "
    "same work (of memory: the most taken): above 1 ours takes less, below 1 more. What is compared was run in turn, "
    "in one run."
)

_PREFIXES = ((1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"))


@dataclass(frozen=True)
class Row:
    """One comparison: what is done, our timing, what it is held against with its timing, and a few words on it.

    With a `count`, cells show how many a second where one call deals with that many; the ratio is of times always. With
    a `unit`, figures are no times but as many of that.
    """

    what: str
    ours: Timing
    against: str
    theirs: Timing
    note: str
    count: int = 0
    unit: str = ""

    @property
    def ratio(self) -> float:
        """How many times as long the other takes."""
        return self.theirs.median / self.ours.median

    @property
    def ratios(self) -> tuple[float, ...]:
        """The same within each round."""
        return tuple(theirs / ours for ours, theirs in zip(self.ours.seconds, self.theirs.seconds, strict=True))


@dataclass(frozen=True)
class Section:
    """The rows of one benchmark, and how they were measured: said once, below the table."""

    rows: tuple[Row, ...]
    how: str


def figures(value: float) -> str:
    """A positive number with 3 significant figures, thousands grouped: '0.0000956', '12.1', '5 670'."""
    if value >= 999.5:
        digits = len(str(round(value)))
        return f"{round(value, 3 - digits):,.0f}".replace(",", " ")
    places = 2 - int(f"{value:.2e}".partition("e")[2])  # of the number once rounded: 9.996 becomes 10.0
    return f"{value:.{max(0, places)}f}"


def duration(seconds: float) -> str:
    """Seconds with an SI prefix: '5.41 µs'."""
    scale, prefix = next((item for item in _PREFIXES if seconds >= 0.9995 * item[0]), _PREFIXES[-1])
    return f"{figures(seconds / scale)} {prefix}s"


def rate(count: int, seconds: float) -> str:
    """How many a second, `count` of them having taken `seconds`."""
    return f"{figures(count / seconds)} /s"


def table_of(sections: Sequence[Section]) -> Table:
    """Every row in one table, a gap between the sections."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("What")
    table.add_column("Ours", no_wrap=True, justify="right")
    table.add_column("Against")
    table.add_column("Theirs", no_wrap=True, justify="right")
    table.add_column("Ratio", no_wrap=True, justify="right")
    table.add_column("Note")
    for section in sections:
        for row in section.rows:
            table.add_row(*(Text(cell) for cell in _cells(row)))
        table.add_section()
    return table


def report(console: Console, sections: Mapping[str, Section]) -> None:
    """Print the table, how to read it, how each section was measured, and with what."""
    console.print(table_of(tuple(sections.values())))
    console.print(Text(CAPTION))
    for name, section in sections.items():
        console.print(Text(f"\n{name}: {section.how}"))
    console.print()
    versions = ", ".join(f"{name} {version(name)}" for name in ("numpy", "sympy"))
    machine = f"{platform.machine()}, {os.cpu_count()} processors"
    console.print(Text(f"Python {platform.python_version()}, {versions}; {platform.system()} on {machine}."))


def _cells(row: Row) -> tuple[str, ...]:
    ratios = f"{figures(row.ratio)}\n{figures(min(row.ratios))}..{figures(max(row.ratios))}"
    return row.what, _cell(row, row.ours), row.against, _cell(row, row.theirs), ratios, row.note


def _cell(row: Row, timing: Timing) -> str:
    """The median, and below it the least and the most, a unit they share said once."""
    if row.unit:
        middle, low, high = (f"{figures(item)} {row.unit}" for item in (timing.median, timing.least, timing.most))
    elif row.count:
        middle, low, high = (rate(row.count, item) for item in (timing.median, timing.most, timing.least))
    else:
        middle, low, high = (duration(item) for item in (timing.median, timing.least, timing.most))
    number, unit = low.rsplit(" ", 1)
    return f"{middle}\n{number if high.endswith(f' {unit}') else low}..{high}"
