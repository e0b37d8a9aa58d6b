"""Any circuit on the bench: a steady one at its operating points, a raw supply over one charging period.

Place in the data flow: what sweeps, tolerances and reports ask; it knows which of the two a circuit is.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.bench.curves import Array
from tutor.bench.points import ROOM_CELSIUS, BenchPoints, bench_points
from tutor.bench.raw_supply import is_raw_supply, raw_wave
from tutor.circuit.circuit import Circuit


def on_the_bench(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> BenchPoints:
    """Every quantity of a circuit under its letter symbol; raises what `bench_points` and `raw_wave` raise."""
    if is_raw_supply(circuit):
        wave = raw_wave(circuit, values, temperature)
        assumed = {name: value for name, value in wave.used.items() if name not in values}
        return BenchPoints(wave.readings, wave.settled, assumed)
    return bench_points(circuit, values, temperature)
