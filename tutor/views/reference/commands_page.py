"""The page on the terminal: each command with its arguments and options, as click knows them.

Place in the data flow: the commands themselves -> Markdown.
"""

from __future__ import annotations

from collections.abc import Mapping

import click

from tutor.views.reference.markdown import code, docstring, page, plain, table


def commands_page(commands: Mapping[str, click.Command]) -> str:
    """The page: each command's usage line, what it does, and a row for each option."""
    about = (
        "Exit status 0: done; 1: done, but something was found wrong; 2: the input cannot be used, said in one "
        "sentence on standard error."
    )
    return page("Commands", about, [part for name, item in commands.items() for part in _command(name, item)])


def _command(name: str, command: click.Command) -> list[str]:
    arguments = [item for item in command.params if isinstance(item, click.Argument)]
    options = [item for item in command.params if isinstance(item, click.Option)]
    usage = " ".join(["steadyrail", name, *(_metavar(item) for item in arguments), *(["[OPTIONS]"] if options else [])])
    rows = [(code(_spelt(item)), plain(item.help or "")) for item in options]
    return [f"## `{usage}`", docstring(command.callback), table(("option", "what it does"), rows)]


def _metavar(argument: click.Argument) -> str:
    word = argument.metavar or str(argument.name).upper()
    return word if argument.required or word.startswith("[") else f"[{word}]"


def _spelt(option: click.Option) -> str:
    """An option as it is typed, with the word for what follows it."""
    names = ", ".join(option.opts)
    if option.is_flag:
        return names
    choices = "|".join(map(str, option.type.choices)) if isinstance(option.type, click.Choice) else ""
    return f"{names} {option.metavar or choices or option.type.name.upper()}"
