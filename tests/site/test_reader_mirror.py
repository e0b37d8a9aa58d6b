"""The browser's reader of lines against Python's: the same trees, values, words, sentences, columns on the same text.

The scripts run in V8; their tables are those the pages get. Lines come from the tables (every unit, prefix, letter,
function, symbol, alias, word, misreading), from the readable cases, and from two generators with a fixed seed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from functools import cache
from itertools import product
from pathlib import Path
from random import Random

import pytest
from py_mini_racer import JSEvalException, MiniRacer

from tutor.generate.mirror_tables import reader_tables
from tutor.quantities.misread import LETTERS, prefix_powers, tokens
from tutor.quantities.symbols import SYMBOLS
from tutor.working import words
from tutor.working.alphabet import ALIKE, SPECIAL
from tutor.working.collisions import COLLISIONS
from tutor.working.faults import LineFault
from tutor.working.mirror_tables import reading_tables
from tutor.working.misreadings import MISREADINGS
from tutor.working.read import read_line
from tutor.working.tree import LineKind
from tutor.working.tree_data import line_data
from tutor.working.vocabulary import Vocabulary

ASSETS = Path(__file__).parents[2] / "site" / "assets"
CASES = Path(__file__).parents[1] / "working" / "lines" / "reading.txt"
SCRIPTS = ("symbols", "tokens", "scope", "literals", "members", "around")
SEED = 60062
BATCH = 1500
READ_ALL = "JSON.stringify(CASES.map(([text, at]) => Steadyrail.readLine(text, VOCABULARIES[at])))"

ZENER = "V_I I_I R_S V_Z I_Z P_Z r_z I_ZK R I_R V_R P_R R_L I_L V_O P_O R_1 R_2 T_A"
VOCABULARIES = (
    Vocabulary(frozenset(ZENER.split())),
    Vocabulary(frozenset(SYMBOLS)),
    Vocabulary(frozenset({"A", "C", "f", "VA", "T", "P_R", "V_I_1"}), {}, ("x", "total", "R", "R'", "α_q"), True),
    Vocabulary(frozenset({"V_I", "V_Z", "I_L"}), {"Us": "V_I", "Uz": "V_Z", "IA": "I_L"}),
    Vocabulary(frozenset()),
)
Case = tuple[str, int]


def browser(faults: tuple[tuple[str, str, str], ...] = ()) -> MiniRacer:
    """V8 with the scripts and their tables; each fault is (script, right text, wrong text) and must be found once."""
    engine = MiniRacer()
    tables = json.dumps({**reader_tables(), "lines": reading_tables()}, sort_keys=True)
    engine.eval(f"var Steadyrail = {{tables: {tables}}};")
    for name in (*(f"reader_{script}.js" for script in SCRIPTS), "reader.js"):
        script = (ASSETS / name).read_text(encoding="utf-8")
        for file, right, wrong in faults:
            if file == name:
                assert script.count(right) == 1, right
                script = script.replace(right, wrong)
        engine.eval(script)
    return engine


# What each spelling of a table is put into, {} being the spelling.
AFTER_NUMBERS = """
    4.7 {} | -12{} | (3 - 1) {} | R = 5{}/3 {} | {} = 3 | 3 {}/K | 2 mV/{} | 5 {} V_I | 3 {}² | 3 1/{} | {}
