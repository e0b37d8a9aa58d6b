"""Three raw supplies side by side: one diode (1), a tapped winding (2) and a bridge (3), on windings alike.

Each has a reservoir of the same size and feeds the same current, so that what differs is the rectifier's doing alone.
An index says whose quantity it is; what all three share (V_SEC, V_F, f, C, R_W, I_L) has none.
"""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import Drawing, Ground, Place, PlaceDevice, Side, Terminal, Turn, Voltage, Wire

NETLIST = """
    S_1  winding         top_1   gnd              primary= ratio= current=I_SEC_1 rating=VA_1
    D_1  diode           top_1   out_1            reverse=PIV_1
    C_1  reservoir       out_1   gnd              capacitance=C crest=V_PK_1 ripple=V_RIP_1 mean=V_DC_1 \
trough=V_TROUGH_1 energy=
    L_1  load            out_1   gnd              resistance= power=

    S_2  tapped-winding  top_2   gnd    bottom_2  primary= ratio= current=I_SEC_2 rating=VA_2
    D_2  diode           top_2   out_2            reverse=PIV_2
    D_3  diode           bottom_2 out_2           reverse=PIV_2
    C_2  reservoir       out_2   gnd              capacitance=C crest=V_PK_2 ripple=V_RIP_2 mean=V_DC_2 \
trough=V_TROUGH_2 energy=
    L_2  load            out_2   gnd              resistance= power=

    S_3  winding         top_3   bottom_3         primary= ratio= current=I_SEC_3 rating=VA_3
    D_4  diode           top_3   out_3            reverse=PIV_3
    D_5  diode           bottom_3 out_3           reverse=PIV_3
    D_6  diode           gnd     top_3            reverse=PIV_3
    D_7  diode           gnd     bottom_3         reverse=PIV_3
    C_3  reservoir       out_3   gnd              capacitance=C crest=V_PK_3 ripple=V_RIP_3 mean=V_DC_3 \
trough=V_TROUGH_3 energy=
    L_3  load            out_3   gnd              resistance= power=
"""

DRAWING = Drawing(
    title="Half-wave, centre-tap and bridge rectifier, each with its reservoir",
    places=(
        Place("S_1", (0, 18.5), (0, 15), Side.LEFT),
        Place("D_1", (0, 18.5), (2.5, 18.5), Side.ABOVE),
        Place("C_1", (5.25, 18.5), (5.25, 15), Side.LEFT),
        Place("L_1", (8, 18.5), (8, 15), Side.LEFT),
        PlaceDevice("S_2", (0, 10.5), Turn.NONE, Side.LEFT),
        Place("D_2", (0.5, 13), (3, 13), Side.ABOVE),
        Place("D_3", (0.5, 8), (3, 8), Side.BELOW),
        Place("C_2", (5.25, 13), (5.25, 10.5), Side.LEFT),
        Place("L_2", (8, 13), (8, 10.5), Side.LEFT),
        Place("S_3", (0, 4), (0, 2.5), Side.LEFT),
        Place("D_4", (1.25, 4), (1.25, 6), Side.LEFT),
        Place("D_5", (2.75, 4), (2.75, 6), Side.RIGHT),
        Place("D_6", (1.25, 0), (1.25, 2), Side.LEFT),
        Place("D_7", (2.75, 0), (2.75, 2), Side.RIGHT),
        Place("C_3", (5.25, 6), (5.25, 0), Side.LEFT),
        Place("L_3", (8, 6), (8, 0), Side.LEFT),
    ),
    wires=(
        Wire("out_1", ((2.5, 18.5), (9.25, 18.5))),
        Wire("gnd", ((0, 15), (9.25, 15))),
        Wire("top_2", ((0, 12), (0, 13), (0.5, 13))),
        Wire("bottom_2", ((0, 9), (0, 8), (0.5, 8))),
        Wire("out_2", ((3, 13), (9.25, 13))),
        Wire("out_2", ((3, 13), (3, 8))),
        Wire("gnd", ((0.75, 10.5), (2.25, 10.5))),
        Wire("gnd", ((5.25, 10.5), (9.25, 10.5))),
        Wire("top_3", ((0, 4), (1.25, 4))),
        Wire("top_3", ((1.25, 4), (1.25, 2))),
        Wire("bottom_3", ((0, 2.5), (2.75, 2.5))),
        Wire("bottom_3", ((2.75, 4), (2.75, 2))),
        Wire("out_3", ((1.25, 6), (9.25, 6))),
        Wire("gnd", ((1.25, 0), (9.25, 0))),
    ),
    grounds=(Ground((2, 15)), Ground((2.25, 10.5)), Ground((6.5, 10.5)), Ground((6.5, 0))),
    marks=(
        Terminal("out_1", (9.25, 18.5)),
        Terminal("gnd", (9.25, 15)),
        Voltage("V_DC_1", "out_1", (9.25, 18.5), "gnd", (9.25, 15)),
        Terminal("out_2", (9.25, 13)),
        Terminal("gnd", (9.25, 10.5)),
        Voltage("V_DC_2", "out_2", (9.25, 13), "gnd", (9.25, 10.5)),
        Terminal("out_3", (9.25, 6)),
        Terminal("gnd", (9.25, 0)),
        Voltage("V_DC_3", "out_3", (9.25, 6), "gnd", (9.25, 0)),
    ),
)

