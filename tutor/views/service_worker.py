"""The script that keeps visited pages for reading without a network, versioned by what was built.

Vocabulary: the *shell* is the front pages with what they ask for, kept from the first visit on; the *version* is a
digest of every file of the site, so that the same build is the same version and any other build another. The browser
runs the script beside the pages of one folder (Service Workers, W3C): wherever the site is served, it minds that
folder and no more.
Place in the data flow: the built folder -> `service_worker` -> sw.js, from `site/templates/sw.js`.
"""

from __future__ import annotations

import json
import re
from hashlib import sha256
from pathlib import Path

from tutor.views.sources import site_folder

WORKER_FILE = "sw.js"
_FRONT = ("index.html", "settings.html", "symbols.html", "own.html", "desks.html")
_ASKED = re.compile(r'<(?:link rel="(?:stylesheet|icon)" href|script src)="([^"]+)"')
_VERSION, _SHELL = '"@version@"', '["@shell@"]'


def service_worker(folder: Path) -> str:
    """The script for the site built in `folder`, which must be whole but for this file."""
    text = (site_folder() / "templates" / WORKER_FILE).read_text(encoding="utf-8")
    shell = json.dumps(_shell(folder))
    return text.replace(_VERSION, json.dumps(version_of(folder))).replace(_SHELL, shell)


def version_of(folder: Path) -> str:
    """A digest of every file in the folder but the script itself, by its place and its bytes."""
    digest = sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file() and path.name != WORKER_FILE):
        place = path.relative_to(folder).as_posix().encode()
        digest.update(len(place).to_bytes(4) + place + sha256(path.read_bytes()).digest())
    return digest.hexdigest()[:16]


def asked_by(page: Path) -> list[Path]:
    """The files that a page asks for when it is opened: its icon, sheets and scripts, as its markup names them."""
    return [(page.parent / found).resolve() for found in _ASKED.findall(page.read_text(encoding="utf-8"))]


def _shell(folder: Path) -> list[str]:
    """Places, from the site's top folder, of what is kept from the first visit on."""
    folder = folder.resolve()
    front = [folder / name for name in _FRONT if (folder / name).is_file()]
    fonts = sorted((folder / "fonts").glob("*.woff2"))
    asked = sorted({path for page in front for path in asked_by(page)})
    return [path.relative_to(folder).as_posix() for path in (*front, *asked, *fonts)]
