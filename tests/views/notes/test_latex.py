"""Formulas in LaTeX, read by somebody else: the maths reader of matplotlib, which knows nothing of us.

Letters italic, subscripts and units upright: SI Brochure, 9th edition (2019), 5.3 and 5.4, and ISO 80000-1.
"""

from __future__ import annotations

import re

import pytest
from matplotlib.mathtext import MathTextParser

from tutor.across.family import Posed
from tutor.across.named import problem
from tutor.errors import BadFormula
from tutor.quantities.expression import Add, Div, Expr, Mul, Neg, Num, Pow, Sym, Val
from tutor.quantities.formula import read_equation, read_expression
from tutor.solution.derivation import derive
from tutor.solution.solution import Chain
from tutor.views.notes.blocks import Display, Note
from tutor.views.notes.gather import derived_note, problem_note
from tutor.views.notes.latex import chain_rows, latex, latex_formula, upright, without_alignment
from tutor.views.notes.latex_note import latex_text, latex_words

READER: MathTextParser = MathTextParser("path")
NAMES = (
    "zener-resistor:2:17", "zener-temperature:2:1", "disturbance-budget:2:1", "heat-sink:1:1",
    "find-the-wrong-line:1:1",
)  # fmt: skip

FORMULAS = [
    ("R", "R"),
    ("V_I_MIN", r"V_{\mathrm{I(min)}}"),
    ("R_1^2", "R_{1}^{2}"),
    ("R_thJC", r"R_{\mathrm{th(j}\text{-}\mathrm{c)}}"),
    ("eta", r"\eta"),
    ("PIV", r"\mathrm{PIV}"),
    ("DV_O*2", r"\Delta V_{\mathrm{O}}\times 2"),
    ("h_FE*I_B", r"h_{\mathrm{FE}}\,I_{\mathrm{B}}"),
    ("V_Z + V_BE - V_F", r"V_{\mathrm{Z}}+V_{\mathrm{BE}}-V_{\mathrm{F}}"),
    ("(V_I - V_Z)*I_L", r"\left(V_{\mathrm{I}}-V_{\mathrm{Z}}\right)\,I_{\mathrm{L}}"),
    ("(V_I - V_Z)^2/R", r"\frac{{\left(V_{\mathrm{I}}-V_{\mathrm{Z}}\right)}^{2}}{R}"),
    ("R || C", r"R\parallel C"),
    ("sqrt(2)*V_SEC", r"\sqrt{2}\,V_{\mathrm{sec}}"),
    ("cbrt(phi)", r"\sqrt[3]{\varphi}"),
    ("{V_O by V_I}", r"\frac{\partial V_{\mathrm{O}}}{\partial V_{\mathrm{I}}}"),
    ("2*pi", r"2\times \pi"),
]


@pytest.mark.parametrize(("formula", "written"), FORMULAS, ids=[formula for formula, _ in FORMULAS])
def test_a_formula_in_latex(formula: str, written: str) -> None:
    """Order and brackets as they were written; the outside reader takes it."""
    assert latex(read_expression(formula)) == written
    READER.parse(f"${written}$")


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Val(5.9012e-3, "A"), r"5.90\,\mathrm{mA}"),
        (Val(270.0, "ohm"), r"270\,\Omega"),
        (Val(4700.0, "ohm"), r"4.7\,\mathrm{k}\Omega"),
        (Val(100e-6, "F"), r"100\,\text{µ}\mathrm{F}"),
        (Val(40.0, "degC"), r"40\,{}^{\circ}\mathrm{C}"),
        (Val(0.05, "%"), r"5\,\%"),
        (Val(-2e-3, "V/K"), r"-2\,\mathrm{mV/K}"),
        (Num(1e-8), r"1\times 10^{-8}"),
    ],
)  # fmt: skip
def test_a_value_with_its_unit(value: Expr, written: str) -> None:
    """A thin space and an upright unit."""
    assert latex(value) == written
    READER.parse(f"${written}$")


