"""The whole regulator: output and limit from its parts, every station at its worst corner, a design with margins."""

from dataclasses import replace

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

STRAIGHT = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 6.2), ("P_ZM", 0.5, 0.5)))
SLOPING = PickPart(
    "zeners",
    {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z", "I_ZK": "I_ZK"},
    (("V_Z", 4.7, 6.2), ("P_ZM", 0.5, 0.5)),
)
DIVIDER = values_between(1000, 22000, Series.E12)
FEED = values_between(680, 4700, Series.E12)
SENSE = values_between(0.22, 3.3, Series.E24)
SHARES = (0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9)  # of the limit, that the load takes
LOADS = (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0)
LIMITERS = (0.6, 0.65, 0.7)
DRIVERS = (50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
PASSES = (20.0, 25.0, 30.0, 40.0, 50.0)
DROPS = (1.2, 1.5, 1.8, 2.0, 2.5)
LABELS = {
    "V_I": "supply", "V_I_MIN": "lowest line", "V_I_MAX": "highest line",
    "V_TROUGH": "lowest that the raw supply falls to", "V_Z": "zener voltage (straight characteristic)",
    "V_ZT": "zener voltage at the test current", "I_ZT": "test current of the zener", "r_z": "slope of the zener",
    "I_ZK": "least zener current for good regulation", "R": "resistor that feeds the zener",
    "R_1": "upper resistor of the divider", "R_2": "lower resistor of the divider", "R_SENSE": "sense resistor",
    "V_BE_1": "base-emitter voltage of the driver", "V_BE_2": "base-emitter voltage of the output transistor",
    "h_FE_1": "lowest current gain of the driver", "h_FE_2": "lowest current gain of the output transistor",
    "V_BE_3": "base-emitter voltage at which the limiter opens",
    "V_BE_3_MIN": "base-emitter voltage at which the limiter opens, hottest",
    "V_BE_3_MAX": "the same, limiter at its coldest",
    "V_DROP": "how far the amplifier's output stays below its supply", "I_L": "load current",
    "I_L_MIN": "lightest load", "I_L_MAX": "fullest load", "V_O_NOM": "output wanted",
    "I_DIV_MAX": "most that the divider may take, to be neglected beside the load",
    "P_QM": "most that the output transistor can bear on its heat-sink", "tol_R": "tolerance of the sense resistor",
}  # fmt: skip

DIVIDED = Slip(
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
JUNCTIONS_OFF = Slip(
    "junctions-taken-off",
    "V_O",
    Rewrite("V_REF*(1 + R_1/R_2) - V_BE_1 - V_BE_2"),
    "the pair's two junctions taken off the output",
    "The divider hangs on the output itself, behind the pair: the loop drives the pair's base that much higher.",
    "Where is the output measured: before or behind the pair?",
    reference=("F05",),
)
PRODUCT = Slip(
    "product",
    "I_LIM",
    Rewrite("V_BE_3*R_SENSE"),
    "voltage and resistance multiplied",
    "A current is a voltage over a resistance.",
    "What unit does your result have?",
)
ONE_JUNCTION = Slip(
    "one-junction",
    "V_OA",
    Rewrite("V_O + V_SENSE + V_BE_1"),
    "one junction for a pair that has two",
    "Driver and output transistor each put a junction between the amplifier and the output.",
    "How many junctions do you pass from the amplifier to the output?",
)
SENSE_FORGOTTEN = Slip(
    "sense-forgotten",
    "V_OA",
    Rewrite("V_O + V_BE_1 + V_BE_2"),
    "the drop in the sense resistor left out",
    "The sense resistor lies between the pair and the output, and the amplifier has to drive that much higher.",
    "Between the pair's emitter and the output, what is there?",
)
HIGH_LINE = Slip(
    "high-line",
    "I_Z_MIN",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the least zener current",
    "What feeds the zener is what the line has over it: least at the lowest line.",
    "Which line leaves least for $R$?",
)
TEST_VOLTAGE = Slip(
    "test-voltage",
    "V_O_MAX",
    Rewrite("V_ZT*(1 + R_1/R_2)"),
    "the zener's voltage at its test current taken for the reference",
    "The zener does not carry its test current here: at the highest line it carries more, and its slope adds to it.",
    "What current does the zener have at the highest line?",
)
SWAPPED_AT_TOP = replace(SWAPPED, at="V_O_MAX", reference=())
ONE_JUNCTION_AT_TOP = replace(ONE_JUNCTION, at="V_OA_MAX")
ONE_GAIN = Slip(
    "one-gain",
    "I_OA_MAX",
    Rewrite("I_SENSE/(h_FE_2 + 1)"),
    "the driver's gain left out",
    "What the output transistor's base takes comes from the driver's emitter; the amplifier brings the driver's base "
    "current alone.",
    "Whose base is it that the amplifier drives?",
)
ALL_FROM_AMPLIFIER = Slip(
    "all-from-the-amplifier",
    "I_OA_MAX",
    Rewrite("I_SENSE"),
    "the whole current asked of the amplifier",
    "The amplifier brings base current alone; the supply gives the rest through both collectors.",
    "Which leads of the pair carry the load current in?",
    reference=("F10",),
)
OUTPUT_FOR_DROP = Slip(
    "output-for-drop",
    "P_Q_2_MAX",
    Rewrite("V_O*I_C_2"),
    "the output taken for the transistor's voltage",
    "The output transistor stands between supply and sense resistor: it has what these leave of the supply.",
    "Which two nodes do its collector and emitter join?",
)
DRIVER_TAKES_ALL = Slip(
    "load-through-the-driver",
    "P_Q_1_MAX",
    Rewrite("V_CE_1*I_SENSE"),
    "the load current put through the driver",
    "The driver carries the output transistor's base current and no more.",
    "What does the driver's emitter feed?",
)
COLD_FOR_SERVICE = Slip(
    "cold-for-service",
    "R_SENSE_MAX",
    Swap("V_BE_3", "V_BE_3_MAX"),
    "the cold limiter used for the largest sense resistor",
    "The fullest load must be served by a hot limiter too, which opens at less voltage.",
    "When does the limiter open soonest?",
)
SERVICE_HEAT = Slip(
    "service-heat",
    "R_SENSE_MIN",
    Rewrite("V_BE_3_MAX*(V_I_MAX - V_O_NOM)/P_QM"),
    "the heat taken with the output still there",
    "A limiter holds the current while the output falls; shorted, the whole supply is left for the output transistor.",
    "Does the limit switch the supply off, or does it hold the current?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R_SENSE",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger sense resistor lets the limit begin below the fullest load.",
    "On which side of the bound is the load still served?",
)
UPPER_FROM_OUTPUT = Slip(
    "upper-from-whole-output",
    "R_1_NOM",
    Rewrite("R_2*V_O_NOM/V_REF"),
    "the whole output put across the upper resistor",
    "The upper resistor has only what is left above the reference.",
    "What voltage stands at its lower end?",
)
LINE_OF_ONE_JUNCTION = replace(
    ONE_JUNCTION, at="V_I_MIN", edit=Rewrite("V_O + I_L*R_SENSE + V_BE_1 + V_DROP")
)
SENSE_LEFT_OUT = Slip(
    "sense-left-out",
    "V_I_MIN",
    Rewrite("V_O + V_BE_1 + V_BE_2 + V_DROP"),
    "the drop in the sense resistor left out",
    "At full load the sense resistor keeps nearly a junction's voltage for itself.",
    "Name every drop between the line and the output at full load.",
    reference=("C04",),
)
OUTPUT_STILL_THERE = Slip(
    "output-still-there",
    "P_SC_MAX",
    Rewrite("(V_I - V_Z*(1 + R_1/R_2))*I_LIM"),
    "the output thought to be there still",
    "Shorted, the output is at zero, and the output transistor has nearly the whole supply across it.",
    "What is the output voltage when the output is shorted?",
    reference=("C03",),
)

FAMILY = Family(
    title="The whole series regulator",
    about="Reference, op-amp, pass pair and limiter work on one another. Taken in turn, from the zener to the pair, "
    "each station gives the next its number, and each has a corner of its own at which it is worst.",
    lesson="combined",
    circuit="full-regulator",
    assume={"divider-current": "neglected"},
    scenarios=(
        "A radio observatory's dish is steered by a motor drive whose logic wants a steady, limited supply.",
        "A ceramics museum lights its vitrines from a regulator that must survive a visitor's metal bag.",
        "The rehearsal stage of an opera house feeds its lamp dimmers from one well-guarded rail.",
        "A fish hatchery aerates its tanks with pumps that may be blocked, from a supply with a limit.",
        "The teaching bench of a railway school has a supply that every class is allowed to short.",
        "A tide gauge at a pier sends its readings from electronics fed over a long, salty cable.",
        "A bakery's dough proofer has its controller on a supply shared with a fan that sometimes sticks.",
    ),
    cautions=("hot-parts", "output", "live-tab"),
    levels=(
        Level(
            about="The output, the limit, and how high the amplifier drives",
            draws=(
                STRAIGHT, Pick("R_1", DIVIDER), Pick("R_2", DIVIDER),
                Pick("above", (4.5, 5.0, 5.5, 6.0, 7.0, 8.0, 9.0)), Work("V_I", "V_Z*(1 + R_1/R_2) + above", 2),
                Pick("V_BE_1", (0.7,)), Pick("V_BE_2", (0.7,)), Pick("R_SENSE", SENSE), Pick("V_BE_3", LIMITERS),
                Pick("share", SHARES), Work("I_L", "share*V_BE_3/R_SENSE", 2),
            ),
            given=("V_I", "V_Z", "R_1", "R_2", "V_BE_1", "V_BE_2", "R_SENSE", "V_BE_3", "I_L"),
            labels=LABELS,
            data="A zener of {V_Z} is the reference of an op-amp, which drives a Darlington pair from {V_I}. The "
            "divider on the output has {R_1} above and {R_2} below. Between pair and output lies a sense resistor of "
            "{R_SENSE}, and a limiter that opens at {V_BE_3} stands across it. The load draws {I_L}.",
            ask="Find the output voltage, the load current at which the limit begins, and the amplifier's output "
            "voltage with this load.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_LIM", "the load current $I_LIM$ at which the limit begins"),
                Find("V_OA", "the amplifier's output voltage $V_OA$"),
            ),
            require=(
                "V_O >= 5", "V_O <= 20", "V_O >= 1.2*V_Z", "V_I >= V_OA + 2.5", "V_I <= 2*V_O",
                "I_LIM <= 3", "I_LIM >= 0.2", "I_L >= 100*V_Z/R_2",
            ),
            slips=(DIVIDED, SWAPPED, ONE_LEFT_OUT, JUNCTIONS_OFF, PRODUCT, ONE_JUNCTION, SENSE_FORGOTTEN),
            back=(BackLine("The tap comes back to the reference", "V_O*R_2/(R_1 + R_2)", "V_Z"),),
            band={"V_Z": 0.05, "R_1": 0.01, "R_2": 0.01, "V_BE_3": 0.08},
            bench="the output hardly moves as the load nears the limit: pair and sense resistor are inside the loop",
        ),
        Level(
            about="Every station at its worst corner",
            assume={"divider-current": "exact"},
            draws=(
                Pick("R", FEED), SLOPING, Pick("R_1", DIVIDER), Pick("R_2", DIVIDER),
                Pick("above", (5.0, 5.5, 6.0, 7.0, 8.0)), Work("V_I_MIN", "V_ZT*(1 + R_1/R_2) + above", 2),
                Pick("spread", (3.0, 4.0, 5.0, 6.0)), Work("V_I_MAX", "V_I_MIN + spread"), Pick("V_BE_1", (0.7,)),
                Pick("h_FE_1", DRIVERS), Pick("V_BE_2", (0.7,)), Pick("h_FE_2", PASSES), Pick("R_SENSE", SENSE),
                Pick("V_BE_3", LIMITERS), Pick("V_DROP", DROPS), Pick("I_L_MIN", (0.0,)), Pick("share", SHARES),
                Work("I_L_MAX", "share*V_BE_3/R_SENSE", 2),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "R", "V_ZT", "I_ZT", "r_z", "I_ZK", "R_1", "R_2", "V_BE_1", "h_FE_1", "V_BE_2",
                "h_FE_2", "R_SENSE", "V_BE_3", "V_DROP", "I_L_MIN", "I_L_MAX",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="On a line of {V_I_MIN} to {V_I_MAX} a zener of {V_ZT} at {I_ZT}, of slope {r_z}, is fed through {R}. "
            "An op-amp compares it with the tap of a divider, {R_1} above and {R_2} below, and drives a pair of gains "
            "{h_FE_1} and {h_FE_2}; a sense resistor of {R_SENSE} lies between pair and output. The load draws "
            "{I_L_MIN} to {I_L_MAX}.",
            ask="Find the least zener current, the lowest and the highest output, the highest voltage and the most "
            "current that the amplifier must give, and the most heat in driver and output transistor, over every "
            "corner.",
            asks=(
                FindExtreme("I_Z", Extreme.LEAST, "the least zener current"),
                FindExtreme("V_O", Extreme.LEAST, "the lowest output"),
                FindExtreme("V_O", Extreme.GREATEST, "the highest output"),
                FindExtreme("V_OA", Extreme.GREATEST, "the highest output voltage of the amplifier"),
                FindExtreme("I_OA", Extreme.GREATEST, "the most current of the amplifier"),
                FindExtreme("P_Q_1", Extreme.GREATEST, "the most heat in the driver"),
                FindExtreme("P_Q_2", Extreme.GREATEST, "the most heat in the output transistor"),
                Find("I_LIM", "the current at which the limit begins", shown=False),
            ),
            require=(
                "V_O_MIN >= 5", "V_O_MAX <= 20", "V_O_MIN >= 1.2*V_ZT", "V_I_MIN >= V_OA_MAX + V_DROP",
                "V_I_MIN <= V_OA_MAX + V_DROP + 5", "V_I_MAX <= 32", "V_I_MAX <= 2*V_O_MIN",
                "I_LIM <= 3", "I_Z_MIN >= 2*I_ZK", "I_Z_MIN <= 0.02",
            ),
            slips=(
                HIGH_LINE, TEST_VOLTAGE, SWAPPED_AT_TOP, ONE_JUNCTION_AT_TOP, ONE_GAIN, ALL_FROM_AMPLIFIER,
                DRIVER_TAKES_ALL, OUTPUT_FOR_DROP,
            ),
            checks=(
                CheckLine("The zener at its least", "I_Z >= I_ZK"),
                CheckLine("The amplifier's headroom at its least", "V_HEAD >= V_DROP"),
                CheckLine("The limit above the fullest load", "I_LIM >= I_L_MAX"),
            ),
            band={"V_ZT": 0.05, "h_FE_1": 0.3, "h_FE_2": 0.3},
            bench="of all these the output moves least and the heat most: look after the heat first",
        ),
        Level(
            about="Design: sense resistor, divider, least line and the heat of a short",
            draws=(
                Pick("V_O_NOM", (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.5, 15.0, 18.0)),
                Pick("above", (4.0, 4.5, 5.0, 5.5, 6.0, 7.0, 8.0)), Work("V_TROUGH", "V_O_NOM + above"),
                Pick("spread", (3.0, 4.0, 5.0, 6.0)), Work("V_I_MAX", "V_TROUGH + spread"), STRAIGHT,
                Pick("R_2", values_between(1000, 10000, Series.E12)), Pick("V_BE_1", (0.7,)), Pick("V_BE_2", (0.7,)),
                Pick("V_BE_3_MAX", (0.65, 0.68, 0.7)), Pick("warmth", (0.06, 0.08, 0.1, 0.12, 0.14)),
                Work("V_BE_3_MIN", "V_BE_3_MAX - warmth"), Pick("V_DROP", DROPS), Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS), Work("I_DIV_MAX", "I_L_MAX/100"),
                Pick("ratio", (1.3, 1.4, 1.5, 1.6, 1.8, 2.0)),
                Work("P_QM", "ratio*(V_I_MAX - V_BE_3_MAX)*I_L_MAX*V_BE_3_MAX/V_BE_3_MIN", 2), Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_TROUGH", "V_I_MAX", "V_O_NOM", "V_Z", "R_2", "V_BE_1", "V_BE_2", "V_BE_3_MIN", "V_BE_3_MAX",
                "V_DROP", "I_L_MIN", "I_L_MAX", "I_DIV_MAX", "P_QM", "tol_R",
            ),
            ranges=("I_L", "V_BE_3"),
            labels=LABELS,
            data="An output of {V_O_NOM} is wanted for a load of up to {I_L_MAX}, from a raw supply that rises to "
            "{V_I_MAX} and falls to {V_TROUGH} at full load. The zener has {V_Z}, the lower resistor of the divider "
            "{R_2}; the amplifier's output stays {V_DROP} below its supply. The limiter opens at {V_BE_3_MAX} when "
            "cold and at {V_BE_3_MIN} when hot, and the output transistor on its heat-sink bears {P_QM}, in a lasting "
            "short too.",
            ask="Find both bounds on the sense resistor and choose an E24 value whose whole tolerance fits; choose the "
            "upper resistor from the E96 values; then find the lowest line that holds the output at full load, and the "
            "most heat of a short.",
            asks=(
                FindBound("R_SENSE", "I_LIM >= I_L_MAX", "the largest sense resistor that serves the fullest load"),
                FindBound(
                    "R_SENSE", "P_SC <= P_QM", "the least sense resistor that the output transistor bears in a short",
                    at={"V_I": "V_I_MAX"},
                ),
                Choose(
                    "R_SENSE", Series.E24, "an E24 value whose tolerance band lies between the bounds", Prefer.LARGEST,
                    "the largest value that fits keeps the output transistor coolest in a short", low="R_SENSE_MIN",
                    high="R_SENSE_MAX", tolerance="tol_R",
                ),
                Find("R_1", "the upper resistor that would give just the output wanted", key="R_1_NOM",
                     at={"V_O": "V_O_NOM"}),
                Choose(
                    "R_1", Series.E96, "the E96 value nearest to it", Prefer.NEAREST,
                    "the nearest value misses the output least", near="R_1_NOM",
                ),
                FindBound("V_I", "V_HEAD >= V_DROP", "the lowest line that holds the output"),
                FindExtreme(
                    "P_SC", Extreme.GREATEST, "the most heat in the output transistor, output shorted",
                    at={"V_I": "V_I_MAX"},
                ),
            ),
            require=(
                "V_O_NOM >= 1.2*V_Z", "V_I_MAX <= 2.2*V_O_NOM", "V_I_MAX <= 32", "R_SENSE_MAX <= 3.3",
                "R_SENSE_MIN >= 0.22", "R_SENSE_MIN >= 0.4*R_SENSE_MAX", "V_TROUGH >= V_I_MIN + 0.3",
                "V_TROUGH <= V_I_MIN + 5", "R_1_NOM >= 1000", "R_1_NOM <= 22000",
            ),
            slips=(
                COLD_FOR_SERVICE, SERVICE_HEAT, ROUNDED_UP, UPPER_FROM_OUTPUT, LINE_OF_ONE_JUNCTION, SENSE_LEFT_OUT,
                OUTPUT_STILL_THERE,
            ),
            checks=(
                CheckLine(
                    "Hot limiter, sense resistor at the top of its tolerance", "I_LIM >= I_L_MAX",
                    {"R_SENSE": "R_SENSE*(1 + tol_R)"},
                ),
                CheckLine(
                    "Output shorted, cold limiter, sense resistor at the bottom of its tolerance", "P_SC <= P_QM",
                    {"R_SENSE": "R_SENSE*(1 - tol_R)", "V_I": "V_I_MAX"},
                ),
                CheckLine("What was neglected beside the load", "I_DIV <= I_DIV_MAX"),
                CheckLine("The raw supply at its lowest", "V_HEAD >= V_DROP", {"V_I": "V_TROUGH"}),
            ),
            band={"V_Z": 0.05, "R_SENSE": 0.05},
            bench="set the output with a trimmer; try the short through an ammeter, for a second, from a bench supply "
            "with a limit of its own",
        ),
    ),
)  # fmt: skip
