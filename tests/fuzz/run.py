"""Fuzzing: what comes from outside is fed until the time is up, and what breaks is kept.

    python -m tests.fuzz.run --seconds 600                    every target, ten minutes each
    python -m tests.fuzz.run --seconds 600 reader checker     these alone
    python -m tests.fuzz.run --again FILE reader              what was kept, fed once more

| target | what is fed |
|---|---|
| reader | a line of a learner's, in five vocabularies |
| checker | a working, on eight sheets |
| mirror | the same lines and workings, to Python and to the scripts of the pages, which must say the same |
| set_file, class_list, workings, by_hand, numbers | the files of a lecturer |
| netlist, family, circuit | what an author declares: a family and a circuit with fields replaced |
| values, formulas | values as they are typed, authors' formulas, prose, names of problems |
| command | words at the terminal |

What must hold of each stands with its function (`lines.py`, `files.py`, `authors.py`, `commands.py`): nothing raises
but the one error that says what is wrong, nothing hangs, nothing is run, nothing is written elsewhere (`watch.py`).

Where atheris is installed (`pip install -e '.[fuzz]'`; it has wheels for Linux) it guides by what of `tutor.working`,
`tutor.sets` and `tutor.quantities` was reached; elsewhere, and for targets that are not guided, seeds are mutated at
random, from a seed that is told. `seeds/TARGET/` is where each begins; the suite feeds all of them (`test_seeds.py`).
What breaks is written to `build/fuzz/TARGET/`; what reached something new, to `build/fuzz/TARGET/corpus/`. Whatever
breaks is mended, and stays as a case: a line in `tests/working/lines/`, a test, or a seed whose name says why.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

from tests.fuzz.targets import TARGETS

FOUND = Path(__file__).resolve().parents[2] / "build" / "fuzz"


def main() -> int:
    """Runs each target in a process of its own, one after another; how many of them broke."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz.run", description="Feed what comes from outside.")
    asked.add_argument("--seconds", type=float, default=60, help="for each target (60 unless said)")
    asked.add_argument("--seed", type=int, default=1, help="of the random changes (1 unless said)")
    asked.add_argument("--unguided", action="store_true", help="change at random even where atheris is there")
    asked.add_argument("--again", type=Path, metavar="FILE", help="feed this file once, and nothing else")
    asked.add_argument("targets", nargs="*", metavar="TARGET", help=f"of {', '.join(TARGETS)}; all unless said")
    told = asked.parse_args()
    unknown = [name for name in told.targets if name not in TARGETS]
    if unknown:
        asked.error(f"there is no target '{unknown[0]}'; there are {', '.join(TARGETS)}")
    if told.again is not None:
        for name in told.targets or TARGETS:
            TARGETS[name].feed(told.again.read_bytes())
        return 0
    guided = not told.unguided and find_spec("atheris") is not None
    broke = 0
    for name in told.targets or TARGETS:
        folder = FOUND / name
        (folder / "corpus").mkdir(parents=True, exist_ok=True)
        way = "tests.fuzz.guided" if guided else "tests.fuzz.unguided"
        print(f"{name}: {told.seconds:g} s, {'guided' if guided else 'unguided'}", flush=True)
        words = [sys.executable, "-m", way, name, str(told.seconds), str(told.seed), str(folder)]
        broke += subprocess.run(words, check=False).returncode != 0
    print(f"{broke} of {len(told.targets or TARGETS)} targets broke" + (f"; see {FOUND}" if broke else ""))
    return broke


if __name__ == "__main__":
    sys.exit(main())
