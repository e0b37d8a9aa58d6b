"""Why a reference has two stages: the ripple is divided twice, and the first stage feeds a load that never changes."""

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

RIPPLE = (0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0)
LOADS = (0.1, 0.12, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
GAINS = (60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
FIRST = (("V_Z", 12.0, 18.0), ("P_ZM", 1.0, 1.0))
SECOND = (("V_Z", 6.2, 10.0), ("r_z", 4.0, 20.0))
BETWEEN = values_between(390, 1000, Series.E12)
LABELS = {
    "V_ZT_P": "first zener's voltage at its test current",
    "I_ZT_P": "first zener's test current",
    "r_z_P": "slope of the first zener",
    "V_Z_P": "voltage of the first zener",
    "P_ZM_P": "rating of the first zener",
    "I_ZK_P": "least current of the first zener for good regulation",
    "R_P": "resistor of the first stage",
    "R": "resistor between the zeners",
    "V_ZT": "second zener's voltage at its test current",
    "I_ZT": "second zener's test current",
    "r_z": "slope of the second zener",
    "V_Z": "voltage of the second zener",
    "I_ZK": "least current of the second zener for good regulation",
    "V_BE": "base-emitter voltage",
    "h_FE": "current gain",
    "V_RIP": "ripple of the raw supply, peak to peak",
    "V_RIP_O_MAX": "greatest ripple at the output, peak to peak",
    "tol_R": "tolerance of the resistors",
    "V_I_MIN": "lowest line, at the trough of its ripple",
    "V_I_MAX": "highest line, at the crest of its ripple",
}

UPSIDE_DOWN = Slip(
    "divider-upside-down",
    "S_V_P",
    Rewrite("R_P/(R_P + r_z_P)"),
    "the divider turned upside down",
    "The first stage's output is taken across its zener, the small arm.",
    "Should the first stage let more or less than half of a change through?",
    reference=("S17",),
)
ADDED = Slip(
    "shares-added",
    "S_V",
    Rewrite("S_V_P + r_z/(R + r_z)"),
    "the two shares added",
    "The second stage takes its share of what the first one has left, so the shares multiply.",
    "What is the input of the second stage?",
)
SECOND_ALONE = Slip(
    "second-stage-alone",
    "S_V",
    Rewrite("r_z/(R + r_z)"),
    "the first stage left out",
    "The second stage does not hang on the raw supply: the first one has divided the change already.",
    "Which node does $R$ begin at?",
)
FIRST_ALONE = Slip(
    "first-stage-alone",
    "V_RIP_O",
    Rewrite("S_V_P*V_RIP"),
    "the second stage forgotten",
    "That is the ripple at the first stage's output; on its way to the base it is divided once more.",
    "How many dividers lie between the supply and the base?",
)
HALF = Slip(
    "half-the-ripple",
    "V_RIP_O",
    Rewrite("S_V*V_RIP/2"),
    "the amplitude taken for the peak-to-peak value",
    "Both ripples are counted from trough to crest here, so nothing is halved.",
    "Is the ripple given from zero to crest or from trough to crest?",
)
ON_THE_LINE = Slip(
    "on-the-raw-line",
    "I_R",
    Rewrite("(V_I_MIN - V_ZT)/R"),
    "$R$ hung on the raw supply",
    "$R$ begins at the first zener, not at the supply; that is what the first stage is there for.",
    "Which two voltages stand at the ends of $R$?",
)
JUNCTION_ADDED = Slip(
    "junction-added",
    "V_O",
    Rewrite("V_Z + V_BE"),
    "$V_BE$ added",
    "The output is the emitter, one junction below the base.",
    "Which of base and emitter stands higher?",
    reference=("E01",),
)
HIGH_LINE_LEAST = Slip(
    "high-line-for-least",
    "I_Z_P_MIN",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "Least stands across $R_P$ at the lowest line; there the second stage still takes all of $I_R$.",
    "Which line brings least through $R_P$?",
    step="I_R_P",
)
FEED_FORGOTTEN = Slip(
    "second-stage-unfed",
    "I_Z_P_MIN",
    Drop("I_R"),
    "the second stage's current not taken off",
    "$R_P$ feeds the second stage too, and only the rest is the first zener's.",
    "Where does the current of $R_P$ go?",
)
LOAD_OFF = Slip(
    "base-current-for-stage",
    "I_Z_P_MIN",
    Swap("I_R", "I_L/(h_FE + 1)"),
    "only the base current taken off",
    "The second stage draws $I_R$, its zener's current and the base current together.",
    "What flows through $R$ besides the base current?",
)
LOAD_THROUGH_FIRST = Slip(
    "load-through-R_P",
    "R_P_MAX",
    Rewrite("(V_I - V_Z_P)/(I_L + I_Z_P)"),
    "the first stage sized for the whole load",
    "The load comes through the transistor, straight from the raw supply; $R_P$ feeds the second stage alone.",
    "Does the load's current pass $R_P$?",
    reference=("E04",),
)
BASE_FOR_STAGE = Slip(
    "base-for-stage",
    "R_P_MAX",
    Swap("I_R", "I_L/(h_FE + 1)"),
    "the first stage sized for the base current",
    "Whatever the base takes, the second zener takes the rest of $I_R$: the first stage must always bring all of it.",
    "Does the current through $R$ change with the load?",
)
NO_KNEE = Slip(
    "no-knee-current",
    "R_P_MAX",
    Rewrite("(V_I - V_Z_P)/I_R"),
    "the first zener's least current left out",
    "At the lowest line $R_P$ also carries what keeps the first zener in breakdown.",
    "Who besides the second stage needs current through $R_P$?",
    reference=("S01",),
)
HIGH_LINE = Slip(
    "high-line",
    "R_P_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "The first zener starves at the lowest line, where least stands across $R_P$.",
    "At which line has the first zener least?",
    reference=("S02",),
)
ONE_STAGE = Slip(
    "one-stage-for-all",
    "R_P_MIN",
    Rewrite("r_z_P*(V_RIP/V_RIP_O_MAX - 1)"),
    "the first stage asked to do all of it",
    "The second stage divides what is left once more, so the first one may let that much more through.",
    "Which part of the work does the second stage do?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R_P",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R_P$ starves the first zener at the lowest line, and then it divides nothing at all.",
    "On which side of the bound does the first zener stay fed?",
    reference=("S14",),
)

FAMILY = Family(
    title="A reference in two stages",
    about="A first zener stage feeds the second one. What the line does is divided twice, so two plain stages do what "
    "one very good one could not; and the first stage's load is the second stage, which never changes.",
    lesson="combined",
    circuit="prestabilised",
    edition=2,  # whatever lies between the bounds passes every check
    assume={"base-current": "exact", "second-stage": "neglected", "zener-voltage": "exact"},
    scenarios=(
        "The reading of a darkroom's exposure meter flickers with the mains, and its reference gets a second stage.",
        "A church organ's tuning reference must not hum with the blower's supply.",
        "A weather mast's barometer is fed from a small follower whose reference is prepared twice.",
        "The bridge of a bakery's flour scale trembles with the ripple, and one zener was not enough.",
        "A ferry's tilt meter runs from the battery charger's line through two zeners and a follower.",
        "A lens maker's centring bench wants a quiet rail from a noisy workshop supply.",
        "A piano tuner's strobe is fed through a follower; its first zener stage was added when the disc wavered.",
    ),
    cautions=("mains-fed", "capacitors", "hot-parts"),
    levels=(
        Level(
            about="The ripple divided twice",
            form="zener",
            draws=(
                PickPart("zeners", {"first": "V_Z", "r_z_P": "r_z"}, FIRST),
                PickPart("zeners", {"second": "V_Z", "r_z": "r_z"}, SECOND),
                Pick("R_P", values_between(82, 680, Series.E12)),
                Pick("R", BETWEEN),
                Pick("V_RIP", RIPPLE),
            ),
            given=("R_P", "r_z_P", "R", "r_z", "V_RIP"),
            labels=LABELS,
            data="Its first zener, with a slope of {r_z_P}, is fed through {R_P}; from there {R} leads to the second "
            "one, with a slope of {r_z}, at the base of a transistor. The raw supply carries a ripple of {V_RIP} peak "
            "to peak.",
            ask="Find which share of a change of the supply the first stage lets through, which share reaches the "
            "output, and the ripple at the output.",
            asks=(
                Find("S_V_P", "the share $S_V_P$ that the first stage lets through"),
                Find("S_V", "the share $S_V$ that reaches the output"),
                Find("V_RIP_O", "the ripple at the output, peak to peak"),
            ),
            require=("r_z_P <= 0.0195*(R + r_z)", "r_z_P <= 0.2*R_P", "first >= second + 4"),
            slips=(UPSIDE_DOWN, ADDED, SECOND_ALONE, FIRST_ALONE, HALF),
            back=(
                BackLine("The ripple of the supply comes back", "V_RIP_O*(R + r_z)/r_z*(R_P + r_z_P)/r_z_P", "V_RIP"),
            ),
            band={"r_z": 0.3, "r_z_P": 0.3},
            bench="the slopes in a data sheet are the greatest of their types, so a pair that was bought lets less "
            "through; the second stage, neglected beside the first one's slope, is within 2 % of it",
        ),
        Level(
            about="Both zeners from their data sheets, the corners of the first stage, the ripple left",
            form="zener",
            assume={"zener-voltage": "corrected"},
            draws=(
                PickPart(
                    "zeners",
                    {"V_ZT_P": "V_Z", "I_ZT_P": "I_ZT", "r_z_P": "r_z", "P_ZM_P": "P_ZM"},
                    FIRST,
                ),
                PickPart("zeners", {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z", "I_ZK": "I_ZK"}, SECOND),
                Pick("V_I_MIN", tuple(half / 2 for half in range(32, 61))),
                Pick("spread", (3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_RIP", RIPPLE),
                Pick("R_P", values_between(82, 680, Series.E12)),
                Pick("R", BETWEEN),
                Pick("V_BE", (0.65, 0.7, 0.75)),
                Pick("h_FE", GAINS),
                Pick("I_L", LOADS),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_RIP", "R_P", "V_ZT_P", "I_ZT_P", "r_z_P", "P_ZM_P", "R", "V_ZT",
                "I_ZT", "r_z", "I_ZK", "V_BE", "h_FE", "I_L",
            ),
            ranges=("V_I",),
            labels={**LABELS, "I_ZK": "least current of either zener"},
            data="Between {V_I_MIN} and {V_I_MAX} of raw supply, {R_P} feeds a first zener of {V_ZT_P} at {I_ZT_P} "
            "with a slope of {r_z_P}. From there {R} leads to the second one, of {V_ZT} at {I_ZT} with a slope of "
            "{r_z}, at the base of a transistor that carries the load of {I_L} from the raw supply.",
            ask="Find the current between the zeners, the output with the second zener's voltage corrected once, the "
            "corners of the first zener, and the ripple at the output.",
            asks=(
                Find("I_R", "the current $I_R$ between the two zeners"),
                Find("V_O", "the output $V_O$"),
                FindExtreme("I_Z_P", Extreme.LEAST, "the least current of the first zener"),
                FindExtreme("P_Z_P", Extreme.GREATEST, "the greatest power in the first zener"),
                Find("S_V", "the share $S_V$ of a change of the supply that reaches the output"),
                Find("V_RIP_O", "the ripple at the output, peak to peak"),
            ),
            require=(
                "V_ZT_P >= V_ZT + 4", "V_I_MIN >= V_ZT_P + 2", "r_z_P <= 0.0195*(R + r_z)", "r_z_P <= 0.2*R_P",
                "(V_ZT_P - V_ZT)/R >= I_L/(h_FE + 1) + 0.002", "I_Z_P_MIN >= 0.002", "P_Z_P_MAX <= 0.67*P_ZM_P",
            ),
            slips=(
                ON_THE_LINE, JUNCTION_ADDED, HIGH_LINE_LEAST, FEED_FORGOTTEN, LOAD_OFF, ADDED, HALF,
            ),
            checks=(
                CheckLine("The first zener at the lowest line", "I_Z_P >= I_ZK"),
                CheckLine("The second zener", "I_Z >= I_ZK"),
                CheckLine("The first zener at the highest line", "P_Z_P <= P_ZM_P"),
            ),
            band={"V_ZT": 0.05, "V_ZT_P": 0.05, "r_z": 0.3, "r_z_P": 0.3},
            bench="a second round of correction would move the output by some millivolts, and a few degrees of warming "
            "do more than the whole line",
        ),
        Level(
            about="Design: the first stage's resistor, quiet enough and never starved",
            form="zener",
            draws=(
                PickPart("zeners", {"V_Z_P": "V_Z", "r_z_P": "r_z", "P_ZM_P": "P_ZM"}, FIRST),
                PickPart("zeners", {"V_Z": "V_Z", "r_z": "r_z"}, SECOND),
                Pick("V_I_MIN", tuple(half / 2 for half in range(32, 57))),
                Pick("spread", (3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_RIP", (1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0)),
                Pick("R", BETWEEN),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAINS),
                Pick("I_L", LOADS),
                Pick("I_ZK_P", (0.003, 0.004, 0.005)),
                Pick("V_RIP_O_MAX", (0.0005, 0.0008, 0.001, 0.0012, 0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005)),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_RIP", "V_RIP_O_MAX", "V_Z_P", "r_z_P", "I_ZK_P", "P_ZM_P", "R", "V_Z", "r_z",
                "V_BE", "h_FE", "I_L", "tol_R",
            ),
            ranges=("V_I",),
            labels=LABELS,
            data="Its second stage is built: {R} leads to a zener of {V_Z} with a slope of {r_z} at the base of a "
            "transistor, which carries a load of {I_L}, or none, straight from the raw supply. The first zener "
            "is one of {V_Z_P} with a slope of {r_z_P}. The raw supply falls to {V_I_MIN} and rises to {V_I_MAX}, with "
            "a ripple of {V_RIP} upon it; no more than {V_RIP_O_MAX} of it may reach the output.",
            ask="Find what the second stage draws, both bounds on the first stage's resistor, choose it from the E24 "
            "values, and find the ripple that is left and the greatest power in the first zener.",
            asks=(
                Find("I_R", "the current that the second stage draws"),
                FindBound("R_P", "I_Z_P >= I_ZK_P", "the largest $R_P$ that keeps the first zener fed"),
                FindBound("R_P", "V_RIP_O <= V_RIP_O_MAX", "the least $R_P$ that holds back enough ripple"),
                Choose(
                    "R_P",
                    Series.E24,
                    "an E24 value for $R_P$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits lets least ripple through and warms the first zener least",
                    low="R_P_MIN",
                    high="R_P_MAX",
                    tolerance="tol_R",
                ),
                Find("V_RIP_O", "the ripple at the output with it, peak to peak"),
                FindExtreme("P_Z_P", Extreme.GREATEST, "the greatest power in the first zener"),
            ),
            require=(
                "V_Z_P >= V_Z + 4", "V_I_MIN >= V_Z_P + 2", "r_z_P <= 0.0195*(R + r_z)",
                "(V_Z_P - V_Z)/R >= I_L/(h_FE + 1) + 0.002", "R_P_MAX <= 6*R_P_MIN", "R_P_MIN >= 40",
                # Whatever lies between the bounds spares the first zener too.
                "V_Z_P*((V_I_MAX - V_Z_P)/R_P_MIN - I_R) <= P_ZM_P",
            ),
            slips=(
                Slip(
                    "on-the-raw-line",
                    "I_R",
                    Rewrite("(V_I_MIN - V_Z)/R"),
                    "$R$ hung on the raw supply",
                    "$R$ begins at the first zener, not at the supply; that is what the first stage is there for.",
                    "Which two voltages stand at the ends of $R$?",
                ),
                LOAD_THROUGH_FIRST, BASE_FOR_STAGE, NO_KNEE, HIGH_LINE, ONE_STAGE, ROUNDED_UP, FIRST_ALONE,
            ),
            checks=(
                CheckLine("Starving corner, $R_P$ at the top of its tolerance", "I_Z_P >= I_ZK_P",
                          {"R_P": "R_P*(1 + tol_R)"}),
                CheckLine("Ripple, $R_P$ at the bottom of its tolerance", "V_RIP_O <= V_RIP_O_MAX",
                          {"R_P": "R_P*(1 - tol_R)"}),
                CheckLine("Hottest corner, $R_P$ at the bottom of its tolerance", "P_Z_P <= P_ZM_P",
                          {"R_P": "R_P*(1 - tol_R)"}),
            ),
            band={"V_Z": 0.05, "V_Z_P": 0.05, "r_z": 0.3, "r_z_P": 0.3},
            bench="a large capacitor across the first zener does less than one would think: its slope is already the "
            "smaller resistance",
        ),
    ),
)  # fmt: skip
