"""What is mutated. Collected where the extra `mutation` is installed (conftest.py)."""

from __future__ import annotations

import ast
import tomllib

from tests.mutation.choosing import HERE
from tests.mutation.mutants import changed_line, changed_source, mutants_of

CONFIG = tomllib.loads((HERE / "mutation.toml").read_text(encoding="utf-8"))

CODE = '''"""A doc."""
from functools import cache


@cache
def total(a: int | None, b: int) -> int | None:
    if a is None:
        return 1
    return a + b
'''


def test_mutants_change_what_is_evaluated():
    """Not annotations, nor lines that are skipped; each mutant is one change of one line and still reads."""
    found = mutants_of(CODE, CONFIG["excluded"], CONFIG["skipped_lines"])
    changes = {changed_line(CODE, mutant) for mutant in found}
    told = {" ".join(line.split()) for line in changes}
    assert {"return a - b", "if a is not None:", "return 0", "return 2"} <= told
    assert not any("cache" in line or "def " in line for line in changes)
    assert not any(word in mutant.operator for mutant in found for word in ("BitOr", "LShift", "_Is_Eq"))
    for mutant in found:
        ast.parse(changed_source(CODE, mutant))
