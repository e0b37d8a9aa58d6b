"""A note in Markdown, maths between dollar signs: as most editors of notes and repositories read it.

Source of the syntax: CommonMark 0.31 for what must be escaped; tables and dollar maths are the common extensions.
"""

from __future__ import annotations

import re

from tutor.views.notes.blocks import Block, Display, Heading, Note, Paragraph, Table
from tutor.views.notes.latex import chain_rows, latex_formula, without_alignment
from tutor.views.prose_pieces import set_prose

_ESCAPED = re.compile(r"([\\`*_\[\]#|])")
_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;", "$": "&#36;", "~": "&#126;"}
_LIST = re.compile(r"^([0-9]+)([.)])(?=\s|$)")
_BULLET = re.compile(r"^([-+])")
_UNDERLINE = re.compile(r"^=")  # a line of these makes a heading of the one before


def markdown_text(note: Note) -> str:
    """The whole note as Markdown."""
    parts = [f"# {_line(note.title)}"]
    if note.aside:
        parts.append(f"*{_line(note.aside)}*")
    parts += [_block(block) for block in note.blocks]
    return "\n\n".join(parts) + "\n"


def markdown_words(text: str) -> str:
    """Plain words with everything escaped that Markdown would take for its own."""
    return _ESCAPED.sub(r"\\\1", "".join(_ENTITIES.get(letter, letter) for letter in text))


def _block(block: Block) -> str:
    if isinstance(block, Heading):
        return f"{'#' * (block.level + 1)} {_prose(block.text)}"
    if isinstance(block, Paragraph):
        lead = f"**{_prose(block.lead)}:**" if block.lead else ""
        return " ".join(filter(None, (lead, _prose(block.text) if lead else _line(block.text))))
    if isinstance(block, Display):
        return _display(block)
    if isinstance(block, Table):
        return _table(block)
    return "\n".join(f"- {_line(item)}" for item in block.items)


def _display(block: Display) -> str:
    rows = chain_rows(block.chain)
    if len(rows) == 1:
        return f"$$\n{without_alignment(rows)[0]}\n$$"
    body = " \\\\\n".join(rows)
    return f"$$\n\\begin{{aligned}}\n{body}\n\\end{{aligned}}\n$$"


def _table(block: Table) -> str:
    rows = [block.head, ("---",) * len(block.head)]
    lines = [rows[0], rows[1], *block.rows]
    return "\n".join(
        f"| {' | '.join(cell if row is rows[1] else _prose(cell) for cell in row)} |" for row in lines
    )  # fmt: skip


def _line(text: str) -> str:
    """Prose that begins a line: what would begin a list or a heading there does not."""
    written = _prose(text)
    return _UNDERLINE.sub("&#61;", _BULLET.sub(r"\\\1", _LIST.sub(r"\1\\\2", written)))


def _prose(text: str) -> str:
    flat = " ".join(re.split(r"[ \t\r\n]+", text))
    return set_prose(flat, markdown_words, lambda formula: f"${latex_formula(formula, text)}$")
