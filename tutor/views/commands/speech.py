"""What every command shares: `--json`, and reading NAME=VALUE words."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import click

from tutor.errors import BadValue

json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")


def print_json(record: dict[str, Any]) -> None:
    """One JSON object on standard output."""
    click.echo(json.dumps(record, ensure_ascii=False, indent=1))


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
