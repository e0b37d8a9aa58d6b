"""Every way to join the ends of parts left open, each solved: what it gives, and in words.

A way of joining them is right when the circuit, solved as it then is, gives the specified output, with the line as it
is and a tenth higher, with the load and without it.
Vocabulary: an *opening* is a part's end left open; a *joining* names a node for each opening; its *outcome* is the
operating points it has; a *job* is a task with its values and all its outcomes.
Place in the data flow: Task + values -> SolvedTask -> `completing.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from tutor.across.further_states import state_words
from tutor.across.meters import written
from tutor.across.operating_point import OperatingPoint, operating_points
from tutor.circuit.circuit import GROUND, Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.generate.problem import SEPARATOR
from tutor.quantities.prose import listed

CLOSE = 0.03  # of the specified output
LINE = 1.1  # times the line told, at which the output must stand still too
NONE_FITS = "No operating point is left in which every part is in a state that it is made for."
TIED = "Both inputs of the amplifier hang on one node: its output is left to its own small errors, {ends}."
LATCHES = "The loop would latch: the output rests at one of its ends, {ends}, and nothing brings it back."
LEFT_OPEN = "Nothing settles where the output stands: the states of the parts fit more than one voltage, {ends}."
Joining = tuple[str, ...]  # a node for each opening


@dataclass(frozen=True)
class Opening:
    """A part's end: the part, its terminal (the letter of the table of parts), and its words."""

    part: str
    terminal: str
    words: str


@dataclass(frozen=True)
class JoiningBelief:
    """A belief that leads to a wrong joining: the nodes of some of the openings, by `part.terminal`."""

    id: str
    joins: Mapping[str, str]
    name: str
    why: str
    hint: str
    reference: tuple[str, ...]


@dataclass(frozen=True)
class Task:
    """A circuit of the catalogue with its openings, the nodes on offer and value lists by letter (SI).

    `names` are words for nodes other than the circuit's own, `rest` words for the ends of opened parts that are joined
    already, by `part.terminal`; `functions` are words for what stages do. `negative` joins supply and polarised parts
    the other way round.
    """

    circuit: str
    openings: tuple[Opening, ...]
    nodes: tuple[str, ...]
    values: Mapping[str, tuple[float, ...]]
    beliefs: tuple[JoiningBelief, ...] = ()
    negative: bool = False
    functions: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    rest: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class JoiningOutcome:
    """A joining solved: its points as asked for, and what it gives with the line higher and the load lifted."""

    points: tuple[OperatingPoint, ...]
    elsewhere: tuple[float, ...]
    right: bool


@dataclass(frozen=True)
class SolvedTask:
    """A task with its values, every joining solved; `specified` is the output asked for, in volts."""

    task: Task
    circuit: Circuit
    values: Mapping[str, float]
    specified: float
    usual: Joining
    outcomes: Mapping[Joining, JoiningOutcome]

    def words(self, joining: Joining) -> str:
        """A joining as an arrangement is written."""
        return SEPARATOR.join(self.node_words(node) for node in joining)

    def node_words(self, node: str) -> str:
        """A node as an option names it."""
        words = self.task.names.get(node)
        return words or ("ground" if node == GROUND else self.circuit.nodes[node].words)

    def told(self, joining: Joining) -> str:
        """A joining in a sentence: "the cathode at the output node and the anode at ground"."""
        pairs = zip(self.task.openings, joining, strict=True)
        return listed([f"the {opening.words} at {self.node_words(node)}" for opening, node in pairs])

    def belief(self, joining: Joining) -> JoiningBelief | None:
        """The belief that leads to a joining, if there is one."""
        here = {f"{item.part}.{item.terminal}": node for item, node in zip(self.task.openings, joining, strict=True)}
        return next((item for item in self.task.beliefs if item.joins == here), None)


