"""Which givens the own-numbers pages offer: those of our problems, and those of published examples that are worked.

Vocabulary: a *given-set* is a circuit, the names of what is known at one operating point, and the conventions other
than the circuit's first; its *uses* say where it is given like that. Of a range one value at a time is known, so V_I
stands for V_I_MIN and V_I_MAX. A level brings several sets: what it tells; that with what is chosen in it, or with the
part values that readings settle in their place; and, for each requirement, what is known at the corner that just meets
it (the bounded quantity gone, the requirement's in).
Place in the data flow: families + a table of examples -> GivenSet -> `own_offer.py` plans them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from tutor.circuit.circuit import Circuit
from tutor.generate.family import Choose, Family, Find, FindBound, Level
from tutor.laws.derive import load_model
from tutor.plan.determinacy import manifold
from tutor.quantities.symbols import is_symbol, split_name

Conventions = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Use:
    """A place where something is given like that: a family with one of its levels, or a book's example (level 0)."""

    title: str
    level: int


@dataclass(frozen=True)
class GivenSet:
    """A set of givens of a circuit; `conventions` are those that differ from the circuit's first, sorted."""

    names: tuple[str, ...]
    conventions: Conventions
    uses: tuple[Use, ...]

    @property
    def id(self) -> str:
        """The set in one word, for addresses and stored data: `V_I.R.V_Z.I_L`."""
        return ".".join((*self.names, *(f"{name}={value}" for name, value in self.conventions)))


@dataclass(frozen=True)
class Example:
    """A published example: its short citation, the circuit, what is given, and the conventions it takes."""

    book: str
    circuit: str
    names: str
    conventions: Conventions = ()


_MEHTA = "Mehta and Mehta, Principles of Electronics"
_FLOYD = "Floyd, Electronic Devices"
_MALVINO = "Malvino and Bates, Electronic Principles"
_SEDHA = "Sedha, A Textbook of Electronic Circuits"
_BELL = "Bell, Electronic Devices and Circuits"
_FIORE = "Fiore, Op Amps and Linear Integrated Circuits"
_FRANCO = "Franco, Design with Operational Amplifiers"
_SALIVAHANAN = "Salivahanan and others, Electronic Devices and Circuits"
_NEGLECTED = (("base-current", "neglected"),)
_AT_CREST = (("ripple-current", "crest"),)
_WITHOUT_DROPS = (("piv-drop", "without"),)
_OVER_H_FE = (("base-current", "load-over-h_FE"),)

