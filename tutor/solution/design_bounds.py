"""The demand behind a bound, the way round in which a design is judged: the required quantity from the part chosen.

A bound (`FindBound`) is planned backwards, the required quantity put at its limit. Where no closing check works it
forwards, it is planned so here, with the part at the end of its tolerance that comes nearest to the bound.
Place in the data flow: ReadyLevel -> stages, kept in the store -> `design_desk.py`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tutor.generate.family import Choose, FindBound
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problems_folder import ProblemsFolder
from tutor.generate.stage import Stage, stage_from_json, stage_to_json
from tutor.generate.store import level_key
from tutor.generate.store_files import store_folder, stored_or_made
from tutor.laws.derive import derive, load_model
from tutor.plan.search import search
from tutor.quantities.expression import Expr, Sym, symbols_of
from tutor.quantities.formula import read_equation, read_expression
from tutor.quantities.symbols import is_symbol, split_name
from tutor.solution.design_desk import missing_bounds


def bound_stages(folder: ProblemsFolder, ready: ReadyLevel) -> Mapping[str, Stage]:
    """The stage of each bound that no closing check repeats, by the bound's key; from the store when it is there."""
    wanted = list(missing_bounds(ready))
    if not wanted:
        return {}
    told = level_key(folder, ready.family, ready.circuit, ready.number).encode() + Path(__file__).read_bytes()
    file = store_folder() / f"{hashlib.sha256(told).hexdigest()}-bounds.json"

    def made() -> dict[str, Any]:
        stages = {key: _forwards(ready, ask, choice, key == choice.high) for ask, choice, key in wanted}
        return {"stages": {key: stage_to_json(stage) for key, stage in stages.items()}}

    return stored_or_made(
        file, lambda data: {key: stage_from_json(data["stages"][key]) for _, _, key in wanted}, made
    )


def _forwards(ready: ReadyLevel, ask: FindBound, choice: Choose, above: bool) -> Stage:
    """The required quantity at every corner, from what lasts and the part at that end of its tolerance."""
    requirement = read_equation(ask.requirement)
    (watched,), (limit,) = symbols_of(requirement.lhs), symbols_of(requirement.rhs)
    known = _lasting(ready)
    known |= {base: read_expression(formula) for base, formula in ask.at.items()}
    part = choice.quantity
    sign = "+" if above else "-"
    known[part] = read_expression(f"{part}*(1 {sign} {choice.tolerance})") if choice.tolerance else Sym(part)
    known.pop(watched, None)
    region = ready.circuit.region(ready.regions[0].plan.region)
    laws = derive(ready.circuit, region, load_model([*known]), conventions=ready.family.assume)
    spoken = {*laws.symbols}
    told = [name for name in known if name in spoken]
    plan = search(laws, told, (watched,), ready.circuit.preferred).pruned(watched)
    box = tuple(base for base in ready.level.ranges if base in plan.known and base not in ask.at)
    inputs = tuple((name, known[name]) for name in plan.known if name not in box)
    greatest = requirement.relation == "<="
    return Stage(watched, watched, plan, inputs, box, greatest, (), (), watched, requirement.relation, limit, greatest)


def _lasting(ready: ReadyLevel) -> dict[str, Expr]:
    """What holds at every operating point: what is told or chosen, and what ranges (`compile.py` takes the same)."""
    chosen = {ask.quantity for ask in ready.level.asks if isinstance(ask, Choose)}
    plain = [key for key in ready.level.given if is_symbol(key) and not split_name(key).end]
    return {name: Sym(name) for name in dict.fromkeys((*plain, *ready.level.ranges, *sorted(chosen)))}
