"""Which steps of a worked solution are left out first, so that a learner fills in the one that carries the idea.

People learn most about the step that is left out, wherever it stands (Renkl, Atkinson, Grosse 2004, Instr. Sci. 32:59),
and in circuit analysis leaving out forward from the start serves better than from the end (Moreno, Reisslein, Ozogul
2009, J. Eng. Educ. 98:83). So the telling step goes first, and the others follow in reading order.

Which step tells is not declared. It is the one at which most of what usually goes wrong goes wrong: the slips that a
family names are about its idea. Where slips do not decide, a bound that a requirement sets over every corner tells more
than the extreme at one corner, and that more than a value as it stands.
Place in the data flow: what is asked of a problem -> the order in which its waypoints are left out -> views.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from tutor.generate.draws import Drawn
from tutor.generate.family import (
    Ask,
    Choose,
    ChooseRating,
    Find,
    FindBound,
    FindExtreme,
    TellState,
    TellVerdict,
    applies_in,
)
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Waypoint

_TELLS: Mapping[type, int] = {
    FindBound: 4, TellState: 3, FindExtreme: 2, TellVerdict: 1, Find: 1, Choose: 0, ChooseRating: 0,
}  # fmt: skip


def fading_order(ready: ReadyLevel, drawn: Drawn) -> tuple[str, ...]:
    """The keys of what is asked as their steps are left out: the telling one first, then the others as they stand."""
    keys = drawn.region.plan.keys
    region = drawn.run.region
    shown = [(keys[index], ready.level.asks[index]) for index in ready.level.asked_in(region)]
    slips = Counter(slip.at for slip in ready.level.slips if applies_in(slip, region))
    return telling_first([key for key, _ in shown], [(slips[key], _rank(ask)) for key, ask in shown])


def fading_order_of(points: Sequence[Waypoint]) -> tuple[str, ...]:
    """The same for a problem across circuits: there what goes wrong is what is said of wrong options and values."""
    weights = [(len(point.slips) + sum(bool(item.name) for item in point.remarks), 0) for point in points]
    return telling_first([point.key for point in points], weights)


def telling_first(keys: Sequence[str], weights: Sequence[tuple[int, int]]) -> tuple[str, ...]:
    """The key of most weight, the first of several, and then the others in their order."""
    if not keys:
        return ()
    best = max(range(len(keys)), key=lambda place: (weights[place], -place))
    return (keys[best], *(key for place, key in enumerate(keys) if place != best))


def _rank(ask: Ask) -> int:
    return _TELLS[type(ask)]
