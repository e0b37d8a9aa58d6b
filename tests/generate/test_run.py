"""Stages run on numbers: the worst corner found by trying them all, in batches as one by one."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.generate.compile import compile_level
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.run import RunnableStage, base_values, run, runnable
from tutor.generate.stage import Stage

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")


def stages(family_id: str, level: int) -> dict[str, RunnableStage]:
    """The stages of a level's asks by the key each result goes under."""
    family = FOLDER.family(family_id)
    circuit = FOLDER.circuit(family.circuit)
    plan = compile_level(family, circuit, level, (family.levels[level - 1].regions or (circuit.regions[0].id,))[0])
    return {key: runnable(stage) for key, stage in zip(plan.keys, plan.asks, strict=True) if isinstance(stage, Stage)}


RESISTOR, SLOPE, FOLLOWER = stages("zener-resistor", 2), stages("zener-slope", 3), stages("follower-design", 2)


def env(**values: float | list[float]) -> dict[str, np.ndarray]:
    """An environment of one problem, or of several where lists are given."""
    size = max(len(value) if isinstance(value, list) else 1 for value in values.values())
    return {name: np.broadcast_to(np.array(value, dtype=np.float64), size).copy() for name, value in values.items()}


GATE = {
    "V_I_MIN": 14.0, "V_I_MAX": 18.0, "V_Z": 9.1, "I_L_MIN": 0.005, "I_L_MAX": 0.03, "I_ZK": 0.005, "P_ZM": 1.0,
    "tol_R": 0.05, "I_ZM": 1 / 9.1, "R": 130.0,
}  # fmt: skip


def test_a_bound_is_taken_at_the_starving_corner():
    """R_MAX at lowest line and fullest load: (14 − 9.1)/(30 mA + 5 mA) = 140 Ω; R_MIN at the opposite one.

    R_MIN = (18 − 9.1)/(5 mA + 109.9 mA) = 77.46 Ω.
    """
    found = run(RESISTOR["R_MAX"], env(**GATE))
    assert found.value[0] == pytest.approx(140.0)
    assert {base: int(end[0]) for base, end in found.ends.items()} == {"V_I": 0, "I_L": 1}
    least = run(RESISTOR["R_MIN"], env(**GATE))
    assert least.value[0] == pytest.approx(8.9 / (0.005 + 1 / 9.1))
    assert {base: int(end[0]) for base, end in least.ends.items()} == {"V_I": 1, "I_L": 0}


def test_an_extreme_keeps_the_values_behind_it():
    """P_Z_MAX at the highest line and the lightest load; the bases and steps at that corner are kept for the solution.

    I_Z = 8.9/130 − 5 mA = 63.46 mA, P_Z = 577.5 mW.
    """
    found = run(RESISTOR["P_Z_MAX"], env(**GATE))
    assert found.value[0] == pytest.approx(9.1 * (8.9 / 130 - 0.005))
    assert (found.bases["V_I"][0], found.bases["I_L"][0]) == (18.0, 0.005)
    assert found.steps["I_Z"][0] == pytest.approx(8.9 / 130 - 0.005)


def test_what_does_not_range_stands_as_given():
    """The fixed bases come from their keys: I_Z at its limit I_ZK, V_Z as it is."""
    fixed = base_values(RESISTOR["R_MAX"], env(**GATE))
    assert {name: float(value[0]) for name, value in fixed.items()} == {"V_Z": 9.1, "I_Z": 0.005}


lines = st.floats(8, 30)


@settings(deadline=None, max_examples=60)
@given(
    lines, st.floats(0.1, 6), st.floats(2.4, 7), st.floats(1e-3, 0.02), st.floats(0, 0.05), st.floats(50, 900),
    st.floats(0, 40),
)  # fmt: skip
def test_the_worst_corner_is_the_worst_of_a_grid(
    low: float, spread: float, zener: float, light: float, more: float, ohms: float, lean: float
):
    """For any box the least and greatest output found are those of a grid over it, ends included.

    V_O = (V_Z0 R + V_I r_z − I_L R r_z)/(R + r_z), from the superposition of the three sources.
    """
    values = env(
        V_I_MIN=low, V_I_MAX=low + spread, I_L_MIN=light, I_L_MAX=light + more, V_Z0=zener, r_z=lean, R=ohms,
        V_Z_1=1.0, I_Z_1=1.0, V_Z_2=1.0, I_Z_2=1.0, R_OUT=1.0, DI_L=1.0, DV_O=1.0, I_ZK=1.0, P_ZM=1.0,
    )  # fmt: skip
    grid = [
        (zener * ohms + line * lean - load * ohms * lean) / (ohms + lean)
        for line, load in product(np.linspace(low, low + spread, 5), np.linspace(light, light + more, 5))
    ]
    assert run(SLOPE["V_O_MIN"], values).value[0] == pytest.approx(min(grid), rel=1e-9, abs=1e-9)
    assert run(SLOPE["V_O_MAX"], values).value[0] == pytest.approx(max(grid), rel=1e-9, abs=1e-9)


def test_three_things_may_range_at_once():
    """The follower's R_MAX over line, load and gain: lowest line, fullest load, lowest gain.

    (15 − 9.1)/(0.5/51 + 4 mA) = 427.4 Ω.
    """
    found = run(FOLLOWER["R_MAX"], env(
        V_I_MIN=15.0, V_I_MAX=18.0, V_Z=9.1, V_BE=0.7, I_L_MIN=0.0, I_L_MAX=0.5, h_FE_MIN=50.0, h_FE_MAX=200.0,
        I_ZK=0.004, P_ZM=1.0, tol_R=0.05,
    ))  # fmt: skip
    assert found.value[0] == pytest.approx(5.9 / (0.5 / 51 + 0.004))
    assert {base: int(end[0]) for base, end in found.ends.items()} == {"V_I": 0, "I_L": 1, "h_FE": 0}


def test_a_batch_of_a_thousand_is_a_thousand_batches_of_one():
    """To the bit, and each with a corner of its own."""
    source = np.random.default_rng(5)  # any thousand boxes will do
    values = {
        "V_I_MIN": source.uniform(12, 16, 1000), "V_Z": source.uniform(5, 10, 1000),
        "I_L_MAX": source.uniform(0.01, 0.05, 1000), "I_ZK": np.full(1000, 0.005), "I_L_MIN": np.full(1000, 0.002),
    }  # fmt: skip
    values["V_I_MAX"] = values["V_I_MIN"] + 3
    together = run(RESISTOR["R_MAX"], values)
    for place in (0, 1, 499, 999):
        alone = run(RESISTOR["R_MAX"], {name: array[place : place + 1] for name, array in values.items()})
        assert float(alone.value[0]) == float(together.value[place])


def test_what_has_no_value_at_a_corner_gives_way_to_one_that_has():
    """At an unloaded corner R_L-like quotients are infinite or nan; a corner with a number is preferred to nan."""
    values = env(**{**GATE, "I_L_MIN": 0.0, "I_ZK": 0.0})
    found = run(
        RESISTOR["R_MAX"], values
    )  # at no load and no knee current the bound is infinite there, not at full load
    assert found.value[0] == pytest.approx(4.9 / 0.03)
