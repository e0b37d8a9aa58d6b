"""Formula sheets: what stands on them is true of the circuit, stands once, and has all its letters explained."""

from __future__ import annotations

from functools import cache

import pytest

from tutor.plan.regions import resolve
from tutor.quantities.expression import evaluate, symbols_of
from tutor.quantities.formula import read_expression
from tutor.solution.derivation import derive
from tutor.solution.desk import our_desk
from tutor.views.content import CircuitContent
from tutor.views.formula_sheets import FormulaSheet, formula_sheet

CIRCUITS = ("zener-shunt", "follower", "opamp-series-zener", "reservoir-bridge", "heat-path-heat-sink", "foldback")


@cache
def sheet_of(name: str) -> FormulaSheet:
    derived = derive(name)
    laws = tuple((law.title, law.equation, law.source) for law in derived.laws)
    steps = {item.quantity: item.steps for item in derived.derivations}
    return formula_sheet(CircuitContent(name, derived.title, "", "", (), laws, steps, (), ()))


@pytest.mark.parametrize("name", CIRCUITS)
def test_every_relation_of_a_sheet_holds_at_typical_values(name: str) -> None:
    """Each side worked out by itself from the circuit's solved state; what belongs to another state is left out."""
    circuit = our_desk().circuit(name)
    values = resolve(circuit, circuit.typical, ()).values
    sheet, tried = sheet_of(name), 0
    values = {key: value for key, value in values.items() if key not in {item.symbol for item in circuit.what_ifs}}
    for item in (*sheet.derived, *sheet.slopes):
        told = item.chain.rest[-1][1]
        if set(symbols_of(item.chain.first)) | set(symbols_of(told)) <= set(values):
            left, right = evaluate(item.chain.first, values), evaluate(told, values)
            assert left == pytest.approx(right, rel=1e-9), item.meaning
            tried += 1
    assert tried >= min(2, len(sheet.derived))


def test_slopes_stand_apart_in_the_forms_of_the_textbooks() -> None:
    # The zener as its slope alone: a divider for the line, R beside r_z for the load (any textbook of the trade).
    slopes = {str(item.chain.first): item.chain.rest[-1][1] for item in sheet_of("zener-shunt").slopes}
    assert set(slopes.values()) == {read_expression("r_z/(R + r_z)"), read_expression("R||r_z")}


@pytest.mark.parametrize("name", CIRCUITS)
def test_every_letter_is_explained_and_nothing_stands_twice(name: str) -> None:
    sheet = sheet_of(name)
    told = [(item.chain.first, item.chain.rest[-1][1]) for item in (*sheet.derived, *sheet.slopes)]
    told += [(equation.lhs, equation.rhs) for _, equation in sheet.laws]
    assert len(told) == len(set(told)) and sheet.derived
    spoken = {letter for sides in told for side in sides for letter in symbols_of(side)}
    assert {row.name for row in sheet.letters} == spoken
