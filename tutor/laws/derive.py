"""Circuit -> the named laws that hold in it, in a given region.

From the netlist alone: Kirchhoff's current law at each node, the laws each part brings, power and efficiency; to
these the circuit's composites, definitions, what-ifs and slopes are added (`tests/laws` proves each of them).
A *reading* is one of several operating points of the same circuit: the laws that bind readings are repeated with an
index (V_I_1 = V_OC − I_I_1 R_S).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache

from tutor.circuit.circuit import GROUND, Circuit, LoadModel, Region
from tutor.circuit.component import CURRENT_LAW, PartKind, PartLaw
from tutor.circuit.netlist import Part
from tutor.errors import unknown
from tutor.laws.law import Bound, Law, LawSet
from tutor.laws.rectifier import rectifier_laws
from tutor.quantities.expression import ZEROS, Add, Equation, Expr, Num, Sym, children, rebuild, substitute, sum_of
from tutor.quantities.formula import read_equation
from tutor.quantities.symbols import SYMBOLS, split_name

_CURRENT = "No charge gathers at a node: what flows in flows out."
_RIPPLE = "Ripple is a change of the input, over and over, and the output follows it as it follows any other."
_SHARE = "The share of the power drawn that reaches the load; the rest becomes heat."
_WASTE = "Power that does not reach the load becomes heat, in whatever part."
_CHANGE = "The slope says how much the output moves for one unit, and the circuit is straight over such a change."


def derive(
    circuit: Circuit,
    region: Region,
    load: LoadModel,
    *,
    conventions: Mapping[str, str] | None = None,
    readings: Iterable[str] = (),
    with_slopes: bool = True,
) -> LawSet:
    """The laws of `circuit` in `region`, what the load holds fixed being `load`.

    `conventions` maps a convention's id to the value to use (the circuit's first otherwise); `readings` are the
    indices in use ("1", "2"). Raises UnknownName for a convention or value the circuit does not have.
    """
    told = tuple((conventions or {}).items())
    return _derived(circuit, region, load, told, tuple(readings), with_slopes)


@lru_cache(maxsize=1024)  # planning one level asks for the same few sets of laws hundreds of times
def _derived(
    circuit: Circuit,
    region: Region,
    load: LoadModel,
    conventions: tuple[tuple[str, str], ...],
    readings: tuple[str, ...],
    with_slopes: bool,
) -> LawSet:
    laws = list(_netlist_laws(circuit, region))
    laws += [
        Law(item.id, item.title, read_equation(item.formula), "", "follows from the laws above", item.cost, item.why)
        for item in circuit.composites
        if item.speaks_in(region.id, load)
    ]
    for what_if in circuit.what_ifs:
        if load in what_if.written:
            formula = f"{what_if.symbol} = {what_if.written[load]}"
            source = f"the circuit with {what_if.part} taken as {what_if.region}"
            laws.append(
                Law(f"if.{what_if.symbol}", what_if.title, read_equation(formula), "", source, 1.1, what_if.why)
            )
    if with_slopes:
        laws += _slope_laws(circuit, region, load)
    laws = _with_conventions(circuit, region, laws, dict(conventions))
    for index in readings:
        laws += _reading_laws(circuit, laws, index)
    return LawSet(tuple(laws), (*_bounds(circuit, region), *_convention_bounds(circuit, dict(conventions))))


@lru_cache(maxsize=64)
def _netlist_laws(circuit: Circuit, region: Region) -> tuple[Law, ...]:
    laws: list[Law] = []
    for node, word in circuit.nodes.items():
        equation = _current_law(circuit, node)
        if equation is not None:
            laws.append(Law(f"kcl.{node}", f"{CURRENT_LAW} at {word.words}", equation, "", CURRENT_LAW, 1.0, _CURRENT))
    for part in circuit.parts:
        states = part.component.regions
        here = [state for state in states if state.id == region.parts.get(part.name)]
        for template in part.component.laws:
            laws += _part_law(circuit, part, template, "")
        for state in here:
            for template in state.laws:
                laws += _part_law(circuit, part, template, state.words)
    laws += rectifier_laws(circuit.parts)
    laws += _power_laws(circuit.parts)
    # Two windings that are alike have one voltage and one crest: what is said of both is said once.
    return tuple({law.equation: law for law in reversed(laws)}.values())[::-1]


def _power_laws(parts: tuple[Part, ...]) -> list[Law]:
    """Efficiency and waste of what each supply feeds: its load is the one of the same index, or the one there is."""
    supplies = {part.symbols["power"] for part in parts if part.kind is PartKind.SOURCE and part.symbols.get("power")}
    loads = [part for part in parts if part.kind is PartKind.LOAD and part.symbols["power"]]
    found: list[Law] = []
    for supply in sorted(supplies):
        index = split_name(supply).index
        load = next((part for part in loads if not index or part.name.endswith(f"_{index}")), None)
        if load is None:
            continue
        mark, power, waste = f"_{index}" if index else "", load.symbols["power"], load.symbols["waste"]
        equation = read_equation(f"eta{mark} = {power}/{supply}")
        law_id = f"efficiency{mark.replace('_', '-')}"
        found.append(Law(law_id, "Efficiency", equation, "", "definition of efficiency", 1.0, _SHARE))
        if waste:
            title = f"What regulator {index} draws and does not pass on" if index else "What does not reach the load"
            equation = read_equation(f"{waste} = {supply} - {power}")
            law_id = f"waste{mark.replace('_', '-')}"
            found.append(Law(law_id, title, equation, "", "conservation of energy", 1.3, _WASTE))
    return found


def _current_law(circuit: Circuit, node: str) -> Equation | None:
    """Currents into the node = currents out of it, parts in netlist order; None when one wire just passes through."""
    entering: list[Expr] = []
    leaving: list[Expr] = []
    for part in circuit.parts:
        terminals = part.terminals
        for role, terminal, into in part.component.flows:
            if terminals[terminal] == node and part.symbols[role]:
                (entering if into else leaving).append(Sym(part.symbols[role]))
    if not entering or not leaving or entering == leaving:
        return None
    return Equation(sum_of(entering), sum_of(leaving))


def _part_law(circuit: Circuit, part: Part, template: PartLaw, holds: str) -> list[Law]:
    """The law a template makes of a part, or nothing when the part lacks the symbol or the law says x = x."""
    if _lacks(part, template.formula):
        return []
    equation = _fill(circuit, part, template.formula)
    if equation.lhs == equation.rhs:
        return []
    title, why = (text.format(part=f"${part.name}$") for text in (template.title, template.why))
    return [Law(f"{part.name}.{template.id}", title, equation, holds, template.source, template.cost, why)]


def _lacks(part: Part, formula: str) -> bool:
    """Whether a formula speaks of a role that the part has no symbol for."""
    return any(not part.symbols[role] for role in re.findall(r"\[(\w+)\]", formula))


def _fill(circuit: Circuit, part: Part, formula: str) -> Equation:
    nodes: dict[str, Expr] = {
        terminal: Num(0) if node == GROUND else Sym(circuit.nodes[node].symbol)
        for terminal, node in part.terminals.items()
    }
    text = re.sub(r"\[(\w+)\]", lambda match: part.symbols[match.group(1)], formula)
    equation = read_equation(text)
    return Equation(
        _without_zeros(substitute(equation.lhs, nodes)),
        _without_zeros(substitute(equation.rhs, nodes)),
        equation.relation,
    )


def _without_zeros(expr: Expr) -> Expr:
    """`V_O − 0` written as V_O."""
    if isinstance(expr, Add):
        terms = (_without_zeros(term) for term in expr.terms)
        return sum_of([term for term in terms if term not in ZEROS])
    return rebuild(expr, tuple(_without_zeros(part) for part in children(expr)))


def _bounds(circuit: Circuit, region: Region) -> list[Bound]:
    found: list[Bound] = []
    for part in circuit.parts:
        for state in part.component.regions:
            if state.id == region.parts.get(part.name):
                told = [text for text in state.holds if not _lacks(part, text)]
                found += [Bound(part.name, _fill(circuit, part, text)) for text in told]
    return found


def _convention_bounds(circuit: Circuit, conventions: Mapping[str, str]) -> list[Bound]:
    """What must hold for the conventions in use to apply."""
    offered = circuit.convention_values()
    return [
        Bound("", read_equation(text))
        for variant in circuit.variants
        for text in variant.holds
        if conventions.get(variant.convention, offered[variant.convention][0]) == variant.value
    ]


def _slope_laws(circuit: Circuit, region: Region, load: LoadModel) -> list[Law]:
    """The sensitivities with letter symbols, and what a change of the input makes of the output."""
    if region != circuit.regions[0]:
        return []
    laws: list[Law] = []
    load_current = {part.symbols["current"] for part in circuit.parts if part.kind is PartKind.LOAD}
    for slope in circuit.slopes:
        # A slope against the load current is a property of the regulator without its load.
        written = slope.written.get(LoadModel.SINK if slope.by in load_current else load)
        if written is not None:
            text = f"{slope.symbol} = {written}"
            source = f"derivative of {slope.of} with respect to {slope.by}"
            laws.append(Law(f"slope.{slope.symbol}", slope.title, read_equation(text), "", source, 1.2, slope.why))
            sign = "-" if slope.sign < 0 and not slope.share else ""
            change = f"{slope.share or f'D{slope.of}'} = {sign}{slope.symbol}*D{slope.by}"
            title = f"Change of ${slope.of}$ for a change of ${slope.by}$"
            source = "slope times change"
            stage = slope.of.removeprefix("V_O")  # '' of the output, _P of what a first stage hands on
            laws.append(Law(f"change.{slope.by}{stage}", title, read_equation(change), "", source, 1.0, _CHANGE))
            if (slope.of, slope.by) == (f"V_O{stage}", "V_I"):
                ripple = read_equation(f"V_RIP_O{stage} = {slope.symbol}*V_RIP")
                title = "Ripple that the first stage lets through" if stage else "Ripple that reaches the output"
                laws.append(Law(f"ripple{stage}", title, ripple, "", "slope times change", 1.0, _RIPPLE))
    return laws


def _with_conventions(
    circuit: Circuit, region: Region, laws: list[Law], conventions: Mapping[str, str]
) -> list[Law]:
    offered = circuit.convention_values()
    for name, value in conventions.items():
        if name not in offered:
            raise unknown("convention of this circuit", name, offered)
        if value not in offered[name]:
            raise unknown(f"value of '{name}'", value, offered[name])
    swaps: list[tuple[str, ...]] = []
    for name, values in offered.items():
        chosen = conventions.get(name, values[0])
        for variant in circuit.variants:
            if (variant.convention, variant.value) == (name, chosen):
                convention = f"By the convention in use: {variant.words or variant.title}."
                laws = [law for law in laws if law.id not in variant.removes]
                laws += [
                    Law(
                        law_id, title, read_equation(text), f"convention {name}={chosen}", "named convention", 1.0,
                        variant.reasons.get(law_id) or convention,
                    )
                    for law_id, title, text in variant.adds
                    if region.id in variant.regions.get(law_id, (region.id,))
                ]  # fmt: skip
                swaps += [variant.swaps] if variant.swaps else []
    for one, other in swaps:
        laws = [_swapped(law, one, other) for law in laws]
    return laws


def _swapped(law: Law, one: str, other: str) -> Law:
    """A law with two symbols in each other's place, in its prose too."""
    names: dict[str, Expr] = {one: Sym(other), other: Sym(one)}

    def told(text: str) -> str:
        return re.sub(rf"\b(?:{one}|{other})\b", lambda found: other if found[0] == one else one, text)

    equation = Equation(
        substitute(law.equation.lhs, names), substitute(law.equation.rhs, names), law.equation.relation
    )
    return replace(law, title=told(law.title), equation=equation, why=told(law.why))


