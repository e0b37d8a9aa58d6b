"""Typst code of expressions and prose: the order written as on pages, the letters of a Look, text that stays text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from py_mini_racer import MiniRacer

from tests.views.print_samples import NAMES, NASTY, asked_as, plain, text_of
from tutor.errors import BadFormula, SteadyrailError
from tutor.quantities.expression import Expr
from tutor.quantities.formula import read_expression
from tutor.sets.paper import Look
from tutor.views.mathml import expression
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code
from tutor.views.print.shown import lettered, shown
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal

SITE = Path(__file__).resolve().parents[2] / "site" / "assets"
OTHER = Look(decimal_comma=True, voltages="V_in", gain="beta", drawings="IEEE", paper="Letter", large=True)


def expressions_of(name: str) -> Iterator[Expr]:
    """Every side of every line of a problem's worked solution."""
    for step in asked_as(1, name).solution.steps:
        for chain in step.chains:
            yield chain.first
            for _, side in chain.rest:
                yield side


def letters_of_code(code: str) -> str:
    """What a reader sees of Typst code, in its order: its string literals."""
    return re.sub(r"\s", "", "".join(json.loads(found) for found in re.findall(r'"(?:[^"\\]|\\.)*"', code)))


def letters_of_markup(markup: str) -> str:
    """The same of MathML, without the brackets and invisible signs, which Typst makes itself."""
    bare = markup.replace("<mo>(</mo>", "").replace("<mo>)</mo>", "")
    return re.sub(r"[\s\u2061\u2062]", "", unescape(re.sub(r"<[^>]*>", "", bare)))


@pytest.mark.parametrize("name", ["zener-resistor:2:2", "supply-ripple:3:3", "follower-state:1:1", "zener-slope:3:1"])
def test_paper_and_page_write_the_same_letters_in_the_same_order(name: str) -> None:
    """Held against the printer of pages on every line of real solutions; brackets are as many."""
    pen = Pen(Look())
    sides = list(expressions_of(name))
    assert len(sides) > 5
    for side in sides:
        code, markup = pen.body(side), expression(side)
        assert letters_of_code(code) == letters_of_markup(markup), name
        assert code.count("br(") - code.count("cbrt(") == markup.count("<mo>(</mo>")


@pytest.mark.parametrize(
    ("formula", "code"),
    [
        ("V_I_MIN", 'sy("V", "I(min)", "", true)'),
        ("DV_O", '("Δ" + sy("V", "O", "", true))'),
        ("R || r_z", '(sy("R", "", "", true) + sign("∥") + sy("r", "z", "", true))'),
        ("I_L^2*R", '(sy("I", "L", "2", true) + thin + sy("R", "", "", true))'),
        ("cbrt(phi)", 'cbrt(sy("φ", "", "", true))'),
        ("2.5*(V_I - V_Z)", '("2.5" + thin + br((sy("V", "I", "", true) + sign("−") + sy("V", "Z", "", true))))'),
    ],
)
def test_code_of_a_formula(formula: str, code: str) -> None:
    """Upright subscripts, a thin space between factors (SI Brochure, 9th edition, 5.4)."""
    assert Pen(Look()).body(read_expression(formula)) == code


def test_a_look_changes_letters_and_the_decimal_sign() -> None:
    """V_I as V_in, h_FE as β, a comma; an index and an end stay."""
    pen = Pen(OTHER)
    assert pen.prose("$h_FE_1$ of 2.5 V at $V_I_MIN - V_O$") == (
        '(eq(sy("β", "1", "", true)) + " of 2,5\u00a0V at " + '
        'eq((sy("V", "in(min)", "", true) + sign("−") + sy("V", "out", "", true))))'
    )


@pytest.mark.parametrize(
    ("main", "lowered", "told"),
    [
        ("V", "I", ("V", "in")), ("P", "O(max)", ("P", "out(max)")), ("I", "I1", ("I", "in1")), ("I", "O", ("I", "O")),
        ("ΔV", "O", ("ΔV", "out")), ("V", "OC", ("V", "OC")), ("h", "FE(min)", ("β", "min")), ("h", "FE", ("β", "")),
        ("R", "I", ("R", "I")),
    ],
)  # fmt: skip
def test_letters_settled_on(main: str, lowered: str, told: tuple[str, str]) -> None:
    """Only what stands for input, output and gain takes other letters: V_OC and I_O do not."""
    assert lettered(main, lowered, OTHER) == told
    assert lettered(main, lowered, Look()) == (main, lowered)


