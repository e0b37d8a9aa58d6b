"""Compiled levels kept on disk: the second load needs no compiler, and no state of the disk can break a problem."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tutor.circuit.circuit import Circuit
from tutor.errors import BadFamily
from tutor.generate.compile import compile_level
from tutor.generate.draws import draw_numbers
from tutor.generate.family import Family
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.stage import LevelPlan, level_plan_from_json, level_plan_to_json
from tutor.generate.store import load_level
from tutor.generate.store_files import engine_digest, store_folder

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
FAMILY, CIRCUIT = FOLDER.family("zener-slope"), FOLDER.circuit("zener-shunt")


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty store."""
    place = tmp_path / "store"
    monkeypatch.setenv("STEADYRAIL_STORE", str(place))
    return place


def refusing(family: Family, circuit: Circuit, number: int, region: str) -> LevelPlan:
    """A compiler that must not be called."""
    raise AssertionError(f"compiled {family.id}:{number} ({region}) although it was stored")


def load(number: int = 1, compiler=compile_level, family: Family = FAMILY) -> ReadyLevel:
    return load_level(FOLDER, family, CIRCUIT, number, compiler)


def draws(ready: ReadyLevel) -> list[float]:
    """The answers of three problems."""
    found = draw_numbers(ready, FOLDER.parts(), [1, 2, 3])
    return [float(item.run.env[key][0]) for item in found for key in ready.regions[0].plan.keys]


def test_the_second_load_needs_no_compiler(store: Path):
    """One file a level; read back it gives the same problems."""
    first = load()
    assert len(list(store.iterdir())) == 1
    assert draws(load(compiler=refusing)) == draws(first)
    assert load(compiler=refusing).regions[0].plan == first.regions[0].plan


def test_levels_conventions_and_families_are_kept_apart(store: Path):
    """Another level or another convention has a file of its own, and is compiled."""
    load(1)
    load(2)
    load(2, family=FAMILY.under({"load-slope": "zener"}))
    assert len(list(store.iterdir())) == 3
    with pytest.raises(AssertionError, match="compiled zener-slope:3"):
        load(3, compiler=refusing)


def test_a_changed_file_is_compiled_anew(store: Path, tmp_path: Path):
    """The key is a digest of the engine's source and of both files: a change in either makes another."""
    root = tmp_path / "problems"
    for name in ("circuits/zener_shunt.py", "families/zener_slope.py"):
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_bytes((FOLDER.path / name).read_bytes())
    copied = ProblemsFolder(root)
    load()
    load_level(copied, FAMILY, CIRCUIT, 1, refusing)
    with (root / "circuits" / "zener_shunt.py").open("a", encoding="utf-8") as file:
        file.write("# a remark\n")
    with pytest.raises(AssertionError, match="compiled zener-slope:1"):
        load_level(copied, FAMILY, CIRCUIT, 1, refusing)


BROKEN = {
    "empty": "",
    "cut short": '{"plans": [{"region": "breakdown", "asks"',
    "no object": "[1, 2, 3]",
    "another object": '{"approximate": []}',
    "hollow": '{"plans": [{}], "approximate": []}',
    "plans of the wrong kind": '{"plans": 5, "approximate": []}',
    "stages of the wrong kind": '{"plans": [{"region": "r", "asks": [7], "keys": [], "checks": [], "tests": []}], '
    '"approximate": []}',
    "an unknown convention": '{"plans": [], "approximate": [{"convention": "x", "value": "y", "plan": {}}]}',
    "no text at all": "\udcff",
}


@pytest.mark.parametrize("text", BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_file_is_ignored_and_mended(store: Path, text: str):
    """Whatever stands in the file, the level is compiled again and the file written whole."""
    wanted = draws(load())
    (file,) = store.iterdir()
    file.write_bytes(text.encode("utf-8", "surrogateescape"))
    assert draws(load()) == wanted
    assert draws(load(compiler=refusing)) == wanted


def test_a_store_that_cannot_be_written_is_not_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A file stands where the folder should be: the level is compiled each time, and nothing is said."""
    place = tmp_path / "taken"
    place.write_text("not a folder", encoding="utf-8")
    monkeypatch.setenv("STEADYRAIL_STORE", str(place))
    assert draws(load()) == draws(load())
    assert place.read_text(encoding="utf-8") == "not a folder"


def test_a_full_disk_leaves_no_half_file(store: Path, monkeypatch: pytest.MonkeyPatch):
    """Writing fails half way: no file appears, nor is one left over, and the problem is drawn all the same."""

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(json, "dump", full)
    assert draws(load())
    assert [*store.iterdir()] == []


def test_an_authors_mistake_is_not_kept(store: Path):
    """A level that does not compile leaves nothing behind."""

    def failing(family: Family, circuit: Circuit, number: int, region: str) -> LevelPlan:
        raise BadFamily("a mistake")

    with pytest.raises(BadFamily):
        load(compiler=failing)
    assert not store.exists() or list(store.iterdir()) == []


PLACES = [
    ({"STEADYRAIL_STORE": "/somewhere/else"}, "/somewhere/else"),
    ({"XDG_CACHE_HOME": "/cache"}, "/cache/steadyrail"),
    ({"HOME": "/home/ada"}, "/home/ada/.cache/steadyrail"),
]


@pytest.mark.parametrize(("environment", "place"), PLACES)
def test_where_levels_are_kept(environment: dict[str, str], place: str, monkeypatch: pytest.MonkeyPatch):
    """STEADYRAIL_STORE names the folder; else the user's cache (XDG Base Directory Specification: $HOME/.cache)."""
    for name in ("STEADYRAIL_STORE", "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert store_folder() == Path(place)


def test_the_digest_of_the_engine_is_of_its_source():
    """Sixty-four hexadecimal digits, the same each time it is asked for."""
    assert len(engine_digest()) == 64 and int(engine_digest(), 16) >= 0
    assert engine_digest() == engine_digest()


def test_a_plan_survives_json():
    """Every stage of a level, stored and read, is the same value; the text is plain JSON."""
    for number in (1, 2, 3):
        plan = compile_level(FAMILY, CIRCUIT, number, "breakdown")
        data = json.loads(json.dumps(level_plan_to_json(plan)))
        assert level_plan_from_json(data) == plan


def test_a_store_read_only_by_its_owner_is_no_trouble(store: Path):
    """A stored level may be read where nothing may be written: a folder without write permission."""
    wanted = draws(load())
    store.chmod(0o500)
    try:
        assert draws(load(compiler=refusing)) == wanted
        if os.geteuid() != 0:  # the super-user may write anywhere
            assert draws(load(2)) == draws(load(2))
    finally:
        store.chmod(0o700)
