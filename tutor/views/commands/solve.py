"""`steadyrail solve CIRCUIT NAME=VALUE ...`: a worked solution of anybody's own numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from tutor.later import later
from tutor.views.commands.speech import format_option, json_option, one_form, print_json, print_note
from tutor.views.pairs import read_pairs

if TYPE_CHECKING:
    from tutor.solution import desk, own
    from tutor.views import drawn_problem, records, terminal, terminal_lines
    from tutor.views.notes import gather
else:
    desk = later("tutor.solution.desk")
    own = later("tutor.solution.own")
    drawn_problem = later("tutor.views.drawn_problem")
    records = later("tutor.views.records")
    terminal = later("tutor.views.terminal")
    terminal_lines = later("tutor.views.terminal_lines")
    gather = later("tutor.views.notes.gather")


@click.command("solve")
@click.argument("circuit")
@click.argument("values", nargs=-1, metavar="NAME=VALUE...")
@click.option(
    "--find", "find", default="", metavar="NAME,NAME", help="What to find; everything that follows otherwise."
)
@click.option("--assume", "assume", multiple=True, metavar="NAME=VALUE", help="A convention or a standing value.")
@format_option
@json_option
def command(
    circuit: str, values: tuple[str, ...], find: str, assume: tuple[str, ...], form: str, as_json: bool
) -> None:
    """Work the numbers of CIRCUIT: `steadyrail solve zener-shunt V_I=15V R=220 V_Z=9.1V R_L=1k --find I_Z`."""
    one_form(form, as_json)
    wanted = tuple(name.strip() for name in find.split(",") if name.strip())
    told = read_pairs(values, "V_I=15V")
    answer = own.solve(circuit, told, wanted, read_pairs(assume, "base-current=neglected"))
    if as_json:
        print_json(records.solve_record(answer))
        return
    drawn = desk.our_desk().circuit_for(circuit, told)[0]
    if form != "text":
        rows = drawn_problem.Pictures(desk.our_desk()).of_circuit(drawn).rows
        print_note(form, gather.answer_note(answer, drawn.title, rows))
        return
    terminal.show_answer(terminal_lines.terminal(), answer, drawn.title)
