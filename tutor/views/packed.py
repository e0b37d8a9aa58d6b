"""Packs the data scripts of the site: what pages send for takes a fraction of its room, on a stick as on a server.

Vocabulary: a *data script* hands one literal to the page, by a call or an assignment; *packed* it hands on the same
literal deflated (RFC 1951) in base 64 (RFC 4648), which `site/assets/unpack.js` unpacks at once, in any browser and
from a folder too. The literal must be JSON as well.
Place in the data flow: texts of bank/*.js, sheets/*.js, own/*.js, circuits/*.js and desks/*.js -> `packed` -> files.
"""

from __future__ import annotations

import re
import zlib
from base64 import b64decode, b64encode

_HANDED = re.compile(
    r'(?P<before>Steadyrail\.\w+\("[^"]*", |\(window\.Steadyrail = window\.Steadyrail \|\| \{\}\)\.\w+ = )'
    r"(?P<literal>\{.*\})(?P<after>\)?;\n)",
    re.DOTALL,
)
_PACKED = re.compile(r'(?P<before>.*)Steadyrail\.unpack\("(?P<text>[A-Za-z0-9+/=]*)"\)(?P<after>\)?;\n)', re.DOTALL)


def packed(script: str) -> str:
    """The data script with its literal packed; ValueError for a script of another form."""
    found = _HANDED.fullmatch(script)
    if found is None:
        raise ValueError(f"this is no script that hands one literal to a page: {script[:60]!r}")
    return f'{found["before"]}Steadyrail.unpack("{deflated(found["literal"])}"){found["after"]}'


def unpacked(script: str) -> str:
    """The data script that was packed; the inverse of `packed`."""
    found = _PACKED.fullmatch(script)
    if found is None:
        raise ValueError(f"this is no packed script: {script[:60]!r}")
    return f"{found['before']}{zlib.decompress(b64decode(found['text']), -15).decode()}{found['after']}"


def deflated(text: str) -> str:
    """A text deflated as closely as it goes, without head or tail, in base 64."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15, 9)
    return b64encode(packer.compress(text.encode()) + packer.flush()).decode()
