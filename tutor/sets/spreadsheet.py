"""Tables as spreadsheets have them: what cuts their cells apart, and cells that are text whatever a learner typed.

Spreadsheets of different countries write a comma, a semicolon or a tab between cells (RFC 4180 has the comma). A cell
that begins with = + - @, a tab or a carriage return may be run as a formula when a table is opened; an apostrophe
before it makes it text. Source: OWASP's advice on CSV injection, from memory; common practice.
"""

from __future__ import annotations

_CUTS = (",", ";", "\t")
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
_WIDE = str.maketrans("＝＋－＠", "=+-@")  # their full-width forms, which some spreadsheets take for the same


def cut_of(line: str) -> str:
    """What stands between the cells of a table: the cut that its first line has most of, the comma where it has none.

    >>> cut_of("id;name"), cut_of("17")
    (';', ',')
    """
    return max(_CUTS, key=line.count)


def safe_cell(text: str) -> str:
    """The text as a cell of a table: with an apostrophe before it where a spreadsheet might run it.

    >>> safe_cell("=1+1"), safe_cell("Lind"), safe_cell("  -x")
    ("'=1+1", 'Lind', "'  -x")
    """
    told = text.replace("\0", "")
    start = told.lstrip(" \u00a0\ufeff").translate(_WIDE)
    return f"'{told}" if start.startswith(_STARTS) else told
