"""Faulty circuits against ngspice: the same fault put into a hand-written deck, by the values of its leads and shorts.

The decks model the parts as the solver does, but let them find their states by themselves: nearly ideal diodes, an
amplifier between its rails. A set is a fault, drawn values and a load that is joined or lifted off; a fault with which
the solver finds no point, or several, makes none.
Expected voltages: ngspice 39 (Debian 12).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

import pytest

from tutor.across.faults import CircuitFault, FaultKind, possible_faults, with_fault
from tutor.across.operating_point import OperatingPoint, operating_points
from tutor.circuit.component import PartKind

SETS = 50  # of each of four decks: 200 in all
SEED = 5
# Less than a sixth of the least step that a meter tells apart (`meters.STEPS`). What the decks' diodes, saturating
# transistors and amplifier take to decide a state, each some millivolts, and the 1 mohm of a lead or short come to
# less than that.
CLOSE = 30e-3
OPEN, SHORT = 1e13, 1e-3


@dataclass(frozen=True)
class Faulty:
    """A deck: the circuit that it stands for, how values are drawn, and the deck's names for the leads of its parts."""

    deck: str
    circuit: str
    values: Mapping[str, tuple[float, float]]
    transistors: tuple[str, ...] = ()
    without: tuple[str, ...] = ()


VOLTS = {"V_I": (14.0, 26.0), "V_Z": (4.7, 9.1)}
FAULTY = (
    Faulty("faulty/shunt", "zener-shunt", {**VOLTS, "R": (100.0, 330.0), "R_L": (200.0, 2000.0)}),
    Faulty(
        "faulty/follower", "follower",
        {**VOLTS, "R": (150.0, 470.0), "h_FE": (30.0, 100.0), "R_L": (30.0, 200.0)}, ("Q",),
    ),
    Faulty(
        "faulty/pair", "feedback-pair-unfed",
        {
            "V_I": (16.0, 26.0), "V_Z": (4.7, 5.6), "R": (560.0, 1000.0), "h_FE_1": (40.0, 100.0),
            "h_FE_2": (80.0, 200.0), "R_1": (1500.0, 2700.0), "R_2": (2200.0, 3300.0), "R_L": (40.0, 200.0),
        },
        ("Q_1", "Q_2"),
    ),
    # What the amplifier would do with no junction between it and the load has no bound, and is no fault on offer.
    Faulty(
        "faulty/opamp", "opamp-series-zener",
        {
            "V_I": (16.0, 26.0), "V_Z": (4.7, 5.6), "R": (1200.0, 2200.0), "h_FE": (40.0, 100.0),
            "R_1": (3300.0, 5600.0), "R_2": (3900.0, 5600.0), "R_L": (40.0, 200.0),
        },
        ("Q",), ("base-short Q", "exchanged U"),
    ),
)  # fmt: skip


def switched(form: Faulty, values: Mapping[str, float], fault: CircuitFault, lifted: bool) -> dict[str, float]:
    """The deck's parameters for a fault."""
    found = {name: value for name, value in values.items() if name != "V_Z"}
    found |= {"V_UP": values["V_Z"], "V_DOWN": 0.7, "JOINT": SHORT}
    names = [name for name in ("R", "Z", "R_1", "R_2", "L") if name in ("R", "Z", "L") or name in values]
    found |= {f"LEAD_{name}": SHORT for name in names} | {"BESIDE_Z": OPEN, "BESIDE_L": OPEN}
    for name in form.transistors:
        end = name.removeprefix("Q")
        found |= {f"LEAD_B{end}": SHORT, f"LEAD_C{end}": SHORT, f"BESIDE_CE{end}": OPEN}
        found |= {} if f"base-short {name}" in form.without else {f"BESIDE_BE{end}": OPEN}
    end = fault.part.removeprefix("Q")
    transistor = fault.part in form.transistors
    if fault.kind is FaultKind.OPEN:
        found |= {f"LEAD_B{end}": OPEN, f"LEAD_C{end}": OPEN} if transistor else {f"LEAD_{fault.part}": OPEN}
    elif fault.kind is FaultKind.SHORT:
        found |= (
            {f"LEAD_B{end}": OPEN, f"LEAD_C{end}": OPEN, f"BESIDE_CE{end}": SHORT}
            if transistor
            else {f"BESIDE_{fault.part}": SHORT}
        )
    elif fault.kind is FaultKind.BASE_SHORT:
        found |= {f"LEAD_B{end}": OPEN, f"LEAD_C{end}": OPEN, f"BESIDE_BE{end}": SHORT}
    elif fault.kind is FaultKind.REVERSED:
        found |= {"V_UP": 0.7, "V_DOWN": values["V_Z"]}
    elif fault.kind is FaultKind.JOINT:
        found["JOINT"] = fault.size
    elif fault.kind in (FaultKind.TENFOLD, FaultKind.TENTH):
        found[fault.part] *= 10.0 if fault.kind is FaultKind.TENFOLD else 0.1
    return found | ({"LEAD_L": OPEN} if lifted else {})


@pytest.mark.parametrize("faulty", FAULTY, ids=[item.deck for item in FAULTY])
def test_a_faulty_circuit_stands_where_the_simulator_finds_it(faulty: Faulty, witness: Any) -> None:
    """50 random values, each fault in turn: every node within 30 mV, and every kind of fault met."""
    circuit = witness.folder.circuit(faulty.circuit)
    faults = [item for item in possible_faults(circuit, joint=22.0) if item.id not in faulty.without]
    source = Random(f"{faulty.deck} {SEED}")
    sets: list[dict[str, float]] = []
    solved: list[tuple[CircuitFault, bool, OperatingPoint]] = []
    tried = 0
    while len(sets) < SETS:
        fault, lifted = faults[tried % len(faults)], source.random() < 0.3
        tried += 1
        values = {name: source.uniform(*ends) for name, ends in faulty.values.items()}
        parts = [part for part in circuit.parts if not (lifted and part.kind is PartKind.LOAD)]
        points = operating_points(*with_fault(parts, {**circuit.defaults, **values}, fault))
        if len(points) == 1:
            sets.append(switched(faulty, values, fault, lifted))
            solved.append((fault, lifted, points[0]))
    assert {fault.kind for fault, _, _ in solved} >= {
        FaultKind.OPEN,
        FaultKind.SHORT,
        FaultKind.REVERSED,
        FaultKind.TENFOLD,
        FaultKind.JOINT,
    }
    worst = (0.0, "")
    for drawn, (fault, lifted, point), seen in zip(sets, solved, witness.run(faulty.deck, sets), strict=True):
        for node, word in circuit.nodes.items():
            away = abs(point.volts.get(node, 0.0) - seen[word.symbol])
            worst = max(worst, (away, f"{word.symbol} with {fault.id}{', unloaded' if lifted else ''} at {drawn}"))
    print(f"{faulty.deck}: worst {worst[0] * 1e3:.2f} mV in {worst[1]}")
    assert worst[0] < CLOSE, worst
