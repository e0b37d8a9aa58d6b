"""Two supplies side by side, from readings of each: which is better regulated, which is stiffer, which still serves.

The first question reads both at one full load; the second at loads of their own, where a supply may be the better
regulated and yet the softer one; the third goes backwards, from the regulation allowed to the load up to which each
keeps it.
Place in the data flow: draws -> two supplies (`two_supplies.py`) -> Posed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tutor.across.family import Posed, Refused, Setting
from tutor.across.points import worded_step
from tutor.across.sheet_of_two import sheet_of_two
from tutor.across.stated import capitalised
from tutor.across.stream import Stream
from tutor.across.two_supplies import (
    BENCH,
    CONVENTION,
    LOADS,
    OPTIONS,
    SUPPLY,
    Misjudged,
    Relations,
    Supply,
    WrongRoute,
    alike,
    apart,
    better_step,
    comes_back,
    convention_row,
    drawn_supply,
    figure_step,
    figure_text,
    given_readings,
    reading_rows,
    readings_steps,
    regulation_points,
    regulation_verdict,
    relations,
    smaller,
    tells,
    value_point,
    verdict_point,
)
from tutor.generate.problem import TableRow, Waypoint
from tutor.quantities.quantity import given, write
from tutor.solution.solution import Check, Solution, WorkedStep

OWN_LOADS = 1.3  # times: full loads nearer than this are nearly one load
ALLOWED = (0.035, 0.04, 0.05, 0.06, 0.075, 0.08, 0.1, 0.12, 0.15, 0.2)
SPARE = 0.08  # of the load up to which a supply serves: nearer than this the verdict hangs on the meter
FURTHEST = 2.0  # times the load it was read at: beyond that nobody trusts the line
FAR = 4.0  # times the load to be fed: no test load is larger
VERDICTS = {
    (True, False): "supply A alone",
    (False, True): "supply B alone",
    (True, True): "both",
    (False, False): "neither",
}
INDICES = "In the letters, A has the index 1 and B the index 2."


def _drawn_pair(laws: Relations, stream: Stream, loads: Sequence[float]) -> tuple[Supply, Supply] | None:
    """Two supplies near enough to be compared; None where these draws make none."""
    one, other = (drawn_supply(laws, stream, place, load) for place, load in enumerate(loads, start=1))
    return (one, other) if one is not None and other is not None and alike((one, other)) else None


def _own_loads(stream: Stream, loads: Sequence[float]) -> tuple[float, float]:
    one, other = (stream.pick(f"load {place}", loads) for place in (1, 2))
    return one, other


def _resistance_points(pair: Sequence[Supply], routes: Sequence[WrongRoute]) -> tuple[Waypoint, ...]:
    return tuple(
        value_point(
            supply.key("R_S"), supply.figures["R_S"], f"the resistance of {supply.name}", "R_S", supply.figures, routes
        )
        for supply in pair
    )


@dataclass(frozen=True)
class Regulations:
    """Both read at the same full load: the regulation of each, and which is better regulated."""

    about: str
    routes: tuple[WrongRoute, ...]
    larger_figure: Misjudged
    higher_voltage: Misjudged

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        laws = relations(setting.desk)
        load = stream.pick("load", LOADS)
        pair = _drawn_pair(laws, stream, (load, load))
        if pair is None:
            return Refused("a supply out of the range asked about, or no two to compare")
        if not apart(pair, "REG_LOAD"):
            return Refused("too near for a verdict")
        points = regulation_points(pair, self.routes)
        if not tells(points, "REG_LOAD", self.routes):
            return Refused("a slip that no reading of the two would show")
        verdict = regulation_verdict(pair, (self.larger_figure,), self.higher_voltage)
        problem = setting.problem(
            circuit=SUPPLY,
            form="",
            told=f"Both, called A and B, are read without load and at full load. {INDICES}",
            ask="Find the load regulation of each, and say which of the two is better regulated.",
            table=(*reading_rows(pair, loaded="full load", common=True), convention_row(laws)),
            given=given_readings(pair, ("V_OC", "V_I")) | {"I_I": given(load, "A")},
            waypoints=(*points, verdict),
            assumed=CONVENTION,
        )
        steps = (*readings_steps(pair, "REG_LOAD", "regulation"), better_step(pair))
        checks = tuple(
            comes_back(
                supply, laws.rule(laws.allowed, "V_I"), supply.figures,
                f"With ${supply.key('REG_LOAD')}$ = {figure_text(supply, 'REG_LOAD')}",
            )
            for supply in pair
        )  # fmt: skip
        solution = Solution(problem.name, steps, checks, BENCH, (), problem.cautions)
        return Posed(problem, solution, sheet=sheet_of_two(pair, problem))


@dataclass(frozen=True)
class OwnLoads:
    """Each read at a full load of its own: regulation and resistance of each, and a verdict on both counts."""

    about: str
    routes: tuple[WrongRoute, ...]
    larger_figure: Misjudged
    higher_voltage: Misjudged
    stiffer_is_better: Misjudged
    better_is_stiffer: Misjudged

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        laws = relations(setting.desk)
        loads = _own_loads(stream, LOADS)
        if max(loads) < OWN_LOADS * min(loads):
            return Refused("full loads too near one another")
        pair = _drawn_pair(laws, stream, loads)
        if pair is None:
            return Refused("a supply out of the range asked about, or no two to compare")
        if not apart(pair, "REG_LOAD") or not apart(pair, "R_S"):
            return Refused("too near for a verdict")
        trap = smaller(pair, "REG_LOAD") is not smaller(pair, "R_S")
        # By the first attempt's draw: where each attempt drew anew, the easier of the two would come more often.
        if trap != setting.stream.pick("trap", (True, True, False)):
            return Refused("the verdicts agree where they were to differ, or differ where they were to agree")
        points = regulation_points(pair, self.routes)
        if not tells(points, "REG_LOAD", self.routes):
            return Refused("a slip that no reading of the two would show")
        if trap:
            verdict = regulation_verdict(pair, (self.larger_figure, self.stiffer_is_better))
        else:
            verdict = regulation_verdict(pair, (self.larger_figure,), self.higher_voltage)
        problem = setting.problem(
            circuit=SUPPLY,
            form="",
            told="Both, called A and B, are read without load and at full load, and their full loads differ. "
            f"{INDICES}",
            ask="Find the load regulation of each at its own full load and the resistance of each. Say which is better "
            "regulated at its own full load, and which is the stiffer: which loses fewer volts for each ampere more.",
            table=(*reading_rows(pair, loaded="its full load"), convention_row(laws)),
            given=given_readings(pair, ("V_OC", "V_I", "I_I")),
            waypoints=(
                *points, verdict, *_resistance_points(pair, self.routes), self._stiffer(pair, trap=trap),
            ),
            assumed=CONVENTION,
        )  # fmt: skip
        steps = (
            *readings_steps(pair, "REG_LOAD", "regulation"), better_step(pair),
            *readings_steps(pair, "R_S", "two-readings"), _stiffer_step(pair, trap=trap),
        )  # fmt: skip
        checks = tuple(
            comes_back(
                supply, laws.rule(laws.parts, "V_I"), supply.figures,
                f"With ${supply.key('R_S')}$ = {figure_text(supply, 'R_S')}",
            )
            for supply in pair
        )  # fmt: skip
        solution = Solution(problem.name, steps, checks, BENCH, (), problem.cautions)
        return Posed(problem, solution, sheet=sheet_of_two(pair, problem))

    def _stiffer(self, pair: Sequence[Supply], *, trap: bool) -> Waypoint:
        right = smaller(pair, "R_S")
        wrong = next(supply for supply in pair if supply is not right)
        reason = (
            f"Its resistance is {figure_text(wrong, 'R_S')}, that of the other {figure_text(right, 'R_S')}: it loses "
            "more volts for each ampere."
        )
        said = {wrong.name: (self.better_is_stiffer,)} if trap else {}
        prompt = "which of the two is the stiffer"
        return verdict_point("stiffer", prompt, OPTIONS, right.name, said, {wrong.name: reason})


def _stiffer_step(pair: Sequence[Supply], *, trap: bool) -> WorkedStep:
    right = smaller(pair, "R_S")
    wrong = next(supply for supply in pair if supply is not right)
    text = f"{figure_text(right, 'R_S')} is less than {figure_text(wrong, 'R_S')}: {right.name}."
    if trap:
        text += (
            f" {capitalised(wrong.name)} is better regulated at its own full load all the same: its "
            "regulation also depends on how much it is asked to deliver, and on its voltage."
        )
    why = "The smaller resistance loses fewer volts for each ampere, whatever the full load is."
    return worded_step("Which is the stiffer?", why, text, "stiffer")


@dataclass(frozen=True)
class CommonLoad:
    """Backwards: a regulation allowed at a load that both are to feed; up to which load each keeps it."""

    about: str
    routes: tuple[WrongRoute, ...]
    as_it_was_read: Misjudged
    larger_figure: Misjudged

    def attempt(self, setting: Setting, stream: Stream) -> Posed | Refused:
        """The problem these draws make, or why they make none."""
        laws = relations(setting.desk)
        allowed, load = stream.pick("allowed", ALLOWED), stream.pick("common load", LOADS)
        near = [other for other in LOADS if load / FURTHEST <= other <= load * FAR and other != load]
        pair = _drawn_pair(laws, stream, _own_loads(stream, near))
        if pair is None:
            return Refused("a supply out of the range asked about, or no two to compare")
        bounds = [supply.at_most(allowed)["I_I"] for supply in pair]
        if any(abs(load - bound) < SPARE * bound for bound in bounds):
            return Refused("the verdict would hang on the meter")
        if any(bound > FURTHEST * supply.read["I_I"] for supply, bound in zip(pair, bounds, strict=True)):
            return Refused("far beyond the load it was read at")
        serves = (load < bounds[0], load < bounds[1])
        # By the first attempt's draw, as above.
        if VERDICTS[serves] != setting.stream.pick("verdict", tuple(VERDICTS.values())):
            return Refused("another verdict than was drawn")
        points = _bound_points(pair, allowed, self.routes)
        if not tells(points, "I_I", self.routes):
            return Refused("a slip that no reading of the two would show")
        permitted = write(allowed, "%")
        problem = setting.problem(
            circuit=SUPPLY,
            form="",
            told="Both, called A and B, are read without load and at a test load. One of them is to feed a load "
            f"of {write(load, 'A')}, and from no load to that load its regulation may be {permitted} at most. The line "
            f"of each is taken as straight. {INDICES}",
            ask="Find the resistance of each and the greatest current that each delivers within the regulation "
            "allowed. Say which of the two serves.",
            table=(
                *reading_rows(pair, loaded="its test load"),
                TableRow("load to be fed", "I_I", given(load, "A").text),
                TableRow("greatest load regulation allowed", "REG_LOAD_MAX", permitted),
                convention_row(laws),
            ),
            given=given_readings(pair, ("V_OC", "V_I", "I_I"))
            | {"I_I": given(load, "A"), "REG_LOAD_MAX": given(allowed, "%")},
            waypoints=(*_resistance_points(pair, self.routes), *points, self._serving(pair, allowed, load, serves)),
            assumed=CONVENTION,
        )
        steps = (
            *readings_steps(pair, "R_S", "two-readings"),
            *(step for supply in pair for step in _bound_steps(supply, allowed)),
            _serving_step(pair, bounds, load, serves),
        )
        checks = tuple(_held(supply, allowed, load) for supply in pair)
        solution = Solution(problem.name, steps, checks, BENCH, (), problem.cautions)
        return Posed(problem, solution, sheet=sheet_of_two(pair, problem))

    def _serving(self, pair: Sequence[Supply], allowed: float, load: float, serves: tuple[bool, bool]) -> Waypoint:
        said: dict[str, list[Misjudged]] = {}
        one, other = (supply.figures["REG_LOAD"] <= allowed for supply in pair)
        for belief, option in (
            (self.as_it_was_read, VERDICTS[one, other]),
            (self.larger_figure, VERDICTS[not serves[0], not serves[1]]),
        ):
            if option != VERDICTS[serves]:
                said.setdefault(option, []).append(belief)
        there = " and ".join(
            f"{supply.name} would change by {write(supply.loaded(load)['REG_LOAD'], '%')}" for supply in pair
        )
        reason = f"At {write(load, 'A')} {there}; {write(allowed, '%')} is allowed."
        options = tuple(VERDICTS.values())
        return verdict_point(
            "serves", "which of the two serves", options, VERDICTS[serves], said, dict.fromkeys(options, reason),
            "Up to which current does each keep to what is allowed, and what current is wanted?",
        )  # fmt: skip


def _bound_points(pair: Sequence[Supply], allowed: float, routes: Sequence[WrongRoute]) -> tuple[Waypoint, ...]:
    found = []
    for supply in pair:
        at = supply.at_most(allowed)
        prompt = f"the greatest current of {supply.name} within the regulation allowed"
        found.append(value_point(supply.key("I_I_MAX"), at["I_I"], prompt, "I_I", at, routes))
    return tuple(found)


def _bound_steps(supply: Supply, allowed: float) -> list[WorkedStep]:
    """The least voltage that the regulation allows, and the current that brings the supply down to it."""
    laws, first = supply.laws, supply.place == 1
    values: Mapping[str, float] = supply.at_most(allowed)
    shown = {"V_I": supply.key("V_I_MIN"), "I_I": supply.key("I_I_MAX"), "REG_LOAD": "REG_LOAD_MAX"}
    exact = frozenset({"V_OC", "REG_LOAD"})
    regulation, loaded = laws.composite("regulation"), laws.composite("loaded")
    why = "The definition turned round: how low the voltage may go under load for the regulation allowed."
    return [
        figure_step(
            supply, "V_I", laws.rule(laws.allowed, "V_I"), values, regulation.title, why if first else "",
            shown=shown, exact=exact, waypoint=False,
        ),
        figure_step(
            supply, "I_I", laws.rule(laws.allowed, "I_I"), values, loaded.title, loaded.why if first else "",
            shown=shown, exact=exact,
        ),
    ]  # fmt: skip


def _serving_step(
    pair: Sequence[Supply], bounds: Sequence[float], load: float, serves: tuple[bool, bool]
) -> WorkedStep:
    said = "; ".join(
        f"{supply.name} keeps to it up to {write(bound, 'A')}, {'more' if serves[supply.place - 1] else 'less'} than "
        f"{write(load, 'A')}"
        for supply, bound in zip(pair, bounds, strict=True)
    )
    why = "A supply serves when the current wanted lies below the greatest that it delivers within what is allowed."
    return worded_step("Which serves?", why, f"{capitalised(said)}: {VERDICTS[serves]}.", "serves")


def _held(supply: Supply, allowed: float, load: float) -> Check:
    """The other way round: the regulation at the common load, from the parts forwards, agrees with the verdict."""
    there = supply.loaded(load)["REG_LOAD"]
    within = load < supply.at_most(allowed)["I_I"]
    verdict = "within" if within else "more than"
    text = (
        f"Forwards, at {write(load, 'A')} the regulation of {supply.name} is {write(there, '%')}: {verdict} the "
        f"{write(allowed, '%')} allowed"
    )
    return Check(text, (there <= allowed) == within, "")
