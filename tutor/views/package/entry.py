"""How a number is typed into a box: in which unit, and from where to where it counts as right or as a named slip.

A float can carry neither `4k7` nor `12 mA`, so the unit stands behind the box with the prefix that the answer is
written in, and everything is compared in that unit.
Place in the data flow: Waypoint + Rules -> Entry -> response processing, tables of answers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tutor.generate.problem import SlipValue, Waypoint, WaypointKind
from tutor.quantities.quantity import Quantity
from tutor.quantities.units import prefixes, unit_for
from tutor.sets.paper import Rules

STANDARD = 0.01  # the share within which an answer is right unless its family says more
CHOSEN = 0.005  # a chosen value is one of a row: neighbours of E96 lie two per cent apart
_FIGURES = 12


@dataclass(frozen=True)
class EntryBand:
    """From where to where a typed number lies, ends included."""

    low: float
    high: float

    def holds(self, typed: float) -> bool:
        """Whether a typed number lies in it."""
        return self.low <= typed <= self.high


@dataclass(frozen=True)
class SlipBand:
    """Where the value of a slip is recognised; several slips that lead to the same value share one band."""

    band: EntryBand
    slips: tuple[SlipValue, ...]


@dataclass(frozen=True)
class Entry:
    """A number to be typed: the unit behind its box, the right one as it is typed, what counts as right, and slips."""

    unit: str
    typed: float
    right: tuple[EntryBand, ...]
    slips: tuple[SlipBand, ...]

    def shifted(self) -> tuple[EntryBand, ...]:
        """Where the figures are right and the prefix of the unit is not; none where there is no unit to mistake."""
        if not self.unit or not self.typed:
            return ()
        return tuple(
            EntryBand(*(float(f"{end * shift:.{_FIGURES}g}") for end in (band.low, band.high)))
            for band in self.right
            for shift in (1e-6, 1e-3, 1e3, 1e6)
        )


def entry_unit(answer: Quantity) -> tuple[str, int]:
    """The unit behind the box, and the power of ten from what is typed in it to the stored value.

    >>> entry_unit(Quantity(0.0059, "A")), entry_unit(Quantity(0.051, "%"))
    (('mA', -3), ('%', -2))
    """
    row = unit_for(answer.unit)
    number, _, last = answer.text.rpartition(" ")
    unit = last if number and row.printed and last.endswith(row.printed) else ""
    if not unit:
        return "", 0
    return unit, prefixes()[unit.removesuffix(row.printed)].power - row.shown_power


def entry_of(point: Waypoint, rules: Rules) -> Entry:
    """The entry of a value or a choice; ValueError for a waypoint that is answered in words."""
    if point.answer is None:
        raise ValueError(f"{point.key} is answered in words")
    unit, power = entry_unit(point.answer)
    if point.kind is WaypointKind.CHOICE:
        right = tuple(_about(value, CHOSEN, power) for value in sorted(point.accepted))
    else:
        right = (_right(point, point.answer.value, rules.tolerance, power),)
    share = CHOSEN if point.kind is WaypointKind.CHOICE else min(rules.tolerance, STANDARD)
    return Entry(unit, _scaled(point.answer.value, power), right, _slip_bands(point.slips, share, power))


def _scaled(value: float, power: int) -> float:
    """A stored value as it is typed, rounded to what twelve figures say."""
    scaled = value * 10.0**-power if power < 0 else value / 10.0**power
    return float(f"{scaled:.{_FIGURES}g}")


def _about(value: float, share: float, power: int) -> EntryBand:
    return EntryBand(_scaled(value - share * abs(value), power), _scaled(value + share * abs(value), power))


def _right(point: Waypoint, answer: float, tolerance: float, power: int) -> EntryBand:
    """The family's own band where it is wider than the standard, else the set's tolerance.

    A tolerance that a lecturer widens stops at a third of the way to the nearest slip: a slip is never right.
    """
    nearest = min((abs(slip.value - answer) for slip in point.slips), default=float("inf"))

    def reach(own: float) -> float:
        declared = own if own > 1.01 * STANDARD * abs(answer) else 0.0
        wanted = max(tolerance * abs(answer), declared)
        return min(wanted, max(nearest / 3, own)) if answer else own

    low, high = answer - reach(answer - point.low), answer + reach(point.high - answer)
    return EntryBand(_scaled(low, power), _scaled(high, power))


def _slip_bands(slips: Sequence[SlipValue], share: float, power: int) -> tuple[SlipBand, ...]:
    """A band for each slip, those nearer than a band to one another together, in the order of their values."""
    groups: list[list[SlipValue]] = []
    for slip in sorted(slips, key=lambda item: (item.value, item.id)):
        if groups and abs(slip.value - groups[-1][0].value) <= share * abs(slip.value):
            groups[-1].append(slip)
        else:
            groups.append([slip])
    return tuple(SlipBand(_over(group, share, power), tuple(group)) for group in groups)


def _over(group: Sequence[SlipValue], share: float, power: int) -> EntryBand:
    """The band about slips in the order of their values."""
    return EntryBand(_about(group[0].value, share, power).low, _about(group[-1].value, share, power).high)
