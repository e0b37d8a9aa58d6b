"""Typst code -> PDF, in this process: the compiler of the `typst` wheel and our fonts.

Same code, same bytes: no date enters, fonts come from packages alone (Libertinus Serif and its kin from the compiler,
STIX Two Math from ziamath, DejaVu Sans from ziafont for letters that the text face lacks), never from the system.
Place in the data flow: code of a document -> `compile_pdf` -> bytes.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import typst

from tutor.errors import SteadyrailError

_FONT_PACKAGES = ("ziamath", "ziafont")


@cache
def _fonts() -> typst.Fonts:
    """The fonts there are, read once in a process."""
    found = [str(files(package).joinpath("fonts")) for package in _FONT_PACKAGES]
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=found)


def compile_pdf(code: str) -> bytes:
    """The PDF of a document's code (`document.py`); equal code gives equal bytes.

    Raises SteadyrailError for code that does not compile or only with a warning (an unknown font is one): a mistake
    in this folder, since no text of anybody's becomes code.
    """
    compiler = typst.Compiler(font_paths=_fonts(), ignore_system_fonts=True)
    try:
        made, warnings = compiler.compile_with_warnings(input=code.encode(), format="pdf", timestamp=0)
    except typst.TypstError as error:
        raise SteadyrailError(f"a paper cannot be set: {error.message} {' '.join(error.hints)}".strip()) from error
    if warnings:
        raise SteadyrailError(f"a paper cannot be set as it should be: {warnings[0].message}")
    if not isinstance(made, bytes):
        raise SteadyrailError("a paper cannot be set: the compiler gave no PDF")
    return made
