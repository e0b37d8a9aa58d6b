"""Names of files made from learners' ids, which are text that anybody may have written.

Place in the data flow: a learner's id -> the stem of that learner's files, always a plain name within its folder.
"""

from __future__ import annotations

import re
from hashlib import sha256

MOST_OF_A_STEM = 60  # characters; with an ending well within what file systems take
_PLAIN = re.compile(r"[a-z0-9][a-z0-9_-]*(?:\.[a-z0-9_-]+)*", re.ASCII)
_OTHER = re.compile(r"[^A-Za-z0-9_-]+", re.ASCII)
# Names of devices on one system, with any ending (its documentation on naming files, from memory).
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\..*)?", re.ASCII | re.IGNORECASE)
_DIGITS = 12


def safe_stem(learner_id: str) -> str:
    """The stem for an id: the id itself where it is plain and small, else what is plain of it with a digest of it.

    >>> safe_stem("w01"), safe_stem("../../x").startswith("x-")
    ('w01', True)
    """
    if _PLAIN.fullmatch(learner_id) and len(learner_id) <= MOST_OF_A_STEM and not _DEVICES.fullmatch(learner_id):
        return learner_id
    plain = _OTHER.sub("-", learner_id).strip("-")[: MOST_OF_A_STEM - _DIGITS - 1]
    digest = sha256(learner_id.encode("utf-8", "surrogatepass")).hexdigest()[:_DIGITS]
    return f"{plain}-{digest}" if plain else f"id-{digest}"
