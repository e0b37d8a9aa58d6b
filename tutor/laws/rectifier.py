"""What a rectifier with a reservoir does, read off its netlist: which diodes conduct at a crest, and what then follows.

Vocabulary: a *half* is a winding, or one half of a tapped one, which drives current out of one end and back into the
other; at a *crest* each half is at its peak, one way round or the other. A half *charges* the reservoir when diodes
lead forward from its driving end to the reservoir and back from there to its other end. The number of diodes on that
way sets the crest voltage, the number of crests a cycle that charge (`pulses`) the ripple, and the node voltages at
that moment the reverse voltage of the diodes that do not conduct.
Place in the data flow: parts of a netlist -> laws, beside those that each part brings.

Sources: Kirchhoff's voltage law for crest and reverse voltage; charge balance (what the load takes between two crests
the reservoir gives, V = Q/C) for the ripple, as in Sedra and Smith, Microelectronic Circuits, peak rectifier (from
memory). Winding current: makers quote 1.6 to 1.8 times the load current for a bridge (common practice, no source); the
other forms follow from the same pulses, in the one winding half as often and twice as large, or in two halves by turns.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tutor.circuit.circuit import GROUND
from tutor.circuit.component import VOLTAGE_LAW, WINDINGS, PartKind
from tutor.circuit.netlist import Part
from tutor.errors import BadCircuit
from tutor.laws.law import Law
from tutor.quantities.expression import (
    ZEROS,
    Add,
    Div,
    Equation,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Sym,
    negated,
    sum_of,
)

_CHARGE = "charge balance between two crests: Sedra and Smith, Microelectronic Circuits, peak rectifier (from memory)"
_PULSES = "common practice: makers' factor of 1.6 to 1.8 for a bridge, 1.8 taken; the form's pulses in proportion"
_COUNTS = {1: "one", 2: "two"}


@dataclass(frozen=True)
class Crest:
    """One way round the winding may be at its crest: the diodes that charge (none when it does not), and the voltage
    of each winding end in terms of the reservoir's crest."""

    conducting: tuple[str, ...]
    ends: Mapping[str, Expr]


@dataclass(frozen=True)
class Charging:
    """What a rectifier comes to: diodes in series on the charging way, charging crests a cycle, halves of the winding
    that share them, and the greatest reverse voltage of a diode, as a person writes it."""

    diodes: int
    pulses: int
    halves: int
    reverse: Expr


def rectifier_laws(parts: Sequence[Part]) -> list[Law]:
    """The laws of the rectifiers among the parts, none without a reservoir; BadCircuit when nothing charges one.

    Several that share no node but ground are each read for themselves; their laws are told apart by the reservoir.
    """
    found = [item for item in supplies(parts) if any(part.kind is PartKind.RESERVOIR for part in item)]
    if len(found) == 1:
        return _laws_of(parts, "rectifier")
    return [law for item in found for law in _laws_of(item, f"rectifier.{_reservoir(item).name}")]


def supplies(parts: Sequence[Part]) -> list[list[Part]]:
    """The parts in groups joined by nodes other than ground, in netlist order."""
    groups: list[list[Part]] = []
    for part in parts:
        own = {*part.nodes} - {GROUND}
        met = [group for group in groups if any(own & {*other.nodes} for other in group)]
        groups = [group for group in groups if group not in met]
        groups.append([*(other for group in met for other in group), part])
    return groups


def _laws_of(parts: Sequence[Part], prefix: str) -> list[Law]:
    """The laws of one rectifier, their ids under a prefix."""
    reservoir = _reservoir(parts)
    found = charging(parts)
    winding = _winding(parts)
    load = next(part for part in parts if part.kind is PartKind.LOAD)
    diode = next(part for part in parts if part.kind is PartKind.DIODE)
    crest, source = Sym(reservoir.symbols["crest"]), Sym(winding.symbols["crest"])
    drop, current = Sym(diode.symbols["drop"]), Sym(load.symbols["current"])
    count, pulses = _COUNTS[found.diodes], _COUNTS[found.pulses]
    drops = drop if found.diodes == 1 else Mul((Num(found.diodes), drop))
    rate: tuple[Expr, ...] = (Sym(reservoir.symbols["frequency"]), Sym(reservoir.symbols["capacitance"]))
    rate = rate if found.pulses == 1 else (Num(found.pulses), *rate)
    return [
        Law(
            f"{prefix}.crest",
            f"Round the charging loop: {count} diode{'s' if found.diodes > 1 else ''} in the way",
            Equation(crest, Add((source, Neg(drops)))),
            "",
            VOLTAGE_LAW,
            0.9,
            f"At the crest the winding charges the reservoir through {count} diode"
            f"{'s, one on the way out and one on the way back' if found.diodes > 1 else ''}.",
        ),
        Law(
            f"{prefix}.ripple",
            f"Charge balance: {pulses} top-up{'s' if found.pulses > 1 else ''} in each cycle of the mains",
            Equation(Sym(reservoir.symbols["ripple"]), Div(current, Mul(rate))),
            "",
            _CHARGE,
            1.0,
            "Between two crests the reservoir alone feeds the load; the charge that it gives lowers its voltage.",
        ),
        Law(
            f"{prefix}.reverse",
            "Reverse voltage of a diode that does not conduct",
            Equation(Sym(diode.symbols["reverse"]), found.reverse),
            "",
            VOLTAGE_LAW,
            1.0,
            "The reservoir holds one side of the idle diode at its crest; the winding pulls the other side away.",
        ),
        Law(
            f"{prefix}.winding-current",
            "Heating current of the winding, for pulses",
            Equation(Sym(winding.symbols["current"]), _winding_current(current, found)),
            "",
            _PULSES,
            1.0,
            "The charge of a whole interval passes in a short tall pulse, whose r.m.s. value is far above its mean.",
        ),
    ]


