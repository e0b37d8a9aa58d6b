"""The zener's slope: where its voltage really is, what line and load changes reach the output, and R_OUT."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Extreme,
    Family,
    Find,
    FindExtreme,
    Level,
    Pick,
    PickPart,
    Rewrite,
    Slip,
    Swap,
    Turn,
    Work,
)
from tutor.quantities.preferred import Series, values_between

TEST_POINT = {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z"}
LABELS = {
    "V_ZT": "zener voltage at the test current",
    "I_ZT": "test current",
    "r_z": "slope of the zener",
    "DV_I": "rise of the line",
    "DI_L": "rise of the load current",
    "V_Z_1": "zener voltage, first reading",
    "I_Z_1": "zener current, first reading",
    "V_Z_2": "zener voltage, second reading",
    "I_Z_2": "zener current, second reading",
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
}

WRONG_WAY = Slip(
    "slope-wrong-way",
    "V_Z",
    Rewrite("V_ZT - r_z*(I_Z - I_ZT)"),
    "the slope taken the wrong way",
    "More current means a little more voltage: the line leans upwards.",
    "Does the breakdown voltage rise or fall as current rises?",
    reference=("S26",),
)
LEFT_OUT = Slip(
    "slope-left-out",
    "V_Z",
    Rewrite("V_ZT"),
    "the slope left out",
    "$V_ZT$ holds at the test current alone; away from it the slope adds or takes away.",
    "Is the zener at its test current here?",
)
FROM_ZERO = Slip(
    "test-as-zero",
    "V_Z",
    Rewrite("V_ZT + r_z*I_Z"),
    "the test voltage taken for the one at zero current",
    "$V_ZT$ already holds the drop of the test current in the slope.",
    "At what current was $V_ZT$ measured?",
)
INTERCEPT_UP = Slip(
    "intercept-above",
    "V_Z0",
    Rewrite("V_ZT + r_z*I_ZT"),
    "the intercept put above the test point",
    "Going back to zero current takes the slope's share off.",
    "Is the voltage at zero current above or below that at the test current?",
)
UPSIDE_DOWN = Slip(
    "line-upside-down",
    "S_V",
    Rewrite("R/(R + r_z)"),
    "the divider turned upside down",
    "The output is taken across the zener, the small arm: it moves by $r_z/(R + r_z)$ of the line's change.",
    "Should the output move more or less than the input?",
    reference=("S17",),
)
SERIES_NOT_PARALLEL = Slip(
    "series-not-parallel",
    "R_OUT",
    Rewrite("R + r_z"),
    "$R$ and $r_z$ added",
    "Seen from the output the two lead to fixed voltages side by side, so they are in parallel.",
    "Hold the supply still and look back from the output: how many ways are there to ground?",
    reference=("S18",),
)

FAMILY = Family(
    edition=2,
    title="The slope of the zener",
    about="A real breakdown line leans. The lean sets how far line and load changes reach the output, and the output "
    "resistance.",
    lesson="shunt",
    circuit="zener-shunt",
    assume={"load-slope": "thevenin"},
    scenarios=(
        "A reference for a home-made thermometer is to be steady to the last digit.",
        "A chess clock's flicker is traced to the zener that feeds its display.",
        "A wind vane's position sensor is fed from a zener, and its reading creeps with the supply.",
        "A balance in a spice shop drifts when its lamp comes on, and the zener supply is suspected.",
        "A metronome's pitch bends when its lamp flashes; its oscillator runs from a zener.",
        "A seismograph made by a school club needs its bridge voltage to stand still.",
    ),
    cautions=("hot-parts", "output"),
    levels=(
        Level(
            about="The straight line through the test point",
            draws=(
                PickPart("zeners-1n5200", {**TEST_POINT, "P_ZM": "P_ZM"}),
                Pick("I_Z", tuple(half / 2000 for half in range(1, 161))),
            ),
            given=("V_ZT", "I_ZT", "r_z", "I_Z"),
            labels=LABELS,
            data="Its zener is specified as {V_ZT} at {I_ZT} with a slope of {r_z}; here it carries {I_Z}.",
            ask="Find the voltage at which the line meets zero current, and the zener voltage at the current it "
            "carries.",
            asks=(
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                Find("V_Z", "the zener voltage $V_Z$ at this current"),
            ),
            require=("I_Z*V_ZT <= 0.8*P_ZM", "V_Z <= 1.25*V_ZT"),
            slips=(WRONG_WAY, LEFT_OUT, FROM_ZERO, INTERCEPT_UP),
            back=(BackLine("The test point comes back", "V_Z0 + r_z*I_ZT", "V_ZT"),),
            band={"V_ZT": 0.05, "r_z": 0.2},
            bench="near the knee the line bends down and the true voltage is below this one",
        ),
        Level(
            about="In the circuit: where it settles, and how much of a line change reaches the output",
            draws=(
                PickPart("zeners", {**TEST_POINT, "true_P": "P_ZM"}, (("V_Z", 5.1, 15.0), ("r_z", 4.0, 40.0))),
                Pick("V_I", tuple(float(volts) for volts in range(9, 29))),
                Pick("R", values_between(82, 1000, Series.E12)),
                Pick("I_L", tuple(milliamps / 1000 for milliamps in (2, 4, 5, 6, 8, 10, 15))),
                Pick("DV_I", (1.0, 1.5, 2.0, 3.0)),
            ),
            given=("V_I", "R", "V_ZT", "I_ZT", "r_z", "I_L", "DV_I"),
            labels=LABELS,
            data="The line is {V_I}, the series resistor {R}, the load {I_L}, and the zener is specified as {V_ZT} at "
            "{I_ZT} with a slope of {r_z}. Then the line rises by {DV_I}.",
            ask="Find where the zener settles, the output voltage, and how far the output follows the line.",
            asks=(
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                Find("I_Z", "the zener current $I_Z$"),
                Find("V_O", "the output voltage $V_O$"),
                Find("S_V", "the sensitivity $S_V$ of the output to the line"),
                Find("DV_O", "the change of the output as the line rises"),
            ),
            require=("V_I >= 1.3*V_ZT", "I_Z >= 0.003", "I_Z*V_O <= 0.8*true_P", "V_O >= 5"),
            slips=(
                INTERCEPT_UP,
                Slip(
                    "load-added",
                    "I_Z",
                    Rewrite("(V_I - V_Z0 + R*I_L)/(R + r_z)"),
                    "load current added where it is taken away",
                    "The load takes its share of what $R$ brings; the zener has the rest.",
                    "Does the zener carry more or less when the load draws current?",
                    reference=("S21",),
                ),
                UPSIDE_DOWN,
                Slip(
                    "whole-change",
                    "DV_O",
                    Rewrite("DV_I"),
                    "the whole line change given to the output",
                    "Most of the change stays across $R$; only the zener's small arm passes its share on.",
                    "What is the regulator there for?",
                ),
            ),
            band={"V_ZT": 0.05, "r_z": 0.3},
            bench="the slope quoted in a data sheet holds at the test current; at smaller currents it is larger, and "
            "so "
            "is the change",
        ),
        Level(
            about="Slope from two readings, output resistance, and the whole band of the output",
            draws=(
                PickPart(
                    "zeners",
                    {"true_V": "V_Z", "true_I": "I_ZT", "true_r": "r_z", "I_ZK": "I_ZK", "P_ZM": "P_ZM"},
                    (("V_Z", 5.1, 15.0), ("r_z", 4.0, 30.0)),
                ),
                Pick("I_Z_1", (0.01, 0.012, 0.015, 0.02)),
                Pick("I_Z_2", (0.035, 0.04, 0.05, 0.06)),
                Work("V_Z_1", "true_V + true_r*(I_Z_1 - true_I)", 4),
                Work("V_Z_2", "true_V + true_r*(I_Z_2 - true_I)", 4),
                Pick("R", values_between(82, 680, Series.E12)),
                Pick("V_I_MIN", tuple(float(volts) for volts in range(9, 27))),
                Pick("spread", (2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0, 0.002, 0.005)),
                Pick("I_L_MAX", (0.015, 0.02, 0.025, 0.03, 0.04)),
                Work("DI_L", "I_L_MAX - I_L_MIN"),
            ),
            given=(
                "V_Z_1",
                "I_Z_1",
                "V_Z_2",
                "I_Z_2",
                "R",
                "V_I_MIN",
                "V_I_MAX",
                "I_L_MIN",
                "I_L_MAX",
                "DI_L",
                "I_ZK",
                "P_ZM",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data="Its zener reads {V_Z_1} at {I_Z_1} and {V_Z_2} at {I_Z_2}. It is fed through {R} from a line between "
            "{V_I_MIN} and {V_I_MAX}; the load draws between {I_L_MIN} and {I_L_MAX}.",
            ask="Find the slope, the output resistance, the change from lightest to fullest load, and the lowest and "
            "highest output over every corner.",
            asks=(
                Find("r_z", "the slope $r_z$ from the two readings"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                Find("R_OUT", "the output resistance $R_OUT$"),
                Find("DV_O", "the change of the output from the lightest to the fullest load"),
                FindExtreme("V_O", Extreme.LEAST, "the lowest output"),
                FindExtreme("V_O", Extreme.GREATEST, "the highest output"),
            ),
            require=("V_I_MIN >= 1.3*V_Z_2", "V_O_MIN >= 5"),
            slips=(
                Slip(
                    "static-resistance",
                    "r_z",
                    Rewrite("V_Z_2/I_Z_2"),
                    "voltage over current at one reading",
                    "The slope is the change of voltage over the change of current.",
                    "How much does the voltage rise when the current rises?",
                ),
                SERIES_NOT_PARALLEL,
                Slip(
                    "load-raises",
                    "DV_O",
                    Turn("R_OUT*DI_L"),
                    "the sign of the change turned",
                    "More load current leaves the zener less, and the output sinks.",
                    "Does an output rise or sink when more is drawn from it?",
                ),
                Slip(
                    "light-load-lowest",
                    "V_O_MIN",
                    Swap("I_L", "I_L_MIN"),
                    "the lightest load used for the lowest output",
                    "The output is lowest where the zener carries least: at full load.",
                    "At which corner does the zener carry least?",
                    step="I_Z",
                ),
            ),
            checks=(
                CheckLine("Starving corner", "I_Z >= I_ZK"),
                CheckLine("Hottest corner", "P_Z <= P_ZM"),
            ),
            band={"V_Z_1": 0.002, "V_Z_2": 0.002},
            bench="two voltages this near each other make the slope uncertain; warm parts drift by more than the "
            "line moves them",
        ),
    ),
)
