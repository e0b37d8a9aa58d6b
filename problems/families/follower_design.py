"""Design an emitter-follower regulator: the zener, its resistor at the hungriest corner, and the heat."""

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
from tutor.quantities.preferred import Series

SHELF = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
ZENER = PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 6.2, 15.0),))
LOWEST = tuple(half / 2 for half in range(18, 53))
FULL_LOAD = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0)
KNEE = (0.002, 0.003, 0.004, 0.005)
LABELS = {
    "V_BE": "base-emitter voltage",
    "h_FE": "lowest current gain of the type",
    "h_FE_MIN": "lowest current gain of the type",
    "h_FE_MAX": "highest current gain of the type",
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
    "tol_R": "tolerance of the resistor",
    "V_Z": "zener voltage (straight characteristic)",
    "I_L_MAX": "fullest load",
}
R_CHOICE = "the largest value that fits wastes least current, and so least heat in the zener"

FULL_LOAD_CURRENT = Slip(
    "load-through-R",
    "R_MAX",
    Swap("I_B", "I_L"),
    "the zener's resistor sized for the whole load current",
    "The transistor brings the load its current; $R$ feeds only base and zener.",
    "What does the transistor take off $R$'s shoulders?",
    reference=("E04",),
    step="R",
)
BASE_LEFT_OUT = Slip(
    "base-left-out",
    "R_MAX",
    Rewrite("(V_I - V_Z)/I_Z"),
    "the base current left out of what $R$ carries",
    "At full load the base takes its share of $R$'s current before the zener gets any.",
    "At full load, does all of $R$'s current reach the zener?",
    reference=("E09",),
    step="R",
)
PAST_THE_BASE = Slip(
    "past-the-base",
    "R_MAX",
    Rewrite("(V_I - (V_Z - V_BE))/(I_B + I_Z)"),
    "$V_I - V_O$ put across the zener's resistor",
    "$R$ ends at the base, which the zener holds, not at the output.",
    "Name the two nodes that $R$ joins.",
    reference=("E10",),
    step="R",
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Rewrite("(V_I_MAX - V_Z)/(I_B + I_Z)"),
    "the highest line used for the starving corner",
    "Least voltage stands across $R$ at the lowest line; there it must still feed base and zener.",
    "Which line leaves least voltage across $R$?",
    step="R",
)
LOW_GAIN = Slip(
    "kind-gain",
    "R_MAX",
    Swap("h_FE", "h_FE_MAX"),
    "the highest gain used",
    "The lowest gain of the type asks for most base current, and such a transistor may be fitted.",
    "Which gain in the range is the harshest?",
    reference=("E08",),
    step="I_B",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves base or zener at full load and lowest line.",
    "On which side of the bound does the zener stay fed?",
)
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
)
LOW_LINE_HEAT = Slip(
    "low-line-heat",
    "P_Q_MAX",
    Rewrite("(V_I_MIN - (V_Z - V_BE))*I_L_MAX"),
    "pass-transistor power at the lowest line",
    "The transistor takes up what the line has over the output: most at the highest line.",
    "Which line leaves most voltage across the transistor?",
    reference=("E14",),
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_Q_MAX",
    Rewrite("V_I_MAX*I_L_MAX"),
    "pass-transistor power from the whole input voltage",
    "The transistor has only $V_I - V_O$ across it.",
    "Which two nodes are collector and emitter on?",
    reference=("E12",),
)
LOAD_POWER = Slip(
    "load-power",
    "P_Q_MAX",
    Rewrite("(V_Z - V_BE)*I_L_MAX"),
    "the load's power given for the transistor's",
    "Power in a part is its own voltage times its own current.",
    "What voltage stands across the transistor?",
    reference=("E13",),
)

