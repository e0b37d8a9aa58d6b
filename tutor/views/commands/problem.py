"""`steadyrail problem FAMILY`: one generated problem, with its worked solution when asked for."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from tutor.errors import BadValue, unknown
from tutor.generate.name import ProblemName, read_name
from tutor.later import later
from tutor.views.commands.speech import format_option, json_option, one_form, print_json, print_note

if TYPE_CHECKING:
    from tutor.across import family as families
    from tutor.across import named
    from tutor.solution import desk
    from tutor.solution.hints import Hints
    from tutor.views import drawn_problem, records, terminal, terminal_lines
    from tutor.views.notes import gather
else:
    families = later("tutor.across.family")
    named = later("tutor.across.named")
    desk = later("tutor.solution.desk")
    drawn_problem = later("tutor.views.drawn_problem")
    records = later("tutor.views.records")
    terminal = later("tutor.views.terminal")
    terminal_lines = later("tutor.views.terminal_lines")
    gather = later("tutor.views.notes.gather")


@click.command("problem")
@click.argument("family")
@click.option("--level", type=int, default=None, metavar="N", help="Level 1, 2 or 3 (1 unless said).")
@click.option("--number", type=int, default=None, metavar="N", help="Which problem of the level (1 unless said).")
@click.option("--solution", "with_solution", is_flag=True, help="Print the worked solution too.")
@click.option("--hint", "hint", default="", metavar="KEY[:N]", help="A hint for what is asked; N is 1 to 3.")
@format_option
@json_option
def command(
    family: str,
    level: int | None,
    number: int | None,
    with_solution: bool,
    hint: str,
    form: str,
    as_json: bool,
) -> None:
    """One problem of FAMILY, or of a whole name: zener-resistor:2:17."""
    one_form(form, as_json)
    if hint and form != "text":
        raise BadValue(f"a hint is told in the terminal or as JSON alone; leave --format {form} out")
    name = _name(family, level, number)
    worked = named.problem(str(name))
    posed = worked if isinstance(worked, families.Posed) else None
    lines = posed.lines if posed else ()
    asked = _hint(name, hint) if hint else None
    if as_json:
        record = records.problem_record(worked.problem, worked.solution, lines)
        print_json(record if asked is None else {**record, "hint": records.hint_record(*asked)})
        return
    caption = posed.caption if posed else ""
    if form != "text":
        withheld = posed.withheld if posed else ()
        rows = drawn_problem.Pictures(desk.our_desk()).of(worked.problem, withheld).rows
        shown = worked.solution if with_solution else None
        print_note(form, gather.problem_note(worked.problem, shown, rows, lines, caption))
        return
    console = terminal_lines.terminal()
    if asked is not None:
        terminal.show_hint(console, *asked)
        return
    terminal.show_problem(console, worked.problem, lines, caption)
    if with_solution:
        console.print()
        terminal.show_solution(console, worked.solution)


def _hint(name: ProblemName, text: str) -> tuple[Hints, int]:
    """The hints of a waypoint and which of them is asked for."""
    key, _, which = text.partition(":")
    found = {item.key: item for item in named.hints(name)}
    if key not in found:
        raise unknown("answer to this problem called", key, found)
    if which not in ("", "1", "2", "3"):
        raise BadValue(f"there are hints 1, 2 and 3 for {key} (got '{which}')")
    return found[key], int(which or "1")


def _name(family: str, level: int | None, number: int | None) -> ProblemName:
    if ":" in family:
        named = read_name(family)
        if (level or named.level) != named.level or (number or named.number) != named.number:
            raise BadValue(f"'{family}' already says its level and number; leave --level and --number out")
        return named
    plain = read_name(f"{family}:1:1")
    return read_name(str(replace(plain, level=_at_least_one(level), number=_at_least_one(number))))


def _at_least_one(value: int | None) -> int:
    if value is not None and value < 1:
        raise BadValue(f"levels and numbers start at 1 (got {value})")
    return 1 if value is None else value
