"""Circuits laid over each other on the bench: those somebody names, or those made for one job.

Place in the data flow: texts of the terminal -> a BenchReport of each circuit -> Beside -> terminal, JSON, CSV, plots.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tutor.bench.jobs import job_ids, job_of
from tutor.errors import BadValue, SteadyrailError, UnknownName
from tutor.solution.desk import our_desk
from tutor.views.bench_report import BenchReport, BenchRow, bench_record, bench_report
from tutor.views.bench_sweep import SweepReport
from tutor.views.pairs import read_pairs

COMPARED = ("V_O", "I_I", "P_I", "eta", "S_V", "R_OUT", "S_T")  # what tells regulators apart
MOST = 8


@dataclass(frozen=True)
class Beside:
    """Circuits on the bench with what each stands at, in the order told; what they are for, where it is one job."""

    title: str
    reports: tuple[BenchReport, ...]

    @property
    def sweeps(self) -> dict[str, SweepReport]:
        """The sweep of each circuit by its id; empty where none was asked."""
        return {report.circuit: report.sweep for report in self.reports if report.sweep is not None}

    def compared(self) -> dict[str, tuple[BenchRow | None, ...]]:
        """Quantity -> its row of each circuit, of those that tell regulators apart and that some circuit has."""
        found = {
            symbol: tuple(
                next((row for row in report.rows if row.symbol == symbol), None) for report in self.reports
            )
            for symbol in COMPARED
        }
        return {symbol: rows for symbol, rows in found.items() if any(rows)}


def is_job(name: str) -> bool:
    """Whether somebody named a job instead of a circuit."""
    return name in job_ids(our_desk().folder.path)


def beside(
    first: str,
    values: Mapping[str, str],
    others: Sequence[str],
    temperature: float,
    swept: str = "",
    of: str = "",
) -> Beside:
    """Circuit `first` at `values` and each of `others` ("follower R=390 V_Z=10V") laid over it.

    A circuit named alone stands at its typical values. Where `first` is a job, its circuits come first, and `values`
    take the place of what the job says of each circuit that has such a value. What cannot be put on the bench is said
    with the name of its circuit, in the errors of `bench_report`: a SteadyrailError of one kind or another.
    """
    named: list[tuple[str, Mapping[str, str]]] = []
    title = ""
    if is_job(first):
        job = job_of(our_desk().folder.path, first)
        title = job.title
        letters = {circuit: _letters(circuit) | set(told) for circuit, told in job.circuits.items()}
        for name in values:
            if not any(name in known for known in letters.values()):
                raise UnknownName(f"none of the circuits of '{first}' has a value '{name}'")
        for circuit, told in job.circuits.items():
            own = {name: text for name, text in values.items() if name in letters[circuit]}
            named.append((circuit, {**told, **own}))
    else:
        named.append((first, values))
    named += [_told(text) for text in others]
    if len(named) > MOST:
        raise BadValue(f"at most {MOST} circuits are laid over each other (got {len(named)})")
    twice = {circuit for place, (circuit, _) in enumerate(named) if circuit in [name for name, _ in named[:place]]}
    if twice:
        raise BadValue(f"'{min(twice)}' is laid over itself; each circuit is named once")
    if len(named) == 1:
        return Beside(title, (bench_report(first, values, temperature, swept, of),))
    return Beside(title, tuple(_report(circuit, told, temperature, swept, of) for circuit, told in named))


def _report(circuit: str, told: Mapping[str, str], temperature: float, swept: str, of: str) -> BenchReport:
    try:
        return bench_report(circuit, told, temperature, swept, of)
    except SteadyrailError as error:
        sentence = error.sentence if circuit in error.sentence else f"{circuit}: {error.sentence}"
        raise type(error)(sentence, **error.values) from error


def _letters(circuit: str) -> set[str]:
    found = our_desk().circuit(circuit)
    return {symbol for part in found.parts for symbol in part.symbols.values() if symbol} | set(found.typical)


def _told(text: str) -> tuple[str, dict[str, str]]:
    try:
        words = shlex.split(text)
    except ValueError as error:
        raise BadValue(f'--beside "{text}": a quotation mark is not closed') from error
    if not words:
        raise BadValue('--beside names a circuit, with values if any: --beside "follower R=390 V_Z=10V"')
    try:
        return words[0], read_pairs(words[1:], "R=390")
    except BadValue as error:
        raise BadValue(f'--beside "{text}": {error.sentence}') from error


def beside_record(laid: Beside) -> dict[str, Any]:
    """The circuits as JSON, each as `--json` has it alone."""
    return {"title": laid.title, "beside": [bench_record(report) for report in laid.reports]}
