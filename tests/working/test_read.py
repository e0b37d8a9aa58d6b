"""Lines of working as learners type them: what is meant is read, what is not certain is asked back, nothing is raised.

The cases stand in `lines/reading.txt`, whose head says how a reading is written down.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.quantities.misread import prefix_powers, tokens
from tutor.quantities.symbols import SYMBOLS
from tutor.working.read import read_line
from tutor.working.tree import (
    Call,
    Columns,
    Line,
    LineKind,
    Literal,
    Minus,
    Name,
    Node,
    Parallel,
    Power,
    Product,
    Quotient,
    Spread,
    Standing,
    Sum,
    parts,
)
from tutor.working.tree_data import line_data
from tutor.working.vocabulary import Vocabulary

CASES = Path(__file__).parent / "lines" / "reading.txt"
MARKS = {Standing.CIRCUIT: "", Standing.OWN: "~", Standing.UNKNOWN: "?"}
SIGNS: dict[type, str] = {Minus: "-", Sum: "+", Product: "*", Quotient: "/", Power: "^", Parallel: "||", Spread: "±"}


def vocabulary_of(row: str) -> Vocabulary:
    """`symbols | own x y | alias Us=V_I | comma` as a vocabulary."""
    symbols, *cells = row.split("|")
    told = {cell.split()[0]: cell.split()[1:] for cell in cells}
    aliases = dict(pair.split("=") for pair in told.get("alias", []))
    return Vocabulary(frozenset(symbols.split()), aliases, tuple(told.get("own", ())), "comma" in told)


def cases() -> Iterator[tuple[Vocabulary, str, str]]:
    """Every line of the file with its vocabulary and its reading."""
    vocabulary, typed = Vocabulary(frozenset()), ""
    for row in CASES.read_text(encoding="utf-8").splitlines():
        if row.startswith("@"):
            vocabulary = vocabulary_of(row[1:])
        elif row.startswith("    "):
            yield vocabulary, typed, row.strip()
        elif row and not row.startswith("# "):
            typed = row


def written(node: Node) -> str:
    """A tree in prefix form."""
    if isinstance(node, Literal):
        meanings = [
            f"{one.value:.12g}" + ("" if one.exponents is None else f" {one.unit or 'pure'}") for one in node.meanings
        ]
        text = "|".join(meanings)
        return f"<{text}>" if " " in text or len(meanings) > 1 else text
    if isinstance(node, Name):
        return node.name + MARKS[node.standing]
    head = node.function if isinstance(node, Call) else SIGNS[type(node)]
    return f"({' '.join([head, *map(written, parts(node))])})"


def reading(line: Line) -> str:
    """A line as the file of cases has it."""
    if line.misread is not None:
        return f"unread {line.misread.fault} {line.misread.columns[0]}..{line.misread.columns[1]}"
    said = line.kind.value + " choice" * line.choice + " continued" * line.continued
    members = [written(member) for member in line.members]
    signs = [relation.sign for relation in line.relations]
    if line.continued:
        chain = " ".join(f"{sign} {member}" for sign, member in zip(signs, members, strict=True))
    else:
        chain = " ".join([*members[:1], *(f"{s} {m}" for s, m in zip(signs, members[1:], strict=True))])
    said += f" : {chain}" if chain else ""
    return said + (f" [{line.label}]" if line.label else "") + (f' "{line.words}"' if line.words else "")


def every_columns(line: Line) -> Iterator[Columns]:
    """All columns of a line: of members with their parts, of relations, of a misreading."""
    waiting: list[Node] = list(line.members)
    while waiting:
        node = waiting.pop()
        yield node.columns
        waiting += parts(node)
    yield from (relation.columns for relation in line.relations)
    if line.misread is not None:
        yield line.misread.columns


def _told(value: object) -> str:
    """A case by its line and what is read of it; a vocabulary is a set, told in another order each time."""
    return value[:60] if isinstance(value, str) else "symbols"


@pytest.mark.parametrize(("vocabulary", "typed", "expected"), list(cases()), ids=_told)
def test_a_line_reads_as_the_file_says(vocabulary: Vocabulary, typed: str, expected: str):
    """Kind, trees, values in SI, label, words; or fault and columns."""
    assert reading(read_line(typed, vocabulary)) == expected


def test_the_file_covers_the_rule():
    """At least 500 lines, every kind of line, most faults."""
    found = [expected for _, _, expected in cases()]
    assert len(found) >= 500
    assert {text.split()[0] for text in found} == {kind.value for kind in LineKind} - {"blank"}
    assert len({text.split()[1] for text in found if text.startswith("unread")}) >= 40


ZENER = Vocabulary(frozenset({"V_I", "V_Z", "I_Z", "R", "I_R", "I_L", "V_O", "r_z", "R_1", "R_2"}))

FIGURES = [
    ("5 mA", 1, -3, False, 1e-3),
    ("5.0 mA", 2, -3, False, 1e-4),
    ("5m", 1, -3, False, 1e-3),
    ("0.0050", 2, 0, True, 1e-4),
    ("150", 3, 0, True, 1.0),
    ("1 500 Ω", 4, 0, False, 1.0),
    ("0.27k", 2, 3, False, 10.0),
    ("2k7", 2, 3, False, 100.0),
    ("270R", 3, 0, False, 1.0),
    ("5e-3 A", 1, 0, False, 1e-3),
    ("5.00 × 10^-3 A", 3, 0, False, 1e-5),
    ("10^-3 A", 1, 0, False, 1e-3),
    ("5 %", 1, -2, False, 0.01),
    ("0", 1, 0, True, 1.0),
    ("300 K", 3, 0, False, 1.0),
    ("47K", 2, 3, False, 1000.0),
    ("12 mV/V", 2, -3, False, 1e-3),
    ("5 V/mA", 1, 3, False, 1000.0),
]


@pytest.mark.parametrize(("typed", "figures", "power", "bare", "step"), FIGURES)
def test_a_literal_knows_how_it_was_written(typed: str, figures: int, power: int, bare: bool, step: float):
    """Figures with trailing zeros, the power of prefix and unit, whether bare, what one unit of the last figure is."""
    literal = read_line(typed, ZENER).members[0]
    assert isinstance(literal, Literal)
    assert (literal.figures, literal.power, literal.bare) == (figures, power, bare)
    assert math.isclose(literal.meanings[0].step, step, rel_tol=1e-12)


def test_what_no_rounding_touches_has_no_figures():
    """π, and the unit after a bracket."""
    pi, product = read_line("π", ZENER).members[0], read_line("(12 - 5) mV", ZENER).members[0]
    assert isinstance(pi, Literal) and isinstance(product, Product)
    unit = product.factors[1]
    assert isinstance(unit, Literal)
    assert (pi.figures, unit.figures, unit.meanings[0].value, unit.meanings[0].step) == (0, 0, 0.001, 0.0)


COLUMNS = [
    ("  I_Z = 5 mA", [(3, 6), (7, 8), (9, 13)]),
    ("R=(V_I−V_Z)/I_R", [(1, 2), (2, 3), (3, 12), (3, 16), (4, 7), (7, 11), (8, 11), (13, 16)]),
    ("😀: R = 5 Ω", [(4, 5), (6, 7), (8, 11)]),
    ("Δ V_O ≤ 2²", [(1, 6), (7, 8), (9, 10), (9, 11), (10, 11)]),
]


@pytest.mark.parametrize(("typed", "columns"), COLUMNS)
def test_columns_count_code_points_as_typed(typed: str, columns: list[Columns]):
    """Brackets belong to what they hold, a minus to its term; nothing moves with blanks, labels or wide characters."""
    assert sorted(every_columns(read_line(typed, ZENER))) == columns


def test_a_blank_line_is_blank():
    """Blanks of any kind."""
    for typed in ("", "   ", "\t\u00a0\u202f\u3000", "\n"):
        assert read_line(typed, ZENER) == Line(LineKind.BLANK)


def test_every_unit_and_prefix_is_read_after_a_number():
    """Each spelling of the tables, joined and apart, with its value and its dimension."""
    nothing = Vocabulary(frozenset())
    for spelling, token in tokens().items():
        # `mega` is a prefix before it is meg and a.
        for typed in (f"4.7 {spelling}", f"4.7{spelling}", f"R_x = 4.7 {spelling}") * (spelling != "mega"):
            literal = read_line(typed, nothing).members[-1]
            assert isinstance(literal, Literal), typed
            meanings = {(one.exponents, one.unit): one.value for one in literal.meanings}
            assert math.isclose(meanings[token.exponents, token.code], 4.7 * 10.0**token.power, rel_tol=1e-12), typed
    for spelling, power in prefix_powers().items():
        for typed in (f"4.7 {spelling}", f"4.7{spelling}"):
            literal = read_line(typed, nothing).members[0]
            assert isinstance(literal, Literal), typed
            values = [one.value for one in literal.meanings if one.exponents is None]
            assert math.isclose(values[0], 4.7 * 10.0**power, rel_tol=1e-12), typed


def test_every_symbol_is_read_by_its_name_and_its_aliases():
    """With ends and as a change; a symbol that is a unit's letter stands alone just as well."""
    for name, symbol in SYMBOLS.items():
        vocabulary = Vocabulary(frozenset({name}))
        for typed, meant in [(name, name), (f"{name}_MAX", f"{name}_MAX"), *((one, name) for one in symbol.aliases)]:
            member = read_line(typed, vocabulary).members[0]
            assert isinstance(member, Name), typed
            assert (member.name, member.standing) == (meant, Standing.CIRCUIT), typed


