"""How a zener drifts with temperature, and how a forward diode in series with it can take the drift away."""

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

SPANS = tuple(float(kelvins) for kelvins in range(8, 61, 2))
JUNCTIONS = (-0.0017, -0.0018, -0.002, -0.0022, -0.0025)
LABELS = {
    "V_Z": "zener voltage (straight characteristic)",
    "alpha_Z": "temperature coefficient of the zener",
    "k_BE": "temperature coefficient of the diode's forward voltage",
    "V_F": "forward voltage of the diode",
    "DT": "rise of temperature",
    "DV_O_MAX": "greatest change of the output that is allowed",
    "DV_Z": "rise of the zener's voltage measured",
}
DRIFT_OF_ZENER = (
    Pick("k_BE", JUNCTIONS),
    Pick("DT", SPANS),
)

SIGN_OF_ALL = Slip(
    "coefficient-turned",
    "DV_Z",
    Rewrite("-alpha_Z*V_Z*DT"),
    "the sign of the coefficient turned",
    "Below about 5 V a zener's voltage falls as it warms, above some 6 V it rises; the data sheet's sign says which.",
    "Does this zener's voltage rise or fall as it warms?",
)
PER_CENT = Slip(
    "per-cent-as-volts",
    "DV_Z",
    Rewrite("alpha_Z*DT*1"),
    "the share taken for volts",
    "The coefficient is a share of the zener's own voltage for each kelvin.",
    "A share of what?",
)
JUNCTION_RISES = Slip(
    "junction-rises",
    "DV_F",
    Rewrite("-k_BE*DT"),
    "the junction believed to rise",
    "At a steady current a junction loses some 2 mV for each kelvin.",
    "Does a diode's forward voltage rise or fall as it warms?",
)
SUBTRACTED = Slip(
    "drifts-subtracted",
    "DV_O",
    Rewrite("DV_Z - DV_F"),
    "the two changes subtracted",
    "Zener and diode stand in series, so their changes add, each with its own sign.",
    "Is the sign of the diode's change already in its number?",
)
DIODE_LEFT_OUT = Slip(
    "diode-left-out",
    "S_T",
    Drop("k_BE"),
    "the diode left out",
    "The diode stands in series with the zener and drifts as well.",
    "Which parts stand between output and ground in the zener's branch?",
)
DIODE_TURNED = Slip(
    "diode-turned",
    "S_T",
    Turn("k_BE"),
    "the diode's drift taken away instead of added",
    "The sign is in the coefficient already; the two are added.",
    "Which sign has the diode's coefficient?",
)
SHARE_OF_OUTPUT = Slip(
    "share-of-output",
    "S_T",
    Swap("V_Z", "V_O"),
    "the zener's share taken of the whole output",
    "The coefficient is a share of the zener's own voltage; the diode has a coefficient of its own.",
    "Whose voltage does the coefficient belong to?",
)
DIODE_VOLTAGE = Slip(
    "diode-voltage-left-out",
    "V_O",
    Rewrite("V_Z"),
    "the diode's own voltage left out",
    "The diode compensates the drift and adds its forward voltage to the output.",
    "From ground to the output, which parts do you pass?",
)
FALL_NOT_TAKEN = Slip(
    "drop-across-zener",
    "I_Z",
    Rewrite("(V_I - V_Z)/R - I_L"),
    "the diode left out of the voltage across $R$",
    "The output stands a diode above the zener's voltage, so less is left across $R$.",
    "Which voltage stands at the far end of $R$?",
)
SHARE_FROM_OUTPUT = Slip(
    "share-found-of-output",
    "alpha_Z",
    Rewrite("DV_Z/(V_O*DT)"),
    "the share taken of the whole output",
    "The coefficient is a share of the zener's own voltage.",
    "Whose voltage does the coefficient belong to?",
)
SPAN_FORGOTTEN = Slip(
    "span-without-diode",
    "DT_MAX",
    Rewrite("DV_O_MAX/(alpha_Z*V_Z)"),
    "the diode left out of the drift",
    "With the diode the output drifts less, or the other way; its coefficient belongs into the sum.",
    "Which parts drift between output and ground?",
)

