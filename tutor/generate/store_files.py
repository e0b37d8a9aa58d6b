"""The files of the store: one JSON object each, under a name that changes with all that it was made from.

What is kept is made again at any time: a store that cannot be written is simply not used. Loads nothing heavy.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

Kept = TypeVar("Kept")

_LAYERS = ("quantities", "circuit", "laws", "plan", "generate")


def store_folder() -> Path:
    """Where compiled levels are kept: STEADYRAIL_STORE, else steadyrail in the user's cache folder."""
    named = os.environ.get("STEADYRAIL_STORE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "steadyrail"


@cache
def engine_digest() -> str:
    """A digest of the engine's source, layer by layer."""
    digest = hashlib.sha256()
    root = Path(__file__).resolve().parents[1]
    for layer in _LAYERS:
        for file in sorted((root / layer).iterdir()):
            if file.suffix in (".py", ".txt"):
                digest.update(file.name.encode())
                digest.update(file.read_bytes())
    return digest.hexdigest()


def stored_or_made(
    file: Path, decode: Callable[[dict[str, Any]], Kept], make: Callable[[], dict[str, Any]]
) -> Kept:
    """What `decode` reads in a file of the store; where there is none, or none it can read, what it reads in the data
    that `make` makes, which are kept: so that a second use meets the same."""
    found = read_as(file, decode)
    if found is None:
        data = make()
        keep_stored(file, data)
        found = decode(data)
    return found


def read_as(file: Path, decode: Callable[[dict[str, Any]], Kept]) -> Kept | None:
    """What `decode` reads in a file of the store; None where there is none, or what is stored is of another form."""
    stored = read_stored(file)
    try:
        return None if stored is None else decode(stored)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError):
        return None


def read_stored(file: Path) -> dict[str, Any] | None:
    """The JSON object in a stored file, or None when there is none that can be read."""
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return data if isinstance(data, dict) else None


def keep_stored(file: Path, data: dict[str, Any]) -> None:
    """Write whole or not at all: a reader never meets half a file, and a full disk leaves none behind."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
    except OSError:
        return
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            json.dump(data, out)
        Path(name).replace(file)
    except OSError:
        with suppress(OSError):
            Path(name).unlink()
