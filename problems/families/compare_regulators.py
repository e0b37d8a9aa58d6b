"""A zener beside the load, a follower, or a loop for the same duty: heat, efficiency, stiffness, and which serves."""

from tutor.generate.family import (
    BackLine,
    Demand,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    Rewrite,
    Slip,
    Swap,
    TellVerdict,
    Verdict,
    Work,
)
from tutor.quantities.preferred import Series, values_between

OUTPUTS = (5.0, 6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 15.0)
LOADS = tuple(value / 1000 for value in (40, 50, 60, 75, 80, 100, 120, 150, 180, 200, 250))
GAINS = (30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 100.0, 120.0)
KNEE = (0.002, 0.003, 0.004, 0.005, 0.006, 0.008, 0.01)
SLOPES = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 15.0)
LOOPS = (50.0, 100.0, 200.0, 500.0, 1000.0)
INSIDE = (50.0, 60.0, 75.0, 100.0, 150.0)
UPPER = values_between(1000, 10000, Series.E12)
LABELS = {
    "V_I": "line",
    "V_I_MIN": "lowest line",
    "V_I_MAX": "highest line",
    "V_O": "output of each",
    "I_L_MIN": "lightest load of each",
    "I_L_MAX": "fullest load of each",
    "I_ZK": "least zener current",
    "V_BE": "base-emitter voltage of each transistor",
    "h_FE": "current gain of each transistor",
    "R_FEED_1": "resistor from the line to zener and load of the shunt",
    "R_FEED_2": "resistor from the line to zener and base of the follower",
    "R_FEED_3": "resistor from the line to the zener of the feedback regulator",
    "R_1": "upper resistor of its divider",
    "R_2": "lower resistor of its divider",
    "A": "gain of its amplifier",
    "R_O": "output resistance of its amplifier alone",
    "r_z": "slope of each zener",
    "P_ZM": "rating of each zener",
    "R_OUT_MAX": "greatest output resistance allowed",
}
THREE = (
    "Regulator 1 is a zener shunt, regulator 2 an emitter follower, regulator 3 a feedback regulator with an amplifier."
)
MODEL = (
    "For voltages and powers the zeners are straight and the loop's error is nothing; for the output resistance the "
    "slope counts, with the resistor from the line beside it, and the gain, while the junction's voltage is fixed."
)

