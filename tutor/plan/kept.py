"""What was planned for names, kept for the next numbers: a plan rests on names, numbers are put through it afterwards.

Only a ring too long for letters has numbers put into it (`coupled.py`); what was planned with them is not kept.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

from tutor.errors import Unreachable
from tutor.laws.law import LawSet

Planned = TypeVar("Planned")


class KeptPlans(Generic[Planned]):
    """Plans, and refusals to plan, by the laws they were made from and by names.

    Laws are told apart as objects: `derive` hands out the same ones for the same circuit, and changed laws are others.
    """

    def __init__(self, most: int = 1024) -> None:
        self._most = most  # the oldest is given up for the next
        self._found: dict[Hashable, tuple[LawSet, Planned | Unreachable]] = {}

    def planned(
        self, laws: LawSet, names: Hashable, make: Callable[[], tuple[Planned | Unreachable, bool]]
    ) -> Planned:
        """What was kept, or what `make` makes anew; that says beside it whether names alone went into it.

        Unreachable, as often as it is asked for, where nothing could be planned.
        """
        key = (id(laws), names)
        if key in self._found:
            found = self._found[key][1]
        else:
            found, lasting = make()
            if lasting:
                while len(self._found) >= self._most:
                    del self._found[next(iter(self._found))]
                self._found[key] = (laws, found)  # the laws are held too, so that no others are taken for them
        if isinstance(found, Unreachable):
            raise found.with_traceback(None)
        return found
