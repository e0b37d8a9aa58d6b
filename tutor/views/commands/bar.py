"""A bar on standard error while something long is made: quiet where standard error is no terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from tutor.later import later

if TYPE_CHECKING:
    from rich import console as consoles
    from rich import progress
else:
    consoles = later("rich.console")
    progress = later("rich.progress")


@contextmanager
def bar() -> Iterator[Callable[[int, int, str], None]]:
    """The bar, and what moves it: so many done of so many, and what they are. It is gone when it is left."""
    columns = (
        progress.TextColumn("{task.description}"), progress.BarColumn(bar_width=24),
        progress.TextColumn("{task.completed}/{task.total}"), progress.TimeRemainingColumn(),
    )  # fmt: skip
    console = consoles.Console(file=sys.stderr)
    with progress.Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as shown:
        task = shown.add_task("starting", total=None)
        making = ""

        def told(done: int, total: int, what: str) -> None:
            nonlocal making
            if what != making:
                shown.reset(task, total=total, description=what)
                making = what
            shown.update(task, completed=done, total=total)

        yield told
