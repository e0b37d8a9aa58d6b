"""Formula sheets at the end of a paper: for each of its circuits the derived relations and the letters in them.

Place in the data flow: circuit -> derivation -> `formula_sheet` (as on the study site) -> code. The algebra runs once
a circuit in a process.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from tutor.solution.derivation import derive
from tutor.solution.desk import Desk
from tutor.views.content import CircuitContent
from tutor.views.formula_sheets import Derived, FormulaSheet, formula_sheet
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal


def formula_sheets_code(circuits: Sequence[str], pen: Pen, desk: Desk) -> str:
    """The sheets of the circuits of these ids, on a page of their own."""
    return joined(
        [call("new-page", literal("Formula sheet")), *(_sheet_code(_sheet(name, desk.circuit(name).title), pen) for name in circuits)]
    )


@lru_cache(maxsize=64)
def _sheet(name: str, title: str) -> FormulaSheet:
    derived = derive(name)
    return formula_sheet(
        CircuitContent(
            name, title, "", "", (),
            tuple((law.title, law.equation, law.source) for law in derived.laws),
            {item.quantity: item.steps for item in derived.derivations}, (), (),
        )
    )  # fmt: skip


def _sheet_code(sheet: FormulaSheet, pen: Pen) -> str:
    pieces = [call("heading-line", pen.words(sheet.circuit.title))]
    pieces += [_derived(item, pen) for item in (*sheet.derived, *sheet.slopes)]
    pieces.append(
        call("laws", array(array((pen.prose(title), pen.relation(equation))) for title, equation in sheet.laws))
    )
    return joined(pieces)


def _derived(item: Derived, pen: Pen) -> str:
    return call("told-relation", pen.words(item.meaning), pen.chain(item.chain))
