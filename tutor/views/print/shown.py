"""How a paper writes, by its Look: the decimal sign, the letters of input, output and gain.

The same rules as the settings of the study site (`site/assets/settings_shown.js`), so that a paper and its pages
agree: quotations stay as they are, and a place in a book keeps its points.
Place in the data flow: prose and letters of problems + Look -> what is set.
"""

from __future__ import annotations

import re

from tutor.sets.paper import Look

_QUOTED = "‘[^’]*’|“[^”]*”"
_NUMBER = re.compile(
    rf"{_QUOTED}|(?<![^\W\d_])(?:eqs?|figs?|tables?|sections?|chapters?|edition|pp?|§)[.,]? ?[0-9][0-9.]*|"
    r"(?<![\w.,])[0-9]+\.[0-9]+(?![0-9]*\.[0-9])|(?<![\w.,])[0-9]+(?:\.[0-9]+){2,}",
    re.IGNORECASE,
)
_POINTED = re.compile(r"[0-9]+\.[0-9]+", re.ASCII)
_NAME = re.compile(
    rf"{_QUOTED}|(?<![\w-])(D?[VIP])_I(?![A-Za-z0-9])|(?<![\w-])(D?[VP])_O(?![A-Za-z0-9])", re.ASCII
)
_GAIN = re.compile(rf"{_QUOTED}|(?<![\w-])h_FE(?:\(([a-z]+)\)|(?![A-Za-z0-9]))", re.ASCII)
_GAIN_END = re.compile(r"\(([a-z]+)\)", re.ASCII)


def shown(text: str, look: Look) -> str:
    """Words or a written number as this paper shows them.

    >>> shown("at 9.1 V, V_I_MIN", Look(decimal_comma=True, voltages="V_in"))
    'at 9,1 V, V_in_MIN'
    """
    named = _spelt(text, look) if "_" in text else text
    return _with_comma(named) if look.decimal_comma and "." in named else named


def _with_comma(text: str) -> str:
    return _NUMBER.sub(lambda found: found[0].replace(".", ",") if _POINTED.fullmatch(found[0]) else found[0], text)


def _spelt(text: str, look: Look) -> str:
    """A name as it is typed, in the letters settled on: V_in_MIN for V_I_MIN, β_1 for h_FE_1."""
    if look.voltages == "V_in":
        text = _NAME.sub(
            lambda found: f"{found[1]}_in" if found[1] else f"{found[2]}_out" if found[2] else found[0], text
        )
    if look.gain == "beta":
        text = _GAIN.sub(
            lambda found: (f"β_{found[1]}" if found[1] else "β") if found[0].startswith("h") else found[0], text
        )
    return text


def lettered(main: str, lowered: str, look: Look) -> tuple[str, str]:
    """A main letter and its subscript, in the letters settled on.

    >>> lettered("V", "I(min)", Look(voltages="V_in")), lettered("h", "FE1", Look(gain="beta"))
    (('V', 'in(min)'), ('β', '1'))
    """
    bare = main.removeprefix("Δ")
    if look.gain == "beta" and bare == "h" and lowered.startswith("FE"):
        return main.replace("h", "β"), _GAIN_END.sub(r"\1", lowered[2:])
    if look.voltages == "V_in":
        after = lowered[1:2]
        if bare in ("V", "I", "P") and lowered.startswith("I") and not after.isalpha():
            return main, f"in{lowered[1:]}"
        if bare in ("V", "P") and lowered.startswith("O") and not after.isalpha():
            return main, f"out{lowered[1:]}"
    return main, lowered
