"""Markdown of the reference pages: headings, tables, text of docstrings.

Place in the data flow: text of the objects -> Markdown -> pages. Source: CommonMark 0.31 and GFM's tables.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable, Sequence

_DOCTEST = re.compile(r"(?m)(?:^>>> .*\n?(?:^(?!\s*$).*\n?)*)+")
_STAR = re.compile(r"(?<!\\)([*<>])")


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table; '' where it has no rows."""
    told = ["| " + " | ".join(cell.replace("|", "\\|") for cell in row) + " |" for row in rows]
    if not told:
        return ""
    return "\n".join(["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads), *told])


def code(text: str) -> str:
    """A name or a value as it is typed; '' stays ''."""
    return f"`{text}`" if text else ""


def plain(text: str) -> str:
    """Words in which nothing is markup, in one line."""
    return _STAR.sub(r"\\\1", " ".join(text.split()))


def docstring(thing: object) -> str:
    """The docstring of an object as paragraphs, its examples as code; '' where it has none of its own."""
    text = inspect.cleandoc(getattr(thing, "__doc__", "") or "")
    return _DOCTEST.sub(lambda match: f"```python\n{match[0].rstrip()}\n```\n", text).strip()


def fenced(text: str, language: str = "") -> str:
    """Lines that are kept as they are."""
    return f"```{language}\n{text.rstrip()}\n```"


def page(title: str, about: str, parts: Iterable[str]) -> str:
    """A whole page; parts that are empty are left out."""
    return "\n\n".join([f"# {title}", about, *(part for part in parts if part)]) + "\n"
