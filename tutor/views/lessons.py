"""Reads the lessons of the study site and sets them as pages.

Vocabulary: a lesson file is Markdown under a *front matter* of TOML between two lines of `+++` (title, stage, order,
circuit, prediction, further questions by name, and what each of its families builds on); a *placeholder* stands on a
line of its own: `{{prediction}}` or, for a further question, `{{prediction:NAME}}`; `{{figure:circuit}}`,
`{{derivation:V_O}}`, and of another circuit `{{figure:boosted-shunt}}`, `{{derivation:V_O of boosted-shunt}}`;
`{{problems:FAMILY}}` for the problems of one section and `{{problems}}` for all of the lesson. A heading ends with
`{#FAMILY}` where a family's section begins.
Formulas stand between `$` signs, on a line of their own between `$$`; a quotation (`>`) is a note for the margin.
Place in the data flow: site/lessons/*.md -> Lesson -> `set_lesson` -> body of a page.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import markdown
from jinja2 import Environment
from markupsafe import Markup

from tutor.errors import SteadyrailError, nearest
from tutor.quantities.formula import read_equation
from tutor.views.content import CircuitContent
from tutor.views.press import prose, relation, typeset

_PLACEHOLDER = re.compile(r"\{\{(?P<word>[a-z]+)(?::(?P<name>[A-Za-z0-9_-]+)(?: of (?P<circuit>[a-z0-9-]+))?)?\}\}")
_FORMULA = re.compile(r"\$[^$\n]+\$")
_HEADING = re.compile(r"## (?P<title>.+?)(?: \{#(?P<id>[a-z0-9-]+)\})?")
_PLACES = ("derivation", "figure", "prediction", "problems")


@dataclass(frozen=True)
class Choice:
    """One answer to a prediction, and the reason it is or is not what happens; both prose."""

    text: str
    reason: str


@dataclass(frozen=True)
class Prediction:
    """A question to commit oneself on before reading; every choice has its reason."""

    question: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True)
class Section:
    """A section of a lesson: where on the page it begins ('' for what stands before the first), title, Markdown."""

    id: str
    title: str
    text: str


@dataclass(frozen=True)
class Lesson:
    """One lesson; `id` is its file's name."""

    id: str
    title: str
    stage: int
    order: int
    circuit: str
    prediction: Prediction
    text: str
    file: str
    questions: Mapping[str, Prediction] = field(default_factory=dict)  # further on in the text, by name
    builds_on: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # families by the family that needs them

    def section_of(self, family: str) -> str:
        """Where on the page a family's section begins ('#zener-state'); '' when it has none of its own."""
        return f"#{family}" if f"{{#{family}}}" in self.text else ""

    def place_of(self, family: str) -> int:
        """How far down the text a family's section begins; the end of the text when it has none of its own."""
        found = self.text.find(f"{{#{family}}}")
        return len(self.text) if found < 0 else found

    def section(self, family: str) -> Lesson:
        """The family's section alone, as a lesson of its own without its list of problems; empty where it has none."""
        text = ""
        for part in self.sections():
            if part.id == family:
                written = part.text.replace(f"{{{{problems:{family}}}}}", "").replace("{{problems}}", "")
                text = f"## {part.title} {{#{family}}}\n{written}"
        return replace(self, text=text)

    def sections(self) -> tuple[Section, ...]:
        """Its text section by section, what stands before the first heading under the lesson's own title."""
        found = [Section("", self.title, "")]
        for line in self.text.splitlines():
            heading = _HEADING.fullmatch(line)
            if heading is not None:
                found.append(Section(_section_id(heading), heading["title"], ""))
            else:
                found[-1] = replace(found[-1], text=f"{found[-1].text}{line}\n")
        return tuple(found)

    def circuits(self) -> tuple[str, ...]:
        """Ids of the circuits it shows, its own first."""
        shown = [self.circuit]
        for line in self.text.splitlines():
            found = _PLACEHOLDER.fullmatch(line.strip())
            if found and found["word"] in ("derivation", "figure"):
                named = found["circuit"] if found["word"] == "derivation" else found["name"]
                shown += [named] if named and named != "circuit" else []
        return tuple(dict.fromkeys(shown))


@dataclass(frozen=True)
class LevelLink:
    """A way to the problems of one level."""

    number: int
    href: str
    about: str


@dataclass(frozen=True)
class FamilyLinks:
    """A family as a lesson lists it."""

    id: str
    title: str
    about: str
    levels: tuple[LevelLink, ...]


def read_lessons(folder: Path) -> tuple[Lesson, ...]:
    """Every lesson of a folder in the order of the path; SteadyrailError names file and field of a mistake."""
    lessons = [read_lesson(path) for path in sorted(folder.glob("*.md"))]
    return tuple(sorted(lessons, key=lambda lesson: (lesson.stage, lesson.order, lesson.id)))


def read_lesson(path: Path) -> Lesson:
    """One lesson file; SteadyrailError names it and the field where its front matter is wrong."""
    parts = path.read_text(encoding="utf-8").split("+++\n", 2)
    if len(parts) != 3 or parts[0]:
        raise SteadyrailError(f"{path.name} must begin with its front matter between two lines of +++")
    try:
        matter = tomllib.loads(parts[1])
    except tomllib.TOMLDecodeError as error:
        raise SteadyrailError(f"the front matter of {path.name} is not TOML: {error}") from error
    try:
        prediction = _prediction(matter["prediction"])
        questions = {name: _prediction(asked) for name, asked in matter.get("questions", {}).items()}
        return Lesson(
            path.stem,
            matter["title"],
            matter["stage"],
            matter["order"],
            matter["circuit"],
            prediction,
            parts[2],
            path.name,
            questions,
            {family: tuple(needed) for family, needed in matter.get("builds_on", {}).items()},
        )
    except KeyError as error:
        raise SteadyrailError(
            f"the front matter of {path.name} lacks {error}; it needs title, stage, order, circuit and a prediction "
            "with question and choices, each choice with text and reason"
        ) from error


