"""How the output of a follower drifts with temperature: the zener by its type, the junction always the same way."""

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

SPANS = tuple(float(kelvins) for kelvins in range(10, 61, 5))
JUNCTIONS = (-0.0018, -0.002, -0.0022)
LOADS = (0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25)
LABELS = {
    "V_Z": "zener voltage (straight characteristic)",
    "alpha_Z": "temperature coefficient of the zener",
    "V_BE": "base-emitter voltage",
    "k_BE": "temperature coefficient of the base-emitter voltage",
    "h_FE": "current gain",
    "DT": "rise of temperature",
    "DV_O": "change of the output that was measured",
    "DV_O_MAX": "greatest rise of the output that is allowed",
}

SIGN_OF_ALL = Slip(
    "every-zener-rises",
    "DV_Z",
    Rewrite("-alpha_Z*V_Z*DT"),
    "every zener believed to rise",
    "Below about 5 V a zener's voltage falls as it warms, above some 6 V it rises; the data sheet's sign says which.",
    "Does this zener's voltage rise or fall as it warms?",
    reference=("S30",),
)
PER_CENT = Slip(
    "share-as-volts",
    "DV_Z",
    Rewrite("alpha_Z*DT*1"),
    "the share taken for volts",
    "The coefficient is a share of the zener's own voltage for each kelvin.",
    "A share of what?",
)
JUNCTION_RISES = Slip(
    "junction-rises",
    "DV_BE",
    Rewrite("-k_BE*DT"),
    "the junction believed to rise",
    "At a steady current a junction loses some 2 mV for each kelvin.",
    "Does the base-emitter voltage rise or fall as it warms?",
)
ADDED = Slip(
    "drifts-added",
    "DV_O",
    Rewrite("DV_Z + DV_BE"),
    "the two changes added",
    "The junction is taken off the zener's voltage on the way to the output, and so is its change.",
    "With which sign does the junction stand in the output?",
)
JUNCTION_TURNED = Slip(
    "junction-turned",
    "S_T",
    Turn("k_BE"),
    "the junction's drift added",
    "The output is the zener's voltage less the junction's: a junction that falls lifts the output.",
    "What does the output do when the junction needs less?",
)
JUNCTION_LEFT_OUT = Slip(
    "junction-drift-left-out",
    "S_T",
    Drop("k_BE"),
    "the junction's drift left out",
    "Between zener and output stands a junction, and it drifts as well.",
    "Which parts stand between the zener and the output?",
)
SHARE_OF_OUTPUT = Slip(
    "share-of-output",
    "S_T",
    Swap("V_Z", "V_O"),
    "the zener's share taken of the output",
    "The coefficient is a share of the zener's own voltage.",
    "Whose voltage does the coefficient belong to?",
)
NO_JUNCTION = Slip(
    "junction-left-out",
    "V_O",
    Rewrite("V_Z"),
    "$V_BE$ left out",
    "The output is the emitter, one junction below the base that the zener holds.",
    "Which node is the output: base or emitter?",
    reference=("E02",),
)
ADDED_JUNCTION = Slip(
    "junction-added",
    "V_O",
    Rewrite("V_Z + V_BE"),
    "$V_BE$ added",
    "From the base down to the emitter of an NPN the voltage falls by one junction.",
    "Walk from base to emitter: up or down?",
    reference=("E01",),
)
LOAD_FROM_FEED = Slip(
    "load-from-feed",
    "I_Z",
    Swap("I_B", "I_L"),
    "the whole load current taken from the feed",
    "The load comes through the transistor; only the base current is taken from what $R$ brings.",
    "By which way does the load current come?",
)
OUTPUT_FOR_ZENER = Slip(
    "output-for-zener",
    "alpha_Z",
    Rewrite("S_T/V_Z"),
    "the output's drift given to the zener alone",
    "The junction has its part in the measured drift; the zener's own is what is left.",
    "Whose drift was measured, the zener's or the output's?",
)
TURNED_BACK = Slip(
    "junction-turned-back",
    "alpha_Z",
    Rewrite("(S_T - k_BE)/V_Z"),
    "the junction's drift taken off with the wrong sign",
    "The output's drift is the zener's less the junction's: the zener's is the output's and the junction's together.",
    "Solve the sum for the zener's part: which sign has the junction then?",
)
NOT_OPPOSED = Slip(
    "not-opposed",
    "alpha_Z_NOM",
    Rewrite("-k_BE/V_Z"),
    "a zener that rises as the junction falls",
    "The junction's fall lifts the output already; to cancel it the zener must fall too.",
    "Which way must the zener move so that zener less junction stays?",
)

