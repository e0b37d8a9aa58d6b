"""`steadyrail bench CIRCUIT NAME=VALUE ...`: the same numbers with parts as they are, beside the hand answer."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tutor.errors import BadValue
from tutor.later import later
from tutor.views.commands.speech import json_option, print_json
from tutor.views.pairs import read_pairs

if TYPE_CHECKING:
    from tutor.bench import any_circuit, raw_supply, sweep, whole_supply
    from tutor.quantities import quantity
    from tutor.views import (
        bench_beside,
        bench_plot,
        bench_report,
        bench_shown,
        bench_spread,
        bench_sweep,
        terminal_lines,
    )
else:
    any_circuit = later("tutor.bench.any_circuit")
    raw_supply = later("tutor.bench.raw_supply")
    sweep = later("tutor.bench.sweep")
    whole_supply = later("tutor.bench.whole_supply")
    quantity = later("tutor.quantities.quantity")
    bench_beside = later("tutor.views.bench_beside")
    bench_plot = later("tutor.views.bench_plot")
    bench_report = later("tutor.views.bench_report")
    bench_shown = later("tutor.views.bench_shown")
    bench_spread = later("tutor.views.bench_spread")
    bench_sweep = later("tutor.views.bench_sweep")
    terminal_lines = later("tutor.views.terminal_lines")

_FILE = click.Path(dir_okay=False, path_type=Path)


@click.command("bench")
@click.argument("circuit")
@click.argument("values", nargs=-1, metavar="NAME=VALUE...")
@click.option("--sweep", "swept", default="", metavar="NAME=LOW:HIGH[:COUNT]", help="Move one value; T is temperature.")
@click.option("--of", "of", default="", metavar="NAME", help="What the sweep is about; the output unless said.")
@click.option("--beside", "others", multiple=True, metavar='"CIRCUIT NAME=VALUE..."', help="Lay another over it.")
@click.option("--temperature", default="25", metavar="DEGREES", help="Of every part, in °C; 25 unless said.")
@click.option("--plot", "figure", type=_FILE, help="Write the sweep, or a raw supply in time, as .svg or .png.")
@click.option("--csv", "table", type=_FILE, help="Write the sweep to a file.")
@click.option("--netlist", "deck", type=_FILE, help="Write a deck for ngspice to a file.")
@click.option("--spread", "bands", multiple=True, metavar="NAME=SHARE", help="A tolerance, such as R=5%.")
@click.option("--within", default="", metavar="NAME=LOW:HIGH", help="Limits: how many of the sets keep to them?")
@click.option("--sets", default=2000, show_default=True, metavar="N", help="How many sets of parts are drawn.")
@json_option
def command(
    circuit: str, values: tuple[str, ...], swept: str, of: str, others: tuple[str, ...], temperature: str,
    figure: Path | None, table: Path | None, deck: Path | None, bands: tuple[str, ...], within: str, sets: int,
    as_json: bool,
) -> None:  # fmt: skip
    """Put CIRCUIT on the bench: `steadyrail bench follower V_I=18V R=390 V_Z=10V I_L=0.2A --sweep I_L=0:0.5A`.

    Without values it stands at typical ones. A job in place of a circuit lays the circuits that are made for it over
    each other: `four-regulators`.
    """
    told = read_pairs(values, "V_I=15V")
    degrees = bench_sweep.read_temperature(temperature)
    if table is not None and not swept:
        raise BadValue("--csv writes a sweep: say which with --sweep, such as I_L=0:100mA")
    if of and not swept:
        raise BadValue("--of says what a sweep is about: say which sweep with --sweep, such as I_L=0:100mA")
    if within and not bands:
        raise BadValue("--within asks what parts within their bands do: give a band with --spread, such as R=5%")
    if (others or bench_beside.is_job(circuit)) and (bands or deck is not None):
        raise BadValue("--spread and --netlist are of one circuit; leave --beside out, or name a circuit of the job")
    laid = bench_beside.beside(circuit, told, others, degrees, swept, of)
    alone = laid.reports[0] if len(laid.reports) == 1 else None
    tolerances = read_pairs(bands, "R=5%")
    apart = bench_spread.spread_report(circuit, told, tolerances, within, sets, degrees) if bands else None
    # Everything is worked out before anything is written.
    files: list[tuple[Path, bytes]] = []
    if table is not None:
        files.append((table, bench_sweep.sweep_csv(laid.sweeps).encode()))
    if deck is not None:
        files.append((deck, bench_report.deck_of(circuit, told, degrees).encode()))
    if figure is not None:
        files.append((figure, _figure(laid, _format(figure), circuit, told, degrees)))
    for path, content in files:
        _write(path, content)
    if as_json:
        record = bench_beside.beside_record(laid) if alone is None else bench_report.bench_record(alone)
        print_json(record | ({} if apart is None else {"spread": bench_spread.spread_record(apart)}))
        return
    if alone is None:
        bench_shown.show_beside(terminal_lines.terminal(), laid)
    else:
        bench_shown.show_bench(terminal_lines.terminal(), alone)
    if apart is not None:
        bench_shown.show_spread(terminal_lines.terminal(), apart)


def _format(path: Path) -> str:
    """The format that a file's ending asks for; BadValue for one that is neither PNG nor SVG."""
    if path.suffix.lower() not in (".svg", ".png"):
        raise BadValue(f"--plot {path}: a figure is written as .svg or .png; end the file's name so")
    return path.suffix.lower()[1:]


def _figure(laid: bench_beside.Beside, kind: str, circuit: str, told: dict[str, str], degrees: float) -> bytes:
    """What there is to draw: the sweep, or one raw supply in time."""
    warm = f"parts at {quantity.write(degrees, 'degC')}"
    first = laid.reports[0]
    if laid.sweeps:
        moved = next(iter(laid.sweeps.values())).name
        title = laid.title or (first.title if len(laid.reports) == 1 else "")
        return bench_plot.sweep_figure(laid.sweeps, title, "" if moved == sweep.TEMPERATURE else warm, kind)
    if len(laid.reports) == 1:
        found, numbers = bench_report.own_numbers(circuit, told)
        if raw_supply.is_raw_supply(found) or whole_supply.is_whole_supply(found):
            return bench_plot.wave_figure(*any_circuit.waves_of(found, numbers, degrees), first.title, warm, kind)
    raise BadValue("--plot draws a sweep: say which with --sweep, such as I_L=0:100mA")


def _write(path: Path, content: bytes) -> None:
    try:
        path.write_bytes(content)
    except OSError as error:
        raise BadValue(f"{path} cannot be written: {error.strerror}; name a file in a folder that is there") from error
