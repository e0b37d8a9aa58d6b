"""Marks from findings, by the trade's rules: award for what is right, one slip costs one mark, follow-through.

Vocabulary: the *ledger* says of each mark of the scheme whether it is won, by which line, and why. A wrong line is
*charged* once: where its own waypoint loses a mark or, if it speaks of none, at the first value that follows from it.
Place in the data flow: Checked + Scheme -> Marks -> terminal, pages, class tables. Nothing here is computed anew: a
line is worth what its finding says.
Sources: the boards' general marking instructions, named beside each rule in `tests/working/test_marks.py`.
"""

from __future__ import annotations

from collections.abc import Sequence

from tutor.generate.problem import WaypointKind
from tutor.solution.scheme import MarkKind, Scheme, SchemeMark, SchemePoint
from tutor.working.attempts import (
    RIGHT_CODES,
    Attempt,
    Sorted,
    Tried,
    Worth,
    is_careless,
    reaches,
    sort_lines,
)
from tutor.working.bands import RESULT_BAND
from tutor.working.check import Checked
from tutor.working.finding import WRONG, Code, Finding
from tutor.working.ledger import LedgerEntry, MarkRules, Marks, Won
from tutor.working.sayings import plain
from tutor.working.verdicts import verdict_on
from tutor.working.written import FEWEST_FIGURES, MOST_FIGURES, figures_fit, same_digits, same_value, unevaluated

FIGURES_WAYPOINT = "figures"
NOTHING_LEFT = "an earlier slip left nothing to work out here"
STANDARD = MarkRules()


def mark_working(checked: Checked, scheme: Scheme, rules: MarkRules = STANDARD) -> Marks:
    """The marks of a checked working under a scheme. Never raises for what was typed."""
    marking = _Marking(checked.findings, scheme, rules)
    for point in scheme.points:
        if point.kind is WaypointKind.VALUE:
            marking.mark_value(point)
        elif point.kind is WaypointKind.CHOICE:
            marking.mark_choice(point)
        else:
            marking.mark_state(point)
    if rules.figures:
        marking.mark_figures()
    return Marks(tuple(marking.ledger))


