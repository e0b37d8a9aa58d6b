"""Complete the circuit: some part ends are left open, and the learner says which node each joins.

All ways are solved (`joinings.py`), so that every right one counts, and of every wrong one it can be said what that
circuit would do.
Place in the data flow: Task + values -> every joining, solved -> Posed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from tutor.across.family import Posed, Refused, Setting
from tutor.across.fault_finding import meaning_of
from tutor.across.joinings import LINE, Job, Joining, Task, job_of, joined, latches, near, outcome_words, tied
from tutor.across.meters import written
from tutor.across.operating_point import operating_points
from tutor.across.stream import Stream
from tutor.circuit.component import PartKind
from tutor.generate.problem import SEPARATOR, Remark, TableRow, Waypoint, WaypointKind
from tutor.quantities.quantity import Quantity, given
from tutor.quantities.symbols import symbol_for
from tutor.solution.reasons import listed
from tutor.solution.solution import Check, Solution, WorkedStep

BAND = 0.02  # of a voltage asked for
MOST_MOVED = 2  # ends of a wrong joining that is asked about
BENCH = (
    "Before a bench is switched on, follow each wire with a finger against the drawing, polarised parts twice, and set "
    "the supply's current limit low: a wrong end shows itself in the limit's lamp, and not in smoke."
)


@dataclass(frozen=True)
class Completing:
    """A level: the joining, and then what `then` asks ("turned": the output with a part the wrong way round;
    "exchanged": what another joining would do; "functions": what each stage is there for)."""

    about: str
    tasks: tuple[Task, ...]
    then: str

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
        title = circuit.title[:1].lower() + circuit.title[1:]
        article = "an" if title[:1] in "aeiou" else "a"
        below = (
            " The drawing is that of the positive one; here supply and output are turned over, and the supply's "
            "positive end is the ground."
        )
        told = (
            f"Here {article} {title} is to be finished; the drawing leaves out the parts whose ends are still open."
            f"{below if task.negative else ''} Its output is to stand at {written(job.specified, 'V')}, whether the "
            "load is joined or not and whether the line is as told or a tenth higher."
        )
        problem = setting.problem(
            circuit=circuit.stem, form=circuit.form, told=told,
            ask=f"Say which node each open end joins{_ALSO[self.then]}.", table=_rows(job), given=_givens(job),
            waypoints=(_joining_waypoint(job), waypoint),
        )  # fmt: skip
        solution = Solution(problem.name, (*_steps(job), step), _checks(job), BENCH, (), problem.cautions)
        return Posed(problem, solution, withheld=tuple(dict.fromkeys(item.part for item in task.openings)))


def _letters(job: Job) -> list[str]:
    return [*job.task.values, *(name for name in job.circuit.defaults if name not in job.task.values)]


def _givens(job: Job) -> dict[str, Quantity]:
    return {name: given(job.values[name], symbol_for(name).unit) for name in _letters(job)}


def _rows(job: Job) -> tuple[TableRow, ...]:
    rows = [TableRow(meaning_of(name), name, quantity.text) for name, quantity in _givens(job).items()]
    if any(part.kind is PartKind.ZENER for part in job.circuit.parts):
        rows.append(TableRow("zener", "", "straight; forward it is a junction of 0.7 V"))
    rows.append(TableRow("open ends", "", listed([item.words for item in job.task.openings])))
    if job.task.rest:
        ends = {f"{part.name}.{end}": node for part in job.circuit.parts for end, node in part.terminals.items()}
        joined = [f"{words} at {job.node_words(ends[end])}" for end, words in job.task.rest.items()]
        rows.append(TableRow("joined already", "", listed(joined)))
    rows.append(TableRow("nodes there are", "", listed([job.node_words(node) for node in job.task.nodes])))
    return tuple(rows)


def _joining_waypoint(job: Job) -> Waypoint:
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
    return Waypoint(
        "joining", WaypointKind.ARRANGEMENT, "the node that each open end joins", None, 0.0, 0.0, (), options,
        job.words(job.usual), (), tuple(remarks), places, tuple(job.words(joining) for joining in right),
    )  # fmt: skip


def _steps(job: Job) -> tuple[WorkedStep, ...]:
    """The right joining, the other ways that serve as well, and the wrong ones that a belief leads to."""
    outcome = job.outcomes[job.usual]
    higher, lifted = outcome.elsewhere
    text = (
        f"Join {job.told(job.usual)}. Then {job.circuit.regions[0].words}, and the output stands at "
        f"{written(outcome.points[0].volts['out'], 'V')}; with the line a tenth higher at {written(higher, 'V')}, "
        f"without the load at {written(lifted, 'V')}."
    )
    found = [WorkedStep("The circuit that does it", job.circuit.purpose, (), text, "", "joining", None, "")]
    others = [item for item, other in job.outcomes.items() if other.right and item != job.usual]
    if others:
        told = "; ".join(job.told(item) for item in others)
        text = f"{told[:1].upper()}{told[1:]}."
        found.append(WorkedStep("Other ways that serve as well", "", (), text, "", "", None, ""))
    for joining in job.outcomes:
        item = job.belief(joining)
        if item is not None and not job.outcomes[joining].right:
            text = f"{job.told(joining)[:1].upper()}{job.told(joining)[1:]}: {_lowered(outcome_words(job, joining))}"
            found.append(WorkedStep(f"Not so: {item.name}", item.why, (), text, "", "", None, ""))
    return tuple(found)


def _lowered(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _checks(job: Job) -> tuple[Check, ...]:
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


def _turned(job: Job, stream: Stream) -> Further | None:
    """The output with the openings of the part exchanged."""
    turned = job.usual[::-1] if len(job.usual) == 2 else (job.usual[1], job.usual[0], *job.usual[2:])
    outcome = job.outcomes[turned]
    if outcome.right or len(outcome.points) != 1:
        return None
    volts = outcome.points[0].volts["out"]
    if abs(volts) < 0.1 or near(volts, job.specified):
        return None
    low, high = sorted((volts * (1 - BAND), volts * (1 + BAND)))
    prompt = f"the output with {job.told(turned)}"
    point = Waypoint("turned", WaypointKind.VALUE, prompt, Quantity(volts, "V"), low, high, (), (), "", ())
    step = WorkedStep(
        "The wrong way round", "", (), outcome_words(job, turned), "", "turned", Quantity(volts, "V"), ""
    )  # fmt: skip
    return point, step


_DOES = {
    "latches": "it has two points to rest at and latches at one of them",
    "nothing": "it stands at nothing",
    "follows": "it goes with the line or the load, and nothing holds it",
    "else": "it is held, but at another voltage",
}


def _does(job: Job, joining: Joining) -> str | None:
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


def _exchanged(job: Job, stream: Stream) -> Further | None:
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
    point = Waypoint(
        "does", WaypointKind.STATE, prompt, None, 0.0, 0.0, (), tuple(_DOES.values()), _DOES[does], (), remarks
    )  # fmt: skip
    text = f"{outcome_words(job, joining)} So {_DOES[does]}."
    return point, WorkedStep("Joined otherwise", "", (), text, "", "does", None, "")


def _functions(job: Job, stream: Stream) -> Further | None:
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
    point = Waypoint(
        "functions", WaypointKind.ARRANGEMENT, "what each stage is there for", None, 0.0, 0.0, (), options, right, (),
        tuple(remarks), tuple(f"${name}$" for name in stages), (right,),
    )  # fmt: skip
    text = "; ".join(f"${name}$: {words[name]}" for name in words) + "."
    return point, WorkedStep("What each stage is there for", "", (), text, "", "functions", None, "")


_THEN: Mapping[str, Callable[[Job, Stream], Further | None]] = {
    "turned": _turned, "exchanged": _exchanged, "functions": _functions,
}  # fmt: skip
_ALSO = {
    "turned": ", and what the output would be with the part the wrong way round",
    "exchanged": ", and what the output would do if some were joined otherwise",
    "functions": ", and what each stage is there for",
}
