"""Newton's method on every operating point at once, with easier circuits first where it does not settle.

Vocabulary: a *bench circuit* is devices between named nodes, some of which stand at given voltages. A point is
*settled* when no voltage moves any more, no device holds one back and the currents at every node add up.
Hard starts: first every leak is made large and taken back (gmin stepping), then the supplies are turned up from
nothing (source stepping). What does not settle even so is said, and its values are not numbers.
Place in the data flow: devices -> voltages -> `points.py`. Source: Vladimirescu, The SPICE Book, chapter 9.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tutor.bench.curves import Array, Places, Truth
from tutor.bench.devices import Device

ROUNDS = 120
STILL = 1e-10  # volts that a node may yet move
FARTHEST = 20.0  # volts that a node may move in one round
LEAKS = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10)
TURNED_UP = 20  # steps in which supplies are turned up
_REST = 1e-12  # siemens from every node to ground, so that one that hangs free stands somewhere


@dataclass(frozen=True)
class BenchCircuit:
    """How to make the devices for some of the points, what the fixed nodes stand at (one value a point), the others."""

    devices: Callable[[Places], Sequence[Device]]  # for an array of the numbers of points
    fixed: Mapping[str, Array]
    free: tuple[str, ...]
    count: int


@dataclass(frozen=True)
class Settled:
    """Node -> volts of every point (NaN where it has not settled), and which points settled."""

    volts: Mapping[str, Array]
    settled: Truth


def settle(circuit: BenchCircuit) -> Settled:
    """The operating point of every set of part values."""
    rows = len(circuit.free)
    found = np.full((rows, circuit.count), np.nan)
    done = np.full(circuit.count, rows == 0)  # where every node stands at a given voltage there is nothing to find
    for attempt in (_at_once, _by_leaks, _by_supplies, _gently, _patiently, _most_patiently):
        left = np.flatnonzero(~done)
        if left.size == 0:
            break
        volts, settled = attempt(circuit, left)
        found[:, left[settled]] = volts[:, settled]
        done[left[settled]] = True
    free = {name: np.where(done, found[row], np.nan) for row, name in enumerate(circuit.free)}
    return Settled({**circuit.fixed, **free}, done)


def _start(circuit: BenchCircuit, points: Places) -> Array:
    """Every free node half way up to the highest supply."""
    highest = np.max([np.abs(volts[points]) for volts in circuit.fixed.values()], axis=0)
    return np.tile(0.5 * highest, (len(circuit.free), 1))


def _at_once(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    return _newton(circuit, points, circuit.devices(points), _start(circuit, points), 1.0, _REST)


def _by_leaks(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    devices = circuit.devices(points)
    volts = _start(circuit, points)
    for leak in (*LEAKS, _REST):
        volts, settled = _newton(circuit, points, devices, volts, 1.0, leak)
    return volts, settled


def _by_supplies(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    return _turned_up(circuit, points, TURNED_UP, 1.0, ROUNDS)


def _turned_up(
    circuit: BenchCircuit, points: Places, steps: int, haste: float, rounds: int
) -> tuple[Array, Truth]:
    devices = circuit.devices(points)
    volts, settled = np.zeros((len(circuit.free), points.size)), np.zeros(points.size, dtype=bool)
    for step in range(1, steps + 1):
        volts, settled = _newton(circuit, points, devices, volts, step / steps, _REST, haste, rounds)
    return volts, settled


def _gently(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    """A third of every step: where a corner is stepped over to and fro."""
    volts = _start(circuit, points)
    return _newton(circuit, points, circuit.devices(points), volts, 1.0, _REST, haste=1 / 3, rounds=4 * ROUNDS)


def _patiently(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    """Supplies turned up in small steps, half of every step of a node: a limiter that takes over a loop wants it."""
    return _turned_up(circuit, points, 3 * TURNED_UP, 0.5, 3 * ROUNDS)


def _most_patiently(circuit: BenchCircuit, points: Places) -> tuple[Array, Truth]:
    """The same with a quarter of every step: for two in 10,000 of a whole regulator whose limiter works."""
    return _turned_up(circuit, points, 3 * TURNED_UP, 0.25, 8 * ROUNDS)


def _newton(
    circuit: BenchCircuit,
    points: Places,
    devices: Sequence[Device],
    volts: Array,
    share: float,
    leak: float,
    haste: float = 1.0,
    rounds: int = ROUNDS,
) -> tuple[Array, Truth]:
    """Newton from given voltages; supplies at a share of themselves, a leak at every node, a share of each step."""
    place = {name: row for row, name in enumerate(circuit.free)}
    held = {name: share * value[points] for name, value in circuit.fixed.items()}
    volts = volts.copy()
    settled = np.zeros(points.size, dtype=bool)
    for _ in range(rounds):
        leaving, slopes = leak * volts, np.zeros((points.size, len(place), len(place)))
        slopes[:, range(len(place)), range(len(place))] = leak
        calm = np.ones(points.size, dtype=bool)
        for device in devices:
            at = np.stack([volts[place[node]] if node in place else held[node] for node in device.nodes])
            seen = device.see(at)
            calm &= seen.calm
            for row, node in enumerate(device.nodes):
                if node not in place:
                    continue
                leaving[place[node]] += seen.currents[row]
                for column, other in enumerate(device.nodes):
                    if other in place:
                        slopes[:, place[node], place[other]] += seen.slopes[row, column]
        step = haste * _solved(slopes, -leaving)
        step = np.where(settled, 0.0, np.clip(np.nan_to_num(step), -FARTHEST, FARTHEST))
        volts = volts + step
        settled |= calm & (np.max(np.abs(step), axis=0) < STILL)
        if settled.all():
            break
    return volts, settled


def _solved(slopes: Array, right: Array) -> Array:
    """The steps (node, point) that the slopes ask for; where some ask for none in particular, the shortest."""
    columns = right.T[:, :, None]
    try:
        found = np.linalg.solve(slopes, columns)
    except np.linalg.LinAlgError:
        found = np.linalg.pinv(slopes) @ columns
    return found[:, :, 0].T.astype(np.float64)
