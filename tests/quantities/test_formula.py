"""The grammar of our own files: what is read back as it was written, and what is refused in one sentence."""

from __future__ import annotations

import math

import pytest

from tutor.errors import BadFormula
from tutor.quantities.expression import Expr, Func, Mul, Num, Partial, Pow, Sym, evaluate
from tutor.quantities.formula import formula_text, read_equation, read_expression

TREES = [
    ("V_I", Sym("V_I")),
    ("{V_O by V_I}", Partial("V_O", "V_I")),
    ("2*pi*f", Mul((Num(2), Num(math.pi), Sym("f")))),
    ("cbrt(x)^2", Pow(Func("cbrt", Sym("x")), 2)),
    ("1e-7", Num(1e-7)),
    ("1e+22", Num(1e22)),  # as Python writes a large number
]


@pytest.mark.parametrize(("text", "tree"), TREES)
def test_what_is_read_is_written_back(text: str, tree: Expr):
    """A formula gives its tree, and what is written of the tree is read as the same."""
    assert read_expression(text) == tree
    assert read_expression(formula_text(tree)) == tree


REFUSED = [
    ("R^0", "an exponent must be a whole number from 1 on (got '0') in the formula 'R^0'"),
    ("R^-1", "an exponent must be a whole number from 1 on (got '-') in the formula 'R^-1'"),
    ("R^1.5", "an exponent must be a whole number from 1 on (got '1.5') in the formula 'R^1.5'"),
    ("V_I -", "expected 'a value' but found 'the end' in the formula 'V_I -'"),
    ("V_I $ 2", "cannot read '$ 2' in the formula 'V_I $ 2'"),
    ("V_I V_Z", "nothing should follow 'V_Z' in the formula 'V_I V_Z'"),
    ("(V_I", "expected ')' but found 'the end' in the formula '(V_I'"),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED)
def test_what_cannot_be_read_is_told(text: str, sentence: str):
    """One sentence with the place and the formula."""
    with pytest.raises(BadFormula) as caught:
        read_expression(text)
    assert str(caught.value) == sentence


def test_a_relation_is_needed_in_an_equation():
    """Two sides and one sign between them."""
    with pytest.raises(BadFormula, match=r"expected 'a value' but found 'the end' in the formula 'a [+] b'"):
        read_equation("a + b")
    with pytest.raises(BadFormula, match="nothing should follow '=' in the formula 'a = b = c'"):
        read_equation("a = b = c")


@pytest.mark.parametrize("exponent", [1, 2, 5])
def test_powers_are_products(exponent: int):
    """3, 9, 243."""
    assert evaluate(Pow(Sym("x"), exponent), {"x": 3.0}) == 3.0**exponent
