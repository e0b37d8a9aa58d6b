"""A constant current limit: the sense resistor, what it costs, and the heat of a shorted output."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    ChooseRating,
    Demand,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    NoMargin,
    Pick,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    TellVerdict,
    Verdict,
    Work,
)
from tutor.quantities.preferred import Series, values_between

SHELF = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
LIMITS = (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0)
OUTPUTS = (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.5, 15.0)
LINES = tuple(half / 2 for half in range(18, 57))
SHORTED = {"V_O": "0"}
LABELS = {
    "V_O_NOM": "output while it regulates",
    "V_I": "supply",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "I_LIM": "current at which the limit is to begin",
    "I_L_MAX": "fullest load to be served",
    "V_BE_2": "base-emitter voltage at which the limiter opens",
    "V_BE_2_MIN": "the same, limiter at its hottest",
    "V_BE_2_MAX": "the same, limiter at its coldest",
    "V_CE_1_MIN": "least voltage the pass transistor works with",
    "R_SENSE": "sense resistor",
    "P_QM": "most that the pass transistor can bear on its heat-sink",
    "tol_R": "tolerance of the sense resistor",
}

PRODUCT = Slip(
    "product",
    "R_SENSE",
    Rewrite("V_BE_2*I_LIM"),
    "voltage and current multiplied",
    "A resistance is a voltage over a current.",
    "What unit does your result have?",
    reference=("C01",),
)
WHOLE_OUTPUT = Slip(
    "whole-output",
    "R_SENSE",
    Rewrite("V_O_NOM/I_LIM"),
    "the output voltage put across the sense resistor",
    "The limiter opens at one junction, and the sense resistor stands across that junction.",
    "Which voltage turns the limiter on?",
    reference=("C02",),
)
OUTPUT_STILL_THERE = Slip(
    "output-still-there",
    "P_Q_1",
    Rewrite("(V_I - V_O_NOM)*I_LIM"),
    "the output thought to be there still",
    "Shorted, the output is at zero, and the pass transistor has nearly the whole supply across it.",
    "What is the output voltage when the output is shorted?",
    reference=("C03",),
)
WHOLE_SUPPLY_IN_SENSE = Slip(
    "whole-supply-in-sense",
    "P_SENSE",
    Rewrite("V_I*I_LIM"),
    "the whole supply put across the sense resistor",
    "The limiter's junction holds one junction's voltage across it; the pass transistor takes the rest.",
    "Between which two nodes does the sense resistor lie?",
)
SENSE_LEFT_OUT = Slip(
    "sense-left-out",
    "V_I_MIN",
    Rewrite("V_O_NOM + V_CE_1_MIN"),
    "the drop in the sense resistor left out",
    "At the limit the sense resistor keeps a junction's voltage for itself.",
    "Name every drop between input and output at full load.",
    reference=("C04",),
)
COLD_FOR_LEAST = Slip(
    "cold-for-least",
    "I_LIM_MIN",
    Swap("V_BE_2", "V_BE_2_MAX"),
    "the cold limiter used for the least limit",
    "A junction opens at less voltage when it is hot, so the limit comes down as the box warms.",
    "What does $V_BE_2$ do in a hot box?",
)
SHORT_AT_OUTPUT = Slip(
    "output-still-there",
    "P_Q_1_MAX",
    Rewrite("(V_I_MAX - V_O_NOM)*I_LIM_MAX"),
    "the output thought to be there still",
    "Shorted, the output is at zero, and the pass transistor has nearly the whole supply across it.",
    "What is the output voltage when the output is shorted?",
    reference=("C03",),
)
COLD_FOR_SERVICE = Slip(
    "cold-for-service",
    "R_SENSE_MAX",
    Swap("V_BE_2", "V_BE_2_MAX"),
    "the cold limiter used for the largest sense resistor",
    "The fullest load must be served by a hot limiter too, which opens at less voltage.",
    "When does the limiter open soonest?",
)
SERVICE_HEAT = Slip(
    "service-heat",
    "R_SENSE_MIN",
    Rewrite("V_BE_2_MAX*(V_I_MAX - V_O_NOM)/P_QM"),
    "the heat taken with the output still there",
    "A limiter holds the current while the output falls; shorted, the whole supply is left for the pass transistor.",
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
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
)
BEARS = "P_Q_1_MAX <= P_QM"
LASTING = TellVerdict(
    "whether the pass transistor bears a short that lasts",
    (Demand("pass transistor, output shorted", BEARS),),
    (
        Verdict("it bears a lasting short", (BEARS,)),
        Verdict("a lasting short destroys it", (), (BEARS,)),
    ),
    "The limiter does not switch off: it holds the current for as long as the short lasts.",
)

FAMILY = Family(
    title="A current limit and what a short costs",
    about="A resistor in the output lead opens a second transistor, which takes the base drive away. The current stops "
    "there, the output falls, and the pass transistor is left with nearly the whole supply.",
    lesson="series",
    circuit="current-limit",
    assume={"base-current": "neglected", "limiter-current": "neglected"},
    scenarios=(
        "A puppet theatre's lamp rail is often shorted by a loose pin, and its regulator is given a limit.",
        "The students' bench at an evening school gets regulators that must survive wrong wiring.",
        "A garden railway feeds its points from a rail that derailed wagons short now and then.",
        "A greenhouse's valve drivers share a rail whose cable rodents like to gnaw.",
        "A trade fair's display stand is put together by many hands, so its supply is limited.",
        "A choir's cordless lamps are charged from contacts that touch one another when they are put down.",
        "The probe of a well-water meter hangs on a long cable that has been crushed before.",
    ),
    cautions=("hot-parts", "output", "live-tab"),
    levels=(
        Level(
            about="The sense resistor, and the heat of a shorted output",
            regions=("limiting",),
            draws=(
                Pick("V_I", LINES),
                Pick("V_O_NOM", OUTPUTS),
                Pick("V_BE_2", (0.6, 0.65, 0.7)),
                Pick("I_LIM", LIMITS),
            ),
            given=("V_I", "V_O_NOM", "V_BE_2", "I_LIM"),
            labels=LABELS,
            data="A regulator gives {V_O_NOM} from {V_I}. Its current is to be limited at {I_LIM} by a transistor that "
            "opens at {V_BE_2}.",
            ask="Find the sense resistor that sets this limit and the power in it there, and the power in the pass "
            "transistor with the output shorted.",
            asks=(
                Find("R_SENSE", "the sense resistor"),
                Find("P_SENSE", "the power in the sense resistor at the limit", at=SHORTED),
                Find("P_Q_1", "the power in the pass transistor, output shorted", at=SHORTED),
            ),
            require=("V_I >= V_O_NOM + 3", "V_I <= 2.2*V_O_NOM", "R_SENSE >= 0.22", "R_SENSE <= 3.3", "P_Q_1 <= 60"),
            slips=(PRODUCT, WHOLE_OUTPUT, WHOLE_SUPPLY_IN_SENSE, OUTPUT_STILL_THERE),
            back=(BackLine("What the supply gives in a short all becomes heat", "V_I*I_LIM - P_SENSE", "P_Q_1"),),
            band={"V_BE_2": 0.08},
            bench="the limiter opens gently, over some tens of millivolts, so the limit is a bend and no corner",
        ),
        Level(
            about="Hot and cold limiter, headroom, and a short that lasts",
            regions=("limiting",),
            draws=(
                Pick("V_I_MAX", LINES),
                Pick("V_O_NOM", OUTPUTS),
                Pick("V_BE_2_MAX", (0.65, 0.68, 0.7)),
                Pick("warmth", (0.1, 0.12, 0.14, 0.16)),
                Work("V_BE_2_MIN", "V_BE_2_MAX - warmth"),
                Pick("R_SENSE", values_between(0.22, 3.3, Series.E24)),
                Pick("V_CE_1_MIN", (1.0, 1.5, 2.0, 2.5, 3.0)),
                Pick("P_QM", (5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0)),
            ),
            given=("V_I_MAX", "V_O_NOM", "V_BE_2_MIN", "V_BE_2_MAX", "R_SENSE", "V_CE_1_MIN", "P_QM"),
            ranges=("V_BE_2",),
            labels=LABELS,
            data="A regulator of {V_O_NOM} has a sense resistor of {R_SENSE}. Its limiter opens at {V_BE_2_MAX} when "
            "cold and at {V_BE_2_MIN} when hot. The pass transistor needs {V_CE_1_MIN} to work with and bears {P_QM}; "
            "the line may rise to {V_I_MAX}.",
            ask="Find the least and the greatest limit, the lowest line at which the output still holds at the limit, "
            "and whether the pass transistor bears a lasting short.",
            asks=(
                FindExtreme("I_LIM", Extreme.LEAST, "the least current at which the limit begins"),
                FindExtreme("I_LIM", Extreme.GREATEST, "the greatest current at which the limit begins"),
                FindBound(
                    "V_I", "V_CE_1 >= V_CE_1_MIN", "the lowest line for the full output at the limit",
                    at={"V_O": "V_O_NOM"},
                ),
                FindExtreme(
                    "P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor, output shorted",
                    at={"V_I": "V_I_MAX", **SHORTED},
                ),
                LASTING,
            ),
            require=(
                "V_I_MAX >= V_I_MIN + 1", "V_I_MAX <= 2.2*V_O_NOM", "I_LIM_MIN >= 0.2", "I_LIM_MAX <= 3",
                "P_Q_1_MAX <= 3*P_QM", "P_QM <= 3*P_Q_1_MAX",
            ),
            slips=(COLD_FOR_LEAST, SENSE_LEFT_OUT, SHORT_AT_OUTPUT),
            back=(BackLine("Down from the lowest line", "V_I_MIN - V_CE_1_MIN - V_BE_2_MAX", "V_O_NOM"),),
            band={"R_SENSE": 0.05},
            bench="warm the limiter with a finger and the limit comes down: a junction loses 2 mV with each kelvin",
        ),
        Level(
            about="Design: a sense resistor for every temperature, for the load and for a short",
            regions=("limiting",),
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_O_NOM", OUTPUTS),
                Pick("V_BE_2_MAX", (0.65, 0.68, 0.7)),
                Pick("warmth", (0.06, 0.08, 0.1, 0.12, 0.14)),
                Work("V_BE_2_MIN", "V_BE_2_MAX - warmth"),
                Pick("I_L_MAX", tuple(value for value in LIMITS if value <= 2.0)),
                Pick("V_CE_1_MIN", (1.0, 1.5, 2.0)),
                Pick("P_QM", (8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0)),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O_NOM", "I_L_MAX", "V_BE_2_MIN", "V_BE_2_MAX", "V_CE_1_MIN", "P_QM", "tol_R",
            ),
            ranges=("V_I", "V_BE_2"),
            labels=LABELS,
            data="A regulator of {V_O_NOM} on a line of {V_I_MIN} to {V_I_MAX} must serve {I_L_MAX}, and bear a short "
            "that lasts. Its limiter opens at {V_BE_2_MAX} when cold and at {V_BE_2_MIN} when hot. The pass "
            "transistor on its heat-sink bears {P_QM} and needs {V_CE_1_MIN} to work with. Resistors are rated 0.25, "
            "0.5, 1, 2, 5 and 10 W and are not to run past two thirds of that.",
            ask="Find both bounds on the sense resistor, choose an E24 value whose whole tolerance fits, find the "
            "greatest power in it and its rating, and the greatest power in the pass transistor with the resistor as "
            "marked.",
            asks=(
                FindBound("R_SENSE", "I_LIM >= I_L_MAX", "the largest sense resistor that serves the fullest load"),
                FindBound(
                    "R_SENSE", "P_Q_1 <= P_QM", "the least sense resistor that the pass transistor bears, output "
                    "shorted", at=SHORTED,
                ),
                Choose(
                    "R_SENSE",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits keeps the pass transistor coolest in a short",
                    low="R_SENSE_MIN",
                    high="R_SENSE_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_SENSE", Extreme.GREATEST, "the greatest power in the sense resistor", at=SHORTED),
                ChooseRating(
                    "P_RM", "P_SENSE_MAX", SHELF, 1.5, "a rating for the sense resistor",
                    "it is not to run past two thirds of it",
                ),
                FindExtreme(
                    "P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor, output shorted", at=SHORTED
                ),
            ),
            require=(
                "V_I_MIN >= V_O_NOM + V_BE_2_MAX + V_CE_1_MIN", "V_I_MAX <= 2.2*V_O_NOM", "R_SENSE_MAX <= 3.3",
                "R_SENSE_MIN >= 0.22", "R_SENSE_MIN >= 0.4*R_SENSE_MAX",
            ),
            slips=(COLD_FOR_SERVICE, SERVICE_HEAT, ROUNDED_UP, JUST_RATED),
            checks=(
                CheckLine(
                    "Hot limiter, sense resistor at the top of its tolerance", "I_LIM >= I_L_MAX",
                    {"R_SENSE": "R_SENSE*(1 + tol_R)"},
                ),
                CheckLine(
                    "Output shorted, cold limiter, sense resistor at the bottom of its tolerance", "P_Q_1 <= P_QM",
                    {"R_SENSE": "R_SENSE*(1 - tol_R)", **SHORTED},
                ),
                CheckLine("At the limit, lowest line", "V_CE_1 >= V_CE_1_MIN", {"V_O": "V_O_NOM"}),
            ),
            band={"R_SENSE": 0.05},
            bench="test it with an ammeter across the output, for seconds, from a supply with a limit of its own",
        ),
    ),
)  # fmt: skip
