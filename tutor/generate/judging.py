"""One answer, judged against its waypoint: right, a known slip, rounded too far, wrong for a general reason, or unread.

Vocabulary: a *candidate* is one value that the text may stand for (a bare `4.9` may be volts or, beside an answer that
is printed in millivolts, millivolts); the *slack* of a value is half a unit of its last figure, with a ceiling.
Place in the data flow: Waypoint + a learner's text -> AnswerVerdict, for the terminal and for packages. In the browser
`site/assets/judge.js` does the same, with the words of this module as data.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from tutor.generate.problem import SEPARATOR, SlipValue, Waypoint, WaypointKind
from tutor.quantities.misread import Fault
from tutor.quantities.quantity import Quantity
from tutor.quantities.reading import Reading, read_quantity
from tutor.quantities.units import prefixes, unit_for

SLIP_BAND = 0.006  # of the slip's value
MOST_SLACK = 0.03  # of the value compared with; a lone figure such as 0.1 would else match anything
ESTIMATE = 2.0  # times its lower end: a band as wide as this is that of an estimate
NEAR_BAND = 0.05  # of the answer
CHOICE_BAND = 1e-6  # of an accepted value
POWERS = tuple(range(1, 13))
PREFIX_POWERS = (3, 6, 9, 12)  # for choices: a wrong prefix, whereas 0.5 W for 5 W is a rating of its own


class Outcome(Enum):
    """What an answer turned out to be."""

    RIGHT = "right"
    SLIP = "slip"  # where a named wrong route leads
    NEAR = "near"  # rounded too far
    WRONG = "wrong"
    UNREAD = "unread"  # no quantity, or no option
    UNITS = "units"  # another kind of quantity than was asked for


@dataclass(frozen=True)
class AnswerVerdict:
    """An answer judged. `slip` holds the slip's id, or ids separated by a space where several lead to one value.

    `sentence` is prose, as are `why` and `hint`, which belong to a single slip and are empty otherwise.
    """

    outcome: Outcome
    sentence: str
    slip: str = ""
    why: str = ""
    hint: str = ""


class Saying(Enum):
    """What a verdict says; the words are in `SENTENCES`."""

    RIGHT = "right"
    WRITE_UNIT = "write-unit"
    FITS = "fits"
    FITS_OTHER = "fits-other"
    SLIP = "slip"
    ONE_OF = "one-of"
    NEAR = "near"
    POWER = "power"
    SIGN = "sign"
    FACTOR_TWO = "factor-two"
    INVERSE = "inverse"
    TOO_LARGE = "too-large"
    TOO_SMALL = "too-small"
    WRONG = "wrong"
    NOT_ON_SHELF = "not-on-shelf"
    CHOICE_POWER = "choice-power"
    DOES_NOT_FIT = "does-not-fit"
    NO_OPTION = "no-option"
    STATE_RIGHT = "state-right"
    STATE_WRONG = "state-wrong"
    OPTION_WRONG = "option-wrong"
    ALL_PLACES = "all-places"
    SOME_PLACES = "some-places"


SENTENCES: Mapping[Saying, str] = MappingProxyType(
    {
        Saying.RIGHT: "Right.",
        Saying.WRITE_UNIT: "Write its unit too.",
        Saying.FITS: "This meets the specification.",
        Saying.FITS_OTHER: "This meets the specification; the worked solution takes another value that does.",
        Saying.SLIP: "This is where a known slip leads: {names}.",
        Saying.ONE_OF: "One of these slips leads here: {names}.",
        Saying.NEAR: "Close, but rounded too far or too early: carry one more figure through.",
        Saying.POWER: "The figures are right and the power of ten is not: look at the prefixes.",
        Saying.SIGN: "The size is right and the sign is not: look at the reference direction.",
        Saying.FACTOR_TWO: "This is out by a factor of two.",
        Saying.INVERSE: "This is the reciprocal of what was asked for: the fraction is upside down.",
        Saying.TOO_LARGE: "Not right: this is too large.",
        Saying.TOO_SMALL: "Not right: this is too small.",
        Saying.WRONG: "Not right.",
        Saying.NOT_ON_SHELF: "This lies between values that would do, but it is none of those to be had.",
        Saying.CHOICE_POWER: "The figures would do and the power of ten would not: look at the prefix.",
        Saying.DOES_NOT_FIT: "This is not among the values that meet the specification.",
        Saying.NO_OPTION: "Choose one of: {names}.",
        Saying.STATE_RIGHT: "Right.",
        Saying.STATE_WRONG: "Not so: suppose it, work the circuit out, and see what must then hold.",
        Saying.OPTION_WRONG: "Not so.",
        Saying.ALL_PLACES: "Choose one of these for each of the {names} places.",
        Saying.SOME_PLACES: "Not so: {names} places are as in a right answer.",
    }
)


@dataclass(frozen=True)
class _Candidate:
    """A value the text may stand for (SI), what half a unit of its last figure is worth, and whether a unit is due."""

    value: float
    half: float
    unit_due: bool


def judge(waypoint: Waypoint, text: str, *, decimal_comma: bool = False) -> AnswerVerdict:
    """The verdict on one typed answer. Never raises for what a learner types; the answer's unit must exist."""
    if waypoint.kind is WaypointKind.ARRANGEMENT:
        return _judge_arrangement(waypoint, text)
    if waypoint.kind is WaypointKind.STATE or waypoint.answer is None:
        return _judge_state(waypoint, text)
    answer = waypoint.answer
    reading = read_quantity(text, answer.unit, decimal_comma=decimal_comma)
    if reading.value is None:
        outcome = Outcome.UNITS if reading.fault in (Fault.WRONG_KIND, Fault.KELVIN) else Outcome.UNREAD
        return AnswerVerdict(outcome, as_sentence(reading.reason))
    candidates = _candidates(reading, reading.value, answer)
    if waypoint.kind is WaypointKind.CHOICE:
        return _judge_choice(waypoint, answer, candidates)
    return _judge_value(waypoint, answer, candidates)


