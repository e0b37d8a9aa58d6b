"""Do the givens settle the wanted, and is each of them needed? Told by ranks on the circuit's manifold.

At a generic operating point every quantity has a gradient along the free parameters. A given whose gradient is a
combination of those before it is *idle*: it follows from them (or contradicts them). A wanted quantity is *settled*
when its gradient is a combination of the givens'. This sees through every coupling of laws, which a search for chains
alone does not. Quantities the manifold does not know (ratings, limits) are left to the search.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tutor.circuit.circuit import Circuit, LoadModel, Region
from tutor.laws.algebra import Numbers, numbers_at, sympy_symbol
from tutor.laws.closed_form import closed_forms, parameters
from tutor.laws.derive import derive
from tutor.quantities.expression import evaluate

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
    moved = _moved(_generic_point(circuit, names))
    letters = {sympy_symbol(name): column for name, column in zip(names, moved, strict=True)}
    with np.errstate(all="ignore"):  # what has no value there is left out below
        values = {name: numbers_at(form, letters) for name, form in forms.items()}
        written = _written_ones(circuit, region, load, conventions, values)
    found = {**values, **dict(sorted(written.items()))}
    gradients = {name: _gradient(value) for name, value in found.items() if bool(np.all(np.isfinite(value)))}
    return Manifold(gradients, {name: float(found[name][-1].real) for name in gradients})


def _moved(point: list[float]) -> NDArray[np.complex128]:
    """The point, a row a parameter: in each column but the last one parameter is moved along the imaginary."""
    columns = np.tile(np.array(point, dtype=np.complex128)[:, None], len(point) + 1)
    for place, value in enumerate(point):
        columns[place, place] = value * complex(1, _STEP)
    return columns


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


def _gradient(values: Numbers) -> NDArray[np.float64]:
    """The gradient along the logarithm of each parameter, of unit length (zero for a constant)."""
    vector = values[:-1].imag / _STEP
    length = float(np.linalg.norm(vector))
    scale = abs(float(values[-1].real))
    return vector / length if length > 1e-9 * max(scale, 1e-30) else np.zeros(len(vector))


def _written_ones(
    circuit: Circuit,
    region: Region,
    load: LoadModel,
    conventions: Mapping[str, str],
    values: Mapping[str, Numbers],
) -> dict[str, Numbers]:
    """Quantities defined by a written law over others (what-ifs, slopes), at the same point."""
    found: dict[str, Numbers] = {}
    for law in derive(circuit, region, load, conventions=conventions).laws:
        symbol, needs = law.symbols[0], law.symbols[1:]
        written = law.id.startswith(("if.", "slope.")) and symbol not in values
        if written and all(name in values for name in needs):
            whole = np.ones_like(next(iter(values.values())))
            found[symbol] = evaluate(law.equation.rhs, values) * whole  # type: ignore[arg-type]
    return found
