"""Two transistors and a zener: the output, what the error transistor takes, and how far the loop can serve."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    PickPart,
    Rewrite,
    Slip,
    Swap,
    Turn,
    Work,
)
from tutor.quantities.preferred import Series, values_between

ZENER = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 6.8), ("P_ZM", 0.5, 0.5)))
DIVIDER = values_between(1000, 8200, Series.E12)
DRIVE = values_between(1000, 3300, Series.E24)
GAIN = (50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
ERROR_GAIN = (150.0, 180.0, 200.0, 250.0, 300.0)
LOADS = tuple(milliamps / 1000 for milliamps in (50, 60, 75, 80, 100, 120, 150, 180, 200, 250, 300))
LINES = tuple(half / 2 for half in range(24, 73))
LABELS = {
    "V_Z": "zener in the error transistor's emitter (straight characteristic)",
    "V_BE_1": "base-emitter voltage of the pass transistor",
    "V_BE_2": "base-emitter voltage of the error transistor",
    "h_FE_1": "current gain of the pass transistor",
    "h_FE_2": "current gain of the error transistor",
    "R": "resistor from the supply to the pass transistor's base",
    "R_1": "upper resistor of the divider",
    "R_2": "lower resistor of the divider",
    "R_D": "resistor from the output to the zener",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "I_L": "load current",
    "I_C_2_MIN": "least current of the error transistor, so that the loop stays in command",
}

JUNCTION_TURNED = Slip(
    "junction-turned",
    "V_TAP",
    Turn("V_BE_2"),
    "the junction taken off instead of added",
    "The error transistor's base is the tap and its emitter the zener: the base stands the higher by one junction.",
    "Which end of a conducting junction is the higher one, base or emitter?",
)
JUNCTION_FORGOTTEN = Slip(
    "junction-forgotten",
    "V_O",
    Rewrite("V_Z*(1 + R_1/R_2)"),
    "the error transistor's junction forgotten",
    "The tap stands one junction above the zener, and the divider multiplies both.",
    "What is the voltage at the tap: the zener's alone?",
    reference=("F04",),
)
DIVIDED = Slip(
    "divided-instead",
    "V_O",
    Rewrite("(V_Z + V_BE_2)*R_2/(R_1 + R_2)"),
    "the tap divided instead of multiplied",
    "The tap is a share of the output, so the output is the larger of the two.",
    "Is the output larger or smaller than its share at the tap?",
    reference=("F01",),
)
SWAPPED = Slip(
    "resistors-swapped",
    "V_O",
    Rewrite("(V_Z + V_BE_2)*(1 + R_2/R_1)"),
    "upper and lower resistor in each other's place",
    "The tap's voltage stands across the lower resistor, so the ratio is upper over lower.",
    "Which resistor has the tap's voltage across it?",
    reference=("F02",),
)
DRIVE_WHOLE = Slip(
    "base-current-forgotten",
    "I_C_2_MIN",
    Rewrite("(V_I - V_O - V_BE_1)/R"),
    "the pass transistor's base current forgotten",
    "The resistor feeds two: the base of the pass transistor and the collector of the error transistor.",
    "Write the current law at the base of the pass transistor.",
)
LIGHT_LOAD = Slip(
    "light-load",
    "I_C_2_MIN",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the least error current",
    "The heavier the load, the more base current it takes from what the resistor brings.",
    "Which load leaves the error transistor with least?",
    step="I_B_1",
)
HIGH_LINE = Slip(
    "high-line",
    "I_C_2_MIN",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the least error current",
    "The resistor brings least at the lowest line.",
    "Which line leaves least voltage across the resistor?",
)
OUTPUT_FOR_DROP = Slip(
    "output-for-drop",
    "P_Q_1_MAX",
    Rewrite("V_O*I_C_1"),
    "the output taken for the transistor's voltage",
    "The pass transistor stands between supply and output: it has what the output leaves of the supply.",
    "Which two nodes do its collector and emitter join?",
    reference=("E13",),
)
LOW_LINE_HEAT = Slip(
    "low-line-heat",
    "P_Q_1_MAX",
    Swap("V_I", "V_I_MIN"),
    "the lowest line used for the heat",
    "The drop is the line less the output, and greatest with the line at its highest.",
    "At which line has the pass transistor most voltage across it?",
    reference=("E14",),
    step="V_CE_1",
)
FEED_WHOLE = Slip(
    "feed-from-ground",
    "I_Z_MAX",
    Rewrite("V_O/R_D"),
    "the whole output put across the feed resistor",
    "The feed resistor ends at the zener, which stands well above ground.",
    "Which two nodes does $R_D$ join?",
    step="I_RD",
)
LOAD_ONLY = Slip(
    "nothing-left",
    "I_L_MAX",
    Rewrite("(h_FE_1 + 1)*(V_I - V_O - V_BE_1)/R - I_DIV - I_RD"),
    "nothing left for the error transistor",
    "If all of the drive goes into the base, the error transistor is off and nobody holds the output.",
    "At the fullest load, who besides the base needs a part of the drive?",
)
ZENER_FEED_ONLY = Slip(
    "feed-alone",
    "I_Z_MAX",
    Rewrite("I_RD"),
    "the error transistor's current forgotten",
    "The zener carries what the feed resistor brings and what the error transistor sends it.",
    "Which two currents meet at the zener?",
)

FAMILY = Family(
    title="A regulator of two transistors",
    about="The error transistor compares a share of the output with a zener, and takes from the pass transistor's base "
    "what is too much. The tap stands one junction above the zener; the resistor to the base feeds both.",
    lesson="series",
    circuit="feedback-pair",
    assume={"base-current": "neglected"},
    scenarios=(
        "A ferry's log-book printer has a regulator of two transistors that has outlived three printers.",
        "The drum of a lighthouse museum's clockwork is lit from a supply with two transistors and a zener.",
        "A cider press has an old tachometer whose supply is to be understood before it is mended.",
        "A shortwave receiver in a school cellar has its dial lamps on a supply of two transistors.",
        "A botanical garden's mist controller is run from a regulator drawn on the lid of its box.",
        "A weaving mill's pattern reader is supplied by a pass transistor and a small error transistor.",
        "An amateur observatory's dome motor shares its supply with the camera, so a loop holds it.",
    ),
    cautions=("hot-parts", "output"),
    levels=(
        Level(
            about="The tap, the output, and the divider's current",
            form="unfed",
            draws=(
                ZENER,
                Pick("V_BE_2", (0.6, 0.65, 0.7)),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
            ),
            given=("V_Z", "V_BE_2", "R_1", "R_2"),
            labels=LABELS,
            data="The error transistor's emitter stands on a zener of {V_Z}, its base on the tap of a divider of {R_1} "
            "above and {R_2} below.",
            ask="Find the voltage of the tap, the output, and the current of the divider.",
            asks=(
                Find("V_TAP", "the voltage of the tap"),
                Find("V_O", "the output voltage $V_O$"),
                Find("I_DIV", "the current $I_DIV$ of the divider"),
            ),
            require=("V_O >= 8", "V_O <= 20"),
            slips=(JUNCTION_TURNED, JUNCTION_FORGOTTEN, DIVIDED, SWAPPED),
            back=(BackLine("From the output down to the zener", "V_O - I_DIV*R_1 - V_BE_2", "V_Z"),),
            band={"V_Z": 0.05, "R_1": 0.01, "R_2": 0.01},
            bench="the junction falls by 2 mV with each kelvin, and the divider makes more of it at the output",
        ),
        Level(
            about="What the error transistor is left with, and the heat",
            form="unfed",
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", DRIVE),
                ZENER,
                Pick("V_BE_1", (0.7,)),
                Pick("V_BE_2", (0.6, 0.65, 0.7)),
                Pick("h_FE_1", GAIN),
                Pick("h_FE_2", ERROR_GAIN),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("I_L_MIN", (0.0, 0.005, 0.01, 0.02)),
                Pick("I_L_MAX", LOADS),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "R", "V_Z", "V_BE_1", "V_BE_2", "h_FE_1", "h_FE_2", "R_1", "R_2", "I_L_MIN",
                "I_L_MAX",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "{R} feeds the pass transistor's base, whose gain is {h_FE_1}. The zener in the emitter of the error "
            "transistor, of gain {h_FE_2}, stands at {V_Z}; the divider has {R_1} above and {R_2} below.",
            ask="Find the output, the least and the greatest current of the error transistor, the greatest of its base "
            "current, and the greatest power in the pass transistor.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                FindExtreme("I_C_2", Extreme.LEAST, "the least current of the error transistor"),
                FindExtreme("I_C_2", Extreme.GREATEST, "the greatest current of the error transistor"),
                FindExtreme("I_B_2", Extreme.GREATEST, "the greatest base current that was neglected at the tap"),
                FindExtreme("P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor"),
            ),
            require=(
                "V_O >= 8", "V_O <= 20", "V_I_MIN >= V_O + 3", "V_I_MAX <= 2*V_O", "I_C_2_MIN >= 0.0005",
                "I_L_MAX >= 4*I_L_MIN", "I_B_2_MAX*R_1 <= 0.015*V_O",
            ),
            slips=(JUNCTION_FORGOTTEN, SWAPPED, DRIVE_WHOLE, LIGHT_LOAD, HIGH_LINE, OUTPUT_FOR_DROP, LOW_LINE_HEAT),
            back=(BackLine("The tap of that output", "V_O*R_2/(R_1 + R_2) - V_BE_2", "V_Z"),),
            band={"V_Z": 0.05, "h_FE_1": 0.3},
            bench="the zener carries the error transistor's current alone and is near its knee at full load, where its "
            "voltage is lower",
        ),
        Level(
            about="Backwards: the fullest load that the drive allows, with the zener fed from the output",
            form="fed",
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", DRIVE),
                ZENER,
                Pick("V_BE_1", (0.7,)),
                Pick("V_BE_2", (0.6, 0.65, 0.7)),
                Pick("h_FE_1", GAIN),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("R_D", values_between(470, 3300, Series.E12)),
                Pick("I_C_2_MIN", (0.0005, 0.0008, 0.001, 0.0015, 0.002)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "R", "V_Z", "V_BE_1", "V_BE_2", "h_FE_1", "R_1", "R_2", "R_D", "I_C_2_MIN",
            ),
            ranges=("V_I",),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}. {R} feeds the pass transistor's base, whose gain is "
            "{h_FE_1}; the zener stands at {V_Z} and is fed from the output through {R_D}; the divider has {R_1} above "
            "and {R_2} below. The error transistor is to keep at least {I_C_2_MIN}.",
            ask="Find the output, the fullest load that can be served at every line, and the greatest zener current, "
            "with the load taken away.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                FindBound("I_L", "I_C_2 >= I_C_2_MIN", "the fullest load that can be served"),
                FindExtreme("I_Z", Extreme.GREATEST, "the greatest zener current, without load", at={"I_L": "0"}),
            ),
            require=(
                "V_O >= 8", "V_O <= 20", "V_I_MIN >= V_O + 3", "V_I_MAX <= 2*V_O", "V_O - V_Z >= 0.001*R_D",
                "V_O - V_Z <= 0.015*R_D",
                "I_L_MAX >= 0.03", "I_L_MAX <= 0.5",
            ),
            slips=(JUNCTION_FORGOTTEN, SWAPPED, FEED_WHOLE, LOAD_ONLY, ZENER_FEED_ONLY),
            checks=(
                CheckLine("At the fullest load, lowest line", "I_C_2 >= I_C_2_MIN", {"I_L": "I_L_MAX"}),
            ),
            band={"V_Z": 0.05, "h_FE_1": 0.3},
            bench="more load than that turns the error transistor off, and the output falls as a follower's does that "
            "has lost its zener",
        ),
    ),
)  # fmt: skip