def random_tree(random: Random, depth: int) -> str:
    """A tree in prefix form, of names and whole numbers."""
    if depth == 0 or random.random() < 0.15:
        return random.choice(["V_I", "V_Z", "R", "I_L", "R_1", "2", "37", "0.5"])
    head = random.choice("+-*/^|s")
    inner = [random_tree(random, depth - 1) for _ in range(3)]
    if head in "+*":
        return f"({head} {' '.join(inner[: random.choice((2, 3))])})"
    if head in "/|":
        return f"({head * (1 + (head == '|'))} {inner[0]} {inner[1]})"
    if head == "^":
        return f"(^ {inner[0]} {random.choice('23')})"
    return f"({'sqrt' if head == 's' else head} {inner[0]})"


def typed_out(tree: str, random: Random) -> str:
    """A tree in prefix form as a person types it, every part in brackets."""
    if not tree.startswith("("):
        return tree
    head, *rest = _split(tree[1:-1])
    inner = [one if "(" not in one else f"({typed_out(one, random)})" for one in rest]
    joint = {"+": [" + ", "+"], "*": [" × ", "*", " x "], "/": ["/", "÷"], "||": [" ∥ ", "//", "||"], "^": ["^", "**"]}
    if head == "sqrt":
        return f"{random.choice(('sqrt', '√'))}({inner[0]})"
    if head == "-":
        return f"-{inner[0]}"
    return random.choice(joint[head]).join(inner)


