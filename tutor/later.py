"""The third door: a module that is imported when a name is first looked up in it.

It stands at the top of a file, beside the import that says the same to the checker of types and to whoever reads:

    if TYPE_CHECKING:
        from tutor.views import pages
    else:
        pages = later("tutor.views.pages")

For what takes long to import and is not needed each time: the algebra, drawings, printing. What is named so counts as
an import (`tests/test_layers.py` holds both lines to each other, to the layers and to the circles).
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType


class Later(ModuleType):
    """A stand-in for the module of its name; each look-up goes to the module itself, imported by then."""

    def __getattr__(self, name: str) -> object:
        """The module's own; AttributeError where it has none of that name."""
        return getattr(import_module(self.__name__), name)


def later(module: str) -> Later:
    """The module of that whole name, as `tutor.views.pages`, without importing it yet."""
    return Later(module)