class _Marking:
    """The ledger as it grows, and which slips are charged already; kept while one working is marked."""

    def __init__(self, findings: Sequence[Finding], scheme: Scheme, rules: MarkRules) -> None:
        self.findings, self.scheme, self.rules = findings, scheme, rules
        self.sorted: Sorted = sort_lines(findings, scheme)
        self.ledger: list[LedgerEntry] = []
        self._charged: set[int] = set()
        self._used: set[int] = set()
        self._unit_charged = False
        self._slips = [line.number for line in findings if line.code in WRONG]

    def _enter(self, point: SchemePoint, mark: SchemeMark, won: Won) -> None:
        self.ledger.append(LedgerEntry(point.key, mark.kind, won.got, won.line, won.why))

    def mark_value(self, point: SchemePoint) -> None:
        """Method marks on the way, the method mark of the value itself, its accuracy mark."""
        tried = self.sorted.at(point.key)
        own = self._method(point, tried)
        won = [self._on_the_way(point, mark, tried, own) for mark in point.marks[:-2]] + [own]
        needed = all(won[place].got for place in point.marks[-1].needs)
        won.append(self._accuracy(point, tried, needed))
        for mark, entry in zip(point.marks, won, strict=True):
            self._enter(point, mark, entry)

    def _method(self, point: SchemePoint, tried: Tried) -> Won:
        """The right relation in symbols or in numbers, or implied by the right value."""
        found: list[Won] = []
        for line in tried.relations:
            if line.code in RIGHT_CODES or _own_slip(tried, line.number) is None:
                found.append(Won(1, line.number, "the right relation, in symbols"))
        for item in tried.attempts:
            shown = item.line.shown
            if item.worth is Worth.CARELESS:
                found.append(Won(1, item.line.number, "the relation is right; the slip costs accuracy alone"))
            elif item.worth in (Worth.RIGHT, Worth.UNIT) and (shown is None or shown.worked):
                found.append(Won(1, item.line.number, "the right relation, in numbers"))
            elif item.worth is Worth.FOLLOWS and _own_slip(tried, item.line.number) is None and (
                shown is None or shown.worked
            ):
                found.append(Won(1, item.line.number, "the right relation, your own values put in"))
        if found:
            return min(found, key=lambda won: won.line or 0)
        return self._implied(point, tried)

    def _implied(self, point: SchemePoint, tried: Tried) -> Won:
        earns = plain(point.marks[-2].earns)
        bare = tried.values[-1] if tried.values else None
        if bare is not None and _implies(bare, point):
            number = bare.line.number
            slip = _own_slip(tried, number)
            if slip is not None:
                return Won(0, slip, f"the number in line {number} is no proof: the relation in line {slip} is wrong")
            if self.rules.working_asked:
                return Won(0, number, f"working is asked for and went unseen: {earns}")
            if bare.worth is Worth.FOLLOWS and not bare.line.reached and point.operations:
                return Won(0, number, f"{NOTHING_LEFT}; the mark is for {earns}")
            told = "value, which follows from your own" if bare.worth is Worth.FOLLOWS else "right value"
            return Won(1, number, f"implied by the {told}; unseen: {earns}")
        wrong = next((item for item in reversed(tried.attempts) if item.worth is not Worth.ELSEWHERE), None)
        if wrong is not None:
            return Won(0, wrong.origin.number, f"no right relation: {wrong.origin.why}")
        return Won(0, None, f"no line shows it: {earns}")

    def _on_the_way(self, point: SchemePoint, mark: SchemeMark, tried: Tried, own: Won) -> Won:
        """A relation on the way: shown by a line of its own, inside the relation of the value, or implied by it."""
        lines = [line for line in self.findings if line.key in mark.names and line.number not in self._used]
        failed: Finding | None = None
        for line in lines:
            if self._shows(line, mark, point):
                self._used.add(line.number)
                return Won(1, line.number, "the relation on the way")
            if line.code is Code.FAILS:
                if is_careless(line, point):
                    return Won(1, line.number, "the relation on the way is right; its slip costs accuracy")
                failed = line
        earns = plain(mark.earns)
        if failed is not None and all(item.line.number > failed.number for item in tried.values[-1:]):
            self._charged.add(failed.number)
            return Won(0, failed.number, f"no right relation: {failed.why}")
        for line in tried.relations:
            if line.shown is not None and not set(line.shown.names) & set(mark.names):
                return Won(1, line.number, "inside the relation of the value, in symbols")
        if own.got and not self.rules.working_asked:
            # A careless slip leaves the whole of a relation right, what was worked out inside it too.
            values = [item.line for item in tried.values if item.worth is Worth.CARELESS or _implies(item, point)]
            if values and _own_slip(tried, values[-1].number) is None:
                return Won(1, values[-1].number, f"implied by the line of the value; unseen: {earns}")
        return Won(0, None, f"no line shows it: {earns}")

    def _shows(self, line: Finding, mark: SchemeMark, point: SchemePoint) -> bool:
        """Whether a line on a quantity on the way is right, and meant at the corner in question as far as it says."""
        if line.code not in RIGHT_CODES | {Code.FOLLOWS} or (line.shown is not None and not line.shown.worked):
            return False
        # A line that gives another waypoint its value, or the relation for it, has had its mark there.
        for other in self.scheme.points:
            if other is not point and other.key == line.key and other.kind is WaypointKind.VALUE:
                there = self.sorted.at(other.key)
                if line in there.relations or any(
                    item.line is line and item.worth is not Worth.ELSEWHERE for item in there.attempts
                ):
                    return False
        if line.reached is None or mark.value is None or line.code is Code.FOLLOWS or point.rests_on:
            return True
        return abs(line.reached - mark.value) <= RESULT_BAND * abs(mark.value)

    def _accuracy(self, point: SchemePoint, tried: Tried, has_method: bool) -> Won:
        """The right value with its unit: of several answers the last one counts."""
        if not tried.values:
            aside = next((item.line for item in tried.attempts if item.worth is Worth.ELSEWHERE), None)
            if aside is not None:
                return Won(0, aside.number, "true, but not the value that is asked for")
            return Won(0, None, "no value is given")
        last = tried.values[-1]
        number = last.line.number
        others = [item for item in tried.values[:-1] if not same_value(item.line, last.line)]
        if last.worth in (Worth.WRONG, Worth.CARELESS):
            told = last.origin.why
            if any(item.worth is Worth.RIGHT for item in others):
                told = f"a wrong answer stands beside the right one, and the last counts: {told}"
            elif reaches(last.line, point):
                told = f"the number is right and the line is not: {told}"
            return Won(0, last.origin.number, told)
        if not has_method:
            return Won(0, number, "accuracy needs its method mark")
        lost = self._not_followed(point, tried, last) if last.worth is Worth.FOLLOWS else None
        open_line = unevaluated(tried)
        if lost is None and open_line is not None:
            lost = Won(0, open_line, "left unevaluated: give one number with its unit")
        lost = lost or self._unit(point, last)
        if lost is not None:
            return lost
        told = "the right value" if last.worth is not Worth.FOLLOWS else f"follow-through: {last.line.why}"
        if last.origin.code is Code.FAILS:
            told = f"follow-through: the slip of line {last.origin.number} again, counted once"
        if last.worth is Worth.UNIT or (last.line.shown is not None and last.line.shown.unitless):
            told += "; its unit is at fault again, which is not counted twice"
        if any(item.worth in (Worth.WRONG, Worth.CARELESS) for item in others):
            told += f"; line {others[-1].line.number} says otherwise and the last counts: strike out the one not meant"
        return Won(1, number, told)

    def _not_followed(self, point: SchemePoint, tried: Tried, last: Attempt) -> Won | None:
        """Why a value that follows from a wrong one does not win its accuracy mark, or None when it does."""
        number = last.line.number
        own = _own_slip(tried, number) or _own_slip(tried, number, Worth.CARELESS)
        if own is not None:
            return Won(0, number, f"it rests on the slip of line {own}, which is its own")
        if not self.rules.follow_through:
            return None if reaches(last.line, point) else Won(0, number, "no follow-through is given here")
        for line in self.sorted.asides:
            if line.code is Code.FAILS and line.number < number and line.number not in self._charged:
                self._charged.add(line.number)
                if not self._mended(line, number):
                    return Won(0, number, f"the slip of line {line.number} costs its one mark here: {line.why}")
        if self._is_eased(point, last):
            return Won(0, number, f"{NOTHING_LEFT}, so method is all that can be won")
        return None

    def _mended(self, wrong: Finding, before: int) -> bool:
        return bool(wrong.key) and any(
            line.key == wrong.key and line.code in RIGHT_CODES and wrong.number < line.number < before
            for line in self.findings
        )

    def _is_eased(self, point: SchemePoint, last: Attempt) -> bool:
        """Whether a relation is shown that has fewer operations left than the shortest form of the scheme's."""
        if last.line.shown is None or not last.line.shown.worked:
            return False
        if not any(number < last.line.number for number in self._slips):
            return False
        # What stands since the value before it is the work towards this one, in whatever order they were taken.
        number = last.line.number
        others = [tried for key, tried in self.sorted.tried.items() if key != point.key]
        ends = [item.line.number for tried in others for item in tried.values if item.line.number < number]
        since = max(ends, default=0)
        lines = [line.shown for line in self.findings if line.shown is not None and since < line.number <= number]
        return sum(shown.operations for shown in lines) < point.operations

    def _unit(self, point: SchemePoint, last: Attempt) -> Won | None:
        """A missing or wrong unit costs accuracy, once in a problem."""
        shown = last.line.shown
        if last.worth is not Worth.UNIT and (shown is None or not shown.unitless):
            return None
        number = last.line.number
        if last.worth is Worth.UNIT and not same_digits(last.line, point):
            return Won(0, number, last.line.why)
        if self._unit_charged and self.rules.unit_once:
            return None
        self._unit_charged = True
        why = last.line.why if last.worth is Worth.UNIT else "the number is right and its unit is missing"
        return Won(0, number, why)

    def mark_choice(self, point: SchemePoint) -> None:
        """One mark for a choice that meets the specification, whichever the model takes; the last one counts."""
        attempts = self.sorted.at(point.key).attempts
        if not attempts:
            self._enter(point, point.marks[0], Won(0, None, f"nothing is chosen: {plain(point.prompt)}"))
            return
        last = attempts[-1]
        told = last.line.why or "it meets the specification"
        if last.worth is not Worth.RIGHT and any(item.worth is Worth.RIGHT for item in attempts):
            told = f"a wrong choice stands beside the right one, and the last counts: {told}"
        self._enter(point, point.marks[0], Won(int(last.worth is Worth.RIGHT), last.line.number, told))

    def mark_state(self, point: SchemePoint) -> None:
        """One mark for telling the state, in words or by the comparison that shows it."""
        verdict = verdict_on(point, self.findings)
        if verdict is None:
            self._enter(point, point.marks[0], Won(0, None, f"not said: {plain(point.prompt)}"))
        else:
            self._enter(point, point.marks[0], Won(int(verdict.right), verdict.line, verdict.why))
            if not verdict.right:
                self._slips.append(verdict.line)

    def mark_figures(self) -> None:
        """One mark for the whole problem: every answer in 2 to 4 figures, or in the few that write it exactly."""
        mark = SchemeMark(MarkKind.INDEPENDENT, "")
        point = SchemePoint(FIGURES_WAYPOINT, WaypointKind.VALUE, "", (mark,))
        given = [
            (item, self.sorted.at(item.key).values[-1].line)
            for item in self.scheme.points
            if item.kind is WaypointKind.VALUE and self.sorted.at(item.key).values
        ]
        odd = next((line for item, line in given if not figures_fit(item, line)), None)
        if not given:
            self._enter(point, mark, Won(0, None, "no answer is given"))
        elif odd is not None:
            assert odd.shown is not None
            told = f"{odd.shown.figures} significant figures; {FEWEST_FIGURES} to {MOST_FIGURES} say what is known"
            self._enter(point, mark, Won(0, odd.number, told))
        else:
            told = f"every answer in {FEWEST_FIGURES} to {MOST_FIGURES} significant figures"
            self._enter(point, mark, Won(1, given[-1][1].number, told))


def _implies(item: Attempt, point: SchemePoint) -> bool:
    """Whether a value alone is proof enough of its method; right digits in a wrong unit are."""
    if item.worth is Worth.UNIT:
        return same_digits(item.line, point)
    return item.worth in (Worth.RIGHT, Worth.FOLLOWS)


def _own_slip(tried: Tried, number: int, worth: Worth = Worth.WRONG) -> int | None:
    """The line before `number` at which this waypoint itself went wrong, unless a right one stands between."""
    found: int | None = None
    for item in tried.attempts:
        if item.line.number >= number:
            break
        if item.worth is worth:
            found = item.line.number
        elif item.worth is Worth.RIGHT and (item.line.shown is None or item.line.shown.worked):
            found = None
    return found
