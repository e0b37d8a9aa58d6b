"""The frozen Circuit: what a declaration must hold together, and what every circuit of the repository declares."""

from __future__ import annotations

from pathlib import Path

import pytest

from tutor.circuit.circuit import GROUND, Circuit, LoadModel, NodeWord, Region, circuit
from tutor.circuit.placement import Drawing
from tutor.errors import BadCircuit
from tutor.generate.problems_folder import ProblemsFolder
from tutor.plan.regions import resolve
from tutor.quantities.symbols import is_symbol

FOLDER = ProblemsFolder(Path(__file__).parents[2] / "problems")
IDS = FOLDER.circuit_ids()
NETLIST = """
    V_I  source    in   gnd
    R    resistor  in   out
    Z    zener     out  gnd
    L    load      out  gnd
"""
NODES = {"in": NodeWord("V_I", "the input node"), "out": NodeWord("V_O", "the output node")}
BREAKDOWN = Region("breakdown", "the zener is in breakdown", {"Z": "breakdown"})


def declared(
    *, netlist: str = NETLIST, nodes: dict[str, NodeWord] = NODES, regions: tuple[Region, ...] = (BREAKDOWN,)
) -> Circuit:
    """A small shunt regulator with one thing changed."""
    return circuit(
        id="bench", title="t", stage=2, purpose="p", netlist=netlist, nodes=nodes, regions=regions,
        drawing=Drawing("t", (), (), (), ()), report=(), typical={}, constants=("V_I", "R", "V_Z0", "r_z"),
        preferred=(),
    )  # fmt: skip


def test_a_sound_declaration_reads():
    """The parts come from the netlist, the rest as declared."""
    found = declared()
    assert [part.name for part in found.parts] == ["V_I", "R", "Z", "L"]
    assert found.part("Z").symbols["current"] == "I_Z"
    assert found.region("breakdown") is BREAKDOWN


UNSOUND = [
    (
        {"nodes": {"in": NODES["in"]}},
        "circuit 'bench': node 'out' has no words; add it to nodes=",
    ),
    (
        {"nodes": {**NODES, "tap": NodeWord("V_B", "the tap")}},
        "circuit 'bench': nodes= names 'tap', which no part touches",
    ),
    (
        {"regions": (Region("cut", "cut", {"Z": "saturated"}),)},
        "circuit 'bench': region 'cut' puts 'Z' into 'saturated', which it lacks",
    ),
    (
        {"regions": (Region("cut", "cut", {"Q": "off"}),)},
        "circuit 'bench': region 'cut' puts 'Q' into 'off', which it lacks",
    ),
    (
        {"netlist": NETLIST + "\n    X valve out gnd"},
        "circuit 'bench', netlist line 7, column 7: there is no part kind 'valve'",
    ),
]


@pytest.mark.parametrize(("changed", "sentence"), UNSOUND, ids=[text.split(": ", 1)[1][:30] for _, text in UNSOUND])
def test_an_unsound_declaration_is_named(changed: dict, sentence: str):
    """Circuit, field and what was got, in one sentence."""
    with pytest.raises(BadCircuit) as caught:
        declared(**changed)
    assert caught.value.sentence.startswith(sentence)


def test_the_first_value_of_a_convention_is_ours():
    """`convention_values` keeps the declared order: what comes first is used unless another is asked for."""
    assert FOLDER.circuit("follower").convention_values() == {
        "base-current": ("exact", "load-over-h_FE", "neglected"),
    }
    assert FOLDER.circuit("zener-shunt").convention_values() == {
        "load-slope": ("thevenin", "zener"),
        "zener-ripple": ("loaded", "unloaded"),
    }
    assert FOLDER.circuit("source").convention_values() == {"load-regulation": ("full-load", "no-load", "nominal")}


def test_ends_are_told_in_the_words_of_the_trade():
    """The low end of R_L is the fullest load; what has no words of its own is told by its letter."""
    shunt = FOLDER.circuit("zener-shunt")
    assert shunt.end_words("V_I", greatest=True) == "the highest line"
    assert shunt.end_words("R_L", greatest=False) == "the fullest load"
    assert shunt.end_words("V_Z", greatest=True) == "the greatest $V_Z$"


@pytest.mark.parametrize("name", IDS)
def test_every_name_a_circuit_speaks_of_is_a_letter_symbol(name: str):
    """Givens, report, readings, conventions' watched quantities and node voltages stand in the table."""
    found = FOLDER.circuit(name)
    spoken = [*found.constants, *found.preferred, *found.report, *found.typical, *found.defaults]
    spoken += [*found.readings, *found.ends, *found.derivation, *(slope.symbol for slope in found.slopes)]
    spoken += [word.symbol for word in found.nodes.values() if word.symbol]
    spoken += [found.root_preference[0]] if found.root_preference else []
    spoken += [item for variant in found.variants for item in (variant.watches, variant.against) if item]
    assert [item for item in spoken if not is_symbol(item)] == []
    assert GROUND not in found.nodes
    assert all(is_symbol(part.symbols[role]) for part in found.parts for role in part.symbols if part.symbols[role])


@pytest.mark.parametrize("name", IDS)
def test_every_region_puts_every_part_that_has_states_into_one(name: str):
    """No part's state is left open in a region, and no two regions are the same."""
    found = FOLDER.circuit(name)
    stateful = {part.name for part in found.parts if part.component.regions}
    assert all(set(region.parts) == stateful for region in found.regions)
    assert len({tuple(sorted(region.parts.items())) for region in found.regions}) == len(found.regions)


@pytest.mark.parametrize("name", IDS)
def test_the_typical_values_lie_in_the_first_region(name: str):
    """Derived signs are read off there, so the usual region must be the one that holds."""
    found = FOLDER.circuit(name)
    assert resolve(found, found.typical, ()).region == found.regions[0]


@pytest.mark.parametrize("name", IDS)
def test_what_a_convention_removes_is_a_law_or_a_composite(name: str):
    """Each variant puts back an equation for what it takes out, under a name of its own or the same."""
    found = FOLDER.circuit(name)
    for variant in found.variants:
        assert bool(variant.removes) == bool(variant.adds)
        assert variant.limit == 0.02, "2 % of the quantity unless a circuit says why"
        assert variant.words, f"{name}: a statement must be able to say which convention it uses"


def test_a_load_holds_its_resistance_or_its_current():
    """The two load models, and no third."""
    assert {model.value for model in LoadModel} == {"resistor", "sink"}
