"""Ripple, mean and trough of a reservoir; at level 3 the heaviest load that a trough allows."""

from tutor.generate.family import BackLine, CheckLine, Family, Find, FindBound, Level, Pick, Rewrite, Slip
from tutor.quantities.preferred import Series, values_between

DIODE = Pick("V_F", (0.7, 0.8, 0.9, 1.0))
MAINS = Pick("f", (50.0, 60.0))
CAPACITORS = (470e-6, 680e-6, 1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = tuple(value / 1000 for value in (50, 60, 80, 100, 120, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600))
LABELS = {
    "V_F": "forward drop of each diode",
    "V_PK": "crest across the reservoir",
    "V_TROUGH_MIN": "lowest voltage that the regulator behind it can use",
    "tol_C": "tolerance of the capacitor",
}

FAMILY = Family(
    edition=2,
    title="Ripple of a reservoir",
    about="Between two crests the reservoir alone feeds the load, and the charge it gives lowers its voltage. How "
    "often "
    "it is topped up depends on the rectifier; what is left at the lowest moment is what counts.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={"ripple-current": "load", "ripple-factor": "rms"},
    scenarios=(
        "A mill pond's sluice indicator hums, and its supply is looked at.",
        "An observatory's dome motor controller shares a raw supply with its clock.",
        "A hatchery wants to know how steady the supply of its thermometers is.",
        "The raw supply of a pipe organ's stop magnets is measured before a regulator is added.",
        "A ski lift's queue counter gets a rectified supply in the valley station.",
        "A potter's wheel has a small raw supply for its speed display.",
        "A harbour's fog bell is struck by a magnet on a rectified supply.",
    ),
    cautions=("mains-fed", "transformer", "capacitors", "electrolytics"),
    levels=(
        Level(
            about="One diode: ripple and mean",
            form="half-wave",
            draws=(
                Pick("V_PK", tuple(half / 2 for half in range(16, 57))),
                Pick("I_L", LOADS[:10]),
                MAINS,
                Pick("C", CAPACITORS),
            ),
            given=("V_PK", "I_L", "f", "C"),
            labels=LABELS,
            data="A single diode charges {C} to a crest of {V_PK}, from a mains of {f}. The load draws {I_L}, and the "
            "discharge is taken to be straight and to last the whole cycle.",
            ask="Find the ripple, the mean voltage and the lowest voltage across the reservoir.",
            asks=(
                Find("V_RIP", "the ripple $V_RIP$, peak to peak"),
                Find("V_DC", "the mean voltage $V_DC$"),
                Find("V_TROUGH", "the lowest voltage $V_TROUGH$ within a cycle"),
            ),
            require=("V_RIP <= 0.3*V_PK", "V_RIP >= 0.07*V_PK", "V_RIP <= 4"),
            slips=(
                Slip(
                    "twice-f",
                    "V_RIP",
                    Rewrite("I_L/(2*f*C)"),
                    "two top-ups a cycle taken for a single diode",
                    "A single diode conducts once in each cycle of the mains.",
                    "Draw two cycles and mark each charging pulse.",
                    reference=("U06",),
                ),
                Slip(
                    "prefix-lost",
                    "V_RIP",
                    Rewrite("1000*I_L/(f*C)"),
                    "a power of ten lost among the prefixes",
                    "Amperes, hertz and farads make volts; milliamperes or microfarads left as they are do not.",
                    "Is a ripple of that size likely?",
                ),
                Slip(
                    "whole-ripple",
                    "V_DC",
                    Rewrite("V_PK - V_RIP"),
                    "the whole ripple taken off for the mean",
                    "The mean of a straight fall lies halfway down it.",
                    "Sketch the sawtooth: where is its mean?",
                    reference=("U07",),
                ),
                Slip(
                    "half-ripple",
                    "V_TROUGH",
                    Rewrite("V_PK - V_RIP/2"),
                    "the mean given for the lowest voltage",
                    "The reservoir goes on falling past its mean until the next crest comes.",
                    "How far below the crest does the ripple reach?",
                    reference=("U08",),
                ),
            ),
            band={"C": 0.2},
            bench="the real discharge ends a little before the next crest, so the formula makes the ripple rather too "
            "large than too small; the capacitor's own tolerance is the greater doubt",
        ),
        Level(
            about="A bridge and a load resistance, the crest to be found first",
            form="bridge",
            draws=(
                Pick("V_SEC", (9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0)),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("R_L", values_between(22, 470, Series.E12)),
            ),
            given=("V_SEC", "V_F", "f", "C", "R_L"),
            labels=LABELS,
            data="A winding of {V_SEC}, r.m.s., charges {C} through a bridge, each diode taking {V_F}; the mains has "
            "{f}. The load is {R_L}, and the discharge is taken to be straight and to last from crest to crest.",
            ask="Find the crest, the mean voltage, the load current, the ripple and the ripple factor.",
            asks=(
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
                Find("V_DC", "the mean voltage $V_DC$"),
                Find("I_L", "the load current $I_L$"),
                Find("V_RIP", "the ripple $V_RIP$, peak to peak"),
                Find("RIPPLE_FACTOR", "the ripple factor"),
            ),
            require=("V_RIP <= 0.25*V_PK", "V_RIP >= 0.03*V_PK", "V_RIP <= 4"),
            slips=(
                Slip(
                    "rms-for-crest",
                    "V_PK",
                    Rewrite("V_SEC - 2*V_F"),
                    "the winding's r.m.s. voltage taken for its crest",
                    "A winding is rated by its r.m.s. voltage, and the reservoir charges to the crest of the sine "
                    "wave.",
                    "The figure on the label is r.m.s.; how high is the crest of that wave?",
                    reference=("U01",),
                ),
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
                    "bare-wave",
                    "V_DC",
                    Rewrite("2*V_PK/pi"),
                    "the mean of the bare rectified wave",
                    "That mean belongs to a rectifier without a reservoir; with one the voltage stays near the crest.",
                    "Does that formula know that a capacitor is fitted?",
                    reference=("U09",),
                ),
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
                    "sine-factor",
                    "RIPPLE_FACTOR",
                    Rewrite("V_RIP/(2*sqrt(2)*V_DC)"),
                    "the factor of a sine wave used for a sawtooth",
                    "The ripple is a ramp: its r.m.s. value is its height over $2*sqrt(3)$.",
                    "Is the ripple a sine wave or a ramp?",
                    reference=("U19",),
                ),
            ),
            back=(BackLine("The winding comes back", "(I_L*R_L + V_RIP/2 + 2*V_F)/sqrt(2)", "V_SEC"),),
            band={"C": 0.2},
            bench="a crest current drawn through the winding lowers the crest as well, which is not counted here",
        ),
        Level(
            about="Backwards: the heaviest load and the smallest load resistance that the lowest voltage allows",
            form="centre-tap",
            draws=(
                Pick("V_SEC", (7.0, 7.5, 8.0, 9.0, 10.0, 11.0)),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS[2:]),
                Pick("tol_C", (0.2, 0.1)),
                Pick("V_TROUGH_MIN", tuple(half / 2 for half in range(13, 29))),
            ),
            given=("V_SEC", "V_F", "f", "C", "tol_C", "V_TROUGH_MIN"),
            labels={**LABELS, "V_SEC": "voltage of each half of the winding, r.m.s."},
            data="Each half of a centre-tapped winding has {V_SEC}, r.m.s.; two diodes of {V_F} charge {C}, whose "
            "tolerance is {tol_C} either way, from a mains of {f}. A regulator behind it needs {V_TROUGH_MIN} at every "
            "moment.",
            ask="Find the crest, the ripple that it leaves room for, and the heaviest load current that every "
            "capacitor "
            "within the tolerance still serves.",
            asks=(
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
                Find("V_RIP", "the greatest ripple that has room", key="V_RIP_MAX", at={"V_TROUGH": "V_TROUGH_MIN"}),
                FindBound(
                    "I_L",
                    "V_TROUGH >= V_TROUGH_MIN",
                    "the heaviest load current for every capacitor",
                    at={"C": "C*(1 - tol_C)"},
                ),
            ),
            require=(
                "V_RIP_MAX >= 0.06*V_PK",
                "V_RIP_MAX <= 0.35*V_PK",
                "V_RIP_MAX <= 4",
                "I_L_MAX <= 2",
                "I_L_MAX >= 0.03",
            ),
            slips=(
                Slip(
                    "two-drops",
                    "V_PK",
                    Rewrite("sqrt(2)*V_SEC - 2*V_F"),
                    "two diode drops taken for a tapped winding",
                    "The way back leads through the tap, so only one diode is in the way.",
                    "By which way does the current come back to the winding?",
                    reference=("U04",),
                ),
                Slip(
                    "whole-winding",
                    "V_PK",
                    Rewrite("2*sqrt(2)*V_SEC - V_F"),
                    "the whole winding taken to charge the reservoir",
                    "Only one half of the winding feeds the reservoir at a time.",
                    "Which turns carry current in this half-cycle?",
                    reference=("U12",),
                ),
                Slip(
                    "mean-for-trough",
                    "V_RIP_MAX",
                    Rewrite("2*(V_PK - V_TROUGH_MIN)"),
                    "the limit held against the mean",
                    "The regulator must have its voltage at the lowest moment, not on the average.",
                    "At which moment has the regulator least?",
                ),
                Slip(
                    "once-a-cycle",
                    "I_L_MAX",
                    Rewrite("(V_PK - V_TROUGH_MIN)*f*C"),
                    "one top-up a cycle taken for two diodes",
                    "The halves of the winding take turns, so the reservoir is topped up twice in each cycle.",
                    "What does the second diode do in the other half-cycle?",
                    step="I_L",
                ),
                Slip(
                    "marked-value",
                    "I_L_MAX",
                    Rewrite("(V_PK - V_TROUGH_MIN)*2*f*C/(1 - tol_C)"),
                    "the capacitor taken at its marked value",
                    "A capacitor may be anywhere in its tolerance; the smallest one sags most.",
                    "Which capacitor of the type gives the greatest ripple?",
                    step="I_L",
                ),
            ),
            checks=(
                CheckLine(
                    "Smallest capacitor, heaviest load",
                    "V_TROUGH >= V_TROUGH_MIN",
                    {"C": "C*(1 - tol_C)", "I_L": "I_L_MAX"},
                ),
            ),
            bench="an electrolytic capacitor also loses a good part of its capacitance over the years",
        ),
    ),
)
