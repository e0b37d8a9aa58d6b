"""A learner's paper as PDF: questions with circuits, room for working, marks, cautions; and nothing of the answers.

Place in the data flow: Paper -> `paper_pdf` -> bytes. Only what a question lays before its learner is read here: of a
waypoint its prompt, its options and its places; never its answer, its state, or the worked solution's lines (their
number alone, for the room that a part gets).
"""

from __future__ import annotations

import io
from collections.abc import Mapping

import segno

from tutor.generate.cautions import STANDING
from tutor.generate.problem import WaypointKind
from tutor.quantities.prose import listed
from tutor.quantities.quantity import given
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.sets.paper import Asked, ClassSet, Paper
from tutor.solution.desk import Desk, our_desk
from tutor.views.drawn_values import circuit_id
from tutor.views.print.circuits import drawing_of
from tutor.views.print.compiler import compile_pdf
from tutor.views.print.document import document_code, learner_code, learner_told, title_code
from tutor.views.print.formulas import formula_sheets_code
from tutor.views.print.parts import QuestionPart, parts_of
from tutor.views.print.typst_maths import Pen
from tutor.views.print.typst_text import array, call, flag, joined, literal
from tutor.views.print.worked import counted

CODE_BORDER = 4  # modules of a code's quiet zone (ISO/IEC 18004)
LEAST_CODE, LEAST_MODULE = 20.0, 0.42  # mm: a code with its quiet zone, and a module of it, for a phone at arm's length
_UNBROKEN = 5  # ruled lines up to here stay on one page
NO_ADDRESSES: Mapping[str, str] = {}


def paper_pdf(paper: Paper, addresses: Mapping[str, str] = NO_ADDRESSES, desk: Desk | None = None) -> bytes:
    """The paper of one learner. `addresses` leads from names of problems to their study pages, each then printed with
    a code; questions whose name is not there get none. `desk` has the circuits, ours unless told."""
    whole, look = paper.set, paper.set.look
    pen, desk = Pen(look), desk or our_desk()
    pieces = [_front(paper, pen)]
    pieces += [question_code(item, pen, desk, addresses.get(item.name, "")) for item in paper.asked]
    pieces.append(call("closing", literal("End of the questions")))
    if look.formula_sheet:
        circuits = tuple(dict.fromkeys(circuit_id(item.problem) for item in paper.asked))
        pieces.append(formula_sheets_code(circuits, pen, desk))
    return compile_pdf(
        document_code(
            joined(pieces), look, title=whole.title, running=learner_told(paper.learner.id, paper.learner.name),
            foot=f"seed {whole.seed}",
        )
    )  # fmt: skip


def _front(paper: Paper, pen: Pen) -> str:
    """Title, whose paper it is, how much it counts, and by which rules it is answered."""
    whole = paper.set
    left = learner_code(paper.learner.id, paper.learner.name, blank=True)
    counts = [counted(paper.marks, "mark"), *([counted(whole.minutes, "minute")] if whole.minutes else [])]
    right = joined([literal(counts[0]), *(piece for told in counts[1:] for piece in ("linebreak()", literal(told)))])
    return joined(
        [
            title_code(whole.title, "", left, right),
            call("rubric", array(map(pen.prose, rubric(whole, len(paper.asked))))),
            call("cautions", array(pen.prose(text) for text in _cautions(paper))),
        ]
    )


def rubric(whole: ClassSet, questions: int) -> list[str]:
    """How the paper is to be answered, in sentences of prose."""
    rules, look = whole.rules, whole.look
    asked = "the question" if questions == 1 else f"all {questions} questions"
    method = (
        "a bare answer earns nothing for its method."
        if rules.working_asked
        else "an answer that is wrong can still earn most of its marks."
    )
    told = [
        f"Answer {asked}. Show your working: {method}",
        "Write each value with its unit, to 3 significant figures"
        + (
            "; 2 to 4 are accepted, and there is a mark for it."
            if rules.figures
            else "; a value counts as right within "
            f"{rules.tolerance * 100:.3g} %."
        ),
    ]
    if rules.follow_through:
        told.append("A slip costs its own mark alone: what follows from it is marked on what you have.")
    sign = "comma, as in 4,7 kΩ" if look.decimal_comma else "point, as in 4.7 kΩ"
    letters = "A suffix (min) or (max) means the least or the greatest value that a quantity takes"
    told.append(f"The decimal sign is a {sign}. {letters}.")
    told += [f"Convention: {_assumed(name, value)}." for name, value in sorted(rules.assume.items())]
    return told


def _assumed(name: str, value: str) -> str:
    """A convention or a standing value in words; the data of each question say what it means there."""
    if is_symbol(name):
        unit = symbol_for(name).unit
        reading = read_quantity(value, unit)
        return f"${name}$ = {value if reading.value is None else given(reading.value, unit).text}"
    return f"{name.replace('-', ' ')}: {value.replace('-', ' ')}"


def _cautions(paper: Paper) -> list[str]:
    """What stands before everything that could be built: the general caution, then each other with its questions."""
    found: dict[str, list[int]] = {}
    for item in paper.asked:
        for caution in item.problem.cautions:
            found.setdefault(caution, []).append(item.number)
    told = [STANDING]
    for caution, numbers in found.items():
        every = len(numbers) == len(paper.asked) and len(numbers) > 1
        listed = "all questions" if every else _questions_told(numbers)
        told.append(f"{caution.rstrip('.')} ({listed}).")
    return told


