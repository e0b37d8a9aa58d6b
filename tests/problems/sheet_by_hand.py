"""What a problem worked by hand consists of, for the tables of `test_by_hand.py`."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Sheet:
    """Data and results of one problem, in SI; `accepted` holds the whole set of right choices, `state` words."""

    given: dict[str, float]
    answers: dict[str, float]
    accepted: dict[str, tuple[float, ...]] = field(default_factory=dict)
    state: str = ""
