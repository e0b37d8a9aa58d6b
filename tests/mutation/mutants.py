"""The mutants of a file, by cosmic-ray's operators, and which of them are sampled.

A mutant is one place of the source changed by one operator. Left out are those that cannot tell anything: changes
inside annotations (they are never evaluated), operators that the configuration excludes, lines that it skips.
"""

from __future__ import annotations

import ast
import random
import re
from collections import defaultdict
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

Place = tuple[int, int]


@dataclass(frozen=True)
class Mutant:
    """One change: the operator and which of its places in the file; where that is, from line 1 and column 0."""

    operator: str
    occurrence: int
    start: Place
    end: Place

    def source(self, code: str) -> str:
        """The whole file with this change."""
        changed = mutate_code(code, get_operator(self.operator)(), self.occurrence)
        if changed is None:
            raise ValueError(f"{self.operator} has no place {self.occurrence} here")
        return str(changed)


def mutants_of(code: str, excluded: list[str], skipped: list[str]) -> list[Mutant]:
    """All mutants of a source, in reading order of their places."""
    notes = _annotations(code)
    lines = code.splitlines()
    nodes = list(ast_nodes(get_ast(code)))
    found = []
    for name in operator_names():
        kind = get_operator(name)
        if kind.arguments() or any(re.search(pattern, name) for pattern in excluded):
            continue
        operator = kind()
        places = [place for node in nodes for place in operator.mutation_positions(node)]
        found += [Mutant(name, number, start, end) for number, (start, end) in enumerate(places)]
    kept = [
        item
        for item in found
        if not any(start <= item.start < end for start, end in notes)
        and not any(re.search(pattern, lines[item.start[0] - 1]) for pattern in skipped)
    ]
    return sorted(kept, key=lambda item: (item.start, item.operator, item.occurrence))


def sample(mutants: list[Mutant], size: int, seed: str) -> list[Mutant]:
    """So many mutants: as many places as there can be, then second changes of the same places."""
    shuffled = list(mutants)
    random.Random(seed).shuffle(shuffled)
    by_place: dict[Place, list[Mutant]] = defaultdict(list)
    for item in shuffled:
        by_place[item.start].append(item)
    rounds = [item for turn in zip_longest(*by_place.values()) for item in turn if item is not None]
    return sorted(rounds[:size], key=lambda item: (item.start, item.operator, item.occurrence))


def changed_line(code: str, mutant: Mutant) -> str:
    """The changed line as it is then, without its indentation (more lines where the change spans several)."""
    before, after = code.splitlines(), mutant.source(code).splitlines()
    same = next((number for number, (old, new) in enumerate(zip(before, after, strict=False)) if old != new), 0)
    return after[same].strip()


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


def _annotations(code: str) -> list[tuple[Place, Place]]:
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
