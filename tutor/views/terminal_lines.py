"""What everything set on a terminal is made of: headings, paragraphs, tables.

80 columns, bold and dim alone, plain when piped.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from textwrap import wrap

from rich.console import Console
from rich.text import Text

from tutor.quantities.prose import prose_text

WIDTH = 80
_GAP = 2  # columns between the columns of a table
_LEAST_WIDTH = 16  # prose is not set narrower than this, however narrow the window
_SHORT_VALUE = 24  # a value up to this long stands in a column of its own


def terminal() -> Console:
    """A console 80 columns wide at most, without colours of its own: they must suit dark and light alike."""
    console = Console(highlight=False, soft_wrap=False, file=sys.stdout)
    return Console(highlight=False, soft_wrap=False, file=sys.stdout, width=min(WIDTH, console.width))


def heading(console: Console, text: str, aside: str = "") -> None:
    """A title in bold, an aside dim at its right."""
    line = Text(text, style="bold")
    if aside:
        line.append(f"   {aside}", style="dim")
    console.print(line)


def paragraph(console: Console, text: str, indent: int = 0, style: str = "") -> None:
    """Prose, wrapped at ordinary spaces alone: a no-break space holds a symbol, its value and its unit together."""
    if text:
        for line in wrapped(prose_text(text), console.width - indent):
            told = Text(" " * indent + line.replace("\u00a0", " "), style=style)
            console.print(told, no_wrap=True, overflow="ignore")


def rows(console: Console, entries: Sequence[tuple[str, ...]], indent: int = 2) -> None:
    """A table without rules: symbol, words and, where there is one, a value; a long value stands under its words."""
    symbols = max((len(entry[0]) + _GAP for entry in entries if entry[0]), default=0)
    short = [entry[2] for entry in entries if len(entry) > 2 and len(entry[2]) <= _SHORT_VALUE]
    values = max(map(len, short), default=0)
    room = console.width - indent - symbols
    words = min(max((len(entry[1]) for entry in entries), default=0), room - (values + _GAP if values else 0))
    for symbol, told, *rest in entries:
        value = rest[0] if rest else ""
        beside = len(value) <= _SHORT_VALUE
        head = f"{' ' * indent}{symbol:<{symbols}}"
        for place, line in enumerate(wrapped(told, words if beside else room) or [""]):
            start = " " * len(head) if place else head
            end = f"{line:<{words}}{' ' * _GAP}{value}" if beside and not place else line
            plain_line(console, f"{start}{end}")
        for line in [] if beside else wrapped(value, room - _GAP):
            plain_line(console, f"{' ' * (len(head) + _GAP)}{line}")


def columns(console: Console, lines: Sequence[Sequence[str]], indent: int = 2) -> None:
    """A table without rules of any number of columns, each as wide as its longest entry."""
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    for line in lines:
        cells = (f"{cell:<{width}}" for cell, width in zip(line, widths, strict=True))
        plain_line(console, (" " * indent + (" " * _GAP).join(cells)).rstrip())


def wrapped(text: str, width: int) -> list[str]:
    """Text in lines of that many characters, however few there are; a word is never broken."""
    return wrap(text, max(width, _LEAST_WIDTH), break_long_words=False, break_on_hyphens=False)


def plain_line(console: Console, line: str) -> None:
    """One line as it stands, cut off by nothing."""
    console.print(Text(line.replace("\u00a0", " ").rstrip()), no_wrap=True, overflow="ignore", crop=False)
