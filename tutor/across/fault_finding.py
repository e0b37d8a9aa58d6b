"""Find the fault: from what the meters show to what is wrong, and from a fault to what the meters would show.

Everything shown or said of a reading comes from solving the circuit with that fault in it (`meters.py`). A draw whose
readings do not tell the faults on offer apart, by more than a meter needs, is refused.
Place in the data flow: Bench -> FaultCase -> Posed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tutor.across.family import Posed, Question, Refused, Setting
from tutor.across.faults import NOTHING, CircuitFault
from tutor.across.meters import STEPS, Bench, FaultCase, MeterReading, balance, case_of
from tutor.across.points import state_point, worded_step
from tutor.across.stated import WAYS, capitalised, circuit_told, given_values, value_rows
from tutor.across.stream import Stream
from tutor.generate.problem import Remark, TableRow, Waypoint
from tutor.quantities.prose import listed
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Check, Solution, WorkedStep

LEAST_SILENT = 2  # readings beside the one that speaks against a fault
BENCH = (
    "A meter loads what it measures, parts stand a few per cent off their values, and a part that has failed seldom "
    "fails wholly: on a bench look for the fault whose whole picture is nearest, not for the last figure."
)


@dataclass(frozen=True)
class FaultBelief:
    """A belief that leads to a wrong option: where `fault` is supposed, of reading `reading` it says rises, falls or
    stays; where `reading` is '', `fault` is what is wrong and it says the fault of that id."""

    id: str
    fault: str
    reading: str
    says: str
    name: str
    why: str
    hint: str
    reference: tuple[str, ...]
    circuits: tuple[str, ...]


@dataclass(frozen=True)
class FaultFinding:
    """A level: one of `options` faults from the readings of a bench; then, with another fault supposed, which way
    `ways` readings go; `against`: which reading speaks against another fault."""

    about: str
    benches: tuple[Bench, ...]
    options: int = 5
    ways: int = 2
    against: bool = False
    beliefs: tuple[FaultBelief, ...] = ()

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        case = drawn_case(setting, stream, stream.pick("bench", self.benches))
        if isinstance(case, Refused):
            return case
        right = stream.pick("fault", tuple(case.shown))
        offered = tell_apart(case, right, stream, self.options)
        if len(offered) < self.options:
            return Refused("the readings tell too few faults apart")
        against = _against(case, right) if self.against else {}
        if self.against and not against:
            return Refused("no fault against which one reading speaks and others do not")
        doubted: tuple[CircuitFault, MeterReading] | None = None
        if against:
            speaking = stream.pick("speaking", tuple(against))
            doubted = (stream.pick("against", against[speaking]), speaking)
        ways = self._ways(case, right, stream)
        if not ways:
            return Refused("no fault of which the meters say enough")
        order = stream.order("order", offered)
        waypoints = [_fault_waypoint(case, right, order, self.beliefs)]
        if doubted is not None:
            waypoints.append(_against_waypoint(case, right, *doubted))
        waypoints += [
            _way_waypoint(case, fault, reading, f"way_{place}", self.beliefs)
            for place, (fault, reading) in enumerate(ways, start=1)
        ]
        told = (
            f"{meant_circuit(case)} One thing may be wrong with it, and no more than one. What the meters show stands "
            "in the table."
        )
        asked = ["Say what is most likely wrong"]
        if doubted is not None:
            asked.append("which reading speaks against another fault")
        asked.append("what another fault would do to the readings")
        problem = setting.problem(
            circuit=case.circuit.stem, form=case.circuit.form, told=told, ask=f"{listed(asked)}.",
            table=(*value_rows(case.circuit, givens(case)), *reading_rows(case, right)), given=givens(case),
            waypoints=tuple(waypoints),
        )  # fmt: skip
        steps = [healthy_step(case, right if NOTHING in order else NOTHING)]
        steps += [fault_step(case, fault, right, "fault" if fault == right else "") for fault in _last(order, right)]
        if doubted is not None:
            steps.append(_against_step(case, right, *doubted))
        steps += [_way_step(case, *item, f"way_{place}") for place, item in enumerate(ways, start=1)]
        checks = (apart_check(case, right, order, case.bench.readings), *balance_checks(case, right))
        return Posed(problem, Solution(problem.name, tuple(steps), checks, BENCH, (), problem.cautions))

    def _ways(self, case: FaultCase, right: CircuitFault, stream: Stream) -> list[tuple[CircuitFault, MeterReading]]:
        """A fault other than the right one with as many of its readings as are asked; now and then one of a belief."""
        believed = {(item.fault, item.reading) for item in self.beliefs if case.circuit.id in item.circuits}
        offers = []
        for fault in case.shown:
            clear = [item for item in case.bench.readings if case.way(fault, item) is not None]
            moves = [case.way(fault, item) for item in clear]
            if fault not in (NOTHING, right) and len(clear) >= self.ways and any(moves):
                offers.append((fault, clear))
        known = [item for item in offers if any((item[0].id, reading.id) in believed for reading in item[1])]
        if not offers:
            return []
        believing = known and stream.pick("belief", ("known", "any")) == "known"
        fault, clear = stream.pick("supposed", known if believing else offers)
        first = [item for item in clear if (fault.id, item.id) in believed]
        taken = stream.some("believed", first, 1) if first else ()
        rest = [item for item in clear if item not in taken]
        taken += stream.some("readings", rest, self.ways - len(taken))
        return [(fault, item) for item in clear if item in taken]


@dataclass(frozen=True)
class EitherQuestion:
    """A level whose numbers take one of several questions."""

    about: str
    questions: tuple[Question, ...]

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        return stream.pick("question", self.questions).attempt(setting, stream)


def _against(case: FaultCase, right: CircuitFault) -> dict[MeterReading, list[CircuitFault]]:
    """Each reading with the faults against which it speaks while two others at least do not."""
    found: dict[MeterReading, list[CircuitFault]] = {}
    for fault in case.shown:
        if fault not in (NOTHING, right) and len(_silent(case, right, fault)) >= LEAST_SILENT:
            for reading in case.bench.readings:
                if case.differs(right, fault, reading):
                    found.setdefault(reading, []).append(fault)
    return found


def _silent(case: FaultCase, right: CircuitFault, fault: CircuitFault) -> list[MeterReading]:
    return [item for item in case.bench.readings if not case.differs(right, fault, item)]


def drawn_case(setting: Setting, stream: Stream, bench: Bench) -> FaultCase | Refused:
    """A bench with values drawn from its lists and the circuit's standing ones."""
    circuit = setting.desk.circuit(bench.circuit)
    drawn = {name: stream.pick(f"{bench.circuit} {name}", items) for name, items in bench.values.items()}
    case = case_of(bench, circuit, {**circuit.defaults, **drawn})
    return Refused(case) if isinstance(case, str) else case


