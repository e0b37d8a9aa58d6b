"""An adjustable shunt reference: the divider that sets the output, and the resistor that keeps it fed."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    ChooseRating,
    Drop,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    NoMargin,
    Pick,
    PickPart,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

PART = {"V_REF": "V_REF", "I_REF": "I_REF"}
VOLTS = tuple(half / 2 for half in range(16, 61))
OUTPUTS = (3.3, 4.0, 5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.8, 15.0)
LOADS = tuple(milliamps / 1000 for milliamps in (5, 8, 10, 12, 15, 18, 20, 25, 30))
SHELF = (0.25, 0.5, 1.0, 2.0, 5.0)
LABELS = {
    "V_REF": "reference voltage",
    "I_REF": "current into the reference pin",
    "I_K_MIN": "least cathode current for good regulation",
    "I_K_MAX": "greatest permissible cathode current",
    "V_REF_MIN": "lowest reference voltage of the type",
    "V_REF_MAX": "highest reference voltage of the type",
    "V_O_NOM": "output wanted",
    "R_2": "lower resistor of the divider",
}

DIVIDER_TURNED = Slip(
    "divider-turned",
    "V_O",
    Rewrite("V_REF*(1 + R_2/R_1) + I_REF*R_1"),
    "the divider turned upside down",
    "The reference voltage stands across the lower resistor, so the ratio is upper over lower.",
    "Across which of the two resistors does the reference hold its voltage?",
)
ONE_LEFT_OUT = Slip(
    "one-left-out",
    "V_O",
    Rewrite("V_REF*R_1/R_2 + I_REF*R_1"),
    "the reference's own voltage left out",
    "That is the voltage across $R_1$ alone; the one across $R_2$ comes on top.",
    "From ground to the output, across which resistors do you pass?",
)
PLAIN_DIVIDER = Slip(
    "plain-divider",
    "V_O",
    Rewrite("V_REF*R_2/(R_1 + R_2)"),
    "the reference divided instead of multiplied",
    "The divider takes a share of the output, and the loop makes that share the reference: the output is larger.",
    "Is the output larger or smaller than the reference?",
)
UPPER_FROM_OUTPUT = Slip(
    "upper-from-whole-output",
    "R_1_NOM",
    Rewrite("V_O_NOM/(V_REF/R_2 + I_REF)"),
    "the whole output put across the upper resistor",
    "The upper resistor has only what is left above the reference.",
    "What voltage stands at its lower end?",
)
UPPER_TURNED = Slip(
    "ratio-turned",
    "R_1_NOM",
    Rewrite("R_2*V_REF/(V_O_NOM - V_REF)"),
    "the ratio turned upside down",
    "The larger voltage stands across the larger resistor.",
    "Which of the two resistors has more voltage across it?",
)
NO_KEEPING = Slip(
    "keeping-current-left-out",
    "R_MAX",
    Drop("I_K"),
    "the reference's least current left out",
    "At the starving corner $R$ also brings what keeps the reference in command.",
    "At the worst corner, who besides the load needs current through $R$?",
)
NOMINAL_LINE = Slip(
    "nominal-line",
    "R_MAX",
    Swap("V_I", "V_I_NOM"),
    "the nominal line used for the starving corner",
    "The output must hold over the whole range of the line, and at its lowest least is left across $R$.",
    "Does your value still feed the reference when the line is at its lowest?",
)
LIGHT_LOAD = Slip(
    "light-load",
    "R_MAX",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the starving corner",
    "The fullest load leaves the reference least, so it sets the largest $R$.",
    "Which load current leaves the reference with least?",
)
KEEPING_FORGOTTEN = Slip(
    "load-takes-all",
    "I_L_MAX",
    Rewrite("(V_I - V_O)/R - I_DIV"),
    "the reference's least current left out",
    "If the load took all that is left, the reference could no longer hold the output.",
    "At the edge of regulation, is the cathode current zero?",
)
HIGH_LINE_FOR_LOAD = Slip(
    "high-line-for-full-load",
    "I_L_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the fullest load",
    "The fullest load must be carried at every line, and at the lowest one $R$ brings least.",
    "Which line brings least current through $R$?",
)
REFERENCE_VOLTAGE_HEAT = Slip(
    "reference-voltage-heat",
    "P_D_MAX",
    Rewrite("V_REF*I_K"),
    "the reference voltage taken for that across the reference",
    "The whole output stands from cathode to anode; only its pin is at the reference voltage.",
    "Which two nodes do cathode and anode join?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves the reference at full load and lowest line.",
    "On which side of the bound does the reference stay fed?",
    reference=("S14",),
)
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
    reference=("S16",),
)

FAMILY = Family(
    title="An adjustable shunt reference",
    about="A divider tells a shunt reference where to hold the output. The reference takes what current the load "
    "leaves, and must always be left a little.",
    lesson="shunt",
    circuit="reference-shunt",
    assume={"reference-current": "exact"},
    scenarios=(
        "A balance for postage stamps wants a bridge voltage that stays put.",
        "A darkroom timer's comparator is to have its own steady supply.",
        "A sundial museum lights a moving shadow from a lamp whose driver needs a reference.",
        "An accordion tuner's meter takes its reference from a three-terminal shunt.",
        "The analogue board of a sailing boat's log is given a supply of its own.",
        "A glass blower's annealing oven has a sensor bridge that must not drift with the line.",
        "A rock band's tuner pedal is supplied through a shunt reference behind the mains adaptor.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The output a divider sets, and the pin's small share in it",
            draws=(
                PickPart("shunt-references", PART),
                Pick("R_1", values_between(2200, 100000, Series.E24)),
                Pick("R_2", values_between(1000, 22000, Series.E24)),
            ),
            given=("V_REF", "I_REF", "R_1", "R_2"),
            labels=LABELS,
            data="The reference is {V_REF} and draws {I_REF} into its pin; the divider has {R_1} above and {R_2} "
            "below.",
            ask="Find the current through the lower resistor, the output voltage, and the current through the upper "
            "resistor.",
            asks=(
                Find("I_LOWER", "the current through the lower resistor"),
                Find("V_O", "the output voltage $V_O$"),
                Find("I_DIV", "the current $I_DIV$ through the upper resistor"),
            ),
            require=("V_O <= 20", "V_O >= 1.3*V_REF"),
            slips=(DIVIDER_TURNED, ONE_LEFT_OUT, PLAIN_DIVIDER),
            back=(BackLine("The reference comes back at the pin", "V_O - R_1*I_DIV", "V_REF"),),
            band={"V_REF": 0.02, "R_1": 0.01, "R_2": 0.01},
            bench="with resistors of 1 % the reference's own tolerance is the larger part of what is left",
        ),
        Level(
            about="How much current it is left with, at the worst corners",
            draws=(
                PickPart("shunt-references", {**PART, "I_K_MIN": "I_K_MIN"}),
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", values_between(100, 1000, Series.E12)),
                Pick("R_1", values_between(1000, 47000, Series.E24)),
                Pick("R_2", values_between(1000, 15000, Series.E24)),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "R_1", "R_2", "V_REF", "I_REF", "I_K_MIN"),
            ranges=("V_I",),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}. The series resistor is {R}, the divider {R_1} above "
            "and {R_2} below; the reference is {V_REF} with {I_REF} into its pin, and it needs {I_K_MIN} at least.",
            ask="Find the output voltage, the divider's current, the greatest load current at every line, and the "
            "greatest power in the reference, load unplugged.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_DIV", "the current $I_DIV$ of the divider"),
                FindBound("I_L", "I_K >= I_K_MIN", "the greatest load current at every line"),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the reference", at={"I_L": "0"}),
            ),
            require=("V_I_MIN >= 1.2*V_O", "V_O >= 1.3*V_REF", "I_L_MAX >= 0.004", "I_L_MAX <= 0.04", "P_D_MAX <= 0.7"),
            slips=(DIVIDER_TURNED, ONE_LEFT_OUT, KEEPING_FORGOTTEN, HIGH_LINE_FOR_LOAD, REFERENCE_VOLTAGE_HEAT),
            checks=(CheckLine("Fullest load, lowest line", "I_K >= I_K_MIN", {"I_L": "I_L_MAX"}),),
            band={"V_REF": 0.02, "R": 0.05},
            bench="near its least current the reference lets go gently: the output sinks before it falls",
        ),
        Level(
            about="Design: divider, series resistor and its rating",
            draws=(
                PickPart("shunt-references", {**PART, "I_K_MIN": "I_K_MIN", "I_K_MAX": "I_K_MAX"}),
                Pick("V_O_NOM", OUTPUTS),
                Pick("V_I_NOM", VOLTS),
                Pick("swing", (0.05, 0.1, 0.15)),
                Work("V_I_MIN", "V_I_NOM*(1 - swing)"),
                Work("V_I_MAX", "V_I_NOM*(1 + swing)"),
                Pick("I_L_MIN", (0.0, 0.002)),
                Pick("I_L_MAX", LOADS),
                Pick("R_2", (1000.0, 1200.0, 1500.0, 1800.0, 2200.0, 2700.0, 3300.0, 3900.0, 4700.0)),
            ),
            given=(
                "V_O_NOM", "V_I_MIN", "V_I_NOM", "V_I_MAX", "I_L_MIN", "I_L_MAX", "V_REF", "I_REF", "I_K_MIN",
                "I_K_MAX", "R_2",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted from a line of {V_I_NOM} that may lie anywhere between {V_I_MIN} "
            "and {V_I_MAX}; the load draws between {I_L_MIN} and {I_L_MAX}. The reference is {V_REF} with {I_REF} into "
            "its pin; it needs {I_K_MIN} and bears {I_K_MAX}. The lower resistor of the divider is {R_2}. Resistors "
            "are rated 0.25, 0.5, 1, 2 and 5 W and are not to run past two thirds of that.",
            ask="Choose the upper resistor of the divider from the E96 values and the series resistor from the E24 "
            "values, and rate the series resistor.",
            asks=(
                Find("R_1", "the upper resistor that would give just the output wanted", key="R_1_NOM",
                     at={"V_O": "V_O_NOM"}),
                Choose(
                    "R_1",
                    Series.E96,
                    "the E96 value nearest to it",
                    Prefer.NEAREST,
                    "the nearest value misses the output least",
                    near="R_1_NOM",
                ),
                Find("V_O", "the output voltage with it"),
                FindBound("R", "I_K >= I_K_MIN", "the largest $R$ that keeps the reference fed"),
                FindBound("R", "I_K <= I_K_MAX", "the least $R$ that keeps the reference within its current"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least",
                    low="R_MIN",
                    high="R_MAX",
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                ChooseRating(
                    "P_RM", "P_R_MAX", SHELF, 1.5, "a rating for $R$", "it is not to run past two thirds of it"
                ),
            ),
            require=("V_I_MIN >= 1.25*V_O_NOM", "I_L_MAX >= 2*I_L_MIN"),
            slips=(
                UPPER_FROM_OUTPUT, UPPER_TURNED, ONE_LEFT_OUT, NO_KEEPING, LIGHT_LOAD, NOMINAL_LINE, ROUNDED_UP,
                JUST_RATED,
            ),
            checks=(
                CheckLine("The reference at its least", "I_K >= I_K_MIN"),
                CheckLine("The reference at its most", "I_K <= I_K_MAX"),
            ),
            band={"V_REF": 0.02},
            bench="a little capacitance at the output can make such a reference sing; its data sheet says how much "
            "is too much and how much is enough",
        ),
    ),
)  # fmt: skip
