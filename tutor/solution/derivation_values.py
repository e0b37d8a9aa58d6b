"""The frozen values a derivation consists of."""

from __future__ import annotations

from dataclasses import dataclass

from tutor.laws.law import Law
from tutor.quantities.expression import Expr
from tutor.solution.solution import WorkedStep


@dataclass(frozen=True)
class Derivation:
    """How one quantity follows from the circuit: the steps, the closed form, and what each given does to it."""

    circuit: str
    quantity: str
    givens: tuple[str, ...]
    steps: tuple[WorkedStep, ...]
    closed_form: Expr
    sensitivities: tuple[WorkedStep, ...]


@dataclass(frozen=True)
class DerivedCircuit:
    """A circuit's laws in its usual region, and the derivations asked for."""

    circuit: str
    title: str
    region: str
    laws: tuple[Law, ...]
    derivations: tuple[Derivation, ...]
