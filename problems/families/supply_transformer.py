"""Choose the transformer: r.m.s. current and rating from the pulses, the winding from what the regulator needs."""

from tutor.generate.family import (
    CheckLine,
    ChooseRating,
    Extreme,
    Family,
    Find,
    FindBound,
    FindExtreme,
    Level,
    NoMargin,
    Pick,
    Rewrite,
    Slip,
    Work,
)

RATINGS = (1.5, 2.4, 3.2, 5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 63.0, 80.0)
HALVES = (6.0, 7.5, 8.0, 9.0, 10.0, 11.0)
WINDINGS = (6.0, 7.5, 9.0, 12.0, 15.0, 18.0, 20.0, 22.0)
DIODE = Pick("V_F", (0.7, 0.8, 0.9, 1.0))
MAINS = Pick("f", (50.0, 60.0))
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = tuple(
    value / 1000
    for value in (100, 120, 150, 180, 200, 220, 250, 300, 350, 400, 450, 500, 600, 700, 750, 800, 900, 1000)
)
LABELS = {
    "V_F": "forward drop of each diode",
    "I_L": "load current, d.c.",
    "V_O": "output of the regulator behind it",
    "V_DROP_MIN": "drop-out voltage of the regulator",
    "V_PRI_NOM": "mains voltage at which windings are rated",
    "V_PRI_MIN": "lowest mains voltage, r.m.s.",
    "V_PRI_MAX": "highest mains voltage, r.m.s.",
}
PULSES = "The winding's heating current is taken as 1.8 times the load current for a bridge"
D_C_FOR_RMS = Slip(
    "dc-for-rms",
    "I_SEC",
    Rewrite("I_L"),
    "the load's direct current taken for the winding's r.m.s. current",
    "The winding's current comes in short tall pulses, whose r.m.s. value is well above their mean.",
    "Heating follows the r.m.s. value: are short tall pulses gentler or harder than d.c.?",
    reference=("U15",),
)
JUST_RATED = Slip(
    "just-rated",
    "VA_NOM",
    NoMargin(),
    "a rating with no margin",
    "A transformer at its full rating is as warm as it may be; leave the stated margin.",
    "How warm is a transformer at exactly its rating?",
)

