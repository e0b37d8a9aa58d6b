"""Finds the sources of the study site: templates, lessons, assets.

In a checkout they stand in `site/` beside the package; in an installed wheel in `tutor/_site`.
"""

from __future__ import annotations

from pathlib import Path

from tutor.errors import SteadyrailError


def site_folder() -> Path:
    """The folder with the site's templates, lessons and assets; SteadyrailError when it is in neither place."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_site", package.parent / "site"):
        if (folder / "templates").is_dir():
            return folder
    raise SteadyrailError(
        f"the study site's sources are missing: neither {package / '_site'} nor {package.parent / 'site'} "
        "holds templates; install the package again"
    )
