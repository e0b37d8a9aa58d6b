"""A pass transistor around a fixed regulator: it takes over what the regulator shall not carry."""

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
    PickPart,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Swap,
    Work,
)
from tutor.quantities.preferred import Series, values_between

REGULATOR = PickPart("three-terminal", {"V_REG": "V_REG", "I_Q": "I_Q", "V_DROP": "V_DROP"}, (("V_REG", 5.0, 15.0),))
GAIN = (20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 75.0)
RATINGS = (15.0, 30.0, 40.0, 65.0, 90.0, 125.0, 150.0)
LABELS = {
    "V_REG": "output of the regulator",
    "I_Q": "current out of its ground pin",
    "V_DROP": "drop-out voltage",
    "V_BE": "base-emitter voltage while it conducts",
    "V_BE_MIN": "lowest base-emitter voltage (hot)",
    "V_BE_MAX": "highest base-emitter voltage (cold)",
    "h_FE": "static current gain",
    "h_FE_MIN": "lowest current gain of the type",
    "h_FE_MAX": "highest current gain of the type",
    "I_REG": "current out of the regulator",
    "I_REG_MAX": "greatest current that the regulator is to carry",
    "I_RBE_MIN": "least current through $R_BE$ at which the transistor may begin",
    "tol_R": "tolerance of the resistor",
    "I_L": "fullest load",
}

WHOLE_INPUT = Slip(
    "whole-input",
    "I_RBE",
    Rewrite("V_I/R_BE"),
    "the whole input voltage put across the resistor",
    "The resistor lies across the junction, and a conducting junction holds its voltage.",
    "Which two leads of the transistor does the resistor join?",
)
SHARE_FORGOTTEN = Slip(
    "resistor-forgotten",
    "I_B",
    Rewrite("I_REG + I_Q"),
    "the resistor's share left out",
    "The regulator's input current comes by two ways: through the resistor and through the base.",
    "Write the current law at the regulator's input.",
)
DIVIDED = Slip(
    "gain-divides",
    "I_C",
    Rewrite("I_B/h_FE"),
    "divided by the gain",
    "The base current is the small one; the collector carries the gain times as much.",
    "Which of the two currents is the large one?",
)
BYPASS_ALONE = Slip(
    "regulator-forgotten",
    "I_L",
    Rewrite("I_C"),
    "the regulator's own current left out",
    "Regulator and transistor feed the same output, and the load has both.",
    "Write the current law at the output node.",
)
HIGH_GAIN = Slip(
    "kind-gain",
    "I_REG_MAX",
    Swap("h_FE", "h_FE_MAX"),
    "the highest gain used",
    "A transistor of the lowest gain leaves most to the regulator.",
    "Which transistor of the type helps least?",
)
ALL_BY_REGULATOR = Slip(
    "transistor-forgotten",
    "I_REG_MAX",
    Rewrite("I_L"),
    "the whole load given to the regulator",
    "Beyond a junction's voltage across the resistor the transistor takes nearly all that is more.",
    "What does the transistor take off the regulator?",
)
JUNCTION_FORGOTTEN = Slip(
    "junction-forgotten",
    "V_I_MIN",
    Rewrite("V_REG + V_DROP"),
    "the junction left out of the headroom",
    "The resistor before the regulator keeps a junction's voltage for itself.",
    "Which voltages stand between supply and output?",
)
LOAD_POWER = Slip(
    "load-power",
    "P_Q_MAX",
    Rewrite("V_O*I_C"),
    "the output voltage put across the transistor",
    "The transistor lies from supply to output and takes up the difference.",
    "Which two nodes do emitter and collector join?",
)
FULL_CURRENT = Slip(
    "whole-load-in-regulator",
    "P_D_MAX",
    Rewrite("(V_I - V_O)*I_L"),
    "the regulator's power from the whole load current",
    "Most of the load's current goes round the regulator, and the junction keeps its own voltage from it.",
    "Which current flows through the regulator itself?",
)
COLD_JUNCTION = Slip(
    "cold-junction",
    "R_BE_MAX",
    Swap("V_BE", "V_BE_MAX"),
    "the cold junction used for the turn-on",
    "A hot junction begins at the lowest voltage, so it needs the smallest resistor to stay off.",
    "Which junction begins first?",
    step="R_BE",
)
REGULATOR_ALONE = Slip(
    "whole-current-through-resistor",
    "R_BE_MIN",
    Rewrite("V_BE/I_REG_MAX"),
    "the regulator's whole current put through the resistor",
    "Of what enters the regulator a part is base current, and that makes the transistor carry the load.",
    "Where does the base current come from?",
)
ROUNDED_UP = Slip(
    "rounded-up",
    "R_BE",
    RoundAway(above=True),
    "rounded up past the bound",
    "A larger resistor turns a hot transistor on before it should.",
    "On which side of the bound does the transistor stay off?",
)
JUST_RATED = Slip(
    "just-rated",
    "P_QM",
    NoMargin(),
    "a rating with no margin",
    "A power rating holds for a case kept at 25 degrees Celsius; on a real heat-sink half of it is much.",
    "At what case temperature is the rating given?",
    reference=("S16",),
)

