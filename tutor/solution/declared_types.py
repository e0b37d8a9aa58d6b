"""Whether a family's file declares what it may: each field of the type that the vocabulary gives it, formulas that can
be walked.

Place in the data flow: an author's Family -> (this: nothing, or one sentence) -> everything that trusts it. Names,
regions and shelves are checked in `generate/declaration.py`, once what is compared is known to be text and numbers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from itertools import accumulate
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from tutor.errors import BadFamily
from tutor.generate.family import Family

MOST_BRACKETS = 40
MOST_DIGITS = 300
_WORDS = {str: "a text", float: "a finite number", int: "a whole number", bool: "True or False", NoneType: "None"}
_RUN_OF_DIGITS = re.compile(rf"[0-9]{{{MOST_DIGITS}}}", re.ASCII)


def require_types(family: Family, where: str) -> None:
    """BadFamily for the first field that is not of its type, or whose formula is too large; `where` names the file.

    How many levels there are is counted where the file is read.
    """
    if isinstance(family.levels, tuple) and len(family.levels) != 3:
        return
    for place, sentence in _wrong(family, Family, ""):
        raise BadFamily(f"{where}: {place.removeprefix('.')} {sentence}", field=place)


def deepest_bracket(text: str) -> int:
    """How deep the round brackets of a text nest."""
    return max(accumulate((sign == "(") - (sign == ")") for sign in text), default=0)


def _wrong(value: object, wanted: Any, place: str) -> Iterator[tuple[str, str]]:
    """Every place where a value is not what is wanted, and what would be."""
    if _origin_of(wanted) in (Union, UnionType):
        kinds = [kind for kind in _args_of(wanted) if _is_kind(value, kind)]
        if not kinds:
            yield place, _expected(wanted, value)
        else:
            yield from _wrong(value, kinds[0], place)
    elif not _is_kind(value, wanted):
        yield place, _expected(wanted, value)
    elif isinstance(value, str):
        if value.count("(") > MOST_BRACKETS and deepest_bracket(value) > MOST_BRACKETS:
            yield place, f"nests brackets more than {MOST_BRACKETS} deep; work with named parts"
        elif _RUN_OF_DIGITS.search(value):
            yield place, f"holds a number of more than {MOST_DIGITS} digits; write it with a power of ten"
    elif isinstance(value, tuple):
        for at, (item, kind) in enumerate(zip(value, _kinds_of(value, wanted), strict=True)):
            yield from _wrong(item, kind, f"{place}[{at}]")
    elif isinstance(value, Mapping):
        key_kind, kind = _args_of(wanted)
        for key, item in value.items():
            yield from _wrong(key, key_kind, f"{place}, key {key!r:.40},")
            yield from _wrong(item, kind, f"{place}[{key!r:.40}]")
    elif is_dataclass(value):
        hints = _hints(value.__class__)
        for item in fields(value):
            yield from _wrong(getattr(value, item.name), hints[item.name], f"{place}.{item.name}")


@cache  # a family declares thousands of entries, and few types
def _origin_of(wanted: Any) -> Any:
    return get_origin(wanted)


@cache
def _args_of(wanted: Any) -> tuple[Any, ...]:
    return get_args(wanted)


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind)


def _kinds_of(value: tuple[object, ...], wanted: Any) -> tuple[Any, ...]:
    """The type of each entry of a tuple: the same for all, or one each."""
    kinds = _args_of(wanted)
    return (kinds[0],) * len(value) if kinds[-1] is Ellipsis else kinds


def _is_kind(value: object, wanted: Any) -> bool:
    """Whether a value is of a type, as far as its outside goes."""
    origin = _origin_of(wanted) or wanted
    if origin is tuple:
        kinds = _args_of(wanted)
        return isinstance(value, tuple) and (kinds[-1] is Ellipsis or len(value) == len(kinds))
    if origin is float:
        return isinstance(value, int | float) and not isinstance(value, bool) and _is_finite(value)
    if origin is int:
        return isinstance(value, int) and not isinstance(value, bool)
    return isinstance(value, origin)


def _is_finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:  # a whole number past every float
        return False


def _expected(wanted: Any, value: object) -> str:
    try:
        got = repr(value)
    except ValueError:  # a number of thousands of digits
        got = f"a number of type {type(value).__name__}"
    return f"must be {_told(wanted)} (got {got if len(got) <= 60 else f'{got[:57]}...'})"


def _told(wanted: Any) -> str:
    """A type in words."""
    origin, kinds = get_origin(wanted), get_args(wanted)
    if origin in (Union, UnionType):
        return " or ".join(dict.fromkeys(_told(kind) for kind in kinds))
    if origin is tuple:
        entries = _told(kinds[0]) if kinds[-1] is Ellipsis else ", ".join(_told(kind) for kind in kinds)
        return f"a tuple, each entry {entries}" if kinds[-1] is Ellipsis else f"a tuple ({entries})"
    if origin is not None and issubclass(origin, Mapping):
        return f"a mapping of {_told(kinds[0])} to {_told(kinds[1])}"
    if issubclass(wanted, Enum):
        return f"one of {', '.join(f'{wanted.__name__}.{item.name}' for item in wanted)}"
    return _WORDS.get(wanted, f"a {wanted.__name__}")
