"""`steadyrail derive CIRCUIT`: the laws, the derivation, the closed form, the sensitivities."""

from __future__ import annotations

import click

from tutor.errors import unknown
from tutor.quantities.symbols import resolve_alias
from tutor.solution.derivation import derive
from tutor.solution.desk import our_desk
from tutor.views.commands.speech import format_option, json_option, one_form, print_json, print_note
from tutor.views.drawn_problem import Pictures
from tutor.views.notes.gather import derived_note
from tutor.views.records import derive_record
from tutor.views.terminal import show_derived, terminal


@click.command("derive")
@click.argument("circuit")
@click.option("--for", "quantity", default="", metavar="QUANTITY", help="Derive this quantity alone.")
@format_option
@json_option
def command(circuit: str, quantity: str, form: str, as_json: bool) -> None:
    """The laws of CIRCUIT, each derivation with its closed form, and what each given does to it."""
    name = resolve_alias(quantity) if quantity else ""
    if name is None:
        raise unknown("quantity", quantity, our_desk().circuit(circuit).report)
    one_form(form, as_json)
    derived = derive(circuit, name)
    if as_json:
        print_json(derive_record(derived))
    elif form != "text":
        rows = Pictures(our_desk()).of_circuit(our_desk().circuit(circuit)).rows
        print_note(form, derived_note(derived, rows))
    else:
        show_derived(terminal(), derived)
