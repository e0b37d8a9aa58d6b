"""Three regulators side by side: a zener shunt (1), an emitter follower (2) and a feedback regulator (3).

Each is fed from the same line and set for the same output, and the same current is drawn from each, so that what
differs is the regulator's doing alone. An index says whose quantity it is; what all three share (V_I, V_O, I_L, r_z,
V_BE, h_FE) has none, nor has what the third alone has (its divider and amplifier). The zeners are straight while
voltages and powers are worked, and the amplifier's gain is without end; slope and gain are counted for what a change
of the load does: the usual two steps of a hand calculation.
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

STRAIGHT = "slope= intercept= test_voltage= test_current= rating= rated_current="
TRANSISTOR = "gain=h_FE junction=V_BE"
NETLIST = f"""
    S_1     source    in_1    gnd             voltage=V_I current=I_I_1 power=P_I_1
    R_FEED_1  resistor  in_1  out_1           current=I_R_1 voltage=V_R_1 power=P_R_1
    Z_1     zener     out_1   gnd             voltage=V_Z_1 current=I_Z_1 power=P_Z_1 {STRAIGHT}
    L_1     load      out_1   gnd             current=I_L resistance= power=P_O waste=P_D_1

    S_2     source    in_2    gnd             voltage=V_I current=I_I_2 power=P_I_2
    R_FEED_2  resistor  in_2  base_2          current=I_R_2 voltage=V_R_2 power=P_R_2
    Z_2     zener     base_2  gnd             voltage=V_Z_2 current=I_Z_2 power=P_Z_2 {STRAIGHT}
    Q_2     npn       in_2    base_2  out_2   {TRANSISTOR}
    L_2     load      out_2   gnd             current=I_L resistance= power=P_O waste=P_D_2

    S_3     source    in_3    gnd             voltage=V_I current=I_I_3 power=P_I_3
    R_FEED_3  resistor  in_3  ref             current=I_Z_3 voltage= power=
    Z_3     zener     ref     gnd             voltage=V_Z_3 current=I_Z_3 power=P_Z_3 {STRAIGHT}
    U       amplifier ref     tap   drive  in_3  current=I_B_3 power=
    Q_3     npn       in_3    drive   out_3   {TRANSISTOR}
    R_1     resistor  out_3   tap             current=I_DIV voltage= power=
    R_2     resistor  tap     gnd             current=I_DIV voltage= power=
    L_3     load      out_3   gnd             current=I_L resistance= power=P_O waste=P_D_3
