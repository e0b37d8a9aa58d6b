"""Choose the series resistor: fed at the starving corner, safe at the overloading one, a value off the shelf."""

from tutor.generate.family import (
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

SHELF = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
ZENER = PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 3.9, 15.0),))
LOWEST = tuple(half / 2 for half in range(14, 53))
KNEE = tuple(milliamps / 1000 for milliamps in (2, 3, 4, 5, 8, 10))
LEAST_LOAD = tuple(milliamps / 1000 for milliamps in (0, 2, 4, 5, 8, 10))
FULL_LOAD = tuple(milliamps / 1000 for milliamps in (15, 18, 20, 25, 30, 35, 40, 45, 50))

LABELS = {
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
    "tol_R": "tolerance of the resistor",
    "V_Z": "zener voltage (straight characteristic)",
    "V_Z_MIN": "lowest zener voltage within its tolerance",
    "V_Z_MAX": "highest zener voltage within its tolerance",
}

NO_KNEE = Slip(
    "no-knee-current",
    "R_MAX",
    Drop("I_Z"),
    "the zener's least current left out",
    "At full load $R$ also carries the current that keeps the zener in breakdown; divided by the load alone, nothing "
    "is left for it.",
    "At the worst corner, who besides the load needs current through $R$?",
    reference=("S01",),
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "The zener starves when least voltage stands across $R$, and that is at the lowest line.",
    "Which line leaves least voltage across $R$?",
    reference=("S02",),
)
LIGHT_LOAD = Slip(
    "light-load",
    "R_MAX",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the starving corner",
    "The fullest load leaves the zener least, so it sets the largest $R$.",
    "Which load current leaves the zener with least?",
    reference=("S04",),
)
SUBTRACTED = Slip(
    "subtracted",
    "R_MAX",
    Swap("I_L + I_Z", "I_L - I_Z"),
    "zener current taken from load current",
    "$R$ feeds two branches side by side and carries their sum.",
    "Write the current law at the output node.",
    reference=("S05",),
)
WHOLE_INPUT = Slip(
    "whole-input",
    "R_MAX",
    Swap("V_I - V_Z", "V_I"),
    "the whole input voltage put across $R$",
    "$R$ has only the difference between input and output across it.",
    "What is the voltage at the far end of $R$?",
    reference=("S06",),
)
MILLIAMPERES = Slip(
    "milliamperes",
    "R_MAX",
    Rewrite("(V_I - V_Z)/((I_L + I_Z)*1000)"),
    "milliamperes put in as amperes",
    "The prefix was dropped, so the result is a thousand times out.",
    "Write the unit beside each number before dividing.",
    reference=("N01",),
)
FULL_LOAD_HEAT = Slip(
    "full-load-heat",
    "R_MIN",
    Swap("I_L", "I_L_MAX"),
    "the fullest load used for the overloading corner",
    "The zener carries most when the load takes least.",
    "Unplug the load in thought: where does its current go?",
)
LOW_LINE_HEAT = Slip(
    "low-line-heat",
    "R_MIN",
    Swap("V_I", "V_I_MIN"),
    "the lowest line used for the overloading corner",
    "Most current flows through $R$ at the highest line.",
    "Which line drives most current through $R$?",
)
RATING_ALONE = Slip(
    "rating-alone",
    "R_MAX",
    Rewrite("(V_I_MAX - V_Z)/I_ZM"),
    "$R$ taken from the zener's rating alone",
    "That is the least $R$; the largest comes from the corner at which the zener starves.",
    "You have one end of the allowed range. What sets the other?",
    reference=("S07",),
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
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
    reference=("S16",),
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
LOAD_POWER = Slip(
    "load-power",
    "P_Z_MAX",
    Rewrite("V_Z*I_L_MAX"),
    "zener voltage times load current",
    "That is the load's power; the zener's own current makes its heat.",
    "Which current flows through the zener itself?",
    reference=("S10",),
)

R_CHOICE = "the largest value that fits wastes least current, and so least heat, at light load"

FAMILY = Family(
    title="Choose the series resistor of a shunt regulator",
    about="Two corners bound the resistor: at one the zener starves, at the other it overheats. Any preferred value "
    "between them is right; ratings follow from the corners too.",
    lesson="shunt",
    edition=2,  # the bound with the load unplugged now looks inside the zener's range, not at its ends alone
    circuit="zener-shunt",
    scenarios=(
        "A frost alarm in an orchard keeps watch through the night and sounds a horn before the blossom freezes.",
        "A canal lock's gate indicator glows steadily and draws more while its flag turns.",
        "A beekeeper's hive scale sleeps between weighings and wakes to send its reading.",
        "A school observatory's dome light idles dim and brightens when someone opens the hatch.",
        "A cheese cellar's humidity logger rests most of the hour and then drives its fan relay.",
        "A village clock's chime controller waits quietly and pulls its hammer magnet's relay on the hour.",
        "A fish pond's oxygen meter is read from a hut, where its lamp is lit only during a reading.",
    ),
    cautions=("hot-parts", "capacitors", "output"),
    levels=(
        Level(
            about="Both bounds, the load steady",
            draws=(
                ZENER,
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (2.0, 3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L", FULL_LOAD),
                Pick("I_ZK", KNEE),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_Z", "I_L", "I_ZK", "P_ZM"),
            ranges=("V_I",),
            labels=LABELS,
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}; the load draws a steady {I_L} at {V_Z}.",
            ask="Find the bounds on $R$ and choose an E24 value between them.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that keeps the zener fed"),
                Find("I_ZM", "the greatest current the zener may carry"),
                FindBound("R", "I_Z <= I_ZM", "the least $R$ that keeps the zener within its rating"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$",
                    Prefer.LARGEST,
                    R_CHOICE,
                    low="R_MIN",
                    high="R_MAX",
                ),
            ),
            require=("V_I_MIN >= 1.25*V_Z", "I_ZK >= 0.1*I_L"),
            slips=(NO_KNEE, HIGH_LINE, SUBTRACTED, WHOLE_INPUT, MILLIAMPERES, LOW_LINE_HEAT, ROUNDED_UP),
            checks=(
                CheckLine("Starving corner", "I_Z >= I_ZK"),
                CheckLine("Overloading corner", "P_Z <= P_ZM"),
            ),
            band={"V_Z": 0.05},
            bench="a zener at the top of its tolerance leaves less across $R$, so keep clear of the upper bound",
        ),
        Level(
            about="Line and load range, tolerance, ratings",
            draws=(
                ZENER,
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", LEAST_LOAD),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("I_ZK", KNEE),
                Pick("tol_R", (0.05,)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_Z", "I_L_MIN", "I_L_MAX", "I_ZK", "P_ZM", "tol_R"),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}, and at {V_Z} it draws between {I_L_MIN} and "
            "{I_L_MAX}. Resistors on the shelf are rated 0.25, 0.5, 1, 2, 5 and 10 W; a part is to run at no more than "
            "two thirds of its rating.",
            ask="Choose the series resistor from the E24 values so that its whole tolerance fits, and say what rating "
            "it needs and what the zener dissipates at worst.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that keeps the zener fed"),
                Find("I_ZM", "the greatest current the zener may carry"),
                FindBound("R", "I_Z <= I_ZM", "the least $R$ that keeps the zener within its rating"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    R_CHOICE,
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                ChooseRating(
                    "P_RM",
                    "P_R_MAX",
                    SHELF,
                    1.5,
                    "a rating for $R$",
                    "no more than two thirds of a rating is to be used",
                ),
                FindExtreme("P_Z", Extreme.GREATEST, "the greatest power in the zener"),
            ),
            require=("V_I_MIN >= 1.25*V_Z", "I_ZK >= 0.1*I_L_MAX", "I_L_MAX >= 2*I_L_MIN"),
            slips=(
                NO_KNEE,
                HIGH_LINE,
                LIGHT_LOAD,
                WHOLE_INPUT,
                RATING_ALONE,
                FULL_LOAD_HEAT,
                LOW_LINE_HEAT,
                ROUNDED_UP,
                WHOLE_INPUT_HEAT,
                LOW_LINE_RESISTOR,
                JUST_RATED,
                ZENER_AT_FULL_LOAD,
                LOAD_POWER,
            ),
            checks=(
                CheckLine("Starving corner, $R$ at the top of its tolerance", "I_Z >= I_ZK", {"R": "R*(1 + tol_R)"}),
                CheckLine(
                    "Overloading corner, $R$ at the bottom of its tolerance", "P_Z <= P_ZM", {"R": "R*(1 - tol_R)"}
                ),
            ),
            band={"V_Z": 0.05},
            bench="the zener's slope moves the output a little: somewhat under $V_Z$ at the starving corner, somewhat "
            "over at light load",
        ),
        Level(
            about="Tolerance of the zener too, a load given as resistance, and an output that may be shorted",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 3.9, 15.0), ("P_ZM", 1.0, 5.0))),
                Pick("tol_Z", (0.05,)),
                Work("V_Z_MIN", "V_Z*(1 - tol_Z)", 3),
                Work("V_Z_MAX", "V_Z*(1 + tol_Z)", 3),
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R_L", values_between(180, 1000, Series.E12)),
                Pick("I_ZK", KNEE),
                Pick("tol_R", (0.02, 0.05)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_Z_MIN", "V_Z_MAX", "R_L", "I_ZK", "P_ZM", "tol_R"),
            ranges=("V_I", "V_Z"),
            labels=LABELS,
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}. The load is a resistance of {R_L} that may be "
            "unplugged, and the output may be shorted by accident. The zener may lie anywhere between {V_Z_MIN} and "
            "{V_Z_MAX}. Resistors on the shelf are rated 0.25, 0.5, 1, 2, 5 and 10 W; a part is to run at no more than "
            "two thirds of its rating, a short included.",
            ask="Choose the series resistor from the E24 values so that it serves every zener of the type, loaded and "
            "unplugged, and rate it for a shorted output.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that keeps every zener fed"),
                FindBound(
                    "R",
                    "P_Z <= P_ZM",
                    "the least $R$ that keeps every zener within its rating, load unplugged",
                    at={"I_L": "0"},
                ),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    R_CHOICE,
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the power in $R$ while the output is shorted", at={"V_O": "0"}),
                ChooseRating(
                    "P_RM",
                    "P_R_MAX",
                    SHELF,
                    1.5,
                    "a rating for $R$",
                    "no more than two thirds of a rating is to be used",
                ),
            ),
            require=("V_I_MIN >= 1.25*V_Z_MAX", "I_ZK*R_L >= 0.1*V_Z_MAX"),
            slips=(
                NO_KNEE,
                HIGH_LINE,
                Slip(
                    "low-zener-starves",
                    "R_MAX",
                    Swap("V_I - V_Z", "V_I - V_Z_MIN"),
                    "the low zener used for the starving corner",
                    "A higher zener leaves less across $R$, and its load takes more: that is the starving one.",
                    "Which zener leaves least voltage across $R$?",
                    reference=("S28",),
                ),
                ROUNDED_UP,
                Slip(
                    "no-short",
                    "P_R_MAX",
                    Rewrite("(V_I_MAX - V_Z_MIN)^2/R"),
                    "the short overlooked",
                    "With the output shorted the whole input stands across $R$.",
                    "What stands across $R$ when the load terminals are joined?",
                    reference=("S13",),
                ),
                JUST_RATED,
            ),
            checks=(
                CheckLine("Starving corner, $R$ at the top of its tolerance", "I_Z >= I_ZK", {"R": "R*(1 + tol_R)"}),
                CheckLine(
                    "Load unplugged, $R$ at the bottom of its tolerance",
                    "P_Z <= P_ZM",
                    {"R": "R*(1 - tol_R)", "I_L": "0"},
                ),
            ),
            bench="the extremes hardly ever meet in one unit, so a batch lies well inside these bounds",
        ),
    ),
)
