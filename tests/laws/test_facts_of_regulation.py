"""What every practitioner expects of raw supplies and shunt regulators, from the derived slopes of every such circuit.

Each check below is common practice, no source; what it expects stands in its docstring. The slopes are those the engine
derives from each netlist, at 200 drawn sets of sensible values about the circuit's own. A new circuit of these stages
fails here until it is told what output it has, and which current a shunt regulator steers.

Vocabulary: *to be shunted* is the part that takes what the load leaves; *unregulated* is the last region a circuit
declares, in which it takes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random

import pytest
import sympy

from tutor.circuit.circuit import Circuit, LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import SympyExpr, sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
CIRCUITS = {name: FOLDER.circuit(name) for name in FOLDER.circuit_ids()}
SEED, DRAWS = 4, 200
SOURCE_RESISTANCE = 3.0  # ohms of winding and rectifier before a shunt regulator's own resistor

# Raw supplies: the output, the voltage that follows the line, the load current, and how many diodes are in the way.
RAW = {
    "source": ("V_I", "V_OC", "I_I", 0),
    "reservoir-half-wave": ("V_DC", "V_SEC", "I_L", 1),
    "reservoir-centre-tap": ("V_DC", "V_SEC", "I_L", 1),
    "reservoir-bridge": ("V_DC", "V_SEC", "I_L", 2),
}
# Shunt regulators: the current that is shunted.
SHUNTED = {
    "zener-shunt": "I_Z",
    "compensated-shunt": "I_Z",
    "boosted-shunt": "I_Z + I_C",
    "reference-shunt": "I_K",
    "opamp-shunt": "I_C",
}
# Three of these side by side, held to them one by one in test_rectifier.py.
BESIDE = {"rectifiers"}
REAL_RAW = [name for name in RAW if name != "source"]
every_raw = pytest.mark.parametrize("name", RAW)
every_shunt = pytest.mark.parametrize("name", SHUNTED)


def test_every_circuit_of_these_stages_is_told_here() -> None:
    by_stage = {stage: {name for name, item in CIRCUITS.items() if item.stage == stage} for stage in (1, 2)}
    assert by_stage == {1: {*RAW, *BESIDE}, 2: set(SHUNTED)}


@cache
def forms(name: str, region: int, load: LoadModel) -> dict[str, SympyExpr]:
    """The closed forms of a circuit in its region of that place (0 first, -1 the unregulated one)."""
    found = CIRCUITS[name]
    return closed_forms(found, found.regions[region], load)


def expression(name: str, region: int, load: LoadModel, of: str) -> SympyExpr:
    """A quantity, or a sum of quantities, in the circuit's parameters."""
    known = forms(name, region, load)
    return sum((known[part] for part in of.split(" + ")), start=sympy.Integer(0))


def function(circuit: Circuit, load: LoadModel, expr: SympyExpr) -> Callable[[dict[str, float]], float]:
    """An expression as a function of drawn values."""
    names = parameters(circuit, load)
    run = sympy.lambdify([sympy_symbol(item) for item in names], expr, "math")
    return lambda values: float(run(*(values[item] for item in names)))


def sets(name: str, load: LoadModel) -> Iterator[dict[str, float]]:
    """Sensible values: each part from half to one and a half times the circuit's own, the load lighter or heavier."""
    circuit, source = CIRCUITS[name], Random(f"{name} {SEED}")
    output = RAW[name][0] if name in RAW else "V_O"
    current = RAW[name][2] if name in RAW else "I_L"
    own = circuit.typical
    volts = function(circuit, LoadModel.SINK, expression(name, 0, LoadModel.SINK, output))(dict(own))
    for _ in range(DRAWS):
        values = {item: own[item] * source.uniform(0.5, 1.5) for item in circuit.constants}
        values[current] = own[current] * source.uniform(0.2, 1.5)
        values["R_L"] = volts / values[current]
        yield values


def slopes(name: str, load: LoadModel, of: str, by: str, region: int = 0) -> list[float]:
    """d(of)/d(by) at every drawn set, everything else held."""
    slope = sympy.diff(expression(name, region, load, of), sympy_symbol(by))
    run = function(CIRCUITS[name], load, slope)
    return [run(values) for values in sets(name, load)]


@every_raw
def test_an_unregulated_output_falls_when_the_load_resistance_falls(name: str) -> None:
    """Common practice, no source: the heavier the load (more current, less resistance), the lower the output."""
    output, _, current, _ = RAW[name]
    assert min(slopes(name, LoadModel.RESISTOR, output, "R_L")) > 0
    assert max(slopes(name, LoadModel.SINK, output, current)) < 0


