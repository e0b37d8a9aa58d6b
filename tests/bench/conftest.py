"""What the tests of the bench share: the circuits that it can settle, sensible values, the simulator."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from tests.witness.conftest import find_ngspice
from tutor.bench.points import letters_of_nodes
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.solution.desk import our_desk

STEADY = tuple(
    name for name in our_desk().folder.circuit_ids()
    if any(part.kind is PartKind.SOURCE for part in our_desk().circuit(name).parts)
)  # fmt: skip
HEAT_ALONE = ("heat-path-free-air", "heat-path-heat-sink")
IN_TIME = tuple(
    name for name in our_desk().folder.circuit_ids() if name not in STEADY and name not in HEAT_ALONE
)
NEVER_MOVED = {"A", "R_O", "alpha_Z", "k_BE", "DT", "k_F"}


@pytest.fixture
def simulator() -> str:
    """Where ngspice is; without it the test is skipped, and fails where CI is set."""
    return find_ngspice()


def circuit_of(name: str) -> Circuit:
    return our_desk().circuit(name)


def drawn(circuit: Circuit, count: int, seed: int, spread: float) -> dict[str, np.ndarray]:
    """Typical values, each moved by up to a share of itself either way, independently."""
    random = np.random.default_rng(seed)
    return {
        name: value * random.uniform(1 - spread, 1 + spread, count)
        for name, value in circuit.typical.items()
        if name not in NEVER_MOVED
    }


def simulated(simulator: str, decks: Sequence[str], folder: Path, also: Sequence[str] = ()) -> list[dict[str, float]]:
    """Node voltages of each deck's operating point and what is asked of its parts also, all in one process."""
    asked = ["print " + " ".join(also)] if also else []
    lines = [".control"]
    for place, deck in enumerate(decks):
        path = folder / f"deck{place}.cir"
        path.write_text(deck, encoding="utf-8")
        lines += [f"source {path}", "set numdgt=12", "op", f"echo deck {place}", "print all", *asked]
    main = folder / "main.cir"
    main.write_text("\n".join(["* all of them", *lines, "quit", ".endc", ".end", ""]), encoding="utf-8")
    done = subprocess.run([simulator, "-b", str(main)], capture_output=True, text=True, timeout=300, check=False)
    told = re.split(r"^deck \d+$", done.stdout, flags=re.M)[1:]
    assert len(told) == len(decks), done.stderr[-400:]
    return [{name: float(value) for name, value in re.findall(r"^(\S+) = (\S+)$", part, re.M)} for part in told]


@cache
def node_of(name: str) -> Mapping[str, str]:
    """Letter symbol of a voltage -> node, where one node alone has it."""
    letters = letters_of_nodes(circuit_of(name))
    told = list(letters.values())
    return {letter: node for node, letter in letters.items() if told.count(letter) == 1}
