"""How much of the raw supply's ripple gets through a zener, and the resistor that lets little enough through."""

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
from tutor.quantities.preferred import Series, values_between

TEST_POINT = {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z"}
RIPPLE = (0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0)
LABELS = {
    "V_ZT": "zener voltage at the test current",
    "I_ZT": "test current",
    "r_z": "slope of the zener",
    "V_I_MIN": "trough of the raw supply",
    "V_I_MAX": "crest of the raw supply",
    "V_RIP": "ripple of the raw supply, peak to peak",
    "V_RIP_O_MAX": "greatest ripple the load bears, peak to peak",
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
}

UPSIDE_DOWN = Slip(
    "divider-upside-down",
    "S_V",
    Rewrite("R/(R + r_z)"),
    "the divider turned upside down",
    "The output is taken across the zener, the small arm: it moves by $r_z/(R + r_z)$ of the input's change.",
    "Should the output move more or less than the input?",
    reference=("S17",),
)
STATIC = Slip(
    "static-resistance",
    "S_V",
    Rewrite("(V_ZT/I_ZT)/(R + V_ZT/I_ZT)"),
    "voltage over current taken for the slope",
    "Ripple is a change, and for changes the zener is its slope, not its voltage over its current.",
    "How much does the zener's voltage change when its current does?",
)
HALF = Slip(
    "half-the-ripple",
    "V_RIP_O",
    Rewrite("S_V*V_RIP/2"),
    "the amplitude taken for the peak-to-peak value",
    "Both ripples are counted from trough to crest here, so nothing is halved.",
    "Is the ripple given from zero to crest or from trough to crest?",
)
ALL_OF_IT = Slip(
    "all-of-it",
    "V_RIP_O",
    Rewrite("V_RIP"),
    "the whole ripple given to the output",
    "Most of the ripple stays across $R$; only the zener's small arm passes its share on.",
    "What is the regulator there for?",
)
LOAD_IN_SERIES = Slip(
    "load-in-series",
    "S_V",
    Rewrite("(r_z + R_L)/(R + r_z + R_L)"),
    "the load put in series with the slope",
    "Zener and load hang side by side on the output node, so they stand in parallel.",
    "How many ways lead from the output node to ground?",
)
MEAN_FOR_TROUGH = Slip(
    "mean-for-trough",
    "I_Z_MIN",
    Swap("V_I", "V_I + V_RIP/2"),
    "the mean of the supply used for its trough",
    "Ripple swings below the mean as well; the zener must still be fed at the bottom of it.",
    "Where is the raw supply when the zener has least?",
)
CREST_STARVES = Slip(
    "crest-starves",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the crest used where the trough belongs",
    "The zener starves at the bottom of the ripple, where least voltage stands across $R$.",
    "At which moment of the ripple has the zener least?",
)
NO_KNEE = Slip(
    "no-knee-current",
    "R_MAX",
    Rewrite("(V_I - V_Z)/I_L"),
    "the zener's least current left out",
    "At the trough $R$ also carries the current that keeps the zener in breakdown.",
    "At the trough, who besides the load needs current through $R$?",
    reference=("S01",),
)
SLOPE_LEFT_IN = Slip(
    "slope-not-taken-off",
    "R_MIN",
    Rewrite("r_z*V_RIP_O_MAX/V_RIP"),
    "the share multiplied where it divides",
    "A smaller share of the ripple takes a larger $R$: the slope is divided by the share.",
    "Does a larger $R$ let more or less ripple through?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves the zener at the trough, and then all of the ripple gets through.",
    "On which side of the bound does the zener stay fed?",
    reference=("S14",),
)

FAMILY = Family(
    edition=2,
    title="Ripple behind a zener",
    about="For changes a zener is its slope alone, the small arm of a divider under $R$. It passes on that share of "
    "the ripple, as long as the trough still feeds it.",
    lesson="shunt",
    circuit="zener-shunt",
    assume={"zener-ripple": "loaded"},
    scenarios=(
        "A hum is heard in a chapel's hearing loop, and the supply of its preamplifier is looked at.",
        "A theremin's pitch wavers at twice the mains frequency; its oscillator runs from a zener.",
        "The trace of a school's pulse recorder shows a fine saw-tooth that comes from its supply.",
        "A tape player's bias oscillator is fed across a zener from a small raw supply.",
        "A stethoscope amplifier on a training dummy hums when it is run from the bench supply.",
        "A lock-keeper's intercom is fed across a zener, and callers complain of a buzz.",
        "A planetarium's star projector flickers faintly, and its lamp driver's reference is suspected.",
    ),
    cautions=("mains-fed", "capacitors", "hot-parts"),
    levels=(
        Level(
            about="The share of the ripple that gets through",
            draws=(
                PickPart("zeners", TEST_POINT, (("V_Z", 5.1, 18.0), ("r_z", 4.0, 50.0))),
                Pick("R", values_between(82, 1000, Series.E12)),
                Pick("V_RIP", RIPPLE),
            ),
            given=("R", "V_ZT", "I_ZT", "r_z", "V_RIP"),
            labels=LABELS,
            data="Its zener is specified as {V_ZT} at {I_ZT} with a slope of {r_z}, and the series resistor is {R}. "
            "The load draws a steady current, and the raw supply carries a ripple of {V_RIP} peak to peak.",
            ask="Find which share of a change of the input reaches the output, and the ripple at the output.",
            asks=(
                Find("S_V", "the sensitivity $S_V$ of the output to the line"),
                Find("V_RIP_O", "the ripple at the output, peak to peak"),
            ),
            require=("r_z <= 0.3*R",),
            slips=(UPSIDE_DOWN, STATIC, HALF, ALL_OF_IT),
            back=(BackLine("The ripple of the supply comes back", "V_RIP_O*(R + r_z)/r_z", "V_RIP"),),
            band={"r_z": 0.3},
            bench="the slope in a data sheet is the greatest at the test current; a typical part lets less through, "
            "one run at a small current more",
        ),
        Level(
            about="With a load resistance beside the zener, and the current left at the trough",
            draws=(
                PickPart(
                    "zeners",
                    {**TEST_POINT, "I_ZK": "I_ZK", "true_P": "P_ZM"},
                    (("V_Z", 5.1, 15.0), ("r_z", 4.0, 30.0)),
                ),
                Pick("V_I_MIN", tuple(half / 2 for half in range(18, 57))),
                Pick("V_RIP", RIPPLE),
                Work("V_I_MAX", "V_I_MIN + V_RIP"),
                Pick("R", values_between(82, 560, Series.E12)),
                Pick("R_L", values_between(100, 1000, Series.E12)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_RIP", "R", "V_ZT", "I_ZT", "r_z", "R_L", "I_ZK"),
            ranges=("V_I",),
            labels=LABELS,
            data="The raw supply falls to {V_I_MIN} at the trough and rises to {V_I_MAX} at the crest, a ripple of "
            "{V_RIP}. Behind {R} stand a load of {R_L} and a zener specified as {V_ZT} at {I_ZT} with a slope of "
            "{r_z}, which needs at least {I_ZK}.",
            ask="Find the share of the ripple that gets through, the ripple at the output, and the current left in the "
            "zener at the trough.",
            asks=(
                Find("S_V", "the sensitivity $S_V$ of the output to the line, load included"),
                Find("V_RIP_O", "the ripple at the output, peak to peak"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                FindExtreme("I_Z", Extreme.LEAST, "the zener current at the trough"),
            ),
            require=(
                "V_I_MIN >= 1.25*V_ZT",
                "R_L <= 49*r_z",
                "(I_Z_MIN + V_RIP/R)*V_ZT <= true_P",
                "(R_L - R)^2 >= 1",  # of two resistors alike a working in numbers would not say which is meant
            ),
            slips=(
                UPSIDE_DOWN,
                LOAD_IN_SERIES,
                HALF,
                MEAN_FOR_TROUGH,
                Slip(
                    "intercept-above",
                    "V_Z0",
                    Rewrite("V_ZT + r_z*I_ZT"),
                    "the intercept put above the test point",
                    "Going back to zero current takes the slope's share off.",
                    "Is the voltage at zero current above or below that at the test current?",
                ),
            ),
            checks=(CheckLine("At the trough", "I_Z >= I_ZK"),),
            band={"V_ZT": 0.05, "r_z": 0.3},
            bench="near the knee the slope grows, so the trough lets more through than the crest, and the ripple that "
            "is left is lopsided",
        ),
        Level(
            about="Design: little enough ripple, and still fed at the trough",
            draws=(
                PickPart("zeners", {**TEST_POINT, "P_ZM": "P_ZM"}, (("V_Z", 4.7, 15.0), ("r_z", 4.0, 30.0))),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 49))),
                Pick("V_RIP", RIPPLE),
                Work("V_I_MAX", "V_I_MIN + V_RIP"),
                Pick("I_L", tuple(milliamps / 1000 for milliamps in (2, 3, 4, 5, 6, 8, 10, 12, 15, 20))),
                Pick("I_ZK", (0.002, 0.003, 0.004, 0.005)),
                Pick("V_RIP_O_MAX", (0.004, 0.005, 0.006, 0.008, 0.01, 0.012, 0.015, 0.02, 0.025, 0.03, 0.04, 0.05)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_RIP", "V_ZT", "I_ZT", "r_z", "I_L", "I_ZK", "P_ZM", "V_RIP_O_MAX"),
            ranges=("V_I",),
            labels=LABELS,
            data="The raw supply falls to {V_I_MIN} at the trough and rises to {V_I_MAX} at the crest, a ripple of "
            "{V_RIP}. The load draws a steady {I_L} and bears no more than {V_RIP_O_MAX} of it. The zener is specified "
            "as {V_ZT} at {I_ZT} with a slope of {r_z}; it regulates from {I_ZK} on.",
            ask="Choose the series resistor from the E24 values, and find the ripple it lets through and what the "
            "zener must then carry at most with the load unplugged.",
            asks=(
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that feeds the zener at the trough"),
                FindBound("R", "V_RIP_O <= V_RIP_O_MAX", "the least $R$ that holds back enough ripple"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$",
                    Prefer.LARGEST,
                    "the largest value that fits lets least ripple through",
                    low="R_MIN",
                    high="R_MAX",
                ),
                Find("V_RIP_O", "the ripple at the output with it, peak to peak"),
                FindExtreme(
                    "I_Z", Extreme.GREATEST, "the zener's current at the crest, load unplugged", at={"I_L": "0"}
                ),
            ),
            require=("V_I_MIN >= 1.2*V_ZT", "I_ZK >= 0.1*I_L", "R_MAX <= 6*R_MIN"),
            slips=(NO_KNEE, CREST_STARVES, SLOPE_LEFT_IN, ROUNDED_UP, HALF),
            checks=(
                CheckLine("At the trough", "I_Z >= I_ZK"),
                CheckLine("The ripple left", "V_RIP_O <= V_RIP_O_MAX"),
                CheckLine("Load unplugged, at the crest", "P_Z <= P_ZM", {"I_L": "0"}),
            ),
            band={"V_ZT": 0.05, "r_z": 0.3},
            bench="where one stage will not do, two in a row do better than a large capacitor across the zener",
        ),
    ),
)
