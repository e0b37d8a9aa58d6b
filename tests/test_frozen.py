"""Values are frozen: what one stage gives, no later one changes (house rules)."""

from __future__ import annotations

import dataclasses
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FOLDERS = ("quantities", "laws", "plan", "working", "sets")
MODULES = [
    f"tutor.{folder}.{path.stem}"
    for folder in FOLDERS
    for path in sorted((ROOT / "tutor" / folder).glob("*.py"))
    if "@dataclass" in path.read_text(encoding="utf-8")
]
# Made inside one function and handed out as something else.
GROWING = {"_Question", "_Scan"}


@pytest.mark.parametrize("name", MODULES)
def test_values_are_frozen(name: str) -> None:
    """Every dataclass of a module refuses to be changed."""
    module = import_module(name)
    kinds = [item for item in vars(module).values() if isinstance(item, type) and dataclasses.is_dataclass(item)]
    own = [kind for kind in kinds if kind.__module__ == name]
    assert own
    for kind in own:
        assert kind.__name__ in GROWING or kind.__dataclass_params__.frozen, kind
