"""The path of heat on the bench: what flows into it follows from the parts' powers, temperatures from what flows.

Place in the data flow: thermal parts of a Circuit + powers -> temperatures (°C) beside the other quantities.
Source: the definition of thermal resistance (IEC 60747-1, from memory), and that all heat that enters a node leaves it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tutor.bench.curves import Array
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind


def temperatures(circuit: Circuit, values: Mapping[str, Array], powers: Mapping[str, Array]) -> dict[str, Array]:
    """The temperature of every node of the path of heat, by letter symbol; {} where the circuit has none.

    `values` holds the thermal resistances (K/W) and the ambient's temperature, `powers` what the parts dissipate (W).
    The electrical parts keep the temperature of the bench, whatever comes out here.
    """
    sources = [part for part in circuit.parts if part.kind is PartKind.HEAT_SOURCE]
    paths = [part for part in circuit.parts if part.kind is PartKind.THERMAL]
    if not sources or any(part.symbols["flow"] not in powers for part in sources):
        return {}
    if not set(heat_letters(circuit)) <= set(values):
        return {}
    ambient = {part.nodes[1] for part in sources}
    nodes = [node for node in dict.fromkeys(node for part in paths for node in part.nodes) if node not in ambient]
    place = {node: row for row, node in enumerate(nodes)}
    shape = np.shape(powers[sources[0].symbols["flow"]])
    leaks, flows = np.zeros((*shape, len(nodes), len(nodes))), np.zeros((*shape, len(nodes)))
    for part in paths:
        passes = 1.0 / np.maximum(values[part.symbols["resistance"]], 1e-9)
        for one, other in (part.nodes, part.nodes[::-1]):
            if one in place:
                leaks[..., place[one], place[one]] += passes
                if other in place:
                    leaks[..., place[one], place[other]] -= passes
                else:
                    flows[..., place[one]] += passes * values[circuit.nodes[other].symbol]
    for part in sources:
        flows[..., place[part.nodes[0]]] += powers[part.symbols["flow"]]
    found = np.linalg.solve(leaks, flows[..., None])[..., 0]
    return {circuit.nodes[node].symbol: found[..., row] for node, row in place.items()}


def heat_letters(circuit: Circuit) -> tuple[str, ...]:
    """The letters of the thermal resistances and of the ambient's temperature."""
    paths = [part.symbols["resistance"] for part in circuit.parts if part.kind is PartKind.THERMAL]
    around = [circuit.nodes[part.nodes[1]].symbol for part in circuit.parts if part.kind is PartKind.HEAT_SOURCE]
    return tuple(dict.fromkeys([*paths, *around]))
