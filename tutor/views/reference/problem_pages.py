"""The pages on circuits and on families of problems: what each declares, and the laws that follow from it.

Place in the data flow: circuits, their laws, families -> Markdown.
"""

from __future__ import annotations

from tutor.across.named import across_family, across_ids
from tutor.circuit.circuit import Circuit, LoadModel
from tutor.circuit.netlist import Part
from tutor.generate.family import Ask, Family, Level, Pick, PickPart, Slip, key_of_ask
from tutor.laws.derive import derive
from tutor.quantities.notation import plain_equation
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import given
from tutor.quantities.symbols import is_symbol, symbol_for
from tutor.quantities.units import printed_unit
from tutor.solution.desk import Desk
from tutor.views.reference.markdown import code, fenced, page, plain, table

_MOST_TOLD = 4  # values of a list that are told one by one


def circuits_page(desk: Desk) -> str:
    """The page: each circuit and form with its netlist, states, quantities, conventions and laws."""
    stems = sorted(desk.folder.circuit_stems(), key=lambda stem: (desk.folder.circuit_forms(stem)[0].stage, stem))
    parts = [part for stem in stems for item in desk.folder.circuit_forms(stem) for part in _circuit(item)]
    about = "Laws are those of the first state, derived from the netlist, and what the circuit's file composes of them."
    return page("Circuits", about, parts)


def _circuit(circuit: Circuit) -> list[str]:
    netlist = "\n".join(map(_line, circuit.parts))
    states = table(("state", "what it is"), [(code(item.id), plain(item.words)) for item in circuit.regions])
    laws = derive(circuit, circuit.regions[0], LoadModel.SINK, with_slopes=False).laws
    names = dict.fromkeys(name for law in laws for name in law.symbols)
    letters = ", ".join(f"{code(name)} ({printed_unit(symbol_for(name).unit) or '1'})" for name in names)
    conventions = [(code(name), ", ".join(map(code, values))) for name, values in circuit.convention_values().items()]
    standing = [(code(name), given(value, symbol_for(name).unit).text) for name, value in circuit.defaults.items()]
    rows = [(plain_equation(law.equation), plain(prose_text(law.title)), plain(law.source)) for law in laws]
    return [
        f"## `{circuit.id}`",
        f"{circuit.title}. {plain(prose_text(circuit.purpose))}",
        fenced(netlist),
        states,
        f"Quantities, with their units: {letters}.",
        table(("convention", "values, ours first"), conventions),
        table(("standing value", "unless said"), standing),
        table(("law", "title", "source"), rows),
    ]


def _line(part: Part) -> str:
    """A part's line of the netlist, with the letter of each of its roles."""
    roles = (f"{role}={name}" for role, name in part.symbols.items() if name)
    return "  ".join((part.name, part.kind.value, *part.nodes, *roles))


def families_page(desk: Desk) -> str:
    """The page: each family's levels with what is given, asked and gone wrong; then the families across circuits."""
    parts = [part for name in desk.folder.family_ids() for part in _family(desk, desk.family(name))]
    parts.append("## Families across circuits")
    for name in across_ids(desk.folder):
        family = across_family(desk.folder, name)
        parts += [f"### `{name}`", f"{family.title}: {plain(prose_text(family.about))} Edition {family.edition}."]
        levels = [(str(place), plain(prose_text(item.about))) for place, item in enumerate(family.levels, start=1)]
        parts.append(table(("level", "about"), levels))
    about = "A problem's name is FAMILY:LEVEL:NUMBER. Of each level: what is drawn, what is asked, the slips it knows."
    return page("Families of problems", about, parts)


def _family(desk: Desk, family: Family) -> list[str]:
    parts = [
        f"## `{family.id}`",
        f"{family.title}: {plain(prose_text(family.about))} Circuit `{family.circuit}`, edition {family.edition}.",
    ]
    for number, level in enumerate(family.levels, start=1):
        parts += [
            f"### {family.id}:{number}",
            plain(prose_text(level.about)),
            table(("given", "drawn from"), [(code(name), _drawn(level, name)) for name in level.given]),
            table(("asked", "what it is", "unit"), [_asked(item) for item in level.asks if item.shown]),
            table(("slip", "where", "what it is"), [_slip(item) for item in level.slips]),
        ]
    return parts


def _drawn(level: Level, name: str) -> str:
    """Where a given comes from: the values it is picked from, a catalogue, or what it is worked out from."""
    for draw in level.draws:
        if isinstance(draw, PickPart) and name in draw.take:
            return f"a part of the catalogue {code(draw.catalogue)}"
        if isinstance(draw, Pick) and draw.name == name:
            texts = [_written(name, value) for value in draw.values]
            if len(texts) <= _MOST_TOLD:
                return ", ".join(texts)
            return f"{len(texts)} values from {texts[0]} to {texts[-1]}"
        if not isinstance(draw, PickPart | Pick) and draw.name == name:
            return f"worked out: {code(draw.formula)}"
    return "the circuit's own standing value"


def _written(name: str, value: float) -> str:
    return given(value, symbol_for(name).unit).text if is_symbol(name) else f"{value:g}"


def _asked(ask: Ask) -> tuple[str, str, str]:
    key = key_of_ask(ask)
    unit = printed_unit(symbol_for(key).unit) or "1" if is_symbol(key) else ""
    return code(key), plain(prose_text(ask.prompt)), unit


def _slip(slip: Slip) -> tuple[str, str, str]:
    return code(slip.id), code(slip.at), plain(prose_text(slip.name))
