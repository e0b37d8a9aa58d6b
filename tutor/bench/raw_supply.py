"""Raw supplies on the bench: rectifiers with their reservoirs from the netlist, and what is read off their waves.

Vocabulary: a *raw supply* is a winding, its diodes, a reservoir and what it feeds; several may stand side by side, each
with letters of its own.
Place in the data flow: Circuit + values -> rectifiers (`charging.py`) -> waves and readings by letter symbol.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, replace

import numpy as np

from tutor.bench.charging import (
    CONDUCTING,
    STEPS,
    Draw,
    Rectifier,
    Wave,
    hold_up,
    reverse_volts,
    steady_wave,
)
from tutor.bench.curves import ROOM_CELSIUS, Array, Truth
from tutor.bench.fitting import celsius, require_temperature
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import WINDINGS, PartKind
from tutor.circuit.netlist import Part
from tutor.errors import Unreachable
from tutor.laws.rectifier import charging, supplies
from tutor.plan.everything import everything
from tutor.plan.rule import apply_rules

BEFORE = (*WINDINGS, PartKind.DIODE, PartKind.RESERVOIR)  # the kinds of part up to the reservoir
_RAW_KINDS = (*BEFORE, PartKind.LOAD)
# Of the trough: what a reservoir may fall to while it holds up a load of its own. Mains 10 % low, which a regulator is
# designed for, leave as much (common practice, no source).
LEAST_SHARE = 0.9
LETTING_GO = 0.3  # volts below which a load that draws one current takes less


@dataclass(frozen=True)
class RawParts:
    """The parts of one raw supply; `index` tells its letters from those of others beside it ('' where it is alone)."""

    parts: tuple[Part, ...]
    index: str

    def first(self, *kinds: PartKind) -> Part:
        """The first part of one of these kinds."""
        return next(part for part in self.parts if part.kind in kinds)

    @property
    def winding(self) -> Part:
        """Its winding, tapped or not."""
        return self.first(*WINDINGS)

    @property
    def reservoir(self) -> Part:
        """Its reservoir capacitor."""
        return self.first(PartKind.RESERVOIR)

    @property
    def load(self) -> Part:
        """What it feeds."""
        return self.first(PartKind.LOAD)


@dataclass(frozen=True)
class RawWave:
    """One charging period of every set: seconds, output volts and rectifier amperes by (step, set), and readings.

    `readings` holds, by letter symbol (with the supply's index): V_SPK, V_PK, V_TROUGH, V_RIP, V_DC (V), I_SEC (A,
    r.m.s. of a winding or half of one), VA, I_CREST (A, crest through a diode), phi (rad, half the angle over which a
    diode conducts), PIV (V), W_C (J), t_HOLD (s, from the trough until it has lost a tenth of that); of a load straight
    across the reservoir also its mean current and power. NaN where a set has not settled.
    """

    seconds: Array
    volts: Array
    amperes: Array
    readings: Mapping[str, Array]
    settled: Truth
    used: Mapping[str, float]  # the values that went in, at the first set


def raw_supplies(circuit: Circuit) -> tuple[RawParts, ...]:
    """The raw supplies of a circuit, in netlist order; what a reservoir feeds is among the parts of its supply."""
    found = [item for item in supplies(circuit.parts) if any(part.kind is PartKind.RESERVOIR for part in item)]
    index = re.compile(r"_[1-9]$")
    made = []
    for item in found:
        name = next(part.name for part in item if part.kind is PartKind.RESERVOIR)
        told = index.search(name)
        made.append(RawParts(tuple(item), told.group() if told and len(found) > 1 else ""))
    return tuple(made)


def is_raw_supply(circuit: Circuit) -> bool:
    """Whether it is rectifiers with their reservoirs and loads, and nothing that regulates."""
    return bool(raw_supplies(circuit)) and all(part.kind in _RAW_KINDS for part in circuit.parts)


def raw_wave(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS, steps: int = STEPS
) -> RawWave:
    """One steady charging period of a rectifier with reservoir; values (SI) are numbers or arrays of one length.

    What is not given stands at the circuit's typical value; the period is followed in so many `steps`. Raises
    Unreachable for a circuit of another kind.
    """
    found = raw_waves(circuit, values, temperature, steps)
    if len(found) != 1:
        raise Unreachable(f"'{circuit.id}' is no rectifier with one reservoir")
    return found[0]


def raw_waves(
    circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array = ROOM_CELSIUS, steps: int = STEPS
) -> tuple[RawWave, ...]:
    """The waves of each raw supply of a circuit that has nothing but these, at `values` (SI) and `temperature` (°C).

    `steps` is how many one charging period is cut into. Unreachable for a circuit with anything else in it.
    """
    if not is_raw_supply(circuit):
        raise Unreachable(f"'{circuit.id}' is no rectifier with one reservoir")
    return raw_waves_of(circuit, KnownValues(circuit, values, temperature), steps)


def raw_waves_of(circuit: Circuit, known: KnownValues, steps: int = STEPS) -> tuple[RawWave, ...]:
    """The waves of a circuit of raw supplies alone, its values read already."""
    return tuple(_wave_with_load(known, parts, steps) for parts in raw_supplies(circuit))


def _wave_with_load(known: KnownValues, parts: RawParts, steps: int) -> RawWave:
    rectifier, draw = replace(known.rectifier(parts), steps=steps), known.load_draw(parts)
    wave = steady_wave(rectifier, draw)
    readings = wave_readings(parts, rectifier, wave)
    symbols = parts.load.symbols
    body = wave.volts[:-1]
    drawn = np.stack([draw(volts) for volts in body])
    mean, lowest = drawn.mean(axis=0), body.min(axis=0)
    readings |= {
        symbols["current"]: mean,
        symbols["resistance"]: body.mean(axis=0) / np.where(mean > 0.0, mean, np.nan),
        symbols["power"]: (body * drawn).mean(axis=0),
        f"t_HOLD{parts.index}": hold_up(lowest, LEAST_SHARE * lowest, rectifier.farads, draw),
    }
    # Where nothing is drawn at all there is no resistance, and what is held is held without end.
    told = {name: value for name, value in readings.items() if name and not np.isnan(value).all()}
    return raw_wave_of(rectifier, wave, told if wave.settled.any() else readings, known.used)


def raw_wave_of(
    rectifier: Rectifier, wave: Wave, readings: Mapping[str, Array], used: Mapping[str, float]
) -> RawWave:
    """A wave with its readings (SI), those of sets that have not settled taken out."""
    seconds = np.linspace(0.0, 1.0, rectifier.steps + 1)[:, None] * rectifier.period
    clean = {name: np.where(wave.settled, value, np.nan) for name, value in readings.items()}
    return RawWave(seconds, wave.volts, wave.amperes, clean, wave.settled, dict(used))


def wave_readings(parts: RawParts, rectifier: Rectifier, wave: Wave) -> dict[str, Array]:
    """What a wave tells of winding, diodes and reservoir (SI; angles in radians), by the letters of its parts.

    All by definition: means and r.m.s. values over a charging period, stored energy as half of C V².
    """
    body, current = wave.volts[:-1], wave.amperes[:-1]
    winding, reservoir = parts.winding.symbols, parts.reservoir.symbols
    greatest, highest, lowest = current.max(axis=0), body.max(axis=0), body.min(axis=0)
    angle = np.count_nonzero(current > CONDUCTING * greatest, axis=0) / rectifier.steps * math.pi / rectifier.pulses
    heating = np.sqrt((current**2).mean(axis=0) / rectifier.halves)  # each half of a tapped winding works in turn
    found = {
        winding["crest"]: rectifier.crest,
        reservoir["crest"]: highest,
        reservoir["trough"]: lowest,
        reservoir["ripple"]: highest - lowest,
        reservoir["mean"]: body.mean(axis=0),
        reservoir["energy"]: rectifier.farads * highest**2 / 2.0,
        winding["current"]: heating,
        winding["rating"]: rectifier.halves * rectifier.crest / math.sqrt(2.0) * heating,
        f"I_CREST{parts.index}": greatest,
        f"phi{parts.index}": angle,
        parts.first(PartKind.DIODE).symbols["reverse"]: reverse_volts(rectifier, wave),
    }
    return {name: value for name, value in found.items() if name}


class KnownValues:
    """What is told of a raw supply and, where nothing is told, what follows by hand or is typical; arrays of one shape.

    `used` are the values that were asked for, at the first set. Raises OutOfRange for a temperature at which the curves
    do not hold.
    """

    def __init__(
        self, circuit: Circuit, values: Mapping[str, float | Array], temperature: float | Array
    ) -> None:
        self.shape = np.broadcast_shapes(*(np.shape(value) for value in values.values()), np.shape(temperature), (1,))
        self.degrees = np.broadcast_to(np.asarray(temperature, float), self.shape)
        require_temperature(self.degrees)
        self.told = {name: np.broadcast_to(np.asarray(value, float), self.shape) for name, value in values.items()}
        standing = {**circuit.typical, **_by_hand(circuit, self.told)}
        plain = {name: np.full(self.shape, float(value)) for name, value in standing.items()}
        if {"I_L", "R_L"} & set(self.told):
            plain = {name: value for name, value in plain.items() if name not in ("I_L", "R_L")}
        self.all = {**plain, **self.told}
        self.used: dict[str, float] = {}

    @property
    def count(self) -> int:
        """How many sets there are."""
        return int(self.shape[0])

    def piece(self, sets: slice) -> KnownValues:
        """Some of the sets; what follows by hand stays what it is for all."""
        found = copy(self)
        found.all, found.told = ({name: value[sets] for name, value in one.items()} for one in (self.all, self.told))
        found.degrees = self.degrees[sets]
        found.shape, found.used = found.degrees.shape, {}
        return found

    def __call__(self, symbol: str) -> Array:
        """The value of a letter symbol, told or standing; a resistance that nobody speaks of is none."""
        value = self.all.get(symbol, np.zeros(self.shape))
        self.used[symbol] = float(value.flat[0])
        return value

    def rectifier(self, parts: RawParts) -> Rectifier:
        """The rectifier of one supply."""
        way, reservoir = charging(parts.parts), parts.reservoir.symbols
        return Rectifier(
            self._crest(parts.winding, way.halves),
            math.tau * self(reservoir["frequency"]),
            self("R_W"),
            celsius(self.degrees),
            self(reservoir["capacitance"]),
            way.diodes,
            way.pulses,
            way.halves,
        )

    def _crest(self, winding: Part, halves: int) -> Array:
        """Crest of a winding or of its half, from whichever of its voltages is told."""
        symbols = winding.symbols
        if symbols["voltage"] not in self.told and symbols["crest"] in self.told:
            return self(symbols["crest"])
        if symbols["voltage"] not in self.told and symbols["primary"] in self.told:
            return math.sqrt(2.0) * self(symbols["primary"]) / (halves * self(symbols["ratio"]))
        return math.sqrt(2.0) * self(symbols["voltage"])

    def load_draw(self, parts: RawParts) -> Draw:
        """What a load straight across the reservoir draws (A, by volts): Ohm's law for a resistance, or one current."""
        current, ohms = (parts.load.symbols[role] for role in ("current", "resistance"))
        if ohms in self.told or (ohms in self.all and current not in self.told):
            resistance = self(ohms)
            return lambda volts: volts / resistance
        amperes = self(current)
        return lambda volts: amperes * np.clip(volts / LETTING_GO, 0.0, 1.0)


