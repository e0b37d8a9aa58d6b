"""Problems, solutions and derivations set for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from tutor.across.family import ShownLine
from tutor.generate.problem import Problem, Waypoint
from tutor.quantities.notation import plain, plain_equation, symbol_text
from tutor.quantities.prose import prose_text
from tutor.quantities.symbols import is_symbol
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.hints import Hints
from tutor.solution.solution import Check, Solution, WorkedStep
from tutor.views.plain import chain_lines, verdict
from tutor.views.terminal_lines import heading, paragraph, plain_line, rows, wrapped

_INDENT = 4


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
        texts = wrapped(prose_text(line.words), console.width - len(label)) if line.words else []
        texts += chain_lines(line.chain, console.width - len(label)) if line.chain is not None else []
        for place, text in enumerate(texts):
            plain_line(console, f"{' ' * len(label) if place else label}{text}")
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
        for place, title in enumerate(wrapped(prose_text(step.title), console.width - _INDENT)):
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
