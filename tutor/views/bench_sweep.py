"""A sweep as somebody asks for it, what is read off it, what hand analysis says along it, and its table for a file.

Place in the data flow: texts of the terminal -> `bench/sweep.py` -> SweepReport -> terminal, JSON, CSV, plots.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.sweep import TEMPERATURE, Sweep, sweep
from tutor.circuit.circuit import Circuit
from tutor.errors import BadValue, SteadyrailError, UnknownName, nearest
from tutor.quantities.quantity import Quantity
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.quantities.units import difference_unit
from tutor.solution.own import solve

FIGURES = 4
POINTS = "41"
# What a change of the output over the span of a sweep is called, by what is swept, and with which sign.
_RATES: Mapping[str, tuple[str, int]] = {"V_I": ("S_V", 1), "I_L": ("R_OUT", -1), TEMPERATURE: ("S_T", 1)}
OUTPUT = "V_O"
_RAW = ("V_PK", "V_DC", "V_TROUGH")  # what a raw supply is about; of several side by side the mean alone
_FLAT = 1e-9  # of a quantity: a lesser change is the last figures of two numbers


@dataclass(frozen=True)
class SweptQuantity:
    """What a sweep is about: a quantity on the bench and by hand (SI; NaN where there is no answer).

    `change` is how far it goes from the first settled point to the last; `rate` that change over the span as line
    sensitivity, output resistance or drift, where it is an output swept over line, load or temperature.
    """

    symbol: str
    bench: Array
    by_hand: Array
    change: Quantity
    rate: tuple[str, Quantity] | None

    @property
    def has_hand(self) -> bool:
        """Whether hand analysis has an answer anywhere along the sweep."""
        return bool(np.isfinite(self.by_hand).any())


@dataclass(frozen=True)
class SweepReport:
    """A sweep: every quantity it has, in reading order, and those it is about, which stand first."""

    run: Sweep
    columns: tuple[str, ...]
    leading: tuple[SweptQuantity, ...]

    @property
    def name(self) -> str:
        """What is swept."""
        return self.run.name


def outputs(there: Iterable[str]) -> tuple[str, ...]:
    """The output voltages among some quantities: V_O, or V_O_1 and so on of regulators side by side."""
    return tuple(sorted(name for name in there if name == OUTPUT or re.fullmatch(rf"{OUTPUT}_\d", name)))


def sweep_report(
    circuit: Circuit,
    numbers: Mapping[str, float],
    by_hand: Mapping[str, float],
    text: str,
    temperature: float,
    there: Sequence[str],
    of: str = "",
) -> SweepReport:
    """The sweep written NAME=LOW:HIGH[:COUNT] of a circuit's own numbers; `there` are the quantities to show.

    `by_hand` is what `solve` is given. `of` is what it is about, the outputs where nothing is said. Raises BadValue
    for a sweep that cannot be read, UnknownName for a name the circuit does not have.
    """
    run = read_sweep(circuit, numbers, text, temperature)
    shown = [name for name in there if name in run.points.values]
    if of and of not in shown:
        raise unknown_quantity(of, run.points.values)
    first = (of,) if of else outputs(shown) or _raw_voltages(shown) or tuple(shown[:1])
    hand = _by_hand(circuit, by_hand, run, first)
    leading = tuple(SweptQuantity(name, run.points.values[name], hand[name], *_read_off(run, name)) for name in first)
    return SweepReport(run, (*first, *(name for name in shown if name not in first)), leading)


def unknown_quantity(name: str, there: Mapping[str, Array]) -> UnknownName:
    """The complaint about a quantity that the bench does not have."""
    close = nearest(name, there)
    return UnknownName(
        f"the bench has no quantity '{name}' here" + (f"; did you mean '{close}'?" if close else ""), nearest=close
    )


def _raw_voltages(there: Sequence[str]) -> tuple[str, ...]:
    alone = tuple(name for name in _RAW if name in there)
    return alone or tuple(name for name in there if re.fullmatch(r"V_DC_\d", name))


def _read_off(run: Sweep, symbol: str) -> tuple[Quantity, tuple[str, Quantity] | None]:
    found = run.points.values[symbol]
    places = np.flatnonzero(np.isfinite(found))
    if places.size < 2:
        return Quantity(math.nan, symbol_for(symbol).unit, FIGURES), None
    change = float(found[places[-1]] - found[places[0]])
    if abs(change) < _FLAT * float(np.nanmax(np.abs(found))):
        change = 0.0
    span = float(run.at[places[-1]] - run.at[places[0]])
    told = Quantity(change, difference_unit(symbol_for(symbol).unit), FIGURES)
    if run.name not in _RATES or symbol not in outputs([symbol]):
        return told, None
    letter, sign = _RATES[run.name]
    rate = letter + symbol.removeprefix(OUTPUT)
    return told, (rate, Quantity(sign * change / span, symbol_for(rate).unit, FIGURES))


def _by_hand(
    circuit: Circuit, told: Mapping[str, float], run: Sweep, symbols: Sequence[str]
) -> dict[str, Array]:
    """Quantities by hand at each point of a sweep; hand analysis knows no temperature of all parts."""
    found = {symbol: np.full(run.at.shape, math.nan) for symbol in symbols}
    if run.name == TEMPERATURE:
        return found
    for place, value in enumerate(run.at):
        try:
            answer = solve(circuit.id, {**told, run.name: float(value)})
        except SteadyrailError:
            continue  # a place where hand analysis has no state
        for symbol, values in found.items():
            if symbol in answer.values:
                values[place] = answer.values[symbol].value
    return found


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
    low, high = (read_end(end, unit_of(name), text) for end in ends[:2])
    if not low < high:
        raise BadValue(f"'{text}': a sweep runs from the lesser end to the greater")
    count = ends[2] if len(ends) == 3 else POINTS
    if not count.strip().isdecimal():
        raise BadValue(f"'{text}': '{count}' is no number of points; write a whole number")
    return sweep(circuit, numbers, name, low, high, int(count), temperature)


def read_end(text: str, unit: str, whole: str) -> float:
    """One end of a span in SI; BadValue quotes the `whole` of what was typed."""
    found = read_quantity(text.strip(), unit)
    if found.value is None:
        raise BadValue(f"'{whole}': {text.strip()} cannot be read, {found.reason}")
    return found.value


def read_temperature(text: str) -> float:
    """A temperature in °C; BadValue where it is none."""
    return read_end(text, "degC", f"--temperature {text}")


def unit_of(name: str) -> str:
    """The unit of a quantity of a sweep, by its code; '' where it has none."""
    return "degC" if name == TEMPERATURE else symbol_for(name).unit if is_symbol(name) else ""


def _head(name: str, words: str = "") -> str:
    """The head of a column: what it holds, and in which unit."""
    return f"{name}{words} ({unit_of(name).replace('degC', '°C')})"


def sweep_csv(reports: Mapping[str, SweepReport]) -> str:
    """Sweeps as comma-separated values: a head with units, then SI numbers to nine figures.

    Of one circuit: every quantity, those the sweep is about by hand as well. Of several, by id: what each is about.
    """
    run = next(iter(reports.values())).run
    lines: list[tuple[str, Array]] = []
    for circuit, report in reports.items():
        owner = f" of {circuit}" if len(reports) > 1 else ""
        for item in report.leading:
            lines.append((_head(item.symbol, owner), item.bench))
            if item.has_hand:
                lines.append((_head(item.symbol, f"{owner} by hand"), item.by_hand))
        if len(reports) == 1:
            names = report.columns[len(report.leading) :]
            lines += [(_head(name), report.run.points.values[name]) for name in names]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([_head(run.name), *(head for head, _ in lines)])
    for place, value in enumerate(run.at):
        found = (line[place] for _, line in lines)
        writer.writerow([f"{value:.9g}", *("" if math.isnan(item) else f"{item:.9g}" for item in found)])
    return text.getvalue()


def sweep_record(report: SweepReport) -> dict[str, Any]:
    """The sweep as JSON."""
    values = report.run.points.values
    return {
        "name": report.name,
        "at": numbers_of(report.run.at),
        "values": {name: numbers_of(values[name]) for name in report.columns},
        "by_hand": {item.symbol: numbers_of(item.by_hand) for item in report.leading if item.has_hand},
        "change": {
            item.symbol: item.change.to_json() for item in report.leading if not math.isnan(item.change.value)
        },
        "rate": {item.rate[0]: item.rate[1].to_json() for item in report.leading if item.rate is not None},
        "unsettled": report.run.points.unsettled,
    }


def numbers_of(values: Array) -> list[float | None]:
    """An array for JSON, which has no NaN."""
    return [None if math.isnan(value) else float(value) for value in values]
