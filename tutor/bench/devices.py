"""Parts as they are: the currents at the terminals of each kind for the voltages there, with all slopes.

Vocabulary: a current counts where it *enters* the device. The *slopes* are what a Newton step needs. A device may hold
back a voltage that has leapt too far (an exponential must be walked up to); then it is linear about the voltage it
stopped at, and says that it is not yet *calm*.
Place in the data flow: fitted parameters (`fitting.py`) -> devices -> `newton.py`. Every parameter is an array over
the operating points.
Sources: the transistor is that of Gummel and Poon in its static form (Early effect forward, no high-level injection)
with the temperature laws of the SPICE programs (Vladimirescu, The SPICE Book, appendix A); amplifiers and regulators
are straight lines between limits with rounded corners (our own).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Protocol

import numpy as np

from tutor.bench.curves import (
    Array,
    Truth,
    between,
    exponential,
    junction_with_resistance,
    lesser,
    softened_step,
)

LEAK = 1e-9  # siemens beside every junction, so that a node between two that rest stands somewhere
_STRIDE = 0.3
_CALM = 1e-9  # volts held back that no longer count


@dataclass(frozen=True)
class Seen:
    """What a device says of some voltages: currents in A (terminal, point), slopes in S (terminal, terminal, point),
    calm."""

    currents: Array
    slopes: Array
    calm: Truth


class Device(Protocol):
    """A part between nodes."""

    nodes: tuple[str, ...]

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V; terminal, point) of its terminals."""


def _two_pole(current: Array, slope: Array) -> Seen:
    """A part of two terminals that passes a current from the first to the second."""
    currents = np.stack([current, -current])
    slopes = np.stack([np.stack([slope, -slope]), np.stack([-slope, slope])])
    return Seen(currents, slopes, np.ones(current.shape, dtype=bool))


@dataclass
class Resistor:
    """Ohm's law."""

    nodes: tuple[str, ...]
    ohms: Array

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        return _two_pole((volts[0] - volts[1]) / self.ohms, np.broadcast_to(1.0 / self.ohms, volts[0].shape))


@dataclass
class Sink:
    """A load that draws one current, down to a few tenths of a volt, where it lets go."""

    nodes: tuple[str, ...]
    amperes: Array
    least: float = 0.3  # volts at which it has let go by half

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        share, slope, _ = between(
            (volts[0] - volts[1]) / (2.0 * self.least), np.zeros(1), np.ones(1), np.full(1, 0.05)
        )
        return _two_pole(self.amperes * share, self.amperes * slope / (2.0 * self.least))


@dataclass
class Junction:
    """A diode with its own resistance, anode first: nothing but an exponential and a resistor, solved in one."""

    nodes: tuple[str, ...]
    unit: Array
    saturation: Array
    ohms: Array

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        across = volts[0] - volts[1]
        current, slope = junction_with_resistance(across, self.unit, self.saturation, self.ohms)
        return _two_pole(current - self.saturation + LEAK * across, slope + LEAK)


@dataclass
class Zener:
    """Breakdown with its knee and its slope, cathode first; the other way round an ordinary junction.

    `knee` is the voltage of the knee (V), `unit` what a tenfold of the current costs there over ln 10, `saturation` the
    current at the knee, `ohms` the straight part of the slope; `forward` the junction of the other direction.
    """

    nodes: tuple[str, ...]
    knee: Array
    unit: Array
    saturation: Array
    ohms: Array
    forward: Junction

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        across = volts[0] - volts[1]
        current, slope = junction_with_resistance(across - self.knee, self.unit, self.saturation, self.ohms)
        back = self.forward.see(volts[::-1])
        return _two_pole(current - self.saturation - back.currents[0], slope + back.slopes[0, 0])


