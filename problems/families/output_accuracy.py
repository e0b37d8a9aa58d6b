"""How exact an output is that two resistors make: shares of the parts, the worst case, root-sum-square."""

from tutor.generate.family import (
    CheckLine,
    Demand,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    Rewrite,
    Slip,
    Swap,
    TellVerdict,
    Verdict,
    Work,
)
from tutor.quantities.preferred import Series, values_between

PIN = tuple(microamperes * 1e-6 for microamperes in (40, 45, 50, 55, 60, 75, 80, 100))
DROPS = (1.7, 2.0, 2.2, 2.5, 3.0)
LINES = tuple(float(volts) for volts in range(8, 33))
LABELS = {
    "V_REF": "reference, between output and adjust pin",
    "tol_REF": "tolerance of the reference",
    "tol_R": "tolerance of the resistors",
    "I_ADJ": "current out of the adjust pin",
    "V_DROP": "drop-out voltage",
    "V_REG_MIN": "lowest output of the type by itself",
    "V_REG_MAX": "highest output of the type by itself",
    "I_Q_MIN": "least current out of the ground pin",
    "I_Q_MAX": "greatest current out of the ground pin",
    "R_1_MIN": "least value of the upper resistor",
    "R_1_MAX": "greatest value of the upper resistor",
    "R_2_MIN": "least value of the lower resistor",
    "R_2_MAX": "greatest value of the lower resistor",
    "E_WC_MAX": "greatest error of the output in the worst case, either way",
}

REFERENCE_ALONE = Slip(
    "reference-not-multiplied",
    "E_REF",
    Rewrite("tol_REF*V_REF"),
    "the reference's error not multiplied",
    "The output is the reference many times over, and so is its error.",
    "How many times over does the reference stand in the output?",
)
WHOLE_OUTPUT = Slip(
    "share-of-the-output",
    "E_LOWER",
    Rewrite("tol_R*V_O"),
    "the resistor's tolerance taken of the whole output",
    "A resistor's error moves what stands across it; the reference stays.",
    "Of which part of the output is the lower resistor in charge?",
)
ALIKE = Slip(
    "parts-alike",
    "E_WC",
    Rewrite("E_REF + E_LOWER - E_UPPER"),
    "both resistors moved the same way",
    "Two resistors that are high alike leave their ratio as it was; the worst is one high and one low.",
    "Which way must the upper resistor go to help the lower one lift the output?",
    reference=("N12",),
)
SQUARES = Slip(
    "squares-for-worst",
    "E_WC",
    Rewrite("sqrt(E_REF^2 + E_UPPER^2 + E_LOWER^2)"),
    "root-sum-square given for the worst case",
    "In the worst case every part is at its end; nothing is left to chance.",
    "May all parts be at their ends at once?",
)
ALIKE_HIGH = Slip(
    "parts-alike-high",
    "V_O_MAX",
    Swap("R_2/R_1", "R_2/R_1_MAX"),
    "both resistors taken high",
    "A high upper resistor takes back what a high lower one gives.",
    "Which way must the upper resistor go to lift the output?",
    reference=("N12",),
)
ALIKE_LOW = Slip(
    "parts-alike-low",
    "V_O_MIN",
    Swap("R_2/R_1", "R_2/R_1_MIN"),
    "both resistors taken low",
    "A low upper resistor takes back what a low lower one costs.",
    "Which way must the upper resistor go to lower the output?",
    reference=("N12",),
)
PIN_FORGOTTEN = Slip(
    "pin-forgotten",
    "V_O_MAX",
    Rewrite("V_REG*(1 + R_2/R_1)"),
    "the pin's current left out",
    "A fixed regulator's own milliamperes flow down the lower resistor too, and put volts across it.",
    "What flows in the lower resistor besides the current of the upper one?",
)
DROP_FORGOTTEN = Slip(
    "no-headroom",
    "V_I_MIN",
    Rewrite("V_O_MAX"),
    "the drop-out voltage left out",
    "The regulator needs its drop-out voltage over the highest output.",
    "How much must stand between input and output?",
)
LOWEST_OUTPUT = Slip(
    "lowest-output",
    "V_I_MIN",
    Rewrite("V_O_MIN + V_DROP"),
    "the lowest output used for the headroom",
    "The sample with the highest output needs the highest line.",
    "Which sample asks for most?",
)
ONE_RESISTOR = Slip(
    "one-resistor",
    "tol_R_MAX",
    Rewrite("(E_WC_MAX - E_REF)/(V_O - V_REF)"),
    "one resistor given all that is left",
    "Two resistors share what the reference leaves.",
    "How many parts have this tolerance?",
)
OF_THE_OUTPUT = Slip(
    "left-of-the-output",
    "tol_R_MAX",
    Rewrite("(E_WC_MAX - E_REF)/V_O"),
    "what is left taken as a share of the output",
    "The resistors rule the part of the output that stands across the lower one, and each of them rules it.",
    "What part of the output moves with the resistors?",
)
STRAIGHT_SUM = Slip(
    "straight-sum",
    "E_RSS",
    Rewrite("E_WC_MAX"),
    "the straight sum given for root-sum-square",
    "Independent errors add by their squares, and come to less than their sum.",
    "How do errors add that know nothing of each other?",
)