# The published examples that tests/books works, with the givens it works them from; a test holds the two equal.
# V_Z and P_ZM alone (Salivahanan 18.15) and a change beside its sensitivity (Franco 11.2) are left out: nothing of the
# circuit's state follows from them.
EXAMPLES = (
    Example(f"{_MEHTA}, 17.4", "source", "V_OC V_I I_I"),
    Example(f"{_FLOYD}, 17.2", "source", "V_OC V_I I_I"),
    Example("Tomar, Analog Integrated Circuits, 13.2", "source", "V_OC V_I I_I"),
    Example(f"{_MEHTA}, 17.5", "source", "V_I_1 I_I_1 V_I_2 I_I_2"),
    Example(f"{_MALVINO}, 24.6", "source", "V_OC V_I"),
    Example(f"{_BELL}, 3.3", "reservoir-half-wave", "V_DC R_L C f"),
    Example(f"{_MALVINO}, 4.1", "reservoir-half-wave", "V_SEC V_F"),
    Example("Sedra and Smith, Microelectronic Circuits, 3.9", "reservoir-half-wave", "V_PK R_L f V_RIP", _AT_CREST),
    Example(f"{_MALVINO}, 4.3", "reservoir-centre-tap", "V_PRI N_T V_F"),
    Example(f"{_BELL}, 3.9", "reservoir-bridge", "I_L V_RIP f"),
    Example(f"{_FLOYD}, 2.6", "reservoir-bridge", "V_SEC V_F"),
    Example(f"{_MALVINO}, 4.9", "reservoir-bridge", "V_PRI N_T f C R_L V_F", _AT_CREST),
    Example(f"{_MALVINO}, 4.10", "reservoir-bridge", "V_PRI N_T", _WITHOUT_DROPS),
    Example(f"{_MEHTA}, 6.18", "reservoir-bridge", "V_PRI N_T V_F", _WITHOUT_DROPS),
    Example("Neamen, Electronic Circuit Analysis and Design, 2.2", "reservoir-bridge", "V_PK R_L f V_RIP", _AT_CREST),
    Example(f"{_MALVINO}, 5.1", "zener-shunt", "V_I R V_Z I_L"),
    Example(f"{_MALVINO}, 5.7", "zener-shunt", "V_Z0 r_z I_Z"),
    Example(f"{_MALVINO}, 5.10", "zener-shunt", "V_I V_Z R_L I_Z"),
    Example(f"{_FLOYD}, 3.2", "zener-shunt", "V_ZT I_ZT r_z I_Z"),
    Example(f"{_FLOYD}, 3.6", "zener-shunt", "V_I R V_Z I_Z"),
    Example(f"{_FLOYD}, 3.6", "zener-shunt", "V_I R V_Z I_L"),
    Example(f"{_MEHTA}, 17.8", "zener-shunt", "V_I R V_Z R_L"),
    Example(f"{_MEHTA}, 17.8", "zener-shunt", "V_I R V_Z I_L"),
    Example(f"{_MEHTA}, 17.10", "zener-shunt", "V_I V_Z I_L I_Z"),
    Example(f"{_MEHTA}, 17.11", "zener-shunt", "V_I V_Z R_L I_Z"),
    Example(f"{_MEHTA}, 6.27", "zener-shunt", "V_I V_Z I_L I_Z"),
    Example(f"{_MEHTA}, 6.32", "zener-shunt", "R V_Z R_L I_Z"),
    Example(f"{_SEDHA}, 34.7", "zener-shunt", "R V_Z0 r_z I_L I_Z"),
    Example(f"{_SEDHA}, 34.10", "zener-shunt", "V_I V_Z I_L I_Z"),
    Example(f"{_SEDHA}, 34.10", "zener-shunt", "V_I R V_Z I_L"),
    Example(f"{_SALIVAHANAN}, 18.12", "zener-shunt", "V_I V_Z I_L I_Z"),
    Example(f"{_SALIVAHANAN}, 18.12", "zener-shunt", "V_I R V_Z I_L"),
    Example(f"{_SALIVAHANAN}, 18.15", "zener-shunt", "V_I V_Z I_L I_Z"),
    Example(f"{_FRANCO}, 11.3", "zener-shunt", "R r_z"),
    Example(f"{_BELL}, 3.17", "zener-shunt", "V_I V_Z I_L P_Z"),
    Example(f"{_BELL}, 3.17", "zener-shunt", "V_I R V_Z I_Z"),
    Example(f"{_BELL}, 3.18", "zener-shunt", "V_O I_L"),
    Example(f"{_BELL}, 3.18", "zener-shunt", "R r_z R_L"),
    Example(f"{_BELL}, 3.18", "zener-shunt", "R r_z"),
    Example("Bapat, Electronics Circuits and Systems, 2.7", "zener-shunt", "R r_z"),
    Example("Bapat, Electronics Circuits and Systems, 2.7", "zener-shunt", "V_I R V_Z0 r_z I_L"),
    Example(f"{_MEHTA}, 17.18", "boosted-shunt", "V_I R V_Z V_BE R_L", _NEGLECTED),
    Example("Boylestad and Nashelsky, Electronic Devices, 15.11", "boosted-shunt", "V_I R V_Z V_BE R_L", _NEGLECTED),
    Example(f"{_SEDHA}, 34.14", "boosted-shunt", "V_I R V_Z V_BE R_L h_FE", _NEGLECTED),
    Example(f"{_MALVINO}, 24.4", "opamp-shunt", "V_I R R_1 R_2 V_REF R_L", (("divider-current", "neglected"),)),
    Example("a note on the TL431", "reference-shunt", "R_1 R_2 V_REF", (("reference-current", "neglected"),)),
    Example(f"{_FLOYD}, 3.3", "compensated-shunt", "V_Z alpha_Z DT"),
    Example("J. B. Gupta, Fundamentals of Electronic Devices, 4.14", "compensated-shunt", "V_Z DV_Z DT"),
    Example("Bapat, Electronics Circuits and Systems, 2.8", "compensated-shunt", "V_Z V_F alpha_Z k_BE DT"),
    Example(f"{_MEHTA}, 17.12", "follower", "V_Z V_BE R_L"),
    Example(f"{_MEHTA}, 17.14", "follower", "V_I R V_Z V_BE R_L h_FE", _OVER_H_FE),
    Example("Boylestad and Nashelsky, Electronic Devices, 15.8", "follower", "V_I R V_Z V_BE R_L h_FE", _OVER_H_FE),
    Example(f"{_SEDHA}, 34.15", "follower", "V_I R V_Z V_BE R_L h_FE", _OVER_H_FE),
    Example(f"{_MALVINO}, 24.8", "follower", "V_I V_O I_L I_Z", (("base-current", "neglected"),)),
    Example(f"{_MEHTA}, 17.20", "three-terminal-adjustable", "V_REF I_ADJ R_1 R_2"),
    Example(f"{_FIORE}, 8.3", "three-terminal-adjustable", "V_REF I_ADJ R_1 V_O"),
    Example("Tomar, Analog Integrated Circuits, 13.5", "three-terminal-adjustable", "V_REF I_ADJ I_LOWER V_O"),
    Example(f"{_MALVINO}, 24.14", "three-terminal-fixed", "V_I V_O I_L", (("pin-current", "neglected"),)),
    Example("J. B. Gupta, Linear Integrated Circuits, 11.4", "three-terminal-raised", "V_REG I_Q R_1 R_2"),
    Example("Roy Choudhury and Jain, Linear Integrated Circuits, 6.2", "three-terminal-raised", "V_REG I_Q I_DIV V_O"),
    Example(f"{_BELL}, 18.9", "three-terminal-fixed", "V_I V_REG I_Q P_D"),
    Example(f"{_MALVINO}, 24.12", "three-terminal-fixed", "V_REG R_L"),
    Example(f"{_MALVINO}, 24.12", "reservoir-bridge", "f C I_L"),
    Example("Pramod Sharma, Analog Integrated Circuits, 9.8", "opamp-series-reference", "V_O V_REF R_2"),
    Example(f"{_FLOYD}, 17.9", "three-terminal-current-source", "V_REF I_ADJ I_L"),
    Example("Bakshi and Godse, Analog and Digital Electronics, 10.6", "three-terminal-current-source",
            "V_REF I_ADJ V_DROP R_L I_L V_IO"),
    Example(f"{_FRANCO}, 11.13", "three-terminal-current-source",
            "V_I V_REF I_ADJ V_DROP I_L V_IO"),
    Example("Boylestad and Nashelsky, Electronic Devices, 15.9", "feedback-pair-unfed", "R_1 R_2 V_BE_2 V_Z"),
    Example(f"{_FIORE}, 8.1", "opamp-series-zener", "R_1 R_2 V_Z"),
    Example(f"{_FIORE}, 8.2", "opamp-series-reference", "R_L V_I V_O"),
    Example(f"{_FIORE}, 8.2", "opamp-series-reference", "I_E I_OA"),
    Example(f"{_FIORE}, 8.2", "opamp-series-reference", "I_I V_I"),
    Example(f"{_FIORE}, 8.2", "opamp-series-reference", "P_I P_O"),
    Example(f"{_MALVINO}, 24.7", "feedback-pair-unfed", "R_1 R_2 R_L V_BE_2 V_I V_Z", (("divider", "lower"),)),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-unfed", "I_L V_O"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_RD I_DIV V_BE_2 V_O V_Z"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-unfed", "I_DIV V_BE_2 V_O V_Z"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_C_2 I_RD V_Z"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-unfed", "V_BE_1 V_O V_Z"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_RD I_DIV I_L h_FE_1"),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_RD I_DIV I_L h_FE_1", _OVER_H_FE),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_C_2 I_RD I_DIV I_L V_BE_1 V_I V_O h_FE_1", _OVER_H_FE),
    Example(f"{_SALIVAHANAN}, 18.18", "feedback-pair-fed", "I_L R R_1 R_2 R_D V_BE_1 V_BE_2 V_I V_Z h_FE_1"),
    Example(f"{_SEDHA}, 34.17", "feedback-pair-fed", "I_RD V_BE_2 V_O V_Z"),
    Example(f"{_SEDHA}, 34.17", "feedback-pair-fed", "I_DIV V_BE_2 V_O V_Z"),
    Example("Boylestad and Nashelsky, Electronic Devices, 12.17", "heat-path-free-air", "P_D R_thJA T_A"),
    Example("Boylestad and Nashelsky, Electronic Devices, 12.17", "heat-path-free-air", "R_thJA T_A T_J"),
    Example(f"{_FIORE}, 8.7", "heat-path-heat-sink", "P_D R_thCS R_thJC T_A T_J"),
    Example("Kumar and Jain, Electronic Devices and Circuits, 13.6", "heat-path-free-air", "P_D T_A T_J"),
    Example(f"{_MEHTA}, 12.17", "follower", "P_Q V_CE"),
    Example("Neamen, Electronic Circuit Analysis and Design, 8.2", "heat-path-heat-sink",
            "R_thCS R_thJC R_thSA T_A T_J"),
    Example(f"{_FLOYD}, 17.4", "current-limit", "R_SENSE V_BE_2"),
    Example(f"{_FRANCO}, 11.10", "current-limit", "I_LIM V_BE_2"),
    Example(f"{_FRANCO}, 11.10", "foldback", "I_KNEE I_SC R_B V_BE_2 V_KNEE"),
    Example(f"{_SALIVAHANAN}, 18.19", "current-limit", "I_L V_O"),
    Example("Salivahanan and Kanchana Bhaaskaran, Linear Integrated Circuits, 8.6", "current-limit", "R_L V_O"),
    Example("Salivahanan and Kanchana Bhaaskaran, Linear Integrated Circuits, 8.6", "current-limit", "I_L R_L"),
)  # fmt: skip

