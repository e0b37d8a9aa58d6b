"""Every current of the emitter follower; at level 3 the least gain and the lowest line it can live with."""

from tutor.generate.family import Family, Find, FindBound, Level, Pick, PickPart, Rewrite, Slip, Swap
from tutor.quantities.preferred import Series, values_between

ZENER = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 5.1, 15.0), ("P_ZM", 1.0, 1.0)))
GAIN = (50.0, 60.0, 75.0, 80.0, 100.0, 120.0, 150.0)
JUNCTION = Pick("V_BE", (0.7,))
LABELS = {
    "V_BE": "base-emitter voltage",
    "h_FE": "current gain",
    "V_Z": "zener voltage (straight characteristic)",
    "I_ZK": "least zener current for good regulation",
}

ADDED = Slip(
    "junction-added",
    "V_O",
    Rewrite("V_Z + V_BE"),
    "$V_BE$ added",
    "From the base down to the emitter of an NPN the voltage falls by one junction.",
    "Walk from base to emitter: up or down?",
    reference=("E01",),
)
NO_JUNCTION = Slip(
    "junction-left-out",
    "V_O",
    Rewrite("V_Z"),
    "$V_BE$ left out",
    "The output is the emitter, one junction below the base that the zener holds.",
    "Which node is the output: base or emitter?",
    reference=("E02",),
)
MULTIPLIED = Slip(
    "gain-multiplies",
    "I_B",
    Rewrite("I_L*h_FE"),
    "multiplied by the gain",
    "The base current is the small one: the load current divided by the gain and one.",
    "Which of the transistor's currents is smallest?",
    reference=("E05",),
)
BASE_IS_LOAD = Slip(
    "base-is-load",
    "I_B",
    Rewrite("I_L"),
    "the load current taken for the base current",
    "The transistor carries the load; its base needs only the share that the gain leaves.",
    "What does the transistor take off the zener's feed?",
)
PAST_THE_BASE = Slip(
    "past-the-base",
    "I_R",
    Rewrite("(V_I - V_O)/R"),
    "$V_I - V_O$ put across the zener's resistor",
    "$R$ ends at the base node, which the zener holds; the output is one junction lower.",
    "Name the two nodes that $R$ joins.",
    reference=("E10",),
)
BASE_ADDED = Slip(
    "load-from-feed",
    "I_Z",
    Swap("I_B", "I_L"),
    "the whole load current taken from the feed",
    "The load comes through the transistor; only the base current is taken from what $R$ brings.",
    "By which way does the load current come?",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_Q",
    Rewrite("V_I*I_L"),
    "pass-transistor power from the whole input voltage",
    "The transistor has only $V_I - V_O$ across it.",
    "Which two nodes are collector and emitter on?",
    reference=("E12",),
)
LOAD_POWER = Slip(
    "load-power",
    "P_Q",
    Rewrite("V_O*I_L"),
    "the load's power given for the transistor's",
    "Power in a part is its own voltage times its own current.",
    "What voltage stands across the transistor?",
    reference=("E13",),
)

