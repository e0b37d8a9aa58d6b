"""A problem's name: its whole recipe, `family:level:number[@edition][+assumption=value]...`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from tutor.errors import BadValue

_SHAPE = re.compile(
    r"([a-z][a-z0-9-]*):([0-9]+):([0-9]+)(?:@([0-9]+))?((?:\+[A-Za-z0-9_.-]+=[A-Za-z0-9_.%-]+)*)", re.ASCII
)
GREATEST_NUMBER = 10**9
LONGEST_NAME = 400  # characters; a name is typed or pasted, never a document


@dataclass(frozen=True)
class ProblemName:
    """The parts of a name; `edition` 0 means whatever edition is current."""

    family: str
    level: int
    number: int
    edition: int = 0
    assumed: Mapping[str, str] = field(default_factory=dict)

    def __str__(self) -> str:
        edition = f"@{self.edition}" if self.edition else ""
        assumed = "".join(f"+{name}={value}" for name, value in sorted(self.assumed.items()))
        return f"{self.family}:{self.level}:{self.number}{edition}{assumed}"


def read_name(text: str) -> ProblemName:
    """A problem's name from its text; BadValue says what a name looks like.

    >>> read_name("zener-resistor:2:17").number
    17
    """
    match = _SHAPE.fullmatch(text.strip()) if len(text) <= LONGEST_NAME else None
    if match is None:
        raise BadValue(f"'{text[:60]}' is no problem name; one looks like zener-resistor:2:17", text=text)
    family, level, number, edition, tail = match.groups()
    if not 1 <= int(number) <= GREATEST_NUMBER:
        raise BadValue(f"the number in '{text[:60]}' must lie between 1 and {GREATEST_NUMBER}", text=text)
    assumed: dict[str, str] = {}
    for item in tail.split("+")[1:]:
        key, value = item.split("=", 1)
        if key in assumed:
            raise BadValue(f"'{text[:60]}' assumes {key} twice; leave one out", text=text)
        assumed[key] = value
    return ProblemName(family, int(level), int(number), int(edition or 0), assumed)
