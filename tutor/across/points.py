"""The forms in which questions ask: a word to choose, an arrangement, a reading to foretell; and steps told in words.

Place in the data flow: options and what is said of them -> Waypoint; a title and a text -> WorkedStep -> Posed.
"""

from __future__ import annotations

from collections.abc import Sequence

from tutor.generate.problem import Remark, Waypoint, WaypointKind
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Chain, WorkedStep


def state_point(
    key: str, prompt: str, options: Sequence[str], right: str, remarks: Sequence[Remark] = ()
) -> Waypoint:  # fmt: skip
    """One of some options in words."""
    return Waypoint(
        key, WaypointKind.STATE, prompt, None, 0.0, 0.0, (), tuple(options), right, (), tuple(remarks)
    )  # fmt: skip


def arrangement_point(
    key: str, prompt: str, options: Sequence[str], places: Sequence[str], right: Sequence[str],
    remarks: Sequence[Remark] = (),
) -> Waypoint:  # fmt: skip
    """One of some options for each of the places; `right` are all right arrangements, that of the solution first."""
    return Waypoint(
        key, WaypointKind.ARRANGEMENT, prompt, None, 0.0, 0.0, (), tuple(options), right[0], (), tuple(remarks),
        tuple(places), tuple(right),
    )  # fmt: skip


def reading_point(key: str, prompt: str, answer: Quantity, share: float) -> Waypoint:
    """A reading of a meter of either sign, right within a share of it."""
    low, high = sorted((answer.value * (1 - share), answer.value * (1 + share)))
    return Waypoint(key, WaypointKind.VALUE, prompt, answer, low, high, (), (), "", ())


def worded_step(
    title: str, why: str, text: str, waypoint: str = "", *, chains: tuple[Chain, ...] = (),
    result: Quantity | None = None,
) -> WorkedStep:  # fmt: skip
    """A step that no law leads to: what follows is told in words."""
    return WorkedStep(title, why, chains, text, "", waypoint, result, "")
