"""The figures of a class report: how marks lie, what was lost on each question, slips, which questions discriminate.

Place in the data flow: ClassFigures -> matplotlib -> SVG, for pages and for paper. Drawn twice, in ink for light and
for dark pages, since a picture inside a page cannot take the page's colours.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import matplotlib
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from tutor.quantities.symbols import is_symbol
from tutor.sets.class_figures import chance
from tutor.sets.class_marks import ClassFigures
from tutor.views.lettering import mathtext
from tutor.views.press import named_pieces

MOST_SLIPS = 12  # the commonest; the table has them all
_LONGEST = 46  # characters of a name beside a bar
_WIDTH = 6.6  # inches
_STYLE: Any = {
    "font.family": "STIXGeneral", "mathtext.fontset": "stix", "font.size": 10, "axes.spines.top": False,
    "axes.spines.right": False, "axes.linewidth": 0.7, "svg.fonttype": "path", "svg.hashsalt": "steadyrail",
    "text.parse_math": True,
}  # fmt: skip


@dataclass(frozen=True)
class Ink:
    """What a figure is drawn in: lines and letters, bars, a second kind of bar. All #rrggbb."""

    line: str
    bar: str
    other: str


LIGHT = Ink("#1c2330", "#1d4a86", "#d4808f")
DARK = Ink("#e5e3dc", "#a5c8f2", "#f0a3b0")


@dataclass(frozen=True)
class Plot:
    """A figure as SVG for light and for dark pages, and what it says in words."""

    title: str
    says: str
    light: bytes
    dark: bytes


def class_plots(figures: ClassFigures) -> tuple[Plot, ...]:
    """The figures of a report, those that have anything to show."""
    found = []
    if figures.bins:
        found.append(_plot("Distribution of marks", _marks_said(figures), lambda ink: _marks(figures, ink)))
    lost = [(item.question, point) for item in figures.questions for point in item.points]
    if lost:
        found.append(_plot("Marks lost on each thing asked", _lost_said(figures), lambda ink: _lost(figures, ink)))
    if figures.slips:
        found.append(_plot("Slips met", _slips_said(figures), lambda ink: _slips(figures, ink)))
    if any(item.rest is not None for item in figures.questions):
        found.append(_plot("Which question discriminated", _told_apart_said(figures), lambda ink: _apart(figures, ink)))
    return tuple(found)


def _plot(title: str, says: str, draw: Callable[[Ink], bytes]) -> Plot:
    return Plot(title, says, draw(LIGHT), draw(DARK))


def _drawn(height: float, ink: Ink, fill: Callable[[Any], None]) -> bytes:
    colours: Any = {name: ink.line for name in ("axes.edgecolor", "axes.labelcolor", "xtick.color", "ytick.color")}
    with matplotlib.rc_context({**_STYLE, **colours, "text.color": ink.line}):
        figure = Figure(figsize=(_WIDTH, height), layout=ConstrainedLayoutEngine(w_pad=0.06))
        figure.patch.set_alpha(0)
        plot = figure.add_subplot()
        plot.patch.set_alpha(0)
        fill(plot)
        out = io.BytesIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def _marks(figures: ClassFigures, ink: Ink) -> bytes:
    width = figures.of / len(figures.bins)

    def fill(plot: Any) -> None:
        places = [width * place for place in range(len(figures.bins))]
        plot.bar(places, figures.bins, width=width, align="edge", color=ink.bar, edgecolor=ink.line, linewidth=0.6)
        plot.set_xlim(0, figures.of)
        plot.set_xlabel(f"marks of {figures.of}")
        plot.set_ylabel("learners")
        plot.yaxis.get_major_locator().set_params(integer=True)
        if figures.marks is not None:
            plot.axvline(figures.marks.median, color=ink.other, linewidth=1.6, linestyle=(0, (4, 2)))
            plot.annotate(
                f"median {figures.marks.median:g}", (figures.marks.median, 1.0), xycoords=("data", "axes fraction"),
                xytext=(4, -8), textcoords="offset points", va="top",
            )  # fmt: skip
            plot.set_ylim(0, max(figures.bins) * 1.18)

    return _drawn(2.6, ink, fill)


def _marks_said(figures: ClassFigures) -> str:
    width = figures.of / len(figures.bins)
    told = [f"{count} from {width * at:g} to {width * (at + 1):g}" for at, count in enumerate(figures.bins) if count]
    return f"Learners by marks of {figures.of}: {', '.join(told)}."


