"""Fillers and forms: what is made ready once writes the same as what is written each time."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.quantities.expression import Add, Div, Expr, Func, Mul, Neg, Num, Parallel, Pow, Sym, Val, alike
from tutor.quantities.expression import substitute as substituted
from tutor.quantities.filling import filler
from tutor.quantities.formula import read_expression
from tutor.quantities.relation_form import halfway_form, number_form, relation_form

NAMES = ("V_I", "V_Z", "R", "r_z")
PUT: dict[str, Expr] = {"V_I": Val(12.0, "V", 12), "R": Sym("R_MAX"), "V_Z": Add((Sym("V_Z0"), Num(1.0)))}

trees = st.recursive(
    st.one_of(st.sampled_from(NAMES).map(Sym), st.just(Num(2.0)), st.just(Val(0.005, "A"))),
    lambda parts: st.one_of(
        st.lists(parts, min_size=2, max_size=3).map(lambda row: Add(tuple(row))),
        st.lists(parts, min_size=2, max_size=3).map(lambda row: Mul(tuple(row))),
        st.tuples(parts, parts).map(lambda two: Div(*two)), st.tuples(parts, parts).map(lambda two: Parallel(*two)),
        parts.map(Neg), parts.map(lambda part: Pow(part, 2)), parts.map(lambda part: Func("sqrt", part)),
    ),
    max_leaves=8,
)  # fmt: skip


@settings(deadline=None, max_examples=30)
@given(trees)
def test_a_filler_gives_what_substitution_gives(tree: Expr):
    """With symbols, numbers and whole expressions put in, and what is not told left as it is."""
    assert filler(tree)(PUT) == substituted(tree, PUT)
    assert filler(tree)({}) == tree


def test_the_places_of_a_relation_are_known_before_its_numbers():
    """(V_I − V_Z)/R has three; halfway its sum is one number, exact when both voltages are given."""
    form = number_form(read_expression("(V_I - V_Z)/R"))
    assert form.symbols == (("V_I", "V"), ("V_Z", "V"), ("R", "ohm")) and not form.worked
    halfway = halfway_form(read_expression("(V_I - V_Z)/R"))
    assert halfway is not None
    ((_, part),) = halfway.worked
    assert (halfway.symbols, part.unit, part.symbols, part.may_be_exact) == (
        (("R", "ohm"),), "V", ("V_I", "V_Z"), True,
    )  # fmt: skip
    assert part.value({"V_I": 15.0, "V_Z": 9.1}) == 15.0 - 9.1


FORMS = [
    ("V_Z", 0, False),
    ("V_I - V_Z", 1, False),
    ("(V_I - V_Z)/R", 2, False),
    ("V_I*R/V_Z", 1, False),  # halfway stands a part that has no unit of its own
    ("R || r_z", 1, True),
    ("0", 0, False),
]


@pytest.mark.parametrize(("formula", "numbers", "spelled"), FORMS)
def test_a_line_has_only_the_parts_that_say_something(formula: str, numbers: int, spelled: bool):
    """A letter alone needs no numbers between it and its result, and a ∥ is spelled out before they are put in."""
    form = relation_form(read_expression(formula))
    assert (len(form.numbers), form.spelled is not None, form.is_zero) == (numbers, spelled, formula == "0")


ALIKE = [("(V_I - V_Z)/R", "(V_I - V_O)/R", True), ("V_I - V_Z", "V_I + V_Z", False), ("V_I*R", "V_I/R", False),
         ("V_I^2", "V_I^3", False), ("sqrt(R)", "cbrt(R)", False), ("R", "R_L", True), ("R", "2", False)]  # fmt: skip


@pytest.mark.parametrize(("one", "other", "same"), ALIKE)
def test_expressions_of_one_shape(one: str, other: str, same: bool):
    """Whatever letters stand in them; operations, powers and roots must be the same."""
    assert alike(read_expression(one), read_expression(other), lambda left, right: True) is same
    assert not alike(read_expression(one), read_expression(other), lambda left, right: False)
