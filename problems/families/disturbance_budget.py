"""The whole band of an output: what line, load and temperature make of it, which outdoes the rest, what is left."""

from tutor.generate.family import (
    BackLine,
    Demand,
    Drop,
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
    TellVerdict,
    Turn,
    Verdict,
)
from tutor.quantities.preferred import Series, values_between

LINE = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
LOAD = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
KELVINS = tuple(float(kelvins) for kelvins in range(15, 56, 5))
JUNCTIONS = (-0.0018, -0.002, -0.0022)
FIRST = PickPart("zeners", {"first": "V_Z", "r_z_P": "r_z"}, (("V_Z", 12.0, 18.0), ("P_ZM", 1.0, 1.0)))
LABELS = {
    "S_V": "sensitivity to the line, as measured",
    "R_OUT": "output resistance, as measured",
    "E_TEMP": "change of the output over the range of temperature, as measured",
    "DV_I": "change of the line over its range",
    "DI_L": "change of the load over its range",
    "DT": "change of temperature over its range",
    "R_P": "resistor of the first stage",
    "r_z_P": "slope of the first zener",
    "R": "resistor between the zeners",
    "r_z": "slope of the second zener",
    "V_Z": "voltage of the second zener",
    "alpha_Z": "temperature coefficient of the second zener",
    "k_BE": "temperature coefficient of the base-emitter voltage",
    "h_FE": "current gain",
    "h_FE_MIN": "lowest current gain of the type",
    "h_FE_MAX": "highest current gain of the type",
    "E_BAND_MAX": "widest band that is allowed",
}

FULL_LINE = Slip(
    "all-of-the-line",
    "E_LINE",
    Rewrite("DV_I"),
    "the whole change of the line given to the output",
    "The sensitivity says how little of each volt arrives.",
    "What are the stages there for?",
)
DIVIDED = Slip(
    "divided-not-multiplied",
    "E_LOAD",
    Rewrite("R_OUT/DI_L"),
    "the resistance divided by the current",
    "A resistance times a current is a voltage.",
    "Ohm's law: which two make a voltage?",
)
LOAD_TAKEN_OFF = Slip(
    "load-taken-off",
    "E_BAND",
    Turn("E_LOAD"),
    "the load's share taken off",
    "A full load lowers the output, a light one lifts it: either way the band grows wider.",
    "Can a second disturbance make the band narrower?",
)
WIDEST_LESS = Slip(
    "load-taken-off",
    "E_BAND_MAX",
    Turn("E_LOAD"),
    "the load's share taken off",
    "A full load lowers the output, a light one lifts it: either way the band grows wider.",
    "Can a second disturbance make the band narrower?",
)
SQUARES = Slip(
    "squares",
    "E_BAND",
    Rewrite("sqrt(E_LINE^2 + E_LOAD^2 + E_TEMP^2)"),
    "root-sum-square given for the whole band",
    "A hot day, a low line and a full load may well come together; in the worst case the shares add straight.",
    "What forbids all three to be at their worst at once?",
)
ADDED = Slip(
    "stages-added",
    "S_V",
    Rewrite("r_z_P/(R_P + r_z_P) + r_z/(R + r_z)"),
    "the shares of the two stages added",
    "The second stage takes its share of what the first one has left, so the shares multiply.",
    "What is the input of the second stage?",
)
ONE_STAGE = Slip(
    "one-stage",
    "E_LINE",
    Rewrite("r_z/(R + r_z)*DV_I"),
    "the first stage left out",
    "The line's change reaches the second stage divided already.",
    "How many dividers lie between the line and the base?",
)
BASE_FOR_OUTPUT = Slip(
    "base-for-output",
    "E_LOAD_MAX",
    Rewrite("(R||r_z)*DI_L"),
    "the resistance at the base used for the output",
    "A change of load reaches the base divided by $h_FE + 1$.",
    "Which current flows through $R$ and the second zener: the load's or the base's?",
)
KIND_GAIN = Slip(
    "kind-gain",
    "E_LOAD_MAX",
    Swap("h_FE", "h_FE_MAX"),
    "the highest gain used",
    "The lowest gain of the type hands on most of the load's change, and such a transistor may be fitted.",
    "Which gain in the range is the harshest?",
    step="R_OUT",
)
JUNCTION_LEFT_OUT = Slip(
    "junction-left-out",
    "S_T",
    Drop("k_BE"),
    "the junction's drift left out",
    "Between the second zener and the output stands a junction, and it drifts as well.",
    "Which parts stand between the zener and the output?",
)
JUNCTION_TURNED = Slip(
    "junction-turned",
    "S_T",
    Turn("k_BE"),
    "the junction's drift with the wrong sign",
    "The junction is taken off: when it needs less, the output rises.",
    "What does the output do when the junction needs less?",
)
NOTHING_TAKEN = Slip(
    "all-for-the-temperature",
    "E_TEMP_MAX",
    Rewrite("E_BAND"),
    "the whole band given to the temperature",
    "Line and load take their shares first; the temperature gets what they leave.",
    "Who else lives on this band?",
)
LINE_ONLY = Slip(
    "load-forgotten",
    "E_TEMP_MAX",
    Drop("E_LOAD"),
    "the load's share not taken off",
    "The load takes its share of the band as the line does.",
    "Which disturbances have you taken off the band?",
)
JUNCTION_FREE = Slip(
    "junction-costs-nothing",
    "alpha_Z_MAX",
    Rewrite("S_T/V_Z"),
    "the junction's drift forgotten",
    "The junction lifts the output by its own 2 mV for each kelvin, and the zener gets only the rest.",
    "Does a zener without any drift make an output without any?",
)
JUNCTION_HELPS = Slip(
    "junction-helps",
    "alpha_Z_MAX",
    Rewrite("(S_T - k_BE)/V_Z"),
    "the junction's drift added to what the zener may have",
    "A zener that rises and a junction that falls push the output the same way.",
    "Do zener and junction push the output against each other here?",
)

