"""What every practitioner expects of series regulators, from the derived slopes of every such circuit.

Each check of `every_series` is common practice, no source; what it expects stands in its docstring. A new circuit of
stage 3 fails here until it is told which drop it has, or that it has none.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from random import Random

import pytest
import sympy

from tutor.circuit.circuit import LoadModel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.algebra import SympyExpr, sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
CIRCUITS = {name: FOLDER.circuit(name) for name in FOLDER.circuit_ids() if FOLDER.circuit(name).stage == 3}
SEED, DRAWS = 6, 200
SOURCE_RESISTANCE = 1.0  # ohms of winding and rectifier before a series regulator

# Series regulators: the voltage that the regulator itself takes up between supply and output.
DROP = {
    "follower": "V_CE",
    "darlington": "V_CE_2",
    "current-limit": "V_CE_1",
    "foldback": "V_CE_1",
    "feedback-pair-unfed": "V_CE_1",
    "feedback-pair-fed": "V_CE_1",
    "opamp-series-reference": "V_CE",
    "opamp-series-zener": "V_CE",
    "opamp-series-direct": "V_I - V_O",
    "three-terminal-adjustable": "V_I - V_O",
    "three-terminal-fixed": "V_I - V_O",
    "three-terminal-raised": "V_I - V_O",
    "heat-path-regulator": "V_I - V_O",
    "three-terminal-boosted": "V_I - V_O",
}
NO_REGULATOR = {"heat-path-heat-sink", "heat-path-free-air", "three-terminal-current-source"}  # of a voltage
BEHIND_ITS_OWN_SOURCE = {"heat-path-raw-supply"}  # the line is no given of it
every_series = pytest.mark.parametrize("name", DROP)


def test_every_circuit_of_this_stage_is_told_here() -> None:
    assert set(CIRCUITS) == {*DROP, *NO_REGULATOR, *BEHIND_ITS_OWN_SOURCE}


@cache
def forms(name: str, load: LoadModel) -> dict[str, SympyExpr]:
    """The closed forms of a circuit while it regulates, its drop among them."""
    found = closed_forms(CIRCUITS[name], CIRCUITS[name].regions[0], load)
    return {**found, "V_I - V_O": found["V_I"] - found["V_O"]} if "V_O" in found else found


def sets(name: str, load: LoadModel) -> Iterator[dict[str, float]]:
    """Sensible values: each part from 0.7 to 1.3 times the circuit's own; the load from a fifth of its own upwards."""
    circuit, source = CIRCUITS[name], Random(f"{name} {SEED}")
    own = dict(circuit.typical)
    if "R_L" not in own:
        names = parameters(circuit, LoadModel.SINK)
        output = sympy.lambdify([sympy_symbol(item) for item in names], forms(name, LoadModel.SINK)["V_O"], "math")
        own["R_L"] = output(*(own[item] for item in names)) / own["I_L"]
    for _ in range(DRAWS):
        values = {item: own[item] * source.uniform(0.7, 1.3) for item in parameters(circuit, load)}
        share = source.uniform(0.2, 1.2)
        for item, factor in (("I_L", share), ("R_L", 1 / share)):
            if item in values:
                values[item] = own[item] * factor
        yield values


def slopes(name: str, load: LoadModel, of: str, by: str) -> list[float]:
    """d(of)/d(by) at every drawn set, everything else held."""
    names = parameters(CIRCUITS[name], load)
    slope = sympy.diff(forms(name, load)[of], sympy_symbol(by))
    run = sympy.lambdify([sympy_symbol(item) for item in names], slope, "math")
    return [float(run(*(values[item] for item in names))) for values in sets(name, load)]


@every_series
@pytest.mark.parametrize("load", list(LoadModel), ids=lambda load: load.value)
def test_a_series_regulator_lets_its_drop_follow_the_line(name: str, load: LoadModel) -> None:
    """Common practice, no source: a line that would make the output low makes the drop fall, one that would make it
    high makes it rise, by nearly all of the change; the output keeps what little is left."""
    drop, output = slopes(name, load, DROP[name], "V_I"), slopes(name, load, "V_O", "V_I")
    assert min(drop) > 0.8 and max(drop) < 1 + 1e-12
    assert min(output) > -1e-12 and max(output) < 0.2