SUPPLIES = (1, 2, 3)
PULSES = {1: "", 2: "2*", 3: "2*"}  # crests a cycle that charge, as a factor
DROPS = {1: "V_F", 2: "V_F", 3: "2*V_F"}
REVERSE = (
    (1, "Reverse voltage of the one diode", "2*V_SPK", "The reservoir stays near its crest while the winding swings to "
     "its crest the other way."),
    (2, "Reverse voltage of the idle diode at a tapped winding", "2*V_SPK", "The reservoir holds the cathode at its "
     "crest; the other half of the winding pulls the anode down."),
    (3, "Reverse voltage of an idle bridge diode", "V_SPK", "A conducting neighbour ties the idle diode across the "
     "winding, less one drop."),
)  # fmt: skip
# What one supply says of another. Dear, so that each is worked from its own data wherever that is known.
BESIDE = (
    ("Half the ripple with twice the top-ups", "V_RIP_2 = V_RIP_1/2", "The load empties the reservoir for half as "
     "long."),
    ("The same ripple with as many top-ups", "V_RIP_3 = V_RIP_2", "Both are topped up at every crest."),
    ("The same crest with one diode in the way", "V_PK_2 = V_PK_1", "In both, one diode leads from a winding that is "
     "alike."),
    ("A drop less with a second diode in the way", "V_PK_3 = V_PK_2 - V_F", "The bridge has one diode more in the "
     "way."),
    ("The same reverse voltage at a tap as at one diode", "PIV_2 = PIV_1", "In both, the reservoir holds one side and "
     "a winding at its crest pulls the other."),
    ("A bridge diode stands what is left behind one diode", "PIV_3 = V_PK_2", "Both are the crest of the winding less "
     "one drop."),
    ("A drop less at every moment", "V_TROUGH_3 = V_TROUGH_2 - V_F", "The bridge follows the tapped winding with one "
     "diode more in the way."),
    ("Twice as deep a ripple has its mean where the other has its trough", "V_DC_1 = V_TROUGH_2", "Half of the deeper "
     "ripple is all of the other, below the same crest."),
)  # fmt: skip
WHY_ANGLE = (
    "A pulse is the tip of a cosine over the level of the reservoir, driven through $R_W$: its charge grows as the "
    "third power of its angle, and it must be what the load takes until the next."
)
WHY_MEAN = (
    "The pulse begins and ends where the winding, less the diode drops, stands at the level of the reservoir: at the "
    "angle ${angle}$ from the crest, where a cosine has lost ${angle}^2/2$."
)
WHY_TROUGH = "The winding's resistance lowers the whole ramp, and its mean still lies halfway down."


def angle_of(supply: int) -> str:
    """Half the angle of conduction by charge balance, small angles: see the single rectifiers in `reservoir.py`."""
    below = f"({PULSES[supply]}V_SPK)" if PULSES[supply] else "V_SPK"
    return f"cbrt(3*pi*R_W*I_L/{below})"


def each(pattern: str) -> tuple[str, ...]:
    """A letter symbol of each supply, in order."""
    return tuple(f"{pattern}_{supply}" for supply in SUPPLIES)


