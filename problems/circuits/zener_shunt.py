"""The zener shunt regulator: a resistor feeds a zener and the load side by side."""

from tutor.circuit.circuit import Composite, LoadModel, NodeWord, Region, Slope, Variant, WhatIf, circuit
from tutor.circuit.placement import Drawing, Ground, Place, Side, Terminal, Voltage, Wire

DRAWING = Drawing(
    title="Zener shunt regulator",
    places=(
        Place("V_I", (0, 4.5), (0, 0), Side.LEFT),
        Place("R", (0, 4.5), (2.75, 4.5), Side.ABOVE, current="I_R", current_side=Side.BELOW),
        Place("Z", (2.75, 4.5), (2.75, 0), Side.LEFT, current="I_Z", current_side=Side.LEFT),
        Place("L", (5.25, 4.5), (5.25, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.75, 4.5), (6.75, 4.5))),
        Wire("gnd", ((0, 0), (6.75, 0))),
    ),
    grounds=(Ground((1.5, 0)),),
    marks=(
        Terminal("out", (6.75, 4.5)),
        Terminal("gnd", (6.75, 0)),
        Voltage("V_O", "out", (6.75, 4.5), "gnd", (6.75, 0)),
    ),
)

CIRCUIT = circuit(
    id="zener-shunt",
    title="Zener shunt regulator",
    stage=2,
    purpose="A resistor from the raw supply feeds zener and load; the zener takes whatever current the load leaves.",
    netlist="""
        V_I  source    in   gnd
        R    resistor  in   out
        Z    zener     out  gnd
        L    load      out  gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region("breakdown", "the zener is in breakdown", {"Z": "breakdown"}),
        Region("off", "the zener is off", {"Z": "off"}),
    ),
    constants=("V_I", "R", "V_Z0", "r_z", "I_ZT"),
    preferred=("I_Z", "V_O", "I_R"),
    report=("V_TH", "V_O", "I_R", "I_L", "R_L", "I_Z", "V_R", "R", "P_R", "P_Z", "P_O", "P_I", "eta", "S_V", "R_OUT"),
    typical={"V_I": 15.0, "R": 220.0, "V_Z0": 8.9, "r_z": 6.0, "I_ZT": 0.028, "I_L": 0.01, "V_RIP": 1.0},
    readings=("V_Z", "I_Z", "V_O", "V_I", "I_R", "I_L", "R_L"),
    composites=(
        Composite(
            "feed",
            "Current law at the output node with Ohm's law for $R$",
            "I_Z = (V_I - V_Z)/R - I_L",
            ("breakdown",),
            why="Supply and zener fix the current through $R$; the zener has what the load leaves of it.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries load and zener current together",
            "R = (V_I - V_Z)/(I_L + I_Z)",
            ("breakdown",),
            why="$R$ carries load and zener current together and has the rest of the input voltage across it.",
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
        Composite(
            "seen-from-zener",
            "Seen from the zener: one source, behind $R$ and the load side by side",
            "I_Z = (V_I*R_L/(R + R_L) - V_Z0)/(r_z + (R||R_L))",
            ("breakdown",),
            cost=1.0,
            why="To the zener, supply, $R$ and load look like one source: the divider's voltage behind $R||R_L$.",
            loads=(LoadModel.RESISTOR,),
        ),
        Composite(
            "divider",
            "Divider of $R$ and the load",
            "V_O = V_I*R_L/(R + R_L)",
            ("off",),
            cost=1.0,
            why="Without zener current one current flows through both resistors.",
        ),
    ),
    what_ifs=(
        WhatIf(
            "V_TH",
            of="V_O",
            part="Z",
            region="off",
            title="Output with the zener taken out",
            why="The test of a zener: where would the node stand if it were not there?",
            written={LoadModel.RESISTOR: "V_I*R_L/(R + R_L)", LoadModel.SINK: "V_I - I_L*R"},
        ),
    ),
    slopes=(
        Slope(
            "S_V",
            of="V_O",
            by="V_I",
            sign=1,
            title="Sensitivity to the line: $r_z$ is the small arm of a divider",
            why="For changes the zener is its slope alone, and $R$ takes the rest of the change.",
            written={
                LoadModel.SINK: "r_z/(R + r_z)",
                LoadModel.RESISTOR: "(r_z||R_L)/(R + (r_z||R_L))",
            },
        ),
        Slope(
            "R_OUT",
            of="V_O",
            by="I_L",
            sign=-1,
            title="Output resistance: $R$ and $r_z$ side by side",
            why="Seen from the output, with the supply held still, both lead to fixed voltages.",
            written={LoadModel.SINK: "R||r_z"},
        ),
    ),
    variants=(
        Variant("load-slope", "thevenin", words="$R_OUT = R||r_z$, $R$ and slope side by side"),
        Variant(
            "load-slope",
            "zener",
            words="$R_OUT = r_z$, the slope alone",
            removes=("slope.R_OUT",),
            adds=(("slope.R_OUT", "Output resistance taken as the zener's slope alone", "R_OUT = r_z"),),
            watches="R_OUT",
            title="$R$ left out beside $r_z$",
        ),
        Variant("zener-ripple", "loaded", words="the load stands beside $r_z$ whenever it is a resistance $R_L$"),
        Variant(
            "zener-ripple",
            "unloaded",
            words="$S_V = r_z/(R + r_z)$, the load left out",
            removes=("slope.S_V",),
            adds=(("slope.S_V", "Sensitivity to the line, the load left out", "S_V = r_z/(R + r_z)"),),
            watches="S_V",
            title="the load left out beside $r_z$",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
    },
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_TH": ("V_I", "R", "R_L"),
        "I_Z": ("V_I", "R", "V_Z", "I_L"),
        "R": ("V_I", "V_Z", "I_L", "I_Z"),
        "P_Z": ("V_I", "R", "V_Z", "I_L"),
        "S_V": (),
        "R_OUT": (),
    },
    shorted="off",
    drawing=DRAWING,
)
