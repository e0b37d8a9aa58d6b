"""Makes the maths font of the pages: STIX Two Math, cut down to the signs that our formulas use.

The font comes inside the ziamath wheel; fonttools keeps its MATH table (stretchy brackets, radicals, script sizes)
for the kept signs and writes woff2. The SIL Open Font Licence asks for its text beside every copy.
Place in the data flow: installed font -> `maths_font` -> fonts/*.woff2 and its licence in the site.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import files
from io import BytesIO

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FONT_FILE = "STIXTwoMath-subset.woff2"
LICENCE_FILE = "STIXTwoMath-OFL.txt"

_ASCII = range(0x20, 0x7F)
_GREEK = (*range(0x391, 0x3AA), *range(0x3B1, 0x3CA), 0x3D5, 0x3F5)
_SIGNS = tuple(map(ord, "\u00a0\u202f\u2009\u2061\u2062°±·×÷µ−∂√≈≤≥≠∥∞∆∝→…′″‰½²³⁻¹"))
_ITALIC = (*range(0x1D434, 0x1D468), 0x210E, *range(0x1D6E2, 0x1D71C))  # mathematical italic letters, h apart


@dataclass(frozen=True)
class Font:
    """A web font and what its licence asks to stand beside it."""

    woff2: bytes
    copyright: str


def maths_font() -> Font:
    """The cut-down STIX Two Math as woff2; equal bytes from equal wheels."""
    source = files("ziamath").joinpath("fonts", "STIXTwoMath-Regular.ttf").read_bytes()
    font = TTFont(BytesIO(source), recalcTimestamp=False)
    owner = font["name"].getDebugName(0) or ""
    options = Options()
    options.layout_features = ["ssty", "dtls", "flac"]  # script sizes and accents: what MathML layout asks for
    options.hinting = False
    options.notdef_outline = True
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.flavor = "woff2"
    options.drop_tables = [*options.drop_tables, "DSIG"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[*_ASCII, *_GREEK, *_SIGNS, *_ITALIC])
    subsetter.subset(font)
    font.flavor = "woff2"
    out = BytesIO()
    font.save(out)
    return Font(out.getvalue(), owner)
