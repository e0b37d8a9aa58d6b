"""One diode, a tapped winding or a bridge for the same duty: what each leaves, what each stands, and which serves."""

from dataclasses import replace

from tutor.generate.family import (
    BackLine,
    Demand,
    Extreme,
    Family,
    Find,
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

MAINS = Pick("f", (50.0, 60.0))
# A tapped winding has twice that from end to end, and stays at 22 V.
WINDINGS = (6.0, 7.0, 7.5, 8.0, 9.0, 10.0, 11.0)
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = tuple(value / 1000 for value in (80, 100, 120, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600, 700, 800))
LABELS = {
    "V_SEC": "voltage of each winding, r.m.s. (of each half of the tapped one)",
    "V_SEC_MIN": "voltage of each winding at the lowest line, r.m.s. (of each half of the tapped one)",
    "V_SEC_MAX": "voltage of each winding at the highest line, r.m.s. (of each half of the tapped one)",
    "V_F": "forward drop of each diode",
    "C": "reservoir of each supply",
    "I_L": "current drawn from each supply",
    "I_L_MIN": "lightest load of each supply",
    "I_L_MAX": "fullest load of each supply",
    "R_W": "resistance of each winding (of each half of the tapped one), primary counted in",
    "V_TROUGH_MIN": "lowest voltage that the regulator behind it can use",
    "PIV_MAX": "most that may stand across a diode in reverse, four fifths of its rating",
}
THREE = "Supply 1 has a single diode, supply 2 two diodes at a tapped winding, supply 3 a bridge."

ONE_DROP = Slip(
    "one-drop",
    "V_TROUGH_3",
    Rewrite("V_SPK - V_F"),
    "one diode drop taken for a bridge",
    "In a bridge the current passes two diodes in series, in the tapped winding and behind one diode a single one.",
    "Count the diodes on the way out and on the way back.",
    step="V_PK_3",
    reference=("U03",),
)
TWO_DROPS = Slip(
    "two-drops",
    "V_TROUGH_2",
    Rewrite("V_SPK - 2*V_F"),
    "two diode drops taken for a tapped winding",
    "The way back leads through the tap, so only one diode is in the way.",
    "By which way does the current come back to the winding?",
    step="V_PK_2",
    reference=("U04",),
)
TWICE_FOR_ONE = Slip(
    "twice-for-one",
    "V_TROUGH_1_MIN",
    Rewrite("I_L/(2*f*C)"),
    "two top-ups a cycle taken for one diode",
    "A single diode conducts at one crest of each cycle and leaves the other out.",
    "What does the diode do while the winding swings the other way?",
    step="V_RIP_1",
    reference=("U06",),
)
ONCE_FOR_TWO = Slip(
    "once-for-two",
    "V_TROUGH_3",
    Rewrite("I_L/(f*C)"),
    "the mains frequency taken for a bridge",
    "A bridge tops the reservoir up twice in each cycle.",
    "How many top-ups does each cycle of the mains bring?",
    step="V_RIP_3",
    reference=("U05",),
)
HIGH_LINE = Slip(
    "high-line",
    "V_TROUGH_1_MIN",
    Swap("V_SEC", "V_SEC_MAX"),
    "the highest line used for the lowest voltage",
    "The winding follows the line, and the reservoir has least at the lowest.",
    "At which line does the reservoir have least?",
    step="V_SPK",
)
LIGHT_LOAD = Slip(
    "light-load",
    "V_TROUGH_3_MIN",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the lowest voltage",
    "The ripple is the load's doing: it is deepest where most is drawn.",
    "Which load drains the reservoir furthest?",
    step="V_RIP_3",
)
ONE_CREST_FOR_ONE = Slip(
    "one-crest",
    "PIV_1_MAX",
    Rewrite("V_SPK - V_F"),
    "one crest taken for the diode that stands alone",
    "The reservoir keeps its own crest on one side while the winding swings to its crest the other way.",
    "What stands on the two sides of the diode half a cycle after it conducted?",
)
TWICE_THE_CREST = Slip(
    "twice-the-crest",
    "PIV_3_MAX",
    Rewrite("2*V_SPK"),
    "twice the crest taken for a bridge diode",
    "The neighbour that conducts ties the idle diode across the winding: one crest, less a drop.",
    "To which end of the winding does the conducting neighbour tie it?",
    reference=("U11",),
)
DIRECT_CURRENT = Slip(
    "direct-current",
    "VA_3_MAX",
    Rewrite("I_L_MAX"),
    "the winding loaded with the direct current",
    "The load's charge comes in short tall pulses, and their r.m.s. value is far above their mean.",
    "Does the winding carry the load current steadily?",
    step="I_SEC_3",
    reference=("U15",),
)
ONE_HALF = Slip(
    "one-half",
    "VA_2_MAX",
    Rewrite("V_SEC_MAX*I_SEC_2"),
    "one half of the tapped winding counted alone",
    "Both halves are wound, although they carry current by turns.",
    "How many halves must be wound for that current?",
)
SAME_AS_BRIDGE = Slip(
    "as-for-a-bridge",
    "VA_2_MAX",
    Rewrite("1.8*I_L_MAX"),
    "the current of a bridge's winding taken for each half",
    "Each half carries every other pulse: half the heat, so the r.m.s. current is smaller by $sqrt(2)$.",
    "How often in a cycle does one half carry a pulse?",
    step="I_SEC_2",
)
HALF_CREST = Slip(
    "half-crest",
    "PIV_2_MAX",
    Rewrite("V_SPK"),
    "one crest of a half taken for the diodes of a tapped winding",
    "The reservoir holds the cathode at its crest, and the idle half pulls the anode to its own crest below the tap.",
    "At which voltages do anode and cathode of the idle diode stand?",
    reference=("U10",),
)
ONCE_FOR_TWO_ANGLE = Slip(
    "once-a-cycle",
    "V_TROUGH_2_MIN",
    Rewrite("cbrt(3*pi*R_W*I_L/V_SPK)"),
    "one pulse a cycle taken for two diodes",
    "The halves of the winding take turns, so two pulses share the charge of a cycle.",
    "What does the second diode do in the other half-cycle?",
    step="phi_2",
)
WINDING_LEFT_OUT = Slip(
    "winding-left-out",
    "V_TROUGH_3_MIN",
    Rewrite("V_SPK - 2*V_F - I_L/(2*f*C)"),
    "the winding's resistance left out",
    "The charging pulses are many times the load current, and they lower the crest in the winding.",
    "What does a pulse of several times the load current lose in $R_W$?",
)
BRIDGE_ONE_DROP = Slip(
    "one-drop",
    "V_TROUGH_3_MIN",
    Rewrite("V_SPK*(1 - phi_3^2/2) - V_F"),
    "one diode drop taken for a bridge",
    "In a bridge the current passes two diodes in series.",
    "Count the diodes on the way out and on the way back.",
    step="V_DC_3",
)
# With the winding counted, what the trade's formulas give lies too deep in the answer to be held against them.
TWICE_WITH_THE_WINDING = replace(TWICE_FOR_ONE, reference=())

LOW_1, LOW_2, LOW_3 = (f"V_TROUGH_{supply}_MIN >= V_TROUGH_MIN" for supply in (1, 2, 3))
STANDS_2, STANDS_3 = (f"PIV_{supply}_MAX <= PIV_MAX" for supply in (2, 3))
NONE = "none of the three serves"
WHICH = TellVerdict(
    "which of the three serves at every corner",
    (
        Demand("one diode, lowest voltage", LOW_1),
        Demand("tapped winding, lowest voltage", LOW_2),
        Demand("bridge, lowest voltage", LOW_3),
        Demand("one diode and tapped winding, reverse voltage", STANDS_2),
        Demand("bridge, reverse voltage", STANDS_3),
    ),
    (
        Verdict("only the tapped winding serves", (LOW_2, STANDS_2), (LOW_1, LOW_3)),
        Verdict("only the bridge serves", (LOW_3, STANDS_3), (STANDS_2,)),
        Verdict("the tapped winding and the bridge both serve", (LOW_2, LOW_3, STANDS_2, STANDS_3), (LOW_1,)),
        Verdict(NONE, (), (LOW_2,)),
        Verdict(NONE, (LOW_2,), (LOW_3, STANDS_2)),
        Verdict(NONE, (LOW_2, LOW_3), (STANDS_3,)),
    ),
    "Each supply must pass both demands, the lowest voltage at the lowest line and fullest load, the reverse voltage "
    "at the highest line.",
)

FAMILY = Family(
    edition=2,
    title="Three rectifiers compared",
    about="One diode, a tapped winding or a bridge for the same duty: a diode in the way costs its drop, a crest left "
    "out doubles the ripple, and what an idle diode must stand may be one crest or two.",
    lesson="raw-supply",
    circuit="rectifiers",
    scenarios=(
        "A lighthouse museum may wind its lens motor's transformer as it likes, and asks what is to follow it.",
        "Three drawings for the supply of a mountain hut's radio lie on the table, and one is to be built.",
        "A repair shop has windings to spare and wants to know which rectifier to put behind them.",
        "A water mill's level alarm was built three times by three apprentices, each with another rectifier.",
        "The caretaker of a concert hall compares three spare supplies for the foyer clocks.",
        "A bee-keeper's hive scales are to get a raw supply, with one diode, with two or with four.",
        "A tram depot tests three rectifiers on the same bench before a hundred door controls are ordered.",
    ),
    cautions=("mains-fed", "transformer", "capacitors"),
    levels=(
        Level(
            about="What a diode costs and what a top-up saves",
            draws=(
                Pick("V_SEC", WINDINGS),
                Pick("V_F", (0.7, 0.8, 0.9, 1.0)),
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L", LOADS),
            ),
            given=("V_SEC", "V_F", "f", "C", "I_L"),
            labels=LABELS,
            data=f"{THREE} Each has its own winding of {{V_SEC}}, r.m.s. (supply 2: in each half), and its own "
            "reservoir of {C}; the diodes take {V_F} each, the mains has {f}, and {I_L} is drawn from each supply. The "
            "windings' resistance is left out.",
            ask="Find the lowest voltage that each supply falls to.",
            asks=(
                Find("V_TROUGH_1", "the lowest voltage $V_TROUGH_1$ behind one diode"),
                Find("V_TROUGH_2", "the lowest voltage $V_TROUGH_2$ at the tapped winding"),
                Find("V_TROUGH_3", "the lowest voltage $V_TROUGH_3$ behind the bridge"),
            ),
            require=("I_L/(f*C) <= 0.3*(V_SEC*sqrt(2) - 2*V_F)", "I_L/(f*C) >= 0.08*(V_SEC*sqrt(2) - 2*V_F)"),
            slips=(replace(TWICE_FOR_ONE, at="V_TROUGH_1"), TWO_DROPS, ONE_DROP, ONCE_FOR_TWO),
            back=(
                BackLine("The drop of one diode comes back", "V_TROUGH_2 - V_TROUGH_3", "V_F"),
                BackLine("The load comes back", "2*(V_TROUGH_2 - V_TROUGH_1)*f*C", "I_L"),
            ),
            band={"C": 0.2},
            bench="the windings' resistance lowers all three, and the one with the fewest pulses most",
        ),
        Level(
            about="The price of each: lowest voltage, reverse voltage and transformer, at their corners",
            draws=(
                Pick("V_SEC_NOM", WINDINGS),
                Pick("down", (0.9, 0.88, 0.85)),
                Work("V_SEC_MIN", "V_SEC_NOM*down", 4),
                Work("V_SEC_MAX", "V_SEC_NOM*1.1", 4),
                Pick("V_F", (0.7, 0.8, 0.9, 1.0)),
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L_MIN", (0.02, 0.03, 0.05)),
                Pick("I_L_MAX", LOADS),
            ),
            given=("V_SEC_MIN", "V_SEC_MAX", "V_F", "f", "C", "I_L_MIN", "I_L_MAX"),
            ranges=("V_SEC", "I_L"),
            labels=LABELS,
            data=f"{THREE} Each has its own winding, between {{V_SEC_MIN}} and {{V_SEC_MAX}}, r.m.s., with the line "
            "(supply 2: in each half), and its own reservoir of {C}; the diodes take {V_F} each and the mains has {f}. "
            "Between {I_L_MIN} and {I_L_MAX} is drawn from each supply. The r.m.s. current of a bridge's winding is "
            "1.8 times the load's, that of the others as their pulses go. The windings' resistance is left out.",
            ask="Find the lowest voltage behind one diode and behind the bridge, the most that a diode of each must "
            "stand in reverse, and the apparent power of the tapped winding and of the bridge's, over every corner.",
            asks=(
                FindExtreme("V_TROUGH_1", Extreme.LEAST, "the lowest voltage behind one diode"),
                FindExtreme("V_TROUGH_3", Extreme.LEAST, "the lowest voltage behind the bridge"),
                FindExtreme("PIV_1", Extreme.GREATEST, "the most that the one diode must stand"),
                FindExtreme("PIV_3", Extreme.GREATEST, "the most that a bridge diode must stand"),
                FindExtreme("VA_2", Extreme.GREATEST, "the apparent power of the tapped winding"),
                FindExtreme("VA_3", Extreme.GREATEST, "the apparent power of the bridge's winding"),
            ),
            require=(
                "V_SEC_MIN >= 6",
                "V_TROUGH_1_MIN >= 0.5*sqrt(2)*V_SEC_MIN",
                "I_L_MAX/(f*C) >= 0.08*sqrt(2)*V_SEC_MIN",
            ),
            slips=(
                HIGH_LINE,
                TWICE_FOR_ONE,
                LIGHT_LOAD,
                ONE_CREST_FOR_ONE,
                TWICE_THE_CREST,
                ONE_HALF,
                SAME_AS_BRIDGE,
                DIRECT_CURRENT,
            ),
            back=(BackLine("The highest line comes back", "(PIV_1_MAX - PIV_3_MAX)/sqrt(2)", "V_SEC_MAX"),),
            band={"C": 0.2},
            bench="a half-wave supply also drives a direct current through its winding, which a small core bears badly",
        ),
        Level(
            about="Which of the three serves, judged at every corner, the winding's resistance counted",
            assume={"winding": "charge-balance"},
            draws=(
                Pick("V_SEC_NOM", WINDINGS),
                Pick("down", (0.9, 0.88, 0.85)),
                Work("V_SEC_MIN", "V_SEC_NOM*down", 4),
                Work("V_SEC_MAX", "V_SEC_NOM*1.1", 4),
                Pick("R_W", (0.1, 0.15, 0.2, 0.3, 0.4, 0.5)),
                Pick("V_F", (0.6, 0.7, 0.8, 0.9)),
                Pick("PIV_MAX", (16.0, 24.0, 32.0, 48.0, 48.0)),
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L_MIN", (0.02, 0.03, 0.05)),
                Pick("I_L_MAX", LOADS),
                Pick("share", (0.75, 0.8, 0.85, 0.88, 0.9, 0.92, 0.95, 1.0)),
                Work("V_TROUGH_MIN", "share*V_SEC_NOM", 2),
            ),
            given=(
                "V_SEC_MIN", "V_SEC_MAX", "R_W", "V_F", "PIV_MAX", "f", "C", "I_L_MIN", "I_L_MAX", "V_TROUGH_MIN",
            ),
            ranges=("V_SEC", "I_L"),
            labels=LABELS,
            data=f"{THREE} Each has its own winding, between {{V_SEC_MIN}} and {{V_SEC_MAX}}, r.m.s., with the line "
            "(supply 2: in each half), behind a resistance of {R_W}, and its own reservoir of {C}; the mains has {f}. "
            "The Schottky diodes take {V_F} each at the crest of their current, and no more than {PIV_MAX} may stand "
            "across one in reverse. Between {I_L_MIN} and {I_L_MAX} is drawn from each supply by a regulator that "
            "needs {V_TROUGH_MIN} at every moment.",
            ask="Find the lowest voltage of each supply and the most that a diode must stand in reverse, at the tapped "
            "winding (as behind one diode) and in the bridge; set them against the limits, and say which of the three "
            "serves.",
            asks=(
                FindExtreme("V_TROUGH_1", Extreme.LEAST, "the lowest voltage behind one diode"),
                FindExtreme("V_TROUGH_2", Extreme.LEAST, "the lowest voltage at the tapped winding"),
                FindExtreme("V_TROUGH_3", Extreme.LEAST, "the lowest voltage behind the bridge"),
                FindExtreme("PIV_2", Extreme.GREATEST, "the most that a diode at the tapped winding must stand"),
                FindExtreme("PIV_3", Extreme.GREATEST, "the most that a bridge diode must stand"),
                WHICH,
            ),
            require=(
                "V_SEC_MIN >= 6",
                "V_TROUGH_1_MIN <= sqrt(2)*V_SEC_MIN - V_F - I_L_MAX/(f*C)",
                "V_TROUGH_2_MIN <= sqrt(2)*V_SEC_MIN - V_F - I_L_MAX/(2*f*C)",
                "R_W*I_L_MAX <= 0.06*sqrt(2)*V_SEC_MIN",
                "3*pi*R_W*I_L_MAX <= 0.7*sqrt(2)*V_SEC_MIN",
                "V_TROUGH_1_MIN >= 0.4*sqrt(2)*V_SEC_MIN",
                "PIV_MAX <= 5*V_SEC_MAX",
            ),
            slips=(
                HIGH_LINE, TWICE_WITH_THE_WINDING, ONCE_FOR_TWO_ANGLE, WINDING_LEFT_OUT, BRIDGE_ONE_DROP, HALF_CREST,
                TWICE_THE_CREST,
            ),
            back=(BackLine("The highest line comes back", "(PIV_2_MAX - PIV_3_MAX)/sqrt(2)", "V_SEC_MAX"),),
            bench="crest currents make the drop of a diode larger than its usual figure, so a margin of a few tenths "
            "of a volt is none",
        ),
    ),
)  # fmt: skip
