"""Principles by which a result is thrown out at sight: bounds that the given numbers set on a quantity.

Each is a function over what a problem gives, for the circuits and quantities it speaks of; where the given numbers say
nothing it sets no bound. That no true value of any problem lies outside is held by a test over all families.

Vocabulary: a quantity's *letter* is its name without index and end (P_Q of P_Q_1_MAX); *facts* are the given numbers.
Place in the data flow: given numbers + a claimed value -> the principles it breaks.
Sources: Kirchhoff's laws and the conservation of energy; for the regulators, the chapters on supplies of any textbook
(Sedra and Smith, Microelectronic Circuits; from memory). Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tutor.quantities.symbols import split_name

CLEAR = 0.1  # of a bound: a claim this far beyond it is thrown out at sight


@dataclass(frozen=True)
class Facts:
    """What a problem gives: its circuit by its file's name, its numbers by key (SI); the letters of what is asked."""

    circuit: str
    given: Mapping[str, float]
    asked: frozenset[str] = frozenset()

    def ends(self, letter: str) -> tuple[float, float] | None:
        """The least and greatest value told of a letter, whatever its index and end; None where none is told."""
        values = [value for key, value in self.given.items() if letter_of(key) == letter]
        return (min(values), max(values)) if values else None

    def least(self, letter: str) -> float | None:
        """The least value told of a letter."""
        ends = self.ends(letter)
        return None if ends is None else ends[0]

    def most(self, letter: str) -> float | None:
        """The greatest value told of a letter."""
        ends = self.ends(letter)
        return None if ends is None else ends[1]


Bound = tuple[float | None, float | None]  # least and greatest value that can be, None where none is set
OPEN: Bound = (None, None)


@dataclass(frozen=True)
class Principle:
    """A principle: `words` say it as a reason; it speaks of the `letters` in the `circuits` (files), and `bound` says
    what the facts leave possible. `reference` are the slips of the trade that go against it, `belief` what is believed
    by whoever takes such a result."""

    id: str
    words: str
    circuits: tuple[str, ...]
    letters: tuple[str, ...]
    bound: Callable[[Facts, str], Bound]
    belief: str = ""
    reference: tuple[str, ...] = ()

    def limits(self, facts: Facts, key: str) -> Bound:
        """What it leaves possible of a quantity; open where it does not speak of it."""
        speaks = facts.circuit in self.circuits and letter_of(key) in self.letters
        return self.bound(facts, key) if speaks else OPEN

    def is_broken(self, facts: Facts, key: str, value: float, clear: float = 0.0) -> bool:
        """Whether a value lies outside what is possible, by more than `clear` of the bound."""
        low, high = self.limits(facts, key)
        size = max(abs(value), *(abs(bound) for bound in (low, high) if bound is not None), 0.0)
        room = max(clear, 1e-9)
        below = low is not None and value < low - room * (abs(low) or size)
        return below or (high is not None and value > high + room * (abs(high) or size))


def letter_of(key: str) -> str:
    """The letter of a key, without index and end: P_Q of P_Q_1_MAX. A change (DV_O) keeps its D."""
    parts = split_name(key)
    return f"{'D' if parts.change else ''}{parts.base}"


SHUNTS = ("zener_shunt", "boosted_shunt", "opamp_shunt", "reference_shunt", "compensated_shunt")
FOLLOWERS = ("follower", "darlington", "current_limit")
LOOPS = ("feedback_pair", "opamp_series")
REGULATORS = (*SHUNTS, *FOLLOWERS, *LOOPS, "foldback", "three_terminal")
RAW = ("reservoir", "rectifiers")


def _below_supply(facts: Facts, key: str) -> Bound:
    return 0.0, facts.most("V_I")


def _below_crest(facts: Facts, key: str) -> Bound:
    winding = facts.most("V_SEC")
    return 0.0, None if winding is None else math.sqrt(2) * winding


def _below_two_crests(facts: Facts, key: str) -> Bound:
    winding = facts.most("V_SEC")
    return 0.0, None if winding is None else 2 * math.sqrt(2) * winding


def _a_share(facts: Facts, key: str) -> Bound:
    return 0.0, 1.0


def _not_negative(facts: Facts, key: str) -> Bound:
    return 0.0, None


def _load_current(facts: Facts) -> float | None:
    """The greatest load current that can be: as told, or the whole supply across the load."""
    told, supply, resistance = facts.most("I_L"), facts.most("V_I"), facts.least("R_L")
    if told is not None:
        return told
    return supply / resistance if supply is not None and resistance else None


def _pass_power(facts: Facts, key: str) -> Bound:
    current, supply = _load_current(facts), facts.most("V_I") or facts.most("V_OC")
    return 0.0, None if current is None or supply is None else supply * current


def _through_series(facts: Facts, key: str) -> Bound:
    supply, resistance = facts.most("V_I"), facts.least("R")
    return None, supply / resistance if supply is not None and resistance else None


def _power_through_series(facts: Facts, key: str) -> Bound:
    supply, resistance = facts.most("V_I"), facts.least("R")
    return 0.0, supply**2 / resistance if supply is not None and resistance else None


def _load_over_gain(facts: Facts, key: str) -> Bound:
    if "h_FE" in facts.asked:
        return OPEN  # the gain is open, and the base may get all that there is
    current, gain = _load_current(facts), facts.least("h_FE")
    return 0.0, current / gain if current is not None and gain else None


def _above_air(facts: Facts, key: str) -> Bound:
    return facts.least("T_A"), None


def _only_takes_away(facts: Facts, key: str) -> Bound:
    supply, resistance, load = facts.most("V_I"), facts.least("R"), facts.most("R_L")
    if supply is None or resistance is None or load is None:
        return None, supply
    return None, supply * load / (resistance + load)


