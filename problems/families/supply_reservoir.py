"""Choose the reservoir: its capacitance from the ripple or the trough allowed, its voltage from the highest crest."""

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
    Work,
)
from tutor.quantities.preferred import Series

SHELF = (16.0, 25.0, 35.0, 50.0, 63.0)
DIODE = Pick("V_F", (0.7, 0.8, 0.9, 1.0))
MAINS = Pick("f", (50.0, 60.0))
LOADS = tuple(value / 1000 for value in (100, 120, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600, 750, 800, 1000))
MOST = Pick("C_MAX", (0.0068, 0.01))
LABELS = {
    "V_F": "forward drop of each diode",
    "V_RIP_MAX": "greatest ripple allowed, peak to peak",
    "C_MAX": "greatest reservoir that the rectifier may charge",
    "tol_C": "tolerance of the capacitor",
    "V_SEC_MIN": "voltage of the winding at the lowest line and full load, r.m.s.",
    "V_SEC_MAX": "voltage of the winding at the highest line without load, r.m.s.",
    "V_TROUGH_MIN": "lowest voltage that the regulator behind it can use",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "V_PRI_MIN": "lowest mains voltage, r.m.s.",
    "V_PRI_MAX": "highest mains voltage, r.m.s.",
    "V_DROP_MIN": "drop-out voltage of the regulator",
    "V_O": "output of the regulator behind it",
    "N_T": "turns ratio at full load, primary over secondary",
}
C_CHOICE = (
    "the smallest that serves is the kindest to diodes and winding, whose charging pulses grow taller with a larger one"
)
CHOOSE_C = Choose(
    "C",
    Series.E6,
    "an E6 value for $C$ whose tolerance band serves",
    Prefer.SMALLEST,
    C_CHOICE,
    low="C_MIN",
    high="C_MAX",
    tolerance="tol_C",
)
ROUNDED_DOWN = Slip(
    "rounded-down",
    "C",
    RoundAway(above=False),
    "rounded down past the bound",
    "A smaller reservoir sags further than is allowed.",
    "On which side of the bound is the ripple small enough?",
)
JUST_RATED = Slip(
    "just-rated",
    "V_CM",
    NoMargin(),
    "a voltage rating with no margin",
    "At its rated voltage an electrolytic capacitor is as stressed as it may ever be; leave the stated margin.",
    "How much is left when the line goes over its usual limit?",
)

