"""Put in order how a circuit answers: a load or a line steps, and statements of what follows are to be arranged.

The statements come from the circuit: the way round its loop (`loop.py`), which way each thing on it goes, and what the
answer costs elsewhere, by the rules of its laws and their rates (`moving.py`). Every order in which each statement
stands after those that it leans on is right.
Place in the data flow: circuit + step -> Posed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from string import ascii_uppercase

from tutor.across.bare_circuit import bare_recipe
from tutor.across.directions import directions, typical_values
from tutor.across.family import Posed, Refused, Setting, ShownLine
from tutor.across.loop import Influence, loops, output_of, sign_of, way_to_output
from tutor.across.points import arrangement_point, worded_step
from tutor.across.stated import WAYS, circuit_named, meaning_of
from tutor.across.stream import Stream
from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.generate.problem import SEPARATOR, TableRow
from tutor.plan.rule import Rule
from tutor.quantities.expression import Sym
from tutor.quantities.symbols import is_symbol
from tutor.solution.sheet import Recipe
from tutor.solution.solution import Chain, Check, Solution

KEY = "order"
PLACES = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
COSTS = ("I_Z", "I_OA", "P_Z", "P_Q", "P_Q_1", "P_D", "I_I", "P_I")  # where an answer is paid for, the nearest first
COSTS_TOLD = (4, 2, 1, 0)  # most statements on that, as many as leave orders few enough
MOST_ORDERS = 60
_LASTS = "By its relation, for as long as the step lasts."
_NUMBERS = {1: "One", 2: "Two", 3: "Three"}


@dataclass(frozen=True)
class Statement:
    """What happens to one thing: its words, why (for the solution), and the places of those it leans on."""

    words: str
    why: str
    leans: tuple[int, ...]
    thing: str = ""
    way: int = 0
    chain: Chain | None = None


@dataclass(frozen=True)
class Causes:
    """A level: one of the circuits, one of `steps` (I_L or V_I) either way, and `strangers` statements that are not so.

    What is asked is the order of those that are so.
    """

    about: str
    circuits: tuple[str, ...]
    steps: tuple[str, ...]
    strangers: int = 0

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        circuit = setting.desk.circuit(stream.pick("circuit", self.circuits))
        step, up = stream.pick("step", self.steps), stream.pick("way", (1, -1))
        region = circuit.regions[0]
        recipe = bare_recipe(setting.desk, circuit, region)
        if step not in recipe.known:
            return Refused(f"{circuit.id} has no {step}")
        for costs in COSTS_TOLD:
            story = story_of(circuit, recipe, step, up, costs)
            if story is None:
                return Refused(f"the step of {step} reaches no loop of {circuit.id}")
            if len(story) <= len(PLACES):
                orders = tuple(islice(_orders(story), MOST_ORDERS + 1))
                if len(orders) <= MOST_ORDERS:
                    return _posed(setting, stream, circuit, step, up, story, orders, self.strangers)
        return Refused("too many orders, or too long")


def story_of(circuit: Circuit, recipe: Recipe, step: str, up: int, costs: int) -> tuple[Statement, ...] | None:
    """The statements of a step's answer, each leaning on earlier ones, with up to `costs` on what the answer costs
    elsewhere; None where the step reaches no loop."""
    region = circuit.regions[0]
    found = loops(circuit, region)
    output = output_of(circuit)
    if not found or any(item.effect == step for item in found[0]):
        return None
    told: list[Statement] = [_opening(circuit, step, up)]
    if step == "I_L":
        taken = "The load takes it from the output" if up > 0 else "What the load leaves is too much for the output"
        told.append(_disturbed(output, -up, 0, f"{taken} before anything has answered."))
        begun = -up
    else:
        way = way_to_output(circuit, region, step)
        if not way:
            return None
        begun = up
        for item in way[:-1]:
            begun *= item.sign
            told.append(_answered(circuit, item, begun, len(told) - 1))
        begun *= way[-1].sign
        told.append(_disturbed(output, begun, len(told) - 1, _why(circuit, way[-1], begun)))
    sign = begun
    met = {item.thing for item in told}
    for item in found[0][:-1]:
        sign *= item.sign
        told.append(_answered(circuit, item, sign, len(told) - 1, again=item.effect in met))
    last = found[0][-1]
    rest = "lower" if begun < 0 else "higher"
    told.append(
        Statement(
            f"${output}$ settles, a hair {rest} than before or just where it was",
            f"{_why(circuit, last, -begun)} That goes on until the output needs no more.",
            (len(told) - 1,), output, 0,
        )
    )  # fmt: skip
    return (*told, *_costs(recipe, typical_values(circuit, recipe), told, step, up, costs))


def _opening(circuit: Circuit, step: str, up: int) -> Statement:
    if step == "I_L":
        words = f"The load takes {'more' if up > 0 else 'less'} current: $I_L$ {WAYS[up]}"
    else:
        words = f"The {meaning_of(step)} ${step}$ {WAYS[up]}"
    return Statement(words, "This comes from outside.", (), step, up)


def _disturbed(output: str, way: int, leans: int, why: str) -> Statement:
    goes = "fall" if way < 0 else "rise"
    return Statement(f"The output voltage ${output}$ begins to {goes}", why, (leans,), output, way)


def _answered(circuit: Circuit, item: Influence, way: int, leans: int, *, again: bool = False) -> Statement:
    thing = item.effect
    if again:
        words = f"The {meaning_of(thing)} ${thing}$ is brought back"
    else:
        words = f"The {meaning_of(thing)} ${thing}$ {WAYS[way]}"
    return Statement(words, _why(circuit, item, way), (leans,), thing, way)


def _why(circuit: Circuit, item: Influence, way: int) -> str:
    """Why an influence moves its effect `way`: what its part does."""
    cause, part = f"${item.cause}$", circuit.part(item.part)
    caused = way * item.sign
    moves = "rises" if caused > 0 else "falls"
    more = "more" if way > 0 else "less"
    if item.way == "divide":
        return f"${item.part}$ ties it to {cause}, which {moves}, and it goes the same way."
    if item.way == "drive" and part.kind is PartKind.RESISTOR:
        return f"{cause} {moves}, so ${item.part}$ has {more} voltage across it."
    if item.way == "drive" and part.kind in (PartKind.NPN, PartKind.PNP):
        return f"{cause} {moves}, so ${item.part}$ sees {more} voltage between base and emitter."
    if item.way == "drive" and part.kind is PartKind.ZENER:
        return f"{cause} {moves}, and the current of a zener in breakdown changes steeply with its voltage."
    if item.way == "drive" and part.kind is PartKind.SHUNT_REFERENCE:
        return f"Its pin stands {'above' if caused > 0 else 'below'} the reference voltage, so it takes {more}."
    if item.way == "drive":
        return f"{cause} {moves}, and the regulator compares it with its own reference."
    if item.way == "invert":
        return f"{cause}, at the inverting input, {moves}, and the output goes the other way."
    if item.way == "follow":
        return f"{cause}, at the non-inverting input, {moves}, and the output goes the same way."
    if item.way == "draw":
        taken = "more" if caused > 0 else "less"
        return f"{cause} {moves}: it takes {taken} of the current that comes to the node."
    return f"{cause} {moves}, and brings the node {more} current."


def _costs(
    recipe: Recipe, values: Mapping[str, float], told: Sequence[Statement], step: str, up: int,
    most: int,
) -> tuple[Statement, ...]:
    """What the answer costs elsewhere, by the rules: a quantity that moves for good, and what leads to it."""
    ways = {name: sign * up for name, sign in directions(recipe, values, step).items()}
    rules = {rule.target: rule for rule in recipe.rules}
    met = {item.thing: place for place, item in reversed(list(enumerate(told)))}
    for goal in COSTS:
        if goal in met or ways.get(goal, 0) == 0 or goal not in rules:
            continue
        behind = [name for name in _moving_behind(goal, rules, ways, step) if name not in met]
        if len(behind) > most or not behind:
            continue
        places = dict(met)
        found: list[Statement] = []
        for name in behind:
            leans = sorted({places[need] for need in _leaned_on(name, rules, ways, places, step)})
            expr = rules[name].expr
            places[name] = len(told) + len(found)
            words = f"The {meaning_of(name)} ${name}$ {WAYS[ways[name]]}"
            chain = None if expr is None else Chain(Sym(name), (("=", expr),))
            found.append(Statement(words, _LASTS, tuple(leans), name, ways[name], chain))
        return tuple(found)
    return ()


def _moving_behind(goal: str, rules: Mapping[str, Rule], ways: Mapping[str, int], step: str) -> list[str]:
    """What moves on the way to a quantity by the rules, in their order, the quantity last."""
    wanted, waiting = {goal}, [goal]
    while waiting:
        for need in rules[waiting.pop()].needs:
            if need in rules and need != step and ways.get(need, 0) != 0 and need not in wanted:
                wanted.add(need)
                waiting.append(need)
    return [name for name in rules if name in wanted]


def _leaned_on(
    name: str, rules: Mapping[str, Rule], ways: Mapping[str, int], places: Mapping[str, int], step: str
) -> set[str]:
    """Those with a place that a quantity moves by, through quantities without one."""
    found: set[str] = set()
    for need in rules[name].needs:
        if need in places and (need == step or ways.get(need, 0) != 0):
            found.add(need)
        elif need in rules and ways.get(need, 0) != 0:
            found |= _leaned_on(need, rules, ways, places, step)
    return found


def _orders(story: Sequence[Statement], taken: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Every order in which each statement stands after those it leans on."""
    if len(taken) == len(story):
        yield taken
        return
    for place, item in enumerate(story):
        if place not in taken and all(other in taken for other in item.leans):
            yield from _orders(story, (*taken, place))


