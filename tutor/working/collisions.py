"""Where a unit or prefix and a symbol are spelled alike: which is read after a number, as ONE table.

Vocabulary: *joined* is directly after the number (2R), *apart* after a space (2 R), *after* follows a bracket, root or
power of bare numbers ((12 − 5) A). A row counts only where its spelling is a symbol of the circuit or the learner's
own; elsewhere, and before a number, there is nothing to decide. Every other unit wins after a number.
Place in the data flow: data for `literals.py`, and through `mirror_tables.py` for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType


class Clash(Enum):
    """What a spelling means where it could mean two things."""

    UNIT = "unit"
    SYMBOL = "symbol"
    ASK = "ask"  # neither is guessed
    FACTOR = "factor"  # the symbol where a product goes on, else neither is guessed


@dataclass(frozen=True)
class Collision:
    """One spelling and its meaning at each place."""

    spelling: str
    joined: Clash
    apart: Clash
    after: Clash


COLLISIONS: tuple[Collision, ...] = (
    # Amperes against the gain: 5 A is amperes, the gain stands first or after an operator.
    Collision("A", Clash.UNIT, Clash.UNIT, Clash.ASK),
    # Volt-amperes against the rating of a transformer.
    Collision("VA", Clash.UNIT, Clash.UNIT, Clash.ASK),
    Collision("va", Clash.UNIT, Clash.UNIT, Clash.ASK),
    # Degrees without their sign against the reservoir: 85 C and 2 C look the same, 1/2 C V_PK² can only be a product.
    Collision("C", Clash.ASK, Clash.FACTOR, Clash.FACTOR),
    # Nobody writes farads small where the frequency is f: 2 f C.
    Collision("f", Clash.SYMBOL, Clash.SYMBOL, Clash.SYMBOL),
    # 2R and 270R are ohms (IEC 60062), 2 R is twice R.
    Collision("R", Clash.UNIT, Clash.SYMBOL, Clash.SYMBOL),
    # P_R typed small; nobody measures in picohms.
    Collision("pR", Clash.SYMBOL, Clash.SYMBOL, Clash.SYMBOL),
)
BY_SPELLING: Mapping[str, Collision] = MappingProxyType({row.spelling: row for row in COLLISIONS})

# Prefix and unit at once: 47K is kilohms before kelvins, 300 K kelvins before kilohms; both meanings are kept.
PREFIX_AND_UNIT = "K"
# Spellings of a unit that never stand under a slash: 12 V/R is a quotient.
NEVER_UNDER = frozenset({"R", "f"})
# A share of this unit is that share: 1/4 W is a quarter of a watt, not one over four watts.
SHARES = (("1", "2"), ("1", "3"), ("1", "4"), ("1", "8"), ("2", "3"), ("3", "4"))
SHARED_UNIT = "W"
