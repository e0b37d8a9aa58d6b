"""What a series regulator makes of its input: heat and efficiency, and a summit of heat behind a source resistance."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    ChooseRating,
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
    Work,
)
from tutor.quantities.preferred import Series, values_between

SHELF = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
OUTPUTS = (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)
LINES = tuple(half / 2 for half in range(16, 61))
LOADS = (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
CASES = (1.0, 1.5, 1.9, 2.0, 2.5, 3.0, 4.0, 5.0)
JOINTS = (0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5)
SINKS = (1.5, 2.2, 3.5, 5.0, 8.0, 12.0)
LABELS = {
    "V_O": "output, which the regulator holds",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "V_OC": "raw supply with nothing drawn",
    "V_OC_MIN": "lowest line, with nothing drawn",
    "V_OC_MAX": "highest line, with nothing drawn",
    "R_S": "resistance of the raw supply",
    "I_L": "load current",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "V_DROP": "least voltage the regulator works with",
    "R_thJC": "thermal resistance, junction to case",
    "R_thCS": "thermal resistance, case to heat-sink",
    "R_thSA": "thermal resistance of the heat-sink to the air",
    "T_A": "temperature of the air around it",
    "P_QM": "most that the heat-sink can carry off",
    "tol_R": "tolerance of the resistor",
}

WHOLE_INPUT = Slip(
    "whole-input",
    "P_D_MAX",
    Rewrite("V_I_MAX*I_L"),
    "the power taken from the whole input voltage",
    "The regulator has only the difference of input and output across it.",
    "Between which two voltages does the load current fall in the regulator?",
    reference=("E12",),
)
LOAD_POWER = Slip(
    "load-power",
    "P_D_MAX",
    Rewrite("V_O*I_L"),
    "the load's power given for the regulator's",
    "Power in a part is its own voltage times its own current.",
    "What voltage stands across the regulator?",
    reference=("E13",),
)
LOW_LINE = Slip(
    "low-line",
    "P_D_MAX",
    Rewrite("(V_I_MIN - V_O)*I_L"),
    "the heat taken at the lowest line",
    "The regulator takes up what the line has over the output: most at the highest line.",
    "Which line leaves most voltage across the regulator?",
    reference=("E14",),
)
HEAT_SHARE = Slip(
    "heat-share",
    "eta_MIN",
    Rewrite("(V_I - V_O)/V_I"),
    "the share that is lost given for the share that is used",
    "Efficiency is what reaches the load over what is drawn.",
    "Which of the two powers is of use?",
)
LOAD_WARMS = Slip(
    "load-warms",
    "T_J_MAX",
    Rewrite("T_A + V_O*I_L*(R_thJC + R_thCS + R_thSA)"),
    "the load's power taken for what warms the regulator",
    "The load's power is given off in the load; the regulator keeps $(V_I - V_O)*I_L$.",
    "Which power stays in the regulator?",
    reference=("H08",),
)
NO_SAG = Slip(
    "no-sag",
    "P_D_MAX",
    Rewrite("(V_OC - V_O)*I_L_MAX"),
    "the sag of the raw supply left out",
    "The load current loses voltage in $R_S$ before it reaches the regulator.",
    "What is left of the open-circuit voltage when the load draws?",
)
SHARE_OF_INPUT = Slip(
    "share-of-input",
    "eta",
    Rewrite("V_O/(V_OC - I_L_MAX*R_S)"),
    "the loss in the raw supply left out of the efficiency",
    "The supply gives its current at its full open-circuit voltage; part is lost in $R_S$ already.",
    "Where does the power come from, and what is lost before the regulator?",
)
FULL_LOAD_ALONE = Slip(
    "full-load-alone",
    "R_S_MIN",
    Rewrite("(V_OC_MAX - V_O - P_QM/I_L_MAX)/I_L_MAX"),
    "the full load taken for the hottest",
    "At full load the resistor takes most of the voltage away; the regulator's heat has its summit before that.",
    "Does the regulator's heat rise all the way to the fullest load?",
    step="R_S",
)
DROP_LEFT_OUT = Slip(
    "drop-left-out",
    "R_S_MAX",
    Rewrite("(V_OC_MIN - V_O)/I_L_MAX"),
    "the regulator's own need left out",
    "Between input and output the regulator needs a least voltage to work with.",
    "May the regulator's input come down to the output itself?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R_S",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger resistor starves the regulator at the lowest line and the fullest load.",
    "On which side of the bound does the regulator still hold its output?",
)
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
)

FAMILY = Family(
    title="The heat of a series regulator",
    about="What a series regulator does not pass on it keeps as heat. At a stiff line that is most at full load; "
    "behind a resistance the voltage falls as the current rises, and the heat has a summit in between.",
    lesson="series",
    circuit="heat-path",
    assume={"pin-current": "neglected"},
    scenarios=(
        "A carillon's keyboard sensors are fed from a regulator in the tower.",
        "The lamps of a chess clock hall run on a regulated rail behind the stage.",
        "A fish ladder counts its salmon with light beams on a regulator of its own.",
        "An opera's surtitle machine has its supply in a closed rack beside the pit.",
        "The compass light of a ferry is fed through a regulator behind the wheel.",
        "A cheese cellar's humidity plant has its electronics on a wall that is never warm.",
        "A cable car's cabin telephone is supplied through a regulator under the seat.",
    ),
    cautions=("hot-parts", "live-tab", "output"),
    levels=(
        Level(
            about="Heat, efficiency and junction at a stiff line",
            form="regulator",
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0, 6.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L", LOADS),
                Pick("R_thJC", CASES),
                Pick("R_thCS", JOINTS),
                Pick("R_thSA", SINKS),
                Pick("T_A", (25.0, 30.0, 35.0, 40.0, 45.0, 50.0)),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_O", "I_L", "R_thJC", "R_thCS", "R_thSA", "T_A"),
            ranges=("V_I",),
            labels=LABELS,
            data="A regulator of {V_O} is fed from {V_I_MIN} to {V_I_MAX}, and its load draws {I_L}. It has {R_thJC} "
            "from junction to case and is mounted with {R_thCS} on a heat-sink of {R_thSA}, in air of {T_A}.",
            ask="Find the greatest power in the regulator, the hottest that its junction grows, and its least "
            "efficiency.",
            asks=(
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
                FindExtreme("T_J", Extreme.GREATEST, "the highest temperature of the junction"),
                FindExtreme("eta", Extreme.LEAST, "the least efficiency"),
            ),
            require=("V_I_MIN >= V_O + 2.5", "V_I_MAX <= 2.5*V_O", "P_D_MAX >= 1", "T_J_MAX <= 150"),
            slips=(WHOLE_INPUT, LOAD_POWER, LOW_LINE, HEAT_SHARE, LOAD_WARMS),
            back=(BackLine("What is drawn, less what the load has", "V_I_MAX*I_L*(1 - eta_MIN)", "P_D_MAX"),),
            band={"R_thSA": 0.15, "R_thCS": 0.3},
            bench="the regulator's own pin current, a few milliamperes, adds a little heat that is not counted here",
        ),
        Level(
            about="Behind a raw supply: the heat has a summit, which the load may or may not reach",
            form="raw-supply",
            draws=(
                Pick("V_OC", LINES),
                Pick("R_S", values_between(1.0, 15.0, Series.E12)),
                Pick("V_O", OUTPUTS),
                Pick("I_L_MIN", (0.0, 0.05, 0.1)),
                Pick("I_L_MAX", LOADS),
            ),
            given=("V_OC", "R_S", "V_O", "I_L_MIN", "I_L_MAX"),
            ranges=("I_L",),
            labels=LABELS,
            data="A raw supply has {V_OC} with nothing drawn, and a resistance of {R_S}. Behind it a regulator of "
            "{V_O} serves a load of {I_L_MIN} to {I_L_MAX}.",
            ask="Find the least voltage at the regulator's input, the greatest power in the regulator at any load of "
            "the range, the greatest power in $R_S$, and the efficiency at full load.",
            asks=(
                FindExtreme("V_I", Extreme.LEAST, "the least voltage at the regulator's input"),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator, at any load of the range"),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in the raw supply's resistance"),
                Find("eta", "the efficiency at full load", at={"I_L": "I_L_MAX"}),
            ),
            require=(
                "V_I_MIN >= V_O + 2", "V_OC <= 3*V_O", "P_D_MAX >= 1", "I_L_MAX*R_S >= 0.25*(V_OC - V_O)",
                "I_L_MAX >= 2*I_L_MIN",
            ),
            slips=(NO_SAG, SHARE_OF_INPUT),
            back=(BackLine("Up again to the open-circuit voltage", "V_I_MIN + I_L_MAX*R_S", "V_OC"),),
            band={"R_S": 0.1},
            bench="turn the load up slowly and feel the heat-sink: it may be hottest before the load is fullest",
        ),
        Level(
            about="Design: a resistor before the regulator that takes part of its heat",
            form="raw-supply",
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("V_DROP", (1.5, 2.0, 2.5)),
                Pick("extra", (7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0)),
                Pick("spread", (1.0, 1.5, 2.0, 3.0)),
                Work("V_OC_MIN", "V_O + V_DROP + extra"),
                Work("V_OC_MAX", "V_OC_MIN + spread"),
                Pick("I_L_MIN", (0.0, 0.05)),
                Pick("I_L_MAX", LOADS),
                # What may be given off is drawn so that the two bounds lie near each other, which few others would do.
                Pick("nearness", (0.76, 0.78, 0.8, 0.82, 0.84, 0.86, 0.88)),
                Work("P_QM", "(V_OC_MAX - V_O)^2*I_L_MAX/(4*nearness*extra)", 2),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_OC_MIN", "V_OC_MAX", "V_O", "V_DROP", "I_L_MIN", "I_L_MAX", "P_QM", "tol_R",
            ),
            ranges=("V_OC", "I_L"),
            labels={**LABELS, "V_OC_MIN": "lowest line", "V_OC_MAX": "highest line"},
            data="A regulator of {V_O} is to serve {I_L_MIN} to {I_L_MAX} from a stiff line of {V_OC_MIN} to "
            "{V_OC_MAX}; it needs {V_DROP} to work with, and its heat-sink can carry off {P_QM}. A resistor $R_S$ in "
            "its input lead is to take part of the heat. Resistors are rated 0.5, 1, 2, 5, 10, 20 and 50 W and are not "
            "to run past two thirds of that.",
            ask="Find both bounds on the resistor, at every line and load, choose an E24 value whose whole tolerance "
            "fits, rate it, and find the greatest power in the regulator with it.",
            asks=(
                FindBound("R_S", "V_IO >= V_DROP", "the largest resistor that leaves the regulator enough"),
                FindBound("R_S", "P_D <= P_QM", "the least resistor that spares the regulator enough"),
                Choose(
                    "R_S",
                    Series.E24,
                    "an E24 value whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits takes most heat from the regulator",
                    low="R_S_MIN",
                    high="R_S_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in the resistor"),
                ChooseRating(
                    "P_RM", "P_R_MAX", SHELF, 1.5, "a rating for the resistor", "it is not to run past two thirds of it"
                ),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
            ),
            require=("V_OC_MAX <= 3*V_O", "R_S_MIN >= 0.5*R_S_MAX"),
            slips=(DROP_LEFT_OUT, FULL_LOAD_ALONE, ROUNDED_UP, JUST_RATED),
            checks=(
                CheckLine(
                    "Lowest line, fullest load, resistor at the top of its tolerance", "V_IO >= V_DROP",
                    {"R_S": "R_S*(1 + tol_R)"},
                ),
                CheckLine(
                    "Highest line, the worst load, resistor at the bottom of its tolerance", "P_D <= P_QM",
                    {"R_S": "R_S*(1 - tol_R)"},
                ),
            ),
            bench="the resistor is the hotter part by far: give it air, and keep it away from the regulator",
        ),
    ),
)  # fmt: skip
