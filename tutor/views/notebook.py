"""Values as a notebook shows them: a circuit drawn, laws and steps set as on the site, a working with its margin.

Vocabulary: a *bundle* is one value as text and as HTML, by media type; whoever shows it takes what it can. The HTML
stands alone and is one element with its own style, which takes ink and ground from the page around it, so that it suits
a light and a dark notebook without asking which of them it is in.
Place in the data flow: what Python's doors return -> bundle -> a notebook. `tutor/__init__.py` names the types.
Source of the form: Jupyter's messaging protocol 5.3, "display_data": a dictionary from media type to text.
"""

from __future__ import annotations

import io
from functools import cache, singledispatch

from jinja2 import Template
from rich.console import Console

from tutor.across.family import Posed
from tutor.circuit.circuit import Circuit
from tutor.errors import UnknownName
from tutor.generate.problem import Problem
from tutor.laws.law import Law, LawSet
from tutor.quantities.notation import plain_equation
from tutor.quantities.prose import prose_text
from tutor.solution.answer import WorkedAnswer
from tutor.solution.derivation_values import Derivation, DerivedCircuit
from tutor.solution.desk import WorkedProblem, our_desk
from tutor.solution.solution import Chain, Solution
from tutor.views.checking import CheckedWorking
from tutor.views.drawn_problem import Picture, Pictures
from tutor.views.found_words import SAID, found_words
from tutor.views.margin import shown_line
from tutor.views.press import make_press
from tutor.views.sources import site_folder
from tutor.views.terminal import show_answer, show_derivation, show_derived, show_problem, show_solution
from tutor.views.terminal_lines import WIDTH

PLAIN, HTML = "text/plain", "text/html"


def bundle(value: object) -> dict[str, str]:
    """A value as text of 80 columns and as HTML; TypeError for a value of a type that is not shown."""
    return {PLAIN: as_text(value), HTML: as_html(value)}


@singledispatch
def as_html(value: object) -> str:
    """A value as one HTML element with its own style; TypeError for a type that has no way of being shown."""
    raise TypeError(f"a {type(value).__name__} is not shown in a notebook")


@singledispatch
def as_text(value: object) -> str:
    """A value as the terminal prints it, 80 columns wide; TypeError for a type that has no way of being shown."""
    raise TypeError(f"a {type(value).__name__} is not shown in a notebook")


@as_html.register
def _(value: Circuit) -> str:
    return _set("circuit", circuit=value, picture=_pictures().of_circuit(value))


@as_text.register
def _(value: Circuit) -> str:
    rows = _pictures().of_circuit(value).rows
    parts = [f"  {row.part}  {row.words}: {row.start} to {row.end}" for row in rows]
    return "\n".join([f"{value.title} ({value.id})", *parts])


@as_html.register
def _(value: Law) -> str:
    return _set("laws", title="", region="", laws=(value,))


@as_text.register
def _(value: Law) -> str:
    return f"{plain_equation(value.equation)}  ({prose_text(value.title)})"


@as_html.register
def _(value: LawSet) -> str:
    return _set("laws", title="", region="", laws=value.laws)


@as_text.register
def _(value: LawSet) -> str:
    return "\n".join(map(as_text, value.laws))


@as_html.register
def _(value: DerivedCircuit) -> str:
    picture = _pictures().of_circuit(our_desk().circuit(value.circuit))
    return _set("derived", derived=value, picture=picture, forms=tuple(map(_closed, value.derivations)))


@as_text.register
def _(value: DerivedCircuit) -> str:
    console = _console()
    show_derived(console, value)
    return _printed(console)


@as_html.register
def _(value: Derivation) -> str:
    return _set("derivation", item=value, form=_closed(value))


@as_text.register
def _(value: Derivation) -> str:
    console = _console()
    show_derivation(console, value)
    return _printed(console)


@as_html.register
def _(value: WorkedProblem) -> str:
    return _set("problem", problem=value.problem, solution=value.solution, picture=_drawn(value.problem), posed=None)


@as_text.register
def _(value: WorkedProblem) -> str:
    return f"{as_text(value.problem)}\n\n{as_text(value.solution)}"


@as_html.register
def _(value: Posed) -> str:
    picture = _drawn(value.problem, value.withheld)
    return _set("problem", problem=value.problem, solution=value.solution, picture=picture, posed=value)


@as_text.register
def _(value: Posed) -> str:
    console = _console()
    show_problem(console, value.problem, value.lines, value.caption)
    return f"{_printed(console)}\n\n{as_text(value.solution)}"


@as_html.register
def _(value: Problem) -> str:
    return _set("problem", problem=value, solution=None, picture=_drawn(value), posed=None)


@as_text.register
def _(value: Problem) -> str:
    console = _console()
    show_problem(console, value)
    return _printed(console)


@as_html.register
def _(value: Solution) -> str:
    return _set("solution", solution=value)


@as_text.register
def _(value: Solution) -> str:
    console = _console()
    show_solution(console, value)
    return _printed(console)


@as_html.register
def _(value: WorkedAnswer) -> str:
    circuit = _circuit_of(value)
    return _set("answer", answer=value, title=circuit.title, picture=_pictures().of_circuit(circuit))


@as_text.register
def _(value: WorkedAnswer) -> str:
    console = _console()
    show_answer(console, value, _circuit_of(value).title)
    return _printed(console)


@as_html.register
def _(value: CheckedWorking) -> str:
    lines = [
        (item.number, shown_line(item.text), SAID[item.code][0], "".join(found_words(item))) for item in value.findings
    ]
    return _set("working", working=value, lines=lines, look_first=str(value).splitlines()[-1])


@as_text.register
def _(value: CheckedWorking) -> str:
    return str(value)


def _closed(derivation: Derivation) -> Chain:
    """The closed form of a derivation as a line."""
    return Chain(derivation.steps[-1].chains[-1].first, (("=", derivation.closed_form),))


def _circuit_of(answer: WorkedAnswer) -> Circuit:
    """The circuit of an answer, in its form where there are several."""
    forms = our_desk().folder.circuit_forms(answer.circuit)
    return next((item for item in forms if item.form == answer.form), forms[0])


def _drawn(problem: Problem, withheld: tuple[str, ...] = ()) -> Picture | None:
    """The drawing of a problem; None where its circuit is not one of ours (a desk over another folder)."""
    try:
        return _pictures().of(problem, withheld)
    except UnknownName:
        return None


@cache
def _pictures() -> Pictures:
    return Pictures(our_desk())


@cache
def _template() -> Template:
    return make_press(site_folder() / "templates").get_template("notebook.html")


def _set(kind: str, **values: object) -> str:
    """One value set by the part of the template that is for its kind."""
    return _template().render(kind=kind, **values).strip()


def _console() -> Console:
    """A console that keeps what is printed on it: plain text, and nothing shown in the notebook by itself."""
    return Console(
        highlight=False, soft_wrap=False, file=io.StringIO(), width=WIDTH, force_jupyter=False, force_terminal=False
    )


def _printed(console: Console) -> str:
    """What was printed on such a console."""
    assert isinstance(console.file, io.StringIO)
    return "\n".join(line.rstrip() for line in console.file.getvalue().splitlines())
