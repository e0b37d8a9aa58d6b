"""A Darlington pair as pass transistor: two junctions, two gains, and what is left for the zener to feed."""

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
    Work,
)
from tutor.quantities.preferred import Series, values_between

ZENER = PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 6.8, 16.0),))
JUNCTIONS = (Pick("V_BE_1", (0.65, 0.7)), Work("V_BE_2", "V_BE_1"))
LOADS = (0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0)
LINES = tuple(half / 2 for half in range(18, 57))
LABELS = {
    "V_Z": "zener voltage (straight characteristic)",
    "V_BE_1": "base-emitter voltage of the driver",
    "V_BE_2": "base-emitter voltage of the pass transistor",
    "h_FE_1": "current gain of the driver",
    "h_FE_2": "current gain of the pass transistor",
    "h_FE_1_MIN": "lowest gain of the driver's type",
    "h_FE_1_MAX": "highest gain of the driver's type",
    "h_FE_2_MIN": "lowest gain of the pass transistor's type",
    "h_FE_2_MAX": "highest gain of the pass transistor's type",
    "I_L": "load current",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
    "R": "zener's resistor",
    "V_I": "raw supply",
    "V_CE_SAT": "saturation voltage of the pass transistor",
    "tol_R": "tolerance of the resistor",
}

ONE_JUNCTION = Slip(
    "one-junction",
    "V_O",
    Rewrite("V_Z - V_BE_1"),
    "one junction taken for a pair",
    "Driver and pass transistor each put a junction between the zener and the output.",
    "Count the junctions on the way from the zener to the output.",
    reference=("E03",),
)
ADDED = Slip(
    "junctions-added",
    "V_O",
    Rewrite("V_Z + V_BE_1 + V_BE_2"),
    "the junctions added",
    "An NPN emitter stands below its base, and the second one below the first.",
    "Walk from base to emitter: up or down?",
)
PLAIN_GAIN = Slip(
    "plain-gain",
    "I_B_2",
    Rewrite("I_L/h_FE_2"),
    "$h_FE_2$ written where $h_FE_2 + 1$ belongs",
    "The load current is the emitter's, and that is $h_FE_2 + 1$ times the base's; at a low gain it shows.",
    "Is the load current the collector's or the emitter's?",
    reference=("E06",),
)
GAINS_ADDED = Slip(
    "gains-added",
    "I_B_1",
    Rewrite("I_L/(h_FE_1 + h_FE_2 + 2)"),
    "the two gains added",
    "The driver divides what the pass transistor has already divided, so the gains multiply.",
    "Which current does the driver's emitter give?",
)
ONE_GAIN = Slip(
    "one-gain",
    "I_B_1",
    Rewrite("I_L/(h_FE_1 + 1)"),
    "the gain of the driver alone",
    "The driver's emitter does not give the load current, but the base current of the pass transistor.",
    "Which current does the driver's emitter give?",
)
KIND_GAINS = Slip(
    "kind-gains",
    "R_MAX",
    Rewrite("I_L_MAX/((h_FE_1_MAX + 1)*(h_FE_2_MAX + 1))"),
    "the highest gains used",
    "The lowest gains of both types ask for most base current, and such transistors may be fitted.",
    "Which gains in the ranges are the harshest?",
    step="I_B_1",
    reference=("E08",),
)
LOAD_THROUGH_R = Slip(
    "load-through-R",
    "R_MAX",
    Rewrite("(V_I_MIN - V_Z)/(I_L_MAX + I_ZK)"),
    "the zener's resistor sized for the whole load current",
    "The pair brings the load its current; $R$ feeds only the driver's base and the zener.",
    "What do the transistors take off $R$'s shoulders?",
    step="R",
    reference=("E04",),
)
BASE_LEFT_OUT = Slip(
    "base-left-out",
    "R_MAX",
    Rewrite("(V_I_MIN - V_Z)/I_ZK"),
    "the driver's base current left out",
    "It is small, but so is the zener's least current, and $R$ must bring both.",
    "At full load, does all of $R$'s current reach the zener?",
    step="R",
    reference=("E09",),
)
PAST_THE_BASE = Slip(
    "past-the-base",
    "R_MAX",
    Rewrite("(V_I_MIN - (V_Z - V_BE_1 - V_BE_2))/(I_B_1 + I_ZK)"),
    "$V_I - V_O$ put across the zener's resistor",
    "$R$ ends at the driver's base, which the zener holds, not at the output.",
    "Name the two nodes that $R$ joins.",
    step="R",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ starves base or zener at full load and lowest line.",
    "On which side of the bound does the zener stay fed?",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_Q_2_MAX",
    Rewrite("V_I_MAX*I_L_MAX"),
    "pass-transistor power from the whole input voltage",
    "The transistor has only $V_I - V_O$ across it.",
    "Which two nodes are collector and emitter on?",
    reference=("E12",),
)
LOW_LINE = Slip(
    "low-line",
    "P_Q_2_MAX",
    Rewrite("(V_I_MIN - (V_Z - V_BE_1 - V_BE_2))*I_L_MAX"),
    "pass-transistor power at the lowest line",
    "The transistor takes up what the line has over the output: most at the highest line.",
    "Which line leaves most voltage across the transistor?",
    reference=("E14",),
)
ZENER_FORGOTTEN = Slip(
    "zener-forgotten",
    "h_FE_1_MIN",
    Rewrite("I_L/(h_FE_2 + 1)/((V_I - V_Z)/R) - 1"),
    "the zener's current given to the base",
    "The zener must keep its least current; only the rest may go to the driver's base.",
    "Who else takes a share of $I_R$?",
)
PASS_FORGOTTEN = Slip(
    "pass-forgotten",
    "h_FE_1_MIN",
    Rewrite("I_L/((V_I - V_Z)/R - I_ZK) - 1"),
    "the gain of the pass transistor left out",
    "The driver has to give only the base current of the pass transistor.",
    "Which current flows out of the driver's emitter?",
)
SATURATION_ONLY = Slip(
    "saturation-only",
    "V_I_MIN",
    Rewrite("V_Z - V_BE_1 - V_BE_2 + V_CE_SAT"),
    "headroom checked for saturation only",
    "Before the pass transistor saturates, $R$ fails to bring base and zener their current.",
    "Which gives out first: the transistor or its base drive?",
    reference=("E15",),
)
NO_BASE_CURRENT = Slip(
    "no-base-current",
    "V_I_MIN",
    Rewrite("V_Z + R*I_ZK"),
    "the base current left out",
    "At the lowest line $R$ must still bring the driver's base its share as well.",
    "What two currents must $R$ carry at the limit?",
)

