"""What may be typed in a line of working, told from the reader's own tables; and the keys that a phone lacks.

Vocabulary: a *letter* is a symbol of the problem without its end (V_I, not V_I_MIN); a *topic* is a heading with rows
of spellings and what they mean; a *key* is a button that writes its text into the line.
Place in the data flow: tables of `quantities` and `working` + a problem's letters -> topics and keys -> pages. The
spellings come from the tables alone; only the words that explain them stand here, and a table that grows without them
is a KeyError when the site is built.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tutor.generate.problem import Problem
from tutor.quantities import misread
from tutor.quantities.expression import Sym, leaves
from tutor.quantities.symbols import SYMBOLS, is_symbol, resolve_alias, split_name, symbol_for
from tutor.quantities.units import Unit, prefixes, units
from tutor.solution.solution import Solution
from tutor.working.alphabet import RELATIONS, SIGNS, SUPERSCRIPTS
from tutor.working.collisions import BY_SPELLING, Clash, Collision
from tutor.working.tokens import Kind, tokens_of
from tutor.working.vocabulary import Vocabulary
from tutor.working.words import CHANGES, CHOICES, CONSTANTS, ENDS, FUNCTIONS, HYPOTHESES, OPENINGS, Phrases


@dataclass(frozen=True)
class TypingRow:
    """Spellings that mean the same, and what they mean, in plain words."""

    typed: tuple[str, ...]
    words: str


@dataclass(frozen=True)
class TypingTopic:
    """A heading and its rows."""

    title: str
    rows: tuple[TypingRow, ...]


@dataclass(frozen=True)
class Key:
    """A button of the row of keys: the text it writes, what it is called, and the letter it is (or '')."""

    text: str
    words: str
    letter: str = ""


_SIGN_WORDS = {
    "+": "plus", "-": "minus", "×": "times", "/": "divided by", "^": "to the power of", "∥": "in parallel with",
    "±": "plus or minus a percentage", "√": "square root of", "=": "equals", "≈": "is about", "<": "is less than",
    ">": "is greater than", "≤": "is at most", "≥": "is at least",
}  # fmt: skip
_END_WORDS = {"MIN": "the least value", "MAX": "the greatest value", "NOM": "the nominal value"}
_FUNCTION_WORDS = {
    "sqrt": "square root", "ln": "natural logarithm", "log10": "logarithm to base ten", "exp": "e to the power of",
    "abs": "size without sign", "min": "the least of several", "max": "the greatest of several",
}  # fmt: skip
_CONSTANT_WORDS = {"π": "3.1416"}
# Rows of ASCII characters that a keyboard has; the reader says which sign, if any, each of them is.
_MARKS = ("*", "**", "^", "||", "//", "<=", ">=", ":=", "~", "+/-")
_EXAMPLE = "4.7"


def letters_of(problem: Problem, solution: Solution, marked: Iterable[str]) -> tuple[str, ...]:
    """The letters of a problem and those `marked` in its drawing, in the order of the table of symbols.

    That order tells nothing of the solution.
    """
    names = [*marked, *problem.given, *(row.symbol for row in problem.table)]
    names += [point.key for point in problem.waypoints]
    for step in solution.steps:
        for chain in step.chains:
            for member in (chain.first, *(expr for _, expr in chain.rest)):
                names += [leaf.name for leaf in leaves(member) if isinstance(leaf, Sym)]
    letters = dict.fromkeys(_letter(name) for name in names if is_symbol(name))
    order = {name: place for place, name in enumerate(SYMBOLS)}
    return tuple(sorted(letters, key=lambda letter: (order[split_name(letter).base], letter)))


def _letter(name: str) -> str:
    parts = split_name(name)
    return f"{parts.base}_{parts.index}" if parts.index else parts.base


def letter_keys(letters: tuple[str, ...], keys: Iterable[str]) -> tuple[Key, ...]:
    """A key for each letter, and one for each end of a range that the problem's `keys` use."""
    used = {split_name(name).end for name in keys if is_symbol(name)}
    found = [Key(letter, f"{letter}, {symbol_for(letter).meaning}", letter) for letter in letters]
    found += [Key(f"_{end}", f"{end.lower()}, {words}", "") for end, words in _END_WORDS.items() if end in used]
    return tuple(found)