def test_words_are_shown_as_the_site_shows_them() -> None:
    """Against `settings_shown.js` itself, in V8: all prose of the samples, and what was made to be difficult."""
    texts = [
        "at 9.1 V, eq. 2.3 and fig. 4.1", "1.2.3", "‘V_I 3.3’ but V_I 3.3", "V_OC, V_O_MAX, DV_I, P_O(max), I_O",
        "x_V_I", "h_FE, h_FE(min), h_FE_1, h_FEx", "R1.5", "page 3.4", "3.14.", "(0.25, 0.5)", "V_I-V_O",
        "section 3.2 says 3.2 V",
    ]  # fmt: skip
    for name in NAMES:
        item = asked_as(1, name)
        told = [item.problem.statement, item.problem.ask, *(row.value for row in item.problem.table)]
        told += [step.why for step in item.solution.steps] + [check.text for check in item.solution.checks]
        texts += [piece for text in told for piece in text.split("$")[::2]]
    for look in (OTHER, replace(OTHER, gain="h_FE"), replace(OTHER, decimal_comma=False), Look()):
        chosen = {
            "names": look.voltages, "gain": look.gain, "decimal": "comma" if look.decimal_comma else "point",
            "drawings": "IEC",
        }  # fmt: skip
        engine = MiniRacer()
        engine.eval(
            "var document = { querySelectorAll: () => [], body: null };"
            f"var chosen = {json.dumps(chosen)};"
            "var settings = { get: (name) => chosen[name], choices: (name) => [chosen[name]], whenChanged() {} };"
            "var window = { Steadyrail: { settings } };"
            + (SITE / "settings_shown.js").read_text(encoding="utf-8")
        )
        for text in texts:
            assert shown(text, look) == engine.call("settings.asShown", text), (text, look)


@pytest.mark.parametrize("text", NASTY)
def test_what_anybody_typed_stays_text(text: str) -> None:
    """Compiled and read back by another reader, it is there letter for letter, and nothing was run."""
    pdf = compile_pdf(document_code(joined([literal("before "), literal(text), literal(" after")]), Look(), title=text))
    assert f"before {plain(text)} after" in text_of(pdf)
    assert Pen(Look()).told(text).count('"') >= 2


def test_letters_that_are_none_do_no_harm() -> None:
    """Control characters, half pairs and marks that turn the reading direction."""
    assert literal("a\x00b\ud800c\u202ed\u2028e") == '"a b\ufffdcd e"'
    assert compile_pdf(document_code(literal("a\x07\ud800\u202e"), Look(), title="\ud800"))


def test_a_formula_that_does_not_read_is_named() -> None:
    """As prose it is an author's mistake; as somebody's own words it is set as it stands."""
    with pytest.raises(BadFormula, match=r"the formula '\$V_I -\$' in 'so \$V_I -\$'"):
        Pen(Look()).prose("so $V_I -$")
    assert Pen(Look()).told("costs 5 $ or $so$+") == literal("costs 5 $ or $so$+")


def test_an_unknown_font_is_an_error() -> None:
    """A paper must not look otherwise on another machine."""
    with pytest.raises(SteadyrailError, match="unknown font family"):
        compile_pdf('#set text(font: "No Such Face")\nword')


def test_a_mistake_in_code_is_said() -> None:
    """The compiler's own sentence, as one of ours."""
    with pytest.raises(SteadyrailError, match="a paper cannot be set: unknown variable: nothing-such"):
        compile_pdf("#nothing-such")


def test_long_lines_break_within_the_column() -> None:
    """A relation too long for a line of large print still has all its letters on the page."""
    pen = Pen(replace(OTHER, paper="A4"))
    terms = " + ".join(f"R_{number}" for number in range(1, 3)) + " + R_1" * 40
    link = array((literal("="), pen.body(read_expression(terms))))
    code = call("chain", pen.body(read_expression("V_O")), array([link]))
    text = text_of(compile_pdf(document_code(code, OTHER, title="long")))
    assert text.count("R1") + text.count("R 1") == 41