"""
COLLIDING = "3{} | 3 {} | (2+1) {} | √3 {} | {}/3 | 3 {} I_L | 1/2 {} V_I | 5 V/{} | 3 {}/{} | {} = 3 {}"
NAMED = "{} | {}_MAX | 2 {} | Δ{} | d{}/d{} | {}(min) | {} max = 5 | least {} > 3 | {}_1,max | {}2P | V_{{}} | {}q"
SAID = "{} R = 5 | R = 5 {} | R = 5 {} 3 | R = {} 5 | {}: R = 5 | {} | R = 5 ({}) | {}(3, 4) | {} 150 Ω | R {} 5"
OPENING = "{} R = 5 | {}, = 5 | {} zener off | {} the load I_L = 0 | {} | {}: R = 5 | {} not"
CHOOSING = "{} R = 5 | {} 150 Ω for R | {} a 1/4 W resistor | {} R as 5 Ω, E24 | {} the R | {} Ohm's law R = 5"
CODED = "4{}7 | {}47 | R = 47{} | 4{}7 Ω | 2.2{}7 | 4{}7V | 4{}1"
AMONG = "R{}= 5{}V | {}R = 5 | 5 {} 3 | R = 5{} | V{}I | 2{}3 = {}V_I"
INHERITED = "{} = 5 | 5 {} | R = {}(2) | 5 V/{} | the {} R = 5 | {} | 5 {}/K"
STRANGE = "\u0085\u1680\u2028Iſßéå𝟝١½😀\x00\x1c\x7f\"#$&@\\`"
VERBS = (*sorted(words.CHOICES), "let us take", "we could use", "so I pick")


def filled(frames: str, spelling: str) -> list[str]:
    """A spelling in each of its places."""
    return [frame.strip().replace("{}", spelling) for frame in frames.split(" | ")]


def from_tables() -> Iterator[Case]:
    """Every spelling of every table, where it belongs and where it does not."""
    for place, spelling in enumerate((*tokens(), *prefix_powers())):
        yield from ((text, place % len(VOCABULARIES)) for text in filled(AFTER_NUMBERS, spelling))
    for row in COLLISIONS:
        yield from product(filled(COLLIDING, row.spelling), range(len(VOCABULARIES)))
    for name, symbol in SYMBOLS.items():
        for typed in (name, name.lower(), name.upper(), *symbol.aliases):
            yield from ((text, (len(typed) + len(text)) % 3) for text in filled(NAMED, typed))
    said = {*words.LISTED, *words.FUNCTIONS, *words.ENDS, *words.CHOSEN, *words.CHOOSERS, *words.QUESTIONS}
    for word in sorted(said):
        yield from ((text, len(word) % 2) for text in filled(SAID, word))
    for phrases in (words.OPENINGS, words.HYPOTHESES):
        for phrase in (phrase for row in phrases.values() for phrase in row):
            yield from ((text, 0) for text in filled(OPENING, " ".join(phrase).capitalize()))
    yield from ((text, 0) for verb in VERBS for text in filled(CHOOSING, verb))
    yield from ((text, 0) for letter in LETTERS for text in filled(CODED, letter))
    yield from ((text, 0) for char in (*ALIKE, *sorted(SPECIAL), *STRANGE) for text in filled(AMONG, char))
    for name in ("constructor", "toString", "__proto__", "hasOwnProperty", "valueOf"):
        yield from ((text, 3) for text in filled(INHERITED, name))


def from_cases() -> Iterator[Case]:
    """The readable cases and the malformed lines, in every circuit."""
    rows = CASES.read_text(encoding="utf-8").splitlines()
    typed = [row for row in rows if row and not row.startswith(("#", "@", "    "))]
    typed += [example for row in MISREADINGS for example in row.examples]
    yield from product(typed, range(len(VOCABULARIES)))


PIECES = [
    *"0123456789", *"0123456789", *"+-*/^=<>()[]{},.;:?!|%_' ", *"×≤≈±√∥½²³⁻∴✓∞≠µΩ°é😀٣", *"+-×/=() ", "  ", "5 mA",
    "10^", "5,6", "1 000", "2k7", "R47", "(max)", "Δ", "{I,max}", "V_I", "V_I", "R", "R", "I_Z", "x", "of", "5 %", "//",
    "||", "max", "min", "the ", "so ", "choose ", "assume ", "if ", "load: ", "sqrt", "ln ", "e", "E24", "at ", "I",
    "=>", "…", "\u202f", "inf", "mV/V", "k", "K", "C", "A", "f", "Us", "R'", "Vx", "volts", "(2)", "let x", "not",
    "then", "±5 %", "_MAX", "1/2 ",
]  # fmt: skip
SYLLABLES = [
    "V_I", "V_Z", "R", "I_L", "(V_I - V_Z)", "(I_L + I_Z)", "5", "12 V", "30m", "2k7", "5 mA", "3.0", "(14 − 9.1)",
    "√2", "f", "C", "A", "1/2", "x", "ΔV_O", "R_1 ∥ R_2", "(2)", "4 K", "5 %", "10^-3", "ln(2)", "max(R_1, R_2)",
    "[3 + 4]", "h_FE", "Us",
]  # fmt: skip
JOINTS = [
    " + ", " − ", " × ", "/", " ", " ", " = ", " = ", " ≤ ", "^2 ", "², ", " ∥ ", "", " of ", " (worst case) ", " so ",
    " ± 5 %", "  ",
]  # fmt: skip
BEFORE = ["", "", "", "so ", "full load: ", "a) ", "choose ", "assume ", "at full load, ", "the current ", "= ", "max "]
AFTER = ["", "", "", ", fine", " OK", " (E24)", " at full load", "?", " = ?", ".", "; I_L = 3", " and more", "   (1)"]


def nonsense(count: int) -> Iterator[Case]:
    """Pieces of lines strung together, and characters from anywhere."""
    random = Random(SEED)
    for number in range(count):
        if number % 6:
            text = "".join(random.choice(PIECES) for _ in range(random.randint(0, 14)))
        else:
            spans = ((32, 0x2FF), (0x370, 0x3FF), (0x2000, 0x22FF), (0x1D400, 0x1D7FF), (0x1F300, 0x1F6FF))
            text = "".join(chr(random.randint(*random.choice(spans))) for _ in range(random.randint(0, 60)))
        yield text, random.randrange(len(VOCABULARIES))


def sensible(count: int) -> Iterator[Case]:
    """Lines as learners make them, right and wrong."""
    random = Random(SEED + 1)
    for _ in range(count):
        text = random.choice(SYLLABLES)
        for _ in range(random.randint(0, 5)):
            text += random.choice(JOINTS) + random.choice(SYLLABLES)
        if random.random() < 0.4:
            text = f"R = {text}"
        yield random.choice(BEFORE) + text + random.choice(AFTER), random.randrange(4)


@cache
def readings() -> tuple[tuple[Case, dict[str, object]], ...]:
    """All lines, and what Python makes of them."""
    cases = list(dict.fromkeys((*from_tables(), *from_cases(), *nonsense(6000), *sensible(6000))))
    # In any order, so that a planted fault shows in one of the first batches.
    Random(SEED).shuffle(cases)
    return tuple((case, line_data(read_line(case[0], VOCABULARIES[case[1]]))) for case in cases)


def as_page_has_it(vocabulary: Vocabulary) -> dict[str, object]:
    """A vocabulary as the page's script gets it."""
    return {
        "symbols": sorted(vocabulary.symbols),
        "aliases": dict(vocabulary.aliases),
        "own": list(vocabulary.own),
        "decimalComma": vocabulary.decimal_comma,
    }