FAMILY = Family(
    title="Drift of a follower's output with temperature",
    about="A zener's voltage drifts downwards below some 5 V and upwards above; the junction always loses millivolts, "
    "and that lifts the output. With a zener of 4 V to 5 V the two nearly cancel.",
    lesson="series",
    circuit="follower",
    assume={"base-current": "exact"},
    scenarios=(
        "A beer cellar's glycol pump is ruled from a rail that is cool in the morning and warm at night.",
        "The transmitter of a glacier's strain gauge is set in a hut and left on the ice.",
        "An organ loft's blower control sits under a tin roof that the sun heats.",
        "A ski lift's wheel counter is adjusted in the valley in autumn and read in January.",
        "The level probe of a hot spring's basin has its regulator in the lid.",
        "A foundry's mould-moisture meter is carried from the office to the furnace floor.",
        "A tram's door light has a follower that starts in frost and ends beside the heater.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The drift of each part, and what the output makes of the two",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "alpha_Z": "alpha_Z"}, (("V_Z", 3.3, 4.7), ("P_ZM", 0.5, 1.0))),
                Pick("V_BE", (0.6, 0.65, 0.7, 0.75)),
                Pick("k_BE", JUNCTIONS),
                Pick("DT", tuple(float(kelvins) for kelvins in range(10, 61))),
            ),
            given=("V_Z", "alpha_Z", "V_BE", "k_BE", "DT"),
            labels=LABELS,
            data="Its zener stands at {V_Z} with a coefficient of {alpha_Z}, its transistor at {V_BE} with {k_BE}. "
            "Then everything warms up by {DT}, the currents held.",
            ask="Find the change of the zener's voltage, that of the base-emitter voltage, and that of the output.",
            asks=(
                Find("DV_Z", "the change of the zener's voltage"),
                Find("DV_BE", "the change of the base-emitter voltage"),
                Find("DV_O", "the change of the output"),
            ),
            require=("DV_O*DV_O >= 0.000025", "0 >= alpha_Z + 0.0001"),
            slips=(SIGN_OF_ALL, PER_CENT, JUNCTION_RISES, ADDED),
            back=(BackLine("The zener's coefficient comes back", "(DV_O + DV_BE)/(V_Z*DT)", "alpha_Z"),),
            band={"alpha_Z": 0.3},
            bench="the coefficient in a data sheet is the middle of a wide band, and it moves with the current too",
        ),
        Level(
            about="In the circuit: output, zener current, volts for each kelvin",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "alpha_Z": "alpha_Z"}, (("V_Z", 3.3, 12.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_BE", (0.6, 0.65, 0.7, 0.75)),
                Pick("k_BE", JUNCTIONS),
                Pick("DT", SPANS),
                Pick("V_I", tuple(float(volts) for volts in range(9, 25))),
                Pick("R", values_between(100, 680, Series.E12)),
                Pick("h_FE", (50.0, 60.0, 75.0, 80.0, 100.0)),
                Pick("I_L", LOADS),
            ),
            given=("V_I", "R", "V_Z", "alpha_Z", "V_BE", "k_BE", "h_FE", "I_L", "DT"),
            labels=LABELS,
            data="The supply is {V_I}, the zener's resistor {R}, the load {I_L}. The zener stands at {V_Z} with a "
            "coefficient of {alpha_Z}, the base-emitter voltage is {V_BE} with {k_BE}. Then everything warms up by "
            "{DT}.",
            ask="Find the output, the zener current, the temperature sensitivity, and the change of the output.",
            asks=(
                Find("V_O", "the output voltage $V_O$"),
                Find("I_Z", "the zener current $I_Z$"),
                Find("S_T", "the temperature sensitivity $S_T$"),
                Find("DV_O", "the change of the output"),
            ),
            require=("V_I >= V_Z + 3", "I_Z >= 0.003", "I_Z*V_Z <= 0.6", "S_T*S_T >= 0.00000016"),
            slips=(
                ADDED_JUNCTION, NO_JUNCTION, LOAD_FROM_FEED, JUNCTION_LEFT_OUT, JUNCTION_TURNED, SHARE_OF_OUTPUT,
            ),
            band={"alpha_Z": 0.3, "V_Z": 0.05},
            bench="zener and transistor heat themselves as well, each by its own power, and not to one temperature",
        ),
        Level(
            about="Backwards: a measured drift, the zener behind it, one that would cancel it, the span allowed",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "true_alpha": "alpha_Z"}, (("V_Z", 5.1, 12.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_BE", (0.6, 0.65, 0.7, 0.75)),
                Pick("k_BE", JUNCTIONS),
                Pick("DT", SPANS),
                Work("DV_O", "(true_alpha*V_Z - k_BE)*DT", 3),
                Pick("DV_O_MAX", (0.02, 0.025, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1)),
            ),
            given=("V_Z", "V_BE", "k_BE", "DV_O", "DT", "DV_O_MAX"),
            labels={**LABELS, "DT": "rise of temperature at the measurement"},
            data="Its zener stands at {V_Z}, its transistor at {V_BE} with {k_BE}. As everything warmed up by {DT} the "
            "output was measured to rise by {DV_O}; it may rise by no more than {DV_O_MAX}.",
            ask="Find the temperature sensitivity, the zener's own coefficient, the coefficient that a zener of this "
            "voltage would need for no drift at all, and how far the temperature may rise.",
            asks=(
                Find("S_T", "the temperature sensitivity $S_T$"),
                Find("alpha_Z", "the zener's own coefficient"),
                Find("alpha_Z", "the coefficient for no drift", key="alpha_Z_NOM", at={"S_T": "0"}),
                Find("DT", "how far the temperature may rise", key="DT_MAX", at={"S_T": "S_T", "DV_O": "DV_O_MAX"}),
            ),
            require=("DT_MAX <= 60", "DT_MAX >= 3"),
            slips=(OUTPUT_FOR_ZENER, TURNED_BACK, NOT_OPPOSED),
            back=(BackLine("The allowed rise comes back", "S_T*DT_MAX", "DV_O_MAX"),),
            band={"DV_O": 0.02, "k_BE": 0.1},
            bench="no zener of that voltage has such a coefficient: take a lower one, or a diode in series with it",
        ),
    ),
)  # fmt: skip
