"""A lecturer's own past question, made ready to be asked: solved from its circuit, with a mark scheme and a sheet.

Its statement is the lecturer's words, its table the values that they give, what it assumes included; a waypoint is what
they ask for, right within `TOLERANCE` of the value derived. Place in the data flow: PastQuestion -> Asked, like ours.
The algebra is loaded only when there is such a question to solve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import tutor
from tutor.circuit.circuit import Circuit
from tutor.errors import SteadyrailError
from tutor.generate.cautions import caution_text
from tutor.generate.level_run import TOLERANCE
from tutor.generate.problem import Problem, TableRow, Waypoint, WaypointKind
from tutor.plan.rule import Rule
from tutor.quantities.expression import Sym, symbols_of
from tutor.quantities.prose import listed
from tutor.quantities.quantity import Quantity, given
from tutor.quantities.symbols import symbol_for
from tutor.sets.numbers_used import OWN
from tutor.sets.offered import offered
from tutor.sets.paper import Asked, ClassSet, PastQuestion, Question
from tutor.solution.answer import WorkedAnswer
from tutor.solution.desk import Desk
from tutor.solution.own_sheet import own_sheet
from tutor.solution.own_values import OwnValues, read_own
from tutor.solution.scheme_of import scheme_of
from tutor.solution.sheet import AskRecipe, Sheet
from tutor.solution.solution import Solution

FAMILY = "own"
# What any circuit that somebody may build from a past question needs said; a raw supply hangs on the mains too.
_CAUTIONS = ("hot-parts", "output")
_OF_RAW_SUPPLIES = ("mains-fed", "transformer", "capacitors", "electrolytics")
RAW_SUPPLY_STAGE = 1


def past_asked(desk: Desk, number: int, question: Question, of: ClassSet) -> Asked:
    """The past question as question `number` of a paper; SteadyrailError names the set file's line where it cannot be
    solved: values that contradict each other, or from which what is asked does not follow."""
    asks = question.asks
    assert isinstance(asks, PastQuestion)
    try:
        return _asked(desk, number, asks, question.marks, of)
    except SteadyrailError as error:
        file = of.file.name if of.file else "the set"
        line = f", line {question.line}" if question.line else ""
        raise type(error)(f"{file}{line}, question {number}: {error.sentence}", **error.values) from error


def _asked(desk: Desk, number: int, asks: PastQuestion, marks: int | None, of: ClassSet) -> Asked:
    circuit, told = desk.circuit_for(asks.circuit, dict(asks.given))
    offer = offered(circuit)
    assume = {name: value for name, value in of.rules.assume.items() if name in offer.names}
    own = read_own(circuit, told, assume, decimal_comma=of.look.decimal_comma)
    # Standing values that the set assumes are among the numbers read; conventions go on as they are.
    conventions = {name: value for name, value in assume.items() if name in offer.conventions}
    answer = tutor.solve(circuit.id, own.numbers, asks.ask, conventions)
    name = f"{OWN}{number}"
    problem = _problem(circuit, asks, name, number, own, answer, set(told))
    solution = Solution(name, answer.steps, answer.checks, "", answer.warnings, problem.cautions)
    sheet = own_sheet(circuit.id, own.numbers, conventions, decimal_comma=of.look.decimal_comma)
    scheme = scheme_of(problem, solution)
    total = scheme.total if marks is None else marks
    return Asked(number, name, problem, solution, scheme, total, _asking(sheet, name, answer))


def _asking(sheet: Sheet, name: str, answer: WorkedAnswer) -> Sheet:
    """The sheet of own numbers with the question's name, and what it asks for: by that marks know an answer."""
    recipe = sheet.recipe
    inputs = tuple((known, Sym(known)) for known in dict.fromkeys((*recipe.known, *sheet.env)))
    rules = [*recipe.rules]
    told = {*(rule.target for rule in rules), *(known for known, _ in inputs)}
    # What holds between operating points (DV_O = S_V DV_I) is no rule of one of them; the solution has it.
    for step in answer.steps:
        chain = step.chains[0] if step.chains else None
        if chain is not None and isinstance(chain.first, Sym) and chain.first.name not in told:
            relation = chain.rest[0][1]
            if told.issuperset(symbols_of(relation)):
                rules.append(Rule(chain.first.name, relation))
                told.add(chain.first.name)
    asks = tuple(AskRecipe(key, key, inputs, (), None, (), tuple(rules)) for key in answer.asked if key in told)
    return replace(sheet, problem=name, asked=answer.asked, recipe=replace(recipe, asks=(*recipe.asks, *asks)))


def _problem(
    circuit: Circuit,
    asks: PastQuestion,
    name: str,
    number: int,
    own: OwnValues,
    answer: WorkedAnswer,
    told: set[str],
) -> Problem:
    quantities = {key: given(value, symbol_for(key).unit) for key, value in own.numbers.items()}
    cautions = (*(_OF_RAW_SUPPLIES if circuit.stage == RAW_SUPPLY_STAGE else ()), *_CAUTIONS)
    waypoints = tuple(_waypoint(key, answer.value(key)) for key in answer.asked)
    return Problem(
        name=name,
        family=FAMILY,
        level=0,
        number=number,
        edition=0,
        title=circuit.title,
        circuit=circuit.stem,
        form=circuit.form,
        statement=asks.text,
        ask=f"Find {listed([f'${point.key}$' for point in waypoints])}.",
        table=(*_rows(quantities), *_assumed_rows(circuit, own, answer)),
        given=quantities,
        wanted=answer.asked,
        waypoints=waypoints,
        cautions=tuple(caution_text(item) for item in cautions),
        assumed=dict(answer.assumed),
    )


def _rows(quantities: Mapping[str, Quantity]) -> list[TableRow]:
    return [TableRow(symbol_for(key).meaning, key, quantity.text) for key, quantity in quantities.items()]


def _assumed_rows(circuit: Circuit, own: OwnValues, answer: WorkedAnswer) -> list[TableRow]:
    """What the working rests on beside what is given: standing values, and conventions in words where they have any."""
    rows = [
        TableRow(f"{symbol_for(name).meaning} (assumed)", name, value)
        for name, value in answer.assumed.items()
        if name in circuit.defaults and name not in own.numbers
    ]
    for variant in circuit.variants:
        if variant.words and own.conventions.get(variant.convention) == variant.value:
            label = variant.convention.replace("-", " ").replace("_", " ")
            rows.append(TableRow(f"convention: {label}", "", variant.words))
    return rows


def _waypoint(key: str, answer: Quantity) -> Waypoint:
    reach = TOLERANCE * abs(answer.value)
    return Waypoint(
        key, WaypointKind.VALUE, f"{symbol_for(key).meaning}, ${key}$", answer, answer.value - reach,
        answer.value + reach, (), (), "", (),
    )  # fmt: skip