def _lost(figures: ClassFigures, ink: Ink) -> bytes:
    rows = [(f"Q{item.question}  {_letter(point.waypoint)}", point.share) for item in figures.questions
            for point in item.points]  # fmt: skip

    def fill(plot: Any) -> None:
        _bars(plot, [name for name, _ in rows], [100 * share for _, share in rows], ink)
        plot.set_xlim(0, 100)
        plot.set_xlabel("share of its marks lost (%)")
        at = 0
        for item in figures.questions[:-1]:
            at += len(item.points)
            plot.axhline(at - 0.5, color=ink.line, linewidth=0.4)

    return _drawn(0.8 + 0.24 * len(rows), ink, fill)


def _lost_said(figures: ClassFigures) -> str:
    told = [
        f"question {item.question}: "
        + ", ".join(f"{point.waypoint} {100 * point.share:.0f} %" for point in item.points)
        for item in figures.questions
    ]
    return f"Share of marks lost, {'; '.join(told)}."


def _slips(figures: ClassFigures, ink: Ink) -> bytes:
    rows = figures.slips[:MOST_SLIPS]

    def fill(plot: Any) -> None:
        _bars(plot, [_plain(name) for name, _ in rows], [count for _, count in rows], ink)
        plot.set_xlabel("questions of learners on which it was met")
        plot.xaxis.get_major_locator().set_params(integer=True)

    return _drawn(0.8 + 0.26 * len(rows), ink, fill)


def _slips_said(figures: ClassFigures) -> str:
    return f"{'; '.join(f'{name}: {count}' for name, count in figures.slips[:MOST_SLIPS])}."


def _apart(figures: ClassFigures, ink: Ink) -> bytes:
    """Item-rest correlation and upper-lower index of each question, as two dots on a line."""
    bound = chance(figures.counted)

    def fill(plot: Any) -> None:
        names = [f"Q{item.question}" for item in figures.questions]
        for place, item in enumerate(figures.questions):
            found = [value for value in (item.rest, item.index) if value is not None]
            plot.plot([min([0.0, *found]), max([0.0, *found])], [place, place], color=ink.line, linewidth=0.6)
            if item.rest is not None:
                plot.plot([item.rest], [place], marker="o", color=ink.bar, markersize=6, linestyle="none",
                          label="item-rest correlation" if place == 0 else None)  # fmt: skip
            if item.index is not None:
                plot.plot([item.index], [place], marker="D", markerfacecolor="none", color=ink.other, markersize=6,
                          linestyle="none", label="upper-lower index" if place == 0 else None)  # fmt: skip
        plot.set_yticks(range(len(names)), names)
        plot.invert_yaxis()
        plot.set_xlim(-1.05, 1.05)  # a dot at the very end is whole
        plot.axvline(0, color=ink.line, linewidth=0.7)
        if bound < 1:
            plot.axvspan(-bound, bound, color=ink.line, alpha=0.08, linewidth=0)
        few = "with so few learners any of these may be chance"
        plot.set_xlabel("within the shade a correlation may be chance" if bound < 1 else few)
        plot.legend(loc="lower left", bbox_to_anchor=(0, 1.0), ncols=2, frameon=False, borderaxespad=0.1)

    return _drawn(1.1 + 0.26 * len(figures.questions), ink, fill)


def _told_apart_said(figures: ClassFigures) -> str:
    told = [f"question {item.question}: {number(item.rest)} and {number(item.index)}" for item in figures.questions]
    return f"Item-rest correlation and upper-lower index, {'; '.join(told)}."


def number(value: float | None) -> str:
    """A figure of discrimination to two decimals, a dash where it cannot be said."""
    return "–" if value is None else f"{value:.2f}".replace("-", "−")


def _bars(plot: Any, names: list[str], values: list[float], ink: Ink) -> None:
    places = range(len(names))
    plot.barh(places, values, color=ink.bar, edgecolor=ink.line, linewidth=0.6, height=0.66)
    plot.set_yticks(places, names)
    plot.invert_yaxis()
    plot.margins(y=0.02)


def _plain(name: str) -> str:
    """A name as matplotlib shows it, not as its notation for maths; a long one is cut."""
    told = name if len(name) <= _LONGEST else f"{name[: _LONGEST - 1].rstrip()}…"
    return "".join(
        _letter(piece) if is_letter else piece.replace("$", r"\$") for piece, is_letter in named_pieces(told)
    )


def _letter(key: str) -> str:
    """A letter symbol in matplotlib's notation; any other key as the word it is."""
    return mathtext(key) if is_symbol(key) else key.replace("$", r"\$")