FAMILY = Family(
    edition=2,
    title="Choose the transformer",
    about="A reservoir takes its charge in short pulses, so the winding is heated by far more than the load's current. "
    "Its voltage is found backwards from what the regulator needs at the lowest moment of the lowest line.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={},
    scenarios=(
        "A violin maker's humidity cabinet is to get a supply of its own.",
        "A ferry's boarding sign needs a transformer, and the stock list is at hand.",
        "The old transformer of a school clock hums, runs hot and is to be replaced.",
        "A saffron drier's controller is planned from the regulator backwards.",
        "A quarry's blast horn gets a regulated supply in the site hut.",
        "A ropeway's anemometer is to be fed from the winch house.",
        "An arboretum adds a supply for its soil probes.",
    ),
    cautions=("mains-fed", "transformer", "hot-parts", "capacitors"),
    levels=(
        Level(
            about="Heating current and rating",
            form="bridge",
            draws=(
                Pick("V_SEC", (6.0, 7.5, 8.0, 9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0)),
                Pick(
                    "I_L",
                    (
                        *LOADS,
                        0.13,
                        0.16,
                        0.24,
                        0.27,
                        0.33,
                        0.36,
                        0.43,
                        0.47,
                        0.51,
                        0.56,
                        0.62,
                        0.68,
                        0.82,
                        0.91,
                        0.11,
                        0.28,
                        0.38,
                        0.55,
                        0.65,
                        0.85,
                        0.95,
                        1.1,
                        1.2,
                    ),
                ),
                DIODE,
            ),
            given=("V_SEC", "V_F", "I_L"),
            labels=LABELS,
            data="A winding of {V_SEC}, r.m.s., feeds a bridge (diodes of {V_F}), a reservoir, and a load of {I_L}. "
            f"{PULSES}. Transformers are rated 1.5, 2.4, 3.2, 5, 8, 10, 15, 20, 25, 30, 40, 50, 63 and 80 VA; a rating "
            "of at least 1.2 times the calculated value is wanted.",
            ask="Find the heating current of the winding, the apparent power, choose a rating, and find the crest "
            "across the reservoir.",
            asks=(
                Find("I_SEC", "the r.m.s. current $I_SEC$ of the winding"),
                Find("VA", "the apparent power of the winding"),
                ChooseRating(
                    "VA_NOM", "VA", RATINGS, 1.2, "a rating", "a rating of at least 1.2 times the value is wanted"
                ),
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
            ),
            require=("VA >= 3",),
            slips=(
                D_C_FOR_RMS,
                Slip(
                    "crest-times-current",
                    "VA",
                    Rewrite("sqrt(2)*V_SEC*I_SEC"),
                    "the crest multiplied by the r.m.s. current",
                    "Apparent power is r.m.s. voltage times r.m.s. current.",
                    "Which two values of voltage and current make an apparent power?",
                ),
                JUST_RATED,
                Slip(
                    "no-drops",
                    "V_PK",
                    Rewrite("sqrt(2)*V_SEC"),
                    "the diode drops left out",
                    "Each diode in the way of the current takes its forward drop from the crest.",
                    "How many diodes does the current pass?",
                    reference=("U02",),
                ),
            ),
            back=(),
            checks=(CheckLine("Rating", "VA <= VA_NOM"),),
            bench="the factor lies between 1.6 and 1.8 for usual transformers, and higher for very stiff ones",
        ),
        Level(
            about="The winding from what the regulator needs",
            form="bridge",
            draws=(
                Pick("V_O", (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)),
                Pick("V_DROP_MIN", (1.5, 2.0, 2.5, 3.0)),
                DIODE,
                Pick("I_L", LOADS),
                MAINS,
                Pick("C", CAPACITORS),
            ),
            given=("V_O", "V_DROP_MIN", "V_F", "I_L", "f", "C"),
            labels=LABELS,
            data="A regulator of {V_O} must keep {V_DROP_MIN} across itself at every moment; its load draws {I_L}. A "
            f"bridge with diodes of {{V_F}} charges {{C}}, the mains has {{f}}, and the line is taken to be steady. "
            f"{PULSES}. Windings come with 6, 7.5, 9, 12, 15, 18, 20 and 22 V.",
            ask="Find the ripple, the least winding voltage, choose the winding, and find its heating current and "
            "apparent power.",
            asks=(
                Find("V_RIP", "the ripple $V_RIP$, peak to peak"),
                FindBound("V_SEC", "V_DROP >= V_DROP_MIN", "the least r.m.s. voltage of the winding"),
                ChooseRating(
                    "V_SEC", "V_SEC_MIN", WINDINGS, 1.0, "a winding", "the winding must have at least the voltage found"
                ),
                Find("I_SEC", "the r.m.s. current $I_SEC$ of the winding"),
                Find("VA", "the apparent power of the winding"),
            ),
            require=("V_RIP >= 0.06*V_O", "V_RIP <= 0.35*V_O", "VA >= 3"),
            slips=(
                Slip(
                    "once-a-cycle",
                    "V_RIP",
                    Rewrite("I_L/(f*C)"),
                    "the mains frequency taken for a bridge",
                    "A bridge tops the reservoir up twice in each cycle.",
                    "How many top-ups does each cycle of the mains bring?",
                    reference=("U05",),
                ),
                Slip(
                    "crest-for-rms",
                    "V_SEC_MIN",
                    Rewrite("V_O + V_DROP_MIN + V_RIP + 2*V_F"),
                    "the crest given for the r.m.s. voltage",
                    "A winding is ordered by its r.m.s. voltage, which is the crest over $sqrt(2)$.",
                    "By which of its values is a winding rated?",
                ),
                Slip(
                    "ripple-left-out",
                    "V_SEC_MIN",
                    Rewrite("(V_O + V_DROP_MIN + 2*V_F)/sqrt(2)"),
                    "the ripple left out",
                    "The regulator must have its voltage in the trough, a whole ripple below the crest.",
                    "At which moment has the regulator least?",
                ),
                Slip(
                    "drops-left-out",
                    "V_SEC_MIN",
                    Rewrite("(V_O + V_DROP_MIN + V_RIP)/sqrt(2)"),
                    "the diode drops left out",
                    "Going back from the reservoir to the winding, the drops that were lost on the way are added.",
                    "Is the winding's crest above or below that of the reservoir?",
                ),
                D_C_FOR_RMS,
            ),
            checks=(CheckLine("With the winding chosen", "V_DROP >= V_DROP_MIN"),),
            bench="the next larger winding costs heat in the regulator: what it has too much of is lost there",
        ),
        Level(
            about="A tapped winding for the lowest line, the rating, and the highest crest",
            form="centre-tap",
            draws=(
                Pick("V_PRI_NOM", (230.0, 240.0, 120.0)),
                Pick("down", (0.9, 0.85, 0.94)),
                Work("V_PRI_MIN", "V_PRI_NOM*down", 4),
                Work("V_PRI_MAX", "V_PRI_NOM*1.1", 4),
                Pick("V_O", (5.0, 6.0, 8.0)),
                Pick("V_DROP_MIN", (1.5, 2.0, 2.5)),
                DIODE,
                Pick("I_L_MIN", (0.0, 0.005, 0.01)),
                Pick("I_L_MAX", LOADS),
                MAINS,
                Pick("C", CAPACITORS),
            ),
            given=(
                "V_PRI_NOM",
                "V_PRI_MIN",
                "V_PRI_MAX",
                "V_O",
                "V_DROP_MIN",
                "V_F",
                "I_L_MIN",
                "I_L_MAX",
                "f",
                "C",
            ),
            ranges=("I_L",),
            labels={**LABELS, "I_L_MIN": "lightest load", "I_L_MAX": "fullest load"},
            data="A regulator of {V_O} must keep {V_DROP_MIN} across itself at every moment, for a load of up to "
            "{I_L_MAX} and a "
            "mains of {f} between {V_PRI_MIN} and {V_PRI_MAX}. Two diodes of {V_F} at a centre-tapped winding charge "
            "a reservoir that has at least {C}. Windings are rated at {V_PRI_NOM}; halves come with 6, 7.5, "
            "8, 9, 10 and 11 V. Each half is heated by 1.8 times the "
            "load current over $sqrt(2)$, as the halves take turns.",
            ask="Find what each half must give at the lowest line, what it must be rated at, choose the winding, and "
            "find the apparent power and the highest crest across the reservoir.",
            asks=(
                FindBound(
                    "V_SEC",
                    "V_DROP >= V_DROP_MIN",
                    "the least r.m.s. voltage of each half at the lowest line",
                ),
                Find(
                    "N_T",
                    "the turns ratio that gives it there",
                    key="N_T_MAX",
                    at={"V_PRI": "V_PRI_MIN", "V_SEC": "V_SEC_MIN"},
                ),
                Find(
                    "V_SEC",
                    "the r.m.s. voltage that a half must be rated at",
                    key="V_SEC_NOM",
                    at={"V_PRI": "V_PRI_NOM", "N_T": "N_T_MAX"},
                ),
                ChooseRating(
                    "V_SEC_1", "V_SEC_NOM", HALVES, 1.0, "a winding", "each half must have at least the voltage found"
                ),
                FindExtreme("VA", Extreme.GREATEST, "the apparent power of both halves", at={"V_SEC": "V_SEC_1"}),
                Find(
                    "V_PK",
                    "the highest crest across the reservoir",
                    key="V_PK_MAX",
                    at={"V_SEC": "V_SEC_1*V_PRI_MAX/V_PRI_NOM"},
                ),
            ),
            require=("V_SEC_MIN >= 6", "VA_MAX >= 3"),
            slips=(
                Slip(
                    "two-drops",
                    "V_SEC_MIN",
                    Rewrite("V_PK + 2*V_F"),
                    "two diode drops taken for a tapped winding",
                    "The way back leads through the tap, so only one diode is in the way.",
                    "By which way does the current come back to the winding?",
                    step="V_SPK",
                ),
                Slip(
                    "line-left-out",
                    "V_SEC_NOM",
                    Rewrite("V_SEC_MIN"),
                    "the line taken to stay where it is",
                    "What must be there at the lowest line is more at the voltage for which windings are rated.",
                    "At which mains voltage is a winding's figure true?",
                ),
                Slip(
                    "one-half",
                    "VA_MAX",
                    Rewrite("V_SEC*I_SEC"),
                    "one half counted for both",
                    "Both halves are wound, and each must carry its current in its turn.",
                    "How many windings are heated, if by turns?",
                ),
                Slip(
                    "stated-line",
                    "V_PK_MAX",
                    Rewrite("sqrt(2)*V_SEC_1 - V_F"),
                    "the crest at the stated line taken for the highest",
                    "The winding follows the line up as well as down.",
                    "Which mains voltage lets the reservoir charge most?",
                ),
            ),
            checks=(
                CheckLine(
                    "Lowest line, winding chosen",
                    "V_DROP >= V_DROP_MIN",
                    {"V_SEC": "V_SEC_1*V_PRI_MIN/V_PRI_NOM"},
                ),
            ),
            bench="a small transformer without load stands 10 to 30 % above its rated voltage, more than the line does",
        ),
    ),
)
