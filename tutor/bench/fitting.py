"""Part values by letter symbol -> devices with the curves of real parts that agree with them where a data sheet does.

What hand analysis takes as fixed is a point of a curve here. V_BE is the junction's voltage at the collector current
that the circuit's own typical point has, h_FE the gain at V_CE = 5 V (where data sheets state it), V_Z the voltage at
the test current, r_z the whole slope there. Temperature moves them by their coefficients from 25 °C on.
Place in the data flow: parts + values -> devices.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from tutor.bench.curves import BAND_GAP, ROOM, ZERO_CELSIUS, Array, thermal_voltage
from tutor.bench.devices import Amplifier, Device, Junction, Reference, Regulator, Resistor, Sink, Transistor, Zener
from tutor.bench.drifts import JUNCTION_DRIFT, REFERENCE_DRIFT, share_drift, zener_drift
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.errors import OutOfRange

# What stands where neither the reader nor the circuit says anything. Sources: data sheets of small zeners, transistors,
# op-amps and three-terminal regulators, typical values (from memory).
STANDING: Mapping[str, float] = {
    "r_z": 10.0, "I_ZT": 0.005, "V_BE": 0.7, "V_F": 0.7, "h_FE": 100.0, "k_BE": JUNCTION_DRIFT, "k_F": JUNCTION_DRIFT,
    "A": 1e5, "R_O": 100.0, "V_DROP": 2.0, "I_Q": 0.005, "I_REF": 2e-6, "V_A": 80.0, "B_R": 4.0, "X_B": 1.5,
    "V_CE": 5.0, "I_OAM": 0.025, "I_M": 1.5, "r_K": 0.2,
}  # fmt: skip
ZENER_LINE = ("test_voltage", "intercept", "voltage")  # the roles that may tell where a zener's line lies, best first
KNEE_SHARE = 0.25  # of the slope at the test current that is the knee's, the rest being straight
COLDEST, HOTTEST = -60.0, 200.0  # °C: about where the parts would no longer be parts
REGULATOR_OHMS = 0.01
AMPLIFIER_LOW = 0.05
_DEEP = 30.0  # units of the knee from its saturation current up to the test current


class Fitting:
    """Values over points: a letter of a part, then the same letter without its index, then what stands."""

    def __init__(self, values: Mapping[str, Array], carried: Mapping[str, float], kelvins: Array) -> None:
        self.values, self.carried, self.kelvins = values, carried, kelvins
        self.used: dict[str, float] = {}  # every value that was asked for, at the first point
        self.unit = thermal_voltage(kelvins)
        self.room = float(thermal_voltage(np.array(ROOM)))

    def __call__(self, symbol: str, role: str) -> Array:
        """The value of a letter symbol, or what stands for that role."""
        found = self.values.get(symbol)
        value = np.broadcast_to(np.asarray(STANDING[role] if found is None else found, float), self.kelvins.shape)
        self.used[symbol or role] = float(value[0])
        return value

    def knows(self, symbol: str) -> bool:
        """Whether a value is told for that letter."""
        return bool(symbol) and symbol in self.values

    @property
    def warmer(self) -> Array:
        """Kelvins above 25 °C."""
        return self.kelvins - ROOM

    def saturation(self, volts: Array, amperes: Array, drift: Array) -> Array:
        """The saturation current of a junction that has `volts` at `amperes` and 25 °C and drifts by `drift` V/K.

        I_S grows as T^X e^(-E_G/(kT/q)); X is chosen so that the voltage at that current drifts as is said. In amperes.
        Source of the law: Vladimirescu, The SPICE Book, appendix A (from memory).
        """
        at_room = amperes * np.exp(-volts / self.room)
        power = (volts - BAND_GAP - drift * ROOM) / self.room
        ratio = self.kelvins / ROOM
        return at_room * ratio**power * np.exp(BAND_GAP / self.unit * (ratio - 1.0))


def device(part: Part, fit: Fitting, supply: str) -> Device | None:
    """The device of a part; None for one that has no place on this bench (a heat path). `supply` feeds op-amps."""
    maker = _MAKERS.get(part.kind)
    return maker(part, fit, supply) if maker is not None else None


def _resistor(part: Part, fit: Fitting, _supply: str) -> Device:
    return Resistor(part.nodes, fit(part.symbols["resistance"], "R"))


def _load(part: Part, fit: Fitting, _supply: str) -> Device:
    if fit.knows(part.symbols["resistance"]):
        return Resistor(part.nodes, fit(part.symbols["resistance"], "R"))
    return Sink(part.nodes, fit(part.symbols["current"], "I_L"))


def _junction(part: Part, fit: Fitting, _supply: str) -> Device:
    volts, amperes = fit(part.symbols["voltage"], "V_F"), np.full(1, fit.carried.get(part.name, 0.01))
    ohms = 0.1 * fit.room / amperes
    return Junction(part.nodes, fit.unit, fit.saturation(volts - 0.1 * fit.room, amperes, fit("k_F", "k_F")), ohms)


def _zener(part: Part, fit: Fitting, _supply: str) -> Device:
    symbols = part.symbols
    # Where a circuit counts the slope for changes alone, its zener has no letter for it, and the plain one is meant.
    current = np.maximum(fit(symbols["test_current"] or "I_ZT", "I_ZT"), 1e-6)
    slope = np.maximum(fit(symbols["slope"] or "r_z", "r_z"), 1e-3)
    if fit.knows(symbols["test_voltage"]):
        volts = fit(symbols["test_voltage"], "V_Z")
    elif fit.knows(symbols["intercept"]):
        volts = fit(symbols["intercept"], "V_Z") + slope * current
    else:
        volts = fit(symbols["voltage"], "V_Z")
    volts = volts * (1.0 + _zener_drift(fit, volts) * fit.warmer)
    unit = np.broadcast_to(KNEE_SHARE * slope * current, fit.kelvins.shape)
    ohms = (1.0 - KNEE_SHARE) * slope
    volts_forward, amperes_forward, drift = (np.full(1, number) for number in (0.7, 0.01, JUNCTION_DRIFT))
    saturation_forward = fit.saturation(volts_forward, amperes_forward, drift)
    forward = Junction(part.nodes, fit.unit, saturation_forward, np.full(1, 0.5))
    # At the test current the straight part has its drop, and the knee's exponential the rest.
    saturation = current * math.exp(-_DEEP)
    return Zener(part.nodes, volts - ohms * current - _DEEP * unit, unit, saturation, ohms, forward)


def _zener_drift(fit: Fitting, volts: Array) -> Array:
    """What is told of it, or what zeners of that voltage do (1/K)."""
    if fit.knows("alpha_Z"):
        return fit("alpha_Z", "alpha_Z")
    drift = zener_drift(volts)
    fit.used["alpha_Z"] = float(drift.flat[0])
    return drift


def _transistor(part: Part, fit: Fitting, _supply: str) -> Device:
    symbols = part.symbols
    early, at = fit("V_A", "V_A"), fit("V_CE", "V_CE")
    volts = fit(symbols["junction"], "V_BE")
    widened = 1.0 + (at - volts) / early
    amperes = np.full(1, abs(fit.carried.get(part.name, 0.01)))
    saturation = fit.saturation(volts, amperes / widened, fit("k_BE", "k_BE"))
    gain = fit(symbols["gain"], "h_FE") / widened * (fit.kelvins / ROOM) ** fit("X_B", "X_B")
    sign = 1 if part.kind is PartKind.NPN else -1
    return Transistor(part.nodes, sign, fit.unit, saturation, gain, fit("B_R", "B_R"), early)


def _amplifier(part: Part, fit: Fitting, supply: str) -> Device:
    symbols, is_fed = part.symbols, part.kind is PartKind.AMPLIFIER
    return Amplifier(
        part.nodes if is_fed else (*part.nodes, supply),
        fit(symbols["gain"], "A"),
        np.full(1, AMPLIFIER_LOW),
        fit(symbols["drop"], "V_DROP") if is_fed else np.full(1, STANDING["V_DROP"]),
        np.maximum(fit(symbols.get("resistance", ""), "R_O"), 1.0),
        fit(symbols.get("most", "") or "I_OAM", "I_OAM"),
        is_fed,
    )


def _regulator(part: Part, fit: Fitting, _supply: str) -> Device:
    symbols = part.symbols
    drift = share_drift(symbols["voltage"])
    return Regulator(
        part.nodes,
        fit(symbols["voltage"], "V_REG") * (1.0 + drift * fit.warmer),
        fit(symbols["dropout"], "V_DROP"),
        np.full(1, REGULATOR_OHMS),
        fit.values.get("I_M", np.full(1, STANDING["I_M"])),  # of whichever type suits what is drawn
        fit(symbols["pin"], "I_Q"),
    )


def _reference(part: Part, fit: Fitting, _supply: str) -> Device:
    symbols = part.symbols
    return Reference(
        part.nodes,
        fit(symbols["reference"], "V_REF") * (1.0 + REFERENCE_DRIFT * fit.warmer),
        1.0 / fit("r_K", "r_K"),
        fit(symbols["pin"], "I_REF"),
    )


_MAKERS: Mapping[PartKind, Callable[[Part, Fitting, str], Device]] = {
    PartKind.RESISTOR: _resistor,
    PartKind.LOAD: _load,
    PartKind.JUNCTION: _junction,
    PartKind.ZENER: _zener,
    PartKind.NPN: _transistor,
    PartKind.PNP: _transistor,
    PartKind.OPAMP: _amplifier,
    PartKind.AMPLIFIER: _amplifier,
    PartKind.THREE_TERMINAL: _regulator,
    PartKind.SHUNT_REFERENCE: _reference,
}


def require_temperature(degrees: Array) -> None:
    """OutOfRange where a temperature (°C) is one at which the curves do not hold."""
    if np.any((degrees < COLDEST) | (degrees > HOTTEST)):
        raise OutOfRange(f"a temperature on the bench lies between {COLDEST:g} °C and {HOTTEST:g} °C")


def celsius(degrees: Array) -> Array:
    """Degrees Celsius as kelvins."""
    return degrees + ZERO_CELSIUS


def electrical(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts that carry current steadily: no heat path."""
    return tuple(part for part in parts if part.kind is PartKind.SOURCE or part.kind in _MAKERS)
