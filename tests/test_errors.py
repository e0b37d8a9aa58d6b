"""The tree of errors an author or user can mend: drawn as it is, one sentence each, with the nearest valid name."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable

import pytest

from tutor import errors
from tutor.errors import SteadyrailError, UnknownName, nearest, unknown

KINDS = {
    name: kind
    for name, kind in vars(errors).items()
    if inspect.isclass(kind) and issubclass(kind, Exception) and kind.__module__ == "tutor.errors"
}


def test_the_tree_drawn_is_the_tree_there_is():
    """Every class of the module stands in its drawing, under its base, and nothing else does."""
    named = re.findall(r"[├└]── (\w+)", errors.__doc__ or "")
    assert len(named) == len(set(named))
    assert {*named, "SteadyrailError"} == set(KINDS)
    assert all(KINDS[name].__bases__ == (SteadyrailError,) for name in named)


@pytest.mark.parametrize("name", sorted(KINDS))
def test_an_error_is_its_sentence_and_its_values(name: str):
    """What is printed is the sentence; what a caller needs stands beside it; the class says what it is for."""
    error = KINDS[name]("something is wrong", law="ohm", given=("R",))
    assert str(error) == error.sentence == "something is wrong"
    assert error.values == {"law": "ohm", "given": ("R",)}
    assert inspect.getdoc(KINDS[name])


NEAR = [
    ("zener-shut", ["follower", "zener-shunt"], "zener-shunt"),
    ("FOLLOWER", ["follower", "zener-shunt"], "follower"),
    ("v_z", ["V_I", "V_Z", "V_ZT"], "V_Z"),
    ("qqq", ["follower", "zener-shunt"], None),
    ("x", [], None),
    ("", ["follower"], None),
    ("R_1", ["R_2", "R_1"], "R_1"),
]


@pytest.mark.parametrize(("name", "valid", "expected"), NEAR)
def test_the_nearest_valid_name(name: str, valid: Iterable[str], expected: str | None):
    """By spelling, whatever the case; None where nothing resembles it."""
    assert nearest(name, valid) == expected


def test_the_nearest_name_does_not_depend_on_the_order_offered():
    """Ties go the same way whatever order a set yields its names in."""
    names = ["I_R", "I_L", "I_Z", "I_B", "I_C"]
    assert {nearest("I_X", order) for order in (names, names[::-1], set(names), sorted(names))} == {
        nearest("I_X", names)
    }


SENTENCES = [
    (("circuit", "folower", ["follower", "source"]), "there is no circuit 'folower'; did you mean 'follower'?"),
    (("family", "qq", ["b-b-b", "a-a-a"]), "there is no family 'qq'; valid names: a-a-a, b-b-b"),
]


@pytest.mark.parametrize(("asked", "sentence"), SENTENCES)
def test_an_unknown_name_says_what_would_be_right(asked: tuple[str, str, list[str]], sentence: str):
    """The nearest, or all valid names in order."""
    error = unknown(*asked)
    assert isinstance(error, UnknownName)
    assert error.sentence == sentence
    assert error.values["kind"] == asked[0] and error.values["name"] == asked[1]


def test_all_of_them_end_a_command_with_one_sentence():
    """One base, so that the terminal's door can catch them together and nothing else."""
    assert all(issubclass(kind, SteadyrailError) for kind in KINDS.values())
    assert not issubclass(SteadyrailError, ValueError | KeyError)
