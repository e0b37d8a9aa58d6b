"""How the letter symbols of the table look in print: `V_I_MIN` is an italic V with an upright subscript I(min).

Vocabulary: the *main* letter is set italic (upright when it is an abbreviation such as PIV); the *subscript* is upright
because it describes (ISO 80000-1, 7.1). A *run* is a stretch of text in one face.
Place in the data flow: names of symbols -> main and subscript -> formulas, drawings, figures and papers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from tutor.quantities.symbols import NameParts, is_symbol, split_name

_GREEK = {"eta": "η", "alpha": "α", "beta": "β", "Theta": "Θ", "phi": "φ"}
_MAINS = {"REG": "Reg", "RIPPLE_FACTOR": "ripple factor"}
# Subscripts that are words or shortened words are set small; letters naming a terminal or a device stay capital.
_SMALL = (
    *("min", "max", "nom", "sat", "ref", "sense", "lim", "knee", "drop", "trough", "crest"),
    *("sec", "pri", "pk", "rip", "div", "reg", "adj", "feed", "out", "line", "load", "temp"),
    *("band", "tap", "lower", "upper", "head"),
)
_WORDS = {word.upper(): word for word in _SMALL} | {"SPK": "s(pk)", "TH": "Th"}
_HEAT_PATH = re.compile(r"th([JCSA])([JCSA])", re.ASCII)
_LABEL = re.compile(r"[A-Za-z]|[A-Za-z]+(_[A-Za-z0-9]+)+", re.ASCII)


@dataclass(frozen=True)
class Run:
    """A stretch of text in one face."""

    text: str
    italic: bool = False
    lowered: bool = False


def symbol_parts(name: str) -> tuple[str, str]:
    """The main letter and the subscript of a symbol, as printed; the subscript may be empty.

    A name outside the table (a part such as `Q_1`) is split at its underscores.

    >>> symbol_parts("V_I_MIN"), symbol_parts("V_BE_1"), symbol_parts("R_MAX"), symbol_parts("R_thJC")
    (('V', 'I(min)'), ('V', 'BE1'), ('R', 'max'), ('R', 'th(j-c)'))
    """
    parts = split_name(name) if is_symbol(name) else NameParts(False, name, "", "")
    if parts.base == "DT":  # in the table as it stands, since its unit differs from that of T
        parts = NameParts(True, "T", "", parts.end)
    main, _, rest = parts.base.partition("_")
    if parts.base in _MAINS:
        main, rest = _MAINS[parts.base], ""
    subscript = ""
    for word in rest.split("_") if rest else ():
        subscript = _joined(subscript, word)
    for mark in parts.index.split("_") if parts.index else ():
        subscript = subscript + mark if mark.isdigit() else _joined(subscript, mark)
    if parts.end:
        subscript = _joined(subscript, parts.end)
    main = _GREEK.get(main, _MAINS.get(main, main))
    return ("Δ" + main if parts.change else main), subscript


def _joined(subscript: str, word: str) -> str:
    """A further word of a subscript: set in brackets when it describes, after a comma when it names."""
    small = _WORDS.get(word)
    path = _HEAT_PATH.fullmatch(word)
    if path:
        small = f"th({path[1].lower()}-{path[2].lower()})"
    if not subscript:
        return small or word
    return f"{subscript}({small})" if small else f"{subscript},{word}"


def is_abbreviation(main: str) -> bool:
    """Whether a main letter is set upright: several letters standing for words, such as PIV."""
    return len(main.removeprefix("Δ")) > 1


def symbol_runs(name: str) -> tuple[Run, ...]:
    """A symbol as runs of text: for labels in a drawing."""
    main, subscript = symbol_parts(name)
    bare = main.removeprefix("Δ")
    runs = [Run("Δ")] if bare != main else []
    runs.append(Run(bare, italic=not is_abbreviation(main)))
    if subscript:
        runs.append(Run(subscript, lowered=True))
    return tuple(runs)


def mathtext(name: str) -> str:
    """A symbol in the notation of matplotlib's figures: italic letter, upright subscript.

    >>> mathtext("V_I_MIN"), mathtext("R")
    ('$V_\\\\mathrm{I(min)}$', '$R$')
    """
    main, subscript = symbol_parts(name)
    return f"${main}_\\mathrm{{{subscript}}}$" if subscript else f"${main}$"


def label_runs(label: str) -> tuple[Run, ...]:
    """A label as runs of text: a letter symbol when it has the form of one (`R_L`, `R`), else words (`load`)."""
    return symbol_runs(label) if _LABEL.fullmatch(label) else (Run(label),)


def plain_label(label: str) -> str:
    """A label in one line of plain text, for descriptions read aloud: `V_I(min)`."""
    return "".join(f"_{run.text}" if run.lowered else run.text for run in label_runs(label))
