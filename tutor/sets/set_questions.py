"""The questions of a set file: a problem by name, one of a family and level, or the lecturer's own past question.

Place in the data flow: a table [[questions]] -> Question. What is named is looked up now, so that a mistake is told
with its line; nothing is drawn or solved yet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from tutor.across.named import across_family, across_ids
from tutor.errors import BadFormula, BadValue, SteadyrailError, nearest, unknown
from tutor.generate.name import GREATEST_NUMBER, read_name
from tutor.quantities.prose import prose_text
from tutor.sets.offered import assumed_of_level, circuit_of_level, offered
from tutor.sets.paper import DrawnQuestion, Look, PastQuestion, Question, Rules
from tutor.sets.set_fields import SetTable, shown
from tutor.solution.declared_types import MOST_BRACKETS, deepest_bracket
from tutor.solution.desk import Desk
from tutor.solution.own_values import read_own, symbol_meant

MOST_MARKS = 999
MOST_ASKED = 12
LONGEST_TEXT = 4000
LONGEST_FORMULA = 200
_KINDS = {
    "problem": ("problem", "marks"),
    "family": ("family", "level", "number", "marks"),
    "circuit": ("circuit", "given", "ask", "text", "marks"),
}
_ALL = tuple(dict.fromkeys(name for fields in _KINDS.values() for name in fields))


def question_fields() -> Mapping[str, tuple[str, ...]]:
    """The fields that a question may have, by the field that tells which kind of question it is."""
    return _KINDS


def question(table: SetTable, desk: Desk, look: Look, rules: Rules) -> Question:
    """The question of one table; SteadyrailError names file, line and field of a mistake."""
    kinds = [kind for kind in _KINDS if kind in table.values]
    if not kinds:
        table.only(_ALL)
        raise table.refusal(
            'a question needs its problem, such as problem = "zener-resistor:2:17", or a family and level, or a '
            "circuit of your own"
        )
    if len(kinds) > 1:
        raise table.refusal(f"a question is told by {kinds[0]} or by {kinds[1]}; leave one out", kinds[1])
    table.only(_KINDS[kinds[0]])
    marks = table.whole("marks", 1, MOST_MARKS, 1) if "marks" in table.values else None
    return Question(_READ[kinds[0]](table, desk, look, rules), marks, table.line)


def _named(table: SetTable, desk: Desk, look: Look, rules: Rules) -> DrawnQuestion:
    """A problem by its whole name; what it assumes stands in the name."""
    try:
        name = read_name(table.text("problem", 1000))
    except BadValue as error:
        raise table.refusal(error.sentence, "problem") from error
    found = DrawnQuestion(name.family, name.level, name.number, name.edition, name.assumed)
    edition = _edition(table, desk, name.family, "problem")
    _require_level(table, name.level, "problem")
    if name.edition not in (0, edition):
        raise table.refusal(
            f"'{name}' asks for edition {name.edition}; this version draws edition {edition}", "problem"
        )
    if name.assumed and name.family in across_ids(desk.folder):
        raise table.refusal(f"'{name}' assumes something, which a family across circuits does not take", "problem")
    if name.assumed:
        offer = offered(circuit_of_level(desk, name.family, name.level))
        for key, value in name.assumed.items():
            wrong = offer.refuses(key, value)
            if wrong:
                raise table.refusal(wrong, "problem")
    return found


def _of_family(table: SetTable, desk: Desk, look: Look, rules: Rules) -> DrawnQuestion:
    """A family and level; the rules' assumptions are taken where its circuit offers them."""
    family = table.text("family", 200)
    _edition(table, desk, family, "family")
    level = table.values.get("level")
    if level is None:
        raise table.refusal("the level is missing; level = 1, 2 or 3")
    _require_level(table, level, "level")
    assert isinstance(level, int)
    number = table.whole("number", 1, GREATEST_NUMBER, 1) if "number" in table.values else 0
    across = family in across_ids(desk.folder)
    return DrawnQuestion(
        family, level, number, 0, {} if across else assumed_of_level(desk, family, level, rules.assume)
    )


def _edition(table: SetTable, desk: Desk, family: str, key: str) -> int:
    """The edition of a family; refused where there is none of that name."""
    across = across_ids(desk.folder)
    known = (*desk.folder.family_ids(), *across)
    if family not in known:
        raise table.refusal(unknown("family", family, known).sentence, key)
    return (across_family(desk.folder, family) if family in across else desk.family(family)).edition


