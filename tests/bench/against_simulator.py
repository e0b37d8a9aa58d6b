"""The bench beside the simulator on decks with the same curves and numbers: what a circuit's sweeps differ by.

Vocabulary: a *sweep* moves line, load, capacitance or temperature through the circuit's typical point, all else held; a
*difference* is relative to the simulator's value, which counts at least as a *floor* (a current of nothing comes out of
any solver as some 1e-16 A). Source of the expected values: ngspice 39 (Debian 12).
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from tests.bench.conftest import circuit_of, node_of, simulated
from tutor.bench.any_circuit import on_the_bench
from tutor.bench.points import bench_deck, bench_points, letters_of_nodes
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind

RANGES = {"V_I": (0.6, 1.4), "I_L": (0.05, 1.5), "R_L": (0.7, 10.0)}
SUPPLY_RANGES = {"V_SEC": (0.7, 0.9, 1.1), "I_L": (0.3, 0.7, 1.3), "C": (0.2, 0.5, 2.0)}
SUPPLY_DEGREES = (0.0, 60.0)
VOLTS, AMPERES = 1e-2, 1e-6  # the floors of voltages and of currents
TRANSISTORS = (PartKind.NPN, PartKind.PNP)


@dataclass
class Compared:
    """How many points of a circuit were compared, and by kind of quantity the worst relative difference."""

    circuit: str
    points: int = 0
    worst: dict[str, float] = field(default_factory=dict)

    def note(self, kind: str, ours: float, theirs: float, floor: float) -> None:
        """One more difference; one that is no number counts as without end."""
        apart = abs(ours - theirs) / max(abs(theirs), floor)
        self.worst[kind] = max(self.worst.get(kind, 0.0), apart if np.isfinite(apart) else float("inf"))


def told_typically(circuit: Circuit) -> dict[str, float]:
    """A circuit's typical values; amplifiers stay good ones, which nobody describes."""
    return {key: float(value) for key, value in circuit.typical.items() if key not in ("A", "R_O")}


def steady_lines(name: str) -> list[tuple[dict[str, float], float]]:
    """Sweeps of line, load and temperature through the typical point: (values, °C)."""
    typical = told_typically(circuit_of(name))
    found = [
        ({**typical, key: float(value)}, 25.0)
        for key, (low, high) in RANGES.items() if key in typical
        for value in typical[key] * np.linspace(low, high, 8)
    ]  # fmt: skip
    return found + [(typical, float(degrees)) for degrees in np.linspace(-25, 100, 6)]


def supply_lines(name: str) -> list[tuple[dict[str, float], float]]:
    """Sweeps of line, load, reservoir and temperature through the typical point: (values, °C)."""
    typical = told_typically(circuit_of(name))
    found = [
        ({**typical, key: typical[key] * share}, 25.0) for key, shares in SUPPLY_RANGES.items() for share in shares
    ]
    return [(typical, 25.0), *found, *((typical, degrees) for degrees in SUPPLY_DEGREES)]


def device_currents(circuit: Circuit) -> Mapping[str, tuple[str, tuple[str, ...]]]:
    """Letter symbol -> kind of current and the simulator's currents that make it up, those to take off with a minus.

    Leaks that the bench has beside its junctions are resistors of their own in a deck.
    """
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for part in circuit.parts:
        name, symbols = part.name.lower(), part.symbols
        if part.kind in TRANSISTORS:
            collector, base = f"@q{name}[ic]", f"@q{name}[ib]"
            over, under = f"@r{name}_bc_leak[i]", f"@r{name}_be_leak[i]"
            found[symbols["collector"]] = ("collector", (collector, f"-{over}"))
            found[symbols["base"]] = ("base", (base, over, under))
        elif part.kind is PartKind.ZENER:
            found[symbols["current"]] = ("zener", (f"@d{name}[id]", f"-@d{name}_forward[id]", f"@r{name}_leak[i]"))
    return {symbol: made for symbol, made in found.items() if symbol}


def _sum(seen: Mapping[str, float], terms: Iterable[str]) -> float:
    return sum(-seen[term[1:]] if term.startswith("-") else seen[term] for term in terms)


def compare_steady(name: str, simulator: str, folder: Path) -> Compared:
    """Every node voltage, base, collector and zener current of a steady circuit's sweeps.

    Kinds: "output", "nodes", "base", "collector", "zener". Raises AssertionError where a point has not settled.
    """
    circuit, lines = circuit_of(name), steady_lines(name)
    currents = device_currents(circuit)
    asked = sorted({term.lstrip("-") for _, terms in currents.values() for term in terms})
    decks = [bench_deck(circuit, values, degrees) for values, degrees in lines]
    letters, compared = letters_of_nodes(circuit), Compared(name)
    outputs = {letters.get(part.nodes[0]) for part in circuit.parts if part.kind is PartKind.LOAD}
    for (values, degrees), seen in zip(lines, simulated(simulator, decks, folder, asked), strict=True):
        found = bench_points(circuit, values, degrees)
        assert found.settled.all(), (name, values, degrees)
        for symbol, node in node_of(name).items():
            if node in seen:
                kind = "output" if symbol in outputs else "nodes"
                compared.note(kind, float(found.values[symbol][0]), seen[node], VOLTS)
        for symbol, (kind, terms) in currents.items():
            compared.note(kind, abs(float(found.values[symbol][0])), abs(_sum(seen, terms)), AMPERES)
        compared.points += 1
    return compared


def measured(simulator: str, deck: str, folder: Path) -> dict[str, float]:
    """What a deck in time measures in its last cycle, by name in small letters."""
    path = folder / "timed.cir"
    path.write_text(deck, encoding="utf-8")
    done = subprocess.run([simulator, "-b", str(path)], capture_output=True, text=True, timeout=120, check=False)
    found = re.findall(r"^(\w+)\s+=\s+([-+\d.]+e[-+]\d+)", done.stdout, re.M)
    assert found, done.stdout[-800:] + done.stderr[-400:]
    return {name: float(value) for name, value in found}


def compare_in_time(name: str, simulator: str, folder: Path, picked: slice = slice(None)) -> Compared:
    """Every reading that the deck of a raw or whole supply measures, over sweeps or some of their points;
    kinds are letters without index. Raises AssertionError where a set has not settled."""
    circuit, lines = circuit_of(name), supply_lines(name)[picked]
    values = {key: np.array([told[key] for told, _ in lines]) for key in lines[0][0]}
    found = on_the_bench(circuit, values, np.array([degrees for _, degrees in lines]))
    assert found.settled.all(), name
    compared = Compared(name)
    for place, (told, degrees) in enumerate(lines):
        seen = measured(simulator, bench_deck(circuit, told, degrees), folder)
        ours = {symbol: values for symbol, values in found.values.items() if symbol.lower() in seen}
        assert len(ours) == len(seen), (name, sorted(seen))
        for symbol, readings in ours.items():
            kind = re.sub(r"_\d$", "", symbol)
            compared.note(kind, float(readings[place]), seen[symbol.lower()], VOLTS)
        compared.points += 1
    return compared
