"""Netlist text: the parts it gives, and a sentence with line and column for each mistake."""

from __future__ import annotations

import re

import pytest

from tutor.circuit.component import PartKind
from tutor.circuit.components import COMPONENTS
from tutor.circuit.netlist import read_netlist
from tutor.errors import BadCircuit
from tutor.quantities.symbols import SYMBOLS

SHUNT = """
    # the textbook shunt regulator
    V_I  source    in   gnd
    R    resistor  in   out
    Z    zener     out  gnd

    L    load      out  gnd
"""


def test_a_line_is_a_part_and_remarks_and_blank_lines_are_none():
    """Name, kind and nodes in the order written; `#` starts a remark."""
    parts = read_netlist(SHUNT, "circuit 'x'")
    assert [(part.name, part.kind, part.nodes) for part in parts] == [
        ("V_I", PartKind.SOURCE, ("in", "gnd")),
        ("R", PartKind.RESISTOR, ("in", "out")),
        ("Z", PartKind.ZENER, ("out", "gnd")),
        ("L", PartKind.LOAD, ("out", "gnd")),
    ]
    assert parts[1].terminals == {"a": "in", "b": "out"}


def test_a_part_brings_the_symbols_of_its_kind():
    """A resistor named R carries I_R, drops V_R, dissipates P_R; an NPN's terminals stand in the order c, b, e."""
    resistor, pass_device = read_netlist("R resistor a b\nQ npn in base out", "circuit 'x'")
    assert dict(resistor.symbols) == {"resistance": "R", "current": "I_R", "voltage": "V_R", "power": "P_R"}
    assert pass_device.terminals == {"c": "in", "b": "base", "e": "out"}
    assert pass_device.symbols["gain"] == "h_FE"


def test_a_role_takes_another_symbol_or_none():
    """`current=I_I` renames a role; `power=` leaves the part without it."""
    (source,) = read_netlist("V_OC source oc gnd current=I_I power=", "circuit 'x'")
    assert source.symbols["current"] == "I_I"
    assert source.symbols["power"] == ""


# Where the fault stands, counted from 1, as an editor counts: line of the netlist text, column of its first letter.
FAULTS = [
    (
        "R",
        "circuit 'x', netlist line 1, column 1: a part needs a name, a kind and its nodes (got 'R')",
    ),
    (
        "V_I source in gnd\n  R  resistr  in  out",
        "circuit 'x', netlist line 2, column 6: there is no part kind 'resistr'; did you mean 'resistor'?",
    ),
    (
        "R resistor in",
        "circuit 'x', netlist line 1, column 3: a part of kind resistor has 2 nodes (got 1: in)",
    ),
    (
        "\n\nQ npn in base",
        "circuit 'x', netlist line 3, column 3: a part of kind npn has 3 nodes (got 2: in base)",
    ),
    (
        "Z  zener  out  gnd  slop=r_z",
        "circuit 'x', netlist line 1, column 21: a part of kind zener has no 'slop'; did you mean 'slope'?",
    ),
    (
        "R resistor in out current=I_RR",
        "circuit 'x', netlist line 1, column 19: 'I_RR' is not in the table of letter symbols; did you mean 'I_R'?",
    ),
    (
        "V_I source in gnd\nR resistor in out\nR resistor out gnd",
        "circuit 'x', netlist line 3, column 1: the netlist names 'R' twice; every part needs a name of its own",
    ),
]


@pytest.mark.parametrize(("text", "sentence"), FAULTS, ids=[sentence.split(": ", 1)[1][:30] for _, sentence in FAULTS])
def test_a_fault_is_named_with_file_line_and_column(text: str, sentence: str):
    """One sentence: where it stands and what would be right."""
    with pytest.raises(BadCircuit) as caught:
        read_netlist(text, "circuit 'x'")
    assert caught.value.sentence == sentence


HOPELESS = ["Z zener out gnd qqqq=r_z", "Z zzzzzz out gnd", "R resistor in out current=%%%%"]


@pytest.mark.parametrize("text", HOPELESS)
def test_no_sentence_offers_what_is_not_near(text: str):
    """Where nothing resembles the wrong word, the valid ones are listed; `None` is never offered as a name."""
    with pytest.raises(BadCircuit) as caught:
        read_netlist(text, "circuit 'x'")
    assert "None" not in caught.value.sentence
    assert re.search(r"netlist line 1, column \d+: ", caught.value.sentence)


@pytest.mark.parametrize("kind", list(PartKind), ids=lambda kind: kind.value)
def test_every_kind_reads_from_a_line_with_its_terminals(kind: PartKind):
    """Each row of the component table can be written in a netlist, and its own symbols are in the table of letters."""
    row = COMPONENTS[kind]
    name = {PartKind.SOURCE: "V_I", PartKind.RESISTOR: "R", PartKind.RESERVOIR: "C", PartKind.THERMAL: "R_thJA"}.get(
        kind, "X")
    (part,) = read_netlist(f"{name} {kind.value} {' '.join(row.terminals)}", "circuit 'x'")
    assert part.terminals == {terminal: terminal for terminal in row.terminals}
    assert set(part.symbols) == set(row.roles)
    assert all(symbol in SYMBOLS for symbol in part.symbols.values() if symbol)


@pytest.mark.parametrize("kind", list(PartKind), ids=lambda kind: kind.value)
def test_what_flows_into_a_part_flows_out_of_it(kind: PartKind):
    """Kirchhoff's current law inside each part: two-terminal currents enter and leave; I_E = I_C + I_B in an NPN.

    Pulses through winding and diodes stand for no current of the table; `laws/rectifier.py` tells of them. Of the
    reservoir what is drawn counts, where it has a letter.
    """
    flows = COMPONENTS[kind].flows
    if kind in (PartKind.WINDING, PartKind.TAPPED_WINDING, PartKind.DIODE):
        assert flows == ()
        return
    if kind is PartKind.NPN:
        assert sorted(flows) == sorted(
            [("collector", "c", False), ("base", "b", False), ("emitter", "e", True)]
        )
        assert any(law.formula == "[emitter] = [collector] + [base]" for law in COMPONENTS[kind].laws)
    elif kind is PartKind.PNP:
        # The same letters, every current the other way.
        assert {(role, at, not into) for role, at, into in flows} == set(COMPONENTS[PartKind.NPN].flows)
        assert any(law.formula == "[emitter] = [collector] + [base]" for law in COMPONENTS[kind].laws)
    elif kind is PartKind.SHUNT_REFERENCE:
        # Both currents leave by the anode, which stands at ground.
        assert sorted(flows) == [("current", "c", False), ("pin", "r", False)]
    elif kind is PartKind.THREE_TERMINAL:
        assert sorted(flows) == sorted([("input", "i", False), ("pin", "g", True), ("current", "o", True)])
        assert any(law.formula == "[input] = [current] + [pin]" for law in COMPONENTS[kind].laws)
    elif kind is PartKind.AMPLIFIER:
        # Its output current enters by its supply lead; its inputs draw nothing.
        assert sorted(flows) == [("current", "o", True), ("current", "s", False)]
    elif kind is PartKind.OPAMP:
        # Its output current comes from supply leads that are not drawn; its inputs draw nothing.
        assert flows == (("current", "o", True),)
    else:
        assert {into for _, _, into in flows} == {True, False}
        assert len({role for role, _, _ in flows}) == 1
