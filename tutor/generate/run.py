"""Stages run on numbers: results, worst corners, slips; arrays in, arrays out, no algebra.

Vocabulary: an *end* says where a ranging base stood at the corner a stage took: 0 at its least value, 1 at its
greatest, 2 (`INSIDE`) at a place inside its range where the slope vanishes. Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tutor.generate.sampling import Array, Environment
from tutor.generate.stage import Stage
from tutor.plan.evaluate import Program, assemble, compile_plan
from tutor.quantities.expression import Expr, symbols_of

Ends = NDArray[np.int64]
INSIDE = 2


@dataclass(frozen=True)
class StageOutcome:
    """What a stage came to: its value, the bases behind it, the end each ranging base was at, every step's value."""

    value: Array
    bases: Mapping[str, Array]
    ends: Mapping[str, Ends]
    steps: Mapping[str, Array]


@dataclass(frozen=True)
class RunnableStage:
    """A stage with its programs assembled."""

    stage: Stage
    program: Program
    inputs: Program
    resting: tuple[tuple[str, Program], ...]


@dataclass(frozen=True)
class EditedStage:
    """A stage with one step replaced: the program from that step on, and the steps that stay as they were found."""

    kept: tuple[str, ...]
    program: Program


def runnable(stage: Stage) -> RunnableStage:
    """Assemble the programs of a stage."""
    keys = tuple(dict.fromkeys(name for _, expr in stage.inputs for name in symbols_of(expr)))
    inputs = assemble(keys, {f"= {name}": expr for name, expr in stage.inputs})
    resting = tuple((base, assemble(symbols_of(expr), {"at": expr})) for base, expr in stage.resting)
    return RunnableStage(stage, compile_plan(stage.plan), inputs, resting)


def base_values(ready: RunnableStage, env: Environment) -> dict[str, Array]:
    """The bases that do not range, as the environment gives them."""
    shape = np.shape(next(iter(env.values())))
    values = ready.inputs.run({name: env[name] for name in ready.inputs.inputs})
    return {name[2:]: np.broadcast_to(np.asarray(value, dtype=np.float64), shape) for name, value in values.items()}


def run(ready: RunnableStage, env: Environment) -> StageOutcome:
    """The stage at its worst corner (or as it stands); KeyError names a key that is not in the environment."""
    fixed = base_values(ready, env)
    best: StageOutcome | None = None
    for corner in _corners(ready, env, fixed):
        bases = {**fixed, **{base: values for base, (_, values) in corner.items()}}
        steps = ready.program.run({name: bases[name] for name in ready.program.inputs})
        value = np.broadcast_to(
            np.asarray(steps[ready.stage.quantity], dtype=np.float64), np.shape(next(iter(env.values())))
        )
        here = StageOutcome(value, bases, {base: ends for base, (ends, _) in corner.items()}, steps)
        best = here if best is None else _worse(best, here, bool(ready.stage.greatest))
    assert best is not None
    return best


def _corners(ready: RunnableStage, env: Environment, fixed: Mapping[str, Array]) -> list[dict[str, tuple[Ends, Array]]]:
    """Every corner of the box, then every corner with one base at rest inside its range."""
    box = ready.stage.box
    shape = np.shape(next(iter(env.values())))
    ends = {base: (env[f"{base}_MIN"], env[f"{base}_MAX"]) for base in box}
    corners: list[dict[str, tuple[Ends, Array]]] = []
    for choice in itertools.product((0, 1), repeat=len(box)):
        corners.append(
            {
                base: (np.full(shape, end, dtype=np.int64), ends[base][end])
                for base, end in zip(box, choice, strict=True)
            }
        )
    for base, program in ready.resting:
        for corner in [item for item in corners if bool(np.all(item[base][0] == 0))]:
            values = {**fixed, **{name: value for name, (_, value) in corner.items()}}
            if not set(program.inputs) <= set(values):
                continue
            place = np.broadcast_to(program.run({name: values[name] for name in program.inputs})["at"], shape)
            inside = (place > ends[base][0]) & (place < ends[base][1])
            if bool(np.any(inside)):
                kept = (np.where(inside, INSIDE, 0).astype(np.int64), np.where(inside, place, ends[base][0]))
                corners.append({**corner, base: kept})
    return corners


def _worse(best: StageOutcome, here: StageOutcome, greatest: bool) -> StageOutcome:
    with np.errstate(invalid="ignore"):
        take = here.value > best.value if greatest else here.value < best.value
    take = take | (np.isnan(best.value) & ~np.isnan(here.value))

    def merge(old: Mapping[str, Array], new: Mapping[str, Array]) -> dict[str, Array]:
        return {name: np.where(take, new[name], old[name]) for name in old}

    return StageOutcome(
        np.where(take, here.value, best.value),
        merge(best.bases, here.bases),
        {name: np.where(take, here.ends[name], best.ends[name]) for name in best.ends},
        merge(best.steps, here.steps),
    )


def edited_stage(stage: Stage, step: str, edited: Expr) -> EditedStage:
    """A stage with one step replaced by `edited` (over bases, earlier steps and keys), ready to run."""
    steps = stage.plan.steps
    first = next(place for place, item in enumerate(steps) if item.target == step)
    outputs = {step: edited, **{item.target: item.expr for item in steps[first + 1 :] if item.expr is not None}}
    needed: dict[str, None] = {}
    for place, expr in enumerate(outputs.values()):
        found = (*outputs,)[:place]
        needed |= dict.fromkeys(name for name in symbols_of(expr) if name not in found)
    kept = tuple(item.target for item in steps if item.target not in outputs)
    return EditedStage(kept, assemble(tuple(needed), outputs))


def run_edited(ready: RunnableStage, outcome: StageOutcome, env: Environment, edited: EditedStage) -> Array:
    """What the stage comes to with the step replaced, at the same corner."""
    known = {**env, **outcome.bases, **{name: outcome.steps[name] for name in edited.kept}}
    found = edited.program.run({name: known[name] for name in edited.program.inputs})
    quantity = ready.stage.quantity
    value = found[quantity] if quantity in found else outcome.steps[quantity]
    return np.broadcast_to(np.asarray(value, dtype=np.float64), np.shape(next(iter(env.values()))))
