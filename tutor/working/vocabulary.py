"""What the symbols of a line mean: those of the circuit by any of their spellings, and the learner's own.

Vocabulary: a *typed* name is a run of characters as it stands in the line (`V_{I,max}`, `Vz`, `ΔV_O`); an *end* is one
end of a range (`_MIN`, `_MAX`, `_NOM`).
Place in the data flow: a circuit's symbols and aliases -> Vocabulary -> names in the tree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType

from tutor.quantities.symbols import fold, is_symbol, resolve_alias
from tutor.working.alphabet import DIGITS, is_name_char, lowered
from tutor.working.tree import Standing

_ENDS = ("_MIN", "_MAX", "_NOM")
_MARKS = "{}(),"
LOOSELY: Mapping[str, str] = MappingProxyType({"r": "R", "U": "V", "u": "V"})
MOST_NAME = 40
MOST_MET = 4096  # typed names kept with what they mean


@dataclass(frozen=True)
class Vocabulary:
    """The names a line may use: `symbols` of the circuit with an index where it has one (V_Z, V_I_1, R_1), the
    circuit's own typed spellings, the learner's own symbols so far as they typed them; and how decimals are written."""

    symbols: frozenset[str]
    aliases: Mapping[str, str] = field(default_factory=dict)
    own: tuple[str, ...] = ()
    decimal_comma: bool = False
    met: dict[str, str | None] = field(default_factory=dict, compare=False, repr=False)  # what was resolved before

    def resolve(self, typed: str) -> tuple[str, Standing]:
        """The name of a typed symbol and whose it is; an unknown one keeps its spelling.

        >>> Vocabulary(frozenset({"V_I"})).resolve("V_{in,max}")
        ('V_I_MAX', <Standing.CIRCUIT: 'circuit'>)
        """
        name = self._circuits(typed)
        if name is not None:
            return name, Standing.CIRCUIT
        if typed in self.own:
            return typed, Standing.OWN
        name = self._loosely(typed)
        return (typed, Standing.UNKNOWN) if name is None else (name, Standing.CIRCUIT)

    def _loosely(self, typed: str) -> str | None:
        """A small r for a resistance and U for a voltage (IEC 60027-1 has both), where nothing else has that name."""
        letter = LOOSELY.get(typed[:1])
        return None if letter is None else self._circuits(letter + typed[1:])

    def holds(self, name: str) -> bool:
        """Whether a name of the table is one of the circuit's, with or without an end or a change."""
        stem = name[:-4] if name[-4:] in _ENDS else name
        bases = [name, stem]
        if name.startswith("D"):
            bases += [name[1:], stem[1:]]
        return is_symbol(name) and any(base in self.symbols for base in bases)

    def _circuits(self, typed: str) -> str | None:
        """The circuit's name of a typed one; the same few are asked for on every line."""
        if typed not in self.met:
            found = self._worked_out(typed)
            if len(self.met) >= MOST_MET:
                return found
            self.met[typed] = found
        return self.met[typed]

    def _worked_out(self, typed: str) -> str | None:
        if len(typed) > MOST_NAME or not all(is_name_char(char) or char in _MARKS for char in typed):
            return None
        bare = _without_braces(typed)
        name = self._by_alias(bare) if self.aliases else None
        if name is None:
            name = _by_table(bare)
        return name if name is not None and self.holds(name) else None

    def _by_alias(self, bare: str) -> str | None:
        """By one of the circuit's own spellings, with an end or a change if need be."""
        direct = self._spelled(bare)
        if direct is not None:
            return direct
        stem = bare[:-1] if bare[-1:] == ")" else bare
        for end in _ENDS:
            word = lowered(end[1:])
            if lowered(stem).endswith(word):
                name = self._spelled(stem[: -len(word)].rstrip("_(,"))
                if name is not None:
                    return name + end
        changed = self._by_alias(bare[1:]) if bare[:1] in ("Δ", "d", "D") else None
        return None if changed is None else f"D{changed}"

    def _spelled(self, bare: str) -> str | None:
        for alias, name in sorted(self.aliases.items()):
            if bare == alias or fold(bare) == fold(alias):
                return name
        return None


def _without_braces(typed: str) -> str:
    """V_{BE,1} as V_BE1 and V_{I,max} as V_I,max: braces only group, and a comma before a figure separates."""
    bare = ""
    for at, char in enumerate(typed):
        follows = typed[at + 1 : at + 2]
        if char in "{}" or (char == "," and follows and follows in DIGITS):
            continue
        bare += char
    return bare


@lru_cache(maxsize=4096)
def _by_table(bare: str) -> str | None:
    return resolve_alias(bare)
