"""Values as JSON objects, in the shapes that `--json` promises.

A quantity is `{"value", "unit", "text"}`, value in SI (°C for temperatures, a fraction for per cent). Text is plain.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tutor.across.family import ShownLine
from tutor.generate.problem import Problem, Remark, Waypoint, WaypointKind
from tutor.quantities.notation import plain, plain_equation
from tutor.quantities.quantity import Quantity
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.hints import Hints
from tutor.solution.solution import Check, Solution, WorkedStep
from tutor.views.plain import chain_text, unbound_text

Record = dict[str, Any]


def step_record(step: WorkedStep) -> Record:
    """One worked step: `title`, `relation` (its last line), `result`, `law`, and the rest for who wants it."""
    lines = [chain_text(chain) for chain in step.chains]
    return {
        "title": unbound_text(step.title),
        "relation": lines[-1] if lines else "",
        "result": None if step.result is None else step.result.to_json(),
        "law": step.law,
        "why": unbound_text(step.why),
        "lines": lines,
        "text": unbound_text(step.text),
        "waypoint": step.waypoint,
        "band": step.band,
        "band_by": step.band_by,
    }


def check_record(check: Check) -> Record:
    """One closing check."""
    return {"text": unbound_text(check.text), "holds": check.holds, "margin": check.margin}


def answer_record(point: Waypoint) -> Record:
    """What is right at a waypoint: the quantity with `low` and `high`; for a choice every accepted value too."""
    if point.answer is None:
        told: Record = {
            "value": None,
            "unit": "",
            "text": point.state,
            "low": None,
            "high": None,
            "options": list(point.options),
        }
        if point.kind is WaypointKind.ARRANGEMENT:
            told |= {"places": [unbound_text(place) for place in point.places], "right": list(point.arrangements)}
        return told
    record: Record = {**point.answer.to_json(), "low": point.low, "high": point.high}
    if point.kind is WaypointKind.CHOICE:
        record |= {"low": min(point.accepted), "high": max(point.accepted), "accepted": list(point.accepted)}
    return record


def remark_record(point: Waypoint, remark: Remark) -> Record:
    """What is said of a wrong option at a waypoint."""
    return {
        "id": remark.id,
        "at": point.key,
        "option": remark.option,
        "name": unbound_text(remark.name),
        "why": unbound_text(remark.why),
        "hint": unbound_text(remark.hint),
    }


def line_record(line: ShownLine) -> Record:
    """A line that a problem lays before the learner."""
    words = [unbound_text(line.words)] if line.words else []
    return {"label": line.label, "text": " ".join([*words, *([chain_text(line.chain)] if line.chain else [])])}


def hint_record(hints: Hints, number: int) -> Record:
    """One of the hints for what is asked: its words, and the lines that go with the third."""
    lines = [chain_text(line) for line in hints.lines] if number == len(hints.words) else []
    return {"at": hints.key, "number": number, "text": unbound_text(hints.words[number - 1]), "lines": lines}


def problem_record(problem: Problem, solution: Solution, lines: Sequence[ShownLine] = ()) -> Record:
    """A generated problem, whole; `lines` are what a problem across circuits lays before the learner."""
    return {
        "name": problem.name,
        "title": problem.title,
        "statement": unbound_text(problem.statement),
        "ask": unbound_text(problem.ask),
        "table": [
            {"label": unbound_text(row.label), "symbol": row.symbol, "value": unbound_text(row.value)}
            for row in problem.table
        ],
        "given": {name: quantity.to_json() for name, quantity in problem.given.items()},
        "wanted": list(problem.wanted),
        "answers": {point.key: answer_record(point) for point in problem.waypoints},
        "steps": [step_record(step) for step in solution.steps],
        "checks": [check_record(check) for check in solution.checks],
        "slips": [
            {
                "id": slip.id,
                "at": point.key,
                **Quantity(slip.value, point.answer.unit if point.answer else "").to_json(),
                "name": unbound_text(slip.name),
                "why": unbound_text(slip.why),
                "hint": unbound_text(slip.hint),
            }
            for point in problem.waypoints
            for slip in point.slips
        ],
        "remarks": [remark_record(point, remark) for point in problem.waypoints for remark in point.remarks],
        "lines": [line_record(line) for line in lines],
        "circuit": problem.circuit,
        "form": problem.form,
        "bench": unbound_text(solution.bench),
        "cautions": list(problem.cautions),
        "assumed": dict(problem.assumed),
        "level": problem.level,
        "number": problem.number,
        "edition": problem.edition,
    }


def solve_record(answer: WorkedAnswer) -> Record:
    """A worked solution of somebody's own numbers."""
    return {
        "circuit": answer.circuit,
        "form": answer.form,
        "region": answer.region,
        "values": {name: quantity.to_json() for name, quantity in answer.values.items()},
        "asked": list(answer.asked),
        "steps": [step_record(step) for step in answer.steps],
        "checks": [check_record(check) for check in answer.checks],
        "warnings": list(answer.warnings),
        "assumed": dict(answer.assumed),
    }


def derivation_record(derivation: Derivation) -> Record:
    """One derivation: steps, closed form, sensitivities."""
    return {
        "quantity": derivation.quantity,
        "givens": list(derivation.givens),
        "steps": [step_record(step) for step in derivation.steps],
        "closed_form": f"{derivation.quantity} = {plain(derivation.closed_form)}",
        "sensitivities": [step_record(step) for step in derivation.sensitivities],
    }


def derive_record(derived: DerivedCircuit) -> Record:
    """A circuit's laws and derivations."""
    return {
        "circuit": derived.circuit,
        "title": derived.title,
        "region": derived.region,
        "laws": [
            {
                "id": law.id,
                "title": unbound_text(law.title),
                "relation": plain_equation(law.equation),
                "holds": law.holds,
                "source": law.source,
            }
            for law in derived.laws
        ],
        "derivations": [derivation_record(item) for item in derived.derivations],
    }
