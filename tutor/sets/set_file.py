"""The set file: what a lecturer asks of a class, in TOML.

    title = "Shunt regulators, first sheet"

    [[questions]]
    problem = "zener-resistor:2:17@2"   # a whole name; with its edition it always means the same numbers
    marks = 6                           # those of the problem's own mark scheme where this is left out

    [[questions]]
    family = "zener-state"              # numbers of its own for each learner; with `number = 3` the same for everyone
    level = 1

This is all that a set needs, and the first kind of question all that the lecturer's page of the site writes.
`problems/sets/shunt-week.toml` uses every key there is, with a comment on each. Files that a set names are looked for
beside it.
Place in the data flow: set file (+ class list, + numbers used before) -> ClassSet -> `drafts.py` draws for it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from tutor.errors import SteadyrailError
from tutor.sets.class_list import MOST_LEARNERS, read_class_list
from tutor.sets.numbers_used import names_used
from tutor.sets.paper import ClassSet, Learner, Look, Question, Rules
from tutor.sets.plain_file import text_of
from tutor.sets.set_fields import SetTable, shown
from tutor.sets.set_questions import question, question_fields, require_uses
from tutor.sets.toml_lines import toml_of
from tutor.solution.desk import Desk, our_desk

MOST_BYTES = 1024 * 1024
MOST_QUESTIONS = 100
MOST_SEED = 2**63 - 1
MOST_MINUTES = 24 * 60
LONGEST_TITLE = 200
_FIELDS = ("title", "seed", "minutes", "mains", "avoid", "learners", "print", "rules", "questions")
_LEARNERS = ("variants", "list")
_PRINT = ("paper", "large", "drawings", "decimal", "voltages", "gain", "formula_sheet")
_RULES = ("tolerance", "figures", "follow_through", "working_asked", "assume")
_PER_CENT = re.compile(r"([0-9]{1,3}(?:[.,][0-9]{1,6})?) ?%", re.ASCII)
_TOLERANCES = (1.0, 5.0)  # per cent: below, a rightly rounded answer fails; above, known slips pass as right
_MAINS = {"50 Hz": 50.0, "50Hz": 50.0, "60 Hz": 60.0, "60Hz": 60.0}


def set_fields() -> Mapping[str, tuple[str, ...]]:
    """The fields of a set file by the table they stand in, '' being the file's head; questions by their kind."""
    kinds = {f"questions, by {kind}": fields for kind, fields in question_fields().items()}
    return {"": _FIELDS, "learners": _LEARNERS, "print": _PRINT, "rules": _RULES, **kinds}


def read_set_file(path: Path, desk: Desk | None = None) -> ClassSet:
    """The set of a file; SteadyrailError names the file, the line and the field of a mistake."""
    return read_set(text_of(path, MOST_BYTES, "a set file", "name a TOML file in UTF-8"), path.name, path, desk)


def read_set(text: str, name: str, file: Path | None = None, desk: Desk | None = None) -> ClassSet:
    """The set that a text says; `name` is what a mistake is told to be in. Files it names are looked for beside `file`,
    or in the working folder. SteadyrailError names the line and the field of a mistake."""
    told, lines = toml_of(text, name)
    top = SetTable(told, name, lines=lines)
    top.only(_FIELDS)
    if not isinstance(told.get("title"), str) or not told["title"].strip():
        raise SteadyrailError(f'{name} needs a title: title = "..." before its first question')
    title = top.text("title", LONGEST_TITLE)
    look, rules = _look(top.table("print")), _rules(top.table("rules"))
    asked = _questions(top, desk or our_desk(), look, rules)
    beside = Path() if file is None else file.parent
    return ClassSet(
        title=title,
        seed=top.whole("seed", 0, MOST_SEED, 1),
        questions=asked,
        learners=_learners(top.table("learners"), beside),
        rules=rules,
        look=look,
        mains=top.one_of("mains", _MAINS, "50 Hz"),
        minutes=top.whole("minutes", 0, MOST_MINUTES, 0),
        avoid=_avoided(top, beside),
        file=file,
    )


def _questions(top: SetTable, desk: Desk, look: Look, rules: Rules) -> tuple[Question, ...]:
    rows = top.values.get("questions")
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise SteadyrailError(f"{top.file} asks nothing; each question begins with a line [[questions]]")
    if len(rows) > MOST_QUESTIONS:
        raise top.refusal(f"a set may ask up to {MOST_QUESTIONS} questions (got {len(rows)})", "questions")
    tables = [SetTable(row, top.file, ("questions", place), top.lines) for place, row in enumerate(rows)]
    found = tuple(question(table, desk, look, rules) for table in tables)
    # What is named in full assumes what its name says, and nothing else.
    ruled = [item for table, item in zip(tables, found, strict=True) if "problem" not in table.values]
    require_uses(desk, ruled, rules, top.table("rules").table("assume"))
    return found


def _learners(table: SetTable, beside: Path) -> tuple[Learner, ...]:
    """Those of the class list, or the variants 1, 2, ...; one where the file says neither."""
    table.only(_LEARNERS)
    if "list" not in table.values:
        return tuple(Learner(str(place)) for place in range(1, table.whole("variants", 1, MOST_LEARNERS, 1) + 1))
    if "variants" in table.values:
        raise table.refusal("a class list has a paper for each learner already; leave variants out", "variants")
    try:
        return read_class_list(beside / table.text("list", 1000))
    except SteadyrailError as error:
        raise table.refusal(error.sentence, "list") from error


def _look(table: SetTable) -> Look:
    table.only(_PRINT)
    return Look(
        paper=table.one_of("paper", _same("A4", "Letter"), "A4"),
        large=table.flag("large", False),
        drawings=table.one_of("drawings", _same("IEC", "IEEE"), "IEC"),
        decimal_comma=table.one_of("decimal", {"point": False, "comma": True}, "point"),
        voltages=table.one_of("voltages", _same("V_I", "V_in"), "V_I"),
        gain=table.one_of("gain", {**_same("h_FE", "beta"), "β": "beta"}, "h_FE"),
        formula_sheet=table.flag("formula_sheet", False),
    )


def _same(*words: str) -> Mapping[str, str]:
    return {word: word for word in words}


def _rules(table: SetTable) -> Rules:
    table.only(_RULES)
    usual = Rules()
    return Rules(
        tolerance=_tolerance(table),
        figures=table.flag("figures", usual.figures),
        follow_through=table.flag("follow_through", usual.follow_through),
        working_asked=table.flag("working_asked", usual.working_asked),
        assume=table.table("assume").words(),
    )


def _tolerance(table: SetTable) -> float:
    """The share that a text such as "2 %" says."""
    value = table.values.get("tolerance", "1 %")
    read = _PER_CENT.fullmatch(value.strip()) if isinstance(value, str) else None
    least, most = _TOLERANCES
    per_cent = float(read.group(1).replace(",", ".")) if read else 0.0
    if not least <= per_cent <= most:
        wrong = f'{shown(value)} is no tolerance from {least:g} % to {most:g} %, such as "2 %"'
        raise table.refusal(wrong, "tolerance")
    return per_cent / 100


def _avoided(top: SetTable, beside: Path) -> frozenset[str]:
    """The names of problems in the files of numbers used before."""
    found: set[str] = set()
    for place, name in enumerate(top.texts("avoid", 100)):
        try:
            found |= names_used(beside / name)
        except SteadyrailError as error:
            raise top.refusal(error.sentence, "avoid", place) from error
    return frozenset(found)
