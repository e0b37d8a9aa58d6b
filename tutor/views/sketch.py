"""A curve sketched in characters, for a terminal: two by four dots to a character.

Place in the data flow: numbers -> lines of text. The dots are those of Unicode's Braille patterns (U+2800 on).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

# Bit of each dot of a cell, by row and column (The Unicode Standard, chapter 21, Braille patterns).
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_EMPTY = 0x2800


def sketch(across: Sequence[float], *curves: Sequence[float], width: int = 56, height: int = 12) -> list[str]:
    """Lines of `height` characters that show curves over `across`; values that are not numbers leave a gap.

    The frame is the range of all values; a curve that does not move lies in the middle of it. Several curves have a
    letter each, a for the first, at their right ends.
    """
    told = [
        [(x, y) for x, y in zip(across, up, strict=True) if math.isfinite(x) and math.isfinite(y)] for up in curves
    ]
    every = [pair for pairs in told for pair in pairs]
    cells = [[0] * width for _ in range(height)]
    if not every:
        return ["" for _ in cells]
    left, right = min(x for x, _ in every), max(x for x, _ in every)
    low, high = min(y for _, y in every), max(y for _, y in every)
    columns, rows = 2 * width - 1, 4 * height - 1

    def spot(x: float, y: float) -> tuple[int, int]:
        share_x = (x - left) / (right - left) if right > left else 0.5
        share_y = (y - low) / (high - low) if high > low else 0.5
        return round(share_x * columns), round((1 - share_y) * rows)

    letters = [""] * height
    for pairs, letter in zip(told, "abcdefghijklmnopqrstuvwxyz", strict=False):
        spots = [spot(x, y) for x, y in pairs]
        _join(spots, cells)
        if len(curves) > 1 and spots:
            letters[spots[-1][1] // 4] += f" {letter}"
    drawn = ["".join(chr(_EMPTY + cell) if cell else " " for cell in line) for line in cells]
    return [f"{line}{letter}".rstrip() for line, letter in zip(drawn, letters, strict=True)]


def _join(spots: Sequence[tuple[int, int]], cells: list[list[int]]) -> None:
    """Mark the dots of a line through some spots."""
    for (x, y), (next_x, next_y) in zip(spots, [*spots[1:], *spots[-1:]], strict=True):
        steps = max(abs(next_x - x), abs(next_y - y), 1)
        for step in range(steps + 1):
            column, row = x + round((next_x - x) * step / steps), y + round((next_y - y) * step / steps)
            cells[row // 4][column // 2] |= _DOTS[row % 4][column % 2]