def _strangers(circuit: Circuit, story: Sequence[Statement], stream: Stream, count: int) -> tuple[str, ...]:
    """Statements that are not so: a thing of the story that goes the other way."""
    fit = [item for item in story[2:] if _turned(item.words) != item.words and is_symbol(item.thing)]
    wrong = stream.some("strangers", fit, count)
    return tuple(_turned(item.words) for item in wrong)


def _turned(words: str) -> str:
    return words.replace("rises", "FALLS").replace("falls", "rises").replace("FALLS", "falls")


def _posed(
    setting: Setting, stream: Stream, circuit: Circuit, step: str, up: int, story: tuple[Statement, ...],
    orders: tuple[tuple[int, ...], ...], strangers: int,
) -> Posed:  # fmt: skip
    wrong = _strangers(circuit, story, stream, strangers)
    texts = stream.order("lines", [*(item.words for item in story), *wrong])
    letter = {text: ascii_uppercase[place] for place, text in enumerate(texts)}
    letters = [letter[item.words] for item in story]
    right = tuple(SEPARATOR.join(letters[place] for place in order) for order in orders)
    point = arrangement_point(
        KEY, "the order of the statements", tuple(letter.values()), PLACES[: len(story)], right
    )  # fmt: skip
    steps = "takes more current" if up > 0 else "takes less current"
    happens = f"the load suddenly {steps}" if step == "I_L" else f"the {meaning_of(step)} ${step}$ {WAYS[up]}"
    are = "is" if len(wrong) == 1 else "are"
    left = f" {_NUMBERS[len(wrong)]} of them {are} not so and {are} left out." if wrong else ""
    problem = setting.problem(
        circuit=circuit.stem,
        form=circuit.form,
        told=f"In the circuit drawn here ({circuit_named(circuit)}) {happens}.",
        ask=f"Put the statements in an order in which each stands after those that it leans on.{left}",
        table=(
            TableRow("what steps", step, WAYS[up]),
            TableRow("state before and after", "", circuit.regions[0].words),
        ),
        given={},
        waypoints=(point,),
    )
    told = [
        worded_step(
            item.words, item.why, f"Statement {letters[place]}.", KEY if place == len(story) - 1 else "",
            chains=(item.chain,) if item.chain is not None else (),
        )
        for place, item in enumerate(story)
    ]  # fmt: skip
    for text in wrong:
        why = "It goes the other way, as its own step above says."
        told.append(worded_step(text, why, f"Statement {letter[text]} is left out."))
    solution = Solution(
        problem.name, tuple(told), tuple(_checks(circuit, story, orders)), _BENCH, (), problem.cautions
    )
    lines = tuple(ShownLine(letter[text], f"{text}.") for text in texts)
    return Posed(problem, solution, lines, "The statements, in no order")


_BENCH = (
    "Nothing here happens first and is put right afterwards: all voltages settle together, within microseconds, and "
    "the order is that of reasons."
)


def _checks(circuit: Circuit, story: Sequence[Statement], orders: Sequence[tuple[int, ...]]) -> Iterator[Check]:
    """That the loop opposes what it answers, and that in the order told all leans on what stands before."""
    output = output_of(circuit)
    begun = next(item for item in story if item.thing == output and item.way != 0)
    sign = sign_of(loops(circuit, circuit.regions[0])[0])
    goes, back = ("fall", "up") if begun.way < 0 else ("rise", "down")
    yield Check(f"Round the loop once, what began to {goes} is brought {back} again", sign < 0, "")
    ordered = all(other < place for place, item in enumerate(story) for other in item.leans)
    count = len(orders)
    told = "there is one such order" if count == 1 else f"there are {count} such orders"
    yield Check(f"Each statement stands after those it leans on; {told}", ordered and count > 0, "")
