"""The table of sayings and the files that say them: each is said by its name, with just the slots it has."""

from __future__ import annotations

import ast
import string
from pathlib import Path

import pytest

import tutor.working
from tutor.working.sayings import SAYINGS, plain, say

SOURCES = [ast.parse(file.read_text("utf-8")) for file in Path(tutor.working.__path__[0]).glob("*.py")]
# Said of a design by `solution/requirement.py` below, and by the browser from the table.
OF_MARGINS = {
    "at-least", "at-most", "nothing-to-spare", "weakest", "share-to-spare", "share-short", "to-spare", "missing",
    "too-much",
}  # fmt: skip


def slots_of(saying: str) -> set[str]:
    """The names in braces."""
    return {name for _, name, _, _ in string.Formatter().parse(SAYINGS[saying]) if name}


def said() -> list[ast.Call]:
    """Every call of `say`."""
    calls = [node for source in SOURCES for node in ast.walk(source) if isinstance(node, ast.Call)]
    return [call for call in calls if isinstance(call.func, ast.Name) and call.func.id == "say"]


def test_every_saying_is_said_with_its_slots() -> None:
    """A misspelt name or slot would raise on a learner's line that is seldom written."""
    named = [(call, call.args[0].value) for call in said() if isinstance(call.args[0], ast.Constant)]
    assert len(named) >= 60
    for call, saying in named:
        assert isinstance(saying, str) and {item.arg for item in call.keywords} == slots_of(saying), saying


def test_no_saying_is_left_over() -> None:
    """What nothing says would be kept in step with nothing."""
    words = {node.value for source in SOURCES for node in ast.walk(source) if isinstance(node, ast.Constant)}
    as_it_stands = {"own-relation"} if SAYINGS["own-relation"] in words else set()
    assert {name for name in SAYINGS if name not in words} <= OF_MARGINS | as_it_stands


def test_what_fills_a_slot_is_taken_as_it_stands() -> None:
    """Braces of a learner's own are no slots; a slot that is left empty is an error here, and no half sentence."""
    assert say("out-by-two") == "this is out by a factor of two"
    assert say("left-out", name="{0.__class__}") == "{0.__class__} is left out"
    with pytest.raises(KeyError):
        say("left-out")
    assert plain("the drop $V_F$") == "the drop V_F"
