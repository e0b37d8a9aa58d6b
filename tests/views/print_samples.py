"""Papers for the tests of print, and what a PDF says when it is read by somebody else's reader."""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Sequence
from functools import cache

from pypdf import PdfReader
from pypdf.generic import StreamObject

from tutor.generate.name import read_name
from tutor.sets.asked import asked
from tutor.sets.paper import Asked, ClassSet, Learner, Look, Paper, Rules
from tutor.solution.desk import our_desk

# Values, choices, states, lines laid out, an arrangement, parts withheld from the drawing.
NAMES = (
    "zener-resistor:2:2", "supply-ripple:3:3", "follower-state:1:1", "find-the-wrong-line:1:1",
    "direction-of-change:1:1", "chain-of-cause:1:1", "complete-the-circuit:1:1",
)  # fmt: skip
NASTY = (
    '#panic("x") #read("/etc/passwd")', '"); #import "x.typ"; ("', "\\u{41} \\\" \\", "$x$ *b* _i_ `c` @r <l>",
    "= Heading // no /* remark */", "- list\n\n+ list", "{{ jinja }} [a]#b", "=1+1",
)  # fmt: skip


@cache
def asked_as(number: int, name: str, marks: int | None = None) -> Asked:
    """A problem as a question; worked once for all tests."""
    return asked(our_desk(), number, read_name(name), marks)


def paper_of(
    names: Sequence[str] = NAMES,
    look: Look | None = None,
    learner: Learner | None = None,
    title: str = "Regulators, second sheet",
    rules: Rules | None = None,
    marks: int | None = None,
) -> Paper:
    """A paper with these problems."""
    learner = learner or Learner("K-07", "Ada Marsh")
    whole = ClassSet(title, 41, (), (learner,), rules=rules or Rules(), look=look or Look(), minutes=90)
    return Paper(whole, learner, tuple(asked_as(place, name, marks) for place, name in enumerate(names, 1)))


def plain(text: str) -> str:
    """Text as it is compared: italic letters of maths as letters, apostrophes straight, every stretch of
    spaces as one."""
    return " ".join(unicodedata.normalize("NFKC", text).replace("’", "'").split())


def text_of(pdf: bytes) -> str:
    """All text of a PDF, page after page."""
    return plain(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages))


def page_texts(pdf: bytes) -> list[str]:
    """The text of each page."""
    return [plain(page.extract_text()) for page in PdfReader(io.BytesIO(pdf)).pages]


def everything_in(pdf: bytes) -> bytes:
    """The whole file with all its streams unpacked: metadata, hidden text and descriptions are somewhere in it."""
    reader = PdfReader(io.BytesIO(pdf))
    pieces = [pdf]
    for number in range(1, len(reader.xref_objStm) + max(reader.xref.get(0, {0: 0})) + 1):
        found = reader.get_object(number)
        pieces.append(repr(found).encode("utf-8", "replace"))
        if isinstance(found, StreamObject):
            pieces.append(found.get_data())
    return b"\n".join(pieces)
