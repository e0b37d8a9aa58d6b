"""Sweeps and waves as a figure in a file, PNG or SVG, set like one of a textbook.

Place in the data flow: SweepReports, or one charging period of a raw supply -> matplotlib -> a file. The terminal names
this file for later, so that matplotlib is loaded when a figure is asked for, and no sooner.
"""

from __future__ import annotations

import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import matplotlib
import numpy as np
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from tutor.bench.curves import Array
from tutor.bench.raw_supply import RawWave
from tutor.bench.sweep import TEMPERATURE
from tutor.quantities.symbols import symbol_for
from tutor.quantities.units import prefixes, unit_for
from tutor.views.bench_sweep import OUTPUT, SweepReport
from tutor.views.lettering import mathtext

_DOTS_PER_INCH = 200
_MOMENTS = 1201  # of a wave
_SIZE = (6.6, 4.0)  # inches
# Inks that stay apart for readers who do not see all colours (after Okabe and Ito, 2008) and, in the same order, kinds
# of line that stay apart in grey.
_INKS = ("#000000", "#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00", "#666666")
_LINES: Sequence[Any] = (
    "-", (0, (7, 2)), (0, (4, 1.5, 1, 1.5)), (0, (1, 1)), (0, (9, 2, 2, 2)), (0, (2, 2)), (0, (5, 1)), (0, (3, 3)),
)  # fmt: skip
_STYLE: Any = {
    "font.family": "STIXGeneral", "mathtext.fontset": "stix", "font.size": 11, "axes.spines.top": False,
    "axes.spines.right": False, "axes.linewidth": 0.7, "axes.grid": True, "grid.linewidth": 0.4,
    "grid.color": "#cccccc", "svg.fonttype": "path", "svg.hashsalt": "steadyrail", "axes.formatter.useoffset": False,
}  # fmt: skip
_GAP = 0.055  # of the height of a figure, between two names at the ends of curves


@dataclass(frozen=True)
class Curve:
    """A curve of a figure: its name, and what it shows (SI; NaN leaves a gap). `is_hand` draws it thin and broken."""

    name: str
    values: Array
    is_hand: bool = False


def sweep_figure(sweeps: Mapping[str, SweepReport], title: str, below: str, kind: str) -> bytes:
    """What sweeps are about over what is swept: one circuit with its hand answer, or several by their ids."""
    first = next(iter(sweeps.values()))
    curves, symbols = [], []
    for owner, report in sweeps.items():
        for item in report.leading:
            name = owner if len(report.leading) == 1 else mathtext(item.symbol)
            several = len(sweeps) > 1 or len(report.leading) > 1
            curves.append(Curve(name if several else "on the bench", item.bench))
            if item.has_hand and not several:
                curves.append(Curve("by hand", item.by_hand, is_hand=True))
            symbols.append(item.symbol)
    shared = symbols[0] if len(set(symbols)) == 1 else symbols[0].split("_")[0]
    unit = symbol_for(symbols[0]).unit
    swept_unit = "degC" if first.name == TEMPERATURE else symbol_for(first.name).unit
    return _drawn(
        [(first.run.at, _axis(first.name, swept_unit, first.run.at), curves, shared, unit)], title, below, kind
    )


def wave_figure(waves: Mapping[str, RawWave], output: Array | None, title: str, below: str, kind: str) -> bytes:
    """Raw supplies in time, by the letter of their mean voltage: reservoirs over the currents that charge them.

    Curves of one supply are drawn alike in both. The time is two charging periods of the one that is charged least
    often. `output` is the rail of a whole supply over one charging period (V).
    """
    longest = max(float(wave.seconds[-1, 0]) for wave in waves.values())
    volts, amperes = [], []
    at = np.linspace(0.0, 2.0 * longest, _MOMENTS)
    for letter, wave in waves.items():
        seconds = wave.seconds[:, 0]
        within = at % seconds[-1]
        told = mathtext(letter) if len(waves) > 1 or output is not None else ""
        volts.append(Curve(told, np.interp(within, seconds, wave.volts[:, 0])))
        amperes.append(Curve("", np.interp(within, seconds, wave.amperes[:, 0])))
        if output is not None:
            volts.append(Curve(mathtext(OUTPUT), np.interp(within, seconds, output[:, 0])))
    axis = _axis("t", "s", at)
    where = "across the reservoir" if output is None else "of reservoir and rail"
    told = f"v {where}, i the current that charges the reservoir" + (f"; {below}" if below else "")
    return _drawn([(at, axis, volts, "v", "V"), (at, axis, amperes, "i", "A")], title, told, kind)