def _below_zener(facts: Facts, key: str) -> Bound:
    return None, facts.most("V_Z")


def _above_reference(facts: Facts, key: str) -> Bound:
    return facts.least("V_REF") if facts.least("V_REF") is not None else facts.least("V_Z"), None


def _smoother(facts: Facts, key: str) -> Bound:
    return 0.0, facts.most("V_RIP")


def _above_readings(facts: Facts, key: str) -> Bound:
    return facts.most("V_I"), None


def _above_load(facts: Facts, key: str) -> Bound:
    return facts.least("I_L"), None


PRINCIPLES = (
    Principle(
        "only-takes-away",
        "a shunt regulator only takes away: its output never stands above what its resistor leaves the load",
        SHUNTS,
        ("V_O",),
        _only_takes_away,
        "a shunt regulator believed to hold or lift an output that the supply cannot reach",
        ("S24",),
    ),
    Principle(
        "supply",
        "with one supply no node of the circuit stands above it, and none below ground",
        REGULATORS,
        ("V_O", "V_B", "V_TAP", "V_OA", "V_CE", "V_R", "V_TH", "V_IO"),
        _below_supply,
        "a regulator believed to lift its output above its supply",
    ),
    Principle(
        "crest",
        "a reservoir is charged to the crest of the winding's voltage at most, and no part of its voltage lies above",
        RAW,
        ("V_PK", "V_DC", "V_TROUGH", "V_RIP"),
        _below_crest,
        "a rectifier believed to give more than the crest",
    ),
    Principle(
        "reverse-voltage",
        "a diode is never held against more than twice the crest of the winding",
        RAW,
        ("PIV",),
        _below_two_crests,
        "the reverse voltage counted more than twice",
    ),
    Principle(
        "efficiency",
        "no circuit gives out more power than it takes in",
        (*REGULATORS, "heat_path"),
        ("eta",),
        _a_share,
        "an efficiency above one taken for a good one",
    ),
    Principle(
        "pass-power",
        "the pass part cannot turn more into heat than the supply's voltage times the load's current",
        ("follower", "darlington", *LOOPS, "three_terminal", "heat_path"),
        ("P_Q", "P_D"),
        _pass_power,
        "a part believed to make more heat than the supply brings",
    ),
    Principle(
        "series-current",
        "no more can come through the series resistor than with its far end at ground",
        (*SHUNTS, *FOLLOWERS),
        ("I_R", "I_Z", "I_K"),
        _through_series,
        "more current believed behind a resistor than it lets through",
    ),
    Principle(
        "series-power",
        "all that the parts behind the series resistor get comes through it",
        SHUNTS,
        ("P_Z", "P_R", "P_Q", "P_D"),
        _power_through_series,
        "a part believed to make more heat than the supply brings",
    ),
    Principle(
        "backward",
        "no current flows backward through a zener in breakdown, a junction or a collector",
        REGULATORS,
        ("I_Z", "I_K", "I_B", "I_C", "I_E", "I_R", "I_DIV", "I_RBE"),
        _not_negative,
        "a negative current taken for a small one",
    ),
    Principle(
        "base-current",
        "a base takes the load's current divided by the gain, no more",
        ("follower",),
        ("I_B",),
        _load_over_gain,
        "the base believed to carry the load's current",
    ),
    Principle(
        "air",
        "what gives off heat is never colder than the air around it",
        ("heat_path",),
        ("T_J", "T_C", "T_S"),
        _above_air,
        "a rise taken for a temperature",
        ("H01",),
    ),
    Principle(
        "below-zener",
        "a follower stands a junction below its zener: it multiplies current, not voltage",
        FOLLOWERS,
        ("V_O",),
        _below_zener,
        "the follower believed to amplify the zener's voltage",
        ("E19",),
    ),
    Principle(
        "above-reference",
        "the loop makes a share of the output equal to the reference, so the output stands above the reference",
        (*LOOPS, "opamp_shunt", "reference_shunt", "three_terminal"),
        ("V_O",),
        _above_reference,
        "the output believed to be a share of the reference",
        ("F01",),
    ),
    Principle(
        "smoother",
        "a regulator hands on less of a ripple than it is given",
        REGULATORS,
        ("V_RIP_O",),
        _smoother,
        "a regulator believed to add to the ripple",
    ),
    Principle(
        "share-of-change",
        "a regulator hands on a part of a change of its line, never more than all of it",
        REGULATORS,
        ("S_V",),
        _a_share,
        "a regulator believed to add to a change",
    ),
    Principle(
        "unloaded",
        "with no load a source stands at its highest: no load means no current, not no voltage",
        ("source",),
        ("V_OC",),
        _above_readings,
        "no load taken for a short circuit",
        ("N05",),
    ),
    Principle(
        "pulses",
        "the winding's current flows in short pulses, and its r.m.s. value is above the mean that the load draws",
        RAW,
        ("I_SEC",),
        _above_load,
        "the winding's current taken to be no more than the load's",
        ("U15",),
    ),
    Principle(
        "resistance",
        "no resistor and no slope of a zener is below zero",
        (*REGULATORS, "source", "heat_path"),
        ("R", "R_1", "R_2", "R_D", "R_BE", "R_SENSE", "R_L", "R_S", "r_z", "R_OUT"),
        _not_negative,
        "a resistance below zero taken for a small one",
    ),
)  # fmt: skip


def broken(facts: Facts, key: str, value: float, clear: float = CLEAR) -> tuple[Principle, ...]:
    """The principles that a claimed value breaks clearly."""
    return tuple(item for item in PRINCIPLES if item.is_broken(facts, key, value, clear))
