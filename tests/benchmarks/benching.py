"""Operating points a second: the bench on many sets at once, against ngspice on decks with the same curves and numbers.

The simulator works through many decks in one process, so that its start counts little; both must agree first.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
from plans import Disagreement
from table import Row, Section
from timing import Contender, Effort, interleaved

from tutor.bench.points import bench_deck, bench_points
from tutor.circuit.circuit import Circuit
from tutor.solution.desk import our_desk

CIRCUITS = ("zener-shunt", "follower", "feedback-pair-fed", "opamp-series-zener")
DECKS = 40  # in one process of the simulator
SPREAD, SEED, CLOSE = 0.2, 3, 1e-5
HOW = (
    f"Operating points with real parts, sets within {100 * SPREAD:.0f} % of the circuit's typical values. Ours: all of "
    f"them in one call. Theirs: ngspice, {DECKS} decks in one process, each read, set up and solved. Every output is "
    f"alike to {CLOSE:g} before anything is timed."
)


def sets_of(circuit: Circuit, count: int) -> dict[str, np.ndarray]:
    """Typical values, each moved by up to a share of itself."""
    random = np.random.default_rng(SEED)
    moved = {name: value for name, value in circuit.typical.items() if name not in ("A", "R_O", "alpha_Z", "k_BE")}
    return {name: value * random.uniform(1 - SPREAD, 1 + SPREAD, count) for name, value in moved.items()}


def simulator() -> str:
    """Where ngspice is; RuntimeError where it is not."""
    found = shutil.which("ngspice")
    if found is None:
        raise RuntimeError("ngspice is missing: install it (Debian package ngspice), or name other benchmarks")
    return found


def decks_in(folder: Path, circuit: Circuit, sets: dict[str, np.ndarray]) -> Path:
    """The first decks of the sets, and a file that works through them."""
    lines = [".control"]
    for place in range(DECKS):
        path = folder / f"{circuit.id}{place}.cir"
        path.write_text(bench_deck(circuit, {name: float(values[place]) for name, values in sets.items()}))
        lines += [f"source {path}", "set numdgt=12", "op", "print v(out)"]
    main = folder / f"{circuit.id}.cir"
    main.write_text("\n".join(["* all of them", *lines, "quit", ".endc", ".end", ""]))
    return main


def simulate(program: str, main: Path) -> list[float]:
    """The output voltage of every deck."""
    done = subprocess.run([program, "-b", str(main)], capture_output=True, text=True, timeout=300, check=False)
    return [float(value) for value in re.findall(r"^v\(out\) = (\S+)$", done.stdout, re.M)]


def require_agreement(circuit: Circuit, sets: dict[str, np.ndarray], seen: list[float]) -> None:
    """Disagreement where an output differs, or the simulator has not found one for every deck."""
    ours = bench_points(circuit, sets).values["V_O"][:DECKS]
    if len(seen) != DECKS:
        raise Disagreement(f"{circuit.id}: the simulator found {len(seen)} of {DECKS} points")
    worst = float(np.max(np.abs(ours / np.array(seen) - 1)))
    if not worst < CLOSE:
        raise Disagreement(f"{circuit.id}: the outputs differ by {worst:.2g}")


def row_for(name: str, effort: Effort, folder: Path) -> Row:
    """One circuit."""
    circuit, program = our_desk().circuit(name), simulator()
    sets = sets_of(circuit, max(effort.sets, DECKS))
    main = decks_in(folder, circuit, sets)
    require_agreement(circuit, sets, simulate(program, main))

    def ours(_number: int) -> Callable[[], object]:
        return lambda: bench_points(circuit, sets)

    def theirs(_number: int) -> Callable[[], object]:
        return lambda: simulate(program, main)

    found = interleaved({"ours": Contender(ours), "theirs": Contender(theirs)}, effort.rounds)
    count = len(next(iter(sets.values())))
    return Row(f"{name}, {count} at once", found["ours"].per(count), "ngspice", found["theirs"].per(DECKS), "", 1)


def measure(effort: Effort) -> Section:
    """A row for each circuit."""
    with tempfile.TemporaryDirectory(prefix="steadyrail-") as folder:
        return Section(tuple(row_for(name, effort, Path(folder)) for name in CIRCUITS), HOW)
