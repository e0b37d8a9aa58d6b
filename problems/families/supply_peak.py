"""From the winding's r.m.s. voltage to the crest across the reservoir, and what a diode must stand."""

from tutor.generate.family import (
    BackLine,
    Drop,
    Extreme,
    Family,
    Find,
    FindExtreme,
    Level,
    Pick,
    Rewrite,
    Slip,
    Work,
)

SECONDARY = (6.0, 7.0, 7.5, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 18.0, 19.0, 20.0, 21.0, 22.0)
DIODE = Pick("V_F", (0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.05, 1.1))
LABELS = {
    "V_F": "forward drop of each diode",
    "V_PRI": "mains voltage, r.m.s.",
    "V_PRI_NOM": "mains voltage, r.m.s.",
    "V_PRI_MIN": "lowest mains voltage",
    "V_PRI_MAX": "highest mains voltage",
    "N_T": "turns ratio, primary over the whole secondary",
    "V_SEC": "voltage of the winding, r.m.s.",
    "V_PK_NOM": "crest wanted across the reservoir",
}

RMS_FOR_CREST = Slip(
    "rms-for-crest",
    "V_PK",
    Rewrite("V_SEC - 2*V_F"),
    "the winding's r.m.s. voltage taken for its crest",
    "A winding is rated by its r.m.s. voltage, and the reservoir charges to the crest of the sine wave.",
    "The figure on the label is r.m.s.; how high is the crest of that wave?",
    reference=("U01",),
)
NO_DROPS = Slip(
    "no-drops",
    "V_PK",
    Drop("2*V_F"),
    "the diode drops left out",
    "Each diode in the way of the current takes its forward drop from the crest.",
    "Follow the current through one half-cycle: how many diodes does it pass?",
    reference=("U02",),
)
ONE_DROP = Slip(
    "one-drop",
    "V_PK",
    Rewrite("V_SPK - V_F"),
    "one diode drop taken for a bridge",
    "In a bridge the current passes two diodes in series, one on the way out and one on the way back.",
    "Count the diodes on the way out and on the way back.",
    reference=("U03",),
)

