"""Problems, solutions and derivations set for a terminal: 80 columns, bold and dim alone, plain when piped."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from textwrap import wrap

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from tutor.across.family import AcrossFamily, ShownLine
from tutor.circuit.circuit import Circuit
from tutor.generate.family import Family
from tutor.generate.problem import Problem, Waypoint
from tutor.quantities.notation import plain, plain_equation, symbol_text
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.hints import Hints
from tutor.solution.solution import Check, Solution, WorkedStep
from tutor.views.plain import chain_lines, verdict

WIDTH = 80
_INDENT = 4
_GAP = 2  # columns between the columns of a table
_LEAST_WIDTH = 16  # prose is not set narrower than this, however narrow the window
_SHORT_VALUE = 24  # a value up to this long stands in a column of its own


def terminal() -> Console:
    """A console 80 columns wide at most, without colours of its own: they must suit dark and light alike."""
    console = Console(highlight=False, soft_wrap=False, file=sys.stdout)
    return Console(highlight=False, soft_wrap=False, file=sys.stdout, width=min(WIDTH, console.width))


def heading(console: Console, text: str, aside: str = "") -> None:
    """A title in bold, an aside dim at its right."""
    line = Text(text, style="bold")
    if aside:
        line.append(f"   {aside}", style="dim")
    console.print(line)


def paragraph(console: Console, text: str, indent: int = 0, style: str = "") -> None:
    """Prose, wrapped at ordinary spaces alone: a no-break space holds a symbol, its value and its unit together."""
    if text:
        for line in _wrapped(prose_text(text), console.width - indent):
            told = Text(" " * indent + line.replace("\u00a0", " "), style=style)
            console.print(told, no_wrap=True, overflow="ignore")


def rows(console: Console, entries: Sequence[tuple[str, ...]], indent: int = 2) -> None:
    """A table without rules: symbol, words and, where there is one, a value; a long value stands under its words."""
    symbols = max((len(entry[0]) + _GAP for entry in entries if entry[0]), default=0)
    short = [entry[2] for entry in entries if len(entry) > 2 and len(entry[2]) <= _SHORT_VALUE]
    values = max(map(len, short), default=0)
    room = console.width - indent - symbols
    words = min(max((len(entry[1]) for entry in entries), default=0), room - (values + _GAP if values else 0))
    for symbol, told, *rest in entries:
        value = rest[0] if rest else ""
        beside = len(value) <= _SHORT_VALUE
        head = f"{' ' * indent}{symbol:<{symbols}}"
        for place, line in enumerate(_wrapped(told, words if beside else room) or [""]):
            start = " " * len(head) if place else head
            end = f"{line:<{words}}{' ' * _GAP}{value}" if beside and not place else line
            _plain_line(console, f"{start}{end}")
        for line in [] if beside else _wrapped(value, room - _GAP):
            _plain_line(console, f"{' ' * (len(head) + _GAP)}{line}")


def columns(console: Console, lines: Sequence[Sequence[str]], indent: int = 2) -> None:
    """A table without rules of any number of columns, each as wide as its longest entry."""
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    for line in lines:
        cells = (f"{cell:<{width}}" for cell, width in zip(line, widths, strict=True))
        _plain_line(console, (" " * indent + (" " * _GAP).join(cells)).rstrip())


def _wrapped(text: str, width: int) -> list[str]:
    return wrap(text, max(width, _LEAST_WIDTH), break_long_words=False, break_on_hyphens=False)


def _plain_line(console: Console, line: str) -> None:
    console.print(Text(line.replace("\u00a0", " ").rstrip()), no_wrap=True, overflow="ignore", crop=False)


def show_problem(console: Console, problem: Problem, lines: Sequence[ShownLine] = (), caption: str = "") -> None:
    """The statement, its data, the lines it lays before the learner, what to find, the cautions."""
    heading(console, problem.title, f"{problem.name}, level {problem.level}")
    console.print()
    paragraph(console, problem.statement)
    console.print()
    rows(
        console,
        [
            (symbol_text(row.symbol) if row.symbol else "", prose_text(row.label), prose_text(row.value))
            for row in problem.table
        ],
    )
    if problem.table:
        console.print()
    if lines:
        _show_lines(console, lines, caption)
    paragraph(console, problem.ask)
    console.print()
    rows(console, [_asked(point) for point in problem.waypoints])
    console.print()
    for caution in problem.cautions:
        paragraph(console, f"Caution: {caution}", style="dim")


def _show_lines(console: Console, lines: Sequence[ShownLine], caption: str) -> None:
    """The lines a problem lays before the learner, each after its label."""
    paragraph(console, f"{caption}:" if caption else "")
    for line in lines:
        label = f"{line.label}  ".rjust(_INDENT + 2)
        texts = _wrapped(prose_text(line.words), console.width - len(label)) if line.words else []
        texts += chain_lines(line.chain, console.width - len(label)) if line.chain is not None else []
        for place, text in enumerate(texts):
            _plain_line(console, f"{' ' * len(label) if place else label}{text}")
    console.print()


def _asked(point: Waypoint) -> tuple[str, str]:
    """A row for what is asked: its key, and in words what it is with the options there are."""
    prompt = prose_text(point.prompt)
    if not point.options:
        return symbol_text(point.key), prompt
    options = "; ".join(prose_text(option) for option in point.options)
    places = f" ({', '.join(prose_text(place) for place in point.places)})" if point.places else ""
    return point.key, f"{prompt}{places}: {options}"


def show_hint(console: Console, hints: Hints, number: int) -> None:
    """One of three hints for what is asked."""
    heading(console, f"Hint {number} for {symbol_text(hints.key) if is_symbol(hints.key) else hints.key}")
    paragraph(console, hints.words[number - 1], 2)
    for line in hints.lines if number == len(hints.words) else ():
        for text in chain_lines(line, console.width - _INDENT):
            console.print(Padding(Text(text), (0, 0, 0, _INDENT), expand=False))


def show_solution(console: Console, solution: Solution) -> None:
    """The worked solution: steps, checks, bench."""
    heading(console, "Worked solution")
    show_steps(console, solution.steps)
    show_checks(console, solution.checks)
    if solution.bench:
        console.print()
        paragraph(console, f"On the bench: {solution.bench}")


def show_steps(console: Console, steps: Sequence[WorkedStep]) -> None:
    """Numbered steps: title, reason, lines, verdict, band."""
    for number, step in enumerate(steps, start=1):
        console.print()
        label = f"{number}.".ljust(_INDENT)
        for place, title in enumerate(_wrapped(prose_text(step.title), console.width - _INDENT)):
            line = Text(" " * _INDENT if place else label, style="dim")
            line.append(title.replace("\u00a0", " "), style="bold")
            console.print(line)
        paragraph(console, step.why, _INDENT)
        for chain in step.chains:
            for text in chain_lines(chain, console.width - _INDENT - 4):
                console.print(Padding(Text(text), (0, 0, 0, _INDENT + 2), expand=False))
        paragraph(console, step.text, _INDENT)
        if step.band:
            paragraph(console, f"{step.band_lead}: {step.band}", _INDENT, "dim")


def show_checks(console: Console, checks: Sequence[Check], title: str = "Checks") -> None:
    """Closing checks, each with its verdict in words and what is to spare or missing."""
    if not checks:
        return
    console.print()
    heading(console, title)
    for check in checks:
        paragraph(console, f"{check.text}: {verdict(check)}.", 2)


def show_answer(console: Console, answer: WorkedAnswer, title: str) -> None:
    """Somebody's own numbers, worked."""
    heading(console, title, answer.region)
    if answer.assumed:
        told = ", ".join(f"{name} = {value}" for name, value in answer.assumed.items())
        paragraph(console, f"Assumed: {told}.", style="dim")
    show_steps(console, answer.steps)
    show_checks(console, answer.checks)
    console.print()
    heading(console, "Answers")
    rows(console, [(symbol_text(name), "", answer.values[name].text) for name in answer.asked])
    for warning in answer.warnings:
        console.print()
        paragraph(console, f"Warning: {warning}", style="bold")


