"""What may be wrong with a part, as an edit of the netlist.

Vocabulary: a *fault* is a part and what is the matter with it; which faults a circuit may have follows from the kinds
of its parts. A faulty circuit is its netlist edited (a part taken out, bridged, turned round) or a value of it, and is
then solved like any other. Nothing here says what a fault does.
Place in the data flow: circuit -> faults -> edited parts and values -> operating points.
Which faults parts have in practice (resistors go open or are misread by a decade, junctions go open or short, a
transistor shorts from collector to emitter or loses its base-emitter junction, electrolytics dry out): common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from tutor.circuit.circuit import Circuit
from tutor.circuit.component import PartKind
from tutor.circuit.netlist import Part
from tutor.errors import BadFamily

BRIDGE = "bridge"  # symbol of the voltage across a short: none
JOINT = "joint"  # symbol of the resistance of a bad joint


class FaultKind(Enum):
    """What may be the matter."""

    NOTHING = "nothing"
    OPEN = "open"
    SHORT = "short"
    REVERSED = "reversed"
    TENFOLD = "tenfold"
    TENTH = "tenth"
    BASE_SHORT = "base-short"
    JOINT = "joint"
    EXCHANGED = "exchanged"
    DRIED = "dried"
    HIGH = "high"


@dataclass(frozen=True)
class CircuitFault:
    """A part's name and what is wrong with it; `size` is the share that is left of a value, or a joint's ohms."""

    kind: FaultKind
    part: str = ""
    size: float = 1.0

    @property
    def id(self) -> str:
        """`open Z`, as families name it."""
        return f"{self.kind.value} {self.part}".strip()


NOTHING = CircuitFault(FaultKind.NOTHING)

_KINDS: Mapping[PartKind, tuple[FaultKind, ...]] = {
    PartKind.RESISTOR: (FaultKind.OPEN, FaultKind.TENFOLD, FaultKind.TENTH),
    PartKind.ZENER: (FaultKind.OPEN, FaultKind.SHORT, FaultKind.REVERSED),
    PartKind.JUNCTION: (FaultKind.OPEN, FaultKind.SHORT, FaultKind.REVERSED),
    PartKind.NPN: (FaultKind.OPEN, FaultKind.SHORT, FaultKind.BASE_SHORT),
    PartKind.PNP: (FaultKind.OPEN, FaultKind.SHORT, FaultKind.BASE_SHORT),
    PartKind.LOAD: (FaultKind.SHORT,),
    PartKind.SHUNT_REFERENCE: (FaultKind.OPEN, FaultKind.SHORT),
    PartKind.THREE_TERMINAL: (FaultKind.OPEN, FaultKind.SHORT),
    PartKind.AMPLIFIER: (FaultKind.EXCHANGED,),
    PartKind.DIODE: (FaultKind.OPEN,),
}
_WORDS: Mapping[FaultKind, str] = {
    FaultKind.OPEN: "{part} open",
    FaultKind.SHORT: "{part} shorted",
    FaultKind.REVERSED: "{part} fitted the wrong way round",
    FaultKind.TENFOLD: "{part} ten times too large",
    FaultKind.TENTH: "{part} ten times too small",
    FaultKind.BASE_SHORT: "{part} shorted from base to emitter",
    FaultKind.EXCHANGED: "{part} with its inputs exchanged",
}
# What is left of a reservoir, and what a wrong tap gives too much, by the sizes that have words.
_LEFT = {0.5: "half", 1 / 3: "a third"}
_TOO_MUCH = {1.25: "a quarter"}
# What a fault leaves of the circuit, for a reader who then works it out.
_REASONS: Mapping[tuple[PartKind, FaultKind], str] = {
    (PartKind.RESISTOR, FaultKind.OPEN): "Nothing flows where it lay: what it fed is fed no more.",
    (PartKind.RESISTOR, FaultKind.TENFOLD): "At one voltage it passes a tenth of the current, and what hangs on it may "
    "starve.",
    (PartKind.RESISTOR, FaultKind.TENTH): "At one voltage it passes ten times the current.",
    (PartKind.ZENER, FaultKind.OPEN): "Nothing holds its node any more; what else meets there sets the voltage.",
    (PartKind.ZENER, FaultKind.SHORT): "Its two ends are one node.",
    (PartKind.ZENER, FaultKind.REVERSED): "Forward it is an ordinary junction and clamps at some 0.7 V.",
    (PartKind.JUNCTION, FaultKind.OPEN): "The branch in which it lies carries nothing.",
    (PartKind.JUNCTION, FaultKind.SHORT): "Its forward voltage is gone and the branch goes on conducting.",
    (PartKind.JUNCTION, FaultKind.REVERSED): "It blocks, and the branch in which it lies carries nothing.",
    (PartKind.NPN, FaultKind.OPEN): "It passes nothing and takes no base current.",
    (PartKind.NPN, FaultKind.SHORT): "Collector and emitter are one node, whatever its base says.",
    (PartKind.NPN, FaultKind.BASE_SHORT): "Without a junction voltage it passes nothing from collector to emitter, and "
    "its base node hangs on its emitter.",
    (PartKind.PNP, FaultKind.OPEN): "It passes nothing and takes no base current.",
    (PartKind.PNP, FaultKind.SHORT): "Collector and emitter are one node, whatever its base says.",
    (PartKind.PNP, FaultKind.BASE_SHORT): "Without a junction voltage it passes nothing from emitter to collector.",
    (PartKind.LOAD, FaultKind.SHORT): "The output is tied to ground as long as the load is joined, and whatever feeds "
    "it has the whole supply across it.",
    (PartKind.SHUNT_REFERENCE, FaultKind.OPEN): "Nothing takes current away from the output any more.",
    (PartKind.SHUNT_REFERENCE, FaultKind.SHORT): "The output is tied to ground through it.",
    (PartKind.THREE_TERMINAL, FaultKind.OPEN): "Nothing feeds the output any more.",
    (PartKind.THREE_TERMINAL, FaultKind.SHORT): "Input and output are one node.",
    (PartKind.AMPLIFIER, FaultKind.EXCHANGED): "What should hold the output now drives it on, to one end or the other.",
    (PartKind.SOURCE, FaultKind.JOINT): "It takes a share of the supply that grows with the current drawn.",
    (PartKind.DIODE, FaultKind.OPEN): "The crests that it passed are lost; those of another way remain if "
    "there is one.",
    (PartKind.RESERVOIR, FaultKind.DRIED): "The same charge taken between two crests lowers it further.",
    (PartKind.WINDING, FaultKind.HIGH): "The crest rises with it; the charge taken between two crests does not.",
    (PartKind.TAPPED_WINDING, FaultKind.HIGH): "The crest rises with it; the charge taken between two crests does not.",
}


def possible_faults(
    circuit: Circuit, joint: float = 0.0, left: float = 0.0, over: float = 0.0
) -> tuple[CircuitFault, ...]:
    """Every fault that the kinds of a circuit's parts may have, nothing wrong first.

    `joint` (ohms) puts a bad joint into the supply's lead, `left` is the share a dried-out reservoir keeps, `over` what
    a wrong tap makes of a winding's voltage; each is left out at 0. BadFamily for a size that has no words.
    """
    for what, size, words in (("left", left, _LEFT), ("over", over, _TOO_MUCH)):
        if size and size not in words:
            known = ", ".join(f"{one:.3g}" for one in words)
            raise BadFamily(f"a bench has no words for {what}={size:.3g}; it may be {known}")
    found = [NOTHING]
    for part in circuit.parts:
        found += [CircuitFault(kind, part.name) for kind in _KINDS.get(part.kind, ())]
        if part.kind is PartKind.SOURCE and part.symbols["current"] and joint:
            found.append(CircuitFault(FaultKind.JOINT, part.name, joint))
        if part.kind is PartKind.RESERVOIR and left:
            found.append(CircuitFault(FaultKind.DRIED, part.name, left))
        if part.kind in (PartKind.WINDING, PartKind.TAPPED_WINDING) and over:
            found.append(CircuitFault(FaultKind.HIGH, part.name, over))
    return tuple(found)


def fault_words(circuit: Circuit, fault: CircuitFault, part_words: Mapping[str, str]) -> str:
    """A fault as an option names it: "zener open", "nothing wrong"."""
    if fault.kind is FaultKind.NOTHING:
        return "nothing wrong"
    if fault.kind is FaultKind.JOINT:
        return f"a bad joint of {fault.size:g} Ω in the supply lead"
    if fault.kind is FaultKind.DRIED:
        return f"{part_words[fault.part]} dried out to {_LEFT[fault.size]} of its value"
    if fault.kind is FaultKind.HIGH:
        return f"{part_words[fault.part]} on a tap that gives {_TOO_MUCH[fault.size]} too much"
    words = _WORDS[fault.kind].format(part=part_words[fault.part])
    transistor = circuit.part(fault.part).kind in (PartKind.NPN, PartKind.PNP)
    return f"{words} from collector to emitter" if transistor and fault.kind is FaultKind.SHORT else words


def supposed(words: str) -> str:
    """A fault's words after "with": "the zener open", "nothing wrong", "a bad joint …"."""
    return words if words.startswith(("nothing ", "a ", "one ")) else f"the {words}"


