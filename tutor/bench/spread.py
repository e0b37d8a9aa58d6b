"""Tolerances: what parts within their bands make of a quantity, at the corners and drawn by chance.

Vocabulary: a *band* is a share of a value that a part may lie off it, either way. A *corner* has every part at one end
of its band; *by chance* each lies anywhere in it, alike (a maker's parts are seldom so far out; corners are what may
happen, chance is what will). Place in the data flow: Circuit + values + bands -> bench points -> ends, shares.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product

import numpy as np

from tutor.bench.any_circuit import on_the_bench
from tutor.bench.curves import ROOM_CELSIUS, Array
from tutor.bench.points import BenchPoints
from tutor.circuit.circuit import Circuit
from tutor.errors import OutOfRange, UnknownName, nearest

MOST_CORNERS = 10  # parts with a band: 1,024 corners
MOST_SETS = 100_000
SEED = 20011


@dataclass(frozen=True)
class Spread:
    """The bands, the points at all corners, and those drawn by chance."""

    bands: Mapping[str, float]
    corners: BenchPoints
    chance: BenchPoints

    def ends(self, symbol: str) -> tuple[float, float]:
        """The least and the greatest value of a quantity at the corners that settled (SI)."""
        found = self.corners.values[symbol][self.corners.settled]
        return float(found.min()), float(found.max())

    def share_within(self, symbol: str, low: float, high: float) -> float:
        """Which share of the sets drawn by chance has the quantity between two limits; one unsettled has not."""
        found = self.chance.values[symbol]
        return float(np.mean((found >= low) & (found <= high)))

    def histogram(self, symbol: str, bins: int = 12) -> tuple[Array, Array]:
        """How many sets fall into each of `bins` equal parts of the range, and the limits of these parts."""
        found = self.chance.values[symbol][self.chance.settled]
        counts, limits = np.histogram(found, bins)
        return counts.astype(np.float64), limits


def spread(
    circuit: Circuit,
    values: Mapping[str, float],
    bands: Mapping[str, float],
    sets: int = 2000,
    temperature: float = ROOM_CELSIUS,
) -> Spread:
    """The corners of the bands, and `sets` draws by chance (the same ones each time).

    Raises UnknownName for a band of what is no value of the circuit, OutOfRange for a band that is not between 0 and 1,
    too many of them, or too many sets.
    """
    for name, band in bands.items():
        if name not in values:
            close = nearest(name, values)
            raise UnknownName(
                f"{name} has a band but no value; give one" + (f", or did you mean '{close}'?" if close else "")
            )
        if not 0 < band < 1:
            raise OutOfRange(f"the band of {name} lies between 0 and 100 % (got {100 * band:g} %)")
    if not 0 < len(bands) <= MOST_CORNERS:
        raise OutOfRange(f"1 to {MOST_CORNERS} parts may have a band (got {len(bands)})")
    if not 1 <= sets <= MOST_SETS:
        raise OutOfRange(f"1 to {MOST_SETS} sets are drawn (got {sets})")
    signs = np.array(list(product((-1.0, 1.0), repeat=len(bands)))).T
    draws = np.random.default_rng(SEED).uniform(-1.0, 1.0, (len(bands), sets))
    at_corners, by_chance = (
        on_the_bench(circuit, {**values, **_moved(values, bands, places)}, temperature) for places in (signs, draws)
    )
    return Spread(dict(bands), at_corners, by_chance)


def _moved(values: Mapping[str, float], bands: Mapping[str, float], places: Array) -> dict[str, Array]:
    """Each banded value at a share of its band, either way."""
    return {name: values[name] * (1 + band * place) for (name, band), place in zip(bands.items(), places, strict=True)}
