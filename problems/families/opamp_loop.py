"""The loop of an op-amp with a finite gain: its output resistance, what load and line do, and a design by both."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Family,
    Find,
    FindBound,
    Level,
    Pick,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

REFERENCES = (1.25, 2.5, 3.0, 3.3, 3.9, 4.7, 5.0, 5.6, 6.2)
LINES = tuple(half / 2 for half in range(20, 65))
DIVIDER = values_between(1000, 22000, Series.E12)
GAIN = (30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 100.0)
LOOP = (100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0, 800.0, 1000.0, 1500.0, 2000.0)
INSIDE = (50.0, 60.0, 75.0, 100.0, 120.0, 150.0, 200.0)
LABELS = {
    "A": "gain of the amplifier alone",
    "R_O": "output resistance of the amplifier alone",
    "V_REF": "reference",
    "R_1": "upper resistor of the divider",
    "R_2": "lower resistor of the divider",
    "h_FE": "current gain of the pass transistor",
    "I_L": "load current",
    "DI_L": "change of the load current",
    "R": "resistor from the line to the zener",
    "r_z": "slope of the zener",
    "V_Z0": "zener voltage extrapolated to no current",
    "I_ZK": "least zener current",
    "V_RIP": "ripple of the line, peak to peak",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "S_V_MAX": "greatest sensitivity to the line",
    "R_OUT_MAX": "greatest output resistance",
}
GAIN_ALONE = Slip(
    "gain-alone",
    "R_OUT",
    Rewrite("R_O/A"),
    "divided by the amplifier's gain alone",
    "Only the divider's share of a change comes back to the amplifier: divide by one and the gain times that share.",
    "How much of a change of the output reaches the amplifier's input?",
    reference=("F12",),
)
OPEN_LOOP = Slip(
    "open-loop",
    "R_OUT",
    Rewrite("R_O"),
    "the resistance of the amplifier without its loop",
    "The loop answers every fall of the output, and so makes its resistance small.",
    "What does the amplifier do when the output falls by a millivolt?",
)

DRIVEN_GAIN_ALONE = Slip(
    "gain-alone",
    "R_OUT",
    Rewrite("R_O/((h_FE + 1)*A)"),
    "divided by the amplifier's gain alone",
    "Only the divider's share of a change comes back to the amplifier: divide by one and the gain times that share.",
    "How much of a change of the output reaches the amplifier's input?",
    reference=("F12",),
)
PASS_FORGOTTEN = Slip(
    "pass-forgotten",
    "R_OUT",
    Rewrite("R_O/(1 + A*R_2/(R_1 + R_2))"),
    "the pass transistor's gain forgotten",
    "The amplifier sees only base current: a change of the load reaches it divided by $h_FE + 1$.",
    "How much of the load's change must the amplifier itself give?",
)
MULTIPLIED = Slip(
    "gain-multiplies",
    "R_OUT",
    Rewrite("R_O*(h_FE + 1)/(1 + A*R_2/(R_1 + R_2))"),
    "multiplied by the pass transistor's gain",
    "The amplifier gives only base current, so what a change of the load does to it is divided by $h_FE + 1$.",
    "Does the pass transistor make the amplifier look stiffer or softer?",
)
REFERENCE_ALONE = Slip(
    "reference-alone",
    "S_V",
    Rewrite("r_z/(R + r_z)"),
    "the reference's share taken for the output's",
    "What the line moves at the reference, the loop makes larger like the reference itself.",
    "If the reference rises by a millivolt, by how much does the output rise?",
)
SHARE_FORGOTTEN = Slip(
    "divider-forgotten",
    "R_MIN",
    Rewrite("r_z/S_V_MAX - r_z"),
    "the divider's proportion forgotten",
    "What the line moves at the reference, the loop makes larger like the reference itself.",
    "If the reference rises by a millivolt, by how much does the output rise?",
)
HIGH_LINE = Slip(
    "high-line",
    "R_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the starving corner",
    "Least current flows through the resistor at the lowest line.",
    "Which line leaves least voltage across the resistor?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger resistor starves the zener at the lowest line.",
    "On which side of the bound does the zener stay fed?",
    reference=("S14",),
)
STIFF_BY_GAIN_ALONE = Slip(
    "stiff-by-gain-alone",
    "h_FE_MIN",
    Rewrite("R_O/(A*R_OUT_MAX) - 1"),
    "divided by the amplifier's gain alone",
    "Only the divider's share of a change comes back to the amplifier: divide by one and the gain times that share.",
    "How much of a change of the output reaches the amplifier's input?",
)

FAMILY = Family(
    title="How stiff a loop is",
    about="An amplifier of finite gain needs some difference between its inputs to give any output. What the loop does "
    "not put right is what one plus the loop gain leaves of it.",
    lesson="series",
    circuit="opamp-series",
    assume={"amplifier": "finite"},
    scenarios=(
        "A reference for a school's voltmeters is buffered by an op-amp, and somebody asks how stiff it is.",
        "A soil laboratory's bridge is fed by an op-amp regulator whose stiffness decides the readings.",
        "The string gauge of a piano maker draws in pulses from a small regulator.",
        "A gem cutter's lamp is dimmed from a regulator that must not sag as the lamp warms.",
        "The pressure cells of a dam model share one regulated rail.",
        "A planetarium's slide projectors switch on one after another on a regulated rail.",
    ),
    cautions=("hot-parts", "output"),
    levels=(
        Level(
            about="Output of an op-amp alone, its output resistance, and a step of the load",
            form="direct",
            draws=(
                Pick("V_REF", REFERENCES),
                Pick("A", LOOP),
                Pick("R_O", INSIDE),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("I_L", (0.001, 0.002, 0.003, 0.005, 0.008)),
                Pick("DI_L", (0.002, 0.003, 0.004, 0.005, 0.008, 0.01)),
            ),
            given=("V_REF", "A", "R_O", "R_1", "R_2", "I_L", "DI_L"),
            labels=LABELS,
            data="An amplifier of gain {A} and output resistance {R_O} compares the tap of a divider, {R_1} above and "
            "{R_2} below, with {V_REF}. The load takes {I_L}, and then {DI_L} more.",
            ask="Find the output, the output resistance of the regulator, and by how much the output moves.",
            asks=(
                Find("V_O", "the output before the step"),
                Find("R_OUT", "the output resistance $R_OUT$"),
                Find("DV_O", "the change of the output"),
            ),
            require=("R_1 >= 0.2*R_2", "R_1 <= 5*R_2", "V_O <= 20"),
            slips=(GAIN_ALONE, OPEN_LOOP),
            back=(BackLine("The open loop comes back", "R_OUT*(1 + A*R_2/(R_1 + R_2))", "R_O"),),
            band={"R_1": 0.01, "R_2": 0.01},
            bench="the gain of an op-amp falls with frequency, and the output resistance rises as it does",
        ),
        Level(
            about="With a pass transistor and a zener: load and line",
            form="zener",
            draws=(
                Pick("A", LOOP),
                Pick("R_O", INSIDE),
                Pick("h_FE", GAIN),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("R", values_between(470, 3300, Series.E12)),
                Pick("r_z", (5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0)),
                Pick("DI_L", (0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.8, 1.0)),
                Pick("V_RIP", (0.5, 0.8, 1.0, 1.2, 1.5, 2.0)),
            ),
            given=("A", "R_O", "h_FE", "R_1", "R_2", "R", "r_z", "DI_L", "V_RIP"),
            labels=LABELS,
            data="An amplifier of gain {A} and output resistance {R_O} drives a pass transistor of gain {h_FE}; the "
            "divider has {R_1} above and {R_2} below. The reference is a zener of slope {r_z}, fed from the line "
            "through {R}. The line carries a ripple of {V_RIP}, and the load takes {DI_L} more.",
            ask="Find the output resistance and what the load's step does to the output, then the sensitivity to the "
            "line and the ripple at the output.",
            asks=(
                Find("R_OUT", "the output resistance $R_OUT$"),
                Find("DV_O", "the change of the output with the load"),
                Find("S_V", "the sensitivity to the line $S_V$"),
                Find("V_RIP_O", "the ripple at the output"),
            ),
            require=("R_1 >= 0.3*R_2", "R_1 <= 5*R_2", "A*R_2 >= 30*(R_1 + R_2)"),
            slips=(DRIVEN_GAIN_ALONE, PASS_FORGOTTEN, MULTIPLIED, REFERENCE_ALONE),
            back=(BackLine("The open loop comes back", "R_OUT*(h_FE + 1)*(1 + A*R_2/(R_1 + R_2))", "R_O"),),
            band={"R_1": 0.01, "R_2": 0.01, "r_z": 0.3},
            bench="a real amplifier lets a little of the line through by itself; its data sheet says how little",
        ),
        Level(
            about="Design: a resistor that keeps the zener fed and the line out, and a transistor that is stiff enough",
            form="zener",
            draws=(
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_Z0", (3.2, 3.8, 4.2, 4.6, 5.0, 5.5, 6.1)),
                Pick("r_z", (5.0, 8.0, 10.0, 12.0, 15.0, 20.0)),
                Pick("I_ZK", (0.001, 0.0015, 0.002, 0.003)),
                Pick("R_1", DIVIDER),
                Pick("R_2", DIVIDER),
                Pick("A", LOOP),
                Pick("R_O", INSIDE),
                Pick("S_V_MAX", (0.005, 0.008, 0.01, 0.012, 0.015, 0.02, 0.025)),
                Pick("R_OUT_MAX", (0.002, 0.003, 0.005, 0.008, 0.01, 0.015, 0.02, 0.03, 0.05)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_Z0", "r_z", "I_ZK", "R_1", "R_2", "A", "R_O", "S_V_MAX", "R_OUT_MAX",
            ),
            ranges=("V_I",),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}. The reference is a zener of {V_Z0} at no current and "
            "slope {r_z}, which is to carry {I_ZK} at least; the divider has {R_1} above and {R_2} below, the "
            "amplifier a gain of {A} and an output resistance of {R_O}. Of each volt of the line no more than "
            "{S_V_MAX} may reach the output, and the regulator's output resistance may be {R_OUT_MAX} at most.",
            ask="Choose the zener's resistor from the E24 values, find the sensitivity to the line with it, and the "
            "least current gain of the pass transistor.",
            asks=(
                FindBound("R", "I_Z >= I_ZK", "the largest resistor that keeps the zener fed"),
                FindBound("R", "S_V <= S_V_MAX", "the least resistor that keeps the line out"),
                Choose(
                    "R", Series.E24, "an E24 value for the zener's resistor", Prefer.LARGEST,
                    "the largest value that serves keeps the line out best", low="R_MIN", high="R_MAX",
                ),
                Find("S_V", "the sensitivity to the line with that resistor"),
                FindBound("h_FE", "R_OUT <= R_OUT_MAX", "the least current gain of the pass transistor"),
            ),
            require=(
                "V_I_MIN >= V_Z0*(1 + R_1/R_2) + 3", "V_I_MAX <= 2.2*V_Z0*(1 + R_1/R_2)", "V_Z0*(1 + R_1/R_2) <= 20",
                "h_FE_MIN >= 10", "h_FE_MIN <= 150", "R_MIN >= 0.2*R_MAX", "A*R_2 >= 30*(R_1 + R_2)",
                "R_1 >= 0.2*R_2",
            ),
            slips=(HIGH_LINE, SHARE_FORGOTTEN, ROUNDED_UP, STIFF_BY_GAIN_ALONE),
            checks=(
                CheckLine("The zener at the lowest line", "I_Z >= I_ZK"),
                CheckLine("The line at the output", "S_V <= S_V_MAX"),
            ),
            back=(BackLine("With that gain", "R_O/((h_FE_MIN + 1)*(1 + A*R_2/(R_1 + R_2)))", "R_OUT_MAX"),),
            band={"r_z": 0.3},
            bench="the wire from the regulator to the load soon has more resistance than this; take the divider "
            "from the load's end",
        ),
    ),
)  # fmt: skip
