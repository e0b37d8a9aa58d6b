"""Whole processes, from start to exit, with stores empty and full, and what they have written.

Each round has a store of its own: empty for the first process, and filled by it for the second.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from timing import Contender, children_time

import tutor


@dataclass(frozen=True)
class Ground:
    """A scratch folder that processes run in; the stores and what they write stand there."""

    folder: Path

    def store(self, number: int) -> Path:
        """The store of a round."""
        return self.folder / f"store-{number}"

    def run(self, words: tuple[str, ...], number: int) -> None:
        """A Python process with these words, over the store of a round. RuntimeError when it fails."""
        source = Path(tutor.__file__).resolve().parents[1]  # the package measured here, installed or not
        environment = {**os.environ, "PYTHONPATH": str(source), "STEADYRAIL_STORE": str(self.store(number))}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)  # a user's Python keeps it
        done = subprocess.run(
            [sys.executable, *words], cwd=self.folder, env=environment, capture_output=True, text=True, check=False
        )
        if done.returncode != 0:
            raise RuntimeError(f"python {' '.join(words)} failed: {done.stderr.strip().rpartition(chr(10))[2]}")

    def process(self, words: tuple[str, ...], store: int | None = None) -> Contender:
        """A process with the same words each round, over the store of the round or of the one told."""

        def prepare(number: int) -> Callable[[], object]:
            return lambda: self.run(words, number if store is None else store)

        return Contender(prepare, clock=children_time)

    def first_process(self, words: tuple[str, ...]) -> Contender:
        """The same, its store required to be empty."""

        def prepare(number: int) -> Callable[[], object]:
            if self.store(number).exists():
                raise RuntimeError(f"the store of round {number} is not empty")
            return lambda: self.run(words, number)

        return Contender(prepare, clock=children_time)


@dataclass(frozen=True)
class Contents:
    """What a folder holds: files, bytes, and a digest of all names and contents."""

    files: int
    bytes: int
    digest: str


def contents_of(folder: Path) -> Contents:
    """Count and digest the files under a folder."""
    digest, size = hashlib.sha256(), 0
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    for path in files:
        content = path.read_bytes()
        size += len(content)
        digest.update(f"{path.relative_to(folder)}\0{len(content)}\0".encode() + content)
    return Contents(len(files), size, digest.hexdigest())
