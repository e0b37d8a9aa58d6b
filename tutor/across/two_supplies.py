"""Two supplies and the readings of each: their figures, what is asked of them, and how each is worked out.

The readings come from the circuit's own relations, rounded as a meter shows them; what is asked is worked out from the
readings as printed, by relations derived from the circuit, forwards and backwards. Quantities of supply A carry the
index 1, those of supply B the index 2.
Place in the data flow: draws -> readings of two supplies -> figures of each -> waypoints and steps -> `comparing.py`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from tutor.across.bare_circuit import bare_recipe, recipe_from
from tutor.across.points import state_point, worded_step
from tutor.across.stated import capitalised, uncapitalised
from tutor.across.stream import Stream
from tutor.circuit.circuit import Circuit, Composite
from tutor.generate.level_run import APART, TOLERANCE
from tutor.generate.problem import Remark, SlipValue, TableRow, Waypoint, WaypointKind
from tutor.plan.rule import Rule, apply_rules
from tutor.quantities.expression import Expr, Sym, evaluate
from tutor.quantities.formula import read_expression
from tutor.quantities.quantity import Quantity, as_printed, given, round_figures, write
from tutor.quantities.relation_form import relation_form
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import Desk
from tutor.solution.numbers import Writing, line
from tutor.solution.solution import Check, WorkedStep

SUPPLY = "source"  # the circuit both are of
OPTIONS = ("supply A", "supply B")
LEAST, MOST = 0.01, 0.35  # regulation of any of these supplies
CLEAR = 1.15  # times: two figures nearer than this are no verdict
FIGURES = 4  # of a meter
LEAST_VOLTS = 5.0
ALIKE = 1.6  # times: voltages further apart are of supplies nobody would compare
BACK = 0.005  # of a reading, within which it comes back from printed results
VOLTS = tuple(step / 20 for step in range(120, 601))
OHMS = (0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0)
LOADS = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
CONVENTION = {"load-regulation": "full-load"}
FROM_READINGS = ("V_OC", "V_I", "I_I")
FROM_ALLOWED = ("V_OC", "R_S", "REG_LOAD")
BENCH = (
    "A small change is the difference of two near readings: read both on one range of one meter, and with the supply "
    "warm, since its resistance rises as its windings do."
)


@dataclass(frozen=True)
class WrongRoute:
    """A slip: what `target` comes to by a wrong `formula` in the circuit's letters; `reference` in the trade's list."""

    id: str
    target: str
    formula: str
    name: str
    why: str
    hint: str
    reference: tuple[str, ...] = ()


@dataclass(frozen=True)
class Misjudged:
    """A belief that leads to a wrong verdict: its name, why it is wrong, a question."""

    id: str
    name: str
    why: str
    hint: str
    reference: tuple[str, ...] = ()


@dataclass(frozen=True)
class Relations:
    """The relations of a supply: from its parts to readings, from readings to figures, from an allowed figure back."""

    circuit: Circuit
    parts: tuple[Rule, ...]
    readings: tuple[Rule, ...]
    allowed: tuple[Rule, ...]

    def rule(self, rules: Iterable[Rule], target: str) -> Expr:
        """The relation for a quantity."""
        found = next(rule.expr for rule in rules if rule.target == target)
        assert found is not None
        return found

    def composite(self, name: str) -> Composite:
        """A relation of the circuit by its id, with its title and reason."""
        return next(item for item in self.circuit.composites if item.id == name)


def relations(desk: Desk) -> Relations:
    """Those of the circuit that both supplies are of."""
    circuit = desk.circuit(SUPPLY)
    region = circuit.regions[0]
    return Relations(
        circuit,
        bare_recipe(desk, circuit, region).rules,
        recipe_from(desk, circuit, region, FROM_READINGS).rules,
        recipe_from(desk, circuit, region, FROM_ALLOWED).rules,
    )


@dataclass(frozen=True)
class Supply:
    """One of the two: its place (1, 2) and what the meters show (SI)."""

    place: int
    read: Mapping[str, float]
    laws: Relations

    @property
    def name(self) -> str:
        """What it is called: the option that names it."""
        return OPTIONS[self.place - 1]

    @cached_property
    def figures(self) -> dict[str, float]:
        """All that follows from its readings."""
        return apply_rules(self.laws.readings, self.read)

    def key(self, name: str) -> str:
        """A quantity of this supply: V_I_1, I_I_1_MAX."""
        stem, end = (name[:-4], name[-4:]) if name[-4:] in ("_MIN", "_MAX") else (name, "")
        return f"{stem}_{self.place}{end}"

    def at_most(self, allowed: float) -> dict[str, float]:
        """All that follows where its regulation is just what is allowed."""
        start = {"V_OC": self.read["V_OC"], "R_S": self.figures["R_S"], "REG_LOAD": allowed}
        return apply_rules(self.laws.allowed, start)

    def loaded(self, current: float) -> dict[str, float]:
        """All that follows where it delivers a current."""
        start = {"V_OC": self.read["V_OC"], "R_S": self.figures["R_S"], "I_I": current}
        return apply_rules(self.laws.parts, start)


def drawn_supply(laws: Relations, stream: Stream, place: int, load: float) -> Supply | None:
    """A supply read without load and at `load`, of a resistance that leaves it within the range asked about; None where
    no resistance does."""
    volts = stream.pick(f"voltage {place}", VOLTS)
    fit = []
    for ohms in OHMS:
        parts = {"V_OC": volts, "R_S": ohms, "I_I": load}
        shown = round_figures(apply_rules(laws.parts, parts)["V_I"], FIGURES)
        supply = Supply(place, {"V_OC": volts, "V_I": shown, "I_I": load}, laws)
        if shown >= LEAST_VOLTS and LEAST <= supply.figures["REG_LOAD"] <= MOST:
            fit.append(supply)
    return stream.pick(f"resistance {place}", fit) if fit else None


def apart(pair: Sequence[Supply], name: str) -> bool:
    """Whether a figure of the two differs clearly."""
    one, other = (supply.figures[name] for supply in pair)
    return max(one, other) >= CLEAR * min(one, other)


def alike(pair: Sequence[Supply]) -> bool:
    """Whether their voltages are near enough for anybody to compare the two."""
    one, other = (supply.read["V_OC"] for supply in pair)
    return max(one, other) <= ALIKE * min(one, other)


def smaller(pair: Sequence[Supply], name: str) -> Supply:
    """The one with the smaller figure."""
    return min(pair, key=lambda supply: supply.figures[name])


def value_point(
    key: str, value: float, prompt: str, target: str, values: Mapping[str, float], routes: Iterable[WrongRoute]
) -> Waypoint:
    """A waypoint for a value with the slips that can be told from it."""
    slips = []
    for route in routes:
        if route.target == target:
            wrong = float(evaluate(read_expression(route.formula), values))
            if math.isfinite(wrong) and wrong > 0 and abs(wrong - value) >= APART * abs(value):
                slips.append(SlipValue(route.id, wrong, route.name, route.why, route.hint, route.reference))
    unit, band = symbol_for(key).unit, TOLERANCE * abs(value)
    answer = Quantity(value, unit)
    return Waypoint(key, WaypointKind.VALUE, prompt, answer, value - band, value + band, (), (), "", tuple(slips))


def verdict_point(
    key: str, prompt: str, options: tuple[str, ...], right: str, said: Mapping[str, Sequence[Misjudged]],
    reasons: Mapping[str, str], question: str = "Put the two figures side by side: which is the smaller?",
) -> Waypoint:  # fmt: skip
    """A waypoint for a verdict: of each wrong option the beliefs that lead to it, joined, or what the figures say."""
    remarks = []
    for option in options:
        if option != right:
            beliefs = said.get(option, ())
            why = " ".join([*(item.why for item in beliefs), reasons[option]])
            hint = " ".join(item.hint for item in beliefs) or question
            ids, names = " ".join(item.id for item in beliefs), ", or ".join(item.name for item in beliefs)
            references = tuple(dict.fromkeys(name for item in beliefs for name in item.reference))
            remarks.append(Remark(option, why, hint, ids, names, references))
    return state_point(key, prompt, options, right, remarks)


def reading_rows(pair: Sequence[Supply], *, loaded: str, common: bool = False) -> Iterator[TableRow]:
    """What the meters show of each; with `common` the load, the same for both, in a row of its own."""
    for supply in pair:
        name = supply.name
        yield _row(f"{name} without load", supply.key("V_OC"), supply.read["V_OC"])
        yield _row(f"{name} at {loaded}", supply.key("V_I"), supply.read["V_I"])
        if not common:
            yield _row(f"current of {name} there", supply.key("I_I"), supply.read["I_I"])
    if common:
        yield _row(f"{loaded}, the same for both", "I_I", pair[0].read["I_I"])


def _row(label: str, symbol: str, value: float) -> TableRow:
    return TableRow(label, symbol, given(value, symbol_for(symbol).unit).text)


def convention_row(laws: Relations) -> TableRow:
    """Which voltage the change is referred to, in the circuit's words."""
    words = next(item.words for item in laws.circuit.variants if item.value == CONVENTION["load-regulation"])
    return TableRow("convention: load regulation", "", words)


