"""Sets templates: the one place where values of the engine become markup inside a page.

Vocabulary: a *press* is a template environment with our filters. What a filter makes itself is markup; every other
value is escaped by the templates.
Place in the data flow: templates + content -> pages. The filters are `prose` (words with formulas in dollar signs),
`told` (somebody's own words, which may or may not be that), `words` (plain words), `symbol` (a letter, or words as
they are), `chain`, `relation`, `svg`, and `exact`, `exacts` (SI numbers for the scripts); a name may be asked whether
it is a `letter`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from tutor.errors import BadFormula
from tutor.quantities.expression import Equation, Sym
from tutor.quantities.symbols import is_symbol
from tutor.solution.solution import Chain
from tutor.views import mathml
from tutor.views.lettering import symbol_parts

# The space between a number and its unit, where a line must not break (SI Brochure, 9th edition, 5.4.3).
_BINDING = re.compile(r"(?<=[0-9]) (?=[pnµmkM]?(?:V|A|Ω|W|F|Hz|VA|J|S|K|dB|s|°C|%)(?![A-Za-z]))", re.ASCII)

# A letter, its relation and its value: `$R$ = 910 Ω`.
_STATEMENT = re.compile(r"(?<=\$) ([=≈≤≥<>]) (?=−?[0-9])")
_NAME = re.compile(r"([A-Za-z]+_[A-Za-z0-9_]+)", re.ASCII)
_KEPT = 8192  # texts whose markup is remembered: why a slip is wrong is said of every problem of its level
_APOSTROPHE = re.compile(r"(?<=[A-Za-z$])'(?=[a-z])|(?<=s)'(?= )")


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
        prose=prose, told=told, lettered=lettered, words=words, symbol=symbol, chain=chain, relation=relation,
        svg=Markup, exact=exact, exacts=exacts,
    )  # fmt: skip
    press.tests.update(letter=is_symbol, lettered=is_lettered)
    return press


def typeset(text: str) -> str:
    """The text as a compositor sets it: units bound to their numbers, values to their letters, apostrophes curved.

    >>> typeset("the zener's 5 mA")
    'the zener’s 5\\xa0mA'
    """
    bound = _STATEMENT.sub("\u00a0\\1\u00a0", _BINDING.sub("\u00a0", text))
    return _APOSTROPHE.sub("’", bound)


@lru_cache(maxsize=_KEPT)
def prose(text: str) -> Markup:
    """Plain text with `$...$` formulas, as markup; BadFormula names a formula that does not read."""
    return Markup(mathml.prose(typeset(text)))


def told(text: str) -> Markup:
    """Somebody's own words: as prose where they read as that, else letter for letter."""
    try:
        return prose(text)
    except BadFormula:
        return escape(typeset(text))


def symbol(name: str) -> Markup:
    """A letter symbol as maths; anything else as the words it is."""
    return _letter(name) if is_symbol(name) else escape(typeset(name))


def is_lettered(text: str) -> bool:
    """Whether every formula of a text is one letter symbol, so that a script of the page can set it.

    >>> is_lettered("$V_Z$ of the zener"), is_lettered("$V_I - V_Z$ across $R$")
    (True, False)
    """
    return all(is_symbol(formula) for formula in text.split("$")[1::2])


def lettered(text: str) -> str:
    """Such a text for that script: each letter symbol as its main letter and its subscript, with a bar between.

    >>> lettered("$V_Z$ of the zener")
    '$V|Z$ of the zener'
    """
    pieces = typeset(text).split("$")
    pieces[1::2] = ["|".join(symbol_parts(name)) for name in pieces[1::2]]
    return "$".join(pieces)


def words(text: str) -> Markup:
    """Plain words without dollar signs; names such as V_O in them are set as the letters they stand for."""
    return Markup("").join(_letter(piece) if is_letter else escape(piece) for piece, is_letter in named_pieces(text))


def named_pieces(text: str) -> Iterator[tuple[str, bool]]:
    """Plain words as a compositor sets them, in pieces: each with whether it is the name of a letter symbol.

    >>> list(named_pieces("V_O is high"))[1:]
    [('V_O', True), (' is high', False)]
    """
    for piece in _NAME.split(typeset(text)):
        yield piece, "_" in piece and is_symbol(piece)


@lru_cache(maxsize=_KEPT)
def _letter(name: str) -> Markup:
    return Markup(mathml.math(Sym(name), display=False))


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
