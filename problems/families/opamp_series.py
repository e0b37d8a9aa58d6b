"""An op-amp that drives a pass transistor: from the divider to the output, then what the amplifier must give."""

from tutor.generate.family import (
    BackLine,
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
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

REFERENCES = (1.25, 2.5, 3.0, 3.3, 3.9, 4.7, 5.0, 5.6, 6.2)
DIVIDER = values_between(1000, 22000, Series.E12)
GAIN = (30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
LOADS = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
LINES = tuple(half / 2 for half in range(16, 65))
TRANSISTORS = (1.5, 2.0, 12.5, 40.0)
TOP = {"V_I": "V_I_MAX"}
LABELS = {
    "V_I": "supply of regulator and amplifier",
    "V_I_MAX": "highest line",
    "V_REF": "reference at the non-inverting input",
    "R_1": "upper resistor of the divider",
    "R_2": "lower resistor of the divider",
    "V_BE": "base-emitter voltage while it conducts",
    "h_FE": "lowest current gain of the type",
    "I_L": "load current",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "V_DROP": "how far the amplifier's output stays below its supply",
    "V_O_NOM": "output wanted",
    "I_DIV_MIN": "least current of the divider",
    "I_DIV_MAX": "most current of the divider",
    "I_OA_MAX": "most that the amplifier can give",
}

UPSIDE_DOWN = Slip(
    "divided-instead",
    "V_O",
    Rewrite("V_REF*R_2/(R_1 + R_2)"),
    "the reference divided instead of multiplied",
    "The divider takes a share of the output, and the loop makes that share the reference: the output is larger.",
    "Is the output larger or smaller than the reference?",
    reference=("F01",),
)
SWAPPED = Slip(
    "resistors-swapped",
    "V_O",
    Rewrite("V_REF*(1 + R_2/R_1)"),
    "upper and lower resistor in each other's place",
    "The reference stands across the lower resistor, so the ratio is upper over lower.",
    "Across which of the two resistors does the reference stand?",
    reference=("F02",),
)
ONE_LEFT_OUT = Slip(
    "one-left-out",
    "V_O",
    Rewrite("V_REF*R_1/R_2"),
    "the lower resistor's own voltage left out",
    "That is what stands across $R_1$ alone; what stands across $R_2$ comes on top.",
    "From ground to the output, across which resistors do you pass?",
    reference=("F03",),
)
JUNCTION_OFF = Slip(
    "junction-taken-off",
    "V_O",
    Rewrite("V_REF*(1 + R_1/R_2) - V_BE"),
    "the pass transistor's junction taken off the output",
    "The divider hangs on the output itself, behind the transistor: the loop drives the base that much higher.",
    "Where is the output measured: before or behind the pass transistor?",
    reference=("F05",),
)
INPUTS_EQUAL = Slip(
    "output-is-reference",
    "V_O",
    Rewrite("V_REF"),
    "the output taken for the reference",
    "The loop makes the two inputs equal, and the inverting one sits on the tap, not on the output.",
    "Which node is it that the loop holds at the reference?",
    reference=("F07",),
)
NO_SWING = Slip(
    "swing-forgotten",
    "V_OA",
    Rewrite("V_O"),
    "the junction above the output forgotten",
    "The amplifier drives the base, and the base stands one junction above the output.",
    "Between the amplifier's output and the regulator's, what do you pass?",
    reference=("F09",),
)
ALL_FROM_AMPLIFIER = Slip(
    "all-from-the-amplifier",
    "I_OA",
    Rewrite("I_L + I_DIV"),
    "the emitter's whole current asked of the amplifier",
    "The amplifier brings base current alone; the supply gives the rest through the collector.",
    "Which terminal of the transistor carries the load current in?",
    reference=("F10",),
)
ALL_AT_FULL_LOAD = Slip(
    "all-from-the-amplifier",
    "I_OA_MAX",
    Rewrite("I_L + I_DIV"),
    "the emitter's whole current asked of the amplifier",
    "The amplifier brings base current alone; the supply gives the rest through the collector.",
    "Which terminal of the transistor carries the load current in?",
    reference=("F10",),
)
LIGHT_LOAD = Slip(
    "light-load",
    "I_OA_MAX",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the amplifier's worst corner",
    "Base current goes with the load: the amplifier gives most at the fullest load.",
    "At which load does the transistor want most base current?",
)
HEADROOM_OF_OUTPUT = Slip(
    "rail-at-the-output",
    "V_I_MIN",
    Rewrite("V_O + V_DROP"),
    "the amplifier's headroom counted from the output",
    "The amplifier's own output stands one junction above the regulator's, and its supply must stay above that.",
    "How high must the amplifier's output reach, and how high its supply?",
)
NO_RAIL = Slip(
    "rail-forgotten",
    "V_I_MIN",
    Rewrite("V_O + V_BE"),
    "an amplifier that reaches its supply",
    "Its output stays below its supply, and so the supply must stand that much higher.",
    "How near to its supply can the amplifier's output come?",
)
HEAT_OF_OUTPUT = Slip(
    "output-for-drop",
    "P_Q_MAX",
    Rewrite("V_O*I_C"),
    "the output taken for the transistor's voltage",
    "The transistor stands between supply and output: it has what the output leaves of the supply.",
    "Which two nodes do collector and emitter join?",
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
FAINT_DIVIDER = Slip(
    "faint-divider",
    "R_2",
    RoundAway(above=True),
    "a divider larger than its current allows",
    "The larger the resistors, the more what little the input draws moves the tap: the current has a least value.",
    "How does the divider's current compare with what is drawn from its tap?",
    reference=("F11",),
)
OUTPUT_ON_LOWER = Slip(
    "output-on-lower",
    "R_2_MAX",
    Rewrite("V_O_NOM/I_DIV_MIN"),
    "the whole output put across the lower resistor",
    "The loop holds the tap at the reference, so that is what $R_2$ has across it.",
    "Which voltage stands across $R_2$?",
)

FAMILY = Family(
    title="An op-amp that drives the pass transistor",
    about="The op-amp compares a share of the output with a reference and drives the base of the pass transistor just "
    "so high that both are equal. The divider sets the output; the amplifier needs headroom and gives base current.",
    lesson="series",
    circuit="opamp-series",
    scenarios=(
        "A clay studio's kiln recorder needs a supply that does not move when its pen motor starts.",
        "The weather cock of a town hall has electronic sensors, fed by a regulator with an op-amp.",
        "A viol maker's humidity chest runs its fan and its meter from one steady supply.",
        "A school's wind tunnel has its balance fed from an op-amp and a pass transistor.",
        "A cheese cellar's data recorder shares its supply with a pump, and must not notice.",
        "The score board of a village green hangs on a long line and is regulated at the board.",
        "A beekeeper's hive scale gets its steady supply from an op-amp regulator in the shed.",
    ),
    cautions=("hot-parts", "output", "live-tab"),
    levels=(
        Level(
            about="The output, and what the amplifier gives",
            form="reference",
            draws=(
                Pick("V_I", LINES),
                Pick("V_REF", REFERENCES),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("I_L", LOADS),
            ),
            given=("V_I", "V_REF", "R_1", "R_2", "V_BE", "h_FE", "I_L"),
            labels=LABELS,
            data="An op-amp fed from {V_I} compares the tap of a divider, {R_1} above and {R_2} below, with {V_REF}, "
            "and drives a pass transistor of gain {h_FE}. The load draws {I_L}.",
            ask="Find the output voltage, and the voltage and current that the amplifier gives.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("V_OA", "the amplifier's output voltage $V_OA$"),
                Find("I_OA", "the amplifier's output current $I_OA$"),
            ),
            require=("V_O >= 5", "V_O <= 20", "V_I >= V_O + 3.5", "V_I <= 2*V_O", "V_O >= 1.2*V_REF", "I_OA <= 0.025"),
            slips=(UPSIDE_DOWN, SWAPPED, ONE_LEFT_OUT, JUNCTION_OFF, INPUTS_EQUAL, NO_SWING, ALL_FROM_AMPLIFIER),
            back=(BackLine("The tap comes back to the reference", "V_O*R_2/(R_1 + R_2)", "V_REF"),),
            band={"V_REF": 0.02, "R_1": 0.01, "R_2": 0.01},
            bench="an op-amp's offset of a few millivolts is multiplied by the divider like the reference itself",
        ),
        Level(
            about="The amplifier's worst corner, the lowest line, and the heat",
            form="reference",
            draws=(
                Pick("V_I_MAX", LINES),
                Pick("V_REF", REFERENCES),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("I_L_MIN", (0.0, 0.01, 0.02, 0.05)),
                Pick("I_L_MAX", LOADS),
                Pick("V_DROP", (1.2, 1.5, 1.8, 2.0, 2.5)),
            ),
            given=("V_I_MAX", "V_REF", "R_1", "R_2", "V_BE", "h_FE", "I_L_MIN", "I_L_MAX", "V_DROP"),
            ranges=("I_L",),
            labels=LABELS,
            data="An op-amp compares the tap of a divider, {R_1} above and {R_2} below, with {V_REF}, and drives a "
            "pass transistor of gain {h_FE}. Its output stays {V_DROP} below its supply, which is the line. The load "
            "draws between {I_L_MIN} and {I_L_MAX}; the line may rise to {V_I_MAX}. Transistors are to be had for 1.5, "
            "2, 12.5 and 40 W; no part is to run past two thirds of that.",
            ask="Find the output, the most current the amplifier must give, the lowest line at which the output still "
            "holds, and the greatest power in the transistor with a rating for it.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                FindExtreme("I_OA", Extreme.GREATEST, "the greatest current of the amplifier"),
                FindBound("V_I", "V_HEAD >= V_DROP", "the lowest line for the full output"),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor", at=TOP),
                ChooseRating(
                    "P_QM", "P_Q_MAX", TRANSISTORS, 1.5, "a rating for the transistor",
                    "no part is to run past two thirds of its rating",
                ),
            ),
            require=(
                "V_O >= 5", "V_O <= 24", "V_I_MAX >= V_I_MIN + 1", "V_I_MAX <= 2*V_O", "V_O >= 1.2*V_REF",
                "I_L_MAX >= 4*I_L_MIN", "I_OA_MAX <= 0.025",
            ),
            slips=(
                SWAPPED, ONE_LEFT_OUT, INPUTS_EQUAL, ALL_AT_FULL_LOAD, LIGHT_LOAD, HEADROOM_OF_OUTPUT, NO_RAIL,
                HEAT_OF_OUTPUT, JUST_RATED,
            ),
            checks=(CheckLine("The transistor at its hottest", "P_Q <= P_QM", TOP),),
            back=(BackLine("The tap at the lowest line", "(V_I_MIN - V_DROP - V_BE)*R_2/(R_1 + R_2)", "V_REF"),),
            band={"V_REF": 0.02, "h_FE": 0.3},
            bench="below its lowest line the amplifier's output stands at its rail, and the output follows the line",
        ),
        Level(
            about="Design: a divider with a current of its own, a gain, and the line it needs",
            form="reference",
            draws=(
                Pick("V_O_NOM", (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.5, 15.0, 18.0, 20.0)),
                Pick("V_REF", REFERENCES),
                Pick("I_DIV_MIN", (0.0005, 0.0008, 0.001, 0.0015, 0.002, 0.0025)),
                Work("I_DIV_MAX", "2*I_DIV_MIN"),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                Pick("I_OA_MAX", (0.004, 0.005, 0.006, 0.008, 0.01, 0.015, 0.02)),
                Pick("V_BE", (0.7,)),
                Pick("V_DROP", (1.2, 1.5, 1.8, 2.0, 2.5)),
            ),
            given=("V_O_NOM", "V_REF", "I_DIV_MIN", "I_DIV_MAX", "I_L_MIN", "I_L_MAX", "I_OA_MAX", "V_BE", "V_DROP"),
            ranges=("I_L",),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted for a load of {I_L_MIN} to {I_L_MAX}. The reference is {V_REF}; the "
            "divider is to carry at least {I_DIV_MIN}, so that what the amplifier's input draws does not count, and at "
            "most {I_DIV_MAX}. The amplifier gives {I_OA_MAX} at most, and its output stays {V_DROP} below its supply, "
            "which is the line.",
            ask="Choose the lower resistor from the E24 values and the upper one from the E96 values; find the least "
            "current gain of the pass transistor, and the lowest line.",
            asks=(
                FindBound("R_2", "I_DIV >= I_DIV_MIN", "the largest lower resistor"),
                FindBound("R_2", "I_DIV <= I_DIV_MAX", "the least lower resistor"),
                Choose(
                    "R_2", Series.E24, "an E24 value for the lower resistor", Prefer.LARGEST,
                    "the largest value that serves wastes least", low="R_2_MIN", high="R_2_MAX",
                ),
                Find("R_1", "the upper resistor that would give just the output wanted", key="R_1_NOM",
                     at={"V_O": "V_O_NOM"}),
                Choose(
                    "R_1", Series.E96, "the E96 value nearest to it", Prefer.NEAREST,
                    "the nearest value misses the output least", near="R_1_NOM",
                ),
                FindBound("h_FE", "I_OA <= I_OA_MAX", "the least current gain of the pass transistor"),
                FindBound("V_I", "V_HEAD >= V_DROP", "the lowest line for the full output"),
            ),
            require=(
                "V_O_NOM >= 1.2*V_REF", "h_FE_MIN >= 15", "h_FE_MIN <= 200", "R_2_MAX >= 1000", "R_1_NOM >= 1000",
                "R_1_NOM <= 22000",
            ),
            slips=(OUTPUT_ON_LOWER, FAINT_DIVIDER, UPPER_FROM_OUTPUT, HEADROOM_OF_OUTPUT, NO_RAIL),
            checks=(CheckLine("The divider's current", "I_DIV >= I_DIV_MIN"),),
            back=(
                BackLine(
                    "What the amplifier gives with the least gain", "(I_L_MAX + V_REF/R_2)/(h_FE_MIN + 1)", "I_OA_MAX"
                ),
            ),
            band={"V_REF": 0.02},
            bench="take a transistor whose lowest gain lies well above the least one: gain falls in the cold and at "
            "high currents",
        ),
    ),
)  # fmt: skip