def _winding_current(load: Expr, found: Charging) -> Expr:
    """1.8 I_L for a bridge; sqrt(2) times that for half as many pulses, each twice as large; 1/sqrt(2) of it for each
    of two halves by turns."""
    heated = Mul((Num(1.8), load))
    if found.halves == found.pulses:
        return Mul((Num(1.8), Func("sqrt", Num(2)), load)) if found.pulses == 1 else Div(heated, Func("sqrt", Num(2)))
    return heated


def charging(parts: Sequence[Part]) -> Charging:
    """How the rectifier charges its reservoir, found by following the diodes; BadCircuit when it cannot."""
    winding = _winding(parts)
    crests = [_crest(parts, winding, way) for way in (False, True)]
    counts = {len(item.conducting) for item in crests if item.conducting}
    if len(counts) != 1 or not counts <= set(_COUNTS):
        raise BadCircuit(f"the diodes at winding '{winding.name}' lead to the reservoir by no way, or by unlike ways")
    pulses = sum(1 for item in crests if item.conducting)
    halves = 2 if winding.kind is PartKind.TAPPED_WINDING else 1
    return Charging(counts.pop(), pulses, halves, _reverse(parts, crests))


def _reservoir(parts: Sequence[Part]) -> Part:
    return next(part for part in parts if part.kind is PartKind.RESERVOIR)


def _winding(parts: Sequence[Part]) -> Part:
    found = [part for part in parts if part.kind in WINDINGS]
    if len(found) != 1:
        raise BadCircuit(f"a reservoir is charged from one winding (got {len(found)})")
    return found[0]


def _halves(winding: Part, turned: bool) -> list[tuple[str, str]]:
    """(driving end, other end) of each half at a crest."""
    ends = winding.nodes
    return [(after, before) if turned else (before, after) for before, after in pairwise(ends)]


def _crest(parts: Sequence[Part], winding: Part, turned: bool) -> Crest:
    """What the diodes and the winding's ends do at a crest of one way round."""
    reservoir = _reservoir(parts)
    upper, lower = reservoir.nodes
    halves = _halves(winding, turned)
    conducting: tuple[str, ...] = ()
    ends: dict[str, Expr] = {}
    crest, source = Sym(reservoir.symbols["crest"]), Sym(winding.symbols["crest"])
    for driving, other in halves:
        out, back = _way(parts, driving, upper), _way(parts, lower, other)
        if out is not None and back is not None:
            conducting = (*out, *back)
            drop = Sym(next(part for part in parts if part.kind is PartKind.DIODE).symbols["drop"])
            ends = {driving: _sum(crest, *[drop] * len(out)), other: _sum(*[Neg(drop)] * len(back))}
    if not conducting:
        # The end that is tied to the reservoir stands still; the winding's crest pulls the others away from it.
        ends = {node: Num(0) for half in halves for node in half if node == lower}
    for _ in halves:  # from end to end: what is known of the tap tells of the far half
        for driving, other in halves:
            if driving in ends and other not in ends:
                ends[other] = _sum(ends[driving], Neg(source))
            elif other in ends and driving not in ends:
                ends[driving] = _sum(ends[other], source)
    return Crest(conducting, ends)


def _way(parts: Sequence[Part], start: str, goal: str) -> tuple[str, ...] | None:
    """The diodes forward from one node to another, the fewest; () when they are one node, None when there is no way."""
    reached: dict[str, tuple[str, ...]] = {start: ()}
    edge = [start]
    while edge:
        here = edge.pop(0)
        for part in parts:
            if part.kind is PartKind.DIODE and part.terminals["a"] == here and part.terminals["k"] not in reached:
                reached[part.terminals["k"]] = (*reached[here], part.name)
                edge.append(part.terminals["k"])
    return reached.get(goal)


def _reverse(parts: Sequence[Part], crests: Sequence[Crest]) -> Expr:
    """The reverse voltage of an idle diode at the crest that puts most on it: cathode minus anode."""
    reservoir = _reservoir(parts)
    held: dict[str, Expr] = {reservoir.nodes[0]: Sym(reservoir.symbols["crest"]), GROUND: Num(0)}
    found: list[Expr] = []
    for crest in crests:
        volts = {**held, **crest.ends}
        for part in parts:
            if part.kind is PartKind.DIODE and part.name not in crest.conducting:
                anode, cathode = volts.get(part.terminals["a"]), volts.get(part.terminals["k"])
                if anode is not None and cathode is not None:
                    found.append(_sum(cathode, Neg(anode)))
    if not found or any(item != found[0] for item in found):
        raise BadCircuit("the diodes that do not conduct at a crest stand unlike reverse voltages")
    return found[0]


def _sum(*terms: Expr) -> Expr:
    """A sum without brackets and zeros, as a person writes it: what is added first."""
    flat: list[Expr] = []
    for term in terms:
        inner = term.arg if isinstance(term, Neg) else term
        pieces = inner.terms if isinstance(inner, Add) else (inner,)
        turned = [negated(piece) for piece in pieces] if isinstance(term, Neg) else list(pieces)
        flat += [piece for piece in turned if piece not in ZEROS]
    return sum_of(sorted(flat, key=lambda piece: isinstance(piece, Neg)))
