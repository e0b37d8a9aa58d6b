"""Planned circuits as the data that assets/own_states.js and own_resolve.js run: steps, laws, bounds, letters.

Vocabulary: a *shelf* holds things that several plans share, each once, spoken of by its place.
Place in the data flow: RegionPlan -> plain data (this file) -> own-numbers pages and the figures that are disturbed.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from tutor.circuit.circuit import Circuit
from tutor.laws.law import Law
from tutor.plan.plan import Step
from tutor.plan.region_plans import RegionPlan
from tutor.plan.rule import Rule, rules_to_json
from tutor.plan.verify import names_of
from tutor.quantities.expression import Equation, to_json
from tutor.quantities.notation import plain_equation
from tutor.quantities.symbols import SYMBOLS, split_name, symbol_for
from tutor.views.data_scripts import assigned

Data = dict[str, Any]


@dataclass
class Shelves:
    """The steps and laws that many plans share."""

    steps: list[Step] = field(default_factory=list)
    laws: list[Data] = field(default_factory=list)
    places: dict[tuple[str, str], int] = field(default_factory=dict)

    def place(self, kind: str, shelf: list[Any], item: Any, key: str) -> int:
        """Where an item lies on its shelf; it is put there when it is new."""
        if (kind, key) not in self.places:
            self.places[kind, key] = len(shelf)
            shelf.append(item)
        return self.places[kind, key]

    def step(self, step: Step) -> int:
        """The place of a step."""
        return self.place("step", self.steps, step, repr(step))

    def law(self, law: Law) -> int:
        """The place of a law."""
        data = {"title": law.title.replace("$", ""), **_relation(law.equation, law.symbols)}
        return self.place("law", self.laws, data, json.dumps(data))


def circuit_data(circuit: Circuit) -> Data:
    """What the scripts ask of a circuit whatever is given: its regions, part values, usual numbers."""
    return {
        "circuit": circuit.id,
        "regions": {region.id: region.words for region in circuit.regions},
        "further": {region.id: region.further for region in circuit.regions if region.further},
        "constants": list(circuit.constants),
        "outputs": list(circuit.output_voltages()),
        "loads": list(circuit.load_resistances()),
        "typical": dict(circuit.typical),
        "standing": dict(circuit.defaults),
        "rootPreference": circuit.root_preference and list(circuit.root_preference),
    }


def plan_data(plan: RegionPlan, shelves: Shelves) -> Data:
    """A plan in one region, its steps and laws by their places."""
    return {
        "region": plan.region.id,
        "known": list(plan.known),
        "defaults": dict(plan.defaults),
        "asked": list(plan.asked),
        "steps": [shelves.step(step) for step in plan.steps],
        "laws": [shelves.law(law) for law in plan.laws.laws],
        "bounds": [_relation(bound.equation, sorted(names_of(bound.equation))) for bound in plan.laws.bounds],
        "forced": plan.forced,
        "silent": plan.silent,
        "whyNot": plan.why_not,
        "sight": [shelves.step(step) for step in plan.sight],
    }


def step_data(step: Step, slots: tuple[Any, ...]) -> Data:
    """A step: what it gives and by which expression or coefficients; what fills its slots where it is printed."""
    (rule,) = rules_to_json((Rule(step.target, step.expr, step.coefficients if step.expr is None else ()),))
    return {"target": step.target, "rule": rule[1:], "coupled": step.coupled is not None, "slots": list(slots)}


def symbol_data(name: str) -> Data:
    """A letter: its unit, meaning and sign."""
    symbol = symbol_for(name)
    return {"unit": symbol.unit, "meaning": symbol.meaning, "sign": symbol.sign.value}


def names_spoken_of(plans: Iterable[RegionPlan], shelves: Shelves, beside: Iterable[str]) -> tuple[str, ...]:
    """Every symbol of the plans and laws, and those beside them, in the order of the table."""
    found = {name for law in shelves.laws for name in law["names"]} | {*beside}
    for plan in plans:
        found |= {step.target for step in plan.steps}
        found |= {name for bound in plan.laws.bounds for name in names_of(bound.equation)}
    order = {name: place for place, name in enumerate(SYMBOLS)}
    return tuple(sorted(found, key=lambda name: (order[split_name(name).base], name)))


def own_data_script(data: Mapping[str, Any]) -> str:
    """The script that hands a circuit's data to its page."""
    # Not sorted by key: the order of standing values and of what is known is that of the engine.
    return assigned("ownData", data)


def _relation(equation: Equation, names: Iterable[str]) -> Data:
    """A law or an inequality; a sentence tells its names in this order."""
    return {
        "text": plain_equation(equation),
        "lhs": to_json(equation.lhs),
        "relation": equation.relation,
        "rhs": to_json(equation.rhs),
        "names": list(names),
    }
