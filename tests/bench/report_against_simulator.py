"""The bench against ngspice, circuit by circuit: `python -m tests.bench.report_against_simulator` from the top folder.

It prints, for every circuit that has currents or a wave, how many points of its sweeps were compared and the worst
relative difference of each kind of quantity; with `--sets N` instead, which share of N sets drawn about its typical
values does not settle, and how many a second were worked.
"""

from __future__ import annotations

import shutil
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import click
import numpy as np
from rich import box
from rich.console import Console
from rich.table import Table

from tests.bench.against_simulator import Compared, compare_in_time, compare_steady
from tests.bench.conftest import IN_TIME, STEADY, circuit_of, drawn
from tutor.bench.any_circuit import on_the_bench

STEADY_KINDS = ("output", "nodes", "base", "collector", "zener")
TIMED_KINDS = ("V_RIP", "V_TROUGH", "V_PK", "V_DC", "I_CREST", "I_SEC", "V_O", "V_RIP_O")
SPREAD, SEED, AT_ONCE = 0.4, 11, 1000


def table_of(title: str, kinds: Sequence[str], rows: Sequence[Compared]) -> Table:
    """A row a circuit: points, and the worst difference of each kind ('' where it has none)."""
    table = Table(title=title, title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("circuit", no_wrap=True)
    for kind in ("points", *kinds):
        table.add_column(kind, justify="right", no_wrap=True)
    for row in rows:
        cells = (f"{row.worst[kind]:.1e}" if kind in row.worst else "" for kind in kinds)
        table.add_row(row.circuit, str(row.points), *cells)
    return table


def compared(console: Console, names: Sequence[str]) -> None:
    """Sweeps against the simulator."""
    simulator = shutil.which("ngspice")
    if simulator is None:
        raise click.ClickException("ngspice is missing: install it (Debian package ngspice)")
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as folder:
        steady = [compare_steady(name, simulator, Path(folder)) for name in names if name in STEADY]
        timed = [compare_in_time(name, simulator, Path(folder)) for name in names if name in IN_TIME]
    if steady:
        console.print(table_of("Steady circuits, worst relative difference", STEADY_KINDS, steady))
    if timed:
        console.print(table_of("Raw and whole supplies in time, worst relative difference", TIMED_KINDS, timed))
    console.print(f"{sum(row.points for row in (*steady, *timed))} points in all.")


def unsettled(console: Console, names: Sequence[str], sets: int) -> None:
    """Random sets: each typical value moved by up to 40 % either way, independently; the temperature 0 to 70 °C."""
    console.print(f"{'circuit':32} {'sets':>6} {'unsettled':>9} {'share':>8} {'a second':>9}")
    for name in names:
        circuit, left, began = circuit_of(name), 0, time.perf_counter()
        values = drawn(circuit, sets, SEED, SPREAD)
        degrees = np.random.default_rng(SEED).uniform(0.0, 70.0, sets)
        for start in range(0, sets, AT_ONCE):
            part = slice(start, start + AT_ONCE)
            found = on_the_bench(circuit, {key: value[part] for key, value in values.items()}, degrees[part])
            left += found.unsettled
        rate = sets / (time.perf_counter() - began)
        console.print(f"{name:32} {sets:6} {left:9} {left / sets:8.2%} {rate:9.0f}")


@click.command()
@click.argument("names", nargs=-1, metavar="[CIRCUIT]...")
@click.option("--sets", type=click.IntRange(min=1), help="Count the sets that do not settle, of so many.")
def command(names: tuple[str, ...], sets: int | None) -> None:
    """Compare the circuits named (all unless said) with ngspice, or count with --sets what does not settle."""
    there = (*STEADY, *IN_TIME)
    strange = [name for name in names if name not in there]
    if strange:
        raise click.BadParameter(f"the bench has no circuit '{strange[0]}'; it has {', '.join(there)}")
    console = Console(highlight=False, width=120)
    if sets is not None:
        unsettled(console, names or there, sets)
    else:
        compared(console, names or there)


if __name__ == "__main__":
    command()