"""

# The shunt from 16 up, the follower from 9, the feedback regulator from 0.
DRAWING = Drawing(
    title="Zener shunt, emitter follower and feedback regulator",
    places=(
        Place("S_1", (0, 20), (0, 16), Side.RIGHT),
        Place("R_FEED_1", (0, 20), (2.75, 20), Side.ABOVE, current="I_R_1", current_side=Side.BELOW),
        Place("Z_1", (4.25, 20), (4.25, 16), Side.RIGHT, current="I_Z_1", current_side=Side.LEFT),
        Place("L_1", (8.75, 20), (8.75, 16), Side.LEFT, current="I_L", current_side=Side.LEFT),
        Place("S_2", (0, 14), (0, 9), Side.RIGHT),
        Place("R_FEED_2", (3.5, 14), (3.5, 11.5), Side.RIGHT, current="I_R_2", current_side=Side.LEFT),
        Place("Z_2", (3.5, 10.75), (3.5, 9), Side.RIGHT),
        PlaceDevice("Q_2", (6, 13), Turn.QUARTER, Side.ABOVE),
        Place("L_2", (8.75, 14), (8.75, 9), Side.LEFT, current="I_L", current_side=Side.LEFT),
        Place("S_3", (0, 7), (0, 0), Side.RIGHT),
        Place("R_FEED_3", (2.25, 7), (2.25, 4.5), Side.LEFT),
        Place("Z_3", (2.25, 2), (2.25, 0), Side.RIGHT),
        PlaceDevice("U", (3, 4.5), Turn.NONE, Side.LEFT),
        PlaceDevice("Q_3", (5.5, 6), Turn.QUARTER, Side.ABOVE),
        Place("R_1", (6.75, 7), (6.75, 2.5), Side.RIGHT, current="I_DIV", current_side=Side.RIGHT),
        Place("R_2", (6.75, 2.5), (6.75, 0), Side.RIGHT),
        Place("L_3", (8.75, 7), (8.75, 0), Side.LEFT),
    ),
    wires=(
        Wire("out_1", ((2.75, 20), (9.75, 20))),
        Wire("gnd", ((0, 16), (9.75, 16))),
        Wire("in_2", ((0, 14), (5, 14))),
        Wire("base_2", ((3.5, 10.75), (3.5, 11.5), (6, 11.5), (6, 13))),
        Wire("out_2", ((7, 14), (9.75, 14))),
        Wire("gnd", ((0, 9), (9.75, 9))),
        Wire("in_3", ((0, 7), (4.5, 7))),
        Wire("in_3", ((4, 5), (4, 7))),
        Wire("ref", ((3, 4.5), (2.25, 4.5), (2.25, 2))),
        Wire("tap", ((3, 3.5), (3, 2.5), (6.75, 2.5))),
        Wire("drive", ((5, 4), (5.5, 4), (5.5, 6))),
        Wire("out_3", ((6.5, 7), (9.75, 7))),
        Wire("gnd", ((0, 0), (9.75, 0))),
    ),
    grounds=(Ground((1.5, 16)), Ground((1.25, 9)), Ground((1, 0))),
    marks=(
        Terminal("out_1", (9.75, 20)),
        Terminal("gnd", (9.75, 16)),
        Voltage("V_O", "out_1", (9.75, 20), "gnd", (9.75, 16)),
        Arrow("I_B_2", "base_2", (5, 11.5), Side.RIGHT, Side.ABOVE),
        Arrow("I_Z_2", "base_2", (3.5, 11.1), Side.BELOW, Side.RIGHT),
        Terminal("out_2", (9.75, 14)),
        Terminal("gnd", (9.75, 9)),
        Voltage("V_O", "out_2", (9.75, 14), "gnd", (9.75, 9)),
        Arrow("I_L", "out_3", (8, 7), Side.RIGHT, Side.ABOVE),
        Arrow("I_B_3", "drive", (5.5, 5.6), Side.ABOVE, Side.RIGHT),
        NodeLabel("drive", (5.5, 4), "V_OA", Side.RIGHT),
        Arrow("I_Z_3", "ref", (2.25, 2.4), Side.BELOW, Side.LEFT),
        Terminal("out_3", (9.75, 7)),
        Terminal("gnd", (9.75, 0)),
        Voltage("V_O", "out_3", (9.75, 7), "gnd", (9.75, 0)),
    ),
)

REGULATORS = (1, 2, 3)
SHARE = "R_2/(R_1 + R_2)"


def each(pattern: str) -> tuple[str, ...]:
    """A letter symbol of each regulator, in order."""
    return tuple(f"{pattern}_{regulator}" for regulator in REGULATORS)


CIRCUIT: Circuit = circuit(
    id="regulators",
    title="Three regulators side by side",
    stage=4,
    purpose="Three ways to make one output from one line: a zener beside the load (1), a transistor that follows a "
    "zener (2), a transistor driven by an amplifier that compares (3). The same current is drawn from each.",
    netlist=NETLIST,
    nodes={
        "in_1": NodeWord("V_I", "the input of regulator 1"),
        "out_1": NodeWord("V_O", "the output of regulator 1"),
        "in_2": NodeWord("V_I", "the input of regulator 2"),
        "base_2": NodeWord("V_B_2", "the base node of regulator 2"),
        "out_2": NodeWord("V_O", "the output of regulator 2"),
        "in_3": NodeWord("V_I", "the input of regulator 3"),
        "ref": NodeWord("V_Z_3", "the reference node of regulator 3"),
        "tap": NodeWord("V_TAP", "the divider's tap"),
        "drive": NodeWord("V_OA", "the output of the amplifier"),
        "out_3": NodeWord("V_O", "the output of regulator 3"),
    },
    regions=(
        Region(
            "regulating",
            "all three regulate",
            {"Z_1": "breakdown", "Z_2": "breakdown", "Q_2": "active", "Z_3": "breakdown", "U": "linear",
             "Q_3": "active"},
        ),
    ),
    constants=("V_I", "V_O", *each("R_FEED"), "R_1", "R_2", "V_BE", "h_FE", "r_z", "A", "R_O"),
    preferred=("V_O", *each("I_Z"), "V_Z_2", "V_TAP", "I_B_2"),
    report=(
        *each("V_Z"), "I_L", "I_B_2", "I_B_3", "I_DIV", "I_R_1", "I_R_2", *each("I_Z"), *each("P_Z"), "P_R_1", "P_R_2",
        "P_Q_2", "P_Q_3", *each("I_I"), *each("P_I"), "P_O", *each("P_D"), *each("eta"), *each("R_OUT"),
    ),
    typical={
        "V_I": 20.0, "V_O": 10.0, "R_FEED_1": 82.0, "R_FEED_2": 680.0, "R_FEED_3": 3.3e3, "R_1": 4.7e3, "R_2": 4.7e3,
        "V_BE": 0.7, "h_FE": 50.0, "r_z": 7.0, "A": 500.0, "R_O": 75.0, "V_DROP": 2.0, "I_L": 0.08,
    },
    composites=(
        Composite(
            "feed-1",
            "Current law at the output of regulator 1 with Ohm's law for its resistor",
            "I_Z_1 = (V_I - V_O)/R_FEED_1 - I_L",
            why="Line and zener fix the current through the resistor; the zener has what the load leaves of it.",
        ),
        Composite(
            "series-1",
            "Ohm's law for the resistor of regulator 1, which carries load and zener current together",
            "R_FEED_1 = (V_I - V_O)/(I_L + I_Z_1)",
            why="Whatever the load or the zener takes comes through the one resistor, at the voltage that the line has "
            "over the output.",
        ),
        Composite(
            "zener-2",
            "The zener at the base stands one junction above the output",
            "V_Z_2 = V_O + V_BE",
            why="The follower gives no voltage, it takes some: the output lies one junction below its base.",
            cost=0.8,
        ),
        Composite(
            "base-2",
            "Base current from the load current",
            "I_B_2 = I_L/(h_FE + 1)",
            why="The load current is the emitter current; the base brings one part of it in $h_FE + 1$.",
            cost=0.9,
        ),
        Composite(
            "feed-2",
            "Current law at the base node with Ohm's law for its resistor",
            "I_Z_2 = (V_I - V_Z_2)/R_FEED_2 - I_B_2",
            why="Line and zener fix the current through the resistor; the base takes its small share, the zener the "
            "rest.",
        ),
        Composite(
            "series-2",
            "Ohm's law for the resistor of regulator 2, which carries base and zener current together",
            "R_FEED_2 = (V_I - V_Z_2)/(I_B_2 + I_Z_2)",
            why="The load comes through the transistor; the resistor feeds base and zener alone.",
        ),
        Composite(
            "supply-2",
            "The supply feeds zener and load, and nothing else",
            "I_I_2 = I_Z_2 + I_L",
            why="The base current only changes its way: it leaves through the emitter with the rest.",
            cost=0.95,
        ),
        Composite(
            "zener-3",
            "The loop holds the divider's tap at the zener's voltage",
            f"V_Z_3 = V_O*{SHARE}",
            why="Nothing leaves the divider at its tap, so the tap has the lower resistor's share of the output.",
            cost=0.8,
        ),
        Composite(
            "divider-chain",
            "Ohm's law for the divider as a whole",
            "I_DIV = V_O/(R_1 + R_2)",
            why="Nothing leaves the divider at its tap: it lies across the output as one resistor.",
            cost=0.9,
        ),
        Composite(
            "supply-3",
            "The supply feeds load, divider and zener, and nothing else",
            "I_I_3 = I_L + I_DIV + I_Z_3",
            why="What the amplifier brings comes from the supply like the rest, and leaves by the output.",
            cost=0.95,
        ),
        Composite(
            "output-resistance-1",
            "Output resistance of the shunt: its resistor and the slope side by side",
            "R_OUT_1 = R_FEED_1||r_z",
            why="Seen from the output, with the line held still, both lead to fixed voltages.",
        ),
        Composite(
            "output-resistance-2",
            "Output resistance of the follower: that of the base, divided by the current gain",
            "R_OUT_2 = (R_FEED_2||r_z)/(h_FE + 1)",
            why="A change of load current reaches the base divided by $h_FE + 1$; $V_BE$ is taken as fixed.",
        ),
        Composite(
            "output-resistance-3",
            "Output resistance of the loop: that of the open loop, divided by one and the loop gain",
            f"R_OUT_3 = R_O/((h_FE + 1)*(1 + A*{SHARE}))",
            why="The amplifier sees the change divided by $h_FE + 1$, and answers what the divider shows it of every "
            "fall $A$ times as strongly.",
        ),
    ),
    variants=(
        Variant("load-slope", "thevenin", words="$R_OUT_1 = R_FEED_1||r_z$, resistor and slope side by side"),
        Variant(
            "load-slope",
            "zener",
            words="$R_OUT_1 = r_z$, the slope alone",
            removes=("output-resistance-1",),
            adds=(("output-resistance-1", "Output resistance of the shunt taken as the slope alone", "R_OUT_1 = r_z"),),
            watches="R_OUT_1",
            title="$R_FEED_1$ left out beside $r_z$",
        ),
        Variant("base-slope", "thevenin", words="$R_FEED_2||r_z$ at the follower's base, both side by side"),
        Variant(
            "base-slope",
            "zener",
            words="$r_z$ at the follower's base, the slope alone",
            removes=("output-resistance-2",),
            adds=(
                ("output-resistance-2", "Output resistance of the follower, the slope alone at its base",
                 "R_OUT_2 = r_z/(h_FE + 1)"),
            ),
            watches="R_OUT_2",
            title="$R_FEED_2$ left out beside $r_z$",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
    },
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2, "V_DROP": 2.0},
    derivation={
        "I_Z_1": ("V_I", "V_O", "R_FEED_1", "I_L"),
        "I_Z_2": ("V_I", "V_O", "V_BE", "R_FEED_2", "I_L", "h_FE"),
        "P_D_1": ("V_I", "V_O", "I_I_1", "I_L"),
        "P_D_2": ("V_I", "V_O", "I_I_2", "I_L"),
    },
    drawing=DRAWING,
)
