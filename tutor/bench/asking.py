"""An ask of a problem put to the bench: the same quantity read off, or the part value found that makes a reading right.

Every question is a *conversation* (a generator): it says which settings it wants to see at which temperature, and is
sent what is read there, until it knows its value. So all questions of a level can be put to the bench at once.
Place in the data flow: built circuits -> conversations -> values on the bench -> `ratios.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping
from dataclasses import dataclass

import numpy as np

from tutor.bench.building import Built
from tutor.bench.curves import ROOM_CELSIUS, Array
from tutor.bench.sampled import Sets, WorkedSets
from tutor.bench.setting import SHORT_OHMS, demanded, readable
from tutor.circuit.circuit import Circuit
from tutor.plan.evaluate import assemble
from tutor.quantities.expression import Sym, symbols_of

_SMALL = 1e-3  # of a value: the step by which a slope is read off
_KELVIN = 0.5
_ROUNDS = 10
_NEAR = 1e-4  # of the reading wanted: how near a part value found must bring it
_FARTHEST = 0.4  # in the logarithm of a part value, how far one step goes
_OUT_OF_SIGHT = 2.0  # so far off the hand answer nobody looks for a part value
_HELD_AT_A_RAIL = ("V_HEAD", "V_IO")  # what a part that gives way keeps for itself: it never gets less


@dataclass(frozen=True)
class Request:
    """Settings to be built and the temperature (°C) to be built at."""

    settings: Mapping[str, Array]
    temperature: Array


Readings = Mapping[str, Array]
Conversation = Generator[Request, Readings, Array]
Reader = Callable[[Mapping[str, Array]], Conversation]


def question(sets: Sets, index: int, built: Built) -> Conversation | None:
    """The conversation that finds an ask's value on the bench (over the sets as `built` has them); None where nothing
    that the bench shows has a part in it."""
    worked = sets.worked[index]
    assert worked is not None
    asked = worked.stage.quantity
    is_pulled_down = sets.region != sets.circuit.regions[0].id and "V_O" in built.told
    if is_pulled_down and (built.unknown or "R_L" not in built.settings):
        return None  # so far and no further: no load is told that does it
    rated = _rated(sets.circuit, built, asked)
    if rated is not None:
        return rated
    if not built.unknown:
        reader = reader_of(sets.circuit, built, asked)
        if reader is not None:
            return reader(built.settings)
    else:
        wanted = _wanted(sets, built, worked)
        if wanted:
            return _found(built.settings, built.unknown, wanted)
    return _by_way_of_readings(sets, index, built, worked)


def reader_of(circuit: Circuit, built: Built, symbol: str) -> Reader | None:
    """How a quantity is read off; None where it is nothing that shows."""
    told, names = built.told, readable(circuit)
    slope = next((item for item in circuit.slopes if symbol in (item.symbol, item.share)), None)
    stem, _, suffix = symbol.partition("_OUT")
    if symbol != (slope.symbol if slope else "S_T") and tells_a_slope(circuit, built) and symbol[:1] in "DE":
        return None
    if slope is not None and symbol == slope.symbol:
        return lambda settings: _slope(settings, slope.of, slope.by, slope.sign)
    if slope is not None:
        return _changed(slope.of, slope.by, told, signed=False)
    if stem == "R" and symbol == f"R_OUT{suffix}" and f"V_O{suffix}" in names:
        return lambda settings: _slope(settings, f"V_O{suffix}", "I_L", -1)
    if symbol == "S_T":
        return lambda settings: _slope(settings, "V_O", "T", 1)
    if symbol == "E_TEMP":
        return _changed("V_O", "T", told, signed=False)
    if symbol == "V_RIP_O" and "V_RIP" in told:
        return lambda settings: _rippled(settings, told["V_RIP"])
    if symbol[:1] == "D" and symbol[1:] in names:
        movers = [name[1:] for name in told if name[:1] == "D" and name != symbol]
        return _changed(symbol[1:], movers[0], told, signed=True) if len(movers) == 1 else None
    edge = next((item for item in circuit.edges if item.symbol == symbol), None)
    if edge is not None:
        is_into_short = edge.at[0][0] == "V_O = 0" or symbol == "I_LIM"
        return (lambda settings: _into_a_short(settings, edge.of)) if is_into_short else None
    if symbol in names:
        return lambda settings: _read(settings, symbol)
    return None


def tells_a_slope(circuit: Circuit, built: Built) -> bool:
    """Whether a problem tells a sensitivity itself, which no circuit can be built from."""
    return any(name in built.told for name in ("S_T", *(item.symbol for item in circuit.slopes)))


def _room(settings: Mapping[str, Array]) -> Array:
    return np.full(next(iter(settings.values())).shape, ROOM_CELSIUS)


def _read(settings: Mapping[str, Array], symbol: str) -> Conversation:
    seen = yield Request(settings, _room(settings))
    return seen[symbol]


def _into_a_short(settings: Mapping[str, Array], symbol: str) -> Conversation:
    """A limit shows most plainly with a wire across the output."""
    others = {name: value for name, value in settings.items() if name != "I_L"}
    return (yield from _read({**others, "R_L": np.full(_room(settings).shape, SHORT_OHMS)}, symbol))


def _drawing(settings: Mapping[str, Array], by: str) -> Generator[Request, Readings, Mapping[str, Array]]:
    """The same settings with the load as a current, where that is to be moved."""
    if by != "I_L" or "I_L" in settings:
        return settings
    seen = yield Request(settings, _room(settings))
    return {**{name: value for name, value in settings.items() if name != "R_L"}, "I_L": seen["I_L"]}


def _moved(settings: Mapping[str, Array], by: str, step: Array) -> Request:
    if by == "T":
        return Request(settings, _room(settings) + step)
    return Request({**settings, by: settings[by] + step}, _room(settings))


def _slope(settings: Mapping[str, Array], of: str, by: str, sign: int) -> Conversation:
    settings = yield from _drawing(settings, by)
    step = np.full(_room(settings).shape, _KELVIN) if by == "T" else _SMALL * np.abs(settings[by]) + 1e-7
    above = yield _moved(settings, by, step)
    below = yield _moved(settings, by, -step)
    return sign * (above[of] - below[of]) / (2.0 * step)


def _changed(of: str, by: str, told: Mapping[str, Array], signed: bool) -> Reader | None:
    """What a change of one thing by so much makes of another."""
    if f"D{by}" not in told:
        return None

    def reader(settings: Mapping[str, Array]) -> Conversation:
        settings = yield from _drawing(settings, by)
        before = yield _moved(settings, by, np.zeros(_room(settings).shape))
        after = yield _moved(settings, by, told[f"D{by}"])
        change = after[of] - before[of]
        return change if signed else np.abs(change)

    return reader


def _rippled(settings: Mapping[str, Array], peak_to_peak: Array) -> Conversation:
    above = yield _moved(settings, "V_I", 0.5 * peak_to_peak)
    below = yield _moved(settings, "V_I", -0.5 * peak_to_peak)
    return np.abs(above["V_O"] - below["V_O"])


def _wanted(sets: Sets, built: Built, worked: WorkedSets) -> dict[str, tuple[Reader, Array]]:
    """The readings that the part value asked for may be there to bring about, and what they are to be."""
    stage = worked.stage
    names = [stage.watched] if stage.relation else [name for name in built.told if name not in built.settings]
    found: dict[str, tuple[Reader, Array]] = {}
    edges = {item.symbol for item in sets.circuit.edges}
    for name in names:
        reader = reader_of(sets.circuit, built, name) if name not in _HELD_AT_A_RAIL else None
        if reader is None and name in edges:
            return {}  # something else is to be met as well, which does not show
        if reader is not None and name in built.told and np.all(built.told[name] != 0.0):
            found[name] = (reader, built.told[name])
    return found


def _rated(circuit: Circuit, built: Built, asked: str) -> Conversation | None:
    """The current at which a zener takes its rated power, the line being turned up until it does."""
    zener = next((part for part in circuit.parts if asked == part.symbols.get("rated_current", "-")), None)
    rating = None if zener is None else built.told.get(zener.symbols["rating"])
    power = None if zener is None else reader_of(circuit, built, zener.symbols["power"])
    if zener is None or rating is None or power is None or "V_I" not in built.settings:
        return None
    current, wanted = zener.symbols["current"], {"": (power, rating)}

    def conversation() -> Conversation:
        volts = yield from _found(built.settings, "V_I", wanted)
        return (yield from _read({**built.settings, "V_I": volts}, current))

    return conversation()


def _found(settings: Mapping[str, Array], unknown: str, wanted: Mapping[str, tuple[Reader, Array]]) -> Conversation:
    """The part value at which a reading is what it is to be; of several, the one that the part moves most."""
    sign, start = np.sign(settings[unknown]), np.log(np.abs(settings[unknown]))

    def off(reader: Reader, target: Array, place: Array) -> Conversation:
        seen = yield from reader({**settings, unknown: sign * np.exp(place)})
        with np.errstate(all="ignore"):
            return seen / target - 1.0

    best, moves, way = None, 0.0, 1.0
    for reader, target in wanted.values():
        one = yield from off(reader, target, start)
        two = yield from off(reader, target, start + 0.01)
        both = np.isfinite(one) & np.isfinite(two)
        move = float(np.median(np.abs(two[both] - one[both]))) if both.any() else 0.0
        if move > moves:
            best, moves, way = (reader, target, one, two), move, float(np.sign(np.median(two[both] - one[both])))
    if best is None or moves < 1e-4:
        return np.full(start.shape, np.nan)
    reader, target, one, two = best
    before, now = start, start + 0.01
    under, over = np.full(start.shape, np.nan), np.full(start.shape, np.nan)  # nearest places on either side
    for _ in range(_ROUNDS):
        for place, value in ((before, one), (now, two)):
            under, over = np.where(value < 0.0, place, under), np.where(value > 0.0, place, over)
        done = np.abs(two) < _NEAR
        if np.all(done | ~np.isfinite(two)):
            break
        with np.errstate(all="ignore"):
            step = -two * (now - before) / (two - one)
        flat = np.abs(two - one) < 1e-9  # where it does not move at all, it is turned the way that moves the others
        step = np.where(flat, -np.sign(two) * way * _FARTHEST, step)
        following = now + np.clip(np.nan_to_num(step), -_FARTHEST, _FARTHEST)
        beyond = (following - under) * (following - over) > 0.0  # never so while one side is not known
        following = np.where(done, now, np.where(beyond, 0.5 * (under + over), following))
        following = np.where(np.abs(following - start) > _OUT_OF_SIGHT, np.nan, following)
        value = yield from off(reader, target, following)
        before, one = np.where(done, before, now), np.where(done, one, two)
        now, two = following, value
    return np.where(np.abs(two) < _NEAR, sign * np.exp(now), np.nan)


def _by_way_of_readings(sets: Sets, index: int, built: Built, worked: WorkedSets) -> Conversation | None:
    """The hand relation with every quantity in it that shows on the bench as it is there (P_D in T_J, say)."""
    stage, circuit = worked.stage, sets.circuit
    if not demanded(circuit):
        return None
    earlier = {
        base for base, expr in stage.inputs if isinstance(expr, Sym) and expr.name in sets.keys[:index]
        and base not in built.settings
    }  # fmt: skip
    readers = {name: reader_of(circuit, built, name) for name in earlier}
    for step in stage.plan.steps[:-1]:
        readers[step.target] = None if step.target in built.settings else reader_of(circuit, built, step.target)
    shown = {name: reader for name, reader in readers.items() if reader is not None and name != stage.quantity}
    if not shown or any(step.expr is None and step.target not in shown for step in stage.plan.steps):
        return None
    return _related(sets, built, worked, shown)


def _related(sets: Sets, built: Built, worked: WorkedSets, shown: Mapping[str, Reader]) -> Conversation:
    values = {name: built.spread_out(value) for name, value in worked.bases.items()}
    values |= {name: value for name, value in built.settings.items() if name in values}
    for name, reader in shown.items():
        values[name] = yield from reader(built.settings)
    for step in worked.stage.plan.steps:
        if step.target in shown and step.target != worked.stage.quantity:
            continue
        assert step.expr is not None
        if not set(symbols_of(step.expr)) <= set(values):
            return np.full(_room(built.settings).shape, np.nan)
        with np.errstate(all="ignore"):
            values[step.target] = assemble(symbols_of(step.expr), {"it": step.expr}).run(values)["it"]
    return np.broadcast_to(values[worked.stage.quantity], _room(built.settings).shape)
