"""The terminal's door: `steadyrail COMMAND ...`, each command loaded when it is called for.

Exit status 0: done; 1: done, but something was found wrong; 2: the input cannot be used, said in one sentence on
standard error.
"""

from __future__ import annotations

import sys
from importlib import import_module

import click

from tutor.errors import SteadyrailError, nearest

_LONGEST = 2000  # characters of a refusal, which may quote what was typed

# Where each command is, and what it does as the list of commands tells it: the list loads none of them.
COMMANDS = {
    "site": ("tutor.views.commands.site", "Build the study site, or one topic as one page."),
    "list": ("tutor.views.commands.listing", "Circuits, families and conventions."),
    "derive": ("tutor.views.commands.derive", "The laws of a circuit, each derivation, what each given does."),
    "solve": ("tutor.views.commands.solve", "Work your own numbers of a circuit."),
    "problem": ("tutor.views.commands.problem", "One problem, with its worked solution if asked for."),
    "check": ("tutor.views.commands.check", "A finding for each line of a working."),
    "bench": ("tutor.views.commands.bench", "A circuit with parts as they are, beside the hand answer."),
    "paper": ("tutor.views.commands.paper", "Papers, keys, tables and a package for a class."),
    "mark": ("tutor.views.commands.mark", "Mark the workings of a class."),
}


class LazyGroup(click.Group):
    """A group whose commands are imported one by one, so that starting costs only what is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names of the commands, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now; None when there is none."""
        if cmd_name not in COMMANDS:
            return None
        found: click.Command = import_module(COMMANDS[cmd_name][0]).command
        return found

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, in the words of the table."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, says) for name, (_, says) in COMMANDS.items()])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does; UsageError has the nearest name in it."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            close = nearest(args[0], COMMANDS)
            hint = f"did you mean '{close}'?" if close else "commands: " + ", ".join(COMMANDS)
            raise click.UsageError(f"there is no command '{args[0]}'; {hint}")
        return super().resolve_command(ctx, args)


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(package_name="steadyrail", message="%(prog)s %(version)s")
def steadyrail() -> None:
    """Regulator exercises derived from the circuit, and worked as on paper."""


def main(arguments: list[str] | None = None) -> None:
    """Run the terminal; never returns."""
    try:
        steadyrail.main(args=arguments, prog_name="steadyrail", standalone_mode=False)
    except SteadyrailError as error:
        _refuse(error.sentence)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message())
    except click.Abort:
        _refuse("stopped before it was done; nothing was changed")
    except click.MissingParameter as error:
        _refuse(_missing(error))
    except click.ClickException as error:
        _refuse(error.format_message())
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    sys.exit(0)


def _missing(error: click.MissingParameter) -> str:
    """What a command line lacks, and how the command reads whole."""
    if error.ctx is None or error.param is None:
        return error.format_message()
    command = error.ctx.command
    option = error.param.opts[0] if isinstance(error.param, click.Option) else ""
    name = " ".join(item for item in (option, error.param.make_metavar(error.ctx)) if item)
    usage = " ".join((error.ctx.command_path, *command.collect_usage_pieces(error.ctx)))
    return f"{name} is missing; the command reads `{usage}` (--help tells more)"


def _refuse(sentence: str) -> None:
    """One sentence to standard error, exit status 2; what a terminal would act on is made visible."""
    told = "".join(char if char.isprintable() else "\ufffd" for char in " ".join(sentence.split()))
    if len(told) > _LONGEST:
        told = f"{told[: _LONGEST // 2]} … {told[-_LONGEST // 2 :]}"
    click.echo(f"steadyrail: {told}", err=True)
    sys.exit(2)


if __name__ == "__main__":
    main()
