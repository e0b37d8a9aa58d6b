"""Fields of a set file read one by one, each refusal naming the file, the line and the field.

Place in the data flow: values of `tomllib` with the lines of `toml_lines.py` -> SetTable -> `set_file.py`, which says
what fields there are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from tutor.errors import BadValue, SteadyrailError, nearest
from tutor.sets.toml_lines import Path

Meant = TypeVar("Meant")


@dataclass(frozen=True)
class SetTable:
    """A table of a set file: its values, the file's name, where in the file it is, and where every key stands.

    Each of its fields is read by what it should be; one that is not raises a SteadyrailError with its place.
    """

    values: Mapping[str, object]
    file: str
    path: Path = ()
    lines: Mapping[Path, int] = field(default_factory=dict, repr=False)

    @property
    def line(self) -> int:
        """The line on which the table begins; 0 for the file as a whole."""
        return self.lines.get(self.path, 0)

    def line_of(self, *keys: str | int) -> int:
        """The line of a key of this table, the table's own where the key is not there."""
        return self.lines.get((*self.path, *keys), self.line)

    def refusal(self, sentence: str, *keys: str | int) -> SteadyrailError:
        """The error for a field (or, without one, for the table): its place, and what is wrong with it."""
        line = self.line_of(*keys)
        place = f"{self.file}, line {line}" if line else self.file
        words = [str(item) for item in (*self.path, *keys) if isinstance(item, str)]
        told = ".".join(word for word in words if word != "questions")
        return BadValue(f"{place}{', ' if told else ''}{told}: {sentence}", file=self.file, line=line, field=told)

    def only(self, fields: Iterable[str]) -> None:
        """Refuses a field that does not belong here, naming the nearest that does."""
        known = tuple(fields)
        for name in self.values:
            if name not in known:
                line = self.line_of(name)
                place = f"{self.file}, line {line}" if line else self.file
                sentence = f"{place} has no use for the field '{name}'; {there_are(name, known)}"
                raise BadValue(sentence, line=line, field=name)

    def text(self, key: str, most: int, default: str | None = None) -> str:
        """A text of one or more characters, up to `most`, without spaces at its ends."""
        value = self.values.get(key, default)
        if not isinstance(value, str) or not value.strip():
            raise self.refusal(f'a text in quotation marks is needed, {key} = "..."', key)
        if len(value) > most:
            raise self.refusal(f"the text has {len(value)} characters; up to {most} are read", key)
        if any(ord(sign) < 32 and sign not in "\n\t\r" for sign in value):
            raise self.refusal("the text holds a control character; take it out", key)
        return value.strip()

    def whole(self, key: str, least: int, most: int, default: int) -> int:
        """A whole number from `least` to `most`."""
        value = self.values.get(key, default)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise self.refusal(f"{shown(value)} is no whole number from {least} to {most}", key)
        return value

    def flag(self, key: str, default: bool) -> bool:
        """true or false."""
        value = self.values.get(key, default)
        if not isinstance(value, bool):
            raise self.refusal(f"{shown(value)} is neither true nor false", key)
        return value

    def one_of(self, key: str, meanings: Mapping[str, Meant], default: str) -> Meant:
        """What one of some words means."""
        value = self.values.get(key, default)
        if not isinstance(value, str) or value not in meanings:
            close = nearest(value, meanings) if isinstance(value, str) else None
            hint = f"did you mean '{close}'?" if close else "one of " + ", ".join(f"'{item}'" for item in meanings)
            raise self.refusal(f"{shown(value)} is not known here; {hint}", key)
        return meanings[value]

    def texts(self, key: str, most: int) -> tuple[str, ...]:
        """An array of texts; none where the key is not there."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, str) and item.strip() for item in value):
            raise self.refusal(f'a list of texts is needed, {key} = ["...", "..."]', key)
        if len(value) > most:
            raise self.refusal(f"the list holds {len(value)} texts; up to {most} are read", key)
        return tuple(item.strip() for item in value)

    def table(self, key: str) -> SetTable:
        """A table within this one; an empty one where it is not there."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            raise self.refusal(f"a table is needed: a line [{key}], and its fields below it", key)
        return SetTable(value, self.file, (*self.path, key), self.lines)

    def words(self) -> dict[str, str]:
        """Every field of this table, each of them a text or a number, as text."""
        found = {}
        for name, value in self.values.items():
            if isinstance(value, bool) or not isinstance(value, str | int | float):
                raise self.refusal(f'a text in quotation marks is needed, {name} = "..."', name)
            found[name] = value.strip() if isinstance(value, str) else str(value)
        return found


def there_are(name: str, known: Sequence[str]) -> str:
    """What would be right instead of a name: the nearest of those there are, else all of them."""
    close = nearest(name, known)
    return f"did you mean '{close}'?" if close else f"there are {', '.join(known)}"


def shown(value: object) -> str:
    """A value as a sentence shows it, cut where it is long."""
    told = repr(value)
    return told if len(told) <= 60 else f"{told[:57]}..."
