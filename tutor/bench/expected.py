"""The bands beside hand answers, worked out on the bench for every family and level, and kept in one file.

    python -m tutor.bench.expected                       all families of `problems/`, into `problems/bench_bands.json`
    python -m tutor.bench.expected zener-state follower-design      these alone; what stands of the others stays
    python -m tutor.bench.expected --folder DIR                     another folder of problems

Run it when a family, a circuit's netlist or typical values, the catalogue of zeners or the bench itself has changed;
`tests/bench/test_expected.py` says of which families what is stored is stale.
Place in the data flow: folder of problems -> levels -> bands -> the stored file, which solutions read.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import tutor
from tutor.bench.ratios import level_bands
from tutor.bench.stored import FILE_NAME, Band, bands_text, read_bands
from tutor.circuit.circuit import Circuit
from tutor.errors import SteadyrailError, unknown
from tutor.generate.family import Family
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.stage import LevelPlan
from tutor.generate.store import load_level


def _compile(family: Family, circuit: Circuit, level: int, region: str) -> LevelPlan:
    """Plan a level that no store holds."""
    return tutor.compile_level(family, circuit, level, region)


def family_levels(folder: ProblemsFolder, family_id: str) -> tuple[ReadyLevel, ...]:
    """The three levels of a family, ready to run, under the conventions it declares."""
    family = folder.family(family_id)
    found = []
    for number, level in enumerate(family.levels, start=1):
        circuit = folder.circuit(family.circuit_of(number))
        found.append(load_level(folder, family.under(level.assume), circuit, number, _compile))
    return tuple(found)


def family_bands(folder: ProblemsFolder, family_id: str) -> dict[str, dict[str, Band]]:
    """Level -> key -> band, worked out anew. UnknownName for a family that is not there."""
    catalogues = folder.parts()
    return {str(ready.number): level_bands(ready, catalogues) for ready in family_levels(folder, family_id)}


def work_out(folder: ProblemsFolder, families: Sequence[str], say: Callable[[str], None]) -> None:
    """Work out the bands of some families (all when none is named) and write them; families that are gone go.

    UnknownName for a family that is not there.
    """
    there = folder.family_ids()
    for name in families:
        if name not in there:
            raise unknown("family", name, there)
    found: dict[str, Mapping[str, Mapping[str, Band]]] = {
        name: levels for name, levels in read_bands(folder.path).items() if name in there
    }
    for name in families or there:
        began = time.monotonic()
        found[name] = family_bands(folder, name)
        # Written family by family: what was worked out stays when the rest is broken off.
        (folder.path / FILE_NAME).write_text(bands_text(found), encoding="utf-8")
        say(f"{name}: {sum(map(len, found[name].values()))} answers, {time.monotonic() - began:.1f} s")


def main(arguments: Sequence[str] | None = None) -> int:
    """The command; 2 with one sentence for a family or folder that is not there."""
    ours = Path(__file__).resolve().parents[2] / "problems"
    parser = argparse.ArgumentParser(prog="python -m tutor.bench.expected", description=(__doc__ or "").split("\n")[0])
    parser.add_argument("families", nargs="*", metavar="FAMILY", help="a family to work out anew; none: all")
    parser.add_argument("--folder", type=Path, default=ours, help="the folder of problems (ours)")
    told = parser.parse_args(arguments)
    try:
        work_out(ProblemsFolder(told.folder), told.families, lambda line: print(line, flush=True))
    except SteadyrailError as error:
        print(error.sentence, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
