"""Inequalities put as the bound they speak of, beside a recipe that asks for R_MAX and R_MIN (or for one of them)."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from tests.working.trees import chain, value_of
from tutor.working.bounds import as_bound, with_tolerance
from tutor.working.tree import Name


def asking(*keys: str) -> Any:
    """A ground whose problem asks for these bounds, R having a tolerance; the value I_Z is asked for as well."""
    asks = [*(SimpleNamespace(key=key, relation="<=") for key in keys), SimpleNamespace(key="I_Z", relation="")]
    return SimpleNamespace(around=SimpleNamespace(recipe=SimpleNamespace(asks=asks, tolerances=(("R", "tol_R"),))))


def told(text: str, *keys: str) -> str:
    """The chain about the bound: names and values of its members between its signs; '' where it is about none."""
    found = as_bound(*chain(text), asking(*keys))
    if found is None:
        return ""
    members, relations = found
    words = [item.name if isinstance(item, Name) else f"{value_of(item, VALUES):.4g}" for item in members]
    signs = [relation.sign for relation in relations]
    return " ".join(word for pair in zip(words, [*signs, ""], strict=True) for word in pair if word)


VALUES = {"V_I": 14.0, "V_Z": 9.0, "I_L": 0.05, "R": 82.0}
BOTH = ("R_MAX", "R_MIN")
BOUNDS = [
    ("R ≤ 288 Ω", BOTH, "R_MAX = 288"),
    ("R < 288 Ω", BOTH, "R_MAX = 288"),
    ("R ≥ 288 Ω", BOTH, "R_MIN = 288"),
    ("R > 288 Ω", BOTH, "R_MIN = 288"),
    ("288 Ω ≥ R", BOTH, "288 = R_MAX"),
    ("288 Ω > R", BOTH, "288 = R_MAX"),
    ("288 Ω ≤ R", BOTH, "288 = R_MIN"),
    ("R ≤ (V_I - V_Z)/I_L = 100 Ω", BOTH, "R_MAX = 100 = 100"),
    ("R ≤ (V_I - V_Z)/I_L ≈ 101 Ω", BOTH, "R_MAX = 100 ≈ 101"),
    ("(V_I - V_Z)/I_L = 101 Ω ≥ R", BOTH, "100 = 101 = R_MAX"),
    ("(V_I - V_Z)/I_L = 5 V/I_L = 101 Ω ≥ R", BOTH, "100 = 100 = 101 = R_MAX"),
    ("R ≥ 288 Ω", ("R_MAX",), ""),
    ("288 Ω ≤ R", ("R_MAX",), ""),
    ("R = 288 Ω", BOTH, ""),
    ("V_I ≤ 15 V", BOTH, ""),
    ("I_Z ≤ 5 mA", BOTH, ""),
    ("2 R ≤ 288 Ω", BOTH, ""),
    ("145 Ω ≤ R ≤ 288 Ω", BOTH, ""),
]


@pytest.mark.parametrize(("text", "keys", "expected"), BOUNDS)
def test_an_inequality_is_its_bound(text: str, keys: tuple[str, ...], expected: str):
    """Read from either side; where that bound is not asked for, and between two sides, it stands as it is."""
    assert told(text, *keys) == expected


NOMINAL = [("R_MAX", 105.0, 0.05, 100.0), ("R_MIN", 95.0, 0.05, 100.0), ("R_MAX", 110.0, 0.10, 100.0)]


@pytest.mark.parametrize(("key", "bound", "spread", "nominal"), NOMINAL)
def test_a_bound_leaves_room_for_the_tolerance(key: str, bound: float, spread: float, nominal: float):
    """Of a part of 5 % the greatest nominal value is R_MAX/1.05, the least R_MIN/0.95; on whichever side it stands."""
    members, relations = chain("R = V_I = R")
    head, middle, _ = members
    assert isinstance(head, Name)
    named = Name(head.columns, key, head.standing)
    found, kept = with_tolerance(((named, middle, named), relations), asking(key))
    at = {key: bound, "tol_R": spread, "V_I": 14.0}
    assert [value_of(item, at) for item in found] == pytest.approx([nominal, 14.0, nominal])
    assert kept == relations


def test_other_quantities_have_no_tolerance():
    """Neither another bound, nor R itself, nor a side that is no symbol."""
    for text in ("V_I = 3 V", "R = 3 Ω", "2 R = 3 Ω"):
        before = chain(text)
        assert with_tolerance(before, asking("R_MAX")) == before
