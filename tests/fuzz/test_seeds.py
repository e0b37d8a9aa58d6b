"""Every seed of every target, fed once: what was found before stays mended."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz.lines import read_everywhere
from tests.fuzz.targets import SEEDS, TARGETS
from tests.fuzz.watch import no_longer_than

LONGEST_WAIT = 600  # seconds, for a machine of any speed
MOST_BYTES = 4096
FEWEST = {"reader": 30, "checker": 10, "set_file": 20, "command": 20}


@pytest.mark.parametrize("name", TARGETS)
def test_seeds_are_dealt_with_as_they_should_be(name: str) -> None:
    """Nothing raises, hangs, runs or writes; what else must hold stands with each target."""
    seeds = TARGETS[name].corpus()
    assert len(seeds) >= FEWEST.get(name, 7)
    for seed in seeds:
        with no_longer_than(LONGEST_WAIT):
            try:
                TARGETS[name].feed(seed.read_bytes())
            except Exception as error:
                error.add_note(f"fed {seed.relative_to(SEEDS)}")
                raise


@pytest.mark.parametrize("seed", sorted((SEEDS / "reader").iterdir()), ids=lambda path: path.name)
def test_a_line_is_read_at_a_bounded_cost_in_every_vocabulary(seed: Path) -> None:
    """Calls of functions are counted, so that no machine's speed matters."""
    read_everywhere(seed.read_bytes())


def test_seeds_are_small_and_belong_to_a_target() -> None:
    """The corpus is kept by hand: small files, none of which nobody feeds."""
    files = [path for path in SEEDS.rglob("*") if path.is_file()]
    assert {path.parent.name for path in files} == {name for item in TARGETS.values() for name in item.seeds}
    assert [path.name for path in files if path.stat().st_size > MOST_BYTES] == []
