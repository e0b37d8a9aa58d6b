"""How the part values of a circuit follow the temperature where its own laws say nothing of it.

Place in the data flow: the bare set's numbers -> an expression of each value that drifts -> the figure that is warmed.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tutor.bench.drifts import JUNCTION_DRIFT, share_drift, zener_drift
from tutor.circuit.circuit import Circuit
from tutor.quantities.expression import Add, Expr, Mul, Num, Sym
from tutor.quantities.symbols import split_name

WARMED = "DT"
_JUNCTIONS = ("V_BE", "V_F")
_ZENERS = ("V_Z", "V_Z0", "V_ZT")


def drifts_of(circuit: Circuit, numbers: Mapping[str, float]) -> dict[str, Expr]:
    """What each part value that drifts is at a change of temperature, in its own letter (SI) and DT (K).

    Empty where the circuit's laws have a drift or a path of heat, and where the output is among the numbers. The
    coefficients are those of the bench (`bench/drifts.py`).
    """
    if WARMED in numbers or "T_A" in numbers or {*circuit.output_voltages()} & {*numbers}:
        return {}
    found: dict[str, Expr] = {}
    for name, value in numbers.items():
        base = split_name(name).base
        share = float(zener_drift(np.array(value))) if base in _ZENERS else share_drift(base)
        if base in _JUNCTIONS:
            found[name] = Add((Sym(name), Mul((Num(JUNCTION_DRIFT), Sym(WARMED)))))
        elif share:
            found[name] = Mul((Sym(name), Add((Num(1.0), Mul((Num(share), Sym(WARMED)))))))
    return found
