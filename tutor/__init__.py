"""Steadyrail: regulator exercises derived from the circuit, worked as on paper.

In data-flow order: `circuits()` and `families()` say what there is; `derive` shows where a relation comes from; `solve`
works anybody's own numbers; `problem` draws and works a generated one; `check` finds the line at which a working went
wrong. Each returns a frozen value that shows itself.

    >>> import tutor
    >>> print(tutor.solve("zener-shunt", {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "I_L": "10 mA"}).value("I_Z"))
    16.82 mA

Names are looked up when first used, so that a use which needs no algebra never loads it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tutor.across.named import across_families as across_families
    from tutor.across.named import problem as problem
    from tutor.generate.compile import compile_level as compile_level
    from tutor.sets.cluster import over_cluster as over_cluster
    from tutor.solution.derivation import derive as derive
    from tutor.solution.desk import circuits as circuits
    from tutor.solution.desk import families as families
    from tutor.solution.desk import open_desk as open_desk
    from tutor.solution.own import solve as solve
    from tutor.solution.recipes import generic_recipe as generic_recipe
    from tutor.solution.recipes import make_own_recipes as make_own_recipes
    from tutor.solution.recipes import make_recipes as make_recipes
    from tutor.views.bench_plot import sweep_figure as sweep_figure
    from tutor.views.bench_plot import wave_figure as wave_figure
    from tutor.views.checking import check as check

_WHERE = {
    "circuits": "tutor.solution.desk",
    "families": "tutor.solution.desk",
    "derive": "tutor.solution.derivation",
    "solve": "tutor.solution.own",
    "problem": "tutor.across.named",
    "across_families": "tutor.across.named",
    "check": "tutor.views.checking",
    "open_desk": "tutor.solution.desk",
    "compile_level": "tutor.generate.compile",
    "generic_recipe": "tutor.solution.recipes",
    "make_recipes": "tutor.solution.recipes",
    "make_own_recipes": "tutor.solution.recipes",
    "over_cluster": "tutor.sets.cluster",
    "sweep_figure": "tutor.views.bench_plot",
    "wave_figure": "tutor.views.bench_plot",
}

__all__ = [
    "across_families",
    "check",
    "circuits",
    "compile_level",
    "derive",
    "families",
    "generic_recipe",
    "make_own_recipes",
    "make_recipes",
    "open_desk",
    "over_cluster",
    "problem",
    "solve",
    "sweep_figure",
    "wave_figure",
]


def __getattr__(name: str) -> object:
    if name in _WHERE:
        return getattr(import_module(_WHERE[name]), name)
    raise AttributeError(f"module 'tutor' has no attribute '{name}'")
