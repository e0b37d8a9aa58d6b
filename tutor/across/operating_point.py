"""Any netlist with numbers, healthy or not: the operating points it can rest at.

Vocabulary: a *state* of a part is a region of the table of parts, or one of `further_states.py`; with a state chosen
for each part all laws are straight lines, and the circuit is a set of linear equations. A choice is kept when what must
hold in its states holds. A *point* is what it comes to. A circuit may have no point (two sources against each other),
one, or several (a loop that latches); whoever asks must reckon with each.
Every node leaks a little to ground, so that one that hangs in the air stands at 0 V, as a meter would show it.
Place in the data flow: parts (edited by a fault or by a learner's connections) + values -> operating points.
Source: nodal analysis with the currents of parts as further unknowns; straight-line part models by trial of states.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import product

import numpy as np

from tutor.across.further_states import DRIVES, FURTHER_BOUNDS, states_of
from tutor.across.straight import Straight, filled, sides, unknown
from tutor.circuit.circuit import GROUND
from tutor.circuit.component import PartKind, PartRegion
from tutor.circuit.components import COMPONENTS
from tutor.circuit.netlist import Part
from tutor.errors import BadCircuit

LEAK = 1e-10  # siemens, from each node to ground
FORWARD = 0.7  # volts, of a zener the wrong way round where no V_F is told
# Slack of what must hold. For a current it must stay below what a leak carries through the gains of two transistors.
SLACK_VOLTS, SLACK_AMPERES = 1e-9, 1e-15
SAME_POINT = 1e-4  # volts between two points at which they are one, met at the border of two states
FIGURES = 12
STEADY = 1e-6  # of what answers a drive: an answer smaller than this is none
LEAST_PIVOT = 1e-13  # of the largest coefficient of an equation; a leak is a thousand times that
# Of the laws that a kind of part has in every state, those that a square set of equations takes; the others say the
# same or speak of powers.
LAWS: Mapping[PartKind, tuple[str, ...]] = {
    PartKind.RESISTOR: ("ohm",),
    PartKind.LOAD: ("ohm",),
    PartKind.ZENER: ("slope",),
    PartKind.NPN: ("drop", "sum"),
    PartKind.PNP: ("drop", "sum"),
    PartKind.AMPLIFIER: ("headroom",),
    PartKind.THREE_TERMINAL: ("sum",),
}
SAID_TWICE = frozenset({"emitter-gain"})


@dataclass(frozen=True)
class OperatingPoint:
    """Node -> volts against ground; (part, role) -> amperes; part -> the state that it is in."""

    volts: Mapping[str, float]
    currents: Mapping[tuple[str, str], float]
    states: Mapping[str, str]


def operating_points(parts: Sequence[Part], values: Mapping[str, float]) -> tuple[OperatingPoint, ...]:
    """Every point the parts can rest at, part values by letter symbol (SI); none where the laws contradict each other.

    A load holds its R_L where that is told, else its I_L; an amplifier is ideal. BadCircuit where a part has no value.
    """
    return _Netlist(tuple(_placed(part, values) for part in parts)).points()


@dataclass(frozen=True)
class _State:
    """A part in one of its states: what equals nothing there, and what must not be negative, with its slack."""

    id: str
    zeros: tuple[Straight, ...]
    positive: tuple[tuple[Straight, float], ...]
    drive: tuple[Straight, Straight] | None


@dataclass(frozen=True)
class _Placed:
    """A part with its values: what of it is the same whatever the rest of the circuit is like."""

    name: str
    kind: PartKind
    nodes: tuple[str, ...]
    letters: tuple[tuple[str, str], ...]
    values: tuple[tuple[str, float], ...]

    @cached_property
    def terminals(self) -> dict[str, str]:
        return dict(zip(COMPONENTS[self.kind].terminals, self.nodes, strict=True))

    @cached_property
    def told(self) -> dict[str, float]:
        """Role -> value, of the roles that have one."""
        values = dict(self.values)
        return {role: values[letter] for role, letter in self.letters if letter in values}

    def role_of(self, name: str) -> Straight:
        """What a terminal or role is: a number, or an unknown."""
        if name in self.terminals:
            node = self.terminals[name]
            return Straight() if node == GROUND else unknown(f"v {node}")
        if name == "forward":
            return Straight(dict(self.values).get("V_F", FORWARD))
        if name in self.told and not self.flows(name):
            return Straight(self.told[name])
        return unknown(f"i {self.name} {name}")

    def flows(self, role: str) -> bool:
        """Whether a role is a current that the circuit settles, even where somebody told one of that letter."""
        if self.kind is PartKind.LOAD:
            return role == "current" and "resistance" in self.told
        held = {(PartKind.SHUNT_REFERENCE, "pin"), (PartKind.THREE_TERMINAL, "pin")}
        return any(role == flow for flow, _, _ in COMPONENTS[self.kind].flows) and (self.kind, role) not in held

    @cached_property
    def currents(self) -> tuple[tuple[str, str, Straight], ...]:
        """Role, node and what leaves the node there."""
        found = []
        for role, terminal, into in COMPONENTS[self.kind].flows:
            current = self.role_of(role)
            found.append((role, self.terminals[terminal], -current if into else current))
        return tuple(found)

    @cached_property
    def always(self) -> tuple[Straight, ...]:
        """What equals nothing in every state."""
        found = []
        if self.kind is PartKind.SOURCE:
            found.append(self.role_of("a") - self.role_of("b") - self.role_of("voltage"))
        # A load that draws a fixed current has no resistance, a straight zener no slope.
        needed = {"slope": "slope"} if self.kind is PartKind.ZENER else {"ohm": "resistance"}
        for law in COMPONENTS[self.kind].laws:
            if law.id in LAWS.get(self.kind, ()) and (law.id not in needed or needed[law.id] in self.told):
                left, right, _ = sides(law.formula, self.role_of)
                found.append(left - right)
        return tuple(found)

    @cached_property
    def states(self) -> tuple[_State, ...]:
        return tuple(
            self.state(state)
            for state in states_of(self.kind)
            if not any(self.lacks(law.formula) for law in state.laws)
        )

    def lacks(self, formula: str) -> bool:
        """Whether a formula speaks of a role that only some parts of the kind have, and this one was told none."""
        optional = [role for role, letter in COMPONENTS[self.kind].roles.items() if not letter]
        return any(f"[{role}]" in formula for role in optional if role not in self.told)

    def state(self, state: PartRegion) -> _State:
        """A state as straight lines in the unknowns."""
        zeros = []
        for law in state.laws:
            if law.id not in SAID_TWICE:
                left, right, _ = sides(law.formula, self.role_of)
                zeros.append(left - right)
        positive = []
        for bound in (*state.holds, *FURTHER_BOUNDS.get((self.kind, state.id), ())):
            if self.lacks(bound):
                continue
            left, right, relation = sides(bound, self.role_of)
            over = left - right if relation == ">=" else right - left
            slack = SLACK_AMPERES if any(self.is_current(name) for name in over.slopes) else SLACK_VOLTS
            positive.append((over, slack))
        drive = DRIVES.get((self.kind, state.id))
        pushed: tuple[Straight, Straight] | None = None
        if drive is not None:
            left, right, _ = sides(drive[0], self.role_of)
            pushed = (left - right, filled(drive[1], self.role_of))
        return _State(state.id, tuple(zeros), tuple(positive), pushed)

    def is_current(self, name: str) -> bool:
        """Whether an unknown is one of this part's currents, and no voltage."""
        return any(name == f"i {self.name} {role}" for role, _, _ in COMPONENTS[self.kind].flows)


