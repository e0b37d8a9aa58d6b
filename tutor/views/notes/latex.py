"""Formulas as LaTeX, from the same markup that the pages show: order and brackets are kept because they are the same.

Plain LaTeX with amsmath: italic letters, upright subscripts and units (SI Brochure, 9th edition, 5.3 and 5.4), no
package for units. What is written here is also read by the usual readers of maths in Markdown.
Place in the data flow: expressions and chains -> MathML of `mathml.py` -> LaTeX for notes.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from tutor.errors import BadFormula
from tutor.quantities.expression import Equation, Expr
from tutor.solution.solution import Chain
from tutor.views.mathml import LINE_LENGTH, expression, math
from tutor.views.plain import chain_text
from tutor.views.prose_pieces import read_formula, unreadable

_SIGNS = {
    "−": "-", "×": r"\times ", "∥": r"\parallel ", "∂": r"\partial ", "(": r"\left(", ")": r"\right)",
    "≤": r"\leq ", "≥": r"\geq ", "≈": r"\approx ", "\u2061": "", "\u2062": r"\,",
}  # fmt: skip
_RELATIONS = {"=": "=", "≈": r"\approx", "<=": r"\leq", ">=": r"\geq", "<": "<", ">": ">"}
_LETTERS = {
    "π": r"\pi ", "η": r"\eta ", "α": r"\alpha ", "β": r"\beta ", "Θ": r"\Theta ", "φ": r"\varphi ", "Δ": r"\Delta ",
    "Ω": r"\Omega ", "µ": r"\text{µ}", "°": r"{}^{\circ}", "%": r"\%", "-": r"\text{-}", "−": "-",
}  # fmt: skip
_PLAIN = re.compile(r"[A-Za-z0-9 .,/()\[\]+:']+", re.ASCII)


def latex(thing: Expr | Equation | Chain) -> str:
    """A formula in LaTeX, without the signs that begin maths. ValueError for a sign that has no command.

    >>> latex(read_formula("V_B = V_Z/(h_FE + 1)"))
    'V_{\\\\mathrm{B}}=\\\\frac{V_{\\\\mathrm{Z}}}{h_{\\\\mathrm{FE}}+1}'
    """
    return "".join(_parts(ElementTree.fromstring(math(thing, display=False)))).strip()


def latex_formula(formula: str, text: str) -> str:
    """A formula of the authors' grammar in LaTeX; BadFormula names the text it stands in."""
    try:
        return latex(read_formula(formula))
    except BadFormula as error:
        raise unreadable(formula, text, error) from error


def chain_rows(chain: Chain) -> list[str]:
    """A chain as rows with `&` before the relation: one row while it is short, else a relation a row. ValueError as for
    a formula."""
    first = _expression(chain.first)
    links = [f"{_RELATIONS[relation]} {_expression(expr)}" for relation, expr in chain.rest]
    if not links:
        return [first]
    if len(chain_text(chain)) <= LINE_LENGTH:
        return [f"{first} &{' '.join(links)}"]
    return [f"{first} &{links[0]}", *(f"&{link}" for link in links[1:])]


def without_alignment(rows: Sequence[str]) -> list[str]:
    """Rows as formulas that can each stand alone."""
    return [row.replace("&", "") for row in rows]


def _expression(expr: Expr) -> str:
    return _of(ElementTree.fromstring(expression(expr))).strip()


def _parts(element: Element) -> list[str]:
    return [_of(child) for child in element]


def _of(element: Element) -> str:
    """An element of the markup, whatever it is."""
    text, tag = element.text or "", element.tag
    if tag == "mo":
        return _SIGNS.get(text, text)
    if tag == "mspace":
        return r"\,"
    if tag == "mn":
        return text.replace("−", "-")
    if tag == "mtext" or "mathvariant" in element.attrib:
        return upright(text)
    if tag == "mi":
        return _LETTERS.get(text, text) if len(text) == 1 else rf"\operatorname{{{text}}}"
    parts = _parts(element)
    if tag == "mfrac":
        return rf"\frac{{{parts[0].strip()}}}{{{parts[1].strip()}}}"
    if tag == "msqrt":
        return rf"\sqrt{{{''.join(parts).strip()}}}"
    if tag == "mroot":
        return rf"\sqrt[{parts[1]}]{{{parts[0].strip()}}}"
    if tag in ("msub", "msup", "msubsup"):
        base = parts[0] if len(element[0]) == 0 else f"{{{parts[0]}}}"
        marks = ("_", "^") if tag == "msubsup" else ("_",) if tag == "msub" else ("^",)
        return base.strip() + "".join(f"{mark}{{{part.strip()}}}" for mark, part in zip(marks, parts[1:], strict=True))
    if tag != "mrow":
        raise ValueError(f"no LaTeX is known for <{tag}>")
    return "".join(parts)


def upright(text: str) -> str:
    r"""Upright letters in a formula: a unit, a subscript, an abbreviation. ValueError for a sign that has no command.

    >>> upright("µA"), upright("°C"), upright("th(j-c)")
    ('\\text{µ}\\mathrm{A}', '{}^{\\circ}\\mathrm{C}', '\\mathrm{th(j}\\text{-}\\mathrm{c)}')
    """
    written, place = "", 0
    while place < len(text):
        plain = _PLAIN.match(text, place)
        if plain is not None:
            words = plain.group().replace(" ", r"\ ")
            written += rf"\mathrm{{{words}}}"
            place = plain.end()
        else:
            if text[place] not in _LETTERS:
                raise ValueError(f"no LaTeX is known for {text[place]!r} in {text!r}")
            written += _LETTERS[text[place]]
            place += 1
    return written
