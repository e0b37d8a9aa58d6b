"""The words beside the working sheet say what the reader does: every spelling they offer is read, as they say it is."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tutor.quantities.symbols import split_name
from tutor.solution.desk import our_desk
from tutor.views.described import marked_letters
from tutor.views.typing_help import (
    Key,
    TypingRow,
    letter_keys,
    letters_of,
    sign_keys,
    sign_of,
    typing_topics,
)
from tutor.working.alphabet import RELATIONS, SIGNS
from tutor.working.read import read_line
from tutor.working.tree import LineKind, Literal, Standing
from tutor.working.vocabulary import Vocabulary

NAMES = ("zener-resistor:2:1", "follower-design:3:2", "supply-source-model:1:1", "zener-slope:3:1")


@pytest.fixture(scope="module", params=NAMES)
def letters(request: pytest.FixtureRequest) -> tuple[str, ...]:
    worked = our_desk().problem(str(request.param))
    return letters_of(worked.problem, worked.solution, marked(str(request.param)))


def marked(name: str) -> tuple[str, ...]:
    """What the drawing of a problem marks."""
    desk = our_desk()
    return marked_letters(desk.folder.circuit(desk.family(name.split(":")[0]).circuit).drawing)


def rows(letters: tuple[str, ...], title: str) -> Iterator[TypingRow]:
    for topic in typing_topics(letters):
        if topic.title == title:
            yield from topic.rows


def kind_of(line: str, letters: tuple[str, ...]) -> LineKind:
    return read_line(line, Vocabulary(frozenset(letters))).kind


def test_letters_are_told_without_their_ends_and_in_the_order_of_the_table(letters: tuple[str, ...]) -> None:
    assert len(letters) >= 3 and len(set(letters)) == len(letters)
    assert not [letter for letter in letters if split_name(letter).end or split_name(letter).change]


@pytest.mark.parametrize("name", NAMES)
def test_what_the_drawing_marks_has_its_key_and_every_key_is_a_letter_of_the_sheet(name: str) -> None:
    worked, sheet = our_desk().problem(name), our_desk().sheet(name)
    letters = letters_of(worked.problem, worked.solution, marked(name))
    assert len(marked(name)) >= 2 and set(marked(name)) <= set(letters)
    assert set(letters) <= {split_name(symbol).base for symbol in sheet.symbols} | set(sheet.symbols)


def test_every_spelling_of_a_letter_is_read_as_that_letter(letters: tuple[str, ...]) -> None:
    vocabulary = Vocabulary(frozenset(letters))
    told = list(rows(letters, "The letters of this problem"))
    for letter, row in zip(letters, told, strict=False):
        assert row.typed[0] == letter
        for typed in row.typed:
            name, standing = vocabulary.resolve(typed)
            assert standing is Standing.CIRCUIT, typed
            # A letter may be known by another's name (V_L for V_O); it is then read as one of this problem's own.
            assert name in letters, typed
    for row in told[len(letters) :]:
        for typed in row.typed:
            assert kind_of(f"{typed} = 5", letters) is LineKind.CHAIN, typed


def test_every_unit_prefix_and_number_is_read(letters: tuple[str, ...]) -> None:
    told = list(rows(letters, "Numbers and units"))
    assert len(told) > 4
    for row in told:
        for typed in row.typed:
            line = f"{letters[0]} = {typed if any(char.isdigit() for char in typed) else '5' + typed}"
            read = read_line(line, Vocabulary(frozenset(letters)))
            assert read.kind is LineKind.CHAIN, (line, read.misread)


def value_of(text: str, letters: tuple[str, ...]) -> tuple[float, str]:
    read = read_line(f"{letters[0]} = {text}", Vocabulary(frozenset(letters)))
    literal = read.members[1]
    assert isinstance(literal, Literal), text
    return literal.meanings[0].value, literal.meanings[0].unit


def test_a_letter_for_the_decimal_sign_is_the_number_it_is_said_to_be(letters: tuple[str, ...]) -> None:
    told = [row for row in rows(letters, "Numbers and units") if row.words.startswith(("4.7", "0.47"))]
    assert len(told) >= 4
    for row in told:
        for typed in row.typed:
            assert value_of(typed, letters) == value_of(row.words, letters), typed


def test_every_sign_has_its_row_and_every_spelling_means_it(letters: tuple[str, ...]) -> None:
    told = list(rows(letters, "Signs"))
    assert {sign for row in told for sign in row.typed} >= set(SIGNS + RELATIONS)
    for row in told:
        head, *others = row.typed
        if head in SIGNS + RELATIONS and not head.isascii():
            assert [sign_of(other) for other in others] == [head] * len(others)
    left = letters[0]
    for line in (
        f"{left} = 5 × 3",
        f"{left} = √2",
        f"{left} = 5 ∥ 3",
        f"{left} ≤ 5 ± 5 %",
        f"{left} ≈ 2²",
        f"{left} ≥ 2^3",
    ):
        assert kind_of(line, letters) is LineKind.CHAIN, line


def test_every_word_does_what_is_said_of_it(letters: tuple[str, ...]) -> None:
    openings, hypotheses, choices, label, remark = rows(letters, "Words")
    left = letters[0]
    assert len(openings.typed) > 5 and len(hypotheses.typed) > 3 and len(choices.typed) > 4
    for word in openings.typed:
        assert kind_of(f"{word} {left} = 5", letters) is LineKind.CHAIN, word
    for word in hypotheses.typed:
        assert kind_of(f"{word} the zener is off", letters) is LineKind.HYPOTHESIS, word
    for word in choices.typed:
        read = read_line(f"{word} {left} = 5", Vocabulary(frozenset(letters)))
        assert read.kind is LineKind.CHAIN and read.choice, word
    assert kind_of(f"{label.typed[0]} {left} = 5", letters) is LineKind.CHAIN
    assert kind_of(f"{left} = 5{remark.typed[0]}", letters) is LineKind.CHAIN


def test_every_function_is_read(letters: tuple[str, ...]) -> None:
    for row in rows(letters, "Functions"):
        for typed in row.typed:
            assert kind_of(f"{letters[0]} = {typed}", letters) is LineKind.CHAIN, typed


def test_look_alikes_are_told_only_where_the_letter_is_in_use(letters: tuple[str, ...]) -> None:
    told = list(rows(letters, "Where a unit and a letter look alike"))
    assert any("2R" in row.typed for row in told) == ("R" in letters)
    for row in told:
        for typed in row.typed:
            asked = row.words.startswith("queried")
            if "where the product goes on" not in row.words:
                assert (kind_of(f"{letters[0]} = {typed}", letters) is LineKind.UNREAD) == asked, typed


def test_keys_write_what_an_ordinary_keyboard_lacks(letters: tuple[str, ...]) -> None:
    signs = [key.text for key in sign_keys(letters)]
    assert {"µ", "√", "²", "∥", "Δ"} <= set(signs) and len(set(signs)) == len(signs)
    assert all(not sign.isascii() for sign in signs)
    assert ("Ω" in signs) == any(letter.startswith(("R", "r")) for letter in letters)
    keys = letter_keys(letters, ("V_I_MIN", "state"))
    assert [key.text for key in keys] == [*letters, "_MIN"]
    assert all(isinstance(key, Key) and key.words for key in keys)