FAMILY = Family(
    title="A pass transistor around a regulator",
    about="A resistor before the regulator turns a transistor on when the regulator has its share; from there on the "
    "transistor carries nearly all the rest, and the regulator still rules.",
    lesson="series",
    circuit="three-terminal",
    scenarios=(
        "A cinema organ's relay rack needs more current than its regulator may carry.",
        "A model railway's signal cabin runs dozens of lamps from one regulated rail.",
        "The bench of a watchmakers' school shares one low-voltage rail among twenty places.",
        "A mountain rescue base charges its hand lamps from a boosted regulator.",
        "A tidal basin's gate controller drives its magnets from a rail with a transistor beside the regulator.",
        "A printing museum's type caster has a logic rail that also feeds its solenoids.",
        "A bell foundry's tuning bench lights and logs from one strong rail.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="From the regulator's share to the load",
            form="boosted",
            draws=(
                REGULATOR,
                Pick("V_I", tuple(float(volts) for volts in range(9, 26))),
                Pick("V_BE", (0.7,)),
                Pick("h_FE", GAIN),
                Pick("R_BE", values_between(1.5, 10, Series.E12)),
                Pick("I_REG", (0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6)),
            ),
            given=("V_I", "V_REG", "I_Q", "V_DROP", "V_BE", "h_FE", "R_BE", "I_REG"),
            labels=LABELS,
            data="The supply stands at {V_I}. The resistor before the regulator, from emitter to base of the "
            "transistor, is {R_BE}, and the regulator itself is seen to deliver {I_REG}.",
            ask="Find the current through the resistor, the base current, the collector current and the load current.",
            asks=(
                Find("I_RBE", "the current $I_RBE$ through the resistor"),
                Find("I_B", "the base current $I_B$"),
                Find("I_C", "the collector current $I_C$"),
                Find("I_L", "the load current $I_L$"),
            ),
            require=("I_B >= 0.01", "I_L <= 5", "I_REG <= 0.5*I_L"),
            slips=(WHOLE_INPUT, SHARE_FORGOTTEN, DIVIDED, BYPASS_ALONE),
            checks=(CheckLine("Headroom of the regulator", "V_IO >= V_DROP"),),
            back=(BackLine("The regulator's input less its own current", "I_RBE + I_B - I_Q", "I_REG"),),
            band={"V_BE": 0.1, "h_FE": 0.3},
            bench="the junction of a power transistor creeps from some 0.6 V to 0.9 V and more over such currents",
        ),
        Level(
            about="At a given load: the regulator's share over all gains, headroom, heat in both",
            form="boosted",
            draws=(
                REGULATOR,
                Pick("V_I", tuple(half / 2 for half in range(18, 51))),
                Pick("V_BE", (0.7,)),
                Pick("h_FE_MIN", (20.0, 25.0, 30.0)),
                Pick("h_FE_MAX", (60.0, 75.0, 80.0, 100.0)),
                Pick("R_BE", values_between(1.5, 10, Series.E12)),
                Pick("I_L", (1.5, 1.8, 2.0, 2.2, 2.5, 3.0, 3.5, 4.0)),
            ),
            given=("V_I", "V_REG", "I_Q", "V_DROP", "V_BE", "h_FE_MIN", "h_FE_MAX", "R_BE", "I_L"),
            ranges=("h_FE",),
            labels=LABELS,
            data="The supply stands at {V_I}, the load draws {I_L}, and the resistor before the regulator is {R_BE}. "
            "The transistor's gain may lie anywhere between {h_FE_MIN} and {h_FE_MAX}.",
            ask="Find the current of the resistor, the most that the regulator carries, the lowest line, and the "
            "greatest power in regulator and transistor.",
            asks=(
                Find("I_RBE", "the current $I_RBE$ through the resistor"),
                FindExtreme("I_REG", Extreme.GREATEST, "the most that the regulator carries"),
                FindBound("V_I", "V_IO >= V_DROP", "the lowest line"),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
            ),
            require=("V_I >= 1.05*V_I_MIN", "I_REG_MAX <= 0.8", "P_Q_MAX <= 40", "I_RBE >= 10*I_Q"),
            slips=(
                WHOLE_INPUT, HIGH_GAIN, ALL_BY_REGULATOR, JUNCTION_FORGOTTEN, FULL_CURRENT, LOAD_POWER,
            ),
            checks=(CheckLine("Headroom of the regulator", "V_IO >= V_DROP"),),
            band={"V_BE": 0.1},
            bench="the regulator's own short-circuit protection does not protect the transistor beside it",
        ),
        Level(
            about="Design: the resistor that turns the transistor on in time, over junctions and gains; the heat",
            form="boosted",
            draws=(
                REGULATOR,
                Pick("V_I_MIN", tuple(half / 2 for half in range(18, 51))),
                Pick("spread", (1.0, 2.0, 3.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("V_BE_MIN", (0.55, 0.6)),
                Pick("V_BE_MAX", (0.75, 0.8, 0.85)),
                Pick("h_FE_MIN", (20.0, 25.0, 30.0, 40.0)),
                Pick("h_FE_MAX", (60.0, 75.0, 80.0, 100.0)),
                Pick("I_L", (1.5, 1.8, 2.0, 2.2, 2.5, 3.0, 3.5, 4.0)),
                Pick("I_REG_MAX", (0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8)),
                Pick("I_RBE_MIN", (0.05, 0.06, 0.08, 0.1, 0.12, 0.15)),
                Pick("tol_R", (0.05,)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_REG", "I_Q", "V_DROP", "V_BE_MIN", "V_BE_MAX", "h_FE_MIN", "h_FE_MAX", "I_L",
                "I_REG_MAX", "I_RBE_MIN", "tol_R",
            ),
            ranges=("V_I", "V_BE", "h_FE"),
            labels=LABELS,
            data="From a supply between {V_I_MIN} and {V_I_MAX} the load draws up to {I_L}, of which the regulator is "
            "to carry no more than {I_REG_MAX}. Below {I_RBE_MIN} through the resistor no transistor may begin, hot or "
            "cold. Transistors are to be had for 15, 30, 40, 65, 90, 125 and 150 W; none is to run past half of that.",
            ask="Choose the resistor from the E24 values, and find the greatest power in regulator and transistor, "
            "with a rating for the transistor.",
            asks=(
                FindBound("R_BE", "I_RBE >= I_RBE_MIN", "the largest $R_BE$ that keeps the transistor off"),
                FindBound("R_BE", "I_REG <= I_REG_MAX", "the least $R_BE$ that spares the regulator"),
                Choose(
                    "R_BE",
                    Series.E24,
                    "an E24 value for $R_BE$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST,
                    "the largest value that fits spares the regulator most",
                    low="R_BE_MIN",
                    high="R_BE_MAX",
                    tolerance="tol_R",
                ),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
                ChooseRating(
                    "P_QM",
                    "P_Q_MAX",
                    RATINGS,
                    2.0,
                    "a rating for the transistor",
                    "no transistor is to run past half of its rating",
                ),
            ),
            require=("V_I_MIN >= V_REG + V_DROP + V_BE_MAX", "I_RBE_MIN >= 5*I_Q", "P_Q_MAX <= 60"),
            slips=(COLD_JUNCTION, REGULATOR_ALONE, ROUNDED_UP, FULL_CURRENT, LOAD_POWER, JUST_RATED),
            checks=(
                CheckLine("Turn-on, the resistor at the top of its tolerance", "I_RBE >= I_RBE_MIN",
                          {"R_BE": "R_BE*(1 + tol_R)"}),
                CheckLine("The regulator's share, the resistor at the bottom of its tolerance", "I_REG <= I_REG_MAX",
                          {"R_BE": "R_BE*(1 - tol_R)"}),
                CheckLine("Headroom at the lowest line", "V_IO >= V_DROP"),
            ),
            bench="a current limit of its own for the transistor needs a second one, across a resistor in its emitter",
        ),
    ),
)  # fmt: skip
