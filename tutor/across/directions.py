"""Which way does it go: one thing in a circuit moves, and of some quantities it is asked whether they rise or fall.

What is right comes from the circuit: every quantity is worked out from the free parameters, by the rules of its laws,
with its rate of change (`moving.py`); "stays" is a rate of exactly nothing. The reason beside it is the rule: what on
its right side moves, and which way that pulls.
Place in the data flow: circuit + what moves -> Posed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tutor.across.bare_circuit import bare_recipe
from tutor.across.family import Posed, Refused, Setting
from tutor.across.moving import Moving, followed, pulls, way
from tutor.across.points import state_point, worded_step
from tutor.across.stated import WAYS, capitalised, circuit_named, meaning_of
from tutor.across.stream import Stream
from tutor.circuit.circuit import Circuit, Region
from tutor.generate.problem import Remark, TableRow, Waypoint
from tutor.laws.derive import derive, load_model
from tutor.plan.rule import Rule, apply_rules
from tutor.plan.states import region_fails, turned
from tutor.quantities.expression import Sym
from tutor.quantities.formula import formula_text
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for
from tutor.solution.sheet import Recipe
from tutor.solution.sheets import shift
from tutor.solution.solution import Chain, Check, Solution, WorkedStep

MOVES = {1: "rises a little", -1: "falls a little"}
WORLDS = 4  # operating points near the typical one at which every direction must be the same
LINES = (1.0, 0.85, 0.7, 0.55, 0.4, 0.25)
LOADS = (1.0, 0.5, 2.0, 4.0)
STEP = 0.01  # of a value, by which the closing check moves what moves


@dataclass(frozen=True)
class Belief:
    """A belief that leads to a wrong direction: of `quantity` where `mover` moves `way`, in those circuits and states
    (all when none is named); `says` is the direction that it leads to."""

    id: str
    quantity: str
    mover: str
    way: int
    says: str
    name: str
    why: str
    hint: str
    reference: tuple[str, ...] = ()
    circuits: tuple[str, ...] = ()
    states: tuple[str, ...] = ()

    def speaks_of(self, move: _Move, quantity: str) -> bool:
        """Whether it is met at that place."""
        here = not self.circuits or move.circuit.id in self.circuits
        here = here and (not self.states or move.region.id in self.states)
        return here and (self.quantity, self.mover, self.way) == (quantity, move.mover, move.moved)


@dataclass(frozen=True)
class Directions:
    """A level: `asked` quantities of one of the circuits (forms by their own ids), one of `movers` moving either way.

    `states` names the regions to draw from by circuit, the usual one where it names none; `leaning` takes the zener as
    a sloping line. At `clashes` a quantity may be asked that is pulled both ways.
    """

    about: str
    circuits: tuple[str, ...]
    movers: tuple[str, ...]
    asked: int
    states: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    leaning: bool = False
    clashes: bool = False
    beliefs: tuple[Belief, ...] = ()

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        circuit = setting.desk.circuit(stream.pick("circuit", self.circuits))
        usual = circuit.regions[0].id
        region = circuit.region(stream.pick("state", self.states.get(circuit.id, (usual,))))
        recipe = bare_recipe(setting.desk, circuit, region, leaning=self.leaning)
        values = sensible_values(circuit, region, recipe)
        if values is None:
            return Refused(f"no sensible values put {circuit.id} into the state {region.id}")
        movers = [name for name in self.movers if name in values and values[name] != 0]
        if not movers:
            return Refused("nothing of what may move is in this circuit")
        mover = stream.pick("mover", movers)
        moved = stream.pick("way", (1, -1))
        found = directions(recipe, values, mover)
        move = _Move(circuit, region, recipe, values, mover, moved, found)
        asked = self._asked(move, stream)
        if len(asked) < self.asked or len({found[name] for name in asked}) < 2:
            return Refused("too few quantities, or all go one way")
        return _posed(setting, move, asked, self.beliefs)

    def _asked(self, move: _Move, stream: Stream) -> tuple[str, ...]:
        """What is asked, in the order in which the rules give it: something that stays, something that moves; of each
        what a belief is known about before the rest."""
        near = followed(move.recipe.rules, move.values, move.mover)
        rules = {rule.target: rule for rule in move.recipe.rules}
        fit = [
            name
            for name in rules
            if name in move.rises and name in move.circuit.report and name not in _edges(move.circuit)
            and (self.clashes or not _clash(rules[name], near))
        ]  # fmt: skip
        still = self._some(move, stream, "still", [name for name in fit if move.rises[name] == 0], self.asked // 2)
        moving = [name for name in fit if move.rises[name] != 0]
        taken = {*still, *self._some(move, stream, "moving", moving, self.asked - len(still))}
        return tuple(name for name in fit if name in taken)

    def _some(self, move: _Move, stream: Stream, slot: str, names: Sequence[str], count: int) -> tuple[str, ...]:
        believed = [name for name in names if any(item.speaks_of(move, name) for item in self.beliefs)]
        first = stream.some(f"{slot} believed", believed, count)
        rest = [name for name in names if name not in first]
        return (*first, *stream.some(slot, rest, count - len(first)))


@dataclass(frozen=True)
class _Move:
    """A circuit in a region with one thing that moves `moved`, and which way a rise of it takes the rest."""

    circuit: Circuit
    region: Region
    recipe: Recipe
    values: Mapping[str, float]
    mover: str
    moved: int
    rises: Mapping[str, int]

    def way_of(self, name: str) -> int:
        """Which way a quantity goes here."""
        return self.moved if name == self.mover else self.moved * self.rises.get(name, 0)


def typical_values(circuit: Circuit, recipe: Recipe) -> dict[str, float]:
    """One sensible operating point: values (SI) for what the recipe starts from, as far as the circuit tells them."""
    told = {**circuit.defaults, **circuit.typical}
    if "V_Z0" in told:
        told.setdefault("V_Z", told["V_Z0"])
    return {name: told[name] for name in recipe.known if name in told}


def sensible_values(circuit: Circuit, region: Region, recipe: Recipe) -> dict[str, float] | None:
    """The typical values (SI), line lowered and load raised as far as the region asks for; None where none do."""
    typical = typical_values(circuit, recipe)
    laws = derive(circuit, region, load_model(recipe.known), with_slopes=False)
    for load in LOADS:
        for line in LINES:
            factors = {"I_L": load, "V_I": line, "V_OC": line}
            values = {name: float(f"{value * factors.get(name, 1.0):.3g}") for name, value in typical.items()}
            all_values = {**circuit.defaults, **apply_rules(recipe.rules, values)}
            if region_fails(laws, all_values) is None and turned(all_values) is None:
                return values
    return None


def directions(recipe: Recipe, values: Mapping[str, float], mover: str) -> dict[str, int]:
    """Which way each quantity goes as `mover` rises (1, 0, -1), for all that go the same way at every operating point
    near `values` (SI)."""
    found: dict[str, int] = {}
    worlds = [dict(values)]
    worlds += [
        {name: float(f"{value * shift(place, world):.6g}") for place, (name, value) in enumerate(values.items())}
        for world in range(WORLDS)
    ]
    for place, world in enumerate(worlds):
        here = {name: way(value) for name, value in followed(recipe.rules, world, mover).items() if name not in values}
        found = here if place == 0 else {name: sign for name, sign in found.items() if here.get(name) == sign}
    return found


def _edges(circuit: Circuit) -> set[str]:
    """Letters that speak of no operating point of their own: slopes, what-ifs, edges."""
    found = {item.symbol for item in circuit.slopes} | {item.symbol for item in circuit.what_ifs}
    return found | {item.symbol for item in circuit.edges}


def _clash(rule: Rule, values: Mapping[str, Moving]) -> bool:
    """Whether what moves on the right side of a rule pulls both ways."""
    if rule.expr is None:
        return True
    return len({rate > 0 for rate in pulls(rule.expr, values).values()}) > 1


def _posed(setting: Setting, move: _Move, asked: tuple[str, ...], beliefs: Iterable[Belief]) -> Posed:
    circuit, mover = move.circuit, move.mover
    held = [name for name in move.recipe.known if name in move.values and name not in (mover, *circuit.defaults)]
    standing = [name for name in move.recipe.known if name in circuit.defaults and name != mover]
    problem = setting.problem(
        circuit=circuit.stem,
        form=circuit.form,
        told=f"In the circuit drawn here ({circuit_named(circuit)}) the {meaning_of(mover)} ${mover}$ "
        f"{MOVES[move.moved]}. All else that was chosen or set stays as it is, and so does the state: "
        f"{move.region.words}.",
        ask="Say of each quantity whether it rises, falls or stays.",
        table=(
            TableRow("what moves", mover, MOVES[move.moved]),
            TableRow("what is held", "", listed([f"${name}$" for name in (*held, *standing)])),
            *(TableRow("zener", "", words) for words in _zeners_told(move)),
        ),
        given={},
        waypoints=tuple(_waypoint(move, name, beliefs) for name in asked),
    )
    steps = tuple(_step(move, rule, asked) for rule in _behind(move, asked))
    solution = Solution(problem.name, steps, _checks(move, asked), _BENCH, (), problem.cautions)
    return Posed(problem, solution)


_BENCH = (
    "What stays on paper moves by a hair on a bench: a zener has a slope, a junction needs a little more voltage for "
    "more current, and everything warms up."
)


def _zeners_told(move: _Move) -> Iterator[str]:
    """What is taken of each zener: straight, or a line that leans."""
    for name in move.recipe.known:
        base, _, end = name.partition("_Z0")
        if name == "V_Z":
            yield "its voltage $V_Z$ does not depend on its current"
        elif base == "V" and f"r_z{end}" in move.recipe.known:
            yield f"its voltage rises a little with its current: $V_Z{end} = {name} + r_z{end}*I_Z{end}$"


def _waypoint(move: _Move, name: str, beliefs: Iterable[Belief]) -> Waypoint:
    right = WAYS[move.way_of(name)]
    known = {
        item.says: item
        for item in beliefs
        if item.speaks_of(move, name) and item.says != right
    }
    rule = next(rule for rule in move.recipe.rules if rule.target == name)
    remarks = []
    for option in WAYS.values():
        if option in known:
            item = known[option]
            remarks.append(Remark(option, item.why, item.hint, item.id, item.name, item.reference))
        elif option != right:
            remarks.append(Remark(option, "", _hint(rule)))
    return state_point(name, f"${name}$, the {meaning_of(name)}", tuple(WAYS.values()), right, remarks)


def _hint(rule: Rule) -> str:
    if rule.expr is None:
        return "What sets it? Write its relation down, and see what in it moves."
    return f"${rule.target} = {formula_text(rule.expr)}$: what on the right side moves, and which way does that pull?"


def _behind(move: _Move, asked: Sequence[str]) -> list[Rule]:
    """The rules that lead from what moves and what is held to what is asked, in their order."""
    rules = {rule.target: rule for rule in move.recipe.rules}
    needed: set[str] = set()
    waiting = [*asked]
    while waiting:
        name = waiting.pop()
        if name in rules and name not in needed:
            needed.add(name)
            waiting += rules[name].needs
    return [rule for rule in move.recipe.rules if rule.target in needed]


def _step(move: _Move, rule: Rule, asked: Sequence[str]) -> WorkedStep:
    name = rule.target
    right = WAYS[move.way_of(name)]
    chains = (Chain(Sym(name), (("=", rule.expr),)),) if rule.expr is not None else ()
    title = f"{capitalised(meaning_of(name))} ${name}$"
    text = f"{_reason(move, rule)}: ${name}$ {right}."
    return worded_step(title, "", text, name if name in asked else "", chains=chains)


def _reason(move: _Move, rule: Rule) -> str:
    """What on the right side of a rule moves, and what that does to its left side."""
    moving = [name for name in rule.needs if move.way_of(name) != 0]
    if not moving:
        return "On the right side nothing moves" if rule.needs else "In this state it is fixed"
    said = listed([f"${name}$ {WAYS[move.way_of(name)]}" for name in moving])
    values = followed(move.recipe.rules, move.values, move.mover)
    rates = {} if rule.expr is None else {
        name: rate * move.moved for name, rate in pulls(rule.expr, values).items()
    }  # fmt: skip
    up, down = ([name for name, rate in rates.items() if (rate > 0) == upwards] for upwards in (True, False))
    if not up or not down:
        rest = " and the rest stays" if len(moving) < len(rule.needs) else ""
        return f"On the right side {said}{rest}"
    strength = [sum(abs(float(rates[name])) for name in names) for names in (up, down)]
    if move.way_of(rule.target) == 0:
        return f"On the right side {said}, and the two cancel"
    stronger, weaker = (up, down) if strength[0] > strength[1] else (down, up)
    ratio = max(strength) / min(strength)
    by = "" if ratio < 1.05 else f" ({write(ratio, '', 2)} to 1 at usual values)"
    names = (listed([f"${name}$" for name in pair]) for pair in (stronger, weaker))
    return "On the right side {}; the pull of {} outdoes that of {}{}".format(said, *names, by)


def _checks(move: _Move, asked: Sequence[str]) -> tuple[Check, ...]:
    """Each direction tried with numbers: usual values, and what moves moved by a hundredth of itself."""
    before = apply_rules(move.recipe.rules, move.values)
    shifted = {**move.values, move.mover: move.values[move.mover] * (1 + move.moved * STEP)}
    after = apply_rules(move.recipe.rules, shifted)
    from_to = " to ".join(_figures(world[move.mover], move.mover) for world in (before, after))
    found = []
    for name in asked:
        change = after[name] - before[name]
        seen = 0 if abs(change) <= 1e-9 * max(abs(before[name]), 1e-12) else 1 if change > 0 else -1
        goes = (
            f"stays at {_figures(before[name], name)}"
            if seen == 0
            else f"goes from {_figures(before[name], name)} to {_figures(after[name], name)}"
        )
        text = f"With usual values and ${move.mover}$ from {from_to}, ${name}$ {goes}"
        found.append(Check(text, seen == move.way_of(name), ""))
    return tuple(found)


def _figures(value: float, name: str) -> str:
    return write(value, symbol_for(name).unit, 5)
