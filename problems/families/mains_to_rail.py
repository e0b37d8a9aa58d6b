"""From the mains to the rail: winding, reservoir, regulator and heat-sink as one chain, each link fed by the last."""

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
    Swap,
    Work,
)
from tutor.quantities.preferred import Series

MAINS = (Pick("f", (50.0, 60.0)), Work("V_PRI_NOM", "230 - 11*(f - 50)"))  # 230 V with 50 Hz, 120 V with 60 Hz
LINE = (
    Pick("down", (0.9, 0.88, 0.85)),
    Work("V_PRI_MIN", "V_PRI_NOM*down", 4),
    Work("V_PRI_MAX", "V_PRI_NOM*1.1", 4),
)
DIODE = Pick("V_F", (0.8, 0.9, 1.0))
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = (0.1, 0.12, 0.15, 0.18, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
OUTPUTS = (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)
CASES = (1.0, 1.5, 1.9, 2.5, 3.0, 4.0, 5.0)
JOINTS = (0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5)
VOLTAGES = (16.0, 25.0, 35.0, 50.0, 63.0)
WINDINGS = (6.0, 7.5, 9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0)
SINKS = Stock("heat-sinks", "R_thSA", "heat-sink", "build")
LABELS = {
    "V_PRI_NOM": "mains voltage at which windings are rated, r.m.s.", "V_PRI_MIN": "lowest mains voltage, r.m.s.",
    "V_PRI_MAX": "highest mains voltage, r.m.s.", "R_W": "resistance of the winding, primary counted in",
    "V_F": "forward drop of each diode", "C_MAX": "greatest reservoir to be had",
    "V_RIP_MAX": "greatest ripple allowed, peak to peak", "V_O": "output, which the regulator holds",
    "V_HEAD_MIN": "least that must stand over the output in the trough, for regulator and winding together",
    "V_Z": "zener voltage (straight characteristic)", "V_BE": "base-emitter voltage",
    "h_FE": "lowest current gain of the type", "I_ZK": "least zener current for good regulation",
    "I_L_MIN": "lightest load", "I_L_MAX": "fullest load", "T_A": "temperature of the air around it",
    "T_A_MIN": "coldest air around it", "T_A_MAX": "hottest air around it",
}  # fmt: skip
HIGHEST = {"V_SEC": "V_SEC_1*V_PRI_MAX/V_PRI_NOM"}  # the winding chosen, at the highest line
LOWEST = {"V_SEC": "V_SEC_1*V_PRI_MIN/V_PRI_NOM"}

RMS_FOR_CREST = Slip(
    "rms-for-crest", "V_PK", Rewrite("V_SEC - 2*V_F"), "the r.m.s. voltage taken for the crest",
    "A winding is rated by its r.m.s. voltage, and the reservoir charges to the crest, $sqrt(2)$ times as high.",
    "The winding's figure is r.m.s.: how high does that sine go?", reference=("U01",),
)
ONCE_A_CYCLE = Slip(
    "once-a-cycle", "V_TROUGH", Rewrite("I_L/(f*C)"), "the mains frequency taken for a bridge",
    "A bridge tops the reservoir up twice in each cycle.", "How many top-ups does each cycle of the mains bring?",
    step="V_RIP", reference=("U05",),
)
MEAN_FOR_TROUGH = Slip(
    "mean-for-trough", "V_HEAD", Rewrite("V_PK - I_L/(4*f*C) - V_O"), "the head room taken at the mean",
    "The regulator drops out when its input falls too low for an instant, which happens in the trough.",
    "Which instant of the ripple is hardest for the regulator?", reference=("U08",),
)
RATIO_TURNED = Slip(
    "ratio-turned", "V_TROUGH_MIN", Rewrite("V_PRI*N_T"), "the turns ratio used upside down",
    "A supply's transformer steps down: primary over secondary divides the mains.",
    "Is the secondary to be above or below the mains?", step="V_SEC",
)
STATED_LINE = Slip(
    "stated-line", "V_TROUGH_MIN", Rewrite("V_PRI_NOM/N_T"), "the line taken to stay at its stated value",
    "The winding follows the mains, and the design must still hold at the lowest line.",
    "Which mains voltage leaves the regulator least?", step="V_SEC", reference=("U16",),
)
WINDING_LEFT_OUT = Slip(
    "winding-left-out", "V_TROUGH_MIN", Rewrite("V_SPK - 2*V_F - I_L/(4*f*C)"),
    "the resistance of the winding left out",
    "The charging pulses are many times the load current, and they lower the crest in the winding.",
    "What does a pulse of several times the load current lose in $R_W$?", step="V_DC",
)
LOADED_RATING = Slip(
    "loaded-rating", "V_PK_MAX", Rewrite("sqrt(2)*V_PRI_MIN/N_T - 2*V_F - I_L_MAX/(2*f*C)"),
    "the loaded voltage at the lowest line taken for the highest",
    "Without load and at the highest line the reservoir sits at a higher crest, and parts must stand that.",
    "When is the voltage across the reservoir highest?",
)
LOAD_THROUGH_R = Slip(
    "load-through-R", "R_MAX", Swap("I_B", "I_L"), "the zener's resistor sized for the whole load current",
    "The transistor brings the load its current; $R$ feeds only base and zener.",
    "What does the transistor take off $R$'s shoulders?", reference=("E04",), step="R",
)
BASE_LEFT_OUT = Slip(
    "base-left-out", "R_MAX", Rewrite("(V_I - V_Z)/I_Z"), "the base current left out of what $R$ carries",
    "At full load the base takes its share of $R$'s current before the zener gets any.",
    "At full load, does all of $R$'s current reach the zener?", reference=("E09",), step="R",
)
CREST_FOR_R = Slip(
    "crest-for-R", "R_MAX", Rewrite("(V_PK_MAX - V_Z)/(I_B + I_Z)"), "the resistor sized at the highest crest",
    "At the lowest moment there is least across $R$, and it must feed base and zener even then.",
    "At which moment has $R$ least across it?", step="R",
)
ROUNDED_UP = Slip(
    "rounded-up", "R", RoundAway(above=True), "rounded up past the bound",
    "A larger $R$ starves base or zener at full load and in the trough of the lowest line.",
    "On which side of the bound does the zener stay fed?",
)
WHOLE_INPUT = Slip(
    "whole-input", "P_Q_MAX", Rewrite("V_I*I_L"), "the power taken from the whole input voltage",
    "The transistor has only what the output leaves of the input across it.",
    "Which two nodes are collector and emitter on?", reference=("E12",),
)
JOINT_LEFT_OUT = Slip(
    "joint-left-out", "T_J_MAX", Rewrite("T_A + P_Q*(R_thJC + R_thSA)"),
    "the joint between case and heat-sink left out",
    "Washer and compound have a thermal resistance of their own, and all the heat crosses it.",
    "What lies between the case and the heat-sink?", reference=("H03",),
)
AMBIENT_LEFT_OUT = Slip(
    "ambient-left-out", "T_J_MAX", Rewrite("P_Q*(R_thJC + R_thCS + R_thSA)"), "the ambient left out",
    "Heat times thermal resistance is the rise above the air, and the air has a temperature of its own.",
    "Is your result a temperature or a rise?", reference=("H01",),
)
JUST_RATED = Slip(
    "just-rated", "V_CM", NoMargin(), "a voltage rating with no margin",
    "At its rated voltage an electrolytic capacitor is as stressed as it may ever be; leave the stated margin.",
    "How much is left when the line goes over its usual limit?",
)
RESERVOIR_DOUBLED = Slip(
    "once-a-cycle", "C_MIN", Rewrite("I_L/(f*V_RIP_MAX)"), "the mains frequency taken for a bridge",
    "A bridge tops the reservoir up twice in each cycle.", "How many top-ups does each cycle of the mains bring?",
)
SMALL_RESERVOIR = Slip(
    "rounded-down", "C", RoundAway(above=False), "rounded down past the bound",
    "A smaller reservoir sags further than is allowed.", "On which side of the bound is the ripple small enough?",
)
CREST_FOR_RMS = Slip(
    "crest-for-rms", "V_SEC_MIN", Rewrite("V_SPK"), "the crest given for the r.m.s. voltage",
    "A winding is ordered by its r.m.s. voltage, which is the crest over $sqrt(2)$.",
    "By which of its values is a winding rated?",
)
RIPPLE_LEFT_OUT = Slip(
    "ripple-left-out", "V_SEC_MIN", Rewrite("V_TROUGH"), "the ripple left out",
    "The regulator must have its voltage in the trough, a whole ripple below the crest.",
    "At which moment has the regulator least?", step="V_PK",
)
LINE_LEFT_OUT = Slip(
    "line-left-out", "V_SEC_NOM", Rewrite("V_SEC_MIN"), "the line taken to stay where it is",
    "What must be there at the lowest line is more at the voltage for which windings are rated.",
    "At which mains voltage is a winding's figure true?",
)
LOW_LINE_HEAT = Slip(
    "low-line-heat", "P_D_MAX", Rewrite("sqrt(2)*V_SEC_1*V_PRI_MIN/V_PRI_NOM"), "the heat taken at the lowest line",
    "What the line has over the output falls in the regulator: most at the highest line.",
    "Which line leaves most voltage across the regulator?", step="V_SPK", reference=("E14",),
)
WHOLE_INPUT_FIXED = Slip(
    "whole-input", "P_D_MAX", Rewrite("V_I*I_L"), "the power taken from the whole input voltage",
    "The regulator has only what the output leaves of the input across it.",
    "Between which two voltages does the load current fall in the regulator?", reference=("E12",),
)
TEMPERATURES_ADDED = Slip(
    "temperatures-added", "R_thSA_MAX", Rewrite("(T_J + T_A)/P_D - R_thJC - R_thCS"),
    "junction and ambient temperature added", "What may be spent is the difference between the two.",
    "How many kelvins are there to spend?", reference=("H04",),
)
WORSE_SINK = Slip(
    "worse-sink", "R_thSA", RoundAway(above=True), "a heat-sink with more than the bound",
    "Fewer kelvins for each watt make the better heat-sink, and more than the bound makes the junction too hot.",
    "Which is better, 2 K/W or 5 K/W?", reference=("H07",),
)

FAMILY = Family(
    title="From the mains to the rail",
    about="A supply is a chain. The line decides the crest, crest and load the trough, the trough what the regulator "
    "may use; the highest line decides what parts must stand and carry off. Each link is worked at its own worst "
    "corner.",
    lesson="combined",
    circuit="whole-supply",
    assume={"winding": "neglected"},
    scenarios=(
        "A harbour light is moved from its battery to a supply on the mains.",
        "The control desk of a theatre's fly tower is given a supply of its own.",
        "A seismograph in a cellar must not lose its rail while the lift runs.",
        "A dairy's churn counter gets a new supply in a box on the wall.",
        "The tide gauge of a small port is fed from the harbour office.",
        "A choir's page lamps share one rail behind the organ.",
        "A glass works wants its lehr thermometer on a supply that any line voltage suits.",
    ),
    cautions=("mains-fed", "transformer", "capacitors", "electrolytics", "hot-parts", "live-tab", "output"),
    levels=(
        Level(
            about="From the winding to the head room",
            form="three-terminal",
            assume={"pin-current": "neglected"},
            draws=(
                Pick("V_SEC", (7.0, 7.5, 8.0, 8.5, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 18.0)),
                DIODE,
                Pick("f", (50.0, 60.0)),
                Pick("C", CAPACITORS),
                Pick("I_L", LOADS),
                Pick("V_O", OUTPUTS),
                Pick("V_DROP", (1.5, 2.0, 2.5)),
            ),
            given=("V_SEC", "V_F", "f", "C", "I_L", "V_O", "V_DROP"),
            labels=LABELS,
            data="At the lowest line a winding gives {V_SEC}, r.m.s., on a mains of {f}. A bridge with diodes of {V_F} "
            "charges {C}; behind it a regulator holds {V_O}, needs {V_DROP} across itself at every moment, and its "
            "load draws {I_L}. The winding's resistance is left out.",
            ask="Follow the chain to what is left for the regulator at the lowest moment, and compare it with what "
            "the regulator needs.",
            asks=(
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
                Find("V_TROUGH", "the lowest voltage $V_TROUGH$ that the regulator is given"),
                Find("V_HEAD", "what is left over the output at that moment"),
            ),
            require=(
                "V_HEAD >= 1.05*V_DROP", "V_HEAD <= 6", "I_L/(2*f*C) >= 0.06*V_TROUGH", "I_L/(2*f*C) <= 0.25*V_PK",
            ),
            slips=(RMS_FOR_CREST, ONCE_A_CYCLE, MEAN_FOR_TROUGH),
            checks=(CheckLine("At the lowest moment", "V_HEAD >= V_DROP"),),
            band={"C": 0.2},
            bench="with a real winding the crest sags under load as well, often by more than the ripple; the next "
            "level counts it",
        ),
        Level(
            about="Eight links, each at its own corner: winding to junction",
            form="follower",
            assume={"winding": "charge-balance", "ripple-current": "load"},
            draws=(
                *MAINS,
                *LINE,
                DIODE,
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 6.2, 15.0), ("P_ZM", 1.0, 1.0))),
                Pick("over", (4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 8.0, 9.0)),  # of the least crest, above the zener
                Work("N_T", "sqrt(2)*V_PRI_MIN/(V_Z + 2*V_F + over)", 3),
                Pick("R_W", (0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)),
                Pick("C", CAPACITORS),
                Pick("V_BE", (0.7,)), Pick("tol_R", (0.05,)), Pick("I_L_MIN", (0.0,)), Pick("T_JM", (150.0,)),
                Pick("h_FE", (40.0, 50.0, 60.0, 75.0, 80.0, 100.0)),
                Pick("I_ZK", (0.002, 0.003, 0.004, 0.005)),
                Pick("I_L_MAX", LOADS),
                Pick("R_thJC", CASES), Pick("R_thCS", JOINTS),
                PickPart("heat-sinks", {"R_thSA": "R_thSA"}, (("R_thSA", 0.8, 18),)),
                Pick("T_A", (30.0, 35.0, 40.0, 45.0, 50.0)),
            ),
            given=(
                "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX", "N_T", "R_W", "f", "V_F", "C", "V_Z", "P_ZM", "I_ZK",
                "V_BE", "h_FE", "tol_R", "I_L_MIN", "I_L_MAX", "R_thJC", "R_thCS", "R_thSA", "T_A", "T_JM",
            ),
            ranges=("V_PRI", "I_L"),
            labels=LABELS,
            data="A transformer of turns ratio {N_T}, its winding of {R_W}, stands at a mains of {V_PRI_NOM} and {f} "
            "that moves between {V_PRI_MIN} and {V_PRI_MAX}. A bridge charges {C}. A zener of {V_Z} holds the base of "
            "a transistor that carries the load, up to {I_L_MAX}; it sits on a heat-sink of {R_thSA} in air of {T_A}. "
            "Capacitors are rated 16, 25, 35, 50 and 63 V, to be at least 1.25 times the highest crest.",
            ask="Find the lowest voltage the regulator is given and the highest, rate the reservoir, find both bounds "
            "on the zener's resistor and choose an E24 value, and find the greatest power in the transistor and how "
            "hot its junction grows.",
            asks=(
                FindExtreme("V_TROUGH", Extreme.LEAST, "the lowest voltage the regulator is given"),
                FindExtreme("V_PK", Extreme.GREATEST, "the highest voltage across the reservoir"),
                ChooseRating(
                    "V_CM", "V_PK_MAX", VOLTAGES, 1.25, "a rated voltage for the reservoir",
                    "the rating is to be at least 1.25 times the highest crest",
                ),
                FindBound(
                    "R", "I_Z >= I_ZK", "the largest $R$ that feeds base and zener at the lowest moment",
                    at={"V_I": "V_TROUGH_MIN"},
                ),
                Find("I_ZM", "the greatest current the zener may carry"),
                FindBound(
                    "R", "I_Z <= I_ZM", "the least $R$ that keeps the zener within its rating, load unplugged",
                    at={"V_I": "V_PK_MAX", "I_L": "I_L_MIN"},
                ),
                Choose(
                    "R", Series.E24, "an E24 value for $R$ whose tolerance band lies between the bounds",
                    Prefer.LARGEST, "the largest value that fits wastes least current",
                    low="R_MIN", high="R_MAX", tolerance="tol_R",
                ),
                FindExtreme("P_Q", Extreme.GREATEST, "the greatest power in the transistor"),
                FindExtreme("T_J", Extreme.GREATEST, "the highest temperature of its junction"),
            ),
            require=(
                "V_TROUGH_MIN >= V_Z + 1.8", "V_PRI_MAX/N_T <= 22", "R_W*I_L_MAX <= 0.06*sqrt(2)*V_PRI_MIN/N_T",
                "3*pi*R_W*I_L_MAX*N_T/(2*sqrt(2)*V_PRI_MIN) <= 0.7", "I_L_MAX/(2*f*C) <= 3.5", "P_Q_MAX >= 0.5",
                "I_L_MAX/(2*f*C) >= 0.5", "V_PK_MAX <= 2.6*V_Z", "T_J_MAX <= 135", "T_J_MAX >= 80",
            ),
            slips=(
                RATIO_TURNED, STATED_LINE, WINDING_LEFT_OUT, LOADED_RATING, JUST_RATED, LOAD_THROUGH_R, BASE_LEFT_OUT,
                CREST_FOR_R, ROUNDED_UP, WHOLE_INPUT, JOINT_LEFT_OUT, AMBIENT_LEFT_OUT,
            ),
            checks=(
                CheckLine(
                    "Lowest moment, full load, $R$ at the top of its tolerance", "I_Z >= I_ZK",
                    {"V_I": "V_TROUGH_MIN", "R": "R*(1 + tol_R)"},
                ),
                CheckLine(
                    "Highest crest, load unplugged, $R$ at the bottom of its tolerance", "P_Z <= P_ZM",
                    {"V_I": "V_PK_MAX", "R": "R*(1 - tol_R)", "I_L": "I_L_MIN"},
                ),
                CheckLine("Highest line", "V_PK <= V_CM"),
                CheckLine("At its hottest", "T_J <= T_JM"),
            ),
            band={"R_W": 0.2, "R_thSA": 0.15},
            bench="crest currents make the real drop of a diode larger than its usual figure; 0.8 V and more is meant",
        ),
        Level(
            about="Design backwards: reservoir, winding, its voltages, heat-sink",
            form="three-terminal",
            assume={"pin-current": "neglected"},
            draws=(
                *MAINS,
                *LINE,
                DIODE,
                Pick("V_O", OUTPUTS),
                Pick("V_HEAD_MIN", (3.5, 4.0, 4.5, 5.0)),
                Pick("V_RIP_MAX", (1.0, 1.2, 1.5, 1.8, 2.0, 2.5)),
                Pick("tol_C", (0.2,)),
                Pick("C_MAX", (0.01,)),
                Pick("I_L_MIN", (0.02, 0.05)),
                Pick("I_L_MAX", LOADS),
                Pick("R_thJC", CASES), Pick("R_thCS", JOINTS),
                Pick("T_A_MIN", (5.0, 10.0, 15.0)),
                Pick("T_A_MAX", (35.0, 40.0, 45.0, 50.0, 55.0, 60.0)),
                Pick("T_JM", (125.0, 150.0)),
            ),
            given=(
                "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX", "f", "V_F", "V_O", "V_HEAD_MIN", "V_RIP_MAX", "tol_C", "C_MAX",
                "I_L_MIN", "I_L_MAX", "R_thJC", "R_thCS", "T_A_MIN", "T_A_MAX", "T_JM",
            ),
            ranges=("I_L", "T_A"),
            labels=LABELS,
            data="A rail of {V_O} for {I_L_MIN} to {I_L_MAX} is wanted from a mains of {f} between {V_PRI_MIN} and "
            "{V_PRI_MAX}, in air of {T_A_MIN} to {T_A_MAX}. A bridge of diodes of {V_F} is meant to charge a reservoir "
            "whose ripple may be {V_RIP_MAX}. In the trough {V_HEAD_MIN} must still stand over the output, for the "
            "regulator and for what the winding's resistance takes. Windings are rated at {V_PRI_NOM} and come with "
            "6, 7.5, 9, 10, 12, 14, 15, 16, 18, 20 and 22 V; capacitors are rated 16, 25, 35, 50 and 63 V, to be at "
            "least 1.25 times the highest crest; the list has heat-sinks of {stock_R_thSA}.",
            ask="Find the least reservoir and choose an E6 value whose whole tolerance serves, find the least winding "
            "for it and choose one, rate the reservoir, and choose the heat-sink for the winding chosen.",
            asks=(
                FindBound("C", "V_RIP <= V_RIP_MAX", "the least capacitance that keeps to the ripple"),
                Choose(
                    "C", Series.E6, "an E6 value for the reservoir", Prefer.SMALLEST,
                    "the smallest that fits costs least and draws the mildest pulses",
                    low="C_MIN", high="C_MAX", tolerance="tol_C",
                ),
                FindBound(
                    "V_SEC", "V_HEAD >= V_HEAD_MIN",
                    "the least voltage of the winding at the lowest line, the reservoir at the bottom of its tolerance",
                    at={"C": "C*(1 - tol_C)"},
                ),
                Find(
                    "V_SEC", "what the winding must be rated at", key="V_SEC_NOM",
                    at={"V_PRI": "V_PRI_NOM", "N_T": "V_PRI_MIN/V_SEC_MIN"},
                ),
                ChooseRating(
                    "V_SEC_1", "V_SEC_NOM", WINDINGS, 1.0, "a winding", "it must have at least the voltage found"
                ),
                Find("V_PK", "the highest crest across the reservoir", key="V_PK_MAX", at=HIGHEST),
                ChooseRating(
                    "V_CM", "V_PK_MAX", VOLTAGES, 1.25, "a rated voltage for the reservoir",
                    "the rating is to be at least 1.25 times the highest crest",
                ),
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator", at=HIGHEST),
                FindBound(
                    "R_thSA", "T_J <= T_JM", "the most that the heat-sink may have", at=HIGHEST,
                ),
                Choose(
                    "R_thSA", SINKS, "a heat-sink of the list", Prefer.LARGEST,
                    "the largest figure that serves is the smallest heat-sink", high="R_thSA_MAX",
                ),
            ),
            require=(
                "V_SEC_1*V_PRI_MAX/V_PRI_NOM <= 24.2", "P_D_MAX >= 1", "R_thSA_MAX >= 0.8", "R_thSA_MAX <= 25",
                "C_MIN >= 0.001",
            ),
            slips=(
                RESERVOIR_DOUBLED, SMALL_RESERVOIR, CREST_FOR_RMS, RIPPLE_LEFT_OUT, LINE_LEFT_OUT, JUST_RATED,
                LOW_LINE_HEAT, WHOLE_INPUT_FIXED, TEMPERATURES_ADDED, WORSE_SINK,
            ),
            checks=(
                CheckLine(
                    "Lowest line, full load, reservoir at the bottom of its tolerance", "V_HEAD >= V_HEAD_MIN",
                    {**LOWEST, "C": "C*(1 - tol_C)"},
                ),
                CheckLine("Highest line, no load", "V_PK <= V_CM", HIGHEST),
                CheckLine("Highest line, full load, hottest air", "T_J <= T_JM", HIGHEST),
            ),
            band={"R_thCS": 0.3},
            bench="a small transformer without load stands 10 to 30 % above its rated voltage, more than the line "
            "does; its maker says which slow fuse goes before it",
        ),
    ),
)  # fmt: skip
