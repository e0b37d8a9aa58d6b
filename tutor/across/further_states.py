"""States that no part of a healthy circuit is in, and that a fault or a wrong connection brings about.

To the states of `circuit/components.py` these are added where a circuit is solved whatever it is like: a zener that
lies forward, a transistor or amplifier driven to its end. Templates are written as there; [forward] is the forward
voltage of a zener, V_F.
Place in the data flow: read by `operating_point.py`, beside the table of parts; `meters.py` and `joinings.py` have the
words from here.
Sources: the part models named in `circuit/components.py`; a zener in the forward direction is an ordinary junction.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.component import PartKind, PartLaw, PartRegion
from tutor.circuit.components import COMPONENTS

_MODEL = "part model: Sedra and Smith, Microelectronic Circuits"
_LOOP = "part model: amplifier whose loop has lost it"


def _law(id: str, formula: str, source: str = _MODEL) -> PartLaw:
    return PartLaw(id, id, formula, 1.0, source)


def _saturated(sign: str, words: str) -> PartRegion:
    """The state of a transistor of either polarity; `sign` turns what is counted from the base."""
    junction = "b - e = [junction]" if sign == "npn" else "e - b = [junction]"
    return PartRegion(
        "saturated",
        words,
        (_law("junction", junction), _law("saturation", "[drop] = [saturation]")),
        ("[base] >= 0", "[collector] >= 0", "[collector] <= [gain]*[base]"),
    )


FURTHER_STATES: Mapping[PartKind, tuple[PartRegion, ...]] = {
    PartKind.ZENER: (
        PartRegion("forward", "the zener lies forward", (_law("forward", "b - a = [forward]"),), ("[current] <= 0",)),
    ),
    PartKind.NPN: (_saturated("npn", "the transistor is saturated"),),
    PartKind.PNP: (_saturated("pnp", "the transistor is saturated"),),
    PartKind.AMPLIFIER: (
        PartRegion("low", "the amplifier's output is at ground", (_law("low", "o = 0", _LOOP),), ("p <= n",)),
    ),
}

# What must hold besides in a state of the table of parts, once parts may lie the wrong way round.
FURTHER_BOUNDS: Mapping[tuple[PartKind, str], tuple[str, ...]] = {
    (PartKind.ZENER, "off"): ("b - a <= [forward]",),
    (PartKind.NPN, "off"): ("b - c <= [junction]",),
    (PartKind.PNP, "off"): ("c - b <= [junction]",),
    (PartKind.AMPLIFIER, "linear"): ("o >= 0",),
    (PartKind.AMPLIFIER, "high"): ("o >= 0",),
}

# What a part in that state drives (a terminal or a role), and what must answer it by falling: only then does it hold
# its loop. An amplifier is pushed through 1 kΩ, lest it drive a junction that holds it. Where the answer rises with the
# drive, the state is a balance on a needle's point, and no state to be in.
DRIVES: Mapping[tuple[PartKind, str], tuple[str, str]] = {
    (PartKind.AMPLIFIER, "linear"): ("o + 1000*[current] = 1", "p - n"),
    (PartKind.OPAMP, "linear"): ("o + 1000*[current] = 1", "p - n"),
    (PartKind.SHUNT_REFERENCE, "regulating"): ("[current] = 1", "r - a"),
}


def states_of(kind: PartKind) -> tuple[PartRegion, ...]:
    """Every state that a part of a kind may be in, those of the table of parts first."""
    return (*COMPONENTS[kind].regions, *FURTHER_STATES.get(kind, ()))


def state_words(kind: PartKind, state: str) -> str:
    """A state of a part of a kind in words: "the zener is off"."""
    return next(item.words for item in states_of(kind) if item.id == state)
