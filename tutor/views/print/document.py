"""A document of ours: page, running head, foot, title. Papers, keys, answer tables, feedback sheets are made with it.

    pen = Pen(look)
    body = joined([title_code("Regulators", "Feedback", left, right), pen.chain(chain), steps_code(pen, steps)])
    pdf = compile_pdf(document_code(body, look, title="Regulators", running="learner 7", foot="seed 3"))

Whatever anybody typed goes through a Pen or `literal`, which make it text and nothing else.
Place in the data flow: code of a body + Look -> `document_code` -> `compile_pdf` (compiler.py) -> bytes.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tutor.sets.paper import Look
from tutor.views.print.typst_text import call, flag, joined, literal

_PAPERS = {"A4": "a4", "Letter": "us-letter"}


def document_code(
    body: str,
    look: Look,
    *,
    title: str,
    running: str = "",
    foot: str = "",
    wide: bool = False,
    functions: str = "",
) -> str:
    """The code of a whole document. `running` stands at the right of each page's head from the second on, `foot` at its
    foot behind the names of the problems that it has; `wide` lays the sheet on its side. All three are plain text.
    `functions` is code of ours that a sort of document has beside `book.typ`."""
    settings = {
        "paper": literal(_PAPERS[look.paper]),
        "wide": flag(wide),
        "title": literal(title),
        "running": literal(running),
        "foot": literal(foot),
    }
    told = ", ".join(f"{name}: {value}" for name, value in settings.items())
    return f"#let large = {flag(look.large)}\n{book_functions()}\n{functions}\n#show: book.with({told})\n#{body}\n"


@cache
def book_functions() -> str:
    """Our page functions, `book.typ`."""
    return Path(__file__).with_name("book.typ").read_text(encoding="utf-8")


def learner_told(id: str, name: str) -> str:
    """A learner's id, and name where it is known, for the head of each page."""
    return f"{id}, {name}" if name else id


def learner_code(id: str, name: str, blank: bool = False) -> str:
    """Whose sheet it is, a line each: the id, then the name; without one, a line to write it on where it is `blank`."""
    lines = [call("named-line", literal("Learner"), literal(id))]
    if name or blank:
        lines += ["linebreak()", call("named-line", literal("Name"), literal(name))]
    return joined(lines)


def title_code(title: str, kind: str, left: str, right: str) -> str:
    """The head of a first page: the title (plain text), what the document is, and code at the left and the right."""
    return call("title-lines", literal(title), literal(kind), left, right)
