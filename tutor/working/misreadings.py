"""Every way in which a line of working cannot be read, as ONE table: fault, sentence, malformed lines.

Vocabulary: {found} is the text at the columns as typed; {near} the symbol that was probably meant. The table words the
reader and is its test: each line of `examples` must be misread with exactly that fault.
Place in the data flow: tokens -> members -> line, each of which leaves with a `Broken`; `read.py` makes it a `Misread`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from tutor.working.faults import MOST_CHARACTERS, MOST_DEPTH, MOST_DIGITS, MOST_POWER, MOST_TOKENS, Broken, LineFault
from tutor.working.tree import Misread


@dataclass(frozen=True)
class LineMisreading:
    """One way to be misread, its sentence, and lines that are misread so."""

    fault: LineFault
    sentence: str
    examples: tuple[str, ...]


MISREADINGS: tuple[LineMisreading, ...] = (
    LineMisreading(
        LineFault.TOO_LONG,
        f"this line is longer than {MOST_CHARACTERS} characters; break it into several",
        ("R = 150 " * 51, "I_Z = 1" + " + 1" * 120),
    ),
    LineMisreading(
        LineFault.TOO_MANY,
        f"this line has more than {MOST_TOKENS} numbers, symbols and signs; break it into several",
        ("1+" * 90 + "1 = 91", "=" * 161),
    ),
    LineMisreading(
        LineFault.TOO_DEEP,
        f"brackets and roots are nested more than {MOST_DEPTH} deep here; work out the innermost first",
        ("(" * 25 + "1" + ")" * 25, "[" * 30, "R = " + "√" * 30 + "2", "R = " + "exp " * 26 + "2"),
    ),
    LineMisreading(
        LineFault.DIGITS,
        f"'{{found}}' has more than {MOST_DIGITS} digits; no meter shows so many",
        ("R = " + "1" * 21, "I_Z = 0." + "0" * 22 + "1", "R = 1k" + "3" * 21, "R = R" + "4" * 22),
    ),
    LineMisreading(
        LineFault.POWER,
        f"exponents beyond {MOST_POWER} are no part of this subject (found '{{found}}')",
        ("I_Z = 5e31", "I_Z = 5 × 10^-31 A", "R = 2^31", "R = 10⁹⁹", "R = 3^(−40)", "R = 1e999999999", "R = R^0.1e99"),
    ),
    LineMisreading(
        LineFault.COMMA,
        "is the comma in '{found}' a decimal sign? Write a point for it, no comma between thousands, and a space after "
        "a comma that separates",
        ("V_Z = 5,1 V", "R = 1,000 Ω", "R = 1,234.5", "I_Z = ,5 A", "R = max(5,3)", "V_I = 2 × 5,6 V"),
    ),
    LineMisreading(
        LineFault.TWO_POINTS,
        "'{found}' has more than one decimal sign",
        ("R = 1.2.3", "R = 5..1", "R = 2.2k7", "R = 2k7k1", "R = 2k7.5"),
    ),
    LineMisreading(
        LineFault.GROUPING,
        "a space may group digits in threes only, as in 1 000; between two numbers write a sign (found '{found}')",
        ("R = 1 00", "R = 12 5", "R = 1000 000 Ω", "R = 0.1234 5"),
    ),
    LineMisreading(
        LineFault.EXPONENT,
        "the power of ten in '{found}' needs a whole exponent",
        ("I_Z = 5e", "I_Z = 5e mA", "I_Z = 1e2.5", "I_Z = 5e-"),
    ),
    LineMisreading(
        LineFault.NOT_FINITE,
        "'{found}' is no number that a meter could show; for no load write I_L = 0",
        ("R_L = ∞", "R_L = inf", "I_Z = nan mA", "R = -inf", "R_L = Infinity", "5 < NaN"),
    ),
    LineMisreading(
        LineFault.UNKNOWN_SYMBOL,
        "'{found}' is no symbol of this circuit; did you mean {near}?",
        ("R = V_Q/I_Z", "I_Z = I_Rx - I_L", "R = Vzz/5", "R = (V_I - vzz)/5", "I_Zz < 5 mA", "5 mA = I_Zz", "R = 5 Vzz",
         "R = 2f_C", "R = V_I/I_Lx", "V_I_9 - V_Z"),
    ),
    LineMisreading(
        LineFault.UNKNOWN_NAME,
        "'{found}' is no symbol of this circuit; give it a value on a line of its own first",
        ("R = W_q", "R = θ/2", "w9 > 3", "5 = y", "R = y8", "R = sinh(2)"),
    ),
    LineMisreading(
        LineFault.UNKNOWN_UNIT,
        "'{found}' after a number is neither a unit nor a symbol of this circuit",
        ("I_Z = 5 mAxe", "R = 5 q", "R = 5kΩΩ", "R = 5µ_", "I_Z = 3qA + 2 mA", "R = 1N4734"),
    ),
    LineMisreading(
        LineFault.RESERVED,
        "'{found}' already means a unit, a prefix, a function or a constant; name the new symbol differently",
        ("V = 5 V", "mA = 5", "k = 3", "pi = 3", "sqrt = 5", "max = 5 mA", "m := 2", "Ω ≈ 3", "ohm = 5", "π = 3.14"),
    ),
    LineMisreading(
        LineFault.UNIT_ALONE,
        "the unit '{found}' needs a number before it",
        ("I_Z = mA", "R = 5 × kΩ", "I_Z = 5 + mA", "V < 5", "P_Z = V_Z × mA", "k × 5", "5 A = m"),
    ),
    LineMisreading(
        LineFault.UNIT_AFTER_SYMBOL,
        "the unit '{found}' stands after a symbol; a symbol brings its own unit",
        ("V_I V = 18", "R = (V_I - V_Z) V/5 mA", "I_Z = I_R mA", "V_I - V_Z V", "P_Z = V_Z² mW"),
    ),
    LineMisreading(
        LineFault.UNIT_TWICE,
        "'{found}' gives a unit or prefix a second time; write it once",
        ("V_Z = (12 V - 5 V) V", "R = 4k7 kΩ", "V_Z = 5V6 A", "R = 2k7 k", "R = 4R7 V", "P_Z = (2 mA)² W"),
    ),
    LineMisreading(
        LineFault.UNIT_POWER,
        "'{found}' can be read two ways; put brackets round number and unit, as in (5 V)²",
        ("P_R = 8.9 V²/150 Ω", "P_R = 5 mA^2 × 150 Ω", "P_R = (12 - 5) V^2/R", "P_R = 5m² R", "P_R = 5 V**2/R"),
    ),
    LineMisreading(
        LineFault.PREFIX,
        "the prefix '{found}' stands apart from what it belongs to; join it to its number or unit",
        ("R = 5 k V_Z", "I_Z = 5 m (2)", "R = 2 k 5", "R = 5 k √2"),
    ),
    LineMisreading(
        LineFault.TWO_READINGS,
        "'{found}' can be read two ways here, by a unit or by a symbol; write × before the symbol, or ° before the C",
        ("V_RIP = 2 C", "T_J = 85 C", "R_1 = 2R1", "V_OA = 5 V/A", "V_O = (5 - 3) A", "R_2 = 4R2/3",
         "gain V_I = 5"),
    ),
    LineMisreading(
        LineFault.QUOTIENT,
        "'{found}' can be read two ways; bracket what is divided by, a/(b c) or (a/b) c",
        ("I_R = V_I/R I_L", "R = V_I/2I_L", "R = V_I/2 I_L", "R = 1/(2)(3)", "R = 5 V/2 R", "V_RIP = I_L/2 f C",
         "R = V_I/√2 R", "R = 1 / 2 R", "R = V_Z/R_1²R_2"),
    ),
    LineMisreading(
        LineFault.PARALLEL_MIX,
        "put brackets round what is parallel: '{found}' can be read two ways",
        ("R = 2 R_1 || R_2", "V_O = I_L × R_1 ∥ R_2", "I_L = V_O/R_1 // R_2", "V_O = R_1 ∥ R_2 × I_L",
         "V_O = R_1 ∥ R_2 I_L"),
    ),
    LineMisreading(
        LineFault.TOWER,
        "a power of a power needs brackets (found '{found}')",
        ("R = 2^3^2", "R = 2²^3", "R = 10^3^2", "R = 2^3²", "R = V_I^2^2"),
    ),
    LineMisreading(
        LineFault.SIDE_BY_SIDE,
        "two numbers stand side by side in '{found}'; write the sign between them",
        ("P_Z = 9.1 V 63.5 mA", "R = 12  345", "R = 5k 3", "I_Z = 5 mA 3 mA", "R = 2 ½", "R = 5³ 4"),
    ),
    LineMisreading(
        LineFault.NOTHING_AFTER,
        "nothing stands after '{found}'",
        ("R = 5 +", "I_Z =", "R = (5 +)", "R = (V_I -)/5", "R ≤", "R = 5 × = 3", "R = 2^", "R = 5 /", "R = √",
         "R = 5 ±", "R = -", "R = 5 - , fine", "I_Z = 5 ×)"),
    ),
    LineMisreading(
        LineFault.NOTHING_BEFORE,
        "nothing stands before '{found}'",
        ("× 5 = R", "R = /5", "R = (×5)", "^2 = R", "R = ²", "R = ∥ 5", "R = ± 5 %"),
    ),
    LineMisreading(
        LineFault.TWO_OPERATORS,
        "two operators stand together in '{found}'; bracket a signed number",
        ("R = 5 + - 3", "R = 5 × / 3", "V_I = 12 V +- 5 %", "R = --5", "R = 5 - -3", "R = 5 ^ ^ 3", "R = 2 + ² 3"),
    ),
    LineMisreading(
        LineFault.TWO_RELATIONS,
        "two relation signs stand together in '{found}'; write one",
        ("R == 5", "R = < 5", "R_L >> r_z", "R =< 5", "= = 5"),
    ),
    LineMisreading(
        LineFault.OTHER_RELATION,
        "'{found}' is no relation that is read here; write =, ≈, <, >, ≤ or ≥",
        ("R ≠ 5", "R != 5", "R_L ≫ r_z", "P_Z ∝ I_Z"),
    ),
    LineMisreading(
        LineFault.DIRECTIONS,
        "the inequalities of one chain must point the same way (found '{found}' after the other)",
        ("5 < I_Z > 3", "I_Z ≥ 5 mA ≤ R", "5 ≤ R = 3 > 2"),
    ),
    LineMisreading(
        LineFault.RELATION_INSIDE,
        "'{found}' stands inside brackets; a relation needs a line of its own",
        ("R = (V_I = 12)/5", "R = 5 (I_L < 3)", "I_Z = 5 mA (V_I = 18 V)", "R = max(2, R = 3)"),
    ),
    LineMisreading(
        LineFault.OPEN_BRACKET,
        "the bracket '{found}' is never closed",
        ("R = (12 - 5", "R = ((12 - 5)/3", "R = [3 + 4", "R = sqrt(2", "R = (12 - 5/0.1 = 70"),
    ),
    LineMisreading(
        LineFault.CLOSE_BRACKET,
        "the bracket '{found}' was never opened",
        ("R = 12 - 5)/3", "R = 5]", "R = )", "R = (5)) = 5"),
    ),
    LineMisreading(
        LineFault.BRACKET_KIND,
        "the brackets in '{found}' do not match",
        ("R = (12 - 5]", "R = [(12 - 5]) 3"),
    ),
    LineMisreading(
        LineFault.EMPTY_BRACKETS,
        "nothing stands inside the brackets '{found}'",
        ("R = ()", "R = 5 []", "R = sqrt()"),
    ),
    LineMisreading(
        LineFault.LIST_INSIDE,
        "'{found}' stands inside brackets; only min and max take several values",
        ("R = (5, 3)", "R = 2 (3; 4)", "R = (5: 3)"),
    ),
    LineMisreading(
        LineFault.ARGUMENTS,
        "{found} takes {near}",
        ("R = sqrt(2, 3)", "R = max(5)", "R = min(3 + 4)", "R = ln(2; 3)"),
    ),
    LineMisreading(
        LineFault.NO_ARGUMENT,
        "the function {found} needs its value in brackets after it",
        ("R = sqrt", "R = ln + 2", "R = max", "R = 5 min 3"),
    ),
    LineMisreading(
        LineFault.SPREAD,
        "after ± write a percentage, as in ± 5 % (found '{found}')",
        ("V_I = 12 V ± 1 V", "R = 150 ± 5", "R = 150 ± R", "V_I = 12 V ± (5 %)", "R = 5 ± 5 % ± 5 %",
         "R = 5 ± 5 % + 3"),
    ),
    LineMisreading(
        LineFault.SPREAD_OF_SUM,
        "put brackets round what spreads: '{found}' can be read two ways",
        ("V_I = 10 V + 2 V ± 5 %", "R = R_1 - R_2 ± 1 %"),
    ),
    LineMisreading(
        LineFault.SECOND_CHAIN,
        "'{found}' is a second statement; write one a line, please",
        ("R = 5, I_Z = 3", "R = 5; I_Z = 3", "R = 5 and I_Z = 3", "R = 5 so I_Z = 3", "R = 5 => I_Z = 3", "R = 5, 3",
         "R = 5 or 6", "I_Z = 5 mA at V_I = 18 V", "R = 5, so I_Z = 3", "R = 5 (so I_Z = 3)", "I_L = 0…30 mA",
         "5 mA, 3 mA", "R = 5 → 3", "R = 5. I_Z = 3",
         "R = 5 ✓ I_Z = 3", "V_I = 12 V   V_Z = 5 V"),
    ),
    LineMisreading(
        LineFault.WORD,
        "the word '{found}' stands where a number or symbol belongs; set words before a colon or after a comma",
        ("R = the voltage / 5", "the current = 5 mA", "R must be ≤ 140 Ω", "full load current = 30 mA",
         "R = 5 + about 3", "R = 5 wobble", "temperature rise = 20 K", "R = 150 Ω each × 2", "load = 5 mA",
         "I = 5 mA for the zener + 30 mA", "R = roughly 5"),
    ),
    LineMisreading(
        LineFault.WORD_FOR_SIGN,
        "write a sign instead of the word '{found}'",
        ("I_Z is 5 mA", "R = 5 plus 3", "R = 5 times 3", "P_Z = V_Z per 5", "R = 82 Ω to 130 Ω", "R equals 150 Ω",
         "R = 12 V over 5 mA", "R = 27 less 9", "R = 1/3 of 12"),
    ),
    LineMisreading(
        LineFault.CONDITION,
        "what follows '{found}' runs into the rest; say what a line is about before a colon: full load: I_Z = 5 mA",
        ("at 50 °C T_J = 80", "for 5 V R = 12", "with 2 V_I R = 12", "when I_L = 0 I_Z = 5 mA"),
    ),
    LineMisreading(
        LineFault.RATIO,
        "write a ratio with a slash, not with a colon (found '{found}')",
        ("N_T = 10:1", "R_1:R_2 = 3", "10:1 = N_T"),
    ),
    LineMisreading(
        LineFault.BAR,
        "a single bar is read neither as parallel nor as a size; write || or abs( )",
        ("R = |V_I|", "R = R_1 | R_2"),
    ),
    LineMisreading(
        LineFault.CHARACTER,
        "'{found}' has no meaning in a line of working",
        ("R = 5 # 3", "R = $5", "R = 5 \\ 3", "R = 5 ⁻", "R @ 5 = 3", "R = 5 {3}"),
    ),
    LineMisreading(
        LineFault.CASE_AND_CHAIN,
        "an assumption needs a line of its own; write what follows from it on the next",
        ("if the zener is off, I_Z = 0", "assume zener off: V_O = 5 V", "if zener off then I_Z = 0"),
    ),
    LineMisreading(
        LineFault.CHOICE,
        "write a choice as symbol, = and value, as in choose R = 150 Ω",
        ("choose R 150 Ω", "take R 150 Ω for the job"),
    ),
    LineMisreading(
        LineFault.LINE_NUMBER,
        "'{found}' is a factor or the number of the line; write × before it, or set it well apart",
        ("V_O = 9 V (2)", "R = V_I/I_Z (1)", "R = (2 + 3) [4]"),
    ),
)  # fmt: skip


@cache
def sentences() -> Mapping[LineFault, str]:
    """The sentence of each misreading."""
    return MappingProxyType({row.fault: row.sentence for row in MISREADINGS})


def misread_of(broken: Broken, text: str) -> Misread:
    """The sentence about a line as typed, with its columns."""
    sentence = sentences()[broken.fault]
    for slot, words in (("near", broken.near), ("found", text[broken.first : broken.past])):
        sentence = sentence.replace("{" + slot + "}", words)
    return Misread(broken.fault.value, sentence, (broken.first + 1, broken.past + 1))