AT_FULL_LOAD = Slip(
    "at-full-load", "P_Z_1", Rewrite("I_ZK"), "the zener's heat taken at full load",
    "What the load no longer takes, the zener does: the resistor brings as much as before.",
    "Where does the load's current go when the load no longer takes it?", step="I_Z_1", reference=("S08",),
)  # fmt: skip
LOAD_ALONE = Slip(
    "load-alone", "P_Z_1", Rewrite("I_L_MAX"), "the full load's current taken for the zener's",
    "The zener takes what the load leaves: all that the resistor brings, less what the load still draws.",
    "What does the resistor bring, and who shares it?", step="I_Z_1", reference=("S10",),
)  # fmt: skip
LOAD_THROUGH_FEED = Slip(
    "load-through-feed", "I_R_2", Rewrite("I_L_MAX + I_Z_2"),
    "the follower's resistor made to bring the whole load current",
    "The transistor brings the load its current from the line; the resistor feeds base and zener alone.",
    "What does the transistor take off the resistor's shoulders?", reference=("E04",),
)  # fmt: skip
BASE_LEFT_OUT = Slip(
    "base-left-out", "I_R_2", Rewrite("I_Z_2"), "the base current left out of what the resistor brings",
    "At full load the base takes its share before the zener has any.",
    "Who else is fed from the node where the zener stands?", reference=("E09",),
)  # fmt: skip
RAISED = Slip(
    "raised", "P_Z_2", Rewrite("V_O - V_BE"), "a zener below the output, as if the follower raised it",
    "A follower multiplies current, no voltage: its output lies one junction below the zener at its base.",
    "Which way does one step across the junction, coming from the base?", step="V_Z_2", reference=("E01", "E19"),
)  # fmt: skip
LEFT_OVER = Slip(
    "left-over", "P_Z_2", Rewrite("I_R_2 - I_ZK"),
    "what the zener's least current leaves taken for the base current, whatever the load",
    "The load sets the base current, and the zener takes the rest; at its least current it stands at full load alone.",
    "Does the base still take that much while the load stands by?", step="I_B_2", reference=("E11",),
)  # fmt: skip
GAIN_MULTIPLIES = Slip(
    "gain-multiplies", "R_OUT_2", Rewrite("r_z*(h_FE + 1)"), "the output resistance multiplied by the gain",
    "Seen from the emitter, what stands at the base is divided by $h_FE + 1$: little of a change gets there.",
    "Does the follower make what holds its base look stiffer or softer?", reference=("E17",),
)  # fmt: skip
BASE_ALONE = Slip(
    "base-alone", "R_OUT_2", Rewrite("R_FEED_2||r_z"), "the resistance at the base taken for that of the output",
    "The base takes only one part in $h_FE + 1$ of a change of load, so that much less comes through.",
    "How much of the load's change does the base take?",
)  # fmt: skip
IN_SERIES = Slip(
    "in-series", "R_OUT_1", Rewrite("R_FEED_1 + r_z"), "resistor and slope added",
    "Seen from the output both lead to fixed voltages, so they stand side by side.",
    "From the output, can current come through one of them without the other?", reference=("S18",),
)  # fmt: skip
GAIN_ALONE = Slip(
    "gain-alone", "R_OUT_3", Rewrite("R_O/((h_FE + 1)*A)"), "divided by the amplifier's gain alone",
    "Only the divider's share of a change comes back to the amplifier: divide by one and the gain times that share.",
    "How much of a change of the output reaches the amplifier's input?", reference=("F12",),
)  # fmt: skip
PASS_FORGOTTEN = Slip(
    "pass-forgotten", "R_OUT_3", Rewrite("R_O/(1 + A*R_2/(R_1 + R_2))"), "the pass transistor's gain forgotten",
    "The amplifier gives base current only: a change of the load reaches it divided by $h_FE + 1$.",
    "How much of the load's change must the amplifier itself give?",
)  # fmt: skip
VOLTAGES_ALONE = Slip(
    "voltages-alone", "eta_1", Rewrite("V_O/V_I"), "the quotient of the voltages taken for the shunt's efficiency",
    "The supply gives the zener's current, too: more is drawn than the load has.",
    "Is what the shunt draws from the line the load current alone?", reference=("S29",),
)  # fmt: skip
SHUNT_FULL_LOAD = Slip(
    "shunt-full-load", "P_D_1_MAX", Swap("I_L", "I_L_MAX"), "the shunt's waste taken at full load",
    "The shunt draws the same whatever the load does; it wastes least when the load has most.",
    "What becomes of the current that a light load leaves?", step="P_O",
)  # fmt: skip
FOLLOWER_LIGHT_LOAD = Slip(
    "follower-light-load", "P_D_2_MAX",
    Rewrite("V_I_MAX*((V_I_MAX - V_O - V_BE)/R_FEED_2 - I_L_MIN/(h_FE + 1) + I_L_MIN) - V_O*I_L_MIN"),
    "the follower's waste taken at the lightest load",
    "The load's current falls through the transistor; the more flows, the more is lost there.",
    "What does the transistor lose when nothing flows?",
)  # fmt: skip
WHOLE_INPUT = Slip(
    "whole-input", "P_D_2_MAX", Rewrite("V_I_MAX*I_L_MAX"), "the whole input voltage counted as lost",
    "Of each ampere the load has its $V_O$; only what lies above is lost, and the zener's current comes on top.",
    "Which part of the power drawn does reach the load?", reference=("E12",),
)  # fmt: skip
KNEE_LEFT_OUT = Slip(
    "knee-left-out", "R_FEED_1_MAX", Rewrite("(V_I - V_O)/I_L"), "the zener's least current left out",
    "At full load the resistor must still bring the zener its least current.",
    "At full load, what does the zener live on?", reference=("S01",), step="R_FEED_1",
)  # fmt: skip
HIGH_LINE = Slip(
    "high-line", "R_FEED_1_MAX", Swap("V_I", "V_I_MAX"), "the resistor sized at the highest line",
    "Least current flows through the resistor at the lowest line, and there it must be enough.",
    "At which line does the resistor bring least?", reference=("S02",), step="R_FEED_1",
)  # fmt: skip
SIZED_FOR_LOAD = Slip(
    "sized-for-the-load", "R_FEED_2_MAX", Swap("I_B_2", "I_L"),
    "the follower's resistor sized for the whole load current",
    "The transistor brings the load its current from the line; the resistor feeds base and zener alone.",
    "What does the transistor take off the resistor's shoulders?", reference=("E04",), step="R_FEED_2",
)  # fmt: skip
PAST_THE_BASE = Slip(
    "past-the-base", "R_FEED_2_MAX", Swap("V_Z_2", "V_O"), "$V_I - V_O$ put across the follower's resistor",
    "The resistor ends at the base, one junction above the output.", "Name the two nodes that the resistor joins.",
    reference=("E10",), step="R_FEED_2",
)  # fmt: skip
COOL_SHUNT = Slip(
    "cool-shunt", "P_Z_1_MAX", Swap("I_L", "I_L_MAX"), "the zener's heat taken at full load",
    "The zener takes what the load leaves, so it is hottest where the load takes least.",
    "When the load takes less, what does the zener do?", step="I_Z_1", reference=("S08",),
)  # fmt: skip
COOL_LINE = Slip(
    "cool-line", "P_Z_1_MAX", Swap("V_I", "V_I_MIN"), "the zener's heat taken at the lowest line",
    "The resistor brings most at the highest line, and the zener must take it.",
    "Which line drives most through the resistor?", step="I_Z_1", reference=("S09",),
)  # fmt: skip

