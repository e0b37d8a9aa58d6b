"""A checked working set as in an exercise book: the lines as typed on the left, what is said of each in the margin.

Vocabulary: a *row* is one row of the page: what stands on the left (with the line's number), what in the margin, and
what the row is for. Columns of a finding are shown by carets under the line, for colour says nothing when printed.
Place in the data flow: findings -> rows of plain text -> terminal, or the text that a checked working shows itself as.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import zip_longest
from textwrap import wrap

from tutor.working.faults import MOST_CHARACTERS
from tutor.working.finding import WRONG, Code, Finding

LEAST_LINE, MOST_LINE = 12, 40  # columns that the lines may take before the margin begins
LEAST_MARGIN = 16
_GAP = 2
_UNSEEN = "\ufffd"  # stands for what a terminal would act on instead of showing
_ACTED_ON = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})


class Weight(Enum):
    """What a row's margin is: a line counted wrong, one that says nothing of right or wrong, any other."""

    WRONG = "wrong"
    ASIDE = "aside"
    PLAIN = "plain"


@dataclass(frozen=True)
class Row:
    """One row: the left side, padded to where the margin begins when there is one, the margin, its weight."""

    left: str
    margin: str
    weight: Weight


def rows_of(findings: Sequence[Finding], width: int) -> tuple[Row, ...]:
    """The rows of a working within `width` columns."""
    if not findings:
        return ()
    figures = max(3, len(str(findings[-1].number)))
    start = figures + _GAP
    longest = max(_columns(shown_line(item.text)) for item in findings)
    line = max(LEAST_LINE, min(longest, MOST_LINE, width - start - _GAP - LEAST_MARGIN))
    margin = max(LEAST_MARGIN, width - start - line - _GAP)
    return tuple(row for item in findings for row in _rows_of_one(item, figures, line, margin, width))


def _rows_of_one(item: Finding, figures: int, line: int, margin: int, width: int) -> Iterator[Row]:
    """A short line has its finding beside it, a long one below it, in the margin too."""
    shown = shown_line(item.text)
    long = _columns(shown) > line
    weight = _weight(item)
    label = f"{item.number:>{figures}}{' ' * _GAP}"
    left = [
        (label if place == 0 else " " * len(label)) + text
        for place, text in enumerate(_with_carets(shown, item, max(line, width - len(label)) if long else line))
    ]
    if not left:
        left = [label]
    said = wrap(_said(item), margin, break_long_words=True, break_on_hyphens=False)
    edge = len(label) + line + _GAP
    # The carets under a long line may leave the margin free: then the finding begins beside them.
    own = [] if not long else [text for text in left[:-1]] if _columns(left[-1]) + _GAP <= edge else left
    for text in own:
        yield Row(text.rstrip(), "", weight)
    for text, told in zip_longest(left[len(own) :], said, fillvalue=""):
        pad = " " * (edge - _columns(text)) if told else ""
        yield Row(f"{text}{pad}" if told else text.rstrip(), told, weight)


def _said(item: Finding) -> str:
    """The finding in words: its code, and why."""
    code, why = item.code.value.replace("-", " "), shown_line(item.why)
    return why if why.startswith(code) else f"{code}: {why}" if why else code  # "note: noted" would say it twice


def _weight(item: Finding) -> Weight:
    if item.code in WRONG:
        return Weight.WRONG
    return Weight.ASIDE if item.code in (Code.NOTE, Code.UNREAD) else Weight.PLAIN


def _with_carets(shown: str, item: Finding, width: int) -> Iterator[str]:
    """A line cut to the width, carets under the columns that the finding is about."""
    first, past = item.columns or (0, 0)
    for begin, piece in _pieces(shown, width):
        yield piece
        inside = range(max(first - 1, begin), min(past - 1, begin + len(piece)))
        if inside:
            before = _columns(shown[begin : inside.start])
            yield " " * before + "^" * max(1, _columns(shown[inside.start : inside.stop]))
        elif first == past == begin + len(piece) + 1 and first:
            yield " " * _columns(piece) + "^"


def _pieces(shown: str, width: int) -> Iterator[tuple[int, str]]:
    """The line in pieces of at most `width` columns, broken after a space, each with the place at which it begins."""
    begin = 0
    while begin < len(shown):
        past, taken = begin, 0
        while past < len(shown) and (past == begin or taken + _columns(shown[past]) <= width):
            taken += _columns(shown[past])
            past += 1
        space = shown.rfind(" ", begin, past)
        if past < len(shown) and space > begin:
            past = space + 1
        yield begin, shown[begin:past]
        begin = past


def shown_line(text: str) -> str:
    """A line as typed, one character for each typed: tabs as spaces, what a terminal would act on made visible, and no
    more of it than could be read."""
    seen = "".join(
        " " if char == "\t" else _UNSEEN if unicodedata.category(char) in _ACTED_ON else char
        for char in text[:MOST_CHARACTERS]
    )
    return f"{seen}…" if len(text) > MOST_CHARACTERS else seen


def _columns(text: str) -> int:
    """How many columns a text takes in a terminal."""
    return sum(_columns_of(text))


def _columns_of(text: str) -> Iterable[int]:
    for char in text:
        if unicodedata.combining(char):
            yield 0
        else:
            yield 2 if unicodedata.east_asian_width(char) in "WF" else 1
