"""The next measurement: two faults that all readings so far leave open, and what must be read to tell them apart.

Which pair is left open, and which further reading parts it, comes from solving the circuit with each fault in it.
Place in the data flow: Bench -> FaultCase -> Posed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from tutor.across.family import Posed, Refused, Setting
from tutor.across.fault_finding import (
    BENCH,
    balance_checks,
    contradiction,
    drawn_case,
    fault_step,
    givens,
    healthy_step,
    meant_circuit,
    reading_rows,
    told_readings,
)
from tutor.across.faults import NOTHING, CircuitFault
from tutor.across.meters import Bench, FaultCase, MeterReading
from tutor.across.points import reading_point, state_point, worded_step
from tutor.across.stated import capitalised, value_rows
from tutor.across.stream import Stream
from tutor.generate.problem import Remark, Waypoint
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Check, Solution, WorkedStep

BAND = 0.02  # of the reading foretold
PAIRS = 4  # on offer
FURTHER = 4  # measurements on offer, at most
LEAST_SILENT = 2  # of them that part nothing

Pair = tuple[CircuitFault, CircuitFault]


@dataclass(frozen=True)
class NextMeasurement:
    """A level: the pair of faults that fits, the one further measurement that parts it, and what that will show."""

    about: str
    benches: tuple[Bench, ...]

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        case = drawn_case(setting, stream, stream.pick("bench", self.benches))
        if isinstance(case, Refused):
            return case
        offers = _open_pairs(case)
        if not offers:
            return Refused("no two faults that the readings leave open and a further measurement parts")
        pair, parting = stream.pick("pair", offers)
        pairs = _pairs(case, pair, stream)
        if len(pairs) < PAIRS:
            return Refused("too few other faults to put beside the two")
        further = stream.order("further", (parting, *stream.some("silent", _silent(case, pair), FURTHER - 1)))
        supposed = max(pair, key=lambda fault: abs(case.shown[fault][parting.id]))
        told = (
            f"{meant_circuit(case)} Just one thing is wrong with it. What the meters show so far stands in the table, "
            "and it fits more than one fault."
        )
        problem = setting.problem(
            circuit=case.circuit.stem, form=case.circuit.form, told=told,
            ask="Say which two faults are left open, what to measure next, and what that meter will show with one of "
            "them.",
            table=(*value_rows(case.circuit, givens(case)), *reading_rows(case, pair[0])), given=givens(case),
            waypoints=(
                _pair_waypoint(case, pair, pairs),
                _next_waypoint(case, pair, parting, further),
                _foretold_waypoint(case, supposed, parting),
            ),
        )  # fmt: skip
        steps = (
            healthy_step(case),
            *(fault_step(case, fault, pair[0], "") for fault in _others(pairs, pair)),
            _pair_step(case, pair),
            _next_step(case, pair, parting, further),
            _foretold_step(case, supposed, parting),
        )
        return Posed(problem, Solution(problem.name, steps, _checks(case, pair, parting), BENCH, (), problem.cautions))


def _open_pairs(case: FaultCase) -> list[tuple[Pair, MeterReading]]:
    """Pairs of faults that all readings so far leave alike, each with a further measurement that tells them apart; two
    others at least must not."""
    found = []
    seen = [fault for fault in case.shown if fault != NOTHING and case.apart(NOTHING, fault, case.bench.readings)]
    for one, other in combinations(seen, 2):
        if all(case.alike(one, other, item) for item in case.bench.readings):
            parting = [item for item in case.bench.also if case.differs(one, other, item)]
            if len(_silent(case, (one, other))) >= LEAST_SILENT:
                found += [((one, other), item) for item in parting]
    return found


def _silent(case: FaultCase, pair: Pair) -> list[MeterReading]:
    """Further measurements that leave both faults of a pair open."""
    return [item for item in case.bench.also if case.alike(*pair, item)]


def _pairs(case: FaultCase, pair: Pair, stream: Stream) -> tuple[Pair, ...]:
    """The pair and others beside it, each with a fault that the readings speak against."""
    unfit = [
        fault
        for fault in case.shown
        if fault != NOTHING and all(case.apart(fault, one, case.bench.readings) for one in pair)
    ]
    wrong = stream.order("unfit", unfit)[:3]
    if len(wrong) < 3:
        return ()
    first, second, third = wrong
    return stream.order("pairs", (pair, (pair[0], first), (second, pair[1]), (first, third)))


def _others(pairs: Sequence[Pair], pair: Pair) -> list[CircuitFault]:
    """The faults on offer that do not fit, each once."""
    return list(dict.fromkeys(fault for item in pairs for fault in item if fault not in pair))


def _words(case: FaultCase, pair: Pair) -> str:
    return f"{case.words(pair[0])}, or {case.words(pair[1])}"


def _pair_waypoint(case: FaultCase, pair: Pair, pairs: Sequence[Pair]) -> Waypoint:
    remarks = []
    for item in pairs:
        if item != pair:
            unfit = next(fault for fault in item if fault not in pair)
            hint = "Both faults of the pair must leave every meter where it stands."
            remarks.append(Remark(_words(case, item), contradiction(case, pair[0], unfit), hint))
    options = tuple(_words(case, item) for item in pairs)
    prompt = "the pair of faults that the readings leave open"
    return state_point("pair", prompt, options, _words(case, pair), remarks)


def _next_waypoint(case: FaultCase, pair: Pair, parting: MeterReading, further: Sequence[MeterReading]) -> Waypoint:
    remarks = tuple(
        Remark(
            item.words,
            f"It shows {case.value(pair[0], item)} with {case.supposed(pair[0])} and {case.value(pair[1], item)} with "
            f"{case.supposed(pair[1])}: it leaves both open.",
            "Which current or voltage must be another when the two faults are told apart?",
        )
        for item in further
        if item != parting
    )
    options = tuple(item.words for item in further)
    prompt = f"what to measure next, to tell {case.supposed(pair[0])} from {case.supposed(pair[1])}"
    return state_point("next", prompt, options, parting.words, remarks)


def _foretold_waypoint(case: FaultCase, fault: CircuitFault, parting: MeterReading) -> Waypoint:
    prompt = f"the {parting.words} with {case.supposed(fault)}"
    return reading_point("foretold", prompt, Quantity(case.shown[fault][parting.id], parting.unit), BAND)


def _pair_step(case: FaultCase, pair: Pair) -> WorkedStep:
    states = [(fault, case.states.get(fault, "")) for fault in pair]
    said = " ".join(f"With {case.supposed(fault)} {state}." for fault, state in states if state)
    shown = f"Both show {told_readings(case, pair[0], case.bench.readings)}, and that is what is read."
    title = f"Two that fit: {case.supposed(pair[0])}, {case.supposed(pair[1])}"
    why = " ".join(dict.fromkeys(case.reason(fault) for fault in pair))
    return worded_step(title, why, f"{said} {shown}".strip(), "pair")


def _next_step(case: FaultCase, pair: Pair, parting: MeterReading, further: Sequence[MeterReading]) -> WorkedStep:
    lines = [f"{item.short} {case.value(pair[0], item)} and {case.value(pair[1], item)}" for item in further]
    text = (
        f"With {case.supposed(pair[0])} and with {case.supposed(pair[1])}, in this order, the meters on offer would "
        f"show {'; '.join(lines)}. Only {parting.short} parts them."
    )
    return worded_step("What would part them", "", text, "next")


def _foretold_step(case: FaultCase, fault: CircuitFault, parting: MeterReading) -> WorkedStep:
    state = case.states.get(fault, "")
    text = f"{f'{capitalised(state)}; ' if state else ''}{parting.short} = {case.value(fault, parting)}."
    title = f"With {case.supposed(fault)}: {parting.short}"
    result = Quantity(case.shown[fault][parting.id], parting.unit)
    return worded_step(title, case.reason(fault), text, "foretold", result=result)


def _checks(case: FaultCase, pair: Pair, parting: MeterReading) -> tuple[Check, ...]:
    alike = all(case.alike(*pair, item) for item in case.bench.readings)
    parted = case.differs(*pair, parting)
    return (
        Check("The readings so far are the same with both faults", alike, ""),
        Check(
            f"{parting.short} is {case.value(pair[0], parting)} with one and {case.value(pair[1], parting)} with the "
            "other: a meter tells the two apart", parted, "",
        ),
        *balance_checks(case, pair[0]),
    )  # fmt: skip