def _reading_laws(circuit: Circuit, laws: list[Law], index: str) -> list[Law]:
    """The laws that hold at a reading, its indexed symbols in place of the plain ones."""
    indexed: dict[str, Expr] = {name: Sym(f"{name}_{index}") for name in circuit.readings}
    found: list[Law] = []
    for law in laws:
        bound = set(law.symbols) & set(circuit.readings)
        others = set(law.symbols) - set(circuit.readings) - set(circuit.constants)
        if bound and not others:
            equation = Equation(substitute(law.equation.lhs, indexed), substitute(law.equation.rhs, indexed))
            title = f"{law.title}, reading {index}"
            copy = Law(f"{law.id}@{index}", title, equation, law.holds, law.source, law.cost, law.why)
            found.append(copy)
    return found


def reading_indices(names: Iterable[str], circuit: Circuit) -> tuple[str, ...]:
    """The reading indices in use among `names`: ("1", "2") when V_I_1 and V_I_2 are."""
    found = set()
    for name in names:
        pieces = split_name(name)
        if pieces.index and name not in SYMBOLS and pieces.base in circuit.readings:
            found.add(pieces.index)
    return tuple(sorted(found))


def load_model(names: Iterable[str]) -> LoadModel:
    """What the load holds fixed, told by the givens: a resistance when R_L is among them, else its current."""
    return LoadModel.RESISTOR if any(name == "R_L" or name.startswith("R_L_") for name in names) else LoadModel.SINK
