"""Draws by name: the same family, level, number, attempt and slot give the same pick anywhere.

The words are those of `generate/random_bits.py`; a slot is named, so that a new draw leaves the others as they were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import TypeVar

import numpy as np

from tutor.generate.random_bits import bits, key_of

Item = TypeVar("Item")


@dataclass(frozen=True)
class Stream:
    """The draws of one number of a level; `level` names the level and its edition."""

    level: str
    number: int
    attempt: int = 0

    def pick(self, slot: str, items: Sequence[Item]) -> Item:
        """One of the items."""
        return items[self._below(slot, len(items))]

    def order(self, slot: str, items: Sequence[Item]) -> tuple[Item, ...]:
        """All of the items in an order of their own."""
        left = list(items)
        found = []
        while left:
            found.append(left.pop(self._below(f"{slot}/{len(left)}", len(left))))
        return tuple(found)

    def some(self, slot: str, items: Sequence[Item], count: int) -> tuple[Item, ...]:
        """`count` of the items, or all where there are fewer, in the order in which they stand."""
        taken = self.order(slot, range(len(items)))[:count]
        return tuple(items[place] for place in sorted(taken))

    def again(self) -> Stream:
        """The draws of the next attempt."""
        return replace(self, attempt=self.attempt + 1)

    def _below(self, slot: str, count: int) -> int:
        one, tried = (np.array([value], dtype=np.uint64) for value in (self.number, self.attempt))
        word = int(bits(_key(f"{self.level}/{slot}"), one, tried, 0)[0])
        return ((word >> 32) * count) >> 32


@cache
def _key(name: str) -> int:
    return key_of(name)
