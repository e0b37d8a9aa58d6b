"""From the heat of a regulator to the temperature of its junction, and to the heat-sink that keeps it cool enough."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Choose,
    Demand,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    PickPart,
    Prefer,
    Rewrite,
    RoundAway,
    Slip,
    Stock,
    Swap,
    TellVerdict,
    Verdict,
    Work,
)

SINKS = Stock("heat-sinks", "R_thSA", "heat-sink", "build")
CASES = (0.8, 1.0, 1.2, 1.5, 1.9, 2.0, 2.5, 3.0, 4.0, 5.0)
JOINTS = (0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5)
OUTPUTS = (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)
LINES = tuple(half / 2 for half in range(15, 57))
LOADS = (0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8, 1.0, 1.2, 1.5)
LABELS = {
    "P_D": "power dissipated in the transistor",
    "P_QM": "rating printed on its data sheet, for a case held at 25 °C",
    "R_thJC": "thermal resistance, junction to case",
    "R_thJC_1": "junction to case, small case",
    "R_thJC_2": "junction to case, large case",
    "R_thCS": "thermal resistance, case to heat-sink (washer and compound)",
    "R_thSA": "thermal resistance of the heat-sink to the air",
    "R_thJA": "junction to the air, without a heat-sink",
    "T_A": "temperature of the air around it",
    "T_A_MIN": "coldest air around it",
    "T_A_MAX": "hottest air around it",
    "T_JM": "greatest permissible junction temperature",
    "V_O": "output, which the regulator holds",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
}

AMBIENT_LEFT_OUT = Slip(
    "ambient-left-out",
    "T_J",
    Rewrite("P_D*(R_thJC + R_thCS + R_thSA)"),
    "the ambient left out",
    "Heat times thermal resistance is the rise above the air, and the air has a temperature of its own.",
    "Is your result a temperature or a rise?",
    reference=("H01",),
)
FREE_AIR_ADDED = Slip(
    "free-air-added",
    "T_J",
    Rewrite("T_A + P_D*(R_thJA + R_thSA)"),
    "the figure for free air added to the heat-sink's",
    "$R_thJA$ goes all the way to the air without a heat-sink; with one the heat takes the other way, over the case.",
    "Which figure of the data sheet already ends in the air?",
    reference=("H02",),
)
JOINT_LEFT_OUT = Slip(
    "joint-left-out",
    "T_J",
    Rewrite("T_A + P_D*(R_thJC + R_thSA)"),
    "the joint between case and heat-sink left out",
    "Washer and compound have a thermal resistance of their own, and all the heat crosses it.",
    "What lies between the case and the heat-sink?",
    reference=("H03",),
)
HEADLINE = Slip(
    "headline-rating",
    "P_D_MAX",
    Rewrite("P_QM"),
    "the headline rating taken as good anywhere",
    "That rating is for a case held at 25 °C, which no heat-sink in warm air can do.",
    "At which temperature of the case is that rating given?",
    reference=("H10",),
)
BUDGET_ADDED = Slip(
    "temperatures-added",
    "P_D_MAX",
    Rewrite("(T_JM + T_A)/(R_thJC + R_thCS + R_thSA)"),
    "junction and ambient temperature added",
    "What drives the heat is the difference of the two.",
    "How many kelvins are there to spend?",
)
LOAD_POWER = Slip(
    "load-power",
    "P_D_MAX",
    Rewrite("V_O*I_L_MAX"),
    "the load's power given for the regulator's",
    "The regulator keeps what the output leaves of the input: $(V_I - V_O)*I_L$.",
    "Which power stays in the regulator?",
    reference=("H08", "E13"),
)
LOW_LINE = Slip(
    "low-line",
    "P_D_MAX",
    Rewrite("(V_I_MIN - V_O)*I_L_MAX"),
    "the heat taken at the lowest line",
    "The regulator has most across it at the highest line.",
    "Which line leaves most voltage across the regulator?",
    reference=("E14",),
)
COLD_AIR = Slip(
    "cold-air",
    "T_J_MAX",
    Swap("T_A", "T_A_MIN"),
    "the coldest air used",
    "All temperatures of the path ride upon that of the air; the hottest counts.",
    "On which day will it be hottest inside?",
)
SUM_FOR_SINK = Slip(
    "temperatures-added",
    "R_thSA_2_MAX",
    Rewrite("(T_JM + T_A_MAX)/P_D_MAX - R_thJC_2 - R_thCS"),
    "junction and ambient temperature added",
    "What may be spent is the difference between the two.",
    "How many kelvins are there to spend?",
    reference=("H04",),
)
WHOLE_BUDGET = Slip(
    "whole-budget",
    "R_thSA_2_MAX",
    Rewrite("(T_JM - T_A_MAX)/P_D_MAX"),
    "the whole budget given to the heat-sink",
    "Junction to case and the joint have taken their share before the heat reaches it.",
    "The junction is not the heat-sink: what else lies on the way?",
    reference=("H05",),
)
ROOM_AIR = Slip(
    "room-air",
    "R_thSA_2_MAX",
    Rewrite("(T_JM - 25)/P_D_MAX - R_thJC_2 - R_thCS"),
    "a room of 25 °C taken for the air around it",
    "Inside a box and in summer the air is hotter; the hottest that is stated counts.",
    "Where will this stand, and when?",
    reference=("H06",),
)
WORSE_SINK = Slip(
    "worse-sink",
    "R_thSA",
    RoundAway(above=True),
    "a heat-sink with more than the bound",
    "Fewer kelvins for each watt make the better heat-sink, and more than the bound makes the junction too hot.",
    "Which is better, 2 K/W or 5 K/W?",
    reference=("H07",),
)

COOL, HOT = "the junction stays within its limit at every corner", "the junction grows too hot at the worst corner"
ALLOWED = TellVerdict(
    "whether that is allowed",
    (Demand("junction at its hottest", "T_J_MAX <= T_JM"),),
    (Verdict(COOL, ("T_J_MAX <= T_JM",)), Verdict(HOT, (), ("T_J_MAX <= T_JM",))),
    "What holds at the worst corner holds at every other.",
)
PERFECT = "T_J_1_MAX <= T_JM"
SMALL_CASE = TellVerdict(
    "what there is to say of the small case",
    (Demand("small case on a heat-sink as cool as the air", PERFECT),),
    (
        Verdict("the small case can be used, if its heat-sink is good enough", (PERFECT,)),
        Verdict("no heat-sink whatever can save the small case", (), (PERFECT,)),
    ),
    "A heat-sink can be no cooler than the air: a bound below zero would not mean that none is needed, but that none "
    "can be good enough.",
)

FAMILY = Family(
    title="A heat-sink for a regulator",
    about="Heat flows from the junction over case and heat-sink into the air, and each thermal resistance on its way "
    "raises what lies before it. What the junction may rise is a budget; the heat-sink gets what the others leave.",
    lesson="series",
    circuit="heat-path",
    scenarios=(
        "The supply of a loudhailer on a fishing boat is closed in a box on the wheelhouse roof.",
        "A church's bell-ringing control sits under the slates, where it is hot in summer.",
        "The driver of a model tram line is built into a cupboard with little air.",
        "A bakery's weighing machine has its supply beside the oven.",
        "An aquarium's pump control hangs in the warm cabinet under the tank.",
        "A stage dimmer's logic is supplied from a regulator in the lighting bridge.",
        "The radio of a mountain rescue post is fed through a regulator behind a sunny wall.",
    ),
    cautions=("hot-parts", "live-tab", "output"),
    levels=(
        Level(
            about="The temperatures along the way, and what the path allows",
            form="heat-sink",
            draws=(
                Pick("P_D", tuple(float(watts) for watts in (3, 4, 5, 6, 7, 8, 10, 12, 14, 15, 18, 20, 25, 30, 35))),
                Pick("R_thJC", CASES),
                Pick("R_thCS", JOINTS),
                PickPart("heat-sinks", {"R_thSA": "R_thSA"}, (("R_thSA", 0.8, 25),)),
                Pick("T_A", (25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0)),
                Pick("T_JM", (125.0, 150.0, 175.0, 200.0)),
                Pick("R_thJA", (35.0, 40.0, 50.0, 62.5)),
                Work("P_QM", "(T_JM - 25)/R_thJC", 2),
            ),
            given=("P_D", "R_thJC", "R_thCS", "R_thSA", "R_thJA", "T_A", "T_JM", "P_QM"),
            labels=LABELS,
            data="A pass transistor with {P_D} to get rid of sits on a heat-sink of {R_thSA} in air of {T_A}. Its data "
            "sheet gives {R_thJC} from junction to case and {R_thJA} from junction to the air without a heat-sink, "
            "allows a junction of {T_JM}, and rates it at {P_QM} with the case held at 25 °C. Washer and compound have "
            "{R_thCS}.",
            ask="Find the temperatures of heat-sink, case and junction, and the most power that this path can carry "
            "off.",
            asks=(
                Find("T_S", "the temperature of the heat-sink"),
                Find("T_C", "the temperature of the case"),
                Find("T_J", "the temperature of the junction"),
                FindBound("P_D", "T_J <= T_JM", "the most power this path can carry off"),
            ),
            require=("T_J <= T_JM", "P_D_MAX <= 60", "T_S >= T_A + 10"),
            slips=(AMBIENT_LEFT_OUT, FREE_AIR_ADDED, JOINT_LEFT_OUT, HEADLINE, BUDGET_ADDED),
            back=(BackLine("All rises one upon another", "T_A + P_D*(R_thJC + R_thCS + R_thSA)", "T_J"),),
            band={"R_thSA": 0.15, "R_thCS": 0.3},
            bench="a heat-sink's figure is for fins upright in free air; in a box without holes it is far worse",
        ),
        Level(
            about="From line and load to the hottest junction",
            form="regulator",
            assume={"pin-current": "neglected"},
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.05, 0.1)),
                Pick("I_L_MAX", LOADS),
                Pick("R_thJC", CASES),
                Pick("R_thCS", JOINTS),
                PickPart("heat-sinks", {"R_thSA": "R_thSA"}, (("R_thSA", 0.8, 25),)),
                Pick("T_A_MIN", (5.0, 10.0, 15.0)),
                Pick("T_A_MAX", (35.0, 40.0, 45.0, 50.0, 55.0, 60.0)),
                Pick("T_JM", (125.0, 150.0)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O", "I_L_MIN", "I_L_MAX", "R_thJC", "R_thCS", "R_thSA", "T_A_MIN",
                "T_A_MAX", "T_JM",
            ),
            ranges=("V_I", "I_L", "T_A"),
            labels=LABELS,
            data="A regulator of {V_O} is fed from {V_I_MIN} to {V_I_MAX} and gives {I_L_MIN} to {I_L_MAX}, in air of "
            "{T_A_MIN} to {T_A_MAX}. It has {R_thJC} from junction to case and may reach {T_JM} at the junction; "
            "washer and compound have {R_thCS}, the heat-sink {R_thSA}.",
            ask="Find the greatest power in the regulator, the hottest that heat-sink and junction grow, and whether "
            "that is allowed.",
            asks=(
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
                FindExtreme("T_S", Extreme.GREATEST, "the highest temperature of the heat-sink"),
                FindExtreme("T_J", Extreme.GREATEST, "the highest temperature of the junction"),
                ALLOWED,
            ),
            require=(
                "V_I_MIN >= V_O + 2.5", "V_I_MAX <= 2.5*V_O", "P_D_MAX >= 2", "T_J_MAX <= T_JM + 60",
                "T_J_MAX >= T_JM - 60",
            ),
            slips=(LOAD_POWER, LOW_LINE, COLD_AIR),
            back=(BackLine("Down to the heat-sink again", "T_J_MAX - P_D_MAX*(R_thJC + R_thCS)", "T_S_MAX"),),
            band={"R_thSA": 0.15, "R_thCS": 0.3},
            bench="a thermometer on the heat-sink tells the first figure; the junction can only be worked out from it",
        ),
        Level(
            about="Design: the heat-sink from the list, and a case that none can save",
            form="regulator",
            assume={"pin-current": "neglected"},
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("V_I_MIN", LINES),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.05, 0.1)),
                Pick("I_L_MAX", LOADS),
                Pick("R_thJC_1", (8.0, 10.0, 12.0, 15.0, 18.0, 20.0)),
                Pick("R_thJC_2", (1.5, 2.0, 2.5, 3.0, 4.0, 5.0)),
                Pick("R_thCS", JOINTS),
                Pick("T_A_MIN", (5.0, 10.0, 15.0)),
                Pick("T_A_MAX", (35.0, 40.0, 45.0, 50.0, 55.0, 60.0)),
                Pick("T_JM", (125.0, 150.0)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O", "I_L_MIN", "I_L_MAX", "R_thJC_1", "R_thJC_2", "R_thCS", "T_A_MIN",
                "T_A_MAX", "T_JM",
            ),
            ranges=("V_I", "I_L", "T_A"),
            labels=LABELS,
            data="A regulator of {V_O} is to be fed from {V_I_MIN} to {V_I_MAX} and give {I_L_MIN} to {I_L_MAX}, in "
            "air of {T_A_MIN} to {T_A_MAX}. It is sold in a small case with {R_thJC_1} from junction to case and in a "
            "large one with {R_thJC_2}; either may reach {T_JM} at the junction and is mounted with washer and "
            "compound of {R_thCS}. The list has heat-sinks of {stock_R_thSA}.",
            ask="Find the greatest power, the most that the heat-sink may have for either case, what there is to say "
            "of the small case, and choose the heat-sink for the large one.",
            asks=(
                FindExtreme("P_D", Extreme.GREATEST, "the greatest power in the regulator"),
                FindBound(
                    "R_thSA", "T_J <= T_JM", "the most that the heat-sink may have under the small case",
                    key="R_thSA_1_MAX", at={"R_thJC": "R_thJC_1"},
                ),
                FindExtreme(
                    "T_J", Extreme.GREATEST, "the junction in the small case, were its heat-sink as cool as the air",
                    key="T_J_1_MAX", at={"R_thJC": "R_thJC_1", "R_thSA": "0"},
                ),
                SMALL_CASE,
                FindBound(
                    "R_thSA", "T_J <= T_JM", "the most that the heat-sink may have under the large case",
                    key="R_thSA_2_MAX", at={"R_thJC": "R_thJC_2"},
                ),
                Choose(
                    "R_thSA",
                    SINKS,
                    "a heat-sink of the list for the large case",
                    Prefer.LARGEST,
                    "the largest figure that serves is the smallest heat-sink",
                    high="R_thSA_2_MAX",
                ),
                FindExtreme(
                    "T_J", Extreme.GREATEST, "the hottest junction on the heat-sink chosen", key="T_J_2_MAX",
                    at={"R_thJC": "R_thJC_2"},
                ),
            ),
            require=(
                "V_I_MIN >= V_O + 2.5", "V_I_MAX <= 2.5*V_O", "P_D_MAX >= 2", "R_thSA_2_MAX >= 1.5",
                "R_thSA_2_MAX <= 24", "T_J_1_MAX <= 250",
            ),
            slips=(LOAD_POWER, LOW_LINE, SUM_FOR_SINK, WHOLE_BUDGET, ROOM_AIR, WORSE_SINK),
            checks=(
                CheckLine("The large case on the heat-sink chosen", "T_J <= T_JM", {"R_thJC": "R_thJC_2"}),
            ),
            band={"R_thCS": 0.3},
            bench="leave a margin where people or wax are near: a heat-sink above 60 °C burns fingers",
        ),
    ),
)  # fmt: skip
