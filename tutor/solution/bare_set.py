"""A circuit that is disturbed: its part values, line and load at their typical numbers, planned once in letters.

Vocabulary: the *bare set* of a circuit is the given-set of all its free parameters, a drift with temperature among them
where its laws have one; a *mover* is one of them that the reader may move, from `least` to `most` hundredths of its
typical number; what *drifts* is a part value that follows the temperature; a *balance* is a current law or a loop of
voltages as `whole = parts`; a *level* stands beside others.
Place in the data flow: Circuit -> BareSet -> the figure on the circuit's page (views/live_figure.py).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from tutor.circuit.circuit import Circuit, LoadModel
from tutor.circuit.component import LINES, PartKind
from tutor.generate.problems_folder import ProblemsFolder
from tutor.laws.closed_form import parameters
from tutor.laws.law import LawSet
from tutor.plan.region_plans import RegionPlan
from tutor.plan.rule import apply_rules, rules_of
from tutor.plan.verify import holds, names_of
from tutor.quantities.expression import Add, Equation, Expr, Neg, Sym
from tutor.quantities.quantity import round_figures
from tutor.quantities.symbols import Sign, split_name, symbol_for
from tutor.solution.bare_drifts import WARMED, drifts_of
from tutor.solution.own_offer import kept_plans
from tutor.solution.own_sets import GivenSet
from tutor.solution.own_values import read_own

_DRIFT = ("alpha_Z", "k_BE", "DT")
_STILL = ("I_ZT", "I_OAM", "N_T", "f", "I_REF", "I_ADJ", "I_Q", *_DRIFT[:2])  # what a part's sheet or the mains fix
_BESIDE = ("r_z", "h_FE", "R_W", "A", "R_O")  # what a part brings along with the value it is chosen for
_STEP = 10.0  # kelvins: what a slider of temperature counts in hundredths of
_COLDEST, _HOTTEST = -450, 550  # of it: from -20 °C to 80 °C
_LEAST, _MOST, _START = 30, 200, 100  # hundredths of the typical number
_PULLED = range(100, 610, 10)  # how far a load is pulled up to see where the usual region is left
_PAST = 1.2  # how far past that edge it may be moved
_LIMITING = "limiting"  # the region of a circuit whose current is limited: no current can be drawn beyond that
_WINDING_VOLTS = 22.0  # a whole secondary winding stays at or below this, r.m.s., as in our problems
_LOOPS = (".drop", ".across", ".headroom", ".trough", "headroom", "left-over")  # ends of the ids of such laws
_STEERED = ("V_CE", "V_IO", "V_HEAD")  # the drops by which a regulator regulates
_FEEDS = ("supply", "supply-2", "supply-3")  # what a whole circuit takes from its supply
_LEVELS = (  # what stands beside one another without a sum: title, unit, how its letters begin
    ("Reservoir", "V", ("V_PK", "V_DC", "V_TROUGH")),
    ("Powers", "W", ("P_",)),
    ("Temperatures", "degC", ("T_",)),
)
_CURRENTS, _DROPS = "Currents", "Drops"
_SHOWN = 3  # balances of a kind
_MANY = 8  # powers beside one another; of more, those are shown that go to the load and that are lost in all


@dataclass(frozen=True)
class Mover:
    """A number that may be moved: from `least` to `most` hundredths of `typical` (SI), standing at `start` of them;
    whether it comes first."""

    name: str
    typical: float
    least: int
    most: int
    first: bool
    start: int = _START


@dataclass(frozen=True)
class Group:
    """Quantities shown beside one another; a balance has a `whole`, which its `parts` make up (signs are theirs)."""

    title: str
    whole: str
    parts: tuple[tuple[int, str], ...]
    first: bool = True  # whether it is among those that tell most

    @property
    def names(self) -> tuple[str, ...]:
        """All that it shows."""
        return (*([self.whole] if self.whole else []), *(name for _, name in self.parts))


@dataclass(frozen=True)
class BareSet:
    """The bare set of a circuit: names with their typical numbers, conventions, plans, what moves and what is shown."""

    circuit: Circuit
    numbers: Mapping[str, float]
    conventions: Mapping[str, str]
    plans: tuple[RegionPlan, ...]
    movers: tuple[Mover, ...]
    groups: tuple[Group, ...]
    drifts: Mapping[str, Expr]  # what each part value is at a change of temperature, in its own letter and DT


def bare_set(folder: ProblemsFolder, circuit: Circuit) -> BareSet | None:
    """The bare set of a circuit; None where its parameters lack typical numbers, or nothing that moves is found."""
    names = parameters(circuit, LoadModel.SINK)
    if any(name not in circuit.typical for name in names):
        return None
    drift = _DRIFT if all(name in circuit.typical for name in _DRIFT) else ()
    numbers = {name: circuit.typical[name] for name in (*names, *drift)}
    if any(region.id == _LIMITING for region in circuit.regions):
        numbers = _with_load_resistance(folder, circuit, numbers)
    plans = _planned(folder, circuit, numbers)
    if plans[0].why_not or any(step.degree > 2 for plan in plans for step in plan.steps):
        return None
    values = _values(plans[0], numbers)
    groups = tuple(_groups(circuit, plans[0].laws, values))
    drifts = drifts_of(circuit, numbers)
    movers = tuple(_movers(circuit, numbers, plans[0], bool(drifts)))
    if not groups or not movers:
        return None
    if drifts:
        groups = (*groups, _drift_group(circuit, drifts, values))
    return BareSet(circuit, numbers, _conventions(circuit, numbers), plans, movers, groups, drifts)


def _drift_group(circuit: Circuit, drifts: Mapping[str, Expr], values: Mapping[str, float]) -> Group:
    """What drifts, and the output that comes of it."""
    outputs = [name for name in dict.fromkeys(circuit.output_voltages()) if name in values]
    return Group("Drift with temperature", "", tuple((1, f"D{name}") for name in (*outputs, *drifts)))


def _planned(folder: ProblemsFolder, circuit: Circuit, numbers: Mapping[str, float]) -> tuple[RegionPlan, ...]:
    """The plans of the numbers, under the conventions that `solve` takes with them."""
    conventions = tuple(sorted(_conventions(circuit, numbers).items()))
    return kept_plans(folder, circuit, GivenSet(tuple(numbers), conventions, ()))


def _conventions(circuit: Circuit, numbers: Mapping[str, float]) -> Mapping[str, str]:
    return read_own(circuit, numbers).conventions


def _with_load_resistance(folder: ProblemsFolder, circuit: Circuit, numbers: Mapping[str, float]) -> dict[str, float]:
    """The numbers with the load told by the resistance that draws the typical current, to two figures."""
    (load,) = (part.symbols for part in circuit.parts if part.kind is PartKind.LOAD)
    usual = _planned(folder, circuit, numbers)[0]
    resistance = round_figures(_values(usual, numbers)[load["resistance"]], 2)
    others = {name: value for name, value in numbers.items() if name != load["current"]}
    return {**others, load["resistance"]: resistance}


def _values(plan: RegionPlan, numbers: Mapping[str, float]) -> dict[str, float]:
    return apply_rules(rules_of(plan.steps), {**numbers, **plan.defaults})


def _movers(circuit: Circuit, numbers: Mapping[str, float], plan: RegionPlan, is_warmed: bool) -> Iterator[Mover]:
    """Load first, then the line, the temperature (one of its own where `is_warmed`), the parts."""
    loads = [name for name in numbers if (name not in circuit.constants or name == "R_L") and name not in _DRIFT]
    loads += [part.symbols["flow"] for part in circuit.parts if part.kind is PartKind.HEAT_SOURCE]
    supplies = [part for part in circuit.parts if part.kind in LINES]
    lines = [part.symbols["voltage"] for part in supplies if "V_REF" not in part.symbols["voltage"]]
    warm = [name for name in ("T_A", "DT") if name in numbers]
    for name in dict.fromkeys((*loads, *lines, *warm, *((WARMED,) if is_warmed else ()), *numbers)):
        if name == WARMED and is_warmed:
            yield Mover(name, _STEP, _COLDEST, _HOTTEST, first=True, start=0)
        if name not in numbers or name in circuit.defaults or split_name(name).base in _STILL or not numbers[name]:
            continue
        least, most = (-_START if name == "DT" else 0 if name in (*loads, *warm) else _LEAST), _MOST
        if name in loads:
            least, most = 0 if symbol_for(name).unit != "ohm" else 10, _end_of_load(circuit, name, numbers, plan)
        elif name == "V_SEC":
            tapped = any(part.kind is PartKind.TAPPED_WINDING for part in circuit.parts)
            safe = _WINDING_VOLTS / 2 if tapped else _WINDING_VOLTS
            most = max(_START, min(_MOST, int(_START * safe / numbers[name])))
        yield Mover(name, numbers[name], least, most, split_name(name).base not in _BESIDE)


def _end_of_load(circuit: Circuit, name: str, numbers: Mapping[str, float], plan: RegionPlan) -> int:
    """Hundredths of the typical load somewhat past where the usual region is left; the usual end where it never is.

    Where there is no other region the end lies before that.
    """
    for most in _PULLED:
        values = _values(plan, {**numbers, name: numbers[name] * most / _START})
        told = [bound for bound in plan.laws.bounds if names_of(bound.equation) <= {*values}]
        turned = any(value < 0 and symbol_for(name).sign is not Sign.ANY for name, value in values.items())
        if turned or not all(holds(bound, values) for bound in told):
            edge = most * _PAST if len(circuit.regions) > 1 else min(most - 10, _MOST)
            return int(round(edge, -1))
    return _MOST


def _groups(circuit: Circuit, laws: LawSet, values: Mapping[str, float]) -> Iterator[Group]:
    """Currents that share, drops that share, a drift, then powers and temperatures beside one another."""
    told = [(law.id, group) for law in laws.laws if (group := _balance(law.equation, values)) is not None]
    loads = [part.symbols["current"] for part in circuit.parts if part.kind is PartKind.LOAD]
    shared = [(id, group) for id, group in told if group.title == _CURRENTS]
    nodes = [group for id, group in shared if id.startswith("kcl.") or id in _FEEDS]
    nodes = nodes or [group for id, group in shared if id.endswith(".sum")]
    inner = sorted(nodes, key=lambda group: group.whole.startswith("I_I"))  # what the supply gives tells least
    yield from _ranked(inner, loads, 2)
    loops = [group for id, group in told if id.endswith(_LOOPS) and group.title == _DROPS]
    supplies = [part.symbols["voltage"] for part in circuit.parts if part.kind in LINES]
    ends = {*circuit.output_voltages(), *supplies}

    def tells_less(group: Group) -> tuple[bool, bool]:
        steers = group.whole in supplies and any(name.startswith(_STEERED) for name in group.names)
        return not steers, not {*group.names} & {*circuit.output_voltages()}

    # A sense resistor parts the way from supply to output into two loops.
    count = 1 if any(len(ends & {*group.names}) > 1 for group in loops) else 2
    yield from _ranked(sorted(loops, key=tells_less), ends, count)
    yield from (group for id, group in told if id == "drift-sum")
    for title, unit, letters in _LEVELS:
        names = [name for name in (*circuit.constants, *circuit.report) if name.startswith(letters) and name in values]
        alike = [name for name in dict.fromkeys(names) if symbol_for(name).unit == unit]
        alike = [name for name in alike if split_name(name).base not in ("P_I", "P_SC")]  # what goes in; another state
        if unit == "W" and len(alike) > _MANY:
            alike = [name for name in alike if split_name(name).base in ("P_O", "P_D")]
        if len(alike) > 1:
            yield Group(title, "", tuple((1, name) for name in alike), unit != "W")


def _ranked(groups: list[Group], wanted: Iterable[str], first: int) -> list[Group]:
    """The balances that speak most of what is wanted; of those alike, as they stand; each set of names once."""
    apart = {frozenset(group.names): group for group in reversed(groups)}
    sought = {*wanted}
    ranked = sorted(reversed(apart.values()), key=lambda group: -len({*group.names} & sought))
    return [replace(group, first=at < first) for at, group in enumerate(ranked[:_SHOWN])]


def _balance(equation: Equation, values: Mapping[str, float]) -> Group | None:
    """A law as `whole = parts`, all of one unit and known; None where it is no such thing."""
    left, right = _terms(equation.lhs), _terms(equation.rhs)
    if left is None or right is None:
        return None
    names = [name for _, name in (*left, *right)]
    if len(names) < 3 or not {*names} <= {*values} or len({symbol_for(name).unit for name in names}) > 1:
        return None
    if split_name(names[0]).change:  # a change may go either way, and keeps the sign that its law gives it
        return Group("Drift", left[0][1], tuple(right)) if len(left) == 1 else None
    # What is taken off one side stands on the other.
    here = [name for sign, name in left if sign > 0] + [name for sign, name in right if sign < 0]
    there = [name for sign, name in right if sign > 0] + [name for sign, name in left if sign < 0]
    whole, parts = (here, there) if len(here) == 1 else (there, here)
    title = {"A": _CURRENTS, "V": _DROPS}.get(symbol_for(names[0]).unit)
    if len(whole) != 1 or title is None:
        return None
    return Group(title, whole[0], tuple((1, name) for name in parts))


def _terms(side: Expr) -> list[tuple[int, str]] | None:
    """A side's signed letters; None where it is more than a sum of letters."""
    found = []
    for term in side.terms if isinstance(side, Add) else (side,):
        inner = term.arg if isinstance(term, Neg) else term
        if not isinstance(inner, Sym):
            return None
        found.append((-1 if isinstance(term, Neg) else 1, inner.name))
    return found