_Panel = tuple[Array, tuple[str, float], Sequence[Curve], str, str]


def _drawn(panels: Sequence[_Panel], title: str, below: str, kind: str) -> bytes:
    with matplotlib.rc_context(_STYLE):
        size = (_SIZE[0], _SIZE[1] + 1.6 * (len(panels) - 1))
        figure = Figure(figsize=size, layout=ConstrainedLayoutEngine(w_pad=0.08))
        plots = figure.subplots(len(panels), 1, sharex=True, squeeze=False)[:, 0]
        for plot, (at, across, curves, symbol, unit) in zip(plots, panels, strict=True):
            told = [curve.values for curve in curves]
            up = _axis(symbol, unit, np.concatenate(told))
            _curves(plot, at * across[1], [Curve(one.name, one.values * up[1], one.is_hand) for one in curves])
            plot.set_ylabel(up[0])
            plot.margins(x=0)
        plots[-1].set_xlabel(panels[-1][1][0])
        figure.suptitle(title, fontsize=12, x=0.02, ha="left")
        if below:
            figure.supxlabel(below, fontsize=9, x=0.02, ha="left", color="#444444")
        out = io.BytesIO()
        figure.savefig(out, format=kind, dpi=_DOTS_PER_INCH, metadata={"Date": None} if kind == "svg" else {})
    return out.getvalue()


def _curves(plot: Any, at: Array, curves: Sequence[Curve]) -> None:
    """The curves, each named at its right end; names that would meet are moved apart."""
    own = 0
    inks = []
    for curve in curves:
        if curve.is_hand:
            plot.plot(at, curve.values, color="#666666", linewidth=1.1, linestyle=(0, (5, 3)))
            inks.append("#666666")
            continue
        plot.plot(at, curve.values, color=_INKS[own % 8], linestyle=_LINES[own % 8], linewidth=1.6)
        inks.append(_INKS[own % 8])
        own += 1
    low, high = plot.get_ylim()
    ends = {place: curve.values[np.isfinite(curve.values)] for place, curve in enumerate(curves) if curve.name}
    last = -math.inf
    for height, place in sorted((float(found[-1]), place) for place, found in ends.items() if found.size):
        last = max((height - low) / (high - low), last + _GAP)
        plot.annotate(
            curves[place].name, (1.0, last), xycoords="axes fraction", xytext=(5, 0), textcoords="offset points",
            va="center", color=inks[place], annotation_clip=False,
        )  # fmt: skip


def _axis(symbol: str, unit: str, values: Array) -> tuple[str, float]:
    """What stands at an axis, `V_O (mV)`, and by what values in SI are to be multiplied for it."""
    row = unit_for(unit)
    size = float(np.nanmax(np.abs(values), initial=0.0)) * 10.0**row.shown_power
    powers = {prefix: prefixes()[prefix].power for prefix in row.prefixes}
    fitting = [prefix for prefix in row.prefixes if 10.0 ** powers[prefix] <= size]
    best = max(fitting, key=powers.__getitem__) if fitting else min(row.prefixes, key=powers.__getitem__)
    if not size and "" in row.prefixes:
        best = ""
    told = f"{best}{row.printed}"
    return f"{mathtext(symbol)} ({told})" if told else mathtext(symbol), 10.0 ** (row.shown_power - powers[best])
