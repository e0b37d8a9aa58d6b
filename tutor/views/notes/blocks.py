"""What notes consist of, whatever they are written in: headings, paragraphs, formulas, tables, lists.

Every text is prose: plain words with formulas of the authors' grammar between dollar signs.
Place in the data flow: problems, answers, derivations -> Note -> Markdown or LaTeX.
"""

from __future__ import annotations

from dataclasses import dataclass

from tutor.solution.solution import Chain


@dataclass(frozen=True)
class Heading:
    """A heading below the title; `level` 1 begins a part of the note, 2 a step."""

    level: int
    text: str


@dataclass(frozen=True)
class Paragraph:
    """A paragraph; `lead` stands before it in bold."""

    text: str
    lead: str = ""


@dataclass(frozen=True)
class Display:
    """Formulas on lines of their own."""

    chain: Chain


@dataclass(frozen=True)
class Table:
    """A table with a row of heads; `widths` are each column's share of the line."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True)
class Listing:
    """Items, one under another."""

    items: tuple[str, ...]


Block = Heading | Paragraph | Display | Table | Listing


@dataclass(frozen=True)
class Note:
    """A whole note: its title, a line below it, its blocks in order."""

    title: str
    aside: str
    blocks: tuple[Block, ...]
