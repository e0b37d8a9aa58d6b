"""What there is to choose from, as `steadyrail list` tells it: circuits, families of problems, conventions.

Read from the authors' files once and kept in the store until one of them changes: reading runs them all.
Place in the data flow: a problems folder -> Listing -> `listing_shown.py`. Loads nothing heavy.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from tutor.generate.store_files import engine_digest, store_folder, stored_or_made

_READ = ("circuits/*.py", "families/*.py", "across/*.py", "parts/*.csv")  # under the problems folder
_READ_BY = ("across/*.py", "views/listing*.py")  # under the package, beside the engine


@dataclass(frozen=True)
class ListedCircuit:
    """A circuit file: its title, forms, stage and purpose (prose), what it is given for example and asks, the regions
    in words, its conventions with their values, its standing values (SI)."""

    id: str
    title: str
    forms: tuple[str, ...]
    stage: int
    purpose: str
    given: tuple[str, ...]
    asks: tuple[str, ...]
    regions: tuple[str, ...]
    conventions: Mapping[str, tuple[str, ...]]
    defaults: Mapping[str, float]


@dataclass(frozen=True)
class ListedLevel:
    """A level: what it is about (prose), what it tells and what it asks for (none of a family across circuits)."""

    about: str
    given: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


@dataclass(frozen=True)
class ListedFamily:
    """A family; `circuit` is '' for one across circuits. `about` is prose."""

    id: str
    title: str
    circuit: str
    about: str
    edition: int
    levels: tuple[ListedLevel, ...]


@dataclass(frozen=True)
class Listing:
    """Everything in a problems folder, circuits in the order of the lectures, families by their ids."""

    circuits: tuple[ListedCircuit, ...]
    families: tuple[ListedFamily, ...]
    across: tuple[ListedFamily, ...]


def kept_listing(folder: Path, read: Callable[[], Listing]) -> Listing:
    """The listing of a problems folder from the store; read, and kept, where there is none of its files as they are."""
    file = store_folder() / f"{_digest(folder)}-listing.json"
    return stored_or_made(file, _decoded, lambda: asdict(read()))


def _digest(folder: Path) -> str:
    """Of all that a listing is read from, and by."""
    digest = hashlib.sha256(engine_digest().encode())
    package = Path(__file__).resolve().parents[1]
    for root, patterns in ((folder, _READ), (package, _READ_BY)):
        for pattern in patterns:
            for file in sorted(root.glob(pattern)):
                digest.update(f"{file.parent.name}/{file.name}".encode())
                digest.update(file.read_bytes())
    return digest.hexdigest()


def _decoded(data: dict[str, Any]) -> Listing:
    return Listing(
        tuple(map(_circuit, data["circuits"])),
        tuple(map(_family, data["families"])),
        tuple(map(_family, data["across"])),
    )


def _circuit(data: dict[str, Any]) -> ListedCircuit:
    lists = {name: tuple(data[name]) for name in ("forms", "given", "asks", "regions")}
    conventions = {name: tuple(values) for name, values in data["conventions"].items()}
    return ListedCircuit(**{**data, **lists, "conventions": conventions})


def _family(data: dict[str, Any]) -> ListedFamily:
    levels = (ListedLevel(item["about"], tuple(item["given"]), tuple(item["asks"])) for item in data["levels"])
    return ListedFamily(**{**data, "levels": tuple(levels)})