COOL_1, COOL_2 = ("P_Z_1_MAX <= P_ZM", "P_Z_2_MAX <= P_ZM")
STIFF_1, STIFF_2, STIFF_3 = (f"R_OUT_{regulator} <= R_OUT_MAX" for regulator in (1, 2, 3))
SHUNT, FOLLOWER, LOOP = (
    f"the {words} is the simplest that serves" for words in ("shunt", "emitter follower", "feedback loop")
)
WHICH = TellVerdict(
    "which of the three is the simplest that meets the specification",
    (
        Demand("shunt, zener at its hottest", COOL_1),
        Demand("shunt, output resistance", STIFF_1),
        Demand("follower, zener at its hottest", COOL_2),
        Demand("follower, output resistance", STIFF_2),
        Demand("feedback regulator, output resistance", STIFF_3),
    ),
    (
        Verdict(SHUNT, (COOL_1, STIFF_1)),
        Verdict(FOLLOWER, (STIFF_1, COOL_2, STIFF_2), (COOL_1,)),
        Verdict(FOLLOWER, (COOL_2, STIFF_2), (STIFF_1,)),
        Verdict(LOOP, (COOL_2, STIFF_3), (STIFF_2,)),
    ),
    "Fewest parts first: the shunt is taken if both its demands are met, else the follower if both of its are, else "
    "the feedback loop. The largest resistor leaves the zener of the shunt as cool as it can be; if it is too hot even "
    "so, no resistor whatever serves.",
)

