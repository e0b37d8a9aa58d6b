"""Sets of a level -> the circuit of each as it would be built for an ask: every setting, and who says so.

Vocabulary: *told* are the values that an ask rests on, at the corner it is worked at; an earlier result among them that
is no setting is put back to what it rests on itself, so that the bench finds it anew. What the ask takes no notice of
comes from the rest of the problem (a range at both its ends), and what that says nothing of from `filling.py`.
Place in the data flow: sets -> (this) -> settings -> `asking.py`.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tutor.bench.curves import Array
from tutor.bench.filling import fill
from tutor.bench.sampled import Sets
from tutor.bench.setting import SHORT_OHMS, chosen, demanded, optional, raw_pieces, readable
from tutor.generate.family import FindBound
from tutor.generate.stage import Stage
from tutor.quantities.expression import Sym

_METER = 0.01  # of the fullest load
MOST_RANGES = 3  # what an ask takes no notice of is put at both ends, of so many


@dataclass(frozen=True)
class Built:
    """The settings of an ask over all sets (each at every corner of the ranges it takes no notice of), the setting
    that is asked for ('' where a reading is), what else is told, and how often each set stands. Values are in SI."""

    settings: Mapping[str, Array]
    unknown: str
    told: Mapping[str, Array]
    times: int

    def spread_out(self, values: Array) -> Array:
        """Values of the sets, each as often as its set stands."""
        return np.repeat(values, self.times)


def built(sets: Sets, index: int) -> Built:
    """The circuit of an ask as it would be built in each set."""
    worked = sets.worked[index]
    assert worked is not None
    asked = worked.stage.quantity
    told = _told(sets, index, asked)
    if "V_O" in worked.steps and raw_pieces(sets.circuit):
        told.setdefault("V_O", worked.steps["V_O"])
    ask = sets.ready.level.asks[index]
    shorted = not raw_pieces(sets.circuit) and getattr(ask, "at", {}).get("V_O") == "0"
    if shorted:  # the wire across the output sees to it
        told.pop("V_O", None)
    settings: dict[str, Array] = {}
    ranging: list[str] = []
    missing: list[tuple[str, ...]] = []
    unknown = ""
    for group in demanded(sets.circuit):
        letter = _alternative(sets, group, told, asked, worked.stage)
        if letter == asked and letter not in told:
            unknown, settings[letter] = letter, worked.value
        elif not letter or not _put(sets, letter, told, settings, ranging):
            missing.append(group)
    for letter in optional(sets.circuit):
        if letter == asked and letter not in told:
            unknown, settings[letter] = letter, worked.value
        else:
            _put(sets, letter, told, settings, ranging)
    fill(sets, settings, told, missing)
    if missing and any(name in readable(sets.circuit) and name not in settings for name in told):
        ranging = []  # what is built by hand to bring a reading about does so at one corner alone
    if shorted and any("R_L" in group for group in demanded(sets.circuit)):
        settings.pop("I_L", None)
        settings["R_L"] = np.full(sets.count, SHORT_OHMS)
        ranging = [letter for letter in ranging if letter not in ("R_L", "I_L")]
    for letter, factors in sets.spread.items():
        if letter in settings and letter != unknown:
            settings[letter] = settings[letter] * factors
    ranging = [letter for letter in ranging if f"D{letter}" not in told]  # a change starts at the lower end
    return _at_both_ends(sets, settings, unknown, told, ranging[:MOST_RANGES])


def _told(sets: Sets, index: int, asked: str) -> dict[str, Array]:
    """What an ask rests on; results of earlier asks that are no settings put back to what they rest on."""
    worked = sets.worked[index]
    assert worked is not None
    stage = worked.stage
    settings = {letter for group in demanded(sets.circuit) for letter in group} | {*optional(sets.circuit)}
    found = {base: worked.bases[base] for base in stage.box}
    results: list[tuple[str, int]] = []
    for base, expr in stage.inputs:
        place = sets.keys.index(expr.name) if isinstance(expr, Sym) and expr.name in sets.keys[:index] else -1
        if place >= 0 and sets.worked[place] is not None and (base not in settings or _is_reading(sets, base, place)):
            results.append((base, place))
        else:
            found[base] = worked.bases[base]
    for base, place in results:
        behind = _told(sets, place, base)
        if all(np.allclose(value, found[name]) for name, value in behind.items() if name in found):
            found |= behind
        else:  # worked at another corner: it stands as it was found there
            found[base] = worked.bases[base]
    return found


def _is_reading(sets: Sets, base: str, place: int) -> bool:
    """Whether a letter that could be set (a load's current) was read off the circuit by an earlier ask."""
    worked = sets.worked[place]
    return worked is not None and base in ("I_L", "V_Z") and not isinstance(sets.ready.level.asks[place], FindBound)


def _alternative(sets: Sets, group: tuple[str, ...], told: Mapping[str, Array], asked: str, stage: Stage) -> str:
    """Which of the alternatives of a group is set."""
    if asked in group:
        others = [letter for letter in group if letter != asked and (letter in told or letter in sets.env)]
        if stage.relation or asked == group[0] or not others:
            return asked
    given = {name for name in sets.ready.level.given if name in sets.env}
    known = {name for name in sets.env if name in group}
    ranging = {name for name in group if _is_said(sets, f"{name}_MIN") or _is_said(sets, f"{name}_MAX")}
    for place in (told, given, known, ranging):
        letter = chosen(group, place)
        if letter and letter != asked:
            return letter
    return ""


def _put(
    sets: Sets, letter: str, told: Mapping[str, Array], settings: dict[str, Array], ranging: list[str]
) -> bool:
    """Set a letter from what is told, from the problem, or at both ends of its range; whether it could be."""
    env = sets.env
    if letter in told:
        settings[letter] = told[letter]
    elif letter in env:
        settings[letter] = env[letter]
    elif all(_is_said(sets, f"{letter}_{end}") for end in ("MIN", "MAX")):
        settings[letter] = _end(sets, letter, "MIN")
        ranging.append(letter)
    else:
        end = next((name for end in ("NOM", "MIN", "MAX", "1") if _is_said(sets, name := f"{letter}_{end}")), "")
        if not end:
            return False
        settings[letter] = env[end]
    return True


def _end(sets: Sets, letter: str, end: str) -> Array:
    """An end of a range; where nothing at all is drawn, as much as a meter draws: a node left alone floats."""
    value = sets.env[f"{letter}_{end}"]
    return np.maximum(value, _METER * sets.env[f"{letter}_MAX"]) if letter == "I_L" else value


def _is_said(sets: Sets, key: str) -> bool:
    """Whether the problem tells a value, and does not ask for it."""
    return key in sets.env and key not in sets.keys


def _at_both_ends(
    sets: Sets, settings: Mapping[str, Array], unknown: str, told: Mapping[str, Array], ranging: Sequence[str]
) -> Built:
    ends = list(itertools.product(("MIN", "MAX"), repeat=len(ranging)))
    times = len(ends)
    out = {name: np.repeat(value, times) for name, value in settings.items()}
    for row, letter in enumerate(ranging):
        by_end = np.stack([_end(sets, letter, end[row]) for end in ends], axis=1)
        out[letter] = by_end.reshape(-1) * np.repeat(sets.spread.get(letter, np.ones(sets.count)), times)
    return Built(out, unknown, {name: np.repeat(value, times) for name, value in told.items()}, times)