def job_of(task: Task, circuit: Circuit, values: Mapping[str, float]) -> SolvedTask | str:
    """Every joining of a task solved; why not, where the circuit as it should be does not regulate."""
    parts = _mirrored(circuit.parts) if task.negative else circuit.parts
    points = operating_points(parts, values)
    if len(points) != 1 or any(points[0].states.get(name) != state for name, state in circuit.regions[0].parts.items()):
        return "the whole circuit does not regulate"
    specified = points[0].volts["out"]
    ends = {(part.name, terminal): node for part in parts for terminal, node in part.terminals.items()}
    usual = tuple(ends[item.part, item.terminal] for item in task.openings)
    outcomes = {
        joining: _outcome(joined(parts, task.openings, joining), values, specified)
        for joining in product(task.nodes, repeat=len(task.openings))
    }
    if not outcomes[usual].right:
        return "the whole circuit does not hold its output"
    return SolvedTask(task, circuit, values, specified, usual, outcomes)


def _mirrored(parts: Sequence[Part]) -> tuple[Part, ...]:
    """Supply and polarised parts turned round, for an output below ground."""
    turned = (PartKind.SOURCE, PartKind.ZENER, PartKind.JUNCTION)
    return tuple(replace(part, nodes=part.nodes[::-1]) if part.kind in turned else part for part in parts)


def joined(parts: Sequence[Part], openings: Sequence[Opening], joining: Joining) -> tuple[Part, ...]:
    """The parts with the openings joined so."""
    nodes = {(item.part, item.terminal): node for item, node in zip(openings, joining, strict=True)}
    return tuple(
        replace(part, nodes=tuple(nodes.get((part.name, terminal), node) for terminal, node in part.terminals.items()))
        for part in parts
    )


def _outcome(parts: Sequence[Part], values: Mapping[str, float], specified: float) -> JoiningOutcome:
    points = operating_points(parts, values)
    if len(points) != 1 or not near(points[0].volts["out"], specified):
        return JoiningOutcome(points, (), False)
    lifted = [part for part in parts if part.kind is not PartKind.LOAD]
    others = [operating_points(parts, {**values, "V_I": LINE * values["V_I"]}), operating_points(lifted, values)]
    found = tuple(other[0].volts["out"] for other in others if len(other) == 1)
    return JoiningOutcome(points, found, len(found) == 2 and all(near(volts, specified) for volts in found))


def near(volts: float, specified: float) -> bool:
    """Whether a voltage is as good as the specified one."""
    return abs(volts - specified) <= CLOSE * abs(specified)


def outcome_words(job: SolvedTask, joining: Joining) -> str:
    """What a wrongly joined circuit would do, in a sentence."""
    outcome = job.outcomes[joining]
    outputs = list(dict.fromkeys(written(point.volts["out"], "V") for point in outcome.points))
    if not outputs:
        return NONE_FITS
    if len(outcome.points) > 1:
        template = TIED if tied(job, joining) else LATCHES if latches(outcome) else LEFT_OPEN
        return template.format(ends=" or ".join(outputs))
    if outcome.elsewhere:
        others = " and ".join(dict.fromkeys(written(volts, "V") for volts in outcome.elsewhere))
        return f"The output would stand at {outputs[0]} now, but at {others} with another line or load."
    states = _changed_states(job, outcome.points[0])
    return f"The output would stand at {outputs[0]}{f': {states}' if states else ''}."


def tied(job: SolvedTask, joining: Joining) -> bool:
    """Whether an amplifier has both inputs at one node."""
    parts = joined(job.circuit.parts, job.task.openings, joining)
    return any(part.kind is PartKind.AMPLIFIER and part.nodes[0] == part.nodes[1] for part in parts)


def latches(outcome: JoiningOutcome) -> bool:
    """Whether an amplifier rests at either end."""
    met = [set(point.states.values()) for point in outcome.points]
    return any("high" in states for states in met) and any("low" in states for states in met)


def _changed_states(job: SolvedTask, point: OperatingPoint) -> str:
    """The parts that are in another state than they should be, by their letters where there are two of a kind."""
    usual = job.outcomes[job.usual].points[0].states
    kinds = [part.kind for part in job.circuit.parts]
    said = []
    for part in job.circuit.parts:
        state = point.states.get(part.name)
        if state is not None and state != usual.get(part.name):
            words = re.sub("^the junction", "the diode", state_words(part.kind, state))
            said.append(re.sub("^the transistor", f"${part.name}$", words) if kinds.count(part.kind) > 1 else words)
    return " and ".join(said)
