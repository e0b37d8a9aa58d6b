"""Bench bands: the ratios stored of a level, times the answer; said truly, and only where they hold.

Whether the ratios themselves are right is tested with the bench (`tests/bench/test_expected.py`).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

import tutor
from tutor.bench.stored import FILE_NAME, Band, By, LevelBands, read_bands
from tutor.errors import BadFamily
from tutor.generate.draws import Drawn
from tutor.generate.level_run import ReadyLevel
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for
from tutor.solution.bands import BandWords, band_words, bands, bands_of_level
from tutor.solution.desk import WorkedProblem, our_desk

LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]


@cache
def batch(family: str, level: int) -> tuple[ReadyLevel, list[WorkedProblem]]:
    desk = our_desk()
    ready = desk.level(family, level)
    return ready, desk.batch(ready, range(1, 7))


def stored(family: str, level: int) -> LevelBands:
    return read_bands(our_desk().folder.path)[family][str(level)]


def one(family: str, level: int) -> tuple[ReadyLevel, Drawn]:
    ready, problems = batch(family, level)
    return ready, problems[0].drawn


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_band_is_the_stored_ratios_times_the_answer(family: str, level: int) -> None:
    """Every answer with ratios shows both ends, as results are written; every answer without has no band."""
    ready, problems = batch(family, level)
    for worked in problems:
        for step in worked.solution.steps:
            key = step.waypoint
            name = f"{key} ({worked.drawn.run.region})" if len(ready.regions) > 1 else key
            band = stored(family, level).get(name)
            if not step.band:
                continue
            assert band is not None and not band.none
            answer, unit = float(worked.drawn.run.env[key][0]), symbol_for(key).unit
            ends = sorted((answer * band.low, answer * band.high))
            assert step.band == " to ".join(write(end, unit) for end in ends), worked.problem.name
            assert step.band_by == band.by.value


def test_most_answers_have_a_band() -> None:
    """What is not a choice, is not exact and is not hopelessly wide has one: by far the most answers."""
    keys = [band for levels in read_bands(our_desk().folder.path).values() for each in levels.values()
            for band in each.values()]  # fmt: skip
    assert sum(not band.none for band in keys) > 0.75 * len(keys)
    assert sum(band.by is By.BENCH and not band.none for band in keys) > 0.6 * len(keys)


def test_a_band_by_hand() -> None:
    """250 mA with ratios 0.9 and 1.1 is 225 mA to 275 mA; one that is negative has its lesser end first."""
    ready, drawn = one("follower-state", 1)
    value = 0.25
    env = {**drawn.run.env, "I_L": drawn.run.env["I_L"] * 0 + value, "V_O": drawn.run.env["V_O"] * 0 - 2.0}
    moved = replace(drawn, run=replace(drawn.run, env=env))
    given = {"I_L": Band(0.9, 1.1), "V_O": Band(0.9, 1.2, By.RELATION)}
    assert bands(given, ready, moved) == {
        "I_L": BandWords("225 mA to 275 mA", By.BENCH), "V_O": BandWords("−2.4 V to −1.8 V", By.RELATION)
    }  # fmt: skip


def test_ends_that_are_written_alike_are_no_band() -> None:
    """5.00 V to 5.00 V tells nobody anything."""
    ready, drawn = one("follower-state", 1)
    answer = float(drawn.run.env["V_O"][0])
    assert write(answer * 1.0001, "V") == write(answer * 1.0002, "V")
    assert bands({"V_O": Band(1.0001, 1.0002)}, ready, drawn) == {}
    assert bands({"V_O": Band(none="for some reason")}, ready, drawn) == {}


def test_under_other_conventions_there_are_no_bands() -> None:
    """The ratios are to the family's own answers: another V_BE or another convention is another answer."""
    plain = tutor.problem("follower-state:2:3").solution
    other = tutor.problem("follower-state:2:3+V_BE=0.6").solution
    assert any(step.band for step in plain.steps) and "allow for" in plain.bench
    assert not any(step.band for step in other.steps) and "allow for" not in other.bench
    assert bands_of_level(read_bands(our_desk().folder.path), one("follower-state", 2)[0], {"V_BE": "0.6"}) == {}


@pytest.mark.parametrize(
    ("family", "level", "shown", "words"),
    [
        ("zener-state", 2, {"I_Z": By.BENCH},
         "the bands beside the results allow for junctions, knees and slopes as they are, $V_Z$ 5 % and $R$ 5 % either "
         "way; "),
        ("zener-resistor", 3, {"R_MAX": By.BENCH},
         "the bands beside the results allow for junctions, knees and slopes as they are; "),
        ("heat-sink", 1, {"T_J": By.RELATION},
         "the bands beside the results allow for $R_thSA$ 15 % and $R_thCS$ 30 % either way; "),
        ("zener-state", 2, {}, ""),
    ],
)  # fmt: skip
def test_the_clause_says_what_is_allowed_for(family: str, level: int, shown: Mapping[str, By], words: str) -> None:
    """Real parts where the bench was asked, the spreads where there are some, nothing where no band is shown."""
    beside = {key: BandWords("1 V to 2 V", by) for key, by in shown.items()}
    assert band_words(our_desk().family(family).levels[level - 1], beside) == words


def test_what_stands_before_a_band_says_where_it_comes_from() -> None:
    """`on a bench` for the bench, `with part spreads` where the relation alone was asked."""
    steps = [*tutor.problem("zener-slope:2:1").solution.steps]
    leads = {step.waypoint: step.band_lead for step in steps if step.band}
    assert leads["I_Z"] == "on a bench" and leads["V_Z0"] == "with part spreads"


def test_a_folder_without_the_file_has_no_bands(tmp_path: Path) -> None:
    """An author's own folder works before the command has ever run there."""
    assert read_bands(tmp_path) == {}


@pytest.mark.parametrize("text", ["", "[]", '{"a": {"1": {"V_O": {"low": 1}}}}', '{"a": {"1": {"V_O": 3}}}'])
def test_a_file_of_another_form_is_one_sentence(text: str, tmp_path: Path) -> None:
    """It names the file and what to do."""
    (tmp_path / FILE_NAME).write_text(text, encoding="utf-8")
    with pytest.raises(BadFamily, match=r"^bench_bands\.json: not as the command writes it \(.*\); write it anew$"):
        read_bands(tmp_path)


def test_the_file_is_read_once_and_again_when_it_changes(tmp_path: Path) -> None:
    """A page build makes thousands of solutions."""
    item = {"low": 0.9, "high": 1.1, "by": "bench", "sets": 4}
    (tmp_path / FILE_NAME).write_text(json.dumps({"a": {"1": {"V_O": item}}}), encoding="utf-8")
    first = read_bands(tmp_path)
    assert read_bands(tmp_path) is first
    (tmp_path / FILE_NAME).write_text(json.dumps({"a": {"1": {"V_O": {**item, "high": 1.25}}}}), encoding="utf-8")
    assert read_bands(tmp_path)["a"]["1"]["V_O"].high == 1.25