@every_series
def test_behind_a_source_resistance_its_drop_gives_back_what_the_load_takes(name: str) -> None:
    """Common practice, no source: a heavier load pulls the raw supply down by R_S for each ampere, and with it the
    output, would the drop not fall; it falls by nearly as much, and rises again when the load goes.

    The supply stands at V_OC less R_S times its own current.
    """
    names = (*parameters(CIRCUITS[name], LoadModel.SINK),)
    known = forms(name, LoadModel.SINK)
    line, load, resistance = sympy_symbol("V_I"), sympy_symbol("I_L"), sympy.Float(SOURCE_RESISTANCE)
    drawn, drop = known["I_I"], known[DROP[name]]
    # V_I = V_OC - R_S I_I(V_I, I_L): the total slope of V_I by the load, then that of the drop.
    falls = -resistance * sympy.diff(drawn, load) / (1 + resistance * sympy.diff(drawn, line))
    total = sympy.diff(drop, load) + sympy.diff(drop, line) * falls
    own = sympy.diff(drop, load)
    run = sympy.lambdify([sympy_symbol(item) for item in names], [falls, total, own], "math")
    for values in sets(name, LoadModel.SINK):
        fallen, moved, kept = run(*(values[item] for item in names))
        assert fallen < -0.8 * SOURCE_RESISTANCE
        assert moved < kept and moved - kept < 0.8 * fallen, values


@every_series
def test_a_series_regulator_draws_what_the_load_draws(name: str) -> None:
    """Common practice, no source: what comes through is the load's current; of a change nearly all is the supply's."""
    drawn = slopes(name, LoadModel.SINK, "I_I", "I_L")
    assert min(drawn) > 0.9 and max(drawn) < 1 + 1e-12


def test_a_pair_divides_the_load_current_by_both_gains() -> None:
    """Of a change of load current the zener feels one part in (h_FE_1 + 1)(h_FE_2 + 1): common practice, no source."""
    known = forms("darlington", LoadModel.SINK)
    load, slope = sympy_symbol("I_L"), sympy_symbol("r_z")
    gains = (sympy_symbol("h_FE_1") + 1) * (sympy_symbol("h_FE_2") + 1)
    assert sympy.cancel(sympy.diff(known["I_Z"].subs(slope, 0), load) * gains + 1) == 0
    follower = forms("follower", LoadModel.SINK)
    single = sympy.diff(follower["V_O"], load).subs(sympy_symbol("h_FE"), gains - 1)
    assert sympy.cancel(sympy.diff(known["V_O"], load) - single) == 0


def test_a_pair_stands_two_junctions_below_its_zener() -> None:
    """With a straight zener each junction lowers the output by all of itself: common practice, no source."""
    straight = {sympy_symbol("r_z"): 0}
    output = forms("darlington", LoadModel.SINK)["V_O"].subs(straight)
    for name, expected in (("V_BE_1", -1), ("V_BE_2", -1), ("V_Z0", 1), ("I_L", 0), ("V_I", 0)):
        assert sympy.cancel(sympy.diff(output, sympy_symbol(name)) - expected) == 0, name


def test_a_limit_begins_where_the_sense_resistor_has_a_junction() -> None:
    """I_LIM is the load at which the limiter's own inequality meets its end, whatever the other parts are."""
    known = forms("current-limit", LoadModel.SINK)
    at = {sympy_symbol("I_L"): known["I_LIM"]}
    assert sympy.cancel((known["V_E"] - known["V_O"]).subs(at) - sympy_symbol("V_BE_2")) == 0


def test_a_foldback_knee_is_where_the_tap_has_a_junction() -> None:
    """At I_KNEE the tap stands V_BE_2 above the output, and that output is V_KNEE."""
    known = forms("foldback", LoadModel.SINK)
    at = {sympy_symbol("I_L"): known["I_KNEE"]}
    assert sympy.cancel((known["V_TAP"] - known["V_O"]).subs(at) - sympy_symbol("V_BE_2")) == 0
    assert sympy.cancel(known["V_O"].subs(at) - known["V_KNEE"]) == 0


