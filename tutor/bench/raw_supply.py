"""The raw supply in time: winding with its resistance, rectifier diodes as they are, reservoir, load.

The rectifier charges one reservoir, so a single voltage says everything: C dv/dt = (what comes through the diodes) -
(what the load takes). It is followed over one charging period by Runge and Kutta's method, and begun where it ends (the
secant method), so that no start-up is waited for.
Place in the data flow: Circuit of form reservoir + values -> waves and what is read off them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.bench.curves import Array, Truth, junction_with_resistance, thermal_voltage
from tutor.bench.fitting import celsius
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.errors import Unreachable

# A silicon rectifier of 1 A: about 0.75 V at 0.1 A, 0.85 V at 1 A (from memory, as in data sheets of that kind).
SATURATION, EMISSION, DIODE_OHMS = 1e-8, 2.0, 0.04
_KINDS = (PartKind.WINDING, PartKind.TAPPED_WINDING, PartKind.DIODE, PartKind.RESERVOIR, PartKind.LOAD)
STEPS = 1200  # of a charging period
_SHOTS = 12
_CLOSED = 1e-7  # volts between the end of a period and its beginning
_CONDUCTING = 0.01  # of the crest current: below it a diode is told to rest


@dataclass(frozen=True)
class RawWave:
    """One charging period of every set: seconds, output volts and rectifier amperes by (step, set), and readings.

    `readings` holds, by letter symbol: V_PK, V_TROUGH, V_RIP, V_DC (V), I_SEC (A, r.m.s. of a winding or half of one),
    I_FM (A, crest through a diode), phi (rad, half the angle over which a diode conducts), PIV (V).
    """

    seconds: Array
    volts: Array
    amperes: Array
    readings: Mapping[str, Array]
    settled: Truth
    used: Mapping[str, float]  # the values that went in, at the first set


@dataclass(frozen=True)
class _Supply:
    crest: Array
    angular: Array
    ohms: Array
    unit: Array
    diodes: int
    pulses: int
    farads: Array
    load: Mapping[str, Array]

    def charging(self, phase: Array, volts: Array) -> Array:
        """The current through the rectifier (A) at a phase of the mains (rad)."""
        wave = np.sin(phase)
        source = self.crest * (np.abs(wave) if self.pulses == 2 else wave)
        current, _ = junction_with_resistance(source - volts, self.unit, np.full(1, SATURATION), self.ohms)
        return current

    def drawn(self, volts: Array) -> Array:
        """What the load takes (A)."""
        if "R_L" in self.load:
            return volts / self.load["R_L"]
        return self.load["I_L"] * np.clip(volts / 0.3, 0.0, 1.0)

    def fall(self, phase: Array, volts: Array) -> Array:
        """dv/dt (V/s)."""
        return (self.charging(phase, volts) - self.drawn(volts)) / self.farads


def raw_wave(circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = 25.0) -> RawWave:
    """One steady charging period of a rectifier with reservoir; values (SI) are numbers or arrays of one length.

    What is not given stands at the circuit's typical value. Raises Unreachable for a circuit of another kind.
    """
    supply, shape = _supply(circuit, values, temperature)
    period = math.tau / supply.pulses / supply.angular
    start = 0.9 * supply.crest
    ahead = _period(supply, start, period)[0][-1] - start
    other = start + ahead
    for _ in range(_SHOTS):
        gap = _period(supply, other, period)[0][-1] - other
        if np.all(np.abs(gap) < _CLOSED):
            break
        moved = np.where(other == start, 1.0, other - start)
        steep = np.where(np.abs(gap - ahead) > 1e-15, (gap - ahead) / moved, -1.0)
        start, ahead = other, gap
        other = other - gap / np.where(np.abs(steep) < 1e-6, -1.0, steep)
    volts, amperes = _period(supply, other, period)
    settled = np.abs(volts[-1] - volts[0]) < 1e-4
    seconds = np.linspace(0.0, 1.0, STEPS + 1)[:, None] * np.broadcast_to(period, shape)
    used = {"V_SEC": supply.crest / math.sqrt(2.0), "f": supply.angular / math.tau, "C": supply.farads, **supply.load}
    used["R_W"] = supply.ohms - supply.diodes * DIODE_OHMS
    return RawWave(
        seconds, volts, amperes, _readings(supply, volts, amperes, settled), settled,
        {name: float(np.ravel(value)[0]) for name, value in used.items()},
    )  # fmt: skip


def is_raw_supply(circuit: Circuit) -> bool:
    """Whether it is a rectifier with one reservoir and nothing that regulates."""
    kinds = [part.kind for part in circuit.parts]
    return kinds.count(PartKind.RESERVOIR) == 1 and all(kind in _KINDS for kind in kinds)


def _supply(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array
) -> tuple[_Supply, tuple[int, ...]]:
    kinds = [part.kind for part in circuit.parts]
    if not is_raw_supply(circuit):
        raise Unreachable(f"'{circuit.id}' is no rectifier with one reservoir")
    shape = np.broadcast_shapes(*(np.shape(value) for value in values.values()), np.shape(temperature), (1,))
    load = {"I_L", "R_L"} & set(values)
    typical = {name: value for name, value in circuit.typical.items() if not (load and name in ("I_L", "R_L"))}
    known = {name: np.broadcast_to(np.asarray(value, float), shape) for name, value in {**typical, **values}.items()}
    diodes = 2 if kinds.count(PartKind.DIODE) == 4 else 1
    pulses = 1 if kinds.count(PartKind.DIODE) == 1 else 2
    winding = next(part for part in circuit.parts if part.kind in (PartKind.WINDING, PartKind.TAPPED_WINDING))
    loads = [name for name in ("R_L", "I_L") if name in known and (not load or name in load)]
    drawn: dict[str, Array] = {name: known[name] for name in loads}
    if "R_L" in drawn and "I_L" in drawn:
        del drawn["I_L"]
    kelvins = celsius(np.broadcast_to(np.asarray(temperature, float), shape))
    return _Supply(
        math.sqrt(2.0) * known[winding.symbols["voltage"]],
        math.tau * known["f"],
        known.get("R_W", np.zeros(shape)) + diodes * DIODE_OHMS,
        diodes * EMISSION * thermal_voltage(kelvins),
        diodes,
        pulses,
        known["C"],
        drawn,
    ), shape


def _period(supply: _Supply, start: Array, period: Array) -> tuple[Array, Array]:
    """Volts and rectifier amperes over one charging period begun at `start`, at a crossing of zero (step, set)."""
    step = period / STEPS
    turn = supply.angular * step
    volts = np.empty((STEPS + 1, *start.shape))
    amperes = np.empty_like(volts)
    now = start
    for place in range(STEPS):
        phase = place * turn
        volts[place], amperes[place] = now, supply.charging(phase, now)
        first = (amperes[place] - supply.drawn(now)) / supply.farads
        second = supply.fall(phase + turn / 2, now + step / 2 * first)
        third = supply.fall(phase + turn / 2, now + step / 2 * second)
        fourth = supply.fall(phase + turn, now + step * third)
        now = now + step / 6 * (first + 2 * second + 2 * third + fourth)
    volts[STEPS], amperes[STEPS] = now, supply.charging(STEPS * turn, now)
    return volts, amperes


def _readings(supply: _Supply, volts: Array, amperes: Array, settled: Truth) -> dict[str, Array]:
    body, current = volts[:-1], amperes[:-1]
    greatest = current.max(axis=0)
    angle = np.count_nonzero(current > _CONDUCTING * greatest, axis=0) / STEPS * math.pi / supply.pulses
    share = 2.0 if supply.pulses == 2 and supply.diodes == 1 else 1.0  # each half of a tapped winding works in turn
    lowest = body.min(axis=0)
    # The diode that rests has the winding's other crest and the reservoir across it; in a bridge two share them.
    reverse = supply.crest + body.max(axis=0) if supply.diodes == 1 else supply.crest
    found = {
        "V_PK": body.max(axis=0), "V_TROUGH": lowest, "V_RIP": body.max(axis=0) - lowest, "V_DC": body.mean(axis=0),
        "I_SEC": np.sqrt((current**2).mean(axis=0) / share), "I_FM": greatest, "phi": angle, "PIV": reverse,
    }  # fmt: skip
    return {name: np.where(settled, value, np.nan) for name, value in found.items()}


def hold_up(supply_volts: Array, least: Array, farads: Array, amperes: Array) -> Array:
    """Seconds for which a reservoir at `supply_volts` feeds `amperes` until it is down to `least`, the mains gone."""
    return np.maximum(supply_volts - least, 0.0) * farads / amperes
