"""The bench in a terminal: operating points beside hand answers, sweeps, circuits laid over each other, tolerances."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from rich.console import Console

from tutor.quantities.notation import symbol_text
from tutor.quantities.quantity import Quantity, write
from tutor.views.bench_beside import Beside
from tutor.views.bench_report import BenchReport, BenchRow
from tutor.views.bench_spread import SpreadReport, bars
from tutor.views.bench_sweep import SweepReport, SweptQuantity, unit_of
from tutor.views.sketch import sketch
from tutor.views.terminal_lines import columns, heading, paragraph

SHOWN = 11  # lines of a sweep that a terminal shows
_COLUMNS = 4
_LETTERS = "abcdefgh"


def show_bench(console: Console, report: BenchReport) -> None:
    """The operating point beside the hand answer, then the sweep."""
    heading(console, report.title, f"by hand: {report.region}; parts at {write(report.temperature, 'degC')}")
    if not report.settled:
        paragraph(console, "The bench has not settled on an operating point for these numbers.", style="bold")
    if report.assumed:
        console.print()
        told = ", ".join(f"{symbol_text(name)} = {_text(name, value)}" for name, value in report.assumed.items())
        paragraph(console, f"Assumed of the parts: {told}.", style="dim")
    console.print()
    columns(console, [("", "on the bench", "by hand", "apart"), *(_entry(row) for row in report.rows)])
    formulas = [row.formula for row in report.rows if row.formula]
    if formulas:
        console.print()
        paragraph(console, f"By hand: {'; '.join(formulas)}.", style="dim")
    if report.sweep is not None:
        console.print()
        _show_sweep(console, report.sweep)


def _entry(row: BenchRow) -> tuple[str, ...]:
    bench = _known(row.bench)
    hand = "" if row.hand is None else row.hand.text
    apart = "" if row.apart is None else f"{100 * row.apart:+.1f} %".replace("-", "−")
    return symbol_text(row.symbol), bench, hand, apart


def _show_sweep(console: Console, report: SweepReport) -> None:
    names = report.columns[:_COLUMNS]
    _sweep_heading(console, {"": report})
    found = report.run.points.values
    lines = [
        (_text(report.name, report.run.at[place]), *(_text(name, found[name][place]) for name in names))
        for place in _picked(report)
    ]
    columns(console, [(symbol_text(report.name), *map(symbol_text, names)), *lines])
    for item in report.leading:
        told = _change_words(item)
        if told:
            console.print()
            paragraph(console, f"{symbol_text(item.symbol)} {told}.")
    console.print()
    letters = [f"{_LETTERS[place]} {symbol_text(item.symbol)}" for place, item in enumerate(report.leading)]
    shown = ", ".join(letters) if len(letters) > 1 else symbol_text(report.leading[0].symbol)
    _drawn(console, shown, report, [item.bench.tolist() for item in report.leading])


def _picked(report: SweepReport) -> list[int]:
    """The places of a sweep that a terminal shows."""
    return sorted({round(place * (report.run.at.size - 1) / (SHOWN - 1)) for place in range(SHOWN)})


def _sweep_heading(console: Console, reports: Mapping[str, SweepReport]) -> None:
    first = next(iter(reports.values()))
    low, high = (_text(first.name, first.run.at[place]) for place in (0, -1))
    heading(console, f"{symbol_text(first.name)} from {low} to {high}")
    for circuit, report in reports.items():
        if report.run.points.unsettled:
            owner = f"{circuit}: " if circuit else ""
            told = f"{owner}{report.run.points.unsettled} of {report.run.at.size} points have not settled."
            paragraph(console, told, style="bold")


def _change_words(item: SweptQuantity) -> str:
    """How a quantity goes from end to end, as a rate where it is one."""
    if math.isnan(item.change.value):
        return ""
    rate = f", {symbol_text(item.rate[0])} = {item.rate[1].text} on the whole" if item.rate is not None else ""
    return f"changes by {item.change.text} from end to end{rate}"


def _drawn(console: Console, what: str, report: SweepReport, curves: Sequence[Sequence[float]]) -> None:
    paragraph(console, f"{what} over {symbol_text(report.name)}", style="dim")
    for line in sketch(report.run.at.tolist(), *curves):
        console.print("  " + line, highlight=False, markup=False)


def show_beside(console: Console, laid: Beside) -> None:
    """Circuits laid over each other: what tells them apart, then the sweep of all."""
    heading(console, laid.title or "Laid over each other", f"parts at {write(laid.reports[0].temperature, 'degC')}")
    console.print()
    for letter, report in zip(_LETTERS, laid.reports, strict=False):
        settled = "" if report.settled else "; the bench has not settled on an operating point for these numbers"
        paragraph(console, f"{letter}  {report.title} ({report.circuit}), by hand: {report.region}{settled}.")
    console.print()
    lines: list[tuple[str, ...]] = [("", *_LETTERS[: len(laid.reports)])]
    for symbol, rows in laid.compared().items():
        lines.append((symbol_text(symbol), *(_known(row.bench) if row else "" for row in rows)))
        if any(row and row.hand for row in rows):
            lines.append(("  by hand", *(row.hand.text if row and row.hand else "" for row in rows)))
    columns(console, lines)
    if not laid.sweeps:
        return
    console.print()
    _sweep_heading(console, laid.sweeps)
    reports = list(laid.sweeps.values())
    first = reports[0]
    told = [(_text(first.name, first.run.at[place]),
             *(_text(run.leading[0].symbol, run.leading[0].bench[place]) for run in reports))
            for place in _picked(first)]  # fmt: skip
    heads = [f"{_LETTERS[place]} {symbol_text(run.leading[0].symbol)}" for place, run in enumerate(reports)]
    columns(console, [(symbol_text(first.name), *heads), *told])
    console.print()
    for letter, run in zip(_LETTERS, reports, strict=False):
        words = _change_words(run.leading[0])
        paragraph(console, f"{letter}  {symbol_text(run.leading[0].symbol)} {words}." if words else "")
    console.print()
    _drawn(console, ", ".join(heads), first, [run.leading[0].bench.tolist() for run in reports])


def _known(value: Quantity) -> str:
    return "not settled" if math.isnan(value.value) else value.text


def show_spread(console: Console, report: SpreadReport) -> None:
    """What the bands make of each quantity, the share within limits, and how one of them lies."""
    run = report.spread
    told = ", ".join(f"{symbol_text(name)} ±{100 * band:g} %" for name, band in run.bands.items())
    console.print()
    heading(console, "Parts within their bands", told)
    unsettled = run.corners.unsettled + run.chance.unsettled
    if unsettled:
        paragraph(console, f"{unsettled} points have not settled.", style="bold")
    lines = [(symbol_text(name), low.text, high.text) for name, (low, high) in report.ends.items()]
    columns(console, [("", "least", "greatest"), *lines])
    limits = report.within
    if limits is not None:
        ends = f"{_text(limits.symbol, limits.low)} and {_text(limits.symbol, limits.high)}"
        share = f"{100 * limits.share:.1f} % of {run.chance.settled.size} sets drawn by chance"
        paragraph(console, f"{symbol_text(limits.symbol)} between {ends}: {share}.", style="bold")
    if report.drawn:
        console.print()
        paragraph(console, f"{symbol_text(report.drawn)} of sets drawn by chance", style="dim")
        columns(console, [(value.text, bar) for value, bar in bars(report)])


def _text(name: str, value: float) -> str:
    if math.isnan(value):
        return "not settled"
    return write(float(value), unit_of(name), 4)