def given_readings(pair: Sequence[Supply], names: Iterable[str]) -> dict[str, Quantity]:
    """The readings of both as givens by key."""
    wanted = tuple(names)
    return {
        supply.key(name): given(supply.read[name], symbol_for(name).unit) for supply in pair for name in wanted
    }  # fmt: skip


def figure_step(
    supply: Supply, target: str, expr: Expr, values: Mapping[str, float], title: str, why: str, *,
    shown: Mapping[str, str] | None = None, exact: frozenset[str] = frozenset(FROM_READINGS), waypoint: bool = True,
) -> WorkedStep:  # fmt: skip
    """A step that works one figure of a supply out; `shown` names quantities otherwise than by its place, `exact` are
    those that the problem gives."""
    names = {name: Sym(supply.key(name)) for name in values}
    names |= {name: Sym(key) for name, key in (shown or {}).items()}
    key = names[target].name
    result = Quantity(values[target], symbol_for(key).unit)
    chain = line(Sym(key), relation_form(expr), Writing(names, values, exact, in_full=True), result)
    title = f"{capitalised(supply.name)}: {uncapitalised(title)}"
    return WorkedStep(title, why, (chain,), "", "", key if waypoint else "", result, "")


def readings_steps(pair: Sequence[Supply], target: str, composite: str) -> list[WorkedStep]:
    """A figure of each from its readings, the reason said once."""
    steps = []
    for supply in pair:
        laws = supply.laws
        law = laws.composite(composite)
        why = law.why if supply.place == 1 else ""
        steps.append(figure_step(supply, target, laws.rule(laws.readings, target), supply.figures, law.title, why))
    return steps


