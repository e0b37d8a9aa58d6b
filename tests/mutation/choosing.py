"""What is mutated and with which tests, as mutation.toml lists it; which mutants are sampled; which tests a line has.

A mutant is one place of a source changed by one operator. Nothing here needs the tool that makes them.
"""

from __future__ import annotations

import ast
import random
from collections import defaultdict
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
Place = tuple[int, int]


@dataclass(frozen=True)
class Mutant:
    """One change: the operator and which of its places in the file; where that is, from line 1 and column 0."""

    operator: str
    occurrence: int
    start: Place
    end: Place


def sample(mutants: list[Mutant], size: int, seed: str) -> list[Mutant]:
    """So many mutants: as many places as there can be, then second changes of the same places."""
    shuffled = list(mutants)
    random.Random(seed).shuffle(shuffled)
    by_place: dict[Place, list[Mutant]] = defaultdict(list)
    for item in shuffled:
        by_place[item.start].append(item)
    rounds = [item for turn in zip_longest(*by_place.values()) for item in turn if item is not None]
    return sorted(rounds[:size], key=lambda item: (item.start, item.operator, item.occurrence))


def statement_lines(code: str) -> dict[int, range]:
    """For each line the lines of its statement; of a compound statement, of its head alone."""
    spans: dict[int, range] = {}
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.stmt) and node.end_lineno is not None:
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if isinstance(body, list) and body else node.end_lineno
            for number in range(node.lineno, max(last, node.lineno) + 1):
                if number not in spans or len(spans[number]) > last - node.lineno + 1:
                    spans[number] = range(node.lineno, max(last, node.lineno) + 1)
    return spans


def annotations(code: str) -> list[tuple[Place, Place]]:
    """Where annotations stand."""
    found = []
    for node in ast.walk(ast.parse(code)):
        notes: list[ast.expr | None] = []
        if isinstance(node, ast.AnnAssign | ast.arg):
            notes = [node.annotation]
        elif isinstance(node, ast.FunctionDef):
            notes = [node.returns]
        found += [
            ((note.lineno, note.col_offset), (note.end_lineno or note.lineno, note.end_col_offset or 0))
            for note in notes
            if note is not None
        ]
    return found


def read(path: Path) -> str:
    """A source file."""
    return path.read_text(encoding="utf-8")


@dataclass(frozen=True)
class Listed:
    """A file, the tests that should kill its mutants, how many mutants are sampled, whose store of levels is used."""

    path: str
    tests: tuple[str, ...]
    size: int
    own_store: bool


def listed(config: dict) -> list[Listed]:
    """The files of mutation.toml."""
    found = []
    for part in config["part"]:
        for name, tests in part["files"].items():
            path = f"{part['folder']}/{name}"
            module = path.removesuffix(".py").replace("/", ".")
            common = [test.format(module=module) for test in config["every"]]
            size = part.get("sizes", {}).get(name, part["sample"])
            found.append(Listed(path, (*tests, *common), size, part["own_store"]))
    return found
