"""Pages that stand alone and run nothing: their sheets inside them, allowed by digest, and nothing else.

Place in the data flow: style sheets of the site -> the style and the policy of a page (feedback sheets, class reports).
Maths is set in whatever maths font the reader has: such a page is one of thousands, and a font in each would be most
of it. Source of the policy: Content Security Policy 3, 2.3.1.
"""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256

from tutor.views.sources import site_folder

_SHEETS = ("page", "maths", "feedback")
_FONT = re.compile(r"@font-face \{.*?\}\n", re.DOTALL)


@cache
def style_and_policy() -> tuple[str, str]:
    """The style of a page that stands alone, and the policy that allows it and pictures in data addresses."""
    assets = site_folder() / "assets"
    text = "\n".join((assets / f"{stem}.css").read_text(encoding="utf-8") for stem in _SHEETS)
    style = _FONT.sub("", text)
    digest = b64encode(sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"
    return style, policy
