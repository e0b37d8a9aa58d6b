
"""Workings of every kind for holding the browser's checker to Python's: made from problems, tables and chance.

Every line comes from a generator with a fixed seed. Lines are the model solution's, those with one thing changed,
chains of symbols and numbers that are nearly something, choices, hypotheses, own symbols, and strings of pieces.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from random import Random

from tests.site.circuit_relations import relations_of
from tests.solution.at_hand import LEVELS, batch
from tests.working.model_workings import model_lines, slipped_workings, typed
from tutor.quantities.notation import plain
from tutor.quantities.quantity import write
from tutor.solution.desk import WorkedProblem
from tutor.solution.sheet import Recipe, Sheet
from tutor.working.world import expand

SEED = 60384
NUMBERS = 3  # one level is tried on its first problem, the next on its second, then on its third
LINES = 12  # of a working, about

OPERATORS = ("+", "−", "×", "/")
RELATIONS = ("=", "=", "=", "=", "≈", "≤", "≥", "<", ">")
FACTORS = (1, 1, 1, 1.004, 0.985, 1.03, 1.06, 0.8, 2, 0.5, 10, 0.1, 1e3, 1e-3, 1e6, -1, 2**0.5, 0.5**0.5)
STRAY_UNITS = ("V", "mA", "Ω", "W", "kΩ", "%", "", "", "m", "k", "K", "µF", "s", "dB", "mV/V", "K/W")
WORDS = (
    "", "", "assume zener off", "suppose the zener conducts", "if the zener does not conduct", "so not", "so not off",
    "the zener is off", "hence the zener conducts, as expected", "assume the transistor is saturated", "I_Z = ?",
    "assume I_L = 0", "now the worst case", "full load:", "therefore it regulates", "assume I_Z = 5 mA", "so R",
    "suppose V_O = 5 V", "the zener is not on", "assume regulation", "is V_TH above V_Z?", "it works",
    "suppose the output is shorted", "suppose the load is unplugged", "assume no load", "if the output were shorted",
    "the load is removed", "so the zener is off and the transistor follows",
)  # fmt: skip
OWN = (
    "x = I_L/I_Z", "x = 5", "y = x V_I", "z = 3 V + 2 V = 5 V", "q ≤ 3", "w = 12 V/100 Ω = 120 mA", "x + 1 = 6",
    "u = V_I A", "u = 1 V + 1 A", "w = w", "x = V_I − V_O", "I_Z = w − I_L", "R = x/w", "t = 2 × 5 = 11",
    "t = 2 × 3 = 6", "P_Z = t x",
)  # fmt: skip
BELIEVED = (
    "assume zener off\n{}\nso not", "the zener is off\n{}\n{}", "hence the zener is off\n{}",
    "suppose the zener is off\n{}\n\n{}", "assume the transistor is saturated\n{}\nso not\n{}",
    "assume zener off\n{}\nthe zener conducts",
    "suppose the output is shorted\n{}\n{}\nso not", "assume no load\n{}\n{}\nI_L = 0\nI_R = I_Z\nV_O = 0",
    "suppose the output is shorted\nV_O = 0\nI_R = V_I/R\nP_R = V_I²/R\n{}\nI_Z = I_R\nV_R = V_I",
    "suppose the reference is off\n{}\nI_K = 0\nso not", "assume the transistor is off\nI_C = 0\n{}\n{}",
    "suppose the output is shorted\nI_K = 0\nI_C = 0\nP_D = 0\nI_DIV = 0\n{}",
    "assume zener off\nI_Z = 0\nV_O = V_TH\nso not\nV_O = V_TH\nI_R = I_L\nP_Z = 0 W\nP_Z = V_Z I_Z = 0 W",
)  # fmt: skip
ODD = (
    "R = V_I ∥ I_L", "5 = 2^V_I", "√(V_I) = 3", "ln(V_I) = 2", "max(V_I, I_L) = 3", "5 V + 2 A = 7", "exp(2 V) = 3",
    "R = V_I^(1/2)", "12 V − 5 V = −7 V", "3 × 4 = −12", "2 V × 3 = 6 mV", "10 mA + 5 mA = 12 mA", "P_Z = (V_Z I_Z)^2",
    "V_I/V_I = 1", "V_Z = 9.1 V ± 5 %", "V_I = 15 V ± 10 %", "(V_I − V_O)/(I_R R) = 1", "(I_R − I_Z)/I_L = 1",
    "V_I = 18 V ± 1 %", "(2) ∴ V_O = 9.1 V", "P_O/(V_O I_L) = 2", "5 = 5", "V_I^2 = 5 V", "V_I^2/V_I = 12 V",
)  # fmt: skip
LEADS = ("so ", "hence ", "full load: ", "(a) ", "choose ", "take ", "assume ", "∴ ", "check: ", "= ", "≈ ")
TAILS = (
    ", because it is least there", " (worst case)", ".", " ✓", ", so I_L = 5 mA", ", the zener is off", " OK", ";",
    " = ",
)  # fmt: skip
BITS = (
    "V_I", "R", "I_Z", "(", ")", "[", "]", "+", "−", "×", "/", "^2", "²", "=", "=", "≤", "5", "12 V", "30m", "2k7", "√",
    "sqrt(", "max(", "10^-3", "x", ",", ":", "?", "so", "of", "the", "∥", "//", "±5 %", "Δ", "5,6", "1 000", "ln(2)",
    "abs(", "1/2", "%", "é", "😀", "Ω", "kΩ", "V_I_MAX", "I_L", "min", "0", "−", "47 K", "3 A", "exp(1)", "log10(100)",
    "--", "a", "°C", "2 × 10^3", "Uz",
)  # fmt: skip

Made = tuple[WorkedProblem, Sheet, str]


def workings() -> Iterator[Made]:
    """Every working, with the problem it is on: those of one level after those of another.

    Slips stand among symbols on one level and among numbers on the next.
    """
    for place, (family, level) in enumerate(LEVELS):
        worked, sheet = batch(family, level, 1 + place % NUMBERS)[-1]
        maker = Maker(worked, sheet, Random(SEED + place))
        for make in (maker.solution, *[maker.slipped] * 4, *[maker.mixed] * 7, maker.strung):
            yield worked, sheet, "\n".join(make())
        for slipped in slipped_workings(worked, sheet, numbers=place % 2 == 1):
            yield worked, sheet, slipped.text


class Maker:
    """Makes lines about one problem."""

    def __init__(self, worked: WorkedProblem, sheet: Sheet, chance: Random) -> None:
        self.sheet = sheet
        self.chance = chance
        lines = model_lines(worked)
        self.model = [line.text for line in lines]
        self.members = [
            (plain(line.chain.first), typed(plain(side))) for line in lines for _, side in line.chain.rest[:-1]
        ]
        self.chosen = {choice.key: choice.model for choice in sheet.choices}
        world = expand(sheet.recipe, {**sheet.env, **self.chosen}, sheet.ends)
        self.values = {**world.situations[-1].values, **world.views[2]}
        ends = [f"{name}{end}" for name in sheet.symbols for end in ("", "", "_MIN", "_MAX", "_NOM")]
        self.names = [*ends, *(f"Δ{name}" for name in list(sheet.symbols)[::4]), *sheet.aliases]

    def solution(self) -> list[str]:
        """The model solution."""
        return self.model

    def slipped(self) -> list[str]:
        """The model solution with one line changed or another put in."""
        lines = list(self.model)
        at = self.chance.randrange(len(lines))
        if self.chance.random() < 0.7:
            lines[at] = self.changed(lines[at])
        else:
            lines.insert(at, self.any_line())
        return lines

    def mixed(self) -> list[str]:
        """Lines of every kind."""
        return [self.any_line() for _ in range(LINES)]

    def strung(self) -> list[str]:
        """Pieces strung together."""
        return [self.pieces() for _ in range(LINES)]

    def any_line(self) -> str:
        """A line of some kind."""
        kinds: tuple[Callable[[], str], ...] = (
            lambda: self.changed(self.chance.choice(self.model)), self.chain, self.alike, self.member, self.member,
            self.valued, lambda: self.changed(self.valued()), self.choice, lambda: self.chance.choice(WORDS),
            lambda: self.chance.choice(OWN), self.continued, self.substituted, self.bounded, self.believed,
            self.otherwise, lambda: self.chance.choice(ODD), self.turned, self.turned, self.pieces,
            lambda: self.chance.choice(self.model), self.of_circuit, self.towards_a_slip, self.two_in_one,
            self.fitting, self.turned_bound, self.spread,
        )  # fmt: skip
        return self.chance.choice(kinds)()

    def changed(self, line: str) -> str:
        """A line with one thing changed."""
        random = self.chance
        how = random.randrange(9)
        if how == 0:
            return self._one(r"[+−×/]", line, lambda found: random.choice(OPERATORS))
        if how == 1:
            return self._one(r"\d", line, lambda found: random.choice("0123456789"))
        if how == 2:
            return self._one(r"[A-Z]_[A-Za-z0-9_]+", line, lambda found: random.choice(self.names))
        if how == 3:
            return self._one(r" [+−] [A-Za-z0-9_.]+(?: [mk]?[VAΩW]+)?", line, lambda found: "")
        if how == 4:
            return self._one(r"(?<=\d) [mkµ]?(?:V|A|Ω|W)", line, lambda found: f" {random.choice(STRAY_UNITS)}")
        if how == 5:
            return self._one(r"[=≈≤≥]", line, lambda found: random.choice(RELATIONS))
        if how == 6:
            return self._one(r"([A-Z]_\w+)/([A-Z]_\w+)", line, lambda found: "/".join(found.group().split("/")[::-1]))
        if how == 7:
            return random.choice(LEADS) + line
        return line + random.choice(TAILS)

    def _one(self, pattern: str, line: str, put: Callable[[re.Match[str]], str]) -> str:
        found = list(re.finditer(pattern, line))
        if not found:
            return line
        one = self.chance.choice(found)
        return line[: one.start()] + put(one) + line[one.end() :]

    def number(self, value: float, unit: str) -> str:
        """A value nearly as it is, with or without its unit."""
        value *= self.chance.choice(FACTORS)
        text = write(value, unit, self.chance.choice((2, 3, 3, 4)))
        return text.split(" ")[0] if self.chance.random() < 0.2 else text

    def unit_of(self, key: str) -> str:
        """The unit code of a symbol, or of one of its bounds."""
        return self.sheet.symbols.get(key) or self.sheet.symbols.get(key.rsplit("_M")[0], "")

    def named(self) -> tuple[str, float, str]:
        """A symbol with a value of its own and its unit."""
        name = self.chance.choice([name for name in self.values if name.rsplit("_M")[0] in self.sheet.symbols])
        return name, self.values[name], self.sheet.symbols[name.rsplit("_M")[0]]

    def valued(self) -> str:
        """A symbol set equal to a number of about its value, or of a slip's."""
        if self.sheet.slips and self.chance.random() < 0.2:
            slip = self.chance.choice(self.sheet.slips)
            unit = self.unit_of(slip.key)
            return f"{slip.key} {self.chance.choice(RELATIONS)} {self.number(slip.value, unit)}"
        name, value, unit = self.named()
        if value and self.chance.random() < 0.1:
            return f"{name} = {1 / value:.4g}"
        return f"{name} {self.chance.choice(RELATIONS)} {self.number(value, unit)}"

    def chain(self) -> str:
        """A head, an expression of symbols or of numbers or both, and perhaps a result."""
        head, value, unit = self.named()
        terms = [self.term() for _ in range(self.chance.choice((1, 2, 2, 3)))]
        body = "".join(f" {self.chance.choice(OPERATORS)} {term}" if at else term for at, term in enumerate(terms))
        if self.chance.random() < 0.3:
            body = f"({body})/{self.term()}"
        ending = f" {self.chance.choice(RELATIONS)} {self.number(value, unit)}" if self.chance.random() < 0.5 else ""
        return f"{head} {self.chance.choice(RELATIONS)} {body}{ending}"

    def alike(self) -> str:
        """A symbol set equal to a sum of others of its unit."""
        head, value, unit = self.named()
        others = [name for name in self.values if self.sheet.symbols.get(name.rsplit("_M")[0]) == unit]
        first, second = self.chance.choice(others), self.chance.choice(others)
        if self.chance.random() < 0.4:
            first, second = self.number(self.values[first], unit), self.number(self.values[second], unit)
        body = f"{first} {self.chance.choice('+−')} {second}"
        ending = f" = {self.number(value, unit)}" if self.chance.random() < 0.4 else ""
        return f"{head} {self.chance.choice(RELATIONS)} {body}{ending}"

    def member(self) -> str:
        """The head of a line of the model with one of its members, in symbols or numbers, as it is or changed."""
        head, side = self.chance.choice(self.members or [("R", "R")])
        line = f"{head} = {side}" if self.chance.random() < 0.9 else side
        return self.changed(line) if self.chance.random() < 0.8 else line

    def turned(self) -> str:
        """A relation of the model in symbols, made wrong as a whole or by one symbol."""
        head, side = self.relation()
        ways = ("2 ({})", "({})/2", "1/({})", "({})^2", "√({})", "({}) + V_Z", "−({})", "({})/R", "({}) I_L", "({})")
        powers, joints = ("{}²", "1/{}", "{}", "{}"), (" ", "/", " ∥ ", "{}")
        side = self._one(r"[A-Z]_\w+", side, lambda found: self.chance.choice(powers).format(found.group()))
        between = r"(?<=[A-Z]\w\w)[/ +]+(?=[A-Z(])"
        side = self._one(between, side, lambda found: self.chance.choice(joints).format(found.group()))
        side = side.replace(" + 1", self.chance.choice(("", " + 1")))
        return f"{head} = {self.chance.choice(ways).format(side)}"

    def relation(self) -> tuple[str, str]:
        """The head of a line of the model and an expression of symbols for it."""
        plain = [item for item in self.members if not re.search(r"\d{2}|\d [VAWΩkm]", item[1])]
        head, _, side = self.chance.choice(relations_of(self.sheet.circuit)).partition(" = ")
        return self.chance.choice(plain) if plain else (head, side.split(" = ")[0])

    def substituted(self) -> str:
        """A relation made wrong, and another in which it is put for its head."""
        head, side = self.relation()
        wrong = self.changed(f"{head} = {side}")
        body = wrong.partition(" = ")[2] or side
        users = [(other, told) for other, told in self.members if head in told.split() and other != head]
        if not users:
            return f"{wrong}\n{self._one('[+−]', wrong, lambda found: '+−'[found.group() == '+'])}"
        other, told = self.chance.choice(users)
        put = " ".join(f"({body})" if word == head else word for word in told.split())
        return f"{wrong}\n{other} = {told}\n{other} = {put}"

    def bounded(self) -> str:
        """A bound of a choice, not the true one, and a choice inside it."""
        choices = [choice for choice in self.sheet.choices if self.values.get(choice.high or choice.load or choice.low)]
        if not choices:
            return self.choice()
        choice = self.chance.choice(choices)
        key = choice.high or choice.load or choice.low
        unit = self.unit_of(key)
        factor = self.chance.choice((1.6, 0.5))
        bound = f"{key} = {write(self.values[key] * factor, unit)}"
        value = self.chance.choice((*choice.shelf, 150.0, 220.0, 270.0, 330.0, 470.0, choice.model))
        return f"{bound}\nchoose {choice.quantity} = {write(value, self.sheet.symbols[choice.key])}"

    def believed(self) -> str:
        """Lines under a state of the circuit, its own values among them."""
        lines = self.chance.choice(BELIEVED)
        return re.sub("[{][}]", lambda found: self.chance.choice((self.elsewhere, self.member))(), lines)

    def of_circuit(self) -> str:
        """A relation of the circuit, or a wrong one, perhaps with its value."""
        line = self.chance.choice(relations_of(self.sheet.circuit))
        head = line.split(" ")[0]
        if head in self.values and self.chance.random() < 0.3:
            return f"{line} = {self.number(self.values[head], self.unit_of(head))}"
        return line

    def towards_a_slip(self) -> str:
        """A value on the way from the true one to a slip's, in few figures, after its model line or alone."""
        near = [item for item in self.sheet.slips if abs(item.value / self.values.get(item.key, 1e9) - 1) < 0.12]
        slip = self.chance.choice(near if near and self.chance.random() < 0.6 else self.sheet.slips)
        lines = [line for line in self.model if line.startswith(f"{slip.key} ") and line.count(" = ") > 1]
        true = self.values.get(slip.key, slip.value)
        value = true + self.chance.choice((0.3, 0.36, 0.45, 0.7, 0.9, 1)) * (slip.value - true)
        told = typed(write(value, self.unit_of(slip.key), self.chance.choice((1, 2, 2, 3))))
        lead = self.chance.choice(lines).rpartition(" = ")[0] if lines else slip.key
        head = self.chance.choice((lead, lead, slip.key, slip.key.rsplit("_M")[0]))
        return f"{head} {self.chance.choice('===≈')} {told}"

    def turned_bound(self) -> str:
        """A bound asked for, the right way round or the other, at about its value."""
        bounds = [key for key in self.values if key.endswith(("_MIN", "_MAX")) and key in self.sheet.asked]
        if not bounds:
            return self.valued()
        key = self.chance.choice(bounds)
        return f"{key[:-4]} {self.chance.choice('≤≥<>')} {self.number(self.values[key], self.unit_of(key))}"

    def spread(self) -> str:
        """A given with a spread, about the right one or another."""
        bases = [key[:-4] for key in self.sheet.given if key.endswith("_MAX") and f"{key[:-4]}_MIN" in self.sheet.given]
        if not bases:
            return self.valued()
        base = self.chance.choice(bases)
        low, high = self.sheet.given[f"{base}_MIN"], self.sheet.given[f"{base}_MAX"]
        share = 100 * (high - low) / (high + low) * self.chance.choice((1, 1, 2))
        return f"{base} = {write((low + high) / 2, self.unit_of(base), 4)} ± {share:.3g} %"

    def fitting(self) -> str:
        """A symbol set equal to a simple fraction of another: a relation that fits these numbers and no others."""
        head, value, unit = self.named()
        alike = [name for name in self.values if self.sheet.symbols.get(name.rsplit("_M")[0]) == unit and name != head]
        other = self.chance.choice([name for name in alike if self.values[name]] or [head])
        fraction = Fraction(value / (self.values[other] or 1)).limit_denominator(12)
        return f"{head} = {fraction.numerator} {other}/{fraction.denominator} = {write(value, unit, 3)}"

    def two_in_one(self) -> str:
        """Two statements on one line, and one that may rest on them."""
        return f"{self.valued()}{self.chance.choice((', ', '; ', ' and ', ', so '))}{self.valued()}\n{self.member()}"

    def elsewhere(self) -> str:
        """A value of another state of the circuit."""
        return self._of([branch.recipe for branch in self.sheet.branches])

    def otherwise(self) -> str:
        """A value under another convention."""
        return self._of([item.recipe for item in self.sheet.conventions])

    def _of(self, recipes: list[Recipe]) -> str:
        if not recipes:
            return self.valued()
        world = expand(self.chance.choice(recipes), {**self.sheet.env, **self.chosen}, self.sheet.ends)
        values = {**self.chance.choice(world.situations).values, **world.views[0]}
        name = self.chance.choice([name for name in values if name.rsplit("_M")[0] in self.sheet.symbols])
        return f"{name} = {write(values[name], self.sheet.symbols[name.rsplit('_M')[0]], 4)}"

    def term(self) -> str:
        """A symbol or its number."""
        name, value, unit = self.named()
        if self.chance.random() < 0.6:
            return self.chance.choice((name, name, self.chance.choice(self.names)))
        return self.number(value, unit)

    def choice(self) -> str:
        """A choice of a part, of a value that fits or not."""
        if not self.sheet.choices:
            return f"choose {self.valued()}"
        choice = self.chance.choice(self.sheet.choices)
        value = self.chance.choice((*choice.accepted, choice.model, choice.model * 1.5, choice.model / 3, 1.234))
        told = write(value, self.sheet.symbols[choice.key], 12)
        verb = self.chance.choice(("choose {}", "take {}", "{}", "use {}", "we pick {}"))
        return verb.format(self.chance.choice((f"{choice.key} = {told}", f"{choice.quantity} = {told}", told)))

    def continued(self) -> str:
        """A line that goes on with the one before."""
        _, value, unit = self.named()
        return f"{self.chance.choice('=≈≤')} {self.chance.choice((self.number(value, unit), self.term()))}"

    def pieces(self) -> str:
        """Pieces in any order."""
        return self.chance.choice((" ", "")).join(
            self.chance.choice(BITS) for _ in range(self.chance.randint(1, 9))
        )
