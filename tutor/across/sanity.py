"""Can that be? A claimed result, or three of them, and the principle that throws one out at sight.

Place in the data flow: places + draws -> base problem -> claims -> Posed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tutor.across.base_problem import BaseProblem, base_sheet, drawn_base, problem_about
from tutor.across.claims import (
    UNIT,
    Claim,
    facts_of,
    false_claims,
    principles_of,
    range_words,
    true_claim,
    value_points,
)
from tutor.across.family import Posed, Refused, Setting, ShownLine
from tutor.across.points import state_point, worded_step
from tutor.across.principles import Principle, broken
from tutor.across.stated import capitalised
from tutor.across.stream import Stream
from tutor.across.surprises import SURPRISES, Surprise
from tutor.generate.problem import Remark, Waypoint
from tutor.quantities.prose import listed
from tutor.quantities.quantity import write
from tutor.solution.solution import Check, Solution, WorkedStep

CAN, CANNOT = "it can be", "it cannot be"
NOTHING = "nothing speaks against it"
ONE_IN = 8  # false claims with a wrong unit
REASONS = 4  # offered, the right one among them
LETTERS = ("a", "b", "c")
LOOK_AGAIN = "Take the principles one by one: does the number break it, with what is given here?"


@dataclass(frozen=True)
class OneClaim:
    """A level: one result of a problem at `places` is claimed."""

    about: str
    places: tuple[str, ...]

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        base = drawn_base(setting, stream, self.places)
        points = stream.order("quantities", value_points(base))
        # Whether it is true is drawn once for the number: refusals would else leave mostly true ones.
        true = setting.stream.pick("true", (True, False))
        claim = true_claim(points[0]) if true else _first_false(base, points, stream)
        if claim is None:
            return Refused("no false value of it is thrown out at sight")
        reasons = _reasons(base, (claim,), stream, REASONS - 1)
        if len(reasons) < 2:
            return Refused("too few principles")
        claimed = _Claimed(base, (claim,))
        right, wrong = (CAN, CANNOT) if claim.can_be else (CANNOT, CAN)
        remarks = [_of_verdict(claimed, claim, wrong)]
        verdict = state_point("verdict", "whether the result can be", (CAN, CANNOT), right, remarks)
        reason = _reason_point(claimed, claim, (*(item.words for item in reasons), NOTHING), "what speaks against it")
        steps = _reasoned(claimed, claim, "The result", "verdict", "reason")
        ask = "Say whether this result can be, and what speaks against it if it cannot. Nothing need be worked out."
        return _posed(setting, claimed, ask, (verdict, reason), steps)


@dataclass(frozen=True)
class ThreeClaims:
    """A level: three results of a problem at `places`, one of which cannot be."""

    about: str
    places: tuple[str, ...]

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        base = drawn_base(setting, stream, self.places)
        points = stream.order("quantities", value_points(base))
        if len(points) < len(LETTERS):
            return Refused("too few quantities are asked for")
        claim = _first_false(base, points, stream)
        if claim is None:
            return Refused("no false value of it is thrown out at sight")
        others = [point for point in points if point.key != claim.point.key][: len(LETTERS) - 1]
        claims = stream.order("claims", (claim, *(true_claim(point) for point in others)))
        reasons = _reasons(base, claims, stream, REASONS)
        if len(reasons) < 3:
            return Refused("too few principles")
        claimed = _Claimed(base, claims)
        at = claims.index(claim)
        options = tuple(f"result {letter}" for letter in LETTERS)
        remarks = [
            Remark(option, f"That is what ${item.point.key}$ comes to: no principle is broken.", LOOK_AGAIN)
            for option, item in zip(options, claims, strict=True)
            if item is not claim
        ]
        which = state_point("result", "the result that cannot be", options, options[at], remarks)
        reason = _reason_point(claimed, claim, tuple(item.words for item in reasons), "what speaks against it")
        steps = _reasoned(claimed, claim, f"Result {LETTERS[at]}", "result", "reason")
        steps += [_true_step(item, f"Result {letter}", "") for letter, item in zip(LETTERS, claims, strict=True)
                  if item is not claim]  # fmt: skip
        ask = "One of the three results cannot be. Say which, and what speaks against it. Nothing need be worked out."
        return _posed(setting, claimed, ask, (which, reason), steps)


@dataclass(frozen=True)
class Surprising:
    """A level: three results of a problem at `places`, each for itself, and the meaning of one that surprises."""

    about: str
    places: tuple[str, ...]

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        base = drawn_base(setting, stream, self.places)
        facts = facts_of(base.ready, base.drawn)
        met = [
            (point, item)
            for point in value_points(base)
            for item in SURPRISES
            if point.answer is not None and item.is_met(facts, point.key, point.answer.value)
        ]
        if not met:
            return Refused("nothing in it surprises")
        point, surprise = stream.pick("surprise", met)
        others = stream.order("quantities", [item for item in value_points(base) if item.key != point.key])
        wrong = _first_false(base, others, stream)
        if wrong is None:
            return Refused("no false value of it is thrown out at sight")
        third = next((item for item in others if item.key != wrong.point.key), None)
        if third is None:
            return Refused("too few quantities are asked for")
        true = true_claim(point)
        claims = stream.order("claims", (true, wrong, true_claim(third)))
        reasons = _reasons(base, claims, stream, REASONS - 1)
        if len(reasons) < 2:
            return Refused("too few principles")
        claimed = _Claimed(base, claims)
        options = (CAN, *(f"it cannot: {item.words}" for item in reasons))
        points = tuple(
            _judged(claimed, claim, letter, options, reasons) for letter, claim in zip(LETTERS, claims, strict=True)
        )
        letter = LETTERS[claims.index(true)]
        meaning = _meaning(surprise, letter, stream)
        steps = [_judged_step(claimed, item, place) for place, item in zip(LETTERS, claims, strict=True)]
        steps.append(worded_step(f"What result {letter} says", surprise.why, f"So {surprise.means}.", "meaning"))
        ask = (
            "Say of each result whether it can be and, if not, what speaks against it. Nothing need be worked out. "
            f"Say also what result {letter} means, if it is true."
        )
        return _posed(setting, claimed, ask, (*points, meaning), steps)


@dataclass(frozen=True)
class _Claimed:
    """A base problem and what is claimed of it."""

    base: BaseProblem
    claims: tuple[Claim, ...]

    def leaves(self, principle: Principle, claim: Claim) -> str:
        """What a principle leaves possible of the quantity claimed, in words; '' where it does not speak of it."""
        return range_words(facts_of(self.base.ready, self.base.drawn), principle, claim.point)


def _first_false(base: BaseProblem, points: Sequence[Waypoint], stream: Stream) -> Claim | None:
    """A false value of the first quantity that has one; those that slips lead to more often than others.

    What has nothing but its unit against it is thrown out too easily to be met often.
    """
    wrong_unit = stream.pick("wrong unit", range(ONE_IN)) == 0
    for point in points:
        found = [item for item in false_claims(base, point) if (item.principle is UNIT) == wrong_unit]
        if found:
            return stream.pick(f"claim about {point.key}", [item for item in found for _ in range(item.weight)])
    return None


def _reasons(base: BaseProblem, claims: Sequence[Claim], stream: Stream, most: int) -> tuple[Principle, ...]:
    """The principles to choose from: those that throw the claims out, and others that none of the claims breaks."""
    facts = facts_of(base.ready, base.drawn)
    right = list(dict.fromkeys(item.principle for item in claims if item.principle is not None))
    beside = {item.id for claim in claims for item in claim.others}
    others = [item for item in principles_of(facts) if item not in right and item.id not in beside]
    near = [item for item in others if any(range_words(facts, item, claim.point) for claim in claims)]
    far = [item for item in others if item not in near]
    chosen = [*right, *stream.order("near principles", near), *stream.order("far principles", far)][:most]
    return stream.order("principles", chosen)


def _reason_point(claimed: _Claimed, claim: Claim, options: tuple[str, ...], prompt: str) -> Waypoint:
    right = NOTHING if claim.principle is None else claim.principle.words
    known = {item.words: item for item in principles_of(facts_of(claimed.base.ready, claimed.base.drawn))}
    remarks = tuple(
        _against_nothing(claimed, claim) if option == NOTHING else _of_principle(claimed, claim, known[option], option)
        for option in options
        if option != right
    )
    return state_point("reason", prompt, options, right, remarks)


def _against_nothing(claimed: _Claimed, claim: Claim) -> Remark:
    principle = claim.principle
    assert principle is not None
    return Remark(NOTHING, _thrown_out(claimed, claim), LOOK_AGAIN, principle.id, principle.belief, principle.reference)


def _of_principle(claimed: _Claimed, claim: Claim, principle: Principle, option: str) -> Remark:
    """Why a principle does not speak against a claim."""
    leaves = claimed.leaves(principle, claim)
    if principle is UNIT:
        return Remark(option, f"${claim.point.key}$ is told in the unit it has.", "What kind of quantity is claimed?")
    if leaves:
        return Remark(option, f"That leaves ${claim.point.key}$ {leaves}, and the claim keeps to it.", LOOK_AGAIN)
    return Remark(option, f"That is so, but it says nothing of ${claim.point.key}$ here.", "Of which quantity is it?")


def _of_verdict(claimed: _Claimed, claim: Claim, option: str) -> Remark:
    if claim.principle is None:
        return Remark(option, "It is what the circuit does, and no principle is broken.", LOOK_AGAIN)
    item = claim.principle
    return Remark(option, _thrown_out(claimed, claim), LOOK_AGAIN, item.id, item.belief, item.reference)


def _thrown_out(claimed: _Claimed, claim: Claim) -> str:
    """Why a claim cannot be, with the numbers of the problem."""
    assert claim.principle is not None
    words = claim.principle.words
    leaves = claimed.leaves(claim.principle, claim)
    here = f"; here that leaves ${claim.point.key}$ {leaves}" if leaves else ""
    return f"{capitalised(words)}{here}."


def _judged(
    claimed: _Claimed, claim: Claim, letter: str, options: tuple[str, ...], reasons: Sequence[Principle]
) -> Waypoint:
    """Whether one of several claims can be, with the reason."""
    right = CAN if claim.principle is None else f"it cannot: {claim.principle.words}"
    remarks = [_of_verdict(claimed, claim, CAN)] if right != CAN else []
    remarks += [
        _of_principle(claimed, claim, item, f"it cannot: {item.words}")
        for item in reasons
        if f"it cannot: {item.words}" != right
    ]
    return state_point(letter, f"result {letter}", options, right, remarks)


def _meaning(surprise: Surprise, letter: str, stream: Stream) -> Waypoint:
    options = stream.order("meanings", (surprise.means, *(item.says for item in surprise.misreadings)))
    remarks = tuple(
        Remark(item.says, item.why, item.hint, item.id, item.name, item.reference) for item in surprise.misreadings
    )
    return state_point("meaning", f"what result {letter} means, if it is true", options, surprise.means, remarks)


def _reasoned(claimed: _Claimed, claim: Claim, title: str, verdict: str, reason: str) -> list[WorkedStep]:
    """A claim judged: whether it can be, then why."""
    if claim.principle is None:
        return [
            _true_step(claim, title, verdict),
            worded_step("What speaks against it", "", _nothing_against(claimed, claim), reason),
        ]
    return [
        worded_step(title, "", "It cannot be.", verdict, chains=(claim.chain,)),
        worded_step("What speaks against it", _thrown_out(claimed, claim), _whence(claim), reason),
    ]


def _nothing_against(claimed: _Claimed, claim: Claim) -> str:
    facts = facts_of(claimed.base.ready, claimed.base.drawn)
    kept = [words for item in principles_of(facts) if (words := range_words(facts, item, claim.point))]
    bounds = listed(list(dict.fromkeys(kept)))
    return f"Nothing: ${claim.point.key}$ must be {bounds}, and so it is." if kept else "Nothing does."


def _true_step(claim: Claim, title: str, waypoint: str) -> WorkedStep:
    text = "It can be: worked out in full it comes to just that."
    return worded_step(title, "", text, waypoint, chains=(claim.chain,))


def _judged_step(claimed: _Claimed, claim: Claim, letter: str) -> WorkedStep:
    if claim.principle is None:
        return _true_step(claim, f"Result {letter}", letter)
    text = f"It cannot be. {_whence(claim)}"
    return worded_step(f"Result {letter}", _thrown_out(claimed, claim), text, letter, chains=(claim.chain,))


def _whence(claim: Claim) -> str:
    """Where a false value comes from, and the right one."""
    assert claim.point.answer is not None
    right = write(claim.point.answer.value, claim.point.answer.unit)
    return f"It comes from this: {claim.source}. Worked out in full, ${claim.point.key}$ = {right}."


def _posed(
    setting: Setting, claimed: _Claimed, ask: str, waypoints: tuple[Waypoint, ...], steps: Sequence[WorkedStep]
) -> Posed:
    base = claimed.base
    problem = problem_about(
        setting, base, told=f"The problem was this. {base.problem.statement}", ask=ask, waypoints=waypoints
    )
    one = len(claimed.claims) == 1
    lines = tuple(
        ShownLine("1" if one else letter, f"{capitalised(claim.point.prompt)}.", claim.chain)
        for letter, claim in zip(LETTERS, claimed.claims, strict=False)
    )
    solution = Solution(problem.name, tuple(steps), tuple(_checks(claimed)), _BENCH, (), problem.cautions)
    caption = "The result" if one else "The results"
    return Posed(problem, solution, lines, caption, base_sheet(setting, base))


_BENCH = (
    "A reading that breaks one of these principles is a matter for the leads, the range of the meter or the drawing, "
    "and not for the circuit."
)


def _checks(claimed: _Claimed) -> list[Check]:
    """The true values beside what the principles leave: none is broken."""
    facts = facts_of(claimed.base.ready, claimed.base.drawn)
    found = []
    for point in dict.fromkeys(claim.point for claim in claimed.claims):
        assert point.answer is not None
        kept = not broken(facts, point.key, point.answer.value, 0.0)
        right = write(point.answer.value, point.answer.unit)
        found.append(Check(f"Worked out in full, ${point.key}$ = {right}, and no principle is broken", kept, ""))
    return found