@every_raw
def test_an_unregulated_output_falls_when_the_line_falls(name: str) -> None:
    """Common practice, no source: with either kind of load, and its lowest moment with it."""
    output, line, _, _ = RAW[name]
    for load in LoadModel:
        assert min(slopes(name, load, output, line)) > 0
        if name in REAL_RAW:
            assert min(slopes(name, load, "V_TROUGH", line)) > 0


@pytest.mark.parametrize("name", REAL_RAW)
def test_a_line_of_240_volts_that_falls_by_10_takes_the_crest_with_it(name: str) -> None:
    """Common practice, no source: the crest falls by the same 4.2 %, before drops; after them by rather more."""
    for load in LoadModel:
        for crest, most in (("V_SPK", None), ("V_PK", 0.5)):
            run = function(CIRCUITS[name], load, expression(name, 0, load, crest))
            for values in sets(name, load):
                fallen = 1 - run({**values, "V_SEC": values["V_SEC"] * 230 / 240}) / run(values)
                if most is None:
                    assert round(100 * fallen, 1) == 4.2 and fallen == pytest.approx(10 / 240, rel=1e-12)
                else:
                    assert 10 / 240 < fallen < most
    primary = function(CIRCUITS[name], LoadModel.SINK, expression(name, 0, LoadModel.SINK, "V_PRI"))
    values = next(sets(name, LoadModel.SINK))
    assert primary({**values, "V_SEC": values["V_SEC"] * 230 / 240}) == pytest.approx(primary(values) * 230 / 240)


@pytest.mark.parametrize("name", REAL_RAW)
def test_an_unregulated_output_moves_with_temperature_through_its_diodes(name: str) -> None:
    """Common practice, no source: warm junctions drop less, about 2 mV a kelvin, so the output rises by that for each.

    The diodes in the way are one, one and two; with a current drawn it is exactly so many drops.
    """
    output, _, _, diodes = RAW[name]
    assert slopes(name, LoadModel.SINK, output, "V_F") == pytest.approx([-diodes] * DRAWS, rel=1e-9)
    assert max(slopes(name, LoadModel.RESISTOR, output, "V_F")) < 0
    warmer = -0.002 * 40  # a forward drop after 40 K more
    assert slopes(name, LoadModel.SINK, output, "V_F")[0] * warmer == pytest.approx(diodes * 0.08)


@every_shunt
def test_a_shunt_regulator_takes_more_when_the_load_takes_less(name: str) -> None:
    """Common practice, no source: what the load leaves is shunted, nearly all of it."""
    taken = slopes(name, LoadModel.SINK, SHUNTED[name], "I_L")
    assert max(taken) < -0.9 and min(taken) >= -1 - 1e-12
    assert min(slopes(name, LoadModel.RESISTOR, SHUNTED[name], "R_L")) > 0


@every_shunt
def test_behind_a_source_resistance_its_current_stays_nearly_steady(name: str) -> None:
    """Common practice, no source: the source's current, and with it the drop across R_S, hardly feels the load.

    R_S is in series with R; unregulated, all of a change of load current goes through both.
    """
    circuit, load = CIRCUITS[name], LoadModel.SINK
    behind = {sympy_symbol("R"): sympy_symbol("R") + SOURCE_RESISTANCE}
    steady, whole = (
        function(circuit, load, sympy.diff(expression(name, region, load, "I_R").subs(behind), sympy_symbol("I_L")))
        for region in (0, -1)
    )
    for values in sets(name, load):
        drop, unregulated = SOURCE_RESISTANCE * steady(values), SOURCE_RESISTANCE * whole(values)
        assert -1e-12 <= drop <= 0.1 * unregulated and unregulated >= 0.9 * SOURCE_RESISTANCE


@every_shunt
@pytest.mark.parametrize("load", list(LoadModel), ids=lambda load: load.value)
def test_a_shunt_regulator_lowers_an_output_and_never_raises_it(name: str, load: LoadModel) -> None:
    """Common practice, no source: while it takes current the output is below the unregulated one, so that one must do.

    To hold it above, the current would have to come out of the part that only takes; both are met among the draws.
    """
    circuit = CIRCUITS[name]
    held, without = (function(circuit, load, expression(name, region, load, "V_O")) for region in (0, -1))
    taken = function(circuit, load, expression(name, 0, load, SHUNTED[name]))
    met = {True: 0, False: 0}
    for values in sets(name, load):
        for line in (1.0, 0.7):
            there = {**values, "V_I": values["V_I"] * line}
            takes = taken(there) > 0
            met[takes] += 1
            assert (held(there) < without(there)) is takes, there
            assert without(there) <= there["V_I"]
    assert min(met.values()) > 5, met
