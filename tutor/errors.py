"""Errors an author or a user can mend; a learner's slip is never one of them (that is a finding, a value).

    SteadyrailError            one sentence: what was wrong, where, what would be right
    ├── UnknownName            a circuit, family, symbol, convention or option that does not exist
    ├── BadValue               text that is no quantity, or a quantity with the wrong unit or sign
    ├── BadFormula             an author's formula that does not parse
    ├── BadCircuit             a netlist or a circuit file that contradicts itself
    ├── BadFamily              a family file with a mistake: file, field, what was got
    ├── Contradiction          givens that break a law of the circuit, which is named
    ├── Unreachable            givens from which the wanted quantity does not follow
    └── OutOfRange             a draw, number or level outside what a family declares

Each carries its values beside its sentence, so that a caller need not parse words.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


class SteadyrailError(Exception):
    """Base of every error whose message is meant for the person at the keyboard; exit status 2."""

    def __init__(self, sentence: str, **values: object) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.values = values


class UnknownName(SteadyrailError):
    """A name that is not in its table; `nearest` holds the closest valid one or None."""


class BadValue(SteadyrailError):
    """Text that cannot be read as the quantity it stands for."""


class BadFormula(SteadyrailError):
    """An author's formula that cannot be read."""


class BadCircuit(SteadyrailError):
    """A circuit declaration that contradicts itself."""


class BadFamily(SteadyrailError):
    """A family declaration with a mistake."""


class Contradiction(SteadyrailError):
    """Givens that cannot all be true, or one too many; `law` names the law that shows it."""


class Unreachable(SteadyrailError):
    """The wanted does not follow from the givens; `missing` names what would help."""


class OutOfRange(SteadyrailError):
    """A number, level or value outside its declared range."""


def nearest(name: str, valid: Iterable[str]) -> str | None:
    """The valid name closest to `name` in spelling, or None when nothing is close.

    >>> nearest("zener-shut", ["follower", "zener-shunt"])
    'zener-shunt'
    """
    names = sorted(set(valid))
    folded: dict[str, str] = {}
    for candidate in names:
        folded.setdefault(candidate.lower(), candidate)
    found = get_close_matches(name.lower(), list(folded), n=1, cutoff=0.5)
    return folded[found[0]] if found else None


def unknown(kind: str, name: str, valid: Iterable[str]) -> UnknownName:
    """The error for a name outside its table, naming the nearest valid one.

    >>> str(unknown("circuit", "folower", ["follower", "source"]))
    "there is no circuit 'folower'; did you mean 'follower'?"
    """
    names = tuple(valid)
    return UnknownName(
        f"there is no {kind} '{name}'; {suggestion(name, names)}", kind=kind, name=name, nearest=nearest(name, names)
    )


def suggestion(name: str, valid: Iterable[str]) -> str:
    """The clause that says which valid name may have been meant, or all of them where none is near.

    >>> suggestion("resistr", ["resistor", "zener"])
    "did you mean 'resistor'?"
    """
    names = sorted(set(valid))
    close = nearest(name, names)
    return f"did you mean '{close}'?" if close else "valid names: " + ", ".join(names)
