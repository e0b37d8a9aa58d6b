"""What is left for the regulator at the lowest moment: line and load, then the winding's own resistance too."""

from tutor.generate.family import (
    CheckLine,
    Drop,
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

DIODE = Pick("V_F", (0.8, 0.9, 1.0, 1.1))
MAINS = Pick("f", (50.0, 60.0))
CAPACITORS = (1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)
LOADS = tuple(
    value / 1000
    for value in (100, 120, 150, 180, 200, 220, 250, 300, 350, 400, 450, 500, 600, 700, 750, 800, 900, 1000)
)
OUTPUTS = (5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 15.0)
LABELS = {
    "V_F": "forward drop of each diode",
    "V_O": "output of the regulator behind it",
    "V_DROP_MIN": "drop-out voltage of the regulator",
    "V_SEC_NOM": "voltage of the winding at the stated line, r.m.s.",
    "V_SEC_MIN": "voltage of the winding at the lowest line, r.m.s.",
    "V_SEC_MAX": "voltage of the winding at the highest line, r.m.s.",
    "I_L_MIN": "lightest load",
    "I_L_MAX": "fullest load",
    "R_W": "resistance of the winding, primary counted in",
}
COUNTED = {"winding": "charge-balance"}

FAMILY = Family(
    edition=2,
    title="Headroom for a regulator",
    about="A regulator can only lower its output from what it is given, so the raw supply must still stand high enough "
    "at its lowest moment: lowest line, fullest load, trough of the ripple, and what the winding's resistance takes.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={},
    scenarios=(
        "A paper mill's web sensor drops out on winter evenings, and the raw supply is suspected.",
        "The regulated supply of a cable car's door lock is checked before the summer season.",
        "A planing shed's dust monitor hums when the extractor starts.",
        "A bell tower's clock drive stops whenever the floodlights come on.",
        "A research hut's data logger must not lose its rail while the stove fan runs.",
        "The regulator of a lock keeper's signal lamps is to survive the sag of a long line.",
        "In a printing works a register counter resets itself at full speed.",
    ),
    cautions=("mains-fed", "transformer", "capacitors", "output"),
    levels=(
        Level(
            about="Line, load and ripple together",
            form="bridge",
            draws=(
                Pick("V_SEC_NOM", (8.0, 9.0, 10.0, 11.0, 12.0, 14.0, 15.0, 16.0, 18.0)),
                Pick("down", (0.9, 0.88, 0.85)),
                Work("V_SEC_MIN", "V_SEC_NOM*down", 4),
                Work("V_SEC_MAX", "V_SEC_NOM*1.1", 4),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L_MIN", (0.0,)),
                Pick("I_L_MAX", LOADS),
                Pick("V_O", OUTPUTS),
            ),
            given=("V_SEC_NOM", "V_SEC_MIN", "V_SEC_MAX", "V_F", "f", "C", "I_L_MIN", "I_L_MAX", "V_O"),
            ranges=("V_SEC", "I_L"),
            labels=LABELS,
            data="A winding of {V_SEC_NOM}, r.m.s., moves between {V_SEC_MIN} and {V_SEC_MAX} with the line, on a "
            "mains "
            "of {f}. A bridge with diodes of {V_F} charges {C}; the load draws up to {I_L_MAX}, and a regulator of "
            "{V_O} follows. The winding's resistance is left out.",
            ask="Find the lowest voltage that the regulator is ever given, what is then left across it, and the most "
            "that may stand across it.",
            asks=(
                FindExtreme("V_TROUGH", Extreme.LEAST, "the lowest voltage the regulator is given"),
                FindExtreme("V_DROP", Extreme.LEAST, "the least voltage left across the regulator"),
                Find(
                    "V_PK",
                    "the highest voltage the regulator is given",
                    key="V_PK_MAX",
                    at={"V_SEC": "V_SEC_MAX"},
                ),
            ),
            require=("V_DROP_MIN >= 1.5", "V_DROP_MIN <= 6", "I_L_MAX/(2*f*C) >= 0.06*V_TROUGH_MIN"),
            slips=(
                Slip(
                    "line-left-out",
                    "V_TROUGH_MIN",
                    Rewrite("sqrt(2)*V_SEC_NOM - 2*V_F - V_RIP"),
                    "the line taken to stay where it is",
                    "The winding's crest falls with the line, and the design must still hold there.",
                    "Which mains voltage makes the headroom smallest?",
                    reference=("U16",),
                ),
                Slip(
                    "mean-for-trough",
                    "V_TROUGH_MIN",
                    Rewrite("V_PK - V_RIP/2"),
                    "the headroom checked at the mean",
                    "The regulator drops out when its input falls too low for an instant, which happens in the trough.",
                    "Which instant of the ripple cycle is hardest for the regulator?",
                    reference=("U08",),
                ),
                Slip(
                    "output-added",
                    "V_DROP_MIN",
                    Rewrite("V_TROUGH_MIN"),
                    "the whole input given for what is left across the regulator",
                    "Across the regulator stands its input less its output.",
                    "Between which two voltages does the regulator stand?",
                ),
                Slip(
                    "loaded-crest",
                    "V_PK_MAX",
                    Rewrite("V_SPK - 2*V_F - I_L_MAX/(2*f*C)"),
                    "the ripple taken off the highest voltage",
                    "At the crest the ripple has taken nothing yet.",
                    "At which moment is the input highest?",
                ),
            ),
            checks=(CheckLine("At the lowest moment", "V_TROUGH >= V_O"),),
            band={"C": 0.2},
            bench="with a real winding the crest itself sags under load, often by more than the ripple; that comes "
            "next",
        ),
        Level(
            about="One corner with the winding's resistance counted",
            form="bridge",
            assume=COUNTED,
            draws=(
                Pick("V_SEC", (8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 18.0, 20.0)),
                Pick("R_W", (0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5)),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L", LOADS),
                Pick("V_O", OUTPUTS),
            ),
            given=("V_SEC", "R_W", "V_F", "f", "C", "I_L", "V_O"),
            labels=LABELS,
            data="At the lowest line a winding gives {V_SEC}, r.m.s., behind its resistance of {R_W}; the mains has "
            "{f}. "
            "A bridge with diodes of {V_F} charges {C}, the load draws {I_L}, and a regulator of {V_O} follows.",
            ask="Find the crest of the winding, the mean voltage, the ripple, the lowest "
            "voltage, and what is then left across the regulator.",
            asks=(
                Find("V_SPK", "the crest $V_SPK$ of the winding's voltage"),
                Find("V_DC", "the mean voltage $V_DC$"),
                Find("V_RIP", "the ripple $V_RIP$, peak to peak"),
                Find("V_TROUGH", "the lowest voltage $V_TROUGH$"),
                Find("V_DROP", "what is left across the regulator"),
            ),
            require=(
                "V_DC <= V_SPK - 2*V_F - V_RIP/2",
                "R_W*I_L <= 0.06*V_SPK",
                "3*pi*R_W*I_L/(2*V_SPK) <= 0.7",
                "V_DROP >= 1.5",
                "V_DROP <= 6",
                "V_RIP >= 0.03*V_DC",
                "V_RIP <= 4",
            ),
            slips=(
                Slip(
                    "square-root",
                    "V_DC",
                    Rewrite("sqrt(3*pi*R_W*I_L/(2*V_SPK))"),
                    "a square root for the cube root",
                    "The charge of a pulse grows as the third power of its angle.",
                    "With which power of the angle does the charge of a pulse grow?",
                    step="phi",
                ),
                Slip(
                    "once-a-cycle",
                    "V_DC",
                    Rewrite("cbrt(3*pi*R_W*I_L/V_SPK)"),
                    "one pulse a cycle taken for a bridge",
                    "A bridge shares the charge of a cycle between two pulses.",
                    "How many pulses bring the charge of a cycle?",
                    step="phi",
                ),
                Slip(
                    "winding-left-out",
                    "V_DC",
                    Rewrite("V_SPK - 2*V_F - I_L/(4*f*C)"),
                    "the winding's resistance left out",
                    "The charging pulses are many times the load current, and they lower the crest in the winding.",
                    "What does a pulse of several times the load current lose in $R_W$?",
                ),
                Slip(
                    "mean-current",
                    "V_DC",
                    Rewrite("V_SPK - 2*V_F - R_W*I_L"),
                    "the mean current taken through the winding's resistance",
                    "The current comes in pulses far taller than their mean.",
                    "Does the winding carry the load current steadily, or in pulses?",
                ),
                Slip(
                    "whole-ripple",
                    "V_TROUGH",
                    Rewrite("V_DC - V_RIP"),
                    "the whole ripple taken off the mean",
                    "Half of the ripple lies above the mean and half below.",
                    "Where is the mean on the ramp?",
                ),
            ),
            checks=(CheckLine("At the lowest moment", "V_TROUGH >= V_O"),),
            band={"R_W": 0.2},
            bench="crest currents make the real drop of a diode larger than its usual figure; 0.8 V and more is meant",
        ),
        Level(
            about="Every corner, and how much resistance the winding may have",
            form="centre-tap",
            assume=COUNTED,
            draws=(
                Pick("V_SEC_NOM", (7.0, 7.5, 8.0, 9.0, 10.0, 11.0)),
                Pick("down", (0.9, 0.88, 0.85)),
                Work("V_SEC_MIN", "V_SEC_NOM*down", 4),
                Work("V_SEC_MAX", "V_SEC_NOM*1.1", 4),
                Pick("R_W", (0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)),
                DIODE,
                MAINS,
                Pick("C", CAPACITORS),
                Pick("I_L_MIN", (0.02, 0.03, 0.05)),
                Pick("I_L_MAX", LOADS),
                Pick("V_O", (5.0, 6.0, 8.0)),
                Pick("V_DROP_MIN", (1.0, 1.5, 2.0, 2.5)),
            ),
            given=("V_SEC_MIN", "V_SEC_MAX", "R_W", "V_F", "f", "C", "I_L_MIN", "I_L_MAX", "V_O", "V_DROP_MIN"),
            ranges=("V_SEC", "I_L"),
            labels={
                **LABELS,
                "V_SEC_MIN": "voltage of each half at the lowest line, r.m.s.",
                "V_SEC_MAX": "voltage of each half at the highest line, r.m.s.",
                "R_W": "resistance of each half, its share of the primary counted in",
            },
            data="Each half of a centre-tapped winding gives between {V_SEC_MIN} and {V_SEC_MAX}, r.m.s., with the "
            "line, "
            "behind its resistance of {R_W}; the mains has {f}. Two diodes of {V_F} charge {C}, and the load draws "
            "between {I_L_MIN} and {I_L_MAX}. The regulator behind it gives {V_O} and must keep at least {V_DROP_MIN} "
            "across itself.",
            ask="Find the least mean voltage, the lowest voltage the regulator is given, and the greatest resistance "
            "that each half of the winding may have.",
            asks=(
                FindExtreme("V_DC", Extreme.LEAST, "the least mean voltage"),
                FindExtreme("V_TROUGH", Extreme.LEAST, "the lowest voltage the regulator is given"),
                FindBound("R_W", "V_DROP >= V_DROP_MIN", "the greatest resistance of each half of the winding"),
            ),
            require=(
                "V_SEC_MIN >= 6",
                "V_DC_MIN <= sqrt(2)*V_SEC_MIN - V_F - I_L_MAX/(4*f*C)",
                "R_W_MAX*I_L_MAX <= 0.06*sqrt(2)*V_SEC_MIN",
                "R_W_MAX >= R_W",
                "R_W_MAX <= 6*R_W",
            ),
            slips=(
                Slip(
                    "high-line",
                    "V_DC_MIN",
                    Rewrite("sqrt(2)*V_SEC_MAX"),
                    "the highest line used for the least voltage",
                    "The winding follows the line, and the reservoir has least at the lowest.",
                    "Which mains voltage makes the headroom smallest?",
                    step="V_SPK",
                ),
                Slip(
                    "square-root",
                    "V_DC_MIN",
                    Rewrite("sqrt(3*pi*R_W*I_L/(2*V_SPK))"),
                    "a square root for the cube root",
                    "The charge of a pulse grows as the third power of its angle.",
                    "With which power of the angle does the charge of a pulse grow?",
                    step="phi",
                ),
                Slip(
                    "ripple-left-out",
                    "V_TROUGH_MIN",
                    Drop("V_RIP/2"),
                    "the ripple left out below the mean",
                    "Half of the ripple lies below the mean, and the regulator must live through it.",
                    "Which instant of the ripple cycle is hardest for the regulator?",
                ),
                Slip(
                    "drop-out-left-out",
                    "R_W_MAX",
                    Rewrite("V_O"),
                    "the drop-out of the regulator left out",
                    "The regulator must keep its drop-out across itself, above the output, at every moment.",
                    "What must the regulator's input still have when the output is at its value?",
                    step="V_TROUGH",
                ),
            ),
            checks=(CheckLine("With the winding as it is", "V_DROP >= V_DROP_MIN"),),
            bench="copper warms: a winding at its rated load has some 20 to 30 % more resistance than when cold",
        ),
    ),
)