def _questions_told(numbers: list[int]) -> str:
    return f"{'question' if len(numbers) == 1 else 'questions'} {listed([str(number) for number in numbers])}"


def question_code(asked: Asked, pen: Pen, desk: Desk, address: str = "") -> str:
    """A question as it stands on a paper."""
    problem = asked.problem
    body = [call("telling", statement_code(asked, pen), keep=flag(asked.number > 1)), circuit_code(asked, pen, desk)]
    body.append(lines_code(asked, pen))
    body.append(call("asking", pen.told(problem.ask)))
    labels = tuple(line.label for line in asked.lines)
    body += [part_code(part, pen, part.point.options == labels) for part in parts_of(asked)]
    if address:
        svg, width = code_svg(address)
        body.append(call("page-code", literal(svg), f"{width:.2f}mm", literal(address)))
    total = counted(asked.marks, "mark")
    return call(
        "question", literal(str(asked.number)), pen.told(problem.title), literal(total), literal(asked.name),
        joined(body),
    )  # fmt: skip


def lines_code(asked: Asked, pen: Pen) -> str:
    """The lines that a question lays before its learner, if any: a working, statements."""
    if not asked.lines:
        return '""'
    rows = []
    for line in asked.lines:
        said = [pen.prose(line.words)] if line.words else []
        said += [pen.chain(line.chain)] if line.chain else []
        rows.append(array((literal(line.label), joined(said))))
    return call("shown-lines", pen.prose(asked.caption), array(rows))


def statement_code(asked: Asked, pen: Pen) -> str:
    """What a question tells; a lecturer's own words letter for letter where they are no prose of ours."""
    return pen.prose(asked.problem.statement) if asked.named else pen.told(asked.problem.statement)


def circuit_code(asked: Asked, pen: Pen, desk: Desk) -> str:
    """The circuit of a question with its data beside or below it."""
    drawing = drawing_of(asked, pen.look, desk)
    caption = "The circuit, with the values of this problem." if asked.problem.given else "The circuit."
    return call(
        "circuit", literal(drawing.svg), str(drawing.width), str(drawing.height), literal(drawing.description),
        literal(caption), data_code(asked, pen),
    )  # fmt: skip


def data_code(asked: Asked, pen: Pen) -> str:
    """The table of standing data; `none` where there is none."""
    rows = asked.problem.table
    if not rows:
        return "none"
    if all(row.symbol == "" or len(row.value) <= 12 for row in rows) and any(row.symbol for row in rows):
        cells = []
        for row in rows:
            value = pen.prose(row.value)
            if row.symbol:
                cells.append(array((f"[#{pen.prose(row.label)}]", f"[#{pen.symbol(row.symbol)}]", f"[#{value}]")))
            else:
                cells.append(array((f"table.cell(colspan: 3)[#{pen.prose(row.label)}: #{value}]",)))
        return call("data-table", array(cells))
    told = []
    for row in rows:
        label = joined([pen.prose(row.label), *([literal(" "), pen.symbol(row.symbol)] if row.symbol else [])])
        told.append(f"[#{joined([label, literal(': '), pen.prose(row.value)])}]")
    return call("told-table", array(told))


def part_code(part: QuestionPart, pen: Pen, laid_out: bool = False) -> str:
    """A part of a question: what is asked, its marks, what may be ticked, ruled lines, a place for the answer.

    `laid_out`: its options are the lines that the question lays before the learner, and need no list again."""
    point = part.point
    named = point.answer is not None and is_symbol(point.key) and f"${point.key}$" not in point.prompt
    prompt = joined([pen.told(point.prompt), *([literal(", "), pen.letter(point.key)] if named else [])])
    choices = array(
        array((literal(letter), pen.told(option)))
        for letter, option in zip(part.option_letters, point.options, strict=True)
    )
    in_row = flag(not any(part.option_letters))
    if point.kind is WaypointKind.ARRANGEMENT:
        listed = choices if any(part.option_letters) else "()"
        among = '""' if any(part.option_letters) or laid_out else call("among", array(map(pen.told, point.options)))
        first = joined([among, call("places", array(map(pen.told, point.places)), listed)])
        rest = '""'
    elif point.kind is WaypointKind.STATE:
        beside = part.lines if part.lines <= _UNBROKEN else 2
        first = joined([call("options", choices, in_row), call("ruled", str(beside))])
        rest = call("ruled", str(part.lines - beside))
    else:
        label = pen.letter(point.key) if is_symbol(point.key) else literal("answer")
        answer = call("answer-line", joined([label, literal(" =")]) if is_symbol(point.key) else label)
        # The prompt keeps its first lines beside it and the answer its last; between them a page may end.
        ends = 2 if part.lines > _UNBROKEN else 0
        first = call("ruled", str(ends)) if ends else call("ruled-end", str(part.lines), answer)
        between = call("ruled", str(part.lines - 2 * ends))
        rest = joined([between, call("ruled-end", str(ends), answer)]) if ends else '""'
    worth = literal(str(part.marks) if part.marks and part.letter else "")
    return call("part", literal(part.letter), prompt, worth, first, rest)


def code_svg(address: str) -> tuple[str, float]:
    """The address as a code of level M or better, as SVG in black with its quiet zone; its width in print, in mm."""
    code = segno.make(address, error="m", micro=False)
    stream = io.BytesIO()
    code.save(stream, kind="svg", border=CODE_BORDER, xmldecl=False, svgns=True, nl=False)
    modules, _ = code.symbol_size(border=CODE_BORDER)
    return stream.getvalue().decode(), max(LEAST_CODE, LEAST_MODULE * modules)
