"""Backwards through a shunt regulator: from what was measured to the parts, and to the slope behind two readings."""

from tutor.generate.family import (
    BackLine,
    Drop,
    Family,
    Find,
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

MILLIAMPS = tuple(milliamps / 1000 for milliamps in (6, 8, 10, 12, 15, 18, 20, 24, 25, 30, 35, 40))
LABELS = {
    "V_Z": "zener voltage (straight characteristic)",
    "I_Z": "zener current measured",
    "P_Z": "power in the zener, measured",
    "P_O": "power taken by the load, measured",
    "V_I_1": "supply voltage, first reading",
    "V_I_2": "supply voltage, second reading",
    "V_O_1": "output voltage, first reading",
    "I_L_1": "load current, first reading",
    "V_O_2": "output voltage, second reading",
    "I_L_2": "load current, second reading",
}

ZENER_LEFT_OUT = Slip(
    "zener-left-out",
    "I_R",
    Drop("I_Z"),
    "the zener's current left out of what $R$ carries",
    "$R$ feeds two branches, load and zener.",
    "Write the current law at the output node: what flows in, what flows out?",
)
CURRENTS_SUBTRACTED = Slip(
    "currents-subtracted",
    "I_R",
    Swap("I_Z", "0 - I_Z"),
    "zener current taken from load current",
    "$R$ carries the sum, since it feeds both branches side by side.",
    "Do the two branch currents add or cancel in $R$?",
)
NO_DROP = Slip(
    "drop-forgotten",
    "V_I",
    Rewrite("I_R*R"),
    "the voltage across $R$ taken for the whole input",
    "Below $R$ stands the output; the input is the two together.",
    "From ground to the input, across which parts do you pass?",
)
DROP_TURNED = Slip(
    "drop-taken-away",
    "V_I",
    Rewrite("V_Z - I_R*R"),
    "the voltage across $R$ taken away from the output",
    "Current flows from the input down to the output, so the input is the higher one.",
    "Which end of $R$ is the higher one?",
)
SUBTRACTED = Slip(
    "branches-subtracted",
    "R",
    Swap("I_L + I_Z", "I_L - I_Z"),
    "zener current taken from load current",
    "$R$ carries the sum, since it feeds both branches side by side.",
    "Do the two branch currents add or cancel in $R$?",
    reference=("S05",),
)
WHOLE_INPUT = Slip(
    "whole-input",
    "R",
    Rewrite("V_I/(I_L + I_Z)"),
    "the whole input voltage put across $R$",
    "$R$ has only the difference between input and output across it.",
    "What is the voltage at the far end of $R$?",
    reference=("S06",),
)
POWER_OVER_INPUT = Slip(
    "power-over-input",
    "I_Z",
    Rewrite("P_Z/V_I"),
    "the zener's power divided by the input voltage",
    "The power in a part is its own voltage times its own current.",
    "Which voltage stands across the zener?",
)
WHOLE_INPUT_HEAT = Slip(
    "whole-input-heat",
    "P_R",
    Rewrite("V_I^2/R"),
    "resistor power from the whole input voltage",
    "Only the difference between input and output stands across $R$ while the zener regulates.",
    "Square the voltage across $R$, not the voltage to ground.",
    reference=("S11",),
)
LOAD_CHANGE_FOR_ZENER = Slip(
    "load-change-for-zener",
    "r_z",
    Rewrite("(V_O_1 - V_O_2)/(I_L_2 - I_L_1)"),
    "the change of load current taken for that of the zener",
    "What $R$ brings changes too, with the supply and with the output, so the zener gives up another current than the "
    "load takes.",
    "Does the current through $R$ stay quite the same between the readings?",
)
STATIC = Slip(
    "static-resistance",
    "r_z",
    Rewrite("V_Z_2/I_Z_2"),
    "voltage over current at one reading",
    "The slope is the change of voltage over the change of current.",
    "How much does the voltage rise when the current rises?",
)
LOAD_ADDED = Slip(
    "load-added",
    "I_Z_1",
    Turn("I_L_1"),
    "load current added to the current through $R$",
    "The load takes its share of what $R$ brings; the zener is left the rest.",
    "What flows into the output node, and what flows out of it?",
    reference=("S21",),
)
INTERCEPT_UP = Slip(
    "intercept-above",
    "V_Z0",
    Rewrite("V_Z_1 + r_z*I_Z_1"),
    "the intercept put above the reading",
    "Going back to zero current takes the slope's share off.",
    "Is the voltage at zero current above or below that at the reading?",
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
    title="Backwards through a shunt regulator",
    about="A meter tells currents, powers and voltages; the parts are behind them. The current law and Ohm's law run "
    "backwards as well as forwards.",
    lesson="shunt",
    circuit="zener-shunt",
    assume={"load-slope": "thevenin"},
    scenarios=(
        "The marking on a burnt resistor in an old church clock's supply can no longer be read.",
        "A radio museum restores a receiver whose zener regulator has no drawing.",
        "An apprentice is given a sealed regulator and three readings, and is to say what is inside.",
        "The supply of a mountain hut's barometer was built by a keeper long gone.",
        "A puppet theatre's dimmer has a zener regulator under a coat of varnish.",
        "A customs shed's weighbridge indicator is repaired from readings taken over the telephone.",
        "The regulator of a lifeboat's radio beacon was potted in resin, and only its terminals can be reached.",
    ),
    cautions=("hot-parts", "capacitors", "output"),
    levels=(
        Level(
            about="From the currents back to the input",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.9, 18.0), ("P_ZM", 1.0, 1.0))),
                Pick("R", values_between(68, 680, Series.E12)),
                Pick("R_L", values_between(150, 3300, Series.E12)),
                Pick("I_Z", MILLIAMPS),
            ),
            given=("R", "V_Z", "R_L", "I_Z"),
            labels=LABELS,
            data="The zener ({V_Z}, straight) was measured to carry {I_Z} beside a load of {R_L}; the series resistor "
            "is {R}.",
            ask="Find the load current, the current through the series resistor, and the supply voltage at the "
            "measurement.",
            asks=(
                Find("I_L", "the load current $I_L$"),
                Find("I_R", "the current $I_R$ through the series resistor"),
                Find("V_I", "the supply voltage $V_I$"),
            ),
            require=("V_I >= 9", "V_I <= 30", "V_I >= 1.2*V_Z", "I_L >= 0.1*I_Z", "I_Z*V_Z <= 0.8"),
            slips=(ZENER_LEFT_OUT, CURRENTS_SUBTRACTED, NO_DROP, DROP_TURNED),
            back=(BackLine("The zener's current comes back", "(V_I - V_Z)/R - I_L", "I_Z"),),
            band={"V_Z": 0.05, "R": 0.05},
            bench="a meter of 1 % and a resistor of 5 % leave the supply voltage known to a few per cent",
        ),
        Level(
            about="From powers to the resistor, and to what it must bear",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.9, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_I", tuple(float(volts) for volts in range(9, 31))),
                Pick("P_Z", tuple(milliwatts / 1000 for milliwatts in range(60, 620, 20))),
                Pick("P_O", tuple(milliwatts / 1000 for milliwatts in range(30, 320, 10))),
            ),
            given=("V_I", "V_Z", "P_Z", "P_O"),
            labels=LABELS,
            data="At {V_I} the zener ({V_Z}, straight) dissipated {P_Z} while the load took {P_O}.",
            ask="Find the currents of zener and load, the series resistor, and the power in it.",
            asks=(
                Find("I_Z", "the zener current $I_Z$"),
                Find("I_L", "the load current $I_L$"),
                Find("R", "the series resistor $R$"),
                Find("P_R", "the power $P_R$ in the series resistor"),
            ),
            require=("V_I >= 1.3*V_Z", "R >= 47", "R <= 1500"),
            slips=(POWER_OVER_INPUT, SUBTRACTED, WHOLE_INPUT, WHOLE_INPUT_HEAT),
            back=(BackLine("The powers add up", "V_Z*(V_I - V_Z)/R - P_O", "P_Z"),),
            band={"V_Z": 0.02},
            bench="a power is hardly ever measured; it comes from two meters, and carries the errors of both",
        ),
        Level(
            about="Two readings at two loads: the slope behind them, which is not the output resistance",
            draws=(
                PickPart(
                    "zeners",
                    {"true_V": "V_Z", "true_I": "I_ZT", "true_r": "r_z", "true_P": "P_ZM"},
                    (("V_Z", 4.7, 15.0), ("r_z", 5.0, 40.0)),
                ),
                Pick("V_I_1", tuple(float(volts) for volts in range(9, 29))),
                Pick("sag", (0.1, 0.2, 0.3, 0.4, 0.5)),
                Work("V_I_2", "V_I_1 - sag"),
                Pick("R", values_between(68, 270, Series.E12)),
                Pick("I_L_1", (0.0, 0.002, 0.004, 0.005)),
                Pick("I_L_2", (0.02, 0.025, 0.03, 0.04)),
                Work("V_O_1", "(true_r*V_I_1/R + true_V - true_r*true_I - true_r*I_L_1)/(1 + true_r/R)", 4),
                Work("V_O_2", "(true_r*V_I_2/R + true_V - true_r*true_I - true_r*I_L_2)/(1 + true_r/R)", 4),
            ),
            given=("R", "V_I_1", "V_O_1", "I_L_1", "V_I_2", "V_O_2", "I_L_2"),
            labels=LABELS,
            data="The series resistor is {R}. The supply stands at {V_I_1} and the output at {V_O_1} while the load "
            "draws {I_L_1}; the supply sags to {V_I_2} and the output to {V_O_2} while it draws {I_L_2}.",
            ask="Find the zener current at both readings, the slope of the zener, its voltage extrapolated to zero "
            "current, and the output resistance of the regulator.",
            asks=(
                Find("I_Z_1", "the zener current at the first reading"),
                Find("I_Z_2", "the zener current at the second reading"),
                Find("r_z", "the slope $r_z$ of the zener"),
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                Find("R_OUT", "the output resistance $R_OUT$"),
            ),
            require=("V_I_2 >= 9", "I_Z_2 >= 0.003", "V_O_1 - V_O_2 >= 0.15", "I_Z_1*V_O_1 <= true_P"),
            slips=(LOAD_ADDED, LOAD_CHANGE_FOR_ZENER, STATIC, INTERCEPT_UP, SERIES_NOT_PARALLEL),
            back=(BackLine("The second reading comes back", "V_Z0 + r_z*I_Z_2", "V_O_2"),),
            band={"V_O_1": 0.001, "V_O_2": 0.001},
            bench="the slope hangs on the last figures of two voltages; read both on one meter, on one range",
        ),
    ),
)