def same(theirs: object, ours: object) -> bool:
    """Equal throughout; numbers to 1e-12, keys and kinds exactly."""
    if isinstance(ours, dict):
        keyed = isinstance(theirs, dict) and theirs.keys() == ours.keys()
        return keyed and all(same(theirs[key], value) for key, value in ours.items())
    if isinstance(ours, list):
        counted = isinstance(theirs, list) and len(theirs) == len(ours)
        return counted and all(same(one, other) for one, other in zip(theirs, ours, strict=True))
    if isinstance(ours, float):
        return isinstance(theirs, int | float) and math.isclose(theirs, ours, rel_tol=1e-12)
    return type(theirs) is type(ours) and theirs == ours


def differences(engine: MiniRacer, most: int = 10**9) -> list[str]:
    """Where the two readers disagree, the first few; a script that stops disagrees with everything."""
    engine.eval(f"var VOCABULARIES = {json.dumps([as_page_has_it(one) for one in VOCABULARIES])};")
    found: list[str] = []
    for first in range(0, len(readings()), BATCH):
        batch = readings()[first : first + BATCH]
        engine.eval(f"var CASES = {json.dumps([case for case, _ in batch])};")
        try:
            answers = json.loads(engine.eval(READ_ALL))
        except JSEvalException as stopped:
            return [*found, str(stopped)]
        for (case, ours), theirs in zip(batch, answers, strict=True):
            if not same(theirs, ours):
                found.append(f"{case!r}: {theirs} and not {ours}")
        if len(found) >= most:
            break
    return found


def test_both_readers_read_alike():
    """At least 10,000 lines: trees, values to 1e-12, columns, labels, words, faults, sentences."""
    ours = [line for _, line in readings()]
    assert len(ours) >= 10_000
    assert {line["kind"] for line in ours} == {kind.value for kind in LineKind}
    faults = {line["misread"]["fault"] for line in ours if isinstance(line["misread"], dict)}
    assert faults == {fault.value for fault in LineFault}
    assert sum(line["kind"] == "chain" for line in ours) > 3000
    assert differences(browser()) == []


