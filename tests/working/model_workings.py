"""Model solutions written in as workings, and the same with one of the problem's slips put in and carried on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tutor.quantities.expression import Expr, Sym, Val, evaluate, substitute, symbols_of
from tutor.quantities.notation import plain
from tutor.quantities.quantity import write
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import symbol_for
from tutor.solution.desk import WorkedProblem
from tutor.solution.sheet import Sheet, SheetSlip
from tutor.solution.steps import Chain
from tutor.views.plain import chain_text


@dataclass(frozen=True)
class ModelLine:
    """One line of a model solution: the waypoint it leads to, the chain, and how it is written."""

    waypoint: str
    chain: Chain
    text: str


@dataclass(frozen=True)
class Slipped:
    """A working with a slip put in: the lines, the number of the line with the slip, the slip."""

    lines: tuple[str, ...]
    at: int
    slip: SheetSlip

    @property
    def text(self) -> str:
        """The working as typed."""
        return "\n".join(self.lines)


def typed(text: str) -> str:
    """As from a keyboard: no hard blanks."""
    return text.replace("\u00a0", " ")


def model_lines(worked: WorkedProblem) -> list[ModelLine]:
    """Every chain of a solution, in order."""
    return [
        ModelLine(step.waypoint, chain, typed(chain_text(chain)))
        for step in worked.solution.steps
        for chain in step.chains
    ]


def slipped_workings(worked: WorkedProblem, sheet: Sheet, numbers: bool) -> Iterator[Slipped]:
    """For each slip of the problem: the model up to its waypoint, the slip's value, the rest with that value: as
    relations between symbols with their result, or with `numbers` put in for the symbols."""
    lines = model_lines(worked)
    for slip in sheet.slips:
        at = max(index for index, line in enumerate(lines) if line.waypoint == slip.key)
        chosen = any(choice.key == slip.key for choice in sheet.choices)
        shown = typed(write(slip.value, sheet.symbols[slip.key], figures=4))
        wrong = f"{'choose ' if chosen else ''}{slip.key} = {shown}"
        before = [line.text for line in lines[:at]]
        rest = _carried_on(lines, at, sheet, slip, numbers)
        yield Slipped((*before, wrong, *rest), at + 1, slip)


def _carried_on(lines: list[ModelLine], at: int, sheet: Sheet, slip: SheetSlip, numbers: bool) -> Iterator[str]:
    """The lines after a slip, each value worked out anew from the values written above it.

    A line that needs its own result (I_Z = (V_I − (V_Z0 + r_z I_Z))/R − I_L) cannot be carried on that way, nor what
    rests on it: the model's value is not the learner's.
    """
    # A symbol that is worked out at several corners has the value written last above the slip.
    values = {**sheet.env, **dict(_results(lines)), **dict(_results(lines[:at]))}
    values[slip.key] = _as_written(slip.value, sheet.symbols[slip.key])
    for line in lines[at + 1 :]:
        head = line.chain.first
        if not isinstance(head, Sym):
            continue
        relation = _last_relation(line.chain)
        value = None if relation is None or head.name in symbols_of(relation) else _value(relation, values)
        if relation is None or value is None:
            values.pop(head.name, None)
            continue
        unit = symbol_for(head.name).unit
        put = {name: Val(values[name], symbol_for(name).unit, 4) for name in symbols_of(relation)}
        in_numbers = numbers and not isinstance(relation, Sym) and all(item.value >= 0 for item in put.values())
        shown = plain(substitute(relation, put) if in_numbers else relation)
        yield typed(f"{head.name} = {shown} = {write(value, unit, figures=4)}")
        values[head.name] = _as_written(value, unit)


def _value(relation: Expr, values: Mapping[str, float]) -> float | None:
    """What a relation comes to, where all it needs is there."""
    if not set(symbols_of(relation)) <= set(values):
        return None
    try:
        return evaluate(relation, values)
    except ZeroDivisionError:
        return None


def _as_written(value: float, unit: str) -> float:
    """A value as it stands in the working: a learner goes on with the figures written."""
    read = read_quantity(typed(write(value, unit, figures=4)).replace("−", "-"), unit).value
    return value if read is None else read


def _results(lines: list[ModelLine]) -> Iterator[tuple[str, float]]:
    for line in lines:
        last = line.chain.rest[-1][1]
        if any(sign in "<>≤≥" for sign, _ in line.chain.rest):
            continue  # its last value is that of what it is compared with
        if isinstance(line.chain.first, Sym) and isinstance(last, Val):
            yield line.chain.first.name, last.value


def _last_relation(chain: Chain) -> Expr | None:
    """The last side of a chain that is a relation between symbols."""
    sides = [expr for sign, expr in chain.rest if symbols_of(expr) and sign == "="]
    return sides[-1] if sides else None
