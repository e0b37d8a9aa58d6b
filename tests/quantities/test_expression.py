"""Trees and their JSON form, sums and signs."""

from __future__ import annotations

import pytest

from tutor.quantities.expression import (
    Add,
    Div,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Partial,
    Pow,
    Sym,
    Val,
    from_json,
    negated,
    split_sign,
    sum_of,
    to_json,
)

A, B = Sym("a"), Sym("b")
EACH = (
    Num(2.5), A, Val(0.005, "A", 12), Neg(A), Add((A, Neg(B))), Mul((A, B)), Div(A, B), Pow(A, 3), Parallel(A, B),
    Func("sqrt", A), Partial("V_O", "V_I"),
)  # fmt: skip


@pytest.mark.parametrize("expr", EACH)
def test_every_kind_comes_back_from_json(expr):
    """`from_json` is the inverse of `to_json`."""
    assert from_json(to_json(expr)) == expr


MALFORMED = ([], 3, None, ["s"], ["v", 1.0], ["/", ["s", "a"]], ["^", ["s", "a"]], ["-"], ["?", 1])


@pytest.mark.parametrize("data", MALFORMED)
def test_a_malformed_list_is_a_value_error(data):
    """What a damaged store may hold."""
    with pytest.raises(ValueError, match="not an expression"):
        from_json(data)


def test_signs_and_sums():
    """A minus is put on or taken off; a lone term is no sum, and no terms are 0."""
    assert negated(A) == Neg(A) and negated(Neg(A)) == A
    assert sum_of([A]) == A and sum_of([A, B]) == Add((A, B)) and sum_of([]) == Num(0)
    assert split_sign(Val(-0.7123, "V", 12)) == (True, Val(0.7123, "V", 12))
    assert split_sign(Neg(A)) == (True, A) and split_sign(Num(-2)) == (True, Num(2)) and split_sign(B) == (False, B)
