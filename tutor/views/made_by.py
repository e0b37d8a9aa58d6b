"""A digest of all that sheets are made by: the engine, the problems, the templates and sheets of style.

Place in the data flow: our own files -> a digest that stands in the keys of what is kept, so that nothing made by an
earlier release is taken for a new one's.
"""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

from tutor.solution.desk import our_desk
from tutor.views.sources import site_folder

_ENDINGS = (".py", ".typ", ".html", ".css", ".csv", ".json", ".txt", ".toml")


@cache
def made_by() -> str:
    """The digest, worked out once in a process."""
    site = site_folder()
    digest = sha256()
    for folder in (Path(__file__).resolve().parent.parent, our_desk().folder.path, site / "templates", site / "assets"):
        for file in sorted(folder.rglob("*")):
            if file.suffix in _ENDINGS and file.is_file():
                digest.update(file.name.encode())
                digest.update(file.read_bytes())
    return digest.hexdigest()
