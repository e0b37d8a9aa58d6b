"""Any circuit on the bench: a steady one at its operating points, a raw or whole supply over one charging period.

Place in the data flow: what sweeps, tolerances and reports ask; it knows which of them a circuit is.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.points import ROOM_CELSIUS, BenchPoints, bench_points
from tutor.bench.raw_supply import is_raw_supply, raw_waves
from tutor.bench.whole_supply import is_whole_supply, whole_wave
from tutor.circuit.circuit import Circuit


def on_the_bench(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> BenchPoints:
    """Every quantity of a circuit under its letter symbol; raises what `bench_points` and `raw_wave` raise.

    Of a raw supply and a whole one these are readings over a charging period: crest, trough, means.
    """
    if is_raw_supply(circuit):
        return _side_by_side(circuit, values, temperature)
    if is_whole_supply(circuit):
        whole = whole_wave(circuit, values, temperature)
        return BenchPoints(whole.readings, whole.settled, whole.assumed)
    return bench_points(circuit, values, temperature)


def _side_by_side(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array
) -> BenchPoints:
    waves = raw_waves(circuit, values, temperature)
    readings = {name: value for wave in waves for name, value in wave.readings.items()}
    settled = np.logical_and.reduce([wave.settled for wave in waves])
    used = {name: value for wave in waves for name, value in wave.used.items()}
    return BenchPoints(readings, settled, {name: value for name, value in used.items() if name not in values})