FAMILY = Family(
    edition=2,
    title="Choose the reservoir capacitor",
    about="Capacitance is chosen for the worst sag: lowest line, fullest load, smallest capacitor of its tolerance. "
    "The "
    "voltage rating is chosen for the opposite corner: highest line, no load.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={},
    scenarios=(
        "The reservoir of a cider press's pressure logger has dried out and is to be replaced.",
        "A carillon's practice keyboard gets a new raw supply.",
        "A narrow-gauge railway builds a raw supply for its crossing bell.",
        "The raw supply behind a puppet theatre's control desk is drawn up anew.",
        "A fish farm wants a supply for its oxygen probes.",
        "A planetarium's star ball is fed from a raw supply in the pit.",
        "An amateur weather ship rebuilds the supply of its barograph.",
    ),
    cautions=("mains-fed", "transformer", "capacitors", "electrolytics"),
    levels=(
        Level(
            about="Capacitance from a ripple",
            form="bridge",
            draws=(
                Pick("V_SEC", (9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)),
                DIODE,
                Pick("I_L", LOADS),
                MAINS,
                Pick("V_RIP_MAX", (0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0)),
                Pick("tol_C", (0.2,)),
                MOST,
            ),
            given=("V_SEC", "V_F", "I_L", "f", "V_RIP_MAX", "tol_C", "C_MAX"),
            labels=LABELS,
            data="A bridge with diodes of {V_F} stands at a winding of {V_SEC}, r.m.s., on a mains of {f}. The load "
            "draws "
            "{I_L}, and the ripple may be {V_RIP_MAX}, peak to peak.",
            ask="Find the least reservoir that keeps to the ripple, choose an E6 value whose whole tolerance band "
            "serves, and find the energy that it stores at the crest.",
            asks=(
                FindBound("C", "V_RIP <= V_RIP_MAX", "the least capacitance that keeps to the ripple"),
                CHOOSE_C,
                Find("V_PK", "the crest $V_PK$ across it"),
                Find("W_C", "the energy $W_C$ stored at the crest"),
            ),
            require=("W_C <= 20", "V_RIP_MAX >= 0.05*V_PK", "V_RIP_MAX <= 0.25*V_PK", "C_MIN >= 0.001"),
            slips=(
                Slip(
                    "once-a-cycle",
                    "C_MIN",
                    Rewrite("I_L/(f*V_RIP_MAX)"),
                    "the mains frequency taken for a bridge",
                    "A bridge tops the reservoir up twice in each cycle.",
                    "How many top-ups does each cycle of the mains bring?",
                ),
                Slip(
                    "prefix-lost",
                    "C_MIN",
                    Rewrite("1000*I_L/(2*f*V_RIP_MAX)"),
                    "a power of ten lost among the prefixes",
                    "Amperes over hertz and volts make farads; milliamperes left as they are do not.",
                    "Is a reservoir of whole farads likely?",
                    reference=("N02",),
                ),
                ROUNDED_DOWN,
                Slip(
                    "one-drop",
                    "V_PK",
                    Rewrite("sqrt(2)*V_SEC - V_F"),
                    "one diode drop taken for a bridge",
                    "In a bridge the current passes two diodes in series.",
                    "Count the diodes on the way out and on the way back.",
                    reference=("U03",),
                ),
                Slip(
                    "half-left-out",
                    "W_C",
                    Rewrite("C*V_PK^2"),
                    "the factor of a half left out",
                    "While a capacitor charges, its voltage grows from nothing, so on the average half of it is met.",
                    "At which voltage did the first part of the charge arrive?",
                ),
            ),
            checks=(CheckLine("Smallest capacitor of its tolerance", "V_RIP <= V_RIP_MAX", {"C": "C*(1 - tol_C)"}),),
            bench="twice the least value is a common choice, since such capacitors lose capacitance with age",
        ),
        Level(
            about="Capacitance from the trough at the lowest line, voltage from the crest at the highest",
            form="centre-tap",
            draws=(
                Pick("V_SEC_NOM", (7.0, 7.5, 8.0, 9.0, 10.0)),
                Work("V_SEC_MIN", "V_SEC_NOM*0.9", 4),
                Pick("rise", (1.2, 1.25, 1.3)),
                Work("V_SEC_MAX", "V_SEC_NOM*rise", 4),
                DIODE,
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                MAINS,
                Pick("V_TROUGH_MIN", (6.0, 6.5, 7.0, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0, 10.5)),
                Pick("tol_C", (0.2,)),
                MOST,
            ),
            given=(
                "V_SEC_MIN",
                "V_SEC_MAX",
                "V_F",
                "I_L_MIN",
                "I_L_MAX",
                "f",
                "V_TROUGH_MIN",
                "tol_C",
                "C_MAX",
            ),
            ranges=("V_SEC", "I_L"),
            labels={
                **LABELS,
                "V_SEC_MIN": "voltage of each half of the winding at the lowest line and full load, r.m.s.",
                "V_SEC_MAX": "voltage of each half of the winding at the highest line without load, r.m.s.",
            },
            data="Each half of a centre-tapped winding has between {V_SEC_MIN} and {V_SEC_MAX}, r.m.s., with the line "
            "and the load; two diodes of {V_F} charge the reservoir, the mains has {f}, and the load draws up to "
            "{I_L_MAX}. The regulator behind it needs {V_TROUGH_MIN} at every moment. Capacitors are rated 16, 25, 35, "
            "50 and 63 V, and the rating is to be at least 1.25 times the highest crest of the winding.",
            ask="Find the least reservoir, choose an E6 value whose whole tolerance band serves, find the highest "
            "crest "
            "of the winding, and choose the rated voltage.",
            asks=(
                FindBound("C", "V_TROUGH >= V_TROUGH_MIN", "the least capacitance that keeps the trough high enough"),
                CHOOSE_C,
                FindExtreme("V_SPK", Extreme.GREATEST, "the highest crest of a half of the winding"),
                ChooseRating(
                    "V_CM",
                    "V_SPK_MAX",
                    SHELF,
                    1.25,
                    "a rated voltage for the reservoir",
                    "the rating is to be at least 1.25 times the highest crest",
                ),
                FindExtreme("W_C", Extreme.GREATEST, "the greatest energy stored in it"),
            ),
            require=("W_C_MAX <= 20", "C_MIN >= 0.001"),
            slips=(
                Slip(
                    "mean-for-trough",
                    "C_MIN",
                    Rewrite("I_L/(4*f*(V_PK - V_TROUGH_MIN))"),
                    "the need held against the mean",
                    "Below the mean the ripple still has half its height to fall.",
                    "Which instant of the ripple is hardest for the regulator?",
                    step="C",
                ),
                Slip(
                    "two-drops",
                    "C_MIN",
                    Rewrite("V_SPK - 2*V_F"),
                    "two diode drops taken for a tapped winding",
                    "The way back leads through the tap, so only one diode is in the way.",
                    "By which way does the current come back to the winding?",
                    step="V_PK",
                ),
                Slip(
                    "high-line",
                    "C_MIN",
                    Rewrite("sqrt(2)*V_SEC_MAX"),
                    "the highest line used for the sag",
                    "At the highest line there is most room for ripple; the lowest decides.",
                    "Which line leaves least above what the regulator needs?",
                    step="V_SPK",
                ),
                ROUNDED_DOWN,
                Slip(
                    "loaded-rating",
                    "V_SPK_MAX",
                    Rewrite("sqrt(2)*V_SEC_MIN - V_F - I_L_MAX/(2*f*C)"),
                    "the loaded d.c. voltage taken for the highest",
                    "Without load and at the highest line the capacitor sits at the crest, above its loaded value.",
                    "When is the voltage across the reservoir highest?",
                    reference=("U14",),
                ),
                Slip(
                    "rms-rating",
                    "V_SPK_MAX",
                    Rewrite("V_SEC"),
                    "the r.m.s. voltage taken for what the capacitor must stand",
                    "The reservoir charges to the crest, not to the r.m.s. value; such a capacitor would burst.",
                    "How high does a sine wave of that r.m.s. value go?",
                ),
                JUST_RATED,
            ),
            checks=(
                CheckLine(
                    "Lowest line, fullest load, smallest capacitor", "V_TROUGH >= V_TROUGH_MIN", {"C": "C*(1 - tol_C)"}
                ),
                CheckLine("Highest line without load", "V_SPK <= V_CM"),
            ),
            bench="ripple current heats a capacitor from within; its rating for that must be looked up too",
        ),
        Level(
            about="From the regulator's output and drop-out to the reservoir, all corners counted",
            form="bridge",
            draws=(
                Pick("V_PRI_NOM", (230.0, 240.0, 120.0)),
                Pick("down", (0.9, 0.94)),
                Work("V_PRI_MIN", "V_PRI_NOM*down", 4),
                Work("V_PRI_MAX", "V_PRI_NOM*1.1", 4),
                Pick("N_T", tuple(half / 2 for half in range(12, 60))),
                DIODE,
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                MAINS,
                Pick("V_O", (5.0, 8.0, 9.0, 10.0, 12.0, 15.0)),
                Pick("V_DROP_MIN", (1.5, 2.0, 2.5, 3.0)),
                Pick("tol_C", (0.2,)),
                MOST,
            ),
            given=(
                "V_PRI_MIN",
                "V_PRI_MAX",
                "N_T",
                "V_F",
                "I_L_MIN",
                "I_L_MAX",
                "f",
                "V_O",
                "V_DROP_MIN",
                "tol_C",
                "C_MAX",
            ),
            ranges=("V_PRI", "I_L"),
            labels=LABELS,
            data="A transformer with the turns ratio {N_T} stands at a mains of {f} between {V_PRI_MIN} and "
            "{V_PRI_MAX}. A bridge of diodes of {V_F} charges the reservoir; the load draws up to {I_L_MAX}. The "
            "regulator behind it gives {V_O} and must keep at least {V_DROP_MIN} across itself. Capacitors are rated "
            "16, 25, 35, 50 and 63 V, and the rating is to be at least 1.25 times the highest crest across the "
            "reservoir.",
            ask="Find the least crest, the least reservoir, choose an E6 value whose whole tolerance band serves, find "
            "the highest crest across it, and choose the rated voltage.",
            asks=(
                FindExtreme("V_PK", Extreme.LEAST, "the least crest across the reservoir"),
                FindBound("C", "V_DROP >= V_DROP_MIN", "the least capacitance that keeps the regulator working"),
                CHOOSE_C,
                FindExtreme("V_PK", Extreme.GREATEST, "the highest crest across the reservoir"),
                ChooseRating(
                    "V_CM",
                    "V_PK_MAX",
                    SHELF,
                    1.25,
                    "a rated voltage for the reservoir",
                    "the rating is to be at least 1.25 times the highest crest",
                ),
            ),
            require=("V_PK_MAX <= 34", "C_MIN >= 0.001", "V_PK_MIN <= 1.6*V_O"),
            slips=(
                Slip(
                    "line-left-out",
                    "V_PK_MIN",
                    Rewrite("sqrt(2)*V_PRI_MAX/N_T - 2*V_F"),
                    "the highest line used for the least crest",
                    "The winding follows the line, and the reservoir charges least at the lowest.",
                    "Which mains voltage makes the headroom smallest?",
                ),
                Slip(
                    "output-alone",
                    "C_MIN",
                    Rewrite("V_O"),
                    "the drop-out of the regulator left out",
                    "The regulator must keep its drop-out across itself, above the output, at every moment.",
                    "What must the regulator's input still have when the output is at its value?",
                    step="V_TROUGH",
                ),
                Slip(
                    "once-a-cycle",
                    "C_MIN",
                    Rewrite("I_L/(f*V_RIP)"),
                    "the mains frequency taken for a bridge",
                    "A bridge tops the reservoir up twice in each cycle.",
                    "How many top-ups does each cycle of the mains bring?",
                    step="C",
                ),
                ROUNDED_DOWN,
                Slip(
                    "loaded-rating",
                    "V_PK_MAX",
                    Rewrite("sqrt(2)*V_PRI_MIN/N_T - 2*V_F"),
                    "the crest at the lowest line taken for the highest",
                    "At the highest line and without load the reservoir stands at a higher crest, and it must stand "
                    "that.",
                    "When is the voltage across the reservoir highest?",
                ),
                JUST_RATED,
            ),
            checks=(
                CheckLine(
                    "Lowest line, fullest load, smallest capacitor", "V_DROP >= V_DROP_MIN", {"C": "C*(1 - tol_C)"}
                ),
                CheckLine("Highest line", "V_PK <= V_CM"),
            ),
            bench="a transformer without load stands some 10 to 20 % above its rated voltage, which the rating must "
            "cover as well; here it is taken to be stiff",
        ),
    ),
)
