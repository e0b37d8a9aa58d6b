"""True values that surprise, and what they mean: each is what a circuit does, and is easily misread.

Place in the data flow: base problem's true values -> a question about what one of them says.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tutor.across.principles import RAW, Facts, letter_of


@dataclass(frozen=True)
class WrongMeaning:
    """A wrong meaning: the option, why it is wrong, a question; `reference` names the slips of the trade it is."""

    says: str
    why: str
    hint: str
    id: str = ""
    name: str = ""
    reference: tuple[str, ...] = ()


@dataclass(frozen=True)
class Surprise:
    """A true value of one of the `letters` in the `circuits` that surprises where `holds`; what it `means`, and what it
    does not."""

    circuits: tuple[str, ...]
    letters: tuple[str, ...]
    holds: Callable[[Facts, str, float], bool]
    means: str
    why: str
    misreadings: tuple[WrongMeaning, ...]

    def is_met(self, facts: Facts, key: str, value: float) -> bool:
        """Whether a true value is of this kind."""
        return facts.circuit in self.circuits and letter_of(key) in self.letters and self.holds(facts, key, value)


def _below_zero(facts: Facts, key: str, value: float) -> bool:
    return value < 0


def _above_rating(facts: Facts, key: str, value: float) -> bool:
    winding = facts.most("V_SEC")
    return winding is not None and value > 1.05 * winding


def _above_load(facts: Facts, key: str, value: float) -> bool:
    load = facts.most("I_L")
    return load is not None and value > 1.05 * load


def _below_an_ohm(facts: Facts, key: str, value: float) -> bool:
    return value < 1


def _always(facts: Facts, key: str, value: float) -> bool:
    return True


def _load_ranges(facts: Facts, key: str, value: float) -> bool:
    ends = facts.ends("I_L")
    return key.endswith("_MAX") and ends is not None and ends[0] < ends[1]


SURPRISES = (
    Surprise(
        ("heat_path",),
        ("R_thSA",),
        _below_zero,
        "no heat-sink can do it",
        "A bound below zero asks for a heat-sink colder than the air around it. The other resistances alone take more "
        "than the rise that is allowed.",
        (
            WrongMeaning(
                "no heat-sink is needed",
                "To leave it out is to have the worst there is, and what is asked for lies beyond the best.",
                "Can a heat-sink be colder than the air?",
                "none-needed",
                "a negative bound read as no heat-sink needed",
                ("H09",),
            ),
            WrongMeaning(
                "a sign was lost, and the size is right",
                "The sum is right: what the junction may rise is used up before the heat-sink comes.",
                "How much of the allowed rise do junction and washer take?",
            ),
        ),
    ),
    Surprise(
        RAW,
        ("V_PK", "V_DC"),
        _above_rating,
        "the reservoir holds the crest, and a winding is rated by its r.m.s. voltage",
        "The crest of a sine lies above its r.m.s. value by a factor of √2, and the reservoir is charged to it, less "
        "the diodes' drops.",
        (
            WrongMeaning(
                "something is wrong with the rectifier, which can only lower a voltage",
                "It lowers the crest, and the crest stands far above the rating.",
                "Compare like with like: r.m.s. or crest?",
                "rectifying-lowers",
                "rectifying believed to lower the voltage below the winding's rating",
                ("U20",),
            ),
            WrongMeaning(
                "the winding gives more than its label says",
                "It gives what its label says: an r.m.s. voltage, whose crest is higher.",
                "What does the figure on the label stand for?",
            ),
        ),
    ),
    Surprise(
        RAW,
        ("I_SEC",),
        _above_load,
        "the winding's current flows in short pulses, whose r.m.s. value is above their mean",
        "What the load draws is the mean of the pulses. Heat goes by the square, and the square of short tall pulses "
        "has more than the square of their mean.",
        (
            WrongMeaning(
                "part of the winding's current is lost on the way to the load",
                "Every charge that leaves the winding reaches the reservoir: the means are alike.",
                "Is the r.m.s. value of pulses their mean?",
            ),
            WrongMeaning(
                "the winding's current and the load's were exchanged",
                "A winding rated for the load's direct current alone would be overheated.",
                "Which of the two flows all the time?",
                "load-for-winding",
                "the winding's current taken to be the load's",
                ("U15",),
            ),
        ),
    ),
    Surprise(
        ("opamp_series", "feedback_pair", "three_terminal"),
        ("R_OUT",),
        _below_an_ohm,
        "the loop makes good nearly all that a load would take off the output",
        "No resistor is that small: it is a ratio of two changes, and the loop keeps the upper one small.",
        (
            WrongMeaning(
                "the load sees a resistor of that size in its way",
                "There is none; take the loop away and the output sags much further.",
                "Which part of the circuit would that resistor be?",
            ),
            WrongMeaning(
                "a prefix was lost on the way",
                "Milliohms and less are what a loop with much gain leaves.",
                "By how much does the loop's gain divide?",
            ),
        ),
    ),
    Surprise(
        ("source",),
        ("REG_LOAD",),
        _always,
        "the voltage changes by that share of itself between no load and full load: small is good",
        "Load regulation is a change: none at all would be best.",
        (
            WrongMeaning(
                "that share of the voltage is left at full load: large is good",
                "It says what is lost, not what is left.",
                "Is it a measure of steadiness or of change?",
                "what-is-left",
                "a large load regulation read as a good one",
                ("N04",),
            ),
            WrongMeaning(
                "that share of the voltage is left with the output shorted",
                "No load and full load are compared; a short is neither.",
                "No load: zero ohms or zero amperes?",
                "no-load-a-short",
                "no load taken for a short circuit",
                ("N05",),
            ),
        ),
    ),
    Surprise(
        ("zener_shunt",),
        ("P_Z",),
        _load_ranges,
        "the zener is hottest while the load takes least",
        "What comes through the resistor is the same; what the load does not take, the zener must.",
        (
            WrongMeaning(
                "the zener is hottest while the load takes most",
                "Then the load leaves it least.",
                "Unplug the load in thought: where does its current go?",
                "hottest-at-full-load",
                "the zener believed to work hardest at full load",
                ("S08",),
            ),
            WrongMeaning(
                "the zener's heat does not depend on the load",
                "Its voltage does not, and its current does.",
                "What does the current law at the output node say?",
            ),
        ),
    ),
    Surprise(
        ("foldback",),
        ("I_SC",),
        _always,
        "a shorted output gets less current than a load may draw",
        "The divider lets the limit fall with the output: that is what folding back means, and it spares the "
        "transistor.",
        (
            WrongMeaning(
                "a shorted output gets more current than any load",
                "Without a limit it would; this limit falls as the output falls.",
                "With the output at ground, how much must the sense resistor drop before the limiter opens?",
            ),
            WrongMeaning(
                "the limit stands still, whatever the output does",
                "A limit without the divider does; here a share of the output holds the limiter back.",
                "What does the divider take from the sense voltage?",
            ),
        ),
    ),
)  # fmt: skip
