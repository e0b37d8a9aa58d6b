"""What the bench makes of each answer of a level, as a share of what hand analysis says, over many problems.

Vocabulary: the *sample* of a level are its numbers 1 to 40; each is built with its parts as said and at every corner of
the level's spreads. A *ratio* is a bench value over the hand answer of that problem; the band of an answer reaches from
the ratio that one in forty falls short of to the one that one in forty passes.
Place in the data flow: level + numbers -> conversations with the bench -> ratios -> the stored file (`expected.py`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from tutor.bench.asking import Conversation, Request, question
from tutor.bench.building import built
from tutor.bench.curves import Array
from tutor.bench.sampled import Sets, sets_of
from tutor.bench.setting import readable, readings
from tutor.bench.stored import Band, By, stored_key
from tutor.circuit.circuit import Circuit
from tutor.errors import Unreachable
from tutor.generate.draws import draw_numbers
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import run
from tutor.quantities.parts import Catalogue

SAMPLE = range(1, 41)
FIRST = range(1, 4)
SHARES = (0.025, 0.975)
WIDEST = 5.0  # high over low: a wider band tells nobody what to expect
LEAST_SETTLED = 0.8  # of the sets
_NOTHING = 5e-4  # a ratio this near one is the answer itself


def level_ratios(
    ready: ReadyLevel, catalogues: Mapping[str, Catalogue], numbers: Sequence[int] = SAMPLE
) -> dict[str, tuple[Array, By]]:
    """Key (with its region, where the level has several) -> ratios, and whether the bench or the relation gave them.

    A key of which neither knows anything has no ratios. NaN stands for a set that did not settle.
    """
    drawns = draw_numbers(ready, catalogues, numbers)
    found: dict[str, tuple[Array, By]] = {}
    for region in ready.regions:
        here = [item for item in drawns if item.run.region == region.plan.region]
        if not here:
            continue
        sets = sets_of(ready, here, catalogues)
        for key, entry in _of_region(sets).items():
            found[stored_key(key, region.plan.region, len(ready.regions))] = entry
    return found


def _of_region(sets: Sets) -> dict[str, tuple[Array, By]]:
    talks: dict[str, Conversation] = {}
    times: dict[str, int] = {}
    found: dict[str, tuple[Array, By]] = {}
    related = _by_relation(sets)
    for index, key in enumerate(sets.keys):
        if sets.worked[index] is None:
            continue
        found[key] = (related[key], By.RELATION)
        try:
            circuit = built(sets, index)
            talk = question(sets, index, circuit)
        except Unreachable:
            talk = None
        if talk is not None:
            talks[key], times[key] = talk, circuit.times
    for key, values in _all_at_once(sets.circuit, talks).items():
        hand = sets.hand[sets.keys.index(key)]
        assert hand is not None
        with np.errstate(all="ignore"):
            found[key] = (values / np.repeat(hand, times[key]), By.BENCH)
    return found


def _by_relation(sets: Sets) -> dict[str, Array]:
    """The ratios that the spreads alone make, through the relations of the solution."""
    env = {**sets.env, **{key: sets.env[key] * factors for key, factors in sets.spread.items()}}
    found: dict[str, Array] = {}
    region = next(item for item in sets.ready.regions if item.plan.region == sets.region)
    for index, stage in enumerate(region.asks):
        hand = sets.hand[index]
        if stage is None or hand is None:
            continue
        key = sets.keys[index]
        env[key] = np.array(run(stage, env).value)
        with np.errstate(all="ignore"):
            found[key] = env[key] / hand
    return found


def _all_at_once(circuit: Circuit, talks: Mapping[str, Conversation]) -> dict[str, Array]:
    """Every conversation carried on to its end; what they want to see next is built together."""
    found: dict[str, Array] = {}
    open_talks = dict(talks)
    asked: dict[str, Request] = {}
    answers: dict[str, Mapping[str, Array] | None] = {key: None for key in talks}
    while open_talks:
        for key, talk in [*open_talks.items()]:
            answer = answers[key]
            try:
                asked[key] = next(talk) if answer is None else talk.send(answer)
            except StopIteration as end:
                found[key] = end.value
                del open_talks[key]
        groups: dict[tuple[str, ...], list[str]] = defaultdict(list)
        for key in open_talks:
            groups[tuple(sorted(asked[key].settings))].append(key)
        for names, keys in groups.items():
            for key, answer in zip(keys, _seen(circuit, names, [asked[key] for key in keys]), strict=True):
                answers[key] = answer
    return found


def _seen(circuit: Circuit, names: tuple[str, ...], requests: Sequence[Request]) -> list[dict[str, Array]]:
    """What is read in each of some requests with the same settings: sets that are alike are built once."""
    table = np.stack(
        [np.concatenate([item.settings[name] for item in requests]) for name in names]
        + [np.concatenate([item.temperature for item in requests])]
    )
    good = np.all(np.isfinite(table), axis=0)
    once, back = np.unique(table[:, good], axis=1, return_inverse=True)
    none = {symbol: np.zeros(0) for symbol in readable(circuit)}
    seen = readings(circuit, dict(zip(names, once[:-1], strict=True)), once[-1]) if good.any() else none
    ends = np.cumsum([item.temperature.size for item in requests])[:-1]
    out: list[dict[str, Array]] = [{} for _ in requests]
    for symbol, values in seen.items():
        whole = np.full(good.size, np.nan)
        whole[good] = np.broadcast_to(values, once.shape[1:])[back.reshape(-1)]
        for place, part in enumerate(np.split(whole, ends)):
            out[place][symbol] = part
    return out


def band_of(ratios: Array, by: By) -> Band:
    """The band of some ratios, or the reason why there is none."""
    settled = ratios[np.isfinite(ratios)]
    count, lost = int(ratios.size), int(ratios.size - settled.size)
    if settled.size < LEAST_SETTLED * ratios.size:
        return Band(count=count, lost=lost, none="too few circuits of the sample settle where that is so")
    low, high = (float(f"{end:.4g}") for end in np.quantile(settled, SHARES))
    if max(abs(low - 1.0), abs(high - 1.0)) < _NOTHING:
        why = "what it is worked out from is exact there" if by is By.BENCH else "no declared spread moves it"
        return Band(count=count, lost=lost, none=why)
    if low <= 0.0:
        return Band(count=count, lost=lost, none="it may come out with the other sign")
    if high > WIDEST * low:
        return Band(count=count, lost=lost, none=f"it may come out anywhere from {low:g} to {high:g} times the answer")
    return Band(low, high, by, count, lost)


def first_medians(ready: ReadyLevel, catalogues: Mapping[str, Catalogue]) -> dict[str, float | None]:
    """Key -> the median ratio of the first few problems, None where nothing settles."""
    return {key: _median(ratios) for key, (ratios, _) in level_ratios(ready, catalogues, FIRST).items()}


def _median(ratios: Array) -> float | None:
    settled = ratios[np.isfinite(ratios)]
    return float(f"{np.median(settled):.4g}") if settled.size else None


def level_bands(ready: ReadyLevel, catalogues: Mapping[str, Catalogue]) -> dict[str, Band]:
    """Key -> what is stored of it."""
    first = first_medians(ready, catalogues)
    return {
        key: replace(band_of(*entry), first=first.get(key))
        for key, entry in level_ratios(ready, catalogues).items()
    }  # fmt: skip
