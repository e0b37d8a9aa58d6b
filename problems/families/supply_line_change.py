"""What the line does to crest, mean and trough; at level 3 the lowest line that still serves."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    Pick,
    Rewrite,
    Slip,
    Work,
)

DIODE = Pick("V_F", (0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.1))
MAINS = Pick("f", (50.0, 60.0))
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = tuple(value / 1000 for value in (100, 120, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600, 750, 800, 1000))
LABELS = {
    "V_F": "forward drop of each diode",
    "V_SEC_NOM": "voltage of the winding at the stated line, r.m.s.",
    "V_SEC_MIN": "voltage of the winding at the lowest line, r.m.s.",
    "V_SEC_MAX": "voltage of the winding at the highest line, r.m.s.",
    "V_PRI_NOM": "stated mains voltage, r.m.s.",
    "V_PRI_MIN": "lowest mains voltage, r.m.s.",
    "V_PRI_MAX": "highest mains voltage, r.m.s.",
    "V_TROUGH_MIN": "lowest voltage that the regulator behind it can use",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "N_T": "turns ratio, primary over secondary",
}

FAMILY = Family(
    edition=2,
    title="A raw supply when the line moves",
    about="The winding follows the line in proportion, the drops of the diodes do not, and the ripple follows the "
    "load. "
    "So the line takes more from a small supply than its own share.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={},
    scenarios=(
        "At the end of a long country line a dairy's milk meter loses its reading when the pumps start.",
        "A chairlift's telephone is fed from a line that rises at night.",
        "An island's generator is not steady, and the lighthouse log records it.",
        "A glassworks' furnace drags the line down each time it is switched on.",
        "The line of a vineyard sags while the presses run, and the cellar's instruments share it.",
        "A travelling circus takes whatever line it finds in each town.",
        "In a slate quarry the crusher's start dims every lamp on the site.",
    ),
    cautions=("mains-fed", "transformer", "capacitors"),
    levels=(
        Level(
            about="The crest at either end of the line",
            form="bridge",
            draws=(
                Pick("V_SEC_NOM", tuple(half / 2 for half in range(15, 29))),
                Pick("down", (0.8, 0.82, 0.85)),
                Pick("up", (1.05, 1.06, 1.08, 1.1, 1.15)),
                Work("V_SEC_MIN", "V_SEC_NOM*down", 4),
                Work("V_SEC_MAX", "V_SEC_NOM*up", 4),
                DIODE,
            ),
            given=("V_SEC_NOM", "V_SEC_MIN", "V_SEC_MAX", "V_F"),
            ranges=("V_SEC",),
            labels=LABELS,
            data="A winding of {V_SEC_NOM}, r.m.s., charges a reservoir through a bridge whose diodes take {V_F} each. "
            "With the line the winding moves between {V_SEC_MIN} and {V_SEC_MAX}.",
            ask="Find the crest across the reservoir at the stated, the lowest and the highest line.",
            asks=(
                Find("V_PK", "the crest at the stated line", key="V_PK_NOM", at={"V_SEC": "V_SEC_NOM"}),
                FindExtreme("V_PK", Extreme.LEAST, "the least crest"),
                FindExtreme("V_PK", Extreme.GREATEST, "the greatest crest"),
            ),
            slips=(
                Slip(
                    "rms-for-crest",
                    "V_PK_NOM",
                    Rewrite("V_SEC - 2*V_F"),
                    "the winding's r.m.s. voltage taken for its crest",
                    "A winding is rated by its r.m.s. voltage, and the reservoir charges to the crest of the sine "
                    "wave.",
                    "The figure on the label is r.m.s.; how high is the crest of that wave?",
                    reference=("U01",),
                ),
                Slip(
                    "drops-scaled",
                    "V_PK_MIN",
                    Rewrite("V_PK_NOM*V_SEC/V_SEC_NOM"),
                    "the line's change applied after the drops are taken off",
                    "Only the winding follows the line; the diodes take as many volts as before.",
                    "Which of the terms follows the mains?",
                    reference=("U17",),
                ),
                Slip(
                    "line-left-out",
                    "V_PK_MAX",
                    Rewrite("V_PK_NOM"),
                    "the line taken to stay where it is",
                    "The winding's crest rises with the line, and the reservoir follows it.",
                    "Which mains voltage lets the reservoir charge most?",
                ),
            ),
            back=(BackLine("The winding at the lowest line comes back", "(V_PK_MIN + 2*V_F)/sqrt(2)", "V_SEC_MIN"),),
            band={"V_F": 0.15},
            bench="the drop of a diode is itself uncertain by a tenth of a volt or two",
        ),
        Level(
            about="Line and load together: the lowest trough and the highest crest",
            form="half-wave",
            draws=(
                Pick("V_PRI_MIN", (207.0, 210.0, 216.0, 198.0, 104.0, 108.0)),
                Pick("up", (1.15, 1.2, 1.22)),
                Work("V_PRI_MAX", "V_PRI_MIN*up", 4),
                Pick("N_T", tuple(half / 2 for half in range(12, 50))),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L_MIN", (0.02, 0.03, 0.05)),
                Pick("I_L_MAX", LOADS[:11]),
            ),
            given=("V_PRI_MIN", "V_PRI_MAX", "N_T", "V_F", "f", "C", "I_L_MIN", "I_L_MAX"),
            ranges=("V_PRI", "I_L"),
            labels=LABELS,
            data="A transformer with the turns ratio {N_T} stands at a mains between {V_PRI_MIN} and {V_PRI_MAX}, of "
            "{f}. A single diode of {V_F} charges {C}, and the load draws between {I_L_MIN} and {I_L_MAX}.",
            ask="Find the lowest voltage across the reservoir at any line, load and moment, the highest, and the least "
            "mean voltage.",
            asks=(
                FindExtreme("V_TROUGH", Extreme.LEAST, "the lowest voltage at any line, load and moment"),
                FindExtreme("V_PK", Extreme.GREATEST, "the highest voltage"),
                FindExtreme("V_DC", Extreme.LEAST, "the least mean voltage"),
            ),
            require=("V_TROUGH_MIN >= 0.6*V_PK_MAX", "V_TROUGH_MIN <= 0.8*V_PK_MAX", "V_PK_MAX <= 30", "V_PK_MAX >= 9"),
            slips=(
                Slip(
                    "high-line",
                    "V_TROUGH_MIN",
                    Rewrite("V_PK*V_PRI_MAX/V_PRI - V_RIP"),
                    "the highest line used for the lowest voltage",
                    "The crest is least at the lowest line, and the trough hangs below the crest.",
                    "Which line lets the reservoir charge least?",
                ),
                Slip(
                    "light-load",
                    "V_TROUGH_MIN",
                    Rewrite("V_PK - I_L_MIN/(f*C)"),
                    "the lightest load used for the lowest voltage",
                    "The fullest load empties the reservoir furthest.",
                    "Which load takes most charge between two crests?",
                ),
                Slip(
                    "mean-for-trough",
                    "V_TROUGH_MIN",
                    Rewrite("V_PK - V_RIP/2"),
                    "the mean taken for the lowest voltage",
                    "The lowest moment lies half a ripple below the mean.",
                    "Which instant of the ripple is asked for?",
                ),
                Slip(
                    "twice-f",
                    "V_DC_MIN",
                    Rewrite("V_PK - I_L/(4*f*C)"),
                    "two top-ups a cycle taken for a single diode",
                    "A single diode conducts once in each cycle of the mains.",
                    "Draw two cycles and mark each charging pulse.",
                ),
            ),
            band={"C": 0.2},
            bench="a real winding also loses voltage in its own resistance, which the next problems count",
        ),
        Level(
            about="Backwards: the lowest line that still serves, and what the highest line then puts on the reservoir",
            form="centre-tap",
            draws=(
                Pick("V_PRI_NOM", (230.0, 240.0, 120.0, 115.0)),
                Pick("up", (1.06, 1.1)),
                Work("V_PRI_MAX", "V_PRI_NOM*up", 4),
                Pick("N_T", tuple(half / 2 for half in range(10, 50))),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L", LOADS),
                Pick("V_TROUGH_MIN", tuple(half / 2 for half in range(12, 25))),
            ),
            given=("V_PRI_NOM", "V_PRI_MAX", "N_T", "V_F", "f", "C", "I_L", "V_TROUGH_MIN"),
            labels={**LABELS, "N_T": "turns ratio, primary over the whole secondary"},
            data="A transformer with the turns ratio {N_T} of its primary over the whole of its centre-tapped "
            "secondary "
            "is meant for {V_PRI_NOM} and may see {V_PRI_MAX}; the mains has {f}. Two diodes of {V_F} charge {C}, the "
            "load draws {I_L}, and the regulator behind it needs {V_TROUGH_MIN} at every moment.",
            ask="Find the ripple, the lowest mains voltage at which the regulator still has what it needs, and the "
            "crest across the unloaded reservoir at the highest.",
            asks=(
                Find("V_RIP", "the ripple $V_RIP$, peak to peak"),
                FindBound("V_PRI", "V_TROUGH >= V_TROUGH_MIN", "the lowest mains voltage that serves"),
                Find("V_PK", "the crest at the highest line", key="V_PK_MAX", at={"V_PRI": "V_PRI_MAX"}),
            ),
            require=(
                "V_PRI_MIN <= 0.97*V_PRI_NOM",
                "V_PRI_MIN >= 0.7*V_PRI_NOM",
                "V_RIP >= 0.06*V_TROUGH_MIN",
                "V_RIP <= 0.35*V_TROUGH_MIN",
            ),
            slips=(
                Slip(
                    "once-a-cycle",
                    "V_RIP",
                    Rewrite("I_L/(f*C)"),
                    "one top-up a cycle taken for two diodes",
                    "The halves of the winding take turns, so the reservoir is topped up twice in each cycle.",
                    "What does the second diode do in the other half-cycle?",
                    reference=("U05",),
                ),
                Slip(
                    "ripple-left-out",
                    "V_PRI_MIN",
                    Rewrite("2*N_T*(V_TROUGH_MIN + V_F)/sqrt(2)"),
                    "the ripple left out, so that the crest alone meets the need",
                    "The regulator must have its voltage at the lowest moment, a whole ripple below the crest.",
                    "Is the voltage at the crest or in the trough when the regulator has least?",
                ),
                Slip(
                    "mean-for-trough",
                    "V_PRI_MIN",
                    Rewrite("2*N_T*(V_TROUGH_MIN + V_RIP/2 + V_F)/sqrt(2)"),
                    "the need held against the mean",
                    "Below the mean the ripple still has half its height to fall.",
                    "At which moment has the regulator least?",
                ),
                Slip(
                    "tap-forgotten",
                    "V_PRI_MIN",
                    Rewrite("N_T*(V_TROUGH_MIN + V_RIP + V_F)/sqrt(2)"),
                    "the whole winding taken to charge the reservoir",
                    "Only one half of the winding feeds the reservoir at a time, and the ratio tells of the whole.",
                    "How many of the secondary's turns charge the reservoir in one half-cycle?",
                ),
            ),
            checks=(CheckLine("At that line", "V_TROUGH >= V_TROUGH_MIN", {"V_PRI": "V_PRI_MIN"}),),
            band={"C": 0.2},
            bench="allow for the winding's own resistance and for a capacitor at the bottom of its tolerance",
        ),
    ),
)
