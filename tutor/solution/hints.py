"""Three hints for every waypoint, each more direct than the one before, from the plan that leads there.

The first says which principle or which corner to think of, the second which quantities hang together and what to find
first, the third writes the relation down with the numbers of this problem, its result left open. Nothing in them is
written by hand for a family: principles are the laws that the plan uses, corners come from the signs of slopes, and the
third is the worked line without its last part. A number that comes to an answer of the problem stays a letter.
Place in the data flow: a drawn problem + its worked steps -> Hints -> views.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tutor.generate.draws import Drawn
from tutor.generate.family import Ask, Choose, ChooseRating, Prefer, TellState, TellVerdict
from tutor.generate.level_run import ReadyLevel
from tutor.generate.problem import Problem
from tutor.generate.run import INSIDE, StageOutcome
from tutor.generate.stage import Stage
from tutor.generate.verdicts import sides
from tutor.quantities.expression import Add, Expr, Mul, Neg, Num, Sym, Val
from tutor.quantities.prose import listed
from tutor.quantities.quantity import EXACT_FIGURES
from tutor.quantities.symbols import symbol_for
from tutor.solution.reasons import telling_bases
from tutor.solution.relation_shown import Open, behind, has_number, in_letters, name_found, names_joined, with_givens
from tutor.solution.solution import Chain, Solution, WorkedStep
from tutor.solution.steps import inside_sentence

MOST_LINES = 3  # that a third hint lays before a learner; of more the first and the last are told
MOSTLY, MORE = 0.6, 4  # of the words, and so many words beyond them
_WORD = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_SMALL = 4  # letters: a shorter word says nothing of what is asked


@dataclass(frozen=True)
class Hints:
    """The hints of one waypoint, as prose; `lines` go with the third. `after` names a waypoint that must be settled
    first, since these lean on its answer; '' for none."""

    key: str
    first: str
    second: str
    third: str
    lines: tuple[Chain, ...] = ()
    after: str = ""

    @property
    def words(self) -> tuple[str, str, str]:
        """The three, in their order."""
        return self.first, self.second, self.third


def hints_of(ready: ReadyLevel, drawn: Drawn, problem: Problem, solution: Solution) -> tuple[Hints, ...]:
    """The hints of every waypoint of a drawn problem, in their order."""
    known = {*problem.given, *ready.circuit.defaults}
    shown = Open(frozenset(known), tuple(problem.answers.values()))
    prompts = {point.key: point.prompt for point in problem.waypoints}
    found: list[Hints] = []
    after, start = "", 0
    for index in ready.level.asked_in(drawn.run.region):
        ask, key = ready.level.asks[index], drawn.region.plan.keys[index]
        place = next(at for at, step in enumerate(solution.steps) if step.waypoint == key)
        stage, outcome = drawn.region.plan.asks[index], drawn.run.outcomes[index]
        if stage is not None and outcome is not None:
            before = behind(solution.steps, place, start)
            told = _corner(ready, stage, outcome)
            hints = value_hints(key, prompts[key], solution.steps[place], before, shown, told, _why(stage))
        else:
            hints = _hints_of_choice(ask, key, shown, drawn)
        found.append(Hints(key, *hints, after))
        if isinstance(ask, TellState):
            after = key
        start = place + 1
    return tuple(found)


Told = tuple[str, str, str, tuple[Chain, ...]]
_Put = Callable[[str], Expr]


@dataclass(frozen=True)
class CornerHint:
    """Which corner is meant: the question that leads to it, and its answer, as prose."""

    question: str
    answer: str


NO_CORNER = CornerHint("", "")


def value_hints(
    key: str, prompt: str, step: WorkedStep, before: Sequence[WorkedStep], shown: Open,
    corner: CornerHint = NO_CORNER, why: str = "",
) -> Told:  # fmt: skip
    """The hints of a value: `step` leads to it, `before` are those on the way; `why` is the reason of its law."""
    relation = in_letters(step)
    title = step.title
    first = corner.question or _principle(title, why, prompt, key)
    names = [name for name in names_joined(relation) if name != key] if relation is not None else []
    second = []
    if corner.answer:
        second.append(corner.answer)
    on_the_way = [name for name in map(name_found, before) if name]
    if on_the_way:
        second.append(f"Find {listed([f'${name}$' for name in on_the_way])} first.")
    if names:
        joined = listed([f"${name}$" for name in names])
        named = "The relation" if not corner.question or restates(title, prompt) else f"{title}: this"
        second.append(f"{named} joins ${key}$ with {joined}.")
    elif not second:
        second.append(f"No other quantity is needed for ${key}$: the state of the part settles it.")
    lines = tuple(line for item in (*before, step) if (line := with_givens(item, shown)) is not None)
    return first, " ".join(second), _lead(lines, key), lines if len(lines) <= MOST_LINES else (lines[0], lines[-1])


def _lead(lines: Sequence[Chain], key: str) -> str:
    if not lines:
        return f"Ask what the part allows in this state: is any current left for ${key}$, or any voltage?"
    if len(lines) > MOST_LINES:
        return f"{len(lines)} lines lead there. The first and the last of them:"
    if len(lines) > 1:
        return "One after the other:"
    return "With the numbers given:" if has_number(lines[0]) else "In letters, whose values stand by then:"


def _principle(title: str, why: str, prompt: str, key: str) -> str:
    """Which law to think of: by its name and its reason, as far as they do not say again what is asked."""
    named = "" if restates(title, prompt) else f"Think of this: {inside_sentence(title)}."
    reason = "" if restates(why, prompt) else why
    told = " ".join(part for part in (named, reason) if part)
    return told or f"Which relation holds ${key}$, and otherwise nothing but what is known by now?"


def restates(text: str, prompt: str) -> bool:
    """Whether a text says hardly more than what is asked: most words of the one are words of the other too."""
    said, asked = _words(text), _words(prompt)
    shared = len(said & asked)
    return shared > 0 and shared >= MOSTLY * min(len(said), len(asked)) and len(said - asked) < MORE


def _words(text: str) -> set[str]:
    found = {word.lower() for word in _WORD.findall(text) if len(word) >= _SMALL or "_" in word or word.isupper()}
    return {word.rstrip("s") for word in found}


def _why(stage: Stage) -> str:
    """The physical reason of the law that the last step of a plan takes."""
    return stage.plan.steps[-1].why


def _corner(ready: ReadyLevel, stage: Stage, outcome: StageOutcome) -> CornerHint:
    """The corner that a stage took, as a question and as its answer."""
    ends = {base: int(end[0]) for base, end in outcome.ends.items()}
    values = {name: float(value[0]) for name, value in {**outcome.bases, **outcome.steps}.items()}
    bases = telling_bases(stage, ends, values)
    if not bases:
        return NO_CORNER
    extreme = "greatest" if stage.watched_greatest else "least"
    ranging = listed([f"${base}$" for base in bases])
    question = f"Think of the corner first: where in the range of {ranging} is ${stage.watched}$ {extreme}?"
    words = ready.circuit.end_words
    told = [
        f"a ${base}$ inside its range" if ends[base] == INSIDE else words(base, greatest=ends[base] == 1)
        for base in bases
    ]
    return CornerHint(question, f"The corner is {listed(told)}.")


def _hints_of_choice(ask: Ask, key: str, shown: Open, drawn: Drawn) -> Told:
    env = drawn.run.env

    def put(name: str) -> Expr:
        """The number of a given, or its letter where it may not be told or is none."""
        unit = symbol_for(name).unit
        value = Val(float(env[name][0]), unit, EXACT_FIGURES)
        return value if shown.takes(Sym(name), value) else Sym(name)

    if isinstance(ask, Choose):
        return _choice_hints(ask, key, put)
    if isinstance(ask, ChooseRating):
        return _rating_hints(ask, key)
    if isinstance(ask, TellState):
        return _state_hints(ask, put)
    assert isinstance(ask, TellVerdict)
    return _verdict_hints(ask, put)


def _choice_hints(ask: Choose, key: str, put: _Put) -> Told:
    if ask.near:
        return (
            "What is worked out is seldom to be had: which of the values to be had comes nearest?",
            f"Hold ${ask.near}$ against its two neighbours on the list, one below and one above.",
            "Take the one with the smaller distance:",
            (Chain(Sym(key), (("≈", put(ask.near)),)),),
        )
    bounds = [name for name in (ask.low, ask.high) if name]
    both = "both bounds" if len(bounds) > 1 else "the bound"
    spread = put(ask.tolerance) if ask.tolerance else None
    whole = ", with the whole of its tolerance" if spread is not None else ""
    first = f"On which side of a bound is it safe? What is taken must keep to {both}{whole}."
    wish = "largest" if ask.prefer is Prefer.LARGEST else "smallest"
    sides_told = [f"above ${ask.low}$"] * bool(ask.low) + [f"below ${ask.high}$"] * bool(ask.high)
    second = f"It must stay {listed(sides_told)}; of those that do, the worked solution takes the {wish}."
    lines = []
    if ask.low:
        lines.append(Chain(put(ask.low), (("<=", _spread(key, spread, -1)),)))
    if ask.high:
        lines.append(Chain(_spread(key, spread, 1), (("<=", put(ask.high)),)))
    return first, second, "Each on the list for which this is true will do:", tuple(lines)


def _spread(key: str, tolerance: Expr | None, sign: int) -> Expr:
    """A part at one end of its tolerance band."""
    if tolerance is None:
        return Sym(key)
    return Mul((Sym(key), Add((Num(1), tolerance if sign > 0 else Neg(tolerance)))))


def _rating_hints(ask: ChooseRating, key: str) -> Told:
    margin = ask.margin != 1
    first = "A rating is looked up, not worked out: it must outlast the worst that the part ever meets"
    first += ", and leave the margin asked for." if margin else "."
    second = f"It is ${ask.load}$ that it has to bear" + (f", {ask.margin:g} times over." if margin else ".")
    least: Expr = Mul((Num(ask.margin), Sym(ask.load))) if margin else Sym(ask.load)
    return first, second, "The first on the list that comes up to this:", (Chain(Sym(key), ((">=", least),)),)


def _state_hints(ask: TellState, put: _Put) -> Told:
    return (
        "Suppose that nothing is held yet and that the part in doubt takes no current. What would then be so?",
        f"Compare ${ask.quantity}$, found that way, with ${ask.limit}$.",
        "Which of the two signs is the true one?",
        tuple(Chain(Sym(ask.quantity), ((sign, put(ask.limit)),)) for sign in ("<", ">")),
    )


def _verdict_hints(ask: TellVerdict, put: _Put) -> Told:
    rows = [sides(item.requirement) for item in ask.demands]
    pairs = dict.fromkeys((key, limit) for key, _, limit in rows)
    compared = listed([f"${key}$ with ${limit}$" for key, limit in pairs])
    return (
        "A design is as good as the demand it meets worst: each is judged by itself, at its own worst corner.",
        f"Compare {compared}; whatever is missed, by however little, is missed.",
        "Ask of each whether it is true:",
        tuple(Chain(Sym(key), ((relation, put(limit)),)) for key, relation, limit in dict.fromkeys(rows)),
    )
