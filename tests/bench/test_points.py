"""Operating points: they agree with the simulator and, where the parts are nearly ideal, with hand analysis.

Source of the expected values: ngspice 39 (Debian 12) on decks with the same curves and numbers, which the bench writes
(`bench_deck`); what the curves claim is held elsewhere (`test_curves.py`, `test_devices.py`).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.bench.against_simulator import compare_steady, device_currents, steady_lines
from tests.bench.conftest import STEADY, circuit_of, drawn, node_of, simulated
from tutor.bench.fitting import STANDING
from tutor.bench.points import bench_deck, bench_points
from tutor.bench.sweep import TEMPERATURE, read_off, sweep
from tutor.errors import OutOfRange, Unreachable
from tutor.solution.desk import our_desk
from tutor.solution.own import solve

CLOSE = 1e-5
CLOSE_NODES, CLOSE_CURRENTS = 5e-5, 1e-4  # of what counts as 10 mV and 1 µA at least


@pytest.mark.parametrize("name", STEADY)
def test_sweeps_agree_with_the_simulator(name: str, simulator: str, tmp_path: Path) -> None:
    """Every node of every point, every base, collector and zener current, in regulation and out of it; over all
    circuits some 550 points."""
    circuit, found = circuit_of(name), compare_steady(name, simulator, tmp_path)
    assert found.points == len(steady_lines(name))
    currents = {kind for kind, _ in device_currents(circuit).values()}
    assert currents <= set(found.worst) and {"nodes", "output"} & set(found.worst)
    for kind, apart in found.worst.items():
        assert apart < (CLOSE_CURRENTS if kind in currents else CLOSE_NODES if kind == "nodes" else CLOSE), kind


@pytest.mark.parametrize("name", STEADY)
def test_a_wrong_curve_is_noticed(name: str, simulator: str, tmp_path: Path) -> None:
    """A hundredth more of one value of the deck moves some node by more than is allowed."""
    circuit = circuit_of(name)
    typical = {key: float(value) for key, value in circuit.typical.items() if key not in ("A", "R_O")}
    found = bench_points(circuit, typical)
    for key in ("V_REF", "V_REG", "V_OC", "R_1", "R"):
        if key in typical:
            deck = bench_deck(circuit, {**typical, key: 1.01 * typical[key]})
            seen = simulated(simulator, [deck], tmp_path)[0]
            apart = [
                abs(float(found.values[symbol][0]) / seen[node] - 1) for symbol, node in node_of(name).items()
                if seen.get(node)
            ]  # fmt: skip
            assert max(apart) > 3 * CLOSE, key
            return
    raise AssertionError("nothing to move")


@pytest.mark.parametrize("name", STEADY)
def test_whatever_is_near_a_typical_point_settles(name: str) -> None:
    """300 sets within 40 % of it; each alone comes to the same as all together."""
    circuit = circuit_of(name)
    sets = drawn(circuit, 300, 5, 0.4)
    found = bench_points(circuit, sets)
    assert found.unsettled == 0
    # Where part values follow by hand from what is told, they are those of the first point: parts do not change.
    for place in (0, 17) if name != "regulators" else (0,):
        alone = bench_points(circuit, {key: float(value[place]) for key, value in sets.items()})
        for symbol, values in found.values.items():
            assert alone.values[symbol][0] == pytest.approx(values[place], rel=1e-6, abs=1e-12), symbol


@pytest.mark.parametrize("name", STEADY)
def test_currents_at_every_node_add_up(name: str) -> None:
    """What enters a part of three leads leaves it; and every quantity has a value."""
    circuit = circuit_of(name)
    found = bench_points(circuit, {key: float(value) for key, value in circuit.typical.items()})
    assert all(np.isfinite(values).all() for values in found.values.values())
    for part in circuit.parts:
        component = part.component
        letters = [part.symbols.get(role, "") for role, _, _ in component.flows]
        if len(letters) == 3 and all(letter in found.values for letter in letters):
            signs = [1 if enters else -1 for _, _, enters in component.flows]
            total = sum(sign * found.values[letter][0] for sign, letter in zip(signs, letters, strict=True))
            assert total == pytest.approx(0.0, abs=1e-9)


def test_with_nearly_ideal_parts_the_hand_answer_comes_out() -> None:
    """A zener without slope and a gain without end: V_O = V_Z - V_BE within what the junction's curve does."""
    told = {"V_I": 18.0, "R": 390.0, "V_Z": 10.0, "r_z": 0.01, "I_ZT": 0.02, "V_BE": 0.7, "h_FE": 1e6, "I_L": 0.2,
            "alpha_Z": 0.0}  # fmt: skip
    hand = solve("follower", {"V_I": 18.0, "R": 390.0, "V_Z": 10.0, "V_BE": 0.7, "h_FE": 1e6, "I_L": 0.2})
    found = bench_points(circuit_of("follower"), told)
    for symbol in ("V_O", "I_R", "I_Z", "P_Q"):
        assert found.values[symbol][0] == pytest.approx(hand.values[symbol].value, rel=2e-3), symbol