def _require_level(table: SetTable, level: object, key: str) -> None:
    if not isinstance(level, int) or isinstance(level, bool) or level not in (1, 2, 3):
        raise table.refusal(f"there are the levels 1, 2 and 3 (got {shown(level)})", key)


def _past(table: SetTable, desk: Desk, look: Look, rules: Rules) -> PastQuestion:
    """A lecturer's own question: its names and values are read now, and worked when the papers are made."""
    circuit, given = table.text("circuit", 200), table.table("given")
    if not given.values:
        raise table.refusal('a question of your own needs its values, as given = { V_I = "15 V", R = "220" }')
    values = given.words()
    try:
        found, told = desk.circuit_for(circuit, values)
    except SteadyrailError as error:
        raise table.refusal(error.sentence, "circuit") from error
    for name in told:
        try:
            read_own(found, {name: told[name]}, {}, decimal_comma=look.decimal_comma)
        except SteadyrailError as error:
            raise given.refusal(error.sentence, name) from error
    try:
        read_own(found, told, _assumed_of(found.id, desk, rules), decimal_comma=look.decimal_comma)
    except SteadyrailError as error:
        raise table.refusal(error.sentence, "given") from error
    ask = table.texts("ask", MOST_ASKED)
    if not ask:
        raise table.refusal('a question of your own asks for something, as ask = ["I_Z", "P_Z"]')
    symbols = []
    for place, name in enumerate(ask):
        try:
            symbols.append(symbol_meant(found, name))
        except SteadyrailError as error:
            raise table.refusal(error.sentence, "ask", place) from error
    if len(set(symbols)) < len(symbols):
        raise table.refusal("something is asked for twice; leave one out", "ask")
    text = table.text("text", LONGEST_TEXT)
    try:
        _refuse_formulas(text)
        prose_text(text)
    except SteadyrailError as error:
        raise table.refusal(error.sentence, "text") from error
    return PastQuestion(circuit, {name: str(value) for name, value in values.items()}, tuple(symbols), text)


def _refuse_formulas(text: str) -> None:
    """BadFormula for a formula without end, or too large to be walked: the reader of authors' formulas has no caps."""
    if text.count("$") % 2:
        raise BadFormula("a formula that begins with $ ends with $ too")
    for formula in text.split("$")[1::2]:
        if len(formula) > LONGEST_FORMULA:
            raise BadFormula(f"a formula may have up to {LONGEST_FORMULA} characters (got {len(formula)})")
        if deepest_bracket(formula) > MOST_BRACKETS:
            raise BadFormula(f"brackets in a formula may nest up to {MOST_BRACKETS} deep")


_READ: Mapping[str, Callable[[SetTable, Desk, Look, Rules], DrawnQuestion | PastQuestion]] = {
    "problem": _named,
    "family": _of_family,
    "circuit": _past,
}


def _assumed_of(circuit_id: str, desk: Desk, rules: Rules) -> Mapping[str, str]:
    offer = offered(desk.circuit(circuit_id))
    return {name: value for name, value in rules.assume.items() if name in offer.names}


def require_uses(desk: Desk, questions: Sequence[Question], rules: Rules, table: SetTable) -> None:
    """SteadyrailError for an assumption that no circuit of the set offers, or a value that one of them refuses."""
    ids = dict.fromkeys(
        circuit
        for question in questions
        if (circuit := _circuit_asked(desk, question)) is not None
    )  # fmt: skip
    offers = [offered(desk.circuit(circuit)) for circuit in ids]
    known = sorted({name for offer in offers for name in offer.names})
    for name, value in rules.assume.items():
        taking = [offer for offer in offers if name in offer.names]
        if not taking:
            close = nearest(name, known)
            there = f"they offer {', '.join(known)}" if known else "none of them takes any"
            hint = f"did you mean '{close}'?" if close else there
            raise table.refusal(f"no question of this set can assume '{name}'; {hint}", name)
        for offer in taking:
            wrong = offer.refuses(name, value)
            if wrong:
                raise table.refusal(wrong, name)


def _circuit_asked(desk: Desk, question: Question) -> str | None:
    """The id of the circuit that the rules' assumptions may go into; None of a problem by name or across circuits."""
    asks = question.asks
    if isinstance(asks, PastQuestion):
        return desk.circuit_for(asks.circuit, dict(asks.given))[0].id
    if asks.family in across_ids(desk.folder):
        return None
    return circuit_of_level(desk, asks.family, asks.level).id
