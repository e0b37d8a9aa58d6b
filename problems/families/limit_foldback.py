"""A limit that folds back: knee, short circuit, the heat between them, and the resistors that set both."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Extreme,
    Family,
    Find,
    FindExtreme,
    Level,
    Pick,
    Prefer,
    Rewrite,
    Slip,
    Work,
)
from tutor.quantities.preferred import Series, values_between

OUTPUTS = (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 13.5, 14.0, 15.0)
LINES = tuple(half / 2 for half in range(18, 57))
JUNCTIONS = Pick("V_BE_2", (0.6, 0.65, 0.7))
LOWER = Pick("R_B", (680.0, 820.0, 1000.0, 1200.0, 1500.0))
UPPER = Pick("R_A", values_between(47, 390, Series.E24))
SENSE = Pick("R_SENSE", values_between(0.68, 6.8, Series.E24))
LABELS = {
    "V_I": "supply",
    "V_KNEE": "output at the knee, where the limit begins",
    "V_O_MIN": "output when it is shorted",
    "V_O_MAX": "output at the knee, where the limit begins",
    "V_BE_2": "base-emitter voltage at which the limiter opens",
    "R_SENSE": "sense resistor",
    "R_A": "upper resistor, from the pass emitter to the limiter's base",
    "R_B": "lower resistor, from the limiter's base to ground",
    "I_KNEE_NOM": "current wanted at the knee",
    "I_SC_NOM": "current wanted into a short",
    "P_QM": "most that the pass transistor can bear on its heat-sink",
}

NO_OUTPUT_TERM = Slip(
    "no-output-term",
    "I_KNEE",
    Rewrite("V_BE_2*(1 + R_A/R_B)/R_SENSE"),
    "the output's share left out at the knee",
    "At the knee the output is there in full, and the divider takes a share of it off the limiter's junction.",
    "Is the output at zero or at its full value at the knee?",
    reference=("C07",),
)
SAME_IN_A_SHORT = Slip(
    "same-in-a-short",
    "I_SC",
    Rewrite("I_KNEE"),
    "the current at the knee taken into the short",
    "As the output falls, so does what the divider takes off the junction, and the limit comes down with it.",
    "What does the divider take off when the output is at zero?",
    reference=("C06",),
)
NO_DIVIDER = Slip(
    "no-divider",
    "I_SC",
    Rewrite("V_BE_2/R_SENSE"),
    "the divider left out in a short",
    "The limiter's base is on the tap, so the sense resistor must bring a little more than one junction.",
    "Where does the limiter's base lie?",
)
OUTPUT_STILL_THERE = Slip(
    "output-still-there",
    "P_Q_1",
    Rewrite("(V_I - V_KNEE)*I_SC"),
    "the output thought to be there still",
    "Shorted, the output is at zero, and the pass transistor has nearly the whole supply across it.",
    "What is the output voltage when the output is shorted?",
    reference=("C03",),
)
SHORT_ALONE = Slip(
    "short-alone",
    "P_Q_1_MAX",
    Rewrite("(V_I - V_BE_2*(1 + R_A/R_B))*V_BE_2*(1 + R_A/R_B)/R_SENSE"),
    "the short circuit taken for the worst",
    "On the way down the current falls and the voltage rises; their product is greatest before the short.",
    "Half way down, how much voltage and how much current has the pass transistor?",
)
PLAIN_SENSE = Slip(
    "plain-sense",
    "R_SENSE_NOM",
    Rewrite("V_BE_2/I_KNEE"),
    "the sense resistor of a limit without foldback",
    "With the divider the sense resistor must bring more than a junction at the knee, so it is larger.",
    "What stands across the sense resistor at the knee, besides the junction?",
)
SHORT_SENSE = Slip(
    "short-sense",
    "R_SENSE_NOM",
    Rewrite("V_BE_2/I_SC"),
    "the divider left out in a short",
    "The limiter's base is on the tap, and the divider asks for a little more than a junction even in a short.",
    "Where does the limiter's base lie?",
)

FAMILY = Family(
    title="A limit that folds back",
    about="A divider takes a share of the output off the limiter's junction. The limit is high while the output is "
    "there and comes down with it, so that a short costs little; the worst lies in between.",
    lesson="series",
    circuit="foldback",
    assume={"base-current": "neglected", "limiter-current": "neglected"},
    scenarios=(
        "A telephone exchange in a museum feeds its lines from a rail that visitors may short.",
        "The cable of a diver's lamp is limited so that a cut costs no more than a fuse.",
        "A workshop's soldering stand has a rail whose clips touch one another now and then.",
        "A circus feeds its ring lamps over cables that elephants step on.",
        "The depth sounder of a survey boat hangs on a plug that gets wet.",
        "A school's experiment trolley has terminals at which wires are bridged every lesson.",
        "The supply of a vineyard's frost sensors must bear rows of shorted wires overnight.",
    ),
    cautions=("hot-parts", "output", "live-tab"),
    levels=(
        Level(
            about="Knee, short circuit, and the heat of a shorted output",
            regions=("limiting",),
            draws=(Pick("V_I", LINES), Pick("V_KNEE", OUTPUTS), JUNCTIONS, SENSE, UPPER, LOWER),
            given=("V_I", "V_KNEE", "V_BE_2", "R_SENSE", "R_A", "R_B"),
            labels=LABELS,
            data="A regulator on {V_I} still has {V_KNEE} at its output where its limit begins. Its limiter opens at "
            "{V_BE_2}; the sense resistor is {R_SENSE}, the divider {R_A} above and {R_B} below.",
            ask="Find the current at the knee, the current into a short, and the power in the pass transistor with the "
            "output shorted.",
            asks=(
                Find("I_KNEE", "the load current at the knee"),
                Find("I_SC", "the current into a short"),
                Find("P_Q_1", "the power in the pass transistor, output shorted", at={"V_O": "0"}),
            ),
            require=(
                "V_I >= V_KNEE + 3", "V_I <= 2.2*V_KNEE", "I_KNEE >= 0.4", "I_KNEE <= 2", "I_SC <= 0.5*I_KNEE",
                "I_SC >= 0.05*I_KNEE",
            ),
            slips=(NO_OUTPUT_TERM, SAME_IN_A_SHORT, NO_DIVIDER, OUTPUT_STILL_THERE),
            back=(BackLine("What the output adds from short to knee", "(I_KNEE - I_SC)*R_SENSE*R_B/R_A", "V_KNEE"),),
            band={"V_BE_2": 0.08},
            bench="the limiter opens gently, and a hot one earlier: knee and short move by some per cent",
        ),
        Level(
            about="The worst on the way down: a summit between short circuit and knee",
            regions=("limiting",),
            draws=(
                Pick("V_I", LINES), Pick("V_O_MIN", (0.0,)), Pick("V_O_MAX", OUTPUTS), JUNCTIONS, SENSE, UPPER, LOWER,
            ),
            given=("V_I", "V_O_MIN", "V_O_MAX", "V_BE_2", "R_SENSE", "R_A", "R_B"),
            ranges=("V_O",),
            labels=LABELS,
            data="A regulator on {V_I} is drawn down by its load from {V_O_MAX}, where its limit begins, to {V_O_MIN}. "
            "The limiter opens at {V_BE_2}; the sense resistor is {R_SENSE}, the divider {R_A} above and {R_B} below.",
            ask="Find the current at the knee, the current into a short, and the greatest power in the pass transistor "
            "on the way from one to the other.",
            asks=(
                Find("I_KNEE", "the load current at the knee", at={"V_KNEE": "V_O_MAX"}),
                Find("I_SC", "the current into a short"),
                FindExtreme("P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor on the way down"),
            ),
            require=(
                "V_I >= V_O_MAX + 3", "V_I <= 2.2*V_O_MAX", "I_KNEE >= 0.4", "I_KNEE <= 2", "I_SC <= 0.5*I_KNEE",
                "I_SC >= 0.05*I_KNEE",
            ),
            slips=(SAME_IN_A_SHORT, NO_DIVIDER, SHORT_ALONE),
            back=(BackLine("What the output adds from short to knee", "(I_KNEE - I_SC)*R_SENSE*R_B/R_A", "V_O_MAX"),),
            band={"V_BE_2": 0.08},
            bench="pull the output down with a variable load, not with a wire, and watch the heat on the way",
        ),
        Level(
            about="Design: sense resistor and divider for a knee and a short circuit",
            regions=("limiting",),
            draws=(
                Pick("V_I", LINES),
                Pick("V_KNEE", OUTPUTS),
                Pick("V_O_MIN", (0.0,)),
                Work("V_O_MAX", "V_KNEE"),
                JUNCTIONS,
                Pick("I_KNEE_NOM", (0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0)),
                Pick("share", (0.15, 0.2, 0.25, 0.3, 0.4, 0.5)),
                Work("I_SC_NOM", "share*I_KNEE_NOM"),
                LOWER,
                Pick("P_QM", (5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0)),
            ),
            given=("V_I", "V_KNEE", "V_O_MIN", "V_O_MAX", "V_BE_2", "I_KNEE_NOM", "I_SC_NOM", "R_B", "P_QM"),
            ranges=("V_O",),
            labels=LABELS,
            data="A regulator on {V_I} is to limit at {I_KNEE_NOM}, where it still has {V_KNEE}, and to let {I_SC_NOM} "
            "into a short. Its limiter opens at {V_BE_2}, and the lower resistor of the divider is {R_B}. The pass "
            "transistor can bear {P_QM}.",
            ask="Find and choose the sense resistor and the upper resistor of the divider from the E24 values, find "
            "the current into a short with both, and the greatest power in the pass transistor on the way down to it.",
            asks=(
                Find(
                    "R_SENSE", "the sense resistor that would give both currents", key="R_SENSE_NOM",
                    at={"I_KNEE": "I_KNEE_NOM", "I_SC": "I_SC_NOM"},
                ),
                Choose(
                    "R_SENSE", Series.E24, "the nearest E24 value", Prefer.NEAREST,
                    "the nearest value misses both currents least", near="R_SENSE_NOM",
                ),
                Find(
                    "R_A", "the upper resistor that puts the knee where it is wanted", key="R_A_NOM",
                    at={"I_KNEE": "I_KNEE_NOM"},
                ),
                Choose(
                    "R_A", Series.E24, "the nearest E24 value", Prefer.NEAREST,
                    "the nearest value misses the knee least", near="R_A_NOM",
                ),
                Find("I_SC", "the current into a short with both"),
                FindExtreme("P_Q_1", Extreme.GREATEST, "the greatest power in the pass transistor on the way down"),
            ),
            require=("V_I >= V_KNEE + 3", "V_I <= 2.2*V_KNEE", "R_A <= 0.5*R_B", "R_A >= 22"),
            slips=(PLAIN_SENSE, SHORT_SENSE, SHORT_ALONE),
            checks=(CheckLine("On the whole way down", "P_Q_1 <= P_QM"),),
            band={"V_BE_2": 0.08},
            bench="a load that holds its current may keep such a supply from starting: check that it comes up",
        ),
    ),
)  # fmt: skip
