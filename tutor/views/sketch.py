"""A curve sketched in characters, for a terminal: two by four dots to a character.

Place in the data flow: numbers -> lines of text. The dots are those of Unicode's Braille patterns (U+2800 on).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

# Bit of each dot of a cell, by row and column (The Unicode Standard, chapter 21, Braille patterns).
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_EMPTY = 0x2800


def sketch(across: Sequence[float], up: Sequence[float], width: int = 56, height: int = 12) -> list[str]:
    """Lines of `height` characters that show `up` over `across`; values that are not numbers leave a gap.

    The frame is the range of the values; a curve that does not move lies in the middle.
    """
    pairs = [(x, y) for x, y in zip(across, up, strict=True) if math.isfinite(x) and math.isfinite(y)]
    cells = [[0] * width for _ in range(height)]
    if not pairs:
        return ["" for _ in cells]
    left, right = min(x for x, _ in pairs), max(x for x, _ in pairs)
    low, high = min(y for _, y in pairs), max(y for _, y in pairs)
    columns, rows = 2 * width - 1, 4 * height - 1

    def spot(x: float, y: float) -> tuple[int, int]:
        share_x = (x - left) / (right - left) if right > left else 0.5
        share_y = (y - low) / (high - low) if high > low else 0.5
        return round(share_x * columns), round((1 - share_y) * rows)

    spots = [spot(x, y) for x, y in pairs]
    for (x, y), (next_x, next_y) in zip(spots, [*spots[1:], spots[-1]], strict=True):
        steps = max(abs(next_x - x), abs(next_y - y), 1)
        for step in range(steps + 1):
            column, row = x + round((next_x - x) * step / steps), y + round((next_y - y) * step / steps)
            cells[row // 4][column // 2] |= _DOTS[row % 4][column % 2]
    return ["".join(chr(_EMPTY + cell) if cell else " " for cell in line).rstrip() for line in cells]
