"""Single edits: each heals the slip it is for, says which, and marks the place."""

from __future__ import annotations

import pytest

from tests.working.test_dimension_check import dimension_of
from tests.working.trees import member, value_of
from tutor.working.chain import names_in
from tutor.working.edits import Edit, edits_of, text_of
from tutor.working.follow import same_shape

NAMES = ("V_I", "V_Z", "R", "I_Z", "I_L", "I_R", "h_FE")
# Wrong, right, kind of the slip, a part of its words, what is marked.
HEALED = [
    ("V_I + V_Z", "V_I - V_Z", "sign", "sign of V_Z", "V_Z"),
    ("V_I - V_Z", "V_I + V_Z", "sign", "sign of V_Z", "- V_Z"),
    ("-V_I", "V_I", "sign", "sign", "-V_I"),
    ("R/(V_I - V_Z)", "(V_I - V_Z)/R", "inverted", "upside down", "R/(V_I - V_Z)"),
    ("(V_I - V_Z) R", "(V_I - V_Z)/R", "inverted", "R divides here", "R"),
    ("V_Z/I_Z", "V_Z I_Z", "inverted", "I_Z multiplies here", "I_Z"),
    ("R || R_L", "R + R_L", "parallel", "in series", "R || R_L"),
    ("R + R_L", "R || R_L", "parallel", "side by side", "R + R_L"),
    ("V_I^2/R", "V_I/R", "square", "not squared", "V_I^2"),
    ("(V_I - V_Z)/R", "(V_I - V_Z)^2/R", "square", "", ""),
    ("V_Z/R", "V_Z^2/R", "square", "V_Z is to be squared", "V_Z"),
    ("V_I/R", "V_Z/R", "symbol", "V_Z belongs here, not V_I", "V_I"),
    ("(V_I - V_Z)/R", "(V_I - V_Z)/R - I_L", "left-out", "I_L is left out", ""),
    ("V_I/R", "(V_I - V_Z)/R", "left-out", "V_Z is left out", "V_I"),
    ("I_L/h_FE", "I_L/(h_FE + 1)", "left-out", "the 1 beside h_FE", "h_FE"),
    ("I_R - I_L - I_Z", "I_R - I_L", "too-many", "I_Z does not belong", "- I_Z"),
    ("2 V_Z I_Z", "V_Z I_Z", "too-many", "does not belong", "2"),
    ("V_Z/R", "V_Z", "too-many", "R does not belong", "R"),
    ("V_Z I_Z", "V_Z I_Z/2", "factor-two", "twice too large", ""),
    ("V_Z I_Z", "2 V_Z I_Z", "factor-two", "only half", ""),
    ("R_L/V_O", "1/(R_L/V_O)", "inverted", "", ""),
]
POINTS = [
    {"V_I": 15.0, "V_Z": 9.1, "V_O": 8.3, "R": 220.0, "R_L": 470.0, "I_Z": 0.013, "I_L": 0.017,
     "I_R": 0.03, "h_FE": 50.0},
    {"V_I": 21.0, "V_Z": 5.6, "V_O": 4.9, "R": 82.0, "R_L": 560.0, "I_Z": 0.041, "I_L": 0.007,
     "I_R": 0.05, "h_FE": 110.0},
]  # fmt: skip


def edits(text: str) -> list[Edit]:
    return list(edits_of(member(text), NAMES, dimension_of))


def alike(a: Edit, right: str) -> bool:
    """Whether a healed tree is the right one: in value at two points."""
    values = [(value_of(a.tree, point), value_of(member(right), point)) for point in POINTS]
    return all(x is not None and y is not None and abs(x - y) <= 1e-12 * abs(y) for x, y in values)


@pytest.mark.parametrize(("wrong", "right", "kind", "words", "marked"), HEALED)
def test_an_edit_heals_its_slip(wrong: str, right: str, kind: str, words: str, marked: str):
    """Among the edits is one of that kind that makes the right expression, and it marks what was wrong."""
    if kind == "square" and not words:
        assert not [item for item in edits(wrong) if alike(item, right)], "only a symbol is squared, not a bracket"
        return
    found = [item for item in edits(wrong) if item.kind == kind and alike(item, right)]
    assert found, [item.words for item in edits(wrong)]
    assert any(words in item.words for item in found), [item.words for item in found]
    if marked:
        assert any(wrong[item.columns[0] - 1 : item.columns[1] - 1] == marked for item in found)


@pytest.mark.parametrize("text", [row[0] for row in HEALED])
def test_every_edit_is_one_change_of_the_tree(text: str):
    """None leaves the tree as it was; each names a kind, says something, and marks columns inside the line."""
    for item in edits(text):
        assert not same_shape(item.tree, member(text)), item.words
        assert item.kind in {"sign", "inverted", "parallel", "square", "symbol", "corner", "left-out", "too-many",
                             "factor-two"}  # fmt: skip
        assert item.words
        assert 1 <= item.columns[0] < item.columns[1] <= len(text) + 1
        added = set(names_in((item.tree,))) - set(names_in((member(text),)))
        assert len(added) <= 1 and added <= set(NAMES)


def test_only_symbols_of_the_same_kind_are_put_in_or_swapped():
    """A current never for a voltage."""
    for item in edits("V_I - V_Z"):
        assert not {"I_Z", "I_L", "I_R", "h_FE"} & set(names_in((item.tree,))), item.words


def test_the_other_end_of_a_range_is_a_corner_and_comes_first():
    """V_I_MIN for V_I_MAX is told from another symbol."""
    names = ("V_Z", "V_I_MIN", "V_I_MAX")
    swapped = [item for item in edits_of(member("V_I_MAX"), names, dimension_of) if item.kind in ("corner", "symbol")]
    assert [item.kind for item in swapped] == ["corner", "symbol"]
    assert swapped[0].words == "V_I_MIN belongs here, not V_I_MAX"


def test_the_commonest_slips_come_first():
    """Signs before fractions, symbols before terms left out: the first that heals is the reason told."""
    kinds = [item.kind for item in edits("(V_I + V_Z)/R")]
    assert kinds[0] == "sign"
    assert kinds.index("inverted") < kinds.index("symbol") < kinds.index("left-out") < kinds.index("factor-two")


def test_names_of_parts():
    """A symbol by its name, the rest as a term."""
    assert text_of(member("-V_Z")) == "V_Z"
    assert text_of(member("V_I/R")) == "this term"
