"""Any circuit on the bench: a steady one at its operating points, a raw or whole supply over one charging period.

Place in the data flow: what sweeps, tolerances and reports ask; it knows which of them a circuit is.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tutor.bench.curves import ROOM_CELSIUS, Array
from tutor.bench.points import BenchPoints, bench_points
from tutor.bench.raw_supply import KnownValues, RawWave, is_raw_supply, raw_supplies, raw_waves, raw_waves_of
from tutor.bench.whole_supply import is_whole_supply, whole_wave, whole_wave_of
from tutor.circuit.circuit import Circuit

AT_ONCE = 1000  # sets in time whose waves are held at once: some 100 MB


def on_the_bench(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> BenchPoints:
    """Every quantity of a circuit under its letter symbol; raises what `bench_points` and `raw_wave` raise.

    Of a raw supply and a whole one these are readings over a charging period: crest, trough, means.
    """
    if not is_raw_supply(circuit) and not is_whole_supply(circuit):
        return bench_points(circuit, values, temperature)
    known = KnownValues(circuit, values, temperature)
    pieces = [
        _in_time(circuit, known.piece(slice(start, start + AT_ONCE))) for start in range(0, known.count, AT_ONCE)
    ]
    names = dict.fromkeys(name for piece in pieces for name in piece.values)
    blanks = [np.full(piece.settled.shape, np.nan) for piece in pieces]
    found = {
        name: np.concatenate([piece.values.get(name, blank) for piece, blank in zip(pieces, blanks, strict=True)])
        for name in names
    }
    return BenchPoints(found, np.concatenate([piece.settled for piece in pieces]), pieces[0].assumed)


def waves_of(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS
) -> tuple[dict[str, RawWave], Array | None]:
    """The raw supplies of a circuit in time, by the letter of each one's mean voltage, and a whole supply's output.

    Raises what `raw_wave` and `whole_wave` raise.
    """
    if is_whole_supply(circuit):
        whole = whole_wave(circuit, values, temperature)
        return {"V_DC": whole.raw}, whole.output
    waves = raw_waves(circuit, values, temperature)
    letters = [f"V_DC{parts.index}" for parts in raw_supplies(circuit)]
    return dict(zip(letters, waves, strict=True)), None


def _in_time(circuit: Circuit, known: KnownValues) -> BenchPoints:
    if is_whole_supply(circuit):
        whole = whole_wave_of(circuit, known)
        return BenchPoints(whole.readings, whole.settled, whole.assumed)
    waves = raw_waves_of(circuit, known)
    readings = {name: value for wave in waves for name, value in wave.readings.items()}
    settled = np.logical_and.reduce([wave.settled for wave in waves])
    used = {name: value for wave in waves for name, value in wave.used.items()}
    return BenchPoints(readings, settled, {name: value for name, value in used.items() if name not in known.told})
