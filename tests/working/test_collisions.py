"""The table of collisions: after a number, a unit and a symbol spelled alike are told apart as its rows say."""

from __future__ import annotations

import pytest

from tutor.quantities.misread import tokens
from tutor.quantities.symbols import resolve_alias
from tutor.working.collisions import COLLISIONS, Clash, Collision
from tutor.working.read import read_line
from tutor.working.tree import Line, Literal, Name, Product, Standing
from tutor.working.vocabulary import Vocabulary

PLACES = [
    (row, place, typed)
    for row in COLLISIONS
    for place, typed in ((row.joined, "3{}"), (row.apart, "3 {}"), (row.after, "(2 + 1) {}"), (row.after, "√3 {}"))
]


def vocabulary(row: Collision, *more: str) -> Vocabulary:
    """A circuit that has the symbol of a row."""
    return Vocabulary(frozenset({resolve_alias(row.spelling) or "", *more}))


def meaning(line: Line) -> Clash:
    """How a line of one number and one spelling was read."""
    if line.misread is not None:
        assert line.misread.fault == "two-readings"
        return Clash.ASK
    product = line.members[0]
    if isinstance(product, Product) and isinstance(product.factors[-1], Name):
        return Clash.SYMBOL
    last = product.factors[-1] if isinstance(product, Product) else product
    assert isinstance(last, Literal) and last.meanings[0].exponents is not None
    return Clash.UNIT


@pytest.mark.parametrize(("row", "clash", "typed"), PLACES)
def test_a_row_decides_where_both_exist(row: Collision, clash: Clash, typed: str):
    """Joined, apart, and after a bracket or a root; what a product decides is asked where none goes on."""
    found = meaning(read_line(typed.format(row.spelling), vocabulary(row)))
    assert found is (Clash.ASK if clash is Clash.FACTOR else clash)
    if clash is Clash.FACTOR:
        product = read_line(f"{typed.format(row.spelling)} I_L", vocabulary(row, "I_L")).members[0]
        assert isinstance(product, Product) and isinstance(product.factors[1], Name)


@pytest.mark.parametrize(("row", "clash", "typed"), PLACES)
def test_elsewhere_it_is_the_unit(row: Collision, clash: Clash, typed: str):
    """In a circuit without that symbol nothing collides."""
    assert meaning(read_line(typed.format(row.spelling), Vocabulary(frozenset()))) is Clash.UNIT


@pytest.mark.parametrize("row", COLLISIONS, ids=lambda row: row.spelling)
def test_before_a_number_it_is_the_symbol(row: Collision):
    """First, after an operator, after a symbol, under a slash, in a bracket."""
    name = resolve_alias(row.spelling)
    for typed in ("{}", "3 × {}", "I_L {}", "3/{}", "(1 + {})", "-{} + 1", "√{}", "{} 3", "I_L = {}"):
        line = read_line(typed.format(row.spelling), vocabulary(row, "I_L"))
        assert line.misread is None, typed
        assert f"name='{name}'" in repr(line.members), typed


def test_every_collision_has_its_row():
    """Each spelling of a unit that is a spelling of a symbol as well."""
    assert {row.spelling for row in COLLISIONS} == {spelling for spelling in tokens() if resolve_alias(spelling)}


def test_an_own_symbol_collides_alike():
    """R and f may be the learner's own, read by the same rows; no other unit may."""
    own = Vocabulary(frozenset(), {}, ("R", "f"))
    assert meaning(read_line("3R", own)) is Clash.UNIT
    assert meaning(read_line("3 R", own)) is meaning(read_line("3f", own)) is Clash.SYMBOL
    for spelling in tokens():
        line = read_line(f"{spelling} = 3", Vocabulary(frozenset()))
        defined = line.members and isinstance(line.members[0], Name) and line.members[0].standing is Standing.UNKNOWN
        assert bool(defined) is (spelling in ("R", "f")), spelling
