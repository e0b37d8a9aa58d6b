"""Problems, worked answers and derivations -> notes: the same parts in the same order as in the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tutor.across.family import ShownLine
from tutor.generate.problem import Problem, Waypoint
from tutor.quantities.expression import Equation, Sym
from tutor.quantities.formula import formula_text
from tutor.quantities.symbols import is_symbol
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.solution import Chain, Check, Solution, WorkedStep
from tutor.views.described import PartRow
from tutor.views.notes.blocks import Block, Display, Heading, Listing, Note, Paragraph, Table
from tutor.views.plain import verdict


def problem_note(
    problem: Problem,
    solution: Solution | None,
    circuit: Sequence[PartRow],
    lines: Sequence[ShownLine] = (),
    caption: str = "",
) -> Note:
    """A problem with its data, its circuit in words, what is asked and its cautions; then its solution, if any."""
    blocks: list[Block] = [Paragraph(problem.statement)]
    if problem.table:
        rows = tuple((row.label, _letter(row.symbol), row.value) for row in problem.table)
        blocks.append(Table(("quantity", "symbol", "value"), rows, (0.4, 0.15, 0.35)))
    blocks += _circuit(circuit)
    if lines:
        blocks += [Heading(1, caption)] * bool(caption)
        for line in lines:
            blocks.append(Paragraph(line.words, line.label))
            blocks += [Display(line.chain)] if line.chain is not None else []
    blocks += [Heading(1, "To find"), Paragraph(problem.ask), Listing(tuple(map(_asked, problem.waypoints)))]
    blocks += [Paragraph(caution, "Caution") for caution in problem.cautions]
    if solution is not None:
        blocks += [Heading(1, "Worked solution"), *_steps(solution.steps), *_checks(solution.checks)]
        blocks += [Heading(1, "On the bench"), Paragraph(solution.bench)] if solution.bench else []
    return Note(problem.title, f"{problem.name}, level {problem.level}", tuple(blocks))


def answer_note(answer: WorkedAnswer, title: str, circuit: Sequence[PartRow]) -> Note:
    """Somebody's own numbers, worked."""
    blocks: list[Block] = []
    if answer.assumed:
        told = ", ".join(f"{name} = {value}" for name, value in answer.assumed.items())
        blocks.append(Paragraph(f"{told}.", "Assumed"))
    blocks += [*_circuit(circuit), Heading(1, "Worked solution"), *_steps(answer.steps), *_checks(answer.checks)]
    rows = tuple((_letter(name), answer.values[name].text) for name in answer.asked)
    blocks += [Heading(1, "Answers"), Table(("symbol", "value"), rows, (0.3, 0.6))]
    blocks += [Paragraph(warning, "Warning") for warning in answer.warnings]
    return Note(title, answer.region, tuple(blocks))


def derived_note(derived: DerivedCircuit, circuit: Sequence[PartRow]) -> Note:
    """A circuit's laws, then each derivation with its closed form and what each given does to it."""
    laws = tuple((law.title, _relation(law.equation)) for law in derived.laws)
    blocks: list[Block] = [*_circuit(circuit), Heading(1, "Laws"), Table(("law", "relation"), laws, (0.5, 0.4))]
    for derivation in derived.derivations:
        blocks += _derivation(derivation)
    return Note(derived.title, derived.region, tuple(blocks))


def _derivation(derivation: Derivation) -> Iterator[Block]:
    given = ", ".join(map(_letter, derivation.givens))
    yield Heading(1, f"{_letter(derivation.quantity)} from the laws")
    if given:
        yield Paragraph(f"{given}.", "Given")
    yield from _steps(derivation.steps)
    yield Paragraph("", "Closed form")
    yield Display(Chain(Sym(derivation.quantity), (("=", derivation.closed_form),)))
    if derivation.sensitivities:
        yield Paragraph("", "What each given does to it")
    for step in derivation.sensitivities:
        yield from map(Display, step.chains)
        if step.text:
            yield Paragraph(step.text)


def _circuit(rows: Sequence[PartRow]) -> list[Block]:
    """The circuit in words: a row for each part."""
    if not rows:
        return []
    heads = ("part", "what it is", "value", "from", "to")
    told = tuple((row.part, row.words, row.value, row.start, row.end) for row in rows)
    return [Heading(1, "Circuit"), Table(heads, told, (0.11, 0.2, 0.15, 0.26, 0.18))]


def _steps(steps: Sequence[WorkedStep]) -> Iterator[Block]:
    for number, step in enumerate(steps, start=1):
        yield Heading(2, f"{number}. {step.title}")
        if step.why:
            yield Paragraph(step.why)
        yield from map(Display, step.chains)
        if step.text:
            yield Paragraph(step.text)
        if step.band:
            yield Paragraph(step.band, step.band_lead.capitalize())


def _checks(checks: Sequence[Check]) -> list[Block]:
    if not checks:
        return []
    return [Heading(1, "Checks"), Listing(tuple(f"{check.text}: {verdict(check)}." for check in checks))]


def _asked(point: Waypoint) -> str:
    """What is asked, as an item: its letter, what it is, and the options there are."""
    name = f"{_letter(point.key)}: " if is_symbol(point.key) else ""
    options = f": {'; '.join(point.options)}" if point.options else ""
    places = f" ({', '.join(point.places)})" if point.places else ""
    return f"{name}{point.prompt}{places}{options}"


def _letter(name: str) -> str:
    """A letter symbol as prose, nothing where there is none."""
    return f"${name}$" if name else ""


def _relation(equation: Equation) -> str:
    """A relation as prose: in the grammar that authors write formulas in."""
    sign = "~" if equation.relation == "≈" else equation.relation
    return f"${formula_text(equation.lhs)} {sign} {formula_text(equation.rhs)}$"