def tell_apart(case: FaultCase, right: CircuitFault, stream: Stream, count: int) -> tuple[CircuitFault, ...]:
    """The right fault and others, each told from every one before it by some reading."""
    found = [right]
    for fault in stream.order("others", [item for item in case.shown if item != right]):
        if len(found) < count and all(case.apart(fault, other, case.bench.readings) for other in found):
            found.append(fault)
    return tuple(found)


def meant_circuit(case: FaultCase) -> str:
    """The circuit in a sentence."""
    return f"The drawing shows how it was meant to be, {circuit_told(case.circuit)}."


def givens(case: FaultCase) -> dict[str, Quantity]:
    """The values that the parts should have, standing ones among them."""
    return given_values(case.circuit, case.bench.values, case.values)


def reading_rows(case: FaultCase, right: CircuitFault) -> tuple[TableRow, ...]:
    """What the meters show."""
    return tuple(TableRow(f"read: {item.words}", item.symbol, case.value(right, item)) for item in case.bench.readings)


def _fault_waypoint(
    case: FaultCase, right: CircuitFault, order: Sequence[CircuitFault], beliefs: Iterable[FaultBelief]
) -> Waypoint:
    here = [item for item in beliefs if case.circuit.id in item.circuits and not item.reading]
    known = {item.says: item for item in here if item.fault == right.id}
    remarks = []
    for fault in order:
        if fault != right:
            why = contradiction(case, right, fault)
            item = known.get(fault.id)
            remarks.append(
                Remark(case.words(fault), f"{item.why} {why}", item.hint, item.id, item.name, item.reference)
                if item is not None
                else Remark(case.words(fault), why, "Suppose it, work out each reading, and hold it against the meter.")
            )
    options = tuple(case.words(fault) for fault in order)
    return state_point("fault", "what is most likely wrong", options, case.words(right), remarks)


def contradiction(case: FaultCase, right: CircuitFault, other: CircuitFault) -> str:
    """The reading that speaks loudest against another fault."""
    speaking = _loudest(case, right, other, case.bench.readings)
    return (
        f"With {case.supposed(other)}, {speaking.short} would be {case.value(other, speaking)}; the meter shows "
        f"{case.value(right, speaking)}."
    )


def _loudest(
    case: FaultCase, right: CircuitFault, other: CircuitFault, readings: Sequence[MeterReading]
) -> MeterReading:
    return max(readings, key=lambda item: _distance(case, right, other, item))


def _distance(case: FaultCase, one: CircuitFault, other: CircuitFault, reading: MeterReading) -> float:
    first, second = case.shown[one][reading.id], case.shown[other][reading.id]
    return abs(first - second) / max(abs(first), abs(second), STEPS[reading.unit])


def _against_waypoint(case: FaultCase, right: CircuitFault, doubted: CircuitFault, speaking: MeterReading) -> Waypoint:
    silent = _silent(case, right, doubted)
    options = tuple(item.words for item in case.bench.readings if item == speaking or item in silent)
    remarks = tuple(
        Remark(
            item.words,
            f"With {case.supposed(doubted)} it would be {case.value(doubted, item)}, and {case.value(right, item)} is "
            "read: no meter tells them apart.",
            "Work each of these readings out with that fault; just one is not as it was found.",
        )
        for item in silent
    )
    prompt = f"the one of these readings that speaks against {case.supposed(doubted)}"
    return state_point("against", prompt, options, speaking.words, remarks)