# Circuits of whose parts no family and no example gives all, with the load: they are offered with all of them. (Of
# `foldback` all parts and a load lead to relations that nobody would read.)
WHOLE = ("current-limit",)

_REQUIREMENT = re.compile(r"([A-Za-z_0-9]+) [<>]= ([A-Za-z_0-9]+)", re.ASCII)


def given_sets(circuit: Circuit, families: Iterable[Family]) -> tuple[GivenSet, ...]:
    """The given-sets of a circuit, each once: the circuit's own conventions first, then from the supply to the load."""
    found: dict[tuple[frozenset[str], Conventions], GivenSet] = {}
    for told in (*_of_families(circuit, families), *_of_examples(circuit), *_of_parts(circuit)):
        names = _in_order(circuit, told.names)
        key = (frozenset(names), told.conventions)
        before = found.get(key, replace(told, names=names, uses=()))
        found[key] = replace(before, uses=tuple(dict.fromkeys((*before.uses, *told.uses))))
    return tuple(sorted(found.values(), key=lambda item: _place(circuit, item)))


def _of_families(circuit: Circuit, families: Iterable[Family]) -> Iterator[GivenSet]:
    for family in families:
        for number, level in enumerate(family.levels, start=1):
            if family.circuit_of(number) == circuit.id:
                conventions = _unusual(circuit, {**family.assume, **level.assume})
                for names in _of_level(circuit, level):
                    yield GivenSet(names, conventions, (Use(family.title, number),))


