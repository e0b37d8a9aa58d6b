"""`steadyrail bench CIRCUIT NAME=VALUE ...`: the same numbers with parts as they are, beside the hand answer."""

from __future__ import annotations

import math
from pathlib import Path

import click
from rich.console import Console

from tutor.errors import BadValue
from tutor.quantities.notation import symbol_text
from tutor.quantities.quantity import write
from tutor.views.bench_report import (
    BenchReport,
    BenchRow,
    bench_record,
    bench_report,
    deck_of,
    read_temperature,
    sweep_columns,
    sweep_csv,
    unit_of,
)
from tutor.views.bench_spread import SpreadReport, bars, spread_record, spread_report
from tutor.views.commands.speech import json_option, print_json, read_pairs
from tutor.views.sketch import sketch
from tutor.views.terminal import columns, heading, paragraph, terminal

SHOWN = 11  # lines of a sweep that a terminal shows
_COLUMNS = 4


@click.command("bench")
@click.argument("circuit")
@click.argument("values", nargs=-1, metavar="NAME=VALUE...")
@click.option("--sweep", "swept", default="", metavar="NAME=LOW:HIGH[:COUNT]", help="Move one value; T is temperature.")
@click.option("--temperature", default="25", metavar="DEGREES", help="Of every part, in °C; 25 unless said.")
@click.option("--csv", "table", type=click.Path(dir_okay=False, path_type=Path), help="Write the sweep to a file.")
@click.option(
    "--netlist", "deck", type=click.Path(dir_okay=False, path_type=Path), help="Write a deck for ngspice to a file."
)
@click.option("--spread", "bands", multiple=True, metavar="NAME=SHARE", help="A tolerance, such as R=5%.")
@click.option("--within", default="", metavar="NAME=LOW:HIGH", help="Limits: which share of parts within their bands?")
@click.option("--sets", default=2000, show_default=True, metavar="N", help="How many sets of parts are drawn.")
@json_option
def command(
    circuit: str, values: tuple[str, ...], swept: str, temperature: str, table: Path | None, deck: Path | None,
    bands: tuple[str, ...], within: str, sets: int, as_json: bool,
) -> None:  # fmt: skip
    """Put CIRCUIT on the bench: `steadyrail bench follower V_I=18V R=390 V_Z=10V I_L=0.2A --sweep I_L=0:0.5A`."""
    told = read_pairs(values, "V_I=15V")
    if table is not None and not swept:
        raise BadValue("--csv writes a sweep: say which with --sweep, such as I_L=0:100mA")
    degrees = read_temperature(temperature)
    if within and not bands:
        raise BadValue("--within asks what parts within their bands do: give a band with --spread, such as R=5%")
    report = bench_report(circuit, told, degrees, swept)
    tolerances = read_pairs(bands, "R=5%")
    apart = spread_report(circuit, told, tolerances, within, sets, degrees) if bands else None
    # Everything is worked out before anything is written.
    files = [(table, sweep_csv(report))] if table is not None else []
    files += [(deck, deck_of(circuit, told, degrees))] if deck is not None else []
    for path, text in files:
        _write(path, text)
    if as_json:
        print_json(bench_record(report) | ({} if apart is None else {"spread": spread_record(apart)}))
        return
    show_bench(terminal(), report)
    if apart is not None:
        show_spread(terminal(), apart)


def _write(path: Path, text: str) -> None:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise BadValue(f"{path} cannot be written: {error.strerror}; name a file in a folder that is there") from error


def show_bench(console: Console, report: BenchReport) -> None:
    """The operating point beside the hand answer, then the sweep."""
    heading(console, report.title, f"by hand: {report.region}; parts at {write(report.temperature, 'degC')}")
    if not report.settled:
        paragraph(console, "The bench has not settled on an operating point for these numbers.", style="bold")
    console.print()
    if report.assumed:
        told = ", ".join(f"{symbol_text(name)} = {_text(name, value)}" for name, value in report.assumed.items())
        paragraph(console, f"Assumed of the parts: {told}.", style="dim")
    console.print()
    columns(console, [("", "on the bench", "by hand", "apart"), *(_entry(row) for row in report.rows)])
    if report.sweep is not None:
        console.print()
        _show_sweep(console, report)


def _entry(row: BenchRow) -> tuple[str, ...]:
    bench = "not settled" if math.isnan(row.bench.value) else row.bench.text
    hand = "" if row.hand is None else row.hand.text
    apart = "" if row.apart is None else f"{100 * row.apart:+.1f} %".replace("-", "−")
    return symbol_text(row.symbol), bench, hand, apart


def _show_sweep(console: Console, report: BenchReport) -> None:
    run = report.sweep
    assert run is not None
    names = sweep_columns(report)[:_COLUMNS]
    moved = symbol_text(run.name)
    heading(console, f"{moved} from {_text(run.name, run.at[0])} to {_text(run.name, run.at[-1])}")
    if run.points.unsettled:
        paragraph(console, f"{run.points.unsettled} of {run.at.size} points have not settled.", style="bold")
    picked = sorted({round(place * (run.at.size - 1) / (SHOWN - 1)) for place in range(SHOWN)})
    lines = [
        (_text(run.name, run.at[place]), *(_text(name, run.points.values[name][place]) for name in names))
        for place in picked
    ]
    columns(console, [(moved, *map(symbol_text, names)), *lines])
    if names:
        console.print()
        paragraph(console, f"{symbol_text(names[0])} over {moved}", style="dim")
        for line in sketch(run.at.tolist(), run.points.values[names[0]].tolist()):
            console.print("  " + line, highlight=False, markup=False)


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
    return write(float(value), "degC" if unit_of(name) == "°C" else unit_of(name), 4)
