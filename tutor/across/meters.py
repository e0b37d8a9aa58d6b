"""A circuit on a bench: which values its parts may have, what is measured on it, and what the meters then show.

Vocabulary: a *bench* is what an author declares: a circuit, the words for its parts, values to draw from, readings to
take. A *reading* is a node against ground or a part's current, with the load joined or lifted off; of a raw supply it
is a quantity of its rectifier. A *case* is a bench with drawn values: what is shown when all is well and with each
fault.
A *meter* tells two readings apart when they differ by `SHARE` of the larger and by the least step for its unit.
Place in the data flow: Bench + values -> faults, solved -> FaultCase -> questions.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from tutor.across.faults import (
    NOTHING,
    CircuitFault,
    FaultKind,
    fault_reason,
    fault_words,
    possible_faults,
    supposed,
    with_fault,
)
from tutor.across.further_states import state_words
from tutor.across.operating_point import OperatingPoint, operating_points
from tutor.across.rectified import RAW_PARTS, rectified
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write

SHARE = 0.05
STEPS: Mapping[str, float] = {"V": 0.2, "A": 1e-3, "Hz": 5.0}
SAME = 1e-6  # of the larger, below which two readings are one
LEAST_FLOW = 1e-5  # amperes, below which a current is not worth naming
LEAKED = 1e-8  # amperes, at most, by the leak of a node
UNNAMED = (FaultKind.NOTHING, FaultKind.JOINT)  # faults that are told without the name of a part
NOTHING_SHOWN: Mapping[str, float] = {"V": 1e-3, "A": 1e-6, "Hz": 1e-3}  # below which a meter shows 0


@dataclass(frozen=True)
class MeterReading:
    """What is measured: its letter ('' where it has none of its own) and a node, or a part with a role of its
    currents; of a raw supply the id is the letter of a quantity. `lifted`: with the load taken off."""

    id: str
    words: str
    symbol: str
    unit: str
    node: str = ""
    part: str = ""
    role: str = "current"
    lifted: bool = False

    @property
    def short(self) -> str:
        """How a sentence names it: its letter, and that the load is off where it is."""
        named = f"${self.symbol}$" if self.symbol else f"the {self.words}"
        return f"{named} unloaded" if self.lifted else named


@dataclass(frozen=True)
class Bench:
    """A circuit with part words ("series resistor"), value lists by letter (SI), readings, and the faults left out.

    `also` are readings that may be taken next. `joint`, `left` and `over` are as in `possible_faults`.
    """

    circuit: str
    parts: Mapping[str, str]
    values: Mapping[str, tuple[float, ...]]
    readings: tuple[MeterReading, ...]
    also: tuple[MeterReading, ...] = ()
    without: tuple[str, ...] = ()
    joint: float = 0.0
    left: float = 0.0
    over: float = 0.0


@dataclass(frozen=True)
class FaultCase:
    """A bench with its values; `shown` has each fault's readings by reading id, those of faults that come to exactly
    one point however the load stands; `states` the parts whose state the fault has changed, in words; `points` where it
    rests with the load joined."""

    bench: Bench
    circuit: Circuit
    values: Mapping[str, float]
    shown: Mapping[CircuitFault, Mapping[str, float]]
    states: Mapping[CircuitFault, str] = field(default_factory=dict)
    points: Mapping[CircuitFault, OperatingPoint] = field(default_factory=dict)

    def words(self, fault: CircuitFault) -> str:
        """The fault as an option names it."""
        return fault_words(self.circuit, fault, self.bench.parts)

    def supposed(self, fault: CircuitFault) -> str:
        """The fault after "with"."""
        return supposed(self.words(fault))

    def reason(self, fault: CircuitFault) -> str:
        """What the fault leaves of the circuit."""
        return fault_reason(self.circuit, fault)

    def value(self, fault: CircuitFault, reading: MeterReading) -> str:
        """What a meter shows."""
        return written(self.shown[fault][reading.id], reading.unit)

    def differs(self, one: CircuitFault, other: CircuitFault, reading: MeterReading) -> bool:
        """Whether a meter tells the two apart by this reading."""
        return told_apart(self.shown[one][reading.id], self.shown[other][reading.id], reading.unit)

    def alike(self, one: CircuitFault, other: CircuitFault, reading: MeterReading) -> bool:
        """Whether the reading is one and the same with both."""
        first, second = self.shown[one][reading.id], self.shown[other][reading.id]
        return abs(first - second) <= max(SAME * max(abs(first), abs(second)), NOTHING_SHOWN[reading.unit])

    def apart(self, one: CircuitFault, other: CircuitFault, readings: Sequence[MeterReading]) -> bool:
        """Whether some of the readings tells the two apart."""
        return any(self.differs(one, other, reading) for reading in readings)

    def way(self, fault: CircuitFault, reading: MeterReading) -> int | None:
        """Whether a reading rises (1), falls (-1) or stays (0) against a healthy circuit; None where no meter tells."""
        if self.alike(NOTHING, fault, reading):
            return 0
        if not self.differs(NOTHING, fault, reading):
            return None
        return 1 if self.shown[fault][reading.id] > self.shown[NOTHING][reading.id] else -1


def told_apart(one: float, other: float, unit: str) -> bool:
    """Whether a meter tells two readings apart."""
    return abs(one - other) >= max(SHARE * max(abs(one), abs(other)), STEPS[unit])


def written(value: float, unit: str) -> str:
    """A reading as a meter shows it: nothing is 0, and of the rest three figures."""
    return write(0.0 if abs(value) < NOTHING_SHOWN[unit] else value, unit, 3)


def case_of(bench: Bench, circuit: Circuit, values: Mapping[str, float]) -> FaultCase | str:
    """The bench with these values; why not, where the healthy circuit has no point, several, or is in an odd state."""
    readings = (*bench.readings, *bench.also)
    raw = any(part.kind in RAW_PARTS for part in circuit.parts)
    shown: dict[CircuitFault, Mapping[str, float]] = {}
    states: dict[CircuitFault, str] = {}
    rest: dict[CircuitFault, OperatingPoint] = {}
    for fault in possible_faults(circuit, bench.joint, bench.left, bench.over):
        if fault.id in bench.without or not (fault.part in bench.parts or fault.kind in UNNAMED):
            continue
        if raw:
            seen = rectified(*with_fault(circuit.parts, values, fault))
            if seen is not None:
                shown[fault] = {reading.id: seen[reading.id] for reading in readings}
            elif fault == NOTHING:
                return "the healthy supply's ripple is no small part of its crest"
            continue
        points = _points(circuit.parts, values, fault, {reading.lifted for reading in readings})
        if points is None:
            if fault == NOTHING:
                return "the healthy circuit has not just one operating point"
            continue
        loaded = points[min(points)]
        if fault == NOTHING:
            usual = circuit.regions[0].parts
            if any(loaded.states.get(name) != state for name, state in usual.items()):
                return "the healthy circuit does not regulate"
        rest[fault] = loaded
        shown[fault] = {reading.id: _read(points[reading.lifted], reading) for reading in readings}
        states[fault] = _changed_states(circuit, bench.parts, rest[NOTHING], loaded)
    return FaultCase(bench, circuit, values, shown, states, rest)


def balance(case: FaultCase, fault: CircuitFault, node: str) -> tuple[str, bool] | None:
    """What comes to a node and what leaves it with a fault, the load joined, in a sentence, and whether they agree.

    None where nothing flows there.
    """
    if fault not in case.points:
        return None
    flows: dict[str, float] = {}
    for part in with_fault(case.circuit.parts, case.values, fault)[0]:
        for role, terminal, into in part.component.flows:
            if part.terminals[terminal] == node:
                current = case.points[fault].currents[part.name, role]
                words = "load" if part.kind is PartKind.LOAD else case.bench.parts.get(part.name, part.name)
                words = "short" if part.kind is PartKind.SOURCE and part.name == fault.part else words
                flows[words] = flows.get(words, 0.0) + (current if into else -current)
    arriving = [f"{written(current, 'A')} by the {words}" for words, current in flows.items() if current > LEAST_FLOW]
    leaving = [f"{written(-current, 'A')} by the {words}" for words, current in flows.items() if current < -LEAST_FLOW]
    if not arriving or not leaving:
        return None
    where = case.circuit.nodes[node].words
    text = f"With {case.supposed(fault)}, {listed(arriving)} come to {where}, and {listed(leaving)} leave it"
    return text, abs(sum(flows.values())) <= SAME * max(abs(current) for current in flows.values()) + LEAKED


def _points(
    parts: Sequence[Part], values: Mapping[str, float], fault: CircuitFault, loads: set[bool]
) -> dict[bool, OperatingPoint] | None:
    """The operating point with the load joined (False) and lifted (True); None unless there is just one of each."""
    found = {}
    for lifted in loads:
        here = [part for part in parts if not (lifted and part.kind is PartKind.LOAD)]
        points = operating_points(*with_fault(here, values, fault))
        if len(points) != 1:
            return None
        found[lifted] = points[0]
    return found


def _read(point: OperatingPoint, reading: MeterReading) -> float:
    if reading.node:
        return point.volts.get(reading.node, 0.0)
    return point.currents.get((reading.part, reading.role), 0.0)


def _changed_states(
    circuit: Circuit, part_words: Mapping[str, str], healthy: OperatingPoint, now: OperatingPoint
) -> str:
    """The parts that are in another state than in a healthy circuit: "the zener is off"."""
    said = []
    for part in circuit.parts:
        state = now.states.get(part.name)
        if state is not None and state != healthy.states.get(part.name):
            words = state_words(part.kind, state)
            named = part_words.get(part.name, "")
            kind = r"^the (zener|transistor|junction|op-amp|amplifier|regulator|reference)"
            said.append(re.sub(kind, f"the {named}", words) if named else words)
    return " and ".join(said)
