"""The figures by which supplies are compared, from readings: load regulation and output resistance, and backwards."""

from tutor.generate.family import BackLine, CheckLine, Family, Find, Level, Pick, Rewrite, Slip, Swap, Work

VOLTS = tuple(half / 2 for half in range(12, 61))
LOADS = (0.1, 0.12, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2)
FALL = (0.985, 0.98, 0.975, 0.96, 0.95, 0.94, 0.92, 0.9, 0.88, 0.86, 0.85, 0.84)
LABELS = {
    "V_OC": "voltage without load",
    "V_I": "voltage at full load",
    "I_I": "full-load current",
    "REG_LOAD_MAX": "greatest load regulation allowed",
    "V_I_1": "voltage at the first reading",
    "V_I_2": "voltage at the second reading",
    "I_I_1": "current at the first reading",
    "I_I_2": "current at the second reading",
}
NO_LOAD_BASE = Slip(
    "no-load-base",
    "REG_LOAD",
    Rewrite("(V_OC - V_I)/V_OC"),
    "the change divided by the no-load voltage",
    "By the definition in use the change is referred to the full-load voltage.",
    "Which voltage stands below the line in the definition given?",
    reference=("N03",),
)
LOAD_FOR_SOURCE = Slip(
    "load-for-source",
    "R_S",
    Rewrite("V_I/I_I"),
    "the load's resistance given for the supply's",
    "Voltage over current at full load is the load. The supply's resistance shows in how far the voltage fell.",
    "By how much did the voltage fall, and what current made it fall?",
)

