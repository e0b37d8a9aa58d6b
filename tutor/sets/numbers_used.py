"""The file of numbers used: which problems each learner was given, so that a resit avoids every one of them.

JSON, a learner a line, in the order of the class:

    {"title": "Shunt week", "seed": 7, "learners": {
    "1": ["zener-resistor:2:482193@2", "own:2"],
    "2": ["zener-resistor:2:90155@2", "own:2"]
    }}

Place in the data flow: Papers -> numbers.json beside them -> `avoid` of a later set file.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from tutor.errors import BadValue
from tutor.generate.name import ProblemName, read_name
from tutor.sets.plain_file import text_of

MOST_BYTES = 256 * 1024 * 1024
OWN = "own:"  # a past question has no numbers to avoid


def avoidable(name: ProblemName) -> str:
    """What is avoided of a name: its family, level and number, whatever was assumed and whichever edition it was."""
    return f"{name.family}:{name.level}:{name.number}"


def numbers_lines(title: str, seed: int, given: Iterable[tuple[str, Sequence[str]]]) -> Iterator[str]:
    """The lines of a file of numbers, one learner (id, whole names of their problems) at a time."""
    yield f'{{"title": {json.dumps(title)}, "seed": {seed}, "learners": {{\n'
    before = ""
    for learner, names in given:
        yield f"{before}{json.dumps(learner)}: {json.dumps(list(names))}"
        before = ",\n"
    yield "\n}}\n"


def names_used(path: Path) -> frozenset[str]:
    """The problems that a file of numbers tells, each as `avoidable` writes it; SteadyrailError for another file."""
    text = text_of(path, MOST_BYTES, "numbers used", "name the numbers.json beside the papers of a set")
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise BadValue(f"{path.name} is no file of numbers used: {error}") from error
    learners = told.get("learners") if isinstance(told, dict) else None
    if not isinstance(learners, dict):
        raise BadValue(f"{path.name} is no file of numbers used: it has no table 'learners'")
    found: set[str] = set()
    for learner, names in learners.items():
        if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
            raise BadValue(f"{path.name}: the learner '{learner[:60]}' has no list of names of problems")
        for name in names:
            if not name.startswith(OWN):
                try:
                    found.add(avoidable(read_name(name)))
                except BadValue as error:
                    raise BadValue(f"{path.name}, learner '{learner[:60]}': {error.sentence}") from error
    return frozenset(found)
