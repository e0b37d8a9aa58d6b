"""Anybody's own numbers read: names resolved, values in SI, conventions and standing values told apart.

Place in the data flow: a circuit and NAME=VALUE texts -> OwnValues -> `own.py` works them, `own_sheet.py` makes of them
what a working is held against. Neither algebra nor numpy is needed to read.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from tutor.circuit.circuit import Circuit
from tutor.errors import BadValue, unknown
from tutor.quantities.quantity import write
from tutor.quantities.reading import read_quantity
from tutor.quantities.symbols import Sign, is_symbol, resolve_alias, split_name, symbol_for

MOST_RANGES = 4  # 16 corners


@dataclass(frozen=True)
class OwnValues:
    """Somebody's numbers (SI by symbol, standing values of theirs among them) and the conventions they chose."""

    numbers: Mapping[str, float]
    conventions: Mapping[str, str]


@dataclass(frozen=True)
class OwnNames:
    """The names of somebody's givens, sorted, and the bases of which both ends are given (V_I for V_I_MIN, V_I_MAX)."""

    names: tuple[str, ...]
    ranges: tuple[str, ...]

    @property
    def lasting(self) -> tuple[str, ...]:
        """What the circuit's state starts from: givens that are neither an end of a range nor a change, and bases that
        range."""
        parts = {name: split_name(name) for name in self.names}
        plain = (name for name, taken in parts.items() if taken.end not in ("MIN", "MAX") and not taken.change)
        return tuple(sorted((*plain, *self.ranges)))


def names_given(numbers: Mapping[str, float]) -> OwnNames:
    """The names of some givens, their ranges seen; BadValue for one end alone, or ends the wrong way round."""
    ranges: list[str] = []
    for name in sorted(numbers):
        if split_name(name).end not in ("MIN", "MAX"):
            continue
        base, end = name[:-4], name[-3:]
        other = f"{base}_{'MAX' if end == 'MIN' else 'MIN'}"
        if other not in numbers:
            raise BadValue(f"{name} is one end of a range; give {other} too, or {base} alone", name=name)
        if base in numbers:
            raise BadValue(f"{base} is given both as one value and as a range; leave one out", name=base)
        if end == "MIN":
            low, high = (write(numbers[item], symbol_for(base).unit) for item in (name, other))
            if numbers[name] > numbers[other]:
                raise BadValue(f"{name} = {low} is above {other} = {high}; the ends are the wrong way round", name=name)
            ranges.append(base)
    if len(ranges) > MOST_RANGES:
        raise BadValue(f"at most {MOST_RANGES} quantities may range at once (got {', '.join(ranges)})")
    return OwnNames(tuple(sorted(numbers)), tuple(ranges))


def read_own(
    circuit: Circuit,
    values: Mapping[str, str | float],
    assume: Mapping[str, str] | None = None,
    *,
    decimal_comma: bool = False,
) -> OwnValues:
    """Read `values` (texts such as `15V`, or SI numbers) and `assume`; UnknownName or BadValue name what is wrong."""
    if "form" in values:
        raise BadValue(f"form={values['form']}: '{circuit.id}' comes in one form; leave form= out")
    known: dict[str, str | float] = {}
    for typed, text in values.items():
        name = symbol_meant(circuit, typed)
        if name in known:
            raise BadValue(f"{name} is given twice ({known[name]} and {text}); leave one out")
        known[name] = text
    standing, conventions = _assumptions(circuit, assume or {})
    numbers = {name: _number(name, text, decimal_comma) for name, text in {**standing, **known}.items()}
    return OwnValues(numbers, {**_told_by_givens(circuit, numbers, conventions), **conventions})


def _told_by_givens(
    circuit: Circuit, numbers: Mapping[str, float], conventions: Mapping[str, str]
) -> dict[str, str]:
    """The conventions that are taken because of what is given (a winding's resistance), where none was named."""
    return {
        variant.convention: variant.value
        for variant in circuit.variants
        if variant.given and variant.given in numbers and variant.convention not in conventions
    }


def symbol_meant(circuit: Circuit, text: str) -> str:
    """The symbol a typed name stands for on this circuit; UnknownName with the nearest when it is none."""
    name = circuit.aliases.get(text) or resolve_alias(text)
    if name is None or not is_symbol(name):
        raise unknown("quantity", text, _spoken(circuit))
    return name


def _spoken(circuit: Circuit) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys((*circuit.report, *circuit.constants, *circuit.defaults, *circuit.typical, "V_Z", "V_ZT"))
    )


def _number(name: str, text: str | float, decimal_comma: bool) -> float:
    unit = symbol_for(name).unit
    if isinstance(text, int | float):
        value = float(text)
    else:
        reading = read_quantity(text, unit, decimal_comma=decimal_comma)
        if reading.value is None:
            raise BadValue(f"{name}={text}: {reading.reason}", name=name, text=text)
        value = reading.value
    if not math.isfinite(value):
        raise BadValue(f"{name}={text}: a finite number is needed", name=name, text=text)
    if symbol_for(name).sign is not Sign.ANY and value < 0:
        raise BadValue(f"{name}={text}: {symbol_for(name).meaning} cannot be negative", name=name, text=text)
    if symbol_for(name).sign is Sign.POSITIVE and value == 0 and unit in ("ohm", ""):
        raise BadValue(f"{name}={text}: {symbol_for(name).meaning} must be above zero", name=name, text=text)
    return value


def _assumptions(circuit: Circuit, assume: Mapping[str, str]) -> tuple[dict[str, str], dict[str, str]]:
    """Standing values and conventions told apart; UnknownName for neither, or for a value no convention has."""
    offered = circuit.convention_values()
    standing: dict[str, str] = {}
    conventions: dict[str, str] = {}
    for name, value in assume.items():
        if name in offered:
            conventions[name] = value
        elif name in circuit.defaults:
            standing[name] = value
        else:
            raise unknown("convention", name, [*offered, *circuit.defaults])
    return standing, conventions