def show_derived(console: Console, derived: DerivedCircuit) -> None:
    """A circuit's laws, then each derivation."""
    heading(console, derived.title, derived.region)
    console.print()
    for law in derived.laws:
        paragraph(console, plain_equation(law.equation), 2)
        paragraph(console, law.title, 6, "dim")
    for derivation in derived.derivations:
        show_derivation(console, derivation)


def show_derivation(console: Console, derivation: Derivation) -> None:
    """A derivation: its steps, the closed form, what each given does to it."""
    console.print()
    given = ", ".join(symbol_text(name) for name in derivation.givens)
    heading(console, f"{symbol_text(derivation.quantity)} from the laws", f"given {given}" if given else "")
    show_steps(console, derivation.steps)
    console.print()
    paragraph(console, f"{symbol_text(derivation.quantity)} = {plain(derivation.closed_form)}", 2, "bold")
    for step in derivation.sensitivities:
        for chain in step.chains:
            for text in chain_lines(chain, console.width - 6):
                console.print(Padding(Text(text), (0, 0, 0, 4), expand=False))
        paragraph(console, step.text, 6, "dim")


def show_list(
    console: Console,
    circuits: Mapping[str, tuple[Circuit, ...]],
    families: Mapping[str, Family],
    across: Mapping[str, AcrossFamily],
) -> None:
    """Circuits, families and conventions, with what each is given, asks and covers."""
    heading(console, "Circuits")
    for name, forms in circuits.items():
        circuit = forms[0]
        console.print()
        heading(console, f"  {name}", f"stage {circuit.stage}")
        paragraph(console, circuit.purpose, 4)
        if circuit.form:
            paragraph(console, f"form, to be given: {', '.join(item.form for item in forms)}", 4, "dim")
        given = ", ".join(dict.fromkeys((*circuit.typical, *circuit.defaults)))
        paragraph(console, f"given, for example: {given}", 4, "dim")
        paragraph(console, f"asks: {', '.join(circuit.report)}", 4, "dim")
        for convention, values in circuit.convention_values().items():
            paragraph(console, f"convention {convention}: {', '.join(values)}", 4, "dim")
        for standing, value in circuit.defaults.items():
            paragraph(console, f"standing value {standing} = {write(value, symbol_for(standing).unit)}", 4, "dim")
    console.print()
    heading(console, "Families")
    for name, family in families.items():
        console.print()
        heading(console, f"  {name}", f"circuit {family.circuit}")
        paragraph(console, family.about, 4)
        for number, level in enumerate(family.levels, start=1):
            paragraph(console, f"level {number}: {level.about}", 4, "dim")
    console.print()
    heading(console, "Families across circuits")
    for name, item in across.items():
        console.print()
        heading(console, f"  {name}")
        paragraph(console, item.about, 4)
        for number, question in enumerate(item.levels, start=1):
            paragraph(console, f"level {number}: {question.about}", 4, "dim")
