"""Packs the data scripts of the site: what pages send for takes a fraction of its room, on a stick as on a server.

Vocabulary: a *data script* hands one literal to the page, by a call or an assignment; *packed* it hands on the same
literal in LZMA and base 64 (RFC 4648), which `site/assets/unpack.js` unpacks at once, in any browser and from a folder
too. The literal must be JSON as well. Banks repeat themselves over hundreds of kilobytes, further back than deflate
looks, and take a quarter less room so.
Place in the data flow: texts of bank/*.js, sheets/*.js, own/*.js, circuits/*.js and desks/*.js -> `packed` -> files.
"""

from __future__ import annotations

import lzma
import re
from base64 import b64decode, b64encode

# What unpack.js takes for granted: four bits of the byte before choose a literal's coder, places count for nothing.
FILTERS = [{"id": lzma.FILTER_LZMA1, "preset": 9, "lc": 4, "lp": 0, "pb": 0}]
LEAST_DICTIONARY, LARGEST_DICTIONARY = 4096, 64 * 1024 * 1024  # bytes: what LZMA takes, and what its preset 9 has
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
    return f'{found["before"]}Steadyrail.unpack("{pressed(found["literal"])}"){found["after"]}'


def unpacked(script: str) -> str:
    """The data script that was packed; the inverse of `packed`. ValueError for a script that is none."""
    found = _PACKED.fullmatch(script)
    if found is None:
        raise ValueError(f"this is no packed script: {script[:60]!r}")
    literal = lzma.decompress(b64decode(found["text"]), lzma.FORMAT_RAW, filters=FILTERS).decode()
    return f"{found['before']}{literal}{found['after']}"


def pressed(text: str) -> str:
    """A text in LZMA as closely as it goes, without a head, in base 64."""
    data = text.encode()
    # No dictionary is larger than what it is of: that of the preset takes longer to lay out than a small text to pack.
    size = min(max(len(data), LEAST_DICTIONARY), LARGEST_DICTIONARY)
    filters = [{**FILTERS[0], "dict_size": size}]
    return b64encode(lzma.compress(data, lzma.FORMAT_RAW, filters=filters)).decode()
