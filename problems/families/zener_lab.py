"""From the bench: a zener's line fitted to readings, and the load line of the circuit laid over it."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Family,
    Find,
    FindBound,
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

SMALL = (0.005, 0.006, 0.008, 0.01, 0.012, 0.015)
LARGE = (0.025, 0.03, 0.035, 0.04, 0.05, 0.06)
TRUE_ZENER = PickPart(
    "zeners",
    {"true_V": "V_Z", "true_I": "I_ZT", "true_r": "r_z"},
    (("V_Z", 3.3, 15.0), ("r_z", 5.0, 40.0)),
)
AT_LOWEST = {"V_I": "V_I_MIN", "r_z": "r_z", "V_Z0": "V_Z0"}
AT_CROSSING = {"I_Z": "I_Z_MIN", "r_z": "r_z", "V_Z0": "V_Z0"}
LABELS = {
    "V_Z_1": "zener voltage, first reading",
    "I_Z_1": "zener current, first reading",
    "V_Z_2": "zener voltage, second reading",
    "I_Z_2": "zener current, second reading",
    "V_I_1": "supply voltage, first reading",
    "V_O_1": "output voltage, first reading",
    "V_I_2": "supply voltage, second reading",
    "V_O_2": "output voltage, second reading",
    "I_L": "load current",
    "I_L_1": "load current, first reading",
    "I_L_2": "load current, second reading",
    "I_Z_3": "zener current of the third reading, to be foretold",
    "I_ZK": "least zener current on the straight part",
    "I_ZM": "greatest permissible zener current",
}

STATIC = Slip(
    "static-resistance",
    "r_z",
    Rewrite("V_Z_2/I_Z_2"),
    "voltage over current at one reading",
    "The slope is the change of voltage over the change of current.",
    "How much does the voltage rise when the current rises?",
)
ONE_CHANGE = Slip(
    "one-change",
    "r_z",
    Rewrite("(V_Z_2 - V_Z_1)/I_Z_2"),
    "the change of voltage divided by one current",
    "Both readings are on the line, so both differences belong in the slope.",
    "By how much did the current change between the readings?",
)
INTERCEPT_UP = Slip(
    "intercept-above",
    "V_Z0",
    Rewrite("V_Z_1 + r_z*I_Z_1"),
    "the intercept put above the reading",
    "Going back to zero current takes the slope's share off.",
    "Is the voltage at zero current above or below that at the reading?",
)
READING_KEPT = Slip(
    "reading-kept",
    "V_Z_3",
    Rewrite("V_Z_2"),
    "the nearest reading kept",
    "Between and beyond the readings the voltage follows the slope.",
    "Does the zener's voltage stay as the current changes?",
)
SLOPE_ALONE = Slip(
    "slope-alone",
    "V_Z_3",
    Rewrite("V_Z_2 + r_z*I_Z_3"),
    "the whole current's drop added to a reading",
    "A reading already holds the drop of its own current; only the change of current adds.",
    "From which current to which do you go along the slope?",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "I_Z_1",
    Rewrite("V_I_1/R"),
    "the whole supply voltage put across $R$",
    "$R$ ends at the output, where the second meter stood.",
    "Which two nodes does $R$ join?",
)
OUTPUT_OVER_R = Slip(
    "output-over-R",
    "I_Z_2",
    Rewrite("V_O_2/R"),
    "the output voltage put across $R$",
    "The output stands across the zener; across $R$ stands the rest of the supply.",
    "Which two nodes does $R$ join?",
)
SUPPLY_CHANGE = Slip(
    "supply-change",
    "r_z",
    Rewrite("(V_I_2 - V_I_1)/(I_Z_2 - I_Z_1)"),
    "the change of the supply taken for that of the zener",
    "That is $R$ and the slope together; the zener's own voltage changed far less.",
    "Which meter stood across the zener?",
)
LOAD_FORGOTTEN = Slip(
    "load-forgotten",
    "I_Z_MIN",
    Rewrite("(V_I - V_Z0)/(R + r_z)"),
    "the load left out of the load line",
    "The load takes part of what $R$ brings, and moves the load line towards the origin.",
    "With the zener taken out, does the load still draw current through $R$?",
)
NO_KNEE = Slip(
    "no-knee-current",
    "R_MAX",
    Rewrite("(V_I - V_Z)/I_L"),
    "the zener's least current left out",
    "$R$ carries the load and the current that keeps the zener on the straight part of its line.",
    "Who besides the load needs current through $R$?",
    reference=("S01",),
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ moves the crossing down past the knee.",
    "On which side of the bound does the zener stay on its straight part?",
)

FAMILY = Family(
    title="A zener measured on the bench",
    edition=2,  # what is to be foretold is the third reading, V_Z_3: V_Z alone may stand at any reading
    about="Two readings fix the straight part of a zener's line. The circuit's own load line says where on it the "
    "zener will stand.",
    lesson="shunt",
    circuit="zener-shunt",
    scenarios=(
        "A drawer of unmarked zeners is sorted in a school's workshop, one by one.",
        "An evening class plots a zener's line with two meters and a bench supply.",
        "A collector of old calculators measures a zener before he trusts it again.",
        "A surveyor's level has a zener whose print has worn off.",
        "A first-year group measures a zener, and every pair gets a different one.",
        "A seller of surplus parts labels a bag of zeners from measurements.",
        "A watchmaker checks the zener of an electric master clock outside its case.",
    ),
    cautions=("hot-parts", "capacitors"),
    levels=(
        Level(
            about="Slope and intercept from two readings, and a third point foretold",
            draws=(
                TRUE_ZENER,
                Pick("I_Z_1", SMALL),
                Pick("I_Z_2", LARGE),
                Work("V_Z_1", "true_V + true_r*(I_Z_1 - true_I)", 4),
                Work("V_Z_2", "true_V + true_r*(I_Z_2 - true_I)", 4),
                Pick("I_Z_3", (0.018, 0.02, 0.022, 0.065, 0.07, 0.08, 0.09)),
            ),
            given=("V_Z_1", "I_Z_1", "V_Z_2", "I_Z_2", "I_Z_3"),
            labels=LABELS,
            data="A zener reads {V_Z_1} at {I_Z_1} and {V_Z_2} at {I_Z_2}. What will it read at {I_Z_3}?",
            ask="Fit its straight line, and foretell the third reading.",
            asks=(
                Find("r_z", "the slope $r_z$ from the two readings"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                Find("V_Z_3", "the zener voltage $V_Z_3$ at the third current"),
            ),
            require=("V_Z_2 - V_Z_1 >= 0.1", "I_Z_3*V_Z_2 <= 0.8"),
            slips=(STATIC, ONE_CHANGE, INTERCEPT_UP, READING_KEPT, SLOPE_ALONE),
            back=(BackLine("The second reading comes back", "V_Z0 + r_z*I_Z_2", "V_Z_2"),),
            band={"V_Z_1": 0.002, "V_Z_2": 0.002},
            bench="a zener warms up while it is measured, and its voltage creeps; read quickly, or wait",
        ),
        Level(
            about="In the circuit: the zener's current is what flows through the resistor",
            draws=(
                TRUE_ZENER,
                Pick("R", values_between(100, 680, Series.E12)),
                Pick("true_1", SMALL),
                Pick("true_2", LARGE),
                Work("V_O_1", "true_V + true_r*(true_1 - true_I)", 4),
                Work("V_O_2", "true_V + true_r*(true_2 - true_I)", 4),
                Work("V_I_1", "V_O_1 + R*true_1", 4),
                Work("V_I_2", "V_O_2 + R*true_2", 4),
                Pick("I_L_1", (0.0,)),
                Pick("I_L_2", (0.0,)),
            ),
            given=("R", "V_I_1", "V_O_1", "I_L_1", "V_I_2", "V_O_2", "I_L_2"),
            labels=LABELS,
            data="Nothing is connected to the output. With {R} before the zener, the supply is set to {V_I_1} and the "
            "output reads {V_O_1}; then it is set to {V_I_2} and the output reads {V_O_2}.",
            ask="Find the zener current at both readings, and from them the straight line of the zener.",
            asks=(
                Find("I_Z_1", "the zener current at the first reading"),
                Find("I_Z_2", "the zener current at the second reading"),
                Find("r_z", "the slope $r_z$"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
            ),
            require=("V_O_2 - V_O_1 >= 0.1", "V_I_2 <= 42", "true_2*V_O_2 <= 0.8"),
            slips=(WHOLE_INPUT, OUTPUT_OVER_R, SUPPLY_CHANGE, STATIC),
            back=(BackLine("The second output comes back", "V_Z0 + r_z*I_Z_2", "V_O_2"),),
            band={"R": 0.01, "V_O_1": 0.001, "V_O_2": 0.001},
            bench="measure the resistor too: its tolerance goes straight into both currents",
        ),
        Level(
            about="The load line over the fitted line, and a resistor that keeps clear of the knee",
            draws=(
                TRUE_ZENER,
                Pick("I_Z_1", SMALL),
                Pick("I_Z_2", LARGE),
                Work("V_Z_1", "true_V + true_r*(I_Z_1 - true_I)", 4),
                Work("V_Z_2", "true_V + true_r*(I_Z_2 - true_I)", 4),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 55))),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L", tuple(milliamps / 1000 for milliamps in (4, 5, 6, 8, 10, 12, 15, 18, 20))),
                Pick("I_ZK", (0.002, 0.003, 0.004, 0.005)),
                Pick("I_ZM", (0.05, 0.06, 0.07, 0.08)),
            ),
            given=("V_Z_1", "I_Z_1", "V_Z_2", "I_Z_2", "V_I_MIN", "V_I_MAX", "I_L", "I_ZK", "I_ZM"),
            ranges=("V_I",),
            labels=LABELS,
            data="A zener reads {V_Z_1} at {I_Z_1} and {V_Z_2} at {I_Z_2}; below {I_ZK} its line bends, and it may "
            "carry {I_ZM}. It is to hold the output for a load of {I_L} on a line between {V_I_MIN} and "
            "{V_I_MAX}, and to bear the load unplugged.",
            ask="Fit its straight line, choose an E12 resistor that keeps it clear of the knee, and find where it "
            "then stands at the lowest line.",
            asks=(
                Find("r_z", "the slope $r_z$ from the two readings"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                FindBound(
                    "R",
                    "I_Z >= I_ZK",
                    "the largest $R$ that keeps the zener clear of the knee",
                    at={"r_z": "r_z", "V_Z0": "V_Z0"},
                ),
                FindBound(
                    "R",
                    "I_Z <= I_ZM",
                    "the least $R$ that spares the zener with the load unplugged",
                    at={"r_z": "r_z", "V_Z0": "V_Z0", "I_L": "0"},
                ),
                Choose(
                    "R",
                    Series.E12,
                    "an E12 value for $R$",
                    Prefer.LARGEST,
                    "the largest value that fits wastes least",
                    low="R_MIN",
                    high="R_MAX",
                ),
                Find("I_Z", "where the two lines cross at the lowest line", key="I_Z_MIN", at=AT_LOWEST),
                Find("V_O", "the output voltage there", key="V_O_MIN", at=AT_CROSSING),
            ),
            require=(
                "V_I_MIN >= 1.25*V_Z_2",
                "V_Z_2 - V_Z_1 >= 0.1",
                "I_ZK >= 0.15*I_L",
                "V_I_MAX <= 42",
                "I_Z_2 <= I_ZM",
            ),
            slips=(STATIC, INTERCEPT_UP, NO_KNEE, ROUNDED_UP, LOAD_FORGOTTEN),
            checks=(
                CheckLine("Clear of the knee", "I_Z >= I_ZK", {"V_Z0": "V_Z0", "r_z": "r_z"}),
                CheckLine("Load unplugged", "I_Z <= I_ZM", {"V_Z0": "V_Z0", "r_z": "r_z", "I_L": "0"}),
            ),
            band={"V_Z_1": 0.002, "V_Z_2": 0.002},
            bench="a curve drawn through ten readings shows where the straight part ends; two readings do not",
        ),
    ),
)
