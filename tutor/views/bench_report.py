"""What the bench finds beside what hand analysis finds, and sweeps as tables, files and sketches.

Place in the data flow: somebody's own numbers -> `solve` and the bench -> BenchReport -> terminal, JSON, CSV.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tutor.bench.any_circuit import on_the_bench
from tutor.bench.points import ROOM_CELSIUS, bench_deck
from tutor.bench.sweep import TEMPERATURE, Sweep, read_off, sweep
from tutor.circuit.circuit import Circuit
from tutor.errors import BadValue, SteadyrailError, UnknownName, nearest
from tutor.quantities.quantity import Quantity, write
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.answer import WorkedAnswer
from tutor.solution.desk import our_desk
from tutor.solution.own import solve
from tutor.solution.own_values import read_own

FIGURES = 4
_FLAT = 1e-9  # of a slope, in SI: below it what is read off is the last figures of two voltages
_SLOPES = (("S_V", "V_O", "V_I", 1), ("R_OUT", "V_O", "I_L", -1), ("S_T", "V_O", TEMPERATURE, 1))


@dataclass(frozen=True)
class BenchRow:
    """A quantity on the bench, by hand where hand analysis gives it, and how far apart (as a share of that)."""

    symbol: str
    bench: Quantity
    hand: Quantity | None
    apart: float | None


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
    sweep: Sweep | None


def bench_report(
    circuit: str, values: Mapping[str, str | float], temperature: float = ROOM_CELSIUS, swept: str = ""
) -> BenchReport:
    """The bench on a circuit's own numbers; `swept` is written NAME=LOW:HIGH or NAME=LOW:HIGH:COUNT.

    Raises what `solve` raises, and BadValue for a sweep that cannot be read.
    """
    found, plain = our_desk().circuit_for(circuit, values)
    own = read_own(found, plain)
    points = on_the_bench(found, own.numbers, temperature)
    answer = _by_hand(circuit, values, found, points.assumed)
    run = read_sweep(found, own.numbers, swept, temperature) if swept else None
    rows = [
        _row(name, float(points.values[name][0]), answer.values.get(name))
        for name in (*found.report, *points.values)
        if name in points.values and name not in own.numbers and is_symbol(name)
    ]
    rows += _slope_rows(found, own.numbers, answer.values, temperature)
    unique = tuple({row.symbol: row for row in rows}.values())
    return BenchReport(
        found.id, found.title, answer.region, temperature, own.numbers, unique, bool(points.settled[0]),
        {name: value for name, value in points.assumed.items() if is_symbol(name)}, run,
    )  # fmt: skip


def _by_hand(
    circuit: str, values: Mapping[str, str | float], found: Circuit, assumed: Mapping[str, float]
) -> WorkedAnswer:
    """The hand answer with what the bench assumed of the parts as well; without it where the two do not go together."""
    parts = {name: value for name, value in assumed.items() if name in found.constants}
    try:
        return solve(circuit, {**parts, **values})
    except SteadyrailError:
        return solve(circuit, values)


def _slope_rows(
    circuit: Circuit, numbers: Mapping[str, float], hand: Mapping[str, Quantity], temperature: float
) -> Sequence[BenchRow]:
    """Slopes read off the bench by small steps, where the output and what moves it are there."""
    made = []
    for symbol, of, by, sign in _SLOPES:
        if by != TEMPERATURE and by not in numbers:
            continue
        if of not in {word.symbol for word in circuit.nodes.values()}:
            continue
        slope = sign * read_off(circuit, numbers, of, by, temperature)
        made.append(_row(symbol, 0.0 if abs(slope) < _FLAT else slope, hand.get(symbol)))
    return made


def _row(name: str, value: float, hand: Quantity | None) -> BenchRow:
    unit = symbol_for(name).unit
    quantity = Quantity(value, unit, FIGURES)
    apart = None if hand is None or hand.value == 0 or math.isnan(value) else value / hand.value - 1
    return BenchRow(name, quantity, hand, apart)


def read_sweep(circuit: Circuit, numbers: Mapping[str, float], text: str, temperature: float) -> Sweep:
    """NAME=LOW:HIGH[:COUNT] as a sweep; BadValue says how one is written, UnknownName names the nearest value."""
    name, equals, span = text.partition("=")
    ends = span.split(":")
    if not equals or len(ends) not in (2, 3):
        raise BadValue(f"'{text}' is no sweep; write it like I_L=0:100mA or V_I=12V:20V:17")
    name = name.strip()
    known = {symbol for part in circuit.parts for symbol in part.symbols.values() if symbol} | {TEMPERATURE}
    if name not in known:
        close = nearest(name, known)
        hint = f"did you mean '{close}'?" if close else f"{TEMPERATURE} sweeps the temperature"
        raise UnknownName(f"'{circuit.id}' has no value '{name}' to sweep; {hint}", nearest=close)
    unit = "degC" if name == TEMPERATURE else symbol_for(name).unit
    low, high = (_end(end, unit, text) for end in ends[:2])
    if not low < high:
        raise BadValue(f"'{text}': a sweep runs from the lesser end to the greater")
    count = ends[2] if len(ends) == 3 else "41"
    if not count.strip().isdecimal():
        raise BadValue(f"'{text}': '{count}' is no number of points; write a whole number")
    return sweep(circuit, numbers, name, low, high, int(count), temperature)


def _end(text: str, unit: str, whole: str) -> float:
    found = read_quantity(text.strip(), unit)
    if found.value is None:
        raise BadValue(f"'{whole}': {text.strip()} cannot be read, {found.reason}")
    return found.value


def read_temperature(text: str) -> float:
    """A temperature in °C; BadValue where it is none."""
    return _end(text, "degC", f"--temperature {text}")


def sweep_columns(report: BenchReport) -> tuple[str, ...]:
    """The quantities of a sweep, the output first."""
    assert report.sweep is not None
    there = [row.symbol for row in report.rows if row.symbol in report.sweep.points.values]
    return tuple(sorted(there, key=lambda name: name != "V_O"))


def sweep_csv(report: BenchReport) -> str:
    """The sweep as comma-separated values: a head with units, then SI numbers to nine figures."""
    assert report.sweep is not None
    names = sweep_columns(report)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    head = [report.sweep.name, *names]
    writer.writerow([f"{name} ({unit_of(name)})" for name in head])
    for place, value in enumerate(report.sweep.at):
        writer.writerow([f"{value:.9g}", *(f"{report.sweep.points.values[name][place]:.9g}" for name in names)])
    return text.getvalue()


def unit_of(name: str) -> str:
    """The unit of a column of a sweep."""
    return "°C" if name == TEMPERATURE else symbol_for(name).unit if is_symbol(name) else ""


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
            }
            for row in report.rows
        },
    }
    if report.sweep is not None:
        columns = {name: _numbers(report.sweep.points.values[name]) for name in sweep_columns(report)}
        record["sweep"] = {
            "name": report.sweep.name, "at": _numbers(report.sweep.at), "values": columns,
            "unsettled": report.sweep.points.unsettled,
        }  # fmt: skip
    return record


def _numbers(values: Any) -> list[float | None]:
    return [None if math.isnan(value) else float(value) for value in values]


def deck_of(circuit: str, values: Mapping[str, str | float], temperature: float) -> str:
    """The ngspice deck of somebody's own numbers."""
    found, plain = our_desk().circuit_for(circuit, values)
    return bench_deck(found, read_own(found, plain).numbers, temperature)
