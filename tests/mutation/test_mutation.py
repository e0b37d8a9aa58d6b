"""Mutation testing's own parts, without its runs: what is mutated, what is sampled, what is said of survivors."""

from __future__ import annotations

import ast
import tomllib
from pathlib import Path

import pytest

from tests.mutation.child import module_name, resting_on
from tests.mutation.choosing import HERE, ROOT, Mutant, annotations, listed, sample, statement_lines

CONFIG = tomllib.loads((HERE / "mutation.toml").read_text(encoding="utf-8"))
SURVIVORS = tomllib.loads((HERE / "survivors.toml").read_text(encoding="utf-8"))["survivor"]
FILES = listed(CONFIG)


@pytest.mark.parametrize("entry", SURVIVORS, ids=lambda entry: f"{entry['file']}: {entry['change'][:40]}")
def test_an_explained_survivor_is_still_that_of_the_code(entry: dict[str, str]):
    """Its line stands in the file as quoted, the change is one that is made of that line, and a reason is given."""
    code = _code(entry["file"])
    assert entry["line"] in [line.strip() for line in code.splitlines()]
    assert entry["line"] != entry["change"]
    assert len(entry["why"].split()) >= 3


def test_no_survivor_is_explained_twice():
    """One row for one change of one line."""
    keys = [(entry["file"], entry["line"], entry["change"]) for entry in SURVIVORS]
    assert len(set(keys)) == len(keys)


def test_every_file_of_laws_and_plan_is_mutated():
    """None is left out, and what is listed exists, tests and beginnings of their names included."""
    paths = {item.path for item in FILES}
    for folder in ("laws", "plan"):
        there = {f"tutor/{folder}/{path.name}" for path in (ROOT / "tutor" / folder).glob("*.py")}
        assert there - {f"tutor/{folder}/__init__.py"} <= paths
    assert all((ROOT / path).is_file() for path in paths)
    for item in FILES:
        for test in item.tests:
            file, _, beginning = test.partition("::")
            names = [node.name for node in ast.walk(ast.parse(_code(file))) if isinstance(node, ast.FunctionDef)]
            beginning = beginning.partition("[")[0]
            assert any(name.startswith(beginning or "test_") for name in names), test


FOUND = [Mutant(f"operator {number}", 0, (line, 4), (line, 5)) for line in (1, 2, 3) for number in range(line)]


def test_a_sample_has_its_places_first_and_is_the_same_again():
    """As many places as it can have, by the seed alone; all mutants where it is large."""
    few = sample(FOUND, 3, "seed")
    assert {mutant.start[0] for mutant in few} == {1, 2, 3}
    assert few == sample(FOUND, 3, "seed")
    assert sample(FOUND, 1000, "other") == FOUND


def test_where_annotations_stand():
    """Of arguments, of what is returned, of a field; not the default beside one."""
    found = annotations("def f(a: int | None = 1 + 1) -> int:\n    b: int = 2\n")
    assert sorted(found) == [((1, 9), (1, 19)), ((1, 32), (1, 35)), ((2, 7), (2, 10))]


def test_a_statement_has_all_its_lines_and_a_head_its_own():
    """A test that runs any line of a statement may notice a change in it; one that runs a body need not."""
    lines = statement_lines("x = (\n    1\n    + 2\n)\nif x:\n    y = 3\n")
    assert lines[3] == range(1, 5)
    assert lines[5] == range(5, 6) and lines[6] == range(6, 7)


def test_what_rests_on_a_file_is_loaded_after_it_alone():
    """Directly or not; what does not import it may be loaded before."""
    imports = {"tutor.a": set(), "tutor.b": {"tutor.a"}, "tutor.c": {"tutor.b"}, "tutor.d": set()}
    assert resting_on("tutor.a", imports) == {"tutor.a", "tutor.b", "tutor.c"}
    assert module_name("tutor/plan/rule.py") == "tutor.plan.rule"


def _code(path: str) -> str:
    return (ROOT / Path(path)).read_text(encoding="utf-8")
