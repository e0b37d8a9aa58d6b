"""Sweeps: one value or the temperature moved over a range, everything else held; and slopes read off by small steps.

Place in the data flow: Circuit + values -> bench points along a line -> tables, sketches, files.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.bench.any_circuit import on_the_bench
from tutor.bench.curves import ROOM_CELSIUS, Array
from tutor.bench.points import BenchPoints
from tutor.circuit.circuit import Circuit
from tutor.errors import OutOfRange

TEMPERATURE = "T"  # what a sweep of the temperature of all parts is named by (°C)
MOST_POINTS = 10_001
_SMALL = 1e-4  # of a value: the step by which a slope is read off
_KELVIN = 0.5


@dataclass(frozen=True)
class Sweep:
    """`name` moved through `at` (SI; °C for a temperature); the points in the same order."""

    name: str
    at: Array
    points: BenchPoints


def sweep(
    circuit: Circuit,
    values: Mapping[str, float],
    name: str,
    low: float,
    high: float,
    count: int = 41,
    temperature: float = ROOM_CELSIUS,
) -> Sweep:
    """`count` operating points with `name` from `low` to `high`, evenly apart; raises OutOfRange for another count."""
    if not 2 <= count <= MOST_POINTS:
        raise OutOfRange(f"a sweep has 2 to {MOST_POINTS} points (got {count})")
    at = np.linspace(low, high, count)
    if name == TEMPERATURE:
        return Sweep(name, at, on_the_bench(circuit, values, at))
    return Sweep(name, at, on_the_bench(circuit, {**values, name: at}, temperature))


def read_off(
    circuit: Circuit, values: Mapping[str, float], of: str, by: str, temperature: float = ROOM_CELSIUS
) -> float:
    """d(of)/d(by) on the bench, from a step to either side (SI; per kelvin for a temperature); NaN where unsettled."""
    middle = temperature if by == TEMPERATURE else values[by]
    step = _KELVIN if by == TEMPERATURE else max(_SMALL * abs(middle), 1e-9)
    run = sweep(circuit, values, by, middle - step, middle + step, 3, temperature)
    ends = run.points.values[of]
    return float((ends[2] - ends[0]) / (run.at[2] - run.at[0]))
