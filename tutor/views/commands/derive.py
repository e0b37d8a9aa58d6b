"""`steadyrail derive CIRCUIT`: the laws, the derivation, the closed form, the sensitivities."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from tutor.errors import unknown
from tutor.later import later
from tutor.views.commands.speech import format_option, json_option, one_form, print_json, print_note

if TYPE_CHECKING:
    from tutor.quantities import symbols
    from tutor.solution import derivation, desk
    from tutor.views import drawn_problem, records, terminal, terminal_lines
    from tutor.views.notes import gather
else:
    symbols = later("tutor.quantities.symbols")
    derivation = later("tutor.solution.derivation")
    desk = later("tutor.solution.desk")
    drawn_problem = later("tutor.views.drawn_problem")
    records = later("tutor.views.records")
    terminal = later("tutor.views.terminal")
    terminal_lines = later("tutor.views.terminal_lines")
    gather = later("tutor.views.notes.gather")


@click.command("derive")
@click.argument("circuit")
@click.option("--for", "quantity", default="", metavar="QUANTITY", help="Derive this quantity alone.")
@format_option
@json_option
def command(circuit: str, quantity: str, form: str, as_json: bool) -> None:
    """The laws of CIRCUIT, each derivation with its closed form, and what each given does to it."""
    name = symbols.resolve_alias(quantity) if quantity else ""
    if name is None:
        raise unknown("quantity", quantity, desk.our_desk().circuit(circuit).report)
    one_form(form, as_json)
    derived = derivation.derive(circuit, name)
    if as_json:
        print_json(records.derive_record(derived))
    elif form != "text":
        ours = desk.our_desk()
        rows = drawn_problem.Pictures(ours).of_circuit(ours.circuit(circuit)).rows
        print_note(form, gather.derived_note(derived, rows))
    else:
        terminal.show_derived(terminal_lines.terminal(), derived)