FAMILY = Family(
    edition=2,
    title="Drift of a zener, and a diode against it",
    about="A zener's voltage drifts with temperature, downwards below some 5 V and upwards above. A forward diode in "
    "series drifts downwards always, so with the right zener the two nearly cancel.",
    lesson="shunt",
    circuit="compensated-shunt",
    scenarios=(
        "The reference of a greenhouse thermostat warms up with the greenhouse it watches.",
        "A weather balloon's sonde is calibrated in a warm hut and flown into the cold.",
        "A sauna's controller drifts as the board behind the wall warms up.",
        "A desert rally's trip meter reads differently at noon and at midnight.",
        "An ice rink's rink-side clock loses time on cold mornings, and its reference is suspected.",
        "A kiln's cone detector sits where it is never the same temperature twice.",
        "A mountaineer's altimeter is checked in the valley and read on the summit.",
    ),
    cautions=("hot-parts", "output"),
    levels=(
        Level(
            about="The drift of each part, and what is left",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "alpha_Z": "alpha_Z"}, (("V_Z", 3.3, 8.2), ("P_ZM", 1.0, 1.0))),
                *DRIFT_OF_ZENER,
            ),
            given=("V_Z", "alpha_Z", "k_BE", "DT"),
            labels=LABELS,
            data="Its zener stands at {V_Z} with a coefficient of {alpha_Z}; a forward diode with {k_BE} is in series "
            "with it. Everything warms up by {DT}, and the current through the two is held steady.",
            ask="Find the change of the zener's voltage, that of the diode's, and that of the output.",
            asks=(
                Find("DV_Z", "the change of the zener's voltage"),
                Find("DV_F", "the change of the diode's voltage"),
                Find("DV_O", "the change of the output"),
            ),
            require=(),
            slips=(SIGN_OF_ALL, PER_CENT, JUNCTION_RISES, SUBTRACTED),
            back=(BackLine("The zener's change comes back", "DV_O - k_BE*DT", "DV_Z"),),
            band={"alpha_Z": 0.3},
            bench="the coefficient in a data sheet is the middle of a wide band, and it moves with the current too",
        ),
        Level(
            about="In the circuit: output, current, and volts for each kelvin",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "alpha_Z": "alpha_Z"}, (("V_Z", 3.3, 8.2), ("P_ZM", 1.0, 1.0))),
                *DRIFT_OF_ZENER,
                Pick("V_F", (0.6, 0.65, 0.7)),
                Pick("V_I", tuple(float(volts) for volts in range(9, 25))),
                Pick("R", values_between(100, 680, Series.E12)),
                Pick("I_L", tuple(milliamps / 1000 for milliamps in (2, 4, 5, 8, 10, 15))),
            ),
            given=("V_I", "R", "V_Z", "V_F", "alpha_Z", "k_BE", "I_L", "DT"),
            labels=LABELS,
            data="The supply is {V_I}, the series resistor {R}, the load {I_L}. The zener stands at {V_Z} with a "
            "coefficient of {alpha_Z}, the diode in series with it at {V_F} with {k_BE}. Then everything warms up by "
            "{DT}.",
            ask="Find the output voltage, the zener's current, the temperature sensitivity, and the change of the "
            "output.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_Z", "the zener current $I_Z$"),
                Find("S_T", "the temperature sensitivity $S_T$"),
                Find("DV_O", "the change of the output"),
            ),
            require=("V_I >= 1.25*V_Z + 1", "I_Z >= 0.003", "I_Z*V_Z <= 0.6"),
            slips=(DIODE_VOLTAGE, FALL_NOT_TAKEN, DIODE_LEFT_OUT, DIODE_TURNED, SHARE_OF_OUTPUT),
            band={"alpha_Z": 0.3, "V_Z": 0.05},
            bench="the zener heats itself as well: its own power times its thermal resistance comes on top of the room",
        ),
        Level(
            about="Backwards: the coefficient from a measurement, and how far the temperature may go",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "true_alpha": "alpha_Z"}, (("V_Z", 5.6, 8.2), ("P_ZM", 1.0, 1.0))),
                Pick("k_BE", JUNCTIONS),
                Pick("DT", SPANS),
                Work("DV_Z", "true_alpha*V_Z*DT", 3),
                Pick("V_F", (0.6, 0.65, 0.7)),
                Pick("DV_O_MAX", (0.005, 0.008, 0.01, 0.015, 0.02, 0.025, 0.03)),
            ),
            given=("V_Z", "DV_Z", "DT", "k_BE", "V_F", "DV_O_MAX"),
            labels={**LABELS, "DT": "rise of temperature at the measurement"},
            data="Its zener of {V_Z} was measured by itself to rise by {DV_Z} as it warmed up by {DT}. A diode of "
            "{V_F} with {k_BE} is then put in series with it; the output may move by no more than {DV_O_MAX}.",
            ask="Find the zener's coefficient, the temperature sensitivity with the diode, and how far the temperature "
            "may rise.",
            asks=(
                Find("V_O", "the output voltage with the diode"),
                Find("alpha_Z", "the coefficient of the zener"),
                Find("S_T", "the temperature sensitivity $S_T$ with the diode"),
                Find("DT", "how far the temperature may rise", key="DT_MAX", at={"S_T": "S_T", "DV_O": "DV_O_MAX"}),
            ),
            require=("S_T >= 0.0001", "DT_MAX <= 60", "DT_MAX >= 5"),
            slips=(DIODE_VOLTAGE, SHARE_FROM_OUTPUT, DIODE_LEFT_OUT, DIODE_TURNED, SPAN_FORGOTTEN),
            back=(BackLine("The allowed change comes back", "S_T*DT_MAX", "DV_O_MAX"),),
            band={"DV_Z": 0.02, "k_BE": 0.1},
            bench="diode and zener must be at one temperature, or one drifts before the other",
        ),
    ),
)
