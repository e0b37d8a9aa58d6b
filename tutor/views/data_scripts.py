"""Scripts that hand data to a page: one statement with one literal, the same bytes every time.

A script rather than a file of data, since a page opened from a folder may load the one and not fetch the other.
Place in the data flow: plain data -> text of a script -> files of the site (`packed.py` packs the large ones), or a
page that stands alone.
"""

from __future__ import annotations

import json
from collections.abc import Mapping


def assigned(name: str, data: object, *, ascii_only: bool = True, sort_keys: bool = False) -> str:
    """The script that lays data down as `Steadyrail.NAME`, whatever else has run before it.

    >>> assigned("path", {"stages": []})
    '(window.Steadyrail = window.Steadyrail || {}).path = {"stages":[]};\\n'
    """
    literal = json.dumps(data, ensure_ascii=ascii_only, sort_keys=sort_keys, separators=(",", ":"))
    return f"(window.Steadyrail = window.Steadyrail || {{}}).{name} = {literal};\n"


def tables_script(tables: Mapping[str, object]) -> str:
    """The script with what the reader of lines and the checker know (`assemble.page_tables`)."""
    return assigned("tables", tables, sort_keys=True)


def drawing_script(key: str, strokes: str) -> str:
    """The script with the strokes of a drawing (SVG) in the other national style; it calls `takeDrawing`."""
    return f"Steadyrail.takeDrawing({json.dumps(key)}, {json.dumps(strokes)});\n"
