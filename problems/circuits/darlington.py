"""The series regulator with a Darlington pair: the driver's emitter feeds the base of the pass transistor.

A supply below both junctions is no state of it here: what the node between the transistors then does is not told.
"""

from tutor.circuit.circuit import Composite, LoadModel, NodeWord, Region, Slope, Variant, circuit
from tutor.circuit.placement import (
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

DRAWING = Drawing(
    title="Zener reference with a Darlington pair",
    places=(
        Place("V_I", (0, 6), (0, 0), Side.LEFT),
        Place("R", (1.5, 6), (1.5, 3.25), Side.RIGHT, current="I_R", current_side=Side.LEFT),
        Place("Z", (1.5, 3.25), (1.5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q_1", (2.5, 3.25), Turn.NONE, Side.RIGHT),
        PlaceDevice("Q_2", (5, 5), Turn.QUARTER, Side.ABOVE),
        Place("L", (7, 6), (7, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 6), (4, 6))),
        Wire("in", ((3.5, 6), (3.5, 4.25))),
        Wire("base", ((1.5, 3.25), (2.5, 3.25))),
        Wire("middle", ((3.5, 2.25), (5, 2.25), (5, 5))),
        Wire("out", ((6, 6), (8.25, 6))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((0.75, 0)),),
    marks=(
        NodeLabel("base", (2.25, 3.25), "V_B_1", Side.BELOW),
        NodeLabel("middle", (4.25, 2.25), "V_B_2", Side.BELOW),
        Terminal("out", (8.25, 6)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 6), "gnd", (8.25, 0)),
    ),
)

CIRCUIT = circuit(
    id="darlington",
    title="Series regulator with a Darlington pair",
    stage=3,
    purpose="A small transistor drives a large one, so that the zener's node has only the load current divided by both "
    "gains to bear; two junctions stand between zener and output.",
    netlist="""
        V_I  source    in    gnd
        R    resistor  in    base
        Z    zener     base  gnd
        Q_1  npn       in    base    middle
        Q_2  npn       in    middle  out
        L    load      out   gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "base": NodeWord("V_B_1", "the driver's base node"),
        "middle": NodeWord("V_B_2", "the node between driver and pass transistor"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region(
            "regulating",
            "the zener is in breakdown and both transistors active",
            {"Z": "breakdown", "Q_1": "active", "Q_2": "active"},
        ),
        Region(
            "starved",
            "the zener is off and the pair follows its base",
            {"Z": "off", "Q_1": "active", "Q_2": "active"},
        ),
    ),
    constants=("V_I", "R", "V_Z0", "r_z", "I_ZT", "V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2"),
    preferred=("I_Z", "I_B_1", "V_O", "V_B_1"),
    report=(
        "V_B_1", "V_B_2", "V_O", "I_L", "R_L", "I_B_2", "I_B_1", "I_C_1", "I_C_2", "I_R", "I_Z", "V_CE_1", "V_CE_2",
        "P_Q_1", "P_Q_2", "P_R", "P_Z", "P_O", "P_I", "eta", "S_V", "R_OUT",
    ),
    typical={
        "V_I": 20.0, "R": 680.0, "V_Z0": 12.9, "r_z": 10.0, "I_ZT": 0.01, "V_BE_1": 0.7, "h_FE_1": 100.0,
        "V_BE_2": 0.7, "h_FE_2": 40.0, "I_L": 1.0,
    },
    readings=("V_Z", "I_Z", "V_O", "V_I", "I_R", "I_L", "R_L"),
    composites=(
        Composite(
            "supply",
            "The supply feeds the zener and the load, and nothing else",
            "I_I = I_Z + I_L",
            why="Base and collector currents only change their way: all leave through the emitter of the pass "
            "transistor.",
            cost=1.25,
        ),
        Composite(
            "output",
            "From the zener up to the base, two junctions down to the output",
            "V_O = V_Z - V_BE_1 - V_BE_2",
            ("regulating",),
            cost=0.8,
            why="The zener holds the driver's base; both junctions lie in series below it.",
        ),
        Composite(
            "pass-base",
            "Base current of the pass transistor from the load current",
            "I_B_2 = I_L/(h_FE_2 + 1)",
            ("regulating", "starved"),
            cost=0.9,
            why="The load current is its emitter current; its base brings one part of it in $h_FE_2 + 1$.",
        ),
        Composite(
            "driver-base",
            "Base current of the driver from that of the pass transistor",
            "I_B_1 = I_B_2/(h_FE_1 + 1)",
            ("regulating", "starved"),
            cost=0.9,
            why="What the driver's emitter gives is the base current of the pass transistor.",
        ),
        Composite(
            "pair",
            "Both gains work in turn",
            "I_B_1 = I_L/((h_FE_1 + 1)*(h_FE_2 + 1))",
            ("regulating", "starved"),
            cost=1.1,
            why="Each transistor divides the current that it is asked for by its own gain and one.",
        ),
        Composite(
            "feed",
            "Current law at the driver's base with Ohm's law for $R$",
            "I_Z = (V_I - V_Z)/R - I_B_1",
            ("regulating",),
            why="Supply and zener fix the current through $R$; the pair takes next to nothing of it.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries the driver's base current and the zener's together",
            "R = (V_I - V_Z)/(I_B_1 + I_Z)",
            ("regulating",),
            why="$R$ carries base and zener current together; the load comes through the pair.",
        ),
        Composite(
            "from-test-point",
            "The zener's line from its test point",
            "V_Z = V_ZT + r_z*(I_Z - I_ZT)",
            cost=1.0,
            why="Away from the test current the slope adds or takes away.",
        ),
        Composite(
            "two-readings",
            "Slope between two readings",
            "r_z = (V_Z_2 - V_Z_1)/(I_Z_2 - I_Z_1)",
            cost=1.2,
            why="The slope is the change of voltage over the change of current.",
        ),
    ),
    slopes=(
        Slope(
            "S_V",
            of="V_O",
            by="V_I",
            sign=1,
            title="Sensitivity to the line: that of the driver's base, which the output follows",
            why="For changes the output moves with the base, and the base is a divider of $R$ and $r_z$.",
            written={
                LoadModel.SINK: "r_z/(R + r_z)",
                LoadModel.RESISTOR: "(r_z||((h_FE_1 + 1)*(h_FE_2 + 1)*R_L))"
                "/(R + (r_z||((h_FE_1 + 1)*(h_FE_2 + 1)*R_L)))",
            },
        ),
        Slope(
            "R_OUT",
            of="V_O",
            by="I_L",
            sign=-1,
            title="Output resistance: that of the driver's base, divided by both current gains",
            why="A change of load current reaches the base divided by both gains; $V_BE_1$ and $V_BE_2$ are taken as "
            "fixed.",
            written={LoadModel.SINK: "(R||r_z)/((h_FE_1 + 1)*(h_FE_2 + 1))"},
        ),
    ),
    variants=(
        Variant("base-current", "exact", words="$I_B_1 = I_L/((h_FE_1 + 1)*(h_FE_2 + 1))$"),
        Variant(
            "base-current",
            "load-over-h_FE",
            words="$I_B_1 = I_L/(h_FE_1*h_FE_2)$",
            removes=(
                "pass-base", "driver-base", "pair", "supply", "kcl.middle", "kcl.out", "Q_1.emitter-gain", "Q_1.sum",
                "Q_1.gain", "Q_2.emitter-gain", "Q_2.sum", "Q_2.gain",
            ),
            adds=(
                ("pass-base", "Emitter current of the pass transistor taken for its collector's", "I_B_2 = I_L/h_FE_2"),
                ("driver-base", "Emitter current of the driver taken for its collector's", "I_B_1 = I_B_2/h_FE_1"),
                ("pair", "Gain of the pair as the product of both", "I_B_1 = I_L/(h_FE_1*h_FE_2)"),
                ("collector", "Collector current taken as the load current", "I_C_2 = I_L"),
                ("driver-collector", "Collector current of the driver taken as its emitter's", "I_C_1 = I_B_2"),
            ),
            watches="I_B_1",
            title="$h_FE$ written for $h_FE + 1$ in both transistors",
        ),
        Variant(
            "base-current",
            "neglected",
            words="neglected",
            removes=(
                "driver-base", "pair", "supply", "kcl.middle", "kcl.out", "pass-base", "Q_1.emitter-gain", "Q_1.sum",
                "Q_1.gain", "Q_2.emitter-gain", "Q_2.sum", "Q_2.gain",
            ),
            adds=(
                ("driver-base", "Base current of the driver neglected", "I_B_1 = 0"),
                ("pass-base", "Emitter current of the pass transistor taken for its collector's", "I_B_2 = I_L/h_FE_2"),
                ("collector", "Collector current taken as the load current", "I_C_2 = I_L"),
                ("driver-collector", "Collector current of the driver taken as its emitter's", "I_C_1 = I_B_2"),
            ),
            watches="I_B_1",
            against="I_R",
            title="$I_B_1$ neglected",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE_1": ("the driver's lowest gain", "the driver's highest gain"),
        "h_FE_2": ("the pass transistor's lowest gain", "the pass transistor's highest gain"),
    },
    defaults={"V_BE_1": 0.7, "V_BE_2": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_Z", "V_BE_1", "V_BE_2"),
        "I_B_1": ("I_L", "h_FE_1", "h_FE_2"),
        "I_Z": ("V_I", "R", "V_Z", "I_L", "h_FE_1", "h_FE_2"),
        "R": ("V_I", "V_Z", "I_L", "h_FE_1", "h_FE_2", "I_Z"),
        "P_Q_2": ("V_I", "V_Z", "V_BE_1", "V_BE_2", "I_L", "h_FE_2"),
        "S_V": (),
        "R_OUT": (),
    },
    shorted="starved",
    drawing=DRAWING,
)  # fmt: skip
