"""The raw supply as V_OC behind R_S, from two readings; what it gives at another load, and how far it sags."""

from tutor.generate.family import BackLine, Family, Find, FindBound, Level, Pick, Rewrite, Slip, Swap, Turn, Work
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(20, 61))
OHMS = (0.8, 1.0, 1.2, 1.5, 2.0, 2.4, 3.0, 3.5, 4.0, 5.0)
LIGHT = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4)
HEAVY = (0.5, 0.6, 0.75, 0.8, 0.9, 1.0, 1.2)

READINGS = (
    Pick("true_V", VOLTS),
    Pick("true_R", OHMS),
    Pick("I_I_1", LIGHT),
    Pick("I_I_2", HEAVY),
    Work("V_I_1", "true_V - I_I_1*true_R"),
    Work("V_I_2", "true_V - I_I_2*true_R"),
)
READ = "Its terminals read {V_I_1} while it delivers {I_I_1}, and {V_I_2} while it delivers {I_I_2}."
LABELS = {
    "V_I_1": "terminal voltage, first reading",
    "I_I_1": "current drawn, first reading",
    "V_I_2": "terminal voltage, second reading",
    "I_I_2": "current drawn, second reading",
    "I_I": "current at full load",
    "R_L_1": "load resistance, first reading",
    "R_L_2": "load resistance, second reading",
    "V_I_MIN": "least input voltage the regulator needs",
}

SECOND_READING = BackLine("The second reading comes back", "V_OC - I_I_2*R_S", "V_I_2")

ONE_READING = Slip(
    "one-reading",
    "R_S",
    Rewrite("V_I_2/I_I_2"),
    "the resistance taken from one reading alone",
    "One voltage over one current is the load's resistance. The source's resistance shows in the change between two "
    "readings.",
    "How much does the terminal voltage fall, and by how much did the current rise meanwhile?",
)
MILLIAMPERES = Slip(
    "milliamperes",
    "R_S",
    Rewrite("(V_I_1 - V_I_2)/((I_I_2 - I_I_1)*1000)"),
    "milliamperes put in as amperes",
    "The prefix was dropped, so the result is a thousand times out.",
    "Write the unit beside each number before dividing: volts over what?",
    reference=("N01",),
)
SUM_OF_CURRENTS = Slip(
    "sum-of-currents",
    "R_S",
    Turn("I_I_1"),
    "the two currents added",
    "Only the change of current makes the change of voltage, so the currents are subtracted.",
    "By how much did the current change between the readings?",
)
READING_AS_OPEN = Slip(
    "reading-as-open",
    "V_OC",
    Rewrite("V_I_1"),
    "the first reading taken as the open-circuit voltage",
    "A current was already flowing at that reading, so part of $V_OC$ was lost in $R_S$.",
    "What would the terminals read if the last of the load were taken off?",
)
SAG_TURNED = Slip(
    "sag-turned",
    "V_OC",
    Rewrite("V_I_2 - I_I_2*R_S"),
    "the sag subtracted where it should be added back",
    "Under load the terminals stand below $V_OC$ by $I_I*R_S$; going back to no load adds it.",
    "Is the open-circuit voltage above or below a loaded reading?",
)
NO_LOAD_BASE = Slip(
    "no-load-base",
    "REG_LOAD",
    Swap("(V_OC - V_I)/V_I", "(V_OC - V_I)/V_OC"),
    "the change divided by the no-load voltage",
    "By the definition in use the change is referred to the full-load voltage.",
    "Which voltage stands below the line in the definition given?",
    reference=("N03",),
)
SAG_FORGOTTEN = Slip(
    "sag-added",
    "V_I",
    Turn("I_I*R_S"),
    "the sag added instead of taken away",
    "Current drawn through $R_S$ lowers the terminal voltage.",
    "Does a raw supply stand higher or lower when more is drawn?",
)