BOUNDS = (
    FindBound("R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener"),
    Find("I_ZM", "the greatest current the zener may carry"),
    FindBound(
        "R", "I_Z <= I_ZM", "the least $R$ that keeps the zener within its rating, load unplugged", at={"I_L": "0"}
    ),
)
CHECKS = (
    CheckLine("Starving corner, $R$ at the top of its tolerance", "I_Z >= I_ZK", {"R": "R*(1 + tol_R)"}),
    CheckLine("Load unplugged, $R$ at the bottom of its tolerance", "P_Z <= P_ZM", {"R": "R*(1 - tol_R)", "I_L": "0"}),
)

FAMILY = Family(
    title="Design an emitter-follower regulator",
    about="The transistor carries the load, so the zener's resistor is sized for base and zener current alone, at the "
    "corner that asks for most of both; the heat goes into the pass transistor.",
    lesson="series",
    circuit="follower",
    assume={"base-current": "exact"},
    edition=2,  # no line above twice the output
    scenarios=(
        "A loom's pattern reader needs a steady rail whatever the mill's line does.",
        "A flood gate's position lamp and relay share a small rail behind a raw supply.",
        "A travelling cinema feeds its sound head from a regulator in the projector's base.",
        "A botanist's seedling counter gets a rail of its own in the glasshouse.",
        "A funicular's cabin indicator is fed from a raw supply that sags when the motor starts.",
        "A letterpress shop adds a sheet counter with a relay to an old press.",
        "A mountain hut's snow-depth sensor heats itself now and then from its small rail.",
    ),
    cautions=("hot-parts", "capacitors", "output"),
    levels=(
        Level(
            about="Both bounds on the zener's resistor",
            draws=(
                ZENER,
                Pick("V_BE", (0.7,)),
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (2.0, 3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L", FULL_LOAD),
                Pick("h_FE", (50.0, 60.0, 75.0, 80.0, 100.0)),
                Pick("I_ZK", KNEE),
                Pick("tol_R", (0.05,)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_Z", "V_BE", "I_L", "h_FE", "I_ZK", "P_ZM", "tol_R"),
            ranges=("V_I",),
            labels=LABELS,
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}; the load draws {I_L} or is unplugged.",
            ask="Find the bounds on the zener's resistor and choose an E24 value whose tolerance band lies between "
            "them.",
            asks=(
                Find("I_B", "the base current $I_B$ at this load"),
                *BOUNDS,
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$",
                    Prefer.LARGEST,
                    R_CHOICE,
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
            ),
            require=("V_I_MIN >= V_Z + 2.5", "V_I_MAX <= 2*(V_Z - V_BE)", "I_ZK <= 3*I_B"),
            slips=(
                Slip(
                    "gain-multiplies",
                    "I_B",
                    Rewrite("I_L*h_FE"),
                    "multiplied by the gain",
                    "The base current is the small one: the load current divided by the gain and one.",
                    "Which of the transistor's currents is smallest?",
                    reference=("E05",),
                ),
                FULL_LOAD_CURRENT,
                BASE_LEFT_OUT,
                PAST_THE_BASE,
                HIGH_LINE,
                ROUNDED_UP,
            ),
            checks=CHECKS,
            band={"V_Z": 0.05},
            bench="the zener sets the output; a 5 % zener gives a 5 % output, whatever the resistor",
        ),
        Level(
            about="Load range, gain range, ratings, heat",
            draws=(
                ZENER,
                Pick("V_BE", (0.7,)),
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("I_L_MIN", (0.0,)),
                Pick("h_FE_MIN", (50.0, 60.0, 75.0)),
                Pick("h_FE_MAX", (150.0, 200.0, 250.0)),
                Pick("I_ZK", KNEE),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_I_MIN",
                "V_I_MAX",
                "V_Z",
                "V_BE",
                "I_L_MIN",
                "I_L_MAX",
                "h_FE_MIN",
                "h_FE_MAX",
                "I_ZK",
                "P_ZM",
                "tol_R",
            ),
            ranges=("V_I", "I_L", "h_FE"),
            labels={**LABELS, "I_L_MIN": "lightest load"},
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}; the load draws up to {I_L_MAX}. Resistors on "
            "the shelf are rated 0.25, 0.5, 1, 2, 5 and 10 W; a part is to run at no more than two thirds of its "
            "rating.",
            ask="Choose the zener's resistor from the E24 values for every transistor of the type, rate it, and find "
            "the greatest power in the pass transistor.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener"),
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
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the pass transistor"),
            ),
            require=("V_I_MIN >= V_Z + 2.5", "V_I_MAX <= 2*(V_Z - V_BE)", "P_Q_MAX <= 20"),
            slips=(
                FULL_LOAD_CURRENT,
                BASE_LEFT_OUT,
                PAST_THE_BASE,
                HIGH_LINE,
                LOW_GAIN,
                ROUNDED_UP,
                JUST_RATED,
                LOW_LINE_HEAT,
                WHOLE_INPUT,
                LOAD_POWER,
            ),
            checks=CHECKS,
            band={"V_Z": 0.05},
            bench="most of the heat is in the pass transistor; give it a heat-sink before the first full-load run",
        ),
        Level(
            about="From the output wanted: zener chosen, resistor, headroom and heat",
            draws=(
                Pick("V_O_NOM", tuple(tenths / 10 for tenths in range(55, 141, 5))),
                Pick("V_BE", (0.7, 0.65)),
                Pick("V_I_MIN", LOWEST),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MAX", FULL_LOAD),
                Pick("I_L_MIN", (0.0,)),
                Pick("h_FE", (50.0, 60.0, 75.0, 80.0)),
                Pick("I_ZK", KNEE),
                Pick("P_ZM", (0.5, 1.0, 1.3)),
                Pick("tol_R", (0.05,)),
            ),
            given=("V_O_NOM", "V_I_MIN", "V_I_MAX", "V_BE", "I_L_MIN", "I_L_MAX", "h_FE", "I_ZK", "P_ZM", "tol_R"),
            ranges=("V_I", "I_L"),
            labels={**LABELS, "V_O_NOM": "output wanted", "I_L_MIN": "lightest load"},
            data="An output near {V_O_NOM} is wanted from a raw supply between {V_I_MIN} and {V_I_MAX}, for loads up "
            "to {I_L_MAX}. Zeners come in the E24 values.",
            ask="Choose the zener nearest to what is needed, find the output it really gives, choose the zener's "
            "resistor, and find the greatest power in the pass transistor.",
            asks=(
                Find(
                    "V_Z", "the zener voltage that would give the output wanted", key="V_Z_NOM", at={"V_O": "V_O_NOM"}
                ),
                Choose(
                    "V_Z",
                    Series.E24,
                    "the nearest E24 zener voltage",
                    Prefer.NEAREST,
                    "the value nearest to what is needed moves the output least",
                    near="V_Z_NOM",
                ),
                Find("V_O", "the output it really gives"),
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener"),
                FindBound("R", "P_Z <= P_ZM", "the least $R$ that keeps the zener within its rating"),
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
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the pass transistor"),
            ),
            require=("V_I_MIN >= V_Z + 2.5", "V_I_MAX <= 2*V_O", "P_Q_MAX <= 20"),
            slips=(
                Slip(
                    "junction-taken-off",
                    "V_Z_NOM",
                    Rewrite("V_O - V_BE"),
                    "$V_BE$ taken off where it is added",
                    "The base stands one junction above the output, so the zener must be higher than the output.",
                    "Is the base above or below the output?",
                ),
                FULL_LOAD_CURRENT,
                BASE_LEFT_OUT,
                PAST_THE_BASE,
                HIGH_LINE,
                ROUNDED_UP,
                LOW_LINE_HEAT,
                WHOLE_INPUT,
                LOAD_POWER,
            ),
            checks=CHECKS,
            bench="the output is only as exact as zener and junction: some 5 % and some tens of millivolts",
        ),
    ),
)