def _unusual(circuit: Circuit, assume: Mapping[str, str]) -> Conventions:
    """The conventions that are not the circuit's first; standing values have their own fields."""
    offered = circuit.convention_values()
    chosen = ((name, value) for name, value in assume.items() if name in offered)
    return tuple(sorted((name, value) for name, value in chosen if value != offered[name][0]))


def _of_level(circuit: Circuit, level: Level) -> Iterator[tuple[str, ...]]:
    """What is known at one operating point of a level's problems, at each stage of the working."""
    told = [key for key in level.given if is_symbol(key)]
    known = [name for name in (_at_one_point(key, level, circuit) for key in told) if name]
    yield tuple(known)
    chosen = [ask.quantity for ask in level.asks if isinstance(ask, Choose)]
    finds = [ask.quantity for ask in level.asks if isinstance(ask, Find) and not ask.at]
    parts = [name for name in finds if name in circuit.constants and name not in chosen]
    if "V_ZT" in known and "V_Z0" in parts:
        parts.remove("V_Z0")  # it stands beside the test point that settles it
    # The output aimed at is known until the part is chosen that sets it; readings until they have settled the parts.
    aims = {key.removesuffix("_NOM") for key in told if key.endswith("_NOM")} if chosen else set[str]()
    aims -= {*level.ranges}  # the nominal line is no aim, but one of the lines
    own = {*circuit.constants, *circuit.defaults, *circuit.report}  # an index of theirs names a part, and no reading
    readings = {name for name in known if split_name(name).index and name not in own} if parts else set[str]()
    settled = [*(name for name in known if name not in aims | readings), *chosen, *(parts if readings else ())]
    if set(settled) - set(parts):
        yield tuple(settled)
    for ask in level.asks:
        for base, key in ask.at.items() if isinstance(ask, Find) else ():
            # A limit that an ask stands at (the greatest load regulation) is known there.
            # What changes make of the output no one state has.
            limit = key in told and key in (f"{base}_MIN", f"{base}_MAX") and base not in level.ranges
            if limit and not split_name(base).change and _at_one_point(base, level, circuit):
                yield (*settled, base)
        requirement = _REQUIREMENT.fullmatch(ask.requirement) if isinstance(ask, FindBound) else None
        if isinstance(ask, FindBound) and requirement is not None:
            fixed = requirement.group(1)
            if not _at_one_point(fixed, level, circuit):
                continue  # a ripple or a change: no operating point has it
            others = [name for name in settled if name not in (ask.quantity, fixed)] + [fixed]
            beside = [name for name in parts if name not in (ask.quantity, fixed, *others)]
            yield (*others, *_not_settled(circuit, beside, others))