def fault_reason(circuit: Circuit, fault: CircuitFault) -> str:
    """What a fault leaves of the circuit, in a sentence; '' of nothing wrong."""
    return "" if fault.kind is FaultKind.NOTHING else _REASONS[circuit.part(fault.part).kind, fault.kind]


def with_fault(
    parts: Sequence[Part], values: Mapping[str, float], fault: CircuitFault
) -> tuple[tuple[Part, ...], dict[str, float]]:
    """Parts and values of the faulty circuit. A part that was taken out before the fault came (a load) has none."""
    told = {**values, BRIDGE: 0.0}
    if fault.kind is FaultKind.JOINT:
        told[JOINT] = fault.size
    found = tuple(edited for part in parts for edited in (_edited(part, fault) if part.name == fault.part else (part,)))
    factor = {FaultKind.TENFOLD: 10.0, FaultKind.TENTH: 0.1, FaultKind.DRIED: fault.size, FaultKind.HIGH: fault.size}
    roles = {FaultKind.DRIED: "capacitance", FaultKind.HIGH: "voltage"}
    for part in parts:
        if part.name == fault.part and fault.kind in factor:
            told[part.symbols[roles.get(fault.kind, "resistance")]] *= factor[fault.kind]
    return found, told


def _edited(part: Part, fault: CircuitFault) -> Iterator[Part]:
    """The part or parts that stand in a faulty one's place."""
    ends = part.terminals
    if fault.kind is FaultKind.OPEN:
        return
    if fault.kind is FaultKind.SHORT:
        yield _bridge(part.name, *_shorted(part))
    elif fault.kind is FaultKind.BASE_SHORT:
        yield _bridge(part.name, ends["b"], ends["e"])
    elif fault.kind is FaultKind.REVERSED:
        yield replace(part, nodes=part.nodes[::-1])
    elif fault.kind is FaultKind.EXCHANGED:
        yield replace(part, nodes=(part.nodes[1], part.nodes[0], *part.nodes[2:]))
    elif fault.kind is FaultKind.JOINT:
        behind = f"{ends['a']} behind {part.name}"
        yield replace(part, nodes=(behind, ends["b"]))
        symbols = {"resistance": JOINT, "current": "", "voltage": "", "power": ""}
        yield Part(f"joint of {part.name}", PartKind.RESISTOR, (behind, ends["a"]), symbols)
    else:
        yield part


def _shorted(part: Part) -> tuple[str, str]:
    """The two nodes that a short of a part joins."""
    ends = part.terminals
    if part.kind in (PartKind.NPN, PartKind.PNP):
        return ends["c"], ends["e"]
    if part.kind is PartKind.THREE_TERMINAL:
        return ends["i"], ends["o"]
    if part.kind is PartKind.SHUNT_REFERENCE:
        return ends["c"], ends["a"]
    return part.nodes[0], part.nodes[1]


def _bridge(name: str, one: str, other: str) -> Part:
    """A wire between two nodes, as a source of nothing."""
    symbols = {"voltage": BRIDGE, "current": "", "power": ""}
    return Part(name, PartKind.SOURCE, (one, other), symbols)
