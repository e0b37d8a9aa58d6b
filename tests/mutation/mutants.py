"""The mutants of a file, by cosmic-ray's operators.

Left out are those that cannot tell anything: changes inside annotations (they are never evaluated), operators that the
configuration excludes, lines that it skips.
"""

from __future__ import annotations

import re

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

from tests.mutation.choosing import Mutant, annotations


def changed_source(code: str, mutant: Mutant) -> str:
    """The whole file with the change; ValueError where the mutant is none of this file."""
    changed = mutate_code(code, get_operator(mutant.operator)(), mutant.occurrence)
    if changed is None:
        raise ValueError(f"{mutant.operator} has no place {mutant.occurrence} here")
    return str(changed)


def mutants_of(code: str, excluded: list[str], skipped: list[str]) -> list[Mutant]:
    """All mutants of a source, in reading order of their places."""
    notes = annotations(code)
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


def changed_line(code: str, mutant: Mutant) -> str:
    """The changed line as it is then, without its indentation (more lines where the change spans several)."""
    before, after = code.splitlines(), changed_source(code, mutant).splitlines()
    same = next((number for number, (old, new) in enumerate(zip(before, after, strict=False)) if old != new), 0)
    return after[same].strip()
