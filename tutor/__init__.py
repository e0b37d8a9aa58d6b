"""Steadyrail: regulator exercises derived from the circuit, worked as on paper.

In data-flow order: `circuits()` and `families()` say what there is; `named_circuit` gives one; `derive` shows where a
relation comes from; `solve` works anybody's own numbers; `problem` draws and works a generated one; `check` finds the
line at which a working went wrong. Each returns a frozen value that shows itself: in a notebook as on the study site.

    >>> import tutor
    >>> print(tutor.solve("zener-shunt", {"V_I": "15 V", "R": "220", "V_Z": "9.1 V", "I_L": "10 mA"}).value("I_Z"))
    16.82 mA

Names are looked up when first used, so that a use which needs no algebra never loads it.
"""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tutor.across.named import across_families as across_families
    from tutor.across.named import problem as problem
    from tutor.generate.compile import compile_level as compile_level
    from tutor.sets.cluster import over_cluster as over_cluster
    from tutor.solution.derivation import derive as derive
    from tutor.solution.desk import circuits as circuits
    from tutor.solution.desk import families as families
    from tutor.solution.desk import named_circuit as named_circuit
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
    "named_circuit": "tutor.solution.desk",
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

# What shows itself in a notebook, by `tutor/views/notebook.py`: told by name, so that none of it is loaded for that.
_SHOWN = (
    ("tutor.circuit.circuit", "Circuit"),
    ("tutor.laws.law", "Law"),
    ("tutor.laws.law", "LawSet"),
    ("tutor.generate.problem", "Problem"),
    ("tutor.solution.desk", "WorkedProblem"),
    ("tutor.solution.solution", "Solution"),
    ("tutor.solution.answer", "WorkedAnswer"),
    ("tutor.solution.derivation_values", "Derivation"),
    ("tutor.solution.derivation_values", "DerivedCircuit"),
    ("tutor.across.family", "Posed"),
    ("tutor.views.checking", "CheckedWorking"),
)

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
    "named_circuit",
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


def load_ipython_extension(shell: Any) -> None:
    """Let our values show themselves in a notebook: done by `import tutor` there, else by `%load_ext tutor`."""
    bundles = shell.display_formatter.mimebundle_formatter
    texts = shell.display_formatter.formatters["text/plain"]
    for module, name in _SHOWN:
        bundles.for_type_by_name(module, name, _bundle)
        texts.for_type_by_name(module, name, _print_text)  # within a tuple or a dict
    texts.for_type_by_name("tutor.quantities.quantity", "Quantity", _print_quantity)


def _bundle(value: object) -> object:
    return import_module("tutor.views.notebook").bundle(value)


def _print_text(value: object, printer: Any, cycle: bool) -> None:
    """A value among others, as IPython's pretty printer asks for it."""
    printer.text(import_module("tutor.views.notebook").as_text(value))


def _print_quantity(value: object, printer: Any, cycle: bool) -> None:
    printer.text(str(value))


# A notebook's values show themselves as soon as there is anything to show: its shell is there before us, or never.
if "IPython" in sys.modules and (_shell := sys.modules["IPython"].get_ipython()) is not None:
    load_ipython_extension(_shell)