FAULTS = [
    ("columns in UTF-16 units", "reader.js", "const points = Array.from(text);", 'const points = text.split("");'),
    ("columns from 0", "reader.js", "[found.first + 1, found.past + 1]", "[found.first, found.past]"),
    ("an exception for a line", "reader.js", 'return lineOf("unread"', 'throw lineOf("unread"'),
    ("chains that turn", "reader.js", "against.includes(relation.sign)", "false"),
    ("a second chain as words", "reader_around.js", 'throw scope.broken("second-chain", place, last);\n    }', "}"),
    ("hidden signs as words", "reader_around.js", 'scope.isKind(at, "power") || reckons', "false"),
    ("a number taken for a label", "reader_around.js", "digits.length <= 2", "digits.length <= 3"),
    ("words before conditions", "reader_around.js", 'scope.says(at - 1, "conditions")', "false"),
    ("a/b c guessed", "reader_members.js", "if (!written && slash >= 0) refuse", "if (false) refuse"),
    ("a b ∥ c guessed", "reader_members.js", 'if (times) throw scope.broken("', 'if (false) throw scope.broken("'),
    ("a minus lost", "reader_members.js", "terms.push(sign >= 0 &&", "terms.push(sign > 0 &&"),
    ("powers of powers", "reader_members.js", "if (tower ||", "if ("),
    ("nesting without end", "reader_members.js", "depth > Steadyrail.tables.lines.most.depth", "depth > 1e9"),
    ("brackets left out of columns", "reader_members.js", "{ columns: scope.columns(place, close) }", "{}"),
    ("a list in brackets", "reader_members.js", '"comma", "break", "colon")', '"comma")'),
    ("kilo for kelvin", "reader_literals.js", "[simple(spelling), kilo] : [", "[kilo] : ["),
    ("amperes for the gain", "reader_literals.js", 'if (clash !== "unit") throw', 'if (clash === "never") throw'),
    ("trailing zeros dropped", "reader_literals.js", 'replace(/^0+/, "")', 'replace(/^0+|0+$/g, "")'),
    ("a prefix apart anywhere", "reader_literals.js", "!joined && !scope.isEnder(place + 1)", "false"),
    ("a unit's square guessed", "reader_literals.js", 'throw scope.broken("unit-power"', 'return; throw ("u"'),
    ("degrees per something", "reader_literals.js", 'code === "degC" ? "K" : code', "code"),
    ("words in brackets as factors", "reader_scope.js", "const listed = this.isListed(place + 1) ||", "const listed ="),
    ("any likeness is near", "reader_symbols.js", "let most = 0.5;", "let most = 0.4;"),
    ("the first of the nearest", "reader_symbols.js", "|| name > best", "|| name < best"),
    ("inherited names", "reader_symbols.js", "new Map(Object.entries(table()))",
     "{ get: (key) => table()[key], has: (key) => key in table() }"),
    ("changes of one letter", "reader_symbols.js", 'changed.length > 1 || changed === "R"', "true"),
    ("capitals folded away", "reader_symbols.js", "bare.length === 1 ? bare :", "false ? bare :"),
    ("a comma guessed", "reader_tokens.js", "isDigit(line, past + 1) && !style.decimalComma) {", "false) {"),
    ("a digit more in a group", "reader_tokens.js", "after - past !== 4", "after - past < 4"),
    ("a power of ten in an exponent", "reader_tokens.js", "if (style.plain) return [number, past];", ""),
    ("a bracket more", "reader_tokens.js", "waiting.length > Steadyrail.tables.lines.most.depth", "waiting.length > 9"),
    ("an own x as a sign", "reader_tokens.js", "(cross) => !known(vocabulary, cross)", "() => true"),
    ("unlisted blanks", "reader_tokens.js", 'if (line[at] === " ") {', "if (/\\s/.test(line[at])) {"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "script", "right", "wrong"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_planted_fault_is_noticed(name: str, script: str, right: str, wrong: str):
    """The comparison can fail: each planted fault makes it."""
    assert differences(browser(((script, right, wrong),)), most=1), name


def test_the_scripts_run_under_a_strict_policy():
    """No evaluation of text as code or markup: what a learner types is data."""
    for name in (*(f"reader_{script}.js" for script in SCRIPTS), "reader.js"):
        script = (ASSETS / name).read_text(encoding="utf-8")
        for word in ("eval(", "new Function", "innerHTML", "document.", "import ", "export "):
            assert word not in script, (name, word)
