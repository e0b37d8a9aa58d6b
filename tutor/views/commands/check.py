"""`steadyrail check FILE`: a finding for each line of a working."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tutor.errors import BadValue, OutOfRange, nearest
from tutor.later import later
from tutor.views.commands.speech import json_option, print_json
from tutor.views.pairs import read_pairs

if TYPE_CHECKING:
    from tutor.views import checked_shown, checking, terminal_lines
    from tutor.working import problem_checked
else:
    checked_shown = later("tutor.views.checked_shown")
    checking = later("tutor.views.checking")
    terminal_lines = later("tutor.views.terminal_lines")
    problem_checked = later("tutor.working.problem_checked")


@click.command("check")
@click.argument("file")
@click.argument("values", nargs=-1, metavar="[NAME=VALUE...]")
@click.option("--problem", default="", metavar="NAME", help="The problem worked: zener-resistor:2:17.")
@click.option("--circuit", default="", metavar="CIRCUIT", help="The circuit worked, with your own values after it.")
@click.option("--assume", "assume", multiple=True, metavar="NAME=VALUE", help="A convention or a standing value.")
@click.option("--decimal-comma", is_flag=True, help="Read 5,1 as a number.")
@json_option
def command(
    file: str,
    values: tuple[str, ...],
    problem: str,
    circuit: str,
    assume: tuple[str, ...],
    decimal_comma: bool,
    as_json: bool,
) -> None:
    """A finding for each line of the working in FILE, or on standard input where FILE is -.

    It is held against a generated problem, or against a circuit with your own numbers:
    `steadyrail check mine.txt --circuit zener-shunt V_I=15V R=220 V_Z=9.1V R_L=1k`.
    Exit status 1 says that some line is counted wrong.
    """
    if bool(problem) == bool(circuit):
        told = "give one of them, not both" if problem else "give one of them"
        raise BadValue(f"a working is held against --problem NAME or against --circuit CIRCUIT NAME=VALUE ...; {told}")
    if problem and values:
        raise BadValue(f"'{problem}' has its own values; leave {' '.join(values)} out, or use --circuit instead")
    text = _text_of(file)
    given, assumed = read_pairs(values, "V_I=15V"), read_pairs(assume, "base-current=neglected")
    working = checking.check(
        text, problem=problem, circuit=circuit, values=given, assume=assumed, decimal_comma=decimal_comma
    )
    if as_json:
        print_json(checking.working_record(working))
    else:
        checked_shown.show_checked(terminal_lines.terminal(), working)
    if working.first_wrong is not None:
        sys.exit(1)


def _text_of(file: str) -> str:
    """The text of a file or of standard input; what is no file, no text or too large is refused in one sentence."""
    where = "standard input" if file == "-" else f"'{file}'"
    most = problem_checked.MOST_BYTES
    try:
        content = _first_bytes(file, most + 1)
    except FileNotFoundError:
        raise BadValue(f"there is no file {where}; {_instead(file)}") from None
    except IsADirectoryError:
        raise BadValue(f"{where} is a folder; name a text file in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "its name cannot be used"
        raise BadValue(f"{where} cannot be read: {reason}") from None
    if len(content) > most:
        raise OutOfRange(f"{where} is too large: a working may hold up to {most // 1024} kB of text")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadValue(f"{where} is no UTF-8 text (byte {error.start + 1}); save it as plain text in UTF-8") from None
    if "\0" in text:
        raise BadValue(f"{where} is no text; save the working as plain text, one line a step")
    return text


def _first_bytes(file: str, count: int) -> bytes:
    """No more than is needed to see that a file is too large."""
    if file == "-":
        return sys.stdin.buffer.read(count)
    with Path(file).open("rb") as stream:
        return stream.read(count)


def _instead(file: str) -> str:
    """What was probably meant by a file that is not there."""
    if "=" in file:
        return "the file comes first, then NAME=VALUE"
    folder = Path(file).parent
    beside = [item.name for item in folder.iterdir() if item.is_file()] if folder.is_dir() else []
    close = nearest(Path(file).name, beside)
    return f"did you mean '{folder / close}'?" if close else "name a text file, or - for standard input"