FAMILY = Family(
    edition=2,
    title="The crest across the reservoir",
    about="A winding is known by its r.m.s. voltage, a reservoir charges to the crest, and each diode in the way takes "
    "its drop. What the reservoir then holds, an idle diode must stand in reverse.",
    lesson="raw-supply",
    circuit="reservoir",
    assume={"piv-drop": "with"},
    scenarios=(
        "A bell foundry wants a small supply for the counter at its tuning lathe.",
        "The mast light of a moored barge is to run from a rectified winding in the wheelhouse.",
        "A seed bank adds a supply for the door contacts of its cold store.",
        "A tram museum feeds the destination blinds of an old car from a small transformer.",
        "A cheese cellar's hygrometers share one rectified winding.",
        "The stage lift of a village hall gets a supply for its limit switches.",
        "A clockmaker rectifies a small winding for the coil of a slave clock.",
    ),
    cautions=("mains-fed", "transformer", "capacitors"),
    levels=(
        Level(
            about="Crest and drops of a bridge",
            form="bridge",
            draws=(
                Pick("V_SEC", SECONDARY),
                DIODE,
                Pick("C", (4.7e-4, 6.8e-4, 1e-3, 1.5e-3, 2.2e-3, 3.3e-3, 4.7e-3, 6.8e-3, 0.01)),
            ),
            given=("V_SEC", "V_F", "C"),
            labels=LABELS,
            data="A bridge of four diodes stands at a winding of {V_SEC}, r.m.s., and charges a reservoir of {C}; each "
            "diode that conducts takes {V_F}.",
            ask="Find the crest of the winding, the voltage to which the unloaded reservoir charges, the reverse "
            "voltage "
            "that an idle diode must stand, and the energy stored.",
            asks=(
                Find("V_SPK", "the crest $V_SPK$ of the winding's voltage"),
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
                Find("PIV", "the reverse voltage $PIV$ of an idle diode"),
                Find("W_C", "the energy $W_C$ stored at that crest"),
            ),
            slips=(
                RMS_FOR_CREST,
                NO_DROPS,
                ONE_DROP,
                Slip(
                    "twice-the-crest",
                    "PIV",
                    Rewrite("2*V_SPK"),
                    "twice the crest taken for a bridge diode",
                    "A conducting neighbour ties the idle diode across the winding, so no more than one crest stands "
                    "there.",
                    "Which diode conducts beside the idle one, and to what does it join it?",
                    reference=("U11",),
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
            back=(BackLine("The winding's r.m.s. voltage comes back", "(V_PK + 2*V_F)/sqrt(2)", "V_SEC"),),
            band={"V_SEC": 0.05},
            bench="a small transformer that is not loaded stands well above its rated voltage, often by a tenth or "
            "more",
        ),
        Level(
            about="A tapped winding, and what its diodes stand in reverse",
            form="centre-tap",
            draws=(
                Pick("V_PRI", (110.0, 115.0, 120.0, 127.0, 220.0, 230.0, 240.0)),
                Pick("N_T", tuple(half / 2 for half in range(10, 48))),
                DIODE,
            ),
            given=("V_PRI", "N_T", "V_F"),
            labels=LABELS,
            data="The transformer stands at {V_PRI}, r.m.s., and has the turns ratio {N_T} of its primary over the "
            "whole of its centre-tapped secondary. Two diodes, each of {V_F} where it conducts, charge the reservoir "
            "against the tap.",
            ask="Find the voltage of each half of the winding, the crest across the reservoir, and the reverse voltage "
            "that an idle diode must stand.",
            asks=(
                Find("V_SEC", "the r.m.s. voltage $V_SEC$ of each half"),
                Find("V_SPK", "the crest $V_SPK$ of each half"),
                Find("V_PK", "the crest $V_PK$ across the reservoir"),
                Find("PIV", "the reverse voltage $PIV$ of an idle diode"),
            ),
            require=("V_SEC >= 6", "V_SEC <= 11"),
            slips=(
                Slip(
                    "ratio-upside-down",
                    "V_SEC",
                    Rewrite("V_PRI*2*N_T"),
                    "the turns ratio used upside down",
                    "A ratio above one, primary over secondary, steps the voltage down.",
                    "Should the secondary be larger or smaller than the mains?",
                    reference=("U13",),
                ),
                Slip(
                    "tap-forgotten",
                    "V_SEC",
                    Rewrite("V_PRI/N_T"),
                    "the whole winding taken for one half",
                    "The ratio tells of the whole secondary; the tap leaves half of it on either side.",
                    "How many of the secondary's turns lie between an end and the tap?",
                ),
                Slip(
                    "whole-winding",
                    "V_PK",
                    Rewrite("2*V_SPK - V_F"),
                    "the whole winding taken to charge the reservoir",
                    "Only one half of the winding feeds the reservoir at a time; the other half idles.",
                    "Which turns carry current in this half-cycle?",
                    reference=("U12",),
                ),
                Slip(
                    "two-drops",
                    "V_PK",
                    Rewrite("V_SPK - 2*V_F"),
                    "two diode drops taken for a tapped winding",
                    "The way back leads through the tap, so only one diode is in the way.",
                    "By which way does the current come back to the winding?",
                    reference=("U04",),
                ),
                Slip(
                    "one-crest",
                    "PIV",
                    Rewrite("V_SPK"),
                    "the crest of one half taken for the reverse voltage",
                    "The idle diode has the reservoir's crest at one end and its own half's crest, the other way, at "
                    "the other.",
                    "At which voltage is either end of the diode that does not conduct?",
                    reference=("U10",),
                ),
            ),
            back=(BackLine("The mains voltage comes back", "2*N_T*(V_PK + V_F)/sqrt(2)", "V_PRI"),),
            band={"V_PRI": 0.1},
            bench="the mains alone moves every one of these voltages by a tenth either way",
        ),
        Level(
            about="Backwards: the ratio from the crest wanted, then the worst line for the diode",
            form="half-wave",
            draws=(
                Pick("V_PK_NOM", tuple(half / 2 for half in range(14, 57))),
                DIODE,
                Pick("V_PRI_NOM", (115.0, 120.0, 230.0, 240.0)),
                Pick("down", (0.9, 0.85, 0.94)),
                Pick("up", (1.1, 1.06)),
                Work("V_PRI_MIN", "V_PRI_NOM*down", 4),
                Work("V_PRI_MAX", "V_PRI_NOM*up", 4),
            ),
            given=("V_PK_NOM", "V_F", "V_PRI_NOM", "V_PRI_MIN", "V_PRI_MAX"),
            ranges=("V_PRI",),
            labels=LABELS,
            data="A single diode of {V_F} is to charge the reservoir to {V_PK_NOM} at a mains voltage of "
            "{V_PRI_NOM}; the mains may lie anywhere between {V_PRI_MIN} and {V_PRI_MAX}.",
            ask="Find the winding and the turns ratio that are needed, the crest across the reservoir at either end of "
            "the line, and the greatest reverse voltage of the diode.",
            asks=(
                Find(
                    "V_SEC",
                    "the r.m.s. voltage of the winding at the stated mains voltage",
                    key="V_SEC_NOM",
                    at={"V_PK": "V_PK_NOM"},
                ),
                Find(
                    "N_T",
                    "the turns ratio $N_T$, primary over secondary",
                    at={"V_PRI": "V_PRI_NOM", "V_SEC": "V_SEC_NOM"},
                ),
                FindExtreme("V_PK", Extreme.LEAST, "the least crest across the reservoir"),
                FindExtreme("V_PK", Extreme.GREATEST, "the greatest crest across the reservoir"),
                FindExtreme("PIV", Extreme.GREATEST, "the greatest reverse voltage of the diode"),
            ),
            require=("V_SEC_NOM >= 6", "V_SEC_NOM <= 20", "PIV_MAX <= 62"),
            slips=(
                Slip(
                    "drop-taken-off",
                    "V_SEC_NOM",
                    Rewrite("(V_PK - V_F)/sqrt(2)"),
                    "the drop taken off where it is added back",
                    "Going back from the reservoir to the winding, the drop that was lost on the way is added.",
                    "Is the winding's crest above or below that of the reservoir?",
                ),
                Slip(
                    "crest-for-rms",
                    "V_SEC_NOM",
                    Rewrite("V_PK + V_F"),
                    "the crest given for the r.m.s. voltage",
                    "A winding is ordered by its r.m.s. voltage, which is the crest over $sqrt(2)$.",
                    "By which of its values is a winding rated?",
                ),
                Slip(
                    "line-left-out",
                    "V_PK_MIN",
                    Rewrite("V_PK_NOM"),
                    "the line taken to stay where it is",
                    "The winding's crest falls with the line, and what is left across the reservoir with it.",
                    "Which mains voltage lets the reservoir charge least?",
                ),
                Slip(
                    "reservoir-forgotten",
                    "PIV_MAX",
                    Rewrite("V_PRI*sqrt(2)/N_T"),
                    "the winding's crest alone taken for the reverse voltage",
                    "While the winding swings the other way the reservoir still holds its crest, and both add up "
                    "across "
                    "the diode.",
                    "What does the reservoir hold at the cathode while the winding is at its lowest?",
                ),
            ),
            back=(BackLine("The crest wanted comes back", "sqrt(2)*V_PRI_NOM/N_T - V_F", "V_PK_NOM"),),
            band={"V_F": 0.15},
            bench="what the drop of the diode really is matters little here; the line matters most",
        ),
    ),
)
