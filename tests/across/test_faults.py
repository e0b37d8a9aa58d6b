"""What faults make of readings: raw supplies against the engine and by hand, and what a problem may offer."""

from __future__ import annotations

import pytest

import tutor
from tutor.across.faults import NOTHING, CircuitFault, FaultKind, possible_faults, with_fault
from tutor.across.meters import MeterReading, case_of, told_apart
from tutor.across.named import across_family, posed
from tutor.across.rectified import rectified
from tutor.errors import BadFamily
from tutor.generate.problems_folder import load_module
from tutor.solution.desk import our_desk

SUPPLY = {"V_SEC": 12.0, "f": 50.0, "C": 2.2e-3, "I_L": 0.2, "V_F": 0.7}


@pytest.mark.parametrize("form", ["half-wave", "centre-tap", "bridge"])
def test_a_healthy_supply_shows_what_the_engine_works_out(form: str) -> None:
    circuit = our_desk().circuit(f"reservoir-{form}")
    found = rectified(circuit.parts, SUPPLY)
    told = {name: value for name, value in SUPPLY.items() if name != "V_F"}
    answer = tutor.solve("reservoir", {**told, "form": form}, ("V_PK", "V_RIP", "V_DC"))
    assert found is not None
    for name in ("V_PK", "V_RIP", "V_DC"):
        assert found[name] == pytest.approx(answer.values[name].value, rel=1e-9)


@pytest.mark.parametrize(
    ("form", "fault", "crest", "ripple", "frequency"),
    [  # by hand: sqrt(2)*12 V = 16.971 V; 0.2 A/(50 Hz * 2.2 mF) = 1.818 V with one top-up a cycle, half with two
        ("bridge", CircuitFault(FaultKind.OPEN, "D_1"), 16.971 - 1.4, 1.818, 50.0),
        ("bridge", CircuitFault(FaultKind.OPEN, "D_4"), 16.971 - 1.4, 1.818, 50.0),
        ("bridge", CircuitFault(FaultKind.DRIED, "C", 0.5), 16.971 - 1.4, 1.818, 100.0),
        ("bridge", CircuitFault(FaultKind.HIGH, "S", 1.25), 1.25 * 16.971 - 1.4, 0.909, 100.0),
        ("centre-tap", CircuitFault(FaultKind.OPEN, "D_2"), 16.971 - 0.7, 1.818, 50.0),
        ("half-wave", CircuitFault(FaultKind.OPEN, "D"), 0.0, 0.0, 0.0),
    ],
)
def test_a_faulty_supply_by_hand(form: str, fault: CircuitFault, crest: float, ripple: float, frequency: float) -> None:
    circuit = our_desk().circuit(f"reservoir-{form}")
    found = rectified(*with_fault(circuit.parts, SUPPLY, fault))
    assert found is not None
    assert (found["V_PK"], found["V_RIP"]) == (pytest.approx(crest, abs=1e-3), pytest.approx(ripple, abs=1e-3))
    assert found["f_RIP"] == frequency


def test_a_ripple_that_eats_the_crest_is_no_case() -> None:
    circuit = our_desk().circuit("reservoir-bridge")
    assert rectified(circuit.parts, {**SUPPLY, "C": 1e-4}) is None


@pytest.mark.parametrize(
    ("one", "other", "unit", "apart"),
    [(9.1, 9.3, "V", False), (9.1, 9.6, "V", True), (0.0, 0.1, "V", False), (0.02, 0.0208, "A", False),
     (0.02, 0.022, "A", True), (50.0, 100.0, "Hz", True)],
)  # fmt: skip
def test_a_meter_needs_a_twentieth_and_a_least_step(one: float, other: float, unit: str, apart: bool) -> None:
    assert told_apart(one, other, unit) is apart and told_apart(other, one, unit) is apart


def test_faults_follow_from_the_parts_and_nothing_is_the_first() -> None:
    desk = our_desk()
    for name in ("zener-shunt", "feedback-pair-fed", "reservoir-bridge"):
        circuit = desk.circuit(name)
        found = possible_faults(circuit)
        assert found[0] == NOTHING and len(set(found)) == len(found)
        assert {fault.part for fault in found[1:]} <= {part.name for part in circuit.parts}


def benches() -> list[object]:
    """Every bench that the family declares."""
    module = load_module(our_desk().folder.path / "across" / "find_the_fault.py", BadFamily)
    return [item for item in vars(module).values() if type(item).__name__ == "Bench"]


@pytest.mark.parametrize("size", ["left", "over"])
def test_a_size_that_has_no_words_is_the_authors_error(size: str) -> None:
    """A fault is told by words for its size, and never by those of another."""
    with pytest.raises(BadFamily, match=f"no words for {size}=0.4"):
        possible_faults(our_desk().circuit("reservoir-bridge"), **{size: 0.4})


@pytest.mark.parametrize("bench", benches(), ids=lambda item: f"{item.circuit}-{len(item.readings)}")
def test_every_bench_is_sound(bench: object) -> None:
    """Its readings are of nodes and parts that the circuit has, and the first of its values make a case with faults."""
    circuit = our_desk().circuit(bench.circuit)  # type: ignore[attr-defined]
    names = {part.name for part in circuit.parts}
    readings: tuple[MeterReading, ...] = (*bench.readings, *bench.also)  # type: ignore[attr-defined]
    assert len({reading.id for reading in readings}) == len(readings) == len({item.words for item in readings})
    for reading in readings:
        assert not reading.node or reading.node in circuit.nodes
        assert not reading.part or reading.part in names
    assert set(bench.parts) <= names  # type: ignore[attr-defined]
    middle = {name: items[len(items) // 2] for name, items in bench.values.items()}  # type: ignore[attr-defined]
    case = case_of(bench, circuit, {**circuit.defaults, **middle})  # type: ignore[arg-type]
    assert not isinstance(case, str), case
    assert len(case.shown) >= 4 and NOTHING in case.shown
    words = [case.words(fault) for fault in case.shown]
    assert len(set(words)) == len(words)


def test_a_planted_fault_is_the_one_that_is_read() -> None:
    """What a problem shows is not what a healthy circuit shows, unless nothing is wrong; 40 numbers of each level."""
    family = across_family(our_desk().folder, "find-the-fault")
    assert family.edition == 2
    met = 0
    for level in (1, 2):
        for number in range(1, 41):
            item = posed(our_desk(), f"find-the-fault:{level}:{number}")
            state = item.problem.waypoints[0].state
            read = [row.value for row in item.problem.table if row.label.startswith("read: ")]
            step = next(step for step in item.solution.steps if step.waypoint == "fault")
            healthy = item.solution.steps[0].text
            same = all(f"= {value}" in healthy for value in read)
            assert state != "nothing wrong" or same
            met += state != "nothing wrong" and not same
            assert state == "nothing wrong" or all(f"= {value}" in step.text for value in read), item.problem.name
    assert met >= 60
