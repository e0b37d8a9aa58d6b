"""The curves that real parts follow, over whole arrays at once, each with its slope.

Voltages in volts, currents in amperes, temperatures in kelvins. Every function takes and returns numpy arrays that
broadcast; none overflows, whatever it is handed. Where no source is named the curve is ours, its formula its docstring.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Truth = NDArray[np.bool_]
Places = NDArray[np.intp]  # numbers of points

# Boltzmann's constant over the elementary charge, both exact in the SI of 2019 (BIPM, The International System of
# Units, 9th edition): 1.380649e-23 J/K and 1.602176634e-19 C.
VOLTS_PER_KELVIN = 1.380649e-23 / 1.602176634e-19
ZERO_CELSIUS = 273.15
ROOM_CELSIUS = 25.0  # where data sheets state their values
ROOM = ZERO_CELSIUS + ROOM_CELSIUS
BAND_GAP = 1.11  # electron volts, of silicon: the value of every textbook of device physics
_STEEPEST = 80.0  # an exponent beyond this goes on along its tangent
_ROUNDS = 5  # of Newton's method, which then stands still in the last figures


def thermal_voltage(kelvins: Array) -> Array:
    """kT/q: 25.7 mV at 25 °C."""
    return VOLTS_PER_KELVIN * kelvins


def exponential(x: Array) -> tuple[Array, Array]:
    """e^x and its slope; far out it goes on along its tangent, so that a first guess may be wild."""
    within = np.exp(np.minimum(x, _STEEPEST))
    beyond = np.maximum(x - _STEEPEST, 0.0)
    return within * (1.0 + beyond), within


def softened_step(x: Array) -> tuple[Array, Array]:
    """ln(1 + e^x), which is 0 far below and x far above, and its slope."""
    small = np.exp(-np.abs(x))
    return np.maximum(x, 0.0) + np.log1p(small), np.where(x >= 0, 1.0, small) / (1.0 + small)


def between(x: Array, low: Array, high: Array, corner: Array) -> tuple[Array, Array, Array]:
    """x held between two limits, its corners rounded over about `corner`; its slope by x and that by `high`."""
    above, slope_above = softened_step((x - low) / corner)
    over, slope_over = softened_step((x - high) / corner)
    return low + corner * (above - over), slope_above - slope_over, slope_over


def lesser(x: Array, y: Array, corner: Array) -> tuple[Array, Array]:
    """The lesser of two, the corner rounded over about `corner`; and its slope by x (that by y is the rest of 1)."""
    step, slope = softened_step((x - y) / corner)
    return x - corner * step, 1.0 - slope


def junction_with_resistance(volts: Array, unit: Array, saturation: Array, ohms: Array) -> tuple[Array, Array]:
    """The current of I = I_S e^((v - r I)/u) and its slope: a junction with its own resistance in series, in one step.

    `unit` is the emission coefficient times kT/q. The equation is solved for I by w = r I/u, for which w + ln w =
    v/u + ln(r I_S/u). (Wright's omega function: Corless and Jeffrey, The Wright omega function, 2002.) Nothing is taken
    off for what a junction passes at 0 V.
    """
    z = volts / unit + np.log(ohms * saturation / unit)
    w = np.where(z > 1.0, z - np.log(np.maximum(z, 1.0)), np.exp(np.minimum(z, 1.0)))
    for _ in range(_ROUNDS):  # Newton on w + ln w - z = 0, in a form that keeps w above zero
        w = np.maximum(w, 1e-300)
        w = w * (1.0 + z - np.log(w)) / (1.0 + w)
    w = np.where(z < -700.0, 0.0, w)
    return w * unit / ohms, w / (1.0 + w) / ohms
