"""A three-terminal regulator as a current source: the reference across one resistor, the load below it."""

from tutor.generate.family import (
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
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

PIN = tuple(microamperes * 1e-6 for microamperes in (40, 45, 50, 55, 60, 75, 80, 100))
DROPS = (1.7, 2.0, 2.2, 2.5, 3.0)
SHELF = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
LABELS = {
    "V_REF": "reference, between output and adjust pin",
    "V_REF_MIN": "lowest reference of the type",
    "V_REF_MAX": "highest reference of the type",
    "I_ADJ": "current out of the adjust pin",
    "V_DROP": "drop-out voltage",
    "I_REG_MIN": "least current out of the regulator at which it regulates",
    "tol_R": "tolerance of the resistor",
    "I_L_MIN": "least current wanted",
    "I_L_MAX": "greatest current wanted",
    "V_O_MIN": "least voltage of the load at its current",
    "V_O_MAX": "greatest voltage of the load at its current",
}

WHOLE_INPUT = Slip(
    "whole-input",
    "I_REG",
    Rewrite("V_I/R"),
    "the whole input voltage put across $R$",
    "$R$ joins output and adjust pin, and between these the regulator holds its reference.",
    "Which two pins does $R$ join?",
)
ACROSS_LOAD = Slip(
    "reference-across-load",
    "I_L",
    Rewrite("V_REF/R_L"),
    "the reference put across the load",
    "The reference stands across $R$; the load's voltage is what its current makes of it.",
    "Across which part does the regulator hold its reference?",
)
PIN_ALONE = Slip(
    "pin-alone",
    "I_L",
    Rewrite("I_ADJ"),
    "the pin's current alone given to the load",
    "What $R$ carries and what the adjust pin gives meet at the load.",
    "Write the current law at the load's upper node.",
)
REFERENCE_OUT = Slip(
    "reference-as-output",
    "V_O",
    Rewrite("V_REF"),
    "the reference given for the load's voltage",
    "The load stands below the adjust pin; its voltage is its resistance times the current that is set.",
    "What fixes the voltage of a load that is fed a current?",
)
ALL_OF_THE_LINE = Slip(
    "line-for-load",
    "V_O",
    Rewrite("V_I - V_REF"),
    "all that the line leaves given to the load",
    "The regulator takes up whatever the load does not need.",
    "What takes up the rest of the input voltage?",
)
REFERENCE_FORGOTTEN = Slip(
    "reference-forgotten",
    "V_O_MAX",
    Rewrite("V_I_MIN - V_DROP"),
    "the reference left out of the headroom",
    "From the supply down to the load one passes the regulator and then the reference across $R$.",
    "Which voltages stand between the supply and the load?",
)
DROP_FORGOTTEN = Slip(
    "drop-out-forgotten",
    "V_O_MAX",
    Rewrite("V_I_MIN - V_REF_MAX"),
    "the drop-out voltage left out",
    "Without its drop-out voltage across it the regulator holds nothing.",
    "What must stand across the regulator itself?",
)
HIGH_LINE = Slip(
    "high-line",
    "V_O_MAX",
    Rewrite("V_I_MAX - V_REF_MAX - V_DROP"),
    "the highest line used for the headroom",
    "The line leaves least for the load when it is lowest.",
    "Which line leaves least for the load?",
)
WHOLE_INPUT_HEAT = Slip(
    "whole-input-heat",
    "P_R_MAX",
    Rewrite("V_I_MAX^2/R"),
    "resistor power from the whole input voltage",
    "Only the reference stands across $R$.",
    "Square the voltage across $R$ itself.",
)
LOW_LINE_HEAT = Slip(
    "low-line-heat",
    "P_D_MAX",
    Swap("V_I", "V_I_MIN"),
    "the regulator's power taken at the lowest line",
    "The regulator takes up what the line has too much: most at the highest line.",
    "Which line leaves most across the regulator?",
)
JUST_RATED = Slip(
    "just-rated",
    "P_RM",
    NoMargin(),
    "a rating with no margin",
    "A part run at its full rating is as hot as it may ever be; leave the stated margin.",
    "How hot is a part at exactly its rating?",
    reference=("S16",),
)
LOW_REFERENCE = Slip(
    "low-reference",
    "R_MIN",
    Swap("V_REF", "V_REF_MIN"),
    "the lowest reference used for the greatest current",
    "The highest reference drives most current, and sets the least $R$.",
    "Which sample drives most?",
    step="R",
)
HIGH_REFERENCE = Slip(
    "high-reference",
    "R_MAX",
    Swap("V_REF", "V_REF_MAX"),
    "the highest reference used for the least current",
    "The lowest reference drives least current, and sets the largest $R$.",
    "Which sample drives least?",
    step="R",
)
WHOLE_LINE = Slip(
    "line-across-resistor",
    "R_MAX",
    Rewrite("(V_I_MIN - V_O_MAX)/I_L_MIN"),
    "all that the line has over the load put across $R$",
    "Most of that stands across the regulator; $R$ has the reference and no more.",
    "What does the regulator hold across $R$?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger $R$ sets too small a current with the lowest reference.",
    "On which side of the bound is the current enough?",
    reference=("S14",),
)
FULL_LOAD_VOLTAGE = Slip(
    "load-at-its-highest",
    "P_D_MAX",
    Swap("V_O", "V_O_MAX"),
    "the load's greatest voltage used for the regulator's worst corner",
    "What the load does not need stands across the regulator: it is hottest with the load at its least.",
    "With which load is most left across the regulator?",
)

FAMILY = Family(
    title="A current source from a three-terminal regulator",
    about="Put the load below the adjust pin, and the regulator holds its reference across one resistor, whatever the "
    "load's voltage is: a current is set. Headroom and heat follow the load.",
    lesson="series",
    circuit="three-terminal",
    assume={"pin-current": "exact"},
    scenarios=(
        "A string of lamps in an aquarium's lid is fed a steady current by a regulator and a resistor.",
        "A greenhouse soil probe is driven with a current that must not change with the soil.",
        "The heating wire of a foam cutter is given the same current in every pass.",
        "A gold plater's rinsing bath is run at a set current from a small regulator.",
        "A museum case is lit by light-emitting diodes in series behind a current source.",
        "A charger for a theatre's headset cells gives a steady current through the night.",
        "A resistance thermometer in a bread oven gets its current from a regulator.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The current, and the voltage that the load makes of it",
            form="current-source",
            draws=(
                Pick("V_REF", (1.25,)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("R", values_between(10, 120, Series.E24)),
                Pick("R_L", values_between(22, 1000, Series.E24)),
                Pick("V_I", tuple(float(volts) for volts in range(9, 31))),
            ),
            given=("V_I", "V_REF", "I_ADJ", "V_DROP", "R", "R_L"),
            labels=LABELS,
            data="The resistor between output and adjust pin is {R}, the load below it {R_L}, and the supply stands at "
            "{V_I}.",
            ask="Find the current through the resistor, that through the load, and the load's voltage.",
            asks=(
                Find("I_REG", "the current $I_REG$ through the resistor"),
                Find("I_L", "the load current $I_L$"),
                Find("V_O", "the voltage $V_O$ across the load"),
            ),
            require=("V_O >= 1.5", "V_I <= 3*V_O + 5"),
            slips=(WHOLE_INPUT, ACROSS_LOAD, PIN_ALONE, REFERENCE_OUT, ALL_OF_THE_LINE),
            checks=(CheckLine("Headroom", "V_IO >= V_DROP"),),
            band={"V_REF": 0.04, "R": 0.01},
            bench="the reference of one type spreads by a few per cent, and the current with it; the load's own "
            "resistance makes no difference",
        ),
        Level(
            about="Every sample of the type: current, compliance, ratings, load shorted",
            form="current-source",
            draws=(
                Pick("V_REF_MIN", (1.2, 1.22)),
                Pick("V_REF_MAX", (1.28, 1.3)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("R", values_between(2.2, 47, Series.E24)),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 49))),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
            ),
            given=("V_I_MIN", "V_I_MAX", "V_REF_MIN", "V_REF_MAX", "I_ADJ", "V_DROP", "R"),
            ranges=("V_I", "V_REF"),
            labels=LABELS,
            data="The resistor between output and adjust pin is {R}, the supply lies between {V_I_MIN} and {V_I_MAX}, "
            "and references of the type between {V_REF_MIN} and {V_REF_MAX}. The load may be shorted. Resistors on the "
            "shelf are rated 0.25, 0.5, 1, 2, 5 and 10 W; a part is to run at no more than two thirds of its rating.",
            ask="For every sample of the type find the least and the greatest current, the greatest voltage that the "
            "load may need, the power in the resistor with a rating for it, and the greatest power in the regulator.",
            asks=(
                FindExtreme("I_L", Extreme.LEAST, "the least current"),
                FindExtreme("I_L", Extreme.GREATEST, "the greatest current"),
                FindBound("V_O", "V_IO >= V_DROP", "the greatest voltage that the load may need"),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                ChooseRating(
                    "P_RM",
                    "P_R_MAX",
                    SHELF,
                    1.5,
                    "a rating for $R$",
                    "no more than two thirds of a rating is to be used",
                ),
                FindExtreme(
                    "P_D", Extreme.GREATEST, "the greatest power in the regulator, the load shorted", at={"V_O": "0"}
                ),
            ),
            require=("P_D_MAX <= 20", "P_R_MAX >= 0.02"),
            slips=(REFERENCE_FORGOTTEN, DROP_FORGOTTEN, HIGH_LINE, WHOLE_INPUT_HEAT, JUST_RATED, LOW_LINE_HEAT),
            checks=(
                CheckLine("Headroom with the load at its greatest voltage", "V_IO >= V_DROP", {"V_O": "V_O_MAX"}),
                CheckLine("The resistor at its hottest", "P_R <= P_RM"),
            ),
            band={"R": 0.01},
            bench="a source of current is safe with its load shorted only if its heat-sink is made for that",
        ),
        Level(
            about="Design: the resistor for a band of currents, its rating, headroom and heat at every corner",
            form="current-source",
            draws=(
                Pick("wanted", (0.02, 0.025, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.35, 0.5)),
                Pick("band", (0.07, 0.08, 0.09, 0.1)),
                Work("I_L_MIN", "wanted*(1 - band)", 3),
                Work("I_L_MAX", "wanted*(1 + band)", 3),
                Pick("V_REF_MIN", (1.2, 1.22)),
                Pick("V_REF_MAX", (1.28, 1.3)),
                Pick("I_ADJ", PIN),
                Pick("V_DROP", DROPS),
                Pick("I_REG_MIN", (0.005, 0.006, 0.008, 0.01)),
                Pick("tol_R", (0.01, 0.02)),
                Pick("V_O_MAX", tuple(half / 2 for half in range(6, 41))),
                Pick("share", (0.5, 0.6, 0.7, 0.8)),
                Work("V_O_MIN", "V_O_MAX*share", 2),
                Pick("V_I_MIN", tuple(half / 2 for half in range(16, 57))),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "I_L_MIN", "I_L_MAX", "V_O_MIN", "V_O_MAX", "V_REF_MIN", "V_REF_MAX", "I_ADJ",
                "V_DROP", "I_REG_MIN", "tol_R",
            ),
            ranges=("V_I", "V_O", "V_REF"),
            labels=LABELS,
            data="A current between {I_L_MIN} and {I_L_MAX} is wanted through a load whose voltage lies between "
            "{V_O_MIN} and {V_O_MAX}, from a supply between {V_I_MIN} and {V_I_MAX}. Resistors on the shelf are rated "
            "0.25, 0.5, 1, 2, 5 and 10 W; a part is to run at no more than two thirds of its rating.",
            ask="Choose the resistor from the E24 values for every sample of the type, rate it, and find the greatest "
            "power in the regulator.",
            asks=(
                FindBound("R", "I_L <= I_L_MAX", "the least $R$ that lets no more current through"),
                FindBound("R", "I_L >= I_L_MIN", "the largest $R$ that lets enough current through"),
                Choose(
                    "R",
                    Series.E24,
                    "an E24 value for $R$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits makes least heat",
                    low="R_MIN",
                    high="R_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_R", Extreme.GREATEST, "the greatest power in $R$"),
                ChooseRating(
                    "P_RM",
                    "P_R_MAX",
                    SHELF,
                    1.5,
                    "a rating for $R$",
                    "no more than two thirds of a rating is to be used",
                ),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
            ),
            require=("V_I_MIN >= V_O_MAX + V_DROP + V_REF_MAX", "V_I_MIN <= V_O_MAX + 14", "P_D_MAX <= 15"),
            slips=(LOW_REFERENCE, HIGH_REFERENCE, WHOLE_LINE, ROUNDED_UP, JUST_RATED, FULL_LOAD_VOLTAGE, LOW_LINE_HEAT),
            checks=(
                CheckLine("Least current, $R$ at the top of its tolerance", "I_L >= I_L_MIN", {"R": "R*(1 + tol_R)"}),
                CheckLine(
                    "Greatest current, $R$ at the bottom of its tolerance", "I_L <= I_L_MAX", {"R": "R*(1 - tol_R)"}
                ),
                CheckLine("Headroom at lowest line and greatest load voltage", "V_IO >= V_DROP"),
                CheckLine("Least current of the regulator", "I_REG >= I_REG_MIN", {"R": "R*(1 + tol_R)"}),
            ),
            bench="the regulator's own drift, some tens of parts in a million for a kelvin, is far smaller than this "
            "spread",
        ),
    ),
)  # fmt: skip
