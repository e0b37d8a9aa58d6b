"""The three-terminal regulator: fixed as it comes, then adjustable, its output and its least load by two resistors."""

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

PIN = tuple(microamperes * 1e-6 for microamperes in (40, 45, 50, 55, 60, 75, 80, 100))
NEEDS = (0.002, 0.0025, 0.003, 0.0035, 0.004)
DROPS = (1.7, 2.0, 2.2, 2.5, 3.0)
LABELS = {
    "V_REG": "output of the regulator",
    "I_Q": "current out of its ground pin",
    "V_REF_MIN": "lowest reference of the type",
    "V_REF_MAX": "highest reference of the type",
    "I_ADJ": "current out of the adjust pin",
    "V_DROP": "drop-out voltage",
    "I_REG_MIN": "least current out of the regulator at which it regulates",
    "I_DIV_MAX": "greatest current that the resistors may take",
    "tol_R": "tolerance of the resistors",
    "V_O_MIN": "lowest output allowed",
    "V_O_MAX": "highest output allowed",
}

NO_DROP = Slip(
    "output-alone",
    "V_I_MIN",
    Rewrite("V_REG"),
    "the drop-out voltage left out",
    "The regulator needs its drop-out voltage over the output, or the output follows the line down.",
    "How much must stand between input and output?",
)
WHOLE_INPUT_FIXED = Slip(
    "whole-input",
    "P_D",
    Rewrite("V_I*I_I"),
    "the whole input voltage put across the regulator",
    "That is all that is drawn; a part of it reaches the load.",
    "Which two nodes are its input and its output on?",
)
LOAD_POWER_FIXED = Slip(
    "load-power",
    "P_D",
    Rewrite("V_O*I_L"),
    "the load's power given for the regulator's",
    "Power in a part is its own voltage times its own current.",
    "What voltage stands across the regulator?",
)
EFFICIENCY_TURNED = Slip(
    "loss-for-efficiency",
    "eta",
    Rewrite("P_D/(V_I*I_I)"),
    "the share that is lost given for the efficiency",
    "Efficiency is the share of what is drawn that reaches the load.",
    "Which of the two powers is the useful one?",
)
DROP_LEFT_OUT = Slip(
    "no-headroom",
    "V_I_MIN",
    Rewrite("V_REF_MAX*(1 + R_2/R_1) + I_ADJ*R_2"),
    "the drop-out voltage left out",
    "The regulator needs its drop-out voltage over the output, or the output follows the line down.",
    "How much must stand between input and output?",
)
LOW_REFERENCE = Slip(
    "low-reference",
    "V_I_MIN",
    Rewrite("V_REF_MIN*(1 + R_2/R_1) + I_ADJ*R_2 + V_DROP"),
    "the lowest reference used for the headroom",
    "The highest reference makes the highest output, and that needs the highest line.",
    "Which sample of the type stands highest at its output?",
)
OWN_LOAD_FORGOTTEN = Slip(
    "divider-forgotten",
    "I_L_MIN",
    Rewrite("I_REG_MIN"),
    "the current of the resistors forgotten",
    "What flows down the two resistors comes out of the regulator as well and counts towards its least current.",
    "Write the current law at the output node.",
)
HIGH_REFERENCE = Slip(
    "high-reference",
    "I_L_MIN",
    Swap("V_REF", "V_REF_MAX"),
    "the highest reference used for the least load",
    "The lowest reference drives least current through the upper resistor, and leaves most for the load to draw.",
    "Which reference helps least?",
    step="I_DIV",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_D_MAX",
    Rewrite("V_I*I_REG"),
    "the whole input voltage put across the regulator",
    "The regulator has only the difference between input and output across it.",
    "Which two nodes are its input and its output on?",
)
LOAD_POWER = Slip(
    "load-power",
    "P_D_MAX",
    Rewrite("V_O*I_L"),
    "the load's power given for the regulator's",
    "Power in a part is its own voltage times its own current.",
    "What voltage stands across the regulator?",
)
NOMINAL_FEEDS = Slip(
    "high-reference-feeds",
    "R_1_MAX",
    Swap("V_REF", "V_REF_MAX"),
    "the highest reference used for the least load",
    "The lowest reference drives least current through the upper resistor; such a regulator may be fitted.",
    "Which reference drives least current through $R_1$?",
    step="R_1",
)
WHOLE_OUTPUT = Slip(
    "whole-output",
    "R_1_MAX",
    Rewrite("V_O_MAX/I_REG_MIN"),
    "the whole output put across the upper resistor",
    "Between output and adjust pin stands the reference, whatever the output is.",
    "What voltage does the regulator hold across $R_1$?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R_1",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R_1$ takes too little current, and with the load unplugged the output creeps up.",
    "On which side of the bound does the regulator keep its least load?",
    reference=("F11",),
)
LOW_FOR_HIGH = Slip(
    "low-reference-at-the-top",
    "R_2_MAX",
    Swap("V_REF", "V_REF_MIN"),
    "the lowest reference used for the highest output",
    "The highest reference lifts the output most, and sets the largest lower resistor.",
    "Which sample breaks the upper limit first?",
    step="R_2",
)
REFERENCE_KEPT = Slip(
    "reference-not-taken-off",
    "R_2_MIN",
    Rewrite("V_O_MIN/(V_REF_MIN/(R_1*(1 + tol_R)) + I_ADJ)"),
    "the whole output put across the lower resistor",
    "The reference stands across the upper resistor; only the rest is left for the lower one.",
    "Which voltages add up to the output?",
)