@dataclass
class Transistor:
    """Collector, base, emitter; `sign` is 1 for npn and -1 for pnp. It remembers where its junctions stood."""

    nodes: tuple[str, ...]
    sign: int
    unit: Array
    saturation: Array
    forward_gain: Array
    reverse_gain: Array
    early: Array
    _stood: list[Array] = field(default_factory=list)

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        base_emitter, base_collector = self.sign * (volts[1] - volts[2]), self.sign * (volts[1] - volts[0])
        wanted = [base_emitter, base_collector]
        if not self._stood:
            self._stood = [np.full(volts[0].shape, 0.6), np.full(volts[0].shape, -1.0)]
        critical = self.unit * np.log(self.unit / (np.sqrt(2.0) * self.saturation))
        held = [_walked(new, old, self.unit, critical) for new, old in zip(wanted, self._stood, strict=True)]
        self._stood = held
        off = [new - stood for new, stood in zip(wanted, held, strict=True)]
        collector, base, slopes = self._currents(*held)
        collector = collector + slopes[0][0] * off[0] + slopes[0][1] * off[1]
        base = base + slopes[1][0] * off[0] + slopes[1][1] * off[1]
        calm = (np.abs(off[0]) < _CALM) & (np.abs(off[1]) < _CALM)
        currents = self.sign * np.stack([collector, base, -(collector + base)])
        rows = []
        for by_emitter, by_collector in (*slopes, tuple(-(slopes[0][k] + slopes[1][k]) for k in (0, 1))):
            rows.append(np.stack([-by_collector, by_emitter + by_collector, -by_emitter]))
        return Seen(currents, np.stack(rows), calm)

    def _currents(
        self, base_emitter: Array, base_collector: Array
    ) -> tuple[Array, Array, tuple[tuple[Array, Array], tuple[Array, Array]]]:
        """Collector and base current, and the slopes of each by the two junction voltages."""
        grown, steep = exponential(base_emitter / self.unit)
        forward, forward_slope = self.saturation * (grown - 1.0), self.saturation * steep / self.unit
        grown, steep = exponential(base_collector / self.unit)
        backward, backward_slope = self.saturation * (grown - 1.0), self.saturation * steep / self.unit
        widened = 1.0 - base_collector / self.early
        collector = (forward - backward) * widened - backward / self.reverse_gain
        base = forward / self.forward_gain + backward / self.reverse_gain
        by_collector = -backward_slope * (widened + 1.0 / self.reverse_gain) - (forward - backward) / self.early
        return collector - LEAK * base_collector, base + LEAK * (base_emitter + base_collector), (
            (forward_slope * widened, by_collector - LEAK),
            (forward_slope / self.forward_gain + LEAK, backward_slope / self.reverse_gain + LEAK),
        )


def _walked(new: Array, old: Array, unit: Array, critical: Array) -> Array:
    """A junction voltage on its way from `old` to `new`: up an exponential in steps of its logarithm.

    Source: the limiting of junction voltages in Nagel, SPICE2, 1975.
    """
    rise = np.maximum(1.0 + (new - old) / unit, 1e-300)
    from_conduction = np.where(rise > 1e-300, old + unit * np.log(rise), critical)
    from_rest = unit * np.log(np.maximum(new / unit, 1.0))
    walked = np.where(old > 0, from_conduction, from_rest)
    return np.where((new > critical) & (np.abs(new - old) > 2.0 * unit), walked, new)


@dataclass
class Walk:
    """What a steep part is asked for, on its way between its limits: in steps, each turn back halving the next one;
    beyond the limits it goes at once."""

    at: Array | None = None
    stride: Array | None = None  # as a share of the span between the limits
    way: Array | None = None

    def to(self, asked: Array, low: Array, high: Array) -> Array:
        """Where it stops on the way to what is asked."""
        span = high - low
        if self.at is None or self.stride is None or self.way is None:
            self.at, self.way = 0.5 * (low + high) + np.zeros(asked.shape), np.zeros(asked.shape)
            self.stride = np.full(asked.shape, _STRIDE)
        old, near = np.clip(self.at, low - span, high + span), np.clip(asked, low - span, high + span)
        way = np.sign(near - old)
        turned = way * self.way < 0
        self.stride = np.where(turned, 0.5 * self.stride, np.minimum(1.1 * self.stride, _STRIDE))
        self.way = np.where(way == 0, self.way, way)
        held = old + np.clip(near - old, -self.stride * span, self.stride * span)
        beyond = (np.abs(held - near) < 1e-12 * (1.0 + np.abs(near))) & (near != asked)
        self.at = np.where(beyond, asked, held)
        return self.at


