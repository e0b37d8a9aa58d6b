"""`steadyrail solve CIRCUIT NAME=VALUE ...`: a worked solution of anybody's own numbers."""

from __future__ import annotations

import click

from tutor.solution.desk import our_desk
from tutor.solution.own import solve
from tutor.views.commands.speech import format_option, json_option, one_form, print_json, print_note, read_pairs
from tutor.views.drawn_problem import Pictures
from tutor.views.notes.gather import answer_note
from tutor.views.records import solve_record
from tutor.views.terminal import show_answer, terminal


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
    answer = solve(circuit, told, wanted, read_pairs(assume, "base-current=neglected"))
    if as_json:
        print_json(solve_record(answer))
        return
    drawn = our_desk().circuit_for(circuit, told)[0]
    if form != "text":
        print_note(form, answer_note(answer, drawn.title, Pictures(our_desk()).of_circuit(drawn).rows))
        return
    show_answer(terminal(), answer, drawn.title)
