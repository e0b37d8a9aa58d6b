"""Tolerances on the bench as somebody asks for them: bands, what they make of each quantity, the share within limits.

Place in the data flow: texts of the terminal -> `bench/spread.py` -> SpreadReport -> terminal, JSON.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tutor.bench.spread import Spread, spread
from tutor.errors import BadValue
from tutor.quantities.quantity import Quantity
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.views.bench_report import own_numbers
from tutor.views.bench_sweep import FIGURES, read_end, unknown_quantity

BARS = 36  # characters of the longest bar of a histogram


@dataclass(frozen=True)
class Within:
    """Limits of a quantity (SI), and the share of the sets drawn by chance that keeps them."""

    symbol: str
    low: float
    high: float
    share: float


@dataclass(frozen=True)
class SpreadReport:
    """The spread, the ends of each quantity at the corners, limits where some were asked, what the histogram is of."""

    spread: Spread
    ends: Mapping[str, tuple[Quantity, Quantity]]
    within: Within | None
    drawn: str


def spread_report(
    circuit: str,
    values: Mapping[str, str | float],
    bands: Mapping[str, str],
    within: str,
    sets: int,
    temperature: float,
) -> SpreadReport:
    """Tolerances on a circuit's own numbers, its typical ones where nothing is told.

    Bands are texts such as 5% or 0.05, limits NAME=LOW:HIGH; raises BadValue or UnknownName where they are not.
    """
    found, numbers = own_numbers(circuit, values)
    shares = {name: _share(name, text) for name, text in bands.items()}
    run = spread(found, numbers, shares, sets, temperature)
    names = [name for name in (*found.report, *run.corners.values) if name in run.corners.values]
    moved = [name for name in dict.fromkeys(names) if run.corners.settled.any() and _moves(run, name)]
    limits = _limits(run, within) if within else None
    ends = {name: _quantities(name, run.ends(name)) for name in moved}
    drawn = limits.symbol if limits else "V_O" if "V_O" in ends else next(iter(ends), "")
    return SpreadReport(run, ends, limits, drawn)


def _moves(run: Spread, name: str) -> bool:
    low, high = run.ends(name)
    return high - low > 1e-9 * max(abs(low), abs(high))


def _share(name: str, text: str) -> float:
    found = read_quantity(text, "%" if "%" in text else "")
    if found.value is None:
        raise BadValue(f"--spread {name}={text}: {found.reason}; write a share such as 5%")
    return found.value


def _limits(run: Spread, text: str) -> Within:
    name, equals, span = text.partition("=")
    name, ends = name.strip(), span.split(":")
    if not equals or len(ends) != 2:
        raise BadValue(f"'{text}' is no pair of limits; write it like V_O=9V:9.5V")
    if name not in run.chance.values:
        raise unknown_quantity(name, run.chance.values)
    low, high = (read_end(end, symbol_for(name).unit, text) for end in ends)
    return Within(name, low, high, run.share_within(name, low, high))


def _quantities(name: str, ends: Sequence[float]) -> tuple[Quantity, Quantity]:
    unit = symbol_for(name).unit
    return Quantity(ends[0], unit, FIGURES), Quantity(ends[1], unit, FIGURES)


def bars(report: SpreadReport) -> list[tuple[Quantity, str]]:
    """A histogram of the quantity drawn: the middle of each part, and a bar as long as its count."""
    if not report.drawn:
        return []
    counts, limits = report.spread.histogram(report.drawn)
    unit, most = symbol_for(report.drawn).unit, max(float(counts.max()), 1.0)
    return [
        (Quantity(float(low + high) / 2, unit, FIGURES), "▇" * round(BARS * float(count) / most))
        for count, low, high in zip(counts, limits[:-1], limits[1:], strict=True)
    ]


def spread_record(report: SpreadReport) -> dict[str, Any]:
    """The report as JSON."""
    run, limits = report.spread, report.within
    histogram: dict[str, Any] | None = None
    if report.drawn:
        counts, edges = run.histogram(report.drawn)
        histogram = {"of": report.drawn, "counts": [int(count) for count in counts], "edges": edges.tolist()}
    return {
        "bands": dict(run.bands),
        "corners": int(run.corners.settled.size),
        "unsettled": run.corners.unsettled + run.chance.unsettled,
        "ends": {name: {"low": low.to_json(), "high": high.to_json()} for name, (low, high) in report.ends.items()},
        "histogram": histogram,
        "within": None if limits is None else {
            "of": limits.symbol, "low": limits.low, "high": limits.high, "share": limits.share,
        },
    }  # fmt: skip
