"""Sheets of problems: worlds near by that are like the problem's own, the same sheet wherever it is made."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.solution.at_hand import LEVELS, batch, broken, laws_for, laws_of
from tests.solution.test_recipes import NUMBERS, own_world, with_model
from tutor.generate.family import Work
from tutor.quantities.expression import evaluate
from tutor.quantities.formula import read_expression
from tutor.quantities.preferred import Series, is_preferred
from tutor.quantities.quantity import EXACT_FIGURES, round_figures
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import open_desk, our_desk
from tutor.solution.sheet import Sheet
from tutor.solution.sheets import SPREAD, WORLDS, shift
from tutor.working.ground import MOST_WORLDS, Around
from tutor.working.world import expand

ROOT = Path(__file__).resolve().parents[2]


def test_shifts_are_small_fixed_and_all_different():
    """Near 1, never twice the same, and as they were when the numbers below were written down."""
    found = [shift(place, world) for place in range(12) for world in range(WORLDS)]
    assert all(abs(item - 1) <= SPREAD / 2 for item in found)
    assert len({round(item, 9) for item in found}) == len(found)
    assert [round(shift(0, world), 6) for world in range(3)] == [0.992375, 0.977667, 1.02296]


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_worlds_near_a_problem_keep_its_laws_and_its_shape(family: str, level: int):
    """Each differs from the problem's own by a few hundredths and keeps the order of every range, two every law."""
    for item, sheet in batch(family, level, NUMBERS):
        assert len(sheet.worlds) == WORLDS
        for env in sheet.worlds:
            told = with_model(sheet)
            assert set(env) == set(told), item.problem.name
            for base in sheet.recipe.ranges:
                assert env[f"{base}_MIN"] < env[f"{base}_MAX"], item.problem.name
            worked_out = {draw.name for draw in _ready(family, level).level.draws if isinstance(draw, Work)}
            for name, value in env.items():
                if name not in worked_out:
                    assert abs(value - told[name]) <= SPREAD / 2 * abs(told[name]) * (1 + 1e-12), name
        for env in sheet.worlds[:: WORLDS // 2]:
            first = expand(sheet.recipe, env, sheet.ends).situations[0]
            assert broken(laws_for(sheet, sheet.recipe), first.values)[0] == [], item.problem.name


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_what_is_worked_out_from_draws_is_worked_out_anew(family: str, level: int):
    """V_I_MAX = V_I_MIN + spread in every world, to 12 figures; so a relation between givens is no accident of one."""
    ready = _ready(family, level)
    for _, sheet in batch(family, level, 2):
        for env in sheet.worlds:
            for draw in ready.level.draws:
                expr = read_expression(draw.formula) if isinstance(draw, Work) else None
                try:
                    value = None if expr is None else evaluate(expr, env)
                except KeyError:
                    continue  # rests on a draw that the statement does not print
                if value is not None and draw.name in env:
                    assert env[draw.name] == round_figures(value, EXACT_FIGURES), draw.name


def _ready(family: str, level: int):
    return our_desk().level(family, level)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_enough_worlds_are_like_the_problems_own(family: str, level: int):
    """Two worlds or more in which the same corners decide: with one alone a relation could fit by chance."""
    for item, sheet in batch(family, level, NUMBERS):
        near = Around(sheet, sheet.recipe).near
        assert 2 <= len(near) <= MOST_WORLDS, item.problem.name
        own = own_world(sheet)
        for world in near:
            assert world.picks == own.picks
            assert [item.words for item in world.situations[: len(own.situations)]] == [
                item.words for item in own.situations
            ]


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_worlds_of_the_bare_circuit_keep_its_laws(family: str, level: int):
    """They stand further apart than those near the problem, and each gives the quantities the circuit reports."""
    _, sheet = batch(family, level, 1)[0]
    region = our_desk().circuit(sheet.circuit).regions[0]
    assert sheet.generic.region == region.id
    firsts = []
    for env in sheet.generic_worlds:
        values = expand(sheet.generic, env, sheet.ends).situations[0].values
        wrong, seen = broken(laws_for(sheet, sheet.generic), values)
        assert wrong == [] and seen > 5
        firsts.append(values[sheet.generic.known[0]])
    assert max(firsts) / min(firsts) > 1 + SPREAD


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_worlds_with_nothing_neglected_keep_the_circuits_own_laws(family: str, level: int):
    """Where a level neglects something, or bends it: the circuit as it is, in the level's region."""
    _, sheet = batch(family, level, 1)[0]
    if sheet.exact is None:
        return
    regions = [item.plan.region for item in _ready(family, level).regions]
    circuit = our_desk().circuit(sheet.circuit)
    assert sheet.exact.region == (regions[0] if len(regions) == 1 else circuit.regions[0].id)
    bent = {item.convention for item in circuit.variants if item.watches}
    ready = _ready(family, level)
    kept = tuple((name, value) for name, value in ready.family.assume.items() if name not in bent)
    laws = laws_of(sheet.circuit, sheet.exact.region, sheet.exact.known, (), kept + _whole(circuit, bent))
    for env in sheet.generic_worlds:
        wrong, seen = broken(laws, expand(sheet.exact, env, sheet.ends).situations[0].values)
        assert wrong == [] and seen > 5


def _whole(circuit, bent: set[str]) -> tuple[tuple[str, str], ...]:
    """The value that neglects nothing, of each convention that may."""
    return tuple((item.convention, item.value) for item in circuit.variants if not item.watches
                 and item.convention in bent)  # fmt: skip


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_a_sheet_says_what_the_problem_says(family: str, level: int):
    """Givens as printed, slips with their waypoints, choices with what fits, units of every symbol."""
    for item, sheet in batch(family, level, NUMBERS):
        assert sheet.given == {name: quantity.value for name, quantity in item.problem.given.items()}
        assert all(sheet.env[name] == value for name, value in sheet.given.items())
        told = [(slip.id, point.key, slip.value) for point in item.problem.waypoints for slip in point.slips]
        assert [(slip.id, slip.key, slip.value) for slip in sheet.slips] == told
        assert sheet.problem == item.problem.name and sheet.region_words
        assert all(sheet.symbols[name] == symbol_for(name).unit for name in (*sheet.given, *sheet.recipe.known))
        for choice in sheet.choices:
            assert choice.model in choice.accepted, item.problem.name
            shelf = choice.shelf or choice.accepted
            assert set(choice.accepted) <= set(shelf)
            if choice.series:
                assert all(is_preferred(value, Series[choice.series]) for value in choice.accepted)


def test_a_sheet_from_a_warm_store_is_that_from_a_cold_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Plans and recipes compiled now, and read back from disk: the same sheet."""
    monkeypatch.setenv("STEADYRAIL_STORE", str(tmp_path))
    for name in ("supply-source-model:3:2", "zener-slope:1:4"):
        cold = open_desk().sheet(name)
        files = sorted(tmp_path.iterdir())
        warm = open_desk().sheet(name)
        assert files and files == sorted(tmp_path.iterdir()), "the second time nothing is made"
        assert warm == cold
        assert repr(warm) == repr(cold), "in the same order too"


def _digests(seed: str, names: list[str], store: str) -> list[str]:
    code = (
        "import hashlib, sys; from tutor.solution.desk import our_desk\n"
        "for name in sys.argv[1:]: print(hashlib.sha256(repr(our_desk().sheet(name)).encode()).hexdigest())"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed, "STEADYRAIL_STORE": store}
    done = subprocess.run(
        [sys.executable, "-c", code, *names], env=environment, capture_output=True, text=True, check=True, timeout=300
    )
    return done.stdout.split()


def test_a_sheet_is_the_same_under_every_hash_seed(tmp_path: Path):
    """Made from nothing in a fresh interpreter with another seed: byte for byte as here."""
    names = ["supply-source-model:2:3", "zener-state:1:2"]
    here = [hashlib.sha256(repr(our_desk().sheet(name)).encode()).hexdigest() for name in names]
    for seed in ("1", "4711"):
        assert _digests(seed, names, str(tmp_path / seed)) == here


def test_two_problems_have_two_sheets():
    """The digest above can tell sheets apart."""
    first, second = (sheet for _, sheet in batch("zener-state", 1, 2))
    assert isinstance(first, Sheet)
    assert repr(first) != repr(second)