FAMILY = Family(
    title="How exact an output is",
    about="The reference's tolerance is multiplied like the reference itself; each resistor rules what stands across "
    "the lower one. The worst case adds them all, root-sum-square what is to be expected of many units.",
    lesson="series",
    circuit="three-terminal",
    assume={"pin-current": "exact"},
    scenarios=(
        "A chronograph's light gate is set to a voltage that its maker wants to promise on the label.",
        "The rail of a fermenting tank's pH meter goes into its calibration sheet.",
        "A batch of a hundred beehive scales is to leave the workshop without being trimmed.",
        "The lamp of a colour-matching booth must have the same voltage in every shop.",
        "A repeater on a ridge is to be exchanged without anybody turning a screw.",
        "The strain-gauge bridge of a crane's load cell is fed from a regulator with two resistors.",
        "A museum copies a guard's lamp supply for forty halls from one drawing.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The share of each part, and their worst sum",
            form="adjustable",
            draws=(
                Pick("V_I", LINES),
                Pick("V_REF", (1.25,)),
                Pick("tol_REF", (0.01, 0.015, 0.02, 0.03, 0.04, 0.05)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("R_1", values_between(120, 470, Series.E24)),
                Pick("R_2", values_between(360, 5100, Series.E24)),
                Pick("tol_R", (0.005, 0.01, 0.02, 0.05)),
            ),
            given=("V_I", "V_REF", "tol_REF", "I_ADJ", "V_DROP", "R_1", "R_2", "tol_R"),
            labels=LABELS,
            data="Its reference of {V_REF} is good to {tol_REF}; the upper resistor is {R_1}, the lower one {R_2}, "
            "both to {tol_R}. The supply stands at {V_I}.",
            ask="Find the output, what each tolerance makes of it, the worst case, and which part matters most.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("E_REF", "the error that the reference makes"),
                Find("E_UPPER", "the error that the upper resistor makes"),
                Find("E_LOWER", "the error that the lower resistor makes"),
                Find("E_WC", "the error in the worst case"),
                TellVerdict(
                    "which part matters most",
                    (Demand("the reference against the lower resistor", "E_REF >= E_LOWER"),),
                    (
                        Verdict("the reference matters most", meets=("E_REF >= E_LOWER",)),
                        Verdict("a resistor matters most", misses=("E_REF >= E_LOWER",)),
                    ),
                    "The larger of two shares tells which part to buy better.",
                    apart=0.05,
                ),
            ),
            require=("V_O >= 3", "V_O <= 24", "V_I <= 3*V_O"),
            slips=(REFERENCE_ALONE, WHOLE_OUTPUT, ALIKE, SQUARES),
            checks=(CheckLine("Headroom", "V_IO >= V_DROP"),),
            bench="the adjust pin's current spreads as well, but through some kilo-ohms it counts for millivolts",
        ),
        Level(
            about="A fixed regulator raised: the corners of every part, the pin's current too",
            form="raised",
            draws=(
                Pick("V_I", tuple(half / 2 for half in range(18, 65))),
                Pick("V_REG", (5.0, 6.0, 8.0, 9.0, 12.0)),
                Pick("tol_REF", (0.02, 0.03, 0.04, 0.05)),
                Work("V_REG_MIN", "V_REG*(1 - tol_REF)", 3),
                Work("V_REG_MAX", "V_REG*(1 + tol_REF)", 3),
                Pick("I_Q_MIN", (0.003, 0.0035, 0.004, 0.0045)),
                Pick("I_Q_MAX", (0.006, 0.007, 0.008)),
                Pick("V_DROP", (2.0, 2.2, 2.5)),
                Pick("upper", values_between(150, 1000, Series.E24)),
                Pick("lower", values_between(100, 1000, Series.E24)),
                Pick("spread", (0.02, 0.05)),
                Work("R_1_MIN", "upper*(1 - spread)"),
                Work("R_1_MAX", "upper*(1 + spread)"),
                Work("R_2_MIN", "lower*(1 - spread)"),
                Work("R_2_MAX", "lower*(1 + spread)"),
            ),
            given=(
                "V_I", "V_REG_MIN", "V_REG_MAX", "I_Q_MIN", "I_Q_MAX", "V_DROP", "R_1_MIN", "R_1_MAX", "R_2_MIN",
                "R_2_MAX",
            ),
            ranges=("V_REG", "I_Q", "R_1", "R_2"),
            labels=LABELS,
            data="A fixed regulator of {V_REG_MIN} to {V_REG_MAX} is raised by two resistors, {R_1_MIN} to {R_1_MAX} "
            "above and {R_2_MIN} to {R_2_MAX} below its ground pin; out of that pin flow {I_Q_MIN} to {I_Q_MAX}. The "
            "supply stands at {V_I}.",
            ask="Find the lowest and the highest output over every part, and the lowest line that serves.",
            asks=(
                FindExtreme("V_O", Extreme.LEAST, "the lowest output"),
                FindExtreme("V_O", Extreme.GREATEST, "the highest output"),
                FindBound("V_I", "V_IO >= V_DROP", "the lowest line"),
            ),
            require=("V_O_MAX <= 26", "V_I >= 1.03*V_I_MIN", "V_I <= 2*V_I_MIN", "R_2_MAX <= 2*R_1_MAX"),
            slips=(ALIKE_LOW, ALIKE_HIGH, PIN_FORGOTTEN, DROP_FORGOTTEN, LOWEST_OUTPUT),
            checks=(CheckLine("Headroom at the highest output", "V_IO >= V_DROP"),),
            bench="the ground pin's current moves with line, load and temperature too; that is why an adjustable "
            "regulator, with its few microamperes, is the better one to raise",
        ),
        Level(
            about="Backwards: how good the resistors must be, and what is to be expected of many units",
            form="adjustable",
            draws=(
                Pick("V_I", LINES),
                Pick("V_REF", (1.25,)),
                Pick("tol_REF", (0.01, 0.015, 0.02, 0.025, 0.03)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("R_1", values_between(120, 470, Series.E24)),
                Pick("R_2", values_between(560, 5100, Series.E24)),
                Pick("more", (0.01, 0.015, 0.02, 0.025, 0.03, 0.04, 0.05)),
                Work("E_WC_MAX", "(tol_REF + more)*(V_REF*(1 + R_2/R_1) + I_ADJ*R_2)", 2),
            ),
            given=("V_I", "V_REF", "tol_REF", "I_ADJ", "V_DROP", "R_1", "R_2", "E_WC_MAX"),
            labels=LABELS,
            data="Its reference of {V_REF} is good to {tol_REF}; the upper resistor is {R_1}, the lower one {R_2}, and "
            "the supply stands at {V_I}. The output may be off by {E_WC_MAX} at most, either way, in the worst case.",
            ask="Find the output, the error that the reference makes, the widest tolerance that both resistors may "
            "have, and the root-sum-square error with such resistors.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("E_REF", "the error that the reference makes"),
                FindBound("tol_R", "E_WC <= E_WC_MAX", "the widest tolerance of the resistors"),
                Find("E_RSS", "the root-sum-square error with such resistors", at={"tol_R": "tol_R_MAX"}),
            ),
            require=("V_O >= 4", "V_O <= 24", "V_I <= 3*V_O", "tol_R_MAX >= 0.002", "tol_R_MAX <= 0.05"),
            slips=(REFERENCE_ALONE, ONE_RESISTOR, OF_THE_OUTPUT, STRAIGHT_SUM),
            checks=(
                CheckLine("Headroom", "V_IO >= V_DROP"),
                CheckLine("Worst case with such resistors", "E_WC <= E_WC_MAX", {"tol_R": "tol_R_MAX"}),
            ),
            bench="root-sum-square speaks of many units whose parts know nothing of each other; parts of one reel "
            "often lie on one side",
        ),
    ),
)  # fmt: skip