@lru_cache(maxsize=2048)  # of a circuit's faults each leaves all parts but one as they are
def _kept(part: _Placed) -> _Placed:
    return part


def _placed(part: Part, values: Mapping[str, float]) -> _Placed:
    letters = tuple((role, letter) for role, letter in part.symbols.items() if letter)
    wanted = {"V_F", *(letter for _, letter in letters)}
    told = tuple((letter, values[letter]) for letter in sorted(wanted) if letter in values)
    return _kept(_Placed(part.name, part.kind, part.nodes, letters, told))


@dataclass(frozen=True)
class _Netlist:
    parts: tuple[_Placed, ...]

    @cached_property
    def nodes(self) -> tuple[str, ...]:
        found = dict.fromkeys(node for part in self.parts for node in part.nodes)
        return tuple(node for node in found if node != GROUND)

    @cached_property
    def always(self) -> list[Straight]:
        """What equals nothing in every state: current laws, sources, the laws of parts."""
        leaving = {node: {f"v {node}": LEAK} for node in self.nodes}
        fixed = dict.fromkeys(self.nodes, 0.0)
        for part in self.parts:
            for _, node, current in part.currents:
                if node != GROUND:
                    fixed[node] += current.constant
                    for name, slope in current.slopes.items():
                        leaving[node][name] = leaving[node].get(name, 0.0) + slope
        balances = [Straight(fixed[node], slopes) for node, slopes in leaving.items()]
        return [*balances, *(line for part in self.parts for line in part.always)]

    def points(self) -> tuple[OperatingPoint, ...]:
        choosing = [part for part in self.parts if part.states]
        options = [part.states for part in choosing]
        common = self.always
        lines = [*common, *(line for states in options for state in states for line in state.zeros)]
        names = sorted({name for line in lines for name in line.slopes})
        place = {name: index for index, name in enumerate(names)}
        base = _rows(common, place)
        blocks = [[_rows(state.zeros, place) for state in states] for states in options]
        choices = list(product(*(range(len(states)) for states in options)))
        systems = np.array(
            [np.vstack([base, *(block[taken] for block, taken in zip(blocks, way, strict=True))]) for way in choices]
        )
        if systems.shape[1] != len(names):
            every = ", ".join(part.name for part in self.parts)
            raise BadCircuit(
                f"a circuit of {every}: {systems.shape[1]} equations for {len(names)} unknowns; some part has no value"
            )
        found: list[OperatingPoint] = []
        for choice, solved in zip(choices, _solved(systems), strict=True):
            if solved is None:
                continue
            values = dict(zip(names, solved.tolist(), strict=True))
            states = [options[index][taken] for index, taken in enumerate(choice)]
            if all(over.at(values) >= -slack for state in states for over, slack in state.positive) and all(
                self.answers(common, states, state, place) for state in states if state.drive is not None
            ):
                named = {part.name: state.id for part, state in zip(choosing, states, strict=True)}
                found.append(self.point(values, named))
        return _distinct(found)

    def answers(
        self, common: list[Straight], states: Sequence[_State], driving: _State, place: Mapping[str, int]
    ) -> bool:
        """Whether what a part drives comes back to it turned over: the others as they are, its drive raised."""
        assert driving.drive is not None
        raised, seen = driving.drive
        rest = [line for state in states if state is not driving for line in state.zeros]
        lines = [Straight(0.0, line.slopes) for line in (*common, *rest)]
        solved = _solved(_rows([*lines, raised], place)[None])[0]
        if solved is None:
            return False
        values = {name: float(solved[index]) for name, index in place.items()}
        return Straight(0.0, seen.slopes).at(values) < -STEADY

    def point(self, values: Mapping[str, float], states: Mapping[str, str]) -> OperatingPoint:
        volts = {node: _rounded(values[f"v {node}"]) for node in self.nodes}
        currents: dict[tuple[str, str], float] = {}
        for part in self.parts:
            for role, _, _ in part.currents:
                currents[part.name, role] = _rounded(part.role_of(role).at(values))
        return OperatingPoint({GROUND: 0.0, **volts}, currents, states)