CIRCUIT: Circuit = circuit(
    id="rectifiers",
    title="Three rectifiers side by side",
    stage=1,
    purpose="Three ways to charge a reservoir from windings that are alike: one diode (1), two at a tapped winding "
    "(2), four in a bridge (3). The same current is drawn from each.",
    netlist=NETLIST,
    nodes={
        "top_1": NodeWord("", "the upper end of winding 1"),
        "out_1": NodeWord("V_DC_1", "the output of supply 1"),
        "top_2": NodeWord("", "the upper end of winding 2"),
        "bottom_2": NodeWord("", "the lower end of winding 2"),
        "out_2": NodeWord("V_DC_2", "the output of supply 2"),
        "top_3": NodeWord("", "the upper end of winding 3"),
        "bottom_3": NodeWord("", "the lower end of winding 3"),
        "out_3": NodeWord("V_DC_3", "the output of supply 3"),
    },
    regions=(
        Region(
            "charged",
            "the reservoirs are topped up at every crest",
            {f"C_{supply}": "charged" for supply in SUPPLIES},
        ),
    ),
    constants=("V_SEC", "R_W", "V_F", "f", "C"),
    preferred=(*each("V_DC"), "I_L", *each("V_RIP"), *each("V_PK")),
    report=(
        "V_SEC", "V_SPK", "I_L", *each("V_PK"), *each("V_RIP"), *each("V_DC"), *each("V_TROUGH"), *each("PIV"),
        *each("phi"), *each("I_SEC"), *each("VA"), "C",
    ),
    typical={"V_SEC": 9.0, "R_W": 0.5, "V_F": 0.7, "f": 50.0, "C": 4.7e-3, "I_L": 0.4},
    composites=(
        *(
            Composite(f"reverse-{supply}", title, f"PIV_{supply} = {crests} - V_F", why=why, cost=0.9)
            for supply, title, crests, why in REVERSE
        ),
        *(
            Composite(f"beside-{number}", title, formula, why=why, cost=9.0)
            for number, (title, formula, why) in enumerate(BESIDE, start=1)
        ),
    ),
    variants=(
        Variant("winding", "neglected", words="the resistance of the windings left out"),
        Variant(
            "winding",
            "charge-balance",
            words="the resistance of the windings counted by charge balance: half the angle of a pulse is "
            f"$phi_1 = {angle_of(1)}$ with one diode, $phi_2 = {angle_of(2)}$ and $phi_3$ alike with two crests a "
            "cycle, and "
            "the mean is $V_SPK*(1 - phi^2/2)$ less the drops in the way",
            removes=(*(f"C_{supply}.{law}" for supply in SUPPLIES for law in ("mean", "trough")), "beside-8"),
            adds=tuple(
                law
                for supply in SUPPLIES
                for law in (
                    (
                        f"winding.angle-{supply}",
                        "Half the angle of conduction, so that the charge of the pulses is the charge drawn",
                        f"phi_{supply} = {angle_of(supply)}",
                    ),
                    (
                        f"winding.mean-{supply}",
                        "Mean voltage where the winding's resistance is met by the pulses",
                        f"V_DC_{supply} = V_SPK*(1 - phi_{supply}^2/2) - {DROPS[supply]}",
                    ),
                    (
                        f"winding.trough-{supply}",
                        "Half the ripple lies below the mean",
                        f"V_TROUGH_{supply} = V_DC_{supply} - V_RIP_{supply}/2",
                    ),
                )
            ),
            given="R_W",
            holds=tuple(f"V_DC_{supply} <= V_PK_{supply} - V_RIP_{supply}/2" for supply in SUPPLIES),
            reasons={
                f"winding.{law}-{supply}": why.replace("{angle}", f"phi_{supply}")
                for supply in SUPPLIES
                for law, why in (("angle", WHY_ANGLE), ("mean", WHY_MEAN), ("trough", WHY_TROUGH))
            },
            title="winding's resistance counted by charge balance",
        ),
        Variant("piv-drop", "with", words="diode drops counted"),
        Variant(
            "piv-drop",
            "without",
            words="diode drops left out",
            removes=(
                *(f"rectifier.C_{supply}.reverse" for supply in SUPPLIES),
                *(f"reverse-{supply}" for supply in SUPPLIES),
                "beside-6",
            ),
            adds=tuple(
                (f"reverse-{supply}", f"{title}, without drops", f"PIV_{supply} = {crests}")
                for supply, title, crests, _ in REVERSE
            ),
            reasons={f"reverse-{supply}": why for supply, _, _, why in REVERSE},
            title="diode drops left out of the reverse voltage",
        ),
    ),
    ends={
        "V_SEC": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "C": ("the least capacitance", "the greatest capacitance"),
    },
    defaults={"V_F": 0.7},
    derivation={
        **{f"V_TROUGH_{supply}": ("V_SEC", "V_F", "I_L", "f", "C") for supply in SUPPLIES},
        **{f"PIV_{supply}": ("V_SEC", "V_F") for supply in SUPPLIES},
    },
    drawing=DRAWING,
)
