"""Letter symbols by name: what each stands for, its unit and sign, and what a learner may type for it.

Vocabulary: a *base* is a row of the table (`V_BE`, `R_1`); an *index* names the device, the reading or the stage
(`_1`, `_2`, `_P`); an *end* is one end of a range or its middle (`_MIN`, `_MAX`, `_NOM`); a leading `D` is a change
(`DV_O`). A whole name is [D] base [_index] [_end]: `V_BE_1_MAX`, `V_Z_P`, `DI_L`.
Place in the data flow: under everything; the table itself is `symbol_table.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache, lru_cache
from types import MappingProxyType

from tutor.errors import unknown
from tutor.quantities.symbol_table import ROWS
from tutor.quantities.units import difference_unit


class Sign(Enum):
    """What is known of a quantity's sign in normal operation."""

    POSITIVE = "+"
    NONNEGATIVE = "0"
    ANY = "~"


@dataclass(frozen=True)
class Symbol:
    """One letter symbol: meaning with reference direction, unit code (`units.txt`), sign, further names."""

    name: str
    meaning: str
    unit: str
    sign: Sign
    aliases: tuple[str, ...]


@dataclass(frozen=True)
class NameParts:
    """A name taken apart; `index` and `end` are without their underscores, '' when absent."""

    change: bool
    base: str
    index: str
    end: str


def _read_rows(rows: str) -> Mapping[str, Symbol]:
    table: dict[str, Symbol] = {}
    for line in rows.splitlines():
        if line.strip():
            name, unit, sign, aliases, meaning = (cell.strip() for cell in line.split("|"))
            table[name] = Symbol(name, meaning, unit, Sign(sign), tuple(aliases.split()))
    return MappingProxyType(table)


SYMBOLS: Mapping[str, Symbol] = _read_rows(ROWS)

_INDEXED = re.compile(r"(?P<base>.+?)(?P<number>(?:_[1-9])?)(?:_P)?", re.ASCII)
_END_WORDS = {"MIN": "least", "MAX": "greatest", "NOM": "nominal"}
CHANGE_MARKS = ("Δ", "∆", "delta_", "Delta_", "delta", "Delta", "D", "d")
# Small words that a folded name would swallow (pi would be P_I).
NO_NAMES = frozenset({"pi", "is", "if", "in", "it", "at", "as", "so", "to", "no", "on", "or"})


def split_name(name: str) -> NameParts:
    """A name as change, base, index and end; UnknownName when its base is not in the table.

    A base that is in the table as it stands wins over a base with a suffix.

    >>> split_name("V_BE_1_MAX")
    NameParts(change=False, base='V_BE', index='1', end='MAX')
    >>> split_name("R_1").base
    'R_1'
    """
    parts = _split(name)
    if parts is None:
        raise unknown("symbol", name, SYMBOLS)
    return parts


@lru_cache(maxsize=4096)
def _split(name: str) -> NameParts | None:
    if name in SYMBOLS:
        return NameParts(False, name, "", "")
    plain = _split_suffixes(name)
    if plain is not None:
        return NameParts(False, *plain)
    changed = _split_suffixes(name[1:]) if name.startswith("D") else None
    # The change of a one-letter symbol is allowed for R alone: DC and DA are no changes of C and A.
    if changed is None or (len(changed[0]) == 1 and changed[0] != "R"):
        return None
    return NameParts(True, *changed)


def _split_suffixes(name: str) -> tuple[str, str, str] | None:
    stem, end = name, ""
    if name not in SYMBOLS and name[-4:] in ("_MIN", "_MAX", "_NOM"):
        stem, end = name[:-4], name[-3:]
    found = _INDEXED.fullmatch(stem)
    if found is None:
        return None
    # The longest base wins: R_1_MAX is an end of R_1, R_1_P its copy in the first stage.
    numbered = found.group("base") + found.group("number")
    for base in (stem, numbered, found.group("base")):
        if base in SYMBOLS:
            return base, stem[len(base) :].lstrip("_"), end
    return None