def test_a_long_chain_has_a_relation_a_row() -> None:
    """Relations are aligned; a short chain stands on one row, and a lone expression has none."""
    difference = Add((Sym("V_I"), Neg(Sym("V_Z"))))
    worst = Div(difference, Add((Sym("I_L_MAX"), Sym("I_ZK"))))
    long = Chain(Sym("R"), (("<=", worst), ("=", Val(140.0, "ohm"))))
    assert chain_rows(long) == [
        r"R &\leq \frac{V_{\mathrm{I}}-V_{\mathrm{Z}}}{I_{\mathrm{L(max)}}+I_{\mathrm{ZK}}}",
        r"&= 140\,\Omega",
    ]
    assert chain_rows(Chain(Sym("P_Z"), (("=", Mul((Sym("V_Z"), Sym("I_Z")))),))) == [
        r"P_{\mathrm{Z}} &= V_{\mathrm{Z}}\,I_{\mathrm{Z}}"
    ]
    assert chain_rows(Chain(Pow(Sym("R"), 2), ())) == ["R^{2}"]


def notes() -> list[Note]:
    """Notes of several problems with their solutions, and of a circuit's derivations."""
    found = []
    for name in NAMES:
        worked = problem(name)
        lines = worked.lines if isinstance(worked, Posed) else ()
        found.append(problem_note(worked.problem, worked.solution, (), lines))
    return [*found, derived_note(derive("follower", "P_Q"), ())]


def test_every_formula_of_whole_notes_is_read_by_another() -> None:
    """Those on lines of their own, and those inside sentences."""
    seen: set[str] = set()
    for note in notes():
        for block in note.blocks:
            if isinstance(block, Display):
                seen |= set(without_alignment(chain_rows(block.chain)))
        seen |= set(re.findall(r"(?<!\\)\$([^$]+)\$", latex_text(note)))
    assert len(seen) > 200
    for formula in sorted(seen):
        READER.parse(f"${formula}$")


def test_the_outside_reader_can_refuse() -> None:
    """The check above is one: an unknown command and an open brace are refused."""
    for wrong in (r"\DeltaV", r"\frac{1}{2"):
        with pytest.raises(ValueError, match=r"Unknown symbol|Expected"):
            READER.parse(f"${wrong}$")


def test_words_are_escaped() -> None:
    """The ten special characters, those outside the usual fonts, and what is built of them stays text."""
    assert latex_words(r"50 % of #1 & $x_1$ {a} \input ~ ^") == (
        r"50 \% of \#1 \& \$x\_1\$ \{a\} \textbackslash{}input \textasciitilde{} \textasciicircum{}"
    )
    assert latex_words("−5 Ω × 10⁻³ – 40 °C") == (
        r"$-$5 $\Omega$ $\times$ 10\textsuperscript{$-$}\textsuperscript{3} -- 40 \textdegree{}C"
    )
    assert latex_words("é 漢 \x07") == "é {[}U+6F22{]} {[}U+0007{]}"
    text = latex_text(Note(r"A \title{x} & more", "", ()))
    assert r"\section*{A \textbackslash{}title\{x\} \& more}" in text


def test_a_document_is_whole() -> None:
    """Every environment that begins ends, braces and dollars pair off, and nothing but its own packages is called."""
    for note in notes():
        text = latex_text(note)
        assert text.startswith("\\documentclass[11pt,a4paper]{article}\n") and text.endswith("\\end{document}\n")
        depth: list[str] = []
        for kind, name in re.findall(r"\\(begin|end)\{([a-z*]+)\}", text):
            if kind == "begin":
                depth.append(name)
            else:
                assert depth.pop() == name
        assert depth == []
        bare = re.sub(r"\\.", "", text)
        assert bare.count("{") == bare.count("}") and bare.count("$") % 2 == 0
        assert not re.search(r"[^\x00-\u017f]", text.replace("µ", "")), "a character that no usual font has"


def test_what_does_not_read_is_told() -> None:
    """A formula that is none, a lone dollar sign, a letter that no LaTeX is known for."""
    with pytest.raises(BadFormula, match=re.escape("the formula '$R +$' in 'so $R +$ it is' does not read")):
        latex_formula("R +", "so $R +$ it is")
    with pytest.raises(BadFormula, match="a dollar sign without its partner"):
        latex_text(Note("costs 5 $", "", ()))
    with pytest.raises(ValueError, match="no LaTeX is known"):
        upright("漢")
    assert latex(read_equation("R ~ 5")) == r"R\approx 5"