def test_a_junction_drifts_by_its_coefficient_and_a_zener_by_its_own() -> None:
    """S_T = alpha_Z V_Z - k_BE: 10 V times 0.05 %/K and 2 mV/K on top make 7 mV/K (worked by hand)."""
    told = {"V_I": 18.0, "R": 390.0, "V_Z": 10.0, "r_z": 2.0, "V_BE": 0.7, "h_FE": 100.0, "I_L": 0.2,
            "alpha_Z": 0.0005, "k_BE": -0.002}  # fmt: skip
    assert read_off(circuit_of("follower"), told, "V_O", TEMPERATURE) == pytest.approx(7e-3, rel=0.03)


def test_the_output_resistance_has_what_the_junction_adds() -> None:
    """(R||r_z)/(h_FE + 1) by hand; beside it stands kT/q over the load current. Source: Horowitz and Hill, ch. 2."""
    told = {"V_I": 18.0, "R": 390.0, "V_Z": 10.0, "r_z": 6.0, "I_ZT": 0.0174, "V_BE": 0.7, "h_FE": 60.0, "I_L": 0.2,
            "alpha_Z": 0.0}  # fmt: skip
    by_hand = (390 * 6 / 396) / 61 + 0.02569 / 0.2
    assert -read_off(circuit_of("follower"), told, "V_O", "I_L") == pytest.approx(by_hand, rel=0.05)


def test_a_sweep_is_its_points() -> None:
    circuit = circuit_of("zener-shunt")
    told = {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01}
    run = sweep(circuit, told, "I_L", 0.0, 0.06, 13)
    assert run.at[3] == pytest.approx(0.015)
    alone = bench_points(circuit, {**told, "I_L": 0.015})
    assert run.points.values["V_O"][3] == pytest.approx(alone.values["V_O"][0], rel=1e-9)
    assert np.all(np.diff(run.points.values["V_O"]) < 0), "more load, less output"
    with pytest.raises(OutOfRange, match="2 to 10001 points"):
        sweep(circuit, told, "I_L", 0.0, 0.06, 1)


def test_what_cannot_be_put_on_this_bench_is_said() -> None:
    with pytest.raises(Unreachable, match="matter of time"):
        bench_points(circuit_of("reservoir-bridge"), {})
    with pytest.raises(Unreachable, match="'heat-path-heat-sink' is a path of heat"):
        bench_points(circuit_of("heat-path-heat-sink"), {})
    with pytest.raises(OutOfRange, match="between -60 °C and 200 °C"):
        bench_points(circuit_of("zener-shunt"), {"V_I": 15.0}, 400.0)


def test_what_was_assumed_is_told() -> None:
    """Every part value that was not given, once; what was given is not among them."""
    found = bench_points(circuit_of("zener-shunt"), {"V_I": 15.0, "R": 220.0, "V_Z": 9.1, "I_L": 0.01})
    assert {"r_z", "I_ZT"} <= set(found.assumed) and not {"V_I", "R", "V_Z", "I_L"} & set(found.assumed)


def test_a_zener_of_which_nothing_is_told_drifts_as_its_kind_does() -> None:
    """Within 0.013 %/K of every sheet that the catalogue quotes (Fairchild BZX79-C, Crea-Tek 1N4728A)."""
    rows = [row for row in our_desk().parts["zeners"].rows if not np.isnan(float(row["alpha_Z"]))]
    assert len(rows) > 20
    for row in rows:
        told = {"V_I": 2.0 * float(row["V_Z"]), "R": 220.0, "V_Z": float(row["V_Z"]), "r_z": 5.0, "I_L": 0.0,
                "I_ZT": float(row["V_Z"]) / 220.0}  # fmt: skip
        drift = read_off(circuit_of("zener-shunt"), told, "V_O", TEMPERATURE) / told["V_Z"]
        assert drift == pytest.approx(float(row["alpha_Z"]), abs=1.3e-4), row["type"]
        assert bench_points(circuit_of("zener-shunt"), told).assumed["alpha_Z"] == pytest.approx(drift, abs=5e-5)


def test_regulators_side_by_side_have_an_output_each() -> None:
    """Numbered like their parts; the shunt's is that of the shunt regulator by itself."""
    circuit = circuit_of("regulators")
    typical = {key: float(value) for key, value in circuit.typical.items()}
    found = bench_points(circuit, typical)
    assert {"V_O_1", "V_O_2", "V_O_3"} <= set(found.values) and "V_O" not in found.values
    told = {"V_I": 20.0, "R": typical["R_FEED_1"], "V_Z": 10.0, "r_z": typical["r_z"], "I_L": typical["I_L"],
            "I_ZT": STANDING["I_ZT"], "alpha_Z": 0.0}  # fmt: skip
    alone = bench_points(circuit_of("zener-shunt"), told)
    assert found.values["V_O_1"][0] == pytest.approx(alone.values["V_O"][0], rel=1e-6)
