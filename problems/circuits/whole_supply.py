"""The whole supply, mains to rail: winding, bridge and reservoir, a series regulator, and the path of its heat.

Two circuits stand side by side, of currents and of heat. What the regulator is fed with, V_I, moves between trough and
crest; it is taken at the mean, which is what warms it, and where a moment counts the problem says which.
"""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
    Arrow,
    Drawing,
    Ground,
    NodeLabel,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)

TOP, RAIL, BELOW = 13.5, 5.0, -2.0  # wires of the raw supply and of the regulator, and the junction of the heat's path


def drawn(title: str, source: str, out: float, regulator: tuple[Place | PlaceDevice, ...], wires: tuple[Wire, ...],
          marks: tuple[Arrow | NodeLabel, ...] = ()) -> Drawing:
    """Bridge and reservoir above; below them a regulator whose load stands at `out`; the path of its heat, from the
    part `source`, at the foot."""
    base, end = TOP - 6, out + 1.5
    return Drawing(
        title=title,
        places=(
            Place("S", (0, base + 4), (0, base + 2.5), Side.LEFT),
            Place("D_1", (1.25, base + 4), (1.25, TOP), Side.LEFT),
            Place("D_2", (2.75, base + 4), (2.75, TOP), Side.RIGHT),
            Place("D_3", (1.25, base), (1.25, base + 2), Side.LEFT),
            Place("D_4", (2.75, base), (2.75, base + 2), Side.RIGHT),
            Place("C", (5.5, TOP), (5.5, base), Side.LEFT),
            *regulator,
            Place("L", (out, RAIL), (out, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
            Place(source, (0, BELOW), (0, BELOW - 3), Side.RIGHT),
            Place("R_thJC", (0, BELOW), (2.5, BELOW), Side.ABOVE),
            Place("R_thCS", (2.5, BELOW), (5, BELOW), Side.ABOVE),
            Place("R_thSA", (5, BELOW), (7.5, BELOW), Side.ABOVE),
        ),
        wires=(
            Wire("top", ((0, base + 4), (1.25, base + 4))),
            Wire("top", ((1.25, base + 4), (1.25, base + 2))),
            Wire("bottom", ((0, base + 2.5), (2.75, base + 2.5))),
            Wire("bottom", ((2.75, base + 4), (2.75, base + 2))),
            Wire("raw", ((1.25, TOP), (7, TOP), (7, base - 1), (0, base - 1), (0, RAIL))),
            Wire("gnd", ((1.25, base), (5.5, base))),
            *wires,
            Wire("case", ((2.5, BELOW), (2.5, BELOW - 0.75))),
            Wire("sink", ((5, BELOW), (5, BELOW - 0.75))),
            Wire("ambient", ((7.5, BELOW), (7.5, BELOW - 3), (0, BELOW - 3))),
        ),
        grounds=(Ground((4, base)), Ground((out - 1, 0))),
        marks=(
            *marks,
            NodeLabel("raw", (7, base + 3), "V_I", Side.RIGHT),
            Terminal("out", (end, RAIL)),
            Terminal("gnd", (end, 0)),
            Voltage("V_O", "out", (end, RAIL), "gnd", (end, 0)),
            NodeLabel("junction", (0, BELOW), "T_J", Side.ABOVE),
            NodeLabel("case", (2.5, BELOW - 0.75), "T_C", Side.BELOW),
            NodeLabel("sink", (5, BELOW - 0.75), "T_S", Side.BELOW),
            NodeLabel("ambient", (3.75, BELOW - 3), "T_A", Side.BELOW),
        ),
    )  # fmt: skip


BEHIND_FOLLOWER = drawn(
    "Mains to rail with zener and emitter follower",
    "P_Q",
    6,
    (
        Place("R", (1.5, RAIL), (1.5, 2.5), Side.RIGHT, current="I_R", current_side=Side.LEFT),
        Place("Z", (1.5, 2.5), (1.5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q", (3.5, 4), Turn.QUARTER, Side.ABOVE),
    ),
    (
        Wire("raw", ((0, RAIL), (2.5, RAIL))),
        Wire("base", ((1.5, 2.5), (3.5, 2.5), (3.5, 4))),
        Wire("gnd", ((1.5, 0), (7.5, 0))),
        Wire("out", ((4.5, RAIL), (7.5, RAIL))),
    ),
    (Arrow("I_B", "base", (2.5, 2.5), Side.RIGHT, Side.ABOVE), NodeLabel("base", (3, 2.5), "V_B", Side.BELOW)),
)
BEHIND_FIXED = drawn(
    "Mains to rail with a three-terminal regulator",
    "P_D",
    6,
    (PlaceDevice("U", (2.75, RAIL), Turn.NONE, Side.ABOVE),),
    (
        Wire("raw", ((0, RAIL), (1.5, RAIL))),
        Wire("out", ((4, RAIL), (7.5, RAIL))),
        Wire("gnd", ((2.75, RAIL - 1.25), (2.75, 0), (7.5, 0))),
    ),
)

RAW = """
    S       winding         top     bottom
    D_1     diode           top     raw
    D_2     diode           bottom  raw
    D_3     diode           gnd     top
    D_4     diode           gnd     bottom
    C       reservoir       raw     gnd      draw=I_I
"""
NODES = {
    "top": NodeWord("", "the upper end of the winding"),
    "bottom": NodeWord("", "the lower end of the winding"),
    "raw": NodeWord("V_I", "the regulator's input node"),
    "out": NodeWord("V_O", "the output node"),
    "junction": NodeWord("T_J", "the junction"),
    "case": NodeWord("T_C", "the case"),
    "sink": NodeWord("T_S", "the heat-sink"),
    "ambient": NodeWord("T_A", "the ambient"),
}
ENDS = {
    "V_PRI": ("the lowest line", "the highest line"),
    "V_SEC": ("the lowest line", "the highest line"),
    "V_I": ("the lowest moment", "the highest moment"),
    "I_L": ("the lightest load", "the fullest load"),
    "R_L": ("the fullest load", "the lightest load"),
    "h_FE": ("the lowest gain", "the highest gain"),
    "C": ("the least capacitance", "the greatest capacitance"),
    "T_A": ("the coldest air", "the hottest air"),
}
REVERSE_WHY = "A conducting neighbour ties the idle diode across the winding, less one drop."


def heat_of(power: str) -> tuple[Composite, ...]:
    """The path of the heat as a person writes it, from the part's power up to its junction and back."""
    return (
        Composite(
            "chain", "All rises one upon another", f"T_J = T_A + {power}*(R_thJC + R_thCS + R_thSA)", cost=1.0,
            why="The same heat flows through all three, so their rises add up from the ambient to the junction.",
        ),
        Composite(
            "case-chain", "From the ambient up to the case", f"T_C = T_A + {power}*(R_thCS + R_thSA)", cost=1.05,
            why="Between case and ambient the heat crosses the joint and the heat-sink.",
        ),
        Composite(
            "power", "The heat that a temperature allows", f"{power} = (T_J - T_A)/(R_thJC + R_thCS + R_thSA)",
            cost=1.05, why="The whole difference of temperature drives one flow through all three.",
        ),
        Composite(
            "sink-limit", "What the other resistances leave for the heat-sink",
            f"R_thSA = (T_J - T_A)/{power} - R_thJC - R_thCS", cost=1.05,
            why="Junction to case and the joint have their share whatever the heat-sink is.",
        ),
    )  # fmt: skip


SUPPLY = (
    Composite(
        "headroom", "What is left for the regulator at the lowest moment", "V_HEAD = V_TROUGH - V_O", cost=1.0,
        why="The regulator has least to work with in the trough of the ripple.",
    ),
    Composite(
        "reverse", "Reverse voltage of an idle bridge diode", "PIV = V_SPK - V_F", cost=0.9, why=REVERSE_WHY,
    ),
)  # fmt: skip
SUPPLY_CONVENTIONS = (
    Variant("winding", "neglected", words="the resistance of the winding left out"),
    Variant(
        "winding",
        "charge-balance",
        words="the resistance of the winding counted by charge balance: $phi = cbrt(3*pi*R_W*I_L/(2*V_SPK))$ and "
        "$V_DC = V_SPK*(1 - phi^2/2) - 2*V_F$",
        removes=("C.mean", "C.trough"),
        adds=(
            ("winding.angle", "Half the angle of conduction, so that the charge of the pulses is the charge drawn",
             "phi = cbrt(3*pi*R_W*I_L/(2*V_SPK))"),
            ("winding.mean", "Mean voltage where the winding's resistance is met by the pulses",
             "V_DC = V_SPK*(1 - phi^2/2) - 2*V_F"),
            ("winding.trough", "Half the ripple lies below the mean", "V_TROUGH = V_DC - V_RIP/2"),
        ),
        given="R_W",
        holds=("V_DC <= V_PK - V_RIP/2",),
        reasons={
            "winding.angle": "A pulse is the tip of a cosine over the level of the reservoir, driven through $R_W$: "
            "its charge grows as the third power of its angle, and it must be what the load takes until the next.",
            "winding.mean": "The pulse begins and ends where the winding, less the diode drops, stands at the level "
            "of the reservoir: at the angle $phi$ from the crest, where a cosine has lost $phi^2/2$.",
            "winding.trough": "The winding's resistance lowers the whole ramp, and its mean still lies halfway down.",
        },
        title="winding's resistance counted by charge balance",
    ),
)  # fmt: skip
RAW_REPORT = (
    "V_SEC", "V_SPK", "V_PK", "I_L", "R_L", "V_RIP", "V_DC", "V_TROUGH", "V_I", "V_O", "V_HEAD", "PIV", "W_C", "P_O",
    "phi", "I_SEC", "VA", "V_PRI",
)  # fmt: skip
RAW_CONSTANTS = ("N_T", "V_SEC", "R_W", "V_F", "f", "C")
HEAT_CONSTANTS = ("R_thJC", "R_thCS", "R_thSA", "T_A")
TYPICAL = {
    "N_T": 15.0, "V_SEC": 15.0, "R_W": 0.5, "V_F": 0.9, "f": 50.0, "C": 4.7e-3, "I_L": 0.5, "R_thJC": 1.9,
    "R_thCS": 0.5, "R_thSA": 5.0, "T_A": 40.0,
}  # fmt: skip
RIPPLE_FROM = ("V_SEC", "V_F", "I_L", "f", "C")

WITH_FOLLOWER: Circuit = circuit(
    id="whole-supply",
    form="follower",
    title="Mains to rail with zener and emitter follower",
    stage=4,
    purpose="A winding and a bridge charge a reservoir; behind it a zener holds the base of a transistor that carries "
    "the load, and the heat of that transistor flows over case and heat-sink into the air.",
    netlist=f"""
        {RAW}
        R       resistor        raw     base
        Z       zener           base    gnd      slope= intercept= test_voltage= test_current=
        Q       npn             raw     base     out
        L       load            out     gnd
        P_Q     heat-source     junction  ambient  flow=P_Q
        R_thJC  thermal         junction  case     flow=P_Q
        R_thCS  thermal         case      sink     flow=P_Q
        R_thSA  thermal         sink      ambient  flow=P_Q
    """,
    nodes={**NODES, "base": NodeWord("V_B", "the base node")},
    regions=(
        Region("regulating", "the zener is in breakdown and the transistor active", {"Z": "breakdown", "Q": "active",
               "C": "charged"}),
        Region("starved", "the zener is off and the transistor follows its base", {"Z": "off", "Q": "active",
               "C": "charged"}),
    ),
    constants=(*RAW_CONSTANTS, "R", "V_Z", "V_BE", "h_FE", *HEAT_CONSTANTS),
    preferred=("V_O", "V_I", "I_L", "I_B", "I_Z", "V_RIP", "V_PK", "P_Q", "T_S", "T_C"),
    report=(
        *RAW_REPORT, "V_B", "I_B", "I_C", "I_R", "I_Z", "I_I", "V_CE", "P_R", "P_Z", "P_Q", "T_S", "T_C", "T_J",
    ),
    typical={**TYPICAL, "R": 270.0, "V_Z": 10.0, "V_BE": 0.7, "h_FE": 60.0},
    composites=(
        *SUPPLY,
        Composite(
            "output", "From the zener up to the base, one junction down to the output", "V_O = V_Z - V_BE",
            ("regulating",), cost=0.8,
            why="The zener holds the base; the conducting junction sits between base and output.",
        ),
        Composite(
            "base", "Base current from the load current", "I_B = I_L/(h_FE + 1)", cost=0.9,
            why="The load current is the emitter current; the base brings one part of it in $h_FE + 1$.",
        ),
        Composite(
            "feed", "Current law at the base node with Ohm's law for $R$", "I_Z = (V_I - V_Z)/R - I_B",
            ("regulating",),
            why="Supply and zener fix the current through $R$; the base takes its small share, the zener the rest.",
        ),
        Composite(
            "series", "Ohm's law for $R$, which carries base and zener current together",
            "R = (V_I - V_Z)/(I_B + I_Z)", ("regulating",),
            why="$R$ carries base and zener current together; the load comes through the transistor.",
        ),
        Composite(
            "supply", "The reservoir feeds the zener and the load, and nothing else", "I_I = I_Z + I_L", cost=1.25,
            why="The base current only changes its way: it leaves through the emitter with the rest.",
        ),
        *heat_of("P_Q"),
    ),
    variants=(
        *SUPPLY_CONVENTIONS,
        Variant("ripple-current", "load", words="what the reservoir gives is taken as the load's current $I_L$; "
                "what the zener takes is left out"),
        Variant(
            "ripple-current",
            "input",
            words="what the reservoir gives is $I_I = I_L + I_Z$",
            removes=("rectifier.ripple",),
            adds=(("rectifier.ripple", "Charge balance with the zener's current too", "V_RIP = I_I/(2*f*C)"),),
            watches="V_TROUGH",
            title="the zener's current counted in the ripple",
        ),
        Variant("base-current", "exact", words="$I_B = I_L/(h_FE + 1)$"),
        Variant(
            "base-current",
            "load-over-h_FE",
            words="$I_B = I_L/h_FE$",
            removes=("base", "supply", "Q.emitter-gain", "Q.sum", "Q.gain"),
            adds=(
                ("base", "Base current, emitter current taken for collector current", "I_B = I_L/h_FE"),
                ("collector", "Collector current taken as the load current", "I_C = I_L"),
            ),
            watches="I_B",
            title="$h_FE$ written for $h_FE + 1$",
        ),
    ),
    ends=ENDS,
    defaults={"V_F": 0.7, "V_BE": 0.7, "V_CE_SAT": 0.2},
    derivation={
        "V_TROUGH": RIPPLE_FROM,
        "I_Z": ("V_I", "R", "V_Z", "I_L", "h_FE"),
        "R": ("V_I", "V_Z", "I_L", "h_FE", "I_Z"),
        "P_Q": ("V_I", "V_Z", "V_BE", "I_L", "h_FE"),
        "T_J": ("P_Q", *HEAT_CONSTANTS),
        "PIV": ("V_SEC", "V_F"),
    },
    drawing=BEHIND_FOLLOWER,
)  # fmt: skip

WITH_FIXED: Circuit = circuit(
    id="whole-supply",
    form="three-terminal",
    title="Mains to rail with a three-terminal regulator",
    stage=4,
    purpose="A winding and a bridge charge a reservoir; a regulator of three pins takes what the rail needs of it, and "
    "its heat flows over case and heat-sink into the air. The reservoir's ripple is that of the load's current.",
    netlist=f"""
        {RAW}
        U       three-terminal  raw     gnd      out  current=I_L
        L       load            out     gnd
        P_D     heat-source     junction  ambient
        R_thJC  thermal         junction  case
        R_thCS  thermal         case      sink
        R_thSA  thermal         sink      ambient
    """,
    nodes=NODES,
    regions=(
        Region("regulating", "the regulator regulates", {"U": "regulating", "C": "charged"}),
        Region("dropout", "the regulator has dropped out", {"U": "dropout", "C": "charged"}),
    ),
    constants=(*RAW_CONSTANTS, "V_REG", "I_Q", "V_DROP", *HEAT_CONSTANTS),
    preferred=("V_O", "V_I", "I_L", "V_RIP", "V_PK", "P_D", "T_S", "T_C"),
    report=(*RAW_REPORT, "I_I", "V_IO", "P_D", "T_S", "T_C", "T_J"),
    typical={**TYPICAL, "V_REG": 9.0, "I_Q": 5e-3, "V_DROP": 2.0},
    composites=(
        *SUPPLY,
        Composite(
            "heat", "Power in the regulator", "P_D = (V_I - V_O)*I_L + V_I*I_Q", cost=0.9,
            why="The load's current falls through what the output leaves of the input, the pin's through all of it.",
        ),
        *heat_of("P_D"),
    ),
    variants=(
        *SUPPLY_CONVENTIONS,
        Variant("pin-current", "exact", words="$I_I = I_L + I_Q$"),
        Variant(
            "pin-current",
            "neglected",
            words="$I_I = I_L$, the current $I_Q$ neglected",
            removes=("U.sum", "U.power", "heat"),
            adds=(
                ("U.sum", "The load's current taken as the supply's", "I_I = I_L"),
                ("heat", "Power in the regulator, pin current neglected", "P_D = (V_I - V_O)*I_L"),
            ),
            reasons={"heat": "The load's current falls through what the output leaves of the input; the pin's, some "
                     "milliamperes, is left out."},
            watches="I_I",
            title="$I_Q$ neglected",
        ),
    ),
    ends=ENDS,
    defaults={"V_F": 0.7, "V_DROP": 2.0},
    derivation={
        "V_TROUGH": RIPPLE_FROM,
        "P_D": ("V_I", "V_REG", "I_L", "I_Q"),
        "T_J": ("P_D", *HEAT_CONSTANTS),
        "R_thSA": ("T_J", "T_A", "P_D", "R_thJC", "R_thCS"),
        "PIV": ("V_SEC", "V_F"),
    },
    drawing=BEHIND_FIXED,
)  # fmt: skip

FORMS = (WITH_FIXED, WITH_FOLLOWER)