def _rows(lines: Sequence[Straight], place: Mapping[str, int]) -> np.ndarray:
    """Coefficients, and in the last column what they must come to."""
    found = np.zeros((len(lines), len(place) + 1))
    for row, line in enumerate(lines):
        for name, slope in line.slopes.items():
            found[row, place[name]] = slope
        found[row, -1] = -line.constant
    return found


def _solved(systems: np.ndarray) -> list[np.ndarray | None]:
    """Each system solved by elimination with row exchange (Gauss and Jordan), in + − × ÷ alone, so that every machine
    gives the same bits; None where it has no single solution."""
    work = systems.copy()
    count, size = work.shape[:2]
    good = np.ones(count, dtype=bool)
    every = np.arange(count)
    scale = np.abs(work[:, :, :-1]).max(axis=2)
    good &= scale.min(axis=1) > 0
    work /= np.where(scale > 0, scale, 1.0)[:, :, None]
    for column in range(size):
        best = np.abs(work[:, column:, column]).argmax(axis=1) + column
        taken = work[every, best]
        work[every, best] = work[:, column]
        pivot = taken[:, column]
        usable = np.abs(pivot) > LEAST_PIVOT
        good &= usable
        taken = taken / np.where(usable, pivot, 1.0)[:, None]
        work[:, column] = 0.0
        work[:, :, column:] -= work[:, :, column, None] * taken[:, None, column:]
        work[:, column] = taken
    found = work[:, :, -1]
    return [found[index] if good[index] else None for index in range(count)]


def _distinct(points: Sequence[OperatingPoint]) -> tuple[OperatingPoint, ...]:
    """Points met twice, at the border of two states, kept once."""
    found: list[OperatingPoint] = []
    for point in points:
        if not any(_same(point, other) for other in found):
            found.append(point)
    return tuple(found)


def _same(one: OperatingPoint, other: OperatingPoint) -> bool:
    return all(abs(volts - other.volts[node]) < SAME_POINT for node, volts in one.volts.items())


def _rounded(value: float) -> float:
    return float(f"{value:.{FIGURES}g}") + 0.0
