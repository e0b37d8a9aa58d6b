"""A table of corners: for each current and each power its own worst combination of line, load, zener and resistor."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Demand,
    Extreme,
    Family,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    PickPart,
    Rewrite,
    Slip,
    Swap,
    TellVerdict,
    Turn,
    Verdict,
    Work,
)
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(18, 53))
LEAST_LOAD = tuple(milliamps / 1000 for milliamps in (0, 2, 4, 5, 8, 10))
FULL_LOAD = tuple(milliamps / 1000 for milliamps in (12, 15, 18, 20, 25, 30, 35, 40))
KNEE = tuple(milliamps / 1000 for milliamps in (1, 2, 3, 5))
SPREAD = (
    Work("V_I_MIN", "V_I_NOM*(1 - swing)"),
    Work("V_I_MAX", "V_I_NOM*(1 + swing)"),
    Work("V_Z_MIN", "V_Z*(1 - tol_Z)", 3),
    Work("V_Z_MAX", "V_Z*(1 + tol_Z)", 3),
)
LABELS = {
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "V_Z_MIN": "lowest zener voltage within its tolerance",
    "V_Z_MAX": "highest zener voltage within its tolerance",
    "R_MIN": "least series resistance within its tolerance",
    "R_MAX": "greatest series resistance within its tolerance",
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
    "P_RM": "rating of the resistor",
    "R_NOM": "series resistor as marked",
    "tol_R": "tolerance of the resistor",
    "V_Z": "zener voltage (straight characteristic)",
}

LIGHT_LOAD_STARVES = Slip(
    "light-load-starves",
    "I_Z_MIN",
    Swap("I_L", "I_L_MIN"),
    "everything taken at its least",
    "The zener has least when the load takes most: least line goes with fullest load.",
    "Which load leaves the zener with least?",
)
HIGH_LINE_STARVES = Slip(
    "high-line-starves",
    "I_Z_MIN",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the least zener current",
    "Least current flows through $R$ at the lowest line.",
    "Which line leaves least voltage across $R$?",
)
FULL_LOAD_HEATS = Slip(
    "full-load-heats",
    "I_Z_MAX",
    Swap("I_L", "I_L_MAX"),
    "everything taken at its greatest",
    "The zener has most when the load takes least: the highest line goes with the lightest load.",
    "Unplug the load in thought: where does its current go?",
)
SUM_AT_NODE = Slip(
    "sum-at-node",
    "I_Z_MAX",
    Turn("I_L"),
    "load current added to the current through $R$",
    "The load takes its share of what $R$ brings; the zener is left the rest.",
    "What flows into the output node, and what flows out of it?",
)
HEAT_AT_FULL_LOAD = Slip(
    "zener-at-full-load",
    "P_Z_MAX",
    Swap("I_L", "I_L_MAX"),
    "zener power at full load",
    "With the load light the zener has to carry what the load leaves.",
    "Unplug the load in thought: where does its current go?",
    step="I_Z",
)
SMALL_RESISTOR_STARVES = Slip(
    "small-resistor-starves",
    "I_Z_MIN",
    Swap("R", "R_MIN"),
    "the resistor's tolerance taken the wrong way",
    "A larger resistor brings less current, so the starving corner has $R$ at the top of its tolerance.",
    "Is a larger $R$ kinder or harsher to the zener here?",
    reference=("S27",),
)
LOW_ZENER_STARVES = Slip(
    "low-zener-starves",
    "I_Z_MIN",
    Swap("V_Z", "V_Z_MIN"),
    "the low zener used for the starving corner",
    "A higher zener leaves less across $R$, so the high one starves.",
    "Which zener leaves least voltage across $R$?",
    reference=("S28",),
)
LARGE_RESISTOR_HEATS = Slip(
    "large-resistor-heats",
    "I_Z_MAX",
    Swap("R", "R_MAX"),
    "the resistor's tolerance taken the wrong way",
    "A smaller resistor brings more current, so the overloading corner has $R$ at the bottom of its tolerance.",
    "Is a smaller $R$ kinder or harsher to the zener here?",
)
HIGH_ZENER_HEATS = Slip(
    "high-zener-heats-resistor",
    "P_R_MAX",
    Rewrite("(V_I_MAX - V_Z_MAX)^2/R_MIN"),
    "the high zener used for the resistor's power",
    "The resistor has most across it when the zener stands lowest.",
    "Which zener leaves most voltage across $R$?",
)
WHOLE_INPUT_HEAT = Slip(
    "whole-input-heat",
    "P_R_MAX",
    Rewrite("V_I_MAX^2/R_MIN"),
    "resistor power from the whole input voltage",
    "Only the difference between input and output stands across $R$ while the zener regulates.",
    "Square the voltage across $R$, not the voltage to ground.",
)
KNEE_FORGOTTEN = Slip(
    "knee-left-out",
    "I_L_MAX",
    Rewrite("(V_I_MIN - V_Z_MAX)/R_MAX"),
    "the zener's least current left out",
    "Of what $R$ brings at the starving corner, the zener keeps its least current; the rest is free for the load.",
    "At the edge of regulation, is the zener's current zero?",
)
LOW_ZENER_FOR_LOAD = Slip(
    "low-zener-feeds",
    "I_L_MAX",
    Swap("V_Z", "V_Z_MIN"),
    "the low zener used for the fullest load",
    "A higher zener leaves less across $R$ and less for the load, so it sets the limit.",
    "Which zener leaves least voltage across $R$?",
)
SAME_CORNER = Slip(
    "same-corner-for-both",
    "I_L_MIN",
    Rewrite("(V_I_MIN - V_Z_MAX)/R_MAX - P_ZM/V_Z_MAX"),
    "the starving corner used for the overloading one too",
    "The zener has most at the highest line, with the smallest resistor and the lowest zener.",
    "Make a table: which part moves which way for this check?",
)
LARGE_RESISTOR_UNPLUGGED = Slip(
    "large-resistor-unplugged",
    "P_Z_MAX",
    Swap("R", "R_MAX"),
    "the resistor's tolerance taken the wrong way",
    "A smaller resistor brings more current, and with the load unplugged all of it heats the zener.",
    "Is a smaller $R$ kinder or harsher to the zener here?",
    step="I_Z",
)

FED, COOL, RESISTOR_COOL = "I_Z_MIN >= I_ZK", "P_Z_MAX <= P_ZM", "P_R_MAX <= P_RM"
TWO_CORNERS = TellVerdict(
    "the verdict on the circuit",
    (Demand("starving corner", FED), Demand("overloading corner", COOL)),
    (
        Verdict("every corner passes", (FED, COOL)),
        Verdict("only the starving corner fails", (COOL,), (FED,)),
        Verdict("only the overloading corner fails", (FED,), (COOL,)),
        Verdict("the starving corner and the overloading corner both fail", (), (FED, COOL)),
    ),
    "The circuit serves when the zener is fed at the corner that starves it and stays within its rating at the corner "
    "that overloads it.",
)
THREE_CORNERS = TellVerdict(
    "the verdict on the batch",
    (
        Demand("starving corner", FED),
        Demand("overloading corner, zener", COOL),
        Demand("overloading corner, resistor", RESISTOR_COOL),
    ),
    (
        Verdict("every corner passes", (FED, COOL, RESISTOR_COOL)),
        Verdict("only the starving corner fails", (COOL, RESISTOR_COOL), (FED,)),
        Verdict("only the zener is overloaded", (FED, RESISTOR_COOL), (COOL,)),
        Verdict("only the resistor is overloaded", (FED, COOL), (RESISTOR_COOL,)),
        Verdict("the zener and the resistor are both overloaded", (FED,), (COOL, RESISTOR_COOL)),
    ),
    "A unit serves when its zener is fed at the corner that starves it, and zener and resistor stay within their "
    "ratings at the corners that heat them most.",
)

FAMILY = Family(
    edition=3,
    title="A table of corners",
    about="Line, load, zener and resistor all move, each on its own. Every check has one worst combination, and it is "
    "hardly ever all of them at their least.",
    lesson="shunt",
    circuit="zener-shunt",
    scenarios=(
        "A batch of five hundred tide sensors is to be built, and every one must regulate.",
        "A maker of model locomotives fits the same zener regulator to every engine that leaves the bench.",
        "Spare regulator boards for a cable car are checked on paper before they go up the mountain.",
        "A museum orders forty identical case lamps with zener regulators and asks which could fail.",
        "A school builds thirty door chimes from one drawing, with parts out of one drawer.",
        "A weather service fits the same small regulator to all of its snow gauges.",
        "A factory of garden lights wants to know what the worst of its lamps will do.",
    ),
    cautions=("hot-parts", "capacitors", "output"),
    levels=(
        Level(
            about="Two that move: line and load",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 3.9, 15.0), ("P_ZM", 0.5, 1.0))),
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", values_between(82, 680, Series.E12)),
                Pick("I_L_MIN", LEAST_LOAD),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("I_ZK", KNEE),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "V_Z", "I_L_MIN", "I_L_MAX", "I_ZK", "P_ZM"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "The series resistor is {R}, the zener's characteristic is straight at {V_Z}.",
            ask="Find the least and the greatest zener current and the greatest power in the zener over all corners, "
            "and say whether every corner passes.",
            asks=(
                FindExtreme("I_Z", Extreme.LEAST, "the least zener current"),
                FindExtreme("I_Z", Extreme.GREATEST, "the greatest zener current"),
                FindExtreme("P_Z", Extreme.GREATEST, "the greatest power in the zener"),
                TWO_CORNERS,
            ),
            require=(
                "V_I_MIN >= 1.25*V_Z",
                "V_I_MAX - V_I_MIN >= 0.1*(V_I_MAX + V_I_MIN)",
                "V_I_MAX - V_I_MIN <= 0.2*(V_I_MAX + V_I_MIN)",
                "I_L_MAX >= 2*I_L_MIN",
                "P_Z_MAX <= 2*P_ZM",
                "P_Z_MAX >= 0.4*P_ZM",
                "I_Z_MIN <= 12*I_ZK",
            ),
            slips=(LIGHT_LOAD_STARVES, HIGH_LINE_STARVES, FULL_LOAD_HEATS, SUM_AT_NODE),
            back=(BackLine("The highest line comes back", "V_Z + R*(I_Z_MAX + I_L_MIN)", "V_I_MAX"),),
            band={"V_Z": 0.05, "R": 0.05},
            bench="the two ends hardly ever meet in one afternoon, but they do meet in a year",
        ),
        Level(
            about="Four that move: line, load, zener and resistor",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 4.7, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("tol_Z", (0.05,)),
                Pick("V_I_NOM", VOLTS),
                Pick("swing", (0.1, 0.15)),
                *SPREAD,
                Pick("R_NOM", values_between(82, 680, Series.E12)),
                Pick("tol_R", (0.05, 0.1)),
                Work("R_MIN", "R_NOM*(1 - tol_R)"),
                Work("R_MAX", "R_NOM*(1 + tol_R)"),
                Pick("I_L_MIN", LEAST_LOAD),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("I_ZK", KNEE),
                Pick("P_RM", (0.5, 1.0, 2.0, 5.0)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "R_NOM", "tol_R", "R_MIN", "R_MAX", "V_Z_MIN", "V_Z_MAX", "I_L_MIN", "I_L_MAX",
                "I_ZK", "P_ZM", "P_RM",
            ),
            ranges=("V_I", "R", "V_Z", "I_L"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, and the load draws between {I_L_MIN} and {I_L_MAX}. "
            "The series resistor of {R_NOM} may lie anywhere between {R_MIN} and {R_MAX}, the zener between {V_Z_MIN} "
            "and {V_Z_MAX} (straight).",
            ask="Complete the table: the least and the greatest zener current, and the greatest power in zener and "
            "resistor; then say whether every unit of the batch passes, or what fails.",
            asks=(
                FindExtreme("I_Z", Extreme.LEAST, "the least zener current"),
                FindExtreme("I_Z", Extreme.GREATEST, "the greatest zener current"),
                FindExtreme("P_Z", Extreme.GREATEST, "the greatest power in the zener"),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                THREE_CORNERS,
            ),
            require=(
                "V_I_MIN >= 1.25*V_Z_MAX",
                "I_L_MAX >= 2*I_L_MIN",
                "P_Z_MAX <= 2*P_ZM",
                "P_R_MAX <= 2*P_RM",
                "P_R_MAX >= 0.2*P_RM",
            ),
            slips=(
                SMALL_RESISTOR_STARVES,
                LOW_ZENER_STARVES,
                LIGHT_LOAD_STARVES,
                LARGE_RESISTOR_HEATS,
                FULL_LOAD_HEATS,
                HEAT_AT_FULL_LOAD,
                HIGH_ZENER_HEATS,
                WHOLE_INPUT_HEAT,
            ),
            back=(
                BackLine("The highest line comes back", "V_Z_MIN + R_MIN*(I_Z_MAX + I_L_MIN)", "V_I_MAX"),
                BackLine("The lowest line comes back", "V_Z_MAX + R_MAX*(I_Z_MIN + I_L_MAX)", "V_I_MIN"),
            ),
            bench="parts of one batch lean the same way, so a whole batch may sit near one corner",
        ),
        Level(
            about="Backwards: the loads that every unit of the batch can serve",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 4.7, 10.0), ("P_ZM", 0.5, 0.5))),
                Pick("tol_Z", (0.05,)),
                Pick("V_I_NOM", VOLTS),
                Pick("swing", (0.1, 0.15)),
                *SPREAD,
                Pick("R_NOM", values_between(82, 390, Series.E12)),
                Pick("tol_R", (0.05,)),
                Work("R_MIN", "R_NOM*(1 - tol_R)"),
                Work("R_MAX", "R_NOM*(1 + tol_R)"),
                Pick("I_ZK", KNEE),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "R_NOM", "tol_R", "R_MIN", "R_MAX", "V_Z_MIN", "V_Z_MAX", "I_ZK", "P_ZM",
            ),
            ranges=("V_I", "R", "V_Z"),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}. The series resistor of {R_NOM} may lie anywhere "
            "between {R_MIN} and {R_MAX}, the zener between {V_Z_MIN} and {V_Z_MAX} (straight); it regulates from "
            "{I_ZK} on and is rated {P_ZM}.",
            ask="Find the greatest and the least load current that every unit can serve at every line, and what the "
            "zener would have to bear if the load were unplugged.",
            asks=(
                FindBound("I_L", "I_Z >= I_ZK", "the greatest load current for every unit"),
                FindBound("I_L", "P_Z <= P_ZM", "the least load current for every unit"),
                FindExtreme("P_Z", Extreme.GREATEST, "the power in the zener, load unplugged", at={"I_L": "0"}),
            ),
            require=(
                "V_I_MIN >= 1.25*V_Z_MAX",
                "I_L_MIN >= 0.002",
                "I_L_MAX >= 1.2*I_L_MIN",
                "I_ZK >= 0.05*I_L_MAX",
                "V_Z_MAX^2 <= P_ZM*R_MIN",
            ),
            slips=(KNEE_FORGOTTEN, LOW_ZENER_FOR_LOAD, SAME_CORNER, LARGE_RESISTOR_UNPLUGGED),
            checks=(
                CheckLine("Fullest load, starving corner", "I_Z >= I_ZK", {"I_L": "I_L_MAX"}),
                CheckLine("Lightest load, overloading corner", "P_Z <= P_ZM", {"I_L": "I_L_MIN"}),
            ),
            bench="a unit without its load would overheat, so such a board is wired to its load for good",
        ),
    ),
)  # fmt: skip