FAMILY = Family(
    title="The three-terminal regulator, fixed and programmed",
    about="A regulator of three pins wants headroom and makes heat of what is left over. The adjustable one holds its "
    "reference across the upper of two resistors; the current this makes flows on through the lower one and sets the "
    "output, and keeps the regulator alive when nothing else is drawn.",
    lesson="series",
    edition=2,  # level 1 is about the fixed regulator now
    circuit="three-terminal",
    assume={"pin-current": "exact"},
    scenarios=(
        "A pottery's glaze mixer has its speed control on a rail made with a three-terminal regulator.",
        "A seismograph in a cellar vault draws its ink pens' supply from a three-terminal regulator.",
        "The lamps of a slide library's light table are held steady by a regulator of three pins.",
        "A wind gauge on a breakwater is fed by a regulator in a cast box at the foot of its mast.",
        "A cider press's level sensor runs from an adjustable regulator beside the pump switch.",
        "A bat counter under a bridge takes its rail from a regulator under the parapet.",
        "A cable car's mid-station telephone has a small regulated supply of its own.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="As it comes: what it draws, what it needs, what it makes of the rest",
            form="fixed",
            draws=(
                PickPart(
                    "three-terminal", {"V_REG": "V_REG", "I_Q": "I_Q", "V_DROP": "V_DROP"}, (("V_REG", 5.0, 18.0),)
                ),
                Pick("V_I", tuple(half / 2 for half in range(15, 61))),
                Pick("I_L", (0.05, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8)),
            ),
            given=("V_I", "V_REG", "I_Q", "V_DROP", "I_L"),
            labels=LABELS,
            data="The regulator is made for one output, {V_REG}. The supply stands at {V_I}, and the load draws {I_L}.",
            ask="Find the lowest line, the current drawn from the supply, the power in the regulator, and the "
            "efficiency.",
            asks=(
                FindBound("V_I", "V_IO >= V_DROP", "the lowest line"),
                Find("I_I", "the current $I_I$ drawn from the supply"),
                Find("P_D", "the power $P_D$ in the regulator"),
                Find("eta", "the efficiency"),
            ),
            require=("V_I >= 1.05*V_I_MIN", "V_I <= 2.5*V_REG", "P_D <= 10"),
            slips=(NO_DROP, WHOLE_INPUT_FIXED, LOAD_POWER_FIXED, EFFICIENCY_TURNED),
            checks=(CheckLine("Headroom", "V_IO >= V_DROP"),),
            back=(BackLine("What is drawn, less what the load has", "V_I*I_I*(1 - eta)", "P_D"),),
            bench="the drop-out voltage of a data sheet is typical, and grows with the current: leave a volt more",
        ),
        Level(
            about="Every sample of the type: output, least load, lowest line and heat",
            form="adjustable",
            draws=(
                Pick("V_REF_MIN", (1.2, 1.22)),
                Pick("V_REF_MAX", (1.28, 1.3)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("I_REG_MIN", (0.005, 0.006, 0.008, 0.01)),
                Pick("R_1", values_between(180, 470, Series.E24)),
                Pick("R_2", values_between(560, 5100, Series.E24)),
                Pick("V_I", tuple(float(volts) for volts in range(8, 36))),
                Pick("I_L", (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.75, 1.0)),
            ),
            given=("V_I", "V_REF_MIN", "V_REF_MAX", "I_ADJ", "V_DROP", "I_REG_MIN", "R_1", "R_2", "I_L"),
            ranges=("V_REF",),
            labels=LABELS,
            data="Its upper resistor is {R_1}, its lower one {R_2}. The supply stands at {V_I} and the load draws "
            "{I_L}. References of the type lie between {V_REF_MIN} and {V_REF_MAX}.",
            ask="For every sample of the type find the lowest and the highest output, the least load that must be "
            "kept, the lowest line, and the greatest power in the regulator.",
            asks=(
                FindExtreme("V_O", Extreme.LEAST, "the lowest output"),
                FindExtreme("V_O", Extreme.GREATEST, "the highest output"),
                FindBound("I_L", "I_REG >= I_REG_MIN", "the least load that keeps every sample regulating"),
                FindBound("V_I", "V_IO >= V_DROP", "the lowest line"),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
            ),
            require=(
                "V_O_MIN >= 4", "V_I >= 1.03*V_I_MIN", "I_L_MIN >= 0.0005", "I_L >= I_L_MIN", "P_D_MAX <= 15",
            ),
            slips=(
                OWN_LOAD_FORGOTTEN, HIGH_REFERENCE, DROP_LEFT_OUT, LOW_REFERENCE, WHOLE_INPUT, LOAD_POWER,
            ),
            checks=(
                CheckLine("Headroom at the highest output", "V_IO >= V_DROP"),
                CheckLine("Least current at this load", "I_REG >= I_REG_MIN"),
            ),
            band={"R_1": 0.01, "R_2": 0.01},
            bench="below its least current the regulator does not stop, but its output creeps upwards",
        ),
        Level(
            about="Design: both resistors, the regulator its own least load, checked at every corner",
            form="adjustable",
            draws=(
                Pick("V_O_NOM", (6.0, 7.5, 9.0, 10.0, 12.0, 13.5, 15.0, 16.0, 18.0)),
                Pick("band", (0.06, 0.07, 0.08)),
                Work("V_O_MIN", "V_O_NOM*(1 - band)", 3),
                Work("V_O_MAX", "V_O_NOM*(1 + band)", 3),
                Pick("V_REF_MIN", (1.2, 1.22)),
                Pick("V_REF_MAX", (1.28, 1.3)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("I_REG_MIN", NEEDS),
                Pick("I_DIV_MAX", (0.004, 0.0045, 0.005)),
                Pick("tol_R", (0.01,)),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 57))),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L", (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.75, 1.0)),
            ),
            given=(
                "V_O_MIN", "V_O_MAX", "V_I_MIN", "V_I_MAX", "I_L", "V_REF_MIN", "V_REF_MAX", "I_ADJ", "V_DROP",
                "I_REG_MIN", "I_DIV_MAX", "tol_R",
            ),
            ranges=("V_I", "V_REF"),
            labels=LABELS,
            data="An output between {V_O_MIN} and {V_O_MAX} is wanted from a supply between {V_I_MIN} and {V_I_MAX}, "
            "for a load of {I_L} that may be unplugged. Whatever sample of the type is fitted, the two resistors "
            "alone are to keep it regulating, and to take no more than {I_DIV_MAX}.",
            ask="Choose the upper resistor from the E24 and the lower one from the E96 values, and find the greatest "
            "power in the regulator.",
            asks=(
                FindBound(
                    "R_1", "I_REG >= I_REG_MIN", "the largest $R_1$ that keeps the regulator alive by itself",
                    at={"I_L": "0"},
                ),
                FindBound(
                    "R_1", "I_DIV <= I_DIV_MAX", "the least $R_1$ that takes no more than allowed", at={"I_L": "0"},
                ),
                Choose(
                    "R_1",
                    Series.E24,
                    "an E24 value for $R_1$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least",
                    low="R_1_MIN",
                    high="R_1_MAX",
                    tolerance="tol_R",
                ),
                FindBound(
                    "R_2", "V_O >= V_O_MIN", "the least $R_2$ that keeps every output up",
                    at={"R_1": "R_1*(1 + tol_R)"},
                ),
                FindBound(
                    "R_2", "V_O <= V_O_MAX", "the largest $R_2$ that keeps every output down",
                    at={"R_1": "R_1*(1 - tol_R)"},
                ),
                Choose(
                    "R_2",
                    Series.E96,
                    "an E96 value for $R_2$ whose tolerance band lies between the bounds",
                    Prefer.SMALLEST,
                    "the smallest value that fits keeps the output lowest and leaves the regulator most headroom",
                    low="R_2_MIN",
                    high="R_2_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
            ),
            require=("V_I_MIN >= V_O_MAX + V_DROP", "V_I_MAX <= 35", "P_D_MAX <= 15"),
            slips=(NOMINAL_FEEDS, WHOLE_OUTPUT, ROUNDED_UP, REFERENCE_KEPT, LOW_FOR_HIGH, WHOLE_INPUT, LOAD_POWER),
            checks=(
                CheckLine("Load unplugged, $R_1$ at the top of its tolerance", "I_REG >= I_REG_MIN",
                          {"R_1": "R_1*(1 + tol_R)", "I_L": "0"}),
                CheckLine("Lowest output", "V_O >= V_O_MIN",
                          {"R_1": "R_1*(1 + tol_R)", "R_2": "R_2*(1 - tol_R)"}),
                CheckLine("Highest output", "V_O <= V_O_MAX",
                          {"R_1": "R_1*(1 - tol_R)", "R_2": "R_2*(1 + tol_R)"}),
                CheckLine("Headroom at lowest line and highest output", "V_IO >= V_DROP",
                          {"R_1": "R_1*(1 - tol_R)", "R_2": "R_2*(1 + tol_R)"}),
            ),
            bench="most samples lie near the middle of the reference's band, and the output near its own",
        ),
    ),
)  # fmt: skip
