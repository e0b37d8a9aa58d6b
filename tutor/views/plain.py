"""Prose, chains, checks and lists as plain text: for the terminal, for JSON and tables, and within sentences.

Place in the data flow: values of a Problem or Solution -> words. How a formula is spelt is said in `quantities`.
"""

from __future__ import annotations

from tutor.quantities.notation import plain, relation_sign
from tutor.quantities.prose import prose_text
from tutor.solution.solution import Chain, Check


def unbound_text(prose: str) -> str:
    """Prose as plain text with ordinary spaces, for whatever breaks no lines; BadFormula as `prose_text` raises it."""
    return prose_text(prose).replace("\u00a0", " ")


def sentence(text: str) -> str:
    """Words as a sentence: a capital first, and a full stop; '' stays ''.

    >>> sentence("the sign is turned"), sentence("$V_O$ or not?")
    ('The sign is turned.', '$V_O$ or not?')
    """
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?', '!')) else '.'}" if text else ""


def verdict(check: Check) -> str:
    """Whether a check holds, and what is to spare or missing: `holds, 0.9 mA to spare`."""
    return f"{'holds' if check.holds else 'does not hold'}{f', {check.margin}' if check.margin else ''}"


def chain_parts(chain: Chain) -> tuple[str, list[str]]:
    """The head of a chain and each `= …` after it."""
    return plain(chain.first), [f"{relation_sign(relation)} {plain(expr)}" for relation, expr in chain.rest]


def chain_text(chain: Chain) -> str:
    """A chain on one line."""
    head, rest = chain_parts(chain)
    return " ".join([head, *rest])


def chain_lines(chain: Chain, width: int) -> list[str]:
    """A chain set within `width` columns, relations under one another when it does not fit on one line.

    A side that is too long by itself goes on at a sum's or a product's sign, one step further in.
    """
    whole = chain_text(chain)
    if len(whole) <= width:
        return [whole]
    head, rest = chain_parts(chain)
    indent = " " * (len(head) + 1)
    sides = [head if not rest else f"{head} {rest[0]}", *(f"{indent}{side}" for side in rest[1:])]
    return [line for side in sides for line in _broken(side, width, f"{indent}  ")]


def _broken(line: str, width: int, indent: str) -> list[str]:
    """A line broken before the last of the outermost signs that fit, a sum's before a product's; else whole."""
    if len(line) <= width:
        return [line]
    depth, places = 0, []
    for place, letter in enumerate(line[: width + 2]):
        depth += (letter in "([") - (letter in ")]")
        if letter in "+−×" and line[place - 1] == line[place + 1 : place + 2] == " " and place > len(indent):
            places.append((depth, letter == "×", -place))
    if not places:
        return [line]
    at = -min(places)[2]
    return [line[:at].rstrip(), *_broken(indent + line[at:], width, indent)]
