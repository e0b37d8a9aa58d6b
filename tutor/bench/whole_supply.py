"""A whole supply on the bench, mains to rail: the raw supply in time with its regulator as the load it is.

The regulator follows its input at once (nothing in it stores charge), so what it draws and what it leaves is a matter
of the reservoir's voltage at that moment. That characteristic is solved first, point by point, then the reservoir is
followed with it. Quantities of the regulator are means over a charging period: what a meter for d.c. shows, and what
warms a part.
Place in the data flow: Circuit + values -> characteristic (`points.py`) and wave (`charging.py`) -> readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.bench.charging import Draw, Rectifier, hold_up, steady_wave
from tutor.bench.curves import ROOM_CELSIUS, Array, Truth
from tutor.bench.heat import heat_letters
from tutor.bench.points import BenchPoints, fed_points
from tutor.bench.raw_supply import BEFORE, KnownValues, RawWave, raw_supplies, raw_wave_of, wave_readings
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.errors import Unreachable

LEVELS = 96  # equal parts of the way from nothing to the winding's crest, in the regulator's characteristic
FINE = 32  # equal parts of the way from trough to crest, and of any one part looked at closely
LOST_SHARE = 0.02  # of the output: once it has sunk by more, the supply no longer serves (our own limit)
_STILL = 1e-8  # volts: an output that moves by less does not; it is the last figures of two points
_HIGHEST = 1.02  # of the winding's crest: no reservoir behind a rectifier comes that far


@dataclass(frozen=True)
class WholeWave:
    """One charging period of every set: the raw supply's wave, the output's volts (step, set), and readings.

    `readings` holds what `RawWave` does, where t_HOLD is from the trough until the output has sunk by 2 % of its mean;
    of everything behind the reservoir the mean; V_RIP_O, the output's ripple peak to peak; V_HEAD, from the trough to
    the mean output; temperatures along the path of heat. `drops_out`: whether the output sinks by more than 2 % of its
    mean in the trough of every period.
    """

    raw: RawWave
    output: Array
    readings: Mapping[str, Array]
    settled: Truth
    drops_out: Truth
    assumed: Mapping[str, float]


@dataclass(frozen=True)
class _Characteristic:
    """Quantities of the fed part (level, set) at equal steps of the reservoir's volts from `low` on, `step` apart."""

    low: Array
    step: Array
    points: Mapping[str, Array]
    settled: Truth
    assumed: Mapping[str, float]

    def place(self, volts: Array) -> tuple[Array, Array]:
        """The number of the level at or below some volts (…, set), and how far it is to the next, as a share."""
        last = self.settled.shape[0] - 1
        along = np.clip((volts - self.low) / self.step, 0.0, last)
        level = np.minimum(along.astype(np.intp), last - 1)
        return level, along - level

    def at(self, name: str, volts: Array) -> Array:
        """A quantity at some volts, on straight lines between the levels, which keep it monotonic where it is."""
        level, share = self.place(volts)
        table = self.points[name]
        sets = np.arange(table.shape[1])
        below: Array = table[level, sets]
        over: Array = table[level + 1, sets]
        return below + share * (over - below)


def is_whole_supply(circuit: Circuit) -> bool:
    """Whether it is one raw supply with something behind its reservoir that regulates."""
    kinds = [part.kind for part in circuit.parts]
    regulates = any(kind in kinds for kind in (PartKind.THREE_TERMINAL, PartKind.ZENER, PartKind.SHUNT_REFERENCE))
    return len(raw_supplies(circuit)) == 1 and PartKind.SOURCE not in kinds and regulates


