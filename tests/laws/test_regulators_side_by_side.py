"""Three regulators side by side say what each says alone: the same currents, powers and output resistances.

The single circuits are held to the trade and to the simulator by tests of their own; here one is laid beside the other.
"""

from __future__ import annotations

import pytest

import tutor
from tutor.circuit.circuit import LoadModel
from tutor.laws.derive import derive
from tutor.quantities.expression import evaluate
from tutor.solution.desk import our_desk

SETS = (
    {"V_I": 20.0, "V_O": 10.0, "R_FEED_1": 82.0, "R_FEED_2": 680.0, "R_FEED_3": 3300.0, "R_1": 4700.0, "R_2": 4700.0,
     "V_BE": 0.7, "h_FE": 50.0, "r_z": 7.0, "A": 500.0, "R_O": 75.0, "V_DROP": 2.0, "I_L": 0.08},
    {"V_I": 12.0, "V_O": 5.0, "R_FEED_1": 24.0, "R_FEED_2": 430.0, "R_FEED_3": 1800.0, "R_1": 2200.0, "R_2": 3300.0,
     "V_BE": 0.6, "h_FE": 120.0, "r_z": 12.0, "A": 2000.0, "R_O": 100.0, "V_DROP": 1.5, "I_L": 0.25},
)  # fmt: skip


def alone(values: dict[str, float]) -> dict[int, tuple[str, dict[str, float]]]:
    """Each of the three as a circuit of its own, with the data that are its."""
    line = {name: values[name] for name in ("V_I", "I_L")}
    transistor = {name: values[name] for name in ("V_BE", "h_FE")}
    share = values["R_2"] / (values["R_1"] + values["R_2"])
    divider = {name: values[name] for name in ("R_1", "R_2", "V_DROP")}
    return {
        1: ("zener-shunt", {**line, "R": values["R_FEED_1"], "V_Z": values["V_O"]}),
        2: ("follower", {**line, **transistor, "R": values["R_FEED_2"], "V_Z": values["V_O"] + values["V_BE"]}),
        3: (
            "opamp-series-zener",
            {**line, **transistor, **divider, "R": values["R_FEED_3"], "V_Z": values["V_O"] * share},
        ),
    }


@pytest.mark.parametrize("values", SETS, ids=("10 V", "5 V"))
@pytest.mark.parametrize("regulator", (1, 2, 3))
def test_each_is_the_circuit_that_it_is_alone(regulator: int, values: dict[str, float]) -> None:
    together = tutor.solve("regulators", values)
    stem, given = alone(values)[regulator]
    form = {"form": "zener"} if stem.startswith("opamp-series") else {}
    single = tutor.solve(stem.removesuffix("-zener") if form else stem, {**given, **form})
    power = single.value("P_I").value - single.value("P_O").value
    expected = {name: single.value(name).value for name in ("I_I", "P_I", "eta", "I_Z", "P_Z")}
    for name, value in {**expected, "P_D": power}.items():
        assert together.value(f"{name}_{regulator}").value == pytest.approx(value, rel=1e-9), name
    assert single.value("V_O").value == pytest.approx(values["V_O"], rel=1e-9)


# The output resistance of each: of which circuit's law, under which convention, and how the letters go over.
STIFFNESS = {
    1: ("zener-shunt", {}, {"R": "R_FEED_1"}),
    2: ("follower", {}, {"R": "R_FEED_2"}),
    3: ("opamp-series-zener", {"amplifier": "finite"}, {}),
}


@pytest.mark.parametrize("values", SETS, ids=("10 V", "5 V"))
@pytest.mark.parametrize("regulator", STIFFNESS)
def test_each_is_as_stiff_as_it_is_alone(regulator: int, values: dict[str, float]) -> None:
    """The slopes of the single circuits are derived from their closed forms; here they are what is laid down."""
    stem, conventions, letters = STIFFNESS[regulator]
    circuit = our_desk().circuit(stem)
    law = derive(circuit, circuit.regions[0], LoadModel.SINK, conventions=conventions).by_id("slope.R_OUT")
    put = {**values, **{name: values[ours] for name, ours in letters.items()}}
    together = tutor.solve("regulators", values).value(f"R_OUT_{regulator}").value
    assert together == pytest.approx(evaluate(law.equation.rhs, put), rel=1e-12)