FAMILY = Family(
    title="One specification, three regulators",
    about="A zener beside the load, a transistor that follows a zener, a loop that compares: the first throws away "
    "what the load leaves, the second only what the line has over, and the third does the same and is far stiffer.",
    lesson="combined",
    circuit="regulators",
    scenarios=(
        "A choir's portable organ needs one small rail, and three drawings for it hang on the workshop wall.",
        "For the clock of a railway museum three apprentices have each proposed another regulator.",
        "A seed bank's recorder may have a zener, a transistor or an amplifier before it, and somebody must choose.",
        "The night class builds the same rail three times over and measures which runs coolest.",
        "A boat builder asks three firms for one small supply, and each sends another circuit.",
        "The score lamp of a bowling alley is fed from a spare rail, and three ways to make it are compared.",
        "A weather balloon's ground station has parts for three regulators and room for one.",
    ),
    cautions=("hot-parts", "output"),
    edition=3,  # level 2 draws loads and resistors that fit one another more often
    levels=(
        Level(
            about="Shunt against follower: what the zener must be ready to carry",
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("over", (3.0, 4.0, 5.0, 6.0, 8.0, 10.0)),
                Work("V_I", "V_O + over"),
                Pick("I_L_MIN", (0.001, 0.002, 0.003, 0.005)),
                Pick("I_L_MAX", LOADS),
                Pick("I_ZK", KNEE),
                Pick("V_BE", (0.6, 0.65, 0.7)),
                Pick("h_FE", GAINS),
            ),
            given=("V_I", "V_O", "I_L_MIN", "I_L_MAX", "I_ZK", "V_BE", "h_FE"),
            labels=LABELS,
            data="Two of the three come first: from a steady line of {V_I} a zener shunt (1) and an emitter follower "
            "(2) are both to give {V_O}. "
            "Each has its resistor from the line chosen so that at a full load of {I_L_MAX} its zener is left {I_ZK}. "
            "Standing by, the load draws {I_L_MIN}. The follower's transistor has {V_BE} and a gain of {h_FE}. The "
            "zeners are straight.",
            ask="Find what the follower's resistor brings, and the power in each zener while the load stands by.",
            asks=(
                Find("I_R_1", "the current through the shunt's resistor", at={"I_L": "I_L_MAX", "I_Z_1": "I_ZK"},
                     shown=False),
                Find("I_R_2", "the current through the follower's resistor", at={"I_L": "I_L_MAX", "I_Z_2": "I_ZK"}),
                Find("P_Z_1", "the power in the shunt's zener at the lightest load", at={"I_L": "I_L_MIN"}),
                Find("P_Z_2", "the power in the follower's zener at the lightest load", at={"I_L": "I_L_MIN"}),
            ),
            require=("V_I <= 2*V_O", "P_Z_1 <= 5"),
            slips=(AT_FULL_LOAD, LOAD_ALONE, LOAD_THROUGH_FEED, BASE_LEFT_OUT, RAISED, LEFT_OVER),
            back=(BackLine("The load comes back", "P_Z_1/V_O + I_L_MIN - I_ZK", "I_L_MAX"),),
            band={"h_FE": 0.3},
            bench="a zener at its least current and at many times that differ by their slope: a few tenths of a volt "
            "in the shunt, hardly anything in the follower",
        ),
        Level(
            about="All three at their corners: waste, efficiency, output resistance",
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("over", (4.0, 5.0, 6.0, 8.0)),
                Work("V_I_MIN", "V_O + over"),
                Pick("spread", (2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0, 0.002, 0.005, 0.01)),
                Pick("I_L_MAX", (0.06, 0.08, 0.1, 0.12, 0.15, 0.18)),
                Pick("V_BE", (0.6, 0.65, 0.7)),
                Pick("h_FE", GAINS),
                Pick("R_FEED_1", values_between(18, 91, Series.E24)),
                Pick("R_FEED_2", values_between(220, 1000, Series.E12)),
                Pick("R_FEED_3", values_between(1000, 4700, Series.E12)),
                Pick("R_1", UPPER),
                Pick("R_2", UPPER),
                Pick("A", LOOPS),
                Pick("R_O", INSIDE),
                Pick("r_z", SLOPES),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O", "I_L_MIN", "I_L_MAX", "V_BE", "h_FE", "R_FEED_1", "R_FEED_2", "R_FEED_3",
                "R_1", "R_2", "A", "R_O", "r_z",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data=f"{THREE} Each gives {{V_O}} from a line of {{V_I_MIN}} to {{V_I_MAX}} and feeds a load of "
            "{I_L_MIN} to {I_L_MAX}. The resistors from the line are {R_FEED_1}, {R_FEED_2} and {R_FEED_3}; each "
            "transistor has {V_BE} and a gain of {h_FE}, each zener a slope of {r_z}. The third has a divider of "
            "{R_1} above and {R_2} below, and an amplifier of gain {A} and output resistance {R_O}. " + MODEL,
            ask="Find the most that each of the three wastes, over every corner; the efficiency of shunt and follower "
            "at the highest line and full load; and the output resistance of each.",
            asks=(
                FindExtreme("P_D_1", Extreme.GREATEST, "the most that the shunt wastes"),
                FindExtreme("P_D_2", Extreme.GREATEST, "the most that the follower wastes"),
                FindExtreme("P_D_3", Extreme.GREATEST, "the most that the feedback regulator wastes"),
                Find("eta_1", "the efficiency of the shunt at the highest line and full load",
                     at={"V_I": "V_I_MAX", "I_L": "I_L_MAX"}),
                Find("eta_2", "the efficiency of the follower there", at={"V_I": "V_I_MAX", "I_L": "I_L_MAX"}),
                Find("R_OUT_1", "the output resistance of the shunt"),
                Find("R_OUT_2", "the output resistance of the follower"),
                Find("R_OUT_3", "the output resistance of the feedback regulator"),
            ),
            require=(
                "V_I_MAX <= 2.2*V_O",
                "(V_I_MIN - V_O)/R_FEED_1 >= I_L_MAX + 0.004",
                "(V_I_MIN - V_O)/R_FEED_1 <= 1.5*I_L_MAX + 0.01",
                "(V_I_MIN - V_O - V_BE)/R_FEED_2 >= I_L_MAX/(h_FE + 1) + 0.004",
                "(V_I_MIN - V_O - V_BE)/R_FEED_2 <= I_L_MAX/(h_FE + 1) + 0.015",
                "V_O*R_2 >= 2.5*(R_1 + R_2)", "V_O*R_2 <= 6.5*(R_1 + R_2)", "P_D_1_MAX >= 2*P_D_2_MAX",
                "P_D_1_MAX <= 20*P_D_2_MAX", "P_D_1_MAX <= 15",
            ),
            slips=(
                SHUNT_FULL_LOAD, FOLLOWER_LIGHT_LOAD, WHOLE_INPUT, VOLTAGES_ALONE, IN_SERIES, GAIN_MULTIPLIES,
                BASE_ALONE, GAIN_ALONE, PASS_FORGOTTEN,
            ),
            back=(BackLine("The highest line comes back", "(P_D_1_MAX + V_O*I_L_MIN)/((V_I_MAX - V_O)/R_FEED_1)",
                           "V_I_MAX"),),
            band={"h_FE": 0.3, "R_FEED_1": 0.05, "R_FEED_2": 0.05, "r_z": 0.3},
            bench="a real junction adds some 26 mV over the load current to the follower's output resistance, often "
            "more than what its zener leaves",
        ),
        Level(
            about="Inverse: the specification decides which is the simplest that meets it",
            draws=(
                Pick("V_O", OUTPUTS),
                Pick("over", (3.0, 4.0, 5.0, 6.0, 8.0)),
                Work("V_I_MIN", "V_O + over"),
                Pick("spread", (1.0, 2.0, 3.0, 4.0, 5.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("I_L_MIN", (0.0, 0.002, 0.005, 0.01, 0.02)),
                Pick("I_L_MAX", (0.01, 0.02, 0.03, *LOADS)),
                Pick("I_ZK", KNEE),
                Pick("P_ZM", (0.5, 1.0, 1.3, 2.0, 5.0, 5.0)),
                Pick("r_z", SLOPES),
                Pick("V_BE", (0.6, 0.65, 0.7)),
                Pick("h_FE", GAINS),
                Pick("R_1", UPPER),
                Pick("R_2", UPPER),
                Pick("A", LOOPS),
                Pick("R_O", INSIDE),
                Pick("R_OUT_MAX", (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 8.0, 10.0, 12.0, 15.0, 20.0)),
            ),
            given=(
                "V_I_MIN", "V_I_MAX", "V_O", "I_L_MIN", "I_L_MAX", "R_OUT_MAX", "I_ZK", "P_ZM", "r_z", "V_BE", "h_FE",
                "R_1", "R_2", "A", "R_O",
            ),
            ranges=("V_I", "I_L"),
            labels=LABELS,
            data=f"{THREE} The specification: {{V_O}} from a line of {{V_I_MIN}} to {{V_I_MAX}}, a load of {{I_L_MIN}} "
            "to {I_L_MAX}, an output resistance of {R_OUT_MAX} at most. On the shelf are zeners of {P_ZM} that want "
            "{I_ZK} at least and have a slope of {r_z}, transistors of {V_BE} and a gain of {h_FE}, and for the third "
            "a divider of {R_1} above and {R_2} below and an amplifier of gain {A} and output resistance {R_O}; its "
            "zener is fed well. " + MODEL,
            ask="Find the largest resistor from the line that shunt and follower can have, the power in their zeners "
            "at the worst corner with just that resistor, and the output resistance of all three; then say which is "
            "the simplest that meets the specification. Simplest is the shunt, then the follower, then the feedback "
            "regulator.",
            asks=(
                FindBound("R_FEED_1", "I_Z_1 >= I_ZK", "the largest resistor for the shunt"),
                FindExtreme("P_Z_1", Extreme.GREATEST, "the greatest power in the shunt's zener, with that resistor",
                            at={"R_FEED_1": "R_FEED_1_MAX"}),
                FindBound("R_FEED_2", "I_Z_2 >= I_ZK", "the largest resistor for the follower"),
                FindExtreme("P_Z_2", Extreme.GREATEST, "the greatest power in the follower's zener, with that resistor",
                            at={"R_FEED_2": "R_FEED_2_MAX"}),
                Find("R_OUT_1", "the output resistance of the shunt", at={"R_FEED_1": "R_FEED_1_MAX"}),
                Find("R_OUT_2", "the output resistance of the follower", at={"R_FEED_2": "R_FEED_2_MAX"}),
                Find("R_OUT_3", "the output resistance of the feedback regulator"),
                WHICH,
            ),
            require=(
                "V_I_MAX <= 2*V_O", "I_L_MAX >= 4*I_L_MIN", "V_O*R_2 >= 2.5*(R_1 + R_2)",
                "V_O*R_2 <= 6.5*(R_1 + R_2)", "P_Z_1_MAX <= 8", "P_Z_2_MAX <= P_ZM", "R_OUT_3 <= 0.98*R_OUT_MAX",
                "R_OUT_MAX <= 2*r_z", "R_OUT_1 >= 1.02*R_OUT_2",
            ),
            slips=(
                KNEE_LEFT_OUT, HIGH_LINE, COOL_SHUNT, COOL_LINE, SIZED_FOR_LOAD, PAST_THE_BASE, GAIN_MULTIPLIES,
                BASE_ALONE, GAIN_ALONE,
            ),
            back=(BackLine("At the lowest line and full load, the zener's least current",
                           "(V_I_MIN - V_O)/R_FEED_1_MAX - I_L_MAX", "I_ZK"),),
            band={"h_FE": 0.3, "r_z": 0.3},
            bench="a real junction adds some 26 mV over the load current to the follower's output resistance; where "
            "the limit is near, measure before you choose",
        ),
    ),
)  # fmt: skip