def figure_text(supply: Supply, name: str) -> str:
    """A figure of a supply as printed."""
    return write(supply.figures[name], symbol_for(name).unit)


def comes_back(supply: Supply, expr: Expr, values: Mapping[str, float], told: str) -> Check:
    """The loaded reading worked out from printed results and held against what was read."""
    printed = {name: as_printed(value, 3) if name not in supply.read else value for name, value in values.items()}
    back = float(evaluate(expr, printed))
    read = supply.read["V_I"]
    text = f"{told}, {supply.name} comes back to {write(back, 'V', FIGURES)}; {write(read, 'V', FIGURES)} was read"
    return Check(text, abs(back - read) <= BACK * read, "")


def tells(points: Iterable[Waypoint], target: str, routes: Iterable[WrongRoute]) -> bool:
    """Whether every slip at a quantity can be told from the answer for one supply at least."""
    found = {slip.id for point in points for slip in point.slips}
    return all(route.id in found for route in routes if route.target == target)


def regulation_points(pair: Sequence[Supply], routes: Sequence[WrongRoute]) -> tuple[Waypoint, ...]:
    """A waypoint for the regulation of each."""
    return tuple(
        value_point(
            supply.key("REG_LOAD"), supply.figures["REG_LOAD"], f"the load regulation of {supply.name}", "REG_LOAD",
            supply.figures, routes,
        )
        for supply in pair
    )  # fmt: skip


def regulation_verdict(
    pair: Sequence[Supply], always: Sequence[Misjudged], higher: Misjudged | None = None
) -> Waypoint:  # fmt: skip
    """Which is better regulated; to the wrong one lead `always`, and `higher` where its voltage is clearly higher."""
    right = smaller(pair, "REG_LOAD")
    wrong = next(supply for supply in pair if supply is not right)
    beliefs = [*always]
    if higher is not None and wrong.read["V_I"] >= (1 + APART) * right.read["V_I"]:
        beliefs.append(higher)
    reason = (
        f"From no load to full load it changes by {figure_text(wrong, 'REG_LOAD')} of its full-load voltage, the other "
        f"by {figure_text(right, 'REG_LOAD')}."
    )
    return verdict_point(
        "better", "which of the two is better regulated", OPTIONS, right.name, {wrong.name: beliefs},
        {wrong.name: reason},
    )  # fmt: skip


def better_step(pair: Sequence[Supply]) -> WorkedStep:
    """The comparison of the regulations."""
    right = smaller(pair, "REG_LOAD")
    wrong = next(supply for supply in pair if supply is not right)
    return worded_step(
        "Which is better regulated?",
        "Regulation is a change, as a share: the smaller figure is the steadier supply, however high its voltage.",
        f"{figure_text(right, 'REG_LOAD')} is less than {figure_text(wrong, 'REG_LOAD')}: {right.name}.",
        "better",
    )
