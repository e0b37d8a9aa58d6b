"""Catalogues of standard parts: one CSV file each, read into frozen rows.

Vocabulary: a *catalogue* is a file of `problems/parts`; a *row* is one part; a *field* is one cell of it.
Place in the data flow: files of parts -> rows in SI, from which families draw and solutions choose.

How a file is written:

    # Source: who printed these figures            any number of # lines, kept as the catalogue's source
    type,V_Z,tol,I_ZT                              names of the columns; the first one names the part
    text,V,%,mA                                    a unit, with or without prefix, or `text`
    1N4728A,3.3,5,76                               numbers as the data sheet prints them

A number may be left out where the data sheet has none: it then reads as nan, which no bound admits.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cache
from pathlib import Path
from types import MappingProxyType

from tutor.errors import BadValue, nearest
from tutor.quantities.units import prefixes, units

TEXT = "text"
MISSING = math.nan

Row = Mapping[str, float | str]


@dataclass(frozen=True)
class Catalogue:
    """A catalogue whole; numbers in SI (per cent as fractions); `units` holds a unit code, or `text`, per column."""

    name: str
    columns: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[Row, ...]
    source: str

    def row(self, part: str) -> Row:
        """The row of one part, by what its first column says; BadValue names the nearest."""
        for row in self.rows:
            if row[self.columns[0]] == part:
                return row
        names = [str(row[self.columns[0]]) for row in self.rows]
        close = nearest(part, names)
        hint = f"did you mean '{close}'?" if close else f"it has {', '.join(names[:5])} …"
        raise BadValue(f"the catalogue '{self.name}' has no part '{part}'; {hint}", part=part, nearest=close)


def read_catalogue(path: Path) -> Catalogue:
    """The catalogue in a CSV file, named after it; BadValue names file, line and field of a mistake."""
    source: list[str] = []
    lines: list[tuple[int, list[str]]] = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if line.startswith("#"):
            source.append(line.lstrip("# ").rstrip())
        elif line.strip():
            lines.append((number, [cell.strip() for cell in next(csv.reader([line]))]))
    if not any(line.startswith("Source:") for line in source):
        raise BadValue(f"{path.name}: a line '# Source: ...' must say where the figures come from", file=path.name)
    if len(lines) < 3:
        raise BadValue(f"{path.name}: needs a line of column names, a line of units and at least one part")
    columns = _columns(path.name, *lines[0])
    scales = _scales(path.name, columns, *lines[1])
    rows = tuple(_row(path.name, number, columns, scales, cells) for number, cells in lines[2:])
    seen: dict[float | str, int] = {}
    for (number, _), row in zip(lines[2:], rows, strict=True):
        part = row[columns[0]]
        if seen.setdefault(part, number) != number:
            raise BadValue(f"{path.name}, line {number}, {columns[0]}: '{part}' already stands on line {seen[part]}")
    codes = tuple(TEXT if scale is None else scale[0] for scale in scales)
    return Catalogue(path.stem.replace("_", "-"), columns, codes, rows, " ".join(source))


def _columns(file: str, number: int, names: list[str]) -> tuple[str, ...]:
    for name in names:
        if not name or names.count(name) > 1:
            raise BadValue(f"{file}, line {number}: each column needs a name of its own (got '{name}')")
    return tuple(names)


@cache
def _typed_units() -> Mapping[str, tuple[str, int]]:
    """Each unit with each prefix as a file may write it -> unit code and power of ten to SI."""
    table: dict[str, tuple[str, int]] = {"1": ("", 0)}
    for code, unit in units().items():
        if code:
            table.setdefault(code, (code, -unit.shown_power))
            for prefix in unit.prefixes:
                table.setdefault(f"{prefix}{code}", (code, prefixes()[prefix].power - unit.shown_power))
    return MappingProxyType(table)


def _scales(file: str, columns: tuple[str, ...], number: int, cells: list[str]) -> tuple[tuple[str, int] | None, ...]:
    _same_length(file, number, columns, cells)
    scales: list[tuple[str, int] | None] = []
    for column, cell in zip(columns, cells, strict=True):
        if cell != TEXT and cell not in _typed_units():
            close = nearest(cell, [TEXT, *_typed_units()])
            hint = f"; did you mean '{close}'?" if close else ""
            raise BadValue(f"{file}, line {number}, {column}: there is no unit '{cell}'{hint}", field=column)
        scales.append(None if cell == TEXT else _typed_units()[cell])
    return tuple(scales)


def _same_length(file: str, number: int, columns: tuple[str, ...], cells: list[str]) -> None:
    if len(cells) != len(columns):
        raise BadValue(
            f"{file}, line {number}: expected {len(columns)} fields, {', '.join(columns)} (got {len(cells)})",
            file=file, line=number,
        )  # fmt: skip


def _row(
    file: str, number: int, columns: tuple[str, ...], scales: tuple[tuple[str, int] | None, ...], cells: list[str]
) -> Row:
    _same_length(file, number, columns, cells)
    row: dict[str, float | str] = {}
    for column, scale, cell in zip(columns, scales, cells, strict=True):
        if scale is None:
            if not cell:
                raise BadValue(f"{file}, line {number}, {column}: must not be empty", field=column)
            row[column] = cell
        else:
            row[column] = _number(f"{file}, line {number}, {column}", cell, scale[1])
    return MappingProxyType(row)


def _number(where: str, cell: str, power: int) -> float:
    if not cell:
        return MISSING
    try:
        number = Decimal(cell)
    except InvalidOperation:
        number = Decimal("nan")
    if not number.is_finite():
        raise BadValue(f"{where}: must be a number (got '{cell}')", text=cell)
    # The decimal point is moved in the text, so that 76 mA is the float nearest 0.076.
    return float(number.scaleb(power))
