"""Formula sheets at the end of a paper: for each of its circuits the derived relations and the letters in them.

Place in the data flow: circuit -> derivation -> `formula_sheet` (as on the study site) -> code. The algebra runs once
a circuit in a process.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from tutor.later import later
from tutor.solution.desk import Desk
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, joined, literal

if TYPE_CHECKING:
    from tutor.solution import derivation
    from tutor.views import content, formula_sheets
else:
    derivation = later("tutor.solution.derivation")
    content = later("tutor.views.content")
    formula_sheets = later("tutor.views.formula_sheets")


def formula_sheets_code(circuits: Sequence[str], pen: Pen, desk: Desk) -> str:
    """The sheets of the circuits of these ids, from a new page on; a law that several share stands once."""
    pieces = [call("new-page", literal("Formula sheet"))]
    told: set[str] = set()
    for name in circuits:
        sheet = _sheet(name, desk.circuit(name).title)
        rows = [(pen.words(item.meaning), pen.chain(item.chain)) for item in (*sheet.derived, *sheet.slopes)]
        laws = [(pen.prose(title), pen.relation(equation)) for title, equation in sheet.laws]
        rows += [row for row in laws if row[1] not in told]
        told |= {relation for _, relation in laws}
        pieces.append(call("formula-sheet", pen.words(sheet.circuit.title), array(map(array, rows))))
    return joined(pieces)


@lru_cache(maxsize=64)
def _sheet(name: str, title: str) -> formula_sheets.FormulaSheet:
    derived = derivation.derive(name)
    return formula_sheets.formula_sheet(
        content.CircuitContent(
            name, title, "", "", (),
            tuple((law.title, law.equation, law.source) for law in derived.laws),
            {item.quantity: item.steps for item in derived.derivations}, (), (),
        )
    )  # fmt: skip
