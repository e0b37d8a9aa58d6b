"""What is fed: bytes as text, text that is meant to hurt, and a mutator for where nothing guides.

Sources of the hostile texts: common practice, no source; each is beside what it would do where it were believed.
"""

from __future__ import annotations

from random import Random

CANARY = "steadyrail_was_here"  # a file of this name anywhere says that something was run

# Each would leave the canary, reach outside a folder, or break a reader that trusts it.
HOSTILE = (
    f"__import__('os').system('touch {CANARY}')",
    f"$(touch {CANARY})",
    f"`touch {CANARY}`",
    f"; touch {CANARY} #",
    f"| touch {CANARY}",
    f"{{{{ ''.__class__.__mro__[1].__subclasses__() }}}} {CANARY}",
    f"open('{CANARY}','w')",
    f"=cmd|'/C touch {CANARY}'!A0",
    f'=HYPERLINK("file:///{CANARY}","x")',
    "@SUM(1+1)",
    f"<script>document.title='{CANARY}'</script>",
    f"#import \"/etc/passwd\" #eval(\"{CANARY}\")",
    "\\input{/etc/passwd}\\write18{id}",
    f"../../{CANARY}",
    f"/tmp/{CANARY}/x",
    f"..\\..\\{CANARY}",
    f"file:///etc/{CANARY}",
    "~root/x",
    "CON",
    "nul.txt",
    ".",
    "..",
    "-rf",
    "--out=/",
    "a\x00b",
    "\x00",
    "\x1b]0;title\x07\x1b[2J",
    "\ufeffR = 5",
    "\u202eV_I\u202c",
    "\u2066R\u2069",
    "a\u0301" * 30,
    "\u0661\u0662\u0663",
    "\uff15 \uff2d",
    "\U0001d7d7\U0001d7d9 V",
    "\ud800",
    "\udfff\ud83d",
    "\u2028",
    "\x85",
    "9" * 400,
    "1e999999999",
    "-1e-999999999",
    "10^10^10^10",
    "1" + " 000" * 90,
    "0x7fffffffffffffff",
    "-9223372036854775809",
    "nan",
    "inf",
    "-inf",
    "1_000",
    "(" * 5000,
    "[" * 5000,
    "{" * 5000,
    "-" * 5000,
    "sqrt(" * 1000,
    "((1)" * 300,
    "$" * 301,
    "\\" * 999,
    "'" * 99,
    '"' * 99,
    "x" * 70_000,
    "é" * 4001,
    "\n" * 3000,
    "\r\n\r\n",
    "\r",
    "%s%n%x{0}{name}",
    "None",
    "True",
    "",
    " ",
    "\t",
    "V_I=",
    "=5",
    "=",
    "5",
)

# Pieces of what is fed that a mutation alone seldom makes; for atheris they are written as a dictionary.
PIECES = (
    "V_I", "V_Z", "I_Z", "I_L", "R_L", "R", "V_O", "I_Z_MIN", "R_MAX", "ΔV_O", "dV_I", "D", "kappa", "x", "β", "h_FE",
    "5", "0", "12", "5m", "5 mA", "270R", "2k7", "R47", "1e9", "9.1 V", "0,5", "10^-3", "10⁻³", "∞", "nan", "%", "47 K",
    "1 000", "½", "+", "−", "*", "×", "/", "||", "//", "∥", "^", "**", "²", "√", "(", ")", "[", "]", "{", "}", "±", ",",
    ";", ":", ".", "?", "!", "=", "≈", "<", "≤", ">=", ":=", "=>", "∴", "so ", "hence ", "assume ", "suppose ", "if ",
    "choose ", "take ", "use ", " for ", " as ", "the zener is off", "so not", "not", "min(", "max(", "sqrt(", "ln ",
    "log10(", "exp(", "abs(", " of ", " per ", "(max)", "_MIN", "mV/V", "°C", "K/W", "dB", " and ", "let ", "\n", "\t",
    "\u202f", "\u00a0", "\u0000", "\u202e", "q1", "q2", "q1 = ", "q2 = q1 + q1", "(1 + ", "1/(", "check: ", "a) ",
    'title = "T"\n', "[[questions]]\n", "[learners]\n", "[print]\n", "[rules]\n", 'problem = "', "zener-resistor:2:17",
    'family = "zener-state"\n', "level = 1\n", "number = ", "marks = ", "circuit = ", "given = { ", 'ask = ["I_Z"]\n',
    'text = "', 'list = "class.csv"\n', "variants = ", "seed = ", '"""', "'''", "\\u0000", "1979-05-27", "0x",
    "inf", "true", "[[override]]\n", "id,name\n", "id,question,working\n", "id,Q1,Q2\n", "id;", "Q1\n", "Q2:\n",
    "a1", "b2", "../../x", "=cmd()", "source", "resistor", "zener", "load", "gnd", "in", "out", "R=", "+base-current=",
    "@2", "form=", "--json", "--assume", "--find", "--problem",
)  # fmt: skip


def as_text(data: bytes) -> str:
    """Bytes as text; bytes that are no UTF-8 become lone surrogates, as Python takes names and arguments."""
    return data.decode("utf-8", "surrogateescape")


def mutated(data: bytes, random: Random, longest: int) -> bytes:
    """The bytes with a few changes: pieces put in, taken out, doubled or moved, hostile text, single bytes turned."""
    for _ in range(random.choice((1, 1, 1, 2, 3, 6))):
        at = random.randrange(len(data) + 1)
        past = min(len(data), at + random.choice((1, 1, 2, 4, 9, 40)))
        way = random.randrange(8)
        if way <= 2:
            put = random.choice(PIECES).encode("utf-8", "surrogatepass")
        elif way == 3:
            put = random.choice(HOSTILE).encode("utf-8", "surrogatepass")
        elif way == 4:
            put = b""
        elif way == 5:
            put = data[at:past] * random.choice((2, 2, 3, 30))
        elif way == 6:
            start = random.randrange(len(data) + 1)
            put = data[start : start + random.choice((3, 9, 30, 90))]
        else:
            put = bytes((random.randrange(256),))
        data = data[:at] + put + data[past if way in (4, 5, 7) else at :]
    return data[:longest]