def _by_hand(circuit: Circuit, told: Mapping[str, Array]) -> dict[str, float]:
    """Constants of the circuit that nobody told but that follow by hand from what is told, such as C from a ripple;
    those of the first set, since parts do not change."""
    winding = next(part for part in circuit.parts if part.kind in WINDINGS)
    load = next(part for part in circuit.parts if part.kind is PartKind.LOAD)
    reservoir = next(part for part in circuit.parts if part.kind is PartKind.RESERVOIR)
    loads = (load.symbols["current"], load.symbols["resistance"])
    plain = {*circuit.constants, *circuit.defaults, winding.symbols["crest"], winding.symbols["primary"], *loads}
    letters = {letter for part in circuit.parts for letter in part.symbols.values()}
    letters |= {word.symbol for word in circuit.nodes.values()}
    spoken = {name: float(value.flat[0]) for name, value in sorted(told.items()) if name in letters}
    if set(spoken) <= plain:
        return {}
    wanted = {*circuit.constants, load.symbols["current"]} - set(told)
    made: dict[str, float] = {}
    # First from what is told alone, then with the standing value of all that the choice of a supply leaves alone.
    chosen = {*told, winding.symbols["voltage"], reservoir.symbols["capacitance"], *loads}
    standing = {name: float(value) for name, value in circuit.typical.items() if name not in chosen}
    for also in ({}, standing):
        known = {**circuit.defaults, **also, **made, **spoken}
        found = apply_rules(everything(circuit, circuit.regions[0], sorted(known), {}), known)
        made |= {name: float(found[name]) for name in wanted if name in found and name not in also}
    return made
