"""A rectifier on its reservoir in time: winding with its resistance, diodes as they are, whatever the load draws.

The rectifier charges one reservoir, so a single voltage says everything: C dv/dt = (what comes through the diodes) -
(what is drawn). It is followed over one charging period by Runge and Kutta's method, and begun where it ends (the
secant method), so that no start-up is waited for.
Place in the data flow: numbers of a rectifier and a draw -> waves over (step, set) -> `raw_supply.py`,
`whole_supply.py`.
Source of the diode and of what temperature does to it: Vladimirescu, The SPICE Book, appendix A.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tutor.bench.curves import BAND_GAP, ZERO_CELSIUS, Array, Truth, junction_with_resistance, thermal_voltage

# A silicon rectifier of 1 A: about 0.75 V at 0.1 A, 0.85 V at 1 A (from memory, as in data sheets of that kind), stated
# at the 27 °C of the SPICE programs.
SATURATION, EMISSION, DIODE_OHMS = 1e-8, 2.0, 0.04
STATED_CELSIUS = 27.0
SATURATION_POWER = 3.0  # of the temperature, in the saturation current
STEPS = 1200  # of a charging period
CONDUCTING = 0.01  # of the crest current: below it a diode is told to rest
_SHOTS = 14
_CLOSED = 1e-7  # volts between the end of a period and its beginning
_SLICES = 200  # of a discharge

Draw = Callable[[Array], Array]  # volts across the reservoir (set) -> amperes drawn from it


def diode_saturation(kelvins: Array) -> Array:
    """The saturation current of a rectifier diode (A): T^(3/N) e^(-E_G/(N kT/q)), as the SPICE programs have it."""
    ratio = kelvins / (ZERO_CELSIUS + STATED_CELSIUS)
    return SATURATION * ratio ** (SATURATION_POWER / EMISSION) * np.exp(
        BAND_GAP / (EMISSION * thermal_voltage(kelvins)) * (ratio - 1.0)
    )


@dataclass(frozen=True)
class Rectifier:
    """Crest of the winding (V), 2 pi f, its resistance, the diodes' temperature (K), the reservoir; an array a set.

    `diodes` are those in series on the charging way, `pulses` the charging crests of a cycle, `halves` those of the
    winding that take turns; a charging period is followed in so many `steps`.
    """

    crest: Array
    angular: Array
    winding: Array
    kelvins: Array
    farads: Array
    diodes: int
    pulses: int
    halves: int
    steps: int = STEPS

    @property
    def period(self) -> Array:
        """Seconds from one charging crest to the next."""
        return math.tau / self.pulses / self.angular

    def source(self) -> Array:
        """The voltage that drives the charging way, as a share of its crest, at each half step of a charging period."""
        wave = np.sin(np.linspace(0.0, math.tau / self.pulses, 2 * self.steps + 1))
        return np.abs(wave) if self.pulses == 2 else wave


@dataclass(frozen=True)
class Wave:
    """One charging period, from a crossing of zero on: volts across the reservoir and rectifier amperes (step, set)."""

    volts: Array
    amperes: Array
    settled: Truth

    @property
    def conducting(self) -> Truth:
        """When the diodes of the charging way conduct."""
        found: Truth = self.amperes > CONDUCTING * self.amperes.max(axis=0)
        return found


def steady_wave(rectifier: Rectifier, draw: Draw) -> Wave:
    """The charging period that ends where it began; a set that comes to none within a few tries is not settled."""
    start = 0.9 * rectifier.crest
    ahead = _period(rectifier, draw, start)[0][-1] - start
    other = start + ahead
    volts, amperes = _period(rectifier, draw, other)
    for _ in range(_SHOTS):
        gap = volts[-1] - other
        if np.all(np.abs(gap) < _CLOSED):
            break
        moved = np.where(other == start, 1.0, other - start)
        steep = np.where(np.abs(gap - ahead) > 1e-15, (gap - ahead) / moved, -1.0)
        start, ahead = other, gap
        other = np.clip(other - gap / np.where(np.abs(steep) < 1e-6, -1.0, steep), 0.0, 1.2 * rectifier.crest)
        volts, amperes = _period(rectifier, draw, other)
    return Wave(volts, amperes, np.abs(volts[-1] - volts[0]) < 1e-4)


def _period(rectifier: Rectifier, draw: Draw, start: Array) -> tuple[Array, Array]:
    """Volts and rectifier amperes over one charging period begun at `start`, at a crossing of zero (step, set)."""
    steps = rectifier.steps
    step = rectifier.period / steps
    shares, crest, farads = rectifier.source(), rectifier.crest, rectifier.farads
    unit = rectifier.diodes * EMISSION * thermal_voltage(rectifier.kelvins)
    ohms = rectifier.winding + rectifier.diodes * DIODE_OHMS
    saturation = diode_saturation(rectifier.kelvins)

    def charging(half: int, volts: Array) -> Array:
        return junction_with_resistance(shares[half] * crest - volts, unit, saturation, ohms)[0]

    def rise(half: int, volts: Array) -> Array:
        return (charging(half, volts) - draw(volts)) / farads

    volts = np.empty((steps + 1, *start.shape))
    amperes = np.empty_like(volts)
    now = start
    for place in range(steps):
        volts[place], amperes[place] = now, charging(2 * place, now)
        first = (amperes[place] - draw(now)) / farads
        second = rise(2 * place + 1, now + step / 2 * first)
        third = rise(2 * place + 1, now + step / 2 * second)
        fourth = rise(2 * place + 2, now + step * third)
        now = now + step / 6 * (first + 2 * second + 2 * third + fourth)
    volts[steps], amperes[steps] = now, charging(2 * steps, now)
    return volts, amperes


def reverse_volts(rectifier: Rectifier, wave: Wave) -> Array:
    """The greatest reverse voltage of a diode (V), set by set.

    With one diode on the way, the winding's other swing (of its other half, where it has two) stands on top of the
    reservoir; in a bridge the reservoir and the drop of a conducting neighbour do.
    """
    source = rectifier.source()[::2, None] * rectifier.crest
    if rectifier.diodes == 1:
        other = source if rectifier.halves == 2 else -source
        idle: Array = (wave.volts + other).max(axis=0)
        return idle
    drop = (source - rectifier.winding * wave.amperes - wave.volts) / rectifier.diodes
    found: Array = np.where(wave.conducting, wave.volts + drop, 0.0).max(axis=0)
    return found


def hold_up(supply_volts: Array, least: Array, farads: Array, draw: Draw) -> Array:
    """Seconds for which a reservoir at `supply_volts` feeds what is drawn until it is down to `least` (volts),
    the mains gone.

    C dv/I summed on the way down (Simpson's rule); NaN where nothing is drawn, so that it never gets there.
    """
    span = np.maximum(supply_volts - least, 0.0)
    total = np.zeros(np.broadcast_shapes(span.shape, farads.shape))
    for slice_ in range(_SLICES + 1):
        weight = 1.0 if slice_ in (0, _SLICES) else 4.0 if slice_ % 2 else 2.0
        amperes = draw(supply_volts - span * slice_ / _SLICES)
        total = total + weight / np.where(amperes > 0.0, amperes, np.nan)
    return total * span / (3.0 * _SLICES) * farads
