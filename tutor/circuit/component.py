"""What a kind of part is: its terminals, the quantities it has, its laws and the states it may be in.

Place in the data flow: read by the tables of parts (`components.py` joins them), the netlist and the laws.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum


class PartKind(Enum):
    """Kinds of part a netlist line may name."""

    SOURCE = "source"
    RESISTOR = "resistor"
    ZENER = "zener"
    LOAD = "load"
    NPN = "npn"
    PNP = "pnp"
    JUNCTION = "junction"
    SHUNT_REFERENCE = "shunt-reference"
    OPAMP = "opamp"
    AMPLIFIER = "amplifier"
    THREE_TERMINAL = "three-terminal"
    HEAT_SOURCE = "heat-source"
    THERMAL = "thermal"
    WINDING = "winding"
    TAPPED_WINDING = "tapped-winding"
    DIODE = "diode"
    RESERVOIR = "reservoir"


WINDINGS = (PartKind.WINDING, PartKind.TAPPED_WINDING)
LINES = (PartKind.SOURCE, *WINDINGS)  # what a circuit is fed from

# Sources that laws of several kinds of part name.
POWER = "definition of power: voltage across times current through"
PART_MODEL = "part model: Sedra and Smith, Microelectronic Circuits"
CURRENT_LAW = "Kirchhoff's current law"
VOLTAGE_LAW = "Kirchhoff's voltage law"


@dataclass(frozen=True)
class PartLaw:
    """A law template over the roles of a part in square brackets and its terminals; `id` follows the part's name.

    `title` and `why` may speak of {part}; `cost` as of a law.
    """

    id: str
    title: str
    formula: str
    cost: float
    source: str
    why: str = ""


@dataclass(frozen=True)
class PartRegion:
    """A state of a part: its words, its laws, and the inequalities that must hold to be in it."""

    id: str
    words: str
    laws: tuple[PartLaw, ...]
    holds: tuple[str, ...] = ()


@dataclass(frozen=True)
class Component:
    """A kind of part: terminals in netlist order, roles with their default symbols, laws, regions.

    In a symbol `{name}` is the part's name, `{index}` the number at the end of it (`_1` of Q_1, nothing of Q).
    `flows` says how each current crosses a terminal: (role, terminal, enters the node?).
    """

    terminals: tuple[str, ...]
    roles: Mapping[str, str]
    flows: tuple[tuple[str, str, bool], ...]
    laws: tuple[PartLaw, ...] = ()
    regions: tuple[PartRegion, ...] = ()
