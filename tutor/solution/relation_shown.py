"""The relation behind a worked step, with the numbers that are given put in and all else left as letters.

Vocabulary: a line's *letters* are its relation under the names in use, its *numbers* the same with values put in; what
is *open* is what a learner may be shown the value of: a given, and nothing that comes to an answer of the problem.
Place in the data flow: WorkedStep -> one line of a hint. Reads worked steps as they are; computes nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from tutor.quantities.expression import LEAVES, Expr, Sym, Val, children, leaves, rebuild, symbols_of
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Chain, WorkedStep

ALIKE = 0.006  # of an answer: a number this near it is read as that answer


@dataclass(frozen=True)
class Open:
    """What may be shown as a number: the values of `given` names, unless they come to one of the `answers`."""

    given: Collection[str]
    answers: Sequence[Quantity]

    def takes(self, letters: Expr, value: Val) -> bool:
        """Whether the number may stand in place of these letters."""
        names = symbols_of(letters)
        return bool(names) and all(name in self.given for name in names) and not self.tells(value.value, value.unit)

    def tells(self, value: float, unit: str) -> bool:
        """Whether a number (SI) reads like an answer, whichever way its sign stands."""
        return any(
            answer.unit == unit and abs(abs(value) - abs(answer.value)) <= ALIKE * abs(answer.value)
            for answer in self.answers
        )


def name_found(step: WorkedStep) -> str:
    """The letter symbol whose value a step gives; '' for none."""
    first = step.chains[-1].first if step.chains else None
    return first.name if isinstance(first, Sym) else ""


def in_letters(step: WorkedStep) -> Chain | None:
    """The relation of a step in letters alone; None where it has none (a value off a shelf, a current of nothing)."""
    found = _pair(step)
    return None if found is None else found[0]


def with_givens(step: WorkedStep, shown: Open) -> Chain | None:
    """The relation of a step with the open numbers put in, without its result; None where it has none."""
    found = _pair(step)
    if found is None:
        return None
    letters, numbers = found
    if numbers is None:
        return letters
    first = _mixed(letters.first, numbers.first, shown)
    rest = zip(letters.rest, numbers.rest, strict=True)
    return Chain(first, tuple((sign, _mixed(side, other, shown)) for (sign, side), (_, other) in rest))


def names_joined(chain: Chain) -> tuple[str, ...]:
    """The letter symbols of a line, its first side's too, each once."""
    sides = (chain.first, *(side for _, side in chain.rest))
    return tuple(dict.fromkeys(name for side in sides for name in symbols_of(side)))


def has_number(chain: Chain) -> bool:
    """Whether a value with its unit stands in a line."""
    return any(isinstance(leaf, Val) for side in _sides(chain) for leaf in leaves(side))


def behind(steps: Sequence[WorkedStep], place: int, start: int) -> list[WorkedStep]:
    """The steps from `start` on that the step at `place` rests on, in their order."""
    needed = set(_names_used(steps[place]))
    found: list[WorkedStep] = []
    for step in reversed(steps[start:place]):
        name = name_found(step)
        if name and name in needed:
            needed.discard(name)
            needed.update(_names_used(step))
            found.append(step)
    return found[::-1]


def _sides(chain: Chain) -> Iterator[Expr]:
    yield chain.first
    for _, side in chain.rest:
        yield side


def _names_used(step: WorkedStep) -> Iterator[str]:
    own = name_found(step)
    for chain in step.chains:
        for side in _sides(chain):
            yield from (name for name in symbols_of(side) if name != own)


def _pair(step: WorkedStep) -> tuple[Chain, Chain | None] | None:
    """The relation of a step in letters, and the same with numbers where the step has it."""
    if not step.chains:
        return None
    last = step.chains[-1]
    places = [place for place, (_, side) in enumerate(last.rest) if symbols_of(side) and _bare(side)]
    if places and isinstance(last.first, Sym):
        sign, letters = last.rest[places[-1]]
        following = last.rest[places[-1] + 1 :][:1]
        told = Chain(last.first, ((sign, letters),))
        if not following or isinstance(following[0][1], LEAVES):
            return told, None
        return told, Chain(last.first, (following[0],))
    # An equation in one unknown: in letters, with numbers, perhaps collected, and what it comes to.
    bare = [place for place, chain in enumerate(step.chains) if all(_bare(side) for side in _sides(chain))]
    if not bare:
        return None
    letters_line = step.chains[bare[-1]]
    if not names_joined(letters_line) or len(names_joined(letters_line)) < 2:
        return None
    following_lines = step.chains[bare[-1] + 1 :][:1]
    alike = following_lines and len(following_lines[0].rest) == len(letters_line.rest)
    return letters_line, following_lines[0] if alike else None


def _bare(expr: Expr) -> bool:
    """Whether no value with a unit stands in an expression."""
    return not any(isinstance(leaf, Val) for leaf in leaves(expr))


def _mixed(letters: Expr, numbers: Expr, shown: Open) -> Expr:
    """Letters with numbers in place of what is open; where the two are written differently, the letters."""
    if isinstance(numbers, Val):
        return numbers if shown.takes(letters, numbers) else letters
    parts, others = children(letters), children(numbers)
    if isinstance(letters, LEAVES) or type(letters) is not type(numbers) or len(parts) != len(others):
        return letters
    return rebuild(letters, tuple(_mixed(part, other, shown) for part, other in zip(parts, others, strict=True)))
