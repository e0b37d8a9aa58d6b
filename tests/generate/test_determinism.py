"""The same name gives the same problem: over hash seeds, batch sizes and time.

The golden hashes are written anew, after raising the edition of a family whose draws changed on purpose, by
`python -m pytest tests/generate/test_determinism.py` after `PYTHONPATH=. python tests/generate/test_determinism.py`.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import tutor
from tutor.solution.desk import WorkedProblem
from tutor.views.records import problem_record

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = Path(__file__).with_name("golden.json")
LEVELS = [(family, level) for family in tutor.families() for level in (1, 2, 3)]
NAMES = ["zener-resistor:2:17", "zener-state:2:5", "follower-design:3:9", "supply-source-model:3:4", "zener-slope:3:2"]


def as_bytes(worked: WorkedProblem) -> bytes:
    """A worked problem, whole, as bytes."""
    return json.dumps(problem_record(worked.problem, worked.solution), sort_keys=True).encode()


def golden_hash(family: str, level: int) -> str:
    """A digest of the draws of numbers 1 to 20: givens, answers and slips, to the last bit."""
    desk = tutor.open_desk()
    digest = hashlib.sha256()
    for worked in desk.batch(desk.level(family, level), range(1, 21)):
        problem = worked.problem
        digest.update(repr([(name, quantity.value) for name, quantity in problem.given.items()]).encode())
        digest.update(repr([(point.key, point.answer and point.answer.value) for point in problem.waypoints]).encode())
        digest.update(repr([(slip.id, slip.value) for point in problem.waypoints for slip in point.slips]).encode())
    return digest.hexdigest()[:32]


def all_golden() -> dict[str, str]:
    """`family:level@edition` -> digest."""
    desk = tutor.open_desk()
    return {f"{name}:{level}@{desk.family(name).edition}": golden_hash(name, level) for name, level in LEVELS}


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_draws_have_not_changed_silently(family: str, level: int) -> None:
    """A changed draw needs a new edition of its family, and then a new golden hash."""
    edition = tutor.open_desk().family(family).edition
    golden = json.loads(GOLDEN.read_text(encoding="utf-8"))
    assert golden[f"{family}:{level}@{edition}"] == golden_hash(family, level)


def test_every_golden_hash_belongs_to_a_family() -> None:
    """No stale entry stands in the file."""
    desk = tutor.open_desk()
    assert set(json.loads(GOLDEN.read_text(encoding="utf-8"))) == {
        f"{name}:{level}@{desk.family(name).edition}" for name, level in LEVELS
    }


def test_the_same_bytes_over_eight_hash_seeds() -> None:
    """Nothing leans on the order of a set or on hash()."""
    code = (
        "import sys, json, hashlib, tutor\n"
        "from tutor.views.records import problem_record\n"
        f"found = [tutor.problem(name) for name in {NAMES!r}]\n"
        "text = json.dumps([problem_record(item.problem, item.solution) for item in found])\n"
        "print(hashlib.sha256(text.encode()).hexdigest())"
    )
    seen = set()
    for seed in range(8):
        environment = {**os.environ, "PYTHONHASHSEED": str(seed), "PYTHONPATH": str(ROOT)}
        done = subprocess.run(
            [sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True, timeout=120
        )
        seen.add(done.stdout.strip())
    assert len(seen) == 1


def test_compiling_anew_gives_the_same_bytes_under_other_hash_seeds(tmp_path: Path) -> None:
    """The algebra too takes the same way: an empty store under two seeds stores the same plans."""
    stores = []
    for seed in ("1", "77"):
        store = tmp_path / seed
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT), "STEADYRAIL_STORE": str(store)}
        code = f"import tutor; [tutor.problem(name) for name in {NAMES!r}]"
        subprocess.run([sys.executable, "-c", code], env=environment, check=True, timeout=300)
        stores.append({file.name: file.read_bytes() for file in sorted(store.iterdir())})
    assert stores[0] == stores[1]
    assert len(stores[0]) == len(NAMES)


@pytest.mark.parametrize(("family", "level"), LEVELS)
def test_the_same_bytes_from_batches_of_one_seven_and_a_thousand(family: str, level: int) -> None:
    """A number's problem does not depend on what is drawn beside it."""
    desk = tutor.open_desk()
    ready = desk.level(family, level)
    numbers = [1, 2, 3, 500, 999, 1000, 123_456_789]
    alone = [as_bytes(desk.batch(ready, [number])[0]) for number in numbers]
    seven = [as_bytes(item) for item in desk.batch(ready, numbers)]
    assert alone == seven
    if (family, level) in (("zener-resistor", 2), ("zener-state", 1)):
        thousand = desk.batch(ready, range(1, 1001))
        assert [as_bytes(thousand[number - 1]) for number in numbers[:6]] == alone[:6]


if __name__ == "__main__":
    GOLDEN.write_text(json.dumps(all_golden(), indent=1) + "\n", encoding="utf-8")
