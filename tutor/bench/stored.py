"""What the bench is expected to show beside an answer, as it is stored: read fast, written for a person to read.

Vocabulary: a *band* is two ratios to the hand answer, from circuits built on the bench or (where nothing of an answer
shows there) from the relation with the declared spreads; or the reason why there is none. The file is
`bench_bands.json` of a folder of problems: family -> level -> key -> band.
Place in the data flow: `expected.py` writes it; solutions read it, for which nothing of the bench itself is loaded.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from pathlib import Path
from typing import Any

from tutor.errors import BadFamily

FILE_NAME = "bench_bands.json"


class By(Enum):
    """What gave the ratios of a band."""

    BENCH = "bench"
    RELATION = "relation"


@dataclass(frozen=True)
class Band:
    """Ratios of what is expected to the hand answer, from `count` sets of which `lost` did not settle; or, in `none`,
    why there is no band. `first` is the median of the first few problems alone, by which it is soon seen whether what
    is stored still holds; None where none of them settles."""

    low: float = 1.0
    high: float = 1.0
    by: By = By.BENCH
    count: int = 0
    lost: int = 0
    none: str = ""
    first: float | None = None

    def to_json(self) -> dict[str, Any]:
        """What is written of it: its ends or why there are none, how many sets, how many were lost, the first value."""
        ends: dict[str, Any] = {"none": self.none} if self.none else {
            "low": self.low, "high": self.high, "by": self.by.value
        }  # fmt: skip
        told = {"sets": self.count, "lost": self.lost or None, "first": self.first}
        return {**ends, **{name: value for name, value in told.items() if value is not None}}


def stored_key(key: str, region: str, regions: int) -> str:
    """Under what name an answer's band stands in a level of so many regions."""
    return f"{key} ({region})" if regions > 1 else key


LevelBands = Mapping[str, Band]
Stored = Mapping[str, Mapping[str, LevelBands]]


def read_bands(folder: Path) -> Stored:
    """The bands of a folder of problems, none where it has no such file; BadFamily for a file of another form."""
    file = folder / FILE_NAME
    try:
        stamp = file.stat()
    except OSError:
        return {}
    return _read(file, stamp.st_mtime_ns, stamp.st_size)


@lru_cache(maxsize=4)
def _read(file: Path, _changed: int, _size: int) -> Stored:
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
        return {
            family: {level: {key: _band(item) for key, item in keys.items()} for level, keys in levels.items()}
            for family, levels in data.items()
        }
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise BadFamily(f"{file.name}: not as the command writes it ({error}); write it anew") from error


def _band(item: Mapping[str, Any]) -> Band:
    count, lost, first = item["sets"], item.get("lost", 0), item.get("first")
    if "none" in item:
        return Band(count=count, lost=lost, none=str(item["none"]), first=first)
    return Band(float(item["low"]), float(item["high"]), By(item["by"]), count, lost, first=first)


def bands_text(stored: Stored) -> str:
    """The file's text: sorted, one key a line."""
    families = []
    for family in sorted(stored):
        levels = []
        for level in sorted(stored[family]):
            keys = [
                f"   {json.dumps(key)}: {json.dumps(band.to_json(), ensure_ascii=False)}"
                for key, band in sorted(stored[family][level].items())
            ]
            levels.append(f'  "{level}": {{\n' + ",\n".join(keys) + "\n  }")
        families.append(f' "{family}": {{\n' + ",\n".join(levels) + "\n }")
    return "{\n" + ",\n".join(families) + "\n}\n"