FAMILY = Family(
    title="Three causes, one band",
    about="Line, load and temperature each move the output by a way of its own. What each makes of it is a slope times "
    "a range; the worst sum is the band; and the largest share says what to improve first.",
    lesson="combined",
    circuit="prestabilised",
    assume={"base-current": "exact", "second-stage": "neglected"},
    scenarios=(
        "The rail of a tide gauge's transmitter is to be promised on its data sheet.",
        "A cheese cellar's humidity sensor reads wrong whenever its supply moves, and the supply is looked at.",
        "A lighthouse keeps its standby beacon's reference the year round, from frost to August.",
        "A wind tunnel's balance is fed from a small regulator whose band decides how many digits mean anything.",
        "An ice-cream van's till display goes dim, and nobody knows whether line, load or heat is to blame.",
        "A seismograph on an island runs from a regulator that sees sun, night and a generator.",
        "The blood bank's fridge logger needs a supply whose whole band is known.",
    ),
    cautions=("mains-fed", "hot-parts", "output"),
    levels=(
        Level(
            about="A slope times a range is a share, and the shares add",
            form="zener",
            draws=(
                Pick("S_V", (0.0005, 0.0008, 0.001, 0.0015, 0.002, 0.003, 0.005, 0.008, 0.01, 0.015, 0.02)),
                Pick("DV_I", LINE),
                Pick("R_OUT", (0.03, 0.05, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3)),
                Pick("DI_L", LOAD),
                Pick("E_TEMP", (0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12)),
            ),
            given=("S_V", "DV_I", "R_OUT", "DI_L", "E_TEMP"),
            labels=LABELS,
            data="Measured on it were {S_V} of sensitivity to the line and an output resistance of {R_OUT}; from the "
            "coldest day to the hottest the output was seen to move by {E_TEMP}. The line moves by {DV_I} in all, the "
            "load by {DI_L}.",
            ask="Find what the line makes of the output, what the load makes of it, and the width of the whole band.",
            asks=(
                Find("E_LINE", "what the line makes of the output"),
                Find("E_LOAD", "what the load makes of the output"),
                Find("E_BAND", "the width of the whole band"),
            ),
            require=("E_BAND <= 0.5",),
            slips=(FULL_LINE, DIVIDED, LOAD_TAKEN_OFF, SQUARES),
            back=(BackLine("The line's share is what the others leave", "E_BAND - E_LOAD - E_TEMP", "E_LINE"),),
            band={"S_V": 0.1, "R_OUT": 0.1},
            bench="a drift needs an hour to show, a load step a millisecond: measured in haste, the budget lacks its "
            "largest share",
        ),
        Level(
            about="From the parts, at the worst gain, and which share outdoes the rest",
            form="zener",
            draws=(
                FIRST,
                PickPart(
                    "zeners",
                    {"V_Z": "V_Z", "r_z": "r_z", "alpha_Z": "alpha_Z"},
                    (("V_Z", 5.6, 8.2), ("r_z", 2.0, 20.0)),
                ),
                Pick("R_P", values_between(82, 680, Series.E12)),
                Pick("R", values_between(390, 1000, Series.E12)),
                Pick("k_BE", JUNCTIONS),
                Pick("h_FE_MIN", (40.0, 50.0, 60.0, 75.0)),
                Pick("h_FE_MAX", (120.0, 150.0, 200.0, 250.0)),
                Pick("DV_I", LINE),
                Pick("DI_L", LOAD),
                Pick("DT", KELVINS),
            ),
            given=(
                "R_P", "r_z_P", "R", "r_z", "V_Z", "alpha_Z", "k_BE", "h_FE_MIN", "h_FE_MAX", "DV_I", "DI_L", "DT",
            ),
            ranges=("h_FE",),
            labels=LABELS,
            data="{R_P} and a first zener with a slope of {r_z_P} feed {R} and a second one of {V_Z} with a slope of "
            "{r_z} at the base of a transistor. The line moves by {DV_I} in all, the load by {DI_L}, the temperature "
            "by {DT}.",
            ask="Find what the line makes of the output, what the load makes of it with the worst transistor of the "
            "type, the drift for each kelvin, what the temperature makes of it, the widest band, and which of the "
            "three outdoes the rest.",
            asks=(
                Find("S_V", "the sensitivity $S_V$ to the line"),
                Find("E_LINE", "what the line makes of the output"),
                FindExtreme("E_LOAD", Extreme.GREATEST, "the most that the load makes of the output"),
                Find("S_T", "the drift $S_T$ for each kelvin"),
                Find("E_TEMP", "what the temperature makes of the output"),
                Find("E_BAND", "the widest band", key="E_BAND_MAX", at={"E_LOAD": "E_LOAD_MAX"}),
                TellVerdict(
                    "which of the three outdoes the rest",
                    (
                        Demand("the line against the load", "E_LINE >= E_LOAD_MAX"),
                        Demand("the line against the temperature", "E_LINE >= E_TEMP"),
                        Demand("the load against the temperature", "E_LOAD_MAX >= E_TEMP"),
                    ),
                    (
                        Verdict("the line matters most", meets=("E_LINE >= E_LOAD_MAX", "E_LINE >= E_TEMP")),
                        Verdict(
                            "the load matters most", meets=("E_LOAD_MAX >= E_TEMP",), misses=("E_LINE >= E_LOAD_MAX",)
                        ),
                        Verdict("the temperature matters most", misses=("E_LINE >= E_TEMP", "E_LOAD_MAX >= E_TEMP")),
                    ),
                    "The largest share is the one to work at: halving a small one is hardly seen in the sum.",
                    apart=0.1,
                ),
            ),
            require=("r_z_P <= 0.0195*(R + r_z)", "r_z_P <= 0.2*R_P", "first >= V_Z + 4", "S_T >= 0.001"),
            slips=(ADDED, ONE_STAGE, BASE_FOR_OUTPUT, KIND_GAIN, JUNCTION_LEFT_OUT, JUNCTION_TURNED, WIDEST_LESS),
            back=(
                BackLine("The change of temperature comes back", "(E_BAND_MAX - E_LINE - E_LOAD_MAX)/S_T", "DT"),
            ),
            band={"r_z": 0.3, "r_z_P": 0.3, "alpha_Z": 0.3},
            bench="the junction's own voltage changes with the load as well, by some 60 mV for ten times the current, "
            "which no output resistance tells",
        ),
        Level(
            about="Backwards: what a promised band leaves to the temperature, and to the zener",
            form="zener",
            draws=(
                FIRST,
                PickPart("zeners", {"V_Z": "V_Z", "r_z": "r_z"}, (("V_Z", 5.6, 8.2), ("r_z", 2.0, 20.0))),
                Pick("R_P", values_between(82, 680, Series.E12)),
                Pick("R", values_between(390, 1000, Series.E12)),
                Pick("k_BE", JUNCTIONS),
                Pick("h_FE", (50.0, 60.0, 75.0, 80.0, 100.0)),
                Pick("DV_I", LINE),
                Pick("DI_L", LOAD),
                Pick("DT", KELVINS),
                Pick("E_BAND_MAX", (0.1, 0.12, 0.15, 0.18, 0.2, 0.25, 0.3)),
            ),
            given=("R_P", "r_z_P", "R", "r_z", "V_Z", "k_BE", "h_FE", "DV_I", "DI_L", "DT", "E_BAND_MAX"),
            labels=LABELS,
            data="{R_P} and a first zener with a slope of {r_z_P} feed {R} and a second one of {V_Z} with a slope of "
            "{r_z} at the base of a transistor. The line moves by {DV_I} in all, the load by {DI_L}, the temperature "
            "by {DT}; the output may move by {E_BAND_MAX} and no more.",
            ask="Find what line and load make of the output, what they leave to the temperature, the drift that this "
            "allows for each kelvin, and the greatest coefficient that the second zener may have.",
            asks=(
                Find("E_LINE", "what the line makes of the output"),
                Find("E_LOAD", "what the load makes of the output"),
                Find("E_TEMP", "what is left to the temperature", key="E_TEMP_MAX", at={"E_BAND": "E_BAND_MAX"}),
                Find("S_T", "the drift allowed for each kelvin", key="S_T_MAX", at={"E_TEMP": "E_TEMP_MAX"}),
                Find(
                    "alpha_Z",
                    "the greatest coefficient of the second zener",
                    key="alpha_Z_MAX",
                    at={"S_T": "S_T_MAX"},
                ),
            ),
            require=(
                "r_z_P <= 0.0195*(R + r_z)", "r_z_P <= 0.2*R_P", "first >= V_Z + 4", "alpha_Z_MAX >= 0.00005",
                "alpha_Z_MAX <= 0.001",
            ),
            slips=(ONE_STAGE, NOTHING_TAKEN, LINE_ONLY, JUNCTION_FREE, JUNCTION_HELPS),
            back=(BackLine("The band comes back", "E_LINE + E_LOAD + (alpha_Z_MAX*V_Z - k_BE)*DT", "E_BAND_MAX"),),
            band={"r_z": 0.3, "r_z_P": 0.3},
            bench="improve the largest share: a zener near 5 V, or a diode in series with it, does more for this "
            "output than a third stage would",
        ),
    ),
)  # fmt: skip
