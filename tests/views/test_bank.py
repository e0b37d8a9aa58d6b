"""Packing pages loses nothing: any pages come back as they were, and what pages share is written once."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor.errors import SteadyrailError
from tutor.views.bank import Bank, expand, pack, write
from tutor.views.markup import Element, Node, parse, serialise

# Texts with numbers, units behind a space that does not break, and words; some too long to be one slot.
TEXTS = st.sampled_from(
    (
        "9.1\u00a0V",
        "12\u00a0V",
        "R",
        "holds",
        "at least 5\u00a0mA here",
        "at least 7.25\u00a0mA here",
        "1e-05",
        "−3",
        "x" * 20,
    )
) | st.text(alphabet='ab 019.\u00a0\u202fVΩ−<>&"', min_size=1, max_size=24)
ATTRIBUTES = st.lists(
    st.tuples(st.sampled_from(("class", "id", "data-part", "data-low")), TEXTS),
    max_size=2,
    unique_by=lambda pair: pair[0],
).map(tuple)


def element(children: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    kinds = st.sampled_from(("p", "li", "math", "mi", "svg"))
    return st.builds(Element, kinds, ATTRIBUTES, st.lists(children, max_size=4).map(tuple).map(without_neighbours))


def without_neighbours(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """Two texts side by side are one text in a page."""
    return tuple(
        node
        for place, node in enumerate(nodes)
        if not (place and isinstance(node, str) and isinstance(nodes[place - 1], str))
    )


NODES = st.recursive(TEXTS, element, max_leaves=12)
PAGES = st.lists(
    st.lists(NODES, max_size=4).map(tuple).map(without_neighbours).map(lambda nodes: Element("article", (), nodes)),
    min_size=1,
    max_size=8,
)


@given(PAGES)
def test_every_page_comes_back_as_it_was(pages: list[Element]) -> None:
    bank = pack(pages)
    assert [expand(bank, index) for index in range(len(pages))] == pages


@given(PAGES)
def test_a_bank_survives_its_own_file(pages: list[Element]) -> None:
    script = write("some-family:2", pack(pages))
    call, _, literal = script.removesuffix(");\n").partition(", ")
    assert call == 'Steadyrail.takeBank("some-family:2"'
    data = json.loads(literal)
    again = Bank(data["template"], tuple(data["rows"]))
    assert [expand(again, index) for index in range(len(pages))] == pages


@given(st.lists(st.tuples(st.integers(1, 2), st.lists(st.integers(1, 2), max_size=3)), min_size=1, max_size=6))
def test_numbers_that_happen_to_agree_are_not_mixed_up(numbers: list[tuple[int, list[int]]]) -> None:
    # So few different numbers that columns of inner and outer slots often agree by chance.
    pages = [parse(f"<p>{n}<ol>{''.join(f'<li>{m}</li>' for m in inner)}</ol></p>") for n, inner in numbers]
    bank = pack(pages)
    assert [expand(bank, index) for index in range(len(pages))] == pages


def test_a_list_s_items_use_the_slots_round_them() -> None:
    pages = [parse(f"<p>{n}<ol>{f'<li>{n}</li>' * count}</ol></p>") for n, count in ((7, 1), (8, 3), (9, 2))]
    assert pack(pages).rows == (["7", [[0]]], ["8", [[0], [0], [0]]], ["9", [[0], [0]]])


def test_equal_numbers_share_one_slot() -> None:
    pages = [parse(f"<p>V is {n}\u00a0V<b>{n}</b> and {n + 1}<i>{n + 1}</i></p>") for n in (3, 5, 8)]
    assert [len(row) for row in pack(pages).rows] == [2, 2, 2]


def test_what_all_pages_share_is_not_repeated() -> None:
    words = "a sentence that stands in every one of the problems"
    script = write("f:1", pack([parse(f"<p>{words}<b>{n}</b></p>") for n in range(50)]))
    assert script.count(words) == 1


def test_pages_of_other_shape_become_variants() -> None:
    pages = [parse(f"<ol>{'<li>step</li>' * n}</ol>") for n in (1, 3, 2)]
    bank = pack(pages)
    assert [serialise(expand(bank, index)).count("<li>") for index in range(3)] == [1, 3, 2]


def test_a_script_holds_no_line_separator() -> None:
    # ECMAScript before 2019 ends a line, and so a string, at U+2028 (ECMA-262, 10th edition, annex on changes).
    assert "\u2028" not in write("f:1", pack([parse("<p>a\u2028b</p>")]))


@pytest.mark.parametrize(
    ("markup", "told"),
    [
        ("<p>one\n<b>two</p>", "line 2"),
        ("<p class=bare>x</p>", "near '<p class=bare>x</p>'"),
        ("<p>&nbsp;</p>", "line 1"),
        ("", "near ''"),
    ],
)
def test_markup_that_is_not_well_formed_is_named_with_its_place(markup: str, told: str) -> None:
    with pytest.raises(SteadyrailError, match="close every element") as caught:
        parse(markup)
    assert told in caught.value.sentence


def test_markup_is_written_so_that_html_and_xml_read_it_alike() -> None:
    # HTML Living Standard, 13.1.2: void elements have no end tag, and only they may close themselves.
    tree = parse('<p title="a &amp; b">x<input type="text"/><span></span>\n   <b>y</b></p>')
    assert serialise(tree) == '<p title="a &amp; b">x<input type="text"/><span></span><b>y</b></p>'
