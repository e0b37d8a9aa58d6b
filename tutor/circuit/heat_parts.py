"""A heat path as a circuit: temperatures for voltages, the flow of heat for the current, one row per kind of part.

Thermal resistances stand in K/W between temperatures in degrees Celsius, whose differences are kelvins. Nothing is at
ground: the ambient has a temperature of its own, from which the source of heat and the last resistance start.
Place in the data flow: rows of the table in `components.py`.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.component import Component, PartKind, PartLaw

_DEFINITION = "definition of thermal resistance: rise of temperature over flow of heat (IEC 60747-1, from memory)"

HEAT_PARTS: Mapping[PartKind, Component] = {
    PartKind.HEAT_SOURCE: Component(
        terminals=("a", "b"), roles={"flow": "P_D"}, flows=(("flow", "a", True), ("flow", "b", False))
    ),
    PartKind.THERMAL: Component(
        terminals=("a", "b"),
        roles={"resistance": "{name}", "flow": "P_D"},
        flows=(("flow", "a", False), ("flow", "b", True)),
        laws=(
            PartLaw(
                "rise",
                "Rise of temperature across {part}",
                "a - b = [flow]*[resistance]",
                0.9,
                _DEFINITION,
                "In steady state all the heat flows through {part}, and needs a difference of temperature.",
            ),
            PartLaw(
                "flow",
                "Heat that flows through {part}",
                "[flow] = (a - b)/[resistance]",
                1.0,
                _DEFINITION,
                "What flows is the difference of temperature over the thermal resistance.",
            ),
        ),
    ),
}
