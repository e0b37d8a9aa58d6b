"""Complete the circuit: some part ends are left open, and the learner says which node each joins.

All ways are solved (`joinings.py`), so that every right one counts, and of every wrong one it can be said what that
circuit would do.
Place in the data flow: Task + values -> every joining, solved -> Posed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import Enum

from tutor.across.family import Posed, Refused, Setting
from tutor.across.joinings import LINE, Joining, SolvedTask, Task, job_of, joined, latches, near, outcome_words, tied
from tutor.across.meters import written
from tutor.across.operating_point import operating_points
from tutor.across.points import arrangement_point, reading_point, state_point, worded_step
from tutor.across.stated import capitalised, circuit_told, given_values, uncapitalised, value_rows
from tutor.across.stream import Stream
from tutor.circuit.component import PartKind
from tutor.generate.problem import SEPARATOR, Remark, TableRow, Waypoint
from tutor.quantities.prose import listed
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Check, Solution, WorkedStep

BAND = 0.02  # of a voltage asked for
MOST_MOVED = 2  # ends of a wrong joining that is asked about
BENCH = (
    "Before a bench is switched on, follow each wire with a finger against the drawing, polarised parts twice, and set "
    "the supply's current limit low: a wrong end shows itself in the limit's lamp, and not in smoke."
)


class Then(Enum):
    """What is asked beside the joining: its value goes on with the sentence that asks for that."""

    TURNED = ", and what the output would be with the part the wrong way round"
    EXCHANGED = ", and what the output would do if some were joined otherwise"
    FUNCTIONS = ", and what each stage is there for"


@dataclass(frozen=True)
class Completing:
    """A level: the joining of one of the tasks, and then something more of it."""

    about: str
    tasks: tuple[Task, ...]
    then: Then

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        task = stream.pick("task", self.tasks)
        nodes, openings = stream.order("nodes", task.nodes), stream.order("openings", task.openings)
        task = replace(task, nodes=nodes, openings=openings)
        circuit = setting.desk.circuit(task.circuit)
        drawn = {name: stream.pick(f"{task.circuit} {name}", items) for name, items in task.values.items()}
        job = job_of(task, circuit, {**circuit.defaults, **drawn})
        if isinstance(job, str):
            return Refused(job)
        further = _THEN[self.then](job, stream)
        if further is None:
            return Refused("nothing further to ask of it")
        waypoint, step = further
        below = (
            " The drawing is that of the positive one; here supply and output are turned over, and the supply's "
            "positive end is the ground."
        )
        told = (
            f"Here {circuit_told(circuit)} is to be finished; the drawing leaves out the parts whose ends are still "
            f"open.{below if task.negative else ''} Its output is to stand at {written(job.specified, 'V')}, whether "
            "the load is joined or not and whether the line is as told or a tenth higher."
        )
        problem = setting.problem(
            circuit=circuit.stem, form=circuit.form, told=told,
            ask=f"Say which node each open end joins{self.then.value}.", table=_rows(job), given=_givens(job),
            waypoints=(_joining_waypoint(job), waypoint),
        )  # fmt: skip
        solution = Solution(problem.name, (*_steps(job), step), _checks(job), BENCH, (), problem.cautions)
        return Posed(problem, solution, withheld=tuple(dict.fromkeys(item.part for item in task.openings)))


def _givens(job: SolvedTask) -> dict[str, Quantity]:
    return given_values(job.circuit, job.task.values, job.values)


def _rows(job: SolvedTask) -> tuple[TableRow, ...]:
    rows = [*value_rows(job.circuit, _givens(job))]
    rows.append(TableRow("open ends", "", listed([item.words for item in job.task.openings])))
    if job.task.rest:
        ends = {f"{part.name}.{end}": node for part in job.circuit.parts for end, node in part.terminals.items()}
        joined = [f"{words} at {job.node_words(ends[end])}" for end, words in job.task.rest.items()]
        rows.append(TableRow("joined already", "", listed(joined)))
    rows.append(TableRow("nodes there are", "", listed([job.node_words(node) for node in job.task.nodes])))
    return tuple(rows)


def _joining_waypoint(job: SolvedTask) -> Waypoint:
    right = [joining for joining, outcome in job.outcomes.items() if outcome.right]
    right.sort(key=lambda joining: joining != job.usual)
    remarks = []
    for joining, outcome in job.outcomes.items():
        if not outcome.right:
            item = job.belief(joining)
            why = outcome_words(job, joining)
            hint = "Suppose it joined so: which way can current flow, and what state does each part come to?"
            remarks.append(
                Remark(job.words(joining), why, hint)
                if item is None
                else Remark(job.words(joining), f"{item.why} {why}", item.hint, item.id, item.name, item.reference)
            )
    options = tuple(job.node_words(node) for node in job.task.nodes)
    places = tuple(f"the {item.words}" for item in job.task.openings)
    arrangements = [job.words(joining) for joining in right]
    return arrangement_point("joining", "the node that each open end joins", options, places, arrangements, remarks)


def _steps(job: SolvedTask) -> tuple[WorkedStep, ...]:
    """The right joining, the other ways that serve as well, and the wrong ones that a belief leads to."""
    outcome = job.outcomes[job.usual]
    higher, lifted = outcome.elsewhere
    text = (
        f"Join {job.told(job.usual)}. Then {job.circuit.regions[0].words}, and the output stands at "
        f"{written(outcome.points[0].volts['out'], 'V')}; with the line a tenth higher at {written(higher, 'V')}, "
        f"without the load at {written(lifted, 'V')}."
    )
    found = [worded_step("The circuit that does it", job.circuit.purpose, text, "joining")]
    others = [item for item, other in job.outcomes.items() if other.right and item != job.usual]
    if others:
        told = "; ".join(job.told(item) for item in others)
        found.append(worded_step("Other ways that serve as well", "", f"{capitalised(told)}."))
    for joining in job.outcomes:
        item = job.belief(joining)
        if item is not None and not job.outcomes[joining].right:
            text = f"{capitalised(job.told(joining))}: {uncapitalised(outcome_words(job, joining))}"
            found.append(worded_step(f"Not so: {item.name}", item.why, text))
    return tuple(found)


def _checks(job: SolvedTask) -> tuple[Check, ...]:
    outcome = job.outcomes[job.usual]
    told = ("with the line a tenth higher", "with the load lifted off")
    right = sum(other.right for other in job.outcomes.values())
    return (
        *(
            Check(f"Solved {where}, the output is {written(volts, 'V')}", near(volts, job.specified), "")
            for where, volts in zip(told, outcome.elsewhere, strict=True)
        ),
        Check(
            f"All {len(job.outcomes)} ways to join the open ends were solved, and of them {right} "
            f"give{'s' if right == 1 else ''} the output", 0 < right < len(job.outcomes), "",
        ),
    )  # fmt: skip


Further = tuple[Waypoint, WorkedStep]


def _turned(job: SolvedTask, stream: Stream) -> Further | None:
    """The output with the part of the first two openings the wrong way round."""
    turned = (job.usual[1], job.usual[0], *job.usual[2:])
    outcome = job.outcomes[turned]
    if outcome.right or len(outcome.points) != 1:
        return None
    volts = outcome.points[0].volts["out"]
    if abs(volts) < 0.1 or near(volts, job.specified):
        return None
    output = Quantity(volts, "V")
    point = reading_point("turned", f"the output with {job.told(turned)}", output, BAND)
    return point, worded_step("The wrong way round", "", outcome_words(job, turned), "turned", result=output)


_DOES = {
    "latches": "it has two points to rest at and latches at one of them",
    "nothing": "it stands at nothing",
    "follows": "it goes with the line or the load, and nothing holds it",
    "else": "it is held, but at another voltage",
}


def _does(job: SolvedTask, joining: Joining) -> str | None:
    """What a wrong joining does to the output, by the word of `_DOES`; None where it has no point."""
    outcome = job.outcomes[joining]
    if not outcome.points or outcome.right:
        return None
    if len(outcome.points) > 1:
        return "latches" if latches(outcome) and not tied(job, joining) else None
    volts = outcome.points[0].volts["out"]
    if abs(volts) < 0.01:
        return "nothing"
    parts = joined(job.circuit.parts, job.task.openings, joining)
    higher = operating_points(parts, {**job.values, "V_I": LINE * job.values["V_I"]})
    lifted = operating_points([part for part in parts if part.kind is not PartKind.LOAD], job.values)
    if len(higher) != 1 or len(lifted) != 1:
        return None
    held = all(near(other[0].volts["out"], volts) for other in (higher, lifted))
    return "else" if held else "follows"


def _exchanged(job: SolvedTask, stream: Stream) -> Further | None:
    """What one wrong joining would do."""
    wrong = [
        joining
        for joining in stream.order("wrong", tuple(job.outcomes))
        if 0 < sum(one != other for one, other in zip(joining, job.usual, strict=True)) <= MOST_MOVED
    ]
    wanted = stream.pick("does", tuple(_DOES))
    ways = ((joining, _does(job, joining)) for joining in wrong)
    met = next(((joining, does) for joining, does in ways if does == wanted), None)
    if met is None:
        return None
    joining, does = met
    remarks = tuple(
        Remark(words, "", "Follow the output once round: what comes back to it, and with which sign?")
        for key, words in _DOES.items()
        if key != does
    )
    prompt = f"what the output does with {job.told(joining)}"
    point = state_point("does", prompt, tuple(_DOES.values()), _DOES[does], remarks)
    text = f"{outcome_words(job, joining)} So {_DOES[does]}."
    return point, worded_step("Joined otherwise", "", text, "does")


def _functions(job: SolvedTask, stream: Stream) -> Further | None:
    """What each stage is there for."""
    words = {part.name: job.task.functions[part.name] for part in job.circuit.parts if part.name in job.task.functions}
    stages = stream.order("stages", tuple(words))
    options = stream.order("functions", tuple(words.values()))
    right = SEPARATOR.join(words[name] for name in stages)
    remarks = []
    for place in range(len(stages) - 1):
        mixed = [words[name] for name in stages]
        mixed[place], mixed[place + 1] = mixed[place + 1], mixed[place]
        one, other = (f"${name}$" for name in stages[place : place + 2])
        hint = f"Take {one} out in thought, then {other}: what is each time no longer done?"
        remarks.append(Remark(SEPARATOR.join(mixed), f"What {one} and {other} do is exchanged here.", hint))
    places = tuple(f"${name}$" for name in stages)
    point = arrangement_point("functions", "what each stage is there for", options, places, (right,), remarks)
    text = "; ".join(f"${name}$: {words[name]}" for name in words) + "."
    return point, worded_step("What each stage is there for", "", text, "functions")


_THEN: Mapping[Then, Callable[[SolvedTask, Stream], Further | None]] = {
    Then.TURNED: _turned, Then.EXCHANGED: _exchanged, Then.FUNCTIONS: _functions,
}  # fmt: skip