@dataclass
class Amplifier:
    """Two inputs that draw nothing, an output behind a resistance, and the supply lead that its output current enters
    by: gain times the difference, held between `low` and what the supply leaves (`drop` below it), up to `most`."""

    nodes: tuple[str, ...]  # non-inverting input, inverting input, output, supply lead
    gain: Array
    low: Array
    drop: Array
    ohms: Array
    most: Array
    is_fed: bool = True
    corner: float = 0.02
    _driven: Walk = field(default_factory=Walk)
    _given: Walk = field(default_factory=Walk)

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        plus, minus, out, supply = volts
        high = np.maximum(supply - self.drop, self.low + 0.1)
        by_supply = (supply - self.drop > self.low + 0.1).astype(float)
        asked = self.gain * (plus - minus)
        held = self._driven.to(asked, self.low, high)
        level, slope, by_high = between(held, self.low, high, np.full(1, self.corner))
        wish = (level + slope * (asked - held) - out) / self.ohms
        wished = self._given.to(wish, -self.most, self.most)
        current, steep, _ = between(wished, -self.most, self.most, 0.02 * self.most)
        current = current + steep * (wish - wished)
        by_input = steep * slope * self.gain / self.ohms
        row = np.stack([by_input, -by_input, -steep / self.ohms, steep * by_high * by_supply / self.ohms])
        none, zero = np.zeros_like(row), np.zeros(current.shape)
        drawn = (current, row) if self.is_fed else (zero, none)
        calm = _is_held(asked, held) & _is_held(wish, wished)
        return Seen(np.stack([zero, zero, -current, drawn[0]]), np.stack([none, none, -row, drawn[1]]), calm)


def _is_held(asked: Array, held: Array) -> Truth:
    return np.abs(asked - held) < _CALM * np.maximum(1.0, np.abs(asked))


@dataclass
class Regulator:
    """A three-terminal regulator: input, ground or adjust pin, output. It holds its output above its pin, as far as
    the input allows (`drop` below it) and up to the current `most`; `pin` leaves by the third terminal."""

    nodes: tuple[str, ...]
    volts_held: Array
    drop: Array
    ohms: Array
    most: Array
    pin: Array
    corner: float = 0.02
    _given: Walk = field(default_factory=Walk)

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        into, pin, out = volts
        level, by_pin = lesser(pin + self.volts_held, into - self.drop, np.full(1, self.corner))
        asked = (level - out) / self.ohms
        none = np.zeros(1)
        held = self._given.to(asked, none, self.most)
        current, slope, _ = between(held, none, self.most, 0.005 * self.most)
        current = current + slope * (asked - held)
        share, by_share, _ = between((into - pin) / 2.0, none, np.ones(1), np.full(1, 0.05))
        leak, by_leak = self.pin * share, self.pin * by_share / 2.0
        steep = slope / self.ohms
        main = np.stack([steep * (1.0 - by_pin), steep * by_pin, -steep])
        side = np.stack([by_leak, -by_leak, np.zeros(current.shape)])
        calm = _is_held(asked, held)
        return Seen(np.stack([current + leak, -leak, -current]), np.stack([main + side, -side, -main]), calm)


@dataclass
class Reference:
    """A shunt reference: cathode, reference pin, anode. Its cathode current grows by `steepness` (S) for each volt that
    its pin stands above the reference voltage; the pin draws `pin`."""

    nodes: tuple[str, ...]
    volts_held: Array
    steepness: Array
    pin: Array
    corner: float = 2e-5  # amperes over which it wakes

    def see(self, volts: Array) -> Seen:
        """Currents (A) and slopes (S) at the voltages (V) of its terminals."""
        _, pin, anode = volts
        step, slope = softened_step(self.steepness * (pin - anode - self.volts_held) / self.corner)
        current, by_pin = self.corner * step, self.steepness * slope
        share, by_share, _ = between((pin - anode), np.zeros(1), np.ones(1), np.full(1, 0.05))
        drawn, by_drawn = self.pin * share, self.pin * by_share
        zero = np.zeros(current.shape)
        top = np.stack([zero, by_pin, -by_pin])
        middle = np.stack([zero, by_drawn, -by_drawn])
        calm = np.ones(current.shape, dtype=bool)
        return Seen(np.stack([current, drawn, -(current + drawn)]), np.stack([top, middle, -(top + middle)]), calm)