def sign_keys(letters: tuple[str, ...]) -> tuple[Key, ...]:
    """A key for each sign, unit letter and prefix that stands on no ordinary keyboard."""
    printed = dict.fromkeys(unit.printed for unit in _units_of(letters))
    found = [Key(char, f"{char}, the unit") for unit in printed for char in unit if not char.isascii() and char != "°"]
    found += [Key("°C", "degrees Celsius")] if "°C" in printed else []
    found += [Key(prefix, f"{prefix}, a millionth") for prefix in prefixes() if prefix and not prefix.isascii()]
    found += [Key(sign, _SIGN_WORDS[sign]) for sign in "√∥"]
    found += [Key(SUPERSCRIPTS[2], "squared"), *(Key(mark, "change of") for mark in CHANGES if len(mark) == 1)]
    others = (sign for sign in SIGNS + RELATIONS if not sign.isascii() and sign not in "√∥")
    return (*found, *(Key(sign, _SIGN_WORDS[sign]) for sign in others))


def typing_topics(letters: tuple[str, ...]) -> tuple[TypingTopic, ...]:
    """Everything a line may hold, for a problem with these letters."""
    topics = (
        TypingTopic("Numbers and units", tuple(_number_rows(letters))),
        TypingTopic("Signs", tuple(_sign_rows())),
        TypingTopic("The letters of this problem", tuple(_letter_rows(letters))),
        TypingTopic("Words", tuple(_word_rows())),
        TypingTopic("Functions", tuple(_function_rows())),
        TypingTopic("Where a unit and a letter look alike", tuple(_clash_rows(letters))),
    )
    return tuple(topic for topic in topics if topic.rows)


def _units_of(letters: tuple[str, ...]) -> tuple[Unit, ...]:
    """The simple units of some letters, in the order of the table."""
    codes = {symbol_for(letter).unit for letter in letters}
    return tuple(unit for code, unit in units().items() if code in codes and code and "/" not in code)


def _number_rows(letters: tuple[str, ...]) -> Iterator[TypingRow]:
    mine = _units_of(letters)
    for unit in mine:
        yield TypingRow(_told_apart((unit.printed, unit.code, *unit.typed)), unit.kind)
    used = [item for item in prefixes().values() if item.typed and any(item.printed in unit.prefixes for unit in mine)]
    if used:
        spelled = _told_apart(typed for item in used for typed in (item.printed, *item.typed))
        least, most = used[0], used[-1]
        shown = next((item.printed for item in used if item.power == -3), most.printed)
        yield TypingRow(
            spelled,
            f"prefixes, 10{_raised(least.power)} to 10{_raised(most.power)}, before a unit or alone: "
            f"{_EXAMPLE} {shown}{mine[0].printed}, {_EXAMPLE}{shown}",
        )
    yield from _decimal_letter_rows(mine)
    whole = _EXAMPLE[0]
    yield TypingRow((f"{whole}e-3", f"{whole} × 10^-3", f"{whole} × 10{_raised(-3)}"), "powers of ten")


def _decimal_letter_rows(mine: tuple[Unit, ...]) -> Iterator[TypingRow]:
    """Letters in the place of the decimal sign, as on the part itself: those with a unit in use, and thousands up."""
    whole, part = _EXAMPLE.split(".")
    printed = {unit.code: unit.printed for unit in mine}
    values = dict[str, list[str]]()
    for letter, (power, code) in misread.LETTERS.items():
        if code in printed:
            values.setdefault(f"{_EXAMPLE} {printed[code]}", []).append(f"{whole}{letter}{part}")
            if letter in misread.LEADING_LETTERS:
                values.setdefault(f"0.{whole}{part} {printed[code]}", []).append(f"{letter}{whole}{part}")
        elif not code and power > 0:
            values.setdefault(f"{_EXAMPLE} × 10{_raised(power)}", []).append(f"{whole}{letter}{part}")
    for said, typed in values.items():
        yield TypingRow(_told_apart(typed), said)


def _told_apart(spellings: Iterable[str]) -> tuple[str, ...]:
    """The spellings that a reader of the page can tell apart: of look-alikes, and of Volt and volt, the first."""
    seen = dict[str, str]()
    for spelling in spellings:
        plain = "".join(misread.ALIKE.get(char, char) for char in spelling)
        seen.setdefault(plain.lower() if len(plain) > 2 else plain, spelling)
    return tuple(seen.values())


