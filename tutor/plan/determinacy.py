"""Do the givens settle the wanted, and is each of them needed? Told by ranks on the circuit's manifold.

At a generic operating point every quantity has a gradient along the free parameters. A given whose gradient is a
combination of those before it is *idle*: it follows from them (or contradicts them). A wanted quantity is *settled*
when its gradient is a combination of the givens'. This sees through every coupling of laws, which a search for chains
alone does not. Quantities the manifold does not know (ratings, limits) are left to the search.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.laws.algebra import sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import derive
from tutor.quantities.expression import Expr, evaluate

_STEP = 1e-20  # relative step into the imaginary: nothing is subtracted, so the slope keeps its figures
_SMALL = 1e-8  # a residue below this share of a unit gradient counts as none


@dataclass(frozen=True)
class Manifold:
    """Gradients (logarithmic, of unit length) of every quantity at a generic point of a region, and that point (SI)."""

    gradients: Mapping[str, NDArray[np.float64]]
    point: Mapping[str, float]

    def idle(self, givens: Iterable[str]) -> tuple[str, ...]:
        """The givens that follow from those before them."""
        basis: list[NDArray[np.float64]] = []
        found: list[str] = []
        for name in givens:
            if name in self.gradients and not _extends(basis, self.gradients[name]):
                found.append(name)
        return tuple(found)

    def settles_strictly(self, givens: Iterable[str], wanted: str) -> bool:
        """Whether the givens fix `wanted`, a quantity the manifold knows."""
        return wanted in self.gradients and self.settles(givens, wanted)

    def settles(self, givens: Iterable[str], wanted: str) -> bool:
        """Whether the givens fix `wanted`; True for a quantity the manifold does not know."""
        if wanted not in self.gradients:
            return True
        basis: list[NDArray[np.float64]] = []
        for name in givens:
            if name in self.gradients:
                _extends(basis, self.gradients[name])
        return not _extends(basis, self.gradients[wanted])


def _extends(basis: list[NDArray[np.float64]], vector: NDArray[np.float64]) -> bool:
    """Whether `vector` lies outside the span of an orthonormal basis; if so, its part outside joins the basis."""
    rest = vector
    for _ in range(2):  # twice, against rounding
        for axis in basis:
            rest = rest - axis * float(axis @ rest)
    length = float(np.linalg.norm(rest))
    if length < _SMALL:
        return False
    basis.append(rest / length)
    return True


def manifold(circuit: Circuit, region: Region, load: LoadModel, conventions: Mapping[str, str]) -> Manifold:
    """The gradients of a circuit's quantities in a region, at a generic point near its typical one."""
    return _manifold(circuit, region, load, tuple(conventions.items()))


@lru_cache(maxsize=256)  # one level asks for the same few manifolds in every region and under every convention
def _manifold(
    circuit: Circuit, region: Region, load: LoadModel, told: tuple[tuple[str, str], ...]
) -> Manifold:
    conventions = dict(told)
    names = parameters(circuit, load)
    forms = closed_forms(_under(circuit, conventions), region, load)
    letters = [sympy_symbol(item) for item in names]
    functions = {name: sympy.lambdify(letters, form, [{"sqrt": _root}, "math"]) for name, form in forms.items()}
    point = _generic_point(circuit, names)
    gradients = {name: _gradient(function, point) for name, function in functions.items()}
    functions |= _written_ones(circuit, region, load, conventions, functions)
    for name in sorted(functions.keys() - gradients.keys()):
        gradients[name] = _gradient(functions[name], point)
    known = {name: vector for name, vector in gradients.items() if vector is not None}
    return Manifold(known, {name: float(function(*point)) for name, function in functions.items() if name in known})


def _under(circuit: Circuit, conventions: Mapping[str, str]) -> Circuit:
    """The circuit with the conventions in use as its own, and what they say in place of the composites they replace."""
    used = [item for item in circuit.variants if conventions.get(item.convention) == item.value]
    told = {law_id for item in used for law_id, _, _ in item.adds}
    others = [item for item in circuit.variants if item not in used]
    composites = tuple(item for item in circuit.composites if item.id not in told)
    return replace(circuit, variants=(*used, *others), composites=composites)


def _generic_point(circuit: Circuit, names: tuple[str, ...]) -> list[float]:
    """The typical values, each moved a little by a share of its own so that nothing cancels by chance."""
    typical = {"R_L": 470.0, **circuit.typical}
    return [typical.get(name, 1.0) * (1 + 0.037 * (index + 1) ** 0.5) for index, name in enumerate(names)]


def _root(value: Any) -> Any:
    """A square root of what may be moved a little into the imaginary."""
    return value**0.5


def _gradient(function: Callable[..., Any], point: list[float]) -> NDArray[np.float64] | None:
    """The gradient along the logarithm of each parameter, of unit length (zero for a constant)."""
    slopes = []
    for place, value in enumerate(point):
        try:
            moved = complex(function(*point[:place], value * complex(1, _STEP), *point[place + 1 :]))
        except (ZeroDivisionError, ValueError, OverflowError):
            return None
        slopes.append(moved.imag / _STEP)
    vector = np.array(slopes)
    length = float(np.linalg.norm(vector))
    scale = abs(float(function(*point)))
    return vector / length if length > 1e-9 * max(scale, 1e-30) else np.zeros(len(point))


def _written_ones(
    circuit: Circuit,
    region: Region,
    load: LoadModel,
    conventions: Mapping[str, str],
    functions: Mapping[str, Callable[..., Any]],
) -> dict[str, Callable[..., Any]]:
    """Quantities defined by a written law over others (what-ifs, slopes), as functions of the parameters."""
    found: dict[str, Callable[..., Any]] = {}
    for law in derive(circuit, region, load, conventions=conventions).laws:
        symbol, needs = law.symbols[0], law.symbols[1:]
        written = law.id.startswith(("if.", "slope.")) and symbol not in functions
        if written and all(name in functions for name in needs):
            found[symbol] = _written(law.equation.rhs, {name: functions[name] for name in needs})
    return found


def _written(expr: Expr, functions: Mapping[str, Callable[..., Any]]) -> Callable[..., Any]:
    """A written expression as a function of the parameters."""

    def value(*at: Any) -> Any:
        return evaluate(expr, {name: function(*at) for name, function in functions.items()})

    return value
