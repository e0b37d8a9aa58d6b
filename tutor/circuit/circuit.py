"""The frozen Circuit: parts, node words, what a person composes from its laws, its conventions and its drawing.

Vocabulary: a *region* of a circuit is a choice of region for each part that has several ("zener off, transistor
active"), tried in the order declared; a *composite* is a relation a person uses that follows from the derived laws (a
test proves it, by `laws/closed_form.py`); a *variant* is another convention for the same law; a *what-if* is a quantity
of the same circuit with one part in another state (V_TH: the output with the zener taken out); a *slope* is a
sensitivity with a letter symbol of its own (S_V, R_OUT); a *form* is one of several netlists that serve the same end
under one name (a half-wave, centre-tap or bridge rectifier before a reservoir), each a Circuit of its own; *typical*
values (SI) are one sensible operating point in the first region, at which derived signs are read off. Of two roots that
both fit, `root_preference` (quantity, greatest?, why) chooses.
Place in the data flow: problems/circuits/*.py -> Circuit -> laws.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part, read_netlist
from tutor.circuit.placement import Drawing
from tutor.errors import BadCircuit

GROUND = "gnd"


class LoadModel(Enum):
    """What stays fixed in the load when something else moves: its resistance or its current."""

    RESISTOR = "resistor"
    SINK = "sink"


@dataclass(frozen=True)
class NodeWord:
    """A node's voltage symbol ('' for a node whose voltage no law speaks of) and its words ("the output node")."""

    symbol: str
    words: str


@dataclass(frozen=True)
class Region:
    """A region of the whole circuit: part name -> part region id; `words` for the reader.

    `further` is said of it where it is met as a second state beside another that the same values fit.
    """

    id: str
    words: str
    parts: Mapping[str, str]
    further: str = ""

    def __hash__(self) -> int:
        return hash(self.id)  # equality looks at all of it; its mapping has no hash of its own


@dataclass(frozen=True)
class Composite:
    """A relation a person uses, written by the author; true in `regions` (all when empty), which a test proves.

    `loads` names the load models it is for (all when empty): seen from the zener, a load that is a resistance stands
    beside R, and one that draws a fixed current does not.
    """

    id: str
    title: str
    formula: str
    regions: tuple[str, ...] = ()
    cost: float = 1.3
    why: str = ""
    loads: tuple[LoadModel, ...] = ()

    def speaks_in(self, region_id: str, load: LoadModel) -> bool:
        """Whether it is for that region and load model."""
        return (not self.regions or region_id in self.regions) and (not self.loads or load in self.loads)


@dataclass(frozen=True)
class WhatIf:
    """`symbol` is the value of `of` when part `part` is in region `region`; written forms by load model."""

    symbol: str
    of: str
    part: str
    region: str
    title: str
    written: Mapping[LoadModel, str]
    why: str = ""


@dataclass(frozen=True)
class Edge:
    """`symbol` is the value of `of` in region `region` where the equations of `at` (formula, title, reason) hold: at
    the edge of that region, or with the output shorted. `conventions` are those in use there.
    """

    symbol: str
    of: str
    region: str
    at: tuple[tuple[str, str, str], ...]
    conventions: Mapping[str, str] = field(default_factory=dict)

    def __hash__(self) -> int:
        return hash(self.symbol)  # equality looks at all of it; its mapping has no hash of its own


@dataclass(frozen=True)
class Slope:
    """`symbol` = sign x d(of)/d(by) with the other givens held; written forms by load model.

    What a change of `by` makes of `of` is a change of that letter (DV_O), or, where several such are to be added, has
    the letter `share` (E_LINE) and is counted without its sign.
    """

    symbol: str
    of: str
    by: str
    sign: int
    title: str
    written: Mapping[LoadModel, str]
    why: str = ""
    share: str = ""


@dataclass(frozen=True)
class Variant:
    """One value of a named convention: laws taken out, equations put in (id, title, formula).

    An approximate one names the quantity it neglects or bends (`watches`, compared with `against`), and the limit of
    its error as a fraction. `words` is prose for a statement's table: how the convention reads the quantity. Where a
    symbol is named by `given`, the convention is taken when that is among somebody's givens and none is named; `holds`
    are inequalities without which it does not apply. A law put in may have its reason among `reasons`, by its id, and
    the only regions that it is for among `regions`. Where only names differ, `swaps` names the two symbols that change
    places in every law.
    """

    convention: str
    value: str
    removes: tuple[str, ...] = ()
    adds: tuple[tuple[str, str, str], ...] = ()
    watches: str = ""
    against: str = ""
    limit: float = 0.02
    title: str = ""
    words: str = ""
    given: str = ""
    holds: tuple[str, ...] = ()
    reasons: Mapping[str, str] = field(default_factory=dict)
    regions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    swaps: tuple[str, ...] = ()

    def __hash__(self) -> int:
        return hash((self.convention, self.value))  # equality looks at all of it; its mapping has no hash of its own