def _split(text: str) -> list[str]:
    pieces, depth = [""], 0
    for char in text:
        depth += (char == "(") - (char == ")")
        if char == " " and depth == 0:
            pieces.append("")
        else:
            pieces[-1] += char
    return pieces


def test_what_is_typed_out_with_brackets_reads_back():
    """2,000 random trees: order, nesting and every operator survive."""
    random = Random(7)
    for _ in range(2000):
        tree = random_tree(random, random.randint(1, 4))
        typed = typed_out(tree, random)
        line = read_line(typed, ZENER)
        assert line.kind is LineKind.CHAIN, (typed, line.misread)
        assert written(line.members[0]) == tree, typed


PIECES = [
    *"0123456789", *"+-*/^=<>()[]{},.;:?!|%_'", *"×≤≈±√∥½²⁻∴✓∞≠µΩ°é😀٣", "  ", "5 mA", "10^", "5,6",
    "1 000", "2k7", "R47", "(max)", "Δ", "{I,max}", "V_I", "R", "I_Z", "x", "of", "5 %", "//", "||", "max", "min",
    "the ", "so ", "choose ", "assume ", "if ", "load: ", "sqrt", "ln ", "e", "E24", "at ", "I",
    "=>", "…", "\u202f", "inf",
]  # fmt: skip
VOCABULARIES = [
    ZENER,
    Vocabulary(frozenset({"A", "C", "f", "VA", "T", "P_R"}), {}, ("x", "total"), True),
    Vocabulary(frozenset(), {"Us": "V_I"}),
]


def check_any(typed: str, vocabulary: Vocabulary) -> None:
    """Nothing raised; columns inside the text; JSON-able; one relation fewer than members, or as many."""
    line = read_line(typed, vocabulary)
    for first, past in every_columns(line):
        assert 1 <= first < past <= len(typed) + 1, typed
    json.dumps(line_data(line))
    assert (line.misread is not None) == (line.kind is LineKind.UNREAD)
    if line.members:
        assert len(line.members) - len(line.relations) == (0 if line.continued else 1)
        assert line.kind in (LineKind.CHAIN, LineKind.HYPOTHESIS)
    assert line.words in typed or all(piece in typed for piece in line.words.split())


@given(st.text(max_size=500), st.sampled_from(VOCABULARIES))
@settings(deadline=None, max_examples=400)
def test_any_text_is_a_line(typed: str, vocabulary: Vocabulary):
    """Characters from anywhere."""
    check_any(typed, vocabulary)


@given(st.lists(st.sampled_from(PIECES), max_size=120), st.sampled_from(VOCABULARIES))
@settings(deadline=None, max_examples=1500)
def test_any_pieces_are_a_line(pieces: list[str], vocabulary: Vocabulary):
    """Pieces of lines strung together."""
    check_any("".join(pieces)[:500], vocabulary)


def test_hostile_lines_cost_no_more_than_others():
    """At the caps: as long, as deep, as many as allowed, and one more."""
    hostile = ["(" * 24 + "1" + ")" * 24, "(" * 400, "√" * 160, "R" * 400, "_" * 400, "V_{" * 130, "-" * 400]
    hostile += ["1 000 " * 60, "at " * 130, "(a (b " * 24, "max (" * 24 + "1" + ")" * 24, "so " * 130, "a.b." * 99]
    hostile += [":" * 160, "9" * 400, "1e" * 200, "10^" * 130]
    for typed in (*hostile, *(f"R = {text}"[:400] for text in hostile)):
        check_any(typed, ZENER)
    assert read_line("(" * 24 + "1" + ")" * 24, ZENER).kind is LineKind.CHAIN
