"""The boosted shunt regulator: a zener drives a transistor across the output, which takes most of the spare current."""

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
    title="Zener shunt regulator with a transistor across the output",
    places=(
        Place("V_I", (0, 5.5), (0, 0), Side.LEFT),
        Place("R", (0, 5.5), (2.5, 5.5), Side.ABOVE, current="I_R", current_side=Side.BELOW),
        Place("Z", (2.5, 5.5), (2.5, 2.5), Side.LEFT, current="I_Z", current_side=Side.LEFT),
        Place("R_BE", (2.5, 2.5), (2.5, 0), Side.LEFT),
        PlaceDevice("Q", (3.25, 2.5), Turn.NONE, Side.RIGHT),
        Place("L", (5.5, 5.5), (5.5, 0), Side.RIGHT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.5, 5.5), (8.25, 5.5))),
        Wire("out", ((4.25, 5.5), (4.25, 3.5))),
        Wire("base", ((2.5, 2.5), (3.25, 2.5))),
        Wire("gnd", ((4.25, 1.5), (4.25, 0))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        NodeLabel("base", (3, 2.5), "V_B", Side.ABOVE),
        Terminal("out", (8.25, 5.5)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 5.5), "gnd", (8.25, 0)),
    ),
)

CIRCUIT = circuit(
    id="boosted-shunt",
    title="Boosted shunt regulator",
    stage=2,
    purpose="A zener from the output to the base of a transistor across the output: the transistor takes what the load "
    "leaves, and the zener carries only what drives it.",
    netlist="""
        V_I   source    in    gnd
        R     resistor  in    out
        Z     zener     out   base
        R_BE  resistor  base  gnd  current=I_RBE voltage= power=
        Q     npn       out   base  gnd
        L     load      out   gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "base": NodeWord("V_B", "the base node"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region(
            "regulating", "the zener is in breakdown and the transistor active", {"Z": "breakdown", "Q": "active"}
        ),
        Region("zener-alone", "the zener is in breakdown and the transistor off", {"Z": "breakdown", "Q": "off"}),
        Region("off", "zener and transistor are off", {"Z": "off", "Q": "off"}),
    ),
    constants=("V_I", "R", "V_Z0", "r_z", "I_ZT", "V_BE", "h_FE", "R_BE"),
    preferred=("I_B", "I_Z", "V_O", "I_R"),
    report=(
        "V_O", "I_R", "I_L", "R_L", "I_RBE", "I_B", "I_C", "I_Z", "V_CE", "V_R", "P_Q", "P_Z", "P_R", "P_O", "P_I",
        "eta", "S_V", "R_OUT",
    ),
    typical={
        "V_I": 18.0, "R": 47.0, "V_Z0": 8.9, "r_z": 6.0, "I_ZT": 0.028, "V_BE": 0.7, "h_FE": 50.0, "R_BE": 220.0,
        "I_L": 0.1,
    },
    readings=("V_Z", "I_Z", "V_O", "V_I", "I_R", "I_L", "R_L", "I_B", "I_C"),
    composites=(
        Composite(
            "output",
            "From ground up one junction, and then the zener",
            "V_O = V_Z + V_BE",
            ("regulating",),
            cost=0.6,
            why="The emitter is grounded, so the base stands one junction above ground, the output a zener above it.",
        ),
        Composite(
            "base-resistor",
            "Ohm's law for the resistor from base to emitter",
            "I_RBE = V_BE/R_BE",
            ("regulating",),
            cost=0.9,
            why="It has the conducting junction across it, so its current hardly changes.",
        ),
        Composite(
            "split",
            "What the load leaves, shared between zener and collector",
            "I_B = (I_R - I_L - I_RBE)/(h_FE + 1)",
            ("regulating",),
            cost=1.0,
            why="What is left of the current through $R$ goes through zener and collector; all but $I_RBE$ of it is "
            "base current once and collector current $h_FE$ times.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries load, zener and collector current together",
            "R = (V_I - V_O)/(I_L + I_Z + I_C)",
            cost=1.2,
            why="$R$ carries all three currents and has the rest of the input voltage across it.",
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
            title="Sensitivity to the line: the slope, divided by the current gain, is the small arm of a divider",
            why="Of a change of current the zener has one part in $h_FE + 1$; the transistor takes the rest.",
            written={
                LoadModel.SINK: "r_z/((h_FE + 1)*R + r_z)",
                LoadModel.RESISTOR: "((r_z/(h_FE + 1))||R_L)/(R + ((r_z/(h_FE + 1))||R_L))",
            },
        ),
        Slope(
            "R_OUT",
            of="V_O",
            by="I_L",
            sign=-1,
            title="Output resistance: $R$ beside the slope divided by the current gain",
            why="Of a change of load current the zener has one part in $h_FE + 1$; $V_BE$ is taken as fixed.",
            written={LoadModel.SINK: "R||(r_z/(h_FE + 1))"},
        ),
    ),
    variants=(
        Variant("base-current", "exact", words="$I_B = (I_R - I_L - I_RBE)/(h_FE + 1)$"),
        Variant(
            "base-current",
            "neglected",
            words="zener current neglected beside the collector's",
            removes=("kcl.out", "split", "series"),
            adds=(
                ("split", "All that the load leaves taken as collector current", "I_C = I_R - I_L"),
                ("series", "Ohm's law for $R$, the zener's current neglected", "R = (V_I - V_O)/(I_L + I_C)"),
            ),
            watches="I_Z",
            against="I_R",
            title="$I_Z$ neglected beside $I_C$",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE": ("the lowest gain", "the highest gain"),
    },
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_Z", "V_BE"),
        "I_B": ("V_I", "R", "V_Z", "V_BE", "R_BE", "I_L", "h_FE"),
        "P_Q": ("V_I", "R", "V_Z", "V_BE", "R_BE", "I_L", "h_FE"),
        "P_Z": ("V_I", "R", "V_Z", "V_BE", "R_BE", "I_L", "h_FE"),
        "S_V": (),
        "R_OUT": (),
    },
    drawing=DRAWING,
    shorted="off",
)  # fmt: skip