FAMILY = Family(
    title="A Darlington pair as pass transistor",
    about="A driver feeds the base of the pass transistor, so that the zener has only the load current divided by both "
    "gains to spare. The price is a second junction, and with it a second junction's drift.",
    lesson="series",
    circuit="darlington",
    assume={"base-current": "exact"},
    scenarios=(
        "The lamp of a lighthouse museum is fed through a pair of transistors that a small zener steers.",
        "A pottery's kiln fan draws more than one transistor's base could be fed for.",
        "The winding motor of a tower clock runs from a regulated rail in the belfry.",
        "An ice rink's goal light is supplied through a Darlington pair behind the boards.",
        "A dairy's stirrer is fed from a raw supply that sags when the cooler starts.",
        "The heater of a moth trap is held at its voltage by a zener and two transistors.",
        "A ferry's cabin lamps share one regulated rail with a pair as its pass transistor.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="Two junctions and two gains",
            draws=(
                ZENER,
                *JUNCTIONS,
                Pick("I_L", LOADS),
                Pick("h_FE_1", (30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 100.0)),
                Pick("h_FE_2", (15.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0)),
            ),
            given=("V_Z", "V_BE_1", "V_BE_2", "I_L", "h_FE_1", "h_FE_2"),
            labels=LABELS,
            data="The zener holds the driver's base at {V_Z}, and the load draws {I_L}. The driver has a gain of "
            "{h_FE_1}, the pass transistor one of {h_FE_2}.",
            ask="Find the output voltage and the base currents of pass transistor and driver.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_B_2", "the base current of the pass transistor"),
                Find("I_B_1", "the base current of the driver"),
            ),
            slips=(ONE_JUNCTION, ADDED, PLAIN_GAIN, GAINS_ADDED, ONE_GAIN),
            back=(BackLine("Both gains back to the load", "I_B_1*(h_FE_1 + 1)*(h_FE_2 + 1)", "I_L"),),
            band={"V_Z": 0.05, "V_BE_1": 0.1, "V_BE_2": 0.1, "h_FE_1": 0.3, "h_FE_2": 0.3},
            bench="both junctions drift with temperature, and the output with the two of them together",
        ),
        Level(
            about="Design: the zener's resistor for every pair of transistors, and the heat",
            draws=(
                ZENER,
                *JUNCTIONS,
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                Pick("h_FE_1_MIN", (30.0, 40.0, 50.0)),
                Pick("h_FE_1_MAX", (120.0, 150.0, 200.0)),
                Pick("h_FE_2_MIN", (15.0, 18.0, 20.0, 25.0)),
                Pick("h_FE_2_MAX", (60.0, 70.0, 80.0, 100.0)),
                Pick("I_ZK", (0.001, 0.002, 0.003, 0.005)),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_Z", "P_ZM", "V_BE_1", "V_BE_2", "I_L_MIN", "I_L_MAX", "h_FE_1_MIN",
                "h_FE_1_MAX", "h_FE_2_MIN", "h_FE_2_MAX", "I_ZK", "tol_R",
            ),
            ranges=("V_I", "I_L", "h_FE_1", "h_FE_2"),
            labels=LABELS,
            data="Its raw supply lies between {V_I_MIN} and {V_I_MAX}; the load draws up to {I_L_MAX} or is unplugged.",
            ask="Find the output, both bounds on the zener's resistor for every pair of transistors, choose an E24 "
            "value whose whole tolerance fits, and find the greatest power in the pass transistor.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                FindBound("R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener"),
                FindBound("R", "P_Z <= P_ZM", "the least $R$ that keeps the zener within its rating"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least current",
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_Q_2", Extreme.GREATEST, "the greatest power in the pass transistor"),
            ),
            require=(
                "V_I_MIN >= V_Z + 2", "V_I_MAX <= 2*V_O", "V_O <= 15", "P_Q_2_MAX <= 30",
                "I_L_MAX/((h_FE_1_MIN + 1)*(h_FE_2_MIN + 1)) >= 0.3*I_ZK",
            ),
            slips=(
                ONE_JUNCTION, KIND_GAINS, LOAD_THROUGH_R, BASE_LEFT_OUT, PAST_THE_BASE, ROUNDED_UP, WHOLE_INPUT,
                LOW_LINE,
            ),
            checks=(
                CheckLine(
                    "Starving corner, $R$ at the top of its tolerance", "I_Z >= I_ZK", {"R": "R*(1 + tol_R)"}
                ),
                CheckLine(
                    "Load unplugged, $R$ at the bottom of its tolerance", "P_Z <= P_ZM",
                    {"R": "R*(1 - tol_R)", "I_L": "0"},
                ),
            ),
            band={"V_Z": 0.05},
            bench="a leak of the pass transistor lifts an unloaded output; a resistor from its base to its emitter "
            "holds it down",
        ),
        Level(
            about="Backwards: the least gain of a driver, and the lowest line",
            draws=(
                Pick("V_I", tuple(float(volts) for volts in range(12, 31))),
                Pick("R", values_between(330, 3300, Series.E12)),
                ZENER,
                *JUNCTIONS,
                Pick("I_L", LOADS),
                Pick("I_ZK", (0.001, 0.002, 0.003, 0.005)),
                Pick("h_FE_2", (15.0, 18.0, 20.0, 25.0, 30.0, 40.0)),
                Pick("h_FE_1", (30.0, 40.0, 50.0, 60.0, 75.0, 100.0)),
                Pick("V_CE_SAT", (0.5, 0.8, 1.0)),
            ),
            given=("V_I", "R", "V_Z", "V_BE_1", "V_BE_2", "I_L", "I_ZK", "h_FE_2", "h_FE_1", "V_CE_SAT"),
            labels={**LABELS, "h_FE_1": "current gain of the driver fitted"},
            data="The raw supply is {V_I} and the load draws {I_L}; the zener ({V_Z}) is fed through {R}. The pass "
            "transistor has a gain of {h_FE_2}.",
            ask="Find the output, the least gain of a driver with which the zener still regulates at this line, and "
            "the lowest line for the driver fitted.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                FindBound("h_FE_1", "I_Z >= I_ZK", "the least gain of a driver that leaves the zener its current"),
                FindBound("V_I", "I_Z >= I_ZK", "the lowest line for the driver fitted"),
            ),
            require=(
                "V_I >= V_Z + 2", "V_I <= 2*V_O", "V_O <= 15", "h_FE_1 >= 1.1*h_FE_1_MIN", "h_FE_1_MIN >= 15",
                "V_I >= 1.03*V_I_MIN", "h_FE_1_MIN <= 100",
            ),
            slips=(ONE_JUNCTION, ADDED, ZENER_FORGOTTEN, PASS_FORGOTTEN, SATURATION_ONLY, NO_BASE_CURRENT),
            checks=(CheckLine("At the lowest line the zener has its least", "I_Z >= I_ZK", {"V_I": "V_I_MIN"}),),
            band={"V_Z": 0.05},
            bench="gain falls at low temperature and at high current; leave half as much again",
        ),
    ),
)  # fmt: skip
