"""Values as a notebook shows them: every kind, alone on its page, in the page's ink."""

from __future__ import annotations

import importlib
import re
from collections.abc import Callable
from types import SimpleNamespace

import pytest

import tutor
from tutor.laws.law import LawSet
from tutor.views.notebook import as_html, as_text, bundle

OWN = {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "I_L": "10 mA"}
# One of each type that shows itself, by the name of the type.
KINDS: dict[str, Callable[[], object]] = {
    "Circuit": lambda: tutor.named_circuit("reservoir", "bridge"),
    "Law": lambda: tutor.derive("zener-shunt", "I_Z").laws[0],
    "LawSet": lambda: LawSet(tutor.derive("zener-shunt", "I_Z").laws, ()),
    "Problem": lambda: tutor.problem("zener-resistor:2:17").problem,
    "WorkedProblem": lambda: tutor.problem("zener-resistor:2:17"),
    "Solution": lambda: tutor.problem("zener-resistor:2:17").solution,
    "WorkedAnswer": lambda: tutor.solve("zener-shunt", OWN),
    "Derivation": lambda: tutor.derive("zener-shunt", "I_Z").derivations[0],
    "DerivedCircuit": lambda: tutor.derive("zener-shunt", "I_Z"),
    "Posed": lambda: tutor.problem("find-the-wrong-line:1:1"),
    "CheckedWorking": lambda: tutor.check("V_TH = <b>12</b> V", problem="zener-state:1:1"),
}


def shell() -> tuple[SimpleNamespace, dict[tuple[str, str], object]]:
    """What of a notebook's shell the extension uses, and where it keeps what it is told."""
    told: dict[tuple[str, str], object] = {}
    bundles = SimpleNamespace(for_type_by_name=lambda module, name, show: told.update({(module, name): show}))
    texts = SimpleNamespace(for_type_by_name=lambda module, name, show: None)
    formatter = SimpleNamespace(mimebundle_formatter=bundles, formatters={"text/plain": texts})
    return SimpleNamespace(display_formatter=formatter), told


def test_every_type_told_to_the_notebook_is_there_and_is_shown() -> None:
    """The names in the package's door are those of real types, and each of them has a value below."""
    notebook, told = shell()
    tutor.load_ipython_extension(notebook)
    assert {name for _, name in told} == set(KINDS)
    for (module, name), show in told.items():
        assert type(KINDS[name]()) is getattr(importlib.import_module(module), name)
        assert callable(show)


@pytest.mark.parametrize("kind", KINDS)
def test_a_value_stands_alone(kind: str) -> None:
    """One element: nothing is asked for elsewhere, nothing runs, no style reaches out, no ink is laid down."""
    shown = bundle(KINDS[kind]())
    page = shown["text/html"]
    assert page.startswith('<div class="steadyrail-shown') and page.endswith("</div>")
    assert page.count("<div") == page.count("</div>")
    for outside in ("<script", "src=", "url(", "@import", "href=", " on", "$"):
        found = page.replace("http://www.w3.org", "")
        assert outside not in (re.sub(r">[^<]*<", "><", found) if outside == " on" else found), outside
    style = page[page.index("<style>") + 7 : page.index("</style>")]
    rules = re.sub(r"/\*.*?\*/", "", style, flags=re.DOTALL).strip()
    assert rules.startswith(".steadyrail-shown.steadyrail-shown {") and rules.endswith("}")
    depth, outermost = 0, []
    for piece in re.findall(r"[{}]|[^{}]+", rules):
        outermost += [piece.strip()] if depth == 0 and piece.strip() not in ("{", "}", "") else []
        depth += {"{": 1, "}": -1}.get(piece, 0)
    assert outermost == [".steadyrail-shown.steadyrail-shown"] and depth == 0
    assert not re.search(r"#[0-9a-fA-F]{3,6}\b|rgb\(", style), "colours would suit one of light and dark alone"


@pytest.mark.parametrize("kind", KINDS)
def test_a_value_is_text_too(kind: str) -> None:
    """Plain, 80 columns: no escape codes, no formula left as it is written in a file."""
    text = as_text(KINDS[kind]())
    assert text.strip() and "\x1b" not in text and "$" not in text
    assert max(map(len, text.splitlines())) <= 100  # a part's row in words is not broken


def test_what_a_learner_wrote_is_never_markup() -> None:
    """Their line stands there letter for letter."""
    page = as_html(KINDS["CheckedWorking"]())
    assert "&lt;b&gt;" in page and "<b>" not in page


def test_a_problem_alone_tells_no_answer_and_a_worked_one_folds_it() -> None:
    """By hand: R_MAX = (17.5 V - 11 V)/(15 mA + 4 mA) = 342 Ω."""
    assert "342" not in as_html(KINDS["Problem"]())
    page = as_html(KINDS["WorkedProblem"]())
    assert "342" not in page[: page.index('<details class="solution">')]
    assert "342" in page[page.index('<details class="solution">') :]


def test_what_is_asked_to_be_found_out_is_not_drawn() -> None:
    """In a circuit to be completed, parts that are withheld do not stand in the drawing."""
    posed = tutor.problem("complete-the-circuit:1:1")
    drawn = as_html(posed)
    letters = re.findall(r"<tr><th scope=\"row\">(.*?)</th>", drawn[: drawn.index("</figure>")])
    whole = tutor.named_circuit(posed.problem.circuit, posed.problem.form if posed.problem.form else "")
    assert posed.withheld and len(letters) < len(whole.parts)


def test_another_type_is_refused() -> None:
    """The notebook then shows it as it shows anything."""
    for show in (as_html, as_text, bundle):
        with pytest.raises(TypeError, match="a float is not shown in a notebook"):
            show(1.0)


def test_a_circuit_is_found_by_its_form() -> None:
    """Without it the forms are named, with a wrong one the nearest."""
    assert tutor.named_circuit("reservoir", "bridge").id == "reservoir-bridge"
    with pytest.raises(tutor.errors.BadValue, match="comes in the forms"):
        tutor.named_circuit("reservoir")
    with pytest.raises(tutor.errors.UnknownName, match="did you mean 'bridge'"):
        tutor.named_circuit("reservoir", "brigde")