def as_sentence(reason: str) -> str:
    """A reason with a capital and a full stop; only plain letters have capitals here."""
    first = reason[:1]
    return (first.upper() if "a" <= first <= "z" else first) + reason[1:] + "."


def own_power(value: float, unit: str) -> int:
    """The power of ten between the stored value and the number printed for it: 3 for 4.9 mA, 2 for 5 %."""
    row = unit_for(unit)
    size = abs(float(f"{value:.2e}")) * float(f"1e{row.shown_power}")
    powers = [prefixes()[prefix].power for prefix in row.prefixes]
    best = powers[0]
    for power in powers:
        if size >= float(f"1e{power}"):
            best = power
    if 0 in powers and (row.plain_from <= size < 1 or size == 0):
        best = 0
    return row.shown_power - best


def _candidates(reading: Reading, value: float, answer: Quantity) -> tuple[_Candidate, ...]:
    pure = unit_for(answer.unit).exponents == (0, 0, 0, 0)
    half = reading.step / 2
    stated = _Candidate(value, half, not reading.unit_given and not (pure and answer.unit != "dB"))
    power = own_power(answer.value, answer.unit)
    if not reading.bare or power == 0:
        return (stated,)
    scale = float(f"1e{power}")
    return (stated, _Candidate(value / scale, half / scale, answer.unit != ""))


def _slack(half: float, goal: float) -> float:
    return min(half, MOST_SLACK * abs(goal))


def _judge_value(waypoint: Waypoint, answer: Quantity, candidates: tuple[_Candidate, ...]) -> AnswerVerdict:
    goal = answer.value
    for one in candidates:
        if waypoint.low <= one.value <= waypoint.high:
            return _right(Saying.RIGHT, one)
    for one in candidates:
        slips = _slips_at(waypoint, one, goal)
        if slips:
            return _slip_verdict(slips)
        if abs(one.value - goal) <= _slack(one.half, goal):
            return _right(Saying.RIGHT, one)
    for one in candidates:
        if abs(one.value - goal) <= NEAR_BAND * abs(goal):
            return _say(Outcome.NEAR, Saying.NEAR)
    for reason, holds in _REASONS:
        if any(holds(one, goal) for one in candidates):
            return _say(Outcome.WRONG, reason)
    return _say(Outcome.WRONG, _direction(candidates, goal))


def _slips_at(waypoint: Waypoint, one: _Candidate, goal: float) -> tuple[SlipValue, ...]:
    """The slips that give this value, when it is nearer to them than to the answer."""
    found = []
    for slip in waypoint.slips:
        away = abs(one.value - slip.value)
        met = away <= max(SLIP_BAND * abs(slip.value), _slack(one.half, slip.value))
        if (met or _estimates(waypoint, one.value, slip.value, goal)) and away < abs(one.value - goal):
            found.append(slip)
    return tuple(found)


def _estimates(waypoint: Waypoint, value: float, slip: float, goal: float) -> bool:
    """Whether a value comes as near to a slip as it must to the answer, where an estimate of that is enough."""
    if not 0 < ESTIMATE * waypoint.low <= waypoint.high or slip == 0:
        return False
    return waypoint.low <= value * goal / slip <= waypoint.high


def _slip_verdict(slips: tuple[SlipValue, ...]) -> AnswerVerdict:
    names = "; ".join(slip.name for slip in slips)
    ids = " ".join(slip.id for slip in slips)
    if len(slips) > 1:
        return AnswerVerdict(Outcome.SLIP, SENTENCES[Saying.ONE_OF].replace("{names}", names), ids)
    return AnswerVerdict(
        Outcome.SLIP, SENTENCES[Saying.SLIP].replace("{names}", names), ids, slips[0].why, slips[0].hint
    )


def _agrees(one: _Candidate, factor: float, goal: float) -> bool:
    """Whether the value is `factor` times the answer, as closely as a slip must be met."""
    wanted = factor * goal
    return goal != 0 and abs(one.value - wanted) <= max(SLIP_BAND * abs(wanted), _slack(one.half, wanted))


def _is_power(one: _Candidate, goal: float, powers: tuple[int, ...] = POWERS) -> bool:
    return any(_agrees(one, float(f"1e{sign}{power}"), goal) for power in powers for sign in ("", "-"))


