"""What zener and resistor must bear: the load unplugged, the highest line, the output shorted."""

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
    Work,
)
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(18, 57))
LEAST_LOAD = tuple(milliamps / 1000 for milliamps in (0, 2, 4, 5, 8, 10))
FULL_LOAD = tuple(milliamps / 1000 for milliamps in (15, 18, 20, 25, 30, 35, 40, 45, 50))
ZENERS = (0.5, 1.0, 1.3, 2.0, 3.0, 5.0)
RESISTORS = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)

LABELS = {
    "I_ZK": "least zener current for good regulation",
    "V_Z": "zener voltage (straight characteristic)",
    "V_I_NOM": "nominal line",
    "P_RM": "power the resistor may take in a short",
    "tol_R": "tolerance of the resistor",
}

WITH_THE_LOAD = Slip(
    "load-still-there",
    "P_Z_MAX",
    Rewrite("V_Z*((V_I - V_Z)/R - I_L_MAX)"),
    "the load still taken away from the zener's current",
    "With the load unplugged, all that $R$ brings goes through the zener.",
    "Unplug the load in thought: where does its current go?",
    reference=("S08",),
)
ZENER_AT_FULL_LOAD = Slip(
    "zener-at-full-load",
    "P_Z_MAX",
    Swap("I_L", "I_L_MAX"),
    "zener power at full load",
    "With the load light the zener has to carry what the load leaves.",
    "Unplug the load in thought: where does its current go?",
    step="I_Z",
    reference=("S08",),
)
ZENER_AT_NOMINAL_LINE = Slip(
    "zener-at-nominal-line",
    "P_Z_MAX",
    Swap("V_I", "V_I_NOM"),
    "zener power at the nominal line",
    "At the highest line $R$ brings most, and the zener takes all of the excess.",
    "Which line drives most current through $R$?",
    step="I_Z",
    reference=("S09",),
)
LOAD_POWER = Slip(
    "load-power",
    "P_Z_MAX",
    Rewrite("V_Z*I_L_MAX"),
    "zener voltage times load current",
    "That is the load's power; the zener's own current makes its heat.",
    "Which current flows through the zener itself?",
    reference=("S10",),
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_R",
    Rewrite("V_I^2/R"),
    "resistor power from the whole input voltage",
    "Only the difference between input and output stands across $R$ while the zener regulates.",
    "Square the voltage across $R$, not the voltage to ground.",
    reference=("S11",),
)
WHOLE_INPUT_HEAT = Slip(
    "whole-input-heat",
    "P_R_MAX",
    Rewrite("V_I^2/R"),
    "resistor power from the whole input voltage",
    "Only the difference between input and output stands across $R$ while the zener regulates.",
    "Square the voltage across $R$, not the voltage to ground.",
    reference=("S11",),
)
LOW_LINE_RESISTOR = Slip(
    "low-line-resistor",
    "P_R_MAX",
    Rewrite("(V_I_MIN - V_Z)^2/R"),
    "resistor power at the lowest line",
    "$R$ is hottest when most voltage stands across it: at the highest line.",
    "Find the corner for each part separately: which line heats $R$ most?",
    reference=("S12",),
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
ZENER_JUST_RATED = Slip(
    "zener-just-rated",
    "P_ZM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
    reference=("S16",),
)
VOLTAGE_RATIO = Slip(
    "voltage-ratio",
    "eta",
    Rewrite("V_Z/V_I_NOM"),
    "efficiency taken as output voltage over input voltage",
    "That would hold if the load took all the current; here the supply feeds the zener as well.",
    "Input power uses the input current. Is it the load current here?",
    reference=("S29",),
)
SHORT_OVERLOOKED = Slip(
    "short-overlooked",
    "R_MIN",
    Rewrite("(V_I - V_Z)^2/P_RM"),
    "the short overlooked",
    "With the output shorted the whole input stands across $R$, not the input less the zener's voltage.",
    "What stands across $R$ when the load terminals are joined?",
    reference=("S13",),
)
NO_KNEE = Slip(
    "no-knee-current",
    "R_MAX",
    Rewrite("(V_I - V_Z)/I_L"),
    "the zener's least current left out",
    "At full load $R$ also carries the current that keeps the zener in breakdown.",
    "At the worst corner, who besides the load needs current through $R$?",
    reference=("S01",),
)
NOMINAL_LINE = Slip(
    "nominal-line",
    "R_MAX",
    Swap("V_I", "V_I_NOM"),
    "the nominal line used for the starving corner",
    "The regulator must hold over the whole range of the line, and at its lowest least is left across $R$.",
    "Does your value still feed the zener when the line is at its lowest?",
    reference=("S03",),
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves the zener at full load and lowest line.",
    "On which side of the bound does the zener stay fed?",
    reference=("S14",),
)
BOUND_KEPT = Slip(
    "bound-kept",
    "P_Z_MAX",
    Rewrite("V_Z*(V_I_MAX - V_Z)/R_MAX"),
    "the zener's power not worked out again for the resistor chosen",
    "The resistor chosen is smaller than its bound and brings more current; with the load unplugged the zener has all "
    "of it.",
    "You changed $R$. Which result used it?",
    reference=("S15",),
)

FAMILY = Family(
    title="What zener and resistor must bear",
    about="Every part has its own worst corner. The zener's is the load unplugged at the highest line, the resistor's "
    "the highest line, and a short is worse still.",
    lesson="shunt",
    circuit="zener-shunt",
    scenarios=(
        "A turnstile's counter hangs on a zener regulator, and its plug is often pulled for cleaning.",
        "A stage hand's cue light is fed from a zener regulator whose lead lies across the floor.",
        "In a dairy, the pasteuriser's flow meter is unplugged each evening while its regulator stays on.",
        "A lecture room's demonstration board lets students pull out the load of a zener regulator.",
        "A ferry's ramp sensor takes its supply across a zener; its connector is open to spray.",
        "A carousel's lamp sequencer is serviced with its control board taken out.",
        "The regulator of a quarry's blast siren is left on while the timer board is away for repair.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The load unplugged",
            draws=(
                Pick("V_I", VOLTS),
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.9, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("R", values_between(82, 680, Series.E12)),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", FULL_LOAD),
            ),
            given=("V_I", "R", "V_Z", "I_L_MIN", "I_L_MAX"),
            ranges=("I_L",),
            labels=LABELS,
            data="The supply stands at {V_I}, the series resistor is {R}, the zener's characteristic is straight at "
            "{V_Z}, and the load draws {I_L_MAX}. It may be unplugged, and then {I_L_MIN} is drawn.",
            ask="Find the current and the power in the series resistor, and the greatest power the zener must bear.",
            asks=(
                Find("I_R", "the current $I_R$ through the series resistor"),
                Find("P_R", "the power $P_R$ in the series resistor"),
                FindExtreme("P_Z", Extreme.GREATEST, "the greatest power in the zener"),
            ),
            require=("V_I >= 1.3*V_Z", "I_R >= 1.15*I_L_MAX", "P_Z_MAX <= 3", "P_R <= 5"),
            slips=(
                WHOLE_INPUT,
                WITH_THE_LOAD,
                LOAD_POWER,
            ),
            band={"V_Z": 0.05, "R": 0.05},
            bench="a zener of 5 % tolerance and a resistor of 5 % can together make the zener some tenth hotter",
        ),
        Level(
            about="Line and load ranges, ratings with margin, and what it all costs",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 4.7, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_I_NOM", VOLTS),
                Pick("swing", (0.1, 0.15, 0.2)),
                Work("V_I_MIN", "V_I_NOM*(1 - swing)"),
                Work("V_I_MAX", "V_I_NOM*(1 + swing)"),
                Pick("I_L_MIN", LEAST_LOAD),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("R", values_between(68, 680, Series.E12)),
            ),
            given=("V_I_MIN", "V_I_NOM", "V_I_MAX", "R", "V_Z", "I_L_MIN", "I_L_MAX"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line is {V_I_NOM}, and may lie anywhere between {V_I_MIN} and {V_I_MAX}. The series resistor is "
            "{R}, the zener's characteristic is straight at {V_Z}, and the load draws between {I_L_MIN} and "
            "{I_L_MAX}. Zeners are to be had with ratings of 0.5, 1, 1.3, 2, 3 and 5 W, resistors with 0.25, 0.5, 1, "
            "2, 5 and 10 W; no part is to run at more than two thirds of its rating.",
            ask="Find the greatest power in zener and resistor, choose their ratings, and find the efficiency at the "
            "nominal line with full load.",
            asks=(
                FindExtreme("P_Z", Extreme.GREATEST, "the greatest power in the zener"),
                ChooseRating(
                    "P_ZM", "P_Z_MAX", ZENERS, 1.5, "a rating for the zener", "no part is to run past two thirds of it"
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                ChooseRating(
                    "P_RM", "P_R_MAX", RESISTORS, 1.5, "a rating for $R$", "no part is to run past two thirds of it"
                ),
                Find(
                    "eta",
                    "the efficiency at the nominal line, fully loaded",
                    at={"V_I": "V_I_NOM", "I_L": "I_L_MAX"},
                ),
            ),
            require=("V_I_MIN - V_Z >= 1.1*R*I_L_MAX", "V_I_MIN >= 1.25*V_Z", "I_L_MAX >= 2*I_L_MIN"),
            slips=(
                ZENER_AT_FULL_LOAD,
                ZENER_AT_NOMINAL_LINE,
                LOAD_POWER,
                ZENER_JUST_RATED,
                WHOLE_INPUT_HEAT,
                LOW_LINE_RESISTOR,
                JUST_RATED,
                VOLTAGE_RATIO,
            ),
            checks=(
                CheckLine("The zener at its hottest", "P_Z <= P_ZM"),
                CheckLine("The resistor at its hottest", "P_R <= P_RM"),
            ),
            band={"V_Z": 0.05, "R": 0.05},
            bench="most of the power goes into heat by design; a shunt regulator is for small loads",
        ),
        Level(
            about="Design: a resistor that bears a short, and then the zener it asks for",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 4.7, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_I_NOM", VOLTS),
                Pick("swing", (0.1, 0.15)),
                Work("V_I_MIN", "V_I_NOM*(1 - swing)"),
                Work("V_I_MAX", "V_I_NOM*(1 + swing)"),
                Pick("I_L_MAX", tuple(milliamps / 1000 for milliamps in (8, 10, 12, 15, 18, 20, 25, 30))),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_ZK", tuple(milliamps / 1000 for milliamps in (1, 2, 3, 4, 5))),
                Pick("P_RM", (0.5, 1.0, 2.0, 3.0)),
                Pick("tol_R", (0.05,)),
            ),
            given=("V_I_MIN", "V_I_NOM", "V_I_MAX", "V_Z", "I_L_MIN", "I_L_MAX", "I_ZK", "P_RM", "tol_R"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="The line is {V_I_NOM}, and may lie anywhere between {V_I_MIN} and {V_I_MAX}; the zener's "
            "characteristic is straight at {V_Z}. The load draws between {I_L_MIN} and {I_L_MAX}. The series resistor "
            "must bear a shorted output with no more than {P_RM}. Zeners are to be had with ratings of 0.5, 1, 1.3, 2, "
            "3 and 5 W and are not to run at more than two thirds of that.",
            ask="Choose the series resistor from the E24 values so that its whole tolerance fits, and then the rating "
            "of the zener, load unplugged and resistor as marked.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that keeps the zener fed"),
                FindBound("R", "P_R <= P_RM", "the least $R$ that bears a shorted output", at={"V_O": "0"}),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least and heats the zener least",
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme(
                    "P_Z",
                    Extreme.GREATEST,
                    "the greatest power in the zener",
                    at={"I_L": "0"},
                ),
                ChooseRating(
                    "P_ZM", "P_Z_MAX", ZENERS, 1.5, "a rating for the zener", "no part is to run past two thirds of it"
                ),
            ),
            require=("V_I_MIN >= 1.25*V_Z", "I_ZK >= 0.06*I_L_MAX"),
            slips=(NO_KNEE, NOMINAL_LINE, SHORT_OVERLOOKED, ROUNDED_UP, BOUND_KEPT, ZENER_JUST_RATED),
            checks=(
                CheckLine("Starving corner, $R$ at the top of its tolerance", "I_Z >= I_ZK", {"R": "R*(1 + tol_R)"}),
                CheckLine(
                    "Output shorted, $R$ at the bottom of its tolerance",
                    "P_R <= P_RM",
                    {"R": "R*(1 - tol_R)", "V_O": "0"},
                ),
                CheckLine(
                    "Load unplugged, $R$ at the bottom of its tolerance",
                    "P_Z <= P_ZM",
                    {"R": "R*(1 - tol_R)", "I_L": "0"},
                ),
            ),
            band={"V_Z": 0.05},
            bench="a short lasts until somebody finds it, so a part that must bear one is rated as for ever",
        ),
    ),
)