def whole_wave(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> WholeWave:
    """One steady charging period of a whole supply; values (SI) are numbers or arrays of one length.

    What is not given stands at the circuit's typical value. Raises Unreachable for a circuit of another kind and
    OutOfRange for a temperature at which the curves do not hold.
    """
    if not is_whole_supply(circuit):
        raise Unreachable(f"'{circuit.id}' is no raw supply with a regulator behind its one reservoir")
    return whole_wave_of(circuit, KnownValues(circuit, values, temperature))


def whole_wave_of(circuit: Circuit, known: KnownValues) -> WholeWave:
    """The wave of a whole supply, its values read already."""
    parts = raw_supplies(circuit)[0]
    rectifier = known.rectifier(parts)
    bench = _Fed(circuit, known)
    drawn, out = parts.reservoir.symbols["draw"], circuit.nodes[parts.load.nodes[0]].symbol
    whole = bench.between(np.zeros(known.shape), _HIGHEST * rectifier.crest, LEVELS)

    def draw(volts: Array) -> Array:
        return whole.at(drawn, volts)

    wave = steady_wave(rectifier, draw)
    body = wave.volts[:-1]
    lowest, highest = body.min(axis=0), body.max(axis=0)
    near = bench.between(lowest, np.maximum(highest, lowest + 1e-6), FINE)
    settled = wave.settled & near.settled.all(axis=0) & ~np.isnan(wave.volts).any(axis=0)
    output = near.at(out, wave.volts)
    readings = _means(near, body)
    middle = readings[out]
    rail, level = near.points[out], circuit.nodes[parts.reservoir.nodes[0]].symbol
    raw = wave_readings(parts, rectifier, wave)
    readings |= {
        **raw,
        level: raw[parts.reservoir.symbols["mean"]],
        "V_RIP_O": np.where(np.ptp(rail, axis=0) > _STILL, np.ptp(rail, axis=0), 0.0),
        "V_HEAD": lowest - middle,
        "t_HOLD": _held(bench, whole, out, middle, lowest, rectifier, draw),
    }
    readings = {name: np.where(settled, value, np.nan) for name, value in readings.items()}
    used = {name: value for name, value in {**near.assumed, **known.used}.items() if name not in known.told}
    return WholeWave(
        raw_wave_of(rectifier, wave, raw, known.used), output, readings, settled,
        rail[0] < (1.0 - LOST_SHARE) * middle, used,
    )  # fmt: skip


class _Fed:
    """What the reservoir feeds, asked at many of its voltages in one go."""

    def __init__(self, circuit: Circuit, known: KnownValues) -> None:
        self.circuit, self.known = circuit, known

    def between(self, low: Array, high: Array, steps: int) -> _Characteristic:
        """Its characteristic from `low` to `high` (set), in so many equal steps."""
        step = (high - low) / steps
        volts = low + step * np.arange(steps + 1)[:, None]
        count = volts.shape[1]
        values = {name: np.tile(value, steps + 1) for name, value in self.known.all.items()}
        found = fed_points(self.circuit, volts.ravel(), values, np.tile(self.known.degrees, steps + 1))
        table = {name: _bridged(value.reshape(steps + 1, count)) for name, value in found.values.items()}
        return _Characteristic(low, step, table, found.settled.reshape(steps + 1, count), self._assumed(found))

    def _assumed(self, found: BenchPoints) -> dict[str, float]:
        """What stands for the parts behind the reservoir: what came before it is told by what was asked of it."""
        behind = [part for part in self.circuit.parts if part.kind not in BEFORE]
        letters = {letter for part in behind for letter in part.symbols.values()} | set(heat_letters(self.circuit))
        standing = {name: float(value.flat[0]) for name, value in self.known.all.items() if name in letters}
        return {**standing, **found.assumed}


def _bridged(table: Array) -> Array:
    """A level that has not settled stands between its neighbours, so that a wave may pass it."""
    if not np.isnan(table).any():
        return table
    table = table.copy()
    for column in range(table.shape[1]):
        missing = np.isnan(table[:, column])
        if missing.any() and not missing.all():
            rows = np.arange(table.shape[0])
            table[missing, column] = np.interp(rows[missing], rows[~missing], table[~missing, column])
    return table


def _means(near: _Characteristic, volts: Array) -> dict[str, Array]:
    """The mean over time of every quantity: each level counts by the time that the wave spends about it."""
    level, share = near.place(volts)
    levels, sets = near.settled.shape
    flat = level * sets + np.arange(sets)
    weight = np.bincount(flat.ravel(), (1.0 - share).ravel(), levels * sets)
    weight = weight + np.bincount((flat + sets).ravel(), share.ravel(), levels * sets)
    weight = weight.reshape(levels, sets) / volts.shape[0]
    return {name: (weight * table).sum(axis=0) for name, table in near.points.items()}


def _held(
    bench: _Fed, whole: _Characteristic, out: str, middle: Array, lowest: Array, rectifier: Rectifier, draw: Draw
) -> Array:
    """Hold-up time: first the step of the characteristic in which the output is lost, then that step looked at closely.
    """
    lost = (1.0 - LOST_SHARE) * middle
    about = _reached(whole, out, lost)
    closely = bench.between(np.maximum(about - whole.step, 0.0), about + whole.step, FINE)
    end = _reached(closely, out, lost)
    return hold_up(lowest, np.minimum(end, lowest), rectifier.farads, draw)


def _reached(found: _Characteristic, out: str, lost: Array) -> Array:
    """The volts of the reservoir at which the output has sunk to `lost`, coming from above."""
    table = found.points[out]
    above = table >= lost
    # The highest level that no longer serves, and the one over it.
    level = np.where(above.all(axis=0), 0, table.shape[0] - 1 - np.argmax(~above[::-1], axis=0))
    level = np.minimum(level, table.shape[0] - 2)
    sets = np.arange(table.shape[1])
    below, over = table[level, sets], table[level + 1, sets]
    share = np.clip((lost - below) / np.where(over > below, over - below, np.inf), 0.0, 1.0)
    return np.where(above.all(axis=0), found.low, found.low + (level + share) * found.step)