def without_end(name: str) -> str:
    """The name without `_MIN`, `_MAX` or `_NOM`; a name that is no symbol as it is."""
    if not is_symbol(name) or not split_name(name).end:
        return name
    return name[: -1 - len(split_name(name).end)]


def is_symbol(name: str) -> bool:
    """Whether `name` is a symbol of the table, with or without change, index and end."""
    return _split(name) is not None


@cache
def symbol_for(name: str) -> Symbol:
    """The symbol a name stands for, its suffixes worked into its meaning; UnknownName names the nearest.

    A change (`DV_O`) may have either sign and keeps the unit, except that temperatures change in kelvins.

    >>> symbol_for("V_I_MIN").unit, symbol_for("DV_O").sign
    ('V', <Sign.ANY: '~'>)
    """
    parts = split_name(name)
    base = SYMBOLS[parts.base]
    if name == parts.base:
        return base
    meaning = base.meaning
    for mark in parts.index.split("_") if parts.index else []:
        meaning += ", first stage" if mark == "P" else f", number {mark}"
    if parts.end:
        meaning = f"{_END_WORDS[parts.end]} {meaning}"
    if not parts.change:
        return replace(base, name=name, meaning=meaning, aliases=())
    return Symbol(name, f"change of the {meaning}", difference_unit(base.unit), Sign.ANY, ())


def fold(text: str) -> str:
    """A typed name without underscores and in small letters; a single letter keeps its case (A, C and f differ)."""
    bare = text.replace("_", "")
    return bare if len(bare) == 1 else bare.lower()


@cache
def folded_aliases() -> Mapping[str, str]:
    """Every folded spelling of every base, and the base it stands for; names win over aliases."""
    table: dict[str, str] = {}
    for name in SYMBOLS:
        table.setdefault(fold(name), name)
    for name, symbol in SYMBOLS.items():
        for alias in symbol.aliases:
            table.setdefault(fold(alias), name)
    return MappingProxyType(table)


_BRACKETED_END = re.compile(r"[({,]_?(min|max|nom|sat|on)[)}]?$", re.IGNORECASE)


def resolve_alias(text: str) -> str | None:
    """The symbol a learner means by a typed name, or None: exact name first, then aliases, also with suffixes.

    >>> resolve_alias("VBE1"), resolve_alias("Vin_max"), resolve_alias("VINmin"), resolve_alias("I_Z(max)")
    ('V_BE_1', 'V_I_MAX', 'V_I_MIN', 'I_Z_MAX')
    """
    typed = text.strip()
    if not typed or len(typed) > 40:
        return None
    if is_symbol(typed):
        return typed
    if typed in NO_NAMES:
        return None
    typed = _BRACKETED_END.sub(r"_\1", typed)
    plain = _resolve_suffixed(typed)
    if plain is not None:
        return plain
    for mark in CHANGE_MARKS:
        if typed.startswith(mark):
            base = _resolve_suffixed(typed[len(mark) :].lstrip("_"))
            if base is not None and is_symbol(f"D{base}"):
                return f"D{base}"
            if base == "T":
                return "DT"
    return None


def _resolve_suffixed(typed: str) -> str | None:
    bases = folded_aliases()
    direct = bases.get(fold(typed))
    if direct is not None:
        return direct
    end = ""
    for word in ("min", "max", "nom"):
        if typed.lower().endswith(word):
            end, typed = f"_{word.upper()}", typed[:-3].rstrip("_")
            break
    direct = bases.get(fold(typed))
    if direct is not None and typed:
        return direct + end
    stage = ""
    if typed.endswith(("P", "_p")):
        stage, typed = "_P", typed[:-1].rstrip("_")
    direct = bases.get(fold(typed))
    if direct is None and typed[-1:] in tuple("123456789"):
        stage, typed = f"_{typed[-1]}{stage}", typed[:-1].rstrip("_")
        direct = bases.get(fold(typed))
    return None if direct is None else direct + stage + end