def _not_settled(circuit: Circuit, names: list[str], others: list[str]) -> list[str]:
    """Those of the names that do not follow from the others, and so may be told beside them."""
    if not names:
        return []
    facts = manifold(circuit, circuit.regions[0], load_model(others), {})
    return [name for name in names if not facts.settles_strictly(others, name)]


def _at_one_point(key: str, level: Level, circuit: Circuit) -> str:
    """The name under which a given is known at one operating point; '' for limits and ratings, which no state has."""
    parts = split_name(key)
    if parts.change:
        return "" if parts.end else key
    base = f"{parts.base}_{parts.index}" if parts.index else parts.base
    if parts.end in ("MIN", "MAX") and base not in level.ranges:
        return ""
    states = {*circuit.report, *circuit.constants, *circuit.defaults, *circuit.readings, *circuit.typical, "V_ZT"}
    # An index that is no part's own speaks of a reading, which only some quantities have.
    known = base in states or (parts.base in states and parts.base in {*circuit.readings, "V_ZT"})
    return base if known else ""


def _of_examples(circuit: Circuit) -> Iterator[GivenSet]:
    for item in EXAMPLES:
        if item.circuit == circuit.id:
            yield GivenSet(tuple(item.names.split()), item.conventions, (Use(item.book, 0),))


def _of_parts(circuit: Circuit) -> Iterator[GivenSet]:
    if circuit.id in WHOLE:
        names = ("R_L" if name == "I_L" else name for name in circuit.typical if name not in circuit.defaults)
        yield GivenSet(tuple(names), (), (Use("Every part value and the load", 0),))


def _in_order(circuit: Circuit, names: Iterable[str]) -> tuple[str, ...]:
    """Names from the supply to the load: the order in which the circuit declares its parts' values and its states."""
    return tuple(sorted(dict.fromkeys(names), key=lambda name: _rank(circuit, name)))


def _rank(circuit: Circuit, name: str) -> tuple[bool, str, int, str]:
    parts = split_name(name)
    order = [*circuit.constants, *circuit.defaults, *circuit.readings, *circuit.report]
    beside = {"V_Z": "V_Z0", "V_ZT": "V_Z0"}.get(parts.base, parts.base)
    return parts.change, parts.index, order.index(beside) if beside in order else len(order), name


def _place(circuit: Circuit, item: GivenSet) -> tuple[int, list[tuple[bool, str, int, str]]]:
    return len(item.conventions), [_rank(circuit, name) for name in item.names]
