"""A note as a LaTeX document that compiles by itself: article, amsmath and packages of the base tools.

Source of what must be escaped: the ten special characters of LaTeX (L. Lamport, LaTeX: a document preparation system,
2nd edition, 1994, 2.1; from memory).
"""

from __future__ import annotations

import re

from tutor.views.notes.blocks import Block, Display, Heading, Note, Paragraph, Table
from tutor.views.notes.latex import chain_rows, latex_formula
from tutor.views.prose_pieces import set_prose

_SPECIAL = {
    "\\": r"\textbackslash{}", "{": r"\{", "}": r"\}", "$": r"\$", "&": r"\&", "#": r"\#", "%": r"\%", "_": r"\_",
    "^": r"\textasciicircum{}", "~": r"\textasciitilde{}", "<": r"\textless{}", ">": r"\textgreater{}",
    "|": r"\textbar{}", '"': r"\textquotedbl{}", "`": r"\textasciigrave{}", "[": "{[}", "]": "{]}",
    "\u00a0": "~", "\u202f": r"\,", "\u2009": r"\,", "−": "$-$", "×": r"$\times$", "·": r"$\cdot$", "÷": r"$\div$",
    "±": r"$\pm$", "≤": r"$\leq$", "≥": r"$\geq$", "≈": r"$\approx$", "≠": r"$\neq$", "∥": r"$\parallel$",
    "∂": r"$\partial$", "√": r"$\surd$", "∞": r"$\infty$", "→": r"$\rightarrow$", "Ω": r"$\Omega$", "Δ": r"$\Delta$",
    "π": r"$\pi$", "η": r"$\eta$", "α": r"$\alpha$", "β": r"$\beta$", "φ": r"$\varphi$", "Θ": r"$\Theta$",
    "µ": r"\textmu{}", "μ": r"\textmu{}", "°": r"\textdegree{}", "½": r"\textonehalf{}",
    "–": "--", "—": "---", "‘": "`", "’": "'", "“": "``", "”": "''", "…": r"\ldots{}",
    "⁻": r"\textsuperscript{$-$}",
    **{raised: rf"\textsuperscript{{{digit}}}" for digit, raised in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")},
}  # fmt: skip
_LAST_LATIN = 0x17F  # up to here letters are set by the usual fonts
_HEAD = r"""\documentclass[11pt,a4paper]{article}
\usepackage[T1]{fontenc}
\usepackage[utf8]{inputenc}
\usepackage{textcomp}
\usepackage{amsmath}
\usepackage[margin=25mm]{geometry}
\usepackage{array}
\usepackage{longtable}
\setlength{\parindent}{0pt}
\setlength{\parskip}{6pt}
\setlength{\tabcolsep}{4pt}
\setlength{\emergencystretch}{3em}
\begin{document}
"""


def latex_text(note: Note) -> str:
    """The whole note as a LaTeX document."""
    parts = [rf"\section*{{{_prose(note.title)}}}"]
    if note.aside:
        parts.append(rf"\textit{{{latex_words(note.aside)}}}")
    parts += [_block(block) for block in note.blocks]
    return _HEAD + "\n\n".join(parts) + "\n\n\\end{document}\n"


def latex_words(text: str) -> str:
    """Plain words with everything escaped that LaTeX would take for its own.

    A character that no usual font has is named by its code point.
    """
    return "".join(map(_letter, text))


def _letter(letter: str) -> str:
    if letter in _SPECIAL:
        return _SPECIAL[letter]
    known = letter in "\t\n" or " " <= letter <= "~" or 0xA0 < ord(letter) <= _LAST_LATIN
    return letter if known else f"{{[}}U+{ord(letter):04X}{{]}}"


def _block(block: Block) -> str:
    if isinstance(block, Heading):
        kind = "subsection" if block.level == 1 else "subsubsection"
        return rf"\{kind}*{{{_prose(block.text)}}}"
    if isinstance(block, Paragraph):
        lead = rf"\textbf{{{_prose(block.lead)}:}}" if block.lead else ""
        return " ".join(filter(None, (lead, _prose(block.text))))
    if isinstance(block, Display):
        rows = " \\\\\n".join(chain_rows(block.chain))
        return f"\\begin{{align*}}\n{rows}\n\\end{{align*}}"
    if isinstance(block, Table):
        return _table(block)
    return "\n".join([r"\begin{itemize}", *(rf"\item {_prose(item)}" for item in block.items), r"\end{itemize}"])


def _table(block: Table) -> str:
    columns = "".join(rf">{{\raggedright\arraybackslash}}p{{{width:g}\linewidth}}" for width in block.widths)
    head = " & ".join(rf"\textbf{{{_prose(cell)}}}" for cell in block.head)
    rows = [" & ".join(_prose(cell) for cell in row) for row in block.rows]
    body = "".join(f"{row} \\\\\n" for row in rows)
    return f"\\begin{{longtable}}{{@{{}}{columns}@{{}}}}\n{head} \\\\ \\hline\n\\endhead\n{body}\\end{{longtable}}"


def _prose(text: str) -> str:
    flat = " ".join(re.split(r"[ \t\r\n]+", text))
    return set_prose(flat, latex_words, lambda formula: f"${latex_formula(formula, text)}$")
