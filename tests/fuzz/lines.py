"""The targets of what a learner writes: the reader, the checker, and that the browser's mirror says the same.

What is fed to the checker may begin with a line that names its sheet, `== zener-resistor:2:1`; without one, the sheet
follows from the text. What is fed to the mirror is read like that, and every line of it by both readers.
"""

from __future__ import annotations

import json
import zlib
from dataclasses import replace
from functools import cache

from py_mini_racer import MiniRacer

from tests.fuzz.feed import as_text
from tests.fuzz.watch import at_most, watched
from tests.site.test_checker_mirror import Case, browser, difference
from tests.site.test_reader_mirror import READ_ALL, VOCABULARIES, as_page_has_it, same
from tests.solution.at_hand import sheet
from tutor.solution.sheet import Sheet
from tutor.working.check import MOST_LINES, Checked, check_working
from tutor.working.finding import WRONG, Code
from tutor.working.misreadings import MISREADINGS
from tutor.working.read import read_line
from tutor.working.tree import Columns, Line, LineKind, Node, parts
from tutor.working.tree_data import line_data
from tutor.working.vocabulary import Vocabulary

# Between them: choices and bounds, several states, conventions, a spread, temperatures, a chain of quadratic work.
SHEETS = (
    "zener-resistor:2:1", "follower-design:2:1", "zener-slope:3:1", "zener-state:2:1", "limit-foldback:2:1",
    "opamp-series:2:1", "heat-sink:2:1",
)  # fmt: skip
MOST_CALLS = 150_000  # of functions, for one line read
_MARK = "== "


def read(data: bytes) -> None:
    """One line in one vocabulary, which follows from it: a Line, its columns within the text, nothing done beside."""
    text = as_text(data)
    with watched():
        line = read_line(text, VOCABULARIES[zlib.crc32(data) % len(VOCABULARIES)])
    holds_together(line, text)


def read_everywhere(data: bytes) -> None:
    """One line in every vocabulary, and at a bounded cost: the calls of functions are counted."""
    text = as_text(data)
    for vocabulary in VOCABULARIES:
        with watched(), at_most(MOST_CALLS):
            line = read_line(text, vocabulary)
        holds_together(line, text)


def holds_together(line: Line, text: str) -> None:
    """What is true of every line read, whatever the text."""
    assert isinstance(line, Line)
    assert (line.kind is LineKind.UNREAD) == (line.misread is not None)
    if line.misread is not None:
        assert line.misread.sentence
        assert line.misread.fault in {row.fault.value for row in MISREADINGS}
        within(line.misread.columns, text)
    if line.kind is LineKind.CHAIN:
        assert line.members
        assert len(line.relations) == len(line.members) - (0 if line.continued else 1)
    for relation in line.relations:
        within(relation.columns, text)
        assert relation.sign in "=≈<>≤≥"
    for member in line.members:
        nodes_within(member, text)


def nodes_within(node: Node, text: str) -> None:
    """Every part of a tree has its columns in the text, each inside those of what it is part of."""
    waiting = [node]
    while waiting:
        one = waiting.pop()
        within(one.columns, text)
        waiting += parts(one)


def within(columns: Columns, text: str) -> None:
    """From 1, not turned round, no further than one past the end."""
    assert 1 <= columns[0] <= columns[1] <= len(text) + 1, (columns, text)


@cache
def _sheets() -> dict[str, Sheet]:
    """The sheets by name; the first again, read with a decimal comma."""
    found = {name: sheet(name) for name in SHEETS}
    return found | {"comma": replace(found[SHEETS[0]], decimal_comma=True)}


def posed(data: bytes) -> tuple[Sheet, str, str]:
    """The sheet that is fed, its name, and the working."""
    text = as_text(data)
    first, _, rest = text.partition("\n")
    name = first.removeprefix(_MARK)
    if first.startswith(_MARK) and name in _sheets():
        return _sheets()[name], name, rest
    name = list(_sheets())[zlib.crc32(first.encode("utf-8", "surrogatepass")) % len(_sheets())]
    return _sheets()[name], name, text


def check(data: bytes) -> None:
    """A working: one finding a line that is not blank, each in one of the codes, with its reason, in its columns."""
    held, _, text = posed(data)
    with watched():
        checked = check_working(text, held)
    one_finding_a_line(checked, text, held)


def one_finding_a_line(checked: Checked, text: str, held: Sheet) -> None:
    """What is true of the findings on any working."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")[:MOST_LINES]
    vocabulary = Vocabulary(frozenset(held.symbols))
    filled = [at for at, line in enumerate(lines, 1) if read_line(line, vocabulary).kind is not LineKind.BLANK]
    assert [item.number for item in checked.findings] == filled
    for item in checked.findings:
        assert item.text == lines[item.number - 1]
        assert item.code in Code
        assert item.why or item.code in (Code.HOLDS, Code.HOLDS_HERE), item
        if item.columns is not None:
            within(item.columns, item.text)
    wrong = [item.number for item in checked.findings if item.code in WRONG]
    assert checked.first_wrong == (wrong[0] if wrong else None)


@cache
def _engine() -> MiniRacer:
    engine = browser()
    engine.eval(f"var VOCABULARIES = {json.dumps([as_page_has_it(one) for one in VOCABULARIES])};")
    return engine


def mirror(data: bytes) -> None:
    """Both readers on every line of the text in every vocabulary, both checkers on the whole: the same."""
    held, name, text = posed(data)
    # What a page holds is UTF-16: two halves of a character that stand side by side are that character.
    text = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "surrogatepass")
    told = difference(_engine(), Case(name, held, text, check_working(text, held)))
    assert not told, told
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")[:40]
    cases = [(line, at) for line in lines for at in range(len(VOCABULARIES))]
    _engine().eval(f"var CASES = {json.dumps(cases)};")
    for (line, at), theirs in zip(cases, json.loads(_engine().eval(READ_ALL)), strict=True):
        ours = line_data(read_line(line, VOCABULARIES[at]))
        assert same(theirs, ours), f"{line!r} ({at}): {theirs} and not {ours}"
