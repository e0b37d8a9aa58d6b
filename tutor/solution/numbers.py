"""One relation as a line of working: symbols, then numbers, then what can be worked out, then the result.

Vocabulary: *naming* says under which name each symbol of a plan is shown (V_I as V_I_MIN at the lowest line); *figures*
are those a number is written with: all of them for a given, three or four for a result.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.quantities.expression import Div, Equation, Expr, Mul, Num, Sym, Val, evaluate, substitute, symbols_of
from tutor.quantities.quantity import DEFAULT_FIGURES, EXACT_FIGURES, Quantity, as_printed, given
from tutor.quantities.relation_form import NumberForm, RelationForm, WorkedPart, spell_parallel, unit_of
from tutor.quantities.symbols import symbol_for
from tutor.solution.solution import Chain

MOST_FIGURES_MORE = 3
ENOUGH = 0.005  # of the result: this near it a reader's own arithmetic agrees with what is printed


@dataclass(frozen=True)
class Writing:
    """The names and numbers a line is written with: shown name, value (SI) and whether it is a given, by symbol.

    With `in_full` numbers get more figures where terms cancel. Own numbers go without: their pages print each line
    before its numbers are known.
    """

    names: Mapping[str, Expr]
    values: Mapping[str, float]
    exact: frozenset[str]
    in_full: bool = False

    def quantity(self, name: str) -> Quantity:
        """The value of a symbol as it is printed."""
        unit = symbol_for(name).unit
        return given(self.values[name], unit) if name in self.exact else Quantity(self.values[name], unit)

    def val(self, name: str) -> Val:
        """The value of a symbol as a leaf of an expression."""
        quantity = self.quantity(name)
        return Val(quantity.value, quantity.unit, quantity.figures)


def shown(expr: Expr, writing: Writing) -> Expr:
    """The expression under the names in use."""
    return substitute(expr, writing.names)


def with_numbers(expr: Expr, writing: Writing, keep: str = "") -> Expr:
    """The expression with numbers for symbols, `keep` left as the unknown, and whatever has no value as it is."""
    known = [name for name in symbols_of(expr) if name != keep and name in writing.values]
    put: dict[str, Expr] = {name: writing.val(name) for name in known}
    return substitute(expr, put)


def line(target: Expr, form: RelationForm, writing: Writing, result: Quantity) -> Chain:
    """`target = symbols = numbers = worked out part by part = result`, each part only where it says something new."""
    if form.is_zero:
        return Chain(target, (("=", Val(0.0, result.unit)),))
    parts: list[tuple[str, Expr]] = [("=", form.letters(writing.names))]
    if form.spelled is not None:
        parts.append(("=", form.spelled(writing.names)))
    final = Val(result.value, result.unit, result.figures)
    parts += [("=", told(numbers, writing, final)) for numbers in form.numbers]
    parts.append(("=", final))
    return Chain(target, tuple(parts))


def told(form: NumberForm, writing: Writing, final: Val) -> Expr:
    """A relation with its numbers put in.

    Of a writing in full they have as many figures as a reader needs to come to the result: 20.65 V − 16.5 V = 4.15 V,
    where three figures would give 4.1 V. Numbers given, and those that come near enough anyhow, stay as they are.
    """
    values: dict[str, Val] = {}
    for name, unit in form.symbols:
        if name in writing.values:
            values[name] = Val(writing.values[name], unit, EXACT_FIGURES if name in writing.exact else DEFAULT_FIGURES)
    for place, part in form.worked:
        values[place] = worked_out(part, writing)
    more = _figures_more(form, values, final) if writing.in_full else 0
    if more:
        values = {
            name: value if value.figures >= EXACT_FIGURES else Val(value.value, value.unit, value.figures + more)
            for name, value in values.items()
        }
    return form.fill(values)


def _figures_more(form: NumberForm, values: Mapping[str, Val], final: Val) -> int:
    """How many figures more bring a reader to the result; none where none do."""
    near = ENOUGH * abs(final.value)
    for more in range(MOST_FIGURES_MORE + 1):
        # The numbers as a reader takes them from the page.
        printed = {
            name: as_printed(
                value.value, value.figures if value.figures >= EXACT_FIGURES else value.figures + more
            )
            for name, value in values.items()
        }
        try:
            found = form.read(printed)
        except (ArithmeticError, KeyError):
            return 0
        if abs(found - final.value) <= near:
            return more
    return 0


def worked_out(part: WorkedPart, writing: Writing) -> Val:
    """A part of a relation as one number with its unit."""
    exact = part.may_be_exact and writing.exact.issuperset(part.symbols)
    return Val(float(part.value(writing.values)), part.unit, EXACT_FIGURES if exact else DEFAULT_FIGURES)


def equation_lines(equation: Equation, unknown: str, writing: Writing) -> tuple[Chain, ...]:
    """A coupled equation: under its names, with numbers, and collected to `a × unknown = b` where it is linear."""
    lines = [Chain(shown(equation.lhs, writing), (("=", shown(equation.rhs, writing)),))]
    left, right = (with_numbers(spell_parallel(side), writing, unknown) for side in (equation.lhs, equation.rhs))
    named = _renamed(unknown, writing)
    lines.append(Chain(substitute(left, named), (("=", substitute(right, named)),)))
    collected = _collected(equation, unknown, writing)
    if collected is not None:
        slope, constant, unit = collected
        slope_unit = unit_of(Div(equation_unit_probe(equation), Sym(unknown)))
        if slope_unit is not None:
            factor = Val(slope, slope_unit)
            lines.append(Chain(Mul((factor, shown(Sym(unknown), writing))), (("=", Val(constant, unit)),)))
    return tuple(lines)


def equation_unit_probe(equation: Equation) -> Expr:
    """A side of an equation whose dimension can be told (not a bare zero)."""
    return equation.rhs if equation.lhs == Num(0) else equation.lhs


def _renamed(unknown: str, writing: Writing) -> dict[str, Expr]:
    return {unknown: writing.names.get(unknown, Sym(unknown))}


def _collected(equation: Equation, unknown: str, writing: Writing) -> tuple[float, float, str] | None:
    """Slope and constant of `slope × unknown = constant`; None when a side is not of first degree in it, or holds a
    symbol without a value."""
    unit = unit_of(equation_unit_probe(equation))
    names = (*symbols_of(equation.lhs), *symbols_of(equation.rhs))
    if unit is None or any(name not in writing.values for name in names):
        return None
    size = abs(writing.values[unknown]) or 1.0

    def at(value: float) -> float:
        values = {**writing.values, unknown: value}
        return float(evaluate(equation.lhs, values) - evaluate(equation.rhs, values))

    try:
        start, one, two = at(0.0), at(size), at(2 * size)
    except ZeroDivisionError:
        return None
    slope = (one - start) / size
    if abs((two - one) - (one - start)) > 1e-9 * max(abs(start), abs(two), 1e-30):
        return None
    return (slope, -start, unit) if slope > 0 else (-slope, start, unit)
