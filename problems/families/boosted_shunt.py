"""A transistor across the output takes the spare current, so that a small zener can rule a large one."""

from tutor.generate.family import (
    CheckLine,
    Choose,
    ChooseRating,
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
    Turn,
    Work,
)
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(20, 61))
GAIN = (30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 100.0, 120.0)
LOADS = tuple(milliamps / 1000 for milliamps in (40, 50, 60, 75, 80, 100, 120, 150, 200, 250))
ZENER = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 12.0), ("P_ZM", 0.5, 0.5)))
TRANSISTORS = (0.625, 1.5, 2.0, 12.5, 40.0)
LABELS = {
    "V_Z": "zener voltage (straight characteristic)",
    "V_BE": "base-emitter voltage while it conducts",
    "h_FE": "static current gain",
    "I_RBE": "current from base to emitter beside the junction",
    "I_ZK": "least zener current for good regulation",
    "I_C_MIN": "least collector current, so that the transistor stays in command",
    "I_RBE_MAX": "greatest current the resistor from base to emitter may waste",
    "P_RM": "power the resistor may take in a short",
}

JUNCTION_LEFT_OUT = Slip(
    "junction-left-out",
    "V_O",
    Rewrite("V_Z"),
    "the junction left out",
    "The zener ends at the base, and the base stands one junction above ground.",
    "Where does the lower end of the zener go?",
)
JUNCTION_TURNED = Slip(
    "junction-turned",
    "V_O",
    Turn("V_BE"),
    "the junction taken off instead of added",
    "In a follower the junction is lost on the way to the output; here zener and junction stand in series across it.",
    "Go from ground to the output: which voltages do you pass, and which way?",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "I_R",
    Rewrite("V_I/R"),
    "the whole input voltage put across $R$",
    "$R$ ends at the output, which is not at ground.",
    "Which two nodes does $R$ join?",
)
GAIN_ALONE = Slip(
    "load-not-taken-off",
    "I_B",
    Rewrite("I_R/(h_FE + 1)"),
    "the load's current not taken off",
    "The load has its current first; zener and transistor share what it leaves.",
    "What flows out of the output node, and through which three branches?",
)
FULL_LOAD_HEAT = Slip(
    "full-load-heat",
    "P_Q_MAX",
    Swap("I_L", "I_L_MAX"),
    "the fullest load used for the transistor's worst corner",
    "A shunt regulator takes what the load leaves: its transistor is hottest with the load light.",
    "Unplug the load in thought: where does its current go?",
    step="I_B",
)
LIGHT_LOAD = Slip(
    "light-load-bound",
    "R_MAX",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the starving corner",
    "The fullest load leaves zener and transistor least, so it sets the largest $R$.",
    "Which load current leaves them with least?",
    reference=("S04",),
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "Least current flows through $R$ at the lowest line.",
    "Which line leaves least voltage across $R$?",
    reference=("S02",),
)
SHORT_OVERLOOKED = Slip(
    "short-overlooked",
    "R_MIN",
    Rewrite("(V_I - V_Z - V_BE)^2/P_RM"),
    "the short overlooked",
    "With the output shorted the whole input stands across $R$.",
    "What stands across $R$ when the load terminals are joined?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves zener and transistor at full load and lowest line.",
    "On which side of the bound do they stay fed?",
    reference=("S14",),
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
KNEE_LEFT_OUT = Slip(
    "collector-left-out",
    "R_MAX",
    Rewrite("(V_I - V_Z - V_BE)/I_L"),
    "nothing left for zener and transistor",
    "At the starving corner $R$ must still bring what keeps both in command.",
    "At the worst corner, who besides the load needs current through $R$?",
)

FAMILY = Family(
    title="A zener with a transistor to help it",
    about="The zener drives a transistor that lies across the output. The transistor takes what the load leaves, the "
    "zener only a share of it, and the output stands one junction above the zener.",
    lesson="shunt",
    circuit="boosted-shunt",
    assume={"base-current": "exact"},
    edition=2,  # rounded up past the bound as it is written, too; a series resistor that fits the load
    scenarios=(
        "A model lighthouse turns its lamp from a shunt regulator that never minds a short.",
        "A carillon's practice keyboard runs from a boosted shunt regulator under the bench.",
        "The telemetry of a racing pigeon loft draws in bursts from a small shunt supply.",
        "A street organ's valve board is fed from a shunt regulator that can also swallow current.",
        "A herb dryer's fan control has a shunt regulator with a transistor on a small heat-sink.",
        "A tide mill's data logger takes its supply from a boosted zener at the end of a pier.",
        "A stage piano's pedal board is supplied by a zener with a transistor beside it.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The output, and who carries what",
            draws=(
                Pick("V_I", VOLTS),
                ZENER,
                Pick("R", values_between(22, 150, Series.E12)),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("I_L", LOADS),
                Pick("I_RBE", (0.001, 0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005)),
            ),
            given=("V_I", "R", "V_Z", "V_BE", "h_FE", "I_L", "I_RBE"),
            labels=LABELS,
            data="The supply stands at {V_I}, the series resistor is {R}, the zener's characteristic is straight at "
            "{V_Z}, the transistor has a gain of {h_FE}, and the load draws {I_L}. A resistor from base to emitter "
            "takes {I_RBE} beside the junction.",
            ask="Find the output voltage, the current through the series resistor, and the base current.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_R", "the current $I_R$ through the series resistor"),
                Find("I_B", "the base current $I_B$"),
            ),
            require=("V_I >= 1.25*V_O", "I_R >= 1.1*I_L", "I_R <= 0.6", "I_B >= 0.0003"),
            slips=(JUNCTION_LEFT_OUT, JUNCTION_TURNED, WHOLE_INPUT, GAIN_ALONE),
            band={"V_Z": 0.05, "h_FE": 0.3},
            bench="without the resistor a zener would carry only the base current, near its knee, where its voltage is "
            "lower and less steady than its data sheet says",
        ),
        Level(
            about="With a base resistor that keeps the zener fed, and the heat at the worst corner",
            draws=(
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                ZENER,
                Pick("R", values_between(22, 470, Series.E12)),
                Pick("R_BE", values_between(100, 680, Series.E12)),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("I_L_MIN", (0.0, 0.01, 0.02)),
                Pick("I_L_MAX", LOADS),
                Pick("I_ZK", (0.001, 0.002, 0.003)),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "V_Z", "R_BE", "V_BE", "h_FE", "I_L_MIN", "I_L_MAX", "I_ZK"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "The series resistor is {R}, the zener's characteristic is straight at {V_Z}, the transistor has a gain of "
            "{h_FE}, and {R_BE} is fitted from base to emitter. Transistors are to be had for 0.625, 1.5, 2, 12.5 and "
            "40 W; no part is to run past two thirds of that.",
            ask="Find the output voltage, the current of the base resistor, the least zener current, and the greatest "
            "power in the transistor with a rating for it.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_RBE", "the current through the base resistor"),
                FindExtreme("I_Z", Extreme.LEAST, "the least zener current"),
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
            require=(
                "V_I_MIN >= 1.25*V_O",
                "I_L_MAX >= 2*I_L_MIN",
                "I_Z_MIN >= I_ZK",
                "V_I_MAX - V_O <= 2.5*R*I_L_MAX",  # nobody burns many times what the load takes
            ),
            slips=(
                JUNCTION_TURNED,
                Slip(
                    "all-through-zener",
                    "I_Z_MIN",
                    Rewrite("(V_I - V_Z - V_BE)/R - I_L"),
                    "all that the load leaves given to the zener",
                    "That would be so without the transistor; with it nearly all goes through the collector.",
                    "How much of the current goes through the collector?",
                ),
                Slip(
                    "base-resistor-forgotten",
                    "I_Z_MIN",
                    Rewrite("I_B"),
                    "the current of the base resistor forgotten",
                    "The zener feeds two branches, the base and the resistor beside the junction.",
                    "Write the current law at the base node.",
                ),
                FULL_LOAD_HEAT,
                Slip(
                    "line-heat",
                    "P_Q_MAX",
                    Rewrite("(V_I - V_O)*I_C"),
                    "the voltage across $R$ taken for that across the transistor",
                    "The transistor lies across the output; the rest of the input stands across $R$.",
                    "Which two nodes do collector and emitter join?",
                ),
                JUST_RATED,
            ),
            checks=(
                CheckLine("The zener at its least", "I_Z >= I_ZK"),
                CheckLine("The transistor at its hottest", "P_Q <= P_QM"),
            ),
            band={"V_Z": 0.05, "h_FE": 0.3, "R": 0.05},
            bench="$V_BE$ falls by some 2 mV for each kelvin, and with it the output and the current of the base "
            "resistor",
        ),
        Level(
            about="Design: a resistor fed at the worst corner that bears a short, and what the output then does",
            draws=(
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 12.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                Pick("I_ZK", (0.001, 0.0015, 0.002, 0.003, 0.004, 0.005)),
                Work("I_RBE_MAX", "2*I_ZK"),
                Pick("I_C_MIN", (0.005, 0.01, 0.015, 0.02)),
                Pick("P_RM", (2.0, 3.0, 5.0, 10.0)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_Z", "V_BE", "h_FE", "I_L_MIN", "I_L_MAX", "I_ZK", "I_RBE_MAX",
                "I_C_MIN", "P_RM",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "The zener stands at {V_Z} (straight); the transistor's gain is {h_FE}. A resistor from base to "
            "emitter is to bring the zener its {I_ZK} by itself, and no more than "
            "{I_RBE_MAX}; the transistor is to keep at least {I_C_MIN}, and the series resistor must bear a shorted "
            "output with no more than {P_RM}.",
            ask="Choose both resistors, and find the greatest power in the transistor.",
            asks=(
                FindBound("R_BE", "I_RBE >= I_ZK", "the largest $R_BE$ that keeps the zener fed by itself"),
                FindBound("R_BE", "I_RBE <= I_RBE_MAX", "the least $R_BE$ that wastes no more than allowed"),
                Choose(
                    "R_BE",
                    Series.E12,
                    "an E12 value for $R_BE$",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least",
                    low="R_BE_MIN",
                    high="R_BE_MAX",
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
            ),
            require=("V_I_MIN >= 1.25*V_Z + 1",),
            slips=(
                KNEE_LEFT_OUT,
                LIGHT_LOAD,
                HIGH_LINE,
                SHORT_OVERLOOKED,
                ROUNDED_UP,
                FULL_LOAD_HEAT,
            ),
            checks=(
                CheckLine("The transistor at its least", "I_C >= I_C_MIN"),
                CheckLine("Output shorted", "P_R <= P_RM", {"V_O": "0"}),
            ),
            band={"V_Z": 0.05, "h_FE": 0.3},
            bench="the zener's slope counts by one part in $h_FE + 1$, so that the output hardly moves with the load",
        ),
    ),
)  # fmt: skip
