"""Every benchmark in one table of ratios: `python tests/benchmarks/run.py [--quick] [NAME ...]` from the top folder.

A benchmark is a row of BENCHMARKS: a name, a few words, and a function from an Effort to a Section of the table.
pytest collects none of them; the tests beside them hold what must be true however fast the machine is.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass

import benching
import building
import checking
import click
import dragging
import marking
import opening
import papers
import plans
import printing
import remembering
import starting
import worked
from rich.console import Console
from table import PIPED_WIDTH, Section, report
from timing import FULL, QUICK, Effort

from tutor.errors import SteadyrailError, unknown


@dataclass(frozen=True)
class Benchmark:
    """What is measured, in a few words, and what measures it."""

    says: str
    measure: Callable[[Effort], Section]


BENCHMARKS = {
    "plans": Benchmark("a problem's values by compiled plan, against sympy.solve and plain Python", plans.measure),
    "worked": Benchmark("worked problems a second, against their bare arithmetic", worked.measure),
    "checking": Benchmark("lines of working a second, whole workings and line by line", checking.measure),
    "marking": Benchmark("returned workings marked a second, and their feedback sheets", marking.measure),
    "papers": Benchmark("papers of a class, as it grows: time and memory", papers.measure),
    "printing": Benchmark("papers printed a second, against Typst; keys, pages, package, tables", printing.measure),
    "bench": Benchmark("operating points with real parts, against ngspice", benching.measure),
    "dragging": Benchmark("a figure's sliders dragged on a slow machine, against idle frames", dragging.measure),
    "opening": Benchmark("a problem's page opened on a slow machine until it can be used", opening.measure),
    "site": Benchmark("a page of the study site, store empty and full, against jinja2 alone", building.measure),
    "start": Benchmark("each command from start to exit, against starting Python", starting.measure),
    "memory": Benchmark("the most memory the main commands take, against numpy alone", remembering.measure),
}
_LIST = "; ".join(f"{name}: {item.says}" for name, item in BENCHMARKS.items())


@click.command(help=f"Measure the benchmarks named, all of them unless said, and print one table. {_LIST}.")
@click.argument("names", nargs=-1, metavar="[NAME]...")
@click.option("--quick", is_flag=True, help="Few rounds and small batches: a smoke run, not a measurement.")
def command(names: tuple[str, ...], quick: bool) -> None:
    """Run what is named."""
    for name in names:
        if name not in BENCHMARKS:
            raise unknown("benchmark", name, BENCHMARKS)
    told = Console(stderr=True)
    sections: dict[str, Section] = {}
    for name in dict.fromkeys(names or BENCHMARKS):
        if told.is_terminal:  # one line and no moving bar: that would take time from what is measured
            told.print(f"{name}: {BENCHMARKS[name].says} ...")
        sections[name] = BENCHMARKS[name].measure(QUICK if quick else FULL)
    console = Console(highlight=False)
    report(console if console.is_terminal else Console(highlight=False, width=PIPED_WIDTH), sections)


def main(arguments: list[str] | None = None) -> None:
    """Exit status 1: values disagree or a process failed, so nothing is worth timing; 2: a wrong word on the line."""
    try:
        command.main(args=arguments, prog_name="run.py", standalone_mode=False)
    except (plans.Disagreement, RuntimeError) as error:
        _refuse(str(error), 1)
    except SteadyrailError as error:
        _refuse(error.sentence, 2)
    except click.ClickException as error:
        _refuse(error.format_message(), 2)
    except click.Abort:
        _refuse("stopped before it was done", 1)
    sys.exit(0)


def _refuse(sentence: str, status: int) -> None:
    click.echo(f"run.py: {sentence}", err=True)
    sys.exit(status)


if __name__ == "__main__":
    main()
