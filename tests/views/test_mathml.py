"""MathML from our own trees: order and brackets kept, letters and units in the right face, everything escaped."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from tutor.errors import BadFormula
from tutor.quantities.expression import Add, Div, Equation, Expr, Func, Mul, Neg, Num, Pow, Sym, Val
from tutor.quantities.formula import read_equation, read_expression
from tutor.solution.solution import Chain
from tutor.views.mathml import LINE_LENGTH, chain_table, expression, math, prose, symbol

TIMES = '<mo lspace="0" rspace="0.17em">\u2062</mo>'
THIN = '<mspace width="0.17em"/>'


def sub(main: str, subscript: str) -> str:
    return f'<msub><mi>{main}</mi><mtext>{subscript}</mtext></msub>'


# SI Brochure, 9th edition (2019), 5.3 and 5.4, and ISO 80000-1: quantity symbols italic (a bare <mi>), descriptive
# subscripts and units upright, a space between number and unit, × between numbers.
FORMULAS = [
    ("R", "<mi>R</mi>"),
    ("V_I", sub("V", "I")),
    ("V_I_MIN", sub("V", "I(min)")),
    ("R_1", "<msub><mi>R</mi><mn>1</mn></msub>"),
    ("R_thJC", sub("R", "th(j-c)")),
    ("eta", "<mi>η</mi>"),
    ("PIV", "<mtext>PIV</mtext>"),
    ("DV_O", f'<mrow><mi mathvariant="normal">Δ</mi>{sub("V", "O")}</mrow>'),
    ("2*R", f"<mrow><mn>2</mn>{TIMES}<mi>R</mi></mrow>"),
    ("h_FE*I_B", f"<mrow>{sub('h', 'FE')}{TIMES}{sub('I', 'B')}</mrow>"),
    ("3*A", "<mrow><mn>3</mn><mo>×</mo><mi>A</mi></mrow>"),
    ("R*2", "<mrow><mi>R</mi><mo>×</mo><mn>2</mn></mrow>"),
    ("2*3", "<mrow><mn>2</mn><mo>×</mo><mn>3</mn></mrow>"),
    ("R/C", "<mfrac><mi>R</mi><mi>C</mi></mfrac>"),
    ("R - C", "<mrow><mi>R</mi><mo>−</mo><mi>C</mi></mrow>"),
    ("C - R", "<mrow><mi>C</mi><mo>−</mo><mi>R</mi></mrow>"),
    ("-R + C", "<mrow><mo>−</mo><mi>R</mi><mo>+</mo><mi>C</mi></mrow>"),
    ("V_I^2", '<msubsup><mi>V</mi><mtext>I</mtext><mn>2</mn></msubsup>'),
    ("R^2", "<msup><mi>R</mi><mn>2</mn></msup>"),
    ("sqrt(R)", "<msqrt><mi>R</mi></msqrt>"),
    ("R || C", "<mrow><mi>R</mi><mo>∥</mo><mi>C</mi></mrow>"),
    ("{V_O by V_I}", f"<mfrac><mrow><mo>∂</mo>{sub('V', 'O')}</mrow><mrow><mo>∂</mo>{sub('V', 'I')}</mrow></mfrac>"),
    ("0.00000001", "<mrow><mn>1</mn><mo>×</mo><msup><mn>10</mn><mn>−8</mn></msup></mrow>"),
]


@pytest.mark.parametrize(("formula", "markup"), FORMULAS, ids=[formula for formula, _ in FORMULAS])
def test_a_formula_as_markup(formula: str, markup: str) -> None:
    assert expression(read_expression(formula)) == markup


def linear(markup: str) -> str:
    """The markup as one line of text with brackets where a bar or a raised size encloses, for reading in a table."""
    element = ElementTree.fromstring(markup)
    parts = [linear(ElementTree.tostring(child, encoding="unicode")) for child in element]
    joined = {
        "mfrac": "[{0}/{1}]",
        "msub": "{0}_{1}",
        "msup": "{0}^{1}",
        "msubsup": "{0}_{1}^{2}",
    }.get(element.tag)
    if joined:
        return joined.format(*parts)
    if element.tag == "msqrt":
        return f"√[{''.join(parts)}]"
    return (element.text or "").replace("\u2062", "·") + "".join(parts) if element.tag != "mspace" else " "


# Brackets as a reader needs them, the terms in the order written (common practice, no source).
BRACKETS = [
    ("(V_I - V_Z)*R", "(V_I−V_Z)·R"),
    ("R*(V_I - V_Z)", "R·(V_I−V_Z)"),
    ("(V_I - V_Z)/(R + R_S)", "[V_I−V_Z/R+R_S]"),
    ("R - (R_S + C)", "R−(R_S+C)"),
    ("R - (R_S - C)", "R−(R_S−C)"),
    ("R + (R_S + C)", "R+(R_S+C)"),
    ("R - (-C)", "R−(−C)"),
    ("-(R + C)", "−(R+C)"),
    ("(-R)*C", "(−R)·C"),
    ("R*(C*A)", "R·(C·A)"),
    ("R_S + R || C", "R_S+R∥C"),
    ("R_S - (R || C)", "R_S−(R∥C)"),
    ("(R || C)*A", "(R∥C)·A"),
    ("(R*A) || C", "(R·A)∥C"),
    ("(R + A) || C", "(R+A)∥C"),
    ("R || (A || C)", "R∥(A∥C)"),
    ("R || A || C", "R∥A∥C"),
    ("(R + C)^2", "(R+C)^2"),
    ("(R/C)^2", "([R/C])^2"),
    ("(2*R)^2", "(2·R)^2"),
    ("2*R^2", "2·R^2"),
    ("DV_O^2", "(ΔV_O)^2"),
    ("sqrt(R + C)^2", "√[R+C]^2"),
    ("R/C*A", "[R/C]·A"),
    ("R/(C/A)", "[R/[C/A]]"),
    ("(h_FE + 1)*I_B", "(h_FE+1)·I_B"),
]


@pytest.mark.parametrize(("formula", "shown"), BRACKETS, ids=[formula for formula, _ in BRACKETS])
def test_brackets_stand_where_they_are_needed(formula: str, shown: str) -> None:
    assert linear(expression(read_expression(formula))) == shown


VALUES: list[tuple[Expr, str]] = [
    (Val(0.0059, "A"), f"<mrow><mn>5.9</mn>{THIN}<mtext>mA</mtext></mrow>"),
    (Val(-5.0, "V"), f"<mrow><mo>−</mo><mn>5</mn>{THIN}<mtext>V</mtext></mrow>"),
    (Val(0.05, "%"), f"<mrow><mn>5</mn>{THIN}<mtext>%</mtext></mrow>"),
    (Val(80.0, "degC"), f"<mrow><mn>80</mn>{THIN}<mtext>°C</mtext></mrow>"),
    (Val(50.0, ""), "<mn>50</mn>"),
]


@pytest.mark.parametrize(("value", "markup"), VALUES, ids=[markup for _, markup in VALUES])
def test_a_value_is_a_number_and_an_upright_unit(value: Expr, markup: str) -> None:
    assert expression(value) == markup


VOLTS, OHMS = Val(9.1, "V"), Val(130.0, "ohm")
WITH_VALUES: list[tuple[Expr, str]] = [
    (Mul((VOLTS, OHMS)), "9.1 V×130 Ω"),
    (Mul((Sym("R"), VOLTS)), "R×9.1 V"),
    (Mul((Num(2), VOLTS)), "2×9.1 V"),
    (Mul((VOLTS, Val(-0.005, "A"))), "9.1 V×(−5 mA)"),
    (Add((VOLTS, Val(-5.0, "V"))), "9.1 V−5 V"),
    (Add((VOLTS, Val(-5.1234, "V", 12))), "9.1 V−5.1234 V"),
    (Add((VOLTS, Neg(Val(-5.0, "V")))), "9.1 V−(−5 V)"),
    (Pow(VOLTS, 2), "(9.1 V)^2"),
    (Div(Pow(Add((VOLTS, Neg(VOLTS))), 2), OHMS), "[(9.1 V−9.1 V)^2/130 Ω]"),
    (Func("sqrt", VOLTS), "√[9.1 V]"),
]


@pytest.mark.parametrize(("expr", "shown"), WITH_VALUES, ids=[shown for _, shown in WITH_VALUES])
def test_values_put_into_a_relation(expr: Expr, shown: str) -> None:
    assert linear(expression(expr)) == shown


def test_a_relation_has_a_plain_alternative() -> None:
    # WCAG 2.2, 1.1.1; alttext is MathML Core's attribute for it.
    markup = math(read_equation("I_Z <= I_ZM"), display=True)
    assert markup.startswith('<math display="block" alttext="I_Z ≤ I_ZM">')
    assert "<mo>≤</mo>" in markup
    inline = math(Sym("V_I"), display=False)
    assert inline == f'<math alttext="V_I">{sub("V", "I")}</math>'


@pytest.mark.parametrize(
    ("relation", "sign"), [("=", "="), ("<=", "≤"), (">=", "≥"), ("<", "&lt;"), (">", "&gt;"), ("≈", "≈")]
)
def test_every_relation_prints(relation: str, sign: str) -> None:
    markup = math(Equation(Sym("R"), Sym("C"), relation), display=False)
    assert f"<mo>{sign}</mo>" in markup
    ElementTree.fromstring(markup)


LONG = (
    ("=", read_expression("(V_I_MIN - V_Z)/(I_L_MAX + I_ZK)")),
    ("=", Div(Add((Val(14, "V"), Neg(VOLTS))), Add((Val(0.03, "A"), Val(0.005, "A"))))),
    ("=", Val(140.0, "ohm")),
)


def rows(markup: str) -> list[list[str]]:
    found = ElementTree.fromstring(markup).iter("mtr")
    return [[linear(ElementTree.tostring(cell, encoding="unicode")) for cell in row] for row in found]


def test_a_long_chain_has_one_relation_a_line() -> None:
    markup = chain_table(Sym("R_MAX"), LONG)
    assert rows(markup) == [
        ["R_max", "=[V_I(min)−V_Z/I_L(max)+I_ZK]"],
        ["", "=[14 V−9.1 V/30 mA+5 mA]"],
        ["", "=140 Ω"],
    ]
    assert 'alttext="R_MAX = (V_I_MIN − V_Z)/(I_L_MAX + I_ZK) = (14 V − 9.1 V)/(30 mA + 5 mA) = 140 Ω"' in markup


def test_a_short_chain_stays_on_one_line() -> None:
    chain = (("=", read_expression("V_Z*I_Z")), ("=", Val(0.578, "W")))
    assert rows(chain_table(Sym("P_Z"), chain)) == [["P_Z", "=V_Z·I_Z=578 mW"]]
    assert rows(chain_table(Sym("P_Z"), (*chain, *LONG)))[0] == ["P_Z", "=V_Z·I_Z"]


def test_no_line_of_a_chain_is_wider_than_a_phone_unless_one_relation_is() -> None:
    for length in range(1, 12):
        chain = tuple(("=", Val(140.0, "ohm")) for _ in range(length))
        lines = rows(chain_table(Sym("R"), chain))
        assert len(lines) in (1, length)
        assert all(len("".join(line)) <= LINE_LENGTH for line in lines)


def test_a_chain_of_one_expression_is_no_table() -> None:
    assert "mtable" not in chain_table(Sym("R"), ())
    assert linear(math(Chain(Sym("R"), LONG[2:]), display=False)) == "R=140 Ω"


def test_prose_is_escaped_and_its_formulas_are_set() -> None:
    markup = prose('so $I_Z$ < 5 mA & "more" <script>x</script>; $V_I >= 3*V_Z$, it\'s so')
    root = ElementTree.fromstring(f"<p>{markup}</p>")
    assert [child.tag for child in root] == ["math", "math"]
    assert [child.get("alttext") for child in root] == ["I_Z", "V_I ≥ 3 V_Z"]
    outside = (root.text or "") + "".join(child.tail or "" for child in root)
    assert outside == 'so  < 5 mA & "more" <script>x</script>; , it\'s so'
    assert "<script" not in markup and '"more"' not in markup


def test_prose_without_formulas_is_the_text() -> None:
    assert prose("the zener holds") == "the zener holds"
    assert prose("") == ""


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("give $V_I + $ more", "the formula '$V_I + $' in 'give $V_I + $ more' does not read: expected"),
        ("an empty $$ one", "the formula '$$' in 'an empty $$ one' does not read"),
        ("two relations $R = C = A$", "the formula '$R = C = A$' in 'two relations"),
        ("nonsense $R & C$", "cannot read '& C'"),
        ("costs 5 $ a piece", "a dollar sign without its partner in 'costs 5 $ a piece'"),
    ],
)
def test_prose_that_does_not_read_names_its_text(text: str, sentence: str) -> None:
    with pytest.raises(BadFormula, match=re.escape(sentence)):
        prose(text)


def test_a_unit_and_a_name_cannot_smuggle_markup() -> None:
    assert symbol("a<b") == "<mtext>a&lt;b</mtext>"
    ElementTree.fromstring(expression(Func("<x>", Sym("R"))))