FAMILY = Family(
    title="State of an emitter-follower regulator",
    about="The zener holds the base, the output sits one junction lower, and the load's current comes back to the base "
    "divided by the gain.",
    lesson="series",
    circuit="follower",
    assume={"base-current": "exact"},
    edition=2,  # level 3 asks for the zener current, too
    scenarios=(
        "A planetarium's star lamp is fed through a follower so that it does not fade with the mains.",
        "The motor of a barograph's drum runs from a follower in the weather hut.",
        "A puppet theatre's spotlight has a small series regulator in its stand.",
        "An incubator for quail eggs feeds its controller through a pass transistor.",
        "A harbour pilot's radio charger holds its output with a zener and a transistor.",
        "A glass-blower's bench lamp is run from a follower behind the workshop supply.",
        "The bell board of a signal box is fed by a transistor whose base a zener holds.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="Output, load and base current",
            draws=(
                ZENER,
                JUNCTION,
                Pick("R_L", values_between(22, 1000, Series.E12)),
                Pick("h_FE", GAIN),
            ),
            given=("V_Z", "V_BE", "R_L", "h_FE"),
            labels=LABELS,
            data="The zener holds the base at {V_Z}, and the load is {R_L}.",
            ask="Find the output voltage, the load current and the base current.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_L", "the load current $I_L$"),
                Find("I_B", "the base current $I_B$"),
            ),
            require=("I_L <= 1",),
            slips=(ADDED, NO_JUNCTION, MULTIPLIED, BASE_IS_LOAD),
            band={"V_Z": 0.05, "V_BE": 0.1, "h_FE": 0.3},
            bench="$V_BE$ creeps from some 0.6 V at a few milliamperes to 0.8 V and more near an ampere",
        ),
        Level(
            about="Every current, and the heat in the pass transistor",
            draws=(
                Pick("V_I", tuple(float(volts) for volts in range(12, 31))),
                Pick("R", values_between(100, 820, Series.E12)),
                ZENER,
                JUNCTION,
                Pick("R_L", values_between(22, 1000, Series.E12)),
                Pick("h_FE", GAIN),
            ),
            given=("V_I", "R", "V_Z", "V_BE", "R_L", "h_FE"),
            labels=LABELS,
            data="The raw supply is {V_I}, the zener {V_Z} fed through {R}, and the load {R_L}.",
            ask="Find the output, every current on the way, and the power in the pass transistor.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_L", "the load current $I_L$"),
                Find("I_B", "the base current $I_B$"),
                Find("I_R", "the current $I_R$ through the zener's resistor"),
                Find("I_Z", "the zener current $I_Z$"),
                Find("P_Q", "the power $P_Q$ in the pass transistor"),
            ),
            require=("V_I >= V_Z + 3", "I_Z >= 0.003", "I_Z*V_Z <= 0.8", "P_Q <= 15", "I_L <= 1"),
            slips=(ADDED, NO_JUNCTION, MULTIPLIED, PAST_THE_BASE, BASE_ADDED, WHOLE_INPUT, LOAD_POWER),
            band={"V_Z": 0.05, "V_BE": 0.1, "h_FE": 0.3},
            bench="the gain of one type spreads two to one and more; the base current spreads with it, the output "
            "hardly",
        ),
        Level(
            about="Backwards: the least gain, and the lowest line",
            draws=(
                Pick("V_I", tuple(float(volts) for volts in range(12, 31))),
                Pick("R", values_between(100, 820, Series.E12)),
                ZENER,
                JUNCTION,
                Pick("I_L", (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0)),
                Pick("I_ZK", (0.002, 0.003, 0.005)),
                Pick("h_FE", GAIN),
                Pick("V_CE_SAT", (0.2, 0.3, 0.5)),
            ),
            given=("V_I", "R", "V_Z", "V_BE", "I_L", "I_ZK", "h_FE", "V_CE_SAT"),
            labels={**LABELS, "h_FE": "current gain of the transistor fitted"},
            data="The raw supply is {V_I} and the load draws {I_L}; the zener ({V_Z}) is fed through {R}.",
            ask="Find the least current gain with which the zener still regulates at this line; then, for the "
            "transistor fitted, the zener current and the lowest line.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_R", "the current $I_R$ through the zener's resistor"),
                FindBound("h_FE", "I_Z >= I_ZK", "the least gain that leaves the zener its current"),
                Find("I_Z", "the zener current with the transistor fitted"),
                FindBound("V_I", "I_Z >= I_ZK", "the lowest line for the transistor fitted"),
            ),
            require=("V_I >= V_Z + 3", "h_FE >= 1.1*h_FE_MIN", "h_FE_MIN >= 10", "I_R <= 0.1", "V_I >= 1.03*V_I_MIN"),
            slips=(
                ADDED,
                NO_JUNCTION,
                PAST_THE_BASE,
                Slip(
                    "zener-forgotten",
                    "h_FE_MIN",
                    Rewrite("I_L/((V_I - V_Z)/R) - 1"),
                    "the zener's current given to the base",
                    "The zener must keep its least current; only the rest may go to the base.",
                    "Who else takes a share of $I_R$?",
                ),
                Slip(
                    "saturation-only",
                    "V_I_MIN",
                    Rewrite("V_Z - V_BE + V_CE_SAT"),
                    "headroom checked for saturation only",
                    "Before the transistor saturates, $R$ fails to bring base and zener their current.",
                    "Which gives out first: the transistor or its base drive?",
                    reference=("E15",),
                ),
                Slip(
                    "no-base-current",
                    "V_I_MIN",
                    Rewrite("V_Z + R*I_ZK"),
                    "the base current left out",
                    "At the lowest line $R$ must still bring the base its share as well.",
                    "What two currents must $R$ carry at the limit?",
                    reference=("E09",),
                ),
            ),
            band={"V_Z": 0.05, "V_BE": 0.1},
            bench="gain falls at low temperature and at high current; leave half as much again",
        ),
    ),
)