def _is_sign(one: _Candidate, goal: float) -> bool:
    return _agrees(one, -1.0, goal)


def _is_twice(one: _Candidate, goal: float) -> bool:
    return _agrees(one, 2.0, goal) or _agrees(one, 0.5, goal)


def _is_inverse(one: _Candidate, goal: float) -> bool:
    return goal != 0 and abs(one.value * goal - 1) <= SLIP_BAND


_REASONS: tuple[tuple[Saying, Callable[[_Candidate, float], bool]], ...] = (
    (Saying.SIGN, _is_sign),
    (Saying.POWER, _is_power),
    (Saying.FACTOR_TWO, _is_twice),
    (Saying.INVERSE, _is_inverse),
)


def _direction(candidates: tuple[_Candidate, ...], goal: float) -> Saying:
    """Too large or too small, said only where every candidate agrees and the signs do."""
    if all(one.value * goal > 0 and abs(one.value) > abs(goal) for one in candidates):
        return Saying.TOO_LARGE
    if all(one.value * goal > 0 and abs(one.value) < abs(goal) for one in candidates):
        return Saying.TOO_SMALL
    return Saying.WRONG


def _judge_choice(waypoint: Waypoint, answer: Quantity, candidates: tuple[_Candidate, ...]) -> AnswerVerdict:
    for one in candidates:
        if any(_same(one.value, value) for value in waypoint.accepted):
            return _right(Saying.FITS if _same(one.value, answer.value) else Saying.FITS_OTHER, one)
    for one in candidates:
        slips = tuple(slip for slip in waypoint.slips if abs(one.value - slip.value) <= SLIP_BAND * abs(slip.value))
        if slips:
            return _slip_verdict(slips)
    if not waypoint.accepted:
        return _say(Outcome.WRONG, Saying.DOES_NOT_FIT)
    for one in candidates:
        if min(waypoint.accepted) < one.value < max(waypoint.accepted):
            return _say(Outcome.WRONG, Saying.NOT_ON_SHELF)
    exact = [_Candidate(one.value, 0.0, False) for one in candidates]
    if any(_is_power(one, value, PREFIX_POWERS) for one in exact for value in waypoint.accepted):
        return _say(Outcome.WRONG, Saying.CHOICE_POWER)
    return _say(Outcome.WRONG, Saying.DOES_NOT_FIT)


def _same(value: float, accepted: float) -> bool:
    return abs(value - accepted) <= CHOICE_BAND * abs(accepted)


def _judge_state(waypoint: Waypoint, text: str) -> AnswerVerdict:
    said = text.strip(" ")
    if said == waypoint.state:
        return _say(Outcome.RIGHT, Saying.STATE_RIGHT)
    if said in waypoint.options:
        return _remarked(waypoint, said) or _say(Outcome.WRONG, Saying.STATE_WRONG)
    names = "; ".join(waypoint.options)
    return AnswerVerdict(Outcome.UNREAD, SENTENCES[Saying.NO_OPTION].replace("{names}", names))


def _remarked(waypoint: Waypoint, said: str) -> AnswerVerdict | None:
    """What there is to say of a wrong option: the belief that leads to it by name, or only why it is wrong."""
    found = next((remark for remark in waypoint.remarks if remark.option == said), None)
    if found is None:
        return None
    if not found.name:
        return AnswerVerdict(Outcome.WRONG, SENTENCES[Saying.OPTION_WRONG], "", found.why, found.hint)
    sentence = SENTENCES[Saying.SLIP].replace("{names}", found.name)
    return AnswerVerdict(Outcome.SLIP, sentence, found.id, found.why, found.hint)


def _judge_arrangement(waypoint: Waypoint, text: str) -> AnswerVerdict:
    pieces = [piece.strip(" ") for piece in text.split(SEPARATOR.strip(" "))]
    if len(pieces) != len(waypoint.places) or any(piece not in waypoint.options for piece in pieces):
        places = str(len(waypoint.places))
        return AnswerVerdict(Outcome.UNREAD, SENTENCES[Saying.ALL_PLACES].replace("{names}", places))
    said = SEPARATOR.join(pieces)
    if said in waypoint.arrangements:
        return _say(Outcome.RIGHT, Saying.STATE_RIGHT)
    remarked = _remarked(waypoint, said)
    if remarked is not None:
        return remarked
    alike = max(
        sum(one == other for one, other in zip(pieces, right.split(SEPARATOR), strict=True))
        for right in waypoint.arrangements
    )
    return AnswerVerdict(Outcome.WRONG, SENTENCES[Saying.SOME_PLACES].replace("{names}", f"{alike} of {len(pieces)}"))


def _right(saying: Saying, one: _Candidate) -> AnswerVerdict:
    sentence = SENTENCES[saying]
    return AnswerVerdict(Outcome.RIGHT, f"{sentence} {SENTENCES[Saying.WRITE_UNIT]}" if one.unit_due else sentence)


def _say(outcome: Outcome, saying: Saying) -> AnswerVerdict:
    return AnswerVerdict(outcome, SENTENCES[saying])