@dataclass(frozen=True)
class Circuit:
    """A circuit, whole. Build it with `circuit(...)`, which reads the netlist and checks the declaration."""

    id: str
    title: str
    stage: int
    purpose: str
    parts: tuple[Part, ...]
    nodes: Mapping[str, NodeWord]
    regions: tuple[Region, ...]
    composites: tuple[Composite, ...]
    what_ifs: tuple[WhatIf, ...]
    edges: tuple[Edge, ...]
    slopes: tuple[Slope, ...]
    variants: tuple[Variant, ...]
    preferred: tuple[str, ...]
    constants: tuple[str, ...]
    ends: Mapping[str, tuple[str, str]]
    defaults: Mapping[str, float]
    root_preference: tuple[str, bool, str] | None
    drawing: Drawing
    report: tuple[str, ...] = ()
    typical: Mapping[str, float] = field(default_factory=dict)
    derivation: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    readings: tuple[str, ...] = ()
    aliases: Mapping[str, str] = field(default_factory=dict)
    shorted: str = ""  # the region it is in with its output shorted; '' where that is not asked of it
    form: str = ""

    @property
    def stem(self) -> str:
        """The name its forms share, which is that of its file: `reservoir` for `reservoir-bridge`."""
        return self.id.removesuffix(f"-{self.form}") if self.form else self.id

    def __hash__(self) -> int:
        return hash(self.id)  # equality looks at all of it, so a changed circuit is never taken for this one

    def part(self, name: str) -> Part:
        """The part of that name; KeyError when there is none."""
        return next(part for part in self.parts if part.name == name)

    def region(self, region_id: str) -> Region:
        """The region of that id; KeyError when there is none."""
        return next(region for region in self.regions if region.id == region_id)

    def load_resistances(self) -> tuple[str, ...]:
        """The letters of its loads' resistances; a load that is told by its current alone has none."""
        loads = (part.symbols["resistance"] for part in self.parts if part.kind is PartKind.LOAD)
        return tuple(letter for letter in loads if letter)

    def output_voltages(self) -> tuple[str, ...]:
        """The letters of the voltages that its loads stand across."""
        return tuple(self.nodes[part.nodes[0]].symbol for part in self.parts if part.kind is PartKind.LOAD)

    def end_words(self, base: str, greatest: bool) -> str:
        """How a sentence names one end of a range: "the highest line"."""
        low, high = self.ends.get(base, (f"the least ${base}$", f"the greatest ${base}$"))
        return high if greatest else low

    def convention_values(self) -> dict[str, tuple[str, ...]]:
        """Convention id -> its values, ours first."""
        found: dict[str, list[str]] = {}
        for variant in self.variants:
            found.setdefault(variant.convention, []).append(variant.value)
        return {name: tuple(values) for name, values in found.items()}


def circuit(
    *,
    id: str,
    title: str,
    stage: int,
    purpose: str,
    netlist: str,
    nodes: Mapping[str, NodeWord],
    regions: tuple[Region, ...],
    drawing: Drawing,
    report: tuple[str, ...],
    typical: Mapping[str, float],
    constants: tuple[str, ...],
    preferred: tuple[str, ...],
    composites: tuple[Composite, ...] = (),
    what_ifs: tuple[WhatIf, ...] = (),
    edges: tuple[Edge, ...] = (),
    slopes: tuple[Slope, ...] = (),
    variants: tuple[Variant, ...] = (),
    ends: Mapping[str, tuple[str, str]] | None = None,
    defaults: Mapping[str, float] | None = None,
    root_preference: tuple[str, bool, str] | None = None,
    derivation: Mapping[str, tuple[str, ...]] | None = None,
    readings: tuple[str, ...] = (),
    aliases: Mapping[str, str] | None = None,
    shorted: str = "",
    form: str = "",
) -> Circuit:
    """A Circuit from its declaration; BadCircuit when nodes lack words, or regions name parts or states there are not.

    Where a file holds several forms, each is given the file's `id` and its `form`, and is known as `id-form`.
    """
    id = f"{id}-{form}" if form else id
    parts = read_netlist(netlist, f"circuit '{id}'")
    _check_nodes(id, parts, nodes)
    _check_regions(id, parts, regions, shorted)
    return Circuit(
        id, title, stage, purpose, parts, nodes, regions, composites, what_ifs, edges, slopes, variants, preferred,
        constants, ends or {}, defaults or {}, root_preference, drawing, report, typical, derivation or {}, readings,
        aliases or {}, shorted, form,
    )  # fmt: skip


def _check_nodes(id: str, parts: tuple[Part, ...], nodes: Mapping[str, NodeWord]) -> None:
    """BadCircuit for a node without words, or words without a node."""
    used = {node for part in parts for node in part.nodes} - {GROUND}
    unnamed = sorted(used - set(nodes))
    if unnamed:
        raise BadCircuit(f"circuit '{id}': node '{unnamed[0]}' has no words; add it to nodes=")
    idle = sorted(set(nodes) - used)
    if idle:
        raise BadCircuit(f"circuit '{id}': nodes= names '{idle[0]}', which no part touches")


def _check_regions(id: str, parts: tuple[Part, ...], regions: tuple[Region, ...], shorted: str) -> None:
    """BadCircuit for a part or a state of one that the circuit has not, or a region of which nothing is declared."""
    states = {part.name: {state.id for state in part.component.regions} for part in parts}
    for region in regions:
        for name, state in region.parts.items():
            if state not in states.get(name, ()):
                raise BadCircuit(f"circuit '{id}': region '{region.id}' puts '{name}' into '{state}', which it lacks")
    if shorted and shorted not in {region.id for region in regions}:
        raise BadCircuit(f"circuit '{id}': shorted= names '{shorted}', which is no region of it")
