"""The frozen answer to somebody's own numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.errors import unknown
from tutor.quantities.quantity import Quantity
from tutor.solution.solution import Check, WorkedStep


@dataclass(frozen=True)
class WorkedAnswer:
    """A worked solution of somebody's own numbers. `values` are by symbol: givens, assumed, and all that follows."""

    circuit: str
    form: str
    region: str
    steps: tuple[WorkedStep, ...]
    values: Mapping[str, Quantity]
    asked: tuple[str, ...]
    checks: tuple[Check, ...]
    warnings: tuple[str, ...]
    assumed: Mapping[str, str]

    def value(self, name: str) -> Quantity:
        """One quantity by its symbol; UnknownName when it was neither given nor found."""
        if name not in self.values:
            raise unknown("value in this solution", name, self.values)
        return self.values[name]