def _raised(power: int) -> str:
    return ("⁻" if power < 0 else "") + "".join(SUPERSCRIPTS[int(digit)] for digit in str(abs(power)))


def _sign_rows() -> Iterator[TypingRow]:
    spelled = dict[str, list[str]]()
    for mark in _MARKS:
        spelled.setdefault(sign_of(mark), []).append(mark)
    others = [sign for sign in SIGNS + RELATIONS if not sign.isascii() or sign in spelled]
    for sign in others:
        yield TypingRow(tuple(dict.fromkeys((sign, *spelled.get(sign, ())))), _SIGN_WORDS[sign])
    usual = tuple(sign for sign in SIGNS + RELATIONS if sign not in others)
    yield TypingRow(usual, ", ".join(_SIGN_WORDS[sign] for sign in usual))
    yield TypingRow((SUPERSCRIPTS[2], SUPERSCRIPTS[3]), "squared, cubed")
    yield TypingRow(("( )", "[ ]"), "brackets; two things side by side with a space are multiplied")


def sign_of(mark: str) -> str:
    """The one sign that the reader sees in a row of ASCII characters; '' when it sees something else."""
    found = tokens_of(mark, Vocabulary(frozenset()))
    return found[0].text if len(found) == 1 and found[0].kind in (Kind.SIGN, Kind.RELATION) else ""


def _letter_rows(letters: tuple[str, ...]) -> Iterator[TypingRow]:
    for letter in letters:
        symbol = symbol_for(letter)
        spelled = dict.fromkeys((letter, letter.replace("_", ""), *symbol.aliases))
        yield TypingRow(tuple(spelled), symbol.meaning)
    example = next((letter for letter in letters if len(letter) > 1), "")
    if not example:
        return
    for end, words in _END_WORDS.items():
        joined = [f"{example}_{end}"] + [f"{example} {word}" for word, meant in ENDS.items() if meant == end]
        yield TypingRow(tuple(joined), f"{words} of a quantity")
    marks = [*sorted(mark for mark in CHANGES if len(mark) == 1), "d"]
    yield TypingRow(tuple(f"{mark}{example}" for mark in marks), "the change of a quantity between two corners")


def _word_rows() -> Iterator[TypingRow]:
    yield TypingRow(_short(OPENINGS), "set aside at the start of a line")
    yield TypingRow(_short(HYPOTHESES), "and a state: what follows is checked in that state, until a blank line")
    verbs = sorted(CHOICES)
    yield TypingRow(tuple(verbs), "and a letter with its value: your own choice of a part")
    yield TypingRow(("full load:",), "words before a colon are a label")
    yield TypingRow((", at low line",), "words after a comma are a remark")


def _short(phrases: Phrases) -> tuple[str, ...]:
    """The phrases of one word."""
    return tuple(sorted(phrase[0] for starting in phrases.values() for phrase in starting if len(phrase) == 1))


def _function_rows() -> Iterator[TypingRow]:
    for name, words in _FUNCTION_WORDS.items():
        spelled = [typed for typed, (called, _, _) in FUNCTIONS.items() if called == name]
        most = max(FUNCTIONS[typed][2] for typed in spelled)
        yield TypingRow(tuple(f"{typed}({'2, 3' if most > 1 else '2'})" for typed in spelled), words)
    for name, words in _CONSTANT_WORDS.items():
        yield TypingRow(tuple(typed for typed in CONSTANTS if CONSTANTS[typed] == CONSTANTS[name]), words)


def _clash_rows(letters: tuple[str, ...]) -> Iterator[TypingRow]:
    for spelling, row in BY_SPELLING.items():
        letter = resolve_alias(spelling)
        if letter in letters and spelling in misread.tokens():
            yield from _clash(spelling, str(letter), row)


def _clash(spelling: str, letter: str, row: Collision) -> Iterator[TypingRow]:
    places = {f"2{spelling}": row.joined, f"2 {spelling}": row.apart, f"(4 - 2) {spelling}": row.after}
    token = misread.tokens()[spelling]
    meant = {
        Clash.UNIT: f"the unit {units()[token.code].printed}",
        Clash.SYMBOL: f"the letter {letter}",
        Clash.ASK: f"queried: write × before the letter {letter}",
        Clash.FACTOR: f"the letter {letter} where the product goes on, else queried",
    }
    for clash in dict.fromkeys(places.values()):
        yield TypingRow(tuple(place for place, what in places.items() if what is clash), meant[clash])
