"""A brief: a specification and a stock list, and a supply from the mains to the rail to be made of what is there.

Whatever meets the specification at every line, load and temperature is right; what each part has to spare is told, and
whose margin is the least.
"""

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
    PickPart,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Stock,
    Work,
)
from tutor.quantities.preferred import Series

MAINS = (
    Pick("f", (50.0, 60.0)),
    Work("V_PRI_NOM", "230 - 11*(f - 50)"),  # 230 V with 50 Hz, 120 V with 60 Hz
    Pick("down", (0.9, 0.88, 0.85)),
    Work("V_PRI_MIN", "V_PRI_NOM*down", 4),
    Work("V_PRI_MAX", "V_PRI_NOM*1.1", 4),
    Pick("V_F", (0.8, 0.9, 1.0)),
)
AIR = (Pick("T_A_MIN", (5.0, 10.0, 15.0)), Pick("T_A_MAX", (35.0, 40.0, 45.0, 50.0)), Pick("T_JM", (150.0,)))
LOADS = (0.1, 0.12, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
OUTPUTS = (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
JOINTS = (0.3, 0.4, 0.5, 0.6, 0.8, 1.0)
RESERVOIRS = Stock("capacitors", "C", "capacitor", "type")
WINDINGS = Stock("transformers", "V_SEC", "transformer", "type")
VOLTAGES = Stock("capacitors", "V_CM", "capacitor", "type")
SINKS = Stock("heat-sinks", "R_thSA", "heat-sink", "build")
TRANSISTORS = Stock("pass-transistors", "P_QM", "transistor", "type", where=(("P_QM", 10, 100), ("h_FE_MIN", 20, 100)))
LABELS = {
    "V_PRI_NOM": "mains voltage at which windings are rated, r.m.s.", "V_PRI_MIN": "lowest mains voltage, r.m.s.",
    "V_PRI_MAX": "highest mains voltage, r.m.s.", "V_F": "forward drop of each diode",
    "V_RIP_MAX": "greatest ripple allowed, peak to peak",
    "V_O": "output, which the regulator holds", "V_O_NOM": "output wanted", "V_O_MIN": "least output allowed",
    "V_O_MAX": "greatest output allowed", "tol_Z": "tolerance of the zeners in stock",
    "V_HEAD_MIN": "least that must stand over the output in the trough, for regulator and winding together",
    "V_Z": "zener voltage (straight characteristic)", "V_BE": "base-emitter voltage", "P_ZM": "rating of the zener",
    "h_FE": "lowest current gain of all transistors in stock", "I_ZK": "least zener current for good regulation",
    "I_L_MIN": "lightest load", "I_L_MAX": "fullest load", "T_A_MIN": "coldest air around it",
    "T_A_MAX": "hottest air around it", "T_C_NOM": "case at which transistors are rated",
    "V_SEC_1": "rated voltage of the winding", "V_CM": "rating of the reservoir",
}  # fmt: skip
HIGHEST = {"V_SEC": "V_SEC_1*V_PRI_MAX/V_PRI_NOM"}  # the winding chosen, at either end of the line
LOWEST = {"V_SEC": "V_SEC_1*V_PRI_MIN/V_PRI_NOM"}
SAGGING = {**LOWEST, "C": "C*(1 - tol_C)"}

OFF_THE_RATING = Slip(
    "line-left-out", "V_SEC_1_MIN", Rewrite("V_SEC_MIN"), "the line taken to stay where it is",
    "What must be there at the lowest line is more at the voltage for which windings are rated.",
    "At which mains voltage is a winding's figure true?",
)
HEAT_AT_STATED = Slip(
    "heat-at-stated-line", "V_SEC_1_MAX", Rewrite("V_SEC_MAX"), "the stated line taken for the hottest",
    "The winding follows the mains up as well, and what it has too much of warms the regulator.",
    "At which mains voltage is the regulator hottest?",
)
TOO_HIGH = Slip(
    "rounded-up", "V_SEC_1", RoundAway(above=True), "a winding above the bound",
    "A higher winding makes the junction too hot at the highest line.",
    "Where does all go that the winding has too much of?",
)
SMALL_RESERVOIR = Slip(
    "rounded-down", "C", RoundAway(above=False), "rounded down past the bound",
    "A smaller reservoir sags further than is allowed.", "On which side of the bound is the trough high enough?",
)
LOADED_RATING = Slip(
    "loaded-rating", "V_SPK_MAX", Rewrite("sqrt(2)*V_SEC_1 - 2*V_F - I_L_MAX/(2*f*C)"),
    "the loaded d.c. voltage taken for the highest",
    "Without load and at the highest line the capacitor sits at the crest, above its loaded value.",
    "When is the voltage across the reservoir highest?", reference=("U14",),
)
STARVED = Slip(
    "rounded-up", "R", RoundAway(above=True), "rounded up past the bound",
    "A larger $R$ starves base or zener at full load and in the trough of the lowest line.",
    "On which side of the bound does the zener stay fed?",
)
ROOM_AIR = Slip(
    "room-air", "R_thSA_MAX", Rewrite("(T_J - 25)/P_Q - R_thJC - R_thCS"),
    "a room of 25 °C taken for the air around it",
    "Inside a box and in summer the air is hotter; the hottest that is stated counts.",
    "Where will this stand, and when?", reference=("H06",),
)
WORSE_SINK = Slip(
    "worse-sink", "R_thSA", RoundAway(above=True), "a heat-sink with more than the bound",
    "Fewer kelvins for each watt make the better heat-sink, and more than the bound makes the junction too hot.",
    "Which is better, 2 K/W or 5 K/W?",
)
JUST_RATED = Slip(
    "just-rated", "P_QM", NoMargin(), "a rating equal to the power",
    "A rating is for a case held at 25 °C, which no heat-sink in warm air can do; leave the stated margin.",
    "At which temperature of the case is a transistor's rating given?", reference=("S16",),
)
OUTPUT = (
    FindBound("V_Z", "V_O >= V_O_MIN", "the least zener that keeps the output up"),
    FindBound("V_Z", "V_O <= V_O_MAX", "the greatest zener that keeps the output down"),
    Choose(
        "V_Z", Series.E24, "a zener of the E24 values whose tolerance band lies between the bounds", Prefer.SMALLEST,
        "the smallest asks least of all that stands before it", low="V_Z_MIN", high="V_Z_MAX", tolerance="tol_Z",
    ),
)  # fmt: skip
FED = FindBound(
    "R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener at the lowest moment",
    at={"V_I": "V_TROUGH_MIN", "V_Z": "V_Z*(1 + tol_Z)"},
)  # fmt: skip
SPARED = FindBound(
    "R", "P_Z <= P_ZM", "the least $R$ that spares the zener, load unplugged",
    at={"V_I": "V_PK_MAX", "V_Z": "V_Z*(1 - tol_Z)", "I_L": "I_L_MIN"},
)  # fmt: skip
CHOOSE_R = Choose(
    "R", Series.E24, "an E24 value for $R$ whose tolerance band lies between the bounds", Prefer.LARGEST,
    "the largest value that fits wastes least current", low="R_MIN", high="R_MAX", tolerance="tol_R",
)  # fmt: skip
CHOOSE_SINK = Choose(
    "R_thSA", SINKS, "a heat-sink of the list", Prefer.LARGEST,
    "the largest figure that serves is the smallest heat-sink", high="R_thSA_MAX",
)  # fmt: skip
CHOOSE_C = Choose(
    "C", RESERVOIRS, "a reservoir of the list whose whole tolerance serves", Prefer.SMALLEST,
    "the smallest that fits draws the mildest pulses", low="C_MIN", tolerance="tol_C",
)  # fmt: skip
RATE_C = ChooseRating(
    "V_CM", "V_SPK_MAX", (), 1.25, "a rated voltage for the reservoir",
    "the rating is to be at least 1.25 times the highest crest of the winding", stock=VOLTAGES,
)  # fmt: skip
HIGHEST_CREST = Find("V_SPK", "the highest crest of the winding", key="V_SPK_MAX", at=HIGHEST)
FILLED = Find("V_PK", "the highest voltage across the reservoir", key="V_PK_MAX", at=HIGHEST, shown=False)
TROUGH = FindExtreme("V_TROUGH", Extreme.LEAST, "the lowest voltage the regulator is given", at=SAGGING)
TOP, BOTTOM = {"V_Z": "V_Z*(1 + tol_Z)"}, {"V_Z": "V_Z*(1 - tol_Z)"}
HOTTEST = {**HIGHEST, **BOTTOM}
REGULATOR_CHECKS = (
    CheckLine(
        "Lowest moment, full load, $R$ at the top of its tolerance", "I_Z >= I_ZK",
        {"V_I": "V_TROUGH_MIN", **TOP, "R": "R*(1 + tol_R)"}, part="the zener's resistor",
    ),
    CheckLine(
        "Highest crest, load unplugged, zener and $R$ at the bottom of their tolerances", "P_Z <= P_ZM",
        {"V_I": "V_PK_MAX", **BOTTOM, "R": "R*(1 - tol_R)", "I_L": "I_L_MIN"}, part="the zener",
    ),
    CheckLine("Highest line, no load", "V_SPK <= V_CM", HIGHEST, part="the reservoir's rated voltage"),
)
HEAD_ROOM = CheckLine(
    "Lowest line, full load, reservoir at the bottom of its tolerance", "V_HEAD >= V_HEAD_MIN", {**SAGGING, **TOP},
    part="the transformer's winding",
)  # fmt: skip
FIGURES = (
    Pick("V_BE", (0.7,)), Pick("tol_R", (0.05,)), Pick("tol_C", (0.2,)), Pick("tol_Z", (0.05,)),
    Pick("P_ZM", (1.0,)), Pick("I_ZK", (0.002, 0.003, 0.004, 0.005)), Pick("I_L_MIN", (0.0,)), Pick("I_L_MAX", LOADS),
)  # fmt: skip
SHORTCUTS = {"ripple-current": "load", "base-current": "load-over-h_FE"}

FAMILY = Family(
    title="A brief and a stock list",
    about="Here nobody says which part comes next. A specification and a list of what is in stock lead to many "
    "supplies that serve; each is checked as a whole, at every line, load and temperature, and the part with least to "
    "spare is named.",
    lesson="combined",
    circuit="whole-supply",
    edition=2,  # whatever lies between the bounds passes every check
    assume={"winding": "neglected"},
    scenarios=(
        "A lifeboat station wants a supply for its tide radio by the weekend, from what is in the cupboard.",
        "The workshop of a puppet theatre is to build a supply for a talking crow.",
        "A village waterworks needs a supply for its level sensor, and the order book is closed.",
        "An observatory's dome motor gets a control rail from parts left over from the last one.",
        "A school's weather mast is to be fed from the physics store.",
        "A bookbinder's press counter wants a rail, and the stock list hangs on the door.",
        "A mountain railway's ticket stamp is to run on what the depot has.",
    ),
    cautions=("mains-fed", "transformer", "capacitors", "electrolytics", "hot-parts", "live-tab", "output"),
    levels=(
        Level(
            about="One part to choose: a winding between too little and too much",
            form="three-terminal",
            assume={"pin-current": "neglected"},
            draws=(
                *MAINS,
                *AIR,
                Pick("V_O", OUTPUTS),
                Pick("V_HEAD_MIN", (3.0, 3.5, 4.0, 4.5)),
                Pick("C", CAPACITORS),
                Pick("tol_C", (0.2,)),
                Pick("I_L_MIN", (0.02, 0.05)),
                Pick("I_L_MAX", LOADS),
                Pick("R_thJC", (2.0, 3.0, 4.0, 5.0)),
                Pick("R_thCS", JOINTS),
                PickPart("heat-sinks", {"R_thSA": "R_thSA"}, (("R_thSA", 0.8, 25),)),
            ),
            given=(
                "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX", "f", "V_F", "C", "tol_C", "V_O", "V_HEAD_MIN", "I_L_MIN",
                "I_L_MAX", "R_thJC", "R_thCS", "R_thSA", "T_A_MIN", "T_A_MAX", "T_JM",
            ),
            ranges=("I_L", "T_A"),
            labels=LABELS,
            data="All but the transformer is there: a bridge, a reservoir of {C}, a regulator of {V_O} on a heat-sink "
            "of {R_thSA}. It is to serve {I_L_MIN} to {I_L_MAX} from a mains of {f} between {V_PRI_MIN} and "
            "{V_PRI_MAX}, in air of {T_A_MIN} to {T_A_MAX}; in the trough {V_HEAD_MIN} must stand over the output, and "
            "the junction may reach {T_JM}. In stock are windings, rated at {V_PRI_NOM}, of {stock_V_SEC_1}.",
            ask="Find the least winding that leaves the regulator enough and the greatest that it can bear, both as "
            "they are rated, and choose one.",
            asks=(
                FindBound(
                    "V_SEC", "V_HEAD >= V_HEAD_MIN", "the least voltage at the lowest line",
                    at={"C": "C*(1 - tol_C)"}, shown=False,
                ),
                Find(
                    "V_SEC", "the least winding that leaves the regulator enough", key="V_SEC_1_MIN",
                    at={"V_PRI": "V_PRI_NOM", "N_T": "V_PRI_MIN/V_SEC_MIN"},
                ),
                FindBound("V_SEC", "T_J <= T_JM", "the greatest voltage at the highest line", shown=False),
                Find(
                    "V_SEC", "the greatest winding that the regulator can bear", key="V_SEC_1_MAX",
                    at={"V_PRI": "V_PRI_NOM", "N_T": "V_PRI_MAX/V_SEC_MAX"},
                ),
                Choose(
                    "V_SEC_1", WINDINGS, "a winding of the list", Prefer.SMALLEST,
                    "the smallest that serves wastes least", low="V_SEC_1_MIN", high="V_SEC_1_MAX",
                ),
            ),
            require=(
                "V_SEC_1_MAX <= 1.5*V_SEC_1_MIN", "V_SEC_1_MAX <= 21.9", "I_L_MAX/(2*f*C) <= 3", "V_SEC_1_MIN >= 6",
            ),
            slips=(OFF_THE_RATING, HEAT_AT_STATED, TOO_HIGH),
            checks=(
                CheckLine("Lowest line, full load, least $C$", "V_HEAD >= V_HEAD_MIN", SAGGING, part="the winding"),
                CheckLine("Highest line, full load, hottest air", "T_J <= T_JM", HIGHEST, part="the heat-sink"),
            ),
            band={"R_thSA": 0.15},
            bench="a winding that is barely enough hums through on a bad day; one that is ample warms every day",
        ),
        Level(
            about="Three parts to choose: reservoir, resistor, heat-sink",
            form="follower",
            assume=SHORTCUTS,
            draws=(
                *MAINS,
                *AIR,
                *FIGURES,
                PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 6.2, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("V_SEC_1", (9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)),
                Pick("V_HEAD_MIN", (2.5, 3.0, 3.5)),
                Pick("h_FE", (40.0, 50.0, 60.0, 75.0)),
                Pick("R_thJC", (1.0, 1.5, 1.9, 3.0)),
                Pick("R_thCS", JOINTS),
            ),
            given=(
                "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX", "f", "V_F", "V_SEC_1", "V_Z", "tol_Z", "P_ZM", "I_ZK", "V_BE",
                "h_FE", "V_HEAD_MIN", "tol_C", "tol_R", "I_L_MIN", "I_L_MAX", "R_thJC", "R_thCS", "T_A_MIN",
                "T_A_MAX", "T_JM",
            ),
            ranges=("I_L", "T_A"),
            labels={**LABELS, "h_FE": "lowest current gain of the type", "tol_Z": "tolerance of the zener"},
            data="There are a transformer of {V_SEC_1} at {V_PRI_NOM}, a bridge, a zener of {V_Z} and a pass "
            "transistor. The mains has {f} and moves between {V_PRI_MIN} and {V_PRI_MAX}; the load draws up to "
            "{I_L_MAX}, the air has {T_A_MIN} to {T_A_MAX}, and in the trough {V_HEAD_MIN} must stand over the output. "
            "In stock are reservoirs of {stock_C}, rated {stock_V_CM}, resistors of the E24 values, and heat-sinks "
            "of {stock_R_thSA}. A reservoir is rated at least 1.25 times the highest crest of the winding.",
            ask="Choose the reservoir and its rating, the zener's resistor and the heat-sink, each with its bounds.",
            asks=(
                FindBound(
                    "C", "V_HEAD >= V_HEAD_MIN", "the least capacitance that keeps the trough high enough",
                    at={**LOWEST, **TOP},
                ),
                CHOOSE_C,
                HIGHEST_CREST, RATE_C, TROUGH, FILLED, FED, SPARED, CHOOSE_R,
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor", at=HOTTEST),
                FindBound("R_thSA", "T_J <= T_JM", "the most that the heat-sink may have", at=HOTTEST),
                CHOOSE_SINK,
            ),
            require=(
                "P_Q_MAX >= 1", "R_thSA_MAX <= 24.9", "R_thSA_MAX >= 0.8", "C_MIN >= 0.0005", "V_SPK_MAX <= 34.3",
                # The zener is warmest at the bottom of its tolerance, nowhere else in it.
                "V_Z*(V_PK_MAX - V_Z)/R_MIN <= P_ZM", "V_Z*(1 + tol_Z)*(V_PK_MAX - V_Z*(1 + tol_Z))/R_MIN <= P_ZM",
            ),
            slips=(SMALL_RESERVOIR, LOADED_RATING, STARVED, ROOM_AIR, WORSE_SINK),
            checks=(
                HEAD_ROOM,
                *REGULATOR_CHECKS,
                CheckLine("Highest line, full load, hottest air", "T_J <= T_JM", HOTTEST, part="the heat-sink"),
            ),
            bench="build it once with what was chosen, and measure the part that was named the weakest",
        ),
        Level(
            about="The whole supply from the stock list",
            form="follower",
            assume=SHORTCUTS,
            draws=(
                *MAINS,
                Pick("T_A", (35.0, 40.0, 45.0, 50.0)), Pick("T_JM", (150.0,)),
                *FIGURES,
                Pick("V_O_NOM", (6.0, 8.0, 9.0, 10.0, 12.0)),
                Pick("either", (0.08, 0.1, 0.12)),
                Work("V_O_MIN", "V_O_NOM*(1 - either)", 3),
                Work("V_O_MAX", "V_O_NOM*(1 + either)", 3),
                Pick("V_RIP_MAX", (1.0, 1.2, 1.5, 1.8, 2.0)),
                Pick("V_HEAD_MIN", (3.0, 3.5, 4.0)),
                Pick("h_FE", (20.0,)), Pick("T_C_NOM", (25.0,)),
                Pick("R_thCS", JOINTS),
            ),
            given=(
                "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX", "f", "V_F", "V_O_MIN", "V_O_MAX", "V_BE", "tol_Z", "P_ZM",
                "I_ZK", "h_FE", "V_HEAD_MIN", "V_RIP_MAX", "tol_C", "tol_R", "I_L_MIN", "I_L_MAX", "R_thCS",
                "T_A", "T_JM", "T_C_NOM",
            ),
            ranges=("I_L",),
            labels={**LABELS, "T_A": "hottest air around it"},
            data="Wanted is an output between {V_O_MIN} and {V_O_MAX} for loads up to {I_L_MAX}, from a mains of {f} "
            "between {V_PRI_MIN} and {V_PRI_MAX}, in air of up to {T_A}. The ripple may be {V_RIP_MAX}, and "
            "in the trough {V_HEAD_MIN} must stand over the output. In stock: windings, rated at {V_PRI_NOM}, of "
            "{stock_V_SEC_1}, and transformers of {stock_VA_NOM}; reservoirs of {stock_C}, rated {stock_V_CM}; "
            "zeners and resistors of the E24 values; transistors rated {stock_P_QM} at a case of {T_C_NOM}; heat-sinks "
            "of {stock_R_thSA}. A reservoir is rated at least 1.25 times the highest crest of the winding, a "
            "transformer 1.2 times its load, a transistor twice its power, and $R_thJC = (T_JM - T_C_NOM)/P_QM$.",
            ask="Choose every part from the stock, each with the bounds it must keep, and say what each has to spare.",
            asks=(
                *OUTPUT,
                FindBound("C", "V_RIP <= V_RIP_MAX", "the least capacitance that keeps to the ripple"),
                CHOOSE_C,
                FindBound(
                    "V_SEC", "V_HEAD >= V_HEAD_MIN", "the least voltage at the lowest line",
                    at={"C": "C*(1 - tol_C)", **TOP}, shown=False,
                ),
                Find(
                    "V_SEC", "the least winding, as it is rated", key="V_SEC_1_MIN",
                    at={"V_PRI": "V_PRI_NOM", "N_T": "V_PRI_MIN/V_SEC_MIN"},
                ),
                ChooseRating(
                    "V_SEC_1", "V_SEC_1_MIN", (), 1.0, "a winding", "it must have at least the voltage found",
                    stock=WINDINGS,
                ),
                FindExtreme("VA", Extreme.GREATEST, "the apparent power", at={"V_SEC": "V_SEC_1"}),
                ChooseRating(
                    "VA_NOM", "VA_MAX", (), 1.2, "a transformer", "at least 1.2 times the apparent power is wanted",
                    stock=Stock("transformers", "VA", "transformer", "type"),
                ),
                HIGHEST_CREST, RATE_C,
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor", at=HOTTEST),
                ChooseRating(
                    "P_QM", "P_Q_MAX", (), 2.0, "a transistor by its rating", "at least twice the power is wanted",
                    stock=TRANSISTORS,
                ),
                TROUGH, FILLED, FED, SPARED, CHOOSE_R,
                FindBound(
                    "R_thSA", "T_J <= T_JM", "the most that the heat-sink may have",
                    at={**HOTTEST, "R_thJC": "(T_JM - T_C_NOM)/P_QM"},
                ),
                CHOOSE_SINK,
            ),
            require=("P_Q_MAX >= 1", "R_thSA_MAX <= 24.9", "R_thSA_MAX >= 0.6", "C_MIN >= 0.0007", "V_SEC_1 <= 22"),
            slips=(OFF_THE_RATING, LOADED_RATING, JUST_RATED, STARVED, ROOM_AIR, WORSE_SINK),
            checks=(
                CheckLine("Output, zener at the bottom of its tolerance", "V_O >= V_O_MIN", BOTTOM, part="the zener"),
                CheckLine("Output, zener at the top of its tolerance", "V_O <= V_O_MAX", TOP, part="the zener"),
                CheckLine(
                    "Full load, reservoir at the bottom of its tolerance", "V_RIP <= V_RIP_MAX",
                    {"C": "C*(1 - tol_C)"}, part="the reservoir",
                ),
                HEAD_ROOM,
                CheckLine("Full load", "VA <= VA_NOM", {"V_SEC": "V_SEC_1"}, part="the transformer's rating"),
                *REGULATOR_CHECKS,
                CheckLine("Case of 25 °C", "P_Q <= P_QM", HOTTEST, part="the transistor"),
                CheckLine(
                    "Highest line, full load, hottest air", "T_J <= T_JM",
                    {**HOTTEST, "R_thJC": "(T_JM - T_C_NOM)/P_QM"}, part="the heat-sink",
                ),
            ),
            bench="build it once with what was chosen, and measure the part that was named the weakest",
        ),
    ),
)  # fmt: skip