FAMILY = Family(
    edition=2,
    title="Figures of regulation",
    about="Load regulation says how far a supply's voltage changes between no load and full load, as a share of the "
    "full-load voltage: small is good. The same readings give its resistance, and with it any other load.",
    lesson="raw-supply",
    circuit="source",
    assume={"load-regulation": "full-load"},
    scenarios=(
        "A repair shop compares two old bench supplies before one of them is thrown away.",
        "The supply of a swimming bath's timing pads is measured on the day before a race.",
        "A scout troop tests a supply found in the attic of its hut.",
        "A bookbinder's foil press has a supply whose voltage is written on its case by hand.",
        "An aviary's lamp supply is measured before it is sold.",
        "A supply from a scrapped jukebox is measured for another use.",
        "A language school checks the supply of its listening booths.",
    ),
    cautions=("mains-fed", "capacitors", "output"),
    levels=(
        Level(
            about="Load regulation and output resistance",
            draws=(
                Pick("V_OC", VOLTS),
                Pick("fall", FALL),
                Work("V_I", "V_OC*fall", 3),
                Pick("I_I", LOADS),
            ),
            given=("V_OC", "V_I", "I_I"),
            labels=LABELS,
            data="Without load the supply shows {V_OC}; while it delivers its full current of {I_I} it shows {V_I}.",
            ask="Find its load regulation, referred to the full-load voltage, and its resistance.",
            asks=(
                Find("REG_LOAD", "the load regulation"),
                Find("R_S", "the resistance $R_S$ of the supply"),
            ),
            require=("REG_LOAD >= 0.031", "REG_LOAD <= 0.2", "V_I >= 5"),
            slips=(
                NO_LOAD_BASE,
                Slip(
                    "ratio-for-change",
                    "REG_LOAD",
                    Rewrite("V_I/V_OC"),
                    "the ratio of the voltages given for the change",
                    "Regulation is a change over a voltage; a steady supply has little of it.",
                    "Is it a measure of steadiness or of change?",
                ),
                LOAD_FOR_SOURCE,
            ),
            back=(BackLine("The full-load voltage comes back", "V_OC - I_I*R_S", "V_I"),),
            band={"V_OC": 0.002, "V_I": 0.002},
            bench="a small change is a difference of near-equal readings, so a small error of the meter is a large one "
            "in the regulation",
        ),
        Level(
            about="Two loaded readings: the no-load voltage must be found first",
            draws=(
                Pick("true_V", VOLTS),
                Pick("true_R", (0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 2.4, 3.0)),
                Pick("I_I_1", (0.05, 0.1, 0.15, 0.2)),
                Pick("I_I_2", (0.4, 0.5, 0.6, 0.75, 0.8)),
                Work("V_I_1", "true_V - I_I_1*true_R"),
                Work("V_I_2", "true_V - I_I_2*true_R"),
                Pick("I_I", (1.0, 1.2, 1.5)),
            ),
            given=("V_I_1", "I_I_1", "V_I_2", "I_I_2", "I_I"),
            labels=LABELS,
            data="The supply shows {V_I_1} at {I_I_1} and {V_I_2} at {I_I_2}; its load line is straight. Its full-load "
            "current is {I_I}.",
            ask="Find its resistance, the voltages without load and at full load, and the load regulation, referred to "
            "the full-load voltage.",
            asks=(
                Find("R_S", "the resistance $R_S$ of the supply"),
                Find("V_OC", "the voltage $V_OC$ without load"),
                Find("V_I", "the voltage $V_I$ at full load"),
                Find("REG_LOAD", "the load regulation"),
            ),
            require=("V_I >= 5", "REG_LOAD <= 0.2"),
            slips=(
                Slip(
                    "currents-added",
                    "R_S",
                    Rewrite("(V_I_1 - V_I_2)/(I_I_1 + I_I_2)"),
                    "the two currents added",
                    "Only the change of current makes the change of voltage.",
                    "By how much did the current change between the readings?",
                ),
                Slip(
                    "sag-added",
                    "V_I",
                    Rewrite("V_OC + I_I*R_S"),
                    "the sag added instead of taken away",
                    "Current drawn lowers the terminal voltage.",
                    "Does a supply stand higher or lower when more is drawn?",
                ),
                Slip(
                    "readings-only",
                    "REG_LOAD",
                    Rewrite("(V_I_1 - V_I_2)/V_I_2"),
                    "the two readings taken for no load and full load",
                    "Regulation is from no load to full load, and neither reading was at either.",
                    "Was the supply without load at the first reading?",
                ),
            ),
            back=(BackLine("The second reading comes back", "V_OC - I_I_2*R_S", "V_I_2"),),
            bench="take the two readings far apart: what lies between them is what is measured",
        ),
        Level(
            about="Backwards: the greatest resistance that a regulation allows, and the least load resistance",
            draws=(
                Pick("V_OC", VOLTS),
                Pick("I_I", LOADS),
                Pick("REG_LOAD_MAX", (0.035, 0.04, 0.05, 0.06, 0.075, 0.08, 0.1, 0.12, 0.15, 0.2)),
            ),
            given=("V_OC", "I_I", "REG_LOAD_MAX"),
            labels=LABELS,
            data="A supply of {V_OC} without load is to deliver {I_I} with a load regulation, referred to the "
            "full-load "
            "voltage, of no more than {REG_LOAD_MAX}.",
            ask="Find the least voltage at full load, the greatest resistance that the supply may have, and the load "
            "resistance that draws the full current there.",
            asks=(
                Find("V_I", "the least voltage at full load", key="V_I_MIN", at={"REG_LOAD": "REG_LOAD_MAX"}),
                Find("R_S", "the greatest resistance $R_S$ of the supply", at={"V_I": "V_I_MIN"}),
                Find("R_L", "the load resistance at full load", at={"V_I": "V_I_MIN"}),
            ),
            slips=(
                Slip(
                    "share-of-no-load",
                    "V_I_MIN",
                    Rewrite("V_OC*(1 - 10*REG_LOAD)"),
                    "a per cent read as a tenth",
                    "Five per cent are 0.05, not 0.5.",
                    "What is a per cent as a number?",
                ),
                Slip(
                    "product-for-quotient",
                    "V_I_MIN",
                    Rewrite("V_OC*(1 + REG_LOAD)"),
                    "the change added to the no-load voltage",
                    "Under load the voltage is lower than without.",
                    "Is the full-load voltage above or below that without load?",
                ),
                Slip(
                    "load-for-source",
                    "R_S",
                    Rewrite("V_I_MIN/I_I"),
                    "the load's resistance given for the supply's",
                    "The supply's resistance takes only what is lost between no load and full load.",
                    "Which voltage stands across the supply's own resistance?",
                ),
                Slip(
                    "no-load-resistance",
                    "R_L",
                    Swap("V_I", "V_OC"),
                    "the no-load voltage put across the load",
                    "At full load the terminals stand at the lower voltage.",
                    "What do the terminals read while that load is on?",
                ),
            ),
            checks=(CheckLine("With that resistance", "REG_LOAD <= REG_LOAD_MAX"),),
            bench="a supply's resistance rises as its windings warm",
        ),
    ),
)
