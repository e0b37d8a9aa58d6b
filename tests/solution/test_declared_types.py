"""A family's file is held to the types of its fields before anything trusts them: one sentence, the file, the field."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from tutor.errors import BadFamily
from tutor.generate.family import Drop, Extreme, Find, FindExtreme, Level, Pick, Slip
from tutor.solution.declared_types import MOST_BRACKETS, deepest_bracket, require_types
from tutor.solution.desk import families, our_desk

FILE = "problems/families/own.py"
FAMILY = our_desk().family("zener-state")
FIRST = FAMILY.levels[0]
NAN = float("nan")


def with_level(**changes: Any) -> Any:
    """Our family, its first level with other fields."""
    return replace(FAMILY, levels=(replace(FIRST, **changes), *FAMILY.levels[1:]))


MISTAKES: list[tuple[Any, str]] = [
    (replace(FAMILY, title=None), "title must be a text (got None)"),
    (replace(FAMILY, circuit=b"x"), "circuit must be a text (got b'x')"),
    (replace(FAMILY, edition=True), "edition must be a whole number (got True)"),
    (replace(FAMILY, edition=1.5), "edition must be a whole number (got 1.5)"),
    (replace(FAMILY, scenarios=None), "scenarios must be a tuple, each entry a text (got None)"),
    (replace(FAMILY, scenarios=("a", 3)), "scenarios[1] must be a text (got 3)"),
    (replace(FAMILY, scenarios="one wording"), "scenarios must be a tuple, each entry a text (got 'one wording')"),
    (replace(FAMILY, assume={"V_BE": 0.7}), "assume['V_BE'] must be a text (got 0.7)"),
    (replace(FAMILY, assume={1: "x"}), "assume, key 1, must be a text (got 1)"),
    (replace(FAMILY, levels=(FIRST, 2, 3)), "levels[1] must be a Level (got 2)"),
    (with_level(draws=(Pick("V_I", (NAN,)),)), "levels[0].draws[0].values[0] must be a finite number (got nan)"),
    (with_level(draws=(Pick("V_I", (10**400,)),)), "levels[0].draws[0].values[0] must be a finite number (got 1000"),
    (
        with_level(draws=(Pick("V_I", 5),)),
        "levels[0].draws[0].values must be a tuple, each entry a finite number (got 5)",
    ),
    (with_level(draws=(3,)), "levels[0].draws[0] must be a Pick or a PickPart or a Work (got 3)"),
    (
        with_level(asks=(FindExtreme("I_Z", "least", "x"),)),
        "levels[0].asks[0].extreme must be one of Extreme.LEAST, Extreme.GREATEST (got 'least')",
    ),
    (
        with_level(asks=(Find("I_Z", "x", at=()),)),
        "levels[0].asks[0].at must be a mapping of a text to a text (got ())",
    ),
    (
        with_level(slips=(Slip("a", "b", Drop(2), "c", "d", "e"),)),
        "levels[0].slips[0].edit.term must be a text (got 2)",
    ),
    (
        with_level(require=("(" * (MOST_BRACKETS + 1) + "V_I",)),
        "levels[0].require[0] nests brackets more than 40 deep; work with named parts",
    ),
    (
        with_level(require=(f"V_I >= 1{'0' * 300}",)),
        "levels[0].require[0] holds a number of more than 300 digits; write it with a power of ten",
    ),
]


@pytest.mark.parametrize(("family", "sentence"), MISTAKES)
def test_a_field_of_another_type_is_told_with_its_place(family: Any, sentence: str) -> None:
    """The file first, then the field, what it must be, and what it is, cut where it is long."""
    with pytest.raises(BadFamily) as told:
        require_types(family, FILE)
    assert told.value.sentence.startswith(f"{FILE}: {sentence}")
    assert len(told.value.sentence) < 250


def test_every_family_of_ours_is_of_its_types() -> None:
    """Nothing that works is refused; a whole number stands for a number anywhere."""
    for name in families():
        require_types(our_desk().folder.family(name), name)
    require_types(with_level(draws=(Pick("V_I", (5, 6.5)),)), FILE)
    require_types(with_level(asks=(FindExtreme("I_Z", Extreme.LEAST, "x", at={"R": "5"}),)), FILE)


def test_levels_are_counted_elsewhere() -> None:
    """Two levels are told where the file is read, not as a tuple of the wrong length."""
    require_types(replace(FAMILY, levels=FAMILY.levels[:2]), FILE)  # type: ignore[arg-type]


@pytest.mark.parametrize(("text", "depth"), [("", 0), ("()", 1), ("(()", 2), ("))((", 0), ("(a)(b(c))", 2)])
def test_brackets_are_counted_as_they_nest(text: str, depth: int) -> None:
    assert deepest_bracket(text) == depth


def test_the_vocabulary_has_no_type_that_is_not_looked_at() -> None:
    """Every annotation of a level is one of those that are walked."""
    assert isinstance(FIRST, Level) and isinstance(FIRST.band, Mapping)
    for entry in ([], set(), object(), 1j, lambda: None):
        for field in Level.__dataclass_fields__:
            with pytest.raises(BadFamily, match=rf"levels\[0\]\.{field} must be "):
                require_types(with_level(**{field: entry}), FILE)
