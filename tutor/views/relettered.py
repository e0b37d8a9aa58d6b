"""Markup of ours in the letters and with the decimal sign of a Look: what `print/shown.py` says, for pages.

Place in the data flow: what a press makes of prose and words -> the same as this class's papers write it. The markup is
our own (`views/mathml.py`), so that its shape is known; what a learner typed never comes through here.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from jinja2 import Environment
from markupsafe import Markup, escape

from tutor.sets.paper import Look
from tutor.views.press import make_press, prose, told, words
from tutor.views.print.shown import lettered, shown
from tutor.views.sources import site_folder

_LETTER = re.compile(r'<mi>([^<]+)</mi><mtext>([^<]*)</mtext>')
_PIECE = re.compile(r'(<[^>]*>)')
_TOLD = re.compile(r'alttext="([^"]*)"')


def press_for(look: Look) -> Environment:
    """A press whose prose and words are in the letters of a Look."""
    press = make_press(site_folder() / "templates")
    for name, filter_ in (("prose", prose), ("told", told), ("words", words)):
        press.filters[name] = _in_look(filter_, look)
    return press


def _in_look(filter_: Callable[[str], Markup], look: Look) -> Callable[[str], Markup]:
    return lambda text: relettered(filter_(text), look)


def relettered(markup: Markup, look: Look) -> Markup:
    """The same markup in the letters settled on.

    >>> relettered(Markup('<mi>V</mi><mtext>I(min)</mtext> at 9.1 V'), Look(voltages="V_in"))
    Markup('<mi>V</mi><mtext>in(min)</mtext> at 9.1 V')
    """
    if look.voltages == "V_I" and look.gain == "h_FE" and not look.decimal_comma:
        return markup
    lettering = _LETTER.sub(lambda found: _letter(found, look), str(markup))
    return Markup("".join(_piece(piece, look) for piece in _PIECE.split(lettering)))


def _letter(found: re.Match[str], look: Look) -> str:
    main, lowered = lettered(found[1], found[2], look)
    return f'<mi>{main}</mi><mtext>{lowered}</mtext>'


def _piece(piece: str, look: Look) -> str:
    """A tag as it is, but for what is read aloud of a formula; text with its numbers and names."""
    if piece.startswith("<"):
        return _TOLD.sub(lambda found: f'alttext="{_text(found[1], look)}"', piece)
    return _text(piece, look)


def _text(text: str, look: Look) -> str:
    return str(escape(shown(Markup(text).unescape(), look)))
