"""Designing the regulator of two transistors: its divider by a current, the resistor to the base by every corner."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    PickPart,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series

ZENER = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 6.8), ("P_ZM", 0.5, 0.5)))
OUTPUTS = (8.0, 9.0, 10.0, 12.0, 13.5, 15.0, 18.0, 20.0)
BUDGET = (0.001, 0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005)
GAIN = (50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
LOADS = tuple(milliamps / 1000 for milliamps in (50, 60, 75, 80, 100, 120, 150, 180, 200, 250, 300))
LINES = tuple(half / 2 for half in range(24, 73))
LABELS = {
    "V_O": "output wanted",
    "V_O_NOM": "output wanted",
    "V_Z": "zener in the error transistor's emitter (straight characteristic)",
    "V_BE_1": "base-emitter voltage of the pass transistor",
    "V_BE_2": "base-emitter voltage of the error transistor",
    "h_FE_1": "lowest current gain of the pass transistor",
    "I_DIV": "current of the divider",
    "I_RD": "current from the output to the zener",
    "I_DIV_MIN": "least current of the divider",
    "I_DIV_MAX": "most current of the divider",
    "I_C_2_MIN": "least current of the error transistor, so that the loop stays in command",
    "I_C_2_MAX": "most current of the error transistor",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
}
JUNCTION_FORGOTTEN = Slip(
    "junction-forgotten",
    "R_2",
    Rewrite("V_Z/I_DIV"),
    "the error transistor's junction forgotten",
    "The tap stands one junction above the zener, and that is what the lower resistor has across it.",
    "What is the voltage at the tap: the zener's alone?",
)
WHOLE_OUTPUT = Slip(
    "whole-output",
    "R_1",
    Rewrite("V_O/I_DIV"),
    "the whole output put across the upper resistor",
    "The upper resistor ends at the tap, and has what the tap leaves of the output.",
    "Which two nodes does the upper resistor join?",
)
FEED_FROM_GROUND = Slip(
    "feed-from-ground",
    "R_D",
    Rewrite("V_O/I_RD"),
    "the whole output put across the feed resistor",
    "The feed resistor ends at the zener, which stands well above ground.",
    "Which two nodes does $R_D$ join?",
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "The resistor brings least at the lowest line, and must still feed base and error transistor.",
    "Which line leaves least voltage across the resistor?",
)
LIGHT_LOAD = Slip(
    "light-load",
    "R_MAX",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the starving corner",
    "The base takes most at the fullest load.",
    "Which load asks for most base current?",
    step="I_B_1",
)
BASE_JUNCTION = Slip(
    "pass-junction-forgotten",
    "R_MAX",
    Rewrite("(V_I - V_O)/(I_B_1 + I_C_2)"),
    "the pass transistor's junction forgotten",
    "The resistor ends at the base, which stands one junction above the output.",
    "Which node is the lower end of the resistor, and how high does it stand?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger resistor starves base and error transistor at full load and lowest line.",
    "On which side of the bound does the loop stay in command?",
    reference=("S14",),
)
FAINT_DIVIDER = Slip(
    "faint-divider",
    "R_2",
    RoundAway(above=True),
    "a divider larger than its current allows",
    "The error transistor's base current comes out of the divider: with too little there, it moves the output.",
    "How does the divider's current compare with what is drawn from its tap?",
    reference=("F11",),
)
OUTPUT_ON_UPPER = Slip(
    "whole-output",
    "R_1_NOM",
    Rewrite("R_2*V_O_NOM/(V_Z + V_BE_2)"),
    "the whole output put across the upper resistor",
    "The upper resistor ends at the tap, and has what the tap leaves of the output.",
    "Which two nodes does the upper resistor join?",
)
TAP_OF_ZENER = Slip(
    "junction-forgotten",
    "R_2_MAX",
    Rewrite("V_Z/I_DIV_MIN"),
    "the error transistor's junction forgotten",
    "The tap stands one junction above the zener, and that is what the lower resistor has across it.",
    "What is the voltage at the tap: the zener's alone?",
)
OUTPUT_FOR_DROP = Slip(
    "output-for-drop",
    "P_Q_1_MAX",
    Rewrite("V_O*I_C_1"),
    "the output taken for the transistor's voltage",
    "The pass transistor stands between supply and output: it has what the output leaves of the supply.",
    "Which two nodes do its collector and emitter join?",
)
DRIVE = (
    FindBound("R", "I_C_2 >= I_C_2_MIN", "the largest resistor that leaves the error transistor its least current"),
    FindBound("R", "I_C_2 <= I_C_2_MAX", "the least resistor that spares the error transistor"),
    Choose(
        "R", Series.E24, "an E24 value for the resistor to the base", Prefer.LARGEST,
        "the largest value that serves wastes least", low="R_MIN", high="R_MAX",
    ),
)  # fmt: skip

FAMILY = Family(
    title="Designing a regulator of two transistors",
    about="A divider is made for a current that is large beside the error transistor's base current. The resistor to "
    "the base feeds base and error transistor at the lowest line and fullest load, and may not flood the error "
    "transistor at the other corner.",
    lesson="series",
    circuit="feedback-pair",
    assume={"base-current": "neglected"},
    scenarios=(
        "A choir room's recording corner wants its supply built from parts that are in the drawer.",
        "A canal lock's level alarm is rebuilt after a flood, with two transistors and a zener.",
        "A pottery class dries its work in a warm cupboard whose controller needs a steady supply.",
        "The bell of a country station is rung by a relay board with a supply of its own.",
        "A dyer's bath is stirred by a motor whose speed setting hangs on one steady voltage.",
        "An orchard's cider tanks have level probes that are fed over a long cable.",
        "A marionette workshop's soldering corner has a supply designed by its apprentices.",
    ),
    cautions=("hot-parts", "output"),
    levels=(
        Level(
            about="The divider for a current",
            form="unfed",
            draws=(Pick("V_O", OUTPUTS), ZENER, Pick("V_BE_2", (0.6, 0.65, 0.7)), Pick("I_DIV", BUDGET)),
            given=("V_O", "V_Z", "V_BE_2", "I_DIV"),
            labels=LABELS,
            data="An output of {V_O} is wanted. The error transistor stands on a zener of {V_Z}, and the divider is to "
            "carry {I_DIV}.",
            ask="Find the voltage of the tap and both resistors of the divider.",
            asks=(
                Find("V_TAP", "the voltage of the tap"),
                Find("R_2", "the lower resistor"),
                Find("R_1", "the upper resistor"),
            ),
            require=("V_O >= 1.2*(V_Z + V_BE_2)",),
            slips=(JUNCTION_FORGOTTEN, WHOLE_OUTPUT),
            back=(BackLine("Both resistors carry the output", "I_DIV*(R_1 + R_2)", "V_O"),),
            band={"V_Z": 0.05},
            bench="with preferred values the output misses by a per cent or two; a trimmer between both sets it",
        ),
        Level(
            about="The feed of the zener, and the resistor to the base",
            form="fed",
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_O", OUTPUTS),
                ZENER,
                Pick("V_BE_1", (0.7,)),
                Pick("h_FE_1", GAIN),
                Pick("I_DIV", BUDGET),
                Pick("I_RD", (0.002, 0.003, 0.004, 0.005, 0.006, 0.008, 0.01)),
                Pick("I_C_2_MIN", (0.0005, 0.0008, 0.001, 0.0015, 0.002)),
                Pick("I_C_2_MAX", (0.006, 0.008, 0.01, 0.012, 0.015)),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O", "V_Z", "V_BE_1", "h_FE_1", "I_DIV", "I_RD", "I_C_2_MIN", "I_C_2_MAX",
                "I_L_MIN", "I_L_MAX",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="A regulator of {V_O} on a line of {V_I_MIN} to {V_I_MAX} serves {I_L_MIN} to {I_L_MAX}. Its zener of "
            "{V_Z} is to have {I_RD} from the output, its divider takes {I_DIV}, and the pass transistor's gain is "
            "{h_FE_1}. The error transistor is to keep at least {I_C_2_MIN} and to take at most {I_C_2_MAX}.",
            ask="Find the resistor that feeds the zener, and choose the resistor to the base from the E24 values.",
            asks=(Find("R_D", "the resistor from the output to the zener"), *DRIVE),
            require=(
                "V_O >= 1.2*(V_Z + 0.7)", "V_I_MIN >= V_O + 3", "V_I_MAX <= 2*V_O", "R_MAX >= 1000", "R_MAX <= 10000",
            ),
            slips=(FEED_FROM_GROUND, HIGH_LINE, LIGHT_LOAD, BASE_JUNCTION, ROUNDED_UP),
            checks=(
                CheckLine("The error transistor at its least", "I_C_2 >= I_C_2_MIN"),
                CheckLine("The error transistor at its most", "I_C_2 <= I_C_2_MAX"),
            ),
            band={"h_FE_1": 0.3},
            bench="the zener's own current so hardly changes, and with it neither does its voltage",
        ),
        Level(
            about="Design: divider and drive, and the heat",
            form="unfed",
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_O_NOM", OUTPUTS),
                ZENER,
                Pick("V_BE_1", (0.7,)),
                Pick("V_BE_2", (0.6, 0.65, 0.7)),
                Pick("h_FE_1", GAIN),
                Pick("I_DIV_MIN", (0.001, 0.0015, 0.002, 0.0025)),
                Work("I_DIV_MAX", "2*I_DIV_MIN"),
                Pick("I_C_2_MIN", (0.001, 0.0015, 0.002)),
                Pick("I_C_2_MAX", (0.006, 0.008, 0.01, 0.012, 0.015)),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O_NOM", "V_Z", "V_BE_1", "V_BE_2", "h_FE_1", "I_DIV_MIN", "I_DIV_MAX",
                "I_C_2_MIN", "I_C_2_MAX", "I_L_MIN", "I_L_MAX",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted from a line of {V_I_MIN} to {V_I_MAX} for a load of {I_L_MIN} to "
            "{I_L_MAX}. The error transistor stands on a zener of {V_Z}; the divider is to carry at least {I_DIV_MIN} "
            "and at most {I_DIV_MAX}. The pass transistor's gain is {h_FE_1}; the error transistor is to keep at "
            "least {I_C_2_MIN} and to take at most {I_C_2_MAX}.",
            ask="Choose the lower resistor and the resistor to the base from the E24 values and the upper resistor "
            "from the E96 values, and find the greatest power in the pass transistor.",
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
                *DRIVE,
                FindExtreme("P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor"),
            ),
            require=(
                "V_O_NOM >= 1.2*(V_Z + V_BE_2)", "V_I_MIN >= V_O_NOM + 3", "V_I_MAX <= 2*V_O_NOM", "R_MAX >= 1000",
                "R_MAX <= 10000",
            ),
            slips=(TAP_OF_ZENER, FAINT_DIVIDER, OUTPUT_ON_UPPER, HIGH_LINE, LIGHT_LOAD, ROUNDED_UP, OUTPUT_FOR_DROP),
            checks=(
                CheckLine("The divider's current", "I_DIV >= I_DIV_MIN"),
                CheckLine("The error transistor at its least", "I_C_2 >= I_C_2_MIN"),
                CheckLine("The error transistor at its most", "I_C_2 <= I_C_2_MAX"),
            ),
            band={"V_Z": 0.05},
            bench="the output follows zener and junction; a trimmer in the divider sets it once and for all",
        ),
    ),
)  # fmt: skip
