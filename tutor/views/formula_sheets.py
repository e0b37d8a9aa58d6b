"""The formula sheets: for each circuit the relations derived from it, its letters beside them, to print and take along.

Vocabulary: a *closed form* is a quantity in the givens of its derivation; a *slope* is one that tells how the output
moves (R_OUT, S_V, S_T). A relation the laws state in the same words stands once.
Place in the data flow: CircuitContent (its derivations and laws) -> `formulas/CIRCUIT.html`, and their list.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jinja2 import Environment

from tutor.quantities.expression import Add, Equation, Expr, Mul, Sym, children, rebuild, symbols_of
from tutor.quantities.symbols import split_name, symbol_for
from tutor.solution.solution import Chain, WorkedStep
from tutor.views.content import CircuitContent, SiteContent
from tutor.views.pages import Page, SymbolRow, frame_values, symbol_row
from tutor.views.plain import chain_text

_SLOPES = frozenset({"R_OUT", "S_V", "S_I", "S_T"})
_WIDE = 70  # characters, as plain text: a longer relation takes the whole width of the paper


@dataclass(frozen=True)
class Derived:
    """A derived relation: what it tells, in words, and the relation."""

    meaning: str
    chain: Chain

    @property
    def wide(self) -> bool:
        """Whether it is too long for a column."""
        return len(chain_text(self.chain)) > _WIDE


@dataclass(frozen=True)
class FormulaSheet:
    """All that stands on a circuit's sheet: what is derived, its slopes, the laws, the letters of all of them."""

    circuit: CircuitContent
    derived: tuple[Derived, ...]
    slopes: tuple[Derived, ...]
    laws: tuple[tuple[str, Equation], ...]
    letters: tuple[SymbolRow, ...]


def formula_sheet(circuit: CircuitContent) -> FormulaSheet:
    """The sheet of one circuit."""
    derived: list[Derived] = []
    slopes: list[Derived] = []
    for name, steps in circuit.derivations.items():
        chain = _closed_form(name, steps)
        if chain is not None:
            meaning = symbol_for(name).meaning.split(",")[0]
            (slopes if split_name(name).base in _SLOPES else derived).append(Derived(meaning, chain))
    told = {_in_order(_equation(item.chain)) for item in (*derived, *slopes)}
    laws: list[tuple[str, Equation]] = []
    for title, equation, _ in circuit.laws:
        if _in_order(equation) not in told:
            told.add(_in_order(equation))
            laws.append((title, equation))
    spoken: dict[str, None] = {}
    for equation in (*(_equation(item.chain) for item in (*derived, *slopes)), *(law for _, law in laws)):
        spoken |= dict.fromkeys((*symbols_of(equation.lhs), *symbols_of(equation.rhs)))
    return FormulaSheet(circuit, tuple(derived), tuple(slopes), tuple(laws), tuple(map(symbol_row, spoken)))


def _closed_form(name: str, steps: tuple[WorkedStep, ...]) -> Chain | None:
    """The quantity and its closed form, the last line of its derivation."""
    if not steps or not steps[-1].chains:
        return None
    last = steps[-1].chains[-1]
    return Chain(Sym(name), last.rest[-1:])


def _in_order(equation: Equation) -> Equation:
    """The relation with its terms and factors in one order: a + b is b + a."""
    return Equation(_sorted(equation.lhs), _sorted(equation.rhs), equation.relation)


def _sorted(expr: Expr) -> Expr:
    parts = [_sorted(part) for part in children(expr)]
    if isinstance(expr, Add | Mul):
        parts.sort(key=repr)
    return rebuild(expr, tuple(parts))


def _equation(chain: Chain) -> Equation:
    relation, expr = chain.rest[-1]
    return Equation(chain.first, expr, relation)


def formula_pages(content: SiteContent, press: Environment) -> Iterator[Page]:
    """The sheet of each circuit, and the list of them."""
    sheets = {name: formula_sheet(circuit) for name, circuit in content.circuits().items()}
    template = press.get_template("formula_sheet.html")
    for stage in content.stages:
        for circuit in stage.circuits:
            text = template.render(
                frame_values(
                    f"Formula sheet: {circuit.title}",
                    "../",
                    "formula-sheet",
                    f"The derived relations of one circuit, to print: {circuit.title}.",
                    "Formula sheets",
                ),
                sheets=("problem", "book", "formulas"),
                sheet=sheets[circuit.id],
            )
            yield Page(f"formulas/{circuit.id}.html", text)
    stages = [
        {"number": stage.number, "title": stage.title, "sheets": [sheets[circuit.id] for circuit in stage.circuits]}
        for stage in content.stages
        if stage.circuits
    ]
    text = press.get_template("formulas.html").render(
        frame_values("Formula sheets", "", "formulas", "A sheet of derived relations for every circuit, to print.", ""),
        sheets=("book", "formulas"),
        stages=stages,
    )
    yield Page("formulas.html", text)
