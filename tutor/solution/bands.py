"""The band beside a hand answer: what the bench is expected to show instead, from the ratios stored for its level.

The ratios come from `python -m tutor.bench.expected`: the circuits of many problems of that level on the bench, with
junctions, knees and slopes as they are and parts anywhere in the spreads that the level names. They are kept with the
problems, and hold for the conventions of the family; a problem under others has no bands.
Place in the data flow: stored ratios + a drawn problem -> the words beside each result.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.bench.stored import By, LevelBands, Stored, stored_key
from tutor.generate.draws import Drawn
from tutor.generate.family import Level
from tutor.generate.level_run import ReadyLevel
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for

NO_BANDS: LevelBands = {}


@dataclass(frozen=True)
class BandWords:
    """The band of one answer: its two ends as they are written, and whether the bench or the relation gave them."""

    text: str
    by: By


def bands_of_level(stored: Stored, ready: ReadyLevel, assumed: Mapping[str, str]) -> LevelBands:
    """What is stored of a level; nothing under conventions or values other than its own."""
    return NO_BANDS if assumed else stored.get(ready.family.id, {}).get(str(ready.number), NO_BANDS)


def bands(level: LevelBands, ready: ReadyLevel, drawn: Drawn) -> dict[str, BandWords]:
    """Key -> the band of its answer, for every answer that has one; ends that are written alike are none."""
    found: dict[str, BandWords] = {}
    for index, key in enumerate(drawn.region.plan.keys):
        band = level.get(stored_key(key, drawn.run.region, len(ready.regions)))
        if band is None or band.none or drawn.run.outcomes[index] is None:
            continue
        answer = float(drawn.run.env[key][0])
        low, high = (write(end, symbol_for(key).unit) for end in sorted((answer * band.low, answer * band.high)))
        if low != high:
            found[key] = BandWords(f"{low} to {high}", band.by)
    return found


def band_words(level: Level, shown: Mapping[str, BandWords]) -> str:
    """The clause that says what the bands beside the results allow for, '' without bands."""
    ways = {words.by for words in shown.values()}
    if not ways:
        return ""
    parts = [f"${key}$ {write(spread, '%')}" for key, spread in level.band.items()]
    real = ["junctions, knees and slopes as they are"] if By.BENCH in ways else []
    told = listed([*real, *parts]) + (" either way" if parts else "")
    return f"the bands beside the results allow for {told}" + ("; " if level.bench else "")
