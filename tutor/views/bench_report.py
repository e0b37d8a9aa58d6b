"""What the bench finds beside what hand analysis finds, and sweeps as tables, files and sketches.

Place in the data flow: somebody's own numbers -> `solve` and the bench -> BenchReport -> terminal, JSON, CSV.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tutor.bench.any_circuit import on_the_bench
from tutor.bench.curves import ROOM_CELSIUS
from tutor.bench.points import BenchPoints, bench_deck
from tutor.bench.sweep import TEMPERATURE, read_off
from tutor.circuit.circuit import Circuit
from tutor.errors import SteadyrailError
from tutor.quantities.expression import Expr, Sym
from tutor.quantities.notation import plain, symbol_text
from tutor.quantities.quantity import Quantity, write
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.answer import WorkedAnswer
from tutor.solution.desk import our_desk
from tutor.solution.own import solve
from tutor.solution.own_values import read_own
from tutor.views.bench_sweep import FIGURES, OUTPUT, SweepReport, outputs, sweep_record, sweep_report

_FLAT = 1e-9  # of the output, per ampere, volt or kelvin: less is the last figures of two voltages
_STEP = 1e-4  # of a value: the step by which a slope of hand analysis is read off
# Letter of the slope of an output, what moves it, and the sign.
_SLOPES = (("S_V", "V_I", 1), ("R_OUT", "I_L", -1), ("S_T", TEMPERATURE, 1))


@dataclass(frozen=True)
class BenchRow:
    """A quantity on the bench, by hand where hand analysis gives it, and how far apart (as a share of that).

    `formula` is the relation derived for a slope, "R_OUT = R ∥ r_z" ('' for quantities read off directly).
    """

    symbol: str
    bench: Quantity
    hand: Quantity | None
    apart: float | None
    formula: str = ""


@dataclass(frozen=True)
class BenchReport:
    """The operating point of somebody's own numbers on the bench, beside the hand answer; a sweep where one was asked.

    `assumed` are values of the parts that nobody told and that are not the hand answer's either.
    """

    circuit: str
    title: str
    region: str
    temperature: float
    values: Mapping[str, float]
    rows: tuple[BenchRow, ...]
    settled: bool
    assumed: Mapping[str, float]
    sweep: SweepReport | None


def bench_report(
    circuit: str,
    values: Mapping[str, str | float],
    temperature: float = ROOM_CELSIUS,
    swept: str = "",
    of: str = "",
) -> BenchReport:
    """The bench on a circuit's own numbers; `swept` is written NAME=LOW:HIGH or NAME=LOW:HIGH:COUNT.

    `of` is the quantity of the sweep to lead with. Raises what `solve` raises, BadValue for a sweep that cannot be
    read and UnknownName for a quantity that the bench does not have.
    """
    found, own = own_numbers(circuit, values)
    points = on_the_bench(found, own, temperature)
    hand = _values_by_hand(found, own, points.assumed)
    answer = solve(found.id, hand)
    rows = [
        _row(name, float(points.values[name][0]), answer.values.get(name))
        for name in (*found.report, *points.values)
        if name in points.values and name not in own and is_symbol(name)
    ]
    rows += _slope_rows(found, own, points, hand, temperature)
    unique = tuple({row.symbol: row for row in rows}.values())
    names = [row.symbol for row in unique]
    run = sweep_report(found, own, hand, swept, temperature, names, of) if swept else None
    return BenchReport(
        found.id, found.title, answer.region, temperature, own, unique, bool(points.settled[0]),
        {name: value for name, value in points.assumed.items() if is_symbol(name)}, run,
    )  # fmt: skip


def own_numbers(circuit: str, values: Mapping[str, str | float]) -> tuple[Circuit, dict[str, float]]:
    """The circuit and what was told of it in SI; its typical values where nothing was told. Raises as `solve` does."""
    found, told = our_desk().circuit_for(circuit, values)
    return found, dict(read_own(found, told or dict(found.typical)).numbers)


def _values_by_hand(
    circuit: Circuit, numbers: Mapping[str, float], assumed: Mapping[str, float]
) -> dict[str, float]:
    """What was told with what the bench assumed of the parts; without the latter where the two do not go together."""
    both = {**{name: value for name, value in assumed.items() if name in circuit.constants}, **numbers}
    try:
        solve(circuit.id, both)
    except SteadyrailError:
        return dict(numbers)
    return both


def _slope_rows(
    circuit: Circuit, numbers: Mapping[str, float], points: BenchPoints, hand: Mapping[str, float], temperature: float
) -> Sequence[BenchRow]:
    """Slopes of each output read off the bench by small steps, where what moves it is there."""
    made = []
    for output in outputs(points.values):
        for letter, by, sign in _SLOPES:
            if by != TEMPERATURE and by not in numbers:
                continue
            symbol = letter + output.removeprefix(OUTPUT)
            slope = sign * read_off(circuit, numbers, output, by, temperature)
            least = _FLAT * abs(float(points.values[output][0]))
            by_hand, formula = _slope_by_hand(circuit, hand, symbol, output, by)
            made.append(_row(symbol, 0.0 if abs(slope) < least else slope, by_hand, formula))
    return made


def _slope_by_hand(
    circuit: Circuit, told: Mapping[str, float], symbol: str, output: str, by: str
) -> tuple[Quantity | None, str]:
    """A slope as hand analysis has it, with its derived relation; without one, from its answers a small step apart."""
    try:
        answer = solve(circuit.id, told, [symbol])
        return answer.values[symbol], _formula(symbol, answer)
    except SteadyrailError:
        pass  # no relation for it follows from these numbers
    if by == TEMPERATURE or output in told:
        return None, ""
    middle = told[by]
    step = max(_STEP * abs(middle), 1e-9)
    try:
        low, high = (solve(circuit.id, {**told, by: middle + way * step}).values[output].value for way in (-1, 1))
    except (SteadyrailError, KeyError):
        return None, ""
    slope = (high - low) / (2 * step) * (-1 if symbol.startswith("R_OUT") else 1)
    return Quantity(0.0 if abs(slope) < _FLAT * abs(high) else slope, symbol_for(symbol).unit), ""


def _formula(symbol: str, answer: WorkedAnswer) -> str:
    """The relation by which hand analysis came to a quantity, '' where it did not."""
    for step in answer.steps:
        for chain in step.chains:
            if chain.first == Sym(symbol):
                relation: Expr = chain.rest[0][1]
                return f"{symbol_text(symbol)} = {plain(relation)}"
    return ""


def _row(name: str, value: float, hand: Quantity | None, formula: str = "") -> BenchRow:
    unit = symbol_for(name).unit
    quantity = Quantity(value, unit, FIGURES)
    apart = None if hand is None or hand.value == 0 or math.isnan(value) else value / hand.value - 1
    return BenchRow(name, quantity, hand, apart, formula)


def bench_record(report: BenchReport) -> dict[str, Any]:
    """The report as the JSON that `--json` promises."""
    record: dict[str, Any] = {
        "circuit": report.circuit,
        "region": report.region,
        "temperature": {"value": report.temperature, "unit": "degC", "text": write(report.temperature, "degC")},
        "settled": report.settled,
        "assumed": dict(report.assumed),
        "values": {
            row.symbol: {
                "bench": row.bench.to_json() if not math.isnan(row.bench.value) else None,
                "hand": None if row.hand is None else row.hand.to_json(),
                "apart": row.apart,
                **({"formula": row.formula} if row.formula else {}),
            }
            for row in report.rows
        },
    }
    if report.sweep is not None:
        record["sweep"] = sweep_record(report.sweep)
    return record


def deck_of(circuit: str, values: Mapping[str, str | float], temperature: float) -> str:
    """The ngspice deck of somebody's own numbers."""
    return bench_deck(*own_numbers(circuit, values), temperature)