def _way_waypoint(
    case: FaultCase, fault: CircuitFault, reading: MeterReading, key: str, beliefs: Iterable[FaultBelief]
) -> Waypoint:
    right = WAYS[case.way(fault, reading) or 0]
    known = {
        item.says: item
        for item in beliefs
        if case.circuit.id in item.circuits and (item.fault, item.reading) == (fault.id, reading.id)
    }
    remarks = []
    for option in WAYS.values():
        if option != right:
            item = known.get(option)
            remarks.append(
                Remark(option, item.why, item.hint, item.id, item.name, item.reference)
                if item is not None
                else Remark(option, "", f"{case.reason(fault)} What does that do here?")
            )
    prompt = f"with {case.supposed(fault)}: the {reading.words}, against a healthy circuit"
    return state_point(key, prompt, tuple(WAYS.values()), right, remarks)


def _last(order: Sequence[CircuitFault], right: CircuitFault) -> list[CircuitFault]:
    """The faults on offer other than nothing, the right one last; a healthy circuit is dealt with before them."""
    return [fault for fault in order if fault not in (NOTHING, right)] + [right]


def told_readings(case: FaultCase, fault: CircuitFault, readings: Sequence[MeterReading]) -> str:
    """Readings in a row."""
    return listed([f"{item.short} = {case.value(fault, item)}" for item in readings])


def healthy_step(case: FaultCase, right: CircuitFault = NOTHING) -> WorkedStep:
    """What the meters show when all is well: the measure of everything after, and told from what is `right`."""
    state = case.circuit.regions[0].words
    text = f"All well, {state}, and the meters would show {told_readings(case, NOTHING, case.bench.readings)}."
    if right != NOTHING:
        speaking = _loudest(case, right, NOTHING, case.bench.readings)
        text += f" But {speaking.short} reads {case.value(right, speaking)}: something is wrong."
    return worded_step("A healthy circuit first", "", text)


def fault_step(case: FaultCase, fault: CircuitFault, right: CircuitFault, waypoint: str) -> WorkedStep:
    """A fault supposed: what it leaves, what it would show, and whether that is what is read."""
    if fault == NOTHING:
        text = "All readings are those of a healthy circuit, and none of the faults on offer leaves them so."
        return worded_step("Nothing is wrong", "", text, waypoint)
    state = case.states.get(fault, "")
    now = f"Then {state}. " if state else ""
    shown = f"The meters would show {told_readings(case, fault, case.bench.readings)}. "
    if fault == right:
        verdict = "That is what they show."
    else:
        speaking = _loudest(case, right, fault, case.bench.readings)
        verdict = f"But {speaking.short} reads {case.value(right, speaking)}."
    title = f"Suppose {case.supposed(fault)}"
    return worded_step(title, case.reason(fault), now + shown + verdict, waypoint)


def _against_step(case: FaultCase, right: CircuitFault, doubted: CircuitFault, speaking: MeterReading) -> WorkedStep:
    silent = listed([item.short for item in _silent(case, right, doubted)])
    text = (
        f"It would leave {silent} as they are read; but {speaking.short} would be {case.value(doubted, speaking)}, and "
        f"{case.value(right, speaking)} is read."
    )
    return worded_step(f"Why not {case.supposed(doubted)}?", "", text, "against")


def _way_step(case: FaultCase, fault: CircuitFault, reading: MeterReading, key: str) -> WorkedStep:
    goes = WAYS[case.way(fault, reading) or 0]
    state = case.states.get(fault, "")
    healthy, now = case.value(NOTHING, reading), case.value(fault, reading)
    told = f"it stays at {now}" if goes == "stays" else f"it comes from {healthy} to {now} and {goes}"
    text = f"{f'Then {state}; {told}' if state else capitalised(told)}."
    title = f"With {case.supposed(fault)}: {reading.short}"
    return worded_step(title, case.reason(fault), text, key)


def apart_check(
    case: FaultCase, right: CircuitFault, order: Sequence[CircuitFault], readings: Sequence[MeterReading]
) -> Check:
    """The nearest of the other faults on offer, and by what it is told apart."""
    others = [fault for fault in order if fault != right]
    clearest = {fault: _loudest(case, right, fault, readings) for fault in others}
    nearest = min(others, key=lambda fault: _distance(case, right, fault, clearest[fault]))
    item = clearest[nearest]
    text = (
        f"The nearest of the others on offer is {case.supposed(nearest)}, with {case.value(nearest, item)} for "
        f"{item.short} where {case.value(right, item)} is read: a meter tells the two apart"
    )
    return Check(text, case.differs(right, nearest, item), "")


def balance_checks(case: FaultCase, fault: CircuitFault) -> tuple[Check, ...]:
    """What flows at the output with a fault, the load joined: nothing gathers there."""
    told = None if "out" not in case.circuit.nodes else balance(case, fault, "out")
    return () if told is None else (Check(told[0], told[1], ""),)
