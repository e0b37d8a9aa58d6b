"""A shunt reference at the base of a follower: the small one is exact, the large one carries the load."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Drop,
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
from tutor.quantities.preferred import Series, values_between

PART = {"V_REF": "V_REF", "I_REF": "I_REF"}
LOWER = values_between(1000, 10000, Series.E12)
JUNCTIONS = (0.65, 0.7, 0.75)
LABELS = {
    "V_REF": "reference voltage",
    "I_REF": "current into the reference pin",
    "I_K_MIN": "least cathode current for good regulation",
    "I_K_MAX": "greatest permissible cathode current",
    "R": "resistor that feeds the base and the reference",
    "R_1": "upper resistor of the divider",
    "R_2": "lower resistor of the divider",
    "V_BE": "base-emitter voltage",
    "h_FE": "current gain",
    "h_FE_MIN": "lowest current gain of the type",
    "h_FE_MAX": "highest current gain of the type",
    "V_O_NOM": "output wanted",
    "tol_R": "tolerance of the resistors",
}

DIVIDER_TURNED = Slip(
    "divider-turned",
    "V_B",
    Rewrite("V_REF*(1 + R_2/R_1) + I_REF*R_1"),
    "the divider turned upside down",
    "The reference voltage stands across the lower resistor, so the ratio is upper over lower.",
    "Across which of the two resistors does the reference hold its voltage?",
)
ONE_LEFT_OUT = Slip(
    "one-left-out",
    "V_B",
    Rewrite("V_REF*R_1/R_2 + I_REF*R_1"),
    "the reference's own voltage left out",
    "That is the voltage across $R_1$ alone; the one across $R_2$ comes on top.",
    "From ground to the base, across which resistors do you pass?",
)
JUNCTION_ADDED = Slip(
    "junction-added",
    "V_O",
    Rewrite("V_B + V_BE"),
    "$V_BE$ added",
    "The output is the emitter, one junction below the base.",
    "Which of base and emitter stands higher?",
    reference=("E01",),
)
JUNCTION_FORGOTTEN = Slip(
    "junction-forgotten",
    "V_O",
    Drop("V_BE"),
    "the junction left out",
    "The reference holds the base; the emitter follows one junction below it.",
    "Which node does the reference hold, and which one feeds the load?",
)
LOAD_FOR_BASE = Slip(
    "load-taken-for-base",
    "I_L_MAX",
    Rewrite("(V_I - V_B)/R - I_DIV - I_K"),
    "the base current given as the load current",
    "That is what the base may take. The load may have $h_FE + 1$ times as much, straight from the supply.",
    "Does the load's current come through $R$?",
)
KEEPING_FORGOTTEN = Slip(
    "base-takes-all",
    "I_L_MAX",
    Rewrite("((V_I - V_B)/R - I_DIV)*(h_FE + 1)"),
    "the reference's least current left out",
    "If the base took all that is left, the reference could no longer hold it.",
    "At the edge of regulation, is the cathode current zero?",
)
HIGH_LINE_FOR_LOAD = Slip(
    "high-line-for-full-load",
    "I_L_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the fullest load",
    "The fullest load must be carried at every line, and at the lowest one $R$ brings least.",
    "Which line brings least current through $R$?",
    step="I_B",
)
FULL_LOAD_HEAT = Slip(
    "full-load-heat",
    "P_D_MAX",
    Rewrite("V_B*((V_I - V_B)/R - I_L_MAX/(h_FE + 1) - I_DIV)"),
    "the full load used for the hottest reference",
    "With the load unplugged the base takes nothing, and the reference has to take its share as well.",
    "Who takes the base's share when the load is unplugged?",
)
WHOLE_LINE_HEAT = Slip(
    "whole-line-heat",
    "P_Q_MAX",
    Rewrite("V_I*I_C"),
    "the whole line put across the transistor",
    "The emitter stands at the output; the transistor has what the output leaves of the line.",
    "Which two voltages stand at collector and emitter?",
)
BASE_FOR_OUTPUT = Slip(
    "base-for-output",
    "R_1_NOM",
    Rewrite("(V_O - V_REF)/(V_REF/R_2 + I_REF)"),
    "the output wanted taken for the base voltage",
    "The divider hangs at the base, and the base stands one junction above the output.",
    "Which node does the divider's upper end join?",
)
UPPER_FROM_ALL = Slip(
    "upper-from-whole-base",
    "R_1_NOM",
    Rewrite("(V_O + V_BE)/(V_REF/R_2 + I_REF)"),
    "the whole base voltage put across the upper resistor",
    "The upper resistor has only what is left above the reference.",
    "What voltage stands at its lower end?",
)
LOAD_THROUGH_R = Slip(
    "load-through-R",
    "R_MAX",
    Rewrite("(V_I - V_B)/(I_L + I_DIV + I_K)"),
    "the whole load brought through $R$",
    "The load's current comes through the transistor; $R$ brings the base's share alone.",
    "Which current leaves the node of the base toward the transistor?",
    reference=("E04",),
)
NO_KEEPING = Slip(
    "keeping-current-left-out",
    "R_MAX",
    Drop("I_K"),
    "the reference's least current left out",
    "At the starving corner $R$ also brings what keeps the reference in command.",
    "At the worst corner, who besides base and divider needs current through $R$?",
)
HIGH_GAIN = Slip(
    "high-gain",
    "R_MAX",
    Swap("h_FE", "h_FE_MAX"),
    "the highest gain used for the starving corner",
    "The transistor with the lowest gain asks most of the base's node, and such a one may be fitted.",
    "Which gain of the range leaves the reference least?",
    step="I_B",
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "At the lowest line least is left across $R$.",
    "At which line does $R$ bring least?",
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

FAMILY = Family(
    title="A follower behind a shunt reference",
    about="A shunt reference holds the base of a follower. It is exact and small, and it steers a transistor that is "
    "strong: what the base takes is all that the load asks of it.",
    lesson="combined",
    circuit="prestabilised-reference",
    assume={"divider": "upper", "base-current": "exact", "reference-current": "exact"},
    scenarios=(
        "A film scanner's lamp wants a steady rail, and a reference with a follower is to give it.",
        "A beekeeper's scale is read once an hour from a small regulator behind a solar charger.",
        "A stage monitor's input section is supplied from a reference and a power transistor.",
        "The control board of a kiln is fed through a transistor that a shunt reference holds by its base.",
        "A harbour's fog signal has a timer whose rail must not follow the charger.",
        "A model railway's signal boxes share one rail, made by a follower behind a reference.",
        "A water meter's test bench runs from the hall's supply through a small regulator of its own.",
    ),
    cautions=("mains-fed", "hot-parts", "output"),
    levels=(
        Level(
            about="Where the reference holds the base, and where the output follows",
            draws=(
                PickPart("shunt-references", PART),
                Pick("R_1", values_between(2200, 47000, Series.E24)),
                Pick("R_2", LOWER),
                Pick("V_BE", JUNCTIONS),
            ),
            given=("V_REF", "I_REF", "R_1", "R_2", "V_BE"),
            labels=LABELS,
            data="The reference is {V_REF} and draws {I_REF} into its pin; the divider at the base has {R_1} above and "
            "{R_2} below. The transistor takes {V_BE}.",
            ask="Find the voltage at which the base is held, and the output.",
            asks=(
                Find("V_B", "the base voltage $V_B$"),
                Find("V_O", "the output $V_O$"),
            ),
            require=("V_B <= 18", "V_B >= 1.5*V_REF"),
            slips=(DIVIDER_TURNED, ONE_LEFT_OUT, JUNCTION_ADDED, JUNCTION_FORGOTTEN),
            back=(
                BackLine("The reference comes back at the tap", "(V_O + V_BE - I_REF*R_1)*R_2/(R_1 + R_2)", "V_REF"),
            ),
            band={"V_REF": 0.02, "R_1": 0.01, "R_2": 0.01},
            bench="the reference holds the base and not the output: the junction's 2 mV for each kelvin are all in it",
        ),
        Level(
            about="How much load the reference can steer, and where each of the two is hottest",
            draws=(
                PickPart("shunt-references", {**PART, "I_K_MIN": "I_K_MIN"}),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 49))),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", values_between(150, 2200, Series.E12)),
                Pick("R_1", values_between(2200, 22000, Series.E24)),
                Pick("R_2", LOWER),
                Pick("V_BE", JUNCTIONS),
                Pick("h_FE", (40.0, 50.0, 60.0, 75.0, 80.0, 100.0)),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "R_1", "R_2", "V_REF", "I_REF", "I_K_MIN", "V_BE", "h_FE"),
            ranges=("V_I",),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}. {R} leads to the base; the divider there is {R_1} "
            "above and {R_2} below. The reference is {V_REF} with {I_REF} into its pin and needs {I_K_MIN} at least; "
            "the transistor takes {V_BE} and has a gain of {h_FE}.",
            ask="Find base voltage and output, the greatest load current at every line, and the greatest "
            "powers: in the reference with the load unplugged, in the transistor with that load.",
            asks=(
                Find("V_B", "the base voltage $V_B$"),
                Find("V_O", "the output $V_O$"),
                FindBound("I_L", "I_K >= I_K_MIN", "the greatest load current at every line"),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the reference, load unplugged",
                            at={"I_L": "0"}),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor, with that load",
                            at={"I_L": "I_L_MAX"}),
            ),
            require=(
                "V_I_MIN >= V_B + 2", "V_B >= 1.5*V_REF", "I_L_MAX >= 0.1", "I_L_MAX <= 1.5", "P_D_MAX <= 0.7",
                "P_Q_MAX <= 15",
            ),
            slips=(
                JUNCTION_ADDED, JUNCTION_FORGOTTEN, LOAD_FOR_BASE, KEEPING_FORGOTTEN, HIGH_LINE_FOR_LOAD,
                FULL_LOAD_HEAT, WHOLE_LINE_HEAT,
            ),
            checks=(CheckLine("Fullest load, lowest line", "I_K >= I_K_MIN", {"I_L": "I_L_MAX"}),),
            band={"V_REF": 0.02, "R": 0.05, "h_FE": 0.3},
            bench="the gain is the least certain number here: another transistor of the type may steer twice that load",
        ),
        Level(
            about="Design: the divider for the output, the resistor for the worst transistor",
            draws=(
                PickPart("shunt-references", {**PART, "I_K_MIN": "I_K_MIN", "I_K_MAX": "I_K_MAX"}),
                Pick("V_O_NOM", (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.8, 15.0)),
                Pick("V_I_MIN", tuple(half / 2 for half in range(18, 49))),
                Pick("spread", (2.0, 3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)),
                Pick("R_2", (2200.0, 2700.0, 3300.0, 3900.0, 4700.0)),
                Pick("V_BE", JUNCTIONS),
                Pick("h_FE_MIN", (30.0, 40.0, 50.0, 60.0, 75.0)),
                Pick("h_FE_MAX", (120.0, 150.0, 200.0, 250.0)),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_O_NOM", "V_I_MIN", "V_I_MAX", "I_L_MIN", "I_L_MAX", "V_REF", "I_REF", "I_K_MIN", "I_K_MAX", "R_2",
                "V_BE", "h_FE_MIN", "h_FE_MAX", "tol_R",
            ),
            ranges=("V_I", "I_L", "h_FE"),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted from a line between {V_I_MIN} and {V_I_MAX}, for a load of up to "
            "{I_L_MAX} that may be unplugged. The reference is {V_REF} with {I_REF} into its pin; it needs {I_K_MIN} "
            "and bears {I_K_MAX}. The transistor takes {V_BE}; its gain may lie anywhere between {h_FE_MIN} and "
            "{h_FE_MAX}. The lower resistor of the divider is {R_2}.",
            ask="Choose the upper resistor of the divider from the E96 values and $R$ from the E24 values, and find "
            "the output and the greatest powers.",
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
                Find("V_O", "the output with it"),
                FindBound("R", "I_K >= I_K_MIN", "the largest $R$ that keeps the reference fed"),
                FindBound("R", "I_K <= I_K_MAX", "the least $R$ that keeps the reference within its current"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least in reference and resistor",
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
            ),
            require=("V_I_MIN >= V_O_NOM + 3", "V_I_MAX <= 2*V_O_NOM", "P_Q_MAX <= 15", "R_MAX <= 3000"),
            slips=(
                BASE_FOR_OUTPUT, UPPER_FROM_ALL, JUNCTION_ADDED, LOAD_THROUGH_R, NO_KEEPING, HIGH_GAIN, HIGH_LINE,
                ROUNDED_UP, WHOLE_LINE_HEAT,
            ),
            checks=(
                CheckLine("The reference at its least, $R$ at the top of its tolerance", "I_K >= I_K_MIN",
                          {"R": "R*(1 + tol_R)"}),
                CheckLine("The reference at its most, $R$ at the bottom of its tolerance", "I_K <= I_K_MAX",
                          {"R": "R*(1 - tol_R)"}),
            ),
            band={"V_REF": 0.02, "R_1": 0.01},
            bench="the loop stops at the base: taking the divider's upper end to the output instead would bring the "
            "junction inside, and is what the regulators with an amplifier do",
        ),
    ),
)  # fmt: skip