FAMILY = Family(
    edition=2,
    title="A raw supply as a source with resistance",
    about="Two readings fix the straight load line of an unregulated supply: its open-circuit voltage and its "
    "resistance. The line then says what any other load will find.",
    lesson="raw-supply",
    circuit="source",
    assume={"load-regulation": "full-load"},
    scenarios=(
        "A lighthouse keeper logs the raw supply of a lamp-changer before fitting a regulator behind it.",
        "The raw supply of a greenhouse's watering valves is measured with few valves open and then with many.",
        "A theatre's dimmer desk has an unregulated auxiliary supply, which the stage crew load-test in the interval.",
        "A tide gauge on a pier runs from a raw supply in the harbour office, measured once at slack water and once "
        "while its pump runs.",
        "The supply of an old weaving loom's thread counter is to be re-used, and is measured before anything is "
        "built on it.",
        "A model railway club loads its yard supply with a few wagons' lamps, then with the whole yard.",
        "In a bakery, the raw supply of a dough timer is checked with the display dimmed and then fully lit.",
    ),
    cautions=("mains-fed", "capacitors", "output"),
    levels=(
        Level(
            about="Slope and intercept from two readings",
            draws=READINGS,
            given=("V_I_1", "I_I_1", "V_I_2", "I_I_2"),
            labels=LABELS,
            data=READ + " Between the readings its load line is straight.",
            ask="Find the source resistance and the open-circuit voltage.",
            asks=(
                Find("R_S", "the resistance $R_S$ behind the terminals"),
                Find("V_OC", "the open-circuit voltage $V_OC$"),
            ),
            require=("V_I_2 >= 0.7*V_OC",),
            slips=(ONE_READING, MILLIAMPERES, SUM_OF_CURRENTS, READING_AS_OPEN, SAG_TURNED),
            back=(SECOND_READING,),
            band={"V_I_1": 0.005, "V_I_2": 0.005},
            bench="a meter good to 0.5 % already spreads $R_S$ widely, because it rests on a small difference of "
            "two voltages; take the readings far apart",
        ),
        Level(
            about="The line used: another load, and the regulation",
            draws=(*READINGS, Pick("I_I", (0.35, 0.45, 0.55, 0.7, 0.85, 1.1, 1.3, 1.4))),
            given=("V_I_1", "I_I_1", "V_I_2", "I_I_2", "I_I"),
            labels=LABELS,
            data=READ + " At full load {I_I} will be drawn.",
            ask="Model the supply, then find its terminal voltage at full load and its load regulation, referred to "
            "the full-load voltage.",
            asks=(
                Find("R_S", "the resistance $R_S$ behind the terminals"),
                Find("V_OC", "the open-circuit voltage $V_OC$"),
                Find("V_I", "the terminal voltage $V_I$ at full load"),
                Find("REG_LOAD", "the load regulation from no load to full load, referred to full load"),
            ),
            require=("REG_LOAD >= 0.05", "REG_LOAD <= 0.2"),
            slips=(ONE_READING, MILLIAMPERES, READING_AS_OPEN, SAG_FORGOTTEN, NO_LOAD_BASE),
            back=(SECOND_READING,),
            band={"V_I_1": 0.005, "V_I_2": 0.005},
            bench="the winding warms under load and $R_S$ rises by some tenths, so a long full-load run sags a little "
            "further than this",
        ),
        Level(
            about="Readings across resistors, and the heaviest load a regulator can stand",
            draws=(
                Pick("true_V", VOLTS),
                Pick("true_R", OHMS),
                Pick("R_L_1", values_between(68, 220, Series.E12)),
                Pick("R_L_2", values_between(10, 47, Series.E12)),
                Work("V_I_1", "true_V*R_L_1/(R_L_1 + true_R)", 4),
                Work("V_I_2", "true_V*R_L_2/(R_L_2 + true_R)", 4),
                Pick("share", (0.7, 0.75, 0.8, 0.85)),
                Work("V_I_MIN", "share*true_V", 2),
            ),
            given=("V_I_1", "R_L_1", "V_I_2", "R_L_2", "V_I_MIN"),
            labels=LABELS,
            data="Its terminals read {V_I_1} across {R_L_1} and {V_I_2} across {R_L_2}. The regulator to follow needs "
            "at least {V_I_MIN} at its input.",
            ask="Find the two currents, model the supply, and find the least load resistance that still leaves the "
            "regulator its input.",
            asks=(
                Find("I_I_1", "the current $I_I_1$ of the first reading"),
                Find("I_I_2", "the current $I_I_2$ of the second reading"),
                Find("R_S", "the resistance $R_S$ behind the terminals"),
                Find("V_OC", "the open-circuit voltage $V_OC$"),
                FindBound("R_L", "V_I >= V_I_MIN", "the least load resistance for which $V_I >= V_I_MIN$"),
            ),
            require=("V_I_2 >= 0.6*V_OC", "V_I_1 - V_I_2 >= 0.05*V_I_1"),
            slips=(
                ONE_READING,
                SUM_OF_CURRENTS,
                Slip(
                    "source-for-load",
                    "R_L_MIN",
                    Rewrite("R_S"),
                    "the source's own resistance given for the load's",
                    "The load has the terminal voltage across it, not the part lost inside the source.",
                    "Which voltage stands across the load, and which across $R_S$?",
                ),
                Slip(
                    "whole-voltage",
                    "R_L_MIN",
                    Rewrite("V_OC/((V_OC - V_I_MIN)/R_S)"),
                    "the open-circuit voltage put across the load",
                    "Across the load stands only what $R_S$ leaves of $V_OC$.",
                    "What do the terminals read at that current?",
                ),
            ),
            back=(SECOND_READING,),
            band={"V_I_1": 0.005, "V_I_2": 0.005},
            bench="two readings this near each other make $R_S$ uncertain; a third reading near the limit is worth "
            "more "
            "than a better meter",
        ),
    ),
)