def _prediction(asked: dict[str, Any]) -> Prediction:
    return Prediction(asked["question"], tuple(Choice(item["text"], item["reason"]) for item in asked["choices"]))


def set_lesson(
    lesson: Lesson, circuits: Mapping[str, CircuitContent], families: tuple[FamilyLinks, ...], press: Environment
) -> Markup:
    """The body of a lesson's page, placeholders filled; `circuits` by id, `families` those of the lesson.

    SteadyrailError names the file, the placeholder and what there is. A family that is not among `families` has no
    problems to show, and its placeholder leaves nothing.
    """
    parts: Any = press.get_template("lesson_parts.html").module  # macros by name
    pieces: list[str] = []
    written: list[str] = []
    for line in lesson.text.splitlines():
        found = _PLACEHOLDER.fullmatch(line.strip())
        if found is None:
            written.append(_with_its_place(line))
            continue
        pieces.append(_set_markdown("\n".join(written)))
        written = []
        word, name = found["word"], found["name"] or ""
        if word == "prediction":
            pieces.append(parts.prediction(_question(lesson, name)))
        elif word == "problems" and name:
            pieces.extend(parts.practice(family) for family in families if family.id == name)
        elif word == "problems":
            pieces.append(parts.problems(families) if families else "")
        elif word == "figure":
            pieces.append(parts.figure(_circuit(lesson, circuits, "" if name == "circuit" else name)))
        elif word == "derivation":
            circuit = _circuit(lesson, circuits, found["circuit"])
            pieces.append(parts.derivation(name, _derivation(lesson, circuit, name)))
        else:
            close = nearest(word, _PLACES)
            hint = f"did you mean '{close}'?" if close else "there are " + ", ".join(_PLACES)
            raise SteadyrailError(f"{lesson.file} has no use for the placeholder '{line.strip()}'; {hint}")
    pieces.append(_set_markdown("\n".join(written)))
    return Markup("\n".join(pieces))


def _section_id(heading: re.Match[str]) -> str:
    """Where a section begins: the family it is about, or its title in small letters."""
    return heading["id"] or re.sub("[^a-z0-9]+", "-", heading["title"].lower()).strip("-")


def _with_its_place(line: str) -> str:
    """A heading with a place to lead to, also where its section is about no family; other lines as they are."""
    heading = _HEADING.fullmatch(line)
    return line if heading is None else f"## {heading['title']} {{#{_section_id(heading)}}}"


def _question(lesson: Lesson, name: str) -> Prediction:
    if not name:
        return lesson.prediction
    if name not in lesson.questions:
        known = ", ".join(lesson.questions) or "none"
        raise SteadyrailError(f"{lesson.file} asks for the question '{name}', but its front matter has: {known}")
    return lesson.questions[name]


def _circuit(lesson: Lesson, circuits: Mapping[str, CircuitContent], name: str | None) -> CircuitContent:
    wanted = name or lesson.circuit
    if wanted not in circuits:
        raise SteadyrailError(f"{lesson.file} speaks of the circuit '{wanted}', but there are: {', '.join(circuits)}")
    return circuits[wanted]


def _derivation(lesson: Lesson, circuit: CircuitContent, name: str) -> object:
    if name not in circuit.derivations:
        known = ", ".join(circuit.derivations) or "none"
        raise SteadyrailError(
            f"{lesson.file} asks for the derivation of {name}, but circuit '{circuit.id}' derives: {known}"
        )
    return circuit.derivations[name]


def _set_markdown(text: str) -> str:
    """Markdown with formulas; each formula is kept out of Markdown's way behind a character that no text holds."""
    formulas: list[str] = []

    def keep(markup: str) -> str:
        formulas.append(markup)
        return f"\ue000{len(formulas) - 1}\ue001"

    lines = []
    for line in text.splitlines():
        alone = line.strip()
        if alone.startswith("$$") and alone.endswith("$$") and len(alone) > 4:
            block = relation(read_equation(alone[2:-2]))
            lines.append(keep(f'<div class="display chain">{block}</div>'))
        else:
            lines.append(_FORMULA.sub(lambda found: keep(prose(found[0])), typeset(line)))
    markup = markdown.markdown("\n".join(lines), extensions=["tables", "attr_list"], output_format="xhtml")
    markup = markup.replace("<blockquote>", '<aside class="margin-note">').replace("</blockquote>", "</aside>")
    markup = re.sub(r"<p>\ue000([0-9]+)\ue001</p>", lambda found: _alone(formulas[int(found[1])]), markup)
    return re.sub(r"\ue000([0-9]+)\ue001([.,;:?!)]*)", lambda found: _inline(formulas[int(found[1])], found[2]), markup)


def _inline(formula: str, mark: str) -> str:
    """A formula in a line, a mark behind it kept on its line."""
    return f'<span class="tied">{formula}{mark}</span>' if mark else formula


def _alone(formula: str) -> str:
    """A formula that is a paragraph by itself: a block stands without one."""
    return formula if formula.startswith("<div") else f"<p>{formula}</p>"
