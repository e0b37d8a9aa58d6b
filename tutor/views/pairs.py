"""Words of the form NAME=VALUE, as they are typed in a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.errors import BadValue


def read_pairs(words: Iterable[str], example: str) -> dict[str, str]:
    """NAME=VALUE words as a mapping; BadValue names the word that is none, or one given twice."""
    pairs: dict[str, str] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise BadValue(f"'{word}' is not of the form NAME=VALUE; write it like {example}", word=word)
        if name.strip() in pairs:
            raise BadValue(f"{name.strip()} is given twice ({pairs[name.strip()]} and {value.strip()}); leave one out")
        pairs[name.strip()] = value.strip()
    return pairs
