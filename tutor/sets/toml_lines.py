"""Where each key of a TOML text stands, so that a mistake in a set file can be told with its line.

Vocabulary: a *path* leads to a value: keys, and places (from 0) in arrays: ("questions", 2, "marks").
Place in the data flow: the text of a set file, already read by `tomllib`, -> path -> line. `tomllib` gives values
without lines, and only texts that it has accepted are walked over, so that nothing is judged again.
Source of the grammar: TOML v1.0.0 (toml.io), from memory; the tests hold the paths found equal to those of `tomllib`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tutor.errors import SteadyrailError

Path = tuple[str | int, ...]

_SPACE = " \t"
_BREAKS = "\r\n"
_ENDS = ",]}#\r\n"  # of a value that is no string, array or inline table

MOST_NESTED = 40  # tables and arrays inside each other, the parts of a dotted key among them
_LONG_KEY = re.compile(
    rf"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){{{MOST_NESTED}}}""", re.ASCII
)
_GREATEST = 2**63  # TOML v1.0.0: whole numbers of 64 bits are kept, and others are an error


def toml_of(text: str, name: str) -> tuple[dict[str, Any], Mapping[Path, int]]:
    """What a TOML text says, and the line of every key; `name` is what a mistake is told to be in.

    SteadyrailError for what is no TOML, and for what would grow without bound: nesting, numbers of thousands of digits.
    """
    # `tomllib` takes the square of the parts of a dotted key, and a megabyte holds half a million of them.
    if _LONG_KEY.search(text):
        raise SteadyrailError(f"{name} holds a key of more than {MOST_NESTED} parts; no table needs that")
    try:
        told = tomllib.loads(text)
    except RecursionError:
        raise SteadyrailError(f"{name} is not TOML: its brackets nest too deep; no table needs that") from None
    except ValueError as error:  # TOMLDecodeError, or a number of too many digits
        raise SteadyrailError(f"{name} is not TOML: {error}") from error
    waiting: list[tuple[object, int]] = [(told, 0)]
    while waiting:
        value, depth = waiting.pop()
        if depth > MOST_NESTED:
            raise SteadyrailError(f"{name} nests tables and arrays more than {MOST_NESTED} deep; no table needs that")
        if isinstance(value, int) and not -_GREATEST <= value < _GREATEST:
            raise SteadyrailError(f"{name} holds a whole number beyond 64 bits, which TOML does not have; shorten it")
        inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        waiting += [(item, depth + 1) for item in inside]
    return told, lines_of(text)


def lines_of(text: str) -> Mapping[Path, int]:
    """The line (from 1) of every table, key and array element of a TOML text that `tomllib` accepts."""
    scan = _Scan(text)
    scan.document()
    return scan.found


@dataclass
class _Scan:
    """A walk over the text: where it stands, and what it has found so far."""

    text: str
    at: int = 0
    line: int = 1
    found: dict[Path, int] = field(default_factory=dict)
    arrays: dict[Path, int] = field(default_factory=dict)  # arrays of tables, with the place of their last table

    def document(self) -> None:
        """Every table and key, to the end of the text."""
        under: Path = ()
        while self._blank(breaks=True):
            if self.text[self.at] == "[":
                under = self._header()
            else:
                self._pair(under)

    def _step(self, count: int = 1) -> None:
        self.line += self.text.count("\n", self.at, self.at + count)
        self.at += count

    def _here(self, start: str) -> bool:
        return self.text.startswith(start, self.at)

    def _blank(self, *, breaks: bool) -> bool:
        """Passes over spaces, comments and, where asked, line breaks; whether anything is left."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                while self.at < len(self.text) and self.text[self.at] not in _BREAKS:
                    self._step()
            elif self.text[self.at] in _SPACE or (breaks and self.text[self.at] in _BREAKS):
                self._step()
            else:
                return True
        return False

    def _header(self) -> Path:
        """A line [a.b] or [[a.b]]: the path under which the next keys stand. The table it implies (a) is found, too."""
        several = self._here("[[")
        line = self.line
        self._step(2 if several else 1)
        names = self._keys("]")
        self._step(2 if several else 1)
        path: Path = ()
        for name in names[:-1]:
            self.found.setdefault((*path, name), line)
            path = self._last((*path, name))
        path = (*path, names[-1])
        if several:
            self.found.setdefault(path, line)
            self.arrays[path] = self.arrays.get(path, -1) + 1
        path = self._last(path)
        self.found[path] = line
        return path

    def _last(self, path: Path) -> Path:
        """The path, of an array of tables that of its last table."""
        return (*path, self.arrays[path]) if path in self.arrays else path

    def _pair(self, under: Path) -> None:
        """A key with its value; of a dotted key (a.b = 1) every part is found."""
        line = self.line
        path = under
        for name in self._keys("="):
            path = (*path, name)
            self.found.setdefault(path, line)
        self._step()
        self._value(path)

    def _keys(self, end: str) -> list[str]:
        """The parts of a dotted key, up to the sign that ends it."""
        names: list[str] = []
        while True:
            self._blank(breaks=False)
            sign = self.text[self.at]
            if sign == end:
                return names
            if sign == ".":
                self._step()
            elif sign in "\"'":
                start = self.at
                self._string()
                names.append(tomllib.loads(f"key = {self.text[start : self.at]}")["key"])
            else:
                start = self.at
                while self.text[self.at] not in f"{_SPACE}.{end}":
                    self._step()
                names.append(self.text[start : self.at])

    def _value(self, path: Path) -> None:
        self._blank(breaks=True)
        sign = self.text[self.at]
        if sign in "\"'":
            self._string()
        elif sign == "[":
            self._array(path)
        elif sign == "{":
            self._inline(path)
        else:
            while self.at < len(self.text) and self.text[self.at] not in _ENDS:
                self._step()

    def _string(self) -> None:
        quote = self.text[self.at]
        ends = quote * 3 if self._here(quote * 3) else quote
        self._step(len(ends))
        while not self._here(ends):
            self._step(2 if quote == '"' and self._here("\\") else 1)
        self._step(len(ends))
        while len(ends) == 3 and self._here(quote):  # a quote or two may stand right before the closing three
            self._step()

    def _array(self, path: Path) -> None:
        self._step()
        place = 0
        while self._blank(breaks=True) and not self._here("]"):
            if self._here(","):
                self._step()
                continue
            self.found[(*path, place)] = self.line
            self._value((*path, place))
            place += 1
        self._step()

    def _inline(self, path: Path) -> None:
        self._step()
        while self._blank(breaks=True) and not self._here("}"):
            if self._here(","):
                self._step()
            else:
                self._pair(path)
        self._step()
