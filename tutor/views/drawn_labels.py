"""The labels of a drawing: where their lines stand, how they are written as SVG text, how much room they take.

Vocabulary: a *slot* is a place for one label; its *letters* are always there, a value may join them. A *line* is a row
of runs with its anchor. Lengths are CSS pixels; y runs down.
Place in the data flow: `schematic.py` makes slots; filled with values they become text here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from tutor.circuit.placement import Box, Point, Side
from tutor.views.lettering import Run

FONT = 16
SMALL = 12  # subscripts
DROP = 4  # how far a subscript sits below the line
LINE = 20  # from one line of a label to the next
CAP = 11  # height of a capital


@dataclass(frozen=True)
class Slot:
    """A label: its letters stand at `at`, on the side `side` of it (None: centred on it).

    A value goes on the same line when both fit into `room` pixels, else on the next.
    """

    key: str
    letters: tuple[Run, ...]
    at: Point
    side: Side | None
    room: float


@dataclass(frozen=True)
class LabelRow:
    """A row of runs, its SVG text-anchor (start, middle, end) and the point where its baseline is anchored."""

    runs: tuple[Run, ...]
    anchor: str
    at: Point


def lines_of(slot: Slot, value: str) -> list[LabelRow]:
    """The lines of a label, top to bottom, with its value when there is one."""
    texts = [slot.letters]
    if value:
        together = (*slot.letters, Run(f" = {value}"))
        texts = [together] if _width(together) <= slot.room else [slot.letters, *_broken(value)]
    x, y = slot.at
    height = CAP + LINE * (len(texts) - 1)
    top, anchor = y - height / 2, "middle"
    if slot.side is Side.ABOVE:
        top = y - height - (DROP if any(run.lowered for run in texts[-1]) else 0)
    elif slot.side is Side.BELOW:
        top = y
    elif slot.side is not None:
        anchor = "end" if slot.side is Side.LEFT else "start"
    return [LabelRow(runs, anchor, (x, top + CAP + LINE * number)) for number, runs in enumerate(texts)]


def _broken(value: str) -> list[tuple[Run, ...]]:
    """A value on one line, or a range on two so that it stays narrow: `12 V` above `to 18 V`."""
    low, to, high = value.partition(" to ")
    return [(Run(low),), (Run(f"to {high}"),)] if to else [(Run(value),)]


def text_of(line: LabelRow) -> str:
    """One line of text; a subscript is a smaller tspan moved down, and the next run moves back up."""
    spans, dropped = [], False
    for run in line.runs:
        attributes = ' font-style="italic"' if run.italic else ""
        if run.lowered:
            attributes += f' font-size="{SMALL}"'
        if run.lowered != dropped:
            attributes += f' dy="{DROP if run.lowered else -DROP}"'
        dropped = run.lowered
        spans.append(f"<tspan{attributes}>{escape(run.text)}</tspan>")
    at = f'x="{coordinate(line.at[0])}" y="{coordinate(line.at[1])}"'
    return f'<text {at} text-anchor="{line.anchor}">{"".join(spans)}</text>'


def _width(runs: Iterable[Run]) -> float:
    """About how wide a line of text is, on the generous side, since the page chooses the font."""
    return sum(sum(map(_advance, run.text)) * (SMALL if run.lowered else FONT) for run in runs)


def _advance(character: str) -> float:
    """The width of a character in its font size: common proportions of text faces."""
    if character in " .,()-|il":
        return 0.3
    if character.isupper() or character in "mw=−+×":
        return 0.72
    return 0.53


def box_of(line: LabelRow) -> Box:
    """The room of one line, y down: `bottom` is the upper edge."""
    width = _width(line.runs)
    left = line.at[0] - {"start": 0, "middle": width / 2, "end": width}[line.anchor]
    descent = DROP + 3 if any(run.lowered for run in line.runs) else 4
    return Box(left, line.at[1] - CAP - 1, left + width, line.at[1] + descent)


def room_of(slot: Slot, value: str) -> Box:
    """The room of a whole label, y down."""
    boxes = [box_of(line) for line in lines_of(slot, value)]
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


def coordinate(value: float) -> str:
    """A coordinate to a hundredth of a pixel, without a negative zero."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
