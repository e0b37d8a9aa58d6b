"""Whole processes, from start to exit: a first problem at the terminal, and the study site, with stores empty and full.

Each round has a store of its own: empty for the first process, and filled by it for the second.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from plans import Disagreement
from table import Row, Section, figures
from timing import Contender, Effort, Timing, interleaved

import tutor

PROBLEM = ("-m", "tutor", "problem", "zener-resistor", "--level", "2", "--number", "1")
NOTHING, NUMPY = ("-c", "pass"), ("-c", "import numpy")
START_HOW = (
    "Whole processes, start to exit, of python -m tutor problem zener-resistor --level 2 --number 1. Store empty: the "
    "level is derived and planned with sympy, and kept. Store full: it is read back, without sympy. One run of each is "
    "made beforehand, so that bytecode and files are at hand for all."
)
SITE_HOW = (
    "Whole processes of python -m tutor site --out DIR, each round with a new store: empty, then as the empty one left "
    "it. Both sites are the same byte for byte. A later round builds over the folder of the one before."
)


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
        done = subprocess.run(
            [sys.executable, *words], cwd=self.folder, env=environment, capture_output=True, text=True, check=False
        )
        if done.returncode != 0:
            raise RuntimeError(f"python {' '.join(words)} failed: {done.stderr.strip().rpartition(chr(10))[2]}")

    def process(self, words: tuple[str, ...]) -> Contender:
        """A process with the same words each round, whatever stands in the store."""
        return Contender(lambda number: lambda: self.run(words, number))

    def first_process(self, words: tuple[str, ...]) -> Contender:
        """The same, its store required to be empty."""

        def prepare(number: int) -> Callable[[], object]:
            if self.store(number).exists():
                raise RuntimeError(f"the store of round {number} is not empty")
            return lambda: self.run(words, number)

        return Contender(prepare)


def measure_start(effort: Effort) -> Section:
    """What a problem at the terminal costs from nothing, against starting Python."""
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as name:
        ground = Ground(Path(name))
        for words in (PROBLEM, NUMPY):  # a round apart: bytecode is written, files are read into memory
            ground.run(words, -1)
        found = interleaved(
            {
                "empty": ground.first_process(PROBLEM),
                "full": ground.process(PROBLEM),
                "nothing": ground.process(NOTHING),
                "numpy": ground.process(NUMPY),
            },
            effort.rounds,
        )
    python, numpy = "python -c pass", "python -c 'import numpy'"
    ours, full, empty = "problem, store full", found["full"], found["empty"]
    rows = (
        Row(ours, full, "problem, store empty", empty, ""),
        Row(ours, full, numpy, found["numpy"], f"{figures(full.median / found['numpy'].median)} times as long"),
        Row(ours, full, python, found["nothing"], f"{figures(full.median / found['nothing'].median)} times as long"),
        Row("problem, store empty", empty, numpy, found["numpy"], ""),
        Row("problem, store empty", empty, python, found["nothing"], ""),
    )
    return Section(rows, START_HOW)


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


def measure_site(effort: Effort) -> Section:
    """The study site built with an empty store and again with the store that this filled."""

    def site(out: Path) -> tuple[str, ...]:
        return ("-m", "tutor", "site", "--out", str(out))

    with tempfile.TemporaryDirectory(prefix="steadyrail-") as name:
        ground = Ground(Path(name))
        ground.run(("-c", "import tutor.views.commands.site, sympy"), -1)  # bytecode is written before the first round
        cold, warm = ground.folder / "cold", ground.folder / "warm"
        found = interleaved(
            {"empty": ground.first_process(site(cold)), "full": ground.process(site(warm))}, effort.site_rounds
        )
        one, other = contents_of(cold), contents_of(warm)
    return Section((site_row(found["full"], found["empty"], one, other),), SITE_HOW)


def site_row(full: Timing, empty: Timing, cold: Contents, warm: Contents) -> Row:
    """The row; Disagreement unless both stores gave the same site, byte for byte."""
    if cold != warm:
        raise Disagreement("the site built with an empty store and the one with a full store differ")
    told = f"{warm.files} files, {figures(warm.bytes / 1e6)} MB"
    return Row("site, store full", full, "site, store empty", empty, told)
