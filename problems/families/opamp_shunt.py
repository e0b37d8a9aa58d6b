"""An op-amp drives a transistor across the output: the divider, what the transistor takes, and what it must bear."""

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
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(20, 61))
REFERENCES = (1.24, 2.5, 3.3, 4.7, 5.1, 5.6, 6.2)
GAIN = (40.0, 50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
LOADS = tuple(milliamps / 1000 for milliamps in (30, 40, 50, 60, 75, 80, 100, 120, 150))
TRANSISTORS = (0.625, 1.5, 2.0, 12.5, 40.0)
LABELS = {
    "V_REF": "reference voltage at the inverting input",
    "V_BE": "base-emitter voltage while it conducts",
    "h_FE": "static current gain",
    "V_O_NOM": "output wanted",
    "I_C_MIN": "least collector current, so that the loop stays in command",
    "R_2": "lower resistor of the divider",
    "P_RM": "power the resistor may take in a short",
}

DIVIDER_TURNED = Slip(
    "divider-turned",
    "V_O",
    Rewrite("V_REF*(1 + R_2/R_1)"),
    "the divider turned upside down",
    "The loop holds the tap at the reference, so $V_REF$ stands across the lower resistor: the ratio is upper "
    "over lower.",
    "Across which of the two resistors does the reference stand?",
)
ONE_LEFT_OUT = Slip(
    "one-left-out",
    "V_O",
    Rewrite("V_REF*R_1/R_2"),
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
DIVIDER_FROM_OUTPUT = Slip(
    "divider-current-from-lower",
    "I_DIV",
    Rewrite("V_O/R_2"),
    "the whole output put across the lower resistor",
    "The lower resistor has the reference across it; the whole output stands across both.",
    "Which voltage stands across $R_2$?",
)
FULL_LOAD_HEAT = Slip(
    "full-load-heat",
    "P_Q_MAX",
    Swap("I_L", "I_L_MAX"),
    "the fullest load used for the transistor's worst corner",
    "A shunt regulator takes what the load leaves: its transistor is hottest with the load light.",
    "Unplug the load in thought: where does its current go?",
    step="I_C",
)
LOW_LINE_HEAT = Slip(
    "low-line-heat",
    "P_Q_MAX",
    Swap("V_I", "V_I_MIN"),
    "the lowest line used for the transistor's worst corner",
    "At the highest line $R$ brings most, and the transistor takes all of the excess.",
    "Which line drives most current through $R$?",
    step="I_C",
)
LINE_HEAT = Slip(
    "line-heat",
    "P_Q_MAX",
    Rewrite("(V_I - V_O)*I_C"),
    "the voltage across $R$ taken for that across the transistor",
    "The transistor lies across the output; the rest of the input stands across $R$.",
    "Which two nodes do collector and emitter join?",
)
LIGHT_LOAD_STARVES = Slip(
    "light-load-starves",
    "I_C_MIN",
    Swap("I_L", "I_L_MIN"),
    "everything taken at its least",
    "The transistor has least when the load takes most: the lowest line goes with the fullest load.",
    "Which load leaves the transistor with least?",
)
JUST_RATED = Slip(
    "just-rated",
    "P_QM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
    reference=("S16",),
)
UPPER_FROM_OUTPUT = Slip(
    "upper-from-whole-output",
    "R_1_NOM",
    Rewrite("R_2*V_O_NOM/V_REF"),
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
    Drop("I_C"),
    "the transistor's least current left out",
    "At the starving corner $R$ also brings what keeps the loop in command.",
    "At the worst corner, who besides load and divider needs current through $R$?",
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "Least current flows through $R$ at the lowest line.",
    "Which line leaves least voltage across $R$?",
)
SHORT_OVERLOOKED = Slip(
    "short-overlooked",
    "R_MIN",
    Rewrite("(V_I - V_O_NOM)^2/P_RM"),
    "the short overlooked",
    "With the output shorted the whole input stands across $R$.",
    "What stands across $R$ when the load terminals are joined?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves the transistor at full load and lowest line.",
    "On which side of the bound does the loop stay in command?",
    reference=("S14",),
)

FAMILY = Family(
    title="An op-amp that rules a shunt",
    about="The op-amp compares a share of the output with a reference and drives a transistor across the output. The "
    "divider sets the output; the transistor takes what load and divider leave.",
    lesson="shunt",
    circuit="opamp-shunt",
    assume={"divider-current": "exact"},
    scenarios=(
        "A saltwater aquarium's probe amplifier is given a supply that can swallow as well as give.",
        "A bell foundry's pitch meter runs from a supply that an op-amp holds.",
        "The charge amplifier of a school's cosmic-ray detector wants a supply without a trace of ripple.",
        "A bookbinder's press has a load cell fed from an op-amp and a transistor across its supply.",
        "A mountain railway's rail thermometer is fed through a long wire and held at its end.",
        "A marionette theatre's dimmer is built so that a short on stage harms nothing.",
        "A beer garden's string of lamps has a controller whose supply is held by a loop.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The output the divider sets, and the divider's current",
            draws=(
                Pick("V_REF", REFERENCES),
                Pick("R_1", values_between(1000, 33000, Series.E24)),
                Pick("R_2", values_between(1000, 22000, Series.E24)),
            ),
            given=("V_REF", "R_1", "R_2"),
            labels=LABELS,
            data="The reference is {V_REF}; the divider has {R_1} above and {R_2} below, and its tap goes to the "
            "non-inverting input.",
            ask="Find the output voltage and the current of the divider.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_DIV", "the current $I_DIV$ of the divider"),
            ),
            require=("V_O <= 24", "V_O >= 1.25*V_REF"),
            slips=(DIVIDER_TURNED, ONE_LEFT_OUT, PLAIN_DIVIDER, DIVIDER_FROM_OUTPUT),
            back=(BackLine("The reference comes back at the tap", "V_O - R_1*I_DIV", "V_REF"),),
            band={"V_REF": 0.02, "R_1": 0.01, "R_2": 0.01},
            bench="an op-amp's offset of some millivolts is multiplied by the divider like the reference itself",
        ),
        Level(
            about="What the transistor takes at the worst corners, and what it must bear",
            draws=(
                Pick("V_REF", REFERENCES),
                Pick("R_1", values_between(1000, 22000, Series.E24)),
                Pick("R_2", values_between(1000, 10000, Series.E24)),
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", values_between(22, 220, Series.E12)),
                Pick("I_L_MIN", (0.0, 0.005, 0.01)),
                Pick("I_L_MAX", LOADS),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "R_1", "R_2", "V_REF", "I_L_MIN", "I_L_MAX"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "The series resistor is {R}, the reference {V_REF}, the divider {R_1} above and {R_2} below. Transistors "
            "are to be had for 0.625, 1.5, 2, 12.5 and 40 W; no part is to run past two thirds of that.",
            ask="Find the output voltage, the divider's current, the least collector current, and the greatest power "
            "in the transistor with a rating for it.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_DIV", "the current $I_DIV$ of the divider"),
                FindExtreme("I_C", Extreme.LEAST, "the least collector current"),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
                ChooseRating(
                    "P_QM",
                    "P_Q_MAX",
                    TRANSISTORS,
                    1.5,
                    "a rating for the transistor",
                    "no part is to run past two thirds of its rating",
                ),
            ),
            require=("V_I_MIN >= 1.2*V_O", "V_O >= 1.25*V_REF", "I_C_MIN >= 0.003", "I_L_MAX >= 2*I_L_MIN"),
            slips=(
                DIVIDER_TURNED, ONE_LEFT_OUT, LIGHT_LOAD_STARVES, FULL_LOAD_HEAT, LOW_LINE_HEAT, LINE_HEAT, JUST_RATED,
            ),
            checks=(CheckLine("The transistor at its hottest", "P_Q <= P_QM"),),
            band={"V_REF": 0.02, "R": 0.05},
            bench="the op-amp is fed from the line as a rule; its output must be able to go down to one junction",
        ),
        Level(
            about="Design: divider, a series resistor that bears a short, and the op-amp's drive",
            draws=(
                Pick("V_O_NOM", (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.8, 15.0)),
                Pick("V_REF", REFERENCES),
                Pick("R_2", (1000.0, 1200.0, 1500.0, 1800.0, 2200.0, 2700.0, 3300.0, 3900.0, 4700.0)),
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                Pick("I_C_MIN", (0.003, 0.005, 0.008, 0.01)),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("P_RM", (2.0, 3.0, 5.0, 10.0)),
            ),
            given=(
                "V_O_NOM", "V_I_MIN", "V_I_MAX", "I_L_MIN", "I_L_MAX", "V_REF", "R_2", "I_C_MIN", "V_BE", "h_FE",
                "P_RM",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted from a line between {V_I_MIN} and {V_I_MAX}; the load draws between "
            "{I_L_MIN} and {I_L_MAX}. The reference is {V_REF}, the lower resistor of the divider {R_2}, the "
            "transistor's gain {h_FE}. The transistor is to keep at least {I_C_MIN}, and the series resistor must bear "
            "a shorted output with no more than {P_RM}.",
            ask="Choose the upper resistor of the divider from the E96 values and the series resistor from the E24 "
            "values, and find the most that transistor and op-amp must give.",
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
                FindBound("R", "I_C >= I_C_MIN", "the largest $R$ that leaves the transistor its least current"),
                FindBound("R", "P_R <= P_RM", "the least $R$ that bears a shorted output", at={"V_O": "0"}),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least and heats the transistor least",
                    low="R_MIN",
                    high="R_MAX",
                ),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
                FindExtreme("I_OA", Extreme.GREATEST, "the greatest current the op-amp must give"),
            ),
            require=("V_I_MIN >= 1.25*V_O_NOM", "V_O_NOM >= 1.25*V_REF"),
            slips=(
                UPPER_FROM_OUTPUT, UPPER_TURNED, NO_KEEPING, HIGH_LINE, SHORT_OVERLOOKED, ROUNDED_UP, FULL_LOAD_HEAT,
            ),
            checks=(
                CheckLine("The transistor at its least", "I_C >= I_C_MIN"),
                CheckLine("Output shorted", "P_R <= P_RM", {"V_O": "0"}),
            ),
            band={"V_REF": 0.02, "h_FE": 0.3},
            bench="two stages of gain in one loop may sing; a small capacitor from the op-amp's output to its "
            "inverting input calms it",
        ),
    ),
)  # fmt: skip
