"""The raw supply: a winding, a rectifier and a reservoir, in three forms."""

from tutor.circuit.circuit import Circuit, Composite, LoadModel, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
    Drawing,
    Ground,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)

HALF_WAVE = Drawing(
    title="Half-wave rectifier with reservoir",
    places=(
        Place("S", (0, 3.5), (0, 0), Side.LEFT),
        Place("D", (0, 3.5), (2.5, 3.5), Side.ABOVE),
        Place("C", (2.5, 3.5), (2.5, 0), Side.LEFT),
        Place("L", (5, 3.5), (5, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.5, 3.5), (6.5, 3.5))),
        Wire("gnd", ((0, 0), (6.5, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        Terminal("out", (6.5, 3.5)),
        Terminal("gnd", (6.5, 0)),
        Voltage("V_DC", "out", (6.5, 3.5), "gnd", (6.5, 0)),
    ),
)

CENTRE_TAP = Drawing(
    title="Centre-tap rectifier with reservoir",
    places=(
        PlaceDevice("S", (0, 2.5), Turn.NONE, Side.LEFT),
        Place("D_1", (0.5, 5), (3, 5), Side.ABOVE),
        Place("D_2", (0.5, 0), (3, 0), Side.BELOW),
        Place("C", (5.25, 5), (5.25, 2.5), Side.LEFT),
        Place("L", (8, 5), (8, 2.5), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("top", ((0, 4), (0, 5), (0.5, 5))),
        Wire("bottom", ((0, 1), (0, 0), (0.5, 0))),
        Wire("out", ((3, 5), (9.5, 5))),
        Wire("out", ((3, 5), (3, 0))),
        Wire("gnd", ((0.75, 2.5), (2.25, 2.5))),
        Wire("gnd", ((5.25, 2.5), (9.5, 2.5))),
    ),
    grounds=(Ground((2.25, 2.5)), Ground((5.25, 2.5))),
    marks=(
        Terminal("out", (9.5, 5)),
        Terminal("gnd", (9.5, 2.5)),
        Voltage("V_DC", "out", (9.5, 5), "gnd", (9.5, 2.5)),
    ),
)

BRIDGE = Drawing(
    title="Bridge rectifier with reservoir",
    places=(
        Place("S", (0, 4), (0, 2.5), Side.LEFT),
        Place("D_1", (1.25, 4), (1.25, 6), Side.LEFT),
        Place("D_2", (2.75, 4), (2.75, 6), Side.RIGHT),
        Place("D_3", (1.25, 0), (1.25, 2), Side.LEFT),
        Place("D_4", (2.75, 0), (2.75, 2), Side.RIGHT),
        Place("C", (5.25, 6), (5.25, 0), Side.LEFT),
        Place("L", (8, 6), (8, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("top", ((0, 4), (1.25, 4))),
        Wire("top", ((1.25, 4), (1.25, 2))),
        Wire("bottom", ((0, 2.5), (2.75, 2.5))),
        Wire("bottom", ((2.75, 4), (2.75, 2))),
        Wire("out", ((1.25, 6), (9.25, 6))),
        Wire("gnd", ((1.25, 0), (9.25, 0))),
    ),
    grounds=(Ground((4.5, 0)),),
    marks=(
        Terminal("out", (9.25, 6)),
        Terminal("gnd", (9.25, 0)),
        Voltage("V_DC", "out", (9.25, 6), "gnd", (9.25, 0)),
    ),
)

OUT = NodeWord("V_DC", "the output node")
TOP = NodeWord("", "the upper end of the winding")
BOTTOM = NodeWord("", "the lower end of the winding")

NETLISTS = {
    "half-wave": """
        S    winding         top     gnd
        D    diode           top     out
        C    reservoir       out     gnd
        L    load            out     gnd
    """,
    "centre-tap": """
        S    tapped-winding  top     gnd   bottom
        D_1  diode           top     out
        D_2  diode           bottom  out
        C    reservoir       out     gnd
        L    load            out     gnd
    """,
    "bridge": """
        S    winding         top     bottom
        D_1  diode           top     out
        D_2  diode           bottom  out
        D_3  diode           gnd     top
        D_4  diode           gnd     bottom
        C    reservoir       out     gnd
        L    load            out     gnd
    """,
}


def of_form(
    form: str, title: str, drawing: Drawing, pulses: int, reverse: Composite, without: tuple[str, str]
) -> Circuit:
    """The circuit in one form: what differs is the netlist, its drawing, and how a person writes the reverse voltage.

    `pulses` is how many crests a cycle charge, as the engine finds it too; `without` is the reverse voltage with the
    diode drops left out: title and formula.
    """
    rate = "f*C" if pulses == 1 else f"{pulses}*f*C"
    drops = "2*V_F" if form == "bridge" else "V_F"
    # Mean of a pulse V_SPK (cos x - cos phi)/R_W over -phi..phi, small angles: 2 V_SPK phi^3/(3 R_W) for each 2 pi/m.
    angle = "3*pi*R_W*I_L/V_SPK" if pulses == 1 else f"3*pi*R_W*I_L/({pulses}*V_SPK)"
    return circuit(
        id="reservoir",
        form=form,
        title=title,
        stage=1,
        purpose="A winding charges the reservoir through diodes at each crest; between the crests the reservoir alone "
        "feeds the load and sags.",
        netlist=NETLISTS[form],
        nodes={"top": TOP, "out": OUT} | ({} if form == "half-wave" else {"bottom": BOTTOM}),
        regions=(Region("charged", "the reservoir is topped up at every crest", {"C": "charged"}),),
        constants=("N_T", "V_SEC", "R_W", "V_F", "f", "C", "V_O"),
        preferred=("V_DC", "I_L", "V_RIP", "V_PK"),
        report=(
            "V_SEC",
            "V_SPK",
            "V_PK",
            "I_L",
            "R_L",
            "V_RIP",
            "V_DC",
            "V_TROUGH",
            "V_DROP",
            "RIPPLE_FACTOR",
            "PIV",
            "W_C",
            "P_O",
            "phi",
            "I_SEC",
            "VA",
            "V_PRI",
            "C",
        ),
        typical={"N_T": 15.0, "V_SEC": 15.0, "R_W": 1.0, "V_F": 0.7, "f": 50.0, "C": 2.2e-3, "V_O": 12.0, "I_L": 0.5},
        composites=(
            Composite(
                "ripple-factor",
                "Ripple factor: r.m.s. value of a sawtooth over the mean",
                "RIPPLE_FACTOR = V_RIP/(2*sqrt(3)*V_DC)",
                why="A sawtooth of a given height, peak to peak, has that height over $2*sqrt(3)$ as its r.m.s. value.",
            ),
            Composite(
                "headroom",
                "What is left for a regulator at the trough",
                "V_DROP = V_TROUGH - V_O",
                why="The regulator has least to work with at the lowest moment of the ripple.",
                cost=1.0,
            ),
            Composite(
                "loaded-mean",
                "Mean voltage across a load resistance",
                f"V_DC = V_PK*R_L/(R_L + 1/({2 * pulses}*f*C))",
                why="Half the ripple is lost above the mean, as if a resistance stood before the load: a divider.",
                cost=1.2,
                loads=(LoadModel.RESISTOR,),
            ),
            reverse,
        ),
        variants=(
            Variant("ripple-current", "load", words="the load current $I_L$, or $V_DC/R_L$"),
            Variant(
                "ripple-current",
                "crest",
                words="the current at the crest, $I_L = V_PK/R_L$",
                removes=("L.ohm", "loaded-mean"),
                adds=(("L.ohm", "Load current taken at the crest voltage", "I_L = V_PK/R_L"),),
                title="load current taken at the crest",
            ),
            Variant("winding", "neglected", words="the resistance of the winding left out"),
            Variant(
                "winding",
                "charge-balance",
                words=f"the resistance of the winding counted by charge balance: $phi = cbrt({angle})$ and "
                f"$V_DC = V_SPK*(1 - phi^2/2) - {drops}$",
                removes=("C.mean", "C.trough", "loaded-mean"),
                adds=(
                    (
                        "winding.angle",
                        "Half the angle of conduction, so that the charge of the pulses is the charge drawn",
                        f"phi = cbrt({angle})",
                    ),
                    (
                        "winding.mean",
                        "Mean voltage where the winding's resistance is met by the pulses",
                        f"V_DC = V_SPK*(1 - phi^2/2) - {drops}",
                    ),
                    ("winding.trough", "Half the ripple lies below the mean", "V_TROUGH = V_DC - V_RIP/2"),
                ),
                given="R_W",
                holds=("V_DC <= V_PK - V_RIP/2",),
                reasons={
                    "winding.angle": "A pulse is the tip of a cosine over the level of the reservoir, driven through "
                    "$R_W$: its charge grows as the third power of its angle, and it must be what the load takes "
                    "until the next.",
                    "winding.mean": "The pulse begins and ends where the winding, less the diode drops, stands at the "
                    "level of the reservoir: at the angle $phi$ from the crest, where a cosine has lost $phi^2/2$.",
                    "winding.trough": "The winding's resistance lowers the whole ramp, and its mean still lies halfway "
                    "down.",
                },
                title="winding's resistance counted by charge balance",
            ),
            Variant("dc-value", "midpoint", words="$V_DC = V_PK - V_RIP/2$"),
            Variant(
                "dc-value",
                "self-consistent",
                words=f"$V_DC = V_PK*R_L/(R_L + 1/({2 * pulses}*f*C))$",
                removes=("C.mean", "loaded-mean"),
                adds=(
                    (
                        "C.mean",
                        "Mean voltage across the load resistance, in agreement with its own current",
                        f"V_DC = V_PK*R_L/(R_L + 1/({2 * pulses}*f*C))",
                    ),
                ),
            ),
            Variant("ripple", "linear", words="a straight discharge from crest to crest"),
            Variant(
                "ripple",
                "exact",
                words="the discharge ends where the winding comes to meet it (charging angle by one correction)",
                removes=("rectifier.ripple", "loaded-mean"),
                adds=(
                    (
                        "rectifier.ripple",
                        "Charge balance over the time without charging",
                        f"V_RIP = I_L/({rate})*(1 - {pulses}*sqrt(2*I_L/({rate}*V_SPK))/(2*pi))",
                    ),
                ),
                title="charging angle counted",
            ),
            Variant(
                "ripple-factor",
                "rms",
                words="$RIPPLE_FACTOR = V_RIP/(2*sqrt(3)*V_DC)$, the r.m.s. value of the ripple over the mean",
            ),
            Variant(
                "ripple-factor",
                "peak-to-peak",
                words="$RIPPLE_FACTOR = V_RIP/V_DC$, the ripple peak to peak over the mean",
                removes=("ripple-factor",),
                adds=(("ripple-factor", "Ripple factor, peak to peak over the mean", "RIPPLE_FACTOR = V_RIP/V_DC"),),
            ),
            Variant("piv-drop", "with", words="diode drops counted"),
            Variant(
                "piv-drop",
                "without",
                words="diode drops left out",
                removes=("rectifier.reverse", "reverse"),
                adds=(("reverse", *without),),
                title="diode drops left out of the reverse voltage",
            ),
        ),
        ends={
            "V_PRI": ("the lowest line", "the highest line"),
            "V_SEC": ("the lowest line", "the highest line"),
            "I_L": ("the lightest load", "the fullest load"),
            "R_L": ("the fullest load", "the lightest load"),
            "C": ("the least capacitance", "the greatest capacitance"),
        },
        defaults={"V_F": 0.7},
        derivation={
            "V_PK": ("V_SEC", "V_F"),
            "V_RIP": ("I_L", "f", "C"),
            "V_DC": ("V_SEC", "V_F", "I_L", "f", "C"),
            "V_TROUGH": ("V_SEC", "V_F", "I_L", "f", "C"),
            "PIV": ("V_SEC", "V_F"),
        },
        drawing=drawing,
    )


FORMS = (
    of_form(
        "bridge",
        "Bridge rectifier with reservoir",
        BRIDGE,
        2,
        Composite(
            "reverse",
            "Reverse voltage of an idle bridge diode",
            "PIV = V_SPK - V_F",
            why="A conducting neighbour ties the idle diode across the winding, less one drop.",
            cost=0.9,
        ),
        ("Reverse voltage of an idle bridge diode, without drops", "PIV = V_SPK"),
    ),
    of_form(
        "half-wave",
        "Half-wave rectifier with reservoir",
        HALF_WAVE,
        1,
        Composite(
            "reverse",
            "Reverse voltage of the diode",
            "PIV = 2*V_SPK - V_F",
            why="The reservoir stays near its crest while the winding swings to its crest the other way.",
            cost=0.9,
        ),
        ("Reverse voltage of the diode, without drops", "PIV = 2*V_SPK"),
    ),
    of_form(
        "centre-tap",
        "Centre-tap rectifier with reservoir",
        CENTRE_TAP,
        2,
        Composite(
            "reverse",
            "Reverse voltage of the idle diode",
            "PIV = 2*V_SPK - V_F",
            why="The reservoir holds the cathode at its crest; the other half of the winding pulls the anode down.",
            cost=0.9,
        ),
        ("Reverse voltage of the idle diode, without drops", "PIV = 2*V_SPK"),
    ),
)
