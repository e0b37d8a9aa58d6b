"""Sets templates: the one place where values of the engine become markup inside a page.

Vocabulary: a *press* is a template environment with our filters. What a filter makes itself is markup; every other
value is escaped by the templates.
Place in the data flow: templates + content -> pages. Filters, by name: `prose` (words with formulas), `symbol` (a
letter, or words as they are), `chain`, `relation`, `svg`, and `exact`, `exacts` (SI numbers for the scripts).
"""

from __future__ import annotations

import re
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from tutor.quantities.expression import Equation, Sym
from tutor.quantities.symbols import is_symbol
from tutor.solution.solution import Chain
from tutor.views import mathml

# The space between a number and its unit, where a line must not break (SI Brochure, 9th edition, 5.4.3).
_BINDING = re.compile(r"(?<=[0-9]) (?=[pnµmkM]?(?:V|A|Ω|W|F|Hz|VA|J|S|K|dB|s|°C|%)(?![A-Za-z]))", re.ASCII)


def make_press(templates: Path) -> Environment:
    """The environment of the study site's templates: everything escaped, an unknown name an error."""
    press = Environment(
        loader=FileSystemLoader(templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    press.filters.update(
        prose=prose, symbol=symbol, chain=chain, relation=relation, svg=Markup, exact=exact, exacts=exacts
    )
    return press


def bind(text: str) -> str:
    """The text with each unit bound to its number by a space that does not break.

    >>> bind("at least 5 mA or 40 %").count("\\u00a0")
    2
    """
    return _BINDING.sub("\u00a0", text)


def prose(text: str) -> Markup:
    """Plain text with `$...$` formulas, as markup; BadFormula names a formula that does not read."""
    return Markup(mathml.prose(bind(text)))


def symbol(name: str) -> Markup:
    """A letter symbol as maths; anything else as the words it is."""
    return Markup(mathml.math(Sym(name), display=False)) if is_symbol(name) else escape(bind(name))


def chain(worked: Chain) -> Markup:
    """A line of working, its relations aligned."""
    return Markup(mathml.chain_table(worked.first, worked.rest))


def relation(equation: Equation) -> Markup:
    """An equation or inequality on a line of its own."""
    return Markup(mathml.chain_table(equation.lhs, ((equation.relation, equation.rhs),)))


def exact(value: float) -> str:
    """An SI number that a script reads back to the same value."""
    return repr(float(value))


def exacts(values: tuple[float, ...]) -> str:
    """Several of them, with a space between."""
    return " ".join(map(exact, values))
