"""What a raw supply shows, healthy or not: the engine's rectifier laws on whatever netlist is left.

Place in the data flow: parts (edited by a fault) + values -> crest, mean, ripple, its frequency.
Source: `laws/rectifier.py`, whose laws follow from the diodes that are there.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.errors import BadCircuit
from tutor.laws.rectifier import charging, rectifier_laws
from tutor.quantities.expression import Equation, Sym, evaluate, symbols_of
from tutor.quantities.formula import read_equation

RAW_PARTS = (PartKind.WINDING, PartKind.TAPPED_WINDING, PartKind.RESERVOIR)
MOST_RIPPLE = 0.4  # of the crest: beyond it a straight discharge tells little
NEEDED = ("V_PK", "V_RIP", "V_DC", "f_RIP", "I_L")


def rectified(parts: Sequence[Part], values: Mapping[str, float]) -> dict[str, float] | None:
    """V_PK, V_DC and V_RIP in volts, I_L in amperes, f_RIP in hertz; None where the ripple is no small part of the
    crest. Where nothing charges the reservoir all of them are nothing."""
    try:
        laws = [law.equation for law in rectifier_laws(parts)]
        pulses = charging(parts).pulses
    except BadCircuit:
        return dict.fromkeys(NEEDED, 0.0)
    laws += [equation for part in parts for equation in _own_laws(part)]
    found = dict(values)
    waiting = [law for law in laws if isinstance(law.lhs, Sym) and law.lhs.name not in found]
    while True:
        ready = [law for law in waiting if all(name in found for name in symbols_of(law.rhs))]
        if not ready:
            break
        for law in ready:
            assert isinstance(law.lhs, Sym)
            found.setdefault(law.lhs.name, evaluate(law.rhs, found))
        waiting = [law for law in waiting if law not in ready]
    if found["V_RIP"] > MOST_RIPPLE * found["V_PK"]:
        return None
    found["f_RIP"] = pulses * found["f"]
    return {name: float(f"{found[name]:.12g}") for name in NEEDED}


def _own_laws(part: Part) -> list[Equation]:
    """The laws that winding and reservoir bring themselves, with their letters."""
    found = []
    for law in part.component.laws if part.kind in RAW_PARTS else ():
        roles = re.findall(r"\[(\w+)\]", law.formula)
        if all(part.symbols[role] for role in roles):
            found.append(read_equation(re.sub(r"\[(\w+)\]", lambda match: part.symbols[match[1]], law.formula)))
    return found