def test_a_foldback_short_is_what_a_limiter_without_currents_of_its_own_lets_through() -> None:
    """With a gain without end the sense resistor carries I_SC at no output: common practice, no source."""
    circuit = CIRCUITS["foldback"]
    known = closed_forms(circuit, circuit.region("limiting"), LoadModel.SINK)
    names = {str(item) for item in known["I_SENSE"].free_symbols}
    values = {name: circuit.typical[name] for name in names if name != "I_L"} | {"h_FE_2": 1e9}
    held = {sympy_symbol(name): value for name, value in values.items()}
    load = sympy_symbol("I_L")
    current = sympy.solve(known["V_O"].subs(held), load)[0]
    assert float(known["I_SENSE"].subs(held).subs(load, current)) == pytest.approx(
        float(known["I_SC"].subs({sympy_symbol(name): value for name, value in circuit.typical.items()})), rel=1e-6
    )


def test_a_limit_of_a_hot_limiter_is_lower() -> None:
    """V_BE falls by about 2 mV a kelvin, and the limit with it, by the same share: common practice, no source."""
    for name, limit in (("current-limit", "I_LIM"), ("foldback", "I_SC")):
        junction = sympy_symbol("V_BE_2")
        share = sympy.cancel(sympy.diff(forms(name, LoadModel.SINK)[limit], junction) * junction)
        assert sympy.cancel(share - forms(name, LoadModel.SINK)[limit]) == 0


def test_foldback_spares_the_pass_transistor_in_a_short() -> None:
    """I_SC is below I_KNEE, and without the divider it would be I_LIM, which is not: common practice, no source."""
    for values in sets("foldback", LoadModel.SINK):
        at = {sympy_symbol(name): value for name, value in values.items()}
        known = forms("foldback", LoadModel.SINK)
        assert float(known["I_SC"].subs(at)) < 0.75 * float(known["I_KNEE"].subs(at))


def test_a_foldback_limit_gives_more_the_higher_the_output() -> None:
    """A load that holds its current cannot stay on the way down: with a little less output it is given less still, and
    so it latches (common practice, no source). Before the knee a heavier load lowers the output instead."""
    circuit = CIRCUITS["foldback"]
    for region, sign in (("limiting", 1), ("regulating", -1)):
        known = closed_forms(circuit, circuit.region(region), LoadModel.SINK)
        slope = sympy.diff(known["V_O"], sympy_symbol("I_L"))
        at = {sympy_symbol(name): value for name, value in circuit.typical.items()}
        assert float(slope.subs(at)) * sign > 0, region


def test_heat_runs_downhill_and_a_cooler_sink_cools_all_before_it() -> None:
    """Every node rises with heat and ambient; the heat-sink warms all of them, the case resistance the junction alone:
    common practice, no source."""
    known = forms("heat-path-heat-sink", LoadModel.SINK)
    for of, by, expected in (
        ("T_J", "T_A", 1), ("T_S", "T_A", 1), ("T_S", "R_thJC", 0), ("T_C", "R_thJC", 0), ("T_S", "R_thCS", 0),
    ):
        assert sympy.cancel(sympy.diff(known[of], sympy_symbol(by)) - expected) == 0, (of, by)
    for of in ("T_J", "T_C", "T_S"):
        assert sympy.cancel(sympy.diff(known[of], sympy_symbol("R_thSA")) - sympy_symbol("P_D")) == 0


def test_behind_a_raw_supply_the_heat_has_its_summit_half_way_down() -> None:
    """The regulator takes up what R_S leaves, so its heat rises and falls again with the load: most where R_S loses
    half of V_OC - V_O, as half the voltage goes with half the greatest current. Known as power transfer at matched
    load: common practice, no source."""
    known = forms("heat-path-raw-supply", LoadModel.SINK)
    load, free = sympy_symbol("I_L"), {sympy_symbol("I_Q"): 0}
    heat = known["P_D"].subs(free)
    summit = (sympy_symbol("V_OC") - sympy_symbol("V_REG")) / (2 * sympy_symbol("R_S"))
    assert sympy.cancel(sympy.diff(heat, load).subs(load, summit)) == 0
    assert sympy.cancel(sympy.diff(heat, load, 2) + 2 * sympy_symbol("R_S")) == 0
    drop = known["V_I"] - known["V_O"]
    assert sympy.cancel(sympy.diff(drop, load) + sympy_symbol("R_S")) == 0
    assert sympy.cancel(sympy.diff(drop, sympy_symbol("V_OC")) - 1) == 0
